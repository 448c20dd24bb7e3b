package study_test

import (
	"context"
	"strings"
	"testing"

	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// even is a tape whose every pixel draws 10 mA from 2.5 V up, on rails that hardly drop; big is a supply that gives it.
const even = `
  tape/even: {title: even, basis: measured, source: invented, volts: 5 V, volts_min: 3 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 1 mΩ/m, rail_amps: 30 A, phase: unknown, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
  supply/big: {title: big, basis: measured, source: invented, volts: 5 V, amps: 200 A, watts: 1000 W, source_resistance: 0.1 mΩ, limit: constant-current, limit_at: {low: 220 A, high: 240 A}}
  board/big: {title: big, basis: measured, source: invented, inlet: {amps: 40 A, resistance: 0.1 mΩ}, ways: {1: {amps: 20 A, resistance: 0.1 mΩ}, 2: {amps: 20 A, resistance: 0.1 mΩ}, 3: {amps: 20 A, resistance: 0.1 mΩ}}, ports: {P1: {ground: 5 mΩ, ground_amps: 2 A, ground_fuse: fuse/ptc-0.75A}}}
`

func guarded(t *testing.T, text string) *study.Study {
	t.Helper()
	s, mistakes := scheme.Read("guarded", []byte("farend: 1\n"+text+"parts:"+even), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	st, err := study.New(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func capFailed(t *testing.T, s *study.Study) network.Case {
	t.Helper()
	c, ok := s.Network.CaseNamed("cap-failed")
	if !ok {
		t.Fatal("no case of the failed cap")
	}
	return c
}

const tree = `site: {coldest: -10 °C}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
junctions: {X1: {part: junction/lever-3}}
runs: {E1: {tape: tape/even, pixels: 800}, E2: {tape: tape/even, pixels: 820}, E3: {tape: tape/even, pixels: PIXELS}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E2@start}
  W5: {part: cable/flex-2x4, length: 1 m, from: A1.2, to: E3@start, fuse: fuse/inline-30A, ambient: -20 °C}
fuses: {A1.1: fuse/blade-10A, A1.2: fuse/blade-20A}
states: {full: {}}
`

// By hand, from the gates of ISO 8820-3. A1.1, 10 A, carries the 8 A of E1 and the 8.2 A of E2, 1.62 times its rating: it has opened within
// 50 s. W1, maxi, 30 A, carries those 16.2 A and the 18 A of E3, 1.14 times: it may hold for ever. A1.2, 20 A, and the 30 A in W5
// surely hold 18 A.
func TestAnOverloadEndsByTheFusesItComesThrough(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "1800"))
	c := capFailed(t, s)
	for _, x := range []struct {
		by     network.Behind
		limit  unit.Ampere
		within unit.Second
		words  string
	}{
		{network.Behind{Fuses: []string{"A1.1.fuse"}}, 5, 50, "A1.1.fuse opens within 50.0 s."},
		{s.Network.Behind("W3", "from"), 5, 50, "A1.1.fuse opens within 50.0 s."},
		{s.Network.Fed("X1"), 5, 50, "A1.1.fuse opens within 50.0 s."},
		{s.Network.Fed("A1.2"), 5, fuse.Never, "A1.2.fuse may hold 18.0 A for ever."},
		{s.Network.Fed("A1.in"), 5, fuse.Never, "W1.fuse may hold 5.00 A for ever."}, // A1.1 may open before it
		{s.Network.Behind("W1", "from"), 5, fuse.Never, "W1.fuse may hold 5.00 A for ever."},
		{network.Behind{Bare: []string{"T1"}}, 5, fuse.Never, "No fuse ends that."},
		{network.Behind{Fuses: []string{"A1.1.fuse"}, Bare: []string{"T1"}}, 5, fuse.Never, "A1.1.fuse may hold 16.2 A for ever."},
		{network.Behind{Fuses: []string{"A1.1.fuse", "A1.2.fuse"}}, 5, fuse.Never, "A1.1.fuse and A1.2.fuse may hold that for ever."},
		{network.Behind{}, 5, fuse.Never, "No fuse ends that."},
	} {
		e := s.Ending(c, x.limit, x.by)
		if e.Within != x.within || e.Words(60) != x.words {
			t.Errorf("by %v: within %v, %q; want %v, %q", x.by, e.Within, e.Words(60), x.within, x.words)
		}
	}
	if e := s.Ending(c, 5, s.Network.Fed("A1.2"), s.Network.Fed("X1")); e.Within != 50 || e.Words(5) != "A1.1.fuse surely opens only within 50.0 s; it has 5.00 s." {
		t.Errorf("the sooner of two ways: %v, %q", e.Within, e.Words(5))
	}
}

// With 26 A in E3 the inlet's fuse carries 42.2 A, 1.41 times its rating: alone it would open within 1,800 s. But A1.2 (1.3 times) may
// open first, and what is left, 16.2 A, it holds for ever. So it is sure to carry no more than what the part may that is judged.
func TestWhatAnotherFuseMayTakeAwayIsNotSure(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "2600"))
	c := capFailed(t, s)
	if e := s.Ending(c, 38, s.Network.Fed("A1.in")); e.Within != fuse.Never || e.Amps[0] != 38 {
		t.Errorf("within %v, carrying %v for sure", e.Within, e.Amps)
	}
	if e := s.Ending(c, 41, s.Network.Fed("A1.in")); e.Within != 1800 || e.Amps[0] != 41 {
		t.Errorf("within %v, carrying %v for sure", e.Within, e.Amps)
	}
}

// A fuse is taken as cold as its air may be: a resettable one of 0.75 A holds 1.18 times that at 0 °C and 1.36 times at −20 °C, 1.27
// times at −10 °C between them, and trips at twice what it holds.
func TestGuardsAreWhereTheyStand(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "1800")+"data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}, D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2}}\n")
	var names []string
	for _, g := range s.Guards() {
		names = append(names, g.Name)
	}
	if got := strings.Join(names, ", "); got != "A1.1.fuse, A1.2.fuse, W1.fuse, W5.fuse, A1.P1.ground fuse" {
		t.Errorf("guards are %s", got)
	}
	c := capFailed(t, s)
	for _, x := range []struct {
		name, at, part string
		warm, cold     unit.Celsius
		carries, opens unit.Ampere
	}{
		{"A1.1.fuse", "A1.1", "fuse/blade-10A", 30, -10, 16.2, 13.5},
		{"W5.fuse", "W5", "fuse/inline-30A", -20, -20, 18, 40.5},
		{"A1.P1.ground fuse", "A1.P1", "fuse/ptc-0.75A", 30, -10, s.Result("cap-failed").Data["D1"].Ground.RMS, 2 * 0.75 * 1.27},
	} {
		g, ok := s.Guard(x.name)
		band, known := s.Band(g, g.Cold)
		if !ok || !known || g.At != x.at || g.Part != x.part || g.Warm != x.warm || g.Cold != x.cold {
			t.Errorf("%s is %+v", x.name, g)
		}
		if got := s.CarriedBy(g, c).RMS; got < x.carries*0.999 || got > x.carries*1.001 {
			t.Errorf("%s carries %v, want %v", x.name, got, x.carries)
		}
		if got := band.Threshold(); got < x.opens*0.99999 || got > x.opens*1.00001 {
			t.Errorf("%s surely opens from %v on, want %v", x.name, got, x.opens)
		}
	}
	for _, name := range []string{"A1.3.fuse", "W2.fuse", "A1.P9.ground fuse", "T1.fuse"} {
		if g, ok := s.Guard(name); ok {
			t.Errorf("%s is there: %+v", name, g)
		}
	}
}

func TestWhatEndsAnOverloadIsNamed(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "1800"))
	var keys []string
	for _, n := range s.EndedBy(s.Ending(capFailed(t, s), 5, s.Network.Fed("X1"))) {
		keys = append(keys, n.String())
	}
	if got := strings.Join(keys, ", "); got != "fuse/blade-10A rating, curve/iso8820-blade gates.3.max" {
		t.Errorf("it rests on %s", got)
	}
}
