package commission

import (
	"math"
	"testing"
)

// By hand: 1 % of 5 V and two digits of 1 mV; 2.5 % of 8 A and five of 10 mA; 1.5 % of 2 A and three of 10 mA; beyond 60 A the clamp's digits are of 100 mA, and beyond the last range digits stay what
// they are.
func TestErrorsOfMeters(t *testing.T) {
	for _, x := range []struct {
		of      accuracy
		v, errs float64
	}{{direct, 5, 0.052}, {direct, 24, 0.26}, {direct, 0.025, 0.00045}, {clamped, 8, 0.25}, {through, 2, 0.06}, {finely, 0.04, 0.0009}, {driven, 0.03, 0.002}, {clamped, 80, 2.5}, {through, 12, 0.21}} {
		if got := x.of.error(x.v); math.Abs(got-x.errs) > 1e-12 {
			t.Errorf("at %v: %v, by hand %v", x.v, got, x.errs)
		}
	}
}
