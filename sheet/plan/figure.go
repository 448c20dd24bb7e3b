package plan

import (
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
)

// A strand is a run on paper.
type strand struct {
	plannedRun
	trail drafting.Trail
}

// mark is where on paper a cut mark is, and the direction of the data there.
func (s strand) mark(m int) (at, ahead draw.Point) {
	return s.trail.At(float64(m) / float64(max(s.count, 1)))
}

// A spot is a thing on paper. Its symbol is of one size at every scale.
type spot struct {
	plannedSpot
	at            draw.Point // of its symbol
	pin           draw.Point // where it is, where its symbol had to give way to another
	root          draw.Point // a place of the drawing that it stands for, or in the end hangs on
	width, height float64
	row           int // from 1, of those that hang on nothing that is drawn; 0 of all others
	side          int // from 1, of those that stand beside something: on which side
}

func (s spot) box() draw.Box {
	return draw.Box{Min: draw.Point{X: s.at.X - s.width/2, Y: s.at.Y - s.height/2}, Max: draw.Point{X: s.at.X + s.width/2, Y: s.at.Y + s.height/2}}
}

// sized gives a spot the size of its symbol, wide enough for its name where that stands in it.
func sized(p plannedSpot) spot {
	s := spot{plannedSpot: p, width: 2, height: 2}
	switch p.kind {
	case supplySpot, boardSpot, enclosureSpot:
		s.width, s.height = max(7, layout.Wide(spotText, p.id)+3), 4.6
	case contactorSpot:
		s.width, s.height = 2.8, 2.8
	}
	return s
}

// A route is a link on paper: whole, or only its ends at runs that are arranged and not surveyed.
type route struct {
	plannedLink
	trail drafting.Trail
	stubs []stub
}

// A stub is the beginning or end of a link whose other end is elsewhere, with where that is.
type stub struct {
	trail drafting.Trail
	words string
	nth   int        // of the stubs of its link
	at    draw.Point // where its words stand
}

// A figure is a plan on paper: where everything comes to lie at a scale.
type figure struct {
	scale    float64
	room     draw.Box
	origin   draw.Point // where the zero of the drawing is; the corner where nothing is drawn
	runs     []strand
	spots    []spot
	boxes    []boxed
	routes   []route
	arranged *draw.Box  // what is arranged and not surveyed
	window   *draw.Box  // of a detail: all that is shown
	mark     string     // what a detail is called, beside others on its sheet
	frames   []draw.Box // what details show

	about      surroundings     // while routes are laid
	ties       []drafting.Trail // from contactors to what they switch
	ways       []drafting.Trail // of the links, as far as both their ends are placed
	dimensions []drafting.Trail // the lines of those that are drawn
	tapes      []drafting.Trail // runs and links, without what is too fine for dimensions to keep off
	lines      []drafting.Trail
}

// k is how many millimetres of paper a metre is.
func (f *figure) k() float64 { return 1000 / f.scale }

func (f *figure) place(p [2]float64) draw.Point {
	return draw.Point{X: f.origin.X + p[0]*f.k(), Y: f.origin.Y - p[1]*f.k()}
}

func (f *figure) places(line [][2]float64) drafting.Trail {
	t := make(drafting.Trail, len(line))
	for i, p := range line {
		t[i] = f.place(p)
	}
	return t
}

// zero is where the zero of the drawing is; nil where nothing is drawn.
func (f *figure) zero() *draw.Point {
	if f.origin == (draw.Point{}) {
		return nil
	}
	return &f.origin
}

// shows reports whether a place is in what the figure shows.
func (f *figure) shows(p draw.Point) bool {
	return f.window == nil || f.window.Grow(1e-6).Holds(draw.Box{Min: p, Max: p})
}

func (f *figure) run(id string) *strand {
	if i := slices.IndexFunc(f.runs, func(s strand) bool { return s.id == id }); i >= 0 {
		return &f.runs[i]
	}
	return nil
}

func (f *figure) spot(id string) *spot {
	if i := slices.IndexFunc(f.spots, func(s spot) bool { return s.id == id }); i >= 0 {
		return &f.spots[i]
	}
	return nil
}

// An arrangement is what has no place: rows of things, then rows of runs.
type arrangement struct {
	spots []plannedSpot
	runs  []plannedRun
}

// The measures of an arrangement, in millimetres of paper.
const (
	rowPitch    = 24.0
	spotPitch   = 36.0
	besideSpot  = 4.0  // from a symbol with a long name to the next
	besideRun   = 22.0 // from the end of a run to the next
	leastCell   = 48.0
	surveyGap   = 16.0 // to what is surveyed
	captionHigh = 8.0
)

// A cell is where something begins, from the corner of its arrangement.
type cell struct{ x, y float64 }

// flow lays an arrangement out in a width at a scale; it is not ok where a run is longer than that.
func (a arrangement) flow(k, width float64) (spots, runs []cell, size draw.Point, ok bool) {
	x, y, ok := 0.0, captionHigh, true
	wide := 0.0
	for _, s := range a.spots {
		pitch := max(spotPitch, sized(s).width+besideSpot)
		if x > 0 && x+pitch > width {
			x, y = 0, y+rowPitch
		}
		spots = append(spots, cell{x + pitch/2, y + rowPitch/2})
		x += pitch
		wide = max(wide, x)
	}
	if len(a.spots) > 0 {
		x, y = 0, y+rowPitch
	}
	for _, r := range a.runs {
		long := r.metres * k
		if long+besideRun > width {
			ok = false
		}
		if x > 0 && x+max(long+besideRun, leastCell) > width {
			x, y = 0, y+rowPitch
		}
		runs = append(runs, cell{x + besideRun/2, y + rowPitch/2})
		x += max(long+besideRun, leastCell)
		wide = max(wide, x)
	}
	if len(a.runs) > 0 {
		y += rowPitch
	}
	return spots, runs, draw.Point{X: wide, Y: y}, ok
}

// unplaced is the arrangement of what has no place, with only some of the runs where they are given.
func (m planned) unplaced(runs []plannedRun) (a arrangement) {
	held := m.anchored()
	for _, s := range m.spots {
		if !held[s.id] && s.kind != contactorSpot && s.kind != capacitorSpot && len(s.holds) == 0 {
			a.spots = append(a.spots, s)
		}
	}
	for _, s := range m.spots { // contactors stand after what they switch
		if !held[s.id] && s.kind == contactorSpot {
			a.spots = append(a.spots, s)
		}
	}
	a.runs = runs
	return a
}

// A composition is what comes on a page: what is drawn, and what is arranged below it.
type composition struct {
	m     planned
	drawn bool // what is drawn is shown
	rest  arrangement
	known map[string]seat // of a detail: where things are on the first sheet
}

// size is how large it is at a scale, and how large what is drawn alone is.
func (c composition) size(k, width float64) (whole, drawn draw.Point, ok bool) {
	ok = true
	if points := c.m.drawnAt(); c.drawn && len(points) > 0 {
		low, high := extent(points)
		drawn = draw.Point{X: (high[0] - low[0]) * k, Y: (high[1] - low[1]) * k}
	}
	whole = drawn
	if len(c.rest.runs)+len(c.rest.spots) > 0 {
		_, _, rest, fits := c.rest.flow(k, width)
		ok = fits
		whole.X = max(whole.X, rest.X)
		if c.drawn && len(c.m.drawnAt()) > 0 {
			whole.Y += surveyGap
		}
		whole.Y += rest.Y
	}
	return whole, drawn, ok
}

// paperSlack is how far beyond its room a figure may go, in millimetres, for its corners are sums.
const paperSlack = 1e-6

// scale is the largest standard scale at which it fits into a room.
func (c composition) scale(room draw.Box) (float64, bool) {
	for _, scale := range layout.Scales() {
		whole, _, ok := c.size(1000/scale, room.Width())
		if ok && whole.X <= room.Width()+paperSlack && whole.Y <= room.Height()+paperSlack {
			return scale, true
		}
	}
	return 0, false
}

// compose lays it out at a scale, in the middle of a room; what has only neighbours for a place may stand outside it, in an area.
func (c composition) compose(scale float64, room, area draw.Box) figure {
	f := figure{scale: scale, room: area}
	whole, drawn, _ := c.size(f.k(), room.Width())
	left, top := (room.Min.X+room.Max.X-drawn.X)/2, max(room.Min.Y, (room.Min.Y+room.Max.Y-whole.Y)/2)
	if points := c.m.drawnAt(); c.drawn && len(points) > 0 {
		low, high := extent(points)
		f.origin = draw.Point{X: left - low[0]*f.k(), Y: top + high[1]*f.k()}
		top += drawn.Y + surveyGap
	}
	f.arrange(c.rest, draw.Point{X: (room.Min.X + room.Max.X - whole.X) / 2, Y: top}, room.Width())
	f.fill(c)
	return f
}

// enlarge lays out what of it lies in a piece of the world, given as corners in metres, at a larger scale, in the middle of an area; known is
// where things are on the first sheet.
func (c composition) enlarge(low, high [2]float64, scale float64, area draw.Box, known map[string]seat) figure {
	f := figure{scale: scale, room: area}
	at := draw.Point{X: (area.Min.X + area.Max.X) / 2, Y: (area.Min.Y + area.Max.Y) / 2}
	f.origin = draw.Point{X: at.X - (low[0]+high[0])/2*f.k(), Y: at.Y + (low[1]+high[1])/2*f.k()}
	window := drafting.Joined(drafting.Trail{f.place(low)}.Box(), drafting.Trail{f.place(high)}.Box())
	f.window = &window
	f.fill(composition{m: c.m, drawn: true, known: known})
	return f
}

// A seat is where a thing stands on the first sheet: its place in the world, what it in the end hangs on there, which is where it is at every scale, and
// on which side of what it goes with it is.
type seat struct {
	at, root [2]float64
	side     int
}

// known are the seats of all things of a figure.
func (f *figure) known() map[string]seat {
	seats := map[string]seat{}
	for _, s := range f.spots {
		if s.row == 0 {
			seats[s.id] = seat{f.world(s.at), f.world(s.root), s.side}
		}
	}
	return seats
}

// world is where a place on paper is, in metres.
func (f *figure) world(p draw.Point) [2]float64 {
	return [2]float64{(p.X - f.origin.X) / f.k(), (f.origin.Y - p.Y) / f.k()}
}

// fill takes up what has a place, and all that hangs on it.
func (f *figure) fill(c composition) {
	for _, r := range c.m.runs {
		if c.drawn && r.line != nil {
			f.runs = append(f.runs, strand{r, f.places(r.line)})
		}
	}
	f.settle(c)
	f.lead(c)
	f.switches(c)
	f.enclose(c)
}

// arrange lays out what has no place.
func (f *figure) arrange(a arrangement, corner draw.Point, width float64) {
	if len(a.runs)+len(a.spots) == 0 {
		return
	}
	spots, runs, size, _ := a.flow(f.k(), width)
	for i, p := range a.spots {
		s := sized(p)
		s.at, s.row = draw.Point{X: corner.X + spots[i].x, Y: corner.Y + spots[i].y}, i+1
		f.spots = append(f.spots, s)
	}
	for i, r := range a.runs {
		at := draw.Point{X: corner.X + runs[i].x, Y: corner.Y + runs[i].y}
		f.runs = append(f.runs, strand{r, drafting.Trail{at, {X: at.X + r.metres*f.k(), Y: at.Y}}})
	}
	f.arranged = &draw.Box{Min: corner, Max: draw.Point{X: corner.X + size.X, Y: corner.Y + size.Y}}
}

// settle places the things: those drawn where they are, those at the end of a route there, all others beside what they hang on.
func (f *figure) settle(c composition) {
	var waiting []plannedSpot
	for _, p := range c.m.spots {
		switch s := sized(p); {
		case f.spot(p.id) != nil || p.kind == contactorSpot && p.at == nil || p.kind == enclosureSpot && len(p.holds) > 0:
		case p.at != nil && c.drawn:
			s.at = f.place(*p.at)
			f.add(s)
		case p.kind == capacitorSpot:
			if r := f.run(p.on.Element); r != nil && p.at == nil {
				s.at, _ = r.mark(p.on.Station.Mark)
				f.add(s)
			}
		case c.drawn && f.beyond(c, p.id): // a thing of the first sheet that is none of this detail
		case c.drawn:
			waiting = append(waiting, p)
		}
	}
	if !c.drawn {
		return
	}
	for _, p := range waiting {
		if at, ok := f.routed(c.m, p.id); ok {
			s := sized(p)
			s.at = at
			f.add(s)
		}
	}
	for more := true; more; {
		more = false
		for _, p := range waiting {
			if f.spot(p.id) != nil {
				continue
			}
			f.foresee(c)
			if base, root, ok := f.near(c.m, p); ok {
				const clear = 8 // of a junction, so that its cables do not lie along a run
				s, from := sized(p), 0.0
				s.root = root
				if p.kind == junctionSpot {
					from = clear
				}
				s.side = c.known[p.id].side
				if f.beside(&s, base, from) {
					f.add(s)
				}
				more = f.spot(p.id) != nil || more
			}
		}
	}
}

// beyond reports whether what a thing hangs on lies outside a detail, so that it is no part of that. Where its symbol stands says nothing, for that keeps
// its distance on paper, and on the first sheet may be where the detail shows something else.
func (f *figure) beyond(c composition, id string) bool {
	seat, known := c.known[id]
	return f.window != nil && known && !f.shows(f.place(seat.root))
}

// add takes a thing up, if it is in what the figure shows. Where others stand so near that symbols would cover each other, or it would stand on tape, it
// gives way, and a line leads to where it is.
func (f *figure) add(s spot) {
	if !f.shows(s.at) {
		return
	}
	s.pin = s.at
	if s.root == (draw.Point{}) {
		s.root = s.at
	}
	covers := func(t spot) bool { return t.box().Grow(0.8).Meets(s.box()) }
	taped := func(r strand) bool { return s.named() && len(r.trail.Clipped(s.box().Grow(ground/2+0.3))) > 0 }
	if slices.ContainsFunc(f.spots, covers) || slices.ContainsFunc(f.runs, taped) {
		f.beside(&s, s.at, 0)
	}
	f.spots = append(f.spots, s)
}

// routed is where a route that is drawn ends at a thing without a place.
func (f *figure) routed(m planned, id string) (draw.Point, bool) {
	for _, l := range m.links {
		if len(l.route) < 2 || l.from.Element != id && l.to.Element != id {
			continue
		}
		other := l.to
		if l.to.Element == id {
			other = l.from
		}
		first, last := f.place(l.route[0]), f.place(l.route[len(l.route)-1])
		if at, ok := f.end(other, l.to.Element != id); ok && drafting.Apart(at, last) < drafting.Apart(at, first) {
			return first, true
		} else if ok {
			return last, true
		}
		if l.to.Element == id {
			return last, true
		}
		return first, true
	}
	return draw.Point{}, false
}

// end is where an end of a link is on what is drawn; arriving says which end of a run its data goes to.
func (f *figure) end(r scheme.Ref, arriving bool) (draw.Point, bool) {
	if run := f.run(r.Element); run != nil {
		if run.line == nil {
			return draw.Point{}, false
		}
		at, _ := run.mark(landing(r, run.count, arriving))
		return at, true
	}
	if s := f.spot(r.Element); s != nil && s.row == 0 {
		return s.at, true
	}
	return draw.Point{}, false
}

// landing is the mark at which an end of a link lands on a run.
func landing(r scheme.Ref, count int, arriving bool) int {
	switch {
	case r.Kind == scheme.StationRef:
		return r.Station.Mark
	case arriving:
		return 0
	}
	return count
}

// near is what a thing without a place stands beside: what is in one enclosure with it, else the middle of where it lands on runs, else of the things it
// is joined with; and the place of the drawing that this in the end hangs on.
func (f *figure) near(m planned, p plannedSpot) (base, root draw.Point, ok bool) {
	for _, box := range m.spots {
		if !slices.Contains(box.holds, p.id) {
			continue
		}
		if box.at != nil {
			return f.place(*box.at), f.place(*box.at), true
		}
		for _, id := range box.holds {
			if s := f.spot(id); s != nil && s.row == 0 && id != p.id {
				return s.at, s.root, true
			}
		}
	}
	var runs, things, roots drafting.Trail
	for _, l := range m.links {
		for _, pair := range [][2]scheme.Ref{{l.from, l.to}, {l.to, l.from}} {
			if pair[0].Element != p.id {
				continue
			}
			if at, ok := f.end(pair[1], pair[1].Element == l.to.Element); ok && f.run(pair[1].Element) != nil {
				runs = append(runs, at)
			} else if ok {
				things, roots = append(things, at), append(roots, f.spot(pair[1].Element).root)
			}
		}
	}
	if runs != nil {
		return mean(runs), mean(runs), true
	}
	return mean(things), mean(roots), things != nil
}

// mean is the middle of some places; the zero where there are none.
func mean(places drafting.Trail) (middle draw.Point) {
	for _, p := range places {
		middle.X += p.X / float64(len(places))
		middle.Y += p.Y / float64(len(places))
	}
	return middle
}

// beside puts a thing near to a place where nothing else stands, at least so far from it, under as few links as can be, and on the side where it is
// on the first sheet.
func (f *figure) beside(s *spot, base draw.Point, from float64) bool {
	if !f.shows(base) {
		return false
	}
	within := f.room
	if f.window != nil {
		within = *f.window
	}
	crossed := 5.0 // millimetres of distance that a link less is worth
	if s.kind == contactorSpot {
		crossed = 25 // for links are laid before it, and give no way to it
	}
	unlike := 4.0 // and the side
	if s.named() {
		unlike = 16 // which readers look for
	}
	best, lowest, known := base, math.Inf(1), s.side
	for _, ring := range []float64{0, 4, 6, 8, 10, 12, 14, 17, 20, 24, 28, 34, 40, 50, 60, 80, 100} {
		if ring < from {
			continue
		}
		if ring >= lowest {
			break
		}
		for i, way := range []draw.Point{{X: -1}, {X: 1}, {Y: 1}, {Y: -1}, {X: -0.7, Y: 0.7}, {X: 0.7, Y: 0.7}, {X: -0.7, Y: -0.7}, {X: 0.7, Y: -0.7}} {
			s.at = draw.Point{X: base.X + ring*way.X, Y: base.Y + ring*way.Y}
			if !within.Holds(s.box()) || !f.vacant(s.box()) {
				continue
			}
			cost := ring + crossed*float64(f.crossing(s.box().Grow(0.5)))
			if known > 0 && known != i+1 {
				cost += unlike
			}
			if cost < lowest {
				best, lowest, s.side = s.at, cost, i+1
			}
		}
	}
	s.at = best
	return true
}

// crossing counts the ways of links that go through a box.
func (f *figure) crossing(box draw.Box) (n int) {
	for _, way := range f.ways {
		if through(way, box) {
			n++
		}
	}
	return n
}

// through reports whether a line goes through a box.
func through(t drafting.Trail, box draw.Box) bool {
	for i := 1; i < len(t); i++ {
		if low, high := layout.Inside(t[i-1], t[i], box); low < high {
			return true
		}
	}
	return false
}

// foresee notes the ways of the links whose ends are both placed.
func (f *figure) foresee(c composition) {
	f.ways = nil
	for _, l := range c.m.links {
		a, fromOK := f.end(l.from, false)
		b, toOK := f.end(l.to, true)
		switch {
		case len(l.route) > 1:
			f.ways = append(f.ways, f.places(l.route))
		case fromOK && toOK:
			f.ways = append(f.ways, drafting.Trail{a, b})
		}
	}
}

// vacant reports whether a box keeps off runs, things and what is arranged.
func (f *figure) vacant(box draw.Box) bool {
	if f.arranged != nil && f.arranged.Grow(2).Meets(box) {
		return false
	}
	for _, s := range f.spots {
		if s.box().Grow(3.2).Meets(box) {
			return false
		}
	}
	for _, r := range f.runs {
		if through(r.trail, box.Grow(2.4)) {
			return false
		}
	}
	return true
}

// lead lays the links: on their routes where these are drawn, else straight; those between the same two places side by side. Of what
// goes to a run or thing that is arranged, stubs say where it goes.
func (f *figure) lead(c composition) {
	type pair struct{ a, b draw.Point }
	beside := map[pair]int{}
	ordered := func(a, b draw.Point) pair {
		a, b = hundredth(a), hundredth(b)
		if b.X < a.X || b.X == a.X && b.Y < a.Y {
			return pair{b, a}
		}
		return pair{a, b}
	}
	for _, l := range c.m.links {
		if t := f.places(l.route); c.drawn && len(t) == 2 {
			beside[ordered(t[0], t[1])]++
		}
	}
	f.routes = make([]route, len(c.m.links))
	f.survey(len(c.m.links))
	for i, l := range c.m.links { // what is drawn lies where it does; all others keep off it
		if c.drawn && len(l.route) > 1 {
			f.lay(i, route{plannedLink: l, trail: f.routeTrail(l)})
		}
	}
	for i, l := range c.m.links {
		if f.routes[i].trail != nil {
			continue
		}
		r := route{plannedLink: l}
		a, fromOK := f.end(l.from, false)
		b, toOK := f.end(l.to, true)
		if !(fromOK && toOK) {
			r.stubs = f.stubs(l)
		}
		if len(r.stubs) == 0 && !fromOK {
			a, fromOK = f.elsewhere(c, l.from)
		}
		if len(r.stubs) == 0 && !toOK {
			b, toOK = f.elsewhere(c, l.to)
		}
		if len(r.stubs) == 0 && fromOK && toOK {
			key := ordered(a, b)
			r.trail = f.course(l, a, b, beside[key], key.a == hundredth(a))
			beside[key]++
		}
		f.lay(i, r)
	}
	f.routes = slices.DeleteFunc(f.routes, func(r route) bool { return len(f.visible(r.trail)) == 0 && len(r.stubs) == 0 })
}

// routeTrail is the route of a link that is drawn, the way that it goes.
func (f *figure) routeTrail(l plannedLink) drafting.Trail {
	t := f.places(l.route)
	first, last := t[0], t[len(t)-1]
	a, fromOK := f.end(l.from, false)
	b, toOK := f.end(l.to, true)
	if fromOK && drafting.Apart(a, last) < drafting.Apart(a, first) || !fromOK && toOK && drafting.Apart(b, first) < drafting.Apart(b, last) {
		slices.Reverse(t)
	}
	return t
}

// elsewhere is where the end of a link is that a detail does not show, and the first sheet does.
func (f *figure) elsewhere(c composition, end scheme.Ref) (draw.Point, bool) {
	seat, ok := c.known[end.Element]
	return f.place(seat.at), ok
}

// hundredth is a place to the hundredth of a millimetre, by which places are told to be one.
func hundredth(p draw.Point) draw.Point {
	return draw.Point{X: math.Round(p.X*100) / 100, Y: math.Round(p.Y*100) / 100}
}

// bowed is the way of the nth of some links between two places: straight, or beside that, to its left and right in turn.
func bowed(a, b draw.Point, n int, forth bool) drafting.Trail {
	length := drafting.Apart(a, b)
	if n == 0 || length == 0 {
		return drafting.Trail{a, b}
	}
	off := 1.7 * float64((n+1)/2)
	if n%2 == 0 {
		off = -off
	}
	if !forth {
		off = -off
	}
	line, in := newStraight(a, b), min(length/4, 2+math.Abs(off))
	return drafting.Trail{a, line.at(in, off), line.at(length-in, off), b}
}

// stubs are the ends of a link at runs that are arranged, at runs and things whose other end is not here, or a line from one thing to the next.
func (f *figure) stubs(l plannedLink) (stubs []stub) {
	from, to := f.spot(l.from.Element), f.spot(l.to.Element)
	if from != nil && to != nil && from.row > 0 && to.row > 0 {
		if d := to.row - from.row; (d == 1 || d == -1) && from.at.Y == to.at.Y {
			middle := draw.Point{X: (from.at.X + to.at.X) / 2, Y: from.at.Y}
			return []stub{{trail: drafting.Trail{from.at, to.at}, words: l.id, at: middle}}
		}
		away := draw.Point{X: from.at.X, Y: from.at.Y + from.height/2 + 3}
		return []stub{{trail: drafting.Trail{from.at, away}, words: l.id + " to " + l.to.String(), at: away}}
	}
	for i, end := range []scheme.Ref{l.from, l.to} {
		other, word := l.to, " to "
		if i == 1 {
			other, word = l.from, " from "
		}
		if run := f.run(end.Element); run != nil {
			at, ahead := run.mark(landing(end, run.count, i == 1))
			const long = 4.5
			away := drafting.Aside(at, ahead, -long) // to the other side where another begins here
			if f.stubbed(away) {
				away = drafting.Aside(at, ahead, long)
			}
			if l.data {
				way := -1.0
				if i == 0 {
					way = 1
				}
				away = draw.Point{X: at.X + way*long*ahead.X, Y: at.Y + way*long*ahead.Y}
			}
			t := drafting.Trail{away, at}
			if i == 0 {
				t = drafting.Trail{at, away}
			}
			stubs = append(stubs, stub{t, l.id + word + other.String(), i, away})
		}
	}
	return stubs
}

// stubbed reports whether a stub begins or ends at a place.
func (f *figure) stubbed(at draw.Point) bool {
	for _, r := range f.routes {
		for _, s := range r.stubs {
			if drafting.Apart(s.trail[0], at) < 0.01 || drafting.Apart(s.trail[len(s.trail)-1], at) < 0.01 {
				return true
			}
		}
	}
	return false
}

// switches puts contactors beside the middle of the cables that they switch, where they have no place, and ties them to it.
func (f *figure) switches(c composition) {
	f.ways = nil // as the links have been laid
	for _, r := range f.routes {
		f.ways = append(f.ways, r.trail)
	}
	for _, p := range c.m.spots {
		i := slices.IndexFunc(f.routes, func(r route) bool { return r.id == p.in && r.trail != nil })
		if p.kind != contactorSpot || i < 0 {
			continue
		}
		middle, _ := f.routes[i].trail.At(0.5)
		if f.spot(p.id) == nil {
			if s := sized(p); f.beside(&s, middle, 0) {
				f.add(s)
			}
		}
		if s := f.spot(p.id); s != nil && f.shows(middle) {
			f.ties = append(f.ties, drafting.Trail{s.at, middle})
		}
	}
}

// A boxed is an enclosure on paper: the frame about what it holds, and where its name may stand.
type boxed struct {
	plannedSpot
	frame  *draw.Box // nil where other things stand between what it holds, or that is far apart
	alone  bool      // it is then shown at its place, by itself
	places []draw.Point
}

// enclose frames what is in the enclosures.
func (f *figure) enclose(c composition) {
	for _, p := range c.m.spots {
		if p.kind != enclosureSpot || len(p.holds) == 0 {
			continue
		}
		b := boxed{plannedSpot: p}
		frame := drafting.Trail(nil).Box()
		if p.at != nil && c.drawn && f.shows(f.place(*p.at)) {
			b.places = append(b.places, f.place(*p.at))
			frame = drafting.Joined(frame, drafting.Trail(b.places).Box().Grow(1))
		}
		for _, id := range p.holds {
			if s := f.spot(id); s != nil {
				b.places = append(b.places, draw.Point{X: s.at.X, Y: s.at.Y + s.height/2}, draw.Point{X: s.at.X, Y: s.at.Y - s.height/2})
				frame = drafting.Joined(frame, s.box())
			}
		}
		if len(b.places) == 0 {
			continue
		}
		const most = 70 // millimetres: what is farther apart is in no one box
		frame = frame.Grow(1.8)
		if !slices.ContainsFunc(f.spots, func(s spot) bool { return !slices.Contains(p.holds, s.id) && s.box().Meets(frame) }) && max(frame.Width(), frame.Height()) < most {
			b.frame = &frame
			x, y := (frame.Min.X+frame.Max.X)/2, (frame.Min.Y+frame.Max.Y)/2
			b.places = []draw.Point{{X: x, Y: frame.Max.Y}, {X: x, Y: frame.Min.Y}, {X: frame.Max.X, Y: y}, {X: frame.Min.X, Y: y}}
		} else if p.at != nil && c.drawn && f.shows(f.place(*p.at)) {
			b.places, b.alone = b.places[:1], true
		}
		f.boxes = append(f.boxes, b)
	}
}
