package study_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A board behind a fused cable: a way with a junction and a thin cable behind it, one without a fuse, one on which nothing lands, and
// one whose fuse is not chosen yet. Air of 30 °C, so that cables carry what their parts state.
const guardedBoard = `farend: 1
site: {ambient: 30 °C}
parts:
  tape/even:
    title: even load
    basis: measured
    source: invented for this test
    volts: 5 V
    volts_min: 3 V
    volts_max: 5.5 V
    pixels: 50 /m
    cut_every: 1
    rail: 1 mΩ/m
    rail_amps: 30 A
    phase: unknown
    channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}
    idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}
    protocol: protocol/single-wire-800k-24
supplies:
  T1: {part: supply/5v-300w}
boards:
  A1: {part: board/four-way-two-port}
junctions:
  X1: {part: junction/lever-3}
runs:
  E1: {tape: tape/even, pixels: 200}
  E2: {tape: tape/even, pixels: 100}
  E3: {tape: tape/even, pixels: 50}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 1 m, from: E1@end, to: X1}
  W5: {part: cable/flex-2x1, length: 1 m, from: A1.2, to: E2@start}
  W6: {part: cable/flex-2x1.5, length: 1 m, from: A1.4, to: E3@start}
fuses: {A1.1: fuse/blade-7.5A, A1.3: fuse/blade-5A, A1.4: choose}
states:
  full: {level: 50 %}
`

func TestTheProtectionTableHasALineForEveryFuse(t *testing.T) {
	sch, mistakes := scheme.Read("guarded.scheme.yaml", []byte(guardedBoard), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(context.Background(), sch)
	if err != nil {
		t.Fatal(err)
	}
	iz := func(part string) unit.Ampere {
		c, _ := parts.Get[parts.Cable](sch.Library, part)
		return c.Iz.Conduit.Is
	}
	table := s.Protection(s.Assess(rulebook.All()))
	for i, want := range []struct {
		id, fuse string
		rating   unit.Ampere // none: 0
		failed   unit.Ampere
		cables   []string
		thin     string
		iz       unit.Ampere
		worst    finding.Grade // no better than that
	}{
		{"A1.1", "fuse/blade-7.5A", 7.5, 2, []string{"W2", "W3", "W4"}, "W3", iz("cable/flex-2x1.5"), finding.Pass},
		{"A1.2", "", 0, 1, []string{"W5"}, "W5", iz("cable/flex-2x1"), finding.Danger},
		{"A1.3", "fuse/blade-5A", 5, 0, nil, "", 0, finding.Pass},
		{"A1.4", "choose", 0, 0.5, []string{"W6"}, "W6", iz("cable/flex-2x1.5"), finding.Unknown},
		{"W1", "fuse/inline-20A", 20, 3.5, []string{"W1", "W5"}, "W5", iz("cable/flex-2x1"), finding.Pass},
	} {
		if i >= len(table) {
			t.Fatalf("the table has %d lines", len(table))
		}
		got := table[i]
		if got.ID != want.id || got.Fuse != want.fuse || !slices.Equal(got.Cables, want.cables) || got.Thin != want.thin || got.Grade < want.worst {
			t.Errorf("%+v, want %+v", got, want)
		}
		if (got.Rating == nil) != (want.rating == 0) || got.Rating != nil && *got.Rating != want.rating {
			t.Errorf("%s: rating %v, want %v", want.id, got.Rating, want.rating)
		}
		if (got.Iz == nil) != (want.iz == 0) || got.Iz != nil && *got.Iz != want.iz {
			t.Errorf("%s: its thinnest cable may carry %v, want %v", want.id, got.Iz, want.iz)
		}
		// 200, 100 and 50 pixels of 10 mA are on together for half of the cycle: an rms current of √½ of that of all
		if half := float64(want.failed) * math.Sqrt(0.5); math.Abs(float64(got.Load)-half) > 1e-6 || want.failed > 0 && got.In.Name != "peak/full" {
			t.Errorf("%s carries %v in %s, want %v", want.id, got.Load, got.In.Name, half)
		}
		if math.Abs(float64(got.Failed-want.failed)) > 1e-6 {
			t.Errorf("%s carries %v with the cap failed, want %v", want.id, got.Failed, want.failed)
		}
	}
	if len(table) != 5 {
		t.Errorf("the table has %d lines, want 5", len(table))
	}
}
