package circuit

// hanging finds the nodes that are joined to a source by loads alone: copper that an open wire has left. Near no voltage at all loads draw
// next to nothing and hold it as little.
func (w *Worker) hanging(p *Plan, v *Values) {
	n := p.shape.Nodes
	w.hangs, w.held = resize(w.hangs, n), resize(w.held, n)
	w.union.reset(n)
	w.union.joinPairs(p.shape.Wires, func(i int) bool { return !v.wires[i].open() })
	w.union.joinRails(p.shape.Chains)
	if w.bridge.on {
		w.union.join(p.rail(w.bridge.A), p.rail(w.bridge.B))
	}
	w.union.joinPairs(p.shape.Sources, func(i int) bool { return !v.sources[i].off() })
	clear(w.held)
	for i, pair := range p.shape.Sources {
		if !v.sources[i].off() {
			w.held[w.union.find(pair.A)] = true
		}
	}
	for k := range w.hangs {
		w.hangs[k] = w.live[k] && !w.held[w.union.find(k)]
	}
}

// fall brings every rail that has come to hang on the loads of a chain to its other rail, where they draw nothing, and draws the chain there. On the line
// that it is at the anchor, where loads may draw much that no voltage changes, the next step would throw such a rail away.
func (w *Worker) fall(p *Plan, v *Values) {
	u := w.uTry
	for _, c := range p.shape.Chains {
		switch plus, minus := w.fallen(c.APlus), w.fallen(c.AReturn); {
		case plus && !minus:
			u[c.APlus], u[c.BPlus] = u[c.AReturn], u[c.BReturn]
		case minus && !plus:
			u[c.AReturn], u[c.BReturn] = u[c.APlus], u[c.BPlus]
		}
	}
	for i, c := range p.shape.Chains {
		if w.fallen(c.APlus) != w.fallen(c.AReturn) && w.tapOf(i) == nil && w.follower.chains[i].swept == 0 {
			w.sweepFollowed(p, v, i)
		}
	}
}

// fallen reports whether a node hangs that did not at the anchor.
func (w *Worker) fallen(node int) bool { return w.hangs[node] && !w.follower.anchor.hangs[node] }

// strayed reports whether the ends of a chain have moved from where its line is drawn by more than the answer may be off. What is left of the
// current of loads near no voltage says little of that.
func (w *Worker) strayed(c Chain, i int) bool {
	f, now := w.follower, terminals(c, w.uTry)
	then := f.chains[i].u
	if f.chains[i].swept == 0 {
		then = terminals(c, f.start)
	}
	return max(abs(now[0]-now[1]-then[0]+then[1]), abs(now[2]-now[3]-then[2]+then[3])) > f.accuracy
}

// lightly is how much less than elsewhere a point that was found by following is held to where a node hangs: with what its loads draw there, a
// thousandth of a volt is no current.
const lightly = 1e-3
