package commission_test

import (
	"context"
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
	p, err := commission.Of(context.Background(), st, []commission.Danger{{Name: "tape on the wrong voltage", Of: []string{"E12"}}, {Name: "fuse and cable", Of: []string{"W31", "W32", "W31"}}})
	if err != nil {
		t.Fatal(err)
	}
	if g := p.Stages[0]; g.Name != "Not to be switched on: 4 findings" || len(g.Steps) != 2 || !strings.Contains(g.Steps[0].Do, "tape on the wrong voltage (E12)") || !strings.HasSuffix(g.Steps[1].Do, "(W31, W32)") {
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
	cells := ""
	for _, page := range bound.Bind(commission.Pages(p, layout.A4, nil)) {
		cells += strings.Join(pagetest.Words(page.Scene), " ")
	}
	if !strings.Contains(cells, "not to be switched on, see ") {
		t.Error("no cell forbids to switch on")
	}
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

// All meters that are used are named.
func TestMetersAreNamed(t *testing.T) {
	notes := strings.Join(example(t, "footbridge").p.Stages[0].Notes, " ")
	for _, want := range []string{"DC volts ±(1 % + 2 digits)", "the meter's own range of ohms ±(1 % + 3 digits"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no %q in %s", want, notes)
		}
	}
}
