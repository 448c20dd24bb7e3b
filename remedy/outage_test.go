package remedy

import (
	"fmt"
	"os"
	"slices"
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

// Of a run with a feed past the board the return is cut where its feeds part, and nowhere else: with the return of the inlet out, what hangs on the
// board goes dark, and the rails carry what they did.
func TestAReturnIsCutWhereItsFeedsPart(t *testing.T) {
	const path = "testdata/beside.scheme.yaml"
	s := schemetest.Study(t, path)
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	h := lostBy(t, s, "E1", "A1.in.return")
	edits := Lost(s, h)
	if want := `[{/runs/E1/cuts [map[at:px400 pole:plus] map[at:px800 pole:both]]}]`; fmt.Sprint(edits) != want {
		t.Fatalf("%v, not %s", edits, want)
	}
	revision, err := s.Edit(t.Context(), source, edits)
	if err != nil || revision.Study == nil {
		t.Fatalf("%v, %v", revision.Mistakes, err)
	}
	after := revision.Study.Lost()
	if o, ok := after.Without("A1.in.return"); !ok || len(o.Dark) != 1 || o.Dark[0].Pixels != 800 {
		t.Errorf("with the return of the inlet out, %+v goes dark, not 800 pixels of E1", o.Dark)
	}
	for _, i := range after.Of("E1") {
		if h := after.Harm(i); h.Verdict.Grade > finding.Pass {
			t.Errorf("%s is %v still", h.Bearer.Name, h.Verdict.Grade)
		}
	}
}

// Where the return of one way is lost and the data ground would be the next way home, that is opened with the cut: the piece goes dark for all to see.
func TestWhatIsCutOffHasNoHomeByTheData(t *testing.T) {
	s := schemetest.Study(t, "../examples/footbridge-two-feeds.scheme.yaml")
	edits := Lost(s, lostBy(t, s, "A1.1", "A1.3.return"))
	cut := slices.ContainsFunc(edits, func(e finding.Edit) bool {
		return e.Path == "/runs/E1/cuts" && fmt.Sprint(e.Value) == "[map[at:px144 pole:both]]"
	})
	open := slices.ContainsFunc(edits, func(e finding.Edit) bool { return e.Path == "/data/D1/ground" && e.Value == "open" })
	if !cut || !open {
		t.Errorf("%v: cut %v, ground open %v", edits, cut, open)
	}
}

// lostBy is what the worst outage does to the conductor of a thing that it does most to, which has to be this one.
func lostBy(t *testing.T, s *study.Study, owner, out string) study.Harm {
	t.Helper()
	var worst study.Harm
	for _, i := range s.Lost().Of(owner) {
		if h := s.Lost().Harm(i); h.Verdict.Grade > worst.Verdict.Grade {
			worst = h
		}
	}
	if worst.Strike == nil || worst.Strike.Case.Out != out {
		t.Fatalf("the worst for %s is %+v, not %s out", owner, worst, out)
	}
	return worst
}
