package circuit_test

import (
	"context"
	"testing"

	"farend/circuit"
)

// TestSolvingAllocatesOnlyItsPoint counts the allocations of repeated solves: they are those of the point, and do not grow with the
// number of chains, loads or steps.
func TestSolvingAllocatesOnlyItsPoint(t *testing.T) {
	const ofPoint = 24 // the point, its seven lists, the values that the case forks, and room for what solving asks for once
	for _, runs := range []int{5, 200} {
		shape := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}}
		for range runs {
			a := shape.Nodes
			shape.Nodes += 4
			shape.Chains = append(shape.Chains, circuit.Chain{APlus: a, AReturn: a + 1, BPlus: a + 2, BReturn: a + 3, Loads: 100})
			for k := range 4 {
				shape.Wires = append(shape.Wires, circuit.Pair{A: k % 2, B: a + k})
			}
		}
		p := plan(t, shape)
		v := p.NewValues()
		v.SetSource(0, circuit.Source{E: 5, R: 1e-4, Limit: 1e4})
		law := circuit.Tabulate(knee{0.036, 1.8, 3.4, 0.11}, 0, 5.2, 512)
		for i := range shape.Wires {
			v.SetWire(i, circuit.Resistor(0.02))
		}
		for i := range shape.Chains {
			v.SetRails(i, circuit.Rails{Plus: 2e-3, Return: 2e-3, Law: law})
		}
		w := circuit.NewWorker()
		base, _ := w.Solve(context.Background(), p, v, nil, nil)
		cold := testing.AllocsPerRun(5, func() { w.Solve(context.Background(), p, v, nil, &circuit.Options{MaxSteps: 50}) })
		out := v.Fork()
		out.SetWire(3, circuit.Wire{})
		followed := testing.AllocsPerRun(5, func() { w.Solve(context.Background(), p, out, base, nil) })
		// A cold solve of many loads starts from a coarse one, which has a worker and a point of its own.
		if cold > 6*ofPoint || followed > ofPoint {
			t.Errorf("%d runs: %v allocations cold, %v followed", runs, cold, followed)
		}
	}
}
