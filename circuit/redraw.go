package circuit

import (
	"math"
	"slices"
)

// redraw goes to the answer of the last step and draws anew every element whose line is wrong there by more than the slack. It
// reports whether any was, and the largest error of those that were left.
func (w *Worker) redraw(p *Plan, v *Values) (moved bool, wrong float64) {
	f, u := w.follower, w.uTry
	if clear(f.bound); f.anchor.noise != nil {
		copy(f.bound, f.anchor.noise)
	}
	for n, d := range w.du {
		u[n] = f.start[n] + d
	}
	for i := range w.bridge.taps {
		for r := range 2 {
			n := &w.bridge.taps[i].rails[r]
			n.try = n.u + n.du
		}
	}
	leave := func(amps float64, nodes ...int) {
		wrong = max(wrong, amps)
		for _, n := range nodes {
			f.bound[p.step[n]] += amps
		}
	}
	// What the lines say is rounded, as are the potentials; where next to nothing holds a node, even that may move it.
	for _, i := range f.redrawn {
		pair, l := p.pair(i), f.lines[i]
		leave(hum+ulp*(abs(l.amps)+abs(f.anchor.amps[i])+(l.slope+f.anchor.slope[i])*max(abs(u[pair.A]), abs(u[pair.B]))), pair.A, pair.B)
	}
	for _, b := range []Bridge{f.anchor.point.values.bridge, v.bridge} {
		if !b.none() {
			a, z := p.rail(b.A), p.rail(b.B)
			leave(hum+ulp*(abs(f.anchor.point.bridge)+abs(b.Amps)+b.G*max(abs(u[a]), abs(u[z]))), a, z)
		}
	}
	for _, i := range f.swept {
		l := &w.ladders[i]
		for k, n := range p.shape.Chains[i].nodes() {
			leave(hum+ulp*(abs(f.anchor.chains[i].amps[k])+abs(f.chains[i].push[k])+(l.ends+l.common())*abs(u[n])), n)
		}
	}
	for i := range v.wires {
		wire, pair := &v.wires[i], p.shape.Wires[i]
		if wire.Law == nil || !w.live[pair.A] {
			continue
		}
		volts, l := u[pair.A]-u[pair.B], w.line(i, pair)
		if abs(volts-l.volts) <= unmoved {
			continue
		}
		amps, _ := wire.current(volts)
		if by := abs(amps - l.amps - l.slope*(volts-l.volts)); by > f.slack {
			w.drawWire(p, v, i, volts)
			moved = true
		} else {
			leave(by, pair.A, pair.B)
		}
	}
	for i, pair := range p.shape.Sources {
		if v.sources[i].off() || !w.live[pair.A] {
			continue
		}
		volts, l := u[pair.A]-u[pair.B], w.line(p.sourceBranch(i), pair)
		amps, slope := w.source(i, v.sources[i], volts)
		by := abs(-amps - l.amps - l.slope*(volts-l.volts))
		// Round a corner of its law a supply holds less than its line says, or nothing at all: what is open there bounds no voltage.
		if by > f.slack || by > rounding && -slope < l.slope/2 {
			w.drawSource(p, v, i, volts)
			moved = true
		} else {
			leave(by, pair.A, pair.B)
		}
	}
	for i, c := range p.shape.Chains {
		if w.dead(c) {
			continue
		}
		by, bent := w.follows(p, v, i)
		enough := f.slack
		if w.tapOf(i) != nil { // what its bridge draws moves its loads; with its ends held they see at most a quarter of the rails
			enough = min(enough, 2*f.accuracy/w.ladders[i].loop)
		}
		if by > enough || w.hangs[c.APlus] != w.hangs[c.AReturn] && w.strayed(c, i) {
			w.sweepFollowed(p, v, i)
			bent = true
		} else if by > 0 {
			leave(by, c.APlus, c.AReturn, c.BPlus, c.BReturn)
		}
		if t := w.tapOf(i); t != nil {
			t.rails[0].bound, t.rails[1].bound = by+hum, by+hum
		}
		moved = moved || bent
	}
	return moved, wrong
}

// ulp is the relative size of rounding.
const ulp = 0x1p-52

// hum is what even the line of an element without current may be wrong by, amperes: what is left of differences of its law.
const hum = 1e-13

// absurd is a step, in volts, that no network takes.
const absurd = 1e4

// jump draws every source that the answer carries from one of its flat parts across the steep one to the other, as the steep
// one, and reports whether there was any. Nothing else in such an answer is worth a look.
func (w *Worker) jump(p *Plan, v *Values) (any bool) {
	f := w.follower
	for i, pair := range p.shape.Sources {
		s := v.sources[i]
		if s.off() || w.plain[i] || !w.live[pair.A] {
			continue
		}
		drop := s.resistance() * s.Limit
		was, now := w.line(p.sourceBranch(i), pair).volts, f.startVolts(pair)+w.du[pair.A]-w.du[pair.B]
		if was < s.E-drop && now > s.E+drop || was > s.E && now < s.E-2*drop {
			w.drawSource(p, v, i, s.E-drop/2)
			any = true
		}
	}
	return any
}

// unmoved is a change of voltage too small for any law of a wire to bend in.
const unmoved = 1e-9

// certify bounds how far the answer may be off: the network's answer to the currents by which the lines may be wrong, all of
// one sign. Its conductance matrix is an M-matrix, whose inverse has no negative entry (Berman and Plemmons, Nonnegative
// matrices in the mathematical sciences, 1979, chapter 6), so no other signs make a larger one. A supply holds the network by the
// slope of its line; where a corner of its law is so near that twice the bound could halve that slope, there is no bound.
func (w *Worker) certify(p *Plan, v *Values) float64 {
	f := w.follower
	if !slices.ContainsFunc(f.bound, func(x float64) bool { return x > 0 }) {
		return 0
	}
	copy(w.into, f.bound)
	w.hold(p, w.into)
	for i := range w.bridge.taps {
		for r := range 2 {
			n := &w.bridge.taps[i].rails[r]
			n.push = n.bound
		}
	}
	w.solve(p, w.into, w.excess)
	for i, pair := range p.shape.Sources {
		s, slope := &v.sources[i], w.line(p.sourceBranch(i), pair).slope
		if s.off() || w.plain[i] || !w.live[pair.A] || slope < slack {
			continue
		}
		volts, reach := w.uTry[pair.A]-w.uTry[pair.B], 2*(w.excess[pair.A]+w.excess[pair.B])
		_, below := s.current(volts - reach)
		_, above := s.current(volts + reach)
		if min(-below, -above) < slope/2 {
			return math.Inf(1)
		}
	}
	worst := 0.0
	for n, by := range w.excess {
		if by = abs(by); w.hangs[n] {
			by *= lightly
		}
		worst = max(worst, by)
	}
	for _, t := range w.bridge.taps {
		worst = max(worst, abs(t.rails[0].du), abs(t.rails[1].du))
	}
	return worst
}

// slack is a slope, in siemens, by which a supply holds nothing.
const slack = 1e-12
