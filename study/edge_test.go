package study_test

import (
	"fmt"
	"math"
	"testing"

	"farend/finding"
	"farend/internal/spice"
	"farend/line"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// edged is a run with next to no load on a lead without loss, driven in some way; its input is sure of 3.5 V and 1.5 V.
func edged(t *testing.T, port, lead, protocol string) *study.Study {
	t.Helper()
	return studied(t, fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/ideal}}
boards: {A1: {part: board/sends}}
runs: {E1: {tape: tape/sure, pixels: 10}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-2A}
  W2: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@start}
data: {D1: {part: cable/even, from: A1.P1, to: E1, ground: open, %s}}
states: {full: {}}
parts:
  supply/ideal: {title: ideal, basis: measured, source: invented, volts: 5 V, amps: 20 A, watts: 100 W, source_resistance: 0.001 mΩ, limit: constant-current, limit_at: {low: 25 A, high: 30 A}}
  cable/even: {title: even, basis: measured, source: invented, cores: 3, area: 0.5 mm², class: 5, r20: 0.001 Ω/km, insulation: 70 °C, iz: 3 A, z0: 100 Ω, delay: 5 ns/m}
  board/sends: {title: sends, basis: measured, source: invented, inlet: {amps: 40 A, resistance: 0.1 mΩ}, ways: {1: {amps: 20 A, resistance: 0.1 mΩ}}, ports: {P1: {high: 4.9 V, low: 0.1 V, ground: 5 mΩ, %s}}}
  tape/sure: {title: sure, basis: measured, source: invented, volts: 5 V, volts_min: 3 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 0.001 mΩ/m, rail_amps: 30 A, phase: free, channels: {white: {set: 0.001 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, logic: {supply: 5 V, high: 3.5 V, low: 1.5 V, over: 0.5 V, under: 0.5 V}, protocol: %s}
  protocol/bare: {title: bare, basis: measured, source: invented, bits: 24, depth: 8, order: GRB, period: 1.25 us, zero: {high: {is: 300 ns, min: 220 ns, max: 380 ns}, low: {min: 580 ns, max: 1000 ns}}, one: {high: {min: 580 ns, max: 1000 ns}, low: {min: 580 ns, max: 1000 ns}}, latch: 280 us, clocked: no, capacitance: 0.001 pF}
`, lead, port, protocol))
}

const (
	usual = "protocol/single-wire-800k-24" // a 0 is 300 ns high, 220 to 380 ns
	bare  = "protocol/bare"                // the same at an input without capacitance
)

func edge(t *testing.T, s *study.Study) study.Edge {
	t.Helper()
	e, ok := s.Edge("D1")
	if !ok || !e.Asked() {
		t.Fatalf("no edge: %v %q %q", ok, e.Unknown, e.Moot)
	}
	return e
}

func pulse(t *testing.T, e study.Edge, bit, level string) study.Pulse {
	t.Helper()
	for _, p := range e.Pulses {
		if p.Bit == bit && p.Level == level {
			return p
		}
	}
	t.Fatalf("there is no %s of %s", level, bit)
	return study.Pulse{}
}

// A driver of 50 Ω sends a third of what comes back again, upside down: of a step of 4.8 V a high level comes back to 4.9 V − 4.8 V/9 after its first peak of
// 4.9 V + 4.8 V/3 (the geometric series of the bounce diagram), at an input without capacitance. One of 15 pF sends a spike back first, and it dips a little deeper.
func TestSwingsAreThoseOfTheBounceDiagram(t *testing.T) {
	s := edged(t, "driver: 50 Ω, rise: 2 ns", "length: 5 m", bare)
	for _, w := range s.Waveforms("D1") {
		if !w.Clamped {
			_, peak := line.Extremes(w.Wave.Far, w.Wave.Step, 30e-9, 300e-9)
			back, _ := line.Extremes(w.Wave.Far, w.Wave.Step, 40e-9, 320e-9)
			if math.Abs(peak-(4.9+4.8/3)) > 0.01 || math.Abs(back-(4.9-4.8/9)) > 0.01 {
				t.Errorf("between %.4f and %.4f V, want %.4f and %.4f V", back, peak, 4.9-4.8/9, 4.9+4.8/3)
			}
		}
	}
	e := edge(t, s)
	for _, c := range []struct {
		name              string
		got, want, deeper float64
	}{{"high", float64(e.High.Volts), 4.9 - 4.8/9, -0.2}, {"low", float64(e.Low.Volts), 0.1 + 4.8/9, 0.2}, {"back", float64(e.Back), 4.8/3 + 4.8/9, 0.5}} {
		if math.Abs(c.got-c.want) > 0.01 {
			t.Errorf("%s: %.4f V, want %.4f V", c.name, c.got, c.want)
		}
		laden := edge(t, edged(t, "driver: 50 Ω, rise: 2 ns", "length: 5 m", usual))
		got := map[string]float64{"high": float64(laden.High.Volts), "low": float64(laden.Low.Volts), "back": float64(laden.Back)}[c.name]
		if share := (got - c.want) / c.deeper; share < 0.01 || share > 1 {
			t.Errorf("%s: %.4f V at 15 pF, want a little more than %.4f V", c.name, got, c.want)
		}
	}
	// Thevenin: the wave that arrives is 4.8 V · 2/3, an open end has twice that; the diode of 25 Ω at 5.7 V sees it behind the 100 Ω of the line.
	over := 0.1 + 2*4.8*2/3 - 5.7
	if got, want := float64(e.Over.Amps()), over/125; math.Abs(got-want) > 2e-4 {
		t.Errorf("the diode takes %.4g A, want %.4g A", got, want)
	}
	if got, want := float64(e.Over.Volts), 0.7+25*over/125; math.Abs(got-want) > 5e-3 {
		t.Errorf("it goes %.4f V over its supply, want %.4f V", got, want)
	}
}

// Between a high resistance and an input of 15 pF a short lead is its capacitance, 0.1 m · 5 ns/m / 100 Ω = 5 pF: pulses change by
// τ(ln(V/U) − ln(V/(V − U))) at a threshold U of a step V, τ = 495 Ω · 20 pF.
func TestPulsesThroughAShortLeadAreThoseOfRC(t *testing.T) {
	e := edge(t, edged(t, "driver: 25 Ω, series: 470 Ω, rise: 2 ns", "length: 0.1 m", usual))
	tau := 495 * 20e-12
	change := func(u float64) float64 { return tau * (math.Log(4.8/(u-0.1)) - math.Log(4.8/(4.9-u))) }
	high := pulse(t, e, "0", "high")
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"shortest", float64(high.Shortest), 300e-9 + change(3.5)}, {"longest", float64(high.Longest), 300e-9 + change(1.5)}} {
		if math.Abs(c.got-c.want) > 0.5e-9 {
			t.Errorf("%s: %.2f ns, want %.2f ns", c.name, 1e9*c.got, 1e9*c.want)
		}
	}
	if want := change(3.5); math.Abs(math.Abs(float64(e.Error))-math.Abs(want)) > 0.5e-9 {
		t.Errorf("the error is %v, want %.2f ns", e.Error, 1e9*want)
	}
}

// A matched driver sends a clean step: nothing swings back, pulses keep their length, and it arrives after the delay of the lead and what the edge takes to
// 3.5 V at an input of 15 pF, which a line of 100 Ω charges with 1.5 ns.
func TestAMatchedLeadChangesNothing(t *testing.T) {
	for _, metres := range []float64{0.3, 2, 10, 40} {
		e := edge(t, edged(t, "driver: 25 Ω, series: 75 Ω, rise: 2 ns", fmt.Sprintf("length: %g m", metres), usual))
		if e.Grade() != finding.Pass || e.Back > 0.02 || math.Abs(float64(e.Error)) > 1.5e-9 || e.Over.Amps() > 0 {
			t.Errorf("%g m: %v, back %v, error %v, diode %v", metres, e.Grade(), e.Back, e.Error, e.Over.Amps())
		}
		if got := float64(e.Delay) - metres*5e-9; got < 1e-9 || got > 4.5e-9 {
			t.Errorf("%g m: it arrives %.2f ns after the wave", metres, 1e9*got)
		}
	}
}

// The whole of a 0, a 1 and a 0 against ngspice, weak drivers and strong ones: lengths from threshold to threshold within 1 ns.
func TestEdgesAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	type trial struct{ driver, metres float64 }
	trials := []trial{{20, 0.5}, {60, 2}, {120, 3}, {220, 1.5}, {300, 3}, {60, 12}}
	var sweeps []spice.Sweep
	for _, c := range trials {
		deck := fmt.Sprintf("* edge\nV1 s 0 PWL(0 0.1 3n 4.9 300n 4.9 303n 0.1 1250n 0.1 1253n 4.9 1875n 4.9 1878n 0.1 2500n 0.1 2503n 4.9 2800n 4.9 2803n 0.1)\nR1 s a %g\nT1 a 0 b 0 Z0=100 TD=%g\nC1 b 0 15p\n.end\n", c.driver, 5e-9*c.metres)
		sweeps = append(sweeps, spice.Sweep{Deck: deck, Step: 0.2e-9, Until: 3.6e-6, Node: "b"})
	}
	traces := spice.Transient(t, t.TempDir(), sweeps)
	crossing := func(trace spice.Trace, volts, after float64, upwards bool) float64 {
		for k := 1; k < len(trace.Seconds); k++ {
			a, b := trace.Volts[k-1], trace.Volts[k]
			if trace.Seconds[k] > after && (upwards && a < volts && b >= volts || !upwards && a > volts && b <= volts) {
				return trace.Seconds[k-1] + (volts-a)/(b-a)*(trace.Seconds[k]-trace.Seconds[k-1])
			}
		}
		return math.NaN()
	}
	for i, c := range trials {
		e := edge(t, edged(t, fmt.Sprintf("driver: %g Ω, rise: 3 ns", c.driver), fmt.Sprintf("length: %g m", c.metres), usual))
		shortest, longest := math.Inf(1), 0.0
		for _, at := range []float64{0, 2500e-9} {
			wave := at + 5e-9*c.metres
			shortest = min(shortest, crossing(traces[i], 3.5, wave+290e-9, false)-crossing(traces[i], 3.5, wave, true))
			longest = max(longest, crossing(traces[i], 1.5, wave+290e-9, false)-crossing(traces[i], 1.5, wave, true))
		}
		high := pulse(t, e, "0", "high")
		if high.Shortest-unit.Second(shortest) > 1e-9 || unit.Second(longest)-high.Longest > 1e-9 {
			t.Errorf("%g Ω, %g m: a 0 is high for %v to %v, in ngspice for %.2f to %.2f ns", c.driver, c.metres, high.Shortest, high.Longest, 1e9*shortest, 1e9*longest)
		}
		if room := high.Room(); e.Grade() == finding.Pass && math.Abs(float64(room)-min(shortest-220e-9, 380e-9-longest)) > 1e-9 {
			t.Errorf("%g Ω, %g m: %v of room, in ngspice %.2f ns", c.driver, c.metres, room, 1e9*min(shortest-220e-9, 380e-9-longest))
		}
	}
}

// Every protocol of the catalogue has a code to try, whose levels keep the windows of its own sheet.
func TestEveryProtocolHasACode(t *testing.T) {
	for _, name := range parts.Catalogue().Names("protocol") {
		e := edge(t, edged(t, "driver: 25 Ω, series: 75 Ω, rise: 2 ns", "length: 0.5 m", name))
		if len(e.Pulses) == 0 {
			t.Errorf("%s: nothing is sent", name)
		}
		for _, p := range e.Pulses {
			if p.Sent <= 0 || p.Min.Given && p.Sent < p.Min.Is-1e-12 || p.Max.Given && p.Sent > p.Max.Is+1e-12 {
				t.Errorf("%s: the %s of a %s is %v, and should be %v to %v", name, p.Level, p.Bit, p.Sent, p.Min.Is, p.Max.Is)
			}
		}
		if e.Grade() >= finding.Fails {
			t.Errorf("%s: %v over a short matched lead", name, e.Grade())
		}
	}
}

// What is asked of nobody: a pixel that sends, a lead that is not there, a port that does not say what drives it.
func TestEdgesThatAreNotKnown(t *testing.T) {
	s := edged(t, "rise: 2 ns", "length: 1 m", usual)
	if e, ok := s.Edge("D1"); !ok || e.Unknown == "" || e.Asked() || e.Grade() != finding.Unknown || s.Waveforms("D1") != nil {
		t.Errorf("of a port without a driver: %v, %+v", ok, e)
	}
	dull := studied(t, `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 10}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-2A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: T1, to: E1@start}
data: {D1: {part: cable/flex-2x1.5, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}}
`)
	if e, ok := dull.Edge("D1"); !ok || e.Unknown == "" || dull.Waveforms("D1") != nil || dull.LongestLead("D1", dull.Wired("D1")) != 0 {
		t.Errorf("of a cable without an impedance: %v, %+v", ok, e)
	}
	if _, ok := s.Edge("D9"); ok {
		t.Error("there is no D9")
	}
}
