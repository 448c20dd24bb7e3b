package circuit_test

import (
	"context"
	"math"
	"testing"

	"farend/circuit"
)

// many is a network of runs of loads, each fed at both ends through a lead from one stiff source.
func many(tb testing.TB, runs, loads int, law circuit.Law) (*circuit.Plan, *circuit.Values) {
	s := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}}
	for range runs {
		a := s.Nodes
		s.Nodes += 4
		s.Chains = append(s.Chains, circuit.Chain{APlus: a, AReturn: a + 1, BPlus: a + 2, BReturn: a + 3, Loads: loads})
		for k := range 4 {
			s.Wires = append(s.Wires, circuit.Pair{A: k % 2, B: a + k})
		}
	}
	p, err := circuit.NewPlan(s)
	if err != nil {
		tb.Fatal(err)
	}
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-6, Limit: 1e6})
	for i := range s.Wires {
		v.SetWire(i, circuit.Resistor(0.02))
	}
	for i := range s.Chains {
		v.SetRails(i, circuit.Rails{Plus: 0.1 / 60, Return: 0.1 / 60, Law: law})
	}
	return p, v
}

type white []knee

func (w white) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = 0, 0
		for _, k := range w {
			a, s := k.at(u)
			amps[i] += a
			slope[i] += s
		}
	}
}

var lit = white{{0.012, 1.787, 2.426, 0.108}, {0.012, 2.675, 3.449, 0.112}, {0.012, 2.775, 3.548, 0.112}, {0.0006, 1, 2, 0.1}}

func BenchmarkMillion(b *testing.B) {
	p, v := many(b, 2000, 500, lit)
	w := circuit.NewWorker()
	for b.Loop() {
		_, s := w.Solve(context.Background(), p, v, nil, nil)
		b.ReportMetric(float64(s.Steps), "steps")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ns/load")
}

func BenchmarkExp(b *testing.B) {
	x, sum := -30.0, 0.0
	for b.Loop() {
		sum += math.Exp(x)
		x += 0.01
		if x > 0 {
			x = -30
		}
	}
	_ = sum
}

func BenchmarkMillionTable(b *testing.B) {
	p, v := many(b, 2000, 500, circuit.Tabulate(lit, 0, 6, 2048))
	for b.Loop() {
		_, s := circuit.NewWorker().Solve(context.Background(), p, v, nil, nil)
		b.ReportMetric(float64(s.Steps), "steps")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/1e6, "ns/load")
}
