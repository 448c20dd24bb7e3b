package pixel_test

import (
	"math"
	"math/rand"
	"testing"

	"farend/internal/reference"
	"farend/pixel"
	"farend/unit"
)

// exact is the tolerance, relative to the set current, where two forms of the same law are compared: a few roundings.
const exact = 1e-12

// channels is every law of a part in channel_laws.csv, with the error its fit states, in fractions of the set current.
func channels(t testing.TB, part string) (laws map[string]pixel.Channel, fit map[string]float64) {
	t.Helper()
	laws, fit = map[string]pixel.Channel{}, map[string]float64{}
	for _, row := range reference.Where(t, reference.Rows(t, "channel_laws.csv"), "part", part) {
		number := func(column string) float64 {
			if row[column] == "" {
				return 0
			}
			return reference.Number(t, row, column)
		}
		laws[row["channel"]] = pixel.Channel{
			Set: unit.Ampere(number("set_mA") / 1e3), Lo: unit.Volt(number("lo_V")), Hi: unit.Volt(number("hi_V")),
			Soft: unit.Volt(number("soft_V")), String: unit.Ohm(number("string_ohm")),
		}
		fit[row["channel"]] = number("fit_error_max_percent") / 100
	}
	return laws, fit
}

// The model behind droop_checks.csv has forward voltage, LED and sink resistance in it; it is derived, not measured.
// The law of a channel was fitted to it, and each fit states its largest error. Rows in which it is larger would be
// a wrong law or a wrong table.
func TestChannelMeetsTheDroopModel(t *testing.T) {
	// Fit errors are printed to 0.1 % of set current; droop currents to 1 µA and laws to 1 mV vanish in that. Resistances
	// are printed to 1 Ω.
	const rounding, ohm = 0.05e-2, 0.5
	// The fits are to f(V); the law subtracts f(0), to be passive, which a very soft knee feels: 0.17 % of set current for
	// the red string of the 12 V part with its 1.2 V knee, nothing to speak of elsewhere.
	const atRest = 0.2e-2
	for name, c := range map[string]struct {
		rows, part string
		channels   map[string]string
		upTo       float64 // V: where the law claims to hold
		fit        float64 // stated error where it is not the table's column
	}{
		"5 V, 12 mA":  {rows: "D5_12mA", part: "D5_12mA"},
		"5 V, 16 mA":  {rows: "D5_16mA", part: "D5_16mA"},
		"12 V, 10 mA": {rows: "D12_WS2815B_10mA_n3", part: "D12_WS2815B"},
		"12 V, 18.5 mA, red as a regulated channel": {rows: "D12_WS2811_18.5mA_n3_RR324", part: "D12_WS2811",
			channels: map[string]string{"R": "red (regulated form)", "G": "green", "B": "blue"}},
		"12 V, 18.5 mA, red as a string up to 12 V": {rows: "D12_WS2811_18.5mA_n3_RR324", part: "D12_WS2811",
			channels: map[string]string{"R": "red (string form)"}, upTo: 12},
		"12 V, 18.5 mA, red as a string up to 11 V": {rows: "D12_WS2811_18.5mA_n3_RR324", part: "D12_WS2811",
			channels: map[string]string{"R": "red (string form)"}, upTo: 11, fit: 0.6e-2},
		"24 V, 18 mA":     {rows: "D24_18mA_n6", part: "D24"},
		"12 V, resistors": {rows: "A12_corrected", part: "A12_analog"},
	} {
		t.Run(name, func(t *testing.T) {
			if c.channels == nil {
				c.channels = map[string]string{"R": "red", "G": "green", "B": "blue"}
			}
			laws, fit := channels(t, c.part)
			for _, row := range reference.Where(t, reference.Rows(t, "droop_checks.csv"), "case", c.rows) {
				channel, ok := c.channels[row["channel"]]
				v, want := reference.Number(t, row, "V"), reference.Number(t, row, "I_mA")/1e3
				if !ok || c.upTo > 0 && v > c.upTo {
					continue
				}
				law, stated := laws[channel], fit[channel]
				if c.fit > 0 {
					stated = c.fit
				}
				got, _ := law.Current(v)
				rest, _ := law.Current(-1e6) // −f(0): f itself is nothing there
				allowed := stated + rounding
				if law.String > 0 {
					allowed += ohm / float64(law.String) * want / float64(law.Set)
				}
				if off := math.Abs(got-rest-want) / float64(law.Set); off > allowed {
					t.Errorf("%s at %v V: f is %.3f mA, want %.3f mA: off by %.2f %% of set, the fit states %.1f %%", channel, v, (got-rest)*1e3, want*1e3, off*100, stated*100)
				}
				if -rest > atRest*float64(law.Set) {
					t.Errorf("%s: f(0) is %.3f mA", channel, -rest*1e3)
				}
			}
		})
	}
}

// The plain sum of the trade, I = max(0, (V − n·Vf)/R), is a string channel with no softness: 300 Ω behind three LEDs
// of 2.0 V, 150 Ω behind three of 3.0 and of 3.1 V.
func TestStringChannelMeetsThePlainSum(t *testing.T) {
	strings := map[string]pixel.Channel{"R": {String: 300, Lo: 6}, "G": {String: 150, Lo: 9}, "B": {String: 150, Lo: 9.3}}
	// Rows are printed to 1 µA. The narrowest knee is 1 mV wide: at the knee itself it adds ln 2 mV over R.
	const printed, knee = 0.5e-6 + 1e-12, 1e-3 * math.Ln2
	for _, row := range reference.Where(t, reference.Rows(t, "droop_checks.csv"), "case", "A12_simple") {
		c := strings[row["channel"]]
		got, _ := c.Current(reference.Number(t, row, "V"))
		if want := reference.Number(t, row, "I_mA") / 1e3; math.Abs(got-want) > printed+knee/float64(c.String) {
			t.Errorf("%s at %s V: %.4f mA, want %.3f mA", row["channel"], row["V"], got*1e3, want*1e3)
		}
	}
}

// Sagging voltages of the same model, in volts to two decimals, for the 12 mA part.
func TestVoltageAtMeetsTheDroopModel(t *testing.T) {
	// Half the last place, and the fit's dense-grid error of at most 2.1 % (red) or 1.0 % (green, blue) of set current on
	// a rise of 0.64 V (red) or 0.77 V: 13 mV and 8 mV, twice that at 90 % and 10 %, where the knees halve the slope.
	const printed = 0.005
	laws, _ := channels(t, "D5_12mA")
	for channel, c := range map[string]struct{ at90, at50, at10, near float64 }{
		"red":   {2.45, 2.11, 1.78, 0.013},
		"green": {3.45, 3.06, 2.68, 0.008},
		"blue":  {3.55, 3.16, 2.78, 0.008},
	} {
		for _, p := range []struct{ fraction, want, near float64 }{{0.9, c.at90, 2 * c.near}, {0.5, c.at50, c.near}, {0.1, c.at10, 2 * c.near}} {
			if got := float64(laws[channel].VoltageAt(p.fraction, 5)); math.Abs(got-p.want) > printed+p.near {
				t.Errorf("%s: %v of its current at %.3f V, want %v V", channel, p.fraction, got, p.want)
			}
		}
	}
}

func TestVoltageAtIsTheLowestVoltageOfItsCurrent(t *testing.T) {
	for _, c := range randomChannels(100) {
		nominal := c.Hi + 1
		full, _ := c.Current(float64(nominal))
		for _, fraction := range []float64{1e-3, 0.1, 0.5, 0.9, 0.999} {
			v := float64(c.VoltageAt(fraction, nominal))
			at, slope := c.Current(v)
			if math.Abs(at-fraction*full) > 1e-9*full {
				t.Errorf("%+v: %v of %v A at %v V is %v A", c, fraction, full, v, at)
			}
			if below, _ := c.Current(v - 1e-6); slope > 0 && below >= fraction*full {
				t.Errorf("%+v: a lower voltage than %v V does too", c, v)
			}
		}
	}
	c := randomChannels(1)[0]
	for name, got := range map[string]struct{ got, want unit.Volt }{
		"none of it":         {c.VoltageAt(0, 5), 0},
		"less than none":     {c.VoltageAt(-1, 5), 0},
		"all of it":          {c.VoltageAt(1, 5), 5},
		"more than all":      {c.VoltageAt(1.2, 5), 5},
		"not a number":       {c.VoltageAt(math.NaN(), 5), 0},
		"no nominal voltage": {c.VoltageAt(0.5, 0), 0},
		"a reversed nominal": {c.VoltageAt(0.5, -5), 0},
	} {
		if got.got != got.want {
			t.Errorf("%s: %v, want %v", name, got.got, got.want)
		}
	}
}

// The law as it is defined: two separate σ, in the plain form that cannot be used far from the knees.
func TestChannelMeetsItsDefinition(t *testing.T) {
	for _, c := range randomChannels(200) {
		lo, hi, soft := float64(c.Lo), float64(c.Hi), float64(c.Soft)
		sigma := func(x float64) float64 { return soft * math.Log(1+math.Exp(x/soft)) }
		f := func(v float64) float64 {
			if c.String > 0 {
				return sigma(v-lo) / float64(c.String)
			}
			return float64(c.Set) * (sigma(v-lo) - sigma(v-hi)) / (hi - lo)
		}
		for v := -1.0; v < hi+2; v += 0.05 {
			got, _ := c.Current(v)
			if want := f(v) - f(0); math.Abs(got-want) > exact*scale(c) {
				t.Errorf("%+v at %v V: %v A, want %v A", c, v, got, want)
			}
		}
	}
}

func TestChannelIsPassiveMonotoneAndFinite(t *testing.T) {
	odd := []pixel.Channel{
		{},
		{Set: 0.01, Lo: 2, Hi: 2, Soft: 0.1},
		{Set: 0.01, Lo: 2, Hi: 1, Soft: 0.1},
		{Set: 0.01, Lo: 2, Hi: 3},
		{Set: 0.01, Lo: 2, Hi: 2.001, Soft: 5},
		{Set: 0.01, Lo: -1, Hi: 1, Soft: 0.2},
		{Set: -0.01, Lo: 2, Hi: 3, Soft: 0.1},
		{String: 100, Lo: 0},
		{Set: 0.01, Lo: 2, Hi: 3, Soft: -0.1},
	}
	for _, c := range append(randomChannels(200), odd...) {
		if amps, slope := c.Current(0); amps != 0 || slope < 0 {
			t.Errorf("%+v at 0 V: %v A, slope %v", c, amps, slope)
		}
		last := math.Inf(-1)
		for v := -3.0; v < 30; v += 0.013 {
			amps, slope := c.Current(v)
			// Flat parts may fall by a rounding.
			if !(amps >= last-4e-16*scale(c)) || !(slope >= 0) {
				t.Fatalf("%+v at %v V: %v A after %v A, slope %v", c, v, amps, last, slope)
			}
			last = amps
		}
		for _, v := range []float64{-1e6, -1e300, 1e6, 1e12} {
			amps, slope := c.Current(v)
			if math.IsNaN(amps) || math.IsInf(amps, 0) || !(slope >= 0) || math.IsInf(slope, 0) || amps*v < 0 {
				t.Errorf("%+v at %v V: %v A, slope %v", c, v, amps, slope)
			}
		}
	}
}

func TestChannelSlopeIsTheDerivative(t *testing.T) {
	// A central difference over h = 1e-4 ε errs by h²/6 of a third derivative of at most slope/ε², and by rounding.
	for _, c := range randomChannels(200) {
		step := 1e-4 * float64(c.Soft)
		for v := -0.5; v < float64(c.Hi)+1; v += 0.07 {
			low, _ := c.Current(v - step)
			high, _ := c.Current(v + step)
			_, got := c.Current(v)
			near := 1e-8*scale(c)/float64(c.Soft) + 1e-15*scale(c)/step
			if want := (high - low) / ((v + step) - (v - step)); math.Abs(got-want) > near {
				t.Errorf("%+v at %v V: slope %v, difference %v", c, v, got, want)
			}
		}
	}
}

func TestLightFollowsCurrent(t *testing.T) {
	red := pixel.Channel{Set: 12e-3, Lo: 1.787, Hi: 2.426, Soft: 0.108, Candela: 0.4}
	string12 := pixel.Channel{String: 340, Lo: 5.193, Soft: 0.578, Candela: 0.5}
	half := float64(string12.VoltageAt(0.5, 12))
	for name, c := range map[string]struct{ got, want float64 }{
		"regulated, in regulation":        {red.Light(5, 5), 0.4},
		"regulated, whatever the nominal": {red.Light(5, 2), 0.4},
		"string at its nominal":           {string12.Light(12, 12), 0.5},
		"string at half its current":      {string12.Light(half, 12), 0.25},
		"no voltage":                      {red.Light(0, 5), 0},
		"reversed":                        {red.Light(-5, 5), 0},
		"no set current":                  {pixel.Channel{Candela: 1, Lo: 1, Hi: 2, Soft: 0.1}.Light(5, 5), 0},
		"string without a nominal":        {string12.Light(12, 0), 0},
	} {
		if math.Abs(c.got-c.want) > 1e-6*c.want { // of 0.4 cd, f(0) takes 1e-8
			t.Errorf("%s: %v cd, want %v cd", name, c.got, c.want)
		}
	}
}

// scale is the size of a channel's current in the range of these tests.
func scale(c pixel.Channel) float64 {
	if c.String > 0 {
		return 30 / float64(c.String)
	}
	return math.Abs(float64(c.Set))
}

// randomChannels is so many channels, the same every time, in the range of channel_laws.csv and somewhat beyond.
func randomChannels(n int) []pixel.Channel {
	random := rand.New(rand.NewSource(1))
	all := make([]pixel.Channel, n)
	for i := range all {
		lo := 1 + 15*random.Float64()
		all[i] = pixel.Channel{
			Set: unit.Ampere(1e-3 + 0.1*random.Float64()), Lo: unit.Volt(lo), Hi: unit.Volt(lo + 0.2 + 6*random.Float64()),
			Soft: unit.Volt(0.04 + 1.2*random.Float64()*random.Float64()),
		}
		if i%4 == 3 {
			all[i].String = unit.Ohm(50 + 3000*random.Float64())
		}
	}
	return all
}
