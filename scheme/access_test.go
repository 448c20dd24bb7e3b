package scheme_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/scheme"
	"farend/unit"
)

func TestWhatIsNotGivenHasADefault(t *testing.T) {
	s := read(t, "farend: 1\n")
	if s.Ambient() != 30 || s.Coldest() != 0 || s.Cap() != 1 || s.EvennessAim() != 0.8 || s.ColourShiftAim() != 0.004 {
		t.Errorf("defaults %v %v %v %v %v", s.Ambient(), s.Coldest(), s.Cap(), s.EvennessAim(), s.ColourShiftAim())
	}
	ambient, method, bundle, perPole := scheme.Cable{}.Env(s)
	if ambient != 30 || method != scheme.Conduit || bundle != 1 || perPole != 1 {
		t.Errorf("a cable lies in %v, %v, %v, %v", ambient, method, bundle, perPole)
	}
}

// A rating is for two loaded cores; each further pair heats the sheath like another circuit.
func TestCoresInParallelCountAsCircuits(t *testing.T) {
	for want, c := range map[string]scheme.Cable{
		"1 2": {CoresPerPole: 2, Pole: scheme.Plus}, "2 2": {CoresPerPole: 2}, "3 3": {CoresPerPole: 3, Pole: scheme.Both},
		"2 3": {CoresPerPole: 3, Pole: scheme.Return}, "4 1": {Bundle: 4}, "5 2": {Bundle: 4, CoresPerPole: 2, Pole: scheme.Both},
	} {
		if _, _, bundle, perPole := c.Env(read(t, "farend: 1\n")); fmt.Sprint(bundle, perPole) != want {
			t.Errorf("%+v counts as %d circuits, %d cores a pole; want %s", c, bundle, perPole, want)
		}
	}
}

func TestWhatIsGivenIsUsed(t *testing.T) {
	s := read(t, footbridge(t))
	if s.Ambient() != 35 || s.Coldest() != -10 || s.Cap() != 0.8 || s.EvennessAim() != 0.85 || s.ColourShiftAim() != 0.004 {
		t.Errorf("got %v %v %v %v %v", s.Ambient(), s.Coldest(), s.Cap(), s.EvennessAim(), s.ColourShiftAim())
	}
	own := unit.Celsius(50)
	ambient, method, bundle, perPole := scheme.Cable{Ambient: &own, Method: scheme.Free, Bundle: 3, CoresPerPole: 2}.Env(s)
	if ambient != 50 || method != scheme.Free || bundle != 4 || perPole != 2 {
		t.Errorf("a cable lies in %v, %v, %v, %v", ambient, method, bundle, perPole)
	}
	if tape := s.Tape("E1"); tape == nil || tape.Pixels.Is != 60 || s.Tape("E9") != nil {
		t.Errorf("tape of E1: %v", tape)
	}
	if names := s.StateNames(); !slices.Equal(names, []string{"dusk", "full"}) {
		t.Errorf("states %v", names)
	}
	if pos := s.Place("cables", "W3"); pos != (finding.Pos{File: "a.scheme.yaml", Line: 26, Column: 3}) {
		t.Errorf("W3 stands at %v", pos)
	}
}

// What the scheme says of one cable or run goes before what its part says of all.
func TestHowWetThingsMayGetIsSaidOfOneOrOfItsPart(t *testing.T) {
	s := read(t, everything(t))
	for id, want := range map[string]scheme.Exposure{"W2": "outdoors", "W7": "damp", "W1": "", "D1": "outdoors", "D2": "", "W99": ""} {
		if got := s.Suits(id); got != want {
			t.Errorf("%s suits %q, want %q", id, got, want)
		}
	}
	for id, want := range map[string]string{"E1": "67", "E2": "", "E3": "20", "E99": ""} {
		if got := s.RunIP(id); got != want {
			t.Errorf("%s is IP %q, want %q", id, got, want)
		}
	}
}

func TestColdestIsNeverAboveAnAmbientBelowZero(t *testing.T) {
	s := read(t, "farend: 1\nsite: {ambient: -20 °C}\n")
	if s.Coldest() != -20 {
		t.Errorf("coldest %v, want −20 °C", s.Coldest())
	}
}

func TestCopperIsWarmOrAtOneTemperature(t *testing.T) {
	if s := read(t, "farend: 1\nsite: {conductors: warm}\n"); s.Site.Conductors.Fixed != nil {
		t.Errorf("warm copper is at %v", *s.Site.Conductors.Fixed)
	}
	if s := read(t, "farend: 1\nsite: {conductors: 20 °C}\n"); s.Site.Conductors.Fixed == nil || *s.Site.Conductors.Fixed != 20 {
		t.Error("copper at 20 °C is not")
	}
}

func notes(s *scheme.Scheme) string {
	var lines []string
	for _, n := range s.Notes {
		edits := ""
		for _, e := range n.Edits {
			edits += fmt.Sprintf(" | %s = %v", e.Path, e.Value)
		}
		lines = append(lines, n.ID+" | "+n.Text+edits)
	}
	return strings.Join(lines, "\n")
}

func TestRunsAreCutAtMarks(t *testing.T) {
	cases := []struct {
		name, run string
		count     int
		length    float64 // metres: count / (pixels per metre)
		notes     string
	}{
		{"by length", "tape: tape/5v-rgb-60, length: 4.8 m", 288, 4.8, ""},
		{"by pixels", "tape: tape/5v-rgb-60, pixels: 7", 7, 7.0 / 60, ""},
		{"by both", "tape: tape/5v-rgb-60, pixels: 288, length: 4.8 m", 288, 4.8, ""},
		{"a length that binary numbers only nearly hold", "tape: tape/5v-rgb-60, length: 1.15 m", 69, 1.15, ""},
		{"a length between marks is cut down", "tape: tape/5v-rgb-60, length: 4.81 m", 288, 4.8,
			"scheme/rounded:E1 | E1 is given as 4.81 m; its tape is cut every 0.0167 m, so it became 4.8 m, 288 pixels | /runs/E1/pixels = 288 | /runs/E1/length = <nil>"},
		{"pixels between marks are cut down", "tape: tape/12v-rgb-60, pixels: 21", 20, 1,
			"scheme/rounded:E1 | E1 is given as 21 pixels; its tape is cut every 0.1 m, so it became 1 m, 20 pixels | /runs/E1/pixels = 20"},
		{"both between marks agree once they are cut", "tape: tape/12v-rgb-60, pixels: 21, length: 1.09 m", 20, 1,
			"scheme/rounded:E1 | E1 is given as 1.09 m; its tape is cut every 0.1 m, so it became 1 m, 20 pixels | /runs/E1/pixels = 20 | /runs/E1/length = <nil>"},
		{"one piece", "tape: tape/12v-rgb-60, length: 0.1 m", 2, 0.1, ""},
		{"the largest", "tape: tape/24v-tunable-10, length: 10 km", 100_000, 10_000, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := read(t, "farend: 1\nruns: {E1: {"+c.run+"}}\nstates: {full: {level: 100 %}}\n")
			run := s.Runs["E1"]
			if run.Count != c.count || *run.Pixels != c.count || float64(*run.Length) < c.length*(1-1e-12) || float64(*run.Length) > c.length*(1+1e-12) {
				t.Errorf("got %d, %d pixels and %v m, want %d and %v m", run.Count, *run.Pixels, float64(*run.Length), c.count, c.length)
			}
			if got := notes(s); got != c.notes {
				t.Errorf("notes\n%s\nwant\n%s", got, c.notes)
			}
		})
	}
}

func TestEditsOfANoteMakeItGoAway(t *testing.T) {
	s := read(t, "farend: 1\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 288}}\nstates: {full: {}}\n")
	if len(s.Notes) > 0 || s.Runs["E1"].Count != 288 {
		t.Errorf("notes %v and %d pixels after the edits", s.Notes, s.Runs["E1"].Count)
	}
}

func TestLengthsComeFromTheDrawing(t *testing.T) {
	s := read(t, `farend: 1
supplies: {T1: {part: choose}}
runs: {E1: {tape: tape/5v-rgb-60}}
cables: {W1: {part: choose, from: T1, to: E1@start}}
states: {full: {}}
drawing:
  E1: [[0, 0], [3, 4], [3, 5]]
  W1: [[0, 0], [0, 2]]
  T1: [0, 2]
`)
	if s.Runs["E1"].Count != 360 || *s.Cables["W1"].Length != 2 { // a 3-4-5 triangle and 1 m more: 6 m × 60 /m
		t.Errorf("E1 has %d pixels, W1 is %v long", s.Runs["E1"].Count, *s.Cables["W1"].Length)
	}
	want := "scheme/drawn-length:E1 | E1 is taken to be 6 m long, as drawn; add what hangs, bends and is connected\n" +
		"scheme/drawn-length:W1 | W1 is taken to be 2 m long, as drawn; add what hangs, bends and is connected"
	if got := notes(s); got != want {
		t.Errorf("notes\n%s\nwant\n%s", got, want)
	}
}

func TestCutsOfBothPolesAtOneMarkBecomeOne(t *testing.T) {
	s := read(t, "farend: 1\nruns: {E1: {tape: tape/12v-rgb-60, pixels: 20, cuts: [{at: px12, pole: plus}, {at: px4, pole: plus}, {at: 0.22m, pole: return}, {at: px12, pole: plus}]}}\nstates: {full: {}}\n")
	cuts := s.Runs["E1"].Cuts
	if len(cuts) != 2 || cuts[0].At.Mark != 4 || cuts[0].Pole != scheme.Both || cuts[1].At.Mark != 12 || cuts[1].Pole != scheme.Plus {
		t.Errorf("cuts %+v", cuts)
	}
	if got := notes(s); !strings.HasPrefix(got, "scheme/rounded:E1@0.22m | E1@0.22m lies between") || !strings.HasSuffix(got, "/runs/E1/cuts/2/at = px4") {
		t.Errorf("notes %s", got)
	}
}

func TestPartsMayBeLeftOpen(t *testing.T) {
	s := read(t, `farend: 1
supplies: {T1: {part: choose, volts: 5 V}}
boards: {A1: {part: choose}}
junctions: {X1: {part: choose}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}}
cables:
  W1: {part: choose, length: 1 m, from: T1, to: A1.in, fuse: choose, cores_per_pole: 3}
  W2: {part: choose, length: 1 m, from: A1.7, to: X1}
  W3: {part: cable/wire-1x10, pole: plus, length: 1 m, from: X1, to: E1@start}
fuses: {A1.7: choose}
data: {D1: {part: choose, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}}
`)
	if w := s.Cables["W2"]; w.From.Kind != scheme.WayRef || w.To.Kind != scheme.JunctionRef || w.Part != "choose" {
		t.Errorf("W2 is %+v", w)
	}
	if d := s.Data["D1"]; d.From.Kind != scheme.PortRef {
		t.Errorf("D1 begins at a %v", d.From.Kind)
	}
}

func TestAssumedStateIsAsWhiteAsTheTapesCan(t *testing.T) {
	for tape, want := range map[string]string{"tape/5v-rgb-60": "white", "tape/24v-tunable-10": "white", "tape/24v-amber-10": "all"} {
		s := read(t, "farend: 1\nruns: {E1: {tape: "+tape+", length: 1 m}}\nduty: {full: 24 h/day}\n")
		if colour, level, ok := s.Shows("full", "E1"); !ok || colour.Word != want || level != 1 {
			t.Errorf("%s shows %v at %v, want %s", tape, colour, level, want)
		}
		if drive, ok := s.Drives("full", "E1"); !ok || len(drive) == 0 {
			t.Errorf("%s is not driven", tape)
		}
	}
}

func TestDataMayPassFromRunToRun(t *testing.T) {
	s := read(t, `farend: 1
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}, E2: {tape: tape/5v-rgb-60, length: 1 m}, E3: {tape: tape/5v-rgb-60, length: 1 m}}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2, power: yes}
  D3: {part: cable/wire-1x10, length: 1 m, from: E2, to: E3, ground: open}
states: {full: {}}
`)
	if d := s.Data["D2"]; d.From.Kind != scheme.RunRef || !d.Power {
		t.Errorf("D2 is %+v", d)
	}
}

func TestManyPixelsInAllAreRefused(t *testing.T) {
	var b strings.Builder
	b.WriteString("farend: 1\nruns:\n")
	for i := range 34 { // 34 × 600,000 > 20,000,000
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, pixels: 600000}\n", i)
	}
	_, mistakes := scheme.Read("a.scheme.yaml", []byte(b.String()), library(t))
	if got, want := told(mistakes), "2:1: the runs have more than 20,000,000 pixels together | split the scheme: parts of this size have supplies of their own"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
