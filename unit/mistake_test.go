package unit_test

import (
	"math"
	"strings"
	"testing"

	"farend/unit"
)

func TestWhatIsNoQuantitySaysWhyAndWhatToWrite(t *testing.T) {
	volt, metre, area, celsius := unit.Volt(0).Dimension(), unit.Metre(0).Dimension(), unit.SquareMetre(0).Dimension(), unit.Celsius(0).Dimension()
	for _, c := range []struct {
		of               *unit.Dimension
		text, want, hint string
	}{
		{volt, "5", `"5" has no unit`, "write 5 V"},
		{volt, "−5", `"−5" has no unit`, "write -5 V"},
		{volt, "5 m", `"m" is not a unit of voltage`, "write 5 V"},
		{volt, "5 MV", `"MV" is not a unit of voltage`, "write 5 V"},
		{volt, "5 v", `"v" is not a unit of voltage`, "write 5 V"},
		{volt, "5 °V", `"°V" is not a unit of voltage`, "write 5 V"},
		{metre, "2,5 m", `"2,5 m" has a decimal comma`, "write 2.5 m"},
		{metre, " 2,5 m ", `"2,5 m" has a decimal comma`, "write 2.5 m"},
		{metre, "1,250 m", `"1,250 m" has a comma, for decimals or for thousands`, "write 1.250 m or 1250 m"},
		{metre, "2.5", `"2.5" has no unit`, "write 2.5 m"},
		{metre, "5 m·m", `"m·m" is not a unit of length`, "write 5 m"},
		{metre, "5 m m", `"m m" is not a unit of length`, "write 5 m"},
		{metre, "1e309 m", `"1e309 m" is too large a number`, "write 2.5 m"},
		{metre, "-1e309 m", `"-1e309 m" is too large a number`, "write 2.5 m"},
		{metre, "1e308 km", `"1e308 km" is too large a number`, "write 2.5 m"},
		{volt, "", `"" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "   ", `"   " is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "NaN V", `"NaN V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "Inf V", `"Inf V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "V", `"V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "--5 V", `"--5 V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "4-6 V", `"4-6 V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "1.2.3 V", `"1.2.3 V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, ". V", `". V" is not a voltage`, "write a number and its unit, for example 5 V"},
		{volt, "5 5 V", `"5 5 V" holds two numbers`, "write one number and its unit, for example 5 V"},
		{volt, "0x10 V", `"x10 V" is not a unit of voltage`, "write 0 V"},
		{volt, "5e V", `"e V" is not a unit of voltage`, "write 5 V"},
		{area, "2.5 mm", `"mm" is not a unit of cross-section`, "write 2.5 mm²"},
		{area, "2/0 AWG", `"2/0 AWG" is larger than Farend's tables`, "write the area, for example 70 mm²"},
		{area, "00 AWG", `"00AWG" is larger than Farend's tables`, "write the area, for example 70 mm²"},
		{area, "16.5 AWG", `"16.5 AWG" is not a wire gauge`, "write a whole number from 0 to 40, for example 16 AWG"},
		{area, "41 AWG", `"41 AWG" is not a wire gauge`, "write a whole number from 0 to 40, for example 16 AWG"},
		{area, "-1 AWG", `"-1 AWG" is not a wire gauge`, "write a whole number from 0 to 40, for example 16 AWG"},
		{area, "016 AWG", `"016 AWG" is not a wire gauge`, "write a whole number from 0 to 40, for example 16 AWG"},
		{area, "16 AWGs", `"AWGs" is not a unit of cross-section`, "write 16 mm²"},
		{celsius, "40 °", `"°" is not a unit of temperature`, "write 40 °C"},
		{unit.Ratio(0).Dimension(), "0.8", `"0.8" has no unit`, "write 80 %, or 0.8 % if you mean that little"},
		{unit.Ratio(0).Dimension(), "1", `"1" has no unit`, "write 100 %, or 1 % if you mean that little"},
		{unit.Ratio(0).Dimension(), "1.5", `"1.5" has no unit`, "write 1.5 %"},
		{unit.Ratio(0).Dimension(), "0", `"0" has no unit`, "write 0 %"},
		{metre, "6 ft 7 in", `"6 ft 7 in" is two quantities`, "write one: 79 in or 2.01 m"},
		{metre, "6' 7\"", `"6 ' 7\"" is two quantities`, "write one: 79 in or 2.01 m"},
		{metre, "1m20cm", `"1 m20cm" is two quantities`, "write one: 120 cm or 1.20 m"},
		{metre, "1 km 5 m", `"1 km 5 m" is two quantities`, "write one: 1005 m"},
		{metre, "6 ft 7 A", `"ft 7 A" is not a unit of length`, "write 6 m"},
		{metre, "6'", `"'" is not a unit of length`, "write 6 ft"},
		{metre, "6 Feet", `"Feet" is not a unit of length`, "write 6 ft"},
		{metre, "7 inches", `"inches" is not a unit of length`, "write 7 in"},
		{unit.OhmPerMetre(0).Dimension(), "100 mΩ", `"mΩ" is not a unit of resistance per length`, "write 100 mΩ/m"},
		{unit.Share(0).Dimension(), "5 h", `"h" is not a unit of share of a day`, "write 5 h/day"},
	} {
		v, err := c.of.Parse(c.text)
		mistake, ok := err.(*unit.Error)
		if !ok || mistake.Text != c.want || mistake.Hint != c.hint || v != 0 {
			t.Errorf("%q reads as %v, %v; want %s (%s)", c.text, v, err, c.want, c.hint)
		}
	}
}

func TestMistakesOfLongTextsStayShort(t *testing.T) {
	for _, text := range []string{strings.Repeat("x", 1e6), "5 " + strings.Repeat("µ", 1e6), strings.Repeat("9", 1e6) + " V", strings.Repeat("5 ", 1e6)} {
		_, err := unit.Parse[unit.Volt](text)
		if err == nil || len(err.(*unit.Error).Text) > 150 {
			t.Errorf("a text of a million characters gives %.200v", err)
		}
	}
}

func TestWrongTextLeavesTheQuantityAlone(t *testing.T) {
	v, price := unit.Volt(7), unit.Price{Amount: 1, Currency: "CHF"}
	if err := v.UnmarshalText([]byte("5 A")); err == nil || v != 7 {
		t.Errorf("after a mistake the voltage is %v (%v)", v, err)
	}
	if err := price.UnmarshalText([]byte("0.27 EUR")); err == nil || price.Currency != "CHF" {
		t.Errorf("after a mistake the price is %v (%v)", price, err)
	}
}

func TestMustPanicsOnAMistake(t *testing.T) {
	defer func() {
		if said := recover(); said != `unit: "5" has no unit (write 5 V)` {
			t.Errorf("it panics with %v", said)
		}
	}()
	unit.Must[unit.Volt]("5")
}

func TestPriceIsReadAndPrinted(t *testing.T) {
	for _, c := range []struct {
		text, printed string
		perJoule      float64 // 1 kWh is 3.6 MJ
	}{
		{"0.27 EUR/kWh", "0.270 EUR/kWh", 0.27 / 3.6e6},
		{"0.27EUR/kWh", "0.270 EUR/kWh", 0.27 / 3.6e6},
		{"31.5 JPY / kWh", "31.5 JPY/kWh", 31.5 / 3.6e6},
		{"−0.05 CHF/kWh", "−0.0500 CHF/kWh", -0.05 / 3.6e6},
		{"0 EUR/kWh", "0 EUR/kWh", 0},
	} {
		var p unit.Price
		if err := p.UnmarshalText([]byte(c.text)); err != nil || !near(p.Amount, c.perJoule) || p.String() != c.printed {
			t.Errorf("%q is %v a joule and prints %q (%v), want %v and %q", c.text, p.Amount, p, err, c.perJoule, c.printed)
		}
	}
	for _, c := range [][3]string{
		{"0.27", `"0.27" is not a tariff`, "write a number and its unit, for example 0.27 EUR/kWh"},
		{"EUR/kWh", `"EUR/kWh" is not a tariff`, "write a number and its unit, for example 0.27 EUR/kWh"},
		{"0.27 eur/kWh", `"0.27 eur/kWh" is not a tariff`, "write a number and its unit, for example 0.27 EUR/kWh"},
		{"0.27 €/kWh", `"0.27 €/kWh" is not a tariff`, "write a number and its unit, for example 0.27 EUR/kWh"},
		{"0.27 123/kWh", `"0.27 123/kWh" is not a tariff`, "write a number and its unit, for example 0.27 EUR/kWh"},
		{"0,27 EUR/kWh", `"0,27 EUR/kWh" has a decimal comma`, "write 0.27 EUR/kWh"},
		{"0.27 CHF", `"CHF" is not a unit of tariff`, "write 0.27 CHF/kWh"},
		{"0.27 CHF/MWh", `"CHF/MWh" is not a unit of tariff`, "write 0.27 CHF/kWh"},
	} {
		var p unit.Price
		err := p.UnmarshalText([]byte(c[0]))
		mistake, ok := err.(*unit.Error)
		if !ok || mistake.Text != c[1] || mistake.Hint != c[2] {
			t.Errorf("%q reads as %v, %v; want %s (%s)", c[0], p, err, c[1], c[2])
		}
	}
	if s := (unit.Price{Amount: math.NaN(), Currency: "EUR"}).String(); s != "undefined EUR/kWh" {
		t.Errorf("a price that is not a number prints %q", s)
	}
}
