package layout

import "farend/draw"

// A Badge is a letter in a box, filled or not.
type Badge struct {
	Letter string
	Fill   draw.Tone // None leaves the box empty
	Pen    draw.Pen
	Pale   bool // the letter is in graphite
}

// badgeSize is the side of the box of a badge, in multiples of the size of the text beside it; badgeSpace is what it takes of a line.
const (
	badgeSize  = 1.25
	badgeSpace = 1.65
)

// BadgeWidth is what a badge takes of a line of text, with the gap behind it.
func BadgeWidth(points float64) float64 { return draw.Millimetres(badgeSpace * points) }

// Draw draws a badge from a place on the baseline of the text beside it, to the right.
func (b Badge) Draw(layer *draw.Layer, at draw.Point, points float64) {
	em := draw.Millimetres(points)
	side := badgeSize * em
	middle := at.Y - 0.35*em // of capitals
	box := draw.Box{Min: draw.Point{X: at.X, Y: middle - side/2}, Max: draw.Point{X: at.X + side, Y: middle + side/2}}
	tone := draw.Ink
	switch {
	case b.Fill != draw.None:
		tone = draw.Paper
	case b.Pale:
		tone = draw.Graphite
	}
	layer.Paths = append(layer.Paths, draw.Area(b.Fill, b.Pen, box.Corners()...))
	layer.Texts = append(layer.Texts, draw.Text{Words: b.Letter, At: draw.Point{X: at.X + side/2, Y: at.Y}, Face: draw.SemiBold, Size: points, Anchor: draw.Middle, Tone: tone})
}
