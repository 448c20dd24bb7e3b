package wiring

import (
	"math"

	"farend/draw"
	"farend/sheet/drafting"
)

// Symbols after IEC 60617, from descriptions of their shapes (memory: the database itself was not read). Lines go from left to right.

// The pens of diagrams. A line stands for both poles of a cable; the return by itself is long-dashed.
var (
	wirePen   = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	returnPen = draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{4, 1.4}}
	barPen    = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	framePen  = draw.Pen{Tone: draw.Graphite, Width: draw.Hair, Dash: []float64{5, 1, 0.6, 1}}
	dataPen   = draw.Pen{Tone: draw.Blueprint, Width: draw.Hair}
)

// The measures of symbols, in millimetres.
const (
	fuseLong   = 5.4
	fuseHigh   = 1.8 // three to one
	converter  = 12.0
	terminalAt = 0.8 // radius
)

// rectangle is the outline of a box.
func rectangle(fill draw.Tone, pen draw.Pen, x, y, width, height float64) draw.Path {
	return draw.Area(fill, pen, draw.Box{Min: draw.Point{X: x, Y: y}, Max: draw.Point{X: x + width, Y: y + height}}.Corners()...)
}

// fuseSymbol is a rectangle that its line goes through; the line is drawn by itself.
func fuseSymbol(centre draw.Point) draw.Path {
	return rectangle(draw.None, wirePen, centre.X-fuseLong/2, centre.Y-fuseHigh/2, fuseLong, fuseHigh)
}

// terminalSymbol is a small open circle, connectionSymbol the full dot of copper that joins.
func terminalSymbol(at draw.Point) []draw.Path {
	ring := draw.Disc(draw.Paper, at, terminalAt)
	ring.Pen = wirePen
	return []draw.Path{ring}
}

func connectionSymbol(at draw.Point) draw.Path { return draw.Disc(draw.Ink, at, 0.6) }

// contactSymbol is a make contact with the half circle of a contactor at its fixed end, over ground of its own, for the line has a gap there.
func contactSymbol(centre draw.Point) []draw.Path {
	const gap, lift, round = 5.0, 1.8, 0.7
	left, right := centre.X-gap/2, centre.X+gap/2
	half := draw.Path{Pen: wirePen, Steps: []draw.Step{{Kind: draw.Move, To: draw.Point{X: right, Y: centre.Y}}}}
	for i := 1; i <= 8; i++ {
		sin, cos := math.Sincos(float64(i) * math.Pi / 8)
		half.Steps = append(half.Steps, draw.Step{Kind: draw.Go, To: draw.Point{X: right - round + round*cos, Y: centre.Y - round*sin}})
	}
	return []draw.Path{
		rectangle(draw.Paper, draw.Pen{}, left, centre.Y-0.5, gap-2*round, 1),
		draw.Line(wirePen, draw.Point{X: left, Y: centre.Y}, draw.Point{X: right - 2*round - 0.2, Y: centre.Y - lift}),
		half,
	}
}

// converterSymbol is a square with a diagonal: a tilde where the mains comes in, a line over dashes where direct current goes out.
func converterSymbol(left, middle float64) []draw.Path {
	x, y := left, middle-converter/2
	wave := draw.Path{Pen: wirePen, Steps: []draw.Step{
		{Kind: draw.Move, To: draw.Point{X: x + 1.5, Y: y + 3.2}},
		{Kind: draw.Curve, C1: draw.Point{X: x + 2.6, Y: y + 1.2}, C2: draw.Point{X: x + 3.6, Y: y + 5.2}, To: draw.Point{X: x + 4.7, Y: y + 3.2}},
	}}
	from, to := x+converter-5, x+converter-1.6
	low := y + converter - 3.4
	return []draw.Path{
		rectangle(draw.None, barPen, x, y, converter, converter),
		draw.Line(wirePen, draw.Point{X: x, Y: y + converter}, draw.Point{X: x + converter, Y: y}),
		wave,
		draw.Line(wirePen, draw.Point{X: from, Y: low}, draw.Point{X: to, Y: low}),
		draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{0.8, 0.5}}, draw.Point{X: from, Y: low + 1.1}, draw.Point{X: to, Y: low + 1.1}),
	}
}

// lampSymbol is a lamp: a circle with a cross.
func lampSymbol(at draw.Point, radius float64) []draw.Path {
	ring := draw.Disc(draw.Paper, at, radius)
	ring.Pen = wirePen
	d := radius / math.Sqrt2
	return []draw.Path{ring,
		draw.Line(wirePen, draw.Point{X: at.X - d, Y: at.Y - d}, draw.Point{X: at.X + d, Y: at.Y + d}),
		draw.Line(wirePen, draw.Point{X: at.X - d, Y: at.Y + d}, draw.Point{X: at.X + d, Y: at.Y - d}),
	}
}

// capacitorSymbol is two plates across a short line to the right of a place.
func capacitorSymbol(at draw.Point) []draw.Path {
	return []draw.Path{
		draw.Line(wirePen, at, draw.Point{X: at.X + 1, Y: at.Y}),
		draw.Line(barPen, draw.Point{X: at.X + 1, Y: at.Y - 1.1}, draw.Point{X: at.X + 1, Y: at.Y + 1.1}),
		draw.Line(barPen, draw.Point{X: at.X + 1.9, Y: at.Y - 1.1}, draw.Point{X: at.X + 1.9, Y: at.Y + 1.1}),
	}
}

// coresSymbol marks a line with a short stroke for each pole that it stands for.
func coresSymbol(at draw.Point, poles int) []draw.Path {
	var list []draw.Path
	for i := range poles {
		x := at.X + float64(i)*0.9
		list = append(list, draw.Line(drafting.FaintPen, draw.Point{X: x - 0.5, Y: at.Y + 0.9}, draw.Point{X: x + 0.5, Y: at.Y - 0.9}))
	}
	return list
}

// resistorSymbol is a rectangle that no line goes through.
func resistorSymbol(centre draw.Point) draw.Path {
	return rectangle(draw.Paper, wirePen, centre.X-2.4, centre.Y-0.9, 4.8, 1.8)
}
