package layout

import (
	"fmt"
	"math"

	"farend/draw"
)

// Scales are the scales of reduction of ISO 5455, from full size to 1:10 000, the largest first, as what one millimetre of paper stands
// for; and what follows in the same series, for things that are larger still.
func Scales() (list []float64) {
	for power := 1.0; power <= 1e6; power *= 10 {
		list = append(list, power, 2*power, 5*power)
	}
	return list
}

// ScaleWords is a scale as it stands on paper, 1:50.
func ScaleWords(scale float64) string { return "1:" + Quantity(whole(scale)) }

// whole is a number without a unit.
type whole float64

func (w whole) String() string { return fmt.Sprintf("%.0f", float64(w)) }

// Bar adds a scale bar to a layer, of round metres and at most so many millimetres long, its left end at a place. The box is what it and
// its words take.
func Bar(layer *draw.Layer, at draw.Point, scale, longest float64) draw.Box {
	const height, pieces = 1.4, 5
	metres := math.Pow10(int(math.Floor(math.Log10(longest * scale / 1000))))
	for _, more := range []float64{5, 2} {
		if metres*more*1000/scale <= longest {
			metres *= more
			break
		}
	}
	ink := draw.Pen{Tone: draw.Ink, Width: draw.Hair}
	piece := metres / pieces * 1000 / scale
	for i := range pieces {
		fill := draw.Paper
		if i%2 == 0 {
			fill = draw.Ink
		}
		box := draw.Box{Min: draw.Point{X: at.X + float64(i)*piece, Y: at.Y - height}, Max: draw.Point{X: at.X + float64(i+1)*piece, Y: at.Y}}
		layer.Paths = append(layer.Paths, draw.Area(fill, ink, box.Corners()...))
	}
	bounds := draw.Box{Min: draw.Point{X: at.X, Y: at.Y - height}, Max: draw.Point{X: at.X + pieces*piece, Y: at.Y}}
	number := draw.Text{Size: draw.Smallest, Tone: draw.Ink, At: draw.Point{X: at.X, Y: at.Y + 3}, Words: "0"}
	end := number
	end.At.X, end.Words = at.X+pieces*piece, Nominal(metre(metres))
	for _, text := range []draw.Text{number, end} {
		layer.Texts = append(layer.Texts, text)
		box := text.Box()
		bounds.Max = draw.Point{X: max(bounds.Max.X, box.Max.X), Y: max(bounds.Max.Y, box.Max.Y)}
	}
	return bounds
}

// A metre is a length of a scale bar, which is in metres or, below one, in millimetres.
type metre float64

func (m metre) String() string {
	if m < 1 {
		return fmt.Sprintf("%.0f mm", float64(m)*1000)
	}
	return fmt.Sprintf("%.0f m", float64(m))
}
