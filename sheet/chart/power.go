package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/network"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// Power draws what a fault at a place burns with over its resistance, in the case in which its silent power is largest: what lasts, and where which
// fuse opens; past that fuse what is left, until nothing feeds the place.
//
// Only the set points and limits at their upper end, the copper at its coldest and the fuses in the coldest air are drawn: the corner in which most lasts.
func Power(st *study.Study, c study.PowerCurve, style drafting.Style) layout.Leaf {
	paper := style.Texts
	p := powerPicture{st: st, curve: c, paper: paper, lines: draw.Layer{Name: "lines"}, labels: draw.Layer{Name: "labels"}}
	p.axes = powerAxes(c, plotted(paper, 34, 69))
	p.desk.Room = p.axes.plot.Grow(-1)
	p.limits()
	for i := len(c.Stages) - 1; i >= 0; i-- { // what stands with all fuses whole lies on top
		p.stage(i, c.Stages[i])
	}
	p.class(15, "above 15"+layout.Thin+"W: PS2")
	p.class(100, "above 100"+layout.Thin+"W: PS3")
	p.most()
	for _, stage := range c.Stages {
		p.opens(stage)
	}
	return layout.Leaf{
		Name: "power-" + c.Fault.At, Outline: c.Fault.At + ": power of a fault",
		Title: c.Fault.At + ": what a fault may burn with", Verdict: fmt.Sprintf("%v for ever, %s", c.Watts, unseen(c)), Desc: p.described(),
		Paper: paper, Cells: p.cells(), Notes: powerRests,
		Layers: []draw.Layer{p.axes.grid(), p.lines, p.axes.scales(resistances, powers), p.labels, p.key()},
	}
}

// unseen says why it goes on.
func unseen(c study.PowerCurve) string {
	if len(c.Near) == 0 {
		return "for there is no fuse on the way to it"
	}
	return "no fuse seeing it"
}

// The scales of the page.
var (
	resistances = scale{"resistance of the fault", func(power int) string { return layout.Nominal(unit.Ohm(math.Pow10(power))) }}
	powers      = scale{"power", func(power int) string { return layout.Nominal(unit.Watt(math.Pow10(power))) }}
)

// powerRests is on what the page rests.
const powerRests = "With the most that may flow: set points and limits of supplies at their upper end and held for ever, copper at the lower of 20 °C and the coldest air, fuses cold in the coldest air. " +
	"A fuse surely opens from the gate of its curve on by which it has within an hour. PS1 up to 15 W and PS2 up to 100 W: IEC 62368-1 (2018), 6.2.2.4 to 6.2.2.6. What a power does depends on what is near it."

// The pens of the page: what lasts heavy, what a fuse ends thin and broken; copper for what stands when no fuse has opened.
var (
	lastingPen = draw.Pen{Tone: draw.Copper, Width: draw.Thick}
	pastPen    = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	endingPen  = draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{1.6, 1}}
	classPen   = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{5, 1, 0.8, 1}}
)

// A powerPicture is such a page being drawn.
type powerPicture struct {
	st            *study.Study
	curve         study.PowerCurve
	axes          axes
	desk          layout.Desk
	paper         layout.Paper
	lines, labels draw.Layer
}

// powerAxes has whole decades of resistance about what is drawn, and of power from 0.1 W to what is more than all of it, and than 100 W.
func powerAxes(c study.PowerCurve, plot draw.Box) axes {
	low, high, most := math.Inf(1), 0.0, 100.0
	for _, stage := range c.Stages {
		for _, s := range stage.Spots {
			low, high, most = min(low, float64(s.Ohms)), max(high, float64(s.Ohms)), max(most, float64(s.Watts))
		}
	}
	a := axes{plot: plot, up: [2]int{-1, int(math.Floor(math.Log10(most))) + 1}}
	a.across = [2]int{int(math.Ceil(math.Log10(low))), int(math.Floor(math.Log10(high)))}
	return a
}

// limits are the powers above which a source is of the next class.
func (p *powerPicture) limits() {
	for _, watts := range []float64{15, 100} {
		p.lines.Paths = append(p.lines.Paths, draw.Line(classPen, p.classLine(watts)...))
	}
}

// classLine is the line of such a power.
func (p *powerPicture) classLine(watts float64) []draw.Point {
	y := p.axes.y(watts)
	return []draw.Point{{X: p.axes.plot.Min.X, Y: y}, {X: p.axes.plot.Max.X, Y: y}}
}

// stage draws the power with some fuses open.
func (p *powerPicture) stage(i int, s study.PowerStage) {
	pen := pastPen
	if i == 0 {
		pen = lastingPen
	}
	p.line(pen, p.points(s, true)...)
	p.line(endingPen, p.points(s, false)...)
	if at, ok := p.edge(s); ok {
		p.lines.Paths = append(p.lines.Paths, draw.Disc(draw.Ink, at, 0.8))
		p.desk.Taken = append(p.desk.Taken, draw.Box{Min: at, Max: at}.Grow(0.8))
	}
}

// edge is where a fuse opens; it is not ok where none does on the plot.
func (p *powerPicture) edge(s study.PowerStage) (at draw.Point, ok bool) {
	lasts := p.points(s, true)
	if s.Guard == "" || len(lasts) == 0 || len(p.points(s, false)) == 0 {
		return draw.Point{}, false
	}
	return lasts[len(lasts)-1], true
}

// opens names the fuse that opens at the end of a stage.
func (p *powerPicture) opens(s study.PowerStage) {
	if at, ok := p.edge(s); ok {
		words := short(s.Guard) + " opens"
		p.label(words, draw.Ink, p.besides(at, words)...)
	}
}

// besides are places for words about a point: to its left, its right, above and under it, nearer ones first.
func (p *powerPicture) besides(at draw.Point, words string) (places []draw.Point) {
	width := layout.Wide(draw.Text{Size: 8}, words)
	for _, far := range []float64{1.6, 5, 9, 14, 20} {
		for _, x := range []float64{at.X - 1.6 - width, at.X - width/2, at.X + 1.6} {
			places = append(places, draw.Point{X: x, Y: at.Y + far + 2.2}, draw.Point{X: x, Y: at.Y - far})
		}
	}
	return places
}

// points are the spots of a stage that last, or do not, from the right to the left of the plot. Those beyond its edges are left out.
func (p *powerPicture) points(s study.PowerStage, lasts bool) (points []draw.Point) {
	left, right := math.Pow10(p.axes.across[0]), math.Pow10(p.axes.across[1])
	for _, spot := range s.Spots {
		if r := float64(spot.Ohms); spot.Lasts == lasts && r >= left*(1-1e-9) && r <= right*(1+1e-9) {
			points = append(points, draw.Point{X: p.axes.x(r), Y: p.axes.y(float64(spot.Watts))})
		}
	}
	return points
}

// class names the limit of a class on its line: over it at its right end, or as near to that as curves leave room.
func (p *powerPicture) class(watts float64, words string) {
	const step, on = 4.0, 1.0
	width := layout.Wide(draw.Text{Size: 8}, words)
	var places []draw.Point
	for _, y := range []float64{p.axes.y(watts) - on, p.axes.y(watts) + 3.1} {
		for x := p.axes.plot.Max.X - 2 - width; x > p.axes.plot.Min.X+1; x -= step {
			places = append(places, draw.Point{X: x, Y: y})
		}
	}
	p.label(words, draw.Graphite, places...)
	p.desk.Under(p.classLine(watts)...)
}

// most names the largest power that lasts.
func (p *powerPicture) most() {
	at := draw.Point{X: p.axes.x(float64(p.curve.Fault.Ohms)), Y: p.axes.y(float64(p.curve.Watts))}
	p.lines.Paths = append(p.lines.Paths, draw.Disc(draw.Copper, at, 1.2), draw.Disc(draw.Paper, at, 0.6))
	p.desk.Taken = append(p.desk.Taken, draw.Box{Min: at, Max: at}.Grow(1.2))
	words := layout.Quantity(p.curve.Watts) + " over " + layout.Quantity(p.curve.Fault.Ohms)
	p.label(words, draw.Ink, p.besides(at, words)...)
}

func (p *powerPicture) line(pen draw.Pen, points ...draw.Point) {
	if len(points) < 2 {
		return
	}
	p.lines.Paths = append(p.lines.Paths, draw.Line(pen, points...))
	p.desk.Under(points...)
}

// label puts words at the best of some places.
func (p *powerPicture) label(words string, tone draw.Tone, places ...draw.Point) {
	if text, ok := p.desk.Put(draw.Text{Words: words, Size: 8, Tone: tone}, places...); ok {
		p.labels.Texts = append(p.labels.Texts, text)
	}
}

// key says what the lines are, and stage by stage what opens.
func (p *powerPicture) key() draw.Layer {
	const column = 91
	left, top := p.paper.Field().Min.X, p.paper.Block().Min.Y-54
	entries := []layout.Entry{
		layout.Shown(layout.Stroke(lastingPen, draw.Disc(draw.Copper, draw.Point{}, 1.2), draw.Disc(draw.Paper, draw.Point{}, 0.6)), "Power that lasts: no fuse surely opens within an hour. The ring is the most of it, also past fuses that are open."),
	}
	if slices.ContainsFunc(p.curve.Stages, func(s study.PowerStage) bool { return len(p.points(s, false)) > 1 }) {
		entries = append(entries, layout.Shown(layout.Stroke(endingPen), "Power until a fuse has surely opened."))
	}
	entries = append(entries, layout.Shown(layout.Stroke(classPen), "Power above which IEC 62368-1 calls a source PS2, then PS3."))
	if len(p.curve.Stages) > 1 && p.past() {
		entries = append(entries, layout.Shown(layout.Stroke(pastPen), "Power that lasts past the fuses that have opened."))
	}
	var notes []layout.Entry
	for _, s := range p.curve.Stages {
		notes = append(notes, layout.Noted(p.told(s)))
	}
	layer := draw.Layer{Name: "key"}
	layout.Key(&layer, draw.Point{X: left, Y: top}, keyWidth, 7.5, entries)
	const most = 5
	if len(notes) > most {
		notes = append(notes[:most-1], layout.Noted(fmt.Sprintf("%d more stages are drawn and not told.", len(notes)-most+1)))
	}
	layout.Key(&layer, draw.Point{X: left + column + 2, Y: top}, keyWidth, 7.5, notes)
	return layer
}

// past reports whether some power lasts once a fuse has opened.
func (p *powerPicture) past() bool {
	for _, s := range p.curve.Stages[1:] {
		if len(p.points(s, true)) > 1 {
			return true
		}
	}
	return false
}

// told is a stage in a sentence.
func (p *powerPicture) told(s study.PowerStage) string {
	begin := "With all fuses whole "
	switch {
	case len(p.curve.Near) == 0 && s.Guard == "":
		return "No fuse is on the way, and the fault goes on over any resistance."
	case len(s.Opened) > 0:
		begin = "Once " + study.Several(s.Opened) + opened(len(s.Opened)) + " "
	}
	if s.Guard == "" {
		return begin + "no resistance opens anything more."
	}
	for k := len(s.Spots) - 1; k >= 0; k-- {
		if spot := s.Spots[k]; spot.Lasts {
			return fmt.Sprintf("%s%s surely opens below %s, at %s through the fault and %s in it.", begin, s.Guard, layout.Quantity(spot.Ohms), layout.Quantity(spot.Amps), layout.Quantity(spot.Watts))
		}
	}
	return begin + s.Guard + " surely opens over any of these resistances."
}

func opened(n int) string {
	if n == 1 {
		return " has opened"
	}
	return " have opened"
}

// cells are the fields of the title block.
func (p *powerPicture) cells() []layout.Cell {
	between := "between the poles"
	if p.curve.Fault.Kind == network.ToMetal {
		between = "from plus to bonded metalwork"
	}
	return []layout.Cell{
		{Caption: "Place", Says: p.curve.Fault.At, Name: true, Share: 52},
		{Caption: "Fault", Says: between, Share: 62},
		{Caption: "Limited by", Says: p.curve.LimitedBy() + ", " + study.ConditionWords(p.curve.Case), Name: true, Share: 76},
	}
}

// described is the page in sentences.
func (p *powerPicture) described() string {
	c := p.curve
	say := []string{fmt.Sprintf("Power of a fault at %s over its resistance, %s. At most %v last, over %v: %v across it and %v through it, limited by %s.", c.Fault.At, study.ConditionWords(c.Case), c.Watts, c.Fault.Ohms, c.Volts, c.Amps, c.LimitedBy())}
	for _, s := range c.Stages {
		say = append(say, strings.ReplaceAll(p.told(s), layout.Thin, " "))
	}
	return strings.Join(say, " ")
}
