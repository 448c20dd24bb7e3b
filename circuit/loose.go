package circuit

// Loose tells which nodes of a solved point next to nothing holds: those that a current of amps into every node would move by
// more than volts. Where supplies at their limit feed loads that take the same current at any voltage, where idle supplies hold up
// copper that draws nothing, or where a rail hangs on dark loads alone, the point that was found is one of many.
func (w *Worker) Loose(from *Point, amps, volts float64) []bool {
	p := from.plan
	f := w.followerOf(p, from)
	w.prepare(p, from.values)
	copy(w.pinned, f.anchor.pinned)
	w.bridge.on = false
	w.restore(p)
	for k := range w.into {
		w.into[k] = amps
	}
	w.hold(p, w.into)
	w.solve(p, w.into, w.du)
	loose := make([]bool, p.shape.Nodes)
	for n, u := range w.du {
		loose[n] = !(abs(u) <= volts)
	}
	return loose
}
