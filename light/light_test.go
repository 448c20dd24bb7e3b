package light_test

import (
	"math"
	"testing"

	"farend/internal/schemetest"
	"farend/light"
	"farend/network"
)

func TestSchemesAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/*.scheme.yaml", light.Rules())
}

// The sums stand in the comment of the scheme.
func TestLowestVoltagesAgreeWithArithmeticByHand(t *testing.T) {
	const exact = 1e-6 // volts; the smooth law of the supply is 0.1 µV off its straight line here
	supply := 1.0 * 1.667e-3
	want := map[string]float64{
		"E1": 5 - supply - 0.5*2*10*7.98e-3 - 0.1*0.02*0.01*50*50,
		"E2": 5 - supply - 0.25*2*7.98e-3 - 0.1*0.02*0.01*25*25,
	}
	s := schemetest.Study(t, "testdata/drop.scheme.yaml")
	seen := 0
	for _, a := range s.Assess(light.Rules()) {
		if a.Rule.Name != "light/pixel-voltage" {
			continue
		}
		seen++
		if math.Abs(*a.Value-want[a.Subject]) > exact || *a.Limit != 4.9 {
			t.Errorf("%s in %s has %v V against %v V, want %v against 4.9", a.Subject, a.Case, *a.Value, *a.Limit, want[a.Subject])
		}
	}
	if seen != 2 {
		t.Errorf("%d voltages were judged", seen)
	}
}

// What a colour needs: the chip's least voltage, or 90 % of the weakest lit channel. Of the 5 V tape of the catalogue the blue knee
// ends at 3.548 V, below the 3.7 V for which the chip is specified, so the chip decides.
func TestPixelVoltageNeedsWhatTheColourNeeds(t *testing.T) {
	s := schemetest.Study(t, "testdata/far-end.scheme.yaml")
	for _, a := range s.Assess(light.Rules()) {
		if a.Rule.Name == "light/pixel-voltage" && *a.Limit != 3.7 {
			t.Errorf("in %s the limit is %v V, want 3.7 V", a.Case, *a.Limit)
		}
	}
	tape := s.Scheme.Tape("E1")
	if v := network.Channel(tape.Channels["blue"], false).VoltageAt(0.9, 5); v > 3.55 || v < 3.4 {
		t.Errorf("blue keeps 90 %% down to %v", v)
	}
}
