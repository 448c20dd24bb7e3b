package board_test

import (
	"math"
	"testing"

	"farend/board"
	"farend/finding"
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

// Solid-state relays of 20 A are weaker and would do; the coil of the plug-in relay is for 12 V, as that of what is there.
func TestAContactorIsReplacedByOneWithTheSameCoil(t *testing.T) {
	s := schemetest.Study(t, "testdata/contactors.scheme.yaml")
	seen := 0
	for _, f := range s.Findings(s.Assess(board.Rules())) {
		if f.ID != "board/contactor-current:Q1" {
			continue
		}
		seen++
		if len(f.Edits) != 1 || f.Edits[0].Path != "/contactors/Q1/part" || f.Edits[0].Value != "relay/plug-in-30A" {
			t.Errorf("%s proposes %v", f.ID, f.Edits)
		}
	}
	if seen != 1 {
		t.Errorf("Q1 was found %d times", seen)
	}
}

// Where nobody says how wet it is, a box that may stand anywhere passes, one that says where it is is judged there, and others are unknown.
func TestABoxWhoseWetnessNobodySaysIsUnknown(t *testing.T) {
	s := schemetest.Changed(t, "testdata/wet.scheme.yaml", "site: {exposure: outdoors}\n", "", "holds: [A4], exposure: immersed", "holds: [A4]", "a box for a bucket, ip: 67", "a box for a bucket, ip: 68")
	want := map[string]finding.Grade{"B1": finding.Unknown, "B4": finding.Unknown, "B5": finding.Unknown, "B6": finding.Pass, "B8": finding.Danger, "B9": finding.Pass, "B10": finding.Unknown}
	seen := 0
	for _, a := range s.Assess(board.Rules()) {
		if grade, asked := want[a.Subject]; asked && a.Rule.Name == "board/enclosure-degree" {
			seen++
			if a.Grade != grade {
				t.Errorf("%s is %s (%s), want %s", a.Subject, a.Grade, a.Text, grade)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d boxes were judged, want %d", seen, len(want))
	}
}
