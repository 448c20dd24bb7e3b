package circuit

// factor eliminates the nodes of the linear network around the place last evaluated, star to mesh, in the plan's order:
// every element as its slope, every chain as the conductances that elimination left of it. No law counts with a slope
// below least.
func (w *Worker) factor(p *Plan, least float64) {
	for i, slope := range w.wireSlope {
		w.siemens[i] = atLeast(slope, least)
	}
	for i, slope := range w.sourceSlope {
		w.siemens[p.sourceBranch(i)] = atLeast(slope, least)
	}
	for i := range w.ladders {
		copy(w.siemens[p.chainBranch(i):], w.chainSiemens(i))
	}
	for k := range p.order {
		w.row(p, k)
	}
}

func (w *Worker) chainSiemens(i int) []float64 {
	w.six = w.ladders[i].conductances(w.reduced[i])
	return w.six[:]
}

// absent is the slope of an element that is open or off.
const absent = -1.0

func atLeast(slope, least float64) float64 {
	if slope == absent {
		return 0
	}
	return max(slope, least)
}

// row makes the row of one step: its own branches and what the nodes eliminated before it leave there. A pinned node is
// the datum, so what leads there is a leak.
func (w *Worker) row(p *Plan, k int) {
	w.leak[k], w.inverse[k] = 0, 0
	g := w.g[p.start[k]:p.start[k+1]]
	clear(g)
	if w.pinned[p.order[k]] {
		return
	}
	leak := 0.0
	for _, e := range p.own[p.ownAt[k]:p.ownAt[k+1]] {
		switch x := w.siemens[e.branch]; {
		case w.pinned[e.other]:
			leak += x
		case e.slot >= 0:
			w.g[e.slot] += x
		}
	}
	for _, m := range p.column[p.columnAt[k]:p.columnAt[k+1]] {
		share := w.g[m.slot] * w.inverse[m.step]
		if share == 0 {
			continue
		}
		leak += share * w.leak[m.step]
		rest := w.g[m.slot+1 : p.start[m.step+1]]
		for i, slot := range p.pairs[m.pair : int(m.pair)+len(rest)] {
			w.g[slot] += share * rest[i]
		}
	}
	total := leak
	for _, x := range g {
		total += x
	}
	w.leak[k] = leak
	if total > 0 { // else it is joined to nothing and stays where it is
		w.inverse[k] = 1 / total
	}
}

// solve finds the potentials that the currents into push, which it uses up, lead to. It returns −Σ push²/conductance over
// the eliminated nodes, the quadratic form of the network.
func (w *Worker) solve(p *Plan, push, potential []float64) (ahead float64) {
	for k := range p.order {
		if push[k] == 0 {
			continue
		}
		scaled := push[k] * w.inverse[k]
		ahead -= push[k] * scaled
		for i := p.start[k]; i < p.start[k+1]; i++ {
			push[p.near[i]] += w.g[i] * scaled
		}
	}
	for k := len(p.order) - 1; k >= 0; k-- {
		sum := push[k]
		for i := p.start[k]; i < p.start[k+1]; i++ {
			sum += w.g[i] * potential[p.order[p.near[i]]]
		}
		potential[p.order[k]] = sum * w.inverse[k]
	}
	return ahead
}

// solveNodes solves the linear network around the place last evaluated for du: every node is pushed by the current it
// lacks, and by what the loads of its chains push. It returns the nodes' part of the slope of the co-content along the step.
func (w *Worker) solveNodes(p *Plan, least float64) (ahead float64) {
	w.factor(p, least)
	for n, k := range p.step {
		w.into[k] = -w.excess[n]
	}
	for i, c := range p.shape.Chains {
		r := &w.reduced[i]
		w.into[p.step[c.APlus]] += r.intoA
		w.into[p.step[c.AReturn]] -= r.intoA
		w.into[p.step[c.BPlus]] += r.intoB
		w.into[p.step[c.BReturn]] -= r.intoB
	}
	w.hold(p, w.into)
	return w.solve(p, w.into, w.du)
}

// hold takes away what pushes pinned nodes.
func (w *Worker) hold(p *Plan, push []float64) {
	for n, pinned := range w.pinned {
		if pinned {
			push[p.step[n]] = 0
		}
	}
}
