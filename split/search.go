package split

import (
	"cmp"
	"math"
	"slices"
)

// mostMoves is how many moves of a part a search tries.
const mostMoves = 400_000

// search is the best plan that is found from a start, where there is one, and from a fresh one: parts are moved, and exchanged between ports, as long
// as that makes the longest frame shorter; then moved as long as it saves leads and makes no frame longer. It is never worse than
// the start.
func (t *table) search(start [][]int) (best [][]int, ok bool) {
	starts := [][][]int{start}
	if fresh, placed := t.fresh(); placed {
		starts = append(starts, fresh)
	}
	bestFrame, bestCost := math.Inf(1), never
	for _, plan := range starts {
		if plan == nil {
			continue
		}
		s := &searching{table: t, plan: clone(plan), left: mostMoves}
		if s.shorten(); !s.lasts() {
			s.save()
		}
		frame, all := t.worst(s.plan)
		if all < never && (frame < bestFrame || frame == bestFrame && all < bestCost) {
			best, bestFrame, bestCost = s.plan, frame, all
		}
	}
	return best, best != nil && !math.IsInf(bestFrame, 1)
}

// lasts reports whether some frame lasts for ever.
func (s *searching) lasts() bool {
	frame, _ := s.worst(s.plan)
	return math.IsInf(frame, 1)
}

func clone(plan [][]int) [][]int {
	other := make([][]int, len(plan))
	for i, list := range plan {
		other[i] = slices.Clone(list)
	}
	return other
}

// fresh is a plan from nothing: the largest part of each kind gets a port, those that few ports can take first; then the largest of what is left
// goes where the frame becomes least long, again and again. It is not ok where some part has no place left.
func (t *table) fresh() (plan [][]int, ok bool) {
	plan = make([][]int, t.p.Ports)
	order := make([]int, len(t.parts))
	for i := range order {
		order[i] = i
	}
	alone := func(i int) float64 { return t.frame([]int{i}) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(alone(b), alone(a)) })
	seen := map[string]bool{}
	var first, rest []int
	for _, i := range order {
		if seen[t.kind[i]] {
			rest = append(rest, i)
		} else {
			seen[t.kind[i]] = true
			first = append(first, i)
		}
	}
	slices.SortStableFunc(first, func(a, b int) int { return cmp.Compare(t.open(a), t.open(b)) })
	for _, i := range append(first, rest...) {
		port, at := t.place(plan, i)
		if port < 0 {
			return nil, false
		}
		plan[port] = slices.Insert(plan[port], at, i)
	}
	return plan, true
}

// open is how many ports can take a part.
func (t *table) open(i int) (ports int) {
	for port := range t.entry {
		if t.entry[port][i] < never {
			ports++
		}
	}
	return ports
}

// place is where a part makes the least long frame, and of such places the one that costs least; the port is −1 where there is none.
func (t *table) place(plan [][]int, i int) (port, at int) {
	port = -1
	least, lead := math.Inf(1), never
	for q, list := range plan {
		frame := t.frame(append(slices.Clone(list), i))
		if frame > least || math.IsInf(frame, 1) {
			continue
		}
		if where, c := t.insert(q, list, i); c < never && (frame < least || c < lead) {
			port, at, least, lead = q, where, frame, c
		}
	}
	return port, at
}

// insert is where in the list of a port a part costs least, and how much more than without it.
func (t *table) insert(port int, list []int, i int) (at int, more cost) {
	more = never
	for k := 0; k <= len(list); k++ {
		into, out, was := t.entry[port][i], cost(0), cost(0)
		if k > 0 {
			into = t.chain[list[k-1]][i]
		}
		if k < len(list) {
			out = t.chain[i][list[k]]
			was = t.entry[port][list[k]]
			if k > 0 {
				was = t.chain[list[k-1]][list[k]]
			}
		}
		if sum := into.plus(out); sum < never && was < never && sum-was < more {
			at, more = k, sum-was
		}
	}
	return at, more
}

// searching is a plan that moves make better, and how many may still be tried.
type searching struct {
	*table
	plan [][]int
	left int
}

// shorten moves parts from the port with the longest frame, or exchanges them for smaller ones, until that makes none shorter.
func (s *searching) shorten() {
	for s.left > 0 && s.shortened() {
	}
}

func (s *searching) shortened() bool {
	slow, longest := 0, -1.0
	for port, list := range s.plan {
		if f := s.frame(list); f > longest {
			slow, longest = port, f
		}
	}
	best, least := [2][]int{}, longest
	other := -1
	try := func(port int, here, there []int) {
		s.left -= len(here) + len(there)
		if f := max(s.frame(here), s.frame(there)); f < least && s.costs(slow, here) < never && s.costs(port, there) < never {
			best, least, other = [2][]int{here, there}, f, port
		}
	}
	for k, i := range s.plan[min(slow, len(s.plan)-1)] {
		if s.left <= 0 {
			break
		}
		without := slices.Delete(slices.Clone(s.plan[slow]), k, k+1)
		for port, list := range s.plan {
			if port == slow || s.entry[port][i] == never && len(list) == 0 {
				continue
			}
			if at, more := s.insert(port, list, i); more < never {
				try(port, without, slices.Insert(slices.Clone(list), at, i))
			}
			for m, j := range list {
				if s.pixels[j] >= s.pixels[i] && s.kind[i] == s.kind[j] {
					continue
				}
				here, there := slices.Clone(s.plan[slow]), slices.Clone(list)
				here[k], there[m] = j, i
				try(port, here, there)
			}
		}
	}
	if other < 0 {
		return false
	}
	s.plan[slow], s.plan[other] = best[0], best[1]
	return true
}

// save moves parts to where they cost less, as long as no frame gets longer than the longest is.
func (s *searching) save() {
	limit, _ := s.worst(s.plan)
	for saved := true; saved && s.left > 0; {
		saved = false
		for i := range s.parts {
			saved = s.moved(i, limit) || saved
		}
	}
}

// moved moves one part to where it costs least, if that is less than where it is.
func (s *searching) moved(i int, limit float64) bool {
	from, k := s.find(i)
	without := slices.Delete(slices.Clone(s.plan[from]), k, k+1)
	was, rest := s.costs(from, s.plan[from]), s.costs(from, without)
	if rest == never {
		return false
	}
	to, at, least := -1, 0, was-rest
	for port, list := range s.plan {
		if port == from {
			list = without
		}
		s.left -= len(list) + 1
		if len(list) > 0 && s.kind[list[0]] != s.kind[i] {
			continue
		}
		where, more := s.insert(port, list, i)
		if more < least && (port == from || s.frame(append(slices.Clone(list), i)) <= limit) {
			to, at, least = port, where, more
		}
	}
	if to < 0 {
		return false
	}
	s.plan[from] = without
	s.plan[to] = slices.Insert(slices.Clone(s.plan[to]), at, i)
	return true
}

// find is the port of a part, and its place there.
func (s *searching) find(i int) (port, at int) {
	for port, list := range s.plan {
		if at := slices.Index(list, i); at >= 0 {
			return port, at
		}
	}
	return 0, 0
}
