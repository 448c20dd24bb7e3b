package circuit

import (
	"context"
	"math"
)

// Options steer a solve; nil means the defaults.
type Options struct {
	MaxSteps  int     // Newton steps before giving up; 0 means 300
	Tolerance float64 // the largest step in volts at which the point is taken as found; 0 means 1e-12
}

// An Outcome says how a solve ended.
type Outcome int

const (
	Converged   Outcome = iota
	NotFound            // the step limit came first; the point is the best one reached
	Interrupted         // the context was cancelled
)

// A Status describes a solve.
type Status struct {
	Outcome  Outcome
	Steps    int
	Residual float64 // largest current that does not balance at a node or load, amperes
}

// A Worker holds the scratch memory of solves, one after the other. It belongs to one goroutine.
type Worker struct {
	union         union
	pinned, live  []bool
	grounded      []bool
	plain         []bool
	touch         []int
	u, uTry, du   []float64 // per node
	excess        []float64 // per node: current leaving it, all elements
	v, vTry, dv   []float64 // per load
	amps, slope   []float64
	p, q          []float64
	g             []float64 // per slot: conductance between two nodes
	leak, into    []float64 // per step of elimination
	inverse       []float64
	wireSlope     []float64
	sourceSlope   []float64
	ladders       []ladder
	reducedChains []reduced
}

// NewWorker returns an empty worker.
func NewWorker() *Worker { return &Worker{} }

// floor is the least slope of a law that elimination uses, in siemens, unless that asks for too long a step. It is in
// the linear algebra only, never in the balance of currents, so it changes the path and not the point.
const floor = 1e-18

// rounding is the current in amperes that 5 V potentials leave open at the 1e5 S of a short.
const rounding = 2e-9

// Solve finds the operating point. It starts from the point from, which may be one of other values of the same plan, or
// from the linear network (sources as E behind R, no loads) if from is nil.
func (w *Worker) Solve(ctx context.Context, plan *Plan, values *Values, from *Point, options *Options) (*Point, Status) {
	maxSteps, tolerance := 300, 1e-12
	if options != nil && options.MaxSteps > 0 {
		maxSteps = options.MaxSteps
	}
	if options != nil && options.Tolerance > 0 {
		tolerance = options.Tolerance
	}
	w.prepare(plan, values)
	w.begin(plan, values, from)
	status := w.newton(ctx, plan, values, maxSteps, tolerance)
	return w.point(plan, values), status
}

func (w *Worker) prepare(p *Plan, v *Values) {
	if len(v.wires) != len(p.shape.Wires) || len(v.sources) != len(p.shape.Sources) || len(v.chains) != len(p.shape.Chains) {
		panic("circuit: values of another plan")
	}
	n, m := p.shape.Nodes, p.Loads()
	for _, s := range []*[]float64{&w.u, &w.uTry, &w.du, &w.excess, &w.leak, &w.into, &w.inverse} {
		*s = resize(*s, n)
	}
	for _, s := range []*[]float64{&w.v, &w.vTry, &w.dv, &w.amps, &w.slope, &w.p, &w.q} {
		*s = resize(*s, m)
	}
	for _, s := range []*[]bool{&w.pinned, &w.live, &w.grounded} {
		*s = resize(*s, n)
	}
	w.touch = resize(w.touch, n)
	w.plain = resize(w.plain, len(p.shape.Sources))
	w.g = resize(w.g, len(p.near))
	w.wireSlope = resize(w.wireSlope, len(p.shape.Wires))
	w.sourceSlope = resize(w.sourceSlope, len(p.shape.Sources))
	w.reducedChains = resize(w.reducedChains, len(p.shape.Chains))
	w.ladders = resize(w.ladders, len(p.shape.Chains))
	for i, c := range p.shape.Chains {
		w.ladders[i] = newLadder(c, v.chains[i])
	}
	w.islands(p, v)
}

// begin sets the first point.
func (w *Worker) begin(p *Plan, v *Values, from *Point) {
	clear(w.u)
	clear(w.v)
	if from == nil {
		w.linear(p, v)
		return
	}
	if from.plan != p {
		panic("circuit: a start of another plan")
	}
	copy(w.u, from.u)
	copy(w.v, from.v)
	w.settle(p)
}

// settle makes a start obey the pins: pieces without a source are at 0, and the datum of every other piece is at 0.
func (w *Worker) settle(p *Plan) {
	datum := make(map[int]float64)
	for n, pinned := range w.pinned {
		if pinned && w.live[n] {
			datum[w.union.find(n)] = w.u[n]
		}
	}
	for n := range w.u {
		if w.live[n] {
			w.u[n] -= datum[w.union.find(n)]
		} else {
			w.u[n] = 0
		}
	}
	for i, c := range p.shape.Chains {
		if !w.live[c.APlus] {
			clear(w.v[p.offset[i]:p.offset[i+1]])
		}
	}
}

// linear solves the network with every source as E behind R, every law as its slope at 0 V and no loads.
func (w *Worker) linear(p *Plan, v *Values) {
	clear(w.excess)
	clear(w.amps)
	clear(w.slope)
	for i, wire := range v.wires {
		w.wireSlope[i] = absent
		if !wire.open() {
			_, w.wireSlope[i] = wire.current(0)
		}
	}
	for i, s := range v.sources {
		w.sourceSlope[i] = absent
		if s.off() {
			continue
		}
		g := 1 / s.resistance()
		w.sourceSlope[i] = g
		w.excess[p.shape.Sources[i].A] -= g * s.E
		w.excess[p.shape.Sources[i].B] += g * s.E
	}
	w.step(p, floor)
	copy(w.u, w.du)
	copy(w.v, w.dv)
}

// newton moves to the operating point.
func (w *Worker) newton(ctx context.Context, p *Plan, v *Values, maxSteps int, tolerance float64) Status {
	span := 1.0
	for _, s := range v.sources {
		if !s.off() {
			span = max(span, 2*math.Abs(s.E))
		}
	}
	last, stalled := math.Inf(1), 0
	w.evaluate(p, v, w.u, w.v)
	for steps := 1; ; steps++ {
		if ctx.Err() != nil {
			return Status{Interrupted, steps - 1, w.residual(p)}
		}
		size := w.boundedStep(p, span)
		slope := w.descent(p, w.u, w.v)
		if size <= tolerance || slope >= 0 {
			w.move(p, v, 1)
			return Status{Converged, steps, w.residual(p)}
		}
		// Where every law is flat, steps no longer shrink; nor do they at the floor of rounding beside a short.
		if stalled++; size < 0.5*last {
			stalled = 0
		}
		if stalled >= 3 && w.residual(p) < rounding {
			return Status{Converged, steps, w.residual(p)}
		}
		if steps >= maxSteps {
			return Status{NotFound, steps, w.residual(p)}
		}
		w.search(p, v, slope)
		last = size
	}
}

// boundedStep computes a step that is nowhere longer than span volts, and returns its size. Where sources at their limit
// feed loads at theirs, everything is flat and Newton's step has no bound; raising the floor then shortens it there
// and leaves it alone elsewhere (Levenberg, Quart. Appl. Math. 2, 1944).
func (w *Worker) boundedStep(p *Plan, span float64) float64 {
	for least := floor; ; {
		w.step(p, least)
		size := max(largest(w.du), largest(w.dv))
		if size <= span || least > 1 {
			return size
		}
		least *= 2 * size / span
	}
}

// search moves along the step to a place where the co-content, whose slope along the step is slope at the start, is
// lower, and its slope has lost most of its size. The slope never falls along a step, since the co-content is convex.
func (w *Worker) search(p *Plan, v *Values, slope float64) {
	const enough = 0.1
	at := w.try(p, v, 1)
	if at <= -enough*slope {
		w.accept()
		return
	}
	low, high := 0.0, 1.0
	atLow, atHigh := slope, at
	for range 100 {
		t := within(low, high, low-atLow*(high-low)/(atHigh-atLow))
		at = w.try(p, v, t)
		if at <= 0 && at >= enough*slope {
			break
		}
		if at < 0 {
			low, atLow = t, at
		} else {
			high, atHigh = t, at
		}
		if high-low < 1e-9*high {
			break
		}
	}
	if at > 0 {
		w.try(p, v, low)
	}
	w.accept()
}

// within keeps a guess at the root inside the bracket: by ratio while the bracket spans orders of magnitude (a step into
// a flat region may be far too long), by distance after that.
func within(low, high, guess float64) float64 {
	switch margin := 0.1 * (high - low); {
	case low == 0:
		return min(max(guess, high/30), 0.9*high)
	case high > 10*low:
		return math.Sqrt(low * high)
	default:
		return min(max(guess, low+margin), high-margin)
	}
}

// try evaluates the point t along the step and returns the slope of the co-content there.
func (w *Worker) try(p *Plan, v *Values, t float64) float64 {
	along(w.uTry, w.u, w.du, t)
	along(w.vTry, w.v, w.dv, t)
	w.evaluate(p, v, w.uTry, w.vTry)
	return w.descent(p, w.uTry, w.vTry)
}

func (w *Worker) accept() {
	w.u, w.uTry = w.uTry, w.u
	w.v, w.vTry = w.vTry, w.v
}

func (w *Worker) move(p *Plan, v *Values, t float64) {
	w.try(p, v, t)
	w.accept()
}

// evaluate computes every current and slope at the point (u, v): the loads' and, per node, the current that leaves it.
func (w *Worker) evaluate(p *Plan, vals *Values, u, v []float64) {
	clear(w.excess)
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
	for i := range p.shape.Chains {
		w.evaluateChain(p, vals, i, u, v[p.offset[i]:p.offset[i+1]])
	}
}

func (w *Worker) source(i int, s Source, v float64) (amps, slope float64) {
	if w.plain[i] {
		g := 1 / s.resistance()
		return g * (s.E - v), -g
	}
	return s.current(v)
}

func (w *Worker) evaluateChain(p *Plan, vals *Values, i int, u, v []float64) {
	c, l := p.shape.Chains[i], &w.ladders[i]
	amps, slope := w.amps[p.offset[i]:p.offset[i+1]], w.slope[p.offset[i]:p.offset[i+1]]
	if law := vals.chains[i].Law; law != nil {
		law.Eval(v, amps, slope)
	} else {
		clear(amps)
		clear(slope)
	}
	ja := l.conductance(0) * (u[c.APlus] - u[c.AReturn] - v[0])
	jb := l.conductance(l.n) * (v[l.n-1] - (u[c.BPlus] - u[c.BReturn]))
	a := l.rho*u[c.APlus] + (1-l.rho)*u[c.AReturn]
	b := l.rho*u[c.BPlus] + (1-l.rho)*u[c.BReturn]
	sum := (a - b) * l.common()
	w.excess[c.APlus] += ja + l.rho*sum
	w.excess[c.AReturn] += (1-l.rho)*sum - ja
	w.excess[c.BPlus] -= jb + l.rho*sum
	w.excess[c.BReturn] -= (1-l.rho)*sum - jb
}

// descent is the slope of the co-content along the step at the point last evaluated.
func (w *Worker) descent(p *Plan, u, v []float64) float64 {
	sum := 0.0
	for n, e := range w.excess {
		sum += e * w.du[n]
	}
	for i, c := range p.shape.Chains {
		a, b := p.offset[i], p.offset[i+1]
		sum += w.ladders[i].descent(u[c.APlus]-u[c.AReturn], u[c.BPlus]-u[c.BReturn], v[a:b], w.amps[a:b], w.dv[a:b])
	}
	return sum
}

// residual is the largest current out of balance at the point last evaluated.
func (w *Worker) residual(p *Plan) float64 {
	worst := 0.0
	for n, e := range w.excess {
		if !w.pinned[n] {
			worst = max(worst, math.Abs(e))
		}
	}
	for i, c := range p.shape.Chains {
		a, b := p.offset[i], p.offset[i+1]
		worst = max(worst, w.ladders[i].worst(w.u[c.APlus]-w.u[c.AReturn], w.u[c.BPlus]-w.u[c.BReturn], w.v[a:b], w.amps[a:b]))
	}
	return worst
}

func (w *Worker) point(p *Plan, v *Values) *Point {
	return &Point{
		plan: p, values: v,
		u:     append([]float64(nil), w.u...),
		v:     append([]float64(nil), w.v...),
		live:  append([]bool(nil), w.live...),
		plain: append([]bool(nil), w.plain...),
	}
}

func largest(x []float64) float64 {
	worst := 0.0
	for _, v := range x {
		worst = max(worst, math.Abs(v))
	}
	return worst
}

func along(dst, from, step []float64, t float64) {
	for i := range dst {
		dst[i] = from[i] + t*step[i]
	}
}
