package circuit

import (
	"errors"
	"slices"
)

// A Plan is a topology with its elimination order: immutable, shared by all workers and cases.
type Plan struct {
	shape  Shape
	offset []int // first load of each chain in a point's list of load voltages; one more for the total

	order []int   // nodes in the order of elimination
	step  []int   // per node: when it is eliminated
	start []int   // per step: first of its neighbours in near; one more at the end
	near  []int   // neighbours eliminated later, as steps; slot i of near holds one conductance
	pairs []int32 // per step, per pair of its neighbours: the slot of their conductance

	own      []end    // per step: the branches that end at its node
	ownAt    []int    // per step: first of its own; one more at the end
	column   []meshed // per step: the earlier steps of which it is a neighbour
	columnAt []int    // per step: first of its column; one more at the end

	coarse *Plan // the same with lumps for loads; nil where the chains are short
}

// An end is where a branch meets a node: the slot of its conductance, −1 at the node that is eliminated later, and the
// node at its other end.
type end struct{ branch, slot, other int32 }

// meshed says what an earlier step leaves in a row: its number, the slot of its conductance to this row, and where the
// slots of that neighbour's pairs begin.
type meshed struct{ step, slot, pair int32 }

// Branches are all two-terminal pieces, numbered one after the other: wires, sources, then six a chain.
func (p *Plan) sourceBranch(i int) int { return len(p.shape.Wires) + i }
func (p *Plan) chainBranch(i int) int  { return len(p.shape.Wires) + len(p.shape.Sources) + 6*i }

// pair is the nodes of a wire or source by its branch.
func (p *Plan) pair(branch int) Pair {
	if k := branch - len(p.shape.Wires); k >= 0 {
		return p.shape.Sources[k]
	}
	return p.shape.Wires[branch]
}

func (p *Plan) branches() int { return p.chainBranch(len(p.shape.Chains)) }

// chainPairs are the pairs of terminals of a chain, as indices into Chain.nodes.
var chainPairs = [6][2]int{{0, 2}, {1, 3}, {0, 1}, {2, 3}, {0, 3}, {1, 2}}

// NewPlan orders the elimination of a network. It fails if an element names a node that is not there.
func NewPlan(shape Shape) (*Plan, error) {
	if err := shape.check(); err != nil {
		return nil, err
	}
	p := &Plan{shape: shape, offset: make([]int, len(shape.Chains)+1)}
	for i, c := range shape.Chains {
		p.offset[i+1] = p.offset[i] + c.Loads
	}
	near := shape.neighbours()
	p.order = minimumDegree(near)
	p.symbolic(near)
	p.incident()
	p.coarse = p.coarsen()
	return p, nil
}

// Shape is the topology the plan was made for.
func (p *Plan) Shape() Shape { return p.shape }

// Loads is the number of loads in all chains.
func (p *Plan) Loads() int { return p.offset[len(p.offset)-1] }

func (s Shape) check() error {
	out := func(n int) bool { return n < 0 || n >= s.Nodes }
	for _, w := range s.Wires {
		if out(w.A) || out(w.B) {
			return errors.New("circuit: a wire names a node that is not there")
		}
	}
	for _, w := range s.Sources {
		if out(w.A) || out(w.B) || w.A == w.B {
			return errors.New("circuit: a source needs two nodes of the network")
		}
	}
	for _, c := range s.Chains {
		if n := c.nodes(); slices.ContainsFunc(n[:], out) {
			return errors.New("circuit: a chain names a node that is not there")
		}
		if c.Loads < 1 {
			return errors.New("circuit: a chain needs at least one load")
		}
	}
	return nil
}

// neighbours lists, for every node, the nodes that some element joins it to.
func (s Shape) neighbours() []map[int]bool {
	near := make([]map[int]bool, s.Nodes)
	for i := range near {
		near[i] = map[int]bool{}
	}
	join := func(a, b int) {
		if a != b {
			near[a][b], near[b][a] = true, true
		}
	}
	for _, w := range s.Wires {
		join(w.A, w.B)
	}
	for _, w := range s.Sources {
		join(w.A, w.B)
	}
	for _, c := range s.Chains {
		n := c.nodes()
		for _, pair := range chainPairs {
			join(n[pair[0]], n[pair[1]])
		}
	}
	return near
}

// minimumDegree orders nodes so that each, when its turn comes, has few neighbours left (Tinney and Walker, Proc. IEEE
// 55, 1967, scheme 2); ties go to the lowest number, so the order depends on the numbering alone. It leaves in near
// the neighbours that each node has when it is eliminated.
func minimumDegree(near []map[int]bool) []int {
	q := newDegreeQueue(near)
	order := make([]int, 0, len(near))
	for len(order) < len(near) {
		n := q.pop()
		order = append(order, n)
		list := sorted(near[n])
		for i, a := range list {
			delete(near[a], n)
			for _, b := range list[:i] {
				near[a][b], near[b][a] = true, true
			}
		}
		for _, a := range list {
			q.push(a, len(near[a]))
		}
	}
	return order
}

func sorted(set map[int]bool) []int {
	list := make([]int, 0, len(set))
	for n := range set {
		list = append(list, n)
	}
	slices.Sort(list)
	return list
}

// symbolic lays out the conductances that elimination fills in.
func (p *Plan) symbolic(near []map[int]bool) {
	p.step = make([]int, len(p.order))
	for k, n := range p.order {
		p.step[n] = k
	}
	p.start = make([]int, len(p.order)+1)
	for k, n := range p.order {
		later := make([]int, 0, len(near[n]))
		for m := range near[n] {
			later = append(later, p.step[m])
		}
		slices.Sort(later)
		p.near = append(p.near, later...)
		p.start[k+1] = len(p.near)
	}
	columns := make([][]meshed, len(p.order))
	for k := range p.order {
		later := p.near[p.start[k]:p.start[k+1]]
		for i, a := range later {
			columns[a] = append(columns[a], meshed{int32(k), int32(p.start[k] + i), int32(len(p.pairs))})
			for _, b := range later[i+1:] {
				p.pairs = append(p.pairs, int32(p.slotOfSteps(a, b)))
			}
		}
	}
	p.column, p.columnAt = joinLists(columns)
}

// joinLists puts lists one after the other and says where each begins; one more at the end.
func joinLists[T any](lists [][]T) (all []T, at []int) {
	at = make([]int, len(lists)+1)
	for i, l := range lists {
		all = append(all, l...)
		at[i+1] = len(all)
	}
	return all, at
}

// incident lists, for every step, the branches that end at its node.
func (p *Plan) incident() {
	own := make([][]end, len(p.order))
	add := func(branch, a, b int) {
		if a == b {
			return
		}
		first, second := p.step[a], p.step[b]
		if first > second {
			first, second, a, b = second, first, b, a
		}
		own[first] = append(own[first], end{int32(branch), int32(p.slotOfSteps(first, second)), int32(b)})
		own[second] = append(own[second], end{int32(branch), -1, int32(a)})
	}
	for i, w := range p.shape.Wires {
		add(i, w.A, w.B)
	}
	for i, s := range p.shape.Sources {
		add(p.sourceBranch(i), s.A, s.B)
	}
	for i, c := range p.shape.Chains {
		n := c.nodes()
		for k, pair := range chainPairs {
			add(p.chainBranch(i)+k, n[pair[0]], n[pair[1]])
		}
	}
	p.own, p.ownAt = joinLists(own)
}

// slotOfSteps is where the conductance between the nodes of two steps is kept.
func (p *Plan) slotOfSteps(first, second int) int {
	row := p.near[p.start[first]:p.start[first+1]]
	i, found := slices.BinarySearch(row, second)
	if !found {
		panic("circuit: two nodes of an element are not neighbours")
	}
	return p.start[first] + i
}
