package circuit

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

// conductance is that of gap g, in v.
func (l *ladder) conductance(g int) float64 {
	plain := l.gap
	if g == 0 || g == l.n {
		plain = l.ends
	}
	for _, j := range l.joints {
		if j.Gap == g {
			plain = plain / (1 + j.Loop*plain)
		}
	}
	return plain
}

// gaps walks the conductances of a ladder from end A to end B without searching its joints anew in every gap.
type gaps struct {
	l    *ladder
	at   int
	next int // joint
}

func (g *gaps) step() float64 {
	plain := g.l.gap
	if g.at == 0 || g.at == g.l.n {
		plain = g.l.ends
	}
	for g.next < len(g.l.joints) && g.l.joints[g.next].Gap == g.at {
		plain = plain / (1 + g.l.joints[g.next].Loop*plain)
		g.next++
	}
	g.at++
	return plain
}

// common is the conductance of the ladder in w.
func (l *ladder) common() float64 { return 1 / (l.loop * l.rho * (1 - l.rho)) }

// A reduced ladder is what its ends see of one Newton step, in v: a conductance between them, a leak at each, and the
// currents that its unbalanced loads push into them.
type reduced struct {
	through      float64
	leakA, leakB float64
	intoA, intoB float64
}

// eliminate removes the loads one by one from end A. v, amps and slope are the loads' voltages, currents and slopes, va
// and vb the voltages at the ends; a slope counts as least at least. It leaves in p, q and d what backSubstitute needs.
func (l *ladder) eliminate(va, vb float64, v, amps, slope []float64, least float64, p, q, d []float64) reduced {
	walk := gaps{l: l}
	before := walk.step()
	left := va
	across, leak, carried := before, 0.0, 0.0
	var r reduced
	for i := range v {
		after := walk.step()
		right := vb
		if i+1 < len(v) {
			right = v[i+1]
		}
		unbalance := before*(v[i]-left) + after*(v[i]-right) + amps[i]
		s := leak + max(slope[i], least)
		t := 1 / (across + after + s)
		toA, toNext := across*t, after*t
		push := carried - unbalance
		r.leakA += toA * s
		r.intoA += toA * push
		p[i], q[i], d[i] = toA, toNext, push*t
		across, leak, carried = toA*after, toNext*s, toNext*push
		left, before = v[i], after
	}
	r.through, r.leakB, r.intoB = across, leak, carried
	return r
}

// backSubstitute turns what eliminate left into the loads' step, from the step of the ends. It is done in place in d.
func backSubstitute(da, db float64, p, q, d []float64) {
	next := db
	for i := len(d) - 1; i >= 0; i-- {
		d[i] += p[i]*da + q[i]*next
		next = d[i]
	}
}

// descent is the sum of unbalance × step over the loads.
func (l *ladder) descent(va, vb float64, v, amps, d []float64) float64 {
	walk := gaps{l: l}
	before := walk.step()
	left, sum := va, 0.0
	for i := range v {
		after := walk.step()
		right := vb
		if i+1 < len(v) {
			right = v[i+1]
		}
		sum += (before*(v[i]-left) + after*(v[i]-right) + amps[i]) * d[i]
		left, before = v[i], after
	}
	return sum
}

// worst is the largest unbalance of a load.
func (l *ladder) worst(va, vb float64, v, amps []float64) float64 {
	walk := gaps{l: l}
	before := walk.step()
	left, worst := va, 0.0
	for i := range v {
		after := walk.step()
		right := vb
		if i+1 < len(v) {
			right = v[i+1]
		}
		worst = max(worst, abs(before*(v[i]-left)+after*(v[i]-right)+amps[i]))
		left, before = v[i], after
	}
	return worst
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
