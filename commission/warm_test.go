package commission_test

import (
	"math"
	"strings"
	"testing"
)

// A holder may be 45 K hotter than the air, and no hotter than the PVC that lies against it: 35 °C and 45 K are more than its 70 °C.
func TestNothingIsLetBeHotterThanItsInsulation(t *testing.T) {
	p := example(t, "footbridge").p
	if r := step(t, p, "Fuse and holder of W1", "30 min").Reading; r.High != 70 {
		t.Errorf("%+v", r)
	}
	cool := strings.Replace(byHand, "site: {", "site: {ambient: 20 °C, ", 1)
	if r := step(t, of(t, read(t, cool)), "Fuse and holder of A1.1", "30 min").Reading; r.High != 65 {
		t.Errorf("%+v", r)
	}
}

// Heat follows the rms, in the heavier of a state and its peak, as in the schedule of cables.
func TestHeatIsThatOfTheRMS(t *testing.T) {
	for name, state := range map[string]string{"cafe-canopy": "closing", "footbridge": "full"} {
		w := example(t, name)
		want := max(w.st.Result("state/" + state).Cables["W1"].Celsius, w.st.Result("peak/" + state).Cables["W1"].Celsius)
		if r := step(t, w.p, "Sheath of W1", "30 min").Reading; r == nil || math.Abs(r.Is-float64(want)) > 1e-9 {
			t.Errorf("%s: W1 at %+v, its schedule has %v", name, r, want)
		}
		amps := max(w.st.Result("state/" + state).Cables["W1"].Plus.RMS, w.st.Result("peak/" + state).Cables["W1"].Plus.RMS)
		if s := step(t, w.p, "Fuse and holder of W1", "30 min"); !strings.HasSuffix(s.Expect, " at "+amps.String()) {
			t.Errorf("%s: %s, %v", name, s.Expect, amps)
		}
	}
}
