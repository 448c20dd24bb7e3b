package sheet

import (
	"math"

	"farend/draw"
)

// A desk puts labels where none covers another, and as few lines as can be run under them.
type desk struct {
	room  draw.Box
	taken []draw.Box
	lines [][2]draw.Point
}

// gap is the least distance between labels, in millimetres.
const gap = 0.8

// under notes lines that labels should keep away from.
func (d *desk) under(points ...draw.Point) {
	for i := range points[:max(len(points)-1, 0)] {
		d.lines = append(d.lines, [2]draw.Point{points[i], points[i+1]})
	}
}

// put gives a label the best of some places: free, and over the fewest lines; of those alike the first. Where none of them is free
// it takes the free place nearest to the first, anywhere on the desk. It is not ok where the desk is full.
func (d *desk) put(label draw.Text, places ...draw.Point) (draw.Text, bool) {
	best, found := d.best(label, places)
	if !found && len(places) > 0 {
		best, found = d.nearest(label, places[0])
	}
	if !found {
		return label, false
	}
	label.At = best
	d.taken = append(d.taken, label.Box())
	return label, true
}

func (d *desk) best(label draw.Text, places []draw.Point) (best draw.Point, found bool) {
	best, _, found = d.search(label, places)
	return best, found
}

// least is the fewest lines that a label can have under it; math.MaxInt where none of its places is free.
func (d *desk) least(label draw.Text, places []draw.Point) int {
	if _, fewest, found := d.search(label, places); found {
		return fewest
	}
	return math.MaxInt
}

func (d *desk) search(label draw.Text, places []draw.Point) (best draw.Point, fewest int, found bool) {
	label.At = draw.Point{}
	outline := label.Box().Grow(gap / 2)
	for _, at := range places {
		box := outline.Move(at.X, at.Y)
		if !d.free(box) {
			continue
		}
		if n := d.crossed(box.Grow(gap / 2)); !found || n < fewest {
			best, fewest, found = at, n, true
		}
	}
	return best, fewest, found
}

// nearest searches the desk in steps of two millimetres.
func (d *desk) nearest(label draw.Text, from draw.Point) (best draw.Point, found bool) {
	const step = 2
	var places []draw.Point
	for y := d.room.Min.Y; y < d.room.Max.Y; y += step {
		for x := d.room.Min.X; x < d.room.Max.X; x += step {
			places = append(places, draw.Point{X: x, Y: y})
		}
	}
	lowest := 0.0
	label.At = draw.Point{}
	outline := label.Box().Grow(gap / 2)
	for _, at := range places {
		box := outline.Move(at.X, at.Y)
		if !d.free(box) {
			continue
		}
		const worth = 400 // square millimetres of distance that one line less is worth
		cost := (at.X-from.X)*(at.X-from.X) + (at.Y-from.Y)*(at.Y-from.Y) + worth*float64(d.crossed(box))
		if !found || cost < lowest {
			best, lowest, found = at, cost, true
		}
	}
	return best, found
}

func (d *desk) free(box draw.Box) bool {
	if !d.room.Holds(box) {
		return false
	}
	for _, other := range d.taken {
		if box.Meets(other.Grow(gap / 2)) {
			return false
		}
	}
	return true
}

func (d *desk) crossed(box draw.Box) int {
	n := 0
	for _, l := range d.lines {
		if low, high := inside(l[0], l[1], box); low < high {
			n++
		}
	}
	return n
}
