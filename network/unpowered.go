package network

import "slices"

// Unpowered reports whether a port sends along a data lead to a pixel that is not fed, with some of Outages out: no plus of a supply that is on joins to
// the positive rail at data-in, and one does to the bar of the board that sends. What a run sends is not asked.
func (n *Network) Unpowered(lead string, out ...string) bool {
	run, known := n.runAt[n.Scheme.Data[lead].To.Element]
	return known && n.Sends(lead, out...) && !n.fed(n.side(n.runs[run].stretches[0], false).plus, out)
}

// Sends reports whether a data lead begins at a port whose board has power with some of Outages out.
func (n *Network) Sends(lead string, out ...string) bool {
	b := slices.IndexFunc(n.boards, func(b boardAt) bool { return b.id == n.Scheme.Data[lead].From.Element })
	return b >= 0 && n.fed(n.Plan.Shape().Wires[n.boards[b].inlet[0]].B, out)
}

// fed reports whether copper joins a node to the plus of a supply that is on, with some of Outages out.
func (n *Network) fed(node int, out []string) bool {
	var opened outing
	for _, o := range out {
		opened.wires = append(opened.wires, n.outings[o].wires...)
		opened.sources = append(opened.sources, n.outings[o].sources...)
	}
	joined := grouping(n.Plan.Joined(func(i int) bool { return !slices.Contains(opened.wires, i) }, nil))
	return slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
		return !slices.Contains(opened.sources, t.source) && joined.of(t.at.plus) == joined.of(node)
	})
}
