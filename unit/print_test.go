package unit_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"farend/unit"
)

func TestTheUnitInWhichAValueIsPrinted(t *testing.T) {
	for _, c := range []struct {
		v, scale float64
		name     string
	}{{4.41, 1, "V"}, {0.5, 1e-3, "mV"}, {-0.5, 1e-3, "mV"}, {0.9994, 1e-3, "mV"}, {0.9996, 1, "V"}, {12345, 1e3, "kV"}, {0, 1, "V"}, {2.3e-7, 1e-6, "µV"}} {
		if name, scale := unit.Volt(0).Dimension().Printed(c.v, 3); name != c.name || scale != c.scale {
			t.Errorf("%v V is printed in %s, %v V each", c.v, name, scale)
		}
	}
}

func TestQuantitiesPrintWithThreeFiguresAndThePrefixThatReadsBest(t *testing.T) {
	for _, c := range []struct {
		v    fmt.Stringer
		want string
	}{
		{unit.Volt(4.4123), "4.41 V"},
		{unit.Volt(-4.4123), "−4.41 V"},
		{unit.Volt(0), "0 V"},
		{unit.Volt(math.Copysign(0, -1)), "0 V"},
		{unit.Volt(0.5), "500 mV"},
		{unit.Volt(0.9994), "999 mV"},
		{unit.Volt(0.99949), "999 mV"},
		{unit.Volt(0.9996), "1.00 V"},
		{unit.Volt(0.99951), "1.00 V"},
		{unit.Volt(-0.9996), "−1.00 V"},
		{unit.Volt(9.994), "9.99 V"},
		{unit.Volt(9.996), "10.0 V"},
		{unit.Volt(99.96), "100 V"},
		{unit.Volt(999.6), "1.00 kV"},
		{unit.Volt(12345), "12.3 kV"},
		{unit.Volt(12345678), "12346 kV"},
		{unit.Volt(1.5e15), "1.50e+12 kV"},
		{unit.Volt(2.3e-7), "0.230 µV"},
		{unit.Volt(2.3e-12), "2.30e−06 µV"},
		{unit.Volt(-2.3e-12), "−2.30e−06 µV"},
		{unit.Volt(math.NaN()), "undefined"},
		{unit.Volt(math.Inf(1)), "unlimited"},
		{unit.Volt(math.Inf(-1)), "−unlimited"},
		{unit.Ampere(0.0004), "400 µA"},
		{unit.Ohm(0.0000015), "1.50 µΩ"},
		{unit.Ohm(2.7e3), "2.70 kΩ"},
		{unit.Ohm(9.996e5), "1.00 MΩ"},
		{unit.OhmPerMetre(0), "0 Ω/m"},
		{unit.OhmPerMetre(0.1), "100 mΩ/m"},
		{unit.OhmPerMetre(0.00798), "7.98 mΩ/m"},
		{unit.Metre(2.5), "2.50 m"},
		{unit.Metre(0.0166667), "16.7 mm"},
		{unit.SquareMetre(2.5e-6), "2.50 mm²"},
		{unit.SquareMetre(0), "0 mm²"},
		{unit.Celsius(-10), "−10.0 °C"},
		{unit.Celsius(131.4), "131 °C"},
		{unit.Hertz(800e3), "800 kHz"},
		{unit.Ratio(0.8), "80.0 %"},
		{unit.Ratio(1.001), "100 %"},
		{unit.Ratio(0.0004), "0.0400 %"},
		{unit.Watt(348), "348 W"},
		{unit.Second(1800), "1800 s"},
		{unit.Second(360000), "100 h"},
		{unit.Second(1.25e-6), "1.25 µs"},
		{unit.Candela(0.31), "310 mcd"},
		{unit.Farad(60e-12), "60.0 pF"},
		{unit.FaradPerMetre(60e-12), "60.0 pF/m"},
		{unit.HenryPerMetre(0.69e-6), "690 nH/m"},
		{unit.HenryPerMetre(1.2e-6), "1.20 µH/m"},
		{unit.SecondPerMetre(5e-9), "5.00 ns/m"},
		{unit.PerMetre(60), "60.0 /m"},
		{unit.Share(0.25), "6.00 h/day"},
		{unit.AmpereSquareSecond(3300), "3300 A²s"},
		{unit.NewtonMetre(0.5), "0.500 Nm"},
		{unit.WattPerSquareMetreKelvin(5.5), "5.50 W/m²K"},
		{unit.PerKelvin(0.025), "2.50 %/K"},
		{unit.Kelvin(10), "10.0 K"},
	} {
		if got := c.v.String(); got != c.want {
			t.Errorf("%T(%v) prints %q, want %q", c.v, c.v, got, c.want)
		}
	}
}

func TestPlainNumbersPrintWithoutExponentsNearOne(t *testing.T) {
	for _, c := range []struct {
		v       float64
		figures int
		want    string
	}{
		{0.00417, 2, "0.0042"}, {0.0001234, 3, "0.000123"}, {0.00001234, 3, "1.23e−05"}, {1234567, 3, "1234567"}, {12345678, 3, "1.23e+07"},
		{-0.00001234, 3, "−1.23e−05"}, {9.96, 2, "10"}, {0.0996, 2, "0.10"}, {1, 1, "1"}, {0.96, 1, "1"}, {math.NaN(), 3, "undefined"}, {math.Inf(1), 3, "undefined"}, {0, 3, "0"},
	} {
		if got := unit.Number(c.v, c.figures); got != c.want {
			t.Errorf("%v with %d figures prints %q, want %q", c.v, c.figures, got, c.want)
		}
	}
}

func dimensions() []*unit.Dimension {
	return []*unit.Dimension{
		unit.Volt(0).Dimension(), unit.Ampere(0).Dimension(), unit.Ohm(0).Dimension(), unit.OhmPerMetre(0).Dimension(), unit.Metre(0).Dimension(),
		unit.SquareMetre(0).Dimension(), unit.Celsius(0).Dimension(), unit.Hertz(0).Dimension(), unit.Ratio(0).Dimension(), unit.Watt(0).Dimension(),
		unit.Second(0).Dimension(), unit.Candela(0).Dimension(), unit.Farad(0).Dimension(), unit.FaradPerMetre(0).Dimension(), unit.SecondPerMetre(0).Dimension(),
		unit.PerMetre(0).Dimension(), unit.Share(0).Dimension(), unit.AmpereSquareSecond(0).Dimension(),
		unit.HenryPerMetre(0).Dimension(), unit.PerKelvin(0).Dimension(), unit.Kelvin(0).Dimension(), unit.NewtonMetre(0).Dimension(), unit.WattPerSquareMetreKelvin(0).Dimension(),
	}
}

func TestEveryQuantityHasItsDimensionInTheList(t *testing.T) {
	listed := unit.Dimensions()
	for _, d := range dimensions() {
		if !slices.Contains(listed, d) {
			t.Errorf("%s is not listed", d.Name)
		}
	}
	if len(listed) != len(dimensions()) {
		t.Errorf("%d dimensions are listed, want %d", len(listed), len(dimensions()))
	}
}

// What is printed with n figures is read back within half a unit of the last of them, or exactly what was printed.
func TestWhatIsPrintedIsReadBackWithinItsFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dimensions()).Draw(t, "dimension")
		figures := rapid.IntRange(1, 9).Draw(t, "figures")
		v := rapid.Float64Range(-10, 10).Draw(t, "mantissa") * math.Pow(10, float64(rapid.IntRange(-15, 12).Draw(t, "power")))
		text := d.Format(v, figures)
		back, err := d.Parse(text)
		half := 0.5000001 * math.Pow(10, float64(1-figures)) // and the rounding of the scale
		if err != nil || math.Abs(back-v) > half*math.Abs(v) {
			t.Fatalf("%s of %v prints %q and is read as %v (%v)", d.Name, v, text, back, err)
		}
		if again := d.Format(back, figures); again != text {
			t.Fatalf("%s of %v prints %q, and read back %q", d.Name, v, text, again)
		}
		if n := strings.Count(strings.TrimLeft(strings.NewReplacer(".", "", "−", "").Replace(strings.Fields(text)[0]), "0"), ""); v != 0 && !strings.Contains(text, "e") && n-1 < figures {
			t.Fatalf("%v prints %q: fewer than %d figures", v, text, figures)
		}
	})
}

func TestNoTextIsReadWithPanic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dimensions()).Draw(t, "dimension")
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[-−+0-9.eE, ]{0,8}[µumkMΩ°²/A-Za-z ]{0,6}`)).Draw(t, "text")
		v, err := d.Parse(text)
		if err != nil && v != 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("%q reads as %v, %v", text, v, err)
		}
		var p unit.Price
		_ = p.UnmarshalText([]byte(text))
	})
}

func TestEveryDimensionShowsAnExampleThatItReads(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range dimensions() {
		if _, err := d.Parse(d.Example); err != nil || d.Name == "" || d.SI == "" || seen[d.Name] {
			t.Errorf("%+v: %v", d, err)
		}
		seen[d.Name] = true
	}
}

func TestTwoValuesArePrintedApart(t *testing.T) {
	for _, c := range []struct {
		a, b   unit.Volt
		wa, wb string
	}{
		{10.82, 10.85, "10.82 V", "10.85 V"},
		{10.8, 10.9, "10.8 V", "10.9 V"},
		{10.8, 10.8, "10.8 V", "10.8 V"},
		{1, 1 - 1e-12, "1.000000 V", "1.000000 V"}, // alike as far as seven figures go
		{0.9996, 1, "999.6 mV", "1.000 V"},
		{unit.Volt(math.Inf(1)), 1, "unlimited", "1.00 V"},
		{unit.Volt(math.NaN()), unit.Volt(math.NaN()), "undefined", "undefined"},
	} {
		if a, b := unit.Apart(c.a, c.b); a != c.wa || b != c.wb {
			t.Errorf("%v and %v print as %s and %s, want %s and %s", float64(c.a), float64(c.b), a, b, c.wa, c.wb)
		}
	}
	if a, b := unit.NumbersApart(0.00401, 0.004, 2); a != "0.00401" || b != "0.00400" {
		t.Errorf("got %s and %s", a, b)
	}
}
