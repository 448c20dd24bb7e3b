package chart

import (
	"math"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/unit"
)

// axes are those of a picture over two quantities by their logarithms: of the time-current picture amperes to the right and seconds upwards.
type axes struct {
	plot   draw.Box
	across [2]int // powers of ten at the left and right edges
	up     [2]int // at the bottom and the top
}

// A scale is what is counted along one of them: its name, and how a power of ten is written.
type scale struct {
	name   string
	number func(power int) string
}

// newAxes has whole decades from 0.1 A, so that pages compare, or from less where something smaller is shown, to the largest of the
// currents; and the times from 1 ms to 10,000 s. Currents that nothing has, below 1 pA and above 1 MA, lie on its edges.
func newAxes(plot draw.Box, currents ...float64) axes {
	a := axes{plot: plot, across: [2]int{-1, 2}, up: [2]int{-3, 4}}
	const room, least, most = 0.02, -12, 6 // room is before the edge; all in decades
	for _, v := range currents {
		if v > 0 {
			at := min(max(math.Log10(v), least+room), most-room)
			a.across[0] = min(a.across[0], int(math.Floor(at-room)))
			a.across[1] = max(a.across[1], int(math.Ceil(at+room)))
		}
	}
	return a
}

// x is the place of a current, y that of a time, both no further than the edges of the plot.
func (a axes) x(amps float64) float64 {
	return a.plot.Min.X + a.plot.Width()*share(amps, a.across)
}

func (a axes) y(seconds float64) float64 {
	return a.plot.Max.Y - a.plot.Height()*share(seconds, a.up)
}

// share is how far along decades a number lies, from 0 to 1.
func share(v float64, decades [2]int) float64 {
	if !(v > 0) {
		return 0
	}
	return min(max((math.Log10(v)-float64(decades[0]))/float64(decades[1]-decades[0]), 0), 1)
}

// straight is the piece of a straight line over the logarithms that lies on the plot; ok is false where none does.
func (a axes) straight(i1 unit.Ampere, t1 unit.Second, i2 unit.Ampere, t2 unit.Second) (from, to draw.Point, ok bool) {
	p, q := a.beyond(i1, t1), a.beyond(i2, t2)
	low, high := layout.Inside(p, q, a.plot)
	between := func(u float64) draw.Point { return draw.Point{X: p.X + u*(q.X-p.X), Y: p.Y + u*(q.Y-p.Y)} }
	return between(low), between(high), low < high
}

// beyond is a place on the paper that goes on past the edges of the plot.
func (a axes) beyond(amps unit.Ampere, t unit.Second) draw.Point {
	return draw.Point{
		X: a.plot.Min.X + a.plot.Width()*(math.Log10(float64(amps))-float64(a.across[0]))/float64(a.across[1]-a.across[0]),
		Y: a.plot.Max.Y - a.plot.Height()*(math.Log10(float64(t))-float64(a.up[0]))/float64(a.up[1]-a.up[0]),
	}
}

// grid is the paper: lines at every number of one figure, heavier at the decades, and the frame.
func (a axes) grid() draw.Layer {
	layer := draw.Layer{Name: "grid"}
	for d := a.across[0]; d < a.across[1]; d++ {
		for n := 1; n < 10; n++ {
			x := a.x(float64(n) * math.Pow10(d))
			layer.Paths = append(layer.Paths, draw.Line(ruled(n), draw.Point{X: x, Y: a.plot.Min.Y}, draw.Point{X: x, Y: a.plot.Max.Y}))
		}
	}
	for d := a.up[0]; d < a.up[1]; d++ {
		for n := 1; n < 10; n++ {
			y := a.y(float64(n) * math.Pow10(d))
			layer.Paths = append(layer.Paths, draw.Line(ruled(n), draw.Point{X: a.plot.Min.X, Y: y}, draw.Point{X: a.plot.Max.X, Y: y}))
		}
	}
	return layer
}

func ruled(n int) draw.Pen {
	if n == 1 {
		return draw.Pen{Tone: draw.Rule, Width: draw.Thin}
	}
	return draw.Pen{Tone: draw.Rule, Width: draw.Hair}
}

// scales are the frame, the numbers at the decades, and what they count.
func (a axes) scales(across, up scale) draw.Layer {
	layer := draw.Layer{Name: "axes", Paths: []draw.Path{draw.Area(draw.None, draw.Pen{Tone: draw.Ink, Width: draw.Thin}, a.plot.Corners()...)}}
	number := draw.Text{Size: 8, Tone: draw.Ink}
	const numbers = 13 // from one number to the next, in millimetres, at least
	decades := a.across[1] - a.across[0]
	for d := a.across[0]; d <= a.across[1]; d += int(math.Ceil(numbers * float64(decades) / a.plot.Width())) {
		number.At, number.Anchor = draw.Point{X: a.x(math.Pow10(d)), Y: a.plot.Max.Y + 4.4}, draw.Middle
		number.Words = across.number(d)
		layer.Texts = append(layer.Texts, number)
	}
	for d := a.up[0]; d <= a.up[1]; d++ {
		number.At, number.Anchor = draw.Point{X: a.plot.Min.X - 1.6, Y: a.y(math.Pow10(d)) + 1}, draw.End
		number.Words = up.number(d)
		layer.Texts = append(layer.Texts, number)
	}
	name := draw.Text{Size: 8, Tone: draw.Graphite, Anchor: draw.Middle, Words: across.name}
	name.At = draw.Point{X: (a.plot.Min.X + a.plot.Max.X) / 2, Y: a.plot.Max.Y + 8.8}
	layer.Texts = append(layer.Texts, name)
	name.Words, name.Turn = up.name, 90
	name.At = draw.Point{X: a.plot.Min.X - 13.6, Y: (a.plot.Min.Y + a.plot.Max.Y) / 2}
	layer.Texts = append(layer.Texts, name)
	return layer
}

// seconds is a power of ten of a second, never in minutes or hours: the axis counts in tens.
func seconds(power int) string {
	if power < 0 {
		return layout.Nominal(unit.Second(math.Pow10(power)))
	}
	return layout.Quantity(layout.Written("1" + strings.Repeat("0", power) + " s"))
}
