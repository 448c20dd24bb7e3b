package main

import (
	"math"
	"testing"
)

func TestMarginsAreToldToNineFigures(t *testing.T) {
	for v, want := range map[float64]float64{-0.49999999950000007: -0.5, 9.99999860695766e-10: 0, 5e-10: 0, -3e-12: 0, 0.123456789123: 0.123456789, 84: 84, -1: -1, 2e-9: 2e-9} {
		if got := margin(&v); got == nil || *got != want || math.Signbit(*got) && want == 0 {
			t.Errorf("%v: %v, want %v", v, got, want)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1)} {
		if got := margin(&v); got != nil {
			t.Errorf("%v: %v", v, *got)
		}
	}
	if margin(nil) != nil {
		t.Error("a margin that there is none of is none")
	}
}
