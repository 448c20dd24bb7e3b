package circuit

import (
	"context"
	"math"
)

// Line asks how a solved network answers at a place: it draws a constant current from place a to place b, besides all that
// flows there already, and gives the voltage left from a to b and by how many ohms it falls for each further ampere. A
// bridge that the point already has is left out. A place is a node or a tap (Plan.Tap). Where no voltage lets the current flow, the
// outcome is NotFound. Asked for one current after another it follows the point, and costs little.
func (w *Worker) Line(ctx context.Context, from *Point, a, b int, amps float64, options *Options) (volts, ohms float64, at *Point, status Status) {
	v := from.values.Fork()
	v.SetBridge(Bridge{A: a, B: b, Amps: amps})
	at, status = w.Solve(ctx, from.plan, v, from, options)
	if status.Outcome != Converged {
		return at.Across(a, b), 0, at, status
	}
	if !w.bridge.on { // places that nothing joins, and no current asked for
		return at.Across(a, b), math.Inf(1), at, status
	}
	if !status.Followed {
		w.factor(from.plan, floor)
	}
	return at.Across(a, b), w.answer(from.plan), at, status
}

// answer is the resistance that the network shows between the ends of the bridge where it was last solved: one ampere is
// pushed back through the bridge, and the voltage that this makes across it read.
func (w *Worker) answer(p *Plan) float64 {
	bridge := &w.bridge
	clear(w.into)
	for i := range bridge.taps {
		bridge.taps[i].rails[0].push, bridge.taps[i].rails[1].push = 0, 0
	}
	for k, e := range bridge.ends {
		if amps := float64(1 - 2*k); e.tap < 0 {
			w.into[p.step[e.node]] += amps
		} else {
			bridge.taps[e.tap].rails[e.rail].push += amps
		}
	}
	w.hold(p, w.into)
	w.solve(p, w.into, w.excess)
	return bridge.across(w.excess, looseDu)
}
