// Package chart draws curves on paper with scales: when fuses open, what a fault may burn with, and what becomes of pulses.
package chart

import (
	"math"
	"slices"

	"farend/conductor"
	"farend/draw"
	"farend/fuse"
	"farend/layout"
	"farend/parts"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// TimeCurrent draws when the fuse of a way, or that of a cable, opens at which current, with the load that it carries, what the
// cables behind it stand, and, where the study followed faults, what it carries in a short right behind it and in one at the far end
// of what it feeds.
//
// The fast edge of the fuse is that in the hottest air of the site, its slow edge that in the coldest; both are stairs, for only the
// gates of its curve are guaranteed. What a core stands in a short, k²S², is drawn from 0.1 s to 5 s (IEC 60364-4-43), for PVC of
// 70 °C alone. The cables are those from the way as far as the tape, through junctions and bridged ways, and not behind another fuse.
//
// All are the assessments of the study: the head of the page has the verdict that the protection table gives by them.
//
// The error is an *Error where there is no such way or cable, or nothing that says when its fuse opens.
func TimeCurrent(st *study.Study, id string, all []study.Assessed, style drafting.Style) (layout.Leaf, error) {
	g, err := guarding(st, id)
	if err != nil {
		return layout.Leaf{}, err
	}
	g.judge(st, all)
	p := newPicture(g, style)
	p.shade()
	p.curves()
	p.marks()
	p.name()
	return layout.Leaf{
		Name: "time-current-" + id, Outline: id + ": time and current",
		Title: id + ": when its fuse opens" + g.question(), Verdict: g.judged(), Under: g.Fuse.Title, Desc: g.described(),
		Paper: style.Texts, Cells: p.cells(st.Scheme), Notes: g.rests(),
		Layers: []draw.Layer{p.shades, p.axes.grid(), p.hatches, p.lines, p.axes.scales(currents, times), p.labels, p.key()},
	}, nil
}

// question is what the page asks of the cables.
func (g *guarded) question() string {
	switch len(g.branches) {
	case 0:
		return ""
	case 1:
		return ", and what its cable stands"
	}
	return ", and what its cables stand"
}

// The scales of the page.
var (
	currents = scale{"current (rms)", func(power int) string { return layout.Nominal(unit.Ampere(math.Pow10(power))) }}
	times    = scale{"time", seconds}
)

// plotted is the plot of a page, from so far below the top of the sheet to so far above its title block.
func plotted(paper layout.Paper, top, bottom float64) draw.Box {
	field := paper.Field()
	return draw.Box{Min: draw.Point{X: field.Min.X + 16, Y: top}, Max: draw.Point{X: field.Max.X - 2, Y: paper.Block().Min.Y - bottom}}
}

// The pens of the picture: the fuse in ink, cables in graphite chain lines, load in copper; those of shorts are in shorts.go.
var (
	slowPen     = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	fastPen     = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	estimatePen = draw.Pen{Tone: draw.Ink, Width: draw.Hair, Dash: []float64{1.2, 0.8}}
	shortPen    = draw.Pen{Tone: draw.Graphite, Width: draw.Thick, Dash: []float64{5, 1, 0.8, 1}}
	izPen       = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{7, 1.2}}
	iz145Pen    = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{1.2, 1.2}}
	loadPen     = draw.Pen{Tone: draw.Copper, Width: draw.Thick}
	failedPen   = draw.Pen{Tone: draw.Copper, Width: draw.Thick, Dash: []float64{3, 1.2}}
)

// dots are the marks of gates: full on the slow edge, hollow on the fast one.
var (
	fullDot   = []draw.Path{draw.Disc(draw.Ink, draw.Point{}, 0.8)}
	hollowDot = []draw.Path{draw.Disc(draw.Ink, draw.Point{}, 0.8), draw.Disc(draw.Paper, draw.Point{}, 0.5)}
)

func hatching(polygon ...draw.Point) draw.Path {
	return draw.Hatch(drafting.FaintPen, 45, 1.2, polygon...)
}

// A picture is a time-current picture being drawn.
type picture struct {
	*guarded
	style                          drafting.Style
	axes                           axes
	desk                           layout.Desk
	shades, hatches, lines, labels draw.Layer
	slowStairs, fastStairs         []draw.Point
	flags                          []flag
}

// faint is the least current that is drawn.
const faint unit.Ampere = 1e-3

func newPicture(g *guarded, style drafting.Style) *picture {
	plot := plotted(style.Texts, 55, 69)
	p := &picture{guarded: g, style: style, shades: draw.Layer{Name: "areas"}, hatches: draw.Layer{Name: "hatches"}, lines: draw.Layer{Name: "lines"}, labels: draw.Layer{Name: "labels"}}
	p.axes = newAxes(plot, p.currents()...)
	p.desk.Room = plot.Grow(-1)
	p.slowStairs = p.stairs(g.slow, g.slow.Opens)
	p.fastStairs = p.stairs(g.fast, g.fast.Holds)
	return p
}

// currents is every current that the picture shows.
func (p *picture) currents() []float64 {
	currents := []float64{drawable(p.load.amps), drawable(p.failed.amps)}
	if s := p.shorts; s != nil {
		currents = append(currents, drawable(s.far.Amps))
		if s.near != nil {
			currents = append(currents, drawable(s.near.Amps))
		}
	}
	for _, g := range p.curve.Gates {
		currents = append(currents, g.Multiple*float64(p.fast.Rating), g.Multiple*float64(p.slow.Rating))
	}
	if b, ok := p.thinnest(); ok {
		currents = append(currents, float64(b.iz), conductor.Bearable*float64(b.iz))
	}
	if _, stands, ok := p.weakest(); ok {
		currents = append(currents, math.Sqrt(float64(stands)/float64(conductor.AdiabaticTo)), math.Sqrt(float64(stands)/float64(conductor.AdiabaticFrom)))
	}
	return currents
}

// drawable is a current, or 0 for what is too little to be drawn.
func drawable(amps unit.Ampere) float64 {
	if amps < faint {
		return 0
	}
	return float64(amps)
}

// stairs is an edge of a band from the left of the plot to its right. It is the edge's own value between any two gates, so that
// nothing is drawn of which the band does not say it; Never lies on the upper edge of the plot, and 0 on the lower.
func (p *picture) stairs(b fuse.Band, edge func(unit.Ampere) unit.Second) []draw.Point {
	turns := []float64{math.Pow10(p.axes.across[0])}
	for _, g := range p.curve.Gates {
		turns = append(turns, g.Multiple*float64(b.Rating))
	}
	turns = append(turns, math.Pow10(p.axes.across[1]))
	var points []draw.Point
	for i := range turns[1:] {
		middle := math.Sqrt(turns[i] * turns[i+1])
		y := p.axes.y(math.Min(float64(edge(unit.Ampere(middle))), math.MaxFloat64))
		points = append(points, draw.Point{X: p.axes.x(turns[i]), Y: y}, draw.Point{X: p.axes.x(turns[i+1]), Y: y})
	}
	return points
}

// visible is stairs without what runs along the upper or the lower edge of the plot.
func (p *picture) visible(stairs []draw.Point) []draw.Point {
	for len(stairs) > 1 && stairs[0].Y == stairs[1].Y && stairs[0].Y <= p.axes.plot.Min.Y {
		stairs = stairs[1:]
	}
	for n := len(stairs); n > 1 && stairs[n-1].Y == stairs[n-2].Y && (stairs[n-1].Y >= p.axes.plot.Max.Y || stairs[n-1].Y <= p.axes.plot.Min.Y); n = len(stairs) {
		stairs = stairs[:n-1]
	}
	return stairs
}

// shade tints what lies between the edges, and hatches the currents that may last for ever or not.
func (p *picture) shade() {
	between := slices.Clone(p.fastStairs)
	slices.Reverse(between)
	between = append(slices.Clone(p.slowStairs), between...)
	p.shades.Paths = append(p.shades.Paths, draw.Area(draw.Shade, draw.Pen{}, between...))
	if strip := p.strip(); strip != nil {
		p.hatches.Paths = append(p.hatches.Paths, hatching(strip...))
	}
}

// strip is the area of the currents at which the fuse may open or hold for ever, above its fast edge; nil where there is none.
func (p *picture) strip() []draw.Point {
	left, right := p.axes.x(float64(p.fast.Carries())), p.axes.x(float64(p.slow.Threshold()))
	if right <= left {
		return nil
	}
	points := []draw.Point{{X: right, Y: p.axes.plot.Min.Y}, {X: left, Y: p.axes.plot.Min.Y}}
	for i := 0; i+1 < len(p.fastStairs); i += 2 {
		a, b := p.fastStairs[i], p.fastStairs[i+1]
		if b.X > left && a.X < right {
			points = append(points, draw.Point{X: max(a.X, left), Y: a.Y}, draw.Point{X: min(b.X, right), Y: b.Y})
		}
	}
	return points
}

// curves draws the edges, their gates, the estimates between them, and what the weakest cable stands.
func (p *picture) curves() {
	p.estimate(p.slow, func(g parts.Gate) unit.Second { return g.Max.Is })
	p.estimate(p.fast, func(g parts.Gate) unit.Second { return g.Min.Is })
	if _, stands, ok := p.weakest(); ok {
		if from, to, seen := p.axes.straight(amps(stands, conductor.AdiabaticTo), conductor.AdiabaticTo, amps(stands, conductor.AdiabaticFrom), conductor.AdiabaticFrom); seen {
			p.line(shortPen, from, to)
		}
	}
	p.line(fastPen, p.visible(p.fastStairs)...)
	p.line(slowPen, p.visible(p.slowStairs)...)
	for _, g := range p.curve.Gates {
		at := unit.Ampere(g.Multiple)
		if g.Max.Given {
			p.dot(fullDot, at*p.slow.Rating, g.Max.Is)
		}
		if g.Min.Given && at*p.fast.Rating > p.fast.Carries() {
			p.dot(hollowDot, at*p.fast.Rating, g.Min.Is)
		}
	}
}

// amps is the current of which a core stands an I²t for a time.
func amps(i2t unit.AmpereSquareSecond, t unit.Second) unit.Ampere {
	return unit.Ampere(math.Sqrt(float64(i2t) / float64(t)))
}

// estimate draws straight lines from gate to gate of an edge: fuse.Band.Estimated between them, over the logarithms.
func (p *picture) estimate(b fuse.Band, edge func(parts.Gate) unit.Second) {
	var last *parts.Gate
	for i := range p.curve.Gates {
		g := &p.curve.Gates[i]
		if edge(*g) <= 0 {
			continue
		}
		if last != nil && !math.IsInf(g.Multiple*float64(b.Rating), 1) {
			if from, to, seen := p.axes.straight(unit.Ampere(last.Multiple)*b.Rating, edge(*last), unit.Ampere(g.Multiple)*b.Rating, edge(*g)); seen {
				p.line(estimatePen, from, to)
			}
		}
		last = g
	}
}

func (p *picture) line(pen draw.Pen, points ...draw.Point) {
	if len(points) < 2 {
		return
	}
	p.lines.Paths = append(p.lines.Paths, draw.Line(pen, points...))
	p.desk.Under(points...)
}

// dot marks a gate, where it lies on the plot.
func (p *picture) dot(form []draw.Path, amps unit.Ampere, t unit.Second) {
	at := p.axes.beyond(amps, t)
	if !p.axes.plot.Holds(draw.Box{Min: at, Max: at}) {
		return
	}
	for _, d := range form {
		p.lines.Paths = append(p.lines.Paths, d.Move(at.X, at.Y))
	}
	p.desk.Taken = append(p.desk.Taken, draw.Box{Min: at, Max: at}.Grow(0.8))
}

// marks plants the flags of load, limits and shorts.
func (p *picture) marks() {
	add := func(amps unit.Ampere, name string, pen draw.Pen) {
		if amps >= faint && !math.IsInf(float64(amps), 1) {
			p.flags = append(p.flags, flag{x: p.axes.x(float64(amps)), value: layout.Quantity(amps), name: name, pen: pen})
		}
	}
	add(p.load.amps, "load", loadPen)
	add(p.failed.amps, "load, cap failed", failedPen)
	if b, ok := p.thinnest(); ok {
		id := short(b.id)
		add(b.iz, "Iz of "+id, izPen)
		add(conductor.Bearable*b.iz, "1.45 · Iz of "+id, iz145Pen)
	}
	if s := p.shorts; s != nil {
		add(s.far.Amps, "short at the far end, "+short(s.far.Place), farPen)
		if s.near != nil {
			add(s.near.Amps, "short right behind it", nearPen)
		}
	}
	slices.SortStableFunc(p.flags, func(a, b flag) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	plant(p.flags, p.style.Texts.Frame().Min.X+2, p.style.Texts.Frame().Max.X-2)
	for _, f := range p.flags {
		f.draw(&p.labels, p.axes.plot)
		p.desk.Under(draw.Point{X: f.x, Y: p.axes.plot.Max.Y}, draw.Point{X: f.x, Y: p.axes.plot.Min.Y})
	}
}

// short is an identifier that is not too long for a label.
func short(id string) string { return layout.Fit(draw.Text{Size: 8}, id, 20) }
