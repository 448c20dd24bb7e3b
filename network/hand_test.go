package network_test

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"farend/internal/spice"
	"farend/network"
)

// TestDecksWrittenByHand compares schemes with decks that were written from the laws by hand, so that exporter and solver
// cannot share a mistake. The deck says what to compare.
func TestDecksWrittenByHand(t *testing.T) {
	spice.Need(t)
	decks, _ := filepath.Glob("testdata/decks/*.cir")
	if len(decks) < 5 {
		t.Fatalf("only %d decks", len(decks))
	}
	for _, path := range decks {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			n := layOut(t, readFile(t, strings.TrimSuffix(path, ".cir")+".scheme.yaml"))
			c, _ := n.CaseNamed("state/full")
			s := solved(t, n, c)
			got := spice.Run(t, string(text))
			compared := 0
			for _, line := range strings.Split(string(text), "\n") {
				if words := strings.Fields(line); len(words) > 0 && words[0] == "*=" {
					compareByHand(t, n, s, got, words[1:])
					compared++
				}
			}
			if compared < 4 {
				t.Errorf("the deck compares only %d values", compared)
			}
		})
	}
}

func compareByHand(t *testing.T, n *network.Network, s *network.Solution, got map[string]float64, words []string) {
	t.Helper()
	if words[0] == "amps" {
		name, sign := strings.ToLower(strings.TrimPrefix(words[2], "-")), 1.0
		if strings.HasPrefix(words[2], "-") {
			sign = -1
		}
		ours := float64(n.Read(s).Supplies[words[1]].Amps.Mean)
		if apart := math.Abs(ours - sign*got[name]); !(apart <= ampsApart) {
			t.Errorf("%s: %.12g A here, %.12g A by hand", words[1], ours, sign*got[name])
		}
		return
	}
	profile, _ := n.Profile(s, words[1])
	k, err := strconv.Atoi(words[2])
	if err != nil {
		t.Fatal(err)
	}
	theirs := got["v("+words[3]+")"] - got["v("+words[4]+")"]
	if apart := math.Abs(profile.Volts[k] - theirs); !(apart <= voltsApart) {
		t.Errorf("%s pixel %d: %.12g V here, %.12g V by hand", words[1], k, profile.Volts[k], theirs)
	}
}

// solveText solves a scheme in a case.
func solveText(t *testing.T, text, name string) *network.Result {
	t.Helper()
	n := layOut(t, readScheme(t, name, []byte(text)))
	c, ok := n.CaseNamed(name)
	if !ok {
		t.Fatalf("no case %s", name)
	}
	return n.Read(solved(t, n, c))
}

// A bench supply with a lead of next to no resistance; the source is named beside each measurement.
const benchParts = `
  supply/bench: {title: bench, volts: 5 V, amps: 5 A, watts: 25 W, source_resistance: 0.01 mΩ, limit: constant-current, limit_at: {low: 5 A, high: 6 A}}
  supply/bench-low: {title: bench, volts: 3.3 V, amps: 5 A, watts: 16.5 W, source_resistance: 0.01 mΩ, limit: constant-current, limit_at: {low: 5 A, high: 6 A}}
  cable/bench: {title: bench, cores: 2, area: 4 mm², r20: 4.95 Ω/km, insulation: 70 °C, iz: 30 A}
`

// One WS2812B pixel, all channels full, on 3.3 V: 28.8 mA (bench meter, published forum measurement of 2016; the
// project's bound is 8 %).
func TestOnePixelAtThreePointThreeVolts(t *testing.T) {
	r := solveText(t, `farend: 1
supplies: {T1: {part: supply/bench-low}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 1}}
cables: {W1: {part: cable/bench, length: 0.1 m, from: T1, to: E1@start}}
states: {full: {colour: white}}
parts:`+benchParts, "state/full")
	if got := float64(r.Runs["E1"].Amps.Mean); math.Abs(got/28.8e-3-1) > 0.08 {
		t.Errorf("%.4g mA, measured 28.8 mA", 1000*got)
	}
}

// A 14-pixel piece of WS2812B tape with 1, 5, 10 and 14 pixels white: 45, 178, 345 and 477 mA (published notebook of
// measurements; fit: 11.2 mA a channel, 0.81 mA idle a pixel). The bound is 10 %.
func TestFourteenPixelPiece(t *testing.T) {
	const tape = `
  tape/measured:
    {title: the measured piece, volts: 5 V, pixels: 60 /m, cut_every: 1, rail: 100 mΩ/m, phase: free, protocol: protocol/single-wire-800k-24,
     channels: {red: {set: 11.2 mA, lo: 1.787 V, hi: 2.426 V, soft: 0.108 V}, green: {set: 11.2 mA, lo: 2.675 V, hi: 3.449 V, soft: 0.112 V}, blue: {set: 11.2 mA, lo: 2.775 V, hi: 3.548 V, soft: 0.112 V}},
     idle: {set: 0.81 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}}`
	for lit, want := range map[int]float64{1: 45e-3, 5: 178e-3, 10: 345e-3, 14: 477e-3} {
		runs, cables, states := "E1: {tape: tape/measured, pixels: "+strconv.Itoa(lit)+"}", "W1: {part: cable/bench, length: 0.1 m, from: T1, to: E1@start}", ""
		if lit < 14 {
			runs += ", E2: {tape: tape/measured, pixels: " + strconv.Itoa(14-lit) + "}"
			cables += ", W2: {part: cable/bench, length: 0.1 m, from: E1@end, to: E2@start}"
			states = ", runs: {E2: {level: 0 %}}"
		}
		r := solveText(t, "farend: 1\nsupplies: {T1: {part: supply/bench}}\nruns: {"+runs+"}\ncables: {"+cables+"}\nstates: {full: {colour: white"+states+"}}\nparts:"+benchParts+tape, "state/full")
		if got := float64(r.Supplies["T1"].Amps.Mean); math.Abs(got/want-1) > 0.10 {
			t.Errorf("%d lit: %.4g mA, measured %.4g mA", lit, 1000*got, 1000*want)
		}
	}
}
