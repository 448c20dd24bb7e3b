package network

import (
	"maps"
	"slices"

	"farend/scheme"
)

// A Behind is what may feed a place through the copper of the positive: the fuses that are met first on the way to some supply,
// and the supplies that are reached without meeting any. Both are in order. The return never counts.
type Behind struct {
	Fuses []string // A1.1.fuse, W1.fuse; those not chosen yet count as fuses
	Bare  []string // supplies
}

// Behind is what may feed an end of a cable's positive core, when the cable itself is taken away: what a fault in the cable would draw
// from at that end. Its own inline fuse counts at the end where it stands, and nowhere else. At the end of a link of the return alone
// it is what may feed the positive of the place where the link lands, for that is what comes home by it.
func (n *Network) Behind(cable string, end scheme.End) Behind { return n.behindEnd(cable, end, n.hops) }

// BehindByWire is the same by cables, boards and junctions alone, without the way along tape or the spare cores of data leads.
func (n *Network) BehindByWire(cable string, end scheme.End) Behind {
	return n.behindEnd(cable, end, n.wires)
}

func (n *Network) behindEnd(cable string, end scheme.End, hops [][]hop) Behind {
	for _, c := range n.cables {
		if c.id != cable {
			continue
		}
		at, node := c.from, 0
		if end == "to" {
			at, node = c.to, 1
		}
		core := c.cores[0]
		if core < 0 {
			return n.behind(hops, []int{at.plus}, none)
		}
		pair := n.Plan.Shape().Wires[core]
		b := n.behind(hops, []int{[2]int{pair.A, pair.B}[node]}, core)
		if own := n.Scheme.Cables[cable]; n.pending(own.Fuse) && (own.FuseAt == "to") == (end == "to") && len(b.Fuses)+len(b.Bare) > 0 {
			return Behind{Fuses: []string{cable + ".fuse"}}
		}
		return b
	}
	return Behind{}
}

// Fed is what may feed a place: a way, junction or supply by its name, the inlet A1.in from outside its board, a run by any of its
// positive rails.
func (n *Network) Fed(place string) Behind {
	for _, b := range n.boards {
		if b.id+".in" == place {
			return n.behind(n.hops, []int{n.Plan.Shape().Wires[b.inlet[0]].A}, b.inlet[0])
		}
	}
	if at, known := n.runAt[place]; known {
		var rails []int
		for _, s := range n.runs[at].stretches {
			rails = append(rails, n.Plan.Shape().Chains[s.chain].APlus)
		}
		return n.behind(n.hops, rails, none)
	}
	if at, known := n.places[place]; known {
		return n.behind(n.hops, []int{at.plus}, none)
	}
	return Behind{}
}

// Isolating is what may feed a run, by any of its positive rails, or a board, by its inlet, its bars or the terminal of any of its ways, and the
// data leads whose spare cores are part of the copper that stays live with it. With all of it open no positive of it is live.
func (n *Network) Isolating(id string) (fed Behind, leads []string) {
	var starts []int
	wires := n.Plan.Shape().Wires
	if at, known := n.runAt[id]; known {
		for _, s := range n.runs[at].stretches {
			starts = append(starts, n.Plan.Shape().Chains[s.chain].APlus)
		}
	}
	for _, b := range n.boards {
		if b.id == id {
			starts = append(starts, wires[b.inlet[0]].A, wires[b.inlet[0]].B)
		}
	}
	for _, w := range n.ways {
		if BoardOf(w.name) == id {
			starts = append(starts, w.at.plus)
		}
	}
	within, _ := region(n.hops, starts, none)
	for _, d := range n.leads {
		if slices.ContainsFunc(d.power, func(w int) bool { return within[wires[w].A] || within[wires[w].B] }) {
			leads = append(leads, d.id)
		}
	}
	return n.behind(n.hops, starts, none), leads
}

// Around is what may feed the place where a cable lands with one of its ends, whatever the cable itself brings there.
func (n *Network) Around(cable string, end scheme.End) Behind {
	for _, c := range n.cables {
		switch {
		case c.id != cable:
		case end == "to":
			return n.behind(n.hops, []int{c.to.plus}, none)
		default:
			return n.behind(n.hops, []int{c.from.plus}, none)
		}
	}
	return Behind{}
}

// Towards reports whether a fuse's own direction, outwards from its way or along its cable, leads to the place around an end of a cable.
func (n *Network) Towards(fuse, cable string, end scheme.End) bool {
	wire, far, _ := n.sides(fuse, true)
	for _, c := range n.cables {
		at := c.from.plus
		if end == "to" {
			at = c.to.plus
		}
		if c.id == cable && wire != none {
			within, _ := region(n.hops, []int{at}, wire)
			return within[far]
		}
	}
	return false
}

// TowardsRun reports whether a fuse's own direction, outwards from its way or along its cable, leads to any positive rail of a run.
func (n *Network) TowardsRun(fuse, run string) bool {
	wire, far, _ := n.sides(fuse, true)
	at, known := n.runAt[run]
	if wire == none || !known {
		return false
	}
	var rails []int
	for _, s := range n.runs[at].stretches {
		rails = append(rails, n.Plan.Shape().Chains[s.chain].APlus)
	}
	within, _ := region(n.hops, rails, wire)
	return within[far]
}

// A CableEnd is one end of a cable.
type CableEnd struct {
	Cable string
	End   scheme.End
}

// Hanging lists, in order, the ends of other cables that copper leads to from a cable which is entered at one of its ends: without a
// fuse, and other than by the place where it is entered.
func (n *Network) Hanging(cable string, end scheme.End) []CableEnd {
	i := slices.IndexFunc(n.cables, func(c cableAt) bool { return c.id == cable })
	if i < 0 || n.cables[i].cores[0] < 0 {
		return nil
	}
	core := n.cables[i].cores[0]
	far, entry := n.Plan.Shape().Wires[core].B, n.cables[i].from.plus
	if end == "to" {
		far, entry = n.Plan.Shape().Wires[core].A, n.cables[i].to.plus
	}
	seen := walk(n.hops, far, func(h hop) bool { return h.fuse == "" && h.wire != core && h.to != entry })
	var list []CableEnd
	for _, c := range n.cables {
		if c.id == cable {
			continue
		}
		at := [2]int{c.from.plus, c.to.plus}
		if c.cores[0] >= 0 {
			pair := n.Plan.Shape().Wires[c.cores[0]]
			at = [2]int{pair.A, pair.B}
		}
		for k, side := range []scheme.End{"from", "to"} {
			if seen[at[k]] {
				list = append(list, CableEnd{c.id, side})
			}
		}
	}
	return list
}

// Beyond lists, in order, the fuses that lie beyond a fuse for current in its own direction, outwards from its way or along its cable,
// or against it: those that may open and take some of its current away. In a mesh that is all that copper reaches without it.
func (n *Network) Beyond(fuse string, along bool) []string {
	found := map[string]bool{}
	wire, far, _ := n.sides(fuse, along)
	if wire == none {
		return nil
	}
	walk(n.hops, far, func(h hop) bool {
		if h.wire != wire && h.fuse != "" {
			found[h.fuse] = true
		}
		return h.wire != wire
	})
	return scheme.IDs(found)
}

// RunsBeyond lists, in order, the runs that copper leads to beyond a fuse, likewise, other than by the copper that feeds it.
func (n *Network) RunsBeyond(fuse string, along bool) []string {
	wire, far, near := n.sides(fuse, along)
	if wire == none {
		return nil
	}
	feeding, _ := region(n.hops, []int{near}, wire)
	reached := walk(n.hops, far, func(h hop) bool { return h.wire != wire && !feeding[h.to] })
	runs := map[string]bool{}
	for _, r := range n.runs {
		for _, s := range r.stretches {
			if reached[n.Plan.Shape().Chains[s.chain].APlus] {
				runs[r.id] = true
			}
		}
	}
	return scheme.IDs(runs)
}

// sides is the wire of a fuse, with the node beyond it and the one before it; none where there is no such fuse.
func (n *Network) sides(fuse string, along bool) (wire, far, near int) {
	for i, e := range n.elements {
		if e.link == nil || e.name != fuse {
			continue
		}
		pair := n.Plan.Shape().Wires[i]
		if along {
			return i, pair.B, pair.A
		}
		return i, pair.A, pair.B
	}
	return none, none, none
}

// walk goes wherever hops lead from a node, as long as they may be taken.
func walk(hops [][]hop, from int, may func(hop) bool) (seen map[int]bool) {
	seen = map[int]bool{from: true}
	for queue := []int{from}; len(queue) > 0; queue = queue[1:] {
		for _, h := range hops[queue[0]] {
			if may(h) && !seen[h.to] {
				seen[h.to] = true
				queue = append(queue, h.to)
			}
		}
	}
	return seen
}

// A hop leads from a node to another one, through a wire or along a rail of a run, and through a fuse where it has a name.
type hop struct {
	to   int
	wire int
	fuse string
}

// none stands for no wire to be left out, rail for a rail in the place of a wire.
const (
	none = -1
	rail = -2
)

// layHops notes where copper leads from each node, and where cables, boards and junctions alone do. Links that are not chosen yet are in no circuit: the copper in their place counts
// as a fuse all the same, for that is what the scheme says it will be.
func (n *Network) layHops() {
	shape := n.Plan.Shape()
	n.hops = make([][]hop, shape.Nodes)
	pending := n.pendingFuses()
	join := func(a, b, wire int, fuse string) {
		n.hops[a] = append(n.hops[a], hop{b, wire, fuse})
		n.hops[b] = append(n.hops[b], hop{a, wire, fuse})
	}
	n.wires = make([][]hop, shape.Nodes)
	data := n.dataWires()
	for i, w := range shape.Wires {
		fuse := pending[i]
		if e := n.elements[i]; e.link != nil {
			fuse = e.name
		}
		join(w.A, w.B, i, fuse)
		if !data[i] {
			n.wires[w.A] = append(n.wires[w.A], hop{w.B, i, fuse})
			n.wires[w.B] = append(n.wires[w.B], hop{w.A, i, fuse})
		}
	}
	for _, c := range shape.Chains {
		join(c.APlus, c.BPlus, rail, "")
		join(c.AReturn, c.BReturn, rail, "")
	}
}

// pendingFuses are the wires in whose place a fuse is still to be chosen, with its name: the path of a way, the core of a cable.
func (n *Network) pendingFuses() map[int]string {
	fuses := map[int]string{}
	for _, w := range n.ways {
		if n.pending(n.Scheme.Fuses[w.name]) {
			fuses[w.path[0]] = w.name + ".fuse"
		}
	}
	for _, c := range n.cables {
		if core := c.cores[0]; core >= 0 && n.pending(n.Scheme.Cables[c.id].Fuse) {
			fuses[core] = c.id + ".fuse"
		}
	}
	return fuses
}

// pending reports whether a fuse is named and not chosen.
func (n *Network) pending(fuse string) bool {
	_, chosen := n.Scheme.Library.Find(fuse)
	return fuse != "" && !chosen
}

// behind walks the copper from some nodes, one wire left out, as far as the next fuses, and asks of each fuse whether a supply lies
// beyond it.
func (n *Network) behind(hops [][]hop, starts []int, out int) Behind {
	within, edge := region(hops, starts, out)
	sources := map[int]string{}
	for _, t := range n.supplies {
		sources[t.at.plus] = t.id
	}
	fuses, bare := map[string]bool{}, map[string]bool{}
	for node := range within {
		if id, is := sources[node]; is {
			bare[id] = true
		}
	}
	for _, h := range edge {
		if !within[h.to] && !fuses[h.fuse] && reaches(hops, h.to, out, within, sources) {
			fuses[h.fuse] = true
		}
	}
	return Behind{Fuses: scheme.IDs(fuses), Bare: scheme.IDs(bare)}
}

// region is the nodes that bare copper joins to some nodes, and the fuses at its edge.
func region(hops [][]hop, starts []int, out int) (within map[int]bool, edge []hop) {
	within = map[int]bool{}
	for _, from := range starts {
		if within[from] {
			continue
		}
		maps.Copy(within, walk(hops, from, func(h hop) bool {
			if h.fuse != "" && h.wire != out {
				edge = append(edge, h)
			}
			return h.fuse == "" && h.wire != out
		}))
	}
	return within, edge
}

// reaches reports whether copper leads from a node to a supply, through whatever fuses, without a region and without one wire.
func reaches(hops [][]hop, from, out int, without map[int]bool, sources map[int]string) bool {
	_, found := sources[from]
	walk(hops, from, func(h hop) bool {
		may := !found && h.wire != out && !without[h.to]
		if _, is := sources[h.to]; is && may {
			found = true
		}
		return may
	})
	return found
}
