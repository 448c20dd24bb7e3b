package split

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
	"sort"
)

// Fewest cuts. Of any division, join each run to the ports that send to it: what hangs together is a group of runs with ports of its own. A group of R
// runs and B ports has at least R + B − 1 pieces, for it hangs together, so at least B − 1 cuts. As many are enough: its pixels
// laid in a row and cut where a port is full make B shares, and at most one cut between two of them. So the fewest cuts are the ports in use less the groups,
// over all ways to part the runs into groups, each with as many ports as its pixels fill. Where marks of all runs of a kind are equally far apart
// the row is cut at marks, and nothing is lost.

// cut is the best division with runs cut, and whether it is better than the best of whole runs: it meets the aim, or comes nearer to it.
func (p *Problem) cut(whole Division) (Division, bool) {
	if within(len(p.Runs), p.Ports) && p.alike() {
		return p.counted(whole)
	}
	return p.repaired(whole)
}

// alike reports whether every lead can be, and marks of all runs of a kind are equally far apart: then ports are as good as each other, and so is every
// order.
func (p *Problem) alike() bool {
	every := map[string]int{}
	for i, r := range p.Runs {
		if e, met := every[r.Kind]; r.CutEvery == 0 || r.Pixels%r.CutEvery != 0 || met && e != r.CutEvery {
			return false
		}
		every[r.Kind] = r.CutEvery
		for port := range p.Ports {
			if priced(p.Entry(port, Part{i, 0, r.Pixels}), false) == never {
				return false
			}
		}
		for j, other := range p.Runs {
			if i != j && other.Kind == r.Kind && priced(p.Chain(Part{i, 0, r.Pixels}, Part{j, 0, other.Pixels}), false) == never {
				return false
			}
		}
	}
	return true
}

// groups are all sets of runs of one kind, as groups to be sent to by ports of their own.
type groups struct {
	*Problem
	all    int
	kind   []string // of a set; every set of several kinds is left out of one
	one    []bool   // whether it is of one kind
	pieces []int    // from mark to mark, of a set
	every  []int
}

func (p *Problem) groups() *groups {
	n := 1 << len(p.Runs)
	g := &groups{Problem: p, all: n - 1, kind: make([]string, n), one: make([]bool, n), pieces: make([]int, n), every: make([]int, n)}
	for set := 1; set < n; set++ {
		r, rest := p.Runs[bits.TrailingZeros(uint(set))], set&(set-1)
		g.kind[set], g.every[set] = r.Kind, r.CutEvery
		g.one[set] = rest == 0 || g.one[rest] && g.kind[rest] == r.Kind
		g.pieces[set] = r.Pixels/r.CutEvery + g.pieces[rest]
	}
	return g
}

// A parting is what the best ways to part all runs into groups come to.
type parting struct {
	ports [][]int        // of so many groups and a set: the ports that they fill at least
	last  [][]int        // the last of these groups
	needs []int          // ports that a set fills
	holds map[string]int // how many pieces of a kind a port sends to at most
}

// parted parts the runs into groups whose frames are no longer than a limit.
func (g *groups) parted(limit float64) parting {
	const tooMany = math.MaxInt32
	w := parting{needs: make([]int, g.all+1), holds: map[string]int{}}
	for set := 1; set <= g.all; set++ {
		if !g.one[set] {
			w.needs[set] = tooMany
			continue
		}
		most, known := w.holds[g.kind[set]]
		if !known {
			most = g.most(g.kind[set], limit, mostPixels)
			if most >= 0 {
				most /= g.every[set]
			}
			w.holds[g.kind[set]] = most
		}
		switch {
		case most < 0 || most == 0 && g.pieces[set] > 0:
			w.needs[set] = tooMany
		case most == 0:
			w.needs[set] = 1
		default:
			w.needs[set] = max(1, (g.pieces[set]+most-1)/most)
		}
	}
	many := min(len(g.Runs), g.Ports)
	w.ports, w.last = make([][]int, many+1), make([][]int, many+1)
	for j := range w.ports {
		w.ports[j], w.last[j] = make([]int, g.all+1), make([]int, g.all+1)
		for set := range w.ports[j] {
			w.ports[j][set] = tooMany
		}
	}
	w.ports[0][0] = 0
	for set := 1; set <= g.all; set++ {
		low := set & -set // the group of this run is the last
		for others := set &^ low; ; others = (others - 1) & (set &^ low) {
			if need := w.needs[set&^others]; need <= g.Ports {
				for j := 1; j <= many; j++ {
					if ports := w.ports[j-1][others] + need; ports <= g.Ports && ports < w.ports[j][set] {
						w.ports[j][set], w.last[j][set] = ports, set&^others
					}
				}
			}
			if others == 0 {
				break
			}
		}
	}
	return w
}

// fewest is how many cuts a parting takes at least, and into how many groups it parts the runs; it is not ok where there are too few ports.
func (g *groups) fewest(w parting) (cuts, many int, ok bool) {
	cuts = math.MaxInt
	for j := 1; j < len(w.ports); j++ {
		if ports := w.ports[j][g.all]; ports <= g.Ports && ports-j < cuts {
			cuts, many, ok = ports-j, j, true
		}
	}
	return cuts, many, ok
}

// limits are the frames that the longest can be, in order: those of equal shares of groups.
func (g *groups) limits() []float64 {
	var list []float64
	seen := map[[2]any]bool{}
	for set := 1; set <= g.all; set++ {
		for b := 1; g.one[set] && b <= g.Ports; b++ {
			pixels := (g.pieces[set] + b - 1) / b * g.every[set]
			if key := [2]any{g.kind[set], pixels}; !seen[key] {
				seen[key] = true
				list = append(list, g.frame(g.kind[set], pixels))
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// counted is the division with the fewest cuts that meets the aim, and of those one with the shortest longest frame; where none meets it the shortest
// of all, with the fewest cuts that it takes.
func (p *Problem) counted(whole Division) (Division, bool) {
	g := p.groups()
	limits := g.limits()
	within := func(limit float64, most int) bool {
		cuts, _, ok := g.fewest(g.parted(limit))
		return ok && cuts <= most
	}
	shortest := func(most int) (float64, bool) {
		i := sort.Search(len(limits), func(i int) bool { return within(limits[i], most) })
		if i == len(limits) {
			return 0, false
		}
		return limits[i], true
	}
	limit := p.Aim
	cuts, _, meets := g.fewest(g.parted(limit))
	if !meets {
		best, ok := shortest(math.MaxInt)
		if !ok || best >= whole.Frame {
			return Division{}, false
		}
		limit = best
		cuts, _, _ = g.fewest(g.parted(limit))
	}
	if best, ok := shortest(cuts); ok {
		limit = min(limit, best)
	}
	w := g.parted(limit)
	_, many, ok := g.fewest(w)
	if !ok {
		return Division{}, false
	}
	parts, start := g.rows(w, many, whole)
	return p.divide(parts, start)
}

// rows lays the pixels of each group in a row, in the order in which data goes through them now, and cuts it into as equal shares as marks allow.
func (g *groups) rows(w parting, many int, whole Division) (parts []Part, start [][]int) {
	place, next := make([]int, len(g.Runs)), 0
	for _, list := range g.Now {
		for _, r := range list {
			place[r] = next
			next++
		}
	}
	for set, j := g.all, many; set != 0; j-- {
		group := w.last[j][set]
		set &^= group
		var runs []int
		for i := range g.Runs {
			if group>>i&1 == 1 {
				runs = append(runs, i)
			}
		}
		slices.SortStableFunc(runs, func(a, b int) int { return cmp.Compare(place[a], place[b]) })
		for _, share := range g.row(runs, w.needs[group], w.holds[g.kind[group]]) {
			var list []int
			for _, part := range share {
				list = append(list, len(parts))
				parts = append(parts, part)
			}
			start = append(start, list)
		}
	}
	for len(start) < g.Ports {
		start = append(start, nil)
	}
	return parts, start
}

// row cuts some runs in a row into so many shares, none of more pieces than a port holds.
func (g *groups) row(runs []int, shares, holds int) [][]Part {
	list := make([][]Part, shares)
	edges := g.edges(runs, shares, holds)
	share, at := 0, 0
	for _, r := range runs {
		every, left, from := g.Runs[r].CutEvery, g.Runs[r].Pixels/g.Runs[r].CutEvery, 0
		for first := true; first || left > 0; first = false {
			for share < shares-1 && at >= edges[share] {
				share++
			}
			take := left
			if share < shares-1 {
				take = min(left, edges[share]-at)
			}
			list[share] = append(list[share], Part{r, from, from + take*every})
			from, at, left = from+take*every, at+take, left-take
		}
	}
	return list
}

// edges are the pieces of a row at which shares end: near equal ones, at marks where runs are cut in part already where that makes no share too large.
func (g *groups) edges(runs []int, shares, holds int) (edges []int) {
	total := 0
	var better []int
	for _, r := range runs {
		for _, mark := range g.Runs[r].Cut {
			if mark > 0 && mark < g.Runs[r].Pixels && mark%g.Runs[r].CutEvery == 0 {
				better = append(better, total+mark/g.Runs[r].CutEvery)
			}
		}
		total += g.Runs[r].Pixels / g.Runs[r].CutEvery
	}
	last := 0
	for s := 1; s < shares; s++ {
		low, high := max(last+1, total-(shares-s)*holds), min(last+holds, total-(shares-s))
		even := min(max(total*s/shares, low), high)
		at, far := even, high-low+1
		for _, mark := range better {
			if off := max(mark-even, even-mark); mark >= low && mark <= high && off < far {
				at, far = mark, off
			}
		}
		edges, last = append(edges, at), at
	}
	return edges
}

// repaired cuts what is too much off the ports of the best division of whole runs and gives it to those with room, at ever shorter limits as long as
// that takes no more cuts.
func (p *Problem) repaired(whole Division) (Division, bool) {
	best := p.repair(whole, p.Aim)
	meets := best != nil
	low, high := 0.0, p.Aim
	if !meets {
		high = whole.Frame
	}
	for range 40 {
		mid := low + (high-low)/2
		r := p.repair(whole, mid)
		if r == nil || meets && r.pieces() > best.pieces() {
			low = mid
			continue
		}
		best, high = r, mid
	}
	if best == nil {
		return Division{}, false
	}
	var parts []Part
	start := make([][]int, len(best.ports))
	for port, list := range best.ports {
		for _, part := range list {
			start[port] = append(start[port], len(parts))
			parts = append(parts, part)
		}
	}
	d, ok := p.divide(parts, start)
	d.Proven = false // the cuts are good, and others may be better
	return d, ok && d.Frame < whole.Frame
}

// repair is whole runs with what a port has too much cut off and given to others, so that no frame is longer than a limit; nil where that
// does not come about.
func (p *Problem) repair(whole Division, limit float64) *repairing {
	r := &repairing{p, make([][]Part, len(whole.Ports)), limit}
	for port, list := range whole.Ports {
		r.ports[port] = slices.Clone(list)
	}
	for port, list := range r.ports {
		for tries := 2*p.Ports + len(list); r.room(port, r.kind(port)) < 0; tries-- {
			if tries == 0 || !r.relieve(port) {
				return nil
			}
		}
	}
	return r
}

// A repairing is parts on ports that may have too many.
type repairing struct {
	*Problem
	ports [][]Part
	limit float64
}

func (r *repairing) kind(port int) string {
	if len(r.ports[port]) == 0 {
		return ""
	}
	return r.Runs[r.ports[port][0].Run].Kind
}

func (r *repairing) pieces() (sum int) {
	for _, list := range r.ports {
		sum += len(list)
	}
	return sum
}

func (r *repairing) pixels(port int) (sum int) {
	for _, part := range r.ports[port] {
		sum += part.To - part.From
	}
	return sum
}

// room is how many pixels more of a kind a port can send to; below 0 where it has too many.
func (r *repairing) room(port int, kind string) int {
	if len(r.ports[port]) == 0 && kind == "" {
		return 0
	}
	return r.most(kind, r.limit, mostPixels) - r.pixels(port)
}

// relieve gives the end of what a port sends to, as much of it as is too much, to the port with the most room for it.
func (r *repairing) relieve(port int) bool {
	list := r.ports[port]
	last := list[len(list)-1]
	kind, every := r.kind(port), r.Runs[last.Run].CutEvery
	to, room := -1, 0
	for q := range r.ports {
		if q == port || len(r.ports[q]) > 0 && r.kind(q) != kind || priced(r.Entry(q, Part{last.Run, 0, r.Runs[last.Run].Pixels}), false) == never {
			continue
		}
		if more := r.room(q, kind); more > room {
			to, room = q, more
		}
	}
	if to < 0 {
		return false
	}
	take := min(-r.room(port, kind), room, last.To-last.From)
	at := last.To - take
	if at > last.From && every > 0 {
		at -= at % every // a little more than is too much
		for at < last.From || last.To-at > room {
			at += every
		}
	} else if take < last.To-last.From {
		at = last.From // it cannot be cut
	}
	if at = max(at, last.From); at >= last.To || last.To-at > room {
		return false
	}
	r.ports[to] = append(r.ports[to], Part{last.Run, at, last.To})
	if r.ports[port] = list[:len(list)-1]; at > last.From {
		r.ports[port] = append(r.ports[port], Part{last.Run, last.From, at})
	}
	return true
}
