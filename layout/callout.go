package layout

import (
	"math"

	"farend/draw"
)

// A Callout is a label with the line that leads from what it names to it; without one where it stands close by.
type Callout struct {
	Text draw.Text
	Line []draw.Point
}

// Close is up to how far from its place a label needs no line, in millimetres.
const Close = 2.6

// mostUnder is the most lines that a label that is called may have under it. A line that none shall cover is noted more often (Under).
const mostUnder = 2

// rings are the distances at which places for a label are tried.
var rings = []float64{1.1, 2.4, 4.5, 7, 10, 13.5, 17.5, 22, 27, 33, 40}

// turns are the directions that are tried, in sixteenths of a turn: above, below, right and left first.
var turns = []int{4, 12, 0, 8, 2, 6, 10, 14, 1, 3, 5, 7, 9, 11, 13, 15}

// Call puts a label near the first of some places of what it names, or near another, at most so many millimetres away: free, over few
// lines, near, and with a line to it that goes through no label. It is not ok where there is no such place. What is put later keeps off
// the line.
func (d *Desk) Call(label draw.Text, far float64, places ...draw.Point) (Callout, bool) {
	label.At = draw.Point{}
	outline := label.Box()
	best, lowest := Callout{}, math.Inf(1)
	for i, at := range places {
		for _, ring := range rings {
			base := ring + 0.7*float64(i)
			if ring > far || base >= lowest {
				break
			}
			for n, turn := range turns {
				if ring < 4 && n >= 8 {
					break
				}
				moved := around(outline, at, ring, float64(turn)*math.Pi/8)
				cost, line, ok := d.weigh(outline.Move(moved.X, moved.Y), at, ring)
				if ok && base+cost < lowest {
					label.At = moved
					best, lowest = Callout{label, line}, base+cost
				}
			}
		}
	}
	if math.IsInf(lowest, 1) {
		return Callout{}, false
	}
	d.Set(best.Text)
	d.block(best.Line)
	return best, true
}

// around is where the origin of an outline comes to lie so that the outline is so far from a place, in a direction from it.
func around(outline draw.Box, at draw.Point, ring, turn float64) draw.Point {
	sin, cos := math.Sincos(turn)
	side := func(v float64) float64 { // −1, 0 or 1, softly: whether the box hangs on its side, its middle or its corner
		return max(-1, min(1, 1.6*v))
	}
	middle := draw.Point{
		X: at.X + ring*cos + side(cos)*outline.Width()/2,
		Y: at.Y - ring*sin - side(sin)*outline.Height()/2,
	}
	return draw.Point{X: middle.X - (outline.Min.X+outline.Max.X)/2, Y: middle.Y - (outline.Min.Y+outline.Max.Y)/2}
}

// weigh is what a box costs beyond its distance, with the line to it.
func (d *Desk) weigh(box draw.Box, at draw.Point, ring float64) (cost float64, line []draw.Point, ok bool) {
	const under, crossing = 7, 1.2 // millimetres of distance that a line under a label, and one that is crossed, are worth
	if !d.free(box.Grow(Gap / 2)) {
		return 0, nil, false
	}
	ok = true
	n := d.crossed(box.Grow(0.3), mostUnder)
	if n > mostUnder {
		return 0, nil, false
	}
	cost = under * float64(n)
	if ring <= Close {
		return cost, nil, true
	}
	to := draw.Point{X: max(box.Min.X-0.4, min(box.Max.X+0.4, at.X)), Y: max(box.Min.Y-0.2, min(box.Max.Y+0.2, at.Y))}
	about := draw.Box{Min: draw.Point{X: min(at.X, to.X), Y: min(at.Y, to.Y)}, Max: draw.Point{X: max(at.X, to.X), Y: max(at.Y, to.Y)}}.Grow(1)
	d.taken.each(about, func(i int) bool {
		ok = !d.through(at, to, d.Taken[i])
		return ok
	})
	if ok {
		d.said.each(about, func(i int) bool {
			low, high := Inside(at, to, d.words[i])
			ok = low >= high
			return ok
		})
	}
	if !ok {
		return 0, nil, false
	}
	d.under.each(about, func(i int) bool {
		if meet(at, to, d.lines[i][0], d.lines[i][1]) {
			cost += crossing
		}
		return true
	})
	return cost + 1, []draw.Point{at, to}, true
}

// through reports whether a line goes through something that stands there, or grazes it. It may come out of the middle of a dot, and of the
// edge of a symbol; a line from one side of a symbol to the other crosses its words.
func (d *Desk) through(at, to draw.Point, other draw.Box) bool {
	const graze, dot, edge = 0.3, 2.0, 0.6
	begin := draw.Box{Min: at, Max: at}
	if other.Holds(begin) {
		low, high := Inside(at, to, other)
		out := edge
		if math.Hypot(other.Min.X+other.Max.X-2*at.X, other.Min.Y+other.Max.Y-2*at.Y) < 0.2 {
			out = dot
		}
		return (high-low)*math.Hypot(to.X-at.X, to.Y-at.Y) > out
	}
	if other.Grow(graze).Holds(begin) {
		low, high := Inside(at, to, other) // what it begins beside it may leave, not enter
		return low < high
	}
	low, high := Inside(at, to, other.Grow(graze))
	return low < high
}

// block keeps labels off a line, but for its beginning, where others may begin too.
func (d *Desk) block(line []draw.Point) {
	if len(line) < 2 {
		return
	}
	a, b := line[0], line[1]
	const step = 1.0
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	for s := step; s < length; s += step {
		at := draw.Point{X: a.X + (b.X-a.X)*s/length, Y: a.Y + (b.Y-a.Y)*s/length}
		d.Taken = append(d.Taken, draw.Box{Min: at, Max: at}.Grow(0.15))
	}
}

// meet reports whether two lines cross between their ends.
func meet(a, b, c, d draw.Point) bool {
	side := func(p, q, r draw.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
