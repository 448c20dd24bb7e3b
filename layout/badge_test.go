package layout_test

import (
	"testing"

	"farend/draw"
	"farend/layout"
)

// The letter of a badge stands within its box, in every size, and can be read on what fills it.
func TestBadgesHoldTheirLetter(t *testing.T) {
	for _, size := range []float64{7, 8, 9, 12} {
		for _, badge := range []layout.Badge{{Letter: "D", Fill: draw.Danger}, {Letter: "N", Pen: draw.Pen{Tone: draw.Graphite, Width: draw.Thin}}, {Letter: "?", Pale: true}} {
			var layer draw.Layer
			badge.Draw(&layer, draw.Point{X: 20, Y: 20}, size)
			corners := layer.Paths[0].Steps
			box := draw.Box{Min: corners[0].To, Max: corners[2].To}
			text := layer.Texts[0]
			if !box.Grow(0.1).Holds(text.Box()) || box.Width() > layout.BadgeWidth(size) {
				t.Errorf("%s of %v points stands in %+v, its box is %+v", badge.Letter, size, text.Box(), box)
			}
			if want := badge.Fill != draw.None; (text.Tone == draw.Paper) != want {
				t.Errorf("%s has the tone %v on %v", badge.Letter, text.Tone, badge.Fill)
			}
		}
	}
}
