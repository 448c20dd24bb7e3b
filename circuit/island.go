package circuit

// islands finds the connected pieces of the network under the given values. Every piece with a source that is on has
// one node pinned at 0, the minus terminal of its first source; the nodes of all other pieces are pinned, for nothing
// flows there. A source whose plus and minus hang together by nothing else carries no current: it is solved as plain
// E behind R, because the limiting law is flat there.
func (w *Worker) islands(p *Plan, v *Values) {
	if w.bridge.on { // between pieces that nothing else joins it carries nothing
		w.joinPassive(p, v)
		w.union.joinPairs(p.shape.Sources, func(i int) bool { return !v.sources[i].off() })
		w.bridge.on = w.union.find(p.rail(w.bridge.A)) == w.union.find(p.rail(w.bridge.B))
	}
	w.joinPassive(p, v)
	if w.bridge.on && !v.bridge.open() {
		w.union.join(p.rail(w.bridge.A), p.rail(w.bridge.B))
	}
	w.plainSources(p, v)
	for i := range w.pinned {
		w.pinned[i], w.live[i] = true, false
	}
	w.union.joinPairs(p.shape.Sources, func(i int) bool { return !v.sources[i].off() })
	for i, pair := range p.shape.Sources {
		if !v.sources[i].off() {
			w.live[w.union.find(pair.A)] = true
		}
	}
	for n := range w.pinned {
		w.live[n] = w.live[w.union.find(n)]
		w.pinned[n] = !w.live[n]
	}
	for i, pair := range p.shape.Sources {
		root := w.union.find(pair.A)
		if !v.sources[i].off() && !w.grounded[root] {
			w.grounded[root], w.pinned[pair.B] = true, true
		}
	}
	w.bridge.on = w.bridge.on && w.live[p.rail(w.bridge.A)]
	w.bridge.parted = !w.bridge.on && !v.bridge.open() && v.bridge.Amps != 0
}

// joinPassive joins the nodes that wires, rails and loads join.
func (w *Worker) joinPassive(p *Plan, v *Values) {
	w.union.reset(p.shape.Nodes)
	w.union.joinPairs(p.shape.Wires, func(i int) bool { return !v.wires[i].open() })
	w.union.joinRails(p.shape.Chains)
	for i, c := range p.shape.Chains {
		if v.chains[i].Law != nil {
			w.union.join(c.APlus, c.AReturn)
		}
	}
}

func (s Source) off() bool { return s.Off || s.Limit <= 0 }

// plainSources marks the sources that no current can leave: again and again, a source is plain if one of its terminals
// is in a piece that no other source touches.
func (w *Worker) plainSources(p *Plan, v *Values) {
	touch := w.touch[:p.shape.Nodes]
	clear(touch)
	clear(w.grounded[:p.shape.Nodes])
	for i, pair := range p.shape.Sources {
		w.plain[i] = false
		if !v.sources[i].off() && w.union.find(pair.A) != w.union.find(pair.B) {
			touch[w.union.find(pair.A)]++
			touch[w.union.find(pair.B)]++
		}
	}
	for changed := true; changed; {
		changed = false
		for i, pair := range p.shape.Sources {
			a, b := w.union.find(pair.A), w.union.find(pair.B)
			if v.sources[i].off() || w.plain[i] || a == b || touch[a] > 1 && touch[b] > 1 {
				continue
			}
			w.plain[i], changed = true, true
			touch[a]--
			touch[b]--
		}
	}
}

// Joined groups the nodes that the rails of chains join, and the wires and sources to which wire and source say yes; never
// loads. The result gives every node the lowest node of its group. A nil function says no.
func (p *Plan) Joined(wire, source func(i int) bool) []int {
	var u union
	u.reset(p.shape.Nodes)
	u.joinPairs(p.shape.Wires, wire)
	u.joinPairs(p.shape.Sources, source)
	u.joinRails(p.shape.Chains)
	for n := range u.parent {
		u.parent[n] = u.find(n)
	}
	return u.parent
}

// joinPairs joins the nodes of every element to which counts says yes.
func (u *union) joinPairs(pairs []Pair, counts func(i int) bool) {
	for i, pair := range pairs {
		if counts != nil && counts(i) {
			u.join(pair.A, pair.B)
		}
	}
}

// joinRails joins the two ends of every rail.
func (u *union) joinRails(chains []Chain) {
	for _, c := range chains {
		u.join(c.APlus, c.BPlus)
		u.join(c.AReturn, c.BReturn)
	}
}

// A union is a disjoint-set forest with path halving; the root of a set is its lowest member.
type union struct{ parent []int }

func (u *union) reset(n int) {
	u.parent = resize(u.parent, n)
	for i := range u.parent {
		u.parent[i] = i
	}
}

func (u *union) find(n int) int {
	for u.parent[n] != n {
		u.parent[n] = u.parent[u.parent[n]]
		n = u.parent[n]
	}
	return n
}

func (u *union) join(a, b int) {
	a, b = u.find(a), u.find(b)
	u.parent[max(a, b)] = min(a, b)
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// dead reports whether neither rail of a chain hangs on a source. A chain without loads may have one that does.
func (w *Worker) dead(c Chain) bool { return !w.live[c.APlus] && !w.live[c.AReturn] }
