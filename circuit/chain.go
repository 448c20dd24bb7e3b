package circuit

import (
	"math"
	"slices"
)

// A ladder is a chain with its values, ready for the sums of one step. In the voltage v between the rails a chain is one
// line of conductances: v falls by loop·j a gap, where j = (r₊i₊ − r₋i₋)/(r₊ + r₋) loses a load's current at each load.
// In w = (r₋u₊ + r₊u₋)/(r₊ + r₋) it is one conductance, since the sum c of the rail currents is the same everywhere.
type ladder struct {
	n      int
	gap    float64 // conductance of a whole gap in v
	ends   float64 // of half a gap
	joints []Joint // in the order of gaps
	loop   float64 // resistance of both rails from end to end
	rho    float64 // r₋/(r₊ + r₋)
}

func newLadder(c Chain, r Rails) ladder {
	s := r.Plus + r.Return
	l := ladder{n: c.Loads, gap: 1 / s, ends: 2 / s, joints: r.Joints, loop: s * float64(c.Loads), rho: r.Return / s}
	for _, j := range r.Joints {
		l.loop += j.Loop
	}
	return l
}

// alike reports whether two ladders have the same gaps.
func (l *ladder) alike(m *ladder) bool {
	return l.n == m.n && l.gap == m.gap && slices.Equal(l.joints, m.joints)
}

// common is the conductance of the ladder in w.
func (l *ladder) common() float64 { return 1 / (l.loop * l.rho * (1 - l.rho)) }

// gaps are the conductances of all gaps of the ladder, in v.
func (l *ladder) gaps() []float64 {
	g := make([]float64, l.n+1)
	l.fill(g)
	return g
}

// fill writes the conductances of all gaps of the ladder, in v, into g.
func (l *ladder) fill(g []float64) {
	for i := range g {
		g[i] = l.gap
	}
	g[0], g[l.n] = l.ends, l.ends
	for _, j := range l.joints {
		g[j.Gap] = g[j.Gap] / (1 + j.Loop*g[j.Gap])
	}
}

// A reduced ladder is what its ends see of one Newton step, in v: a conductance between them, a leak at each, and the
// currents that its unbalanced loads push into them.
type reduced struct {
	through      float64
	leakA, leakB float64
	intoA, intoB float64
	at           [4]float64 // currents from the terminals (plus and return of A, of B) into the chain where it was swept
}

// line is what its terminals push into the chain when they are d volts from where it was swept: a straight line, with the loads
// balanced.
func (r *reduced) line(l *ladder, d [4]float64) [4]float64 {
	va, vb := d[0]-d[1], d[2]-d[3]
	a := r.through*(va-vb) + r.leakA*va - r.intoA
	b := r.through*(vb-va) + r.leakB*vb - r.intoB
	sum := (l.rho*(d[0]-d[2]) + (1-l.rho)*(d[1]-d[3])) * l.common()
	return [4]float64{r.at[0] + a + l.rho*sum, r.at[1] - a + (1-l.rho)*sum, r.at[2] + b - l.rho*sum, r.at[3] - b - (1-l.rho)*sum}
}

// strip is the loads of one chain with what a step needs of each: voltage, step, and what eliminate leaves behind.
type strip struct{ v, d, e, p, q []float64 }

// sums are what a sweep gathers over loads: the slope of the co-content along the step that led here, the slope along
// the step that will lead on, and the largest unbalance.
type sums struct{ along, ahead, worst float64 }

// eliminate removes the loads of a chain one by one, from both ends towards the middle: two sums that do not wait for each
// other, written out in plain variables so that they stay in registers. g are its gaps, va and vb the voltages at its ends, least
// the slope that a law has at least.
//
// On either side, across is the conductance from the end to the load whose turn it is, leak and carried what the loads
// before it left there, flow the current that reaches it.
func (x strip) eliminate(g []float64, va, vb float64, amps, slope []float64, least float64, total *sums) reduced {
	n := len(x.v)
	v, d, e, p, q := x.v, x.d[:n], x.e[:n], x.p[:n], x.q[:n]
	amps, slope, g = amps[:n], slope[:n], g[:n+1]
	m := n / 2
	var alongA, aheadA, worstA, leakA, carriedA, endLeakA, endIntoA float64
	var alongB, aheadB, worstB, leakB, carriedB, endLeakB, endIntoB float64
	acrossA, acrossB := g[0], g[n]
	here, there := v[0], v[n-1]
	flowA, flowB := acrossA*(va-here), acrossB*(vb-there)
	j := n - 1
	for i := 0; i < m; i++ {
		next, onward := g[i+1], v[i+1]
		out := next * (here - onward)
		unbalance := out - flowA + amps[i]
		flowA, here = out, onward
		s := leakA + max(slope[i], least)
		t := 1 / (acrossA + next + s)
		a, b := acrossA*t, next*t
		push := carriedA - unbalance
		e1 := push * t
		alongA += unbalance * d[i]
		aheadA += push * e1
		if size := math.Abs(unbalance); size > worstA {
			worstA = size
		}
		endLeakA += a * s
		endIntoA += a * push
		acrossA, leakA, carriedA = a*next, b*s, b*push
		p[i], q[i], e[i] = a, b, e1

		if j == m { // an even chain has one load less on this side
			break
		}
		next, onward = g[j], v[j-1]
		out = next * (there - onward)
		unbalance = out - flowB + amps[j]
		flowB, there = out, onward
		s = leakB + max(slope[j], least)
		t = 1 / (acrossB + next + s)
		a, b = acrossB*t, next*t
		push = carriedB - unbalance
		e1 = push * t
		alongB += unbalance * d[j]
		aheadB += push * e1
		if size := math.Abs(unbalance); size > worstB {
			worstB = size
		}
		endLeakB += a * s
		endIntoB += a * push
		acrossB, leakB, carriedB = a*next, b*s, b*push
		p[j], q[j], e[j] = a, b, e1
		j--
	}
	unbalance := amps[m] - flowA - flowB
	s := leakA + leakB + max(slope[m], least)
	push := carriedA + carriedB - unbalance
	t := 1 / (acrossA + acrossB + s)
	a, b, e1 := acrossA*t, acrossB*t, push*t
	total.along += alongA + alongB + unbalance*d[m]
	total.ahead -= aheadA + aheadB + push*e1
	total.worst = max(total.worst, worstA, worstB, math.Abs(unbalance))
	p[m], q[m], e[m] = a, b, e1
	return reduced{
		through: acrossA * b,
		leakA:   endLeakA + a*s, leakB: endLeakB + b*s,
		intoA: endIntoA + a*push, intoB: endIntoB + b*push,
	}
}

// reduce eliminates the loads of a ladder between four terminals at potentials u: plus and return of end A, then of end B.
func (x strip) reduce(l *ladder, g []float64, u [4]float64, amps, slope []float64, least float64, total *sums) reduced {
	va, vb, n := u[0]-u[1], u[2]-u[3], len(x.v)
	r := x.eliminate(g, va, vb, amps, slope, least, total)
	ja, jb := g[0]*(va-x.v[0]), g[n]*(x.v[n-1]-vb)
	sum := (l.rho*(u[0]-u[2]) + (1-l.rho)*(u[1]-u[3])) * l.common()
	r.at = [4]float64{ja + l.rho*sum, (1-l.rho)*sum - ja, -jb - l.rho*sum, jb - (1-l.rho)*sum}
	return r
}

func newStrip(n int) strip {
	all := make([]float64, 5*n)
	return strip{all[:n], all[n : 2*n], all[2*n : 3*n], all[3*n : 4*n], all[4*n:]}
}

// evaluateLaw is the law's currents and slopes; without a law there are none.
func evaluateLaw(law Law, v, amps, slope []float64) {
	if law == nil {
		clear(amps)
		clear(slope)
		return
	}
	law.Eval(v, amps, slope)
}

// part is the loads from a to b.
func (x strip) part(a, b int) strip { return strip{x.v[a:b], x.d[a:b], x.e[a:b], x.p[a:b], x.q[a:b]} }

// fillIn is backSubstitute for a chain that may have a tap.
func (x strip) fillIn(t *tap, da, db float64) float64 {
	if t == nil {
		return x.backSubstitute(da, db)
	}
	d := t.rails[0].du - t.rails[1].du
	return max(x.part(0, t.gap).backSubstitute(da, d), x.part(t.gap, len(x.v)).backSubstitute(d, db), abs(d))
}

// backSubstitute turns what eliminate left into the loads' step, from the step of the ends, moves the loads by it, and returns
// its size.
func (x strip) backSubstitute(da, db float64) float64 {
	v, d, e, p, q := x.v, x.d, x.e, x.p, x.q
	n := len(v)
	d, e, p, q = d[:n], e[:n], p[:n], q[:n]
	m := n / 2
	inner := e[m] + p[m]*da + q[m]*db
	outer := inner
	d[m] = inner
	v[m] += inner
	sizeA, sizeB := math.Abs(inner), 0.0
	j := m + 1
	for i := m - 1; i >= 0; i-- {
		inner = e[i] + p[i]*da + q[i]*inner
		d[i] = inner
		v[i] += inner
		if size := math.Abs(inner); size > sizeA {
			sizeA = size
		}
		if j == n { // an even chain has one load less on this side
			break
		}
		outer = e[j] + p[j]*db + q[j]*outer
		d[j] = outer
		v[j] += outer
		if size := math.Abs(outer); size > sizeB {
			sizeB = size
		}
		j++
	}
	return max(sizeA, sizeB)
}

// conductances are those between the four terminals in the order of chainPairs: the resistor network that the ladder
// is for one Newton step. They are never negative; rounding that would make one so is cut off.
func (l *ladder) conductances(r reduced) [6]float64 {
	common := l.common()
	cross := max(0, 1/l.loop-r.through)
	return [6]float64{
		r.through + l.rho*l.rho*common,
		r.through + (1-l.rho)*(1-l.rho)*common,
		max(0, r.leakA-cross),
		max(0, r.leakB-cross),
		cross,
		cross,
	}
}
