package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// TestCoarseStartEndsAtTheSamePoint solves large random networks from the coarse start and from a point of quite other
// values: both must end at the one minimum.
func TestCoarseStartEndsAtTheSamePoint(t *testing.T) {
	random := rand.New(rand.NewSource(7))
	for range 25 {
		shape, set := randomNetwork(random)
		for i := range shape.Chains {
			shape.Chains[i].Loads = 300 + random.Intn(900)
		}
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		for i := range shape.Chains {
			r := v.Rails(i)
			r.Plus, r.Return = r.Plus/20, r.Return/20
			for k := range 7 {
				r.Joints = append(r.Joints, circuit.Joint{Gap: 40 * k, Loop: 0.004})
			}
			v.SetRails(i, r)
		}
		dim := v.Fork()
		for i := range shape.Sources {
			s := v.Source(i)
			s.E *= 0.5
			dim.SetSource(i, s)
		}
		far, _ := solve(t, p, dim, nil)
		cold, status := solve(t, p, v, nil)
		warm, _ := circuit.NewWorker().Solve(context.Background(), p, v, far, &circuit.Options{Accuracy: inFull})
		for i := range shape.Chains {
			for k, volts := range cold.LoadVolts(i) {
				if d := math.Abs(volts - warm.LoadVolts(i)[k]); d > 1e-9 {
					t.Fatalf("chain %d load %d: the two starts differ by %g V after %d steps", i, k, d, status.Steps)
				}
			}
		}
	}
}

// A long chain of constant-current loads has the same parabola as a short one.
func TestLongChainKeepsTheParabola(t *testing.T) {
	const n, r, i = 5000, 0.00003, 0.004
	p := plan(t, circuit.Shape{Nodes: 4, Wires: []circuit.Pair{{A: 0, B: 2}, {A: 1, B: 3}}, Sources: []circuit.Pair{{A: 0, B: 1}}, Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 2, BReturn: 3, Loads: n}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-5, Limit: 100})
	v.SetWire(0, circuit.Wire{G: circuit.Short})
	v.SetWire(1, circuit.Wire{G: circuit.Short})
	v.SetRails(0, circuit.Rails{Plus: r / 2, Return: r / 2, Law: knee{i, 0.5, 1, 0.01}})
	x, _ := solve(t, p, v, nil)
	// The far end hangs on two shorts of 10 µΩ that carry half of the 20 A: 0.2 mV lower, spread linearly.
	near, far := x.Across(0, 1), x.Across(2, 3)
	for _, k := range []int{0, 1200, 2499, 4999} {
		at := float64(k) + 0.5
		want := near + (far-near)*at/n - r*i*(at*(n-at)/2+0.125)
		if d := math.Abs(x.LoadVolts(0)[k] - want); d > 1e-9 {
			t.Errorf("load %d: %g V from the parabola", k, d)
		}
	}
}
