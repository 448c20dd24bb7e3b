package sheet

import (
	"math"

	"farend/draw"
)

// simplified leaves out the points of a line that lie within a distance of the straight line between those that stay (Douglas and Peucker,
// 1973). It keeps its first and its last point, and leaves the line that it was given as it was.
func simplified(points []draw.Point, within float64) (left []draw.Point) {
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
	length := math.Hypot(dx, dy)
	if length == 0 {
		return math.Hypot(p.X-a.X, p.Y-a.Y)
	}
	return math.Abs((p.X-a.X)*dy-(p.Y-a.Y)*dx) / length
}
