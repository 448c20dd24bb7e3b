package plan

import (
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
)

// offsets adds how far things that have a place, and runs that no chain of dimensions places, are from the nearest end of a run, across and up, each
// where it has room.
func (f *figure) offsets(layer *draw.Layer, desk *layout.Desk) {
	for _, kind := range []spotKind{boardSpot, supplySpot, junctionSpot} {
		for _, s := range f.spots {
			if s.kind == kind && s.plannedSpot.at != nil && s.row == 0 {
				f.offset(layer, desk, s, "")
			}
		}
	}
	for _, r := range f.runs {
		if a, b, straight := r.straight(); r.line == nil || straight && (math.Abs(a.Y-b.Y) < 1e-6 || math.Abs(a.X-b.X) < 1e-6) {
			continue
		}
		ends := []spot{{at: r.trail[0]}, {at: r.trail[len(r.trail)-1]}}
		for i := range ends {
			at := f.world(ends[i].at)
			ends[i].plannedSpot.at = &at
		}
		if across, up := f.offset(layer, desk, ends[0], r.id); !(across && up) {
			f.offset(layer, desk, ends[1], r.id)
		}
	}
}

// offset adds how far a thing, or the end of a run, is from the nearest end of another run, and says which of both is said or next to nothing.
func (f *figure) offset(layer *draw.Layer, desk *layout.Desk, s spot, run string) (across, up bool) {
	pin, near, off := f.place(*s.plannedSpot.at), draw.Point{}, math.Inf(1)
	for _, r := range f.runs {
		for _, end := range []draw.Point{r.trail[0], r.trail[len(r.trail)-1]} {
			if r.line != nil && r.id != run && drafting.Apart(end, pin) < off {
				near, off = end, drafting.Apart(end, pin)
			}
		}
	}
	if math.IsInf(off, 1) {
		return false, false
	}
	return f.off(layer, desk, s, near, pin, false), f.off(layer, desk, s, near, pin, true)
}

// mostCrossed is how many cables and leads the lines of a dimension may cross where there is no room without that.
const mostCrossed = 4

// off adds how far a thing is from the end of a run, across or up: on a line beside both, to which extension lines lead that cross nothing, or
// where that cannot be, few cables and leads.
func (f *figure) off(layer *draw.Layer, desk *layout.Desk, s spot, near, pin draw.Point, upright bool) bool {
	const least, clear, lift = 6.0, 1.2, 1.2
	a, b := turnedPoint(near, upright), turnedPoint(pin, upright)
	if math.Abs(a.X-b.X) < least {
		return math.Abs(a.X-b.X) < 1e-6
	}
	half := s.height / 2
	if upright {
		half = s.width / 2
	}
	levels := f.continued(a, upright)
	for _, away := range []float64{5, 7, 9, 12, 15, 19} {
		for _, side := range []float64{-1, 1} {
			levels = append(levels, max(a.Y*side, b.Y*side+half)*side+side*away)
		}
	}
	for _, most := range []int{0, mostCrossed} {
		for _, y := range levels {
			side := 1.0
			if y < a.Y {
				side = -1
			}
			if side*(y-b.Y) < half+clear+lift || side*(y-a.Y) < clear+lift {
				continue
			}
			d := layout.Dimension{A: turnedPoint(draw.Point{X: a.X, Y: y - side*lift}, upright), B: turnedPoint(draw.Point{X: b.X, Y: y - side*lift}, upright), Away: lift, Words: millimetred(math.Abs(a.X-b.X) / f.k())}
			if p, _ := d.Ends(); math.Abs(turnedPoint(p, upright).Y-y) > 1e-6 {
				d.Away = -lift
			}
			lines := []drafting.Trail{
				{turnedPoint(draw.Point{X: a.X, Y: a.Y + side*clear}, upright), d.A},
				{turnedPoint(draw.Point{X: b.X, Y: b.Y + side*(half+clear)}, upright), d.B},
			}
			crosses := slices.ContainsFunc(lines, func(t drafting.Trail) bool { return f.blocked(desk, drafting.Trail{t[0], t[0]}.Box(), t, most) })
			if crosses || !f.free(desk, d, most) {
				continue
			}
			f.write(layer, desk, d)
			for _, t := range lines {
				layer.Paths = append(layer.Paths, draw.Line(drafting.FaintPen, t...))
				desk.Under(t...)
			}
			return true
		}
	}
	return false
}

// continued are the levels of the dimension lines that end over a place, so that the next goes on in one line with them.
func (f *figure) continued(a draw.Point, upright bool) (levels []float64) {
	const far = 20.0
	for _, line := range f.dimensions {
		p, q := turnedPoint(line[0], upright), turnedPoint(line[1], upright)
		if math.Abs(p.Y-q.Y) < 1e-6 && min(math.Abs(p.X-a.X), math.Abs(q.X-a.X)) < 0.01 && math.Abs(p.Y-a.Y) < far {
			levels = append(levels, p.Y)
		}
	}
	return levels
}
