package network

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/scheme"
)

// A Place is where something may go wrong: a pair of rails, by name. Also are the other names of the same two nodes.
type Place struct {
	Name string
	Also []string
}

// Places lists, in order, every place that a supply reaches with both poles: supplies, inlets, ways, junctions, the stations of runs
// on which something lands and their ends, the mark nearest the middle of every stretch, and both ends of the core of every cable.
// Names of the same two nodes are one place, which a supply, inlet, way, junction or station names before a cable does.
func (n *Network) Places() []Place {
	var list []Place
	seen := map[terminal]int{}
	for _, name := range slices.Concat(n.landingPlaces(), n.middles(), n.coreEnds()) {
		at, _ := n.place(name)
		if !n.reached(at) {
			continue
		}
		if k, known := seen[at]; known {
			list[k].Also = append(list[k].Also, name)
			continue
		}
		seen[at] = len(list)
		list = append(list, Place{Name: name})
	}
	slices.SortStableFunc(list, func(a, b Place) int { return finding.Natural(a.Name, b.Name) })
	return list
}

// landingPlaces are the places on which cables may land: none of them is the bar of a board that is not chosen, or a way with an empty
// holder on which nothing lands.
func (n *Network) landingPlaces() []string {
	spare := map[string]bool{}
	for _, w := range n.ways {
		spare[w.name] = n.Scheme.Fuses[w.name] == "" && len(n.Landings(w.name)) == 0
	}
	return slices.DeleteFunc(scheme.IDs(n.places), func(name string) bool { return strings.HasSuffix(name, " bar") || spare[name] })
}

// middles are the marks nearest the middle of each stretch, the lower on a tie; none where there is no mark within.
func (n *Network) middles() []string {
	var list []string
	for _, r := range n.runs {
		for _, s := range r.stretches {
			every := max(r.tape.CutEvery, 1)
			middle := float64(s.first) + float64(s.count)/2
			mark := int(math.Ceil(middle/float64(every)-0.5)) * every
			if mark > s.first && mark < s.first+s.count {
				list = append(list, stationName(r.id, mark, r.count))
			}
		}
	}
	return list
}

// coreEnds are both ends of the core of every cable.
func (n *Network) coreEnds() []string {
	var list []string
	for _, c := range n.cables {
		list = append(list, c.id+"@from", c.id+"@to")
	}
	return list
}

// place is the pair of nodes, or of taps inside a chain, that a name stands for.
func (n *Network) place(name string) (at terminal, ok bool) {
	if at, ok := n.places[name]; ok {
		return at, true
	}
	id, mark, _ := strings.Cut(name, "@")
	if k, known := n.runAt[id]; known {
		return n.tapped(n.runs[k], mark)
	}
	k := slices.IndexFunc(n.cables, func(c cableAt) bool { return c.id == id })
	if k < 0 || mark != "from" && mark != "to" {
		return terminal{}, false
	}
	return n.coreEnd(n.cables[k], scheme.End(mark)), true
}

// tapped is a mark within a stretch, such as px72.
func (n *Network) tapped(r runAt, mark string) (at terminal, ok bool) {
	digits, is := strings.CutPrefix(mark, "px")
	pixel, err := strconv.Atoi(digits)
	if !is || err != nil || pixel%max(r.tape.CutEvery, 1) != 0 {
		return terminal{}, false
	}
	for _, s := range r.stretches {
		if pixel > s.first && pixel < s.first+s.count {
			plus, minus := n.Plan.Tap(s.chain, pixel-s.first)
			return terminal{plus, minus}, true
		}
	}
	return terminal{}, false
}

// coreEnd is an end of the cores of a cable: behind its contacts, and behind its own fuse where that stands at this end. For a pole
// that the cable has not, it is what the cable lands on.
func (n *Network) coreEnd(c cableAt, end scheme.End) terminal {
	at, side := c.from, func(core int) int { return n.Plan.Shape().Wires[core].A }
	if end == "to" {
		at, side = c.to, func(core int) int { return n.Plan.Shape().Wires[core].B }
	}
	if c.cores[0] >= 0 {
		at.plus = side(c.cores[0])
	}
	if c.cores[1] >= 0 {
		at.minus = side(c.cores[1])
	}
	return at
}

// reached reports whether copper joins one supply to both rails of a place.
func (n *Network) reached(at terminal) bool {
	plus, minus := n.rail(at.plus), n.rail(at.minus)
	return slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
		return n.joined.of(t.at.plus) == n.joined.of(plus) && n.joined.of(t.at.minus) == n.joined.of(minus)
	})
}

// rail is a node that copper joins to a place.
func (n *Network) rail(place int) int { return n.rails(place)[0] }

// rails are the nodes between which a place is: itself, or for a tap, which is no node, the ends of the rail that it is on.
func (n *Network) rails(place int) []int {
	nodes := n.Plan.Shape().Nodes
	if place < nodes {
		return []int{place}
	}
	for _, r := range n.runs {
		for _, s := range r.stretches {
			first, _ := n.Plan.Tap(s.chain, min(1, s.count-1))
			if k := place - first; s.count > 1 && k >= 0 && k < 2*(s.count-1) {
				c := n.Plan.Shape().Chains[s.chain]
				return [][]int{{c.APlus, c.BPlus}, {c.AReturn, c.BReturn}}[k%2]
			}
		}
	}
	return []int{place}
}
