package drafting

import (
	"farend/draw"
)

// Bounds are the margins that a drawing keeps for dimensions and labels, within its area.
func Bounds(area draw.Box) draw.Box {
	wide, high := min(26, 0.09*area.Width()), min(24, 0.15*area.Height())
	return draw.Box{
		Min: draw.Point{X: area.Min.X + wide, Y: area.Min.Y + 0.65*high},
		Max: draw.Point{X: area.Max.X - 0.65*wide, Y: area.Max.Y - high},
	}
}

// BarLong is the most that a scale bar may take, in millimetres.
const BarLong = 52.0

// Farthest is how far from what it names a label may stand as a rule, in millimetres.
const Farthest = 27.0
