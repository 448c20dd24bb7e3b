package layout_test

import (
	"math"
	"testing"

	"farend/draw"
	"farend/layout"
)

// A dimension is as long as what it measures, lies so far to its left, and its words are never upside down, whichever way it runs.
func TestDimensionsMeasure(t *testing.T) {
	for degrees := 0; degrees < 360; degrees += 15 {
		sin, cos := math.Sincos(float64(degrees) * math.Pi / 180)
		d := layout.Dimension{A: draw.Point{X: 100, Y: 100}, B: draw.Point{X: 100 + 30*cos, Y: 100 - 30*sin}, Away: 5, Words: "4\u202f800"}
		a, b := d.Ends()
		if got := math.Hypot(b.X-a.X, b.Y-a.Y); math.Abs(got-30) > 1e-9 {
			t.Errorf("%d°: %v mm long", degrees, got)
		}
		// Its left, looking from A to B, is a quarter turn anticlockwise on the page, where y is downwards.
		if left := (a.X-d.A.X)*-sin - (a.Y-d.A.Y)*cos; math.Abs(left-5) > 1e-9 {
			t.Errorf("%d°: %v mm to the left", degrees, left)
		}
		if turn := d.Text().Turn; turn > 90.001 || turn < -89.999 {
			t.Errorf("%d°: its words are turned by %v°", degrees, turn)
		}
		var layer draw.Layer
		d.Draw(&layer)
		if len(layer.Texts) != 1 || len(layer.Paths) != 5 {
			t.Errorf("%d°: %d texts, %d paths", degrees, len(layer.Texts), len(layer.Paths))
		}
	}
}
