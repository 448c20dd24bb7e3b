package signal

import (
	"math"
	"slices"
	"testing"

	"farend/unit"
)

// IEC 60063, series E12: each step is about the twelfth root of ten.
func TestResistorsAreOfTheSeriesE12(t *testing.T) {
	for least, want := range map[float64]unit.Ohm{205: 220, 220: 220, 220.1: 270, 8.2: 8.2, 8.3: 10, 999: 1000, 1: 1, 83: 100, 255: 270} {
		if got := e12(least); math.Abs(float64(got-want)) > 1e-9 {
			t.Errorf("the first of the series from %v Ω on is %v, want %v", least, got, want)
		}
	}
	last := 10.0
	for least := 10.1; least < 1e4; least *= 1.01 {
		got := float64(e12(least))
		if got < least || got > 1.26*least || got < last {
			t.Errorf("from %v Ω on comes %v, after %v", least, got, last)
		}
		last = got
	}
}

// What need not be open is left out, whatever the order; of several ways one is named.
func TestOnlyContactorsThatMustBeOpenAreNamed(t *testing.T) {
	both := func(open []string) bool { return slices.Contains(open, "Q2") && slices.Contains(open, "Q4") }
	for _, all := range [][]string{{"Q1", "Q2", "Q3", "Q4"}, {"Q4", "Q3", "Q2", "Q1"}, {"Q2", "Q4"}} {
		got := fewest(all, both)
		slices.Sort(got)
		if !slices.Equal(got, []string{"Q2", "Q4"}) {
			t.Errorf("of %v are named %v", all, got)
		}
	}
	if got := fewest([]string{"Q1", "Q2"}, both); got != nil {
		t.Errorf("none do, and %v are named", got)
	}
}
