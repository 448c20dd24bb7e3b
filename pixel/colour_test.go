package pixel_test

import (
	"math"
	"testing"

	"farend/pixel"
)

// five is half a unit of the fifth decimal, to which the golden colours are printed.
const five = 0.5e-5 + 1e-9

// generic is an RGB pixel of 400, 900 and 200 mcd, at the given drives.
func generic(r, g, b float64) []pixel.Amount {
	return []pixel.Amount{{0.700, 0.300, 0.4 * r}, {0.170, 0.700, 0.9 * g}, {0.130, 0.060, 0.2 * b}}
}

// xy turns u'v' back into x and y (inverse of ISO/CIE 11664-5, as colour-science libraries have it).
func xy(u, v float64) (x, y float64) {
	d := 6*u - 16*v + 12
	return 9 * u / d, 4 * v / d
}

func TestMixMeetsGoldenColours(t *testing.T) {
	for name, c := range map[string]struct {
		amounts    []pixel.Amount
		luminous   float64
		x, y, u, v float64
	}{
		// Derived from the formulas of CIE 15; nominal D65 is 0.3127, 0.3290 and 0.1978, 0.4683 (IEC 61966-2-1).
		"the primaries of IEC 61966-2-1 make D65": {[]pixel.Amount{{0.64, 0.33, 0.2126}, {0.30, 0.60, 0.7152}, {0.15, 0.06, 0.0722}}, 1, 0.31268, 0.32899, 0.19782, 0.46831},
		"a generic RGB pixel":                     {generic(1, 1, 1), 1.5, 0.26632, 0.25200, 0.19399, 0.41301},
		// Published pair of a colour-science library: xy (0.54369558, 0.32107944) is u'v' (0.3772021, 0.5012026).
		"one light is itself": {[]pixel.Amount{{0.54369558, 0.32107944, 3}}, 3, 0.54369558, 0.32107944, 0.3772021, 0.5012026},
	} {
		t.Run(name, func(t *testing.T) {
			luminous, u, v, ok := pixel.Mix(c.amounts)
			x, y := xy(u, v)
			if !ok || math.Abs(luminous-c.luminous) > five || math.Abs(u-c.u) > five || math.Abs(v-c.v) > five {
				t.Errorf("%v, u'v' %.5f %.5f (ok %v), want %v, %.5f %.5f", luminous, u, v, ok, c.luminous, c.u, c.v)
			}
			if math.Abs(x-c.x) > five || math.Abs(y-c.y) > five {
				t.Errorf("xy %.5f %.5f, want %.5f %.5f", x, y, c.x, c.y)
			}
		})
	}
}

func TestShiftMeetsGoldenValues(t *testing.T) {
	_, u0, v0, _ := pixel.Mix(generic(1, 1, 1))
	for name, c := range map[string]struct {
		amounts []pixel.Amount
		shift   float64 // Δu'v', derived
		hue     string
	}{
		"blue at 95 %": {generic(1, 1, 0.95), 0.00468, "warmer: towards yellow"},
		"blue at 90 %": {generic(1, 1, 0.90), 0.00953, "warmer: towards yellow"},
		"red at 95 %":  {generic(0.95, 1, 1), 0.00386, "towards cyan"},
		"red at 90 %":  {generic(0.90, 1, 1), 0.00781, "towards cyan"},
	} {
		t.Run(name, func(t *testing.T) {
			_, u, v, ok := pixel.Mix(c.amounts)
			if got := pixel.ShiftUV(u0, v0, u, v); !ok || math.Abs(got-c.shift) > five {
				t.Errorf("Δu'v' %.5f, want %.5f", got, c.shift)
			}
			if got := pixel.Hue(u-u0, v-v0); got != c.hue {
				t.Errorf("%q, want %q", got, c.hue)
			}
		})
	}
	t.Run("all channels at 80 % keep the colour", func(t *testing.T) {
		_, u, v, _ := pixel.Mix(generic(0.8, 0.8, 0.8))
		if got := pixel.ShiftUV(u0, v0, u, v); got > 1e-15 { // rounding of the drives
			t.Errorf("Δu'v' %v, want none", got)
		}
	})
}

func TestMixWithoutLightIsNotOk(t *testing.T) {
	for name, amounts := range map[string][]pixel.Amount{
		"nothing":                  nil,
		"all dark":                 generic(0, 0, 0),
		"less than dark":           {{0.3, 0.3, -1}},
		"a chromaticity without y": {{0.7, 0, 1}},
		"not a number":             {{0.3, 0.3, math.NaN()}},
	} {
		if y, u, v, ok := pixel.Mix(amounts); ok || y != 0 || u != 0 || v != 0 {
			t.Errorf("%s: %v, %v, %v, ok %v", name, y, u, v, ok)
		}
	}
	t.Run("a dark amount beside a lit one is left out", func(t *testing.T) {
		_, u0, v0, _ := pixel.Mix(generic(1, 0, 0)[:1])
		_, u, v, ok := pixel.Mix(append(generic(1, 0, 0), pixel.Amount{X: 0.2, Y: 0, Luminous: 9}))
		if !ok || u != u0 || v != v0 {
			t.Errorf("u'v' %v %v, want %v %v", u, v, u0, v0)
		}
	})
}

func TestHueSectorsHalveTheAnglesBetweenColours(t *testing.T) {
	// Corners of IEC 61966-2-1 and sums of two of them; the 2700 K centre of ANSI C78.377 for orange.
	r, g, b := pixel.Amount{X: 0.64, Y: 0.33, Luminous: 0.2126}, pixel.Amount{X: 0.30, Y: 0.60, Luminous: 0.7152}, pixel.Amount{X: 0.15, Y: 0.06, Luminous: 0.0722}
	_, u0, v0, _ := pixel.Mix([]pixel.Amount{r, g, b})
	direction := func(amounts ...pixel.Amount) float64 {
		_, u, v, _ := pixel.Mix(amounts)
		angle := math.Atan2(v-v0, u-u0) * 180 / math.Pi
		return math.Mod(angle+360, 360)
	}
	colours := []struct {
		angle float64
		word  string
	}{
		{direction(r), "towards red"},
		{direction(pixel.Amount{X: 0.4578, Y: 0.4101, Luminous: 1}), "warmer: towards orange"},
		{direction(r, g), "warmer: towards yellow"},
		{direction(g), "towards green"},
		{direction(g, b), "towards cyan"},
		{direction(b), "bluer"},
		{direction(r, b), "towards magenta"},
	}
	hue := func(angle float64) string {
		return pixel.Hue(1e-3*math.Cos(angle*math.Pi/180), 1e-3*math.Sin(angle*math.Pi/180))
	}
	const near = 0.6 // degrees: sectors are whole degrees
	for i, c := range colours {
		next := colours[(i+1)%len(colours)]
		if next.angle < c.angle {
			next.angle += 360
		}
		middle := (c.angle + next.angle) / 2
		if got := hue(c.angle); got != c.word {
			t.Errorf("at %.1f°: %q, want %q", c.angle, got, c.word)
		}
		if before, after := hue(middle-near), hue(middle+near); before != c.word || after != next.word {
			t.Errorf("about %.1f°: %q then %q, want %q then %q", middle, before, after, c.word, next.word)
		}
	}
	if got := pixel.Hue(0, 0); got != "unchanged" {
		t.Errorf("no shift: %q", got)
	}
}

// What each kind of tape does as its voltage falls, from the laws and not from habit. 5 V white warms and ends in red, as
// published reports of 5 V pixels on a low supply have it (yellow, then red); blue and green go nearly together, so the
// sum is orange from the start. A 12 V string with the datasheet's red resistor goes cyan, for red alone has no headroom.
func TestWhiteSagsTheWayItsChannelsGo(t *testing.T) {
	for name, c := range map[string]struct {
		part    string
		red     string
		nominal float64
		at      float64
		want    string
	}{
		"5 V at 3.5 V": {"D5_12mA", "red", 5, 3.5, "warmer: towards orange"},
		"5 V at 2.6 V, blue and green all but gone": {"D5_12mA", "red", 5, 2.6, "towards red"},
		"12 V per pixel at 9.5 V, blue alone":       {"D12_WS2815B", "red", 12, 9.5, "warmer: towards yellow"},
		"12 V with a red resistor at 11 V":          {"D12_WS2811", "red (regulated form)", 12, 11, "towards cyan"},
	} {
		t.Run(name, func(t *testing.T) {
			laws, _ := channels(t, c.part)
			light := func(volts float64) []pixel.Amount {
				var all []pixel.Amount
				for i, name := range []string{c.red, "green", "blue"} {
					amps, _ := laws[name].Current(volts)
					a := generic(1, 1, 1)[i]
					a.Luminous *= amps
					all = append(all, a)
				}
				return all
			}
			_, u0, v0, _ := pixel.Mix(light(c.nominal))
			_, u, v, _ := pixel.Mix(light(c.at))
			if got := pixel.Hue(u-u0, v-v0); got != c.want {
				t.Errorf("%q (shift %.4f, %.4f), want %q", got, u-u0, v-v0, c.want)
			}
		})
	}
}
