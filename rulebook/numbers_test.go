package rulebook_test

import (
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/rulebook"
	"farend/study"
)

// Every number that an assessment rests on is what its part states, under that key and on that basis; what no part states says
// whence it is. What is compared rests on something.
func TestAssessmentsRestOnWhatPartsState(t *testing.T) {
	rest := map[string]bool{}
	for _, room := range rulebook.Rooms() {
		for _, path := range roomPaths(t, room.Name) {
			s := schemetest.Study(t, path)
			facts := map[string]parts.Fact{}
			for _, a := range s.Assess(rulebook.All()) {
				numbers := a.Numbers()
				if a.Value != nil && len(numbers) == 0 {
					t.Errorf("%s: %s of %s compares a number and rests on none", path, a.Rule.Name, a.Subject)
				}
				for _, n := range numbers {
					rest[a.Rule.Name] = true
					held(t, s, facts, n)
				}
			}
		}
	}
	for _, name := range []string{"protection/cable-current", "protection/supply-load", "board/way-current", "board/port-ground", "light/pixel-voltage", "light/evenness", "light/colour-shift", "light/typical-tape"} {
		if !rest[name] {
			t.Errorf("%s rests on nothing", name)
		}
	}
}

// held compares a number with the fact that its part states; facts keeps those of parts already listed.
func held(t *testing.T, s *study.Study, facts map[string]parts.Fact, n study.Number) {
	t.Helper()
	if n.Part == "" {
		if n.Key == "" || n.Source == "" || !slices.Contains(parts.Bases(), n.Basis) {
			t.Errorf("%+v does not say what it is", n)
		}
		return
	}
	if _, known := facts[n.Part]; !known {
		part, _ := s.Scheme.Library.Find(n.Part)
		facts[n.Part] = parts.Fact{}
		for _, f := range parts.Facts(part) {
			facts[n.Part+" "+f.Key] = f
		}
	}
	f, stated := facts[n.String()]
	switch {
	case !stated && strings.Contains(n.Source, "the part does not say"): // a default of the catalogue's own
	case !stated && strings.HasSuffix(n.Key, ".x"): // a chromaticity that is nought
	case !stated:
		t.Errorf("%s does not state %s", n.Part, n.Key)
	case f.Basis != string(n.Basis):
		t.Errorf("%s is %q, and %q where a rule rests on it", n, f.Basis, n.Basis)
	}
}

// A finding names what is least known, and admits memory and practice in words.
func TestFindingsAdmitWhatTheyRestOn(t *testing.T) {
	s := schemetest.Study(t, "../protection/testdata/limits.scheme.yaml")
	seen := 0
	for _, f := range s.Findings(s.Assess(rulebook.All())) {
		if f.ID == "protection/supply-load:T4" {
			seen++
			if f.Basis != "memory" || f.Weakest != "supply/folds fold_to" || !strings.HasSuffix(f.Text, " This rests on a number from memory, for which no source was read: supply/folds fold_to.") {
				t.Errorf("%+v", f)
			}
		}
		if f.ID == "protection/supply-load:T7" {
			seen++
			if f.Grade != finding.Tight || f.Basis != "practice" || !strings.HasSuffix(f.Text, "This rests on common practice, for which there is no source: 80 % of a supply's rating.") {
				t.Errorf("%+v", f)
			}
		}
		if f.ID == "protection/supply-load:T1" {
			seen++
			if f.Basis != "measured" || f.Weakest != "" {
				t.Errorf("%+v", f)
			}
		}
	}
	if seen != 3 {
		t.Errorf("%d findings were looked at", seen)
	}
}
