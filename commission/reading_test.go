package commission

import (
	"math"
	"math/rand"
	"strconv"
	"strings"
	"testing"
)

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

// Printed, a band is no wider than it is by more than a tenth, and what is set is never let be more than it may.
func TestBandsAreNotWidened(t *testing.T) {
	for _, x := range []struct {
		r    Reading
		want string
	}{
		{Reading{Kind: Volts, Is: 12, Low: 11.94, High: 12.06, Inwards: true}, "11.94 to 12.06"}, // ±0.5 % of 12 V
		{Reading{Kind: Volts, Is: 24, Low: 23.88, High: 24.12, Inwards: true}, "23.88 to 24.12"},
		{Reading{Kind: Volts, Is: 12, Low: 11.9412, High: 12.0588, Inwards: true}, "11.95 to 12.05"},
		{Reading{Kind: Volts, Is: 11.9, Low: 11.741, High: 12.079}, "11.74 to 12.08"},
	} {
		if got := x.r.Brief(); got != x.want {
			t.Errorf("%+v is %q, should be %q", x.r, got, x.want)
		}
	}
	rnd := rand.New(rand.NewSource(2))
	for range 20000 {
		is := math.Pow(10, 5*rnd.Float64()-3)
		r := Reading{Kind: Volts, Is: is, Low: is * (0.99 - 0.2*rnd.Float64()), High: is * (1.01 + 0.2*rnd.Float64()), Inwards: rnd.Intn(2) == 0}
		low, high, figs := r.ends()
		if wide := r.High - r.Low; !r.Inwards && math.Abs(low-r.Low)+math.Abs(high-r.High) > wide/10+1e-12 || r.Inwards == (low < r.Low-1e-9 || high > r.High+1e-9) {
			t.Errorf("%+v is printed as %v to %v", r, low, high)
		}
		a, b, _ := strings.Cut(r.Brief(), " to ")
		for k, text := range []string{a, b} {
			v, err := strconv.ParseFloat(text, 64)
			want := []float64{low, high}[k]
			if strings.HasSuffix(r.Value(), " mV") {
				v /= 1000
			}
			if err != nil || math.Abs(v-want) > 1e-6*want {
				t.Errorf("%+v, with %d figures: %q for %v", r, figs, text, want)
			}
		}
	}
}

// A joint is surely seen only where no sound installation could read the same.
func TestWhatABadJointShows(t *testing.T) {
	r := &Reading{Kind: Volts, Is: 5, Low: 4.9, High: 5.2}
	for shift, want := range map[float64]Seeing{0: Unseen, -0.05: Unseen, -0.15: Maybe, -0.35: Seen, 0.15: Unseen, 0.25: Maybe} {
		if got := r.joint(direct, shift).Seen; got != want {
			t.Errorf("%v: %s, should be %s", shift, got, want)
		}
	}
}

// Marks of remarks go on after z as columns of sheets do.
func TestMarksGoOnAfterTheAlphabet(t *testing.T) {
	for i, want := range map[int]string{0: "a", 25: "z", 26: "aa", 27: "ab", 51: "az", 52: "ba", 701: "zz", 702: "aaa"} {
		if letter(i) != want || capital(i) != strings.ToUpper(want) {
			t.Errorf("%d is %s and %s, should be %s", i, letter(i), capital(i), want)
		}
	}
}
