package circuit

import (
	"math"
	"testing"
)

// Steps that go round are told from those that settle, drift away, or come by once where they were.
func TestStepsThatGoRoundAreToldFromThoseThatSettle(t *testing.T) {
	fading := func(by float64) func(int) float64 {
		return func(k int) float64 { return 5 + 4*math.Pow(by, float64(k)) }
	}
	around := func(places ...float64) func(int) float64 {
		return func(k int) float64 { return places[k%len(places)] + math.Pow(0.01, float64(k)) }
	}
	for _, c := range []struct {
		name  string
		at    func(k int) float64
		after int // steps; 0 for never
	}{
		{"settling", fading(0.1), 0},
		{"settling slowly", fading(0.9), 0},
		{"settling from both sides", fading(-0.5), 0},
		{"settling slowly from both sides", fading(-0.98), 0},
		{"drifting", func(k int) float64 { return 0.02 * float64(k) }, 0},
		{"once where it was", func(k int) float64 { return []float64{0, 5, 7, 5, 8, 8.1, 8.1}[min(k, 6)] }, 0},
		{"standing", around(3), 0},
		{"to and fro by millivolts", around(3, 3.005), 0},
		{"to and fro", around(1, 12), 4},
		{"round three places", around(1, 12, 5), 5},
		{"round four places", around(1, 12, 5, 8), 6},
		{"round five places", around(1, 12, 5, 8, 10), 0},
		{"lost", func(int) float64 { return math.NaN() }, 0},
	} {
		w, after := &Worker{du: make([]float64, 2)}, 0
		for k := 1; k <= followSteps && after == 0; k++ {
			w.du[0], w.du[1] = c.at(k), -c.at(k)/3
			if w.circles(k) {
				after = k
			}
		}
		if after != c.after {
			t.Errorf("%s: it goes round after %d steps, want %d", c.name, after, c.after)
		}
	}
}
