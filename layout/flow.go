package layout

import (
	"fmt"

	"farend/draw"
)

// A Flow is blocks one below the other, over as many pages as they take.
type Flow struct{ Blocks []Block }

// A Block is something that can be laid out in a room of a width, on pages that have a height.
type Block interface {
	Strips(width, height float64) []Strip
}

// A Strip is a piece of a flow through which no page ends.
type Strip struct {
	Height float64
	Above  float64 // the gap over it, left out where a page begins
	Keep   bool    // it stands on the page of the next
	Again  []Strip // what is repeated over it where a page begins: the heads of a table
	Anchor string  // what it is called, to be found
	Draw   func(on *Drawn, at draw.Point)
}

// Drawn is what has been drawn of a page.
type Drawn struct {
	Layer draw.Layer
	Links []draw.Link
}

// Add adds blocks at the end.
func (f *Flow) Add(blocks ...Block) { f.Blocks = append(f.Blocks, blocks...) }

// Leaves lays a flow out on leaves that are like one: NAME, NAME-2 and so on, of which the first alone is in the table of contents.
// At says on which leaf each anchor is.
func (f *Flow) Leaves(like Leaf) (leaves []Leaf, at map[string]string) {
	field := like.Paper.Field()
	var strips []Strip
	for _, b := range f.Blocks {
		strips = append(strips, b.Strips(field.Width(), field.Height())...)
	}
	at = map[string]string{}
	pages := paged(strips, field.Height())
	for i, page := range pages {
		leaf := like
		if i > 0 {
			leaf.Name, leaf.Outline, leaf.More = Nth(like.Name, i+1), "", nil
		}
		if len(pages) > 1 {
			leaf.Under = joined(like.Under, fmt.Sprintf("part %d of %d", i+1, len(pages)))
		}
		drawn := Drawn{Layer: draw.Layer{Name: "text"}}
		y := field.Min.Y
		for k, s := range page {
			if k > 0 {
				y += s.Above
			}
			if s.Draw != nil {
				s.Draw(&drawn, draw.Point{X: field.Min.X, Y: y})
			}
			if _, known := at[s.Anchor]; s.Anchor != "" && !known {
				at[s.Anchor] = leaf.Name
			}
			y += s.Height
		}
		leaf.Layers, leaf.Links = append(append([]draw.Layer{}, like.Layers...), drawn.Layer), append(append([]draw.Link{}, like.Links...), drawn.Links...)
		leaves = append(leaves, leaf)
	}
	return leaves, at
}

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// paged divides strips over pages of a height; there is always one page. Strips that are to be kept together begin another page where
// the rest of this one is too short for all of them, unless that were too short too.
func paged(strips []Strip, height float64) (pages [][]Strip) {
	var page []Strip
	used := 0.0
	turn := func() { pages, page, used = append(pages, page), nil, 0 }
	put := func(s Strip) {
		if len(page) == 0 {
			for _, again := range s.Again {
				page, used = append(page, again), used+again.Height
			}
		}
		if len(page) > 0 {
			used += s.Above
		}
		page, used = append(page, s), used+s.Height
	}
	for i := 0; i < len(strips); {
		end := i + 1
		for end < len(strips) && strips[end-1].Keep {
			end++
		}
		group := strips[i:end]
		if len(page) > 0 && used+tall(group, false) > height+slack && tall(group, true) <= height+slack {
			turn()
		}
		for _, s := range group {
			if len(page) > 0 && used+s.Above+s.Height > height+slack {
				turn()
			}
			put(s)
		}
		i = end
	}
	if len(page) > 0 || len(pages) == 0 {
		turn()
	}
	return pages
}

// slack is for sums of heights that are the same but for rounding, in millimetres.
const slack = 1e-6

// tall is the height of strips, on top of a page or not.
func tall(strips []Strip, top bool) (height float64) {
	for i, s := range strips {
		if i > 0 || !top {
			height += s.Above
		}
		height += s.Height
	}
	if top && len(strips) > 0 {
		for _, again := range strips[0].Again {
			height += again.Height
		}
	}
	return height
}

// Linked are leaves without the links that lead to none of them. Of several links at one place the first stays that leads somewhere.
func Linked(leaves []Leaf) []Leaf {
	there := map[string]bool{}
	for _, l := range leaves {
		there[l.Name] = true
	}
	out := make([]Leaf, len(leaves))
	for i, l := range leaves {
		var links []draw.Link
		taken := map[draw.Box]bool{}
		for _, link := range l.Links {
			if there[link.To] && !taken[link.Box] {
				taken[link.Box] = true
				links = append(links, link)
			}
		}
		l.Links = links
		out[i] = l
	}
	return out
}
