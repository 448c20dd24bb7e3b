package split

import "math"

// A cost is the length of leads and, between equal lengths, the number of changes: sums of costs compare as their lengths do, to a tenth of
// a millimetre, and where those are equal as their changes do. Whole numbers add up the same in any order.
type cost int64

const (
	perMetre = 1e4     // a tenth of a millimetre is the least that counts
	changes  = 1 << 12 // more changes than this count as length
	farthest = 1e6     // m, of one lead
	never    = cost(math.MaxInt64 / 4)
)

// priced is what a lead costs: never, where there can be none.
func priced(metres float64, change bool) cost {
	if math.IsNaN(metres) || metres > farthest {
		return never
	}
	c := cost(math.Round(max(metres, 0)*perMetre)) * changes
	if change {
		c++
	}
	return c
}

// plus adds costs; what includes a lead that cannot be cannot be.
func (c cost) plus(more cost) cost { return min(c+more, never) }

func (c cost) metres() float64 { return float64(c/changes) / perMetre }

// A table is parts to be divided, with what every lead between them and the ports would cost.
type table struct {
	p      *Problem
	parts  []Part
	kind   []string
	pixels []int
	entry  [][]cost // by port and part
	chain  [][]cost // by part and part that follows
}

func (p *Problem) table(parts []Part) *table {
	t := &table{p: p, parts: parts}
	first, follows := map[[2]int]bool{}, map[[2]int]bool{}
	for port, list := range p.Now {
		for i, r := range list {
			if i == 0 {
				first[[2]int{port, r}] = true
			} else {
				follows[[2]int{list[i-1], r}] = true
			}
		}
	}
	for _, a := range parts {
		t.kind = append(t.kind, p.Runs[a.Run].Kind)
		t.pixels = append(t.pixels, a.To-a.From)
		row := make([]cost, len(parts))
		for j, b := range parts {
			kept := a.To == p.Runs[a.Run].Pixels && b.From == 0 && follows[[2]int{a.Run, b.Run}]
			switch {
			case a == b || p.Runs[a.Run].Kind != p.Runs[b.Run].Kind:
				row[j] = never
			case a.Run == b.Run && a.To == b.From:
				row[j] = 0 // whole tape
			default:
				row[j] = priced(p.Chain(a, b), !kept)
			}
		}
		t.chain = append(t.chain, row)
	}
	for port := range p.Ports {
		row := make([]cost, len(parts))
		for i, part := range parts {
			row[i] = priced(p.Entry(port, part), part.From > 0 || !first[[2]int{port, part.Run}])
		}
		t.entry = append(t.entry, row)
	}
	return t
}

// costs is what the leads of a port cost.
func (t *table) costs(port int, list []int) cost {
	sum := cost(0)
	for i, part := range list {
		if i == 0 {
			sum = t.entry[port][part]
		} else {
			sum = sum.plus(t.chain[list[i-1]][part])
		}
	}
	return sum
}

// frame is how long a frame for some parts takes: no time for none, for ever where they are of several kinds.
func (t *table) frame(list []int) float64 {
	if len(list) == 0 {
		return 0
	}
	pixels := 0
	for _, i := range list {
		if t.kind[i] != t.kind[list[0]] {
			return math.Inf(1)
		}
		pixels += t.pixels[i]
	}
	return t.p.frame(t.kind[list[0]], pixels)
}

// worst is the longest frame of a plan, and what all of its leads cost.
func (t *table) worst(plan [][]int) (frame float64, all cost) {
	for port, list := range plan {
		frame, all = max(frame, t.frame(list)), all.plus(t.costs(port, list))
	}
	return frame, all
}

// division is a plan in words of the problem. Pieces of a run that follow each other are one.
func (t *table) division(plan [][]int, proven bool) Division {
	d := Division{Ports: make([][]Part, t.p.Ports), Proven: proven}
	frame, all := t.worst(plan)
	d.Frame, d.Metres, d.Changes = frame, all.metres(), int(all%changes)
	for port, list := range plan {
		for _, i := range list {
			part, last := t.parts[i], len(d.Ports[port])-1
			if last >= 0 && d.Ports[port][last].Run == part.Run && d.Ports[port][last].To == part.From {
				d.Ports[port][last].To = part.To
				continue
			}
			d.Ports[port] = append(d.Ports[port], part)
		}
	}
	return d
}
