package sheet_test

import (
	"strings"
	"testing"

	"farend/internal/schemetest"
	"farend/layout"
	"farend/sheet"
	"farend/sheet/drafting"
)

// What a page says of what it rests on, and to beware of, is never cut: of no example, on the paper that has the least room for it.
func TestNotesAreWhole(t *testing.T) {
	for _, path := range schemetest.Paths(t, "../examples/*.scheme.yaml") {
		st := schemetest.Unstruck(t, path)
		style, seen := drafting.Style{Drawings: layout.Letter, Texts: layout.Letter, Gauges: true}, map[sheet.Kind]bool{}
		for _, s := range sheet.Set(st, nil, style) {
			if s.Kind != sheet.OfFace && s.Kind != sheet.OfRun && seen[s.Kind] {
				continue // of these kinds all say the same
			}
			seen[s.Kind] = true
			leaves, err := s.Make(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			for _, page := range drafting.Binding(st.Scheme).Bind(leaves) {
				for _, l := range page.Scene.Layers {
					for _, text := range l.Texts {
						if l.Name == "block" && text.At.X == layout.Margin+2 && strings.HasSuffix(text.Words, "…") {
							t.Errorf("%s, %s, %s: its notes are cut: %q", path, style.Drawings.Name, page.Name, text.Words)
						}
					}
				}
			}
		}
	}
}
