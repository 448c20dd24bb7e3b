package network

import (
	"context"
	"math"
	"slices"

	"farend/circuit"
	"farend/parts"
	"farend/supply"
	"farend/unit"
)

// What supplies do at their limit is not monotone, so it stands outside the kernel. A case is first solved with every supply
// holding its current; what then sits in its limit folds back, pulses or shuts down, and the case is solved again. Each of
// these only takes current from the network, so what one of them does can make another follow, and never the reverse: the
// end does not depend on the order.

// settle solves a case until no further supply shuts down or begins to pulse. All that are at their limit at once go at
// once. In a case of several slices one that reaches its limit in any is in that state for the whole cycle.
func (n *Network) settle(ctx context.Context, w *circuit.Worker, c Case, rising bool) *Solution {
	s := &Solution{Case: c, off: make([]bool, len(n.supplies)), pulsing: make([]bool, len(n.supplies)), rising: rising}
	for {
		s.cycle = n.pulsed(n.cycle(c), s)
		n.solve(ctx, w, s)
		if s.Outcome != circuit.Converged || !n.trip(s) {
			return s
		}
	}
}

// trip notes the supplies at their limit that shut down or pulse, and reports whether the case must be solved again. One that
// pulses in times that are not known counts as on all the time, so it changes nothing.
func (n *Network) trip(s *Solution) (again bool) {
	if s.Case.steadfast() {
		return false
	}
	for i, t := range n.supplies {
		if s.off[i] || s.pulsing[i] {
			continue
		}
		rating := n.set(s.Case, t)
		switch t.part.Steady() {
		case parts.LatchOff:
			s.off[i] = s.limited(t, func(float64) bool { return true })
			again = again || s.off[i]
		case parts.Hiccup:
			s.pulsing[i] = s.limited(t, rating.Pulses)
			again = again || s.pulsing[i] && rating.OnShare() < 1
		}
	}
	return again
}

// limited reports whether a supply is held by its limit in a slice in which its terminal voltage is one that counts.
func (s *Solution) limited(t supplyAt, counts func(volts float64) bool) bool {
	for k, p := range s.points {
		if s.values[k].Source(t.source).Limited(p.SourceAmps(t.source)) && counts(p.SourceVolts(t.source)) {
			return true
		}
	}
	return false
}

// pulsed cuts a cycle at the shares of time for which the supplies that pulse are on: first all are on, then those that are
// on longest. That they all begin together is the careful side: their currents meet in the copper they share. The slices
// of the pixels' own cycle, a thousandth as long, go on in each part.
func (n *Network) pulsed(cycle []slice, s *Solution) []slice {
	ends := []float64{1}
	for i, t := range n.supplies {
		if s.pulsing[i] {
			ends = append(ends, n.set(s.Case, t).OnShare())
		}
	}
	slices.Sort(ends)
	var all []slice
	past := 0.0
	for _, end := range slices.Compact(ends) {
		for _, part := range cycle {
			part.share *= end - past
			part.past = past
			all = append(all, part)
		}
		past = end
	}
	return all
}

// switchOff opens the supplies that are off in one slice.
func (n *Network) switchOff(s *Solution, k int) {
	for i, t := range n.supplies {
		if s.off[i] || s.pulsing[i] && n.set(s.Case, t).OnShare() <= s.cycle[k].past {
			source := s.values[k].Source(t.source)
			source.Off = true
			s.values[k].SetSource(t.source, source)
		}
	}
}

// foldsBack reports whether there is a supply that folds back in a case.
func (n *Network) foldsBack(c Case) bool {
	return !c.firm() && !c.Free && slices.ContainsFunc(n.supplies, func(t supplyAt) bool { return t.part.Steady() == parts.FoldBack })
}

// A folding is a supply that folds back while its limit is looked for.
type folding struct {
	source int
	full   circuit.Source // with the limit at the set point
	to     float64
	limit  float64
}

// folding lists the supplies that fold back and are on in one slice, each at the limit where the search begins.
func (n *Network) folding(s *Solution, k int) []folding {
	var list []folding
	for i, t := range n.supplies {
		if t.part.Steady() != parts.FoldBack || s.off[i] || s.Case.firm() {
			continue
		}
		f := folding{source: t.source, full: n.source(s.Case, t), to: float64(t.part.Folded().Is)}
		f.limit = f.full.Limit
		if s.rising {
			f.limit *= f.to
		}
		list = append(list, f)
	}
	return list
}

const (
	foldEnough  = 1e-12 // change of a limit, over the limit at the set point, at which it is found
	foldRounded = 1e-9  // change at which one that no longer shrinks is rounding
	foldNear    = 1e-6  // distance from which the rest of the way is taken at once
	foldMost    = 3000  // steps; a gap through which the iterates creep longer is a millionth of the limit wide
)

// fold solves one slice with each supply that folds back limited by its own terminal voltage: limit ← Fold(voltage of the
// network at these limits), again and again. Both maps rise, so from the full limits the iterates fall to the greatest
// fixed point, where a supply that is running stays; from the limits into a short they rise to the least, where one that
// starts at 0 V ends (Knaster and Tarski; the iteration is Kleene's). Leaping ahead could miss a fixed point, so the way is
// walked; only its last millionth of the limit is taken at once (Aitken), so that two points nearer than that are one.
//
// One thing may keep a voltage from rising with the limit of another supply: a shared stretch of return copper where the
// positives are apart, by its drop. The end is a fixed point there too.
func (n *Network) fold(ctx context.Context, w *circuit.Worker, s *Solution, k int) circuit.Status {
	list := n.folding(s, k)
	if len(list) == 0 {
		return n.point(ctx, w, s, k)
	}
	before := 0.0
	for step := 0; ; step++ {
		s.values[k] = s.values[k].Fork()
		for _, f := range list {
			source := f.full
			source.Limit = f.limit
			s.values[k].SetSource(f.source, source)
		}
		status := n.point(ctx, w, s, k)
		change := s.folds(list, k)
		switch {
		case status.Outcome != circuit.Converged, change <= foldEnough, change <= foldRounded && before > 0 && change >= before:
			return status
		case step == foldMost:
			status.Outcome = circuit.NotFound
			return status
		}
		before = s.walk(list, k, change, before)
	}
}

// next is the limit of a supply at its voltage.
func (f folding) next(p *circuit.Point) float64 {
	return supply.Fold(f.full.E, p.SourceVolts(f.source), f.full.Limit, f.to)
}

// folds is the largest change that the voltages ask of the limits, over the limit at the set point.
func (s *Solution) folds(list []folding, k int) (change float64) {
	for _, f := range list {
		change = max(change, math.Abs(f.next(s.points[k])-f.limit)/f.full.Limit)
	}
	return change
}

// walk moves the limits to where the voltages ask them to be, or, where what is left of the way is near, by its whole sum; it
// returns the change that the next is to be compared with, 0 after such a leap.
func (s *Solution) walk(list []folding, k int, change, before float64) float64 {
	ahead := 0.0
	if ratio := change / before; before > 0 && ratio < 1 && change*ratio/(1-ratio) <= foldNear {
		ahead = ratio / (1 - ratio)
	}
	for i := range list {
		f := &list[i]
		next := f.next(s.points[k])
		f.limit = min(max(next+ahead*(next-f.limit), f.to*f.full.Limit), f.full.Limit)
	}
	if ahead > 0 {
		return 0
	}
	return change
}

// apart is the difference in volts from which two stable points of a supply count as two: less than anybody would measure,
// more than the iteration leaves.
const apart = 1e-4

// stuck reports whether a supply that folds back ends lower from 0 V than it runs.
func (n *Network) stuck(s, start *Solution) bool {
	return slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
		return t.part.Steady() == parts.FoldBack && start.across(t.at) < s.across(t.at)-apart
	})
}

// state is what supply i does in a case.
func (n *Network) state(s *Solution, i int) string {
	t := n.supplies[i]
	source := s.values[0].Source(t.source)
	most := s.flow(func(p *circuit.Point) float64 { return p.SourceAmps(t.source) }).Peak
	switch {
	case s.off[i] || source.Off && !s.pulsing[i]:
		return "off"
	case s.pulsing[i]:
		return "pulsing"
	case s.limited(t, func(float64) bool { return true }):
		if t.part.Steady() == parts.FoldBack && !s.Case.firm() {
			return "folded"
		}
		return "limit"
	case source.Idle(most) && float64(s.across(t.at)) > source.E+1e-6 && n.heldUp(s, i):
		return "idle"
	}
	return "normal"
}

// heldUp reports whether some other supply that hangs together with supply i has a higher set point. Without one it only floats
// above its own because nothing draws current.
func (n *Network) heldUp(s *Solution, i int) bool {
	pieces := n.pieces(s.values[0])
	own := n.supplies[i]
	return slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
		other := s.values[0].Source(t.source)
		return !other.Off && other.E > s.values[0].Source(own.source).E && pieces.of(t.at.plus) == pieces.of(own.at.plus)
	})
}

// startVolts is where the terminals of a supply end when all are switched on at 0 V. Two solutions that differ by less than 1 µV, as far
// as either is known, are one.
func (s *Solution) startVolts(t supplyAt) unit.Volt {
	const known = 1e-6
	runs := s.across(t.at)
	if s.Start == nil {
		return runs
	}
	if starts := s.Start.across(t.at); runs-starts > known {
		return starts
	}
	return runs
}
