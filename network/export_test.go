package network

import (
	"fmt"
	"slices"

	"farend/circuit"
	"farend/scheme"
)

// What the tests look at beside the results: nodes and points.

func (s *Solution) Point(slice int) *circuit.Point { return s.points[slice] }

func (s *Solution) Values(slice int) *circuit.Values { return s.values[slice] }

func (n *Network) NodeName(k int) string { return n.nodeNames[k] }

func (n *Network) WireName(i int) string { return n.elements[i].name }

// SourceNames gives the supplies in the order of the plan's sources.
func (n *Network) SourceNames() []string {
	names := make([]string, len(n.supplies))
	for _, t := range n.supplies {
		names[t.source] = t.id
	}
	return names
}

// PixelName names a pixel of a chain of the plan.
func (n *Network) PixelName(chain, k int) string {
	for _, r := range n.runs {
		for _, s := range r.stretches {
			if s.chain == chain {
				return fmt.Sprintf("%s pixel %d", r.id, s.first+k)
			}
		}
	}
	return ""
}

// FedPast lists the supplies whose plus copper joins to an end of a cable's positive core when the core and some fuses are open.
func (n *Network) FedPast(cable string, end scheme.End, fuses []string) []string {
	node, closed := n.without(cable, end, fuses)
	return n.suppliesAt(node, n.Plan.Joined(closed, nil))
}

// WiredPast is FedPast without the rails of tape: wire by wire, until no group grows any more.
func (n *Network) WiredPast(cable string, end scheme.End, fuses []string) []string {
	node, closed := n.without(cable, end, fuses)
	group := make([]int, n.Plan.Shape().Nodes)
	for k := range group {
		group[k] = k
	}
	for grown := true; grown; {
		grown = false
		for i, w := range n.Plan.Shape().Wires {
			if low := min(group[w.A], group[w.B]); closed(i) && group[w.A] != group[w.B] {
				group[w.A], group[w.B], grown = low, low, true
			}
		}
	}
	return n.suppliesAt(node, group)
}

// without is the node of an end of a cable's positive core, and which wires are closed when the core and some fuses are open.
func (n *Network) without(cable string, end scheme.End, fuses []string) (node int, closed func(int) bool) {
	core := n.cables[slices.IndexFunc(n.cables, func(c cableAt) bool { return c.id == cable })].cores[0]
	node = n.Plan.Shape().Wires[core].A
	if end == "to" {
		node = n.Plan.Shape().Wires[core].B
	}
	return node, func(i int) bool {
		return i != core && !(n.elements[i].link != nil && slices.Contains(fuses, n.elements[i].name))
	}
}

// suppliesAt lists the supplies whose plus is in the group of a node.
func (n *Network) suppliesAt(node int, group []int) []string {
	var fed []string
	for _, t := range n.supplies {
		if group[t.at.plus] == group[node] {
			fed = append(fed, t.id)
		}
	}
	return fed
}
