package board_test

import (
	"math"
	"testing"

	"farend/board"
	"farend/internal/schemetest"
)

func TestSchemesAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/*.scheme.yaml", board.Rules())
}

// The sum stands in the comment of the scheme: two return paths in parallel at 20 °C, E3 drawing 2 A.
func TestDataGroundTakesItsShareOfTheReturn(t *testing.T) {
	const exact = 1e-6 // the solver's own limit, with room
	power, ground := 3*7.98e-3, 5e-3+0.4+3*39e-3
	want := 2 * power / (power + ground)
	s := schemetest.Study(t, "testdata/grounds.scheme.yaml")
	seen := 0
	for _, a := range s.Assess(board.Rules()) {
		if a.Subject == "D3" && a.Case == "state/full" {
			seen++
			if math.Abs(*a.Value-want) > exact*want {
				t.Errorf("%s: D3 carries %v A, want %v A", a.Rule.Name, *a.Value, want)
			}
		}
	}
	if seen != 3 { // contact, fuse and core
		t.Errorf("D3 was judged %d times", seen)
	}
}
