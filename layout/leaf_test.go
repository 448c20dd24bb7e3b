package layout_test

import (
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
	"farend/layout"
)

// Titles and marks of any length keep clear of each other on every paper, and no field of the title block covers another.
func TestHeadsAndBlocksHaveRoom(t *testing.T) {
	long := strings.Repeat("A very long title of something ", 12)
	mark := &layout.Mark{Badge: layout.Badge{Letter: "D", Fill: draw.Danger}, Words: "750 dangers: not to be built or switched on as it is"}
	for _, paper := range []layout.Paper{layout.A4, layout.A3, layout.Letter, layout.Tabloid} {
		for _, p := range []layout.Paper{paper, paper.Turned()} {
			for _, words := range []string{"", "Plan", long} {
				leaf := layout.Leaf{Name: "page", Title: words, Verdict: words, Under: words, Paper: p, Notes: strings.Repeat(words, 4),
					Cells: []layout.Cell{{Caption: "Run", Says: words, Share: 1}, {Caption: "Tape", Says: words, Share: 3, Face: draw.Mono, Name: true}}}
				b := layout.Binding{Scheme: words, File: words, Revision: words, Date: "2026-03-14", Hash: "0123abcd", Mark: mark}
				pages := b.Bind([]layout.Leaf{leaf, leaf})
				for _, complaint := range pagetest.Complaints(pages[1].Scene) {
					t.Errorf("%s, %v mm wide, %d letters: %s", p.Name, p.Width, len(words), complaint)
				}
				all := strings.Join(pagetest.Words(pages[1].Scene), "\n")
				if !strings.Contains(all, mark.Words) {
					t.Errorf("the mark is not on the page: %q", all)
				}
			}
		}
	}
}
