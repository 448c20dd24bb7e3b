package network_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"farend/circuit"
	"farend/internal/schemetest"
	"farend/internal/spice"
	"farend/network"
	"farend/parts"
	"farend/supply"
)

// near is the difference in volts and amperes from arithmetic by hand: the knees of pixels and supplies leave e^−40, and the
// solver balances to 1e-12 of the largest current.
const near = 1e-7

// copper is the loop of the cable and of half a pitch of rail of loaded, in ohms.
const copper = 2*1e-3 + 1e-6

// loaded is a scheme of supplies that each have a cable of 1 mΩ a pole to one pixel: the load, a channel and its keys. Copper
// is at 20 °C and the pixels' cycles run together.
func loaded(supplies, load string, states string) string {
	var cables strings.Builder
	parts := ""
	for i, line := range strings.Split(strings.TrimSpace(supplies), "\n") {
		parts += fmt.Sprintf("  supply/s%d: {title: invented, source_resistance: 1 mΩ, parallel: allowed, %s}\n", i+1, strings.TrimSpace(line))
		fmt.Fprintf(&cables, "  W%d: {part: cable/own, length: 1 m, from: T%d, to: E1@start}\n", i+1, i+1)
	}
	var list []string
	for i := range strings.Count(parts, "\n") {
		list = append(list, fmt.Sprintf("T%d: {part: supply/s%d}", i+1, i+1))
	}
	return `farend: 1
title: supplies at their limit
site: {conductors: 20 °C}
supplies: {` + strings.Join(list, ", ") + `}
runs: {E1: {tape: tape/load, pixels: 1}}
cables:
` + cables.String() + `states: {` + states + `}
parts:
` + parts + `
  cable/own: {title: 1 mΩ a metre, cores: 2, area: 16 mm², class: 5, r20: 1 Ω/km, insulation: 70 °C, iz: 60 A}
  tape/load:
    title: one load
    volts: 10 V
    pixels: 1000 /m
    cut_every: 1
    rail: 1 mΩ/m
    phase: together
    channels: {white: {` + load + `, candela: 1 cd, x: 0.31, y: 0.33}}
    idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}
    protocol: protocol/single-wire-800k-24
`
}

const full = "full: {}"

// Loads: half an ohm, above the knee at 0 V; 6 A from 3 V up, nothing below 2 V.
const (
	halfOhm  = "string: 0.5 Ω, lo: 0 V, soft: 1 mV"
	sixAmps  = "set: 6 A, lo: 2 V, hi: 3 V, soft: 10 mV"
	folding  = "volts: 10 V, amps: 7 A, watts: 70 W, limit: fold-back, limit_at: {low: 8 A, high: 9 A}, fold_to: 25 %"
	latching = "volts: 9.9 V, amps: 7 A, watts: 70 W, limit: latch-off, limit_at: {low: 8 A, high: 9 A}"
	pulsing  = "volts: 10 V, amps: 7 A, watts: 70 W, limit: hiccup, limit_at: {low: 8 A, high: 9 A}"
)

// knee is what the knee of halfOhm takes, in volts: σ(V) − σ(0) is V − soft·ln 2 far above it.
const knee = 1e-3 * math.Ln2

// at solves a case of a scheme and checks the balance of every slice, of the start too.
func at(t *testing.T, text, name string) (*network.Network, *network.Solution, *network.Result) {
	t.Helper()
	n := layOut(t, readScheme(t, name, []byte(text)))
	c, ok := n.CaseNamed(name)
	if !ok {
		t.Fatalf("there is no case %s", name)
	}
	s := solved(t, n, c)
	if s.Start != nil {
		for k := range s.Start.Slices() {
			balanced(t, n, s.Start, k)
		}
	}
	return n, s, n.Read(s)
}

func is(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= near) {
		t.Errorf("%s is %.10g, want %.10g", what, got, want)
	}
}

// A resistor on a supply that folds back: I = 8·(1/4 + 3/4·V/10) and V = R·I + k meet once, in I = (2 + 0.6·k)/(1 − 0.6·R).
func TestResistorOnFoldBackSitsWhereTwoLinesMeet(t *testing.T) {
	_, s, r := at(t, loaded(folding, halfOhm, full), "state/full")
	ohms := 0.5 + copper
	amps := (2 + 0.6*knee) / (1 - 0.6*ohms)
	t1 := r.Supplies["T1"]
	is(t, "current", float64(t1.Amps.Mean), amps)
	is(t, "peak", float64(t1.Amps.Peak), amps)
	is(t, "voltage", float64(t1.Volts), ohms*amps+knee)
	is(t, "voltage from 0 V", float64(t1.StartVolts), ohms*amps+knee)
	if t1.State != "folded" || s.Start != nil || !slices.Equal(r.Limited, []string{"T1"}) {
		t.Errorf("it is %s, limited are %v, start %v; want folded, T1, none", t1.State, r.Limited, s.Start)
	}
}

// A load of constant current on the same supply. Amperes over volts: the supply gives 2 + 0.6·V, the load takes nothing up to
// 2 V, 6 A from 3 V up:
//
//	8 |                        ....*   10 V: running, 6 A of 8
//	6 |        ,-----------.x-------   6.7 V: unstable
//	  |       /      ..'''             to the right of it the supply gives more, and the voltage rises
//	4 |      /..''                     to the left the load takes more, and it falls
//	3.6|..'*                           2.6 V: stuck
//	2 |''  /
//	  +---'------------------------
//	  0   2 3           6.7      10 V
//
// From 0 V the first meeting is at 2 + 0.6·V = 6·(V − c·I − 2) with the copper c.
func TestConstantCurrentOnFoldBackRunsButDoesNotStart(t *testing.T) {
	n, s, r := at(t, loaded(folding, sixAmps, full), "state/full")
	t1 := r.Supplies["T1"]
	is(t, "current", float64(t1.Amps.Mean), 6)
	is(t, "voltage", float64(t1.Volts), 10-0.006)
	// I = 2 + 0.6·V and I·(1 + 6·c) = 6·V − 12: V = (14 + 12·c)/(5.4 − 3.6·c)
	stuck := (14 + 12*copper) / (5.4 - 3.6*copper)
	is(t, "voltage from 0 V", float64(t1.StartVolts), stuck)
	if s.Start == nil || t1.State != "normal" || r.Limited != nil {
		t.Fatalf("it is %s, limited are %v, start %v; want normal, none, a start of its own", t1.State, r.Limited, s.Start)
	}
	start := n.Read(s.Start).Supplies["T1"]
	is(t, "current from 0 V", float64(start.Amps.Mean), 2+0.6*stuck)
	if start.State != "folded" {
		t.Errorf("from 0 V it is %s", start.State)
	}
}

// Where a part does not say how far it folds back it is 30 %: I = 8·(0.3 + 0.7·V/10) meets V = R·I + k.
func TestFoldBackWithoutARatioFoldsToThirtyPerCent(t *testing.T) {
	_, _, r := at(t, loaded(strings.ReplaceAll(folding, ", fold_to: 25 %", ""), halfOhm, full), "state/full")
	is(t, "current", float64(r.Supplies["T1"].Amps.Mean), (2.4+0.56*knee)/(1-0.56*(0.5+copper)))
}

// 8 A between two: the higher is at its limit of 5 A and shuts down, then the other must carry 8 A, and shuts down too; one
// that can carry them stays.
func TestSuppliesShutDownOneAfterAnother(t *testing.T) {
	const higher = "volts: 10.1 V, amps: 4 A, watts: 41 W, limit: latch-off, limit_at: {low: 5 A, high: 6 A}\n"
	const load = "set: 8 A, lo: 2 V, hi: 3 V, soft: 10 mV"
	t.Run("the second too", func(t *testing.T) {
		_, _, r := at(t, loaded(higher+strings.ReplaceAll(higher, "10.1 V", "10 V"), load, full), "state/full")
		for _, id := range []string{"T1", "T2"} {
			if s := r.Supplies[id]; s.State != "off" || s.Amps != (network.Current{}) || s.Volts != 0 || s.Limit != 5 {
				t.Errorf("%s is %+v, want off", id, s)
			}
		}
		if r.Runs["E1"].Live || !slices.Equal(r.Limited, []string{"T1", "T2"}) {
			t.Errorf("the run lives %v, limited are %v", r.Runs["E1"].Live, r.Limited)
		}
	})
	t.Run("a second that carries all", func(t *testing.T) {
		second := "volts: 10 V, amps: 9 A, watts: 90 W, limit: latch-off, limit_at: {low: 9 A, high: 10 A}"
		_, _, r := at(t, loaded(higher+second, load, full), "state/full")
		if r.Supplies["T1"].State != "off" || r.Supplies["T2"].State != "normal" {
			t.Errorf("T1 is %s, T2 %s", r.Supplies["T1"].State, r.Supplies["T2"].State)
		}
		is(t, "T2", float64(r.Supplies["T2"].Amps.Mean), 8)
	})
}

func TestPulsesHaveMeanRMSAndPeak(t *testing.T) {
	known := pulsing + ", pulse_on: 1 s, pulse_off: 3 s"
	half := "half: {level: 50 %}"
	for name, c := range map[string]struct {
		supply, load, states, in, state string
		mean, rms, peak, volts          float64
	}{
		// 8 A for one second in four: 2 A, √(64/4) = 4 A, 8 A; 0.5 Ω and copper stand at 8·R.
		"one second in four": {known, halfOhm, full, "state/full", "pulsing", 2, 4, 8, 2*(0.5+copper) + knee/4},
		// Each slice of the pixels' cycle is split in two: 8 A in an eighth of the time, 1 A, √8 A. For another eighth the
		// supply is on with nothing to feed, and floats above its set point.
		"half light, all at once": {known, halfOhm, half, "peak/half", "pulsing", 1, math.Sqrt(8), 8, math.NaN()},
		// Half an ohm for half the time counts as one ohm: 8 A at 8 V.
		"half light, each by itself":      {known, halfOhm, half, "state/half", "pulsing", 2, 4, 8, 2*(1+copper) + knee/4},
		"times that are not known":        {pulsing, halfOhm, full, "state/full", "pulsing", 8, 8, 8, 8*(0.5+copper) + knee},
		"it holds the current above 3 V":  {known + ", pulse_below: 3 V", halfOhm, full, "state/full", "limit", 8, 8, 8, 8*(0.5+copper) + knee},
		"and pulses below 5 V":            {known + ", pulse_below: 5 V", halfOhm, full, "state/full", "pulsing", 2, 4, 8, 2*(0.5+copper) + knee/4},
		"within its limit":                {known, sixAmps, full, "state/full", "normal", 6, 6, 6, 10 - 0.006},
		"a boost before pulses":           {"volts: 10 V, amps: 7 A, watts: 70 W, limit: boost, limit_at: {low: 8 A, high: 9 A}, boost: 150 %, boost_for: 4 s, then: hiccup, pulse_on: 1 s, pulse_off: 3 s", halfOhm, full, "state/full", "pulsing", 2, 4, 8, 2*(0.5+copper) + knee/4},
		"a boost before it holds":         {"volts: 10 V, amps: 7 A, watts: 70 W, limit: boost, limit_at: {low: 8 A, high: 9 A}, boost: 150 %, then: constant-current", halfOhm, full, "state/full", "limit", 8, 8, 8, 8*(0.5+copper) + knee},
		"a boost before nothing is known": {"volts: 10 V, amps: 7 A, watts: 70 W, limit: boost, limit_at: {low: 8 A, high: 9 A}", halfOhm, full, "state/full", "limit", 8, 8, 8, 8*(0.5+copper) + knee},
		"a boost before it shuts down":    {"volts: 10 V, amps: 7 A, watts: 70 W, limit: boost, limit_at: {low: 8 A, high: 9 A}, then: latch-off", halfOhm, full, "state/full", "off", 0, 0, 0, 0},
	} {
		t.Run(name, func(t *testing.T) {
			_, _, r := at(t, loaded(c.supply, c.load, c.states), c.in)
			t1, w1, e1 := r.Supplies["T1"], r.Cables["W1"].Plus, r.Runs["E1"].Amps
			for what, got := range map[string]network.Current{"supply": t1.Amps, "cable": w1, "run": e1} {
				is(t, what+" mean", float64(got.Mean), c.mean)
				is(t, what+" rms", float64(got.RMS), c.rms)
				is(t, what+" peak", float64(got.Peak), c.peak)
			}
			if !math.IsNaN(c.volts) {
				is(t, "voltage", float64(t1.Volts), c.volts)
			}
			if t1.State != c.state || t1.StartVolts != t1.Volts {
				t.Errorf("it is %s, starting to %v; want %s, %v", t1.State, t1.StartVolts, c.state, t1.Volts)
			}
		})
	}
}

// Potentials of all slices have the zero of the first, though the supply that gives it is off in the second: T1 pulses, and
// T2 must carry all.
func TestPotentialsKeepTheirZeroWhilePulsing(t *testing.T) {
	t1 := "volts: 10 V, amps: 3 A, watts: 30 W, limit: hiccup, limit_at: {low: 3 A, high: 4 A}, pulse_on: 1 s, pulse_off: 1 s\n"
	t2 := "volts: 9 V, amps: 9 A, watts: 90 W, limit: constant-current, limit_at: {low: 9 A, high: 10 A}"
	n, s, r := at(t, loaded(t1+t2, sixAmps, full), "state/full")
	// On: 3 A each, so T1's minus is 3 mV below the end of the cables. Off: T2 carries 6 A, and T1's minus is at that end.
	half := 0.5e-6 // half a pitch of one rail
	p, _ := n.Profile(s, "E1")
	is(t, "return of the pixel", p.Minus[0], 0.5*(3e-3+6*half)+0.5*(6*half))
	is(t, "T2", float64(r.Supplies["T2"].Amps.Mean), 4.5)
	is(t, "T2 rms", float64(r.Supplies["T2"].Amps.RMS), math.Sqrt((9+36)/2.0))
	if r.Supplies["T1"].State != "pulsing" || r.Supplies["T2"].State != "normal" {
		t.Errorf("T1 is %s, T2 %s", r.Supplies["T1"].State, r.Supplies["T2"].State)
	}
}

// Two supplies of different kinds and set points on one load.
func TestUnequalSuppliesOfSeveralKinds(t *testing.T) {
	t.Run("one is idle", func(t *testing.T) {
		_, _, r := at(t, loaded(folding+"\n"+latching, "set: 2 A, lo: 2 V, hi: 3 V, soft: 10 mV", full), "state/full")
		t2 := r.Supplies["T2"]
		if t2.State != "idle" || r.Supplies["T1"].State != "normal" {
			t.Errorf("T1 is %s, T2 %s", r.Supplies["T1"].State, t2.State)
		}
		is(t, "T2", float64(t2.Amps.Peak), 0)
	})
	t.Run("nothing to deliver", func(t *testing.T) {
		_, _, r := at(t, loaded(folding+"\n"+latching, sixAmps, full), "dark")
		if r.Supplies["T1"].State != "normal" || r.Supplies["T2"].State != "idle" {
			t.Errorf("in the dark T1 is %s, T2 %s", r.Supplies["T1"].State, r.Supplies["T2"].State)
		}
	})
	t.Run("one shuts down, so that the other folds", func(t *testing.T) {
		_, _, r := at(t, loaded(folding+"\n"+latching, halfOhm, full), "state/full")
		t1, t2 := r.Supplies["T1"], r.Supplies["T2"]
		is(t, "T1", float64(t1.Amps.Mean), (2+0.6*knee)/(1-0.6*(0.5+copper)))
		is(t, "T2", float64(t2.Amps.Peak), 0)
		if t1.State != "folded" || t2.State != "off" || !slices.Equal(r.Limited, []string{"T1", "T2"}) {
			t.Errorf("T1 is %s, T2 %s, limited are %v", t1.State, t2.State, r.Limited)
		}
	})
	t.Run("one folds, one holds", func(t *testing.T) {
		// T2 of 6 V gives what T1 leaves over.
		second := "volts: 6 V, amps: 20 A, watts: 120 W, limit: constant-current, limit_at: {low: 20 A, high: 22 A}"
		_, _, r := at(t, loaded(folding+"\n"+second, halfOhm, full), "state/full")
		t1, t2 := r.Supplies["T1"], r.Supplies["T2"]
		// V is the voltage where the cables of c ohms meet, before the half ohm and its piece of rail:
		//   T1: I₁ = 2 + 0.6·(V + c·I₁)    T2: I₂ = (6 − V)/(c + 0.001)    pixel: I₁ + I₂ = (V − knee)/0.500001
		const cable, pixel = 2e-3, 0.500001
		v := (2/(1-0.6*cable) + 6/(cable+1e-3) + knee/pixel) / (1/pixel - 0.6/(1-0.6*cable) + 1/(cable+1e-3))
		is(t, "T1", float64(t1.Amps.Mean), (2+0.6*v)/(1-0.6*cable))
		is(t, "T2", float64(t2.Amps.Mean), (6-v)/(cable+1e-3))
		if t1.State != "folded" || t2.State != "normal" {
			t.Errorf("T1 is %s, T2 %s", t1.State, t2.State)
		}
	})
	t.Run("one pulses, so that the other shuts down", func(t *testing.T) {
		// 6 A: the higher gives its 4 A and pulses; while it is off the other must give 6 A, and may give 5 A.
		t1 := "volts: 10 V, amps: 4 A, watts: 40 W, limit: hiccup, limit_at: {low: 4 A, high: 5 A}, pulse_on: 1 s, pulse_off: 3 s\n"
		t2 := "volts: 9.9 V, amps: 4 A, watts: 40 W, limit: latch-off, limit_at: {low: 5 A, high: 6 A}"
		_, _, r := at(t, loaded(t1+t2, sixAmps, full), "state/full")
		if r.Supplies["T1"].State != "pulsing" || r.Supplies["T2"].State != "off" {
			t.Errorf("T1 is %s, T2 %s", r.Supplies["T1"].State, r.Supplies["T2"].State)
		}
		is(t, "T1", float64(r.Supplies["T1"].Amps.Mean), 1)
	})
	t.Run("two pulse in their own times", func(t *testing.T) {
		// 8 A each into half an ohm stand at 8 V; from a quarter of the time on T2 alone has 8 A, up to half of it.
		t1 := pulsing + ", pulse_on: 1 s, pulse_off: 3 s\n"
		t2 := pulsing + ", pulse_on: 1 s, pulse_off: 1 s"
		n, s, r := at(t, loaded(t1+t2, halfOhm, full), "state/full")
		if s.Slices() != 3 {
			t.Errorf("%d slices", s.Slices())
		}
		is(t, "run mean", float64(r.Runs["E1"].Amps.Mean), 0.25*16+0.25*8)
		is(t, "run rms", float64(r.Runs["E1"].Amps.RMS), math.Sqrt(0.25*256+0.25*64))
		is(t, "T2 mean", float64(r.Supplies["T2"].Amps.Mean), 4)
		p, _ := n.Profile(s, "E1")
		is(t, "lowest", p.Lowest[0], 0)
	})
}

// A fuse that is cold as long as little flows and hot when more does swings between the two from round to round of a peak: cold,
// 20 A of peak heat it to 50 Ω; hot, what flows leaves it cold. Half steps find what lies between.
func TestPeakSettlesThoughItsCopperSwings(t *testing.T) {
	text := strings.ReplaceAll(loaded("volts: 10 V, amps: 30 A, watts: 300 W, limit: constant-current, limit_at: {low: 40 A, high: 50 A}", halfOhm, "half: {level: 50 %}"),
		"to: E1@start}", "to: E1@start, fuse: fuse/own}")
	text = strings.ReplaceAll(text, "site: {conductors: 20 °C}", "site: {ambient: 20 °C}") +
		"  fuse/own: {title: invented, rating: 10 A, resistance: 1 mΩ, resistance_hot: 50 Ω, holder: inline}\n"
	text = strings.ReplaceAll(text, "idle: {set: 0 mA", "idle: {set: 0.01 mA") // something for the supply to hold on to while dark
	_, s, r := at(t, text, "peak/half")
	// I = (10 V − knee)/(0.502001 Ω + R), R = 1 mΩ + 49.999 Ω·rms²/100 A² and 1 mΩ of the supply, rms² = I²/2; to 1e-4, because
	// the cable is a little warmer than 20 °C and the load takes 10 µA in the dark.
	amps := r.Cables["W1"].Plus
	rms := float64(amps.RMS)
	peak := (10 - knee) / (0.5 + copper + 2e-3 + 49.999*rms*rms/100)
	if math.Abs(float64(amps.Peak)-peak) > 1e-4*peak || math.Abs(rms*math.Sqrt2-peak) > 1e-4*peak || s.Steps > 1000 {
		t.Errorf("%v peak and %v rms after %d steps, want %v A", amps.Peak, amps.RMS, s.Steps, peak)
	}
}

// randomFolding is a supply that folds back, on a cable and a run of some pixels of a random law. The numbers are such that some
// run, some fold, and some run but do not start.
func randomFolding(r *rand.Rand) string {
	limit := 1 + 4*r.Float64()
	pixels := 1 + r.Intn(12)
	each := limit * (0.3 + r.Float64()) / float64(pixels)
	lo := 0.5 + 4*r.Float64()
	load := fmt.Sprintf("set: %.5f A, lo: %.4f V, hi: %.4f V, soft: %.4f V", each, lo, lo+0.2+3*r.Float64(), 0.02+0.2*r.Float64())
	if r.Intn(5) == 0 {
		load = fmt.Sprintf("string: %.4f Ω, lo: %.4f V, soft: 0.1 V", (10-lo)/each, lo)
	}
	supply := fmt.Sprintf("volts: 10 V, amps: %.4f A, watts: %.4f W, limit: fold-back, limit_at: {low: %.6f A, high: %.6f A}, fold_to: %.3f %%",
		0.9*limit, 9*limit, limit, 1.2*limit, 5+90*r.Float64())
	text := loaded(supply, load, full)
	text = strings.ReplaceAll(text, "rail: 1 mΩ/m", fmt.Sprintf("rail: %.1f Ω/m", 40*r.Float64()))
	return strings.ReplaceAll(text, "pixels: 1}", fmt.Sprintf("pixels: %d}", pixels))
}

// TestFoldBackFindsTheHighestAndTheLowestOfAllStablePoints scans the load line: the voltage of the network at 2,000 limits held
// fast, and every place where the limit at that voltage is the limit itself.
func TestFoldBackFindsTheHighestAndTheLowestOfAllStablePoints(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	apart, folded := 0, 0
	for k := range 50 {
		text := randomFolding(rand.New(rand.NewSource(int64(k))))
		n, s, r := at(t, text, "state/full")
		points := stablePoints(n, s)
		if len(points) == 0 {
			t.Fatalf("scheme %d has no stable point:\n%s", k, text)
		}
		t1 := r.Supplies["T1"]
		low, high := points[0], points[len(points)-1]
		if !(math.Abs(float64(t1.Volts)-high) <= voltsApart) || !(math.Abs(float64(t1.StartVolts)-low) <= voltsApart) {
			t.Errorf("scheme %d runs at %.9g V and starts to %.9g V; its stable points are %.9g\n%s", k, t1.Volts, t1.StartVolts, points, text)
		}
		if high-low > 1e-3 {
			apart++
		}
		if t1.State == "folded" {
			folded++
		}
	}
	if apart < 5 || folded < 5 || folded > 45 {
		t.Errorf("%d schemes run but do not start, %d fold: too few to prove anything", apart, folded)
	}
	t.Logf("of 50 schemes %d run but do not start, %d fold", apart, folded)
}

// stablePoints lists the voltages, rising, at which a supply that folds back may rest: where the limit at its voltage crosses the
// limit from above.
func stablePoints(n *network.Network, s *network.Solution) (volts []float64) {
	const steps = 2000
	w := circuit.NewWorker()
	part, _ := parts.Get[parts.Supply](n.Scheme.Library, n.Scheme.Supplies["T1"].Part)
	to := float64(part.FoldTo.Is)
	source := s.Values(0).Source(0)
	source.Limit = float64(part.LimitAt.Low.Is)
	held := func(limit float64) float64 {
		v := s.Values(0).Fork()
		at := source
		at.Limit = limit
		v.SetSource(0, at)
		p, _ := w.Solve(context.Background(), n.Plan, v, nil, nil)
		return p.SourceVolts(0)
	}
	spare := func(limit float64) float64 { return supply.Fold(source.E, held(limit), source.Limit, to) - limit }
	least := to * source.Limit
	before, last := least, spare(least)
	for i := 1; i <= steps; i++ {
		limit := least + (source.Limit-least)*float64(i)/steps
		now := spare(limit)
		if last > 0 && now <= 0 {
			a, b := before, limit
			for range 60 {
				if mid := (a + b) / 2; spare(mid) > 0 {
					a = mid
				} else {
					b = mid
				}
			}
			volts = append(volts, held(b))
		}
		before, last = limit, now
	}
	return volts
}

// TestFoldBackWalksWithoutLeaping compares two supplies that fold back on one run with the bare iteration, step by step from the
// full limits and from those into a short until nothing changes.
func TestFoldBackWalksWithoutLeaping(t *testing.T) {
	apart := 0
	for k := range 30 {
		r := rand.New(rand.NewSource(int64(9000 + k)))
		supplies := ""
		for range 2 {
			limit := 1 + 3*r.Float64()
			supplies += fmt.Sprintf("volts: %.3f V, amps: %.4f A, watts: %.4f W, limit: fold-back, limit_at: {low: %.6f A, high: %.6f A}, fold_to: %.3f %%\n",
				9.8+0.4*r.Float64(), 0.9*limit, 10*limit, limit, 1.2*limit, 5+60*r.Float64())
		}
		lo := 0.5 + 3*r.Float64()
		text := loaded(supplies, fmt.Sprintf("set: %.5f A, lo: %.4f V, hi: %.4f V, soft: 0.1 V", 1+5*r.Float64(), lo, lo+0.2+3*r.Float64()), full)
		n, _, result := at(t, text, "state/full")
		for _, id := range []string{"T1", "T2"} {
			high, low := walked(t, n, id, false), walked(t, n, id, true)
			s := result.Supplies[id]
			if !(math.Abs(float64(s.Volts)-high) <= voltsApart) || !(math.Abs(float64(s.StartVolts)-low) <= voltsApart) {
				t.Errorf("scheme %d: %s runs at %.9g V and starts to %.9g V; step by step %.9g V and %.9g V\n%s", k, id, s.Volts, s.StartVolts, high, low, text)
			}
			if high-low > 1e-3 {
				apart++
			}
		}
	}
	if apart < 6 {
		t.Errorf("only %d supplies run but do not start", apart)
	}
}

// walked is the voltage of a supply where the bare iteration ends.
func walked(t *testing.T, n *network.Network, id string, rising bool) float64 {
	t.Helper()
	c, _ := n.CaseNamed("state/full")
	w := circuit.NewWorker()
	v := n.Solve(context.Background(), w, c).Values(0)
	names := n.SourceNames()
	to, full, limits := make([]float64, len(names)), make([]float64, len(names)), make([]float64, len(names))
	for i, name := range names {
		part, _ := parts.Get[parts.Supply](n.Scheme.Library, n.Scheme.Supplies[name].Part)
		to[i], full[i] = float64(part.FoldTo.Is), float64(part.LimitAt.Low.Is)
		limits[i] = full[i]
		if rising {
			limits[i] *= to[i]
		}
	}
	for range 100000 {
		v = v.Fork()
		for i := range names {
			source := v.Source(i)
			source.Limit = limits[i]
			v.SetSource(i, source)
		}
		p, _ := w.Solve(context.Background(), n.Plan, v, nil, nil)
		change := 0.0
		for i := range names {
			next := supply.Fold(v.Source(i).E, p.SourceVolts(i), full[i], to[i])
			change = max(change, math.Abs(next-limits[i]))
			limits[i] = next
		}
		if change < 1e-11 {
			return p.SourceVolts(slices.Index(names, id))
		}
	}
	t.Fatal("the bare iteration does not end")
	return 0
}

func TestFoldingEndsWithItsContext(t *testing.T) {
	n := layOut(t, readScheme(t, "folding", []byte(loaded(folding, halfOhm, full))))
	c, _ := n.CaseNamed("state/full")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if s := n.Solve(ctx, circuit.NewWorker(), c); s.Outcome != circuit.Interrupted {
		t.Errorf("outcome %v", s.Outcome)
	}
}

// mixed is a random scheme all of whose supplies may meet their limits.
func mixed(r *rand.Rand) map[string][]string {
	items := schemetest.Random(r)
	nominal := 5.0
	if strings.Contains(strings.Join(items["parts"], ""), "tape/strings") {
		nominal = 12
	}
	for i := range items["supplies"] {
		name := fmt.Sprintf("supply/kind%d", i)
		items["parts"] = append(items["parts"], "  "+schemetest.OwnSupply(r, name, nominal))
		trim := ""
		if r.Intn(2) == 0 {
			trim = fmt.Sprintf(", volts: %.2f V", nominal*1.02)
		}
		items["supplies"][i] = fmt.Sprintf("  T%d: {part: %s%s}", i+1, name, trim)
	}
	return items
}

// TestBehavioursAgainstSpice compares schemes whose supplies fold back, pulse and shut down with ngspice, slice by slice, their
// starts too. Every kind must be among them.
func TestBehavioursAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	f, states := newProof(), map[string]int{}
	t.Run("schemes", func(t *testing.T) {
		for part := range 2 {
			t.Run(fmt.Sprint(part), func(t *testing.T) {
				t.Parallel()
				for k := part; k < 40; k += 2 {
					text := schemetest.Text(mixed(rand.New(rand.NewSource(int64(500+k)))), schemetest.AsWritten)
					b := f.batch()
					b.cases(t, layOut(t, readScheme(t, fmt.Sprintf("mixed %d", k), []byte(text))), 3)
					b.compare(t)
					b.count(states)
					if t.Failed() {
						t.Fatalf("mixed %d:\n%s", k, text)
					}
				}
			})
		}
	})
	f.report(t)
	t.Log(states)
	for _, state := range []string{"normal", "limit", "pulsing", "folded", "off", "idle", "start of its own"} {
		if states[state] == 0 {
			t.Errorf("no supply is ever %s", state)
		}
	}
}

// count counts what supplies do in the cases of a batch.
func (b *batch) count(states map[string]int) {
	b.proof.mutex.Lock()
	defer b.proof.mutex.Unlock()
	for _, q := range b.questions {
		for _, supply := range q.result.Supplies {
			states[supply.State]++
		}
		if q.s.Start != nil {
			states["start of its own"]++
		}
	}
}

func TestOrderOfTheFileChangesNothingAtTheLimit(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	for k := range 25 {
		items := mixed(rand.New(rand.NewSource(int64(2000 + k))))
		want := results(t, schemetest.Text(items, schemetest.AsWritten))
		got := results(t, schemetest.Text(items, slices.Reverse[[]string]))
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("scheme %d: the order of the file changes results", k)
		}
	}
}
