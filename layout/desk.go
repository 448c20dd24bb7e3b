package layout

import (
	"math"

	"farend/draw"
)

// A Desk puts labels where none covers another, and as few lines as can be run under them.
type Desk struct {
	Room  draw.Box
	Taken []draw.Box
	lines [][2]draw.Point
	words []draw.Box // of what is taken, the labels that it has put

	taken, under, said *grid // where what is taken, the lines and the words are, as far as they have been looked for
}

// look brings the grids up to date.
func (d *Desk) look() {
	if d.taken == nil {
		d.taken, d.under, d.said = newGrid(d.Room), newGrid(d.Room), newGrid(d.Room)
	}
	for _, box := range d.Taken[len(d.taken.met):] {
		d.taken.add(box)
	}
	for _, l := range d.lines[len(d.under.met):] {
		d.under.addLine(l[0], l[1])
	}
	for _, box := range d.words[len(d.said.met):] {
		d.said.add(box)
	}
}

// Gap is the least distance between labels, in millimetres.
const Gap = 0.8

// between is the least distance of labels in one line, in millimetres: about two letters, or they read as one.
const between = 2.4

// Under notes lines that labels should keep away from.
func (d *Desk) Under(points ...draw.Point) {
	for i := range points[:max(len(points)-1, 0)] {
		d.lines = append(d.lines, [2]draw.Point{points[i], points[i+1]})
	}
}

// Put gives a label the best of some places: free, and over the fewest lines; of those alike the first. Where none of them is free
// it takes the free place nearest to the first, anywhere on the desk. It is not ok where the desk is full.
func (d *Desk) Put(label draw.Text, places ...draw.Point) (draw.Text, bool) {
	best, found := d.best(label, places)
	if !found && len(places) > 0 {
		best, found = d.nearest(label, places[0])
	}
	if !found {
		return label, false
	}
	label.At = best
	d.Set(label)
	return label, true
}

// Set notes a label that has its place.
func (d *Desk) Set(label draw.Text) {
	d.Taken = append(d.Taken, label.Box())
	d.words = append(d.words, label.Box())
}

func (d *Desk) best(label draw.Text, places []draw.Point) (best draw.Point, found bool) {
	best, _, found = d.search(label, places)
	return best, found
}

// Least is the fewest lines that a label can have under it; math.MaxInt where none of its places is free.
func (d *Desk) Least(label draw.Text, places []draw.Point) int {
	if _, fewest, found := d.search(label, places); found {
		return fewest
	}
	return math.MaxInt
}

func (d *Desk) search(label draw.Text, places []draw.Point) (best draw.Point, fewest int, found bool) {
	label.At = draw.Point{}
	outline := label.Box().Grow(Gap / 2)
	fewest = math.MaxInt - 1
	for _, at := range places {
		box := outline.Move(at.X, at.Y)
		if !d.free(box) {
			continue
		}
		if n := d.crossed(box.Grow(Gap/2), fewest); n < fewest {
			best, fewest, found = at, n, true
		}
	}
	return best, fewest, found
}

// nearest searches the desk in steps of two millimetres.
func (d *Desk) nearest(label draw.Text, from draw.Point) (best draw.Point, found bool) {
	const step = 2
	lowest := 0.0
	label.At = draw.Point{}
	outline := label.Box().Grow(Gap / 2)
	for y := d.Room.Min.Y; y < d.Room.Max.Y; y += step {
		for x := d.Room.Min.X; x < d.Room.Max.X; x += step {
			box := outline.Move(x, y)
			if !d.free(box) {
				continue
			}
			const worth = 400 // square millimetres of distance that one line less is worth
			cost := (x-from.X)*(x-from.X) + (y-from.Y)*(y-from.Y) + worth*float64(d.crossed(box, math.MaxInt-1))
			if !found || cost < lowest {
				best, lowest, found = draw.Point{X: x, Y: y}, cost, true
			}
		}
	}
	return best, found
}

func (d *Desk) free(box draw.Box) bool {
	if !d.Room.Holds(box) {
		return false
	}
	d.look()
	free := true
	d.taken.each(box.Grow(Gap), func(i int) bool {
		free = !box.Meets(d.Taken[i].Grow(Gap / 2))
		return free
	})
	if !free {
		return false
	}
	d.said.each(box.Grow(between), func(i int) bool {
		other := d.words[i]
		shared := min(box.Max.Y, other.Max.Y) - max(box.Min.Y, other.Min.Y)
		apart := max(box.Min.X-other.Max.X, other.Min.X-box.Max.X) + Gap/2 // which the box has more than its words
		free = shared <= other.Height()/2 || apart >= between
		return free
	})
	return free
}

// crossed counts the lines that a box would cover, up to one more than so many.
func (d *Desk) crossed(box draw.Box, most int) int {
	d.look()
	n := 0
	d.under.each(box, func(i int) bool {
		if low, high := Inside(d.lines[i][0], d.lines[i][1], box); low < high {
			n++
		}
		return n <= most
	})
	return n
}

// Inside is the share of a line, from low to high, that lies in a box; none does where low is not less than high (the cutting of Liang
// and Barsky, 1984).
func Inside(p, q draw.Point, box draw.Box) (low, high float64) {
	low, high = 0, 1
	for _, side := range [][2]float64{{p.X - q.X, p.X - box.Min.X}, {q.X - p.X, box.Max.X - p.X}, {p.Y - q.Y, p.Y - box.Min.Y}, {q.Y - p.Y, box.Max.Y - p.Y}} {
		switch run, room := side[0], side[1]; {
		case run < 0:
			low = max(low, room/run)
		case run > 0:
			high = min(high, room/run)
		case room < 0:
			return 1, 0
		}
	}
	return low, high
}
