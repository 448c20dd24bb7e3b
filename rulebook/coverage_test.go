package rulebook_test

import (
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/rulebook"
	"farend/study"
)

// Every rule has a scheme in its room's testdata where it fires, and one where everything it judges passes.
func TestEveryRuleFiresInOneSchemeAndPassesInAnother(t *testing.T) {
	fires, passes := map[string]bool{}, map[string]bool{}
	for _, room := range rulebook.Rooms() {
		for _, path := range roomPaths(t, room.Name) {
			for rule, worst := range grades(schemetest.Study(t, path), room.Rules) {
				fires[rule] = fires[rule] || worst > finding.Pass
				passes[rule] = passes[rule] || worst == finding.Pass
			}
		}
	}
	for _, r := range rulebook.All() {
		if !fires[r.Name] {
			t.Errorf("%s fires in no scheme", r.Name)
		}
		if !passes[r.Name] {
			t.Errorf("%s passes in no scheme", r.Name)
		}
	}
}

// grades is the worst grade of every rule that assessed something.
func grades(s *study.Study, rules []study.Rule) map[string]finding.Grade {
	worst := map[string]finding.Grade{}
	for _, a := range s.Assess(rules) {
		worst[a.Rule.Name] = max(worst[a.Rule.Name], a.Grade)
	}
	return worst
}
