package layout_test

import (
	"math/rand"
	"slices"
	"testing"

	"farend/layout"
)

// Labels that are spread keep their order, and no leader goes through a label of its level or a lower one; they stay between the
// edges where they are said to fit, and where they had room to begin with nothing moves.
func TestLabelsAreSpread(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	fitted := 0
	for range 500 {
		n, levels := r.Intn(20), 1+r.Intn(3)
		places, widths := make([]float64, n), make([]float64, n)
		for i := range places {
			places[i], widths[i] = 200*r.Float64(), 3+25*r.Float64()
		}
		slices.Sort(places)
		xs, ok := layout.Spread(places, widths, levels, 1.5, 10, 190)
		for j := range xs {
			if ok && (xs[j] < 10-1e-6 || xs[j]+widths[j] > 190+1e-6) {
				t.Fatalf("label %d from %v to %v is not between the edges", j, xs[j], xs[j]+widths[j])
			}
			for i := range j {
				far := 1.5
				if layout.Level(j, levels) >= layout.Level(i, levels) {
					far = widths[i]
				}
				if xs[j]-xs[i] < far-1e-6 {
					t.Fatalf("labels %d and %d of %d levels are at %v and %v, the first %v wide", i, j, levels, xs[i], xs[j], widths[i])
				}
			}
		}
		if ok {
			fitted++
		}
	}
	if fitted < 100 || fitted > 450 {
		t.Errorf("%d of 500 fit", fitted)
	}
	if xs, ok := layout.Spread([]float64{20, 60, 100}, []float64{30, 30, 30}, 1, 1, 0, 200); !ok || !slices.Equal(xs, []float64{20, 60, 100}) {
		t.Errorf("labels with room are moved to %v", xs)
	}
}
