package plan

import (
	"math"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
)

// The pens of a plan: runs heaviest, cables thin in the accent, data thinner still with an arrow, so that they are told apart in grey.
var (
	runPen        = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	cablePen      = draw.Pen{Tone: draw.Copper, Width: draw.Thin}
	planReturnPen = draw.Pen{Tone: draw.Copper, Width: draw.Thin, Dash: []float64{4, 1.4}}
	planDataPen   = draw.Pen{Tone: draw.Blueprint, Width: draw.Hair}
	thingPen      = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	boxPen        = draw.Pen{Tone: draw.Ink, Width: draw.Hair, Dash: []float64{4, 1, 0.6, 1}}
	tiePen        = draw.Pen{Tone: draw.Ink, Width: draw.Hair, Dash: []float64{0.8, 0.8}}
	detailPen     = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{1.6, 1.1}}
	spotText      = draw.Text{Face: draw.SemiBold, Size: 7.5, Tone: draw.Ink}
	runText       = draw.Text{Face: draw.SemiBold, Size: 8, Tone: draw.Ink}
	markText      = draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	cableText     = draw.Text{Size: draw.Smallest, Tone: draw.Copper}
	dataText      = draw.Text{Size: draw.Smallest, Tone: draw.Blueprint}
	detailText    = draw.Text{Face: draw.SemiBold, Size: draw.Smallest, Tone: draw.Graphite}
)

// ground is how wide the pale ground of a run is.
const ground = 1.8

func (l plannedLink) pen() draw.Pen {
	switch {
	case l.data:
		return planDataPen
	case l.pole == scheme.Return:
		return planReturnPen
	}
	return cablePen
}

// A canvas is the layers of a plan being painted.
type canvas struct {
	grounds, cables, data, runs, things, dimensions, frames, labels draw.Layer
}

func newCanvas() canvas {
	return canvas{
		grounds: draw.Layer{Name: "grounds"}, cables: draw.Layer{Name: "cables"}, data: draw.Layer{Name: "data"}, runs: draw.Layer{Name: "runs"},
		things: draw.Layer{Name: "things"}, dimensions: draw.Layer{Name: "dimensions"}, frames: draw.Layer{Name: "frames"}, labels: draw.Layer{Name: "labels"},
	}
}

func (c canvas) layers() []draw.Layer {
	return []draw.Layer{c.grounds, c.cables, c.data, c.runs, c.frames, c.things, c.dimensions, c.labels}
}

// with is two canvases as one.
func (c canvas) with(d canvas) canvas {
	for _, pair := range []struct{ to, from *draw.Layer }{
		{&c.grounds, &d.grounds}, {&c.cables, &d.cables}, {&c.data, &d.data}, {&c.runs, &d.runs}, {&c.things, &d.things},
		{&c.dimensions, &d.dimensions}, {&c.frames, &d.frames}, {&c.labels, &d.labels},
	} {
		pair.to.Paths, pair.to.Texts = append(pair.to.Paths, pair.from.Paths...), append(pair.to.Texts, pair.from.Texts...)
	}
	return c
}

// line adds a line, as much of it as the figure shows, and gives the pieces.
func (f *figure) line(layer *draw.Layer, pen draw.Pen, t drafting.Trail) []drafting.Trail {
	pieces := f.visible(t)
	for _, piece := range pieces {
		layer.Paths = append(layer.Paths, draw.Line(pen, piece...))
	}
	return pieces
}

// paint draws everything but words.
func (f *figure) paint(c *canvas) {
	for _, r := range f.runs {
		f.paintRun(c, r)
	}
	for _, r := range f.routes {
		layer := &c.cables
		if r.data {
			layer = &c.data
		}
		for _, t := range append([]drafting.Trail{r.trail}, r.stubTrails()...) {
			if t == nil {
				continue
			}
			for _, piece := range f.line(layer, r.pen(), t) {
				if r.power {
					layer.Paths = append(layer.Paths, flanked(piece)...)
				}
			}
			if at, ahead := t.At(0.62); r.data && f.shows(at) {
				layer.Paths = append(layer.Paths, arrow(draw.Blueprint, at, ahead, 2.2, 0.45))
			}
		}
	}
	for _, r := range f.routes {
		if at, ahead, ok := r.fused(); ok && f.shows(at) {
			c.things.Paths = append(c.things.Paths, fuseMark(at, ahead)...)
		}
	}
	for _, b := range f.boxes {
		if b.frame != nil {
			c.things.Paths = append(c.things.Paths, draw.Area(draw.None, boxPen, b.frame.Corners()...))
		}
		if b.alone {
			c.things.Paths = append(c.things.Paths, draw.Area(draw.None, draw.Pen{Tone: draw.Ink, Width: draw.Hair}, draw.Box{Min: b.places[0], Max: b.places[0]}.Grow(1.2).Corners()...))
		}
	}
	for _, frame := range f.frames {
		c.frames.Paths = append(c.frames.Paths, framed(frame))
	}
	for _, t := range f.ties {
		c.things.Paths = append(c.things.Paths, draw.Line(tiePen, t...), draw.Disc(draw.Ink, t[1], 0.4))
	}
	for _, s := range f.spots {
		s.paint(&c.things)
	}
}

// framed is the frame of a closer look: of short dashes and with round corners, so that it is told from an enclosure.
func framed(box draw.Box) draw.Path {
	r := min(2.2, box.Width()/2, box.Height()/2)
	const bent = 0.5523 // of the radius, for a quarter of a circle as one curve
	path := draw.Path{Pen: detailPen}
	corners := box.Corners()
	for i, at := range corners {
		toward := func(to draw.Point, by float64) draw.Point {
			length := drafting.Apart(at, to)
			return draw.Point{X: at.X + (to.X-at.X)*by/length, Y: at.Y + (to.Y-at.Y)*by/length}
		}
		before, after := corners[(i+3)%4], corners[(i+1)%4]
		kind := draw.Go
		if i == 0 {
			kind = draw.Move
		}
		path.Steps = append(path.Steps, draw.Step{Kind: kind, To: toward(before, r)},
			draw.Step{Kind: draw.Curve, C1: toward(before, r*(1-bent)), C2: toward(after, r*(1-bent)), To: toward(after, r)})
	}
	path.Steps = append(path.Steps, draw.Step{Kind: draw.Close})
	return path
}

// flanked are the lines on both sides of a data lead that carries the supply in its spare cores.
func flanked(t drafting.Trail) (paths []draw.Path) {
	const off = 0.7
	for i := 1; i < len(t); i++ {
		length := drafting.Apart(t[i-1], t[i])
		if length == 0 {
			continue
		}
		ahead := draw.Point{X: (t[i].X - t[i-1].X) / length, Y: (t[i].Y - t[i-1].Y) / length}
		for _, side := range []float64{off, -off} {
			paths = append(paths, draw.Line(cablePen, drafting.Aside(t[i-1], ahead, side), drafting.Aside(t[i], ahead, side)))
		}
	}
	return paths
}

// fused is where on the route of a cable its inline fuse is drawn: near the end that it is at, as far from that as symbols reach. It is not ok
// where there is none, or the route is too short on paper.
func (r route) fused() (at, ahead draw.Point, ok bool) {
	const from, least = 6.5, 15.0
	length := r.trail.Length()
	if r.fuse == "" || length < least {
		return draw.Point{}, draw.Point{}, false
	}
	share := from / length
	if r.fuse == scheme.ToEnd {
		share = 1 - share
	}
	at, ahead = r.trail.At(share)
	return at, ahead, true
}

// fuseMark is the symbol of a fuse (IEC 60617): a rectangle along the line, which goes through it.
func fuseMark(at, ahead draw.Point) []draw.Path {
	const half, side = 1.3, 0.5
	a, b := draw.Point{X: at.X - half*ahead.X, Y: at.Y - half*ahead.Y}, draw.Point{X: at.X + half*ahead.X, Y: at.Y + half*ahead.Y}
	pen := draw.Pen{Tone: draw.Copper, Width: draw.Thin}
	return []draw.Path{draw.Area(draw.Paper, pen, drafting.Aside(a, ahead, side), drafting.Aside(b, ahead, side), drafting.Aside(b, ahead, -side), drafting.Aside(a, ahead, -side)), draw.Line(draw.Pen{Tone: draw.Copper, Width: draw.Hair}, a, b)}
}

func (r route) stubTrails() (list []drafting.Trail) {
	for _, s := range r.stubs {
		list = append(list, s.trail)
	}
	return list
}

// arrow is a filled arrow about a place.
func arrow(tone draw.Tone, at, ahead draw.Point, length, half float64) draw.Path {
	tip := draw.Point{X: at.X + length/2*ahead.X, Y: at.Y + length/2*ahead.Y}
	back := draw.Point{X: at.X - length/2*ahead.X, Y: at.Y - length/2*ahead.Y}
	return draw.Area(tone, draw.Pen{}, tip, draw.Point{X: back.X - half*ahead.Y, Y: back.Y + half*ahead.X}, draw.Point{X: back.X + half*ahead.Y, Y: back.Y - half*ahead.X})
}

// paintRun draws a run: its line on a pale ground, its cuts, where cables land on it, its ends, and which way its data goes.
func (f *figure) paintRun(c *canvas, r strand) {
	for _, piece := range f.line(&c.runs, runPen, r.trail) {
		for i := 1; i < len(piece); i++ {
			c.grounds.Paths = append(c.grounds.Paths, broad(piece[i-1], piece[i], ground))
		}
	}
	for _, cut := range r.cuts {
		if at, ahead := r.mark(cut.At.Mark); f.shows(at) {
			c.runs.Paths = append(c.runs.Paths, cutMarks(at, ahead, cut.Pole)...)
		}
	}
	for _, m := range r.marks {
		if at, ahead := r.mark(m); f.shows(at) {
			c.runs.Paths = append(c.runs.Paths, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, drafting.Aside(at, ahead, 1.1), drafting.Aside(at, ahead, -1.1)))
		}
	}
	if length := r.trail.Length(); length > 4 {
		at, ahead := r.trail.At(min(7/length, 0.5))
		if f.shows(at) {
			c.runs.Paths = append(c.runs.Paths, arrow(draw.Blueprint, at, ahead, min(2.8, length/2), 0.85))
		}
	}
}

// broad is a line as an area of some width.
func broad(a, b draw.Point, width float64) draw.Path {
	length := drafting.Apart(a, b)
	if length == 0 {
		return draw.Path{}
	}
	ahead := draw.Point{X: (b.X - a.X) / length, Y: (b.Y - a.Y) / length}
	return draw.Area(draw.Rule, draw.Pen{}, drafting.Aside(a, ahead, width/2), drafting.Aside(b, ahead, width/2), drafting.Aside(b, ahead, -width/2), drafting.Aside(a, ahead, -width/2))
}

// cutMarks are two strokes across a run where a rail of it is cut: to the left of the way of its data for the positive, to the right for the
// return, to both sides for both.
func cutMarks(at, ahead draw.Point, pole scheme.Pole) (paths []draw.Path) {
	left, right := 0.0, 0.0
	if pole.Has(scheme.Plus) {
		left = 2
	}
	if pole.Has(scheme.Return) {
		right = -2
	}
	for _, along := range []float64{-0.45, 0.45} {
		on := draw.Point{X: at.X + along*ahead.X, Y: at.Y + along*ahead.Y}
		lean := 0.5 // forwards, so that they are no marks of feeds
		one, other := drafting.Aside(on, ahead, left), drafting.Aside(on, ahead, right)
		one = draw.Point{X: one.X + lean*ahead.X, Y: one.Y + lean*ahead.Y}
		paths = append(paths, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, one, other))
	}
	return paths
}

// paint draws the symbol of a thing.
func (s spot) paint(layer *draw.Layer) {
	box := s.box()
	add := func(paths ...draw.Path) { layer.Paths = append(layer.Paths, paths...) }
	if s.pin != s.at && s.row == 0 && s.pin != (draw.Point{}) {
		add(draw.Line(drafting.FaintPen, s.pin, s.at), draw.Disc(draw.Ink, s.pin, 0.5))
	}
	switch s.kind {
	case supplySpot: // a converter from the mains: the lower left corner is cut off
		add(draw.Area(draw.Paper, thingPen, box.Corners()...), draw.Line(thingPen, draw.Point{X: box.Min.X, Y: box.Max.Y - 1.6}, draw.Point{X: box.Min.X + 1.6, Y: box.Max.Y}))
		add(draw.Area(draw.Ink, draw.Pen{}, draw.Point{X: box.Min.X, Y: box.Max.Y - 1.6}, draw.Point{X: box.Min.X + 1.6, Y: box.Max.Y}, draw.Point{X: box.Min.X, Y: box.Max.Y}))
	case boardSpot:
		add(draw.Area(draw.Paper, draw.Pen{Tone: draw.Ink, Width: draw.Thick}, box.Corners()...))
	case enclosureSpot:
		add(draw.Area(draw.Paper, boxPen, box.Corners()...))
	case junctionSpot:
		add(draw.Disc(draw.Ink, s.at, 0.9))
	case contactorSpot:
		add(draw.Area(draw.Paper, thingPen, box.Corners()...), draw.Line(thingPen, draw.Point{X: box.Min.X, Y: box.Max.Y}, draw.Point{X: box.Max.X, Y: box.Min.Y}))
	case capacitorSpot:
		add(draw.Area(draw.Paper, thingPen, s.box().Grow(-0.2).Corners()...))
		for _, x := range []float64{-0.3, 0.3} {
			add(draw.Line(thingPen, draw.Point{X: s.at.X + x, Y: s.at.Y - 0.6}, draw.Point{X: s.at.X + x, Y: s.at.Y + 0.6}))
		}
	}
	if s.named() {
		text := spotText
		text.Words, text.Anchor = s.id, draw.Middle
		text.At = draw.Point{X: s.at.X, Y: s.at.Y + 0.95}
		layer.Texts = append(layer.Texts, text)
	}
}

// named reports whether the name of a thing stands in its symbol.
func (s spot) named() bool {
	return s.kind == supplySpot || s.kind == boardSpot || s.kind == enclosureSpot
}

// straight reports whether a run is one straight line, and gives its ends.
func (s strand) straight() (a, b draw.Point, ok bool) {
	a, b = s.trail[0], s.trail[len(s.trail)-1]
	return a, b, math.Abs(drafting.Apart(a, b)-s.trail.Length()) < 1e-6*max(1, s.trail.Length()) && drafting.Apart(a, b) > 0
}

// under has labels keep off what is painted: runs above all, then the links.
func (f *figure) under(d *layout.Desk) {
	const fine = 0.3
	note := func(t drafting.Trail, times int) {
		points := drafting.Simplified(t, fine)
		for range times {
			d.Under(points...)
		}
	}
	for _, r := range f.runs {
		note(r.trail, 3)
		for _, cut := range r.cuts {
			if at, _ := r.mark(cut.At.Mark); f.shows(at) {
				d.Taken = append(d.Taken, draw.Box{Min: at, Max: at}.Grow(1.5))
			}
		}
	}
	if f.window != nil {
		note(append(f.window.Corners(), f.window.Min), 3)
	}
	for _, r := range f.routes {
		for _, t := range append([]drafting.Trail{r.trail}, r.stubTrails()...) {
			if t != nil {
				note(t, 1)
			}
		}
	}
	for _, s := range f.spots {
		grown := 0.3
		if s.kind == capacitorSpot {
			grown = 0
		}
		d.Taken = append(d.Taken, s.box().Grow(grown))
		if s.pin != s.at && s.row == 0 {
			d.Under(s.pin, s.at)
		}
	}
	for _, frame := range f.frames {
		d.Under(append(frame.Corners(), frame.Min)...)
	}
	for _, t := range f.ties {
		d.Under(t...)
	}
	for _, r := range f.routes {
		if at, _, ok := r.fused(); ok {
			d.Taken = append(d.Taken, draw.Box{Min: at, Max: at}.Grow(1.2))
		}
	}
	for _, b := range f.boxes {
		if b.alone {
			d.Taken = append(d.Taken, draw.Box{Min: b.places[0], Max: b.places[0]}.Grow(1.3))
		}
		if b.frame != nil {
			d.Under(append(b.frame.Corners(), b.frame.Min)...)
		}
	}
}
