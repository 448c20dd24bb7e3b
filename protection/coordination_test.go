package protection_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/reference"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/protection"
	"farend/scheme"
	"farend/study"
)

// judged studies a text and assesses it by the rules of the room.
func judged(t *testing.T, text string) (*study.Study, []study.Assessed) {
	t.Helper()
	sch, mistakes := scheme.Read("text", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatalf("%v\n%s", mistakes, text)
	}
	s, err := study.New(context.Background(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return s, s.Assess(protection.Rules())
}

// of are the assessments of a subject by a rule.
func of(all []study.Assessed, rule, subject string) []study.Assessed {
	var some []study.Assessed
	for _, a := range all {
		if a.Rule.Name == rule && a.Subject == subject {
			some = append(some, a)
		}
	}
	return some
}

func worst(all []study.Assessed) finding.Grade {
	g := finding.Pass
	for _, a := range all {
		g = max(g, a.Grade)
	}
	return g
}

// one is a supply, a way with a fuse of a rating that surely opens from a multiple of it on, a cable that may carry so much, and
// pixels of 10 mA.
func one(rating, opens, iz float64, pixels int) string {
	return fmt.Sprintf(`farend: 1
supplies: {T1: {part: supply/own}}
boards: {A1: {part: board/own}}
runs: {E1: {tape: tape/own, pixels: %d}}
cables:
  W1: {part: cable/stout, length: 0.1 m, from: T1, to: A1.in, fuse: fuse/stout}
  W2: {part: cable/own, length: 0.1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/own}
states: {full: {}}
parts:
  supply/own: {title: own, basis: measured, source: own, volts: 5 V, amps: 200 A, watts: 1000 W, source_resistance: 0.1 mΩ, limit: constant-current, limit_at: {low: 220 A, high: 240 A}}
  board/own: {title: own, basis: measured, source: own, volts_max: 24 V, inlet: {amps: 200 A, resistance: 0.1 mΩ}, ways: {1: {amps: 200 A, resistance: 0.1 mΩ}}}
  tape/own: {title: own, basis: measured, source: own, volts: 5 V, volts_min: 3 V, volts_max: 6 V, pixels: 1000 /m, cut_every: 1, rail: 0.01 mΩ/m, rail_amps: 200 A, capacitance: 0 nF, phase: free, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
  cable/stout: {title: own, basis: measured, source: own, cores: 2, area: 95 mm², class: 5, r20: 0.2 Ω/km, insulation: 70 °C, iz: 300 A}
  cable/own: {title: own, basis: measured, source: own, cores: 2, area: 2.5 mm², class: 5, r20: 1 Ω/km, insulation: 70 °C, iz: %g A}
  fuse/stout: {title: own, basis: measured, source: own, rating: 200 A, resistance: 0.1 mΩ, curve: curve/own, volts_max: 32 V, breaking: 1 kA, holder: inline}
  fuse/own: {title: own, basis: measured, source: own, rating: %g A, resistance: 0.1 mΩ, curve: curve/own, volts_max: 32 V, breaking: 1 kA}
  curve/own: {title: own, basis: measured, source: own, gates: [{multiple: 1.05, min: 360000 s}, {multiple: %g, min: 1 s, max: 1800 s}]}
`, pixels, iz, rating, opens)
}

// What a fuse may be rated for over what its cable may carry, as the standards' fusing currents leave it: IEC 60364-4-43 433.1 with each
// family's gate, row by row. The factors are printed to two decimals: those above 1 as the least Iz/In, the others as the most In/Iz. Above 1
// it is the rating that governs, for In ≤ Iz.
func TestRatingsOverCablesAreThoseOfTheTable(t *testing.T) {
	rows := reference.Where(t, reference.Rows(t, "adiabatic.csv"), "kind", "coordination")
	for _, c := range []struct {
		item   string
		opens  float64 // I2 over In, in the row's text
		factor func(float64) float64
	}{
		{"gG fuse In>=16 A", 1.6, func(v float64) float64 { return 1 / v }},
		{"gG fuse In<16 A", 1.9, func(v float64) float64 { return 1 / v }},
		{"blade fuse", 1.35, func(v float64) float64 { return v }},
		{"IEC 60127 T or F fuse", 2.1, func(v float64) float64 { return v }},
		{"polymer PTC", 2.0, func(v float64) float64 { return v }},
	} {
		most := c.factor(reference.Number(t, reference.Where(t, rows, "item", c.item)[0], "value"))
		if exact := 1.45 / c.opens; math.Abs(exact-most) > 0.006 {
			t.Errorf("%s: 1.45/%v is %v, the row says %v", c.item, c.opens, exact, most)
		}
		const iz, near = 20.0, 0.99
		at := 1.45 / c.opens * iz
		for share, want := range map[float64]finding.Grade{near: finding.Pass, 1 / near: finding.Danger} {
			if at*share > iz && want == finding.Pass {
				want = finding.Fails // I2 is fine, the rating is not
			}
			_, all := judged(t, one(at*share, c.opens, iz, 100))
			if got := worst(of(all, "protection/coordination", "W2")); got != want {
				t.Errorf("%s: %.3g A over %v A is %v, want %v", c.item, at*share, iz, got, want)
			}
		}
	}
}

// A page on DIN VDE 0100-430: over a cable of 9 A a gG fuse below 16 A may have 9/1.31 = 6.87 A, so one of 6 A it is.
func TestAFuseOverACableOfNineAmperes(t *testing.T) {
	row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", "FUS08")[0]
	most, tolerance := reference.Number(t, row, "expected"), reference.Number(t, row, "tolerance_pct")/100
	for rating, want := range map[float64]finding.Grade{6: finding.Pass, most * (1 - tolerance): finding.Pass, most * (1 + tolerance): finding.Danger, 8: finding.Danger} {
		_, all := judged(t, one(rating, 1.9, 9, 100))
		if got := worst(of(all, "protection/coordination", "W2")); got != want {
			t.Errorf("%v A over 9 A is %v, want %v", rating, got, want)
		}
	}
}

// A standard's example of a fuse of 25 A that carries 10 A: it is loaded to 0.4 of its rating.
func TestAFuseOfTwentyFiveAmperesCarryingTen(t *testing.T) {
	row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", "FUS05")[0]
	_, all := judged(t, one(25, 1.35, 30, 1000))
	for _, a := range of(all, "protection/fuse-load", "A1.1") {
		if want := reference.Number(t, row, "expected"); a.Case == "state/full" && math.Abs(*a.Value/(*a.Limit/0.75)/want-1) > reference.Number(t, row, "tolerance_pct")/100 {
			t.Errorf("it is loaded to %v of its rating, want %v", *a.Value/(*a.Limit/0.75), want)
		}
	}
}

// A guide on fuses at batteries: 12 V over a loop of 20 mΩ give 600 A.
func TestAShortAtTwelveVoltsOverTwentyMilliohm(t *testing.T) {
	row := reference.Where(t, reference.Rows(t, "coordination_examples.csv"), "id", "SHO01")[0]
	s := schemetest.Study(t, "testdata/breaking.scheme.yaml")
	_, sum := s.Gives("A1.1")
	if want := reference.Number(t, row, "expected"); math.Abs(float64(sum)/want-1) > reference.Number(t, row, "tolerance_pct")/100 {
		t.Errorf("a short draws %v, want %v A", sum, want)
	}
}

// Ways worked as an electrician does, by hand and in full: load against rating, rating against cable, fusing current against 1.45 times
// the cable. The sums stand in the comment of the scheme.
func TestWaysWorkedByHand(t *testing.T) {
	s := schemetest.Study(t, "testdata/coordination.scheme.yaml")
	all := s.Assess(protection.Rules())
	for _, c := range []struct {
		cable  string
		in, i2 float64
		iz     float64
		grades [3]finding.Grade
	}{
		{"W3", 20, 27, 15, [3]finding.Grade{finding.Pass, finding.Fails, finding.Danger}},
		{"W4", 20, 27, 27, [3]finding.Grade{}},
		{"W5", 15, 20.25, 14.5, [3]finding.Grade{finding.Pass, finding.Fails, finding.Pass}},
		{"W6", 6.3, 13.23, 9, [3]finding.Grade{finding.Pass, finding.Pass, finding.Danger}},
		{"W7", 6.3, 13.23, 10, [3]finding.Grade{}},
		{"W8", 5, 2 * 5 * (1 + 0.18*3/23), 7, [3]finding.Grade{finding.Pass, finding.Pass, finding.Danger}},
		{"W11", 20, 27, 15, [3]finding.Grade{finding.Pass, finding.Fails, finding.Danger}},
		{"W12", 20, 27, 15, [3]finding.Grade{finding.Pass, finding.Fails, finding.Danger}},
		{"W13", 10, 13.5, 15, [3]finding.Grade{finding.Fails, finding.Pass, finding.Pass}},
	} {
		found := of(all, "protection/coordination", c.cable)
		if home := c.cable == "W13"; len(found) != 3 && !home || home && len(found) != 4 {
			t.Errorf("%s is judged %d times", c.cable, len(found))
			continue
		}
		for i, want := range []struct{ value, limit float64 }{{math.NaN(), c.in}, {c.in, c.iz}, {c.i2, 1.45 * c.iz}} {
			a := found[i]
			if a.Grade != c.grades[i] || math.Abs(*a.Limit-want.limit) > exact*want.limit || math.Abs(*a.Value-want.value) > exact*want.value {
				t.Errorf("%s: %v against %v is %v, want %v against %v, %v", c.cable, *a.Value, *a.Limit, a.Grade, want.value, want.limit, c.grades[i])
			}
		}
	}
}

// Faults that are fed past a fuse, and returns of what others send, worked by hand: what lasts against what the cable bears for an hour.
// The sums stand in the comment of the scheme.
func TestFaultsFedPastAFuseWorkedByHand(t *testing.T) {
	s := schemetest.Study(t, "testdata/far.scheme.yaml")
	all := s.Assess(protection.Rules())
	for _, c := range []struct {
		cable, at string
		lasts, iz float64
		grade     finding.Grade
	}{
		{"W2", "X1", 33.75, 10, finding.Danger}, {"W3", "X1", 33.75, 27, finding.Pass}, {"W4", "X1", 4.05, 10, finding.Pass},
		{"W11", "A1.in", 67.5, 27, finding.Danger}, {"W21", "X3", 33.75, 27, finding.Pass}, {"W22", "X3", 33.75, 27, finding.Pass},
		{"W32", "E4@start", 27, 10, finding.Danger}, {"W33", "E4@start", 4.05, 20, finding.Pass},
		{"W42", "X6", 27, 10, finding.Danger}, {"W42", "X7", 27, 10, finding.Danger}, {"W44", "E5@px50", 27, 10, finding.Danger},
		{"W51", "E6@start", 40.5, 10, finding.Danger},
	} {
		found := of(all, "protection/coordination", c.cable)
		i := slices.IndexFunc(found, func(a study.Assessed) bool {
			return a.At == c.at && math.Abs(*a.Limit-1.45*c.iz) < exact*c.iz && math.Abs(*a.Value-c.lasts) < exact*c.lasts
		})
		if i < 0 || found[i].Grade != c.grade {
			t.Errorf("%s at %s: %d, want %v A against 1.45 times %v A, %v: %+v", c.cable, c.at, i, c.lasts, c.iz, c.grade, found)
		}
	}
	for _, cable := range []string{"W34", "W61", "W62"} { // along the rails other feeds of the run would come; returns share as the plus does
		for _, a := range of(all, "protection/coordination", cable) {
			if a.Grade != finding.Pass {
				t.Errorf("%s at %s is %v: %s", cable, a.At, a.Grade, a.Text)
			}
		}
	}
}

// What may flow for ever into what hangs on leads without a fuse: the sums stand in the comment of the scheme.
func TestSupplyLeadsWorkedByHand(t *testing.T) {
	s := schemetest.Study(t, "testdata/source.scheme.yaml")
	all := s.Assess(protection.Rules())
	for _, c := range []struct {
		cable         string
		value, limit  float64
		gradeOfSource finding.Grade
	}{
		{"W1", 84, 20, finding.Danger}, {"W2", 8, 10, finding.Tight}, {"W3", 84, 20, finding.Danger}, {"W4", 28, 20, finding.Danger},
		{"W5", 28, 20, finding.Danger}, {"W10", 14 + 13.5, 20, finding.Danger}, {"W14", 84, 23, finding.Danger},
	} {
		found := of(all, "protection/source-fuse", c.cable)
		if len(found) != 1 || found[0].Grade != c.gradeOfSource || math.Abs(*found[0].Value-c.value) > exact*c.value || math.Abs(*found[0].Limit-c.limit) > exact*c.limit {
			t.Errorf("%s: %+v, want %v against %v", c.cable, found, c.value, c.limit)
		}
	}
}

// A load that rises never makes a verdict better: not that of any rule on any subject, and neither with the cap failed, where a fuse may
// open, for it must open on whatever is above a limit.
func TestALoadThatRisesNeverImprovesAVerdict(t *testing.T) {
	random := rand.New(rand.NewSource(11))
	for range 60 {
		rating, opens, iz := 2+random.Float64()*20, 1.2+random.Float64(), 3+random.Float64()*20
		before := map[string]finding.Grade{}
		for pixels := 50; pixels < 4000; pixels += 50 + pixels/4 {
			_, all := judged(t, one(rating, opens, iz, pixels))
			now := map[string]finding.Grade{}
			for _, a := range all {
				key := a.Rule.Name + ":" + a.Subject
				now[key] = max(now[key], a.Grade)
			}
			for key, was := range before {
				if now[key] < was {
					t.Fatalf("%s was %v and is %v with %d pixels, a fuse of %v A that opens at %v, and %v A", key, was, now[key], pixels, rating, opens, iz)
				}
			}
			before = now
		}
	}
}

// A larger fuse never guards a cable better, and a cable that may carry more is never guarded worse.
func TestALargerFuseNeverImprovesCoordination(t *testing.T) {
	random := rand.New(rand.NewSource(12))
	guard := func(rating, opens, iz float64) finding.Grade {
		_, all := judged(t, one(rating, opens, iz, 100))
		return worst(of(all, "protection/coordination", "W2"))
	}
	danger := 0
	for range 150 {
		rating, opens, iz := 2+random.Float64()*20, 1.2+random.Float64(), 3+random.Float64()*20
		larger, more := rating*(1+random.Float64()), iz*(1+random.Float64())
		was := guard(rating, opens, iz)
		if got := guard(larger, opens, iz); got < was {
			t.Errorf("%v A over %v A is %v, and %v A is %v", rating, iz, was, larger, got)
		}
		if got := guard(rating, opens, more); got > was {
			t.Errorf("%v A over %v A is %v, and over %v A it is %v", rating, iz, was, more, got)
		}
		if was == finding.Danger {
			danger++
		}
	}
	if danger < 20 {
		t.Errorf("only %d are dangers", danger)
	}
}

// A clearing time that grows never makes what it has to end better.
func TestASlowerFuseNeverEndsAnOverloadBetter(t *testing.T) {
	last := finding.Tight
	for _, seconds := range []float64{1, 30, 60, 61, 300, 1800, 3600, 4000} { // 20 A are borne for an hour
		text := strings.Replace(one(10, 1.35, 15, 2000), "max: 1800 s", fmt.Sprintf("max: %g s", seconds), 1)
		text = strings.Replace(text, "states: {full: {}}", "aims: {cap: 10 %}\nstates: {full: {}}", 1)
		_, all := judged(t, text)
		got := worst(of(all, "protection/cable-current", "W2"))
		if got < last || seconds <= 3600 && got != finding.Tight {
			t.Errorf("with %v s it is %v, and was %v", seconds, got, last)
		}
		last = got
	}
	if last != finding.Danger {
		t.Errorf("in the end it is %v", last)
	}
}

// A remedy names what to buy. 2 × 0.75 mm² may carry 6 A in air of 30 °C (DIN VDE 0298-4): a blade of 5 A is the next below; a quick glass
// cartridge opens from 2.1 times its rating on (IEC 60127-2), so that 1.45 × 6 A = 8.7 A asks for 8.7 A/2.1 = 4.14 A or less: 4 A, of those that
// break as much as 10 A did (10 · In).
func TestTheRemedyNamesTheLargestFuseThatSuits(t *testing.T) {
	for fuse, want := range map[string]string{"fuse/blade-25A": "Use fuse/blade-5A or a smaller fuse, ", "fuse/cartridge-f-10A": "Use fuse/cartridge-f-4A-high or a smaller fuse, ", "fuse/own": "Use a fuse of 6.00 A or less, "} {
		board := "board/six-way-two-port-24v"
		if strings.Contains(fuse, "cartridge") {
			board = "board/eight-way-four-port-cartridge"
		}
		_, all := judged(t, fmt.Sprintf(`farend: 1
supplies: {T1: {part: supply/12v-350w}}
boards: {A1: {part: %s}}
runs: {E1: {tape: tape/12v-rgb-20x3, length: 1 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x0.75, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: %s}
states: {full: {}}
parts:
  fuse/own: {title: "own", basis: invented, rating: 20 A, curve: curve/iso8820-blade, holder: blade, resistance: 1 mΩ}
`, board, fuse))
		for _, a := range of(all, "protection/coordination", "W2") {
			if a.Grade == finding.Danger && !strings.HasPrefix(a.Remedy, want) {
				t.Errorf("%s: %s", fuse, a.Remedy)
			}
		}
		if got := worst(of(all, "protection/coordination", "W2")); got != finding.Danger {
			t.Errorf("%s: %s", fuse, got)
		}
	}
}
