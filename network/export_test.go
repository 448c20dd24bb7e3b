package network

import (
	"fmt"

	"farend/circuit"
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
