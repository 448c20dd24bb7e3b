package unit_test

import (
	"math"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/unit"
)

// exact is the relative difference that two roundings of a product of float64 leave.
const exact = 4e-16

func near(got, want float64) bool { return math.Abs(got-want) <= exact*math.Abs(want) }

// The scale of every prefix is the SI brochure's (BIPM, 9th edition, table 7); inch and foot are the international ones
// (0.0254 m and 0.3048 m, exact since 1959); the hour has 3,600 s and the day 24 h.
func TestEverySpellingOfEveryUnitIsRead(t *testing.T) {
	for _, c := range spellings() {
		for text := range strings.SplitSeq(c.texts, "|") {
			got, err := c.of.Parse(text)
			if err != nil || !near(got, c.want) && math.Abs(got-c.want) > 1e-13 { // 1e-13: 313.15 − 273.15 cancels
				t.Errorf("%q is %v (%v), want %v", text, got, err, c.want)
			}
		}
	}
}

// A spelling is one quantity in several spellings, parted by |.
type spelling struct {
	of    *unit.Dimension
	texts string
	want  float64
}

func spellings() []spelling {
	return []spelling{
		{unit.Volt(0).Dimension(), "5 V|5V|+5 V|5.0 V|5e0 V|5. V|0.005 kV|5000 mV|5000000 µV|5000000 uV|5000000 μV", 5},
		{unit.Volt(0).Dimension(), "-5 V|−5 V|−5V|-5000 mV|−0.5e1 V|−50e−1 V", -5},
		{unit.Volt(0).Dimension(), ".5 V|0.5V|5e-1 V|5E-1V|5e−1 V", 0.5},
		{unit.Volt(0).Dimension(), "5\u00a0V|5\u202fV|5\u2009V|5\u2007V|5\tV|  5   V  |\u20095 V\u00a0", 5}, // no-break, narrow no-break, thin, figure space
		{unit.Ampere(0).Dimension(), "2 A|2A|2000 mA|0.002 kA|2000000 µA|2000000 uA|2000000000 nA", 2},
		{unit.Ohm(0).Dimension(), "2 mΩ|2 mohm|2 mOhm|2mΩ|2 m\u2126|0.002 Ω|0.002 ohm|0.002 ohms|0.002 Ohm|0.002 Ohms|2000 µΩ|2000 uohm|0.000002 kΩ|0.000000002 MΩ|0.000000002 Mohm", 0.002},
		{unit.OhmPerMetre(0).Dimension(), "100 mΩ/m|100 mohm/m|100mΩ/m|100 mΩ / m|0.1 Ω/m|0.1 ohm/m|100000 µΩ/m|0.0001 kΩ/m|100 Ω/km|100 ohm/km|100 Ohm/km|100000 mΩ/km", 0.1},
		{unit.Metre(0).Dimension(), "2.5 m|2.5m|2500 mm|250 cm|0.0025 km", 2.5},
		{unit.Metre(0).Dimension(), "1 in", 0.0254},
		{unit.Metre(0).Dimension(), "1 ft|12 in", 0.3048},
		{unit.SquareMetre(0).Dimension(), "2.5 mm²|2.5 mm2|2.5mm²|2.5mm2|2.5 mm^2", 2.5e-6},
		{unit.Celsius(0).Dimension(), "40 °C|40 C|40°C|40C|40 ° C|40 \u2103|104 °F|104 F|104 \u2109|313.15 K", 40},
		{unit.Celsius(0).Dimension(), "32 °F|273.15 K|0 °C|-0 C", 0},
		{unit.Celsius(0).Dimension(), "−10 °C|-10 C|14 F|263.15 K", -10},
		{unit.Hertz(0).Dimension(), "50 Hz|50Hz|0.05 kHz|0.00005 MHz", 50},
		{unit.Ratio(0).Dimension(), "80 %|80%|80.0 %|80\u202f%", 0.8},
		{unit.Watt(0).Dimension(), "300 W|0.3 kW|300000 mW", 300},
		{unit.Second(0).Dimension(), "300 us|300 µs|0.3 ms|0.0003 s|300000 ns", 0.0003},
		{unit.Second(0).Dimension(), "1 h|60 min|3600 s", 3600},
		{unit.Candela(0).Dimension(), "0.4 cd|400 mcd|0.0004 kcd", 0.4},
		{unit.Farad(0).Dimension(), "100 uF|100 µF|0.1 mF|100000 nF|100000000 pF|0.0001 F", 1e-4},
		{unit.FaradPerMetre(0).Dimension(), "60 pF/m|0.06 nF/m|0.00006 µF/m|0.00006 uF/m", 60e-12},
		{unit.HenryPerMetre(0).Dimension(), "0.69 µH/m|0.69 uH/m|690 nH/m|0.00069 mH/m|0.69 µH / m", 0.69e-6},
		{unit.SecondPerMetre(0).Dimension(), "5 ns/m|5000 ps/m|0.005 µs/m|0.005 us/m", 5e-9},
		{unit.PerMetre(0).Dimension(), "60 /m|60/m", 60},
		{unit.PerMetre(0).Dimension(), "18 /ft", 18 / 0.3048},
		{unit.Share(0).Dimension(), "6 h/day|360 min/day|6 h/d|6 h / day", 0.25},
		{unit.AmpereSquareSecond(0).Dimension(), "3300 A²s|3300 A2s|3300 A²·s|3300 A² s|3300 A^2s|3300 A2·s|3300 A^2·s|3.3 kA²s", 3300},
		{unit.NewtonMetre(0).Dimension(), "0.5 Nm|0.5 N·m|500 mNm|500 mN·m", 0.5},
		{unit.WattPerSquareMetreKelvin(0).Dimension(), "5.5 W/m²K|5.5 W/m2K|5.5 W/m^2K|5.5 W/m²·K|5.5 W / m²K", 5.5},
		{unit.Kelvin(0).Dimension(), "10 K|10K|10.0 K", 10},
		{unit.PerKelvin(0).Dimension(), "2.5 %/K|2.5%/K|2.5 % / K", 0.025},
	}
}

// The diameters and areas are printed to five figures in the handbook table.
const handbook = 1e-4

func TestWireGaugeAgreesWithTheHandbook(t *testing.T) {
	rows := reference.Rows(t, "conductor_awg.csv")
	for _, row := range rows {
		n := row["awg"]
		got, err := unit.Parse[unit.SquareMetre](n + " AWG")
		want := reference.Number(t, row, "area_mm2") // ASTM B258, handbook table
		if err != nil || math.Abs(float64(got)*1e6-want) > handbook*max(want, 0.5) {
			t.Errorf("%s AWG is %v (%v), want %v mm²", n, got, err, want)
		}
		for _, same := range []string{n + "AWG", n + " awg", n + "\u202fAwg"} {
			if again, err := unit.Parse[unit.SquareMetre](same); err != nil || again != got {
				t.Errorf("%q is %v (%v), want %v", same, again, err, got)
			}
		}
	}
	if len(rows) < 18 {
		t.Errorf("only %d gauges", len(rows))
	}
	if d := float64(unit.DiameterOfGauge(16)) * 1e3; math.Abs(d-1.2908) > 5e-5 { // the same table, 16 AWG
		t.Errorf("16 AWG is %v mm across, want 1.2908 mm", d)
	}
}
