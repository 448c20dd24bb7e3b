package study_test

import (
	"context"
	"math"
	"strings"
	"testing"

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
	return studied(t, text+"parts:"+even)
}

func studied(t *testing.T, text string) *study.Study {
	t.Helper()
	s, mistakes := scheme.Read("text", []byte("farend: 1\n"+text), parts.Catalogue())
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

const tree = `site: {coldest: 20 °C}
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

// By hand, from the gates of ISO 8820-3: 1,800 s from 1.35 times the rating on, 50 s from 1.6, 5 s from 2. A1.1, 10 A, carries the 8 A of E1 and
// the 8.2 A of E2, 16.2 A; but E2 may be dark, and alone the 8 A of W3 may last. W1, maxi, 30 A, carries those 16.2 A and the 18 A of E3,
// 1.14 times: it may hold for ever. A1.2, 20 A, and the 30 A in W5 surely hold 18 A.
func TestAnOverloadEndsByTheFusesItComesThrough(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "1800"))
	c := capFailed(t, s)
	patient := func(unit.Ampere) unit.Second { return 60 }
	for _, x := range []struct {
		what        string
		amps, limit unit.Ampere
		by          []network.Behind
		lasts       unit.Ampere
		words       string
	}{
		{"a cable of 8 A behind the junction", 8, 7.95, []network.Behind{s.Network.Behind("W3", "from")}, 8, "A1.1.fuse may hold that for ever."},
		{"the junction with all of it", 16.2, 20.0 / 3, []network.Behind{s.Network.Fed("X1")}, 16, "A1.1.fuse surely ends it in time only from 16.0 A on; what is below may last."},
		{"a way that holds", 18, 5, []network.Behind{s.Network.Fed("A1.2")}, 18, "A1.2.fuse may hold that for ever."},
		{"the inlet", 34.2, 30, []network.Behind{s.Network.Fed("A1.in")}, 34.2, "W1.fuse may hold that for ever."},
		{"the better of two ways", 16.2, 16.1, []network.Behind{s.Network.Fed("A1.2"), s.Network.Fed("X1")}, 16.1, "A1.1.fuse surely ends what is above that within 50.0 s."},
		{"no fuse", 16.2, 5, []network.Behind{{Bare: []string{"T1"}}}, 16.2, "No fuse ends that."},
		{"a supply beside the fuse", 16.2, 5, []network.Behind{{Fuses: []string{"A1.1.fuse"}, Bare: []string{"T1"}}}, 16.2, "A1.1.fuse may hold that for ever."},
		{"two fuses, one of which holds", 16.2, 5, []network.Behind{{Fuses: []string{"A1.1.fuse", "A1.2.fuse"}}}, 16.2, "A1.1.fuse and A1.2.fuse may hold that for ever."},
		{"nothing", 16.2, 5, nil, 16.2, "No fuse ends that."},
	} {
		e := s.Ending(c, x.amps, x.limit, patient, x.by...)
		if math.Abs(float64(e.Lasts/x.lasts)-1) > 1e-6 || e.Words() != x.words {
			t.Errorf("%s: up to %v may last, %q; want %v, %q", x.what, float64(e.Lasts), e.Words(), float64(x.lasts), x.words)
		}
		if e.Ended() != strings.Contains(x.words, "surely ends what is above") || e.Helps() != strings.Contains(x.words, "surely ends") {
			t.Errorf("%s: ended %v, helps %v", x.what, e.Ended(), e.Helps())
		}
	}
	slow := s.Ending(c, 16.2, 16.1, func(unit.Ampere) unit.Second { return 5 }, s.Network.Fed("X1"))
	if slow.Ended() || slow.Words() != "A1.1.fuse surely opens only within 50.0 s; it has 5.00 s." {
		t.Errorf("with 5 s: up to %v may last, %q", slow.Lasts, slow.Words())
	}
}

// With 26 A in E3 the inlet's fuse carries 42.2 A, 1.41 times its rating: alone it would open within 1,800 s. But A1.2 (1.3 times) may
// open first, and what is left, 16.2 A, it holds for ever. So it is sure to carry no more than the part that is judged does.
func TestWhatAnotherFuseMayTakeAwayIsNotSure(t *testing.T) {
	s := guarded(t, strings.ReplaceAll(tree, "PIXELS", "2600"))
	c := capFailed(t, s)
	hour := func(unit.Ampere) unit.Second { return 3600 }
	e := s.Ending(c, 26, 25, hour, s.Network.Fed("A1.in"))
	if e.Shares[0] != 1 || e.Lasts != 26 {
		t.Errorf("of 26 A in a part it carries %v times as much, and %v may last", e.Shares, e.Lasts)
	}
	if e := s.Ending(c, 42.2, 40.6, hour, s.Network.Fed("A1.in")); !e.Ended() || e.Within != 1800 {
		t.Errorf("42.2 A in the inlet: up to %v may last, ended within %v", e.Lasts, e.Within)
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
		{"A1.1.fuse", "A1.1", "fuse/blade-10A", 30, 20, 16.2, 13.5},
		{"W5.fuse", "W5", "fuse/inline-30A", -20, -20, 18, 40.5 * (1 + 0.08*40/60)},                                                        // 1.08 at −40 °C, 1 at 20 °C
		{"A1.P1.ground fuse", "A1.P1", "fuse/ptc-0.75A", 30, 20, s.Result("cap-failed").Data["D1"].Ground.RMS, 2 * 0.75 * (1 + 0.18*3/23)}, // 1.18 at 0 °C, 1 at 23 °C
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
	for _, n := range s.EndedBy(s.Ending(capFailed(t, s), 16.2, 16.1, study.Patient, s.Network.Fed("X1"))) {
		keys = append(keys, n.String())
	}
	if got := strings.Join(keys, ", "); got != "fuse/blade-10A rating, curve/iso8820-blade gates.3.max, curve/iso8820-blade derating.2.factor" {
		t.Errorf("it rests on %s", got)
	}
}
