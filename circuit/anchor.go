package circuit

import (
	"reflect"
	"slices"
)

// An anchor is a solved point made ready to be followed: every element as the straight line that it is near the point, every
// chain swept, every node eliminated. It is made once and serves any number of other values.
type anchor struct {
	point   *Point
	amps    []float64 // per wire, then per source (minus to plus): current there
	slope   []float64
	chains  []anchored
	p, q    []float64 // what elimination left of all loads
	pinned  []bool
	g       []float64 // the rows
	leak    []float64
	inverse []float64
	siemens []float64
}

// anchored is a chain at an anchor.
type anchored struct {
	volts   []float64 // of its loads
	reduced reduced
	amps    [4]float64 // from its terminals into it
	bend    float64    // how much its slopes change, A/V²: the sum over its loads
}

// nudge is the voltage over which the bend of a law is measured.
const nudge = 0.01

// anchorAt makes an anchor of a point; the worker's elimination is then that of the anchor.
func (w *Worker) anchorAt(p *Plan, from *Point) *anchor {
	v := from.values
	w.prepare(p, v)
	w.bridge.on = false // a bridge is no part of the rows
	for n := range w.pinned {
		w.pinned[n], w.live[n] = from.datum[n] || !from.live[n], from.live[n]
	}
	copy(w.plain, from.plain)
	copy(w.u, from.u)
	clear(w.du)
	a := &anchor{
		point: from, chains: make([]anchored, len(p.shape.Chains)),
		amps: make([]float64, len(v.wires)+len(v.sources)), slope: make([]float64, len(v.wires)+len(v.sources)),
		p: make([]float64, p.Loads()), q: make([]float64, p.Loads()), pinned: slices.Clone(w.pinned),
	}
	w.evaluateNodes(p, v, 0)
	for i := range v.wires {
		a.amps[i], a.slope[i] = 0, max(w.wireSlope[i], 0)
		if w.wireSlope[i] != absent {
			a.amps[i], _ = from.wire(i)
		}
	}
	for i, s := range v.sources {
		k := p.sourceBranch(i)
		a.slope[k] = max(w.sourceSlope[i], 0)
		if !s.off() {
			a.amps[k], _ = w.source(i, s, from.SourceVolts(i))
			a.amps[k] = -a.amps[k]
		}
	}
	var filled *ladder
	for i, c := range p.shape.Chains {
		filled = w.fillGaps(i, filled)
		a.chains[i] = w.anchorChain(p, c, i, v.chains[i].Law, from, a)
		w.reduced[i] = a.chains[i].reduced
	}
	w.factor(p, floor)
	a.g, a.leak = slices.Clone(w.g), slices.Clone(w.leak)
	a.inverse, a.siemens = slices.Clone(w.inverse), slices.Clone(w.siemens)
	return a
}

func (w *Worker) anchorChain(p *Plan, c Chain, i int, law Law, from *Point, a *anchor) anchored {
	volts, x := from.loads(i), w.strip(p, i)
	n, e := len(volts), from.Ends(i)
	amps, slope := w.amps[:n], w.slope[:n]
	copy(x.v, volts)
	clear(x.d)
	evaluateLaw(law, x.v, amps, slope)
	var total sums
	out := anchored{volts: volts, amps: [4]float64{e.APlus, e.AReturn, -e.BPlus, -e.BReturn}}
	out.reduced = x.eliminate(w.gaps[:n+1], from.u[c.APlus]-from.u[c.AReturn], from.u[c.BPlus]-from.u[c.BReturn], amps, slope, floor, &total)
	out.reduced.intoA, out.reduced.intoB = 0, 0 // what is left out of balance at a solved point is rounding
	copy(a.p[p.offset[i]:], x.p)
	copy(a.q[p.offset[i]:], x.q)
	out.bend = bendOf(law, volts, slope)
	return out
}

// bendOf is how much the slopes of loads change with their voltages, all together, in A/V²: measured over a nudge at every
// fourth load.
func bendOf(law Law, volts, slope []float64) (bend float64) {
	if law == nil {
		return 0
	}
	const every = 4
	var nudged, amps, after [64]float64
	for at := 0; at < len(volts); {
		n, first := 0, at
		for ; at < len(volts) && n < len(nudged); at += every {
			nudged[n] = volts[at] + nudge
			n++
		}
		law.Eval(nudged[:n], amps[:n], after[:n])
		for k := range n {
			bend += every * abs(after[k]-slope[first+every*k]) / nudge
		}
	}
	return bend
}

// alike reports whether two laws are certainly the same.
func alike(a, b Law) bool {
	if a == nil || b == nil {
		return a == b
	}
	return reflect.TypeOf(a) == reflect.TypeOf(b) && reflect.TypeOf(a).Comparable() && a == b
}

// differing calls each with the index of every element that is not certainly the same in both lists.
func differing[T any](a, b []T, same func(x, y *T) bool, each func(i int)) {
	if len(a) == 0 || &a[0] == &b[0] {
		return
	}
	for i := range a {
		if !same(&a[i], &b[i]) {
			each(i)
		}
	}
}

func sameWire(x, y *Wire) bool     { return x.G == y.G && alike(x.Law, y.Law) }
func sameSource(x, y *Source) bool { return *x == *y }
func sameRails(x, y *Rails) bool {
	return x.Plus == y.Plus && x.Return == y.Return && alike(x.Law, y.Law) && slices.Equal(x.Joints, y.Joints)
}
