package network

import "slices"

// RunsOn lists, in order, the runs that hang on a thing: those whose positive rail copper joins to the positive of a supply, board,
// way or cable; to the return of a cable that has no positive core.
func (n *Network) RunsOn(id string) []string {
	at, known := n.terminalOf(id)
	if !known {
		return nil
	}
	var on []string
	for _, r := range n.runs {
		if slices.ContainsFunc(r.stretches, func(s stretch) bool { return n.meets(s, at) }) {
			on = append(on, r.id)
		}
	}
	return on
}

// meets reports whether copper joins a stretch to a terminal, by the plus where the terminal has one.
func (n *Network) meets(s stretch, at terminal) bool {
	c := n.Plan.Shape().Chains[s.chain]
	if at.plus < 0 {
		return n.joined.of(c.AReturn) == n.joined.of(at.minus)
	}
	return n.joined.of(c.APlus) == n.joined.of(at.plus)
}

// terminalOf is where a supply, board, way or cable meets the network; its plus is −1 for a cable that has no positive core.
func (n *Network) terminalOf(id string) (terminal, bool) {
	for _, t := range n.supplies {
		if t.id == id {
			return t.at, true
		}
	}
	for _, b := range n.boards {
		if b.id == id {
			wires := n.Plan.Shape().Wires
			return terminal{wires[b.inlet[0]].A, wires[b.inlet[1]].A}, true
		}
	}
	for _, w := range n.ways {
		if w.name == id {
			return w.at, true
		}
	}
	for _, c := range n.cables {
		if c.id == id {
			if len(c.plus) == 0 {
				return terminal{-1, c.from.minus}, true
			}
			return c.from, true
		}
	}
	return terminal{}, false
}

// Partners lists, in order, the other supplies whose two poles copper joins to those of a supply: they work in parallel, whether or
// not they feed anything yet.
func (n *Network) Partners(supply string) []string {
	at, known := n.terminalOf(supply)
	if !known {
		return nil
	}
	var partners []string
	for _, t := range n.supplies {
		if t.id != supply && n.joined.of(t.at.plus) == n.joined.of(at.plus) && n.joined.of(t.at.minus) == n.joined.of(at.minus) {
			partners = append(partners, t.id)
		}
	}
	return partners
}
