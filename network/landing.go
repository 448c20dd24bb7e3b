package network

import (
	"slices"

	"farend/scheme"
	"farend/unit"
)

// Feeders lists, in order, the supplies whose plus joins to the plus of a cable by cables and boards, without the way along tape
// or the spare cores of data leads. None feeds a cable that has no plus.
func (n *Network) Feeders(cable string) []string {
	at, known := n.terminalOf(cable)
	if !known || at.plus < 0 {
		return nil
	}
	var feeders []string
	for _, t := range n.supplies {
		if n.wired.of(t.at.plus) == n.wired.of(at.plus) {
			feeders = append(feeders, t.id)
		}
	}
	return feeders
}

// withoutTape groups the nodes that wires join, those of cables and boards alone, neither rails nor cores of data leads; some wires are open.
func (n *Network) withoutTape(open ...int) grouping {
	apart := n.dataWires()
	for _, i := range open {
		apart[i] = true
	}
	g := make(grouping, n.Plan.Shape().Nodes)
	for k := range g {
		g[k] = k
	}
	root := func(k int) int {
		for g[k] != k {
			k = g[k]
		}
		return k
	}
	for i, w := range n.Plan.Shape().Wires {
		if a, b := root(w.A), root(w.B); !apart[i] {
			g[max(a, b)] = min(a, b)
		}
	}
	for k := range g {
		g[k] = root(k)
	}
	return g
}

// Homing is where current comes home, by cables and boards alone, without tape and data leads.
type Homing struct {
	n      *Network
	joined grouping
}

// Homing is that with one of Outages out; with nothing where that is "".
func (n *Network) Homing(out string) Homing {
	return Homing{n, n.withoutTape(n.outings[out].wires...)}
}

// OfCable is the copper by which the return of a cable comes home from one of its ends; two that come home by the same have one reference for data. It
// is not ok where there is no return, or it leads to no supply.
func (h Homing) OfCable(id string, end scheme.End) (home int, ok bool) {
	at := slices.IndexFunc(h.n.cables, func(c cableAt) bool { return c.id == id && len(c.minus) > 0 })
	switch {
	case at < 0:
		return 0, false
	case end == "from":
		return h.of(h.n.cables[at].from.minus)
	}
	return h.of(h.n.cables[at].to.minus)
}

// OfPlace is the same of a supply, board or way.
func (h Homing) OfPlace(id string) (home int, ok bool) {
	at, known := h.n.terminalOf(id)
	if !known {
		return 0, false
	}
	return h.of(at.minus)
}

// OfLead is the same of the ground of a data lead, where the data comes from.
func (h Homing) OfLead(id string) (home int, ok bool) {
	at := slices.IndexFunc(h.n.leads, func(d leadAt) bool { return d.id == id })
	if at < 0 {
		return 0, false
	}
	return h.of(h.n.leads[at].sender)
}

func (h Homing) of(node int) (home int, ok bool) {
	home = h.joined.of(node)
	return home, slices.ContainsFunc(h.n.supplies, func(t supplyAt) bool { return h.joined.of(t.at.minus) == home })
}

// dataWires are the wires of data leads: grounds, and spare cores that carry the supply.
func (n *Network) dataWires() map[int]bool {
	data := map[int]bool{}
	for _, d := range n.leads {
		for _, w := range slices.Concat(d.ground, d.power) {
			data[w] = true
		}
	}
	return data
}

// Lost is the voltage that is lost between the terminals of a supply and an end of a cable, over both poles, as a meter reads it:
// the mean over the cycle. It is not ok where there is no such supply or cable.
func (n *Network) Lost(s *Solution, supply, cable string, end scheme.End) (volts unit.Volt, ok bool) {
	near := slices.IndexFunc(n.supplies, func(t supplyAt) bool { return t.id == supply })
	far := slices.IndexFunc(n.cables, func(c cableAt) bool { return c.id == cable })
	if near < 0 || far < 0 {
		return 0, false
	}
	to := n.cables[far].to
	if end == "from" {
		to = n.cables[far].from
	}
	return s.across(n.supplies[near].at) - s.across(to), true
}

// Guarded lists the supplies all of whose current to what lies beyond a fuse, such as A1.1.fuse or W1.fuse, goes through it: with
// the fuse out, copper joins them to one side of it and none to the other. There are none where both sides have one.
func (n *Network) Guarded(fuse string) []string {
	out, known := n.outings[fuse]
	if !known || len(out.wires) != 1 || n.elements[out.wires[0]].link == nil {
		return nil
	}
	joined := grouping(n.Plan.Joined(func(i int) bool { return i != out.wires[0] }, nil))
	ends := n.Plan.Shape().Wires[out.wires[0]]
	var guarded []string
	sides := [2]bool{}
	for _, t := range n.supplies {
		for side, node := range []int{ends.A, ends.B} {
			if joined.of(t.at.plus) == joined.of(node) {
				guarded, sides[side] = append(guarded, t.id), true
			}
		}
	}
	if sides[0] && sides[1] {
		return nil
	}
	return guarded
}
