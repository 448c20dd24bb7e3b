package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"

	"farend/examples"
	"farend/finding"
	"farend/parts"
	"farend/scheme"
)

// ownParts is a scheme that stands on parts of the user's own, so that numbers of parts are changed too.
const ownParts = `farend: 1
title: Own parts (invented)
site: {ambient: 30 °C, metalwork: bonded, conductors: warm}
supplies:
  T1: {part: supply/mine, volts: 5.1 V}
  T2: {part: supply/folding}
boards:
  A1: {part: board/mine}
junctions:
  X1: {part: junction/mine}
runs:
  E1: {tape: tape/mine, length: 1.5 m, cuts: [{at: px50, pole: plus}], joints: [0.4 m]}
  E2: {tape: tape/mine, pixels: 40}
cables:
  W1: {part: cable/mine, length: 1 m, from: T1, to: A1.in, fuse: fuse/mine}
  W2: {part: cable/mine, length: 2 m, from: A1.1, to: X1, method: free}
  W3: {part: cable/mine, length: 0.2 m, from: X1, to: E1@start}
  W4: {part: cable/mine, length: 3 m, from: A1.2, to: E1@end, bundle: 3}
  W5: {part: cable/mine, length: 1 m, from: E1@end, to: E2@start}
  W6: {part: cable/mine, length: 1 m, from: T2, to: E2@end, pole: plus}
fuses:
  A1.1: fuse/mine
  A1.2: fuse/mine
data:
  D1: {part: cable/data, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data, length: 1 m, from: E1, to: E2, ground: open}
states:
  full: {level: 100 %, colour: white}
  warm: {level: 40 %, colour: "#ff8020", runs: {E2: {level: 5 %}}}
parts:
  supply/mine: {title: mine, volts: 5 V, amps: 10 A, watts: 50 W, source_resistance: 1 mΩ, limit: hiccup, limit_at: {low: 11 A, high: 14 A}, pulse_on: 1 s, pulse_off: 3 s, no_load: 1 W, efficiency: 80 %, parallel: allowed}
  supply/folding: {title: folding, volts: 5 V, amps: 1 A, watts: 5 W, source_resistance: 1 mΩ, limit: fold-back, limit_at: {low: 1.1 A, high: 1.4 A}, fold_to: 30 %, parallel: allowed}
  board/mine: {title: mine, inlet: {amps: 20 A, resistance: 1 mΩ}, ways: {1: {amps: 10 A, resistance: 2 mΩ, holder: blade}, 2: {amps: 10 A, resistance: 2 mΩ, holder: blade}}, ports: {P1: {high: 4.6 V, low: 0.2 V, driver: 25 Ω, series: 47 Ω, rise: 5 ns, ground: 5 mΩ, ground_amps: 2 A}}}
  junction/mine: {title: mine, amps: 20 A, resistance: 1 mΩ, area_max: 4 mm², ways: 5}
  cable/mine: {title: mine, cores: 2, area: 1.5 mm², class: 5, r20: 13.3 Ω/km, insulation: 70 °C, iz: 15 A}
  cable/data: {title: mine, cores: 3, area: 0.5 mm², class: 5, r20: 39 Ω/km, insulation: 70 °C, iz: 3 A}
  fuse/mine: {title: mine, rating: 5 A, resistance: 18 mΩ, resistance_hot: 26 mΩ, curve: curve/iso8820-blade, volts_max: 32 V, breaking: 1 kA, holder: blade}
  tape/mine:
    title: mine
    volts: 5 V
    volts_min: 3.7 V
    volts_max: 5.3 V
    pixels: 60 /m
    cut_every: 1
    rail: {is: 100 mΩ/m, basis: measured, source: "own meter", spread: 20 %}
    rail_return: 90 mΩ/m
    joint_every: 0.5 m
    joint: 2 mΩ
    phase: unknown
    channels:
      red: {set: 12 mA, lo: 1.79 V, hi: 2.43 V, soft: 0.11 V, candela: 0.4 cd, x: 0.70, y: 0.30}
      green: {string: 150 Ω, lo: 2.7 V, soft: 0.2 V, candela: 0.8 cd, x: 0.17, y: 0.70}
      blue: {set: 12 mA, lo: 2.78 V, hi: 3.55 V, soft: 0.11 V, candela: 0.25 cd, x: 0.13, y: 0.06}
    idle: {set: 0.6 mA, lo: 1.0 V, hi: 2.0 V, soft: 0.1 V}
    protocol: protocol/single-wire-800k-24
`

var (
	aNumber = regexp.MustCompile(`−?\d+(\.\d+)? (m|s|%|°C|V|A|W|Ω|mΩ|mΩ/m|Ω/km|/m|mm²|mA|cd|h/day)`)
	aPart   = regexp.MustCompile(`(tape|cable|supply|board|fuse|junction)/[\w.-]+`)
	aPlace  = regexp.MustCompile(`\b[TAEX]\d(\.\w+|@\w+)?`)
	aColour = regexp.MustCompile(`white|"#[0-9a-f]{6}"`)
)

// numerals are amounts that calculations stumble over.
var numerals = []string{"0", "1e-300", "1e-12", "0.001", "0.1", "0.5", "1", "2", "3", "4.9", "10", "70", "99.9", "100", "1000", "9999", "1e6", "1e12", "1e300", "-1", "-0"}

// additions are what may stand in any map, rightly or wrongly.
var additions = []string{
	"fuse: fuse/inline-15A", "fuse_at: to", "pole: plus", "pole: return", "cores_per_pole: 3", "method: free", "method: surface", "bundle: 9", "ambient: 60 °C",
	"cuts: [{at: px10, pole: both}]", "cuts: [{at: px20, pole: return}, {at: px30}]", "joints: [0.1 m, 0.1 m, 0.5 m]", "ground: open", "power: true", "volts: 4 V", "volts: 5.5 V",
	"level: 0 %", "colour: all", "colour: dark", "label: \"\"", "spread: 100 %", "conductors: 20 °C", "cap: 100 %",
}

// change makes one random change to a scheme: a number, a part, a place, a colour, a key, a line.
func change(r *rand.Rand, text string, library *parts.Library) string {
	swap := func(what *regexp.Regexp, with func(old string) string) string {
		found := what.FindAllStringIndex(text, -1)
		if len(found) == 0 {
			return text
		}
		at := found[r.IntN(len(found))]
		return text[:at[0]] + with(text[at[0]:at[1]]) + text[at[1]:]
	}
	pick := func(list []string) string { return list[r.IntN(len(list))] }
	lines := strings.SplitAfter(text, "\n")
	i, j := r.IntN(len(lines)), r.IntN(len(lines))
	switch r.IntN(9) {
	case 0, 1:
		return swap(aNumber, func(old string) string { return pick(numerals) + old[strings.IndexByte(old, ' '):] })
	case 2:
		return swap(aPart, func(old string) string {
			kind, _, _ := strings.Cut(old, "/")
			return pick(append(library.Names(kind), "choose"))
		})
	case 3:
		places := aPlace.FindAllString(text, -1)
		if len(places) == 0 {
			return text
		}
		return swap(aPlace, func(string) string { return pick(append(places, "E1@px7", "E2@0.3m", "E1@px50-")) })
	case 4:
		return swap(aColour, func(string) string {
			return pick([]string{"white", "all", "dark", "red", `"#000001"`, `"#010101"`, `"#ffffff"`, `"#7f3f00"`})
		})
	case 5:
		return swap(regexp.MustCompile(`\}`), func(string) string { return ", " + pick(additions) + "}" })
	case 6:
		return strings.Join(slices.Delete(lines, i, i+1), "")
	case 7:
		lines[i], lines[j] = lines[j], lines[i]
	case 8:
		again := regexp.MustCompile(`^(\s+[A-Z]+)(\d+)`).ReplaceAllString(lines[i], fmt.Sprintf("${1}%d", 10+r.IntN(5)))
		lines = slices.Insert(lines, i, again)
	}
	return strings.Join(lines, "")
}

// FuzzCheck reads whatever bytes it is given, after so many random changes, and wants an answer: never a panic, always an
// exit code that both outputs agree on, JSON in which every number is a number, and text that fits the page.
func FuzzCheck(f *testing.F) {
	library := parts.Catalogue()
	seeds := []string{ownParts, unfed, "farend: 1\n"}
	for _, name := range []string{"footbridge", "footbridge-two-feeds", "cafe-canopy"} {
		source, err := examples.Files.ReadFile(name + ".scheme.yaml")
		if err != nil {
			f.Fatal(err)
		}
		seeds = append(seeds, string(source))
	}
	for i, seed := range seeds {
		for changes := range uint8(6) {
			f.Add([]byte(seed), uint64(i), 2*changes)
		}
	}
	f.Fuzz(func(t *testing.T, source []byte, seed uint64, changes uint8) {
		r := rand.New(rand.NewPCG(seed, 0))
		for range changes % 16 {
			source = []byte(change(r, string(source), library))
		}
		answered(t, source, library)
	})
}

// most is the number of pixels up to which a scheme is checked here: larger ones only take longer.
const most = 20000

func answered(t *testing.T, source []byte, library *parts.Library) {
	sch, mistakes := scheme.Read("standard input", source, library)
	if sch != nil {
		pixels := 0
		for _, r := range sch.Runs {
			pixels += r.Count
		}
		if pixels > most {
			return
		}
	}
	text, said, code := answer(t, source)
	object, errs, again := answer(t, source, "--json", "--pixels")
	var result checkJSON
	if err := json.Unmarshal([]byte(object), &plainJSON{&result}); err != nil {
		t.Errorf("the JSON cannot be read: %v", err)
	}
	wrong := len(mistakes) > 0
	if code != again || wrong != (code == exitUsage) || code > exitUsage || errs != "" || wrong != (said != "") || wrong != (text == "") {
		t.Errorf("%d mistakes, exit codes %d and %d, %q and %q\n%s", len(mistakes), code, again, said, errs, source)
	}
	if wrong != (len(result.Errors) > 0) || wrong != (len(result.Cases) == 0) {
		t.Errorf("the JSON has %d errors and %d cases", len(result.Errors), len(result.Cases))
	}
	fitting(t, text)
}

func answer(t *testing.T, source []byte, options ...string) (out, errs string, code int) {
	var stdout, stderr bytes.Buffer
	code = run(t.Context(), append([]string{"check", "-"}, options...), streams{in: bytes.NewReader(source), out: &stdout, err: &stderr})
	return stdout.String(), stderr.String(), code
}

// A plainJSON reads what a test looks at, and grades not at all: they are written as words only.
type plainJSON struct{ into *checkJSON }

func (p *plainJSON) UnmarshalJSON(text []byte) error {
	var plain struct {
		Errors []mistakeJSON
		Cases  []struct{ Name string }
	}
	err := json.Unmarshal(text, &plain)
	p.into.Errors, p.into.Cases = plain.Errors, make([]caseJSON, len(plain.Cases))
	return err
}

// TestRandomChangesAreAnswered is FuzzCheck with fresh luck, for a moment.
func TestRandomChangesAreAnswered(t *testing.T) {
	library := parts.Catalogue()
	solved := 0
	for seed := range uint64(100) {
		r := rand.New(rand.NewPCG(seed, 1))
		source := ownParts
		for range 1 + seed%3 {
			source = change(r, source, library)
		}
		if sch, _ := scheme.Read("standard input", []byte(source), library); sch != nil {
			solved++
		}
		answered(t, []byte(source), library)
		if t.Failed() {
			t.Fatalf("seed %d:\n%s", seed, source)
		}
	}
	if solved < 15 {
		t.Errorf("only %d of the changed schemes could be solved: the changes are too wild to test anything", solved)
	}
}

// TestOwnPartsAreSolved keeps the scheme that the changes start from alive.
func TestOwnPartsAreSolved(t *testing.T) {
	out, errs, code := answer(t, []byte(ownParts))
	if code != exitFindings || errs != "" || strings.Contains(out, finding.Unknown.String()+"  protection/operating-point") {
		t.Errorf("exit code %d, %s\n%s", code, errs, out)
	}
}
