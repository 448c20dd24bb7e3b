package circuit_test

import (
	"context"
	"testing"

	"farend/circuit"
)

// A supply whose limit its loads can all but take at any voltage: everything on it is loose. With room in the limit nothing is.
func TestSupplyAtItsLimitWithSaturatedLoadsIsLoose(t *testing.T) {
	p := plan(t, circuit.Shape{
		Nodes: 6, Sources: []circuit.Pair{{A: 0, B: 1}}, Wires: []circuit.Pair{{A: 0, B: 2}, {A: 1, B: 3}},
		Chains: []circuit.Chain{{APlus: 2, AReturn: 3, BPlus: 4, BReturn: 5, Loads: 20}},
	})
	v := p.NewValues()
	v.SetWire(0, circuit.Resistor(0.01))
	v.SetWire(1, circuit.Resistor(0.01))
	v.SetRails(0, circuit.Rails{Plus: 1e-3, Return: 1e-3, Law: knee{0.02, 1.5, 2, 0.02}})
	for name, c := range map[string]struct {
		limit float64
		loose bool
	}{
		"its limit is what the loads take": {20 * 0.02 * (1 - 1e-13), true},
		"it has room":                      {5, false},
		"the loads droop":                  {0.2, false},
	} {
		t.Run(name, func(t *testing.T) {
			v := v.Fork()
			v.SetSource(0, circuit.Source{E: 12, R: 0.01, Limit: c.limit})
			w := circuit.NewWorker()
			x, s := w.Solve(context.Background(), p, v, nil, nil)
			loose := w.Loose(x, 1e-9, 1e-3)
			if s.Outcome != circuit.Converged || loose[0] != c.loose || loose[4] != c.loose || loose[1] {
				t.Errorf("%+v at %v V, loose %v", s, x.Volts(0), loose)
			}
		})
	}
}

func TestRailOnDarkLoadsAloneIsLoose(t *testing.T) {
	p := plan(t, circuit.Shape{
		Nodes: 4, Sources: []circuit.Pair{{A: 0, B: 1}}, Wires: []circuit.Pair{{A: 1, B: 3}},
		Chains: []circuit.Chain{{APlus: 0, AReturn: 2, BPlus: 0, BReturn: 2, Loads: 5}},
	})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 10})
	v.SetRails(0, circuit.Rails{Plus: 1e-3, Return: 1e-3, Law: knee{0.02, 2.5, 3, 0.05}})
	w := circuit.NewWorker()
	x, _ := w.Solve(context.Background(), p, v, nil, nil)
	if loose := w.Loose(x, 1e-9, 1e-3); loose[0] || !loose[2] {
		t.Errorf("loose %v", loose)
	}
}
