package main

import (
	"context"
	"fmt"
	"math"

	"farend/circuit"
)

// fiveSupplies is five supplies with eight runs of 500 pixels each, every run fed at both ends.
func fiveSupplies() (*circuit.Plan, *circuit.Values) {
	p := bothEnds(5, 8, 500)
	v := white(p)
	for i := range p.Shape().Sources {
		v.SetSource(i, circuit.Source{E: 5, R: 1e-3, Limit: 200})
	}
	return p, v
}

// outagesOf are 200 outages: every core of every feed alone, and both cores of every feed at data-out.
func outagesOf(p *circuit.Plan, v *circuit.Values) []*circuit.Values {
	var list []*circuit.Values
	for i := range p.Shape().Wires {
		out := v.Fork()
		out.SetWire(i, circuit.Wire{})
		list = append(list, out)
		if i%4 == 3 {
			both := out.Fork()
			both.SetWire(i-1, circuit.Wire{})
			list = append(list, both)
		}
	}
	return list
}

func outageCost(ctx context.Context) (row, error) {
	p, v := fiveSupplies()
	list := outagesOf(p, v)
	full := circuit.NewWorker()
	base, _ := full.Solve(ctx, p, v, nil, nil)
	followed, worst := 0, 0.0
	calls := median(func() float64 {
		e, w := exponential(), circuit.NewWorker()
		followed = 0
		points := make([]*circuit.Point, len(list))
		begin := processor()
		for i, out := range list {
			point, status := w.Solve(ctx, p, out, base, nil)
			if points[i] = point; status.Followed {
				followed++
			}
		}
		took := processor() - begin
		for i, out := range list {
			want, _ := full.Solve(ctx, p, out, nil, nil)
			for n := range p.Shape().Nodes {
				worst = max(worst, math.Abs(points[i].Volts(n)-want.Volts(n)))
			}
		}
		return float64(took.Nanoseconds()) / e / 1e6
	})
	lowest := math.Inf(1)
	for _, volts := range base.LoadVolts(0) {
		lowest = min(lowest, volts)
	}
	detail := fmt.Sprintf("%d of %d followed, terminals at most %.2g µV from full solves, lowest pixel %.2f V; median of %d", followed, len(list), worst*1e6, lowest, rounds)
	return row{"200 single outages of 5 supplies × 8 runs × 500 pixels, one worker", "≤ 3 million math.Exp", fmt.Sprintf("%.2f million", calls), detail,
		calls <= 3 && worst <= 1e-6 && lowest < 3}, ctx.Err()
}
