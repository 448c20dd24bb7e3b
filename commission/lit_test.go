package commission_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/commission"
)

// Where the pulses of all pixels together leave a run less even than the mean does, both are said.
func TestEvennessInThePeak(t *testing.T) {
	w := example(t, "cafe-canopy-hasty")
	mean, peak := *w.st.Result("state/closing").Runs["E1"].Evenness, *w.st.Result("peak/closing").Runs["E1"].Evenness
	if peak > mean-0.1 {
		t.Fatalf("the peak is even: %v, %v", mean, peak)
	}
	s := step(t, w.p, ": by eye", "lit, closing")
	if !strings.HasPrefix(s.Expect, "dimmest 96.8 % of the brightest, down to 63.4 % where") {
		t.Error(s.Expect)
	}
}

// More states than stand side by side are in further worksheets.
func TestManyStates(t *testing.T) {
	var states []string
	for k := range 5 {
		states = append(states, fmt.Sprintf("state-%d: {level: %d %%, colour: red}", k+1, 20*(k+1)))
	}
	text := strings.Replace(byHand, "states: {full: {level: 100 %, colour: red}}", "states: {"+strings.Join(states, ", ")+"}", 1)
	p := of(t, read(t, text))
	looks(t, "many states", p)
	for k := range 5 {
		state := fmt.Sprintf("state-%d", k+1)
		if s := step(t, p, "Fuse of A1.1: what it carries", "lit, "+state); s.Fill != (commission.Fill{Sheet: fmt.Sprint("feeds ", k/3+1), Row: "A1.1", Field: state}) {
			t.Errorf("%+v", s.Fill)
		}
	}
}

// The lowest volts of a run are no higher than those at its landings, its ends and both sides of its cuts.
func TestTheLowestOfARunIsTheLowest(t *testing.T) {
	compared := 0
	for _, name := range names(t) {
		w := example(t, name)
		n := w.st.Network
		for _, g := range w.p.Stages {
			for _, s := range g.Steps {
				in, lit := strings.CutPrefix(s.State, "lit, ")
				if !lit || !strings.HasSuffix(s.Do, "lowest volts that a probe reaches") || s.Reading == nil {
					continue
				}
				run := s.About[0]
				places := []string{run + "@start", run + "@end"}
				for _, c := range w.st.Scheme.Runs[run].Cuts {
					places = append(places, fmt.Sprintf("%s@px%d-", run, c.At.Mark), fmt.Sprintf("%s@px%d", run, c.At.Mark))
				}
				for _, at := range places {
					compared++
					if v := float64(n.VoltsAt(w.st.Solution("state/"+in), at)); v < s.Reading.Is-2e-6 {
						t.Errorf("%s: %s in %s has %v V at %s, and is said to have %v at least", name, run, in, v, at, s.Reading.Is)
					}
				}
			}
		}
	}
	if compared < 200 {
		t.Errorf("only %d places were compared", compared)
	}
}
