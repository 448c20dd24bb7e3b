package plan

import (
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
)

// What makes the way of a cable or lead confused, in millimetres (all our choice): how near to another it looks like one line with that, and over
// how much of its way it may; how near to tape it cannot be seen; how near to a landing it seems to be joined there, and how near to the symbol of a
// thing, which is worse: such a symbol counts as so much of its way. About an end that both have in common they may be as near as they like, and
// beside its own end a cable may pass a landing.
const (
	oneLine   = 0.6
	upon      = 7.0
	onTape    = 0.9
	landed    = 1.2
	joined    = 0.7
	onSymbol  = 30.0
	commonEnd = 14.0
	besideEnd = 3.0
)

// course is the way of a link that nobody has drawn: straight, and around the things that it does not join; where it would be taken for another, or for
// joined where it is not, around landings, or beside that line, as little as makes it plain. The first ways are taken by others between the
// same two places.
//
// Where links are very many, none can be followed however they lie, and fewer ways are tried.
func (f *figure) course(l plannedLink, a, b draw.Point, taken int, forth bool) (best drafting.Trail) {
	const most, many = 9, 600 // lanes on each side, and of how many links one more lane each is too much
	if straight := bowed(a, b, taken, forth); f.window != nil && !straight.Box().Grow(most).Meets(*f.window) {
		return straight
	}
	lanes := min(most, max(1, many/len(f.routes))-1)
	least := confusion{long: math.Inf(1)}
	own, things := f.own(l), f.passed(l, a, b)
	for n := taken; n <= taken+2*lanes; n++ {
		if n != taken+1 && n%2 == 1 && best != nil && least.long == 0 {
			break // what is as near to the line on its other side has been tried
		}
		lines := []drafting.Trail{bowed(a, b, n, forth)}
		if whole := lines[0]; n > taken && len(whole) == 4 { // to leave one end beside others is often enough
			lines = append(lines, drafting.Trail{whole[0], whole[1], whole[3]}, drafting.Trail{whole[0], whole[2], whole[3]}, eased(whole), backwards(eased(backwards(whole))))
		}
		for _, line := range lines {
			for _, landings := range [][]draw.Point{nil, f.foreign(line, []draw.Point{a, b}, own)} {
				for _, way := range around(f.detoured(l, line, landings), things) {
					if c := f.confusion(way, own, things, least.long); best == nil || c.less(least) {
						best, least = way, c
					}
				}
			}
		}
		if n == taken && least.long == 0 && len(best) == len(lines[0]) {
			break
		}
	}
	return best
}

// eased is a line beside a straight one that comes to it in a longer ramp.
func eased(bow drafting.Trail) drafting.Trail {
	line := newStraight(bow[0], bow[3])
	in := line.seen(bow[1]).X
	further := min(in, line.length/2-in)
	back := draw.Point{X: bow[2].X - further*line.ahead.X, Y: bow[2].Y - further*line.ahead.Y}
	return drafting.Trail{bow[0], bow[1], back, bow[3]}
}

// backwards is a line from its end to its beginning.
func backwards(t drafting.Trail) drafting.Trail {
	t = slices.Clone(t)
	slices.Reverse(t)
	return t
}

// A confusion is over how many millimetres a link could be taken for another, or for one that is joined where it is not; and how restless its way is:
// how many others it crosses, how many corners it has, and over how many millimetres it hides on tape.
type confusion struct {
	long     float64
	restless int
}

func (c confusion) less(d confusion) bool {
	return c.long < d.long || c.long == d.long && c.restless < d.restless
}

// confusion is that of a way of a link, among those that are laid; no more is added up where it is longer than so.
func (f *figure) confusion(way drafting.Trail, own, things []draw.Box, enough float64) (c confusion) {
	ends := []draw.Point{way[0], way[len(way)-1]}
	c.restless = len(way)
	for _, piece := range f.visible(way) {
		for _, box := range things {
			if through(piece, box) {
				c.long += onSymbol
			}
		}
		if c.long > enough {
			return c
		}
		for _, at := range f.foreign(piece, ends, own) {
			if offTrail(at, piece) < landed {
				c.long += landed
			}
		}
		box := piece.Box().Grow(2)
		for i, r := range f.runs {
			if box.Meets(f.about.runs[i]) {
				c.long += max(0, beside(piece, r.trail, onTape, ends, besideEnd)-upon)
				c.restless += int(beside(piece, r.trail, onTape/3, nil, 0))
			}
		}
		for i, r := range f.routes {
			if c.long > enough {
				return c
			}
			if r.trail != nil && box.Meets(f.about.routes[i]) {
				c.long += max(0, beside(piece, r.trail, oneLine, inCommon(way, r.trail), commonEnd)-upon)
				c.restless += 2 * crossings(piece, r.trail)
			}
		}
	}
	return c
}

// A surroundings is what the ways of links have to do with, measured once: the rectangles about runs and about the routes that are laid, and landings.
type surroundings struct {
	runs, routes []draw.Box
	landings     []draw.Point
}

// survey measures what the ways of so many links have to do with.
func (f *figure) survey(links int) {
	f.about = surroundings{routes: make([]draw.Box, links)}
	for _, r := range f.runs {
		f.about.runs = append(f.about.runs, r.trail.Box().Grow(2))
		for _, m := range r.marks {
			if at, _ := r.mark(m); f.shows(at) {
				f.about.landings = append(f.about.landings, at)
			}
		}
	}
}

// lay notes the route of a link.
func (f *figure) lay(i int, r route) {
	f.routes[i] = r
	if r.trail != nil {
		f.about.routes[i] = r.trail.Box()
	}
}

// own is about the symbols at the ends of a link: what lands there its line does not touch.
func (f *figure) own(l plannedLink) (boxes []draw.Box) {
	for _, end := range []scheme.Ref{l.from, l.to} {
		if s := f.spot(end.Element); s != nil {
			boxes = append(boxes, s.box().Grow(landed))
		}
	}
	return boxes
}

// passed are about the symbols that a link between two places does not join, and is not led to.
func (f *figure) passed(l plannedLink, a, b draw.Point) (boxes []draw.Box) {
	for _, s := range f.spots {
		box := s.box().Grow(joined)
		if s.foreign(l) && !box.Holds(draw.Box{Min: a, Max: a}) && !box.Holds(draw.Box{Min: b, Max: b}) {
			boxes = append(boxes, box)
		}
	}
	return boxes
}

// foreign are the landings near a line that are neither beside the ends of its link nor under its symbols, so that it can keep off them.
func (f *figure) foreign(line drafting.Trail, ends []draw.Point, own []draw.Box) (list []draw.Point) {
	box := line.Box().Grow(widestSidestep)
	for _, at := range f.about.landings {
		spot := draw.Box{Min: at, Max: at}
		if box.Holds(spot) && drafting.Apart(at, ends[0]) >= besideEnd && drafting.Apart(at, ends[1]) >= besideEnd && !slices.ContainsFunc(own, func(b draw.Box) bool { return b.Holds(spot) }) {
			list = append(list, at)
		}
	}
	return list
}

// inCommon are the ends that two lines have in common.
func inCommon(s, t drafting.Trail) (common []draw.Point) {
	const one = 0.5
	meet := func(a, b draw.Point) bool { return math.Abs(a.X-b.X) < one && drafting.Apart(a, b) < one }
	for _, at := range [2]draw.Point{s[0], s[len(s)-1]} {
		if meet(at, t[0]) || meet(at, t[len(t)-1]) {
			common = append(common, at)
		}
	}
	return common
}

// visible is what of a trail the figure shows.
func (f *figure) visible(t drafting.Trail) []drafting.Trail {
	switch {
	case t == nil:
		return nil
	case f.window == nil:
		return []drafting.Trail{t}
	}
	return t.Clipped(*f.window)
}

// offTrail is how far a place is from a line.
func offTrail(at draw.Point, t drafting.Trail) (off float64) {
	off = math.Inf(1)
	for i := 1; i < len(t); i++ {
		off = min(off, offPiece(at, t[i-1], t[i]))
	}
	return off
}

// crossings counts where two lines cross.
func crossings(s, t drafting.Trail) (n int) {
	for i := 1; i < len(s); i++ {
		for k := 1; k < len(t); k++ {
			if crossed(s[i-1], s[i], t[k-1], t[k]) {
				n++
			}
		}
	}
	return n
}

// beside is over how much of its way a line is nearer to another than so, without what is within a distance of some places.
func beside(s, t drafting.Trail, near float64, but []draw.Point, around float64) (long float64) {
	for i := 1; i < len(s); i++ {
		if s[i-1] == s[i] {
			continue
		}
		line := newStraight(s[i-1], s[i])
		var shares spans
		for k := 1; k < len(t); k++ {
			shares = shares.with(line.within(t[k-1], t[k], near))
		}
		for _, place := range but {
			if shares != nil {
				shares = shares.without(line.within(place, place, around))
			}
		}
		long += line.length * shares.sum()
	}
	return long
}

// within is the share of a line, from low to high, that is nearer than so to the piece from c to d; none where low is not less than high. What is so
// near to a piece is convex: a strip beside it, rounded about its ends.
func (l straight) within(c, d draw.Point, near float64) (low, high float64) {
	low, high = 1, 0
	take := func(from, to float64) {
		if from < to {
			low, high = min(low, from), max(high, to)
		}
	}
	ends := [2]draw.Point{l.seen(c), l.seen(d)}
	if min(ends[0].Y, ends[1].Y) >= near || max(ends[0].Y, ends[1].Y) <= -near || max(ends[0].X, ends[1].X) <= -near || min(ends[0].X, ends[1].X) >= l.length+near {
		return low, high // most are far off
	}
	for _, end := range ends {
		if half := near*near - end.Y*end.Y; half > 0 {
			half = math.Sqrt(half)
			take(max(0, end.X-half)/l.length, min(l.length, end.X+half)/l.length)
		}
	}
	if c != d {
		other := newStraight(c, d)
		take(layout.Inside(other.seen(l.a), other.seen(l.b), draw.Box{Min: draw.Point{Y: -near}, Max: draw.Point{X: other.length, Y: near}}))
	}
	return low, high
}

// spans are shares of a line, each from low to high, of which none meets another.
type spans [][2]float64

// with adds one; none where low is not less than high.
func (s spans) with(low, high float64) (whole spans) {
	if low >= high {
		return s
	}
	for _, one := range s {
		if one[1] < low || one[0] > high {
			continue
		}
		low, high = min(low, one[0]), max(high, one[1])
	}
	for _, one := range s {
		if one[1] < low || one[0] > high {
			whole = append(whole, one)
		}
	}
	return append(whole, [2]float64{low, high})
}

// without takes one away.
func (s spans) without(low, high float64) (left spans) {
	for _, one := range s {
		for _, part := range [][2]float64{{one[0], min(one[1], low)}, {max(one[0], high), one[1]}} {
			if part[0] < part[1] && low < high {
				left = append(left, part)
			}
		}
		if low >= high {
			left = append(left, one)
		}
	}
	return left
}

func (s spans) sum() (sum float64) {
	for _, one := range s {
		sum += one[1] - one[0]
	}
	return sum
}
