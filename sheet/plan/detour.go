package plan

import (
	"cmp"
	"math"
	"slices"

	"farend/draw"
	"farend/sheet/drafting"
)

// detoured is a way of a cable that nobody has drawn, led around the things that it does not join, and around some landings: a line that grazes the
// dot of a junction, or the end of a run, looks as if it were joined there.
func (f *figure) detoured(l plannedLink, line drafting.Trail, landings []draw.Point) drafting.Trail {
	way := drafting.Trail{line[0]}
	for i := 1; i < len(line); i++ {
		way = append(way, f.detours(l, line[i-1], line[i], landings)...)
		way = append(way, line[i])
	}
	return way
}

// A detour leaves a straight line at one place along it and is back at another, and is off it in between, to go around some things.
type detour struct {
	leave, off, back, end float64
	passes                []hindrance
}

// A hindrance is a thing near a straight line: how far along it and to its right it is, and how far from its middle the line must keep.
type hindrance struct {
	along, aside, reach, wide float64
	landing                   bool
}

// A straight is a line between two places, with its direction.
type straight struct {
	a, b, ahead draw.Point
	length      float64
}

func newStraight(a, b draw.Point) straight {
	length := drafting.Apart(a, b)
	return straight{a, b, draw.Point{X: (b.X - a.X) / length, Y: (b.Y - a.Y) / length}, length}
}

// at is the place so far along the line and so far to its right.
func (l straight) at(along, by float64) draw.Point {
	return draw.Point{X: l.a.X + along*l.ahead.X - by*l.ahead.Y, Y: l.a.Y + along*l.ahead.Y + by*l.ahead.X}
}

// seen is how far along the line and how far to its right a place is.
func (l straight) seen(at draw.Point) draw.Point {
	return draw.Point{
		X: (at.X-l.a.X)*l.ahead.X + (at.Y-l.a.Y)*l.ahead.Y,
		Y: (at.Y-l.a.Y)*l.ahead.X - (at.X-l.a.X)*l.ahead.Y,
	}
}

// foreign reports whether a link goes past a thing, and neither to it nor through it.
func (s spot) foreign(l plannedLink) bool {
	return s.id != l.from.Element && s.id != l.to.Element && s.in != l.id && s.kind != enclosureSpot
}

// hindrance is a spot as it lies to the line.
func (l straight) hindrance(s spot) hindrance {
	const clear = 0.9
	at := l.seen(s.at)
	return hindrance{
		along: at.X, aside: at.Y,
		reach: math.Abs(l.ahead.X)*s.width/2 + math.Abs(l.ahead.Y)*s.height/2 + clear,
		wide:  math.Abs(l.ahead.Y)*s.width/2 + math.Abs(l.ahead.X)*s.height/2 + clear,
	}
}

// landing is a landing as it lies to the line.
func (l straight) landing(at draw.Point) hindrance {
	const clear = landed + 0.2
	seen := l.seen(at)
	return hindrance{along: seen.X, aside: seen.Y, reach: clear, wide: clear, landing: true}
}

// detours are the corners of a straight line between two places where it goes around things, and around landings where that is not far. Detours
// that would overlap are one.
func (f *figure) detours(l plannedLink, a, b draw.Point, landings []draw.Point) (corners drafting.Trail) {
	if drafting.Apart(a, b) == 0 {
		return nil
	}
	line := newStraight(a, b)
	var near []hindrance
	for _, s := range f.spots {
		if s.foreign(l) {
			near = append(near, line.hindrance(s))
		}
	}
	for _, at := range landings {
		near = append(near, line.landing(at))
	}
	for _, d := range merged(line.around(near)) {
		list, ways := []detour{d}, []float64{d.by(near)}
		if things := slices.DeleteFunc(slices.Clone(d.passes), func(h hindrance) bool { return h.landing }); len(things) < len(d.passes) && math.Abs(ways[0]) > widestSidestep {
			list, ways = merged(line.around(things)), nil
			for _, d := range list {
				ways = append(ways, d.by(near))
			}
		}
		for i, d := range list {
			corners = append(corners, line.at(d.leave, 0), line.at(d.off, ways[i]), line.at(d.back, ways[i]), line.at(d.end, 0))
		}
	}
	return corners
}

// around are the detours around each of some things that stand in the way of a line, in the order in which they leave it.
func (l straight) around(near []hindrance) (list []detour) {
	const ramp = 2.2
	for _, h := range near {
		if math.Abs(h.aside) >= h.wide || h.along-h.reach < 0.5 || h.along+h.reach > l.length-0.5 {
			continue
		}
		off, back := h.along-h.reach, h.along+h.reach
		list = append(list, detour{max(0.2, off-ramp), off, back, min(l.length-0.2, back+ramp), []hindrance{h}})
	}
	slices.SortStableFunc(list, func(p, q detour) int { return cmp.Compare(p.off, q.off) })
	return list
}

// merged joins detours, in the order in which they leave the line, that begin before another has ended.
func merged(list []detour) (whole []detour) {
	for _, d := range list {
		if n := len(whole) - 1; n >= 0 && d.leave < whole[n].end {
			w := &whole[n]
			w.back, w.end, w.passes = max(w.back, d.back), max(w.end, d.end), append(w.passes, d.passes...)
			continue
		}
		whole = append(whole, d)
	}
	return whole
}

// widestDetour is how far a detour goes off its line to keep clear of what that itself does not meet, in millimetres.
const widestDetour = 12.0

// widestSidestep is how far it goes off its line to keep clear of a landing.
const widestSidestep = 4.0

// by is how far to the right of the line a detour goes: as little as keeps it clear of all that it goes around, and where that is not far, of
// all else near the line, too.
func (d detour) by(near []hindrance) float64 {
	var ways []float64
	for _, h := range append(slices.Clone(d.passes), near...) {
		ways = append(ways, h.aside-h.wide, h.aside+h.wide)
	}
	slices.SortStableFunc(ways, func(p, q float64) int { return cmp.Compare(math.Abs(p), math.Abs(q)) })
	for i, all := range [][]hindrance{near, d.passes} {
		for _, by := range ways {
			if (i > 0 || math.Abs(by) <= widestDetour) && !slices.ContainsFunc(all, func(h hindrance) bool { return d.meets(h, by) }) {
				return by
			}
		}
	}
	return ways[0] // not reached: the farthest keeps clear of what it goes around
}

// meets reports whether a detour that is so far off its line comes too near to a thing, on its way out, beside the line, or on its way back.
func (d detour) meets(h hindrance, by float64) bool {
	const within = 1e-9
	trail := []draw.Point{{X: d.leave}, {X: d.off, Y: by}, {X: d.back, Y: by}, {X: d.end}}
	for i, b := range trail[1:] {
		a := trail[i]
		from, to := max(min(a.X, b.X), h.along-h.reach+within), min(max(a.X, b.X), h.along+h.reach-within)
		if from >= to {
			continue
		}
		at := func(x float64) float64 { return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X) }
		low, high := min(at(from), at(to)), max(at(from), at(to))
		if low < h.aside+h.wide-within && high > h.aside-h.wide+within {
			return true
		}
	}
	return false
}

// around are a way, and where it goes through boxes all the same, as it may where a corner of it is close to one, what it is when it is led around these
// to one hand, and to the other.
func around(way drafting.Trail, boxes []draw.Box) []drafting.Trail {
	hit := slices.DeleteFunc(slices.Clone(boxes), func(b draw.Box) bool { return !through(way, b) })
	if len(hit) == 0 {
		return []drafting.Trail{way}
	}
	return []drafting.Trail{way, led(way, hit, 1), led(way, hit, 3)}
}

// led leads a way around boxes, by so many of their corners at a time: by one with the clock, by three against it.
func led(way drafting.Trail, boxes []draw.Box, turn int) drafting.Trail {
	const clear, ramp = 0.4, 1.6
	for _, box := range boxes {
		box = box.Grow(clear)
		pieces := way.Outside(box.Grow(ramp))
		if len(pieces) < 2 {
			pieces = way.Outside(box)
		}
		if len(pieces) < 2 {
			continue // it ends in there
		}
		first, last := pieces[0], pieces[len(pieces)-1]
		corners := box.Corners()
		from, to := side(box, first[len(first)-1]), side(box, last[0])
		way = slices.Clone(first)
		for from != to {
			if turn == 1 {
				way = append(way, corners[(from+1)%4])
			} else {
				way = append(way, corners[from])
			}
			from = (from + turn) % 4
		}
		way = append(way, last...)
	}
	return way
}

// side is the side of a box that a place is nearest to, counted like its corners, from the one with which that side begins.
func side(box draw.Box, at draw.Point) (nearest int) {
	corners, off := box.Corners(), math.Inf(1)
	for i, c := range corners {
		if d := offPiece(at, c, corners[(i+1)%4]); d < off-1e-9 {
			nearest, off = i, d
		}
	}
	return nearest
}
