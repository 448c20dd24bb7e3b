package circuit

import (
	"math"
	"testing"
)

// bell is a law whose slope is known in closed form: tanh, which bends by at most 0.77 A/soft².
type bell struct{ soft float64 }

func (b bell) Eval(v, amps, slope []float64) {
	for i, u := range v {
		t := math.Tanh(u / b.soft)
		amps[i], slope[i] = t, (1-t*t)/b.soft
	}
}

// TestTheBendOfATableBoundsThatOfItsLaw compares what a table says of its curvature with the chords that are measured where there is
// none, and with the closed form: never less than the chords, and hardly more than the law anywhere that near.
func TestTheBendOfATableBoundsThatOfItsLaw(t *testing.T) {
	law := bell{0.5}
	for _, cells := range []int{200, 2048} {
		table := Tabulate(law, -3, 3, cells)
		near := straight + 6/float64(cells)
		for v := -2.9; v < 2.9; v += 0.0037 {
			got, known := table.bend(v)
			if !known {
				t.Fatalf("%d cells: nothing is known at %g V", cells, v)
			}
			var at, amps, slope [3]float64
			at = [3]float64{v - straight, v, v + straight}
			table.Eval(at[:], amps[:], slope[:])
			if chord := max(abs(slope[2]-slope[1]), abs(slope[1]-slope[0])) / straight; got < chord*(1-1e-9) {
				t.Errorf("%d cells: at %g V the bend is %g, a chord %g", cells, v, got, chord)
			}
			most := 0.0
			for u := v - 2*near; u <= v+2*near; u += near / 10 {
				tanh := math.Tanh(u / law.soft)
				most = max(most, 2*abs(tanh)*(1-tanh*tanh)/(law.soft*law.soft))
			}
			if got > 1.05*most+1e-6 {
				t.Errorf("%d cells: at %g V the bend is %g, the law bends by %g thereabouts", cells, v, got, most)
			}
		}
		for _, v := range []float64{-3, -3.1, 2.9999, 3, 7, math.NaN()} {
			if _, known := table.bend(v); known {
				t.Errorf("%d cells: the bend at %g V is known, though the table ends there", cells, v)
			}
		}
	}
}

func TestTablesAreMadeOnce(t *testing.T) {
	var all Tables
	one := all.Of(bell{0.5}, -3, 3, 100)
	if all.Of(bell{0.5}, -3, 3, 100) != one {
		t.Error("the same law over the same cells is tabulated twice")
	}
	for _, other := range []*Table{all.Of(bell{0.6}, -3, 3, 100), all.Of(bell{0.5}, -2, 3, 100), all.Of(bell{0.5}, -3, 4, 100), all.Of(bell{0.5}, -3, 3, 101)} {
		if other == one {
			t.Error("another law or other cells have the same table")
		}
	}
}
