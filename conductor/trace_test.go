package conductor_test

import (
	"math"
	"testing"

	"farend/conductor"
	"farend/unit"
)

// IPC-2221A, 6.2, external: 0.048 · ΔT^0.44 · A^0.725, with A in square mils. From one rise to another that is the ratio of the first factor;
// here with the areas of the checks in ipc2221.csv: 3 A and 20 K are 48.70 mil², for 10 K as much carries 2.21 A.
func TestTraceGoesWithIPC2221(t *testing.T) {
	const area = 48.70
	amps := func(rise float64) float64 { return 0.048 * math.Pow(rise, 0.44) * math.Pow(area, 0.725) }
	if math.Abs(amps(20)-3) > 0.001 {
		t.Fatalf("the formula gives %g A, the table 3 A", amps(20))
	}
	for _, rise := range []unit.Kelvin{1, 10, 20, 57, 100} {
		if got, want := conductor.Trace(unit.Ampere(amps(10)), 10, rise), amps(float64(rise)); math.Abs(float64(got)/want-1) > 1e-12 {
			t.Errorf("%v: %v, want %g A", rise, got, want)
		}
	}
	if got, most := conductor.Trace(2, 10, 300), conductor.Trace(2, 10, 100); got != most {
		t.Errorf("beyond 100 K, where the figure ends: %v, want %v", got, most)
	}
	if got := conductor.Trace(2, 10, -5); got != 0 {
		t.Errorf("in air that is too hot already: %v", got)
	}
}
