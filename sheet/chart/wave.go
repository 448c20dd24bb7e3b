package chart

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// Wave draws what becomes of the pulses of a data lead: a 0, a 1 and a 0 at its end, and below them the first edge by itself. It is not ok where
// there is nothing to draw.
func Wave(st *study.Study, lead string, style drafting.Style) (layout.Leaf, bool) {
	paper := style.Texts
	e, ok := st.Edge(lead)
	list := st.Waveforms(lead)
	if !ok || !e.Asked() || len(list) == 0 {
		return layout.Leaf{}, false
	}
	p := wavePicture{st: st, sheet: paper, edge: e, lines: draw.Layer{Name: "lines"}, labels: draw.Layer{Name: "labels"}}
	for _, w := range list { // of the slice in which a high level has least to spare
		if w.In == list[0].In && w.Supply == list[0].Supply {
			p.shown = append(p.shown, w)
		}
	}
	last := p.shown[0]
	whole, first := wavePlots(paper)
	p.whole = p.paper(whole, float64(len(last.Wave.Far))*last.Wave.Step)
	p.first = p.paper(first, min(10*p.along()+40e-9, 280e-9))
	for _, paper := range []linear{p.whole, p.first} {
		p.thresholds(paper)
		for _, kind := range []waveKind{diodeWave, strongWave, weakWave} {
			p.courses(paper, kind)
		}
	}
	title := fmt.Sprintf("%s: what becomes of its pulses", lead)
	return layout.Leaf{
		Name: "wave-" + lead, Outline: lead + ": pulses",
		Title: title, Verdict: p.verdict(), Desc: p.described(),
		Paper: paper, Cells: p.cells(), Notes: waveRests,
		Layers: []draw.Layer{
			p.whole.grid("grid"), p.first.grid("grid-first"), p.lines, p.whole.scales("axes", "time"), p.first.scales("axes-first", "time, from when the sender begins to move"), p.labels, p.key(),
		},
	}, true
}

// wavePlots are the two plots of the page, one below the other, with room for words to their right.
func wavePlots(paper layout.Paper) (whole, first draw.Box) {
	const between = 18
	both := plotted(paper, 34, 64)
	both.Max.X -= 22
	whole, first = both, both
	whole.Max.Y = both.Min.Y + (both.Height()-between)*70/134 // the upper a little higher
	first.Min.Y = whole.Max.Y + between
	return whole, first
}

// waveRests is on what the page rests.
const waveRests = "Travelling waves on one even pair, after Bergeron and Dommel; modelled, not measured. Strong: driver, resistor and rise at the lower ends of their spreads, an input with all its capacitance. " +
	"Weak: at the upper ends, likewise. Each with wave impedance and delay at both ends of their spreads. Diodes of the input: 0.7 V and 25 Ω, from memory."

// A waveKind is which of the corners a line is of.
type waveKind int

const (
	weakWave waveKind = iota
	strongWave
	diodeWave
)

func kindOf(w study.Waveform) waveKind {
	switch {
	case w.Clamped:
		return diodeWave
	case w.Strong:
		return strongWave
	}
	return weakWave
}

// pen is with what it is drawn.
func (k waveKind) pen() draw.Pen {
	return [...]draw.Pen{
		{Tone: draw.Ink, Width: draw.Thin},
		{Tone: draw.Copper, Width: draw.Thick},
		{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{1.6, 1}},
	}[k]
}

// A wavePicture is such a page being drawn.
type wavePicture struct {
	st            *study.Study
	sheet         layout.Paper
	edge          study.Edge
	shown         []study.Waveform
	whole, first  linear
	lines, labels draw.Layer
}

// along is how long a wave takes along the lead, in seconds.
func (p *wavePicture) along() float64 {
	return float64(p.edge.Drive.Length) * float64(p.cable().Delay.Upper())
}

func (p *wavePicture) cable() *parts.Cable {
	cable, _ := parts.Get[parts.Cable](p.st.Scheme.Library, p.st.Scheme.Data[p.edge.Lead].Part)
	return cable
}

// paper is the paper of a plot over a time: whole volts from the lowest of what is drawn to the highest.
func (p *wavePicture) paper(plot draw.Box, until float64) linear {
	low, high := 0.0, float64(p.shown[0].Supply)
	for _, w := range p.shown {
		for k, v := range w.Wave.Far {
			if float64(k)*w.Wave.Step > until {
				break
			}
			low, high = min(low, v), max(high, v)
		}
	}
	return linear{plot, until, math.Floor(low), math.Ceil(high)}
}

// thresholds are what the input asks for, and its supply, with their names to the right of the plot.
func (p *wavePicture) thresholds(a linear) {
	w := p.shown[0]
	type level struct {
		volts unit.Volt
		words string
	}
	list := []level{{w.Supply, "its logic "}, {w.High, "surely high "}, {w.Low, "surely low "}}
	slices.SortStableFunc(list, func(a, b level) int { return cmp.Compare(b.volts, a.volts) })
	lowest := math.Inf(-1)
	for _, l := range list {
		y := a.y(float64(l.volts))
		p.lines.Paths = append(p.lines.Paths, draw.Line(classPen, draw.Point{X: a.plot.Min.X, Y: y}, draw.Point{X: a.plot.Max.X, Y: y}))
		const apart = 3.4 // mm, from one name to the next
		lowest = max(y+0.9, lowest+apart)
		p.labels.Texts = append(p.labels.Texts, draw.Text{Words: l.words + layout.Quantity(l.volts), Size: draw.Smallest, Tone: draw.Graphite, At: draw.Point{X: a.plot.Max.X + 1.2, Y: lowest}})
	}
}

// courses draws all waves of a kind.
func (p *wavePicture) courses(a linear, kind waveKind) {
	for _, w := range p.shown {
		if kindOf(w) != kind {
			continue
		}
		var points []draw.Point
		for k, v := range w.Wave.Far {
			if at := float64(k) * w.Wave.Step; at <= a.until {
				points = append(points, draw.Point{X: a.x(at), Y: a.y(v)})
			}
		}
		const fine = 0.03 // mm: less than half of the thinnest line
		p.lines.Paths = append(p.lines.Paths, draw.Line(kind.pen(), drafting.Simplified(points, fine)...))
	}
}

// verdict says whether the data arrives.
func (p *wavePicture) verdict() string {
	switch p.edge.Grade() {
	case finding.Pass, finding.Note:
		return "Every pulse arrives as " + p.edge.To + " asks for it"
	case finding.Tight:
		return "Pulses arrive at " + p.edge.To + ", with little to spare"
	}
	return "Pulses do not arrive at " + p.edge.To + " as it asks for them"
}

// key says what the lines are, and what was found.
func (p *wavePicture) key() draw.Layer {
	const column = 91
	left, top := p.sheet.Field().Min.X, p.sheet.Block().Min.Y-47
	layer := draw.Layer{Name: "key"}
	layout.Key(&layer, draw.Point{X: left, Y: top}, keyWidth, 7.5, []layout.Entry{
		layout.Shown(layout.Stroke(strongWave.pen()), "Strong: at "+p.edge.To+", driven as hard and fast as it may be."),
		layout.Shown(layout.Stroke(weakWave.pen()), "Weak: driven as weakly and slowly as it may be."),
		layout.Shown(layout.Stroke(diodeWave.pen()), "Strong, with the clamp diodes of the input."),
		layout.Shown(layout.Stroke(classPen), "What the input asks for, in "+study.CaseWords(p.shown[0].In)+"."),
	})
	var notes []layout.Entry
	for _, text := range p.told() {
		notes = append(notes, layout.Noted(text))
	}
	layout.Key(&layer, draw.Point{X: left + column + 2, Y: top}, keyWidth, 7.5, notes)
	return layer
}

// told is what was found, in sentences.
func (p *wavePicture) told() (list []string) {
	e := p.edge
	sound := e.High.Room(true) >= 0 && e.Low.Room(false) >= 0
	for _, q := range e.Pulses {
		what := "A " + q.Bit + " is " + q.Level
		switch {
		case q.Pause || !sound:
			continue
		case !q.Arrives():
			list = append(list, fmt.Sprintf("%s for %s, and does not arrive whole.", what, layout.Quantity(q.Sent)))
			continue
		}
		list = append(list, fmt.Sprintf("%s for %s, and arrives as %s to %s.", what, layout.Quantity(q.Sent), layout.Quantity(q.Shortest), layout.Quantity(q.Longest)))
	}
	if !sound {
		list = append(list, "A level crosses its threshold more than once, or never: no pulse arrives whole.")
	}
	list = append(list, fmt.Sprintf("A high level %s, a low one %s; diodes take %s at most.", swung(e.High), swung(e.Low), layout.Quantity(max(e.Over.Amps(), e.Under.Amps()))))
	now := p.st.Wired(e.Lead)
	longest := p.st.LongestLead(e.Lead, now)
	switch {
	case longest >= study.PairFrom && e.Drive.Length > study.PairFrom:
		list = append(list, fmt.Sprintf("Driven so, no length that was tried up to %s fails; this one is longer, and wants a differential pair.", layout.Nominal(longest)))
	case longest >= study.PairFrom:
		list = append(list, fmt.Sprintf("Driven so, no length that was tried up to %s fails; longer ones want a differential pair.", layout.Nominal(longest)))
	case longest > 0:
		list = append(list, fmt.Sprintf("Driven so, it may be %s long: no shorter one that was tried fails.", layout.Quantity(longest)))
	default:
		list = append(list, "Driven so, not even a short one is sound.")
	}
	if match := p.st.Matching(e.Lead, now); len(match) > 0 {
		own := e.Drive.Driver.Is + e.Drive.Inside.Is
		switch {
		case own > p.cable().Z0.Upper():
			list = append(list, fmt.Sprintf("What drives it, %s, is more than its wave impedance of %s: it comes in stairs.", layout.Nominal(own), layout.Nominal(p.cable().Z0.Is)))
		case match[0] == 0:
			list = append(list, fmt.Sprintf("What drives it, %s without the lead's own resistor, matches it best as it is.", layout.Nominal(own)))
		case match[0] == e.Drive.Added:
			list = append(list, fmt.Sprintf("With what drives it, %s, the resistor of %s in the lead matches it best.", layout.Nominal(own), layout.Nominal(match[0])))
		default:
			list = append(list, fmt.Sprintf("With what drives it, %s, a resistor of %s in the lead would match it best.", layout.Nominal(own), layout.Nominal(match[0])))
		}
	}
	return list
}

// swung is what is left of a level.
func swung(s study.Swing) string {
	if s.Fell {
		return "comes back to " + layout.Quantity(s.Volts) + " after its first peak"
	}
	return "comes to " + layout.Quantity(s.Volts) + " without swinging back"
}

// cells are the fields of the title block.
func (p *wavePicture) cells() []layout.Cell {
	s, e := p.st.Scheme, p.edge
	drive := layout.Nominal(e.Drive.Driver.Is+e.Drive.Inside.Is+e.Drive.Added) + " in " + layout.Nominal(e.Drive.Rise.Is)
	return []layout.Cell{
		{Caption: "Data lead", Says: e.Lead + ", " + layout.Nominal(e.Drive.Length), Name: true, Share: 52},
		{Caption: "Cable", Says: s.Data[e.Lead].Part, Name: true, Share: 62},
		{Caption: "Driven by", Says: p.driver() + ", " + drive, Name: true, Share: 76},
	}
}

// driver is what drives the lead, and where: a buffer where it begins, else the port.
func (p *wavePicture) driver() string {
	lead := p.st.Scheme.Data[p.edge.Lead]
	if lead.Buffer != nil && lead.Buffer.At == scheme.FromEnd {
		return drafting.BufferName(p.st.Scheme, lead.Buffer) + " at " + lead.From.String()
	}
	return lead.From.String()
}

// described is the page in sentences.
func (p *wavePicture) described() string {
	return strings.ReplaceAll(fmt.Sprintf("Voltage at %s over time, of a 0, a 1 and a 0 that %s sends along %s. %s. %s", p.edge.To, p.driver(), p.edge.Lead, p.verdict(), strings.Join(p.told(), " ")), layout.Thin, " ")
}

// linear is the paper of a voltage over time.
type linear struct {
	plot      draw.Box
	until     float64 // s
	low, high float64 // V, whole
}

func (a linear) x(seconds float64) float64 { return a.plot.Min.X + a.plot.Width()*seconds/a.until }

func (a linear) y(volts float64) float64 {
	return a.plot.Max.Y - a.plot.Height()*(volts-a.low)/(a.high-a.low)
}

// step is from one number of the time to the next: 1, 2 or 5 of a power of ten, no more than eight of them.
func (a linear) step() float64 {
	const most = 8
	for power := math.Pow10(int(math.Floor(math.Log10(a.until / most)))); ; power *= 10 {
		for _, n := range []float64{1, 2, 5} {
			if n*power*most >= a.until {
				return n * power
			}
		}
	}
}

// grid is the lines at every number.
func (a linear) grid(name string) draw.Layer {
	layer := draw.Layer{Name: name}
	pen := draw.Pen{Tone: draw.Rule, Width: draw.Thin}
	for t := a.step(); t < a.until; t += a.step() {
		layer.Paths = append(layer.Paths, draw.Line(pen, draw.Point{X: a.x(t), Y: a.plot.Min.Y}, draw.Point{X: a.x(t), Y: a.plot.Max.Y}))
	}
	for v := a.low + 1; v < a.high; v++ {
		layer.Paths = append(layer.Paths, draw.Line(pen, draw.Point{X: a.plot.Min.X, Y: a.y(v)}, draw.Point{X: a.plot.Max.X, Y: a.y(v)}))
	}
	return layer
}

// scales are the frame, the numbers, and what they count.
func (a linear) scales(name, across string) draw.Layer {
	layer := draw.Layer{Name: name, Paths: []draw.Path{draw.Area(draw.None, draw.Pen{Tone: draw.Ink, Width: draw.Thin}, a.plot.Corners()...)}}
	number := draw.Text{Size: 8, Tone: draw.Ink, Anchor: draw.Middle}
	for k := 0; float64(k)*a.step() < a.until*0.99; k++ {
		t := float64(k) * a.step()
		number.At, number.Words = draw.Point{X: a.x(t), Y: a.plot.Max.Y + 4.4}, layout.Nominal(unit.Second(t))
		layer.Texts = append(layer.Texts, number)
	}
	number.Anchor = draw.End
	for v := a.low; v <= a.high; v++ {
		number.At, number.Words = draw.Point{X: a.plot.Min.X - 1.6, Y: a.y(v) + 1}, layout.Nominal(unit.Volt(v))
		layer.Texts = append(layer.Texts, number)
	}
	words := draw.Text{Size: 8, Tone: draw.Graphite, Anchor: draw.Middle, Words: across, At: draw.Point{X: (a.plot.Min.X + a.plot.Max.X) / 2, Y: a.plot.Max.Y + 8.8}}
	layer.Texts = append(layer.Texts, words)
	words.Words, words.Turn = "voltage at the input", 90
	words.At = draw.Point{X: a.plot.Min.X - 13.6, Y: (a.plot.Min.Y + a.plot.Max.Y) / 2}
	layer.Texts = append(layer.Texts, words)
	return layer
}
