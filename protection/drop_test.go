package protection_test

import (
	"math"
	"os"
	"testing"

	"farend/finding"
	"farend/internal/reference"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/protection"
	"farend/study"
)

// row is the one row of elv_lighting.csv with that clause, topic and requirement.
func row(t *testing.T, clause, topic, requirement string) map[string]string {
	t.Helper()
	for _, r := range reference.Rows(t, "elv_lighting.csv") {
		if r["clause"] == clause && r["topic"] == topic && r["requirement"] == requirement {
			return r
		}
	}
	t.Fatalf("no row %s, %s, %s", clause, topic, requirement)
	return nil
}

// What is lost, by hand, in testdata/drop: 3 A or 6 A, all copper at 20 °C, cores of IEC 60228:2004 table 3 (class 5), everything else
// as its part says. The limit is that of IEC 60364-7-715, 715.525.
func TestVoltageDropAgreesWithArithmeticByHand(t *testing.T) {
	share := reference.Number(t, row(t, "715.525", "voltage drop", "between transformer/converter and furthest luminaire, of nominal"), "value") / 100
	const thin, middle, thick = 13.3e-3, 7.98e-3, 4.95e-3 // Ω/m of 1.5, 2.5 and 4 mm²
	library := parts.Catalogue()
	ohms := func(fuse string) float64 {
		part, ok := parts.Get[parts.Fuse](library, fuse)
		if !ok {
			t.Fatal(fuse)
		}
		return float64(part.Resistance.Is)
	}
	board, _ := parts.Get[parts.Board](library, "board/four-way-two-port")
	before := 6 * (2*5*middle + ohms("fuse/inline-10A") + 2*float64(board.Inlet.Resistance.Is)) // up to the bar of A1
	way := func(socket string) float64 {
		return 3 * (float64(board.Ways[socket].Resistance.Is) + ohms("fuse/blade-5A"))
	}
	want := map[string]float64{
		"W1": 3 * (2*12*thin + ohms("fuse/inline-5A")),
		"W2": 3 * (2*12*thick + ohms("fuse/inline-5A")),
		"W4": before + way("1") + 3*2*0.5*middle,
		"W5": before + way("2") + 3*2*4*middle,
	}
	s := schemetest.Study(t, "testdata/drop.scheme.yaml")
	all := s.Assess(protection.Rules())
	for id, volts := range want {
		a, ok := assessed(all, "protection/voltage-drop", id, "state/full")
		if !ok || math.Abs(*a.Value-volts) > exact*volts || math.Abs(*a.Limit-share*12) > 1e-12 {
			t.Errorf("%s loses %v, want %v V against %v V", id, a.Value, volts, share*12)
		}
	}
	if a, judged := assessed(all, "protection/voltage-drop", "W6", "state/full"); judged {
		t.Errorf("W6, from run to run, is judged: %+v", a)
	}
}

// A load that rises never improves a verdict: of runs of growing length on one feed each loses more than the last.
func TestVoltageDropRisesWithTheLoad(t *testing.T) {
	last := 0.0
	for _, pixels := range []string{"100", "200", "300", "400"} {
		s := schemetest.Changed(t, "testdata/drop.scheme.yaml", "E1: {tape: tape/twelve, pixels: 300}", "E1: {tape: tape/twelve, pixels: "+pixels+"}")
		a, ok := assessed(s.Assess([]study.Rule{ruleNamed(t, "protection/voltage-drop")}), "protection/voltage-drop", "W1", "state/full")
		if !ok || *a.Value <= last {
			t.Errorf("%s pixels lose %v, no more than fewer did", pixels, a.Value)
		}
		last = *a.Value
	}
}

func ruleNamed(t *testing.T, name string) study.Rule {
	t.Helper()
	for _, r := range protection.Rules() {
		if r.Name == name {
			return r
		}
	}
	t.Fatalf("no rule %s", name)
	return study.Rule{}
}

// The remedy is thicker copper where it saves most: W1 as the example of the rule says, W5 by the lead before it.
func TestVoltageDropIsMendedByThickerCables(t *testing.T) {
	const path = "testdata/drop.scheme.yaml"
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rules := []study.Rule{ruleNamed(t, "protection/voltage-drop")}
	s := schemetest.Study(t, path)
	mended := map[string][]finding.Edit{}
	for _, f := range s.Findings(s.Assess(rules)) {
		if f.Rule != "protection/voltage-drop" {
			continue
		}
		got, err := s.Edit(t.Context(), source, f.Edits)
		if err != nil || got.Study == nil {
			t.Fatalf("%s: %v, %v", f.ID, err, got.Mistakes)
		}
		mended[f.Subject] = f.Edits
		for _, left := range got.Study.Findings(got.Study.Assess(rules)) {
			if left.ID == f.ID {
				t.Errorf("%v leaves %s", f.Edits, left.Text)
			}
		}
	}
	if e := mended["W1"]; len(e) != 1 || e[0].Path != "/cables/W1/part" || e[0].Value != "cable/flex-2x4" {
		t.Errorf("W1 is mended by %v", e)
	}
	for _, id := range []string{"W4", "W5"} {
		if e := mended[id]; len(e) == 0 || e[0].Path != "/cables/W3/part" {
			t.Errorf("%s is mended by %v", id, e)
		}
	}
}
