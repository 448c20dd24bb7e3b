package commission_test

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"farend/commission"
	"farend/internal/pagetest"
	"farend/layout"
)

// Where there are dangers nothing is to be switched on, and the sheet begins with that.
func TestDangersForbidSwitchingOn(t *testing.T) {
	st := example(t, "library-atrium-altered").st
	p, err := commission.Of(context.Background(), st, []commission.Danger{{Name: "tape on the wrong voltage", Of: []string{"E12"}}, {Name: "fuse and cable", Of: []string{"W31", "W32"}}})
	if err != nil {
		t.Fatal(err)
	}
	if g := p.Stages[0]; g.Name != "Not to be switched on: 3 findings" || len(g.Steps) != 2 || !strings.Contains(g.Steps[0].Do, "tape on the wrong voltage (E12)") {
		t.Errorf("%+v", g)
	}
	for _, g := range p.Stages {
		if strings.Contains(g.Name, "only after what forbids it is mended") != g.Live {
			t.Error(g.Name)
		}
		for _, s := range g.Steps {
			if on := strings.HasPrefix(s.Between[0], "E12@"); on && g.Live && s.Reading != nil && s.Reading.Kind == commission.Volts {
				t.Errorf("%s: %s: 24 V on a tape of 5 V has the band %s", g.Name, s.Do, s.Reading)
			}
		}
	}
	if s := step(t, p, "Volts where W61 lands", "lit"); !strings.HasPrefix(s.Expect, "not to be switched on: about 24 V would come to E12, and its tape bears") {
		t.Errorf("%+v", s)
	}
	if s := step(t, p, "Fuse of W60: what it carries", "lit"); s.Reading != nil {
		t.Errorf("%+v", s)
	}
	looks(t, "with dangers", p)
}

// What must be done or asked before stands before, and the electrician signs before anything is live.
func TestTheOrderOnPaperIsTheOrderOfWork(t *testing.T) {
	p := example(t, "footbridge").p
	var order []string
	live := false
	for _, g := range p.Stages {
		order = append(order, g.Name)
		live = live || g.Live
		if live && strings.Contains(g.Signed, "electrician") {
			t.Error("the electrician signs after something is live")
		}
	}
	last := -1
	for _, name := range []string{"Before you begin", "For the licensed electrician", "Ends of cables", "Dead tests", "Supplies alone", "Fuses in, one by one, dark", "All fuses in, dark", "How to isolate a run"} {
		at := slices.Index(order, name)
		if at <= last {
			t.Errorf("%s stands at %d in %v", name, at, order)
		}
		last = at
	}
}

// Nobody is told to draw a fuse live.
func TestFusesAreDrawnWithTheSupplyOff(t *testing.T) {
	for _, name := range names(t) {
		for _, g := range example(t, name).p.Stages {
			for _, w := range g.Sheets {
				if (w.Name == "fuses" || w.Name == "isolate") && !strings.Contains(strings.ToLower(w.Warning), "off first") && !strings.Contains(w.Warning, "supply off") {
					t.Errorf("%s: %s says nothing of the supply", name, w.Title)
				}
			}
		}
	}
}

// cut is a list that is cut off.
var cut = regexp.MustCompile(`(and|,) \d+ (more|other)`)

// A list that is cut off cannot be ticked, and the sign of a side reads like a pole.
func TestListsAreWhole(t *testing.T) {
	for _, name := range names(t) {
		p := example(t, name).p
		for _, g := range p.Stages {
			for _, s := range g.Steps {
				if text := s.Do + " " + s.Expect; cut.MatchString(text) || regexp.MustCompile(`px\d+-`).MatchString(text) {
					t.Errorf("%s: %s", name, text)
				}
			}
		}
		for _, page := range bound.Bind(commission.Pages(p, layout.A4, nil)) {
			for _, words := range pagetest.Words(page.Scene) {
				if cut.MatchString(words) || strings.Contains(words, "station") {
					t.Errorf("%s: %q", name, words)
				}
			}
		}
	}
}

// Where full drive is left out the heading says so, and the step what would not bear it.
func TestFullDriveThatIsLeftOut(t *testing.T) {
	for _, g := range example(t, "footbridge").p.Stages {
		if strings.HasPrefix(g.Name, "Full drive") && (g.Name != "Full drive: not done here" || g.Live || !strings.Contains(g.Steps[0].Do, "fuse of W1 would carry 31.6 A, and is for 30.0 A")) {
			t.Errorf("%+v", g)
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

// The ground of a lead is read from its plug: by hand the core alone, 3.2 m of 39 Ω/km (IEC 60228 class 5, 0.5 mm²), without what is in the port.
func TestTheGroundOfAPluggedOffLead(t *testing.T) {
	s := step(t, example(t, "footbridge").p, "D1: ground core through", "unplugged")
	if s.Reading == nil || math.Abs(s.Reading.Is-3.2*0.039) > 1e-6 || s.Between != [2]string{"plug of D1, ground", "far end of D1, ground"} {
		t.Errorf("%+v, %+v", s, s.Reading)
	}
	for _, g := range example(t, "footbridge").p.Stages {
		for _, w := range g.Sheets {
			if w.Name == "leads" && !strings.Contains(strings.Join(w.Notes, " "), "fuse/ptc-0.75A, 400 mΩ, 250 to 825 mΩ in A1.P1, A1.P2") {
				t.Error(w.Notes)
			}
		}
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

// All meters that are used are named.
func TestMetersAreNamed(t *testing.T) {
	notes := strings.Join(example(t, "footbridge").p.Stages[0].Notes, " ")
	for _, want := range []string{"DC volts ±(1 % + 2 digits)", "the meter's own range of ohms ±(1 % + 3 digits"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no %q in %s", want, notes)
		}
	}
}
