package plan

import (
	"cmp"
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
)

// tangled are the letters of the cables and leads to runs that the figure shows and nobody can follow: for most of their way another lies so near that
// the two look like one. A closer look shows where that is so, and where they land. A few are none, for they can be told by their ends.
func (f *figure) tangled() []letter {
	const near, begin, step, few = 1.1, 8.0, 2.0, 3
	var list []letter
	letters := f.linkNames()
	for i, r := range f.routes {
		length := r.trail.Length()
		lands := f.around(r)
		if r.trail == nil || length < 2*begin || len(lands) == 0 {
			continue
		}
		var crowded [][2]float64
		all := 0
		for s := begin; s < length; s += step {
			at, _ := r.trail.At(s / length)
			all++
			if f.besides(i, at, near) {
				crowded = append(crowded, f.world(at))
			}
		}
		if 2*len(crowded) <= all {
			continue
		}
		if k := slices.IndexFunc(letters, func(l letter) bool { return l.of == subject{kind: linkName, id: r.id} }); k >= 0 {
			one := letters[k]
			one.world = append(lands, crowded...)
			list = append(list, one)
		}
	}
	if len(list) < few {
		return nil
	}
	return list
}

// besides reports whether a cable or lead other than one is so near to a place.
func (f *figure) besides(but int, at draw.Point, near float64) bool {
	for i, r := range f.routes {
		if i == but {
			continue
		}
		for k := 1; k < len(r.trail); k++ {
			if offPiece(at, r.trail[k-1], r.trail[k]) < near {
				return true
			}
		}
	}
	return false
}

// offPiece is how far a place is from the piece of a line between two others.
func offPiece(at, a, b draw.Point) float64 {
	length := drafting.Apart(a, b)
	if length == 0 {
		return drafting.Apart(at, a)
	}
	u := max(0, min(1, ((at.X-a.X)*(b.X-a.X)+(at.Y-a.Y)*(b.Y-a.Y))/(length*length)))
	return drafting.Apart(at, draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y + u*(b.Y-a.Y)})
}

// touching reports whether two pieces of lines cross, or come nearer to each other than so.
func touching(a, b, c, d draw.Point, near float64) bool {
	side := func(p, q, r draw.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return true
	}
	return min(offPiece(a, c, d), offPiece(b, c, d), offPiece(c, a, b), offPiece(d, a, b)) < near
}

// detoured is the way of a cable that nobody has drawn, led around the things that it does not join: a line that grazes the dot of a junction
// looks as if it were joined there.
func (f *figure) detoured(r route) drafting.Trail {
	way := drafting.Trail{r.trail[0]}
	for i := 1; i < len(r.trail); i++ {
		way = append(way, f.detours(r.plannedLink, r.trail[i-1], r.trail[i])...)
		way = append(way, r.trail[i])
	}
	return way
}

// A detour leaves a straight line at one place along it and is back at another, and is off it in between, to go around some things.
type detour struct {
	leave, off, back, end float64
	around                []hindrance
}

// A hindrance is a thing near a straight line: how far along it and to its right it is, and how far from its middle the line must keep.
type hindrance struct{ along, aside, reach, wide float64 }

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

// hindrance is a spot as it lies to the line.
func (l straight) hindrance(s spot) hindrance {
	const clear = 0.9
	return hindrance{
		along: (s.at.X-l.a.X)*l.ahead.X + (s.at.Y-l.a.Y)*l.ahead.Y,
		aside: (s.at.Y-l.a.Y)*l.ahead.X - (s.at.X-l.a.X)*l.ahead.Y,
		reach: math.Abs(l.ahead.X)*s.width/2 + math.Abs(l.ahead.Y)*s.height/2 + clear,
		wide:  math.Abs(l.ahead.Y)*s.width/2 + math.Abs(l.ahead.X)*s.height/2 + clear,
	}
}

// detours are the corners of a straight line between two places where it goes around things. Detours that would overlap are one.
func (f *figure) detours(l plannedLink, a, b draw.Point) (corners drafting.Trail) {
	const ramp = 2.2
	if drafting.Apart(a, b) == 0 {
		return nil
	}
	line := newStraight(a, b)
	var list []detour
	var near []hindrance
	for _, s := range f.spots {
		if s.id == l.from.Element || s.id == l.to.Element || s.in == l.id || s.kind == enclosureSpot {
			continue
		}
		h := line.hindrance(s)
		near = append(near, h)
		if math.Abs(h.aside) >= h.wide || h.along-h.reach < 0.5 || h.along+h.reach > line.length-0.5 {
			continue
		}
		off, back := h.along-h.reach, h.along+h.reach
		list = append(list, detour{max(0.2, off-ramp), off, back, min(line.length-0.2, back+ramp), []hindrance{h}})
	}
	slices.SortStableFunc(list, func(p, q detour) int { return cmp.Compare(p.off, q.off) })
	for _, d := range merged(list) {
		by := d.by(near)
		corners = append(corners, line.at(d.leave, 0), line.at(d.off, by), line.at(d.back, by), line.at(d.end, 0))
	}
	return corners
}

// merged joins detours, in the order in which they leave the line, that begin before another has ended.
func merged(list []detour) (whole []detour) {
	for _, d := range list {
		if n := len(whole) - 1; n >= 0 && d.leave < whole[n].end {
			w := &whole[n]
			w.back, w.end, w.around = max(w.back, d.back), max(w.end, d.end), append(w.around, d.around...)
			continue
		}
		whole = append(whole, d)
	}
	return whole
}

// widestDetour is how far a detour goes off its line to keep clear of what that itself does not meet, in millimetres.
const widestDetour = 12.0

// by is how far to the right of the line a detour goes: as little as keeps it clear of all that it goes around, and where that is not far, of
// all else near the line, too.
func (d detour) by(near []hindrance) float64 {
	var ways []float64
	for _, h := range append(slices.Clone(d.around), near...) {
		ways = append(ways, h.aside-h.wide, h.aside+h.wide)
	}
	slices.SortStableFunc(ways, func(p, q float64) int { return cmp.Compare(math.Abs(p), math.Abs(q)) })
	for i, all := range [][]hindrance{near, d.around} {
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

// labelled are places on a route for its name, the best first: of what the figure shows of it, each piece in its middle and towards its ends.
func (f *figure) labelled(t drafting.Trail, wide float64) (on, beside []draw.Point) {
	pieces := []drafting.Trail{t}
	if f.window != nil {
		pieces = t.Clipped(*f.window)
	}
	slices.SortStableFunc(pieces, func(a, b drafting.Trail) int {
		switch x, y := a.Length(), b.Length(); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	for _, piece := range pieces[:min(len(pieces), 2)] {
		for _, u := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.75, 0.25, 0.83} {
			at, _ := piece.At(u)
			if piece.Length()*min(u, 1-u) > 0.7*wide {
				on = append(on, draw.Point{X: at.X - wide/2, Y: at.Y + 0.9})
			}
			beside = append(beside, at)
		}
	}
	return on, beside
}

// boards adds the distances of each board that has a place from the nearest end of a run, across and up, each where it has room.
func (f *figure) boards(layer *draw.Layer, desk *layout.Desk) {
	for _, s := range f.spots {
		if s.kind != boardSpot || s.plannedSpot.at == nil || s.row > 0 {
			continue
		}
		pin, near, off := f.place(*s.plannedSpot.at), draw.Point{}, math.Inf(1)
		for _, r := range f.runs {
			for _, end := range []draw.Point{r.trail[0], r.trail[len(r.trail)-1]} {
				if r.line != nil && drafting.Apart(end, pin) < off {
					near, off = end, drafting.Apart(end, pin)
				}
			}
		}
		if !math.IsInf(off, 1) {
			f.off(layer, desk, s, near, pin, false)
			f.off(layer, desk, s, near, pin, true)
		}
	}
}

// off adds how far a thing is from the end of a run, across or up: on a line beside both, to which extension lines lead that cross nothing.
func (f *figure) off(layer *draw.Layer, desk *layout.Desk, s spot, near, pin draw.Point, upright bool) {
	const least, clear, lift = 6.0, 1.2, 1.2
	a, b := turnedPoint(near, upright), turnedPoint(pin, upright)
	if math.Abs(a.X-b.X) < least {
		return
	}
	half := s.height / 2
	if upright {
		half = s.width / 2
	}
	for _, away := range []float64{5, 7, 9, 12, 15, 19} {
		for _, side := range []float64{-1, 1} {
			y := max(a.Y*side, b.Y*side+half)*side + side*away
			from, to := draw.Point{X: a.X, Y: y - side*lift}, draw.Point{X: b.X, Y: y - side*lift}
			d := layout.Dimension{A: turnedPoint(from, upright), B: turnedPoint(to, upright), Away: lift, Words: millimetred(math.Abs(a.X-b.X) / f.k())}
			if p, _ := d.Ends(); math.Abs(turnedPoint(p, upright).Y-y) > 1e-6 {
				d.Away = -lift
			}
			lines := []drafting.Trail{
				{turnedPoint(draw.Point{X: a.X, Y: a.Y + side*clear}, upright), d.A},
				{turnedPoint(draw.Point{X: b.X, Y: b.Y + side*(half+clear)}, upright), d.B},
			}
			crosses := slices.ContainsFunc(lines, func(t drafting.Trail) bool { return f.blocked(desk, drafting.Trail{t[0], t[0]}.Box(), t) })
			if crosses || !f.free(desk, d) {
				continue
			}
			f.write(layer, desk, d)
			for _, t := range lines {
				layer.Paths = append(layer.Paths, draw.Line(drafting.FaintPen, t...))
				desk.Under(t...)
			}
			return
		}
	}
}
