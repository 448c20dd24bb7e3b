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
	if w.bridge.on {
		w.beginBorder(p)
	}
	for i := range w.ladders {
		w.chainSiemens(p, i)
	}
	for k := range p.order {
		w.row(p, k)
	}
	if w.bridge.on {
		w.endBorder(p)
	}
}

func (w *Worker) chainSiemens(p *Plan, i int) {
	six := w.siemens[p.chainBranch(i):][:6:6]
	if t := w.tapOf(i); t != nil {
		*(*[6]float64)(six) = w.reduceTap(p, t)
		return
	}
	*(*[6]float64)(six) = w.ladders[i].conductances(w.reduced[i])
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
// the datum, so what leads there is a leak. The border of a bridge has no row.
func (w *Worker) row(p *Plan, k int) {
	w.leak[k], w.inverse[k] = 0, 0
	g := w.g[p.start[k]:p.start[k+1]]
	clear(g)
	node, border := p.order[k], -1
	if w.bridge.on {
		border = w.bridge.border
	}
	if w.pinned[node] || node == border {
		return
	}
	leak, x := 0.0, 0.0
	for _, e := range p.own[p.ownAt[k]:p.ownAt[k+1]] {
		switch s := w.siemens[e.branch]; {
		case w.pinned[e.other]:
			leak += s
		case int(e.other) == border:
			x += s
		case e.slot >= 0:
			w.g[e.slot] += s
		}
	}
	for _, m := range p.column[p.columnAt[k]:p.columnAt[k+1]] {
		share := w.g[m.slot] * w.inverse[m.step]
		if share == 0 {
			continue
		}
		leak += share * w.leak[m.step]
		if w.bridge.on {
			x += share * w.bridge.x[m.step]
		}
		rest := w.g[m.slot+1 : p.start[m.step+1]]
		for i, slot := range p.pairs[m.pair : int(m.pair)+len(rest)] {
			w.g[slot] += share * rest[i]
		}
	}
	total := leak
	if w.bridge.on {
		w.bridge.x[k] += x
		total += w.bridge.x[k]
	}
	for _, s := range g {
		total += s
	}
	w.leak[k] = leak
	if total > 0 { // else it is joined to nothing and stays where it is
		w.inverse[k] = 1 / total
	}
}

// solve finds the potentials that the currents push, which it uses up, lead to; those that push loose nodes and the border
// stand with them. It returns −Σ push²/conductance over the eliminated nodes, the quadratic form of the network.
func (w *Worker) solve(p *Plan, push, potential []float64) (ahead float64) {
	b := &w.bridge
	if b.on {
		ahead = w.pushTaps(p, push)
		if b.border >= 0 {
			b.push += push[p.step[b.border]]
			push[p.step[b.border]] = 0
		}
	}
	for k := range p.order {
		if push[k] == 0 {
			continue
		}
		scaled := push[k] * w.inverse[k]
		ahead -= push[k] * scaled
		for i := p.start[k]; i < p.start[k+1]; i++ {
			push[p.near[i]] += w.g[i] * scaled
		}
		if b.on {
			b.push += b.x[k] * scaled
		}
	}
	if b.on {
		b.du = b.push * b.inverse
		ahead -= b.push * b.du
	}
	for k := len(p.order) - 1; k >= 0; k-- {
		sum := push[k]
		for i := p.start[k]; i < p.start[k+1]; i++ {
			sum += w.g[i] * potential[p.order[p.near[i]]]
		}
		if b.on {
			sum += b.x[k] * b.du
		}
		potential[p.order[k]] = sum * w.inverse[k]
	}
	if b.on {
		if b.border >= 0 {
			potential[b.border] = b.du
		}
		w.fillTaps(p, potential)
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
		n := c.nodes()
		if t := w.tapOf(i); t != nil {
			w.pushEnds(p, n[:2], t.left.intoA)
			w.pushEnds(p, n[2:], t.right.intoB)
			into := t.left.intoB + t.right.intoA
			t.rails[0].push, t.rails[1].push = into-t.rails[0].excess, -into-t.rails[1].excess
			continue
		}
		w.pushEnds(p, n[:2], w.reduced[i].intoA)
		w.pushEnds(p, n[2:], w.reduced[i].intoB)
	}
	w.hold(p, w.into)
	return w.solve(p, w.into, w.du)
}

// pushEnds pushes a current into the plus rail of an end of a chain, and takes it from the return.
func (w *Worker) pushEnds(p *Plan, n []int, amps float64) {
	w.into[p.step[n[0]]] += amps
	w.into[p.step[n[1]]] -= amps
}

// hold takes away what pushes pinned nodes.
func (w *Worker) hold(p *Plan, push []float64) {
	for n, pinned := range w.pinned {
		if pinned {
			push[p.step[n]] = 0
		}
	}
}
