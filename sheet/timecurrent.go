package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/conductor"
	"farend/draw"
	"farend/fuse"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// TimeCurrent draws when the fuse of a way, or that of a cable, opens at which current, with the load that it carries and what
// the cables behind it stand.
//
// The fast edge of the fuse is that in the hottest air of the site, its slow edge that in the coldest; both are stairs, for only the
// gates of its curve are guaranteed. What a core stands in a short, k²S², is drawn from 0.1 s to 5 s (IEC 60364-4-43), for PVC of
// 70 °C alone. The cables are those from the way as far as the tape, through junctions and bridged ways, and not behind another fuse.
//
// The error is an *Error where there is no such way or cable, or nothing that says when its fuse opens.
func TimeCurrent(st *study.Study, id string) (draw.Scene, error) {
	g, err := guarding(st, id)
	if err != nil {
		return draw.Scene{}, err
	}
	p := newPicture(g)
	p.shade()
	p.curves()
	p.marks()
	p.name()
	return draw.Scene{
		Title: fmt.Sprintf("%s: time and current", id),
		Desc:  g.described(),
		Width: pageWidth, Height: pageHeight,
		Layers: []draw.Layer{
			p.shades, p.axes.grid(), p.hatches, p.lines, p.axes.scales(), p.labels,
			heading(id+": when its fuse opens, and what its cables stand", g.fuse.Title+" · "+titled(st.Scheme)),
			p.key(), block(p.cells(st.Scheme), g.rests()),
		},
	}, nil
}

// The plot of the page.
var plot = draw.Box{Min: draw.Point{X: 30, Y: 47}, Max: draw.Point{X: 194, Y: 187}}

// The pens of the picture: the fuse in ink, cables in graphite chain lines, load in copper.
var (
	slowPen     = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	fastPen     = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	estimatePen = draw.Pen{Tone: draw.Ink, Width: draw.Hair, Dash: []float64{1.2, 0.8}}
	shortPen    = draw.Pen{Tone: draw.Graphite, Width: draw.Thick, Dash: []float64{5, 1, 0.8, 1}}
	izPen       = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{6, 1, 0.8, 1}}
	iz145Pen    = draw.Pen{Tone: draw.Graphite, Width: draw.Thin, Dash: []float64{6, 1, 0.8, 1, 0.8, 1}}
	loadPen     = draw.Pen{Tone: draw.Copper, Width: draw.Thick}
	failedPen   = draw.Pen{Tone: draw.Copper, Width: draw.Thick, Dash: []float64{3, 1.2}}
)

// dots are the marks of gates: full on the slow edge, hollow on the fast one.
var (
	fullDot   = []draw.Path{draw.Disc(draw.Ink, draw.Point{}, 0.8)}
	hollowDot = []draw.Path{draw.Disc(draw.Ink, draw.Point{}, 0.8), draw.Disc(draw.Paper, draw.Point{}, 0.5)}
)

func hatching(polygon ...draw.Point) draw.Path {
	return draw.Hatch(draw.Pen{Tone: draw.Graphite, Width: draw.Hair}, 45, 1.2, polygon...)
}

// A picture is a time-current picture being drawn.
type picture struct {
	*guard
	axes                           axes
	desk                           desk
	shades, hatches, lines, labels draw.Layer
	slowStairs, fastStairs         []draw.Point
	flags                          []flag
}

// faint is the least current that is drawn.
const faint unit.Ampere = 1e-3

func newPicture(g *guard) *picture {
	p := &picture{guard: g, shades: draw.Layer{Name: "areas"}, hatches: draw.Layer{Name: "hatches"}, lines: draw.Layer{Name: "lines"}, labels: draw.Layer{Name: "labels"}}
	p.axes = newAxes(plot, p.currents()...)
	p.desk.room = plot.Grow(-1)
	p.slowStairs = p.stairs(g.slow, g.slow.Opens)
	p.fastStairs = p.stairs(g.fast, g.fast.Holds)
	return p
}

// currents is every current that the picture shows.
func (p *picture) currents() []float64 {
	currents := []float64{float64(p.load.amps), float64(p.failed.amps)}
	for i, v := range currents {
		if v < float64(faint) {
			currents[i] = 0 // not drawn
		}
	}
	for _, g := range p.curve.Gates {
		currents = append(currents, g.Multiple*float64(p.fast.Rating), g.Multiple*float64(p.slow.Rating))
	}
	if b, ok := p.thinnest(); ok {
		currents = append(currents, float64(b.iz), 1.45*float64(b.iz))
	}
	if _, stands, ok := p.weakest(); ok {
		currents = append(currents, math.Sqrt(float64(stands)/float64(conductor.AdiabaticTo)), math.Sqrt(float64(stands)/float64(conductor.AdiabaticFrom)))
	}
	return currents
}

// stairs is an edge of a band from the left of the plot to its right. It is the edge's own value between any two gates, so that
// nothing is drawn of which the band does not say it; Never lies on the upper edge of the plot, and 0 on the lower.
func (p *picture) stairs(b fuse.Band, edge func(unit.Ampere) unit.Second) []draw.Point {
	turns := []float64{math.Pow10(p.axes.amps[0])}
	for _, g := range p.curve.Gates {
		turns = append(turns, g.Multiple*float64(b.Rating))
	}
	turns = append(turns, math.Pow10(p.axes.amps[1]))
	var points []draw.Point
	for i := range turns[1:] {
		middle := math.Sqrt(turns[i] * turns[i+1])
		y := p.axes.y(math.Min(float64(edge(unit.Ampere(middle))), math.MaxFloat64))
		points = append(points, draw.Point{X: p.axes.x(turns[i]), Y: y}, draw.Point{X: p.axes.x(turns[i+1]), Y: y})
	}
	return points
}

// visible is stairs without what runs along the upper or the lower edge of the plot.
func visible(stairs []draw.Point) []draw.Point {
	for len(stairs) > 1 && stairs[0].Y == stairs[1].Y && stairs[0].Y <= plot.Min.Y {
		stairs = stairs[1:]
	}
	for n := len(stairs); n > 1 && stairs[n-1].Y == stairs[n-2].Y && (stairs[n-1].Y >= plot.Max.Y || stairs[n-1].Y <= plot.Min.Y); n = len(stairs) {
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
	points := []draw.Point{{X: right, Y: plot.Min.Y}, {X: left, Y: plot.Min.Y}}
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
	p.line(fastPen, visible(p.fastStairs)...)
	p.line(slowPen, visible(p.slowStairs)...)
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
		if last != nil {
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
	p.desk.under(points...)
}

// dot marks a gate, where it lies on the plot.
func (p *picture) dot(form []draw.Path, amps unit.Ampere, t unit.Second) {
	at := p.axes.beyond(amps, t)
	if !plot.Holds(draw.Box{Min: at, Max: at}) {
		return
	}
	for _, d := range form {
		p.lines.Paths = append(p.lines.Paths, moved(d, at.X, at.Y))
	}
	p.desk.taken = append(p.desk.taken, draw.Box{Min: at, Max: at}.Grow(0.8))
}

// marks plants the flags of load and limits.
func (p *picture) marks() {
	add := func(amps unit.Ampere, name string, pen draw.Pen) {
		if amps >= faint && !math.IsInf(float64(amps), 1) {
			p.flags = append(p.flags, flag{x: p.axes.x(float64(amps)), value: quantity(amps), name: name, pen: pen})
		}
	}
	add(p.load.amps, "load", loadPen)
	add(p.failed.amps, "load, cap failed", failedPen)
	if b, ok := p.thinnest(); ok {
		id := short(b.id)
		add(b.iz, "Iz of "+id, izPen)
		add(1.45*b.iz, "1.45 · Iz of "+id, iz145Pen)
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
	plant(p.flags, margin+2, frameRight-2)
	for _, f := range p.flags {
		f.draw(&p.labels, plot)
		p.desk.under(draw.Point{X: f.x, Y: plot.Max.Y}, draw.Point{X: f.x, Y: plot.Min.Y})
	}
}

// short is an identifier that is not too long for a label.
func short(id string) string { return fit(draw.Text{Size: 8}, id, 20) }

// name labels the strip, the edges, the estimate, the short and the two sides, the hardest to place first.
func (p *picture) name() {
	p.nameStrip()
	p.label(draw.Ink, "slow edge, "+nominal(p.cold), p.above(visible(p.slowStairs)))
	fast := "fast edge, " + nominal(p.hot)
	p.label(draw.Ink, fast, p.below(visible(p.fastStairs), draw.Text{Words: fast, Size: 8}.Width()))
	p.nameEstimate()
	p.nameShort()
	p.nameSides()
}

// label puts words on the desk, on ground of their own. It says nothing where there is no place to begin with.
func (p *picture) label(tone draw.Tone, words string, places []draw.Point) {
	if text, ok := p.desk.put(draw.Text{Words: words, Size: 8, Tone: tone}, places...); ok {
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
			places = append(places, draw.Point{X: a.X + 1.2, Y: a.Y - 1.6}, draw.Point{X: (a.X + b.X) / 2, Y: a.Y - 1.6})
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
	size := text.Size * 25.4 / 72
	var places []draw.Point
	for y := plot.Min.Y + text.Width() + 6; y < strip[2].Y-1; y += 4 {
		for _, u := range []float64{0.5, 0.25, 0.75} {
			if x := left + u*(right-left); x-size/2 >= left && x+size/2 <= right {
				places = append(places, draw.Point{X: x + 0.27*size, Y: y})
			}
		}
	}
	if places == nil {
		places = []draw.Point{{X: right + 3 + size, Y: plot.Min.Y + text.Width() + 6}}
	}
	text, ok := p.desk.put(text, places...)
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

// nameEstimate writes beside the middle of the lines between gates.
func (p *picture) nameEstimate() {
	var places []draw.Point
	width := draw.Text{Words: "estimate", Size: 8}.Width()
	for _, path := range p.lines.Paths {
		if path.Pen.Width != draw.Hair || path.Pen.Dash == nil {
			continue
		}
		a, b := path.Steps[0].To, path.Steps[1].To
		x, y := (a.X+b.X)/2, (a.Y+b.Y)/2
		places = append(places, draw.Point{X: x + 1.2, Y: y}, draw.Point{X: x - width - 1.2, Y: y + 2}, draw.Point{X: x + 0.8, Y: y - 2})
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
	for _, u := range []float64{0.15, 0.3, 0.5, 0.7, 0.85} {
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
		outline := draw.Text{Words: side.words, Size: 8}.Box().Grow(gap)
		var places []draw.Point
		for y := plot.Min.Y + 6; y < plot.Max.Y; y += 4 {
			for x := plot.Min.X + 2; x < plot.Max.X; x += 4 {
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
func over(stairs []draw.Point, box draw.Box) bool  { return box.Max.Y < level(stairs, box.Min.X) }

// level is where stairs are above a place.
func level(stairs []draw.Point, x float64) float64 {
	for i := 0; i+1 < len(stairs); i += 2 {
		if x <= stairs[i+1].X {
			return stairs[i].Y
		}
	}
	return stairs[len(stairs)-1].Y
}

// key says what everything is, and how it is read.
func (p *picture) key() draw.Layer {
	layer := draw.Layer{Name: "key"}
	const top, column = 204, 91
	key(&layer, draw.Point{X: margin + padding, Y: top}, column-2, p.fuseEntries())
	key(&layer, draw.Point{X: margin + padding + column + 2, Y: top}, column-2, p.loadEntries())
	return layer
}

func (p *picture) fuseEntries() []entry {
	entries := []entry{
		{stroke(slowPen, fullDot...), fmt.Sprintf("Slow edge, in air of %s (rating %s): above and right of it the fuse has surely opened.", nominal(p.cold), nominal(p.slow.Rating))},
		{stroke(fastPen, hollowDot...), fmt.Sprintf("Fast edge, in air of %s (rating %s): below and left of it the fuse surely holds.", nominal(p.hot), nominal(p.fast.Rating))},
		{patch(false), "Between them it opens sooner or later. Only the gates (dots) are guaranteed, so the edges are stairs."},
	}
	if !slices.ContainsFunc(p.curve.Gates, func(g parts.Gate) bool { return g.Max.Given }) {
		entries[0] = entry{nil, "Its gates do not say that it ever opens, so it has no slow edge."}
	}
	if !slices.ContainsFunc(p.curve.Gates, func(g parts.Gate) bool { return g.Min.Is > 0 }) {
		entries[1] = entry{nil, "Its gates do not say that it holds at all, so it has no fast edge."}
	}
	if p.strip() != nil {
		entries = append(entries, entry{patch(true), "It may open, or hold for ever: " + p.undecided() + "."})
	}
	entries = append(entries, entry{stroke(estimatePen), "Estimate: straight between gates. No verdict rests on it."})
	notes := []string{"The fuse is cold at the start; warm from its load it opens sooner."}
	switch {
	case len(p.curve.Derating) == 0:
		notes = append(notes, "Its curve does not say what air does to its rating.")
	case !p.derated:
		notes = append(notes, "Air this warm is beyond what its curve speaks of: it then holds less than drawn.")
	}
	return append(entries, entry{nil, strings.Join(notes, " ")})
}

// undecided is the range of currents that may last for ever or not.
func (p *picture) undecided() string {
	from, to := p.fast.Carries(), p.slow.Threshold()
	switch {
	case from <= 0 && math.IsInf(float64(to), 1):
		return "at every current, as far as its gates say"
	case from <= 0:
		return "up to " + quantity(to)
	case math.IsInf(float64(to), 1):
		return "from " + quantity(from) + " on"
	}
	return "from " + quantity(from) + " to " + quantity(to)
}

func (p *picture) loadEntries() []entry {
	entries := []entry{
		p.loadEntry(loadPen, p.load, "Load in "+study.CaseWords(p.load.in)+", the heaviest: left of the strip, and by rule at most 75"+thin+"% of the rating.", "The load"),
		p.loadEntry(failedPen, p.failed, "Load with the cap failed: every channel full on.", "With the cap failed the load"),
	}
	if b, ok := p.thinnest(); ok {
		entries = append(entries,
			entry{stroke(izPen), fmt.Sprintf("Iz: what %s may carry for ever %s, in air of %s%s.", short(b.id), methods[b.method], nominal(b.air), bundled(b))},
			entry{stroke(iz145Pen), "1.45 · Iz: the strip must end left of it (I2 ≤ 1.45 · Iz, IEC 60364-4-43 433.1)."})
	} else {
		entries = append(entries, entry{nil, p.noLimit()})
	}
	if b, stands, ok := p.weakest(); ok {
		entries = append(entries, entry{stroke(shortPen), fmt.Sprintf("k²S² = %s: what one core of %s, %s of copper in PVC, stands in a short of 0.1%ss to 5%ss. The slow edge must lie left of it.", rounded(stands), short(b.id), nominal(b.part.Area.Is), thin, thin)})
	}
	if not := p.notDrawn(); not != "" {
		entries = append(entries, entry{nil, not})
	}
	return entries
}

func (p *picture) loadEntry(pen draw.Pen, l load, words, subject string) entry {
	switch {
	case !l.found:
		return entry{nil, subject + " is not drawn, for there is no operating point."}
	case l.amps < faint:
		return entry{nil, subject + " is less than " + nominal(faint) + ", and not drawn."}
	}
	return entry{stroke(pen), words}
}

var methods = map[scheme.Method]string{scheme.Conduit: "in conduit", scheme.Surface: "on a surface", scheme.Free: "in free air"}

func bundled(b branch) string {
	if b.bundle < 2 {
		return ""
	}
	return fmt.Sprintf(", with %d circuits in all", b.bundle)
}

// noLimit says why there is no Iz.
func (g *guard) noLimit() string {
	if len(g.branches) == 0 {
		return "No cable hangs on it, so no limit of a cable is drawn."
	}
	return "What its cables may carry is not known, or nothing in air this warm; so no Iz is drawn."
}

// notDrawn names the cables whose k²S² is not known, and why.
func (g *guard) notDrawn() string {
	var open, other []string
	for _, b := range g.branches {
		if b.part == nil {
			open = append(open, b.id)
		} else if _, known := conductor.Withstand(b.part.Insulation.Is, b.part.Area.Is); !known {
			other = append(other, fmt.Sprintf("%s (%s)", b.id, nominal(b.part.Insulation.Is)))
		}
	}
	text := ""
	if other != nil {
		text = "k²S² is not drawn for " + some(other) + ": k = 115 is for PVC of " + nominal(unit.Celsius(70)) + "."
	}
	if open != nil {
		text += " Not chosen yet, so not drawn: " + some(open) + "."
	}
	return strings.TrimSpace(text)
}

// some lists the first of several.
func some(names []string) string {
	const most = 3
	list := strings.Join(names[:min(len(names), most)], ", ")
	if more := len(names) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return list
}
