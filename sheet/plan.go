package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/study"
)

// Plan draws where everything goes, to a standard scale: runs as they are drawn, with which way their data goes, where their rails are cut and
// where cables land; things at their places; cables and leads on their routes, or straight where these are not drawn. What has no room to
// be lettered is shown once more on further sheets, at a larger scale; what has no place is arranged, and the page says so.
//
// It reads the scheme of the study alone.
func Plan(st *study.Study, style Style) []layout.Leaf {
	p := plan{paper: style.Drawings.Turned(), m: newPlanned(st.Scheme)}
	p.draw()
	if few := p.unsaid(); len(few) > 0 && len(few) <= fewUnsaid {
		p = plan{paper: p.paper, m: p.m, noted: few}
		p.draw()
	}
	p.rest()
	for i := range p.leaves {
		if i > 0 {
			p.leaves[i].Name = fmt.Sprintf("plan-%d", i+1)
		}
	}
	return p.leaves
}

// fewUnsaid is up to how many things that have no room to be lettered are told in the key.
const fewUnsaid = 6

// draw draws all sheets of figures.
func (p *plan) draw() {
	p.begin()
	p.details()
	p.arrangements()
}

// A plan is the sheets of a plan being drawn.
type plan struct {
	paper  layout.Paper
	m      planned
	leaves []layout.Leaf

	whole  composition
	later  []arrangement // further sheets of what is arranged
	main   figure
	band   keyBand
	said   map[string]bool // what is lettered on some sheet
	failed []letter        // what is not
	noted  []string        // what the key tells, for want of room
}

// bounds are the margins that a drawing keeps for dimensions and labels, within its area.
func bounds(area draw.Box) draw.Box {
	wide, high := min(26, 0.09*area.Width()), min(24, 0.15*area.Height())
	return draw.Box{
		Min: draw.Point{X: area.Min.X + wide, Y: area.Min.Y + 0.65*high},
		Max: draw.Point{X: area.Max.X - 0.65*wide, Y: area.Max.Y - high},
	}
}

// begin chooses what comes on the first sheet, its scale, and where its key stands: below or to the right, where the scale is larger.
func (p *plan) begin() {
	rest := p.m.unplaced(p.m.undrawn())
	drawn := len(p.m.drawnAt()) > 0
	p.whole = composition{m: p.m, drawn: drawn, rest: rest}
	entries := p.entries()
	below, beside := keyBelow(p.paper.Field(), entries), keyBeside(p.paper.Field(), entries)
	p.band = below
	scale, ok := p.whole.scale(bounds(below.area))
	if other, fits := p.whole.scale(bounds(beside.area)); beside.fits && fits && (!ok || other < scale) {
		p.band, scale, ok = beside, other, true
	}
	if drawn {
		alone := composition{m: p.m, drawn: true}
		if own, _ := alone.scale(bounds(p.band.area)); len(rest.runs)+len(rest.spots) > 0 && (!ok || scale > 2*own) {
			p.whole, scale, ok = alone, own, true
			p.later = p.divided(rest)
		}
	} else if least := leastLong(rest.runs); !ok || least > 0 && least*1000/scale < 60 {
		p.later = p.divided(rest)
		p.whole.rest, p.later = p.later[0], p.later[1:]
		scale, _ = p.whole.scale(bounds(p.band.area))
	}
	p.main = p.whole.compose(scale, bounds(p.band.area), p.band.area)
	p.said = map[string]bool{}
}

// leastLong is the length of the longest run, in metres.
func leastLong(runs []plannedRun) (longest float64) {
	for _, r := range runs {
		longest = max(longest, r.metres)
	}
	return longest
}

// divided deals what is arranged to sheets, at the scale at which the longest of its runs is still of some length.
func (p *plan) divided(a arrangement) (list []arrangement) {
	room := bounds(p.band.area)
	scale := 1.0
	for _, s := range layout.Scales() {
		scale = s
		if long := leastLong(a.runs) * 1000 / s; long+besideRun <= room.Width() && long <= 120 {
			break
		}
	}
	next := arrangement{spots: a.spots}
	for len(next.spots) > 0 {
		if _, _, size, _ := next.flow(1000/scale, room.Width()); size.Y <= room.Height() {
			break
		}
		n := len(next.spots)
		for ; n > 1; n-- {
			if _, _, size, _ := (arrangement{spots: next.spots[:n]}).flow(1000/scale, room.Width()); size.Y <= room.Height() {
				break
			}
		}
		list = append(list, arrangement{spots: next.spots[:n]})
		next.spots = next.spots[n:]
	}
	for _, r := range a.runs {
		more := arrangement{spots: next.spots, runs: append(slices.Clone(next.runs), r)}
		if _, _, size, _ := more.flow(1000/scale, room.Width()); size.Y > room.Height() && len(next.runs)+len(next.spots) > 0 {
			list = append(list, next)
			more = arrangement{runs: []plannedRun{r}}
		}
		next = more
	}
	return append(list, next)
}

// A detail is a piece of the first sheet that is shown once more, larger.
type detail struct {
	frame  draw.Box
	scale  float64
	figure figure
}

// details draws the first sheet, and what of it needs a larger scale.
func (p *plan) details() {
	first := p.lettered(&p.main, nil, nil)
	details := p.enlarged(first.failed)
	var leaves []layout.Leaf
	elsewhere := map[string]bool{}
	var frames []letter
	for i, d := range details {
		name := fmt.Sprintf("plan-%d", i+2)
		words := fmt.Sprintf("%s, %s", name, layout.ScaleWords(d.scale))
		l := p.lettered(&d.figure, nil, nil)
		l.again(&l.canvas)
		for key := range l.done {
			p.said[key] = true
			if kind, _, _ := strings.Cut(key, ":"); kind == "mark" || kind == "link" || kind == "spot-label" {
				elsewhere[key] = true
			}
		}
		text := detailText
		text.Words = words
		b := d.frame
		frames = append(frames, letter{key: "frame:" + name, text: text, beside: []draw.Point{{X: (b.Min.X + b.Max.X) / 2, Y: b.Max.Y}, {X: (b.Min.X + b.Max.X) / 2, Y: b.Min.Y}, {X: b.Max.X, Y: (b.Min.Y + b.Max.Y) / 2}, {X: b.Min.X, Y: (b.Min.Y + b.Max.Y) / 2}, b.Min, b.Max}, told: "the frame of " + words})
		leaves = append(leaves, p.leaf(&d.figure, l, "A closer look", fmt.Sprintf("What is framed on the plan, %s rather than %s", layout.ScaleWords(d.scale), layout.ScaleWords(p.main.scale)), nil))
	}
	if len(details) > 0 { // what is not lettered elsewhere has more room now
		for _, f := range first.failed {
			if p.said[f.key] {
				elsewhere[f.key] = true
			}
		}
		first = p.lettered(&p.main, elsewhere, frames)
		for _, d := range details {
			first.canvas.frames.Paths = append(first.canvas.frames.Paths, draw.Area(draw.None, detailPen, d.frame.Corners()...))
		}
	}
	first.again(&first.canvas)
	for key := range first.done {
		p.said[key] = true
	}
	p.failed = first.failed
	title := "Where everything goes"
	p.leaves = append([]layout.Leaf{p.leaf(&p.main, first, title, p.counted(), p.entries())}, leaves...)
	for i, d := range details {
		p.leaves[0].Links = append(p.leaves[0].Links, draw.Link{Box: d.frame, To: fmt.Sprintf("plan-%d", i+2)})
	}
}

// A page is a figure that is painted and lettered.
type page struct {
	lettering
	canvas canvas
}

// lettered paints and letters a figure.
func (p *plan) lettered(f *figure, elsewhere map[string]bool, first []letter) page {
	g := page{lettering: lettering{f: f, desk: layout.Desk{Room: f.room.Grow(-0.5)}, done: map[string]bool{}}, canvas: newCanvas()}
	f.paint(&g.canvas)
	f.under(&g.desk)
	for _, s := range f.spots {
		if s.named() {
			g.done["spot:"+s.id] = true
		}
	}
	if f.arranged != nil {
		text := draw.Text{Face: draw.SemiBold, Size: 8, Tone: draw.Graphite, Words: "arranged, not surveyed: in rows, lengths to scale"}
		text.At = draw.Point{X: f.arranged.Min.X, Y: f.arranged.Min.Y + 3}
		g.canvas.labels.Texts = append(g.canvas.labels.Texts, text)
		g.desk.Taken = append(g.desk.Taken, text.Box())
		if p.whole.drawn && f == &p.main {
			rule := draw.Line(leaderPen, draw.Point{X: f.room.Min.X, Y: f.arranged.Min.Y - 2}, draw.Point{X: f.room.Max.X, Y: f.arranged.Min.Y - 2})
			g.canvas.frames.Paths = append(g.canvas.frames.Paths, rule)
			g.desk.Under(rule.Steps[0].To, rule.Steps[1].To)
		}
	}
	g.put(&g.canvas, first, nil)
	names := f.names()
	runs := slices.IndexFunc(names, func(l letter) bool { return !strings.HasPrefix(l.key, "run:") })
	if runs < 0 {
		runs = len(names)
	}
	g.put(&g.canvas, names[:runs], elsewhere)
	dimensioned := f.dimension(&g.canvas.dimensions, &g.desk)
	g.put(&g.canvas, names[runs:], elsewhere)
	if f.window != nil {
		dimensioned = nil
	}
	g.put(&g.canvas, f.markNames(dimensioned), elsewhere)
	g.put(&g.canvas, f.linkNames(), elsewhere)
	return g
}

// enlarged are the details that what has no room needs: pieces of the first sheet that are near each other there, where a scale of twice its
// own still fits on a sheet.
func (p *plan) enlarged(failed []letter) (list []detail) {
	const near, most = 24.0, 8
	const wide, high = 34.0, 24.0 // about a detail, in millimetres of its own paper
	type piece struct {
		on        draw.Box // the first sheet
		low, high [2]float64
	}
	var pieces []piece
	for _, l := range failed {
		if len(l.world) == 0 {
			continue
		}
		low, high := extent(l.world)
		pieces = append(pieces, piece{p.main.places(l.world).box(), low, high})
	}
	for merged := true; merged; {
		merged = false
		for i := 0; i < len(pieces) && !merged; i++ {
			for j := i + 1; j < len(pieces); j++ {
				a, b := pieces[i], pieces[j]
				if a.on.Grow(near).Meets(b.on) || a.on.Grow(near).Holds(b.on) {
					low, high := extent([][2]float64{a.low, a.high, b.low, b.high})
					pieces[i] = piece{joined(a.on, b.on), low, high}
					pieces = slices.Delete(pieces, j, j+1)
					merged = true
					break
				}
			}
		}
	}
	field := p.paper.Field()
	area := draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: field.Max.Y - detailBand}}
	room := area.Grow(-4)
	for _, c := range pieces {
		for _, scale := range layout.Scales() {
			k := 1000 / scale
			if p.main.scale/scale < 2-1e-9 || len(list) == most {
				break
			}
			if (c.high[0]-c.low[0])*k+2*wide > room.Width() || (c.high[1]-c.low[1])*k+2*high > room.Height() {
				continue
			}
			low := [2]float64{c.low[0] - wide/k, c.low[1] - high/k}
			top := [2]float64{c.high[0] + wide/k, c.high[1] + high/k}
			frame := p.main.places([][2]float64{low, top}).box()
			const least = 3.0 // of the frame on the first sheet, or nobody sees it
			if frame.Width() < least || frame.Height() < least {
				frame = frame.Grow(least / 2)
			}
			list = append(list, detail{frame, scale, p.whole.enlarge(low, top, scale, area)})
			break
		}
	}
	return list
}

// detailBand is the room for the scale bar under what has no key of its own.
const detailBand = 10.0

// arrangements draws the further sheets of what is arranged.
func (p *plan) arrangements() {
	field := p.paper.Field()
	area := draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: field.Max.Y - detailBand}}
	for _, a := range p.later {
		c := composition{m: p.m, rest: a}
		scale, ok := c.scale(bounds(area))
		if !ok {
			continue // what is not lettered is listed
		}
		f := c.compose(scale, bounds(area), area)
		l := p.lettered(&f, nil, nil)
		l.again(&l.canvas)
		for key := range l.done {
			p.said[key] = true
		}
		p.failed = append(p.failed, l.failed...)
		p.leaves = append(p.leaves, p.leaf(&f, l, "What has no place yet", "Arranged in rows, not surveyed; lengths to scale", nil))
	}
}

// leaf makes a sheet of a figure, with its scale bar, and with a key where there are entries.
func (p *plan) leaf(f *figure, g page, title, under string, entries []layout.Entry) layout.Leaf {
	scale := draw.Layer{Name: "scale"}
	layers := append(g.canvas.layers(), draw.Layer{})
	field := p.paper.Field()
	corner := draw.Point{X: field.Min.X, Y: field.Max.Y - 4}
	if entries != nil {
		key := draw.Layer{Name: "key"}
		p.band.draw(&key, entries)
		layers[len(layers)-1] = key
		corner = p.band.bar
	} else {
		layers = layers[:len(layers)-1]
		if f.window != nil {
			scale.Paths = append(scale.Paths, draw.Area(draw.None, detailPen, f.window.Corners()...))
		}
	}
	bar := layout.Bar(&scale, corner, f.scale, barLong)
	words := draw.Text{Words: layout.ScaleWords(f.scale) + " on " + p.paper.Name, Face: draw.SemiBold, Size: 7.5, Tone: draw.Ink, At: draw.Point{X: bar.Max.X + 3, Y: corner.Y}}
	if words.Box().Max.X > field.Max.X { // above a bar that takes all the width
		words.At = draw.Point{X: corner.X, Y: corner.Y - 3.4}
	}
	scale.Texts = append(scale.Texts, words)
	layers = append(layers, scale)
	leaf := layout.Leaf{
		Name: "plan", Outline: "Plan", Title: title, Under: under, Desc: p.described(f, title, under),
		Paper: p.paper, Scale: f.scale, Cells: p.cells(f), Notes: planRests, Layers: layers,
	}
	if len(p.leaves) > 0 || entries == nil {
		leaf.Outline, leaf.Level = title, 1
	}
	return leaf
}

// barLong is the most that a scale bar may take, in millimetres.
const barLong = 52.0

// planRests is on what the page rests.
const planRests = "Places, lines and routes are those of the scheme's drawing: they are as good as whoever drew them, and nothing here was measured on site. Check on site before cutting or drilling. " +
	"Symbols are of one size at every scale; their middle, or the dot that a line leads to, is the place. To scale when printed at 100 %: measure the scale bar."

func (p *plan) cells(f *figure) []layout.Cell {
	place := "as drawn in the scheme"
	switch {
	case !p.whole.drawn || f.origin == (draw.Point{}):
		place = "arranged, not surveyed"
	case f.arranged != nil:
		place = "as drawn; the rest arranged"
	}
	return []layout.Cell{
		{Caption: "Scale", Says: layout.ScaleWords(f.scale) + " on " + p.paper.Name, Share: 44},
		{Caption: "Runs", Says: fmt.Sprintf("%d, together %s", len(p.m.runs), metred(p.together())), Share: 70},
		{Caption: "Places", Says: place, Share: 76},
	}
}

// together is the length of all runs in metres.
func (p *plan) together() (sum float64) {
	for _, r := range p.m.runs {
		sum += r.metres
	}
	return math.Round(sum*1e6) / 1e6
}

// counted says how much there is.
func (p *plan) counted() string {
	cables, leads := 0, 0
	for _, l := range p.m.links {
		if l.data {
			leads++
		} else {
			cables++
		}
	}
	said := []string{plural(len(p.m.runs), "run"), plural(cables, "cable"), plural(leads, "data lead"), plural(len(p.m.spots), "other thing")}
	return strings.Join(slices.DeleteFunc(said, func(s string) bool { return strings.HasPrefix(s, "0 ") }), ", ")
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// described is a sheet in sentences.
func (p *plan) described(f *figure, title, under string) string {
	say := []string{fmt.Sprintf("%s, %s. %s.", title, layout.ScaleWords(f.scale), under)}
	for _, r := range f.runs {
		from, _ := r.mark(0)
		if f.shows(from) {
			say = append(say, fmt.Sprintf("%s is %s long.", named(r.id, r.label), strings.ReplaceAll(metred(r.metres), layout.Thin, " ")))
		}
	}
	for _, r := range f.routes {
		say = append(say, fmt.Sprintf("%s goes from %s to %s.", r.id, r.from, r.to))
	}
	return strings.Join(say, " ")
}
