package network

import (
	"math"
	"slices"

	"farend/unit"
)

// Upstream lists those of some breaks, by their names among Outages, that must be closed for a supply to reach another one, the nearest to
// the supply first: those on the way that passes fewest of them. Breaks are what people open by hand, such as A1.1.fuse, or W1.plus taken off
// its terminal. It is not ok where no supply reaches it, or nothing of that name goes out.
func (n *Network) Upstream(out string, breaks []string) (closed []string, ok bool) {
	own, known := n.outings[out]
	if !known || len(own.wires) == 0 {
		return nil, false
	}
	broken := map[int]string{}
	for _, name := range breaks {
		for _, w := range n.outings[name].wires {
			broken[w] = name
		}
	}
	for _, w := range own.wires {
		broken[w] = out
	}
	ends := n.Plan.Shape().Wires[own.wires[0]]
	var here []int
	came := map[int]passed{}
	for _, t := range n.supplies {
		here = append(here, t.at.plus)
		came[t.at.plus] = passed{from: none}
	}
	for len(here) > 0 {
		here = n.spread(here, broken, came)
		for _, node := range []int{ends.A, ends.B} {
			if _, reached := came[node]; reached {
				return trail(came, node), true
			}
		}
		here = n.cross(here, broken, out, came)
	}
	return nil, false
}

// passed is how a node was come to first: from which, and through which break.
type passed struct {
	from    int
	through string
}

// spread goes on from nodes wherever copper leads without a break, and returns all nodes that it has come to.
func (n *Network) spread(from []int, broken map[int]string, came map[int]passed) []int {
	for i := 0; i < len(from); i++ {
		for _, h := range n.hops[from[i]] {
			if _, seen := came[h.to]; !seen && broken[h.wire] == "" {
				came[h.to] = passed{from: from[i]}
				from = append(from, h.to)
			}
		}
	}
	return from
}

// cross goes through one break from each of some nodes, but through that which is sought.
func (n *Network) cross(from []int, broken map[int]string, but string, came map[int]passed) (to []int) {
	for _, node := range from {
		for _, h := range n.hops[node] {
			if _, seen := came[h.to]; !seen && broken[h.wire] != "" && broken[h.wire] != but {
				came[h.to] = passed{node, broken[h.wire]}
				to = append(to, h.to)
			}
		}
	}
	return to
}

// trail lists the breaks on the way to a node.
func trail(came map[int]passed, node int) (breaks []string) {
	for ; node != none; node = came[node].from {
		if name := came[node].through; name != "" && !slices.Contains(breaks, name) {
			breaks = append(breaks, name)
		}
	}
	slices.Reverse(breaks)
	return breaks
}

// Carrying is the size of the current of what goes out by a name, such as a fuse, in the first slice of a solution: of the first of its wires.
func (n *Network) Carrying(s *Solution, out string) unit.Ampere {
	if wires := n.outings[out].wires; len(wires) > 0 {
		return unit.Ampere(math.Abs(s.points[0].WireAmps(wires[0])))
	}
	return 0
}
