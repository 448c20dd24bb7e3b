package layout_test

import (
	"math"
	"slices"
	"testing"

	"farend/draw"
	"farend/layout"
)

// The scales of reduction of ISO 5455:1979, table of clause 5, and full size; read in DIN ISO 5455, from memory.
func TestScalesAreThoseOfTheStandard(t *testing.T) {
	want := []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000}
	if got := layout.Scales(); !slices.Equal(got[:len(want)], want) {
		t.Errorf("they begin with %v", got[:len(want)])
	}
	if got := layout.ScaleWords(20000); got != "1:20\u202f000" {
		t.Errorf("it is %q", got)
	}
}

// A scale bar is as long as its words say, no longer than asked for, and not less than a fifth of that.
func TestScaleBarsMeasure(t *testing.T) {
	words := map[float64]string{1: "50\u202fmm", 20: "1\u202fm", 50: "2\u202fm", 100: "5\u202fm", 5000: "200\u202fm"}
	for _, scale := range layout.Scales() {
		var layer draw.Layer
		const longest = 52
		layout.Bar(&layer, draw.Point{X: 20, Y: 40}, scale, longest)
		first, last := layer.Paths[0].Steps[0].To.X, layer.Paths[len(layer.Paths)-1].Steps[1].To.X
		long := last - first
		if first != 20 || long > longest || long < longest/2.6 {
			t.Errorf("1:%v: it is %v mm long", scale, long)
		}
		metres := long * scale / 1000
		digit := metres / math.Pow10(int(math.Floor(math.Log10(metres)+1e-9)))
		if !slices.ContainsFunc([]float64{1, 2, 5}, func(d float64) bool { return math.Abs(d-digit) < 1e-9 }) {
			t.Errorf("1:%v: it is %v m", scale, metres)
		}
		if want := words[scale]; want != "" && layer.Texts[1].Words != want {
			t.Errorf("1:%v: it says %q, want %q", scale, layer.Texts[1].Words, want)
		}
	}
}
