package circuit

import "math"

// stride fills in the step of every load, takes it, and evaluates where that leads, chain by chain while its loads are at
// hand. It returns the size of the step and the slope of the co-content along it at its end.
func (w *Worker) stride(p *Plan, v *Values) (size, at float64) {
	size = largest(w.du)
	w.evaluateNodes(p, v, 1)
	w.sums, w.at = sums{}, 1
	var filled *ladder
	for i, c := range p.shape.Chains {
		filled = w.fillGaps(i, filled)
		size = max(size, w.strip(p, i).fillIn(w.tapOf(i), w.du[c.APlus]-w.du[c.AReturn], w.du[c.BPlus]-w.du[c.BReturn]))
		w.sweepChain(p, c, i, v.chains[i].Law, 0, floor)
		w.leave(c, i)
	}
	return size, w.along()
}

// along is the slope of the co-content along the step at the place last evaluated.
func (w *Worker) along() float64 {
	sum := w.sums.along
	for n, e := range w.excess {
		sum += e * w.du[n]
	}
	if w.bridge.on {
		sum += w.bridge.alongTaps()
	}
	return sum
}

// evaluate goes to the place t along the step, computes every current and slope there, eliminates the chains, and returns
// the slope of the co-content along the step. No law counts with a slope below least.
func (w *Worker) evaluate(p *Plan, vals *Values, t, least float64) float64 {
	w.evaluateNodes(p, vals, t)
	move := t - w.at
	w.sums, w.at = sums{}, t
	var filled *ladder
	for i, c := range p.shape.Chains {
		filled = w.fillGaps(i, filled)
		w.sweepChain(p, c, i, vals.chains[i].Law, move, least)
		w.leave(c, i)
	}
	return w.along()
}

// evaluateNodes moves the nodes to the place t along the step and gathers the currents of wires and sources there.
func (w *Worker) evaluateNodes(p *Plan, vals *Values, t float64) {
	for i := range w.u {
		w.uTry[i] = w.u[i] + t*w.du[i]
	}
	clear(w.excess)
	if w.bridge.on {
		w.evaluateBridge(t)
	}
	u := w.uTry
	for i, pair := range p.shape.Wires {
		wire := &vals.wires[i]
		if wire.open() || pair.A == pair.B {
			w.wireSlope[i] = absent
			continue
		}
		amps, slope := wire.current(u[pair.A] - u[pair.B])
		w.wireSlope[i] = slope
		w.excess[pair.A] += amps
		w.excess[pair.B] -= amps
	}
	for i, pair := range p.shape.Sources {
		if vals.sources[i].off() {
			w.sourceSlope[i] = absent
			continue
		}
		amps, slope := w.source(i, vals.sources[i], u[pair.A]-u[pair.B])
		w.sourceSlope[i] = -slope
		w.excess[pair.A] -= amps
		w.excess[pair.B] += amps
	}
}

// fillGaps writes the gaps of chain i unless those of the chain filled last are the same, and returns whose are filled.
func (w *Worker) fillGaps(i int, filled *ladder) *ladder {
	l := &w.ladders[i]
	if filled != nil && l.alike(filled) {
		return filled
	}
	l.fill(w.gaps[:l.n+1])
	return l
}

// sweepChain moves the loads of a chain along the step, evaluates them and eliminates them.
func (w *Worker) sweepChain(p *Plan, c Chain, i int, law Law, move, least float64) {
	x := w.strip(p, i)
	n := len(x.v)
	amps, slope, g := w.amps[:n], w.slope[:n], w.gaps[:n+1]
	if move != 0 {
		for k, d := range x.d {
			x.v[k] += move * d
		}
	}
	evaluateLaw(law, x.v, amps, slope)
	if t := w.tapOf(i); t != nil {
		w.reduceTapped(p, t, g, amps, slope, least)
		return
	}
	w.reduced[i] = x.reduce(&w.ladders[i], g, terminals(c, w.uTry), amps, slope, least, &w.sums)
}

// leave adds the currents into a swept chain to what leaves its nodes.
func (w *Worker) leave(c Chain, i int) {
	a, b := &w.reduced[i].at, &w.reduced[i].at
	if t := w.tapOf(i); t != nil {
		a, b = &t.left.at, &t.right.at
		t.rails[0].excess += a[2] + b[0]
		t.rails[1].excess += a[3] + b[1]
	}
	w.excess[c.APlus] += a[0]
	w.excess[c.AReturn] += a[1]
	w.excess[c.BPlus] += b[2]
	w.excess[c.BReturn] += b[3]
}

// terminals are the potentials of the ends of a chain, in the order of Chain.nodes.
func terminals(c Chain, u []float64) [4]float64 {
	return [4]float64{u[c.APlus], u[c.AReturn], u[c.BPlus], u[c.BReturn]}
}

// strip is the part of the loads that belongs to a chain.
func (w *Worker) strip(p *Plan, i int) strip {
	a, b := p.offset[i], p.offset[i+1]
	x := &w.loads
	return strip{x.v[a:b], x.d[a:b], x.e[a:b], x.p[a:b], x.q[a:b]}
}

func (w *Worker) source(i int, s Source, v float64) (amps, slope float64) {
	if w.plain[i] {
		g := 1 / s.resistance()
		return g * (s.E - v), -g
	}
	return s.current(v)
}

// residual is the largest current out of balance at the place last evaluated.
func (w *Worker) residual() float64 {
	worst := w.sums.worst
	for n, e := range w.excess {
		if !w.pinned[n] {
			worst = max(worst, math.Abs(e))
		}
	}
	for _, t := range w.bridge.taps {
		worst = max(worst, math.Abs(t.rails[0].excess), math.Abs(t.rails[1].excess))
	}
	return worst
}
