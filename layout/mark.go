package layout

import (
	"math"

	"farend/draw"
)

// Head is the head of an arrow at a place, coming from another: slender and filled (ISO 129-1 draws it at 15°).
func Head(tone draw.Tone, from, at draw.Point) draw.Path {
	const length, half = 2.2, 0.3
	dx, dy := direction(from, at)
	back := draw.Point{X: at.X - length*dx, Y: at.Y - length*dy}
	return draw.Area(tone, draw.Pen{}, at, draw.Point{X: back.X - half*dy, Y: back.Y + half*dx}, draw.Point{X: back.X + half*dy, Y: back.Y - half*dx})
}

// direction is the unit vector from one place to another; to the right where they are one.
func direction(from, to draw.Point) (dx, dy float64) {
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	if length == 0 {
		return 1, 0
	}
	return (to.X - from.X) / length, (to.Y - from.Y) / length
}

// A Dimension is a length said beside what has it: the line so many millimetres to the left of the way from A to B (to the right where
// negative), extension lines to it, and words over its middle, to be read from below or from the right (ISO 129-1).
type Dimension struct {
	A, B  draw.Point
	Away  float64
	Words string
}

// dimensionPen draws dimensions.
var dimensionPen = draw.Pen{Tone: draw.Graphite, Width: draw.Hair}

// Ends are the ends of the dimension line.
func (d Dimension) Ends() (a, b draw.Point) {
	dx, dy := direction(d.A, d.B)
	by := func(p draw.Point) draw.Point { return draw.Point{X: p.X + d.Away*dy, Y: p.Y - d.Away*dx} }
	return by(d.A), by(d.B)
}

// Text is the words where they stand; they are above the line.
func (d Dimension) Text() draw.Text {
	a, b := d.Ends()
	turn := math.Atan2(a.Y-b.Y, b.X-a.X) * 180 / math.Pi
	switch { // never upside down
	case turn > 90+1e-9:
		turn -= 180
	case turn <= -90+1e-9:
		turn += 180
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	const over = 0.8
	return draw.Text{
		At:    draw.Point{X: (a.X+b.X)/2 - over*sin, Y: (a.Y+b.Y)/2 - over*cos},
		Words: d.Words, Size: draw.Smallest, Anchor: draw.Middle, Turn: turn, Tone: draw.Graphite,
	}
}

// Draw adds the dimension to a layer. Where the line is too short for its arrows they point at it from outside.
func (d Dimension) Draw(layer *draw.Layer) {
	a, b := d.Ends()
	dx, dy := direction(a, b)
	beyond := math.Copysign(1.2, d.Away)
	for _, end := range [][2]draw.Point{{d.A, a}, {d.B, b}} {
		layer.Paths = append(layer.Paths, draw.Line(dimensionPen, end[0], draw.Point{X: end[1].X + beyond*dy, Y: end[1].Y - beyond*dx}))
	}
	const arrows, outside = 6, 4
	if length := math.Hypot(b.X-a.X, b.Y-a.Y); length >= arrows {
		layer.Paths = append(layer.Paths, draw.Line(dimensionPen, a, b), Head(draw.Graphite, b, a), Head(draw.Graphite, a, b))
	} else {
		before, after := draw.Point{X: a.X - outside*dx, Y: a.Y - outside*dy}, draw.Point{X: b.X + outside*dx, Y: b.Y + outside*dy}
		layer.Paths = append(layer.Paths, draw.Line(dimensionPen, before, after), Head(draw.Graphite, before, a), Head(draw.Graphite, after, b))
	}
	layer.Texts = append(layer.Texts, d.Text())
}
