package study_test

import (
	"math"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// Where nothing is drawn, any voltage above the set point balances: no current flows back into a supply. A study that followed the old
// one would stay there.
func TestASupplySetLowerIsLowerWhereNothingIsDrawn(t *testing.T) {
	source := []byte(`farend: 1
supplies: {T1: {part: supply/5v-300w, volts: 5.5 V}}
runs: {E1: {tape: tape/own, pixels: 10}}
cables: {W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start}}
states: {full: {}}
parts:
  tape/own:
    title: draws nothing in the dark
    volts: 5 V
    pixels: 10 /m
    cut_every: 1
    rail: 100 mΩ/m
    channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}
    idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}
    protocol: protocol/single-wire-800k-24
`)
	sch, mistakes := scheme.Read("x", source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Edit(t.Context(), source, []finding.Edit{{Path: "/supplies/T1/volts", Value: "5 V"}})
	if err != nil || got.Study == nil {
		t.Fatal(err, got.Mistakes)
	}
	const floats = 0.005 // V: an idle supply floats up to 40 ε above its set point, ε = 0.001 × 1.667 mΩ × 66 A
	if v := got.Study.Result("dark").Runs["E1"].VoltsHigh; math.Abs(float64(v)-5) > floats {
		t.Errorf("set to 5 V, the run has %v in the dark", v)
	}
}
