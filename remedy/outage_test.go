package remedy

import (
	"os"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/study"
)

// Where a lost return goes home by the ground between two runs, opening that ground ends it; where a run has no return but the ground, it gets one; and
// what is open already stays.
func TestALostReturnIsSparedTheDataGround(t *testing.T) {
	const path = "../protection/testdata/faults/lost.scheme.yaml"
	s := schemetest.Study(t, path)
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	worst := func(s *study.Study) (grade finding.Grade) {
		for _, i := range s.Lost().Of("D2") {
			grade = max(grade, s.Lost().Harm(i).Verdict.Grade)
		}
		return grade
	}
	edits := Homeless(s, "D2")
	if len(edits) != 1 || edits[0].Path != "/data/D2/ground" || edits[0].Value != "open" {
		t.Fatalf("%+v", edits)
	}
	revision, err := s.Edit(t.Context(), source, edits)
	if err != nil || revision.Study == nil {
		t.Fatalf("%v, %v", revision.Mistakes, err)
	}
	if before, after := worst(s), worst(revision.Study); before != finding.Danger || after != finding.Pass {
		t.Errorf("D2 is a %v before and a %v after", before, after)
	}
	if edits := Homeless(s, "D1"); edits != nil {
		t.Errorf("the ground of D1 is open, and gets %+v", edits)
	}
	returns := schemetest.Study(t, "../protection/testdata/returns.scheme.yaml")
	for _, f := range returns.Network.Feeds("E1") {
		if !f.DataOnly {
			continue
		}
		for lead, d := range returns.Scheme.Data {
			if d.To.Element == "E1" && d.Ground == "" {
				if edits := Homeless(returns, lead); len(edits) == 0 || edits[0].Path == "/data/"+lead+"/ground" {
					t.Errorf("E1 has no return but %s, and gets %+v", lead, edits)
				}
				return
			}
		}
	}
	t.Error("no run returns by a data ground alone")
}
