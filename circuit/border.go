package circuit

// The border of an elimination is the end of a bridge that is eliminated last. Loose nodes come first, then the plan's nodes
// in its order, then the border; nothing but star–mesh steps, so that nothing is lost by cancellation where the bridge is
// all that holds a part of the network.

// reduceTap eliminates the loose rails of a tap and gives the six conductances that its chain then has between its ends.
func (w *Worker) reduceTap(p *Plan, t *tap) (six [6]float64) {
	left, right := t.parts[0].conductances(t.left), t.parts[1].conductances(t.right)
	plus, minus := &t.rails[0], &t.rails[1]
	plus.to = [4]float64{left[0], left[5], right[0], right[4]}
	minus.to = [4]float64{left[4], left[1], right[5], right[1]}
	six[2], six[3] = left[2], right[3]
	mate := left[3] + right[2]
	plus.mate, minus.mate = mate, 0
	plus.x, minus.x = w.bridge.toBorder(t, plus), w.bridge.toBorder(t, minus)
	var terminals [4]float64 // conductances from the ends of the chain to the border
	for _, n := range []*loose{plus, minus} {
		if n.border {
			for k, g := range n.to {
				terminals[k] += g
			}
		}
	}
	if minus.border {
		plus.x, plus.mate = plus.x+mate, 0
	}
	if plus.border {
		minus.x += mate
	} else {
		plus.star(&six, &terminals)
		share := plus.mate * plus.inverse
		for k, g := range plus.to {
			minus.to[k] += share * g
		}
		minus.x += share * plus.x
	}
	if !minus.border {
		minus.star(&six, &terminals)
	}
	for k, node := range p.shape.Chains[t.chain].nodes() {
		if w.pinned[node] {
			w.bridge.leak += terminals[k]
		} else {
			w.bridge.x[p.step[node]] += terminals[k]
		}
	}
	return six
}

// toBorder is the bridge's own conductance where it starts at this loose node.
func (b *bridged) toBorder(t *tap, n *loose) float64 {
	if e := b.start; e.tap >= 0 && &b.taps[e.tap].rails[e.rail] == n {
		return b.G
	}
	return 0
}

// star replaces a loose node by conductances between its neighbours among the ends of its chain, and to the border.
func (n *loose) star(six *[6]float64, terminals *[4]float64) {
	total := n.x + n.mate
	for _, g := range n.to {
		total += g
	}
	n.inverse = 0
	if total <= 0 {
		return
	}
	n.inverse = 1 / total
	for k, pair := range chainPairs {
		six[k] += n.to[pair[0]] * n.inverse * n.to[pair[1]]
	}
	for k, g := range n.to {
		terminals[k] += g * n.inverse * n.x
	}
}

// beginBorder empties the border and stamps a bridge that starts at a node of the plan.
func (w *Worker) beginBorder(p *Plan) {
	b := &w.bridge
	clear(b.x)
	b.leak = 0
	if e := b.start; e.tap < 0 {
		if w.pinned[e.node] {
			b.leak += b.G
		} else {
			b.x[p.step[e.node]] += b.G
		}
	}
}

// endBorder sums what is left at the border.
func (w *Worker) endBorder(p *Plan) {
	b := &w.bridge
	for k, g := range b.x {
		b.leak += g * w.inverse[k] * w.leak[k]
	}
	b.inverse = 0
	if b.border >= 0 {
		for _, e := range p.own[p.ownAt[p.step[b.border]]:p.ownAt[p.step[b.border]+1]] {
			if w.pinned[e.other] {
				b.leak += w.siemens[e.branch]
			}
		}
	}
	if b.leak > 0 && !(b.border >= 0 && w.pinned[b.border]) {
		b.inverse = 1 / b.leak
	}
}

// pushTaps carries what pushes the loose nodes to their neighbours. It returns their part of the slope of the co-content.
func (w *Worker) pushTaps(p *Plan, push []float64) (ahead float64) {
	b := &w.bridge
	b.push = 0
	for i := range b.taps {
		t := &b.taps[i]
		for r := range t.rails {
			n := &t.rails[r]
			if n.border {
				b.push += n.push
				continue
			}
			scaled := n.push * n.inverse
			ahead -= n.push * scaled
			for k, node := range p.shape.Chains[t.chain].nodes() {
				if !w.pinned[node] {
					push[p.step[node]] += n.to[k] * scaled
				}
			}
			if r == 0 && n.mate > 0 {
				t.rails[1].push += n.mate * scaled
			}
			b.push += n.x * scaled
		}
	}
	return ahead
}

// fillTaps gives the loose nodes their part of the answer, from that of the plan's nodes and of the border.
func (w *Worker) fillTaps(p *Plan, potential []float64) {
	b := &w.bridge
	for i := range b.taps {
		t := &b.taps[i]
		for r := 1; r >= 0; r-- {
			n := &t.rails[r]
			if n.border {
				n.du = b.du
				continue
			}
			sum := n.push + n.x*b.du
			for k, node := range p.shape.Chains[t.chain].nodes() {
				sum += n.to[k] * potential[node]
			}
			if r == 0 {
				sum += n.mate * t.rails[1].du
			}
			n.du = sum * n.inverse
		}
	}
}
