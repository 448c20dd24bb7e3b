package chart

import (
	"math"
	"slices"

	"farend/conductor"
	"farend/draw"
	"farend/layout"
)

// name labels the strip, the edges, the estimate, the short and the two sides, the hardest to place first.
func (p *picture) name() {
	p.nameStrip()
	p.nameEdge("slow edge", layout.Nominal(p.Cold), p.visible(p.slowStairs))
	p.nameEdge("fast edge", layout.Nominal(p.Warm), p.visible(p.fastStairs))
	p.nameEstimate()
	p.nameShort()
	p.nameSides()
}

// nameEdge writes along an edge, with the air that it is in where that runs under fewer lines than the name alone would, or as few.
func (p *picture) nameEdge(name, air string, points []draw.Point) {
	along := func(words string) []draw.Point {
		return append(p.below(points, draw.Text{Words: words, Size: 8}.Width()), p.above(points)...)
	}
	words := name + ", " + air
	if p.desk.Least(draw.Text{Words: name, Size: 8}, along(name)) < p.desk.Least(draw.Text{Words: words, Size: 8}, along(words)) {
		words = name
	}
	p.label(draw.Ink, words, along(words))
}

// label puts words on the desk, on ground of their own. It says nothing where there is no place to begin with.
func (p *picture) label(tone draw.Tone, words string, places []draw.Point) {
	if text, ok := p.desk.Put(draw.Text{Words: words, Size: 8, Tone: tone}, places...); ok {
		box, ground := text.Box().Grow(0.3), draw.Paper
		if under(p.slowStairs, box) && over(p.fastStairs, box) {
			ground = draw.Shade
		}
		p.labels.Paths = append(p.labels.Paths, draw.Area(ground, draw.Pen{}, box.Corners()...))
		p.labels.Texts = append(p.labels.Texts, text)
	}
}

// above is the places over the level pieces of an edge, and to the right of its upright ones.
func (p *picture) above(points []draw.Point) []draw.Point {
	var places []draw.Point
	for i := 0; i+1 < len(points); i++ {
		a, b := points[i], points[i+1]
		if a.Y == b.Y {
			places = append(places, draw.Point{X: a.X + 1.2, Y: a.Y - 1.6})
			for _, u := range []float64{0.5, 0.25, 0.75} {
				places = append(places, draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y - 1.6})
			}
		} else {
			places = append(places, draw.Point{X: a.X + 1.6, Y: (a.Y + b.Y) / 2})
		}
	}
	return places
}

// below is the places under the level pieces of an edge and to the left of its upright ones, for words of a width.
func (p *picture) below(points []draw.Point, width float64) []draw.Point {
	var places []draw.Point
	for i := 0; i+1 < len(points); i++ {
		a, b := points[i], points[i+1]
		if a.Y == b.Y {
			places = append(places, draw.Point{X: b.X - width - 1.2, Y: b.Y + 3.4}, draw.Point{X: a.X - width - 1.2, Y: a.Y + 1})
		} else {
			places = append(places, draw.Point{X: a.X - width - 1.6, Y: (a.Y + b.Y) / 2})
		}
	}
	return places
}

// nameStrip writes along the strip where it is wide enough, and beside it with a line into it where it is not.
func (p *picture) nameStrip() {
	strip := p.strip()
	if strip == nil {
		return
	}
	text := draw.Text{Words: "may open or hold", Size: 8, Tone: draw.Ink, Turn: 90}
	right, left := strip[0].X, strip[1].X
	size := draw.Millimetres(text.Size)
	var places []draw.Point
	for y := p.axes.plot.Min.Y + text.Width() + 6; y < strip[2].Y-1; y += 4 {
		for _, u := range []float64{0.5, 0.25, 0.75} {
			if x := left + u*(right-left); x-size/2 >= left && x+size/2 <= right {
				places = append(places, draw.Point{X: x + 0.27*size, Y: y})
			}
		}
	}
	if places == nil {
		places = []draw.Point{{X: right + 3 + size, Y: p.axes.plot.Min.Y + text.Width() + 6}}
	}
	text, ok := p.desk.Put(text, places...)
	if !ok {
		return
	}
	box := text.Box()
	if middle := (left + right) / 2; box.Min.X > middle || box.Max.X < middle {
		y := (box.Min.Y + box.Max.Y) / 2
		from := box.Min.X
		if box.Max.X < middle {
			from = box.Max.X
		}
		p.labels.Paths = append(p.labels.Paths, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Hair}, draw.Point{X: from, Y: y}, draw.Point{X: middle, Y: y}))
	}
	p.labels.Paths = append(p.labels.Paths, draw.Area(draw.Shade, draw.Pen{}, box.Grow(0.2).Corners()...))
	p.labels.Texts = append(p.labels.Texts, text)
}

// nameEstimate writes beside the lines between gates, between the edges where there is room.
func (p *picture) nameEstimate() {
	var places []draw.Point
	width := draw.Text{Words: "estimate", Size: 8}.Width()
	for _, path := range p.lines.Paths {
		if path.Pen.Width != draw.Hair || path.Pen.Dash == nil {
			continue
		}
		a, b := path.Steps[0].To, path.Steps[1].To
		for _, u := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			x, y := a.X+u*(b.X-a.X), a.Y+u*(b.Y-a.Y)
			places = append(places, draw.Point{X: x + 1.2, Y: y}, draw.Point{X: x - width - 1.2, Y: y + 2}, draw.Point{X: x + 0.8, Y: y - 2})
		}
	}
	outline := draw.Text{Words: "estimate", Size: 8}.Box().Grow(layout.Gap / 2)
	within := slices.DeleteFunc(slices.Clone(places), func(at draw.Point) bool {
		box := outline.Move(at.X, at.Y)
		return !under(p.slowStairs, box) || !over(p.fastStairs, box)
	})
	if p.desk.Least(draw.Text{Words: "estimate", Size: 8}, within) < math.MaxInt {
		places = within
	}
	if places != nil {
		p.label(draw.Graphite, "estimate", places)
	}
}

// nameShort writes beside what a core stands in a short.
func (p *picture) nameShort() {
	b, stands, ok := p.weakest()
	if !ok {
		return
	}
	from, to, seen := p.axes.straight(amps(stands, conductor.AdiabaticTo), conductor.AdiabaticTo, amps(stands, conductor.AdiabaticFrom), conductor.AdiabaticFrom)
	if !seen {
		return
	}
	words := "k²S² of " + short(b.id)
	width := draw.Text{Words: words, Size: 8}.Width()
	var places []draw.Point
	for _, u := range []float64{0.15, 0.3, 0.5, 0.7, 0.85, 0.05, 0.95} {
		x, y := from.X+u*(to.X-from.X), from.Y+u*(to.Y-from.Y)
		places = append(places, draw.Point{X: x + 2, Y: y}, draw.Point{X: x - width - 2, Y: y + 2})
	}
	p.label(draw.Ink, words, places)
}

// nameSides says what holds on either side of the band, where words fit into the side.
func (p *picture) nameSides() {
	for _, side := range []struct {
		words string
		in    func(box draw.Box) bool
		from  draw.Point
	}{
		{"surely holds", func(b draw.Box) bool { return under(p.fastStairs, b) }, draw.Point{X: p.axes.x(float64(p.fast.Carries())) - 30, Y: p.axes.y(1)}},
		{"has surely opened", func(b draw.Box) bool { return over(p.slowStairs, b) }, draw.Point{X: p.axes.x(float64(p.slow.Threshold())) + 20, Y: p.axes.y(300)}},
	} {
		outline := draw.Text{Words: side.words, Size: 8}.Box().Grow(layout.Gap)
		var places []draw.Point
		for y := p.axes.plot.Min.Y + 6; y < p.axes.plot.Max.Y; y += 4 {
			for x := p.axes.plot.Min.X + 2; x < p.axes.plot.Max.X; x += 4 {
				if side.in(outline.Move(x, y)) {
					places = append(places, draw.Point{X: x, Y: y})
				}
			}
		}
		slices.SortStableFunc(places, func(a, b draw.Point) int {
			return int(math.Hypot(a.X-side.from.X, a.Y-side.from.Y)) - int(math.Hypot(b.X-side.from.X, b.Y-side.from.Y))
		})
		if places != nil {
			p.label(draw.Graphite, side.words, places)
		}
	}
}

// under reports whether a box lies below and to the left of stairs, over whether it lies above and to the right of them.
func under(stairs []draw.Point, box draw.Box) bool { return box.Min.Y > level(stairs, box.Max.X) }

func over(stairs []draw.Point, box draw.Box) bool { return box.Max.Y < level(stairs, box.Min.X) }

// level is where stairs are above a place.
func level(stairs []draw.Point, x float64) float64 {
	for i := 0; i+1 < len(stairs); i += 2 {
		if x <= stairs[i+1].X {
			return stairs[i].Y
		}
	}
	return stairs[len(stairs)-1].Y
}
