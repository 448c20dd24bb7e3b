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
	union       union
	pinned      []bool
	live        []bool
	grounded    []bool
	plain       []bool
	touch       []int
	u, du       []float64 // per node: potential and step
	uTry        []float64 // per node: potential at the place along the step that was last evaluated
	excess      []float64 // per node: current leaving it there, all elements
	loads       strip     // all chains one after the other; v is at the place last evaluated
	at          float64   // how far along the step that is
	amps, slope []float64 // of one chain at a time
	gaps        []float64 // of one chain at a time
	g           []float64 // per slot: conductance between two nodes
	leak, into  []float64 // per step of elimination
	inverse     []float64
	siemens     []float64 // per branch: its conductance
	wireSlope   []float64
	sourceSlope []float64
	ladders     []ladder
	reduced     []reduced
	sums        sums
	bridge      bridged
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
	w.begin(ctx, plan, values, from)
	w.beginTaps(plan)
	status := w.newton(ctx, plan, values, maxSteps, tolerance)
	if w.bridge.parted && status.Outcome == Converged {
		status.Outcome = NotFound
	}
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
	for _, s := range []*[]float64{&w.loads.v, &w.loads.d, &w.loads.e, &w.loads.p, &w.loads.q} {
		*s = resize(*s, m)
	}
	longest := 0
	for _, c := range p.shape.Chains {
		longest = max(longest, c.Loads)
	}
	w.amps, w.slope, w.gaps = resize(w.amps, longest), resize(w.slope, longest), resize(w.gaps, longest+1)
	for _, s := range []*[]bool{&w.pinned, &w.live, &w.grounded} {
		*s = resize(*s, n)
	}
	w.touch = resize(w.touch, n)
	w.plain = resize(w.plain, len(p.shape.Sources))
	w.g = resize(w.g, len(p.near))
	w.siemens = resize(w.siemens, p.branches())
	w.wireSlope = resize(w.wireSlope, len(p.shape.Wires))
	w.sourceSlope = resize(w.sourceSlope, len(p.shape.Sources))
	w.reduced = resize(w.reduced, len(p.shape.Chains))
	w.ladders = resize(w.ladders, len(p.shape.Chains))
	for i, c := range p.shape.Chains {
		w.ladders[i] = newLadder(c, v.chains[i])
	}
	w.cross(p, v)
	w.islands(p, v)
}

// begin sets the first point.
func (w *Worker) begin(ctx context.Context, p *Plan, v *Values, from *Point) {
	clear(w.u)
	clear(w.du)
	w.at = 0
	if from == nil && p.coarse != nil {
		w.coarseStart(ctx, p, v)
		return
	}
	if from == nil {
		w.linear(p, v)
		return
	}
	if from.plan != p {
		panic("circuit: a start of another plan")
	}
	copy(w.u, from.u)
	copy(w.loads.v, from.v)
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
			clear(w.loads.v[p.offset[i]:p.offset[i+1]])
		}
	}
}

// startLeak stands for the loads of a chain in the first point, in siemens at each end: enough that rounding cannot drive pieces
// that only loads join kilovolts apart, too little to matter elsewhere.
const startLeak = 1e-6

// linear solves the network with every source as E behind R, every law as its slope at 0 V and next to no loads. A chain without
// loads is one conductance, so nothing is swept; its loads are put on the line between its ends.
func (w *Worker) linear(p *Plan, v *Values) {
	clear(w.excess)
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
	for i := range w.ladders {
		w.reduced[i] = reduced{through: 1 / w.ladders[i].loop, leakA: startLeak, leakB: startLeak}
	}
	w.solveNodes(p, floor)
	copy(w.u, w.du)
	for i, c := range p.shape.Chains {
		w.interpolate(p, i, w.u[c.APlus]-w.u[c.AReturn], w.u[c.BPlus]-w.u[c.BReturn])
	}
	clear(w.du)
}

// interpolate puts the loads of a chain on the straight line between the voltages of its ends.
func (w *Worker) interpolate(p *Plan, i int, va, vb float64) {
	v := w.loads.v[p.offset[i]:p.offset[i+1]]
	for k := range v {
		v[k] = va + (vb-va)*(float64(k)+0.5)/float64(len(v))
	}
}

// newton moves to the operating point. Each step solves the linear network around the point last evaluated, then tries
// the full step; the sweep that evaluates a place also eliminates the chains there, so an accepted step costs one sweep
// forwards and one back.
func (w *Worker) newton(ctx context.Context, p *Plan, v *Values, maxSteps int, tolerance float64) Status {
	span := 1.0
	for _, s := range v.sources {
		if !s.off() {
			span = max(span, 2*math.Abs(s.E))
		}
	}
	last, best, stalled := math.Inf(1), math.Inf(1), 0
	overshot := math.Inf(1) // slope at the start of the last step that was let overshoot
	w.evaluate(p, v, 0, floor)
	for steps := 1; ; steps++ {
		if ctx.Err() != nil {
			return Status{Interrupted, steps - 1, w.residual()}
		}
		before := w.residual()
		size, slope, at := w.boundedStep(p, v, span)
		if math.IsNaN(size + slope) {
			return w.giveUp(p, v, steps)
		}
		if size <= tolerance || slope >= 0 {
			w.accept()
			return Status{Converged, steps, w.residual()}
		}
		// Where every law is flat, steps no longer shrink; nor do they at the floor of rounding beside a short.
		if stalled++; size < 0.5*best {
			best, stalled = size, 0
		}
		if settled := stalled >= 3 && before < rounding; settled || steps >= maxSteps {
			w.evaluate(p, v, 0, floor)
			w.accept()
			return Status{outcome(settled), steps, w.residual()}
		}
		// A full step that ends a little beyond the lowest place is Newton's way near the point, and spares a sweep. But beyond a
		// kink it may end higher than it began, and the next one may lead back; so each must start from half the slope.
		switch {
		case at <= 0 || before < rounding:
			w.accept()
		case at <= -enough*slope && -slope < 0.5*overshot:
			overshot = -slope
			w.accept()
		default:
			w.search(p, v, slope, at)
		}
		// Newton's steps shrink as the square of the one before. Where the next would be below the tolerance and
		// currents balance, it need not be made.
		if size < 1e-4 && size*size*size <= 0.1*tolerance*last*last && w.residual() < rounding {
			return Status{Converged, steps, w.residual()}
		}
		last = size
	}
}

// giveUp answers for values so far apart that the arithmetic has overflowed: nothing is found, and every voltage is 0.
func (w *Worker) giveUp(p *Plan, v *Values, steps int) Status {
	for _, x := range [][]float64{w.u, w.du, w.loads.v, w.loads.d} {
		clear(x)
	}
	for i := range w.bridge.taps {
		w.bridge.taps[i].rails = [2]loose{}
	}
	w.at = 0
	w.evaluate(p, v, 0, floor)
	w.accept()
	return Status{NotFound, steps, w.residual()}
}

func outcome(found bool) Outcome {
	if found {
		return Converged
	}
	return NotFound
}

// boundedStep computes a step that is nowhere longer than span volts and goes to its end. It returns the size of the step and
// the slope of the co-content along it, at its start and at its end. Where sources at their limit feed loads at theirs,
// everything is flat and Newton's step has no bound; raising the floor then shortens it there and leaves it alone
// elsewhere (Levenberg, Quart. Appl. Math. 2, 1944).
func (w *Worker) boundedStep(p *Plan, v *Values, span float64) (size, slope, at float64) {
	for least := floor; ; {
		slope = w.sums.ahead + w.solveNodes(p, least)
		// Loads are moved in place, so a step that may have to be undone must not be so long that it swallows where they stood.
		if size = largest(w.du); !(size > span) || least > 1 {
			if size, at = w.stride(p, v); !(size > span) || least > 1 {
				return size, slope, at
			}
		}
		least *= 2 * size / span
		w.evaluate(p, v, 0, least)
	}
}

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

// enough is the share of its first size to which a search brings the slope along a step.
const enough = 0.1

// search moves along the step to a place where the co-content, whose slope along the step is slope at the start, is
// lower, and its slope has lost most of its size. The slope never falls along a step, since the co-content is convex.
//
// The full step is already taken; at is the slope there.
func (w *Worker) search(p *Plan, v *Values, slope, at float64) {
	low, high := 0.0, 1.0
	atLow, atHigh, moved := slope, at, 0
	for range 100 {
		t := within(low, high, low-atLow*(high-low)/(atHigh-atLow))
		at = w.evaluate(p, v, t, floor)
		if at <= 0 && at >= enough*slope {
			break
		}
		// An end that stays while the other moves twice counts for half, so that beside a kink, where the straight line points at
		// the same end for ever, both ends move (the Illinois rule: Dowell and Jarratt, BIT 11, 1971).
		if at < 0 {
			if moved < 0 {
				atHigh /= 2
			}
			low, atLow, moved = t, at, -1
		} else {
			if moved > 0 {
				atLow /= 2
			}
			high, atHigh, moved = t, at, 1
		}
		if high-low < 1e-9*high {
			break
		}
	}
	if at > 0 {
		w.evaluate(p, v, low, floor)
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

// accept makes the place last evaluated the point.
func (w *Worker) accept() {
	w.u, w.uTry = w.uTry, w.u
	w.bridge.acceptTaps()
	w.at = 0
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
	if law != nil {
		law.Eval(x.v, amps, slope)
	} else {
		clear(amps)
		clear(slope)
	}
	u, out := w.uTry, w.excess
	t := w.tapOf(i)
	if t == nil {
		r, at := x.reduce(&w.ladders[i], g, [4]float64{u[c.APlus], u[c.AReturn], u[c.BPlus], u[c.BReturn]}, amps, slope, least, &w.sums)
		w.reduced[i] = r
		out[c.APlus] += at[0]
		out[c.AReturn] += at[1]
		out[c.BPlus] += at[2]
		out[c.BReturn] += at[3]
		return
	}
	plus, minus, m, whole := &t.rails[0], &t.rails[1], t.gap, g[t.gap]
	g[m] = 2 * whole
	var a, b [4]float64
	t.left, a = x.part(0, m).reduce(&t.parts[0], g[:m+1], [4]float64{u[c.APlus], u[c.AReturn], plus.try, minus.try}, amps[:m], slope[:m], least, &w.sums)
	t.right, b = x.part(m, n).reduce(&t.parts[1], g[m:], [4]float64{plus.try, minus.try, u[c.BPlus], u[c.BReturn]}, amps[m:], slope[m:], least, &w.sums)
	g[m] = whole
	out[c.APlus] += a[0]
	out[c.AReturn] += a[1]
	plus.excess += a[2] + b[0]
	minus.excess += a[3] + b[1]
	out[c.BPlus] += b[2]
	out[c.BReturn] += b[3]
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

func (w *Worker) point(p *Plan, v *Values) *Point {
	datum := make([]bool, len(w.pinned))
	for n, pinned := range w.pinned {
		datum[n] = pinned && w.live[n]
	}
	x := &Point{
		datum: datum,
		plan:  p, values: v,
		u:     append([]float64(nil), w.u...),
		v:     append([]float64(nil), w.loads.v...),
		live:  append([]bool(nil), w.live...),
		plain: append([]bool(nil), w.plain...),
	}
	if w.bridge.on {
		x.bridge, x.draws = w.bridge.amps, w.bridge.draws()
	}
	return x
}

func largest(x []float64) float64 {
	worst := 0.0
	for _, v := range x {
		worst = max(worst, math.Abs(v))
	}
	return worst
}
