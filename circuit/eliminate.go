package circuit

// solveNodes solves the linear network around the place last evaluated for du: every element as its slope, every node
// pushed by the current it lacks, every chain as the conductances that elimination left. Node after node is eliminated in the plan's
// order, then filled in backwards. No law counts with a slope below least. It returns the nodes' part of the slope of the co-content along
// the step, −Σ push²/conductance (the quadratic form of the eliminated network).
func (w *Worker) solveNodes(p *Plan, least float64) (ahead float64) {
	clear(w.g)
	clear(w.leak)
	for n, k := range p.step {
		w.into[k] = 0
		if !w.pinned[n] {
			w.into[k] = -w.excess[n]
		}
	}
	for i, pair := range p.shape.Wires {
		w.stamp(p, pair.A, pair.B, p.wireSlot[i], atLeast(w.wireSlope[i], least))
	}
	for i, pair := range p.shape.Sources {
		w.stamp(p, pair.A, pair.B, p.sourceSlot[i], atLeast(w.sourceSlope[i], least))
	}
	for i, c := range p.shape.Chains {
		w.stampChain(p, c, i)
	}
	ahead = w.forward(p)
	w.backward(p)
	return ahead
}

// absent is the slope of an element that is open or off.
const absent = -1.0

func atLeast(slope, least float64) float64 {
	if slope == absent {
		return 0
	}
	return max(slope, least)
}

// stamp adds a conductance between two nodes. A pinned node is the datum, so what leads there is a leak.
func (w *Worker) stamp(p *Plan, a, b, slot int, g float64) {
	switch {
	case slot < 0:
	case w.pinned[a] && w.pinned[b]:
	case w.pinned[a]:
		w.leak[p.step[b]] += g
	case w.pinned[b]:
		w.leak[p.step[a]] += g
	default:
		w.g[slot] += g
	}
}

func (w *Worker) stampChain(p *Plan, c Chain, i int) {
	r := w.reduced[i]
	n := c.nodes()
	for k, g := range w.ladders[i].conductances(r) {
		pair := chainPairs[k]
		w.stamp(p, n[pair[0]], n[pair[1]], p.chainSlot[i][k], g)
	}
	w.push(p, c.APlus, r.intoA)
	w.push(p, c.AReturn, -r.intoA)
	w.push(p, c.BPlus, r.intoB)
	w.push(p, c.BReturn, -r.intoB)
}

func (w *Worker) push(p *Plan, node int, amps float64) {
	if !w.pinned[node] {
		w.into[p.step[node]] += amps
	}
}

// forward eliminates node after node: star to mesh.
func (w *Worker) forward(p *Plan) (ahead float64) {
	for k := range p.order {
		near := p.near[p.start[k]:p.start[k+1]]
		g := w.g[p.start[k]:p.start[k+1]]
		total := w.leak[k]
		for _, x := range g {
			total += x
		}
		if total <= 0 {
			w.inverse[k] = 0 // joined to nothing: it stays where it is
			continue
		}
		inverse := 1 / total
		w.inverse[k] = inverse
		leak, into := w.leak[k]*inverse, w.into[k]*inverse
		ahead -= w.into[k] * into
		for i, j := range near {
			w.leak[j] += g[i] * leak
			w.into[j] += g[i] * into
		}
		pairs := p.pairs[p.paired[k]:p.paired[k+1]]
		at := 0
		for i := range near {
			share := g[i] * inverse
			for j := i + 1; j < len(near); j++ {
				w.g[pairs[at]] += share * g[j]
				at++
			}
		}
	}
	return ahead
}

// backward fills in the steps of the nodes.
func (w *Worker) backward(p *Plan) {
	for k := len(p.order) - 1; k >= 0; k-- {
		sum := w.into[k]
		for i := p.start[k]; i < p.start[k+1]; i++ {
			sum += w.g[i] * w.du[p.order[p.near[i]]]
		}
		w.du[p.order[k]] = sum * w.inverse[k]
	}
}
