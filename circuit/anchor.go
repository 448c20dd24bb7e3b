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
	hangs   []bool    // see hanging
	g       []float64 // the rows
	leak    []float64
	inverse []float64
	siemens []float64
	lack    []float64 // per step: current that is missing there; nil where the point balances to rounding
	noise   []float64 // per step: what of it may be rounding
	ohms    float64   // what moves a typical end of a chain for each ampere pushed into all of them
}

// anchored is a chain at an anchor.
type anchored struct {
	volts   []float64 // of its loads
	reduced reduced
	amps    [4]float64 // from its terminals into it
	cubic   [4]float64 // third derivatives of its co-content by the voltages of its ends: AAA, AAB, ABB, BBB, in A/V²
	kink    float64    // how far the slopes of its loads are off at the end of what that is trusted for, all together, A/V
	inner   float64    // what the moves inside that its curvature makes draw from its ends, A/V³, at most
}

// straight is the longest move of a chain's end, in volts, that what is known of its curvature may be trusted for.
const straight = 0.005

// anchorAt makes an anchor of a point; the worker's elimination is then that of the anchor.
func (w *Worker) anchorAt(p *Plan, from *Point) *anchor {
	v := from.values
	w.prepare(p, v)
	w.bridge.on = false // a bridge is no part of the rows
	for n := range w.pinned {
		w.pinned[n], w.live[n] = from.datum[n] || !from.live[n], from.live[n]
	}
	w.hanging(p, v)
	copy(w.plain, from.plain)
	copy(w.u, from.u)
	clear(w.du)
	a := &anchor{
		point: from, chains: make([]anchored, len(p.shape.Chains)),
		amps: make([]float64, len(v.wires)+len(v.sources)), slope: make([]float64, len(v.wires)+len(v.sources)),
		p: make([]float64, p.Loads()), q: make([]float64, p.Loads()), pinned: slices.Clone(w.pinned), hangs: slices.Clone(w.hangs),
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
	a.ohms = w.typicalOhms(p)
	if !from.balanced {
		a.balance(p)
	}
	return a
}

func (w *Worker) anchorChain(p *Plan, c Chain, i int, law Law, from *Point, a *anchor) anchored {
	volts, x := from.loads(i), w.strip(p, i)
	n, l := len(volts), &w.ladders[i]
	amps, slope := w.amps[:n], w.slope[:n]
	copy(x.v, volts)
	clear(x.d)
	evaluateLaw(law, x.v, amps, slope)
	var total sums
	r := x.reduce(l, w.gaps[:n+1], terminals(c, from.u), amps, slope, floor, &total)
	out := anchored{volts: volts, amps: r.line(l, [4]float64{})}
	if from.drawn(i).gap >= 0 {
		e := from.Ends(i)
		out.amps = [4]float64{e.APlus, e.AReturn, -e.BPlus, -e.BReturn}
	}
	r.intoA, r.intoB = 0, 0 // what is left out of balance is in the currents now
	out.reduced = r
	copy(a.p[p.offset[i]:], x.p)
	copy(a.q[p.offset[i]:], x.q)
	w.curve(&out, x, law, volts, slope, w.gaps[:n+1])
	return out
}

// balance sums what a point leaves open at every node, so that errors do not add up from point to point.
func (a *anchor) balance(p *Plan) {
	n := p.shape.Nodes
	a.lack, a.noise = make([]float64, n), make([]float64, n)
	leave := func(node int, amps, rounded float64) {
		a.lack[p.step[node]] -= amps
		a.noise[p.step[node]] += hum + ulp*rounded
	}
	between := func(pair Pair, amps, slope float64) {
		rounded := abs(amps) + slope*max(abs(a.point.u[pair.A]), abs(a.point.u[pair.B]))
		leave(pair.A, amps, rounded)
		leave(pair.B, -amps, rounded)
	}
	for i, amps := range a.amps {
		between(p.pair(i), amps, a.slope[i])
	}
	for i, c := range p.shape.Chains {
		l := newLadder(c, a.point.values.chains[i])
		for k, node := range c.nodes() {
			amps := a.chains[i].amps[k]
			leave(node, amps, abs(amps)+(l.ends+l.common())*abs(a.point.u[node]))
		}
	}
	b, amps := a.point.values.bridge, a.point.bridge
	for k, place := range []int{b.A, b.B} { // what it draws inside chains is in their currents
		if sign := float64(1 - 2*k); amps != 0 && place < n {
			leave(place, sign*amps, abs(amps)+b.G*abs(a.point.u[place]))
		}
	}
}

// typicalOhms is the median of how far the ends of chains move if one ampere is pushed into each.
func (w *Worker) typicalOhms(p *Plan) float64 {
	clear(w.into)
	for _, c := range p.shape.Chains {
		for _, n := range c.nodes() {
			w.into[p.step[n]] += 1
		}
	}
	w.hold(p, w.into)
	w.solve(p, w.into, w.du)
	var list []float64
	for _, c := range p.shape.Chains {
		for _, n := range c.nodes() {
			list = append(list, w.du[n])
		}
	}
	if len(list) == 0 {
		return 0
	}
	slices.Sort(list)
	return list[len(list)/2]
}

// curve measures the curvature of a chain that was just swept. A load moves by α of what end A moves and β of what end B does; by
// reciprocity the current that its curvature draws comes from the ends in the same shares.
func (w *Worker) curve(out *anchored, x strip, law Law, volts, slope, gaps []float64) {
	if law == nil {
		return
	}
	n := len(volts)
	alpha, beta, second := w.alpha[:n], w.beta[:n], w.second[:n]
	clear(x.e)
	x.backSubstitute(1, 0)
	copy(alpha, x.d)
	clear(x.e)
	x.backSubstitute(0, 1)
	copy(beta, x.d)
	amps, ahead, behind := w.amps[:n], x.v, x.d
	slopesBeside := func(by float64) {
		for k, v := range volts {
			x.e[k] = v + by
		}
		law.Eval(x.e, amps, ahead)
		for k, v := range volts {
			x.e[k] = v - by
		}
		law.Eval(x.e, amps, behind)
	}
	slopesBeside(straight / 2)
	for k, a := range alpha {
		b := beta[k]
		second[k] = (ahead[k] - behind[k]) / straight
		for j, share := range [4]float64{a * a * a, a * a * b, a * b * b, b * b * b} {
			out.cubic[j] += second[k] * share
		}
	}
	slopesBeside(straight)
	for k, s := range second {
		out.kink += max(abs(ahead[k]-slope[k]-s*straight), abs(behind[k]-slope[k]+s*straight))
	}
	for k, s := range second { // both ends moved by 1 V: the second term as currents, and where they move the loads
		amps[k] = -abs(s) * (alpha[k] + beta[k]) * (alpha[k] + beta[k]) / 2
	}
	clear(x.v)
	clear(x.d)
	var total sums
	x.eliminate(gaps, 0, 0, amps, slope, floor, &total)
	x.backSubstitute(0, 0)
	for k, s := range second {
		out.inner += abs(s) * (alpha[k] + beta[k]) * x.d[k]
	}
}

// bendOf is how much the slopes of loads change with their voltages, all together, in A/V², at most: of some thirty of them, as far
// as that is trusted; read from a table, or measured.
func (w *Worker) bendOf(law Law, volts []float64) (bend float64) {
	if law == nil {
		return 0
	}
	table, _ := law.(*Table)
	every, n := max(1, len(volts)/samples), 0
	for k := 0; k < len(volts); k += every {
		if b, known := table.bend(volts[k]); known {
			bend += float64(every) * b
			continue
		}
		w.second[n] = volts[k]
		n++
	}
	if n == 0 {
		return bend
	}
	at, amps := w.second[:n], w.alpha[:n]
	here, ahead, behind := w.slope[:n], w.beta[:n], w.gaps[:n] // the gaps have done their work
	slopes := func(by float64, into []float64) {
		for k := range at {
			at[k] += by
		}
		law.Eval(at, amps, into)
	}
	slopes(0, here)
	slopes(straight, ahead)
	slopes(-2*straight, behind)
	for k, s := range here {
		bend += float64(every) * max(abs(ahead[k]-s), abs(s-behind[k])) / straight
	}
	return bend
}

// samples is how many loads of a chain stand for all where only a bound is wanted.
const samples = 32

// alike reports whether two laws are certainly the same.
func alike(a, b Law) bool {
	if a == nil || b == nil {
		return a == b
	}
	if law, ok := a.(interface{ Same(other any) bool }); ok {
		return law.Same(b)
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

// Same reports whether two sets of values are certainly the same. Laws are compared by ==, or by a method Same(any) bool of
// their own.
func (v *Values) Same(other *Values) bool {
	same := v.bridge == other.bridge
	not := func(int) { same = false }
	differing(v.wires, other.wires, sameWire, not)
	differing(v.sources, other.sources, sameSource, not)
	differing(v.chains, other.chains, sameRails, not)
	return same
}

func sameWire(x, y *Wire) bool     { return x.G == y.G && alike(x.Law, y.Law) }
func sameSource(x, y *Source) bool { return *x == *y }
func sameRails(x, y *Rails) bool {
	return x.Plus == y.Plus && x.Return == y.Return && alike(x.Law, y.Law) && slices.Equal(x.Joints, y.Joints)
}
