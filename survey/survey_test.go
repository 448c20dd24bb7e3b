package survey_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/survey"
)

func TestSchemesAreJudgedAsTheySay(t *testing.T) {
	schemetest.Run(t, "testdata/*.scheme.yaml", survey.Rules())
}

// How far ends are apart, by hand: of right triangles with sides 3, 4, 5 and 5, 12, 13, and along lines of which each piece is known.
func TestDistancesAreThoseOfTheDrawing(t *testing.T) {
	s := schemetest.Unsolved(t, "triangles", `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
junctions: {X1: {part: junction/lever-5}, X2: {part: junction/lever-5}}
runs:
  E1: {tape: tape/5v-rgb-60, length: 7 m}
  E2: {tape: tape/5v-rgb-60, length: 4 m}
  E3: {tape: tape/5v-rgb-60, length: 1 m}
cables:
  W1: {part: cable/flex-2x4, length: 9 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 9 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 9 m, from: E1@end, to: A1.2}
  W4: {part: cable/flex-2x2.5, length: 9 m, from: A1.3, to: E1@5m}
  W5: {part: cable/flex-2x2.5, length: 9 m, from: X1, to: E1@px180}
  W6: {part: cable/flex-2x2.5, length: 9 m, from: X2, to: E1@start}
  W7: {part: cable/flex-2x2.5, length: 9 m, from: X1, to: E3@start}
  W8: {part: cable/flex-2x2.5, length: 15 m, from: A1.4, to: X1}
data:
  D1: {part: cable/data-3x0.5, length: 9 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 9 m, from: E1, to: E2}
  D3: {part: cable/data-3x0.5, length: 9 m, from: E2, to: E3}
states: {full: {}}
drawing:
  T1: [-3, -4]
  A1: [0, 0]
  X1: [-12, 5]
  E1: [[3, 4], [6, 4], [6, 8]]
  E2: [[3, 8], [3, 12]]
  W8: [[0, 0], [-12, 0], [-12, 5]]
`)
	want := map[string][]float64{
		"W1": {5}, "W2": {5}, "W3": {10}, "W4": {math.Hypot(6, 6)}, // 3 m along and 2 m up
		"W5": {math.Hypot(18, 1)}, // 3 m along: the bend
		"W8": {13, 17}, "D1": {5}, "D2": {3},
	}
	got := map[string][]float64{}
	for _, a := range s.Assess(survey.Rules()[:1]) {
		length := 9.0
		if a.Subject == "W8" {
			length = 15
		}
		got[a.Subject] = append(got[a.Subject], *a.Limit+0.01*length)
		if fails := *a.Limit > length; fails != (a.Grade == finding.Fails) {
			t.Errorf("%s is %v", a.Subject, a.Grade)
		}
	}
	if len(got) != len(want) {
		t.Errorf("judged are %v, want %v", got, want)
	}
	for id, list := range want {
		for i, apart := range list {
			if len(got[id]) != len(list) || math.Abs(got[id][i]-apart) > 1e-9 {
				t.Errorf("%s goes %v, want %v", id, got[id], list)
			}
		}
	}
}

// What a drawing may be off: 5 mm of short things, a hundredth of long ones, and of runs up to a piece of tape that cannot be cut. A1 is 0.4 m from E1, and E2
// begins 4 m from its end; tape is cut every 50 mm.
func TestDrawingsMayBeALittleOff(t *testing.T) {
	for _, c := range []struct{ cable, lead, run, line, want string }{
		{"0.4 m", "4 m", "1.2 m", "1.2", ""},
		{"0.396 m", "3.97 m", "1.2 m", "1.2", ""},
		{"0.394 m", "3.95 m", "1.2 m", "1.2", "fails D2, fails W2"},
		{"9 m", "40 m", "1.2 m", "1.249", ""},
		{"9 m", "40 m", "1.2 m", "1.251", "fails E1"},
		{"9 m", "40 m", "1.2 m", "1.189", ""}, // 12 mm
		{"9 m", "40 m", "1.2 m", "1.187", "note E1"},
		{"9 m", "40 m", "0.3 m", "0.296", ""}, // 5 mm
		{"9 m", "40 m", "0.3 m", "0.294", "note E1"},
		{"9 m", "40 m", "9 m", "9.089", ""}, // 90 mm
		{"9 m", "40 m", "9 m", "9.091", "fails E1"},
	} {
		s := schemetest.Unsolved(t, "slack", fmt.Sprintf(`farend: 1
supplies: {T1: {part: supply/24v-120w-din}}
boards: {A1: {part: board/six-way-two-port-24v}}
runs: {E1: {tape: tape/24v-rgb-20x8, length: %s}, E2: {tape: tape/24v-rgb-20x8, length: 1 m}}
cables: {W2: {part: cable/flex-2x2.5, length: %s, from: A1.1, to: E1@start}}
data: {D2: {part: cable/data-3x0.5, length: %s, from: E1, to: E2}}
states: {full: {}}
drawing: {A1: [0, -0.4], E1: [[0, 0], [%[4]s, 0]], E2: [[%[4]s, 4], [%[4]s, 5]]}`, c.run, c.cable, c.lead, c.line))
		var got []string
		for _, a := range s.Assess(survey.Rules()) {
			if a.Grade != finding.Pass {
				got = append(got, a.Grade.String()+" "+a.Subject)
			}
		}
		if slices.Sort(got); strings.Join(got, ", ") != c.want {
			t.Errorf("%+v: found is %v", c, got)
		}
	}
}

// random is a scheme with a drawing of its own: of most things, so far apart that many cables reach and many do not.
func random(r *rand.Rand) string {
	items := schemetest.Random(r)
	point := func() string { return fmt.Sprintf("[%.3f, %.3f]", 8*r.Float64()-4, 8*r.Float64()-4) }
	line := func() string {
		points := []string{point(), point()}
		for range r.Intn(4) {
			points = append(points, point())
		}
		return "[" + strings.Join(points, ", ") + "]"
	}
	for _, c := range []struct {
		section string
		drawn   int // of ten
		shape   func() string
	}{{"supplies", 8, point}, {"boards", 8, point}, {"junctions", 8, point}, {"runs", 8, line}, {"cables", 1, line}, {"data", 1, line}} {
		for _, item := range items[c.section] {
			if id, _, _ := strings.Cut(strings.TrimSpace(item), ":"); r.Intn(10) < c.drawn {
				items["drawing"] = append(items["drawing"], "  "+id+": "+c.shape())
			}
		}
	}
	return schemetest.Text(items, schemetest.AsWritten)
}

// Whatever is drawn is judged with numbers, by steps that lead there; and a finding with edits is gone once they are made.
func TestRandomDrawings(t *testing.T) {
	r := rand.New(rand.NewSource(19))
	fails, passes, mended := 0, 0, 0
	for i := range 150 {
		text := random(r)
		s := schemetest.Unsolved(t, fmt.Sprintf("random %d", i), text)
		assessed := s.Assess(survey.Rules())
		for _, a := range assessed {
			if a.Grade == finding.Fails {
				fails++
			} else {
				passes++
			}
			if a.Value == nil || math.IsNaN(*a.Value) || math.IsNaN(*a.Limit) {
				t.Errorf("random %d: %s of %s compares no numbers", i, a.Rule.Name, a.Subject)
			}
			if trace := a.Trace(); trace.Grade != a.Grade {
				t.Errorf("random %d: the steps of %s of %s lead to %v, not to %v: %+v", i, a.Rule.Name, a.Subject, trace.Grade, a.Grade, trace.Steps)
			}
		}
		found := s.Findings(assessed)
		for _, f := range found {
			if f.Rule != "survey/reach" || i%5 > 0 {
				continue
			}
			if f.Edits == nil {
				t.Errorf("random %d: %s has no edits", i, f.ID)
			}
			sch, _, mistakes := scheme.Apply("random", []byte(text), f.Edits, parts.Catalogue())
			if sch == nil {
				t.Fatalf("random %d: %v cannot be made: %v", i, f.Edits, mistakes)
			}
			mended++
			is := &study.Study{Scheme: sch, Network: s.Network}
			for _, g := range is.Findings(is.Assess(survey.Rules())) {
				if g.ID == f.ID {
					t.Errorf("random %d: after %v: %s", i, f.Edits, g.Text)
				}
			}
		}
	}
	if fails < 100 || passes < 100 || mended < 30 {
		t.Errorf("%d fail, %d do not, %d are mended: too few", fails, passes, mended)
	}
}
