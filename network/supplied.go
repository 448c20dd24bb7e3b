package network

import "slices"

// SuppliesOn lists, in order, the supplies whose plus copper joins to that of a supply, board, way or cable; itself among them, if it is
// one. It follows the return of a cable that has no plus.
func (n *Network) SuppliesOn(id string) []string {
	at, known := n.terminalOf(id)
	if !known {
		return nil
	}
	var on []string
	for _, t := range n.supplies {
		if at.plus >= 0 && n.joined.of(t.at.plus) == n.joined.of(at.plus) || at.plus < 0 && n.joined.of(t.at.minus) == n.joined.of(at.minus) {
			on = append(on, t.id)
		}
	}
	return on
}

// SuppliesOf lists, in order, the supplies whose plus copper joins to that of a run, at any of its pieces.
func (n *Network) SuppliesOf(run string) []string {
	var of []string
	at, known := n.runAt[run]
	for _, t := range n.supplies {
		if known && slices.ContainsFunc(n.runs[at].stretches, func(s stretch) bool { return n.meets(s, t.at) }) {
			of = append(of, t.id)
		}
	}
	return of
}
