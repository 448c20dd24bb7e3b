package circuit

import "sync/atomic"

// A Point is a solved operating point. It holds the potential of every node and the voltage of every load; currents are
// computed from them.
type Point struct {
	plan     *Plan
	values   *Values
	u        []float64
	chains   []strand
	live     []bool  // per node: in one piece with a source
	datum    []bool  // per node: the zero of its piece
	plain    []bool  // per source: solved as E and R in series because no current can flow
	bridge   float64 // amperes through the bridge
	draws    []draw  // what the bridge draws inside chains
	found    bool    // the solve converged
	balanced bool    // in full to rounding, not only as far as lines or stiff elements at high potentials allow
}

// A strand is the voltages across the loads of a chain while its ends are at a and b volts; and those with the ends where the point
// has them, once somebody asked.
type strand struct {
	v     []float64
	a, b  float64
	rough bool // they are those of the chain's line, not yet of its law
	asked atomic.Pointer[[]float64]
	ends  *Ends // where the chain's line gives them
}

// A draw is current taken from the rails of a chain in the middle of a gap: in v and in w.
type draw struct {
	chain, gap int
	inV, inW   float64
}

// drawn is what is drawn in a chain; gap −1 means nothing.
func (p *Point) drawn(chain int) draw {
	for _, d := range p.draws {
		if d.chain == chain {
			return d
		}
	}
	return draw{chain: chain, gap: -1}
}

// Volts is the potential of a node. In each connected piece the zero is the plus-to-minus source with the lowest number: its
// minus terminal. In a piece without a source every potential is 0; see Live. The place may be a tap (Plan.Tap).
func (p *Point) Volts(place int) float64 {
	chain, gap, minus, ok := p.plan.tapped(place)
	if !ok {
		return p.u[place]
	}
	c := p.plan.shape.Chains[chain]
	l, d, v := newLadder(c, p.values.chains[chain]), p.drawn(chain), p.loads(chain)
	volts, x := (v[gap-1]+v[gap])/2, l.before(gap)
	w := l.rho*p.u[c.APlus] + (1-l.rho)*p.u[c.AReturn] - x*p.sum(c, &l)/l.common()
	if d.gap >= 0 {
		w -= d.inW * (1 - l.before(d.gap)) * x / l.common()
		if gap > d.gap {
			w += d.inW * (x - l.before(d.gap)) / l.common()
		}
	}
	if gap == d.gap {
		volts -= d.inV / (4 * l.gaps()[gap])
	}
	if minus {
		return w - l.rho*volts
	}
	return w + (1-l.rho)*volts
}

// BridgeAmps is the current of the bridge from A to B.
func (p *Point) BridgeAmps() float64 { return p.bridge }

// Live reports whether a place is in one piece with a source that is on; if not, its potential means nothing.
func (p *Point) Live(place int) bool { return p.live[p.plan.rail(place)] }

// Datum reports whether a node is the zero of potential of its piece.
func (p *Point) Datum(node int) bool { return p.datum[node] }

// Plain reports whether a source was solved as E behind R, because no current can leave it.
func (p *Point) Plain(source int) bool { return p.plain[source] }

// Across is the voltage from place a to place b.
func (p *Point) Across(a, b int) float64 { return p.Volts(a) - p.Volts(b) }

// WireAmps is the current of a wire from A to B.
func (p *Point) WireAmps(i int) float64 {
	amps, _ := p.wire(i)
	return amps
}

func (p *Point) wire(i int) (amps, slope float64) {
	pair, w := p.plan.shape.Wires[i], p.values.wires[i]
	return w.current(p.u[pair.A] - p.u[pair.B])
}

// single is a law that is asked for one voltage at a time.
type single interface {
	At(volts float64) (amps, slope float64)
}

// current is the wire's current and slope at a voltage.
func (w Wire) current(v float64) (amps, slope float64) {
	if w.Law == nil {
		return w.G * v, w.G
	}
	if law, ok := w.Law.(single); ok {
		return law.At(v)
	}
	in, out := [1]float64{v}, [2]float64{}
	w.Law.Eval(in[:], out[:1], out[1:])
	return out[0], out[1]
}

// SourceVolts is the voltage at the terminals of a source.
func (p *Point) SourceVolts(i int) float64 {
	pair := p.plan.shape.Sources[i]
	return p.u[pair.A] - p.u[pair.B]
}

// SourceAmps is the current out of the plus terminal of a source.
func (p *Point) SourceAmps(i int) float64 {
	s := p.values.sources[i]
	if p.plain[i] {
		return 0
	}
	amps, _ := s.current(p.SourceVolts(i))
	return amps
}

// Ends are the rail currents of a chain at its two ends, all from A to B.
type Ends struct{ APlus, AReturn, BPlus, BReturn float64 }

// Ends gives the currents at the ends of chain i.
func (p *Point) Ends(i int) Ends {
	c := p.plan.shape.Chains[i]
	l := newLadder(c, p.values.chains[i])
	g, v := l.gaps(), p.loads(i)
	ja := g[0] * (p.u[c.APlus] - p.u[c.AReturn] - v[0])
	jb := g[l.n] * (v[l.n-1] - (p.u[c.BPlus] - p.u[c.BReturn]))
	a := p.sum(c, &l)
	b := a
	if d := p.drawn(i); d.gap >= 0 {
		x := l.before(d.gap)
		a, b = a+d.inW*(1-x), b-d.inW*x
	}
	return Ends{ja + l.rho*a, (1-l.rho)*a - ja, jb + l.rho*b, (1-l.rho)*b - jb}
}

// EndsNear is Ends as near as following left them, without a look at the loads.
func (p *Point) EndsNear(i int) Ends {
	if e := p.chains[i].ends; e != nil {
		return *e
	}
	return p.Ends(i)
}

// sum is the sum of both rail currents of a chain, the same everywhere but for what a bridge draws.
func (p *Point) sum(c Chain, l *ladder) float64 {
	a := l.rho*p.u[c.APlus] + (1-l.rho)*p.u[c.AReturn]
	b := l.rho*p.u[c.BPlus] + (1-l.rho)*p.u[c.BReturn]
	return (a - b) * l.common()
}

// still is how far the ends of a chain may be from those that its loads belong to, in volts.
const still = 1e-12

// loads are the voltages of the loads of a chain. A point that was found by following another keeps those of chains that
// barely moved as they were there; they are brought to the ends here.
func (p *Point) loads(i int) []float64 {
	s, c := &p.chains[i], p.plan.shape.Chains[i]
	a, b := p.u[c.APlus]-p.u[c.AReturn], p.u[c.BPlus]-p.u[c.BReturn]
	if !s.rough && abs(a-s.a) <= still && abs(b-s.b) <= still {
		return s.v
	}
	if v := s.asked.Load(); v != nil {
		return *v
	}
	v := p.relaxed(i, a, b) // whoever else asks at the same time finds the same
	s.asked.Store(&v)
	return v
}

// relaxed finds the voltages of the loads of a chain whose ends are held at a and b, by Newton's method from those of its
// strand.
func (p *Point) relaxed(i int, a, b float64) []float64 {
	s, rails := &p.chains[i], p.values.chains[i]
	l, n := newLadder(p.plan.shape.Chains[i], rails), len(s.v)
	g, x := l.gaps(), newStrip(n)
	amps, slope := make([]float64, n), make([]float64, n)
	copy(x.v, s.v)
	from, to := s.a, s.b
	for range 50 {
		evaluateLaw(rails.Law, x.v, amps, slope)
		if d := p.drawn(i); d.gap >= 0 {
			amps[d.gap-1] += d.inV / 2
			amps[d.gap] += d.inV / 2
		}
		var total sums
		x.eliminate(g, from, to, amps, slope, floor, &total)
		size := x.backSubstitute(a-from, b-to)
		from, to = a, b
		if size <= still {
			break
		}
	}
	return x.v
}

// LoadVolts are the voltages across the loads of chain i. The slice may be the point's own: read it only.
func (p *Point) LoadVolts(i int) []float64 { return p.loads(i) }

// LoadAmps writes the currents of the loads of chain i into dst.
func (p *Point) LoadAmps(i int, dst []float64) {
	law := p.values.chains[i].Law
	if law == nil {
		clear(dst)
		return
	}
	var slope [256]float64 // slopes are not wanted here
	volts := p.loads(i)
	for at := 0; at < len(volts); at += len(slope) {
		end := min(at+len(slope), len(volts))
		law.Eval(volts[at:end], dst[at:end], slope[:end-at])
	}
}

// Rails writes the potentials of both rails at the loads of chain i.
func (p *Point) Rails(i int, plus, minus []float64) {
	c := p.plan.shape.Chains[i]
	l := newLadder(c, p.values.chains[i])
	g := l.gaps()
	sum, share, d := p.sum(c, &l), l.rho*(1-l.rho), p.drawn(i)
	if d.gap >= 0 {
		sum += d.inW * (1 - l.before(d.gap))
	}
	w := l.rho*p.u[c.APlus] + (1-l.rho)*p.u[c.AReturn]
	for k, v := range p.loads(i) {
		w -= sum * share / g[k]
		if k == d.gap {
			w += d.inW / 2 * share / g[k]
			sum -= d.inW
		}
		plus[k] = w + (1-l.rho)*v
		minus[k] = w - l.rho*v
	}
}

// RailPeak is the largest current in either rail of chain i.
func (p *Point) RailPeak(i int) float64 {
	c := p.plan.shape.Chains[i]
	l := newLadder(c, p.values.chains[i])
	g := l.gaps()
	v, sum, d := p.loads(i), p.sum(c, &l), p.drawn(i)
	if d.gap >= 0 {
		sum += d.inW * (1 - l.before(d.gap))
	}
	left, peak := p.u[c.APlus]-p.u[c.AReturn], 0.0
	for k := 0; k <= l.n; k++ {
		right := p.u[c.BPlus] - p.u[c.BReturn]
		if k < l.n {
			right = v[k]
		}
		j := g[k] * (left - right)
		if k == d.gap { // the two halves of its gap
			j += d.inV / 2
			peak = max(peak, abs(j+l.rho*sum), abs((1-l.rho)*sum-j))
			j, sum = j-d.inV, sum-d.inW
		}
		peak = max(peak, abs(j+l.rho*sum), abs((1-l.rho)*sum-j))
		left = right
	}
	return peak
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
