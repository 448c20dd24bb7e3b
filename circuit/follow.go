package circuit

import (
	"context"
	"slices"
)

// Following finds the point of other values from a solved one. Every element is a straight line; what changed is drawn anew
// where it stands, and so is, step by step, whatever the answer moves so far that its line no longer holds. Only the rows
// that meet such an element, and those they lead to, are eliminated again. Chains that barely move are never swept. The steps
// are Newton's without damping: where they do not settle, the values are solved in full.

const (
	followSteps = 25
	tightenings = 4
	margin      = 4 // curvature is measured, not known, and loads inside a chain may be off by more than its ends
)

// A line is an element as it is drawn at present: amps and slope at a voltage.
type line struct {
	volts, amps, slope float64
	redrawn            bool
}

// A follower is the state of following.
type follower struct {
	anchor  *anchor
	lines   []line     // per wire, then per source
	redrawn []int      // those that differ from the anchor's
	chains  []followed // per chain
	swept   []int      // those that differ from the anchor's, swept or only bent
	dirty   []bool     // per step: its row is to be eliminated again
	touched []int      // rows that differ from the anchor's
	start   []float64  // per node: potential at the anchor, with the zeros of the new values
	bound   []float64  // per step: current that the lines may be wrong by
	slack   float64    // what a line may be wrong by, amperes

	accuracy float64 // what the answer may, volts, at the ends of chains
}

// follow solves values from a point; ok is false where it does not settle, or where so much changed that a full solve is
// as good.
func (w *Worker) follow(ctx context.Context, p *Plan, v *Values, from *Point, accuracy float64) (point *Point, status Status, ok bool) {
	if many(v, from.values) {
		return nil, status, false
	}
	f := w.followerOf(p, from)
	w.prepare(p, v)
	w.restore(p)
	w.startFollowing(p, v, from)
	accuracy /= margin
	f.accuracy, f.slack = accuracy, min(accuracy/(2*f.anchor.ohms), 1e3*accuracy)
	for tries := 0; status.Steps < followSteps && tries < tightenings; {
		if ctx.Err() != nil {
			status.Outcome = Interrupted
			w.redraw(p, v)
			return w.followedPoint(p, v), status, true
		}
		status.Steps++
		w.refactor(p)
		w.pushLines(p, from)
		w.solve(p, w.into, w.du)
		if w.circles(status.Steps) {
			return nil, status, false
		}
		if w.jump(p, v) {
			continue
		}
		if !(largest(w.du) < absurd) {
			return nil, status, false
		}
		var moved bool
		if moved, status.Residual = w.redraw(p, v); moved {
			continue
		}
		bound := w.certify(p, v)
		if bound <= accuracy {
			point = w.followedPoint(p, v)
			point.found = !w.bridge.parted
			if status.Followed = true; w.bridge.parted {
				status.Outcome = NotFound
			}
			return point, status, true
		}
		tries++
		f.slack *= max(accuracy/(2*bound), 1e-3)
		w.pushLines(p, from) // the bound has used the answer's memory
		w.solve(p, w.into, w.du)
		w.redraw(p, v)
	}
	return nil, status, false
}

// roundabout is the longest way round that is looked for, in steps.
const roundabout = 4

// circles reports whether the answer of a step is, for the second time running, where that of two, three or four steps before was, to a
// thousandth of its own step. Steps without damping that do not settle mostly go round so, from one side of the corners of supplies'
// limits to the other, and what has come round twice goes on round: the steps that are left are better saved.
func (w *Worker) circles(step int) bool {
	const near, least = 1e-3, 0.01 // of the step, and volts: a step below that is one of an end in sight
	if step == 1 {
		w.round = [roundabout + 1]int{}
		for i := range w.past {
			w.past[i] = resize(w.past[i], len(w.du))
		}
	}
	move := apart(w.du, w.past[(step+roundabout-1)%roundabout])
	for back := 2; back <= min(roundabout, step-1); back++ {
		if move > least && apart(w.du, w.past[(step-back)%roundabout]) < near*move {
			w.round[back]++
		} else {
			w.round[back] = 0
		}
	}
	copy(w.past[step%roundabout], w.du)
	return slices.Max(w.round[:]) > 1
}

// apart is the largest difference between two lists.
func apart(a, b []float64) float64 {
	most := 0.0
	for i := range a {
		most = max(most, abs(a[i]-b[i]))
	}
	return most
}

// many reports whether so many chains changed that following saves nothing.
func many(v, from *Values) bool {
	changed := 0
	differing(v.chains, from.chains, sameRails, func(int) { changed++ })
	return changed > len(v.chains)/2 && changed > 1
}

// A worker keeps the followers of the points that it last followed, as many as a pulse-width cycle has slices, as long as
// they have no more loads than this together.
const (
	mostFollowers    = 16
	loadsOfFollowers = 1 << 21
)

// followerOf is the follower of a point, made if the worker has none; the oldest go.
func (w *Worker) followerOf(p *Plan, from *Point) *follower {
	for i, f := range w.followers {
		if f.anchor.point == from {
			w.followers = append(append(w.followers[:i:i], w.followers[i+1:]...), f)
			w.follower = f
			return f
		}
	}
	keep := max(0, min(mostFollowers, loadsOfFollowers/max(p.Loads(), 1))-1)
	w.followers = w.followers[max(0, len(w.followers)-keep):]
	n := p.shape.Nodes
	f := &follower{
		anchor: w.anchorAt(p, from), lines: make([]line, p.chainBranch(0)), chains: make([]followed, len(p.shape.Chains)),
		dirty: make([]bool, n), touched: make([]int, 0, n), start: make([]float64, n), bound: make([]float64, n),
	}
	w.followers = append(w.followers, f)
	w.follower, w.rowsOf = f, nil
	return f
}

// restore gives back the anchor's rows and lines where the last values changed them.
func (w *Worker) restore(p *Plan) {
	f := w.follower
	if w.rowsOf != f { // something else has used the rows
		copy(w.g, f.anchor.g)
		copy(w.leak, f.anchor.leak)
		copy(w.inverse, f.anchor.inverse)
		copy(w.siemens, f.anchor.siemens)
		w.rowsOf = f
	}
	for _, k := range f.touched {
		copy(w.g[p.start[k]:p.start[k+1]], f.anchor.g[p.start[k]:p.start[k+1]])
		w.leak[k], w.inverse[k] = f.anchor.leak[k], f.anchor.inverse[k]
	}
	for _, i := range f.redrawn {
		f.lines[i] = line{}
		w.siemens[i] = f.anchor.siemens[i]
	}
	for _, i := range f.swept {
		f.chains[i] = followed{}
		copy(w.siemens[p.chainBranch(i):][:6], f.anchor.siemens[p.chainBranch(i):])
	}
	f.touched, f.redrawn, f.swept = f.touched[:0], f.redrawn[:0], f.swept[:0]
	clear(f.dirty)
}

// startFollowing puts every node where the anchor has it, and draws anew what changed.
func (w *Worker) startFollowing(p *Plan, v *Values, from *Point) {
	f := w.follower
	copy(w.u, from.u)
	w.settle()
	w.hanging(p, v)
	clear(w.du)
	copy(w.uTry, w.u)
	copy(f.start, w.u)
	for n, pinned := range w.pinned {
		if pinned != f.anchor.pinned[n] {
			w.markNode(p, n)
		}
	}
	differing(v.wires, from.values.wires, sameWire, func(i int) { w.drawWire(p, v, i, f.startVolts(p.shape.Wires[i])) })
	redrawSource := func(i int) { w.drawSource(p, v, i, f.startVolts(p.shape.Sources[i])) }
	differing(v.sources, from.values.sources, sameSource, redrawSource)
	for i, plain := range w.plain {
		if plain != from.plain[i] && !f.lines[p.sourceBranch(i)].redrawn {
			redrawSource(i)
		}
	}
	for _, t := range w.bridge.taps {
		copy(w.strip(p, t.chain).v, f.anchor.chains[t.chain].volts) // not what the worker solved last
	}
	w.beginTaps(p)
	for i := range w.bridge.taps {
		for r := range 2 {
			n := &w.bridge.taps[i].rails[r]
			n.try = n.u
		}
	}
	change := func(i int) {
		if f.chains[i].swept == 0 {
			f.chains[i].changed = true
			w.sweepFollowed(p, v, i)
		}
	}
	differing(v.chains, from.values.chains, sameRails, change)
	for _, d := range from.draws {
		change(d.chain)
	}
	if w.bridge.on {
		for _, t := range w.bridge.taps {
			change(t.chain)
		}
	}
	w.fall(p, v)
}

// markNode has the rows of a node and of all that it is joined to eliminated again.
func (w *Worker) markNode(p *Plan, n int) {
	k := p.step[n]
	w.follower.dirty[k] = true
	for _, e := range p.own[p.ownAt[k]:p.ownAt[k+1]] {
		w.follower.dirty[p.step[e.other]] = true
	}
	for _, m := range p.column[p.columnAt[k]:p.columnAt[k+1]] {
		w.follower.dirty[m.step] = true
	}
}

// markBridge has every row eliminated again that a bridge changes.
func (w *Worker) markBridge(p *Plan) {
	b := &w.bridge
	if b.border >= 0 && !w.pinned[b.border] {
		w.markNode(p, b.border)
	}
	if e := b.start; e.tap < 0 {
		w.follower.dirty[p.step[e.node]] = true
	}
	for _, t := range b.taps {
		for _, node := range p.shape.Chains[t.chain].nodes() {
			w.follower.dirty[p.step[node]] = true
		}
	}
}

// markPair has the rows of two nodes eliminated again.
func (w *Worker) markPair(p *Plan, pair Pair) {
	w.follower.dirty[p.step[pair.A]] = true
	w.follower.dirty[p.step[pair.B]] = true
}

// drawWire draws a wire anew at a voltage.
func (w *Worker) drawWire(p *Plan, v *Values, i int, volts float64) {
	wire := v.wires[i]
	amps, slope := 0.0, 0.0
	if !wire.open() {
		amps, slope = wire.current(volts)
		slope = max(slope, floor)
	}
	w.draw(p, i, p.shape.Wires[i], line{volts, amps, slope, true})
}

// drawSource draws a source anew at a voltage; its current counts from plus to minus.
func (w *Worker) drawSource(p *Plan, v *Values, i int, volts float64) {
	s := v.sources[i]
	amps, slope := 0.0, 0.0
	if !s.off() {
		amps, slope = w.source(i, s, volts)
		amps, slope = -amps, max(-slope, floor)
	}
	w.draw(p, p.sourceBranch(i), p.shape.Sources[i], line{volts, amps, slope, true})
}

func (w *Worker) draw(p *Plan, i int, pair Pair, l line) {
	f := w.follower
	if !f.lines[i].redrawn {
		f.redrawn = append(f.redrawn, i)
	}
	f.lines[i] = l
	if w.siemens[i] != l.slope {
		w.siemens[i] = l.slope
		w.markPair(p, pair)
	}
}

func (f *follower) startVolts(pair Pair) float64 { return f.start[pair.A] - f.start[pair.B] }

// line is an element as it is drawn at present.
func (w *Worker) line(i int, pair Pair) line {
	f := w.follower
	if l := f.lines[i]; l.redrawn {
		return l
	}
	return line{f.start[pair.A] - f.start[pair.B], f.anchor.amps[i], f.anchor.slope[i], false}
}

// refactor eliminates again the rows that are marked, and those they lead to.
func (w *Worker) refactor(p *Plan) {
	f, b := w.follower, &w.bridge
	if b.on {
		w.beginBorder(p)
		for _, t := range b.taps {
			w.chainSiemens(p, t.chain)
		}
		w.markBridge(p)
	}
	for k, dirty := range f.dirty {
		if !dirty {
			continue
		}
		f.dirty[k] = false
		f.touched = append(f.touched, k)
		w.row(p, k)
		for _, next := range p.near[p.start[k]:p.start[k+1]] {
			f.dirty[next] = true
		}
	}
	if b.on {
		w.endBorder(p)
	}
}

// pushLines gathers what pushes the nodes away from the anchor: of every element that is drawn anew, what its line says there
// beside what the anchor says.
func (w *Worker) pushLines(p *Plan, from *Point) {
	f, into := w.follower, w.into
	if clear(into); f.anchor.lack != nil {
		copy(into, f.anchor.lack)
	}
	push := func(pair Pair, amps float64) {
		into[p.step[pair.A]] += amps
		into[p.step[pair.B]] -= amps
	}
	for _, i := range f.redrawn {
		pair := p.pair(i)
		l := f.lines[i]
		push(pair, f.anchor.amps[i]-(l.amps+l.slope*(f.start[pair.A]-f.start[pair.B]-l.volts)))
	}
	for _, i := range f.swept {
		for k, n := range p.shape.Chains[i].nodes() {
			into[p.step[n]] += f.chains[i].push[k]
		}
	}
	w.pushBridge(p, from)
	w.hold(p, into)
}

// pushBridge pushes what the bridge draws where all stand as at the anchor, and gives back what the anchor's own bridge drew.
func (w *Worker) pushBridge(p *Plan, from *Point) {
	b, into := &w.bridge, w.into
	for k, place := range []int{from.values.bridge.A, from.values.bridge.B} {
		if from.bridge != 0 && place < p.shape.Nodes {
			into[p.step[place]] += from.bridge * float64(1-2*k)
		}
	}
	if !b.on {
		return
	}
	for i := range b.taps {
		t := &b.taps[i]
		for r := range 2 {
			t.rails[r].push = w.follower.chains[t.chain].tap[r]
		}
	}
	amps := b.current(w.follower.start, looseU)
	for k, e := range b.ends {
		if x := amps * float64(1-2*k); e.tap < 0 {
			into[p.step[e.node]] -= x
		} else {
			b.taps[e.tap].rails[e.rail].push -= x
		}
	}
}

// stray is how far the ends of a chain may move before its loads are kept; below it they are found again when asked for.
const stray = 0.05

// followedPoint is the point that redraw went to.
func (w *Worker) followedPoint(p *Plan, v *Values) *Point {
	f := w.follower
	if b := &w.bridge; b.on {
		b.amps = b.current(w.uTry, looseTry)
	}
	x := w.pointAt(p, v, w.uTry, f.anchor.point)
	ends := make([]Ends, len(p.shape.Chains))
	for i, c := range p.shape.Chains {
		state, at := &f.chains[i], terminals(c, f.anchor.point.u) // of loads as they are; f.start may have moved one rail's zero
		s := &x.chains[i]
		s.v, s.a, s.b = f.anchor.chains[i].volts, at[0]-at[1], at[2]-at[3]
		now := terminals(c, w.uTry)
		if w.tapOf(i) == nil && !w.dead(c) && x.drawn(i).gap < 0 {
			ends[i] = w.endsFollowed(c, i, now)
			s.ends = &ends[i]
		}
		a, b := now[0]-now[1], now[2]-now[3]
		switch {
		case w.dead(c):
			s.v, s.a, s.b = make([]float64, c.Loads), 0, 0
		case w.endsOnly && s.ends != nil && !state.changed && max(abs(a-s.a), abs(b-s.b)) > still: // the anchor's loads will do to begin from
		case state.swept > 0 && (state.changed || max(abs(a-s.a), abs(b-s.b)) > stray):
			w.moveFollowed(p, i)
			s.v, s.a, s.b, s.rough = slices.Clone(w.strip(p, i).v), a, b, true
		}
	}
	return x
}
