package study_test

import (
	"math"
	"slices"
	"testing"

	"farend/network"
)

// By hand, as the short at the end of the lead: 5 V over what lies before the place of the short. Right behind the blade of A1.1 that is the
// 0.1 mΩ of the supply, 2 × 1 m of 1.91 mΩ/m, the 2.9 mΩ of the maxi, 0.1 mΩ for each pole of the inlet and for the way, the 7.7 mΩ of the
// blade and the 10 µΩ of the short; on the core of W1 behind its maxi the 0.1 mΩ, the 2.9 mΩ and the 10 µΩ.
func TestShortsRightBehindFusesWorkedByHand(t *testing.T) {
	s := studied(t, lead("cable/flex-2x2.5", 5, "limit: constant-current, limit_at: {low: 4900 A, high: 5000 A}"))
	for at, want := range map[string]float64{
		"A1.1": 5 / (0.1e-3 + 2*1.91e-3 + 2.9e-3 + 3*0.1e-3 + 7.7e-3 + 1e-5),
		"W1":   5 / (0.1e-3 + 2.9e-3 + 1e-5),
	} {
		near, ok := s.Struck().Nearest(at)
		if !ok || math.Abs(float64(near.Amps)/want-1) > 1e-3 || near.Guard != at+".fuse" || near.Strike.Case.Corner != network.Through {
			t.Errorf("%s: %+v, want %.1f A", at, near, want)
		}
		far, ok := s.Struck().Far(at)
		if !ok || far.Amps >= near.Amps || far.Place == near.Place {
			t.Errorf("%s: %v at %s and %v at its far end, %s", at, near.Amps, near.Place, far.Amps, far.Place)
		}
	}
	for _, at := range []string{"W2", "E1", "A9.1", ""} {
		if near, ok := s.Struck().Nearest(at); ok {
			t.Errorf("%q has no fuse, and a short behind it: %+v", at, near)
		}
	}
}

// A fuse at the to end of a cable has that end of the core behind it, whatever the place is called.
func TestTheEndOfTheFuseIsTheOneBehindIt(t *testing.T) {
	s := studied(t, `site: {metalwork: isolated}
supplies: {T1: {part: supply/own}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 10}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: A1.in, to: T1, fuse: fuse/inline-maxi-30A, fuse_at: to}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-10A}
states: {full: {}}
parts:`+even+`  supply/own: {title: own, basis: measured, source: invented, volts: 5 V, amps: 100 A, watts: 500 W, source_resistance: 0.1 mΩ, `+firm+`}
`)
	near, ok := s.Struck().Nearest("W1")
	names := slices.IndexFunc(s.Network.Places(), func(p network.Place) bool {
		return p.Name == near.Place && (p.Name == "W1@to" || slices.Contains(p.Also, "W1@to"))
	})
	if !ok || names < 0 || near.Amps < 110 {
		t.Errorf("%v %+v", ok, near)
	}
}
