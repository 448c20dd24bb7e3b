package draw

import "math"

// A piece is points from one to the next, closed or not.
type piece struct {
	points []Point
	closed bool
}

// pieces are the parts of a path between one move and the next. Curves are made of straight lines that leave them by no more than
// what is given; a point that lies on the one before it is left out, and so is a piece of one point.
func pieces(steps []Step, within float64) (list []piece) {
	var now piece
	end := func(closed bool) {
		if n := len(now.points); closed && n > 1 && now.points[n-1] == now.points[0] {
			now.points = now.points[:n-1]
		}
		if now.closed = closed; len(now.points) > 1 {
			list = append(list, now)
		}
	}
	add := func(p Point) {
		if p != now.points[len(now.points)-1] {
			now.points = append(now.points, p)
		}
	}
	for i, s := range steps {
		switch s.Kind {
		case Move:
			if i > 0 {
				end(false)
			}
			now = piece{points: []Point{s.To}}
		case Go:
			add(s.To)
		case Curve:
			for _, p := range straightened(now.points[len(now.points)-1], s, within) {
				add(p)
			}
		case Close:
			end(true)
			now = piece{points: []Point{now.points[0]}}
		}
	}
	if len(steps) > 0 {
		end(false)
	}
	return list
}

// straightened is a curve as so many straight lines that none leaves it by more than what is given: the second derivative of a cubic
// Bézier curve is at most 6 times the larger of its second differences, and a chord over a share h leaves it by at most h²/8 of that.
func straightened(from Point, s Step, within float64) []Point {
	bend := max(math.Hypot(from.X-2*s.C1.X+s.C2.X, from.Y-2*s.C1.Y+s.C2.Y), math.Hypot(s.C1.X-2*s.C2.X+s.To.X, s.C1.Y-2*s.C2.Y+s.To.Y))
	n := max(1, int(math.Ceil(math.Sqrt(6*bend/(8*within)))))
	list := make([]Point, n)
	for i := range list {
		t := float64(i+1) / float64(n)
		u := 1 - t
		list[i] = Point{
			u*u*u*from.X + 3*u*u*t*s.C1.X + 3*u*t*t*s.C2.X + t*t*t*s.To.X,
			u*u*u*from.Y + 3*u*u*t*s.C1.Y + 3*u*t*t*s.C2.Y + t*t*t*s.To.Y,
		}
	}
	list[n-1] = s.To
	return list
}
