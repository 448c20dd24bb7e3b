package supply_test

import (
	"math"
	"testing"

	"farend/supply"
)

// A supply of 10 V that limits at 8 A and folds back to a quarter: 2 A into a short, and 0.6 A more a volt.
func TestFoldIsAStraightLineFromShortToSetPoint(t *testing.T) {
	for name, c := range map[string]struct{ e, v, limit, to, want float64 }{
		"into a short":                 {10, 0, 8, 0.25, 2},
		"a volt up":                    {10, 1, 8, 0.25, 2.6},
		"half way":                     {10, 5, 8, 0.25, 5},
		"at the set point":             {10, 10, 8, 0.25, 8},
		"held above the set point":     {10, 11, 8, 0.25, 8},
		"fed the wrong way round":      {10, -3, 8, 0.25, 2},
		"to nothing at all":            {10, 2.5, 8, 0, 2},
		"a ratio of one never folds":   {10, 3, 8, 1, 8},
		"no set point to measure from": {0, 3, 8, 0.25, 8},
	} {
		if got := supply.Fold(c.e, c.v, c.limit, c.to); math.Abs(got-c.want) > exact*c.limit {
			t.Errorf("%s: %v A, want %v A", name, got, c.want)
		}
	}
}

func TestOnShareIsOneWhereTimesAreNotKnown(t *testing.T) {
	for name, c := range map[string]struct {
		supply supply.Supply
		want   float64
	}{
		"one second in eight":  {supply.Supply{PulseOn: 1, PulseOff: 7}, 0.125},
		"nothing known":        {supply.Supply{}, 1},
		"only the time on":     {supply.Supply{PulseOn: 1}, 1},
		"only the time off":    {supply.Supply{PulseOff: 1}, 1},
		"a time that is none":  {supply.Supply{PulseOn: -1, PulseOff: 2}, 1},
		"hardly ever switched": {supply.Supply{PulseOn: 3, PulseOff: 1}, 0.75},
	} {
		if got := c.supply.OnShare(); got != c.want {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

func TestPulsesOnlyBelowItsVoltage(t *testing.T) {
	above := supply.Supply{PulseBelow: 13}
	if above.Pulses(13) || !above.Pulses(12.9) || !above.Pulses(0) {
		t.Error("a supply that holds its current from 13 V up pulses there, or does not below")
	}
	if !(supply.Supply{}).Pulses(23) {
		t.Error("a supply without such a voltage holds its current")
	}
}
