// Package sheettest has what the tests of all drawings need: pages of leaves, what they say, and pages that are kept as text.
package sheettest

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
	"farend/layout"
	"farend/sheet/drafting"
	"farend/study"
)

// A3 has its drawings on the larger paper; A4 is on that alone. Areas are in mm².
var (
	A3 = drafting.Style{Drawings: layout.A3, Texts: layout.A4}
	A4 = drafting.Style{Drawings: layout.A4, Texts: layout.A4}
)

// Bound is a leaf by itself, as a page.
func Bound(st *study.Study, leaf layout.Leaf) draw.Scene {
	return *Scenes(st, []layout.Leaf{leaf})[0]
}

// Scenes are leaves as pages of one set.
func Scenes(st *study.Study, leaves []layout.Leaf) (list []*draw.Scene) {
	for _, p := range drafting.Binding(st.Scheme).Bind(leaves) {
		list = append(list, p.Scene)
	}
	return list
}

// Said is all words of some pages, with common spaces.
func Said(pages ...draw.Page) string {
	var words []string
	for _, p := range pages {
		words = append(words, pagetest.Words(p.Scene)...)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(words, " "), layout.Thin, " ")), " ")
}

// Noted is all words of the title block of a page.
func Noted(page draw.Page) string {
	var words []string
	for _, l := range page.Scene.Layers {
		for _, text := range l.Texts {
			if l.Name == "block" {
				words = append(words, text.Words)
			}
		}
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

var update = flag.Bool("update", false, "rewrite testdata/*.scene.txt; read the difference before believing it")

// Golden compares a page as text with a file, or writes it.
func Golden(t *testing.T, file string, page draw.Scene) {
	t.Helper()
	got := form(page)
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the page differs from %s; go test here with -update rewrites it, and git diff shows how", file)
	}
}

// form is a page as text, to a tenth of a millimetre.
func form(s draw.Scene) string {
	var b strings.Builder
	fmt.Fprintf(&b, "page %v × %v mm: %s\n%s\n", s.Width, s.Height, s.Title, s.Desc)
	faces := [...]string{"sans", "semibold", "mono"}
	for _, l := range s.Layers {
		fmt.Fprintf(&b, "\nlayer %s\n", l.Name)
		for _, image := range l.Images {
			fmt.Fprintf(&b, "image %.1f × %.1f mm at %.1f,%.1f, %v dots\n", image.Box.Width(), image.Box.Height(), image.Box.Min.X, image.Box.Min.Y, image.Picture.Bounds().Size())
		}
		for _, p := range l.Paths {
			fmt.Fprintf(&b, "path fill %s pen %s %v %v:", toned(p.Fill), toned(p.Pen.Tone), p.Pen.Width, p.Pen.Dash)
			for _, step := range p.Steps {
				switch step.Kind {
				case draw.Move:
					fmt.Fprintf(&b, " M")
				case draw.Close:
					fmt.Fprintf(&b, " Z")
					continue
				case draw.Curve:
					fmt.Fprintf(&b, " C")
				}
				fmt.Fprintf(&b, " %.1f,%.1f", step.To.X, step.To.Y)
			}
			b.WriteByte('\n')
		}
		for _, text := range l.Texts {
			fmt.Fprintf(&b, "text %.1f,%.1f %v pt %s %s anchor %d turn %v: %s\n", text.At.X, text.At.Y, text.Size, faces[text.Face], toned(text.Tone), text.Anchor, text.Turn, text.Words)
		}
	}
	return b.String()
}

// toned is the name of a tone; that of an exact colour is its number.
func toned(t draw.Tone) string {
	names := [...]string{"none", "paper", "shade", "rule", "graphite", "ink", "copper", "blueprint", "night", "danger", "failing", "narrow"}
	if int(t) < len(names) {
		return names[t]
	}
	return fmt.Sprintf("#%06x", int(t)&0xffffff)
}
