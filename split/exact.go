package split

import (
	"math"
	"math/bits"
)

// mostSteps is how many steps a search through all divisions may take: one for every way to leave out and put on a port, which for 12 parts on 8
// ports are 4 million, some hundredths of a second.
const mostSteps = 6e6

// within reports whether so many parts on so many ports are few enough to go through all divisions.
func within(parts, ports int) bool {
	return parts <= 14 && math.Pow(3, float64(parts))*float64(max(ports, 1)) <= mostSteps
}

// exact is the plan with the shortest longest frame, of these one that costs least: over sets of parts, port after port, the best that the ports
// so far can make of a set is the best of what this port takes and those before it make of the rest. It is not proven where there are too
// many parts to go through all; it is not ok where there is no plan.
func (t *table) exact() (plan [][]int, proven, ok bool) {
	n := len(t.parts)
	if !within(n, t.p.Ports) {
		return nil, false, false
	}
	sets := t.sets()
	limit := sets.shortest()
	if n > 0 && math.IsInf(limit, 1) {
		return nil, true, false
	}
	plan, ok = sets.cheapest(limit)
	return plan, true, ok
}

// sets are all sets of parts, a bit for each part.
type sets struct {
	*table
	all   int
	frame []float64 // for a set on one port
	tail  [][]cost  // of a set and the part that comes first of it: what the leads between them cost at least
	on    [][]cost  // of a port and a set: with the lead to the first
}

func (t *table) sets() *sets {
	n := len(t.parts)
	s := &sets{table: t, all: 1<<n - 1, frame: make([]float64, 1<<n), tail: make([][]cost, 1<<n)}
	pixels := make([]int, 1<<n)
	for set := 1; set <= s.all; set++ {
		low := bits.TrailingZeros(uint(set))
		rest := set & (set - 1)
		pixels[set] = pixels[rest] + t.pixels[low]
		if rest != 0 && (s.tail[rest] == nil || t.kind[low] != t.kind[bits.TrailingZeros(uint(rest))]) {
			s.frame[set] = math.Inf(1)
			continue // of several kinds
		}
		s.frame[set] = t.p.frame(t.kind[low], pixels[set])
		s.tail[set] = s.heads(set)
	}
	s.on = make([][]cost, t.p.Ports)
	for port := range s.on {
		s.on[port] = make([]cost, 1<<n)
		for set := 1; set <= s.all; set++ {
			s.on[port][set] = never
			for i := range s.tail[set] {
				if set>>i&1 == 1 {
					s.on[port][set] = min(s.on[port][set], t.entry[port][i].plus(s.tail[set][i]))
				}
			}
		}
	}
	return s
}

// heads is what the leads between the parts of a set cost at least, by the part that comes first.
func (s *sets) heads(set int) []cost {
	heads := make([]cost, len(s.parts))
	for i := range heads {
		heads[i] = never
		rest := set &^ (1 << i)
		switch {
		case rest == set: // not in it
		case rest == 0:
			heads[i] = 0
		default:
			for j, c := range s.tail[rest] {
				if rest>>j&1 == 1 {
					heads[i] = min(heads[i], s.chain[i][j].plus(c))
				}
			}
		}
	}
	return heads
}

// shortest is the shortest that the longest frame can be.
func (s *sets) shortest() float64 {
	best := make([]float64, s.all+1) // that the ports so far make of a set
	for set := 1; set <= s.all; set++ {
		best[set] = math.Inf(1)
	}
	for port := range s.on {
		on := s.on[port]
		for set := s.all; set > 0; set-- { // larger sets first: the smaller ones are still those of the ports before
			for part := set; part > 0; part = (part - 1) & set {
				if f := max(s.frame[part], best[set&^part]); f < best[set] && on[part] < never {
					best[set] = f
				}
			}
		}
	}
	return best[s.all]
}

// cheapest is the plan that costs least with no frame longer than a limit.
func (s *sets) cheapest(limit float64) ([][]int, bool) {
	least := make([]cost, s.all+1)
	for set := 1; set <= s.all; set++ {
		least[set] = never
	}
	takes := make([][]int32, len(s.on)) // of a port and a set: which parts of it the port takes
	for port := range s.on {
		takes[port] = make([]int32, s.all+1)
		on, take := s.on[port], takes[port]
		for set := s.all; set > 0; set-- {
			for part := set; part > 0; part = (part - 1) & set {
				if s.frame[part] > limit {
					continue
				}
				if c := on[part].plus(least[set&^part]); c < least[set] {
					least[set], take[set] = c, int32(part)
				}
			}
		}
	}
	plan := make([][]int, len(s.on))
	left := s.all
	for port := len(s.on) - 1; port >= 0; port-- {
		part := int(takes[port][left])
		plan[port] = s.order(port, part)
		left &^= part
	}
	return plan, least[s.all] < never && left == 0
}

// order is the cheapest order of a set on a port.
func (s *sets) order(port, set int) (list []int) {
	for set != 0 {
		best, first := never, -1
		for i, c := range s.tail[set] {
			if set>>i&1 == 0 {
				continue
			}
			lead := cost(0)
			if len(list) == 0 {
				lead = s.entry[port][i]
			} else {
				lead = s.chain[list[len(list)-1]][i]
			}
			if all := lead.plus(c); all < best || first < 0 {
				best, first = all, i
			}
		}
		list = append(list, first)
		set &^= 1 << first
	}
	return list
}
