package study_test

import (
	"maps"
	"math"
	"testing"

	"farend/network"
	"farend/scheme"
	"farend/study"
)

// A sketch gives what a study of the same scheme gives, within 1 µV along copper, of the cases that are wanted and of no others; runs are left out.
func TestSketchesAreStudiesWithoutRuns(t *testing.T) {
	s, _ := example(t, "cafe-canopy.scheme.yaml", &study.Options{Striking: study.NotNow})
	var schemes []*scheme.Scheme
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		other := *s.Scheme
		other.Cables = maps.Clone(other.Cables)
		c := other.Cables[id]
		length := *c.Length + 2
		c.Length = &length
		other.Cables[id] = c
		schemes = append(schemes, &other)
	}
	lower := *s.Scheme // a supply that is set lower is solved from cold
	lower.Supplies = maps.Clone(lower.Supplies)
	for _, id := range scheme.IDs(lower.Supplies) {
		supply := lower.Supplies[id]
		volts := s.Scheme.SetPoint(id) * 0.98
		supply.Volts = &volts
		lower.Supplies[id] = supply
	}
	schemes = append(schemes, &lower)
	wanted := func(_ int, c network.Case) bool { return c.Kind == network.State }
	sketches, err := s.Sketches(t.Context(), schemes, wanted)
	if err != nil || len(sketches) != len(schemes) {
		t.Fatal(len(sketches), err)
	}
	for i, sketch := range sketches {
		whole, err := study.New(t.Context(), schemes[i], &study.Options{Striking: study.NotNow})
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range whole.Cases() {
			got, want := sketch.Result(c.Name), whole.Result(c.Name)
			if (got != nil) != wanted(i, c) {
				t.Errorf("%d, %s: %v", i, c.Name, got)
			}
			if got == nil {
				continue
			}
			if len(got.Runs) > 0 || got.Outcome != want.Outcome || len(got.Limited) != len(want.Limited) {
				t.Errorf("%d, %s: %d runs, %v, %v", i, c.Name, len(got.Runs), got.Outcome, got.Limited)
			}
			for id, cable := range want.Cables {
				near(t, id, float64(got.Cables[id].Drop-cable.Drop), 2e-6)
				near(t, id, float64(got.Cables[id].Plus.Mean-cable.Plus.Mean), 1e-4)
			}
			for id, supply := range want.Supplies {
				near(t, id, float64(got.Supplies[id].Volts-supply.Volts), 2e-6)
			}
			for run := range s.Scheme.Runs {
				at := run + "@end"
				near(t, at, float64(sketch.Network.VoltsAt(sketch.Solution(c.Name), at)-whole.Network.VoltsAt(whole.Solution(c.Name), at)), 2e-6)
			}
		}
	}
}

func near(t *testing.T, name string, off, most float64) {
	t.Helper()
	if !(math.Abs(off) <= most) {
		t.Errorf("%s is %v off", name, off)
	}
}
