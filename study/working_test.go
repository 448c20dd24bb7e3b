package study_test

import (
	"math"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/sums"
	"farend/network"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// rated is a current against the rating of a link, three quarters of which it carries for ever.
func rated(amps, rating unit.Ampere) study.Assessment {
	a := study.Upper(float64(amps), 0.75*float64(rating), 0.05, finding.Fails).Fill("state/full", "A", parts.Datasheet, "a sheet")
	return a.Worked(func(w *study.Working) {
		w.Solved("I", "current of the link", study.Of(amps), network.Case{Name: "state/full"})
		w.Stated("I_n", "its rating", study.Number{Part: "fuse/blade", Key: "rating", Basis: parts.Datasheet, Source: "a sheet", Is: study.Of(rating)})
		w.Taken("k_c", "share that it carries for ever", study.Plain(0.75), study.Source{Title: "a guide", Basis: parts.Handbook})
		w.Step("What it carries for ever", "I_c = k_c · I_n")
		w.Upper("I", "I_c", 0.05, finding.Fails)
	})
}

func TestATraceIsFollowedByHand(t *testing.T) {
	trace := rated(5.5, 7.5).Trace()
	var lines []string
	for _, s := range trace.Steps {
		lines = append(lines, s.What+"|"+s.Formula+"|"+s.Sum+"|"+s.Result)
	}
	want := []string{"What it carries for ever|I_c = k_c · I_n|0.75 × 7.5 A = 5.625 A|5.625 A", "Fails where|I > I_c|5.5 A ≤ 5.625 A|no", "Tight where|I > 0.95 · I_c|5.5 A > 0.95 × 5.625 A = 5.344 A|yes: tight"}
	if strings.Join(lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(lines, "\n"))
	}
	if trace.Grade != finding.Tight || trace.Figures != 4 || *trace.Value != 5.5 || *trace.Limit != 5.625 {
		t.Errorf("%+v", trace)
	}
	first := trace.Steps[0].Inputs
	if len(first) != 2 || first[0].Sign != "k_c" || first[0].From.Kind != study.OfRule || first[1].Text != "7.5 A" || first[1].Is != 7.5 || first[1].Unit != "A" || first[1].From.Part != "fuse/blade" {
		t.Errorf("%+v", first)
	}
	if second := trace.Steps[1].Inputs; len(second) != 1 || second[0].From.Case != "state/full" || second[0].From.Kind != study.Solved {
		t.Errorf("%+v", second)
	}
}

// A value a hair above its limit is carried with the figures that show it.
func TestATraceIsCarriedWithTheFiguresThatLeadToItsGrade(t *testing.T) {
	for over, figures := range map[float64]int{1e-3: 4, 1e-5: 5, -1e-7: 4, 1e-9: 9} {
		a := rated(unit.Ampere(5.625*(1+over)), 7.5)
		trace := a.Trace()
		if trace.Grade != a.Grade || trace.Figures != figures {
			t.Errorf("%v over: %v with %d figures, want %v with %d", over, trace.Grade, trace.Figures, a.Grade, figures)
		}
		for _, s := range trace.Steps {
			if err := sums.Holds(s.Sum); err != nil {
				t.Error(err)
			}
		}
	}
}

// What no rule should do is told in the trace, and is nothing to fall over.
func TestATraceThatCannotBeWorkedOutSaysSo(t *testing.T) {
	for name, write := range map[string]func(*study.Working){
		"a sign that is not known": func(w *study.Working) { w.Step("It", "I_c = 2 · I_n") },
		"units that differ":        func(w *study.Working) { w.When(finding.Fails, "2 A > I") },
		"no comparison":            func(w *study.Working) { w.When(finding.Fails, "U > 2 V") },
	} {
		t.Run(name, func(t *testing.T) {
			steps := study.Assessment{}.Worked(write).Trace().Steps
			if len(steps) != 1 || !strings.Contains(steps[0].Result, "unknown sign") {
				t.Errorf("%+v", steps)
			}
		})
	}
}

func TestATraceOfWhatIsNoNumberHasNoGradeOfItsOwn(t *testing.T) {
	a := study.Assessment{Grade: finding.Pass}.Worked(func(w *study.Working) {
		w.Stated("U", "volts of nothing", study.Number{Is: study.Of(unit.Volt(math.NaN()))})
		w.Taken("U_max", "limit", study.Of(unit.Volt(math.Inf(1))), study.Source{})
		w.Upper("U", "U_max", 0.05, finding.Danger)
	})
	for _, s := range a.Trace().Steps {
		if !strings.HasPrefix(s.Sum, "undefined") || s.Result != "no" {
			t.Errorf("%+v", s)
		}
	}
}

func TestNegativeNumbersAndPowersStandInBrackets(t *testing.T) {
	steps := study.Assessment{Grade: finding.Danger}.Worked(func(w *study.Working) {
		w.Taken("T_a", "air", study.Of(unit.Celsius(-10)), study.Source{})
		w.Taken("I", "current", study.Of(unit.Ampere(2)), study.Source{})
		w.Counted("n", "cores", 3)
		w.Step("Warmer than the air", "T = 30 °C − T_a")
		w.Step("Square", "P = n · I² · 1 Ω")
		w.Step("Share", "k = min(1, I/3 A)")
		w.When(finding.Fails, "k < 0.5")
		w.Fact(finding.Danger, "It is lit.")
		w.Fact(finding.Fails, "It is not asked any more.")
	}).Trace().Steps
	want := []string{"30 °C − (−10 °C) = 40 °C", "3 × (2 A)² × 1 Ω = 12 W", "min(1, 2 A/3 A) = 0.6667", "0.6667 ≥ 0.5", ""}
	if len(steps) != len(want) {
		t.Fatalf("%+v", steps)
	}
	for i, s := range steps {
		if s.Sum != want[i] {
			t.Errorf("%q, want %q", s.Sum, want[i])
		}
	}
	if steps[4].Result != "danger" {
		t.Errorf("%+v", steps[4])
	}
}
