package draw

import (
	"math"
	"slices"
)

// raster says how much of every dot lies within closed lines, exactly: it keeps a cell for each dot that an edge goes through, and
// what lies between two cells of a row is all in or all out. Places are in dots from the upper left corner, y downwards.
type raster struct {
	width, height int
	cells         []cell
}

// A cell is what edges do in one dot.
type cell struct {
	at    int     // row times width, and column
	cover float64 // how far they go down in it, less how far up; what lies to the right of the dot is inside by so much
	area  float64 // the area between them and the right side of the dot
}

// closed adds the edges around an area.
func (r *raster) closed(points []Point) {
	for i, a := range points {
		r.edge(a, points[(i+1)%len(points)])
	}
}

// edge adds a line. What lies above, below or to the right of the picture changes nothing in it; what lies to the left counts at its left side.
func (r *raster) edge(a, b Point) {
	right, bottom := float64(r.width), float64(r.height)
	if a.Y == b.Y || max(a.Y, b.Y) <= 0 || min(a.Y, b.Y) >= bottom {
		return
	}
	a, b = cut(a, b, 0, bottom), cut(b, a, 0, bottom)
	for _, side := range []float64{0, right} {
		if (a.X < side) != (b.X < side) && a.X != side && b.X != side {
			m := Point{side, a.Y + (b.Y-a.Y)*(side-a.X)/(b.X-a.X)}
			r.edge(a, m)
			r.edge(m, b)
			return
		}
	}
	if min(a.X, b.X) >= right {
		return
	}
	a.X, b.X = max(a.X, 0), max(b.X, 0)
	r.rows(a, b)
}

// cut is the end a of a line, moved along it until it lies between two levels.
func cut(a, b Point, top, bottom float64) Point {
	y := min(max(a.Y, top), bottom)
	if y == a.Y {
		return a
	}
	return Point{a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), y}
}

// rows adds a line within the picture, row by row.
func (r *raster) rows(a, b Point) {
	sign := 1.0
	if b.Y < a.Y {
		a, b, sign = b, a, -1
	}
	slope := (b.X - a.X) / (b.Y - a.Y)
	x, y := a.X, a.Y
	for row := int(a.Y); y < b.Y && row < r.height; row++ {
		end := min(float64(row+1), b.Y)
		next := min(max(a.X+(end-a.Y)*slope, min(a.X, b.X)), max(a.X, b.X))
		if end == b.Y {
			next = b.X
		}
		r.columns(row, x, next, sign*(end-y))
		x, y = next, end
	}
}

// columns adds a line within a row that goes down by so much between two places.
func (r *raster) columns(row int, from, to, down float64) {
	if from > to {
		from, to = to, from // areas do not tell which way it goes
	}
	whole := to - from
	for column := int(from); column < r.width; column++ {
		end := min(float64(column+1), to)
		part := down
		if whole > 0 {
			part = down * (end - from) / whole
		}
		middle := (from + end) / 2
		r.cells = append(r.cells, cell{row*r.width + column, part, part * (float64(column+1) - middle)})
		if end >= to {
			return
		}
		from = end
	}
}

// fill tells for every stretch of dots how much of each lies inside, from 0 to 1, and forgets the edges. By the even-odd rule what
// is inside twice is outside; otherwise whatever edges go around is inside.
func (r *raster) fill(evenOdd bool, paint func(row, from, to int, share float64)) {
	slices.SortFunc(r.cells, func(a, b cell) int { return a.at - b.at })
	share := func(v float64) float64 {
		v = math.Abs(v)
		if evenOdd {
			if v = math.Mod(v, 2); v > 1 {
				v = 2 - v
			}
		}
		return min(v, 1)
	}
	row, next, inside := -1, 0, 0.0
	for i := 0; i < len(r.cells); {
		at := r.cells[i].at
		cover, area := 0.0, 0.0
		for ; i < len(r.cells) && r.cells[i].at == at; i++ {
			cover += r.cells[i].cover
			area += r.cells[i].area
		}
		if at/r.width != row {
			if row >= 0 {
				paint(row, next, r.width, share(inside))
			}
			row, next, inside = at/r.width, 0, 0
		}
		column := at % r.width
		paint(row, next, column, share(inside))
		paint(row, column, column+1, share(inside+area))
		inside += cover
		next = column + 1
	}
	if row >= 0 {
		paint(row, next, r.width, share(inside))
	}
	r.cells = r.cells[:0]
}
