package supply_test

import (
	"math"
	"testing"

	"farend/supply"
	"farend/unit"
)

// exact is the tolerance, relative, of a few roundings.
const exact = 1e-12

func TestTrimmedSupply(t *testing.T) {
	plain := supply.Supply{Volts: 5, Amps: 60, Watts: 300, LimitLow: 66, LimitHigh: 84, FoldTo: 0.3, PulseOn: 1, PulseOff: 7, PulseBelow: 2}
	spare := supply.Supply{Volts: 12, Amps: 12.5, Watts: 156, LimitLow: 13.75, LimitHigh: 18.75} // power to spare: 13 A at 12 V
	for name, c := range map[string]struct {
		supply               supply.Supply
		volts                unit.Volt
		rated, low, high, at float64 // A, A, A, V
	}{
		"as it comes":                         {plain, 5, 60, 66, 84, 5},
		"trimmed up by a tenth":               {plain, 5.5, 300 / 5.5, 60, 84 / 1.1, 5.5},
		"trimmed down keeps rating":           {plain, 4.5, 60, 66, 84, 4.5},
		"trimmed up within its power":         {spare, 12.4, 12.5, 13.75 * 12 / 12.4, 18.75 * 12 / 12.4, 12.4},
		"no rated power stated, trimmed up":   {supply.Supply{Volts: 5, Amps: 60, LimitLow: 66, LimitHigh: 84}, 6, 50, 55, 70, 6},
		"no rated power stated, down":         {supply.Supply{Volts: 5, Amps: 60, LimitLow: 66, LimitHigh: 84}, 4, 60, 66, 84, 4},
		"power below volts times amps":        {supply.Supply{Volts: 5, Amps: 60, Watts: 250, LimitLow: 66, LimitHigh: 84}, 5, 50, 66, 84, 5},
		"no set point":                        {plain, 0, 60, 66, 84, 5},
		"a set point below nought":            {plain, -5, 60, 66, 84, 5},
		"a set point that is not a number":    {plain, unit.Volt(math.NaN()), 60, 66, 84, 5},
		"a part without a voltage of its own": {supply.Supply{Amps: 60, LimitLow: 66, LimitHigh: 84}, 5, 60, 66, 84, 0},
	} {
		t.Run(name, func(t *testing.T) {
			s := c.supply.At(c.volts)
			got := []float64{float64(s.Rated()), float64(s.LimitLow), float64(s.LimitHigh), float64(s.Volts)}
			for i, want := range []float64{c.rated, c.low, c.high, c.at} {
				if math.Abs(got[i]-want) > exact*want {
					t.Errorf("%s %v, want %v", []string{"rated", "lower limit", "upper limit", "set point"}[i], got[i], want)
				}
			}
			back := s
			back.Volts, back.Amps, back.LimitLow, back.LimitHigh = c.supply.Volts, c.supply.Amps, c.supply.LimitLow, c.supply.LimitHigh
			if back != c.supply {
				t.Error("a trim changed more than the set point and what follows from it")
			}
		})
	}
}

func TestRatedNeverAboveRatedCurrentOrPower(t *testing.T) {
	for _, volts := range []unit.Volt{4.2, 4.75, 5, 5.25, 6, 9} {
		s := supply.Supply{Volts: 5, Amps: 60, Watts: 300}.At(volts)
		if s.Rated() > 60 || float64(s.Rated())*float64(volts) > 300*(1+exact) {
			t.Errorf("at %v: rated %v", volts, s.Rated())
		}
	}
}
