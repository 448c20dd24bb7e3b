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
		{Reading{Kind: Volts, Is: 4.89, Low: 4.7811, High: 5.0081}, "4.89 V, 4.78 to 5.01 V"},
		{Reading{Kind: Volts, Is: 4.89, Low: 4.7789, High: 5.0001}, "4.89 V, 4.77 to 5.01 V"}, // ends go outwards
		{Reading{Kind: Ohms, Is: 0.5, Low: 0.286, High: 1.06}, "500 mΩ, 286 mΩ to 1.06 Ω"},
		{Reading{Kind: Volts, Is: 0, Low: 0, High: 0.5}, "0 V, at most 500 mV"},
		{Reading{Kind: Ohms, Is: math.NaN(), Low: 10, High: math.Inf(1)}, "at least 10 Ω"},
		{Reading{Kind: Degrees, Is: math.NaN(), Low: math.Inf(-1), High: 80}, "at most 80 °C"},
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
		{Reading{Kind: Volts, Is: 4.89, Low: 4.7811, High: 5.0081}, "4.78 to 5.01"},
		{Reading{Kind: Ohms, Is: 0.5, Low: 0.286, High: 1.06}, "286 to 1060"},
		{Reading{Kind: Ohms, Is: 1.08, Low: 0.49662, High: 2.9883}, "0.496 to 2.99"},
		{Reading{Kind: Amps, Is: 0.0485, Low: 0, High: 0.13241}, "up to 133"},
		{Reading{Kind: Amps, Is: 0.803, Low: 0.4, High: 1.6973}, "400 to 1700"},
		{Reading{Kind: Amps, Is: 0.0001, Low: 0.00005, High: 0.001}, "50.0 µA to 1.00 mA"},
		{Reading{Kind: Volts, Is: 0, Low: -0.5, High: 0.5}, "at most 500 mV"},
		{Reading{Kind: Ohms, Is: math.NaN(), Low: 10, High: math.Inf(1)}, "at least 10 Ω"},
		{Reading{Kind: Degrees, Is: 31, Low: math.Inf(-1), High: 70}, "at most 70 °C"},
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
		low, high := outwards(v, -1, 3), outwards(v, 1, 3)
		if low > v*(1+1e-8) || high < v*(1-1e-8) || low < v*0.99 || high > v*1.0101 {
			t.Errorf("%v: %v to %v", v, low, high)
		}
	}
}

// A joint is surely seen only where no sound installation could read the same.
func TestWhatABadJointShows(t *testing.T) {
	r := &Reading{Kind: Volts, Is: 5, Low: 4.9, High: 5.2}
	for shift, want := range map[float64]Seeing{0: Unseen, -0.05: Unseen, -0.15: Maybe, -0.35: Seen, 0.15: Unseen, 0.25: Maybe} {
		if got := r.joint(shift).Seen; got != want {
			t.Errorf("%v: %s, should be %s", shift, got, want)
		}
	}
}
