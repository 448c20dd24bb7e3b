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

// What no circuit reaches has neither light nor noise: nothing flows, there is no voltage to speak of, and no evenness.
func TestUnfedRunsHaveNoNumbersOfNoise(t *testing.T) {
	s := schemetest.Study(t, "testdata/unfed.scheme.yaml")
	for _, c := range s.Cases() {
		r := s.Result(c.Name)
		for _, id := range []string{"E1", "E5", "E6", "E7"} {
			run := r.Runs[id]
			if run.Fed || run.Amps != (network.Current{}) || run.VoltsLow != 0 || run.VoltsHigh != 0 || run.RailAmps != 0 || run.Evenness != nil || run.ColourShift != nil {
				t.Errorf("%s in %s is not nothing: %+v", id, c.Name, run)
			}
			profile, _ := s.Network.Profile(s.Solution(c.Name), id)
			for k, v := range profile.Volts {
				if v != 0 || profile.Lowest[k] != 0 || math.Abs(profile.Amps[k]) >= 1e-9 {
					t.Fatalf("%s pixel %d in %s has %v V and %v A", id, k, c.Name, v, profile.Amps[k])
				}
			}
		}
		for _, id := range []string{"W6", "W7", "W8"} {
			if cable := r.Cables[id]; cable.Plus != (network.Current{}) || cable.Return != (network.Current{}) {
				t.Errorf("%s in %s carries %+v", id, c.Name, cable)
			}
		}
	}
	for _, id := range []string{"E2", "E3"} { // the fed part is judged by itself
		if run := s.Result("state/full").Runs[id]; !run.Fed || run.VoltsLow < 4.9 || run.Evenness == nil || *run.Evenness < 0.9 {
			t.Errorf("%s, fed up to pixel 20, has %+v", id, run)
		}
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
