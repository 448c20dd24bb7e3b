package protection

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"farend/internal/reference"
	"farend/unit"
)

// worth is what a row asks at a voltage: "8.0", "5.0 x Vmax", "1000/Vmax".
func worth(t *testing.T, text string, volts float64) float64 {
	t.Helper()
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		return v
	}
	if a, ok := strings.CutSuffix(text, " x Vmax"); ok {
		return number(a) * volts
	}
	if a, ok := strings.CutSuffix(text, "/Vmax"); ok {
		return number(a) / volts
	}
	return number(text)
}

// Every row of NEC chapter 9 table 11(B) for direct current up to 60 V, at voltages inside its range.
func TestClass2IsWhatTheRowsSay(t *testing.T) {
	volts := map[string][]float64{
		"Class 2 DC source, 0 to 20 V": {5, 12, 20}, "Class 2 DC source, over 20 to 30 V": {20.1, 24, 30},
		"Class 2 DC source, over 30 to 60 V": {30.1, 48, 60}, "Class 2 DC source, over 20 to 60 V": {20.1, 36, 60},
	}
	of := map[string]func(l, fused limit) float64{
		"inherently limited: maximum current":                                 func(l, _ limit) float64 { return float64(l.amps) },
		"inherently limited: power nameplate":                                 func(l, _ limit) float64 { return float64(l.plate) },
		"inherently limited: current nameplate":                               func(l, _ limit) float64 { return float64(l.rated) },
		"not inherently limited: maximum current":                             func(_, f limit) float64 { return float64(f.amps) },
		"not inherently limited: VAmax":                                       func(_, f limit) float64 { return float64(f.watts) },
		"not inherently limited: VAmax (350 for a transformer with Vmax<=15)": func(_, f limit) float64 { return float64(f.watts) },
		"not inherently limited: overcurrent device":                          func(_, f limit) float64 { return float64(f.fuse) },
		"not inherently limited: power nameplate":                             func(_, f limit) float64 { return float64(f.plate) },
	}
	compared := 0
	for _, row := range reference.Rows(t, "elv_lighting.csv") {
		at, read := volts[row["topic"]], of[row["requirement"]]
		if row["clause"] != "Chapter 9 Table 11(B)" || at == nil {
			continue
		}
		if read == nil {
			t.Errorf("no function gives %q", row["requirement"])
			continue
		}
		for _, u := range at {
			l, _ := class2(unit.Volt(u))
			fused, ok := class2Fused(unit.Volt(u))
			if got, want := read(l, fused), worth(t, row["value"], u); !ok || math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s, %s: %v at %v V, want %v", row["topic"], row["requirement"], got, u, want)
			}
			compared++
		}
	}
	if compared != 3*15 {
		t.Errorf("%d numbers were compared", compared)
	}
	if _, ok := class2(60.1); ok { // over 60 V: 5 mA, which is no supply of light
		t.Error("there is a Class 2 source above 60 V")
	}
}

// The rows of IEC 62368-1 annex Q, and the worked limits.
func TestLimitedPowerSourcesAreWhatTheRowsSay(t *testing.T) {
	for _, c := range []struct{ u, amps, watts, fusedAmps, fusedWatts, fuse float64 }{
		{5, 8, 25, 200, 250, 5},           // table Q.1: up to 20 V 8 A and 5 × Uoc; Q.2: 1000/Uoc, 250 VA, 5 A
		{12, 8, 60, 83.333, 250, 5},       // worked limit: 60 W
		{20, 8, 100, 50, 250, 5},          //
		{24, 8, 100, 41.667, 250, 4.1667}, // over 20 V: 100 VA; the device 100/Uoc (memory)
		{30, 8, 100, 33.333, 250, 3.3333}, //
		{48, 3.125, 100, 20.833, 250, 2.0833},
		{60, 2.5, 100, 16.667, 250, 1.6667}, // 30 to 60 V: 150/Uoc
	} {
		own, ok := limited(unit.Volt(c.u))
		fused, ok2 := limitedFused(unit.Volt(c.u))
		got := []float64{float64(own.amps), float64(own.watts), float64(fused.amps), float64(fused.watts), float64(fused.fuse)}
		for i, want := range []float64{c.amps, c.watts, c.fusedAmps, c.fusedWatts, c.fuse} {
			if !ok || !ok2 || math.Abs(got[i]-want) > 1e-4*want {
				t.Errorf("at %v V: %v, want %+v", c.u, got, c)
				break
			}
		}
	}
	for _, u := range []unit.Volt{60.1, 120} {
		_, a := limited(u)
		_, b := limitedFused(u)
		if a || b {
			t.Errorf("there is a limited power source of %v", u)
		}
	}
}

// Rows of IEC 62368-1, 6.2.2, and what they come to at 5, 12 and 24 V.
func TestPowerSourceClassesAreWhatTheRowsSay(t *testing.T) {
	for watts, want := range map[unit.Watt]string{0: "PS1", 15: "PS1", 15.1: "PS2", 100: "PS2", 100.1: "", 14.9: "PS1", 12 * 1.26: "PS2", 24 * 4.17: "", 24 * 4.16: "PS2", 5 * 20.1: ""} {
		if got := classOf(watts); got != want {
			t.Errorf("%v is %q, want %q", watts, got, want)
		}
	}
	for requirement, at := range map[string]unit.Watt{"power available does not exceed, measured after 3 s": 15, "above PS1 and power available does not exceed": 100, "power available above (needs a fire enclosure or control of fire spread)": 100} {
		found := false
		for _, row := range reference.Rows(t, "elv_lighting.csv") {
			if row["requirement"] == requirement {
				found = true
				if got := reference.Number(t, row, "value"); got != float64(at) {
					t.Errorf("%s: %v, here %v", requirement, got, at)
				}
			}
		}
		if !found {
			t.Errorf("no row %q", requirement)
		}
	}
}

func TestTheNECIsTheCodeWhereItsMainsIs(t *testing.T) {
	for volts, want := range map[unit.Volt]string{0: "note", 100: "tight", 120: "tight", 127: "tight", 208: "tight", 240: "tight", 277: "tight", 220: "pass", 230: "pass", 400: "pass"} {
		if got := codeOf(volts).String(); got != want {
			t.Errorf("at %v a breach is %s, want %s", volts, got, want)
		}
	}
}
