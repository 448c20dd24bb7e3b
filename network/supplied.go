package network

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
