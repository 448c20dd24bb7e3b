package circuit

import (
	"context"
	"slices"
)

// Options steer a solve; nil means the defaults.
type Options struct {
	MaxSteps  int     // Newton steps before giving up; 0 means 300
	Tolerance float64 // the largest step in volts at which the point is taken as found; 0 means 1e-12
	Accuracy  float64 // how far, in volts, a point found by following another may lie from it (see lightly); 0 means 1e-6, below 1e-9 every solve is in full
	Ends      bool    // what flows inside chains will hardly be asked for: it is found again when it is
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
	Followed bool    // the point was found by following; Residual is then the largest error of an element's line
}

// A Worker holds the scratch memory of solves, one after the other. It belongs to one goroutine.
type Worker struct {
	union       union
	pinned      []bool
	live        []bool
	grounded    []bool
	hangs, held []bool // per node: see hanging
	endsOnly    bool   // see Options.Ends
	plain       []bool
	touch       []int
	u, du       []float64 // per node: potential and step
	uTry        []float64 // per node: potential at the place along the step that was last evaluated
	excess      []float64 // per node: current leaving it there, all elements
	loads       strip     // all chains one after the other; v is at the place last evaluated
	at          float64   // how far along the step that is
	amps, slope []float64 // of one chain at a time
	gaps        []float64 // of one chain at a time
	alpha, beta []float64 // of one chain at a time: see curve
	second      []float64
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
	followers   []*follower           // the latest last
	follower    *follower             // the one at work
	rowsOf      *follower             // whose rows g, leak, inverse and siemens are; nil for none
	past        [roundabout][]float64 // answers of the last steps of following
	round       [roundabout + 1]int   // how often running they were where they had been so many steps before
	accepted    func()                // told of every place that a full solve accepts; nil but in proofs
}

// NewWorker returns an empty worker.
func NewWorker() *Worker { return &Worker{} }

// floor is the least slope of a law that elimination uses, in siemens, unless that asks for too long a step. It is in
// the linear algebra only, never in the balance of currents, so it changes the path and not the point.
const floor = 1e-18

// rounding is the current in amperes that 5 V potentials leave open at the 1e5 S of a short.
const rounding = 2e-9

// Solve finds the operating point. If from is nil, or was not found itself, it starts from the linear network (sources as E
// behind R, no loads). From a solved point of other values of the same plan it follows what changed (see follow), and costs what
// the change costs; the
// worker keeps what it needs of one such point at a time, so ask for all that start from one point in turn.
func (w *Worker) Solve(ctx context.Context, plan *Plan, values *Values, from *Point, options *Options) (*Point, Status) {
	maxSteps, tolerance, accuracy := 300, 1e-12, 1e-6
	if options != nil {
		maxSteps, tolerance = orElse(options.MaxSteps, maxSteps), orElse(options.Tolerance, tolerance)
		accuracy = orElse(options.Accuracy, accuracy)
	}
	w.endsOnly = options != nil && options.Ends
	if from != nil && from.plan != plan {
		panic("circuit: a start of another plan")
	}
	if from != nil && from.found && accuracy >= 1e-9 {
		if point, status, ok := w.follow(ctx, plan, values, from, accuracy); ok {
			return point, status
		}
	}
	if from != nil && !from.found { // it may lie kilovolts away
		from = nil
	}
	w.prepare(plan, values)
	w.rowsOf = nil
	status := w.inFull(ctx, plan, values, from, maxSteps, tolerance)
	if status.Outcome == NotFound && from != nil { // a start may lie worse than none
		status = w.inFull(ctx, plan, values, nil, maxSteps, tolerance)
	}
	if w.bridge.parted && status.Outcome == Converged {
		status.Outcome = NotFound
	}
	point := w.point(plan, values)
	point.found = status.Outcome == Converged
	point.balanced = point.found && status.Residual <= rounding
	return point, status
}

// inFull solves values from a start, or from cold.
func (w *Worker) inFull(ctx context.Context, p *Plan, v *Values, from *Point, maxSteps int, tolerance float64) Status {
	w.begin(ctx, p, v, from)
	w.beginTaps(p)
	return w.newton(ctx, p, v, maxSteps, tolerance)
}

func orElse[T int | float64](x, otherwise T) T {
	if x > 0 {
		return x
	}
	return otherwise
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
	w.alpha, w.beta, w.second = resize(w.alpha, longest), resize(w.beta, longest), resize(w.second, longest)
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
	w.chooseBorder(p)
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
	copy(w.u, from.u)
	for i := range p.shape.Chains {
		copy(w.strip(p, i).v, from.loads(i))
	}
	w.settle()
	for i, c := range p.shape.Chains {
		if w.dead(c) {
			clear(w.loads.v[p.offset[i]:p.offset[i+1]])
		}
	}
}

// settle makes a start obey the pins: pieces without a source are at 0, and the datum of every other piece is at 0.
func (w *Worker) settle() {
	datum := w.into // not in use before the first step
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
}

// startLeak stands for the loads of a chain in the first point, in siemens at each end, and is the least that a wire with a
// law counts there: enough that rounding cannot drive pieces that only such elements join kilovolts apart, too little to
// matter elsewhere.
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
		if wire.Law != nil {
			w.wireSlope[i] = max(w.wireSlope[i], startLeak)
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
	for i := range w.bridge.taps {
		t := &w.bridge.taps[i]
		t.left = reduced{through: 1 / t.parts[0].loop, leakA: startLeak, leakB: startLeak}
		t.right = reduced{through: 1 / t.parts[1].loop, leakA: startLeak, leakB: startLeak}
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

func (w *Worker) point(p *Plan, v *Values) *Point {
	x := w.pointAt(p, v, w.u, nil)
	loads := w.loads.v // the point keeps them; the worker takes new memory for the next
	w.loads.v = nil
	for i, c := range p.shape.Chains {
		s := &x.chains[i]
		s.v, s.a, s.b = loads[p.offset[i]:p.offset[i+1]], x.u[c.APlus]-x.u[c.AReturn], x.u[c.BPlus]-x.u[c.BReturn]
	}
	return x
}

// pointAt is a point at potentials u, without its loads. What it has in common with another, if that is not nil, it shares with it.
func (w *Worker) pointAt(p *Plan, v *Values, u []float64, like *Point) *Point {
	if like == nil {
		like = new(Point)
	}
	x := &Point{
		plan: p, values: v,
		u:      append([]float64(nil), u...),
		datum:  like.datum,
		chains: make([]strand, len(p.shape.Chains)),
		live:   shared(w.live, like.live),
		plain:  shared(w.plain, like.plain),
	}
	datum := func(n int) bool { return w.pinned[n] && w.live[n] }
	for n := range u {
		if len(like.datum) != len(u) || like.datum[n] != datum(n) {
			x.datum = make([]bool, len(u))
			for n := range u {
				x.datum[n] = datum(n)
			}
			break
		}
	}
	if w.bridge.on {
		x.bridge, x.draws = w.bridge.amps, w.bridge.draws()
	}
	return x
}

// shared is a list that nobody writes to any more: one that is there already, where it is the same.
func shared(now, was []bool) []bool {
	if slices.Equal(now, was) {
		return was
	}
	return slices.Clone(now)
}
