package draw

import (
	"math"
	"slices"
)

// A Box is an upright rectangle.
type Box struct{ Min, Max Point }

// Width and Height are the sides of a box.
func (b Box) Width() float64  { return b.Max.X - b.Min.X }
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Meets reports whether two boxes have an area in common.
func (b Box) Meets(c Box) bool {
	return b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Holds reports whether all of a box lies in b.
func (b Box) Holds(c Box) bool {
	return c.Min.X >= b.Min.X && c.Max.X <= b.Max.X && c.Min.Y >= b.Min.Y && c.Max.Y <= b.Max.Y
}

// Grow is the box with its sides moved outwards.
func (b Box) Grow(by float64) Box {
	return Box{Point{b.Min.X - by, b.Min.Y - by}, Point{b.Max.X + by, b.Max.Y + by}}
}

// Move is the box moved by so much.
func (b Box) Move(dx, dy float64) Box {
	return Box{Point{b.Min.X + dx, b.Min.Y + dy}, Point{b.Max.X + dx, b.Max.Y + dy}}
}

// Corners are the corners of a box, in order around it.
func (b Box) Corners() []Point {
	return []Point{b.Min, {b.Max.X, b.Min.Y}, b.Max, {b.Min.X, b.Max.Y}}
}

// Move is the path moved by so much.
func (p Path) Move(dx, dy float64) Path {
	p.Steps = placed(p.Steps, Point{dx, dy}, 0, 1)
	return p
}

// Line is a line through points.
func Line(pen Pen, points ...Point) Path { return Path{Steps: through(points), Pen: pen} }

// Area is a closed line through points, filled.
func Area(fill Tone, pen Pen, points ...Point) Path {
	return Path{Steps: append(through(points), Step{Kind: Close}), Pen: pen, Fill: fill}
}

func through(points []Point) []Step {
	steps := make([]Step, len(points), len(points)+1)
	for i, p := range points {
		steps[i] = Step{Kind: Go, To: p}
	}
	if len(steps) > 0 {
		steps[0].Kind = Move
	}
	return steps
}

// Disc is a filled circle.
func Disc(fill Tone, centre Point, radius float64) Path {
	const k = 0.5522847498307936 // 4(√2 − 1)/3: a cubic curve then leaves a quarter circle by 0.03 % of its radius
	at := func(x, y float64) Point { return Point{centre.X + radius*x, centre.Y + radius*y} }
	quarter := func(x1, y1, x2, y2, x, y float64) Step {
		return Step{Kind: Curve, C1: at(x1, y1), C2: at(x2, y2), To: at(x, y)}
	}
	return Path{Fill: fill, Steps: []Step{
		{Kind: Move, To: at(1, 0)},
		quarter(1, k, k, 1, 0, 1), quarter(-k, 1, -1, k, -1, 0), quarter(-1, -k, -k, -1, 0, -1), quarter(k, -1, 1, -k, 1, 0),
		{Kind: Close},
	}}
}

// Hatch is parallel lines over the area of a polygon, so many millimetres apart and turned so many degrees anticlockwise from
// level. Lines of one angle and gap go on from one area to the next, wherever the areas lie.
func Hatch(pen Pen, turn, gap float64, polygon ...Point) Path {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	flat := make([]Point, len(polygon)) // turned so that the lines are level
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range polygon {
		flat[i] = Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
		low, high = min(low, flat[i].Y), max(high, flat[i].Y)
	}
	hatch := Path{Pen: pen}
	if len(polygon) < 3 {
		return hatch
	}
	for n := math.Ceil(low / gap); n*gap < high; n++ {
		y := n * gap
		xs := crossings(flat, y)
		for i := 0; i+1 < len(xs); i += 2 {
			for j, x := range xs[i : i+2] {
				kind := Move
				if j == 1 {
					kind = Go
				}
				hatch.Steps = append(hatch.Steps, Step{Kind: kind, To: Point{x*cos + y*sin, y*cos - x*sin}})
			}
		}
	}
	return hatch
}

// crossings are the places where a level line meets the sides of a polygon, from left to right: an even number, for a corner counts
// with the side that goes down from it alone.
func crossings(polygon []Point, y float64) []float64 {
	var xs []float64
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y <= y) == (b.Y <= y) {
			continue
		}
		xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
	}
	slices.Sort(xs)
	return xs
}

// placed is steps moved to a place, turned so many degrees anticlockwise about it and enlarged by a factor.
func placed(steps []Step, at Point, turn, factor float64) []Step {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	put := func(p Point) Point {
		return Point{at.X + factor*(p.X*cos+p.Y*sin), at.Y + factor*(p.Y*cos-p.X*sin)}
	}
	list := make([]Step, len(steps))
	for i, s := range steps {
		list[i] = Step{Kind: s.Kind, To: put(s.To), C1: put(s.C1), C2: put(s.C2)}
	}
	return list
}
