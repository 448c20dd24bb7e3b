package circuit

import (
	"context"
	"flag"
	"math"
	"math/rand"
	"testing"
)

var networks = flag.Int("networks", 20000, "how many random networks the proof of the co-content solves")

// TestNoStepRaisesTheCoContent watches every step that a full solve accepts. The operating point is the minimum of the
// co-content, the sum over all elements of the integral of current over voltage. The solver never computes it, nor does this test:
// its change along a step is the integral of the excess current along the straight way from place to place, from the
// elements' laws alone. That slope never falls on the way, so where it is not above 0 at the end, the co-content did not rise;
// where it is, the integral is bracketed.
//
// A solve may still stand still. Of a million such networks, some do not end within 300 steps: all float, held by nothing but the
// tail of an idle supply or a law that is flat, beside elements stiffer than a short; there the last microampere is lost in the
// rounding of the step. More than one in fifty thousand is too many.
func TestNoStepRaisesTheCoContent(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	random := rand.New(rand.NewSource(3))
	w := NewWorker()
	steps, beyond, lost := 0, 0, 0
	for k := range *networks {
		p, v := looseNetwork(random)
		path := w.trace(p, v)
		if path.status.Outcome == NotFound && v.bridge.Amps == 0 {
			lost++
			t.Logf("network %d: not found after %d steps, %.2g A left open", k, path.status.Steps, path.status.Residual)
		}
		for i := range len(path.places) - 1 {
			c := path.climb(path.places[i], path.places[i+1])
			steps++
			if c.slope(1) <= c.rounding {
				continue
			}
			beyond++
			if low, _ := c.change(); low > c.rounding {
				t.Errorf("network %d, step %d of %d: slope %.3g W at its start, %.3g W at its end, at least %.3g W higher; rounding %.2g W",
					k, i+1, path.status.Steps, c.slope(0), c.slope(1), low, c.rounding)
			}
		}
		if whole := path.climb(path.places[0], path.places[len(path.places)-1]); path.status.Outcome == Converged {
			if low, _ := whole.change(); low > whole.rounding {
				t.Errorf("network %d: the answer is %g W above the start", k, low)
			}
		}
	}
	if lost*50000 > *networks {
		t.Errorf("%d of %d networks are not found", lost, *networks)
	}
	t.Logf("%d steps of %d networks, %d of which ended beyond the lowest place; %d networks not found", steps, *networks, beyond, lost)
}

// A stand is one place on the way to the point.
type stand struct {
	u, loads []float64
	taps     [][2]float64
}

// A path is the places that a full solve went through, from its start on.
type path struct {
	worker *Worker
	plan   *Plan
	values *Values
	places []stand
	status Status
}

// trace solves as Solve does in full from cold, and keeps the places.
func (w *Worker) trace(p *Plan, v *Values) path {
	x := path{worker: w, plan: p, values: v}
	keep := func() {
		s := stand{u: append([]float64(nil), w.u...), loads: append([]float64(nil), w.loads.v...)}
		for _, t := range w.bridge.taps {
			s.taps = append(s.taps, [2]float64{t.rails[0].u, t.rails[1].u})
		}
		x.places = append(x.places, s)
	}
	w.prepare(p, v)
	w.begin(context.Background(), p, v, nil)
	w.beginTaps(p)
	keep()
	w.accepted = keep
	x.status = w.newton(context.Background(), p, v, 300, 1e-12)
	w.accepted = nil
	if x.status.Outcome == NotFound { // the last step was only undone
		x.places = x.places[:len(x.places)-1]
	}
	return x
}

// A piece is one two-terminal element on the way from one place to another: its voltage where the way begins, by how much that
// moves, its current at any voltage, and about its steepest slope.
type piece struct {
	from, move float64
	amps       func(volts float64) float64
	steep      float64
}

// less is the way from another place: how far every potential moved, which is exact where the places are near each other.
func (s stand) less(o stand) (d stand) {
	for i := range s.u {
		d.u = append(d.u, s.u[i]-o.u[i])
	}
	for i := range s.loads {
		d.loads = append(d.loads, s.loads[i]-o.loads[i])
	}
	for i := range s.taps {
		d.taps = append(d.taps, [2]float64{s.taps[i][0] - o.taps[i][0], s.taps[i][1] - o.taps[i][1]})
	}
	return d
}

// furthest is the largest of all potentials.
func (s stand) furthest() float64 {
	most := max(largest(s.u), largest(s.loads))
	for _, t := range s.taps {
		most = max(most, largest(t[:]))
	}
	return most
}

// climb is the way from one place to another: for chains, in the voltage between the rails and in w.
func (x *path) climb(from, to stand) *climb {
	c := &climb{}
	move := to.less(from)
	// across makes a piece of an element whose voltage is a linear form of the place.
	across := func(form func(stand) float64, steep float64, amps func(float64) float64) {
		c.pieces = append(c.pieces, piece{form(from), form(move), amps, steep})
	}
	pair := func(z Pair) func(stand) float64 { return func(s stand) float64 { return s.u[z.A] - s.u[z.B] } }
	w, p, v := x.worker, x.plan, x.values
	for i, z := range p.shape.Wires {
		if wire := v.wires[i]; !wire.open() && z.A != z.B {
			across(pair(z), steepest(wire), currentOf(wire))
		}
	}
	for i, z := range p.shape.Sources {
		if s := v.sources[i]; !s.off() {
			across(pair(z), 1/s.resistance(), func(volts float64) float64 { amps, _ := w.source(i, s, volts); return -amps })
		}
	}
	if z := v.bridge; w.bridge.on {
		end := func(s stand, e bridgeEnd) float64 {
			if e.tap < 0 {
				return s.u[e.node]
			}
			return s.taps[e.tap][e.rail]
		}
		across(func(s stand) float64 { return end(s, w.bridge.ends[0]) - end(s, w.bridge.ends[1]) }, z.G,
			func(volts float64) float64 { return z.Amps + z.G*volts })
	}
	for i := range p.shape.Chains {
		x.climbChain(i, across)
	}
	c.measure(move.furthest(), from.furthest()+move.furthest())
	return c
}

func currentOf(wire Wire) func(volts float64) float64 {
	return func(volts float64) float64 { amps, _ := wire.current(volts); return amps }
}

// steepest is the largest slope that a wire has at any voltage.
func steepest(wire Wire) float64 {
	if law, ok := wire.Law.(interface{ steepest() float64 }); ok {
		return law.steepest()
	}
	return wire.G
}

// climbChain gives the gaps, loads and common-mode conductances of a chain, with the gap of a tap in two halves.
func (x *path) climbChain(i int, across func(form func(stand) float64, steep float64, amps func(float64) float64)) {
	c, rails := x.plan.shape.Chains[i], x.values.chains[i]
	l, first := newLadder(c, rails), x.plan.offset[i]
	at, tap := -1, -1
	if x.worker.bridge.on {
		for k, t := range x.worker.bridge.taps {
			if t.chain == i {
				at, tap = t.gap, k
			}
		}
	}
	straight := func(g float64, form func(stand) float64) { across(form, g, currentOf(Wire{G: g})) }
	// level is the voltage between the rails after so many loads, the ends and the tap being levels too.
	load := func(k int) func(stand) float64 {
		return func(s stand) float64 {
			switch {
			case k < 0:
				return s.u[c.APlus] - s.u[c.AReturn]
			case k == l.n:
				return s.u[c.BPlus] - s.u[c.BReturn]
			}
			return s.loads[first+k]
		}
	}
	between := func(a, b func(stand) float64) func(stand) float64 {
		return func(s stand) float64 { return a(s) - b(s) }
	}
	middle := func(s stand) float64 { return s.taps[tap][0] - s.taps[tap][1] }
	for k, g := range l.gaps() {
		if k == at {
			straight(2*g, between(load(k-1), middle))
			straight(2*g, between(middle, load(k)))
			continue
		}
		straight(g, between(load(k-1), load(k)))
	}
	for k := range l.n {
		if rails.Law != nil {
			across(load(k), steepest(Wire{Law: rails.Law}), currentOf(Wire{Law: rails.Law}))
		}
	}
	mode := func(plus, minus func(stand) float64) func(stand) float64 {
		return func(s stand) float64 { return l.rho*plus(s) + (1-l.rho)*minus(s) }
	}
	node := func(n int) func(stand) float64 { return func(s stand) float64 { return s.u[n] } }
	rail := func(r int) func(stand) float64 { return func(s stand) float64 { return s.taps[tap][r] } }
	a, b := mode(node(c.APlus), node(c.AReturn)), mode(node(c.BPlus), node(c.BReturn))
	if at < 0 {
		straight(l.common(), between(a, b))
		return
	}
	share, mid := l.before(at), mode(rail(0), rail(1))
	straight(l.common()/share, between(a, mid))
	straight(l.common()/(1-share), between(mid, b))
}

// A climb is the way between two places.
type climb struct {
	pieces   []piece
	rounding float64 // what the co-content's change may be wrong by, watts
}

// roundings is how many roundings the solver's own sums may be off by: it decides by slopes that are sums over all elements of a
// node, and moves loads in place, several times a step.
const roundings = 100

// least is a change in watts that no step is blamed for: a microampere over a nanovolt, a thousand times the step at which a point is
// taken for found.
const least = 1e-15

// measure works out what rounding may do: to the currents of which the slope is a sum, and to the places, which are rounded to
// the size of the potentials, not of the step. Below a leap the solver takes what is less than rounding for balanced.
func (c *climb) measure(moved, top float64) {
	if c.rounding = least; moved < leap {
		c.rounding += rounding * moved
	}
	for _, e := range c.pieces {
		size := max(abs(e.amps(e.from)), abs(e.amps(e.from+e.move)))
		c.rounding += roundings * 0x1p-53 * (size*moved + e.steep*top*(abs(e.move)+roundings*0x1p-53*top))
	}
}

// slope is that of the co-content along the way, at the place t of it.
func (c *climb) slope(t float64) (sum float64) {
	for _, e := range c.pieces {
		if e.move != 0 {
			sum += e.move * e.amps(e.from+t*e.move)
		}
	}
	return sum
}

// change bounds how much higher the co-content is at the end of the way, from below and from above: closely enough to say whether
// it is higher at all, or as closely as a thousand places can.
func (c *climb) change() (low, high float64) {
	for n := 1; n <= 1024; n *= 4 {
		left := c.slope(0)
		low, high = 0, 0
		for k := range n {
			right := c.slope(float64(k+1) / float64(n))
			low, high, left = low+left/float64(n), high+right/float64(n), right
		}
		if high <= c.rounding || low > c.rounding {
			break
		}
	}
	return low, high
}

// looseNetwork is a network of two to eight nodes with anything between them: sources, wires from 1 µΩ to 10 MΩ, laws with and
// without corners, chains of one to six loads, and often a bridge.
func looseNetwork(r *rand.Rand) (*Plan, *Values) {
	s := Shape{Nodes: 2 + r.Intn(7)}
	two := func() Pair {
		a := r.Intn(s.Nodes)
		return Pair{a, (a + 1 + r.Intn(s.Nodes-1)) % s.Nodes}
	}
	for range 1 + r.Intn(3) {
		s.Sources = append(s.Sources, two())
	}
	for range s.Nodes + r.Intn(4) {
		s.Wires = append(s.Wires, two())
	}
	for range r.Intn(3) {
		a, b := two(), two()
		s.Chains = append(s.Chains, Chain{a.A, a.B, b.A, b.B, 1 + r.Intn(6)})
	}
	p, err := NewPlan(s)
	if err != nil {
		panic(err)
	}
	return p, looseValues(r, p)
}

func looseValues(r *rand.Rand, p *Plan) *Values {
	v := p.NewValues()
	for i := range p.shape.Sources {
		v.SetSource(i, Source{E: spread(r, 1, 48), R: spread(r, 1e-6, 10), Limit: spread(r, 1e-3, 1e3), Off: r.Intn(12) == 0})
	}
	for i := range p.shape.Wires {
		switch r.Intn(8) {
		case 0:
		case 1, 2:
			v.SetWire(i, Wire{Law: looseLaw(r)})
		default:
			v.SetWire(i, Wire{G: 1 / spread(r, 1e-6, 1e7)})
		}
	}
	for i, c := range p.shape.Chains {
		rails := Rails{Plus: spread(r, 1e-6, 1e4), Return: spread(r, 1e-6, 1e4)}
		if r.Intn(10) > 0 {
			rails.Law = looseLaw(r)
		}
		for range r.Intn(2) {
			rails.Joints = append(rails.Joints, Joint{Gap: r.Intn(c.Loads + 1), Loop: spread(r, 1e-6, 1e7)})
		}
		v.SetRails(i, rails)
	}
	if r.Intn(3) == 0 {
		v.SetBridge(looseBridge(r, p))
	}
	return v
}

// looseBridge is a bridge between any two places; two taps of one chain are in one gap.
func looseBridge(r *rand.Rand, p *Plan) Bridge {
	z := Bridge{A: r.Intn(p.shape.Nodes), B: r.Intn(p.shape.Nodes)}
	if len(p.shape.Chains) > 0 && r.Intn(3) > 0 {
		i := r.Intn(len(p.shape.Chains))
		plus, minus := p.Tap(i, r.Intn(p.shape.Chains[i].Loads+1))
		switch r.Intn(4) {
		case 0:
			z.A, z.B = plus, minus
		case 1:
			z.A = plus
		case 2:
			z.B = minus
		case 3:
			z.B = plus
		}
	}
	if r.Intn(4) > 0 {
		z.G = 1 / spread(r, 1e-6, 1e7)
	}
	if z.G == 0 || r.Intn(6) == 0 {
		z.Amps = spread(r, 1e-3, 100)
	}
	return z
}

func looseLaw(r *rand.Rand) Law {
	knee := spread(r, 0.5, 40)
	switch r.Intn(4) {
	case 0:
		return bowed{spread(r, 1e-4, 30), spread(r, 1e-3, 10)}
	case 1:
		return cornered{spread(r, 1e-4, 3), knee, knee * (1 + r.Float64())}
	case 2:
		return source{Source{E: knee, R: spread(r, 1e-3, 10), Limit: spread(r, 1e-3, 10)}}
	default:
		return bowed{spread(r, 1e-4, 30), spread(r, 1e-6, 1e-3)}
	}
}

func spread(r *rand.Rand, low, high float64) float64 { return low * math.Pow(high/low, r.Float64()) }

// bowed is amps·v/(volts + |v|): steep at 0, flat far away, smooth between.
type bowed struct{ amps, volts float64 }

func (b bowed) Eval(v, amps, slope []float64) {
	for i, u := range v {
		x := 1 / (b.volts + abs(u))
		amps[i], slope[i] = b.amps*u*x, b.amps*b.volts*x*x
	}
}

func (b bowed) steepest() float64 { return b.amps / b.volts }

// cornered rises from nothing at low to amps at high in a straight line, with corners of no width.
type cornered struct{ amps, low, high float64 }

func (c cornered) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = c.amps*(max(0, u-c.low)-max(0, u-c.high))/(c.high-c.low), 0
		if u > c.low && u < c.high {
			slope[i] = c.amps / (c.high - c.low)
		}
	}
}

func (c cornered) steepest() float64 { return c.amps / (c.high - c.low) }

// source is the law of a sink with soft corners: a supply's turned over, none at 0 V.
type source struct{ Source }

func (s source) Eval(v, amps, slope []float64) {
	zero, _ := s.current(0 + s.E)
	for i, u := range v {
		at, by := s.current(s.E - u)
		amps[i], slope[i] = at-zero, -by
	}
}

func (s source) steepest() float64 { return 1 / s.R }
