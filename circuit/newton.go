package circuit

import (
	"context"
	"math"
)

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
	reach := span // how far the next step may go: less after one that was of use only at its beginning
	w.evaluate(p, v, 0, floor)
	for steps := 1; ; steps++ {
		if ctx.Err() != nil {
			return Status{Outcome: Interrupted, Steps: steps - 1, Residual: w.residual()}
		}
		before := w.residual()
		size, slope, at := w.boundedStep(p, v, reach)
		if math.IsNaN(size + slope) {
			return w.giveUp(p, v, steps)
		}
		if size <= tolerance || slope >= 0 {
			w.accept()
			return Status{Outcome: Converged, Steps: steps, Residual: w.residual()}
		}
		// Where every law is flat, steps no longer shrink; nor do they at the floor of rounding beside a short. Down the tail
		// of a knee they do not either, but there each leads on by the knee's width.
		if stalled++; size < 0.5*best {
			best, stalled = size, 0
		}
		settled := before < rounding && stalled >= 3 && size < leap || stalled >= 40 && before < w.hush(p)
		if settled || steps >= maxSteps {
			w.evaluate(p, v, 0, floor)
			w.accept()
			return Status{Outcome: outcome(settled), Steps: steps, Residual: w.residual()}
		}
		// A full step that ends a hair beyond the lowest place is Newton's way near the point. One that ends farther beyond may, across
		// a kink, end higher than it began. Between two places that balance to rounding, the sign of a slope is noise.
		if at <= -hair*slope || before < rounding && size < leap && w.residual() < rounding {
			w.accept()
			reach = min(span, 10*reach)
		} else if share := w.search(p, v, slope, at, before); share < 0.01 {
			reach = max(1e-6, size*max(share, 1e-3))
		}
		// Newton's steps shrink as the square of the one before. Where the next would be below the tolerance and
		// currents balance, it need not be made.
		if size < 1e-4 && size*size*size <= 0.1*tolerance*last*last && w.residual() < rounding {
			return Status{Outcome: Converged, Steps: steps, Residual: w.residual()}
		}
		last = size
	}
}

// hush is the current, in amperes, that rounding alone may leave open: rounding, or more where elements stiffer than shorts stand
// at high potentials. More than rounding is forgiven only where steps no longer lead on.
func (w *Worker) hush(p *Plan) float64 {
	worst := 0.0
	at := func(siemens float64, nodes ...int) {
		for _, n := range nodes {
			worst = max(worst, siemens*abs(w.u[n]))
		}
	}
	for i, pair := range p.shape.Wires {
		at(w.wireSlope[i], pair.A, pair.B)
	}
	for i, pair := range p.shape.Sources {
		at(w.sourceSlope[i], pair.A, pair.B)
	}
	for i, c := range p.shape.Chains { // half a pitch of the stiffer rail
		l := &w.ladders[i]
		at(l.ends/min(l.rho, 1-l.rho), c.APlus, c.AReturn, c.BPlus, c.BReturn)
	}
	if b := &w.bridge; b.on {
		at(b.G, p.rail(b.A), p.rail(b.B))
	}
	return max(rounding, 16*ulp*worst)
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
	return Status{Outcome: NotFound, Steps: steps, Residual: w.residual()}
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
				if at <= 0 && w.crossed(p, v) {
					return w.tamedStep(p, v, least)
				}
				return size, slope, at
			}
		}
		least *= 2 * size / span
		w.evaluate(p, v, 0, least)
	}
}

// crossed reports whether the step carried a source from its limit past its set point. Its law is flat on both sides and
// steep between, so Newton's step does not see that part; and where nothing else leads back from above the set point, the
// co-content does not rise there.
func (w *Worker) crossed(p *Plan, v *Values) bool {
	for i := range p.shape.Sources {
		if w.chord(p, v, i) > 0 {
			return true
		}
	}
	return false
}

// chord is the slope of the line on which a source that the step carried across goes from where it stood to no current at its
// set point; 0 for a source that it did not.
func (w *Worker) chord(p *Plan, v *Values, i int) float64 {
	s, pair := &v.sources[i], p.shape.Sources[i]
	if s.off() || w.plain[i] {
		return 0
	}
	volts, step, drop := w.u[pair.A]-w.u[pair.B], w.du[pair.A]-w.du[pair.B], s.resistance()*s.Limit
	if volts > s.E-drop || volts+step < s.E+drop {
		return 0
	}
	amps, _ := s.current(volts)
	return amps / (s.E - volts)
}

// tamedStep computes the step again with every source that it carried across drawn as its chord. A steeper line only shortens
// the step.
func (w *Worker) tamedStep(p *Plan, v *Values, least float64) (size, slope, at float64) {
	chords := make([]float64, len(v.sources)) // rare enough to allocate
	for i := range chords {
		chords[i] = w.chord(p, v, i)
	}
	w.evaluate(p, v, 0, least)
	for i, g := range chords {
		w.sourceSlope[i] = max(w.sourceSlope[i], g)
	}
	slope = w.sums.ahead + w.solveNodes(p, least)
	size, at = w.stride(p, v)
	return size, slope, at
}

// leap is the size of a step, in volts, that is progress and not noise, however little current is still out of balance.
const leap = 1e-3

// hair is the share of its first size that the slope along a step may have, the other way, at the end of a full one.
const hair = 1e-4

// enough is the share of its first size to which a search brings the slope along a step.
const enough = 0.1

// search moves along the step to a place where the co-content, whose slope along the step is slope at the start, is
// lower, and its slope has lost most of its size. The slope never falls along a step, since the co-content is convex.
//
// The full step is already taken; at is the slope there. Where no place is lower, slopes are rounding, and the full step counts if
// it leaves less current out of balance than before. It returns the share of the step that was made.
func (w *Worker) search(p *Plan, v *Values, slope, at, before float64) (share float64) {
	low, high := 0.0, 1.0
	atLow, atHigh, moved, lower := slope, at, 0, false
	for range 100 {
		t := within(low, high, low-atLow*(high-low)/(atHigh-atLow))
		at = w.evaluate(p, v, t, floor)
		if lower = at <= 0 && at >= enough*slope; lower {
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
	if !lower {
		w.evaluate(p, v, low, floor)
	}
	if !lower && slope > -noise {
		if w.evaluate(p, v, 1, floor); w.residual() >= before {
			w.evaluate(p, v, low, floor)
		}
	}
	share = w.at
	w.accept()
	return share
}

// noise is a slope of the co-content along a step, in watts, that may be rounding: a microampere over a nanovolt.
const noise = 1e-15

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
	if w.accepted != nil {
		w.accepted()
	}
}

func largest(x []float64) float64 {
	worst := 0.0
	for _, v := range x {
		worst = max(worst, math.Abs(v))
	}
	return worst
}
