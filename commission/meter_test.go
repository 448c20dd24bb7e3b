package commission

import (
	"math"
	"math/rand"
	"testing"
)

// By hand: 1 % of 5 V and two digits of 1 mV; 2.5 % of 8 A and five of 10 mA; 1.5 % of 2 A and three of 10 mA.
func TestErrorsOfMeters(t *testing.T) {
	for _, x := range []struct {
		of      accuracy
		v, errs float64
	}{{direct, 5, 0.052}, {direct, 24, 0.26}, {direct, 0.025, 0.00045}, {clamped, 8, 0.25}, {through, 2, 0.06}, {finely, 0.04, 0.0009}, {driven, 0.03, 0.002}} {
		if got := x.of.error(x.v); math.Abs(got-x.errs) > 1e-12 {
			t.Errorf("at %v: %v, by hand %v", x.v, got, x.errs)
		}
	}
}

func TestReadingsInWords(t *testing.T) {
	for _, x := range []struct {
		r    Reading
		want string
	}{
		{Reading{Volts, 4.89, 4.7811, 5.0081}, "4.89 V, 4.78 to 5.01 V"},
		{Reading{Volts, 4.89, 4.7789, 5.0001}, "4.89 V, 4.77 to 5.01 V"}, // ends go outwards
		{Reading{Ohms, 0.5, 0.286, 1.06}, "500 mΩ, 286 mΩ to 1.06 Ω"},
		{Reading{Volts, 0, 0, 0.5}, "0 V, at most 500 mV"},
		{Reading{Ohms, math.NaN(), 10, math.Inf(1)}, "at least 10 Ω"},
		{Reading{Degrees, math.NaN(), math.Inf(-1), 80}, "at most 80 °C"},
	} {
		if got := x.r.String(); got != x.want {
			t.Errorf("%+v is %q, should be %q", x.r, got, x.want)
		}
	}
}

// Beside the value a band is in its unit, and rounded outwards too.
func TestBandsInBrief(t *testing.T) {
	for _, x := range []struct {
		r    Reading
		want string
	}{
		{Reading{Volts, 4.89, 4.7811, 5.0081}, "4.78 to 5.01"},
		{Reading{Ohms, 0.5, 0.286, 1.06}, "286 to 1060"},
		{Reading{Ohms, 1.08, 0.49662, 2.9883}, "0.496 to 2.99"},
		{Reading{Amps, 0.0485, 0, 0.13241}, "up to 133"},
		{Reading{Amps, 0.803, 0.4, 1.6973}, "400 to 1700"},
		{Reading{Amps, 0.0001, 0.00005, 0.001}, "50.0 µA to 1.00 mA"},
		{Reading{Volts, 0, -0.5, 0.5}, "at most 500 mV"},
		{Reading{Ohms, math.NaN(), 10, math.Inf(1)}, "at least 10 Ω"},
		{Reading{Degrees, 31, math.Inf(-1), 70}, "at most 70 °C"},
	} {
		if got := x.r.Brief(); got != x.want {
			t.Errorf("%+v is %q, should be %q", x.r, got, x.want)
		}
	}
}

// Rounded outwards, a band never grows narrower, and by less than one in the third figure.
func TestBandsRoundOutwards(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 20000 {
		v := math.Pow(10, 8*r.Float64()-4)
		low, high := outwards(v, -1), outwards(v, 1)
		if low > v*(1+1e-8) || high < v*(1-1e-8) || low < v*0.99 || high > v*1.0101 {
			t.Errorf("%v: %v to %v", v, low, high)
		}
	}
}

// A joint is surely seen only where no sound installation could read the same.
func TestWhatABadJointShows(t *testing.T) {
	r := &Reading{Volts, 5, 4.9, 5.2}
	for shift, want := range map[float64]Seeing{0: Unseen, -0.05: Unseen, -0.15: Maybe, -0.35: Seen, 0.15: Unseen, 0.25: Maybe} {
		if got := r.joint(shift).Seen; got != want {
			t.Errorf("%v: %s, should be %s", shift, got, want)
		}
	}
}
