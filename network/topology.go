package network

import (
	"slices"
	"strings"

	"farend/circuit"
	"farend/conductor"
	"farend/parts"
	"farend/unit"
)

// Ways lists the ways of all boards, such as A1.2, in order.
func (n *Network) Ways() []string {
	names := make([]string, len(n.ways))
	for i, w := range n.ways {
		names[i] = w.name
	}
	return names
}

// BoardOf is the board of a way or port name.
func BoardOf(name string) string {
	board, _, _ := strings.Cut(name, ".")
	return board
}

// A Feed is how one stretch of a run hangs on the supplies by copper, without the way through pixels.
type Feed struct {
	From, To int      // pixels, To exclusive
	Plus     []string // supplies whose plus terminal its positive rail is joined to
	Return   []string // supplies whose minus terminal its return rail is joined to
	DataOnly bool     // it has a closed circuit, and every one of them returns through the ground core of a data lead
}

// Closed reports whether one supply is joined to both rails.
func (f Feed) Closed() bool {
	return slices.ContainsFunc(f.Plus, func(t string) bool { return slices.Contains(f.Return, t) })
}

// Feeds lists the stretches of a run with what feeds them.
func (n *Network) Feeds(run string) []Feed {
	at, known := n.runAt[run]
	if !known {
		return nil
	}
	var feeds []Feed
	for _, s := range n.runs[at].stretches {
		feeds = append(feeds, n.feed(s))
	}
	return feeds
}

func (n *Network) feed(s stretch) Feed {
	all, bare := n.joined, n.joinedBare
	c := n.Plan.Shape().Chains[s.chain]
	f := Feed{From: s.first, To: s.first + s.count}
	sound := false // some supply's circuit closes through power copper
	for _, t := range n.supplies {
		plus, minus := all.of(t.at.plus) == all.of(c.APlus), all.of(t.at.minus) == all.of(c.AReturn)
		if plus {
			f.Plus = append(f.Plus, t.id)
		}
		if minus {
			f.Return = append(f.Return, t.id)
		}
		sound = sound || plus && bare.of(t.at.minus) == bare.of(c.AReturn)
	}
	f.DataOnly = f.Closed() && !sound
	return f
}

// CommonReturn reports whether the sender's ground and the run's return of a data lead are joined by copper.
func (n *Network) CommonReturn(lead string) bool {
	sets := n.joined
	for _, d := range n.leads {
		if d.id == lead {
			return sets.of(d.sender) == sets.of(d.rail)
		}
	}
	return false
}

// Dead reports whether a cable hangs on no supply at all.
func (n *Network) Dead(cable string) bool {
	sets := n.joined
	for _, c := range n.cables {
		if c.id != cable {
			continue
		}
		return !slices.ContainsFunc(n.supplies, func(t supplyAt) bool {
			return sets.of(t.at.plus) == sets.of(c.from.plus) || sets.of(t.at.minus) == sets.of(c.from.minus)
		})
	}
	return false
}

// A grouping gives every node the group it belongs to.
type grouping []int

func (g grouping) of(node int) int { return g[node] }

// grouped groups the nodes that copper joins: wires and rails, not loads or sources; with or without the ground cores of
// data leads.
func (n *Network) grouped(data bool) grouping {
	grounds := map[int]bool{}
	for _, d := range n.leads {
		for _, w := range d.ground {
			grounds[w] = true
		}
	}
	return n.Plan.Joined(func(wire int) bool { return data || !grounds[wire] }, nil)
}

// pieces groups the nodes that hang together by anything at all: copper, supplies that are on, loads.
func (n *Network) pieces(v *circuit.Values) grouping {
	joined := n.Plan.Joined(
		func(i int) bool { w := v.Wire(i); return w.Law != nil || w.G > 0 },
		func(i int) bool { t := v.Source(i); return !t.Off && t.Limit > 0 })
	root := func(k int) int {
		for joined[k] != k {
			k = joined[k]
		}
		return k
	}
	for i, c := range n.Plan.Shape().Chains {
		if a, b := root(c.APlus), root(c.AReturn); v.Rails(i).Law != nil {
			joined[max(a, b)] = min(a, b)
		}
	}
	for k := range joined {
		joined[k] = root(k)
	}
	return joined
}

// FullCurrent is the largest heating current that one core of any landing cable brings to a contact of a junction in a solved
// case; cores in parallel land on a contact each.
func (n *Network) FullCurrent(r *Result, junction string) unit.Ampere {
	worst := unit.Ampere(0)
	for _, id := range n.Landings(junction) {
		at := r.Cables[id]
		worst = max(worst, max(at.Plus.RMS, at.Return.RMS)/unit.Ampere(n.Scheme.Cables[id].PerPole()))
	}
	return worst
}

// Landings lists the cables that end at a place, written as scheme.Ref writes it, in order. The list is the network's own:
// read it only.
func (n *Network) Landings(place string) []string { return n.landings[place] }

// Found reports whether a result is an operating point.
func (r *Result) Found() bool { return r.Outcome == circuit.Converged }

// LeadAmpacity is what the ground core of a data lead may carry in the surroundings of the site; ok is false where its
// part does not say.
func (n *Network) LeadAmpacity(id string) (parts.Value[unit.Ampere], bool) {
	part, ok := parts.Get[parts.Cable](n.Scheme.Library, n.Scheme.Data[id].Part)
	if !ok || !part.Iz.Conduit.Given {
		return parts.Value[unit.Ampere]{}, false
	}
	rating := part.Iz.Conduit
	rating.Is = conductor.Ampacity(rating.Is, part.Insulation.Is, n.Scheme.Ambient(), 1)
	return rating, true
}
