package study_test

import (
	"math"
	"testing"

	"farend/study"
	"farend/unit"
)

// IEC 60063, series E12: each step is about the twelfth root of ten.
func TestResistorsAreOfTheSeriesE12(t *testing.T) {
	for least, want := range map[float64]unit.Ohm{205: 220, 220: 220, 220.1: 270, 8.3: 10, 999: 1000, 1: 10, 83: 100, 255: 270} {
		if got := study.Resistor(unit.Ohm(least)); math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("the first of the series from %v Ω on is %v, want %v", least, got, want)
		}
	}
	last := 10.0
	for least := 10.1; least < 1e4; least *= 1.01 {
		got := float64(study.Resistor(unit.Ohm(least)))
		if got < least || got > 1.26*least || got < last {
			t.Errorf("from %v Ω on comes %v, after %v", least, got, last)
		}
		last = got
	}
}
