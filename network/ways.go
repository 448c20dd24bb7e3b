package network

import (
	"slices"

	"farend/scheme"
)

// Feeding lists, in order, the fuses by which supplies feed the positive of a fault: those on some way through copper from a supply to
// its place, or to the other place of a bridge, that passes nowhere twice. What hangs beside all such ways feeds nothing into it.
func (n *Network) Feeding(f Fault) []string {
	found := map[string]bool{}
	for _, name := range []string{f.At, f.To} {
		at, ok := n.place(name)
		if !ok {
			continue
		}
		s := &search{n: n, ends: n.rails(at.plus), seen: map[int]int{thePlace: 1}}
		s.from(theSupplies, hop{to: thePlace, wire: none})
		for _, h := range s.block {
			if h.fuse != "" {
				found[h.fuse] = true
			}
		}
	}
	return scheme.IDs(found)
}

// A search goes depth first through copper from all supplies at once to a place. Of the hops that it makes it keeps those in one block
// with a hop straight from the place to the supplies: a block hangs together wherever one node is taken away, so its hops, and no
// others, lie on ways that pass nowhere twice (Hopcroft and Tarjan, Comm. ACM 16, 1973).
type search struct {
	n     *Network
	ends  []int       // nodes at which the place is
	seen  map[int]int // when a node was come to first
	block []hop
}

// The place and the supplies all together are nodes of the search alone.
const (
	thePlace    = -1
	theSupplies = -2
)

// from goes on from a node that a hop back would lead out of again, and returns the earliest node that is reached from there otherwise.
func (s *search) from(at int, back hop) (earliest int) {
	s.seen[at] = len(s.seen) + 1
	earliest = s.seen[at]
	for _, h := range s.hops(at) {
		switch then := s.seen[h.to]; {
		case h == back:
			back.wire = twice
		case then == 0:
			length := len(s.block)
			s.block = append(s.block, h)
			back := hop{at, h.wire, h.fuse}
			reached := s.from(h.to, back)
			earliest = min(earliest, reached)
			if reached >= s.seen[at] {
				s.block = s.block[:length]
			}
		case then < s.seen[at]:
			s.block = append(s.block, h)
			earliest = min(earliest, then)
		}
	}
	return earliest
}

// twice is the wire of no hop: of two alike only one leads back.
const twice = -3

// hops are those of the network, and those to the place and the supplies.
func (s *search) hops(at int) []hop {
	if at == theSupplies {
		list := []hop{{to: thePlace, wire: none}}
		for _, t := range s.n.supplies {
			list = append(list, hop{to: t.at.plus, wire: none})
		}
		return list
	}
	list := s.n.hops[at]
	if slices.Contains(s.ends, at) {
		list = append(slices.Clone(list), hop{to: thePlace, wire: none})
	}
	if slices.ContainsFunc(s.n.supplies, func(t supplyAt) bool { return t.at.plus == at }) {
		list = append(slices.Clone(list), hop{to: theSupplies, wire: none})
	}
	return list
}

// Sections are the pieces of copper between fuses, as they stand to each other and to a place.
type Sections struct {
	at    []int      // sections at which the place is
	leads [][]fusing // by section
	fed   [][]string // the supplies on it
}

// A fusing is a fuse that leads to another section.
type fusing struct {
	to   int
	fuse string
}

// Sections are those around the positive of a fault.
func (n *Network) Sections(f Fault) *Sections {
	s := *n.sections
	for _, name := range []string{f.At, f.To} {
		if at, ok := n.place(name); ok {
			s.at = append(s.at, n.sectionOf[n.rail(at.plus)])
		}
	}
	return &s
}

// Nowhere reports whether the fault has no place among them: one that opens or swaps something has none.
func (s *Sections) Nowhere() bool { return len(s.at) == 0 }

// Supplies lists the supplies on which the place still hangs, once some fuses have opened.
func (s *Sections) Supplies(opened func(fuse string) bool) []string {
	return s.reach(s.at, none, opened)
}

// reach lists the supplies that copper leads to from some sections, without going through another one, and through no fuse that is open.
func (s *Sections) reach(from []int, without int, opened func(fuse string) bool) (supplies []string) {
	seen := make([]bool, len(s.leads))
	queue := slices.Clone(from)
	for ; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		if seen[at] {
			continue
		}
		seen[at] = true
		supplies = append(supplies, s.fed[at]...)
		for _, l := range s.leads[at] {
			if !seen[l.to] && l.to != without && !opened(l.fuse) {
				queue = append(queue, l.to)
			}
		}
	}
	return supplies
}

// Nearest lists, in order, the fuses that are met first on the way from the place to a supply.
func (s *Sections) Nearest() []string {
	near := map[string]bool{}
	for _, at := range s.at {
		for _, fuse := range s.edge(at) {
			near[fuse] = true
		}
	}
	return scheme.IDs(near)
}

// edge lists the fuses by which something feeds a section.
func (s *Sections) edge(at int) (fuses []string) {
	for _, l := range s.leads[at] {
		if len(s.reach([]int{l.to}, at, func(string) bool { return false })) > 0 {
			fuses = append(fuses, l.fuse)
		}
	}
	return fuses
}

// Sole lists, in order, the fuses of a conductor, by its place among Conductors, each of which is the one that a piece of its positive
// copper is fed by: one of a core or a contact, and of a run one of each piece between cuts. There are none where any is fed by several, or
// by a supply without one, or for a return; but for the ground of a data lead there is the one in its port.
func (n *Network) Sole(conductor int) []string {
	if series := n.inSeries(conductor); series != "" {
		return []string{series}
	}
	sole := map[string]bool{}
	for _, node := range n.copperOf(conductor) {
		at := n.sectionOf[node]
		if edge := n.sections.edge(at); len(edge) == 1 && len(n.sections.fed[at]) == 0 {
			sole[edge[0]] = true
			continue
		}
		return nil
	}
	return scheme.IDs(sole)
}

// inSeries is the fuse that is in series with a conductor: of the path of a way, of a cable as far as its core, of the ground of a data lead
// all along; "" where there is none.
func (n *Network) inSeries(conductor int) string {
	in := func(path []int) string {
		if !slices.Contains(path, conductor) {
			return ""
		}
		for _, w := range path {
			if n.elements[w].link != nil {
				return n.elements[w].name
			}
		}
		return ""
	}
	for _, w := range n.ways {
		if fuse := in(w.path); fuse != "" {
			return fuse
		}
	}
	for _, c := range n.cables {
		core := slices.Index(c.plus, c.cores[0])
		for _, side := range [][]int{c.plus[:max(core, 0)], c.plus[core+1:]} {
			if fuse := in(side); fuse != "" {
				return fuse
			}
		}
	}
	for _, d := range n.leads {
		if fuse := in(d.ground); fuse != "" {
			return fuse
		}
	}
	return ""
}

// copperOf are nodes of the positive of a conductor, one for each of its pieces: of a core one, whatever is in series with it.
func (n *Network) copperOf(conductor int) (nodes []int) {
	if conductor >= len(n.elements) {
		for _, piece := range n.runs[conductor-len(n.elements)].stretches {
			nodes = append(nodes, n.Plan.Shape().Chains[piece.chain].APlus)
		}
		return nodes
	}
	wires := n.Plan.Shape().Wires
	for _, c := range n.cables {
		if slices.Contains(c.plus, conductor) && c.cores[0] >= 0 {
			return []int{wires[c.cores[0]].A}
		}
	}
	return []int{wires[conductor].A}
}

// laySections finds the pieces of copper between fuses.
func (n *Network) laySections() {
	n.sectionOf, n.sections = make([]int, len(n.hops)), &Sections{}
	for node := range n.sectionOf {
		n.sectionOf[node] = none
	}
	for node := range n.hops {
		if n.sectionOf[node] != none {
			continue
		}
		number := len(n.sections.leads)
		n.sections.leads, n.sections.fed = append(n.sections.leads, nil), append(n.sections.fed, nil)
		for at := range walk(n.hops, node, func(h hop) bool { return h.fuse == "" }) {
			n.sectionOf[at] = number
		}
	}
	for node, hops := range n.hops {
		for _, h := range hops {
			if at := n.sectionOf[node]; h.fuse != "" && at != n.sectionOf[h.to] {
				n.sections.leads[at] = append(n.sections.leads[at], fusing{n.sectionOf[h.to], h.fuse})
			}
		}
	}
	for _, t := range n.supplies {
		at := n.sectionOf[t.at.plus]
		n.sections.fed[at] = append(n.sections.fed[at], t.id)
	}
}

// FarEnds are the places, by any of their names, where the copper of a way, or of a cable from its fuse on, ends that no further fuse and no tape
// lies in: runs, inlets and ways where its cables land, and junctions from which none leads on.
func (n *Network) FarEnds(at string) map[string]bool {
	ends, seen := map[string]bool{}, map[string]bool{}
	var from func(ref scheme.Ref, but string)
	along := func(id string, c scheme.Cable, ref scheme.Ref) {
		far := c.To
		if ref == c.To {
			far = c.From
		}
		if !seen[id] {
			seen[id] = true
			from(far, id)
		}
	}
	from = func(ref scheme.Ref, but string) {
		onward := false
		if ref.Kind == scheme.JunctionRef || ref.String() == at {
			for _, id := range n.Landings(ref.String()) {
				if c := n.Scheme.Cables[id]; id != but && c.Fuse == "" && c.Pole.Has(scheme.Plus) {
					onward = true
					along(id, c, ref)
				}
			}
		}
		if !onward {
			ends[ref.String()] = true
		}
	}
	if c, is := n.Scheme.Cables[at]; is {
		seen[at] = true
		if c.FuseAt == "to" {
			from(c.From, at)
		} else {
			from(c.To, at)
		}
		return ends
	}
	for _, id := range n.Landings(at) {
		if c := n.Scheme.Cables[id]; c.Fuse == "" && c.Pole.Has(scheme.Plus) {
			ref := c.From
			if ref.String() != at {
				ref = c.To
			}
			along(id, c, ref)
		}
	}
	return ends
}
