package drafting

import (
	"math"

	"farend/draw"
	"farend/layout"
)

// A Trail is a line on paper.
type Trail []draw.Point

// Length is how long a trail is, in millimetres.
func (t Trail) Length() (sum float64) {
	for i := 1; i < len(t); i++ {
		sum += Apart(t[i-1], t[i])
	}
	return sum
}

// At is the point at a share of the way along a trail, and the direction there, of length 1.
func (t Trail) At(share float64) (at, ahead draw.Point) {
	left, ahead := share*t.Length(), draw.Point{X: 1}
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		piece := Apart(a, b)
		if piece == 0 {
			continue
		}
		ahead = draw.Point{X: (b.X - a.X) / piece, Y: (b.Y - a.Y) / piece}
		if left <= piece {
			return draw.Point{X: a.X + ahead.X*left, Y: a.Y + ahead.Y*left}, ahead
		}
		left -= piece
	}
	return t[len(t)-1], ahead
}

// Box is the upright rectangle about a trail.
func (t Trail) Box() draw.Box {
	box := draw.Box{Min: draw.Point{X: math.Inf(1), Y: math.Inf(1)}, Max: draw.Point{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, p := range t {
		box = Joined(box, draw.Box{Min: p, Max: p})
	}
	return box
}

// Every is the middles of so many equal pieces of a trail.
func (t Trail) Every(count int) []draw.Point {
	points := make([]draw.Point, count)
	pitch := t.Length() / float64(count)
	i, gone := 1, 0.0
	for k := range points {
		left := (float64(k) + 0.5) * pitch
		for i < len(t)-1 && gone+Apart(t[i-1], t[i]) < left {
			gone += Apart(t[i-1], t[i])
			i++
		}
		a, b := t[i-1], t[i]
		u := 0.0
		if piece := Apart(a, b); piece > 0 {
			u = min(1, (left-gone)/piece)
		}
		points[k] = draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y + u*(b.Y-a.Y)}
	}
	return points
}

// Clipped is what of a trail lies in a box, in pieces.
func (t Trail) Clipped(box draw.Box) (pieces []Trail) {
	var piece Trail
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		low, high := layout.Inside(a, b, box)
		if low >= high {
			piece = nil
			continue
		}
		at := func(u float64) draw.Point {
			switch u {
			case 0:
				return a
			case 1:
				return b
			}
			return draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y + u*(b.Y-a.Y)}
		}
		if piece == nil || low > 0 {
			pieces = append(pieces, Trail{at(low)})
		}
		last := len(pieces) - 1
		pieces[last] = append(pieces[last], at(high))
		piece = pieces[last]
		if high < 1 {
			piece = nil
		}
	}
	return pieces
}

// Outside is what of a trail lies in none of some boxes, in pieces.
func (t Trail) Outside(boxes ...draw.Box) (pieces []Trail) {
	pieces = []Trail{t}
	for _, box := range boxes {
		var left []Trail
		for _, piece := range pieces {
			left = append(left, piece.without(box)...)
		}
		pieces = left
	}
	return pieces
}

// without is what of a trail does not lie in a box, in pieces.
func (t Trail) without(box draw.Box) (pieces []Trail) {
	var piece Trail
	end := func() {
		if len(piece) > 1 {
			pieces = append(pieces, piece)
		}
		piece = nil
	}
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		low, high := layout.Inside(a, b, box)
		if low >= high {
			low, high = 1, 1
		}
		at := func(u float64) draw.Point { return draw.Point{X: a.X + u*(b.X-a.X), Y: a.Y + u*(b.Y-a.Y)} }
		if low > 0 {
			if piece == nil {
				piece = Trail{a}
			}
			piece = append(piece, at(low))
		}
		if low < 1 {
			end()
		}
		if low < 1 && high < 1 {
			piece = Trail{at(high), b}
		}
	}
	end()
	return pieces
}

// Simplified leaves out the points of a line that lie within a distance of the straight line between those that stay (Douglas and Peucker,
// 1973). It keeps its first and its last point, and leaves the line that it was given as it was.
func Simplified(points []draw.Point, within float64) (left []draw.Point) {
	keep := make([]bool, len(points))
	for todo := [][2]int{{0, len(points) - 1}}; len(todo) > 0; {
		from, to := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		best, far := -1, within
		for k := from + 1; k < to; k++ {
			if d := offLine(points[k], points[from], points[to]); d > far {
				best, far = k, d
			}
		}
		if best > 0 {
			keep[best] = true
			todo = append(todo, [2]int{from, best}, [2]int{best, to})
		}
	}
	for k, at := range points {
		if keep[k] || k == 0 || k == len(points)-1 {
			left = append(left, at)
		}
	}
	return left
}

// offLine is how far a point is from the straight line through two others, and from these where they are one.
func offLine(p, a, b draw.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := Apart(a, b)
	if length == 0 {
		return Apart(p, a)
	}
	return math.Abs((p.X-a.X)*dy-(p.Y-a.Y)*dx) / length
}

// Apart is how far two points are from each other.
func Apart(a, b draw.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// Aside is a place so far to the left of another, looking ahead.
func Aside(at, ahead draw.Point, by float64) draw.Point {
	return draw.Point{X: at.X + by*ahead.Y, Y: at.Y - by*ahead.X}
}

// Joined is the rectangle about two.
func Joined(a, b draw.Box) draw.Box {
	return draw.Box{
		Min: draw.Point{X: min(a.Min.X, b.Min.X), Y: min(a.Min.Y, b.Min.Y)},
		Max: draw.Point{X: max(a.Max.X, b.Max.X), Y: max(a.Max.Y, b.Max.Y)},
	}
}
