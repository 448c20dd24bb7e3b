package study_test

import (
	"math"
	"strings"
	"testing"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// four is a run on tape of next to no resistance that four fuses of 5 A feed by leads of 1 m of 2.5 mm², at marks a quarter of it apart.
const four = `farend: 1
site: {exposure: dry, metalwork: isolated, coldest: 20 °C, conductors: 20 °C}
supplies: {T1: {part: supply/stiff}}
boards: {A1: {part: board/own}}
runs: {E1: {tape: tape/stiff, pixels: 40}}
cables:
  W1: {part: cable/flex-2x10, length: 0.5 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@px5}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@px15}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E1@px25}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.4, to: E1@px35}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-5A, A1.4: fuse/blade-5A}
states: {full: {}}
parts:
  tape/stiff: {title: stiff, basis: measured, source: invented for this test, volts: 5 V, volts_min: 3 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 0.01 mΩ/m, rail_amps: 30 A, capacitance: 100 nF, phase: unknown, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
  supply/stiff: {title: stiff, basis: measured, source: invented for this test, volts: 5 V, amps: 100 A, watts: 500 W, source_resistance: 0.1 mΩ, limit: constant-current, limit_at: {low: 110 A, high: 120 A}}
  board/own: {title: own, basis: measured, source: invented for this test, volts_max: 24 V, inlet: {amps: 100 A, resistance: 0.1 mΩ}, ways: {1: {amps: 20 A, resistance: 1 mΩ}, 2: {amps: 20 A, resistance: 1 mΩ}, 3: {amps: 20 A, resistance: 1 mΩ}, 4: {amps: 20 A, resistance: 1 mΩ}}}
`

func divisions(t *testing.T, text string) []study.Division {
	t.Helper()
	sch, mistakes := scheme.Read("four", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatal(err)
	}
	list, err := s.Divisions(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// 20 A over four fused leads against one fuse of 20 A, a saying of the trade (common practice, no source): smaller fuses leave a fault less. By hand: on
// unbroken tape without resistance all four share a fault evenly, and each holds 1.35 × 5 A: together 27 A, as much as the one, 1.35 × 20 A. Cut between
// the feeds a piece hangs on one fuse alone: 6.75 A, a quarter, at
// a little more voltage than 27 A leave behind one lead.
func TestFourSmallFusesOrOne(t *testing.T) {
	list := divisions(t, four)
	if len(list) != 1 {
		t.Fatalf("%+v", list)
	}
	d := list[0]
	if d.Run != "E1" || len(d.Fuses) != 4 || d.Sum != 20 || d.Is {
		t.Errorf("%+v", d)
	}
	for name, c := range map[string]struct{ got, least, most float64 }{
		"one fuse before whole tape: a little less than 5 V × 27 A": {float64(d.Whole.One), 0.9 * 135, 135},
		"several, on whole tape":                                    {float64(d.Whole.Several / d.Whole.One), 0.97, 1.001},
		"several, on cut tape":                                      {float64(d.Cut.Several / d.Cut.One), 0.25, 0.30},
		"one fuse before cut tape":                                  {float64(d.Cut.One / d.Whole.One), 0.85, 1.001},
		"a lead of its own: a quarter":                              {float64(d.LeadCut.Several / d.LeadCut.One), 0.25, 0.28},
		"a lead that the others feed, too":                          {float64(d.Lead.Several / d.Lead.One), 0.6, 1.001},
	} {
		if math.IsNaN(c.got) || c.got < c.least || c.got > c.most {
			t.Errorf("%s: %g, by hand %g to %g", name, c.got, c.least, c.most)
		}
	}
	// Of four runs with a lead each there is nothing to meet: each lead has its own fuse alone.
	apart := strings.NewReplacer("runs: {E1: {tape: tape/stiff, pixels: 40}}", "runs: {E1: {tape: tape/stiff, pixels: 10}, E2: {tape: tape/stiff, pixels: 10}, E3: {tape: tape/stiff, pixels: 10}, E4: {tape: tape/stiff, pixels: 10}}",
		"E1@px15", "E2@px5", "E1@px25", "E3@px5", "E1@px35", "E4@px5").Replace(four)
	if list := divisions(t, apart); len(list) != 0 {
		t.Errorf("runs that one fuse feeds: %+v", list)
	}
}
