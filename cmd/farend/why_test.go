package main

import (
	"math/rand/v2"
	"strings"
	"testing"

	"farend/examples"
	"farend/internal/sums"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// Every comparison of schemes with random changes has a trace that leads to its grade, whatever the numbers; and its page fits.
func TestRandomChangesAreReasoned(t *testing.T) {
	library := parts.Catalogue()
	followed := 0
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 2))
		source := ownParts
		for range 1 + seed%3 {
			source = change(r, source, library)
		}
		sch, mistakes := scheme.Read("standard input", []byte(source), library)
		if len(mistakes) > 0 {
			continue
		}
		s, err := study.New(t.Context(), sch)
		if err != nil {
			t.Fatal(err)
		}
		all := s.Assess(rulebook.All())
		for _, a := range all {
			followed++
			reasonable(t, a)
		}
		asked := all[r.IntN(len(all))]
		out, errs, _ := answer(t, []byte(source), "--why", askName(asked)+":"+asked.Case)
		if errs != "" || !strings.Contains(out, "Sources of the rule") {
			t.Errorf("%s: %s%s", askName(asked), errs, out)
		}
		fitting(t, out)
		if t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, source)
		}
	}
	if followed < 1000 {
		t.Errorf("only %d comparisons were followed", followed)
	}
}

func reasonable(t *testing.T, a study.Assessed) {
	t.Helper()
	trace := a.Trace()
	if trace.Grade != a.Grade {
		t.Errorf("%s in %s is %s, its trace leads to %s: %+v", askName(a), a.Case, a.Grade, trace.Grade, trace.Steps)
	}
	for _, s := range trace.Steps {
		if odd := strings.Contains(s.Sum, "undefined") || strings.Contains(s.Sum, "unlimited"); s.Sum == "" || odd {
			continue
		}
		if err := sums.Holds(s.Sum); err != nil {
			t.Errorf("%s in %s: %s: %v", askName(a), a.Case, s.Formula, err)
		}
	}
}

func TestWhatIsAskedIsUnderstood(t *testing.T) {
	source, err := examples.Files.ReadFile("footbridge.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	sch, _ := scheme.Read("footbridge.scheme.yaml", source, parts.Catalogue())
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	c := &checked{Study: s, assessed: s.Assess(rulebook.All())}
	for asked, want := range map[string]inquiry{
		"protection/cable-current:W1:dark":      {"protection/cable-current", "W1", "dark"},
		"cable-current:W1":                      {"protection/cable-current", "W1", ""},
		"cable-current":                         {"protection/cable-current", "", ""},
		"W1":                                    {"", "W1", ""},
		"light/typical-tape:tape/5v-rgb-60":     {"light/typical-tape", "tape/5v-rgb-60", ""},
		"not-chosen":                            {"protection/not-chosen", "", ""},
		"silent-power:fault/poles/W1@from/dark": {"protection/silent-power", "", "fault/poles/W1@from/dark"},
		"light/pixel-voltage:E1:peak/full":      {"light/pixel-voltage", "E1", "peak/full"},
		"tape/5v-rgb-60":                        {"", "tape/5v-rgb-60", ""},
		"protection/operating-point::":          {"protection/operating-point", "", ""},
		"board/way-current:A1.1:peak/full":      {"board/way-current", "A1.1", "peak/full"},
		"protection/supply-load:T1:cap-failed":  {"protection/supply-load", "T1", "cap-failed"},
		"protection/rail-current:E2:state/full": {"protection/rail-current", "E2", "state/full"},
	} {
		if got, err := c.understood(asked); err != nil || got != want {
			t.Errorf("%s: %+v, %v, want %+v", asked, got, err, want)
		}
	}
}
