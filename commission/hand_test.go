package commission_test

import (
	"math"
	"testing"

	"farend/commission"
	"farend/parts"
)

func TestExpectedValuesByHand(t *testing.T) {
	st := read(t, byHand)
	p := of(t, st)
	near := func(name string, r *commission.Reading, want, tolerance float64) {
		t.Helper()
		if r == nil || math.Abs(r.Is-want) > tolerance {
			t.Errorf("%s: %+v, by hand %v", name, r, want)
		}
	}
	// IEC 60228 class 5: 7.98 Ω/km of 2.5 mm²; two cores of 2 m. Nothing else is in it.
	loop := step(t, p, "W2: + to +", "all fuses out").Reading
	near("loop of W2", loop, 4*7.98e-3, 1e-9)
	// Of 2.5 mm² of copper (IEC 60028: 1/58 Ω·mm²/m), 3 % shorter in air of 0 °C; as IEC 60228 allows, 3 % longer in air of 30 °C ((234.5 + T)/254.5), with a terminal of up to
	// 0.67 mΩ at the near end of each core (IEC 60947-7-1: 3.2 mV at 2.4 A for two); the meter 6 % and two digits of 0.1 mΩ.
	if low, high := 4/58./2.5*0.97*234.5/254.5, 4*7.98e-3*1.03*264.5/254.5; math.Abs(loop.Low-(low*0.94-2e-4)) > 1e-9 || math.Abs(loop.High-((high+2*3.2e-3/2.4/2)*1.06+2e-4)) > 1e-9 {
		t.Errorf("band of the loop: %+v", loop)
	}
	// One rail of 60 pixels at 60 /m is 1 m.
	near("plus rail", step(t, p, "E1, plus rail", "").Reading, 0.1, 1e-9)

	// Dark, 60 pixels take 0.5 mA each, which does not change with the volts; the band is that spread, 50 %, with 1.5 % and three digits of 0.1 mA.
	idle := step(t, p, "Fuse of A1.1: dark current", "in: A1.1").Reading
	near("dark current", idle, 0.030, 1e-6)
	if math.Abs(idle.Low-(0.015*0.985-3e-4)) > 1e-6 || math.Abs(idle.High-(0.045*1.015+3e-4)) > 1e-6 {
		t.Errorf("band of the dark current: %+v", idle)
	}
	// Lit, 12 mA more each: 750 mA. The feed loses them in source, two cables, both poles of the inlet, way and fuse.
	const amps = 60 * 12.5e-3
	near("way lit", step(t, p, "Fuse of A1.1: what it carries", "lit, full").Reading, amps, 1e-5)
	supply, _ := parts.Get[parts.Supply](parts.Catalogue(), "supply/5v-200w")
	thick, _ := parts.Get[parts.Cable](parts.Catalogue(), "cable/flex-2x4")
	ohms := float64(supply.SourceResistance.Is) + 2*float64(thick.R20.Is) + 2*0.8e-3 + 1.5e-3 + 10e-3 + 4*7.98e-3
	landing := step(t, p, "Volts where W2 lands", "lit, full")
	near("volts at the tape", landing.Reading, 5-amps*ohms, 1e-5)
	// A bad joint of 50 mΩ loses 37.5 mV there, less than the 1 % of the meter; along the core it is plain.
	if j := landing.Joint; j == nil || math.Abs(j.Shift+amps*0.05) > 1e-4 || j.Seen != commission.Unseen {
		t.Errorf("a bad joint in the volts: %+v", j)
	}
	core := step(t, p, "W2, + core", "lit, full")
	near("core under load", core.Reading, 2*7.98e-3, 1e-9)
	if core.Joint.Seen != commission.Seen {
		t.Errorf("a bad joint along the core: %+v", core.Joint)
	}
}
