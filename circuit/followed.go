package circuit

import "math"

// A followed chain is a chain as it is drawn at present.
type followed struct {
	swept   int        // how often
	changed bool       // its own values did
	u       [4]float64 // potentials of its terminals when it was swept
	volts   float64    // of its tap then
	push    [4]float64 // what its line pushes out of its terminals beside what the anchor's does
	tap     [2]float64 // and what it pushes out of the rails of its tap
	bend    float64    // of its loads together, see bendOf; below 0 where nobody asked yet
	inside  float64    // how far its loads may have to move beside what its ends do
}

// follows bounds by how much the line of a chain is wrong where its ends now are, in amperes: without end where they are too far
// away to say. A chain that was not swept bends its line there by what it knows of its curvature; bent reports that it did by more
// than the slack.
func (w *Worker) follows(p *Plan, v *Values, i int) (wrong float64, bent bool) {
	f, c := w.follower, p.shape.Chains[i]
	state, at, u, from := &f.chains[i], &f.anchor.chains[i], w.uTry, f.chains[i].u
	if state.swept == 0 {
		from = terminals(c, f.start)
	}
	da, db := u[c.APlus]-u[c.AReturn]-from[0]+from[1], u[c.BPlus]-u[c.BReturn]-from[2]+from[3]
	move := max(abs(da), abs(db))
	t := w.tapOf(i)
	if t != nil {
		move = max(move, abs(t.rails[0].try-t.rails[1].try-state.volts))
	}
	switch {
	case move+state.inside > straight:
		return math.Inf(1), false
	case state.swept > 0:
		if state.bend < 0 {
			state.bend = w.bendOf(v.chains[i].Law, w.strip(p, i).v)
		}
		move += state.inside
		return state.bend / 2 * move * move, false
	case move <= unmoved:
		return 0, false
	}
	k := &at.cubic
	a, b := (k[0]*da*da+2*k[1]*da*db+k[2]*db*db)/2, (k[1]*da*da+2*k[2]*da*db+k[3]*db*db)/2
	// A slope that leaves its tangent ever faster is nowhere farther off it than the chord to where that was measured says; and the
	// second term of the series moves the loads inside.
	wrong = (at.kink/(2*straight) + at.inner*move) * move * move
	if wrong > f.slack {
		return wrong, false
	}
	now := [4]float64{-a, a, -b, b}
	if by := max(abs(now[0]-state.push[0]), abs(now[2]-state.push[2])); wrong+by <= f.slack {
		return wrong + by, false
	}
	if state.push == [4]float64{} {
		f.swept = append(f.swept, i)
	}
	state.push = now
	return wrong, true
}

// sweepFollowed moves the loads of a chain to where its ends now are, evaluates and eliminates them, and draws the chain anew.
func (w *Worker) sweepFollowed(p *Plan, v *Values, i int) {
	f, c := w.follower, p.shape.Chains[i]
	state, law := &f.chains[i], v.chains[i].Law
	w.fillGaps(i, nil)
	if state.swept == 0 {
		w.standAtAnchor(p, i)
	}
	w.moveFollowed(p, i)
	w.sums = sums{}
	w.sweepChain(p, c, i, law, 0, floor)
	// With its ends held, a load sees at most a quarter of the rails; what its step turns into heat bounds how far it goes.
	state.inside = math.Sqrt(-w.sums.ahead * w.ladders[i].loop / 4)
	state.bend = -1
	state.swept++
	w.pushOf(p, i)
	w.follower.stampChain(w, p, i)
}

// standAtAnchor puts the loads of a chain where the anchor has them.
func (w *Worker) standAtAnchor(p *Plan, i int) {
	f, c, x := w.follower, p.shape.Chains[i], w.strip(p, i)
	state, at := &f.chains[i], &f.anchor.chains[i]
	if state.push == [4]float64{} {
		f.swept = append(f.swept, i)
	}
	state.u = terminals(c, f.start)
	copy(x.v, at.volts)
	copy(x.p, f.anchor.p[p.offset[i]:])
	copy(x.q, f.anchor.q[p.offset[i]:])
	clear(x.e)
	clear(x.d)
	if t := w.tapOf(i); t != nil {
		state.volts = t.rails[0].u - t.rails[1].u
	}
}

// moveFollowed moves the loads of a chain along their line to where its ends now are.
func (w *Worker) moveFollowed(p *Plan, i int) {
	state, x, now := &w.follower.chains[i], w.strip(p, i), terminals(p.shape.Chains[i], w.uTry)
	u := state.u
	da, db := now[0]-now[1]-u[0]+u[1], now[2]-now[3]-u[2]+u[3]
	state.u = now
	t := w.tapOf(i)
	if t == nil {
		x.backSubstitute(da, db)
		return
	}
	volts := t.rails[0].try - t.rails[1].try
	d := volts - state.volts
	state.volts = volts
	if state.swept > 0 {
		x.part(0, t.gap).backSubstitute(da, d)
		x.part(t.gap, len(x.v)).backSubstitute(d, db)
	}
}

// pushOf works out what the line of a chain pushes out of its terminals, and of its tap, where all stand as at the anchor,
// beside what the anchor's does.
func (w *Worker) pushOf(p *Plan, i int) {
	f, c := w.follower, p.shape.Chains[i]
	state, start, now, base := &f.chains[i], terminals(c, f.start), f.chains[i].u, &f.anchor.chains[i].amps
	t := w.tapOf(i)
	if t == nil {
		into := w.reduced[i].line(&w.ladders[i], minus(start, now))
		state.push = minus(*base, into)
		return
	}
	r := &t.rails
	left := t.left.line(&t.parts[0], [4]float64{start[0] - now[0], start[1] - now[1], r[0].u - r[0].try, r[1].u - r[1].try})
	right := t.right.line(&t.parts[1], [4]float64{r[0].u - r[0].try, r[1].u - r[1].try, start[2] - now[2], start[3] - now[3]})
	state.push = minus(*base, [4]float64{left[0], left[1], right[2], right[3]})
	state.tap = [2]float64{-left[2] - right[0], -left[3] - right[1]}
}

// endsFollowed are the currents at the ends of a chain by its line, with its terminals at potentials now.
func (w *Worker) endsFollowed(c Chain, i int, now [4]float64) Ends {
	f := w.follower
	state, at := &f.chains[i], &f.anchor.chains[i]
	if state.swept > 0 {
		into := w.reduced[i].line(&w.ladders[i], minus(now, state.u))
		return Ends{into[0], into[1], -into[2], -into[3]}
	}
	line := at.reduced
	line.at = minus(at.amps, state.push)
	into := line.line(&w.ladders[i], minus(now, terminals(c, f.start)))
	return Ends{into[0], into[1], -into[2], -into[3]}
}

func minus(a, b [4]float64) [4]float64 {
	return [4]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]}
}

// stampChain writes the conductances of a swept chain; those of a tapped one are written when its tap is eliminated.
func (f *follower) stampChain(w *Worker, p *Plan, i int) {
	c := p.shape.Chains[i]
	if w.tapOf(i) == nil {
		w.chainSiemens(p, i)
	}
	for _, n := range c.nodes() {
		f.dirty[p.step[n]] = true
	}
}
