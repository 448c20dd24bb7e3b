package network

import "slices"

// Parted is what copper joins, tape and data leads too, while some of Outages are open.
type Parted struct {
	n      *Network
	open   map[int]bool
	joined grouping
}

// Parted is that with some of Outages open.
func (n *Network) Parted(outs []string) Parted {
	p := Parted{n: n, open: map[int]bool{}}
	for _, out := range outs {
		for _, w := range n.outings[out].wires {
			p.open[w] = true
		}
	}
	p.joined = n.Plan.Joined(func(wire int) bool { return !p.open[wire] }, nil)
	return p
}

// Meet reports whether the positive of two places meets; places that are not known meet nothing.
func (p Parted) Meet(a, b string) bool {
	one, known := p.n.place(a)
	other, too := p.n.place(b)
	return known && too && p.joined.of(one.plus) == p.joined.of(other.plus)
}

// Between lists, in order of the way, the cables and data leads by which the positive of one place meets that of another, on a way of fewest pieces of
// copper; none where they do not meet.
func (p Parted) Between(a, b string) (by []string) {
	if !p.Meet(a, b) {
		return nil
	}
	from, _ := p.n.place(b)
	to, _ := p.n.place(a)
	cores := p.cores()
	came := map[int]hop{from.plus: {wire: none}}
	for here := []int{from.plus}; len(here) > 0; here = here[1:] {
		for _, h := range p.n.hops[here[0]] {
			if _, seen := came[h.to]; !seen && !p.open[h.wire] {
				came[h.to] = hop{to: here[0], wire: h.wire}
				here = append(here, h.to)
			}
		}
	}
	for at := to.plus; at != from.plus; {
		h, reached := came[at]
		if !reached {
			return by
		}
		if id, is := cores[h.wire]; is && !slices.Contains(by, id) {
			by = append(by, id)
		}
		at = h.to
	}
	return by
}

// cores names the cable or data lead of each wire that is a positive core of one.
func (p Parted) cores() map[int]string {
	cores := map[int]string{}
	for _, c := range p.n.cables {
		for _, w := range c.plus {
			cores[w] = c.id
		}
	}
	for _, d := range p.n.leads {
		for _, w := range d.power {
			cores[w] = d.id
		}
	}
	return cores
}
