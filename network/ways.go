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
	fed   []bool     // whether a supply is on it
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

// Parted reports whether the place hangs on no supply any more, once some fuses have opened. A fault without a place always does on one.
func (s *Sections) Parted(opened func(fuse string) bool) bool {
	seen := make([]bool, len(s.leads))
	queue := slices.Clone(s.at)
	for ; len(queue) > 0; queue = queue[1:] {
		at := queue[0]
		if s.fed[at] {
			return false
		}
		if seen[at] {
			continue
		}
		seen[at] = true
		for _, l := range s.leads[at] {
			if !seen[l.to] && !opened(l.fuse) {
				queue = append(queue, l.to)
			}
		}
	}
	return len(s.at) > 0
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
		n.sections.leads, n.sections.fed = append(n.sections.leads, nil), append(n.sections.fed, false)
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
		n.sections.fed[n.sectionOf[t.at.plus]] = true
	}
}
