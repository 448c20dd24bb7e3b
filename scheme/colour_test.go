package scheme_test

import (
	"maps"
	"math"
	"testing"

	"farend/scheme"
)

// Drives are products and quotients of a few numbers, so rounding is a few units in the last place.
const driveTolerance = 1e-15

func near(a, b map[string]float64) bool {
	return maps.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= driveTolerance })
}

func TestColoursDriveChannels(t *testing.T) {
	rgb := []string{"red", "green", "blue"}
	rgbw := []string{"red", "green", "blue", "white"}
	tunable := []string{"warm", "cold"}
	cases := []struct {
		name, colour string
		channels     []string
		level        float64
		want         map[string]float64
	}{
		{"white is red, green and blue alike", "white", rgb, 0.5, map[string]float64{"red": 0.5, "green": 0.5, "blue": 0.5}},
		{"white is the white channel alone where there is one", "white", rgbw, 1, map[string]float64{"red": 0, "green": 0, "blue": 0, "white": 1}},
		{"white is warm and cold together", "white", tunable, 1, map[string]float64{"warm": 1, "cold": 1}},
		{"white is warm alone where there is no other white", "white", []string{"warm", "amber"}, 1, map[string]float64{"warm": 1, "amber": 0}},
		{"all is every channel", "all", rgbw, 0.2, map[string]float64{"red": 0.2, "green": 0.2, "blue": 0.2, "white": 0.2}},
		{"dark is none", "dark", rgb, 1, map[string]float64{"red": 0, "green": 0, "blue": 0}},
		{"one channel", "green", rgbw, 0.4, map[string]float64{"red": 0, "green": 0.4, "blue": 0, "white": 0}},
		{"one white channel", "cold", tunable, 1, map[string]float64{"warm": 0, "cold": 1}},
		{"amber", "amber", []string{"amber"}, 1, map[string]float64{"amber": 1}},
		{"a hex colour goes by bytes and leaves white off", "#ffb060", rgbw, 1, map[string]float64{"red": 1, "green": 176.0 / 255, "blue": 96.0 / 255, "white": 0}},
		{"capital digits", "#FFB060", rgb, 0.5, map[string]float64{"red": 0.5, "green": 88.0 / 255, "blue": 48.0 / 255}},
		{"a hex colour without blue needs no blue", "#ff8000", []string{"red", "green"}, 1, map[string]float64{"red": 1, "green": 128.0 / 255}},
		{"black needs nothing", "#000000", tunable, 1, map[string]float64{"warm": 0, "cold": 0}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, err := colour(t, c.colour).Drive(c.channels, c.level)
			if err != nil || !near(got, c.want) {
				t.Errorf("got %v (%v), want %v", got, err, c.want)
			}
		})
	}
}

func colour(t *testing.T, text string) scheme.Colour {
	t.Helper()
	var c scheme.Colour
	if err := c.UnmarshalText([]byte(text)); err != nil {
		t.Fatal(err)
	}
	return c
}

func TestColoursThatATapeCannotMake(t *testing.T) {
	cases := []struct {
		colour   string
		channels []string
		want     string
	}{
		{"red", []string{"warm", "cold"}, "there is no red channel, only warm and cold"},
		{"white", []string{"red"}, "there is no green channel, only red"},
		{"warm", []string{"blue", "green", "red"}, "there is no warm channel, only red, green and blue"},
		{"#00ff01", []string{"green"}, "there is no blue channel, only green"},
	}
	for _, c := range cases {
		if got, err := colour(t, c.colour).Drive(c.channels, 1); err == nil || err.Error() != c.want {
			t.Errorf("%s on %v: got %v and error %v, want %s", c.colour, c.channels, got, err, c.want)
		}
	}
}

func TestStatesDriveRuns(t *testing.T) {
	s := read(t, footbridge(t)) // cap 80 %; dusk 35 % #ffb060, E2 at 20 %
	cases := []struct {
		state, run string
		want       map[string]float64
	}{
		{"full", "E1", map[string]float64{"red": 0.8, "green": 0.8, "blue": 0.8}},
		{"dusk", "E1", map[string]float64{"red": 0.35, "green": 0.35 * 176 / 255, "blue": 0.35 * 96 / 255}},
		{"dusk", "E2", map[string]float64{"red": 0.2, "green": 0.2 * 176 / 255, "blue": 0.2 * 96 / 255}},
		{"dark", "E2", map[string]float64{"red": 0, "green": 0, "blue": 0}},
	}
	for _, c := range cases {
		if got, ok := s.Drives(c.state, c.run); !ok || !near(got, c.want) {
			t.Errorf("%s in %s is driven %v (%v), want %v", c.run, c.state, got, ok, c.want)
		}
	}
	for _, c := range [][2]string{{"dawn", "E1"}, {"full", "E9"}, {"dark", "E9"}, {"", ""}} {
		if got, ok := s.Drives(c[0], c[1]); ok {
			t.Errorf("%s in %s is driven %v, though there is no such thing", c[1], c[0], got)
		}
	}
}
