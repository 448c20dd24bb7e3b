package network

import "slices"

// Unpowered reports whether a port sends along a data lead to a pixel that is not fed, with some of Outages out: no plus of a supply that is on joins to
// the positive rail at data-in, and one does to the bar of the board that sends. What a run sends is not asked.
func (n *Network) Unpowered(lead string, out ...string) bool {
	at := slices.IndexFunc(n.leads, func(d leadAt) bool { return d.id == lead })
	if at < 0 {
		return false
	}
	data := n.Scheme.Data[lead]
	b := slices.IndexFunc(n.boards, func(b boardAt) bool { return b.id == data.From.Element })
	run, known := n.runAt[data.To.Element]
	if b < 0 || !known {
		return false
	}
	var opened outing
	for _, o := range out {
		opened.wires = append(opened.wires, n.outings[o].wires...)
		opened.sources = append(opened.sources, n.outings[o].sources...)
	}
	joined := grouping(n.Plan.Joined(func(i int) bool { return !slices.Contains(opened.wires, i) }, nil))
	fed := func(node int) bool {
		return slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
			return !slices.Contains(opened.sources, t.source) && joined.of(t.at.plus) == joined.of(node)
		})
	}
	bar := n.Plan.Shape().Wires[n.boards[b].inlet[0]].B
	return fed(bar) && !fed(n.side(n.runs[run].stretches[0], false).plus)
}
