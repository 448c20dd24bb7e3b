package draw

import "math"

// stroke is the areas that a line of some width covers, all of one direction: one for each straight part, and one for each corner.
func stroke(p piece, width float64) (areas [][]Point) {
	half := width / 2
	n := len(p.points)
	sides := n - 1
	if p.closed && n > 2 {
		sides = n
	}
	normal := make([]Point, sides) // to the left of each part, half the width long
	for i := range sides {
		a, b := p.points[i], p.points[(i+1)%n]
		d := half / math.Hypot(b.X-a.X, b.Y-a.Y)
		v := Point{(b.Y - a.Y) * d, (a.X - b.X) * d}
		normal[i] = v
		areas = append(areas, []Point{{a.X + v.X, a.Y + v.Y}, {b.X + v.X, b.Y + v.Y}, {b.X - v.X, b.Y - v.Y}, {a.X - v.X, a.Y - v.Y}})
	}
	for i := range sides {
		if i == 0 && sides < n {
			continue // the beginning of an open line
		}
		if corner := joined(p.points[i], normal[(i+sides-1)%sides], normal[i]); corner != nil {
			areas = append(areas, corner)
		}
	}
	return areas
}

// joined is what a corner needs beside its two parts: a point, or a flat end where the point would be longer than mitre allows.
func joined(at, u, v Point) []Point {
	turn := u.X*v.Y - u.Y*v.X
	if turn == 0 {
		return nil
	}
	if turn < 0 { // the outer side is the other one
		u, v = Point{-v.X, -v.Y}, Point{-u.X, -u.Y}
	}
	corner := []Point{at, {at.X + u.X, at.Y + u.Y}}
	// With half the angle of the turn, |u+v| = 2·|u|·cos; the point lies |u|/cos away, and the mitre is 1/cos widths long.
	along := Point{u.X + v.X, u.Y + v.Y}
	square, far := u.X*u.X+u.Y*u.Y, along.X*along.X+along.Y*along.Y
	if 4*square <= mitre*mitre*far {
		k := 2 * square / far
		corner = append(corner, Point{at.X + along.X*k, at.Y + along.Y*k})
	}
	return append(corner, Point{at.X + v.X, at.Y + v.Y})
}

// dashed is a line as its dashes. They begin anew with every piece.
func dashed(p piece, pattern []float64) (list []piece) {
	points := p.points
	if p.closed {
		points = append(points[:len(points):len(points)], points[0])
	}
	k, left := 0, pattern[0] // which entry of the pattern, and how much of it is left
	now := piece{points: points[:1:1]}
	on := true
	turnOver := func(at Point) {
		if on && len(now.points) > 1 {
			list = append(list, now)
		}
		k++
		left, on = pattern[k%len(pattern)], !on
		now = piece{points: []Point{at}}
	}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		gone := 0.0
		for left < length-gone {
			gone += left
			at := Point{a.X + (b.X-a.X)*gone/length, a.Y + (b.Y-a.Y)*gone/length}
			if left > 0 {
				now.points = append(now.points, at)
			}
			turnOver(at)
		}
		left -= length - gone
		now.points = append(now.points, b)
	}
	if on && len(now.points) > 1 {
		list = append(list, now)
	}
	return list
}
