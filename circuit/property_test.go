package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// TestExtremeNetworksConvergeAndBalance solves networks whose resistances lie anywhere from 1 µΩ to 10 MΩ, whose supplies
// have limits from 1 mA to 1 kA, and whose loads never, just or amply turn on. Each must be found from cold, and found
// again from the point of another one; currents must balance to rounding.
func TestExtremeNetworksConvergeAndBalance(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	random := rand.New(rand.NewSource(7))
	worker := circuit.NewWorker()
	steps, most := 0, 0
	const networks = 4000
	for k := range networks {
		shape := randomShape(random)
		p := plan(t, shape)
		v, other := extremeValues(random, p), extremeValues(random, p)
		x, cold := worker.Solve(context.Background(), p, v, nil, nil)
		y, _ := worker.Solve(context.Background(), p, other, nil, nil)
		z, warm := worker.Solve(context.Background(), p, v, y, &circuit.Options{Accuracy: inFull})
		steps += cold.Steps
		most = max(most, cold.Steps, warm.Steps)
		for name, s := range map[string]circuit.Status{"cold": cold, "from another point": warm} {
			if s.Outcome != circuit.Converged {
				t.Errorf("network %d %s: outcome %v after %d steps, residual %g A", k, name, s.Outcome, s.Steps, s.Residual)
			}
		}
		toRounding(t, k, p, v, x)
		toRounding(t, k, p, v, z)
	}
	t.Logf("%.1f steps on average, %d at most", float64(steps)/networks, most)
}

// randomShape joins up to three sources and four short chains at random.
func randomShape(r *rand.Rand) circuit.Shape {
	s, _ := randomNetwork(r)
	for i := range s.Chains {
		s.Chains[i].Loads = 1 + r.Intn(12)
	}
	return s
}

// inFull asks for more than following gives, so that a start is only a start.
const inFull = 1e-12

func between(r *rand.Rand, low, high float64) float64 {
	return low * math.Pow(high/low, r.Float64())
}

func extremeValues(r *rand.Rand, p *circuit.Plan) *circuit.Values {
	v := p.NewValues()
	for i := range p.Shape().Sources {
		v.SetSource(i, circuit.Source{E: between(r, 1, 48), R: between(r, 1e-6, 10), Limit: between(r, 1e-3, 1e3), Off: r.Intn(10) == 0})
	}
	for i := range p.Shape().Wires {
		if r.Intn(10) > 0 {
			v.SetWire(i, circuit.Wire{G: 1 / between(r, 1e-6, 1e7)})
		}
	}
	for i, c := range p.Shape().Chains {
		lo := between(r, 0.5, 40)
		rails := circuit.Rails{Plus: between(r, 1e-6, 1e4), Return: between(r, 1e-6, 1e4)}
		if r.Intn(10) > 0 {
			rails.Law = knee{between(r, 1e-4, 3), lo, lo * (1 + r.Float64()), between(r, 0.005, 0.3)}
		}
		for range r.Intn(3) {
			rails.Joints = append(rails.Joints, circuit.Joint{Gap: r.Intn(c.Loads + 1), Loop: between(r, 1e-6, 1e7)})
		}
		v.SetRails(i, rails)
	}
	return v
}

// toRounding checks Kirchhoff's current law at every node. A node may lack what a few roundings of the potentials are
// at the conductances that meet there, and balance beside that; the datum, which is not solved for, as much as all others together.
func toRounding(t testing.TB, k int, p *circuit.Plan, v *circuit.Values, x *circuit.Point) {
	t.Helper()
	shape := p.Shape()
	lack, allowed := make([]float64, shape.Nodes), make([]float64, shape.Nodes)
	add := func(n int, amps, siemens, volts float64) {
		lack[n] += amps
		allowed[n] += 32 * 0x1p-53 * (siemens*math.Abs(volts) + math.Abs(amps))
	}
	top := 0.0
	for n := range shape.Nodes {
		top = max(top, math.Abs(x.Volts(n)))
	}
	for i, s := range shape.Sources {
		if src := v.Source(i); !src.Off {
			amps := x.SourceAmps(i)
			add(s.A, -amps, 1/max(src.R, 1e-5), top)
			add(s.B, amps, 1/max(src.R, 1e-5), top)
		}
	}
	for i, w := range shape.Wires {
		amps := x.WireAmps(i)
		add(w.A, amps, v.Wire(i).G, top)
		add(w.B, -amps, v.Wire(i).G, top)
	}
	for i, c := range shape.Chains {
		e, r := x.Ends(i), v.Rails(i)
		add(c.APlus, e.APlus, 2/min(r.Plus, r.Return), top)
		add(c.AReturn, e.AReturn, 2/min(r.Plus, r.Return), top)
		add(c.BPlus, -e.BPlus, 2/min(r.Plus, r.Return), top)
		add(c.BReturn, -e.BReturn, 2/min(r.Plus, r.Return), top)
	}
	for n, amps := range lack {
		most := balance
		if x.Datum(n) {
			most *= float64(shape.Nodes)
		}
		if !(math.Abs(amps) <= allowed[n]+most) {
			t.Errorf("network %d: node %d lacks %g A, %g A are rounding", k, n, amps, allowed[n])
		}
	}
}
