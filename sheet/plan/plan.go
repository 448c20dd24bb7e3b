// Package plan draws where everything goes, to scale.
//
// A scheme is read as places (model.go), laid out at a scale (figure.go; the ways of links that nobody has drawn in course.go and detour.go),
// painted (paint.go), lettered and dimensioned (letter.go, tangle.go, dimension.go). What has no room comes back and becomes a detail or a line of a list (plan.go, key.go).
package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
	"farend/study"
)

// Pages draws where everything goes, to a standard scale: runs as they are drawn, with which way their data goes, where their rails are cut and
// where cables land; things at their places; cables and leads on their routes, or straight where these are not drawn. What has no room to
// be lettered is shown once more on further sheets, at a larger scale; what has no place is arranged, and the page says so.
//
// It reads the scheme of the study alone.
func Pages(st *study.Study, style drafting.Style) []layout.Leaf {
	p := newPlan(st, style)
	p.drawAll()
	p.key()
	p.rest()
	for i := range p.leaves {
		p.leaves[i].Name = layout.Nth("plan", i+1)
	}
	return p.leaves
}

// fewUnsaid is up to how many things that have no room to be lettered are told in the key.
const fewUnsaid = 6

func newPlan(st *study.Study, style drafting.Style) *plan {
	return &plan{paper: style.Drawings.Turned(), m: newPlanned(st.Scheme)}
}

// drawAll draws all sheets of figures, and again where what the key must tell is known only then. What it tells never gets less, so that this ends.
func (p *plan) drawAll() {
	for {
		p.draw()
		few := slices.Clone(p.noted)
		for _, line := range p.unsaid() {
			if !slices.Contains(few, line) {
				few = append(few, line)
			}
		}
		if len(few) > fewUnsaid {
			few = p.noted
		}
		if len(few) == len(p.noted) && p.holds() {
			return
		}
		*p = plan{paper: p.paper, m: p.m, noted: few, framed: p.framed || len(p.closer.details) > 0}
	}
}

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
	closer closer
	looks  map[view]*look // what has been drawn closer
	band   keyBand
	keyed  []layout.Entry   // the key, where it stands on sheets of its own
	said   map[subject]bool // what is lettered on some sheet
	failed []letter         // what is not
	noted  []string         // what the key tells, for want of room
	framed bool             // the key has room to say what frames are
}

// begin chooses what comes on the first sheet, its scale, and where its key stands: below or to the right, where the scale is larger; where
// long names make a key that leaves no room for the drawing, on sheets of its own.
func (p *plan) begin() {
	field, entries := p.paper.Field(), p.entries()
	scale, ok := p.scaled(keyBelow(field, entries), keyBeside(field, entries))
	if !ok {
		p.keyed = entries
		scale, ok = p.scaled(keyBelow(field, nil), keyBeside(field, nil))
	}
	if !ok {
		scale = slices.Max(layout.Scales())
	}
	p.main = p.whole.compose(scale, drafting.Bounds(p.band.area), p.band.area)
	p.said, p.looks = map[subject]bool{}, map[view]*look{}
}

// scaled chooses what comes on the first sheet beside one of two keys, and its scale; false where nothing has room.
func (p *plan) scaled(below, beside keyBand) (scale float64, ok bool) {
	rest := p.m.unplaced(p.m.undrawn())
	drawn := len(p.m.drawnAt()) > 0
	p.whole, p.later, p.band = composition{m: p.m, drawn: drawn, rest: rest}, nil, below
	scale, ok = p.whole.scale(drafting.Bounds(below.area))
	if other, fits := p.whole.scale(drafting.Bounds(beside.area)); beside.fits && fits && (!ok || other < scale) {
		p.band, scale, ok = beside, other, true
	}
	if drawn {
		alone := composition{m: p.m, drawn: true}
		if own, fits := alone.scale(drafting.Bounds(p.band.area)); fits && len(rest.runs)+len(rest.spots) > 0 && (!ok || scale > 2*own) {
			p.whole, scale, ok = alone, own, true
			p.later = p.divided(rest)
		}
	} else if longest := longestRun(rest.runs); !ok || longest > 0 && longest*1000/scale < leastRow {
		p.later = p.divided(rest)
		p.whole.rest, p.later = p.later[0], p.later[1:]
		scale, ok = p.whole.scale(drafting.Bounds(p.band.area))
	}
	return scale, ok
}

// How long the longest run of an arrangement is on paper: at least, or it goes on to further sheets, and at most on these.
const leastRow, mostRow = 40.0, 80.0

// longestRun is the length of the longest run, in metres.
func longestRun(runs []plannedRun) (longest float64) {
	for _, r := range runs {
		longest = max(longest, r.metres)
	}
	return longest
}

// divided deals what is arranged to sheets, at the scale at which the longest of its runs is still of some length.
func (p *plan) divided(a arrangement) (list []arrangement) {
	room := drafting.Bounds(p.band.area)
	scale := 1.0
	for _, s := range layout.Scales() {
		scale = s
		if long := longestRun(a.runs) * 1000 / s; long+besideRun <= room.Width() && long <= mostRow {
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
	low, high [2]float64 // in metres
	frame     draw.Box   // on the first sheet
	scale     float64
	sheet     int    // which of the sheets of details, from 0
	mark      string // what tells it from others on its sheet; empty where it is alone there
	*look
}

// A look is a figure of a detail, painted and lettered.
type look struct {
	figure figure
	page   *page
}

// A view is what a look is of: a piece of the world in metres, its scale, its room, and what it is called there.
type view struct {
	low, high [2]float64
	scale     float64
	room      draw.Box
	mark      string
}

// look draws what a view is of, unless it has been drawn for the same first sheet.
func (p *plan) look(v view) *look {
	if p.looks[v] == nil {
		l := &look{figure: p.whole.enlarge(v.low, v.high, v.scale, v.room, p.main.known())}
		l.figure.mark = v.mark
		g := p.lettered(&l.figure, drafting.Farthest, nil, nil)
		g.again(&g.canvas)
		l.page = &g
		p.looks[v] = l
	}
	return p.looks[v]
}

// bounds are what a detail shows, in metres.
func (d detail) bounds() (low, high [2]float64) {
	margin := detailMargin * d.scale / 1000
	return [2]float64{d.low[0] - margin, d.low[1] - margin}, [2]float64{d.high[0] + margin, d.high[1] + margin}
}

// uncut is a detail that cuts no symbol: so much larger that what it would cut is in it.
func (d detail) uncut(spots []spot, known map[string]seat) detail {
	const clear = 1.5
	margin := detailMargin * d.scale / 1000
	for _, s := range spots {
		seat, ok := known[s.id]
		low, high := d.bounds()
		half := [2]float64{(s.width/2 + clear) * d.scale / 1000, (s.height/2 + clear) * d.scale / 1000}
		for i, at := range seat.at {
			ok = ok && at+half[i] > low[i] && at-half[i] < high[i]
		}
		for i, at := range seat.at {
			if ok {
				d.low[i], d.high[i] = min(d.low[i], at-half[i]+margin), max(d.high[i], at+half[i]-margin)
			}
		}
	}
	return d
}

// reached is what a detail shows with a run, too, that is near to it on the first sheet, and to which a link goes from what it shows; false where it is
// none such. A row of runs that are fed from one place is so shown whole, whichever of them lack room, and few links are cut.
func (d detail) reached(f *figure, links []plannedLink, r strand, near float64) (low, high [2]float64, ok bool) {
	if r.line == nil {
		return low, high, false
	}
	low, high = d.bounds()
	shown := f.places([][2]float64{low, high}).Box()
	ok = slices.ContainsFunc(links, func(l plannedLink) bool {
		a, fromOK := f.end(l.from, false)
		b, toOK := f.end(l.to, true)
		from, to := draw.Box{Min: a, Max: a}, draw.Box{Min: b, Max: b}
		return fromOK && toOK && (l.from.Element == r.id && shown.Holds(to) || l.to.Element == r.id && shown.Holds(from))
	})
	ok = ok && shown.Grow(near).Holds(r.trail.Box())
	low, high = extent(append([][2]float64{d.low, d.high}, r.line...))
	return low, high, ok
}

// name is what a detail is called, where its sheet is among those of the plan.
func (d detail) name() string {
	name := layout.Nth("plan", d.sheet+2)
	if d.mark != "" {
		name += " " + d.mark
	}
	return name
}

// A closer is the details of a plan with their sheets: what is lettered there, and the labels of their frames.
type closer struct {
	details   []detail
	pages     []page
	elsewhere map[subject]bool
	frames    []letter
}

// enlarge enlarges what wants it.
func (p *plan) enlarge(wanting []letter) closer {
	c := closer{details: p.enlarged(wanting), elsewhere: map[subject]bool{}}
	for i := range c.details {
		d := &c.details[i]
		g := d.page
		for of := range g.done {
			if of.enlargeable() {
				c.elsewhere[of] = true
			}
		}
		for _, l := range wanting {
			c.elsewhere[l.of] = c.elsewhere[l.of] || g.done[l.of]
		}
		c.pages = append(c.pages, *g)
		text, b := detailText, d.frame
		text.Words = d.name() + ", " + layout.ScaleWords(d.scale)
		middle := draw.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}
		c.frames = append(c.frames, letter{
			of: subject{kind: frameName, id: d.name()}, text: text, told: "the frame of " + text.Words,
			beside: []draw.Point{{X: middle.X, Y: b.Max.Y}, {X: middle.X, Y: b.Min.Y}, {X: b.Max.X, Y: middle.Y}, {X: b.Min.X, Y: middle.Y}, b.Min, b.Max},
		})
	}
	return c
}

// details draws the first sheet, and what of it needs a larger scale. A frame and its label take room; what has none then is enlarged, too.
func (p *plan) details() {
	const rounds = 4
	first := p.lettered(&p.main, handy, nil, nil)
	wanting, known := append(first.failed, p.main.tangled()...), map[subject]bool{}
	var c closer
	for range rounds {
		for _, l := range wanting {
			known[l.of] = true
		}
		c = p.enlarge(wanting)
		p.main.frames = nil
		for _, d := range c.details {
			p.main.frames = append(p.main.frames, d.frame)
		}
		first = p.lettered(&p.main, drafting.Farthest, c.elsewhere, c.frames)
		first.again(&first.canvas)
		more := slices.DeleteFunc(slices.Clone(first.failed), func(l letter) bool { return known[l.of] || len(l.world) == 0 })
		if len(more) == 0 {
			break
		}
		wanting = append(wanting, more...)
	}
	p.failed, p.closer = first.failed, c
	for _, g := range append([]page{first}, c.pages...) {
		for of := range g.done {
			p.said[of] = true
		}
	}
	entries := p.entries()
	if p.keyed != nil {
		p.keyed, entries = entries, nil
	}
	p.leaves = []layout.Leaf{p.leaf(&p.main, first, "Where everything goes", p.counted(), entries)}
	for i := 0; i < len(c.details); {
		d := c.details[i]
		last := i
		for ; last < len(c.details) && c.details[last].sheet == d.sheet; last++ {
			p.leaves[0].Links = append(p.leaves[0].Links, draw.Link{Box: c.details[last].frame, To: layout.Nth("plan", d.sheet+2)})
		}
		p.leaves = append(p.leaves, p.closeLeaf(c.details[i:last], c.pages[i:last]))
		i = last
	}
}

// closeLeaf is a sheet of details.
func (p *plan) closeLeaf(details []detail, pages []page) layout.Leaf {
	all := pages[0]
	for _, g := range pages[1:] {
		all.canvas = all.canvas.with(g.canvas)
		all.failed = append(all.failed, g.failed...)
	}
	for _, d := range details {
		all.canvas.frames.Paths = append(all.canvas.frames.Paths, framed(*d.figure.window))
	}
	under := fmt.Sprintf("What is framed on the plan, %s rather than %s", layout.ScaleWords(details[0].scale), layout.ScaleWords(p.main.scale))
	leaf := p.leaf(&details[0].figure, all, "A closer look", under, nil)
	if len(details) > 1 { // each has a zero of its own
		leaf.Zero = nil
	}
	return leaf
}

// A page is a figure that is painted and lettered.
type page struct {
	lettering
	canvas canvas
}

// lettered paints and letters a figure.
func (p *plan) lettered(f *figure, far float64, elsewhere map[subject]bool, frames []letter) page {
	g := page{lettering: lettering{f: f, far: far, desk: layout.Desk{Room: f.room.Grow(-0.5)}, done: map[subject]bool{}}, canvas: newCanvas()}
	f.paint(&g.canvas)
	f.under(&g.desk)
	for _, s := range f.spots {
		if s.named() {
			g.done[subject{kind: spotName, id: s.id}] = true
		}
	}
	if f.mark != "" {
		text := detailText
		text.Words, text.Size, text.Anchor, text.At = f.mark, 9, draw.End, draw.Point{X: f.window.Min.X - 3.5, Y: f.window.Min.Y + 3}
		g.canvas.labels.Texts = append(g.canvas.labels.Texts, text)
		g.desk.Set(text)
	}
	if f.arranged != nil {
		text := draw.Text{Face: draw.SemiBold, Size: 8, Tone: draw.Graphite, Words: "arranged, not surveyed: in rows, lengths to scale"}
		text.At = draw.Point{X: f.arranged.Min.X, Y: f.arranged.Min.Y + 3}
		g.canvas.labels.Texts = append(g.canvas.labels.Texts, text)
		g.desk.Set(text)
		if p.whole.drawn && f == &p.main {
			rule := draw.Line(drafting.FaintPen, draw.Point{X: f.room.Min.X, Y: f.arranged.Min.Y - 2}, draw.Point{X: f.room.Max.X, Y: f.arranged.Min.Y - 2})
			g.canvas.frames.Paths = append(g.canvas.frames.Paths, rule)
			g.desk.Under(rule.Steps[0].To, rule.Steps[1].To)
		}
	}
	f.dimensions = nil
	names := f.names()
	runs := slices.IndexFunc(names, func(l letter) bool { return l.of.kind != runName })
	if runs < 0 {
		runs = len(names)
	}
	g.put(&g.canvas, names[:runs], elsewhere)
	dimensioned := f.dimension(&g.canvas.dimensions, &g.desk)
	g.put(&g.canvas, frames, nil)
	if f == &p.main && p.whole.drawn && p.m.aboutOrigin() {
		g.origin(f.place([2]float64{}))
	}
	g.put(&g.canvas, names[runs:], elsewhere)
	if f.window != nil {
		dimensioned = nil
	}
	g.put(&g.canvas, f.markNames(dimensioned), elsewhere)
	g.put(&g.canvas, f.linkNames(), elsewhere)
	return g
}

// origin marks where both coordinates are zero.
func (g *page) origin(at draw.Point) {
	const by = 1.7
	g.canvas.dimensions.Paths = append(g.canvas.dimensions.Paths, originMark(at)...)
	g.desk.Taken = append(g.desk.Taken, draw.Box{Min: at, Max: at}.Grow(by))
	text := markText
	text.Words, text.Tone = "x"+layout.Thin+"0, y"+layout.Thin+"0", draw.Graphite
	places := []draw.Point{{X: at.X + by, Y: at.Y}, {X: at.X, Y: at.Y + by}, {X: at.X, Y: at.Y - by}, {X: at.X - by, Y: at.Y}}
	g.put(&g.canvas, []letter{{of: subject{kind: originName}, text: text, beside: places, told: "the origin, x 0, y 0"}}, nil)
}

// enlarged are the details that what has no room needs: pieces of the first sheet that are near each other there, where a scale of twice its
// own still fits on a sheet.
func (p *plan) enlarged(failed []letter) (list []detail) {
	const near, most = 24.0, 8
	field := p.paper.Field()
	area := draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: field.Max.Y - detailBand}}
	scale := func(low, high [2]float64) (float64, bool) {
		for _, s := range layout.Scales() {
			if p.main.scale/s < 2-1e-9 {
				break
			}
			if (high[0]-low[0])*1000/s+2*detailMargin <= area.Width()-12 && (high[1]-low[1])*1000/s+2*detailMargin <= area.Height()-12 {
				return s, true
			}
		}
		return 0, false
	}
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
		pieces = append(pieces, piece{p.main.places(l.world).Box(), low, high})
	}
	for merged := true; merged; {
		merged = false
		for i := 0; i < len(pieces) && !merged; i++ {
			for j := i + 1; j < len(pieces); j++ {
				a, b := pieces[i], pieces[j]
				low, high := extent([][2]float64{a.low, a.high, b.low, b.high})
				if _, fits := scale(low, high); fits && (a.on.Grow(near).Meets(b.on) || a.on.Grow(near).Holds(b.on)) {
					pieces[i] = piece{drafting.Joined(a.on, b.on), low, high}
					pieces = slices.Delete(pieces, j, j+1)
					merged = true
					break
				}
			}
		}
	}
	for _, c := range pieces {
		if s, fits := scale(c.low, c.high); fits && len(list) < most {
			d := detail{low: c.low, high: c.high, scale: s, sheet: len(list)}
			for _, r := range p.main.runs {
				if low, high, ok := d.reached(&p.main, p.m.links, r, near); ok {
					if s, fits := scale(low, high); fits && s == d.scale {
						d.low, d.high = low, high
					}
				}
			}
			whole := d.uncut(p.main.spots, p.main.known())
			if s, fits := scale(whole.low, whole.high); fits && s == d.scale {
				d = whole
			}
			list = append(list, d)
		}
	}
	rooms := p.shared(list, area)
	for i := range list {
		d, room := &list[i], area
		if rooms != nil {
			room = rooms[i]
		}
		low, high := d.bounds()
		d.frame = p.main.places([][2]float64{low, high}).Box()
		const least = 3.0 // of the frame on the first sheet, or nobody sees it
		if d.frame.Width() < least || d.frame.Height() < least {
			d.frame = d.frame.Grow(least / 2)
		}
		d.look = p.look(view{low, high, d.scale, room, d.mark})
	}
	return list
}

// shared gives details one scale and one sheet, where all have room there, one below the other, and none is much smaller than by itself; and the room
// of each.
func (p *plan) shared(list []detail, area draw.Box) (rooms []draw.Box) {
	const gap, much = 12.0, 10.0
	if len(list) < 2 {
		return nil
	}
	for _, scale := range layout.Scales() {
		high, fits := 0.0, p.main.scale/scale >= 2-1e-9
		for _, d := range list {
			high += (d.high[1]-d.low[1])*1000/scale + 2*detailMargin + gap
			fits = fits && (d.high[0]-d.low[0])*1000/scale+2*detailMargin <= area.Width()-12 && scale <= much*d.scale+1e-9
		}
		if !fits || high > area.Height() {
			continue
		}
		top, more := area.Min.Y, (area.Height()-high)/float64(len(list))
		for i := range list {
			d := &list[i]
			bottom := top + (d.high[1]-d.low[1])*1000/scale + 2*detailMargin + gap + more
			rooms = append(rooms, draw.Box{Min: draw.Point{X: area.Min.X, Y: top}, Max: draw.Point{X: area.Max.X, Y: bottom}})
			d.scale, d.sheet, d.mark = scale, 0, string(rune('a'+i))
			top = bottom
		}
		return rooms
	}
	return nil
}

// detailMargin is what a detail shows about what it is of, in millimetres of its own paper.
const detailMargin = 14.0

// detailBand is the room for the scale bar under what has no key of its own.
const detailBand = 10.0

// arrangements draws the further sheets of what is arranged.
func (p *plan) arrangements() {
	field := p.paper.Field()
	area := draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: field.Max.Y - detailBand}}
	for _, a := range p.later {
		c := composition{m: p.m, rest: a}
		scale, ok := c.scale(drafting.Bounds(area))
		if !ok {
			continue // what is not lettered is listed
		}
		f := c.compose(scale, drafting.Bounds(area), area)
		l := p.lettered(&f, drafting.Farthest, nil, nil)
		l.again(&l.canvas)
		for of := range l.done {
			p.said[of] = true
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
	}
	bar := layout.Bar(&scale, corner, f.scale, drafting.BarLong)
	words := draw.Text{Words: layout.ScaleWords(f.scale) + " on " + p.paper.Name, Face: draw.SemiBold, Size: 7.5, Tone: draw.Ink, At: draw.Point{X: bar.Max.X + 3, Y: corner.Y}}
	if words.Box().Max.X > field.Max.X { // above a bar that takes all the width
		words.At = draw.Point{X: corner.X, Y: corner.Y - 3.4}
	}
	scale.Texts = append(scale.Texts, words)
	if entries == nil {
		scale.Texts = append(scale.Texts, p.unkeyed(g, draw.Box{Min: draw.Point{X: max(bar.Max.X, words.Box().Max.X) + 8, Y: corner.Y - 2.8}, Max: field.Max})...)
	}
	layers = append(layers, scale)
	leaf := layout.Leaf{
		Name: "plan", Outline: "Plan", Title: title, Under: under, Desc: p.described(f, title, under),
		Paper: p.paper, Scale: f.scale, Zero: f.zero(), Cells: p.cells(f), Notes: planRests, Layers: layers,
	}
	if len(p.leaves) > 0 {
		leaf.Outline, leaf.Level = title, 1
	}
	return leaf
}

// unkeyed is what stands beside the scale bar of a sheet without a key: where that is, and what is shown here without words.
func (p *plan) unkeyed(g page, room draw.Box) (texts []draw.Text) {
	const most = 3
	say := "Key: first sheet of the plan."
	if p.keyed != nil {
		say = "Key: on a sheet of its own."
	}
	var told []string
	for _, l := range g.failed {
		if !slices.Contains(told, l.told) {
			told = append(told, l.told)
		}
	}
	if len(told) > 0 {
		say += " Shown here without words: " + strings.Join(told, "; ") + "."
	}
	like := draw.Text{Size: draw.Smallest, Tone: draw.Graphite}
	for i, line := range layout.WrapAll(like, room.Width(), most, say) {
		texts = append(texts, layout.Put(like, line, room.Min.X, room.Min.Y+float64(i)*layout.Pitch(like.Size)))
	}
	return texts
}

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
	var said []string
	for _, c := range []struct {
		n    int
		what string
	}{{len(p.m.runs), "run"}, {cables, "cable"}, {leads, "data lead"}, {len(p.m.spots), "other thing"}} {
		if c.n > 0 {
			said = append(said, study.Counted(c.n, c.what))
		}
	}
	return strings.Join(said, ", ")
}

// described is a sheet in sentences.
func (p *plan) described(f *figure, title, under string) string {
	say := []string{fmt.Sprintf("%s, %s. %s.", title, layout.ScaleWords(f.scale), under)}
	for _, r := range f.runs {
		from, _ := r.mark(0)
		if f.shows(from) {
			say = append(say, fmt.Sprintf("%s is %s long.", drafting.Named(r.id, r.label), strings.ReplaceAll(metred(r.metres), layout.Thin, " ")))
		}
	}
	for _, r := range f.routes {
		say = append(say, fmt.Sprintf("%s goes from %s to %s.", r.id, r.from, r.to))
	}
	return strings.Join(say, " ")
}
