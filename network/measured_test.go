package network_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/network"
)

// Published measurements, through the whole way from a scheme. Both bounds are above the meters' error and below the spread
// between tapes: the parts here are fitted to the class (one pixel) or to the very piece (fourteen).
const (
	onePixelApart = 0.08
	pieceApart    = 0.10
)

// benchParts are a bench supply and leads of next to no resistance.
const benchParts = `
  supply/bench: {title: bench, volts: 5 V, amps: 5 A, watts: 25 W, source_resistance: 0.01 mΩ, limit: constant-current, limit_at: {low: 5 A, high: 6 A}}
  supply/bench-low: {title: bench, volts: 3.3 V, amps: 5 A, watts: 16.5 W, source_resistance: 0.01 mΩ, limit: constant-current, limit_at: {low: 5 A, high: 6 A}}
  cable/bench: {title: bench, cores: 2, area: 4 mm², r20: 4.95 Ω/km, insulation: 70 °C, iz: 30 A}
`

// measuredTape is the piece of the notebook: 11.2 mA a channel and 0.81 mA idle a pixel are the fit to it that its rows
// name, the knees are those of the catalogue's 5 V tape.
const measuredTape = `
  tape/measured:
    {title: the measured piece, volts: 5 V, pixels: 60 /m, cut_every: 1, rail: 100 mΩ/m, phase: free, protocol: protocol/single-wire-800k-24,
     channels: {red: {set: 11.2 mA, lo: 1.787 V, hi: 2.426 V, soft: 0.108 V}, green: {set: 11.2 mA, lo: 2.675 V, hi: 3.449 V, soft: 0.112 V}, blue: {set: 11.2 mA, lo: 2.775 V, hi: 3.548 V, soft: 0.112 V}},
     idle: {set: 0.81 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}}`

// solveText solves a scheme in state/full.
func solveText(t *testing.T, text string) *network.Result {
	t.Helper()
	n := layOut(t, readScheme(t, "bench", []byte(text)))
	c, ok := n.CaseNamed("state/full")
	if !ok {
		t.Fatal("no state/full")
	}
	return n.Read(solved(t, n, c))
}

// One pixel, all channels full, on 3.3 V: 28.8 mA on a bench meter (row one_at_3v3, a forum's measurements of 2016).
func TestOnePixelAtThreePointThreeVolts(t *testing.T) {
	row := reference.Where(t, reference.Rows(t, "strip_measurements.csv"), "id", "one_at_3v3")[0]
	want := reference.Number(t, row, "value") / 1000
	r := solveText(t, `farend: 1
supplies: {T1: {part: supply/bench-low}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 1}}
cables: {W1: {part: cable/bench, length: 0.1 m, from: T1, to: E1@start}}
states: {full: {colour: white}}
parts:`+benchParts)
	if got := float64(r.Runs["E1"].Amps.Mean); math.Abs(got/want-1) > onePixelApart {
		t.Errorf("%.4g mA, measured %.4g mA (%s)", 1000*got, 1000*want, row["source"])
	}
}

// A piece of 14 pixels with 1, 5, 10 and 14 of them lit in five colours (rows ws2812b_*, a published notebook).
func TestFourteenPixelPiece(t *testing.T) {
	colours := map[string]string{"white": "white", "yellow": `"#ffff00"`, "red": `"#ff0000"`, "green": `"#00ff00"`, "blue": `"#0000ff"`}
	rows := 0
	for _, row := range reference.Rows(t, "strip_measurements.csv") {
		name, ok := strings.CutPrefix(row["id"], "ws2812b_")
		word, count, _ := strings.Cut(name, "_")
		lit, err := strconv.Atoi(count)
		if !ok || err != nil || colours[word] == "" {
			continue
		}
		rows++
		want := reference.Number(t, row, "value") / 1000
		if got := piece(t, colours[word], lit); math.Abs(got/want-1) > pieceApart {
			t.Errorf("%s, %d lit: %.4g mA, measured %.4g mA (%s)", word, lit, 1000*got, 1000*want, row["source"])
		}
	}
	if rows < 20 {
		t.Errorf("only %d rows were compared", rows)
	}
}

// piece is the current of 14 pixels of which so many are lit: one run lit, one dark behind it.
func piece(t *testing.T, colour string, lit int) float64 {
	t.Helper()
	runs, cables, dark := fmt.Sprintf("E1: {tape: tape/measured, pixels: %d}", lit), "W1: {part: cable/bench, length: 0.1 m, from: T1, to: E1@start}", ""
	if lit < 14 {
		runs += fmt.Sprintf(", E2: {tape: tape/measured, pixels: %d}", 14-lit)
		cables += ", W2: {part: cable/bench, length: 0.1 m, from: E1@end, to: E2@start}"
		dark = ", runs: {E2: {level: 0 %}}"
	}
	r := solveText(t, "farend: 1\nsupplies: {T1: {part: supply/bench}}\nruns: {"+runs+"}\ncables: {"+cables+
		"}\nstates: {full: {colour: "+colour+dark+"}}\nparts:"+benchParts+measuredTape)
	return float64(r.Supplies["T1"].Amps.Mean)
}
