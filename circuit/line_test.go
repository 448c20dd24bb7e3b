package circuit_test

import (
	"context"
	"math/rand"
	"testing"

	"farend/circuit"
)

// A source behind a lead, and halfway along the lead's chain a place to draw from: V = E − I·R up to the limit, by hand.
func TestLineOfALeadIsStraight(t *testing.T) {
	p := plan(t, circuit.Shape{
		Nodes: 4, Sources: []circuit.Pair{{A: 0, B: 1}},
		Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 2, BReturn: 3, Loads: 10}},
	})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 12, R: 0.01, Limit: 20})
	v.SetRails(0, circuit.Rails{Plus: 0.02, Return: 0.03})
	w := circuit.NewWorker()
	from, _ := w.Solve(context.Background(), p, v, nil, nil)
	plus, minus := p.Tap(0, 4)
	const ohms = 0.01 + 4*(0.02+0.03) // source, and four pitches of both rails
	for _, amps := range []float64{0, 0.5, 3, 10, 19} {
		volts, slope, at, status := w.Line(context.Background(), from, plus, minus, amps, nil)
		if status.Outcome != circuit.Converged {
			t.Fatalf("%v A: outcome %v", amps, status.Outcome)
		}
		near(t, "voltage left", volts, 12-ohms*amps, 1e-6)
		if amps > 0 {
			near(t, "resistance", slope, ohms, 1e-5)
			near(t, "current of the source", at.SourceAmps(0), amps, 1e-6)
		}
		near(t, "plus rail of the tap", at.Volts(plus)-at.Volts(minus), volts, 1e-12)
	}
	if _, _, _, status := w.Line(context.Background(), from, plus, minus, 21, nil); status.Outcome != circuit.NotFound {
		t.Errorf("more than the limit: outcome %v", status.Outcome)
	}
	if _, ohms, _, status := w.Line(context.Background(), from, plus, plus+1, 0, nil); status.Outcome != circuit.Converged || !(ohms > 0) {
		t.Errorf("no current: outcome %v, %v Ω", status.Outcome, ohms)
	}
}

// TestLineMeetsResistors draws, at places of random networks, what a resistor there would take, and must find its voltage; the
// resistance told must be the slope of the line, and the line must fall.
func TestLineMeetsResistors(t *testing.T) {
	random := rand.New(rand.NewSource(21))
	w, compared := circuit.NewWorker(), 0
	for k := range 1000 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		from, _ := w.Solve(context.Background(), p, v, nil, nil)
		chain := random.Intn(len(shape.Chains))
		a, b := p.Tap(chain, random.Intn(shape.Chains[chain].Loads+1))
		if !from.Live(a) || !(from.Across(a, b) > 0.5) {
			continue
		}
		fault := v.Fork()
		fault.SetBridge(circuit.Bridge{A: a, B: b, G: 1 / between(random, 0.05, 5)})
		x, _ := w.Solve(context.Background(), p, fault, from, nil)
		amps := x.BridgeAmps()
		volts, ohms, _, status := w.Line(context.Background(), from, a, b, amps, nil)
		if x.Across(a, b) < 0.5 || limited(shape, fault, x) {
			continue // flat or nearly: a constant current has no voltage of its own there
		}
		compared++
		if status.Outcome != circuit.Converged {
			t.Fatalf("network %d: outcome %v", k, status.Outcome)
		}
		near(t, "voltage left", volts, x.Across(a, b), 2e-6)
		const step = 1e-3
		less, _, _, _ := w.Line(context.Background(), from, a, b, amps-step, &circuit.Options{Accuracy: inFull})
		more, _, _, _ := w.Line(context.Background(), from, a, b, amps+step, &circuit.Options{Accuracy: inFull})
		if near(t, "resistance", ohms, (less-more)/(2*step), 2e-3*ohms+1e-6); t.Failed() {
			t.Fatalf("network %d at chain %d: %v A, %v V", k, chain, amps, volts)
		}
	}
	if compared < 100 {
		t.Errorf("only %d places compared", compared)
	}
}

// limited reports whether a supply is at its limit or idle.
func limited(shape circuit.Shape, v *circuit.Values, x *circuit.Point) bool {
	for i := range shape.Sources {
		if s := v.Source(i); s.Limited(x.SourceAmps(i)) || s.Idle(x.SourceAmps(i)) {
			return true
		}
	}
	return false
}
