package layout

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"farend/draw"
)

// A Leaf is a page before it is bound: it knows nothing of the others, nor of what all title blocks of a set say alike.
type Leaf struct {
	Name    string       // what links call it, and what its file may be called: "plan", "run-E1"
	Outline string       // its entry in the table of contents, none where it is empty
	Level   int          // of that entry, from 0
	More    []draw.Entry // further entries, of what else begins on it, in its order

	Title   string // the question it answers
	Verdict string // what is so, in a few words; may be empty
	Under   string // further words beside it; may be empty
	Desc    string // the page in sentences, for those who do not see it

	Paper Paper
	Scale float64     // 50 for 1:50, 0 where nothing is to scale
	Zero  *draw.Point // on the page, of the world that is to scale; nil where it has no place there
	Cells []Cell      // of the second row of the title block
	Notes string      // on what it rests

	Layers []draw.Layer
	Links  []draw.Link
}

// Entries are all that a leaf has in the table of contents.
func (l Leaf) Entries() []draw.Entry {
	return draw.Page{Outline: l.Outline, Level: l.Level, More: l.More}.Entries()
}

// A Cell is a field of the title block: a small caption, and under it what it says.
type Cell struct {
	Caption, Says string
	Share         float64 // of the width of its row, in any measure
	Face          draw.Face
	Name          bool // it names something, so it is cut in its middle
}

// A Binding is what the title blocks of a set of pages say alike. What is empty is told as a dash.
type Binding struct {
	Scheme   string // its title
	File     string
	Revision string
	Date     string
	Hash     string // the first digits of that of the scheme's text
	Mark     *Mark  // stands at the head of every page; none where it is nil
}

// A Mark warns whoever holds one page of a set by itself.
type Mark struct {
	Badge Badge
	Words string
}

// Bind makes pages of leaves, numbered in their order.
func (b Binding) Bind(leaves []Leaf) []draw.Page {
	pages := make([]draw.Page, len(leaves))
	for i, l := range leaves {
		pages[i] = draw.Page{Name: l.Name, Outline: l.Outline, Level: l.Level, More: l.More, Scene: b.scene(l, i+1, len(leaves))}
	}
	return pages
}

func (b Binding) scene(l Leaf, n, of int) *draw.Scene {
	layers := append(append([]draw.Layer{}, l.Layers...), l.heading(b.Mark))
	if lacking := lacking(append(layers, b.block(l, n, of))); lacking != "" {
		l.Notes = strings.TrimSpace(lacking + " " + l.Notes) // first, for what is too long is cut at its end
	}
	return &draw.Scene{
		Title: l.Title, Desc: l.Desc, Width: l.Paper.Width, Height: l.Paper.Height, Scale: l.Scale, Origin: l.origin(),
		Layers: append(layers, b.block(l, n, of)), Links: l.Links,
	}
}

// origin is the zero of the world as scenes have it.
func (l Leaf) origin() draw.Point {
	if l.Zero == nil {
		return draw.Point{}
	}
	return draw.Point{X: l.Zero.X, Y: l.Paper.Height - l.Zero.Y}
}

// lacking says which texts of a page have characters that our fonts lack; "" where none has.
func lacking(layers []draw.Layer) string {
	var texts, codes []string
	for _, layer := range layers {
		for _, text := range layer.Texts {
			missing := text.Lacks()
			if len(missing) == 0 {
				continue
			}
			words := strings.Map(func(r rune) rune {
				if slices.Contains(missing, r) {
					return '?'
				}
				return r
			}, text.Words)
			if words = "“" + Clip(draw.Text{Size: draw.Smallest}, words, 30) + "”"; !slices.Contains(texts, words) {
				texts = append(texts, words)
			}
			for _, r := range missing {
				if code := fmt.Sprintf("U+%04X", r); !slices.Contains(codes, code) {
					codes = append(codes, code)
				}
			}
		}
	}
	if texts == nil {
		return ""
	}
	return "These fonts lack characters of " + few(texts, 3) + ", which may stand as boxes: " + few(codes, 6) + "."
}

// few is a list of at most so many, and how many more there are.
func few(list []string, most int) string {
	if len(list) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], ", "), len(list)-most)
	}
	return strings.Join(list, ", ")
}

// row is the first row of the title block (the fields are those of ISO 7200 that a small firm fills in; captions are ours).
func (b Binding) row(n, of int) []Cell {
	said := func(text string) string { return cmp.Or(text, "–") }
	return []Cell{
		{Caption: "Scheme", Says: said(b.Scheme), Share: 66},
		{Caption: "File", Says: said(b.File), Share: 44, Face: draw.Mono, Name: true},
		{Caption: "Revision", Says: said(b.Revision), Share: 16},
		{Caption: "Date", Says: said(b.Date), Share: 23},
		{Caption: "SHA-256", Says: said(b.Hash), Share: 22, Face: draw.Mono},
		{Caption: "Sheet", Says: fmt.Sprintf("%d of %d", n, of), Share: 21},
	}
}

// Nth is the name of the nth page of a sheet, from 1: the first has that of the sheet. The point keeps E1.2, the second page of E1, apart from a run
// that is called E1-2, for identifiers have none.
func Nth(name string, n int) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s.%d", name, n)
}
