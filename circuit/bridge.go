package circuit

import "sort"

// A Bridge is one more element, between any two places: nodes of the plan, or taps inside its chains (see Plan.Tap). It
// is a conductance, and a constant current besides, both from A to B. A fault between two places is a bridge; so is a
// question put to a place by drawing a current there. Two taps of one chain must lie in one gap. Between pieces that
// nothing else joins no current can flow. The zero Bridge is none.
type Bridge struct {
	A, B int
	G    float64 // siemens
	Amps float64
}

func (b Bridge) none() bool { return b.A == b.B }

// open reports whether the bridge carries nothing whatever its voltage.
func (b Bridge) open() bool { return b.none() || b.G <= 0 && b.Amps == 0 }

// Tap names the two rails of a chain in the middle of gap g, between loads g − 1 and g, as places for a Bridge or for
// Point.Volts; gaps 0 and Loads are the ends of the chain. The plan stays as it is.
func (p *Plan) Tap(chain, gap int) (plus, minus int) {
	c := p.shape.Chains[chain]
	switch {
	case gap < 0 || gap > c.Loads:
		panic("circuit: a tap outside its chain")
	case gap == 0:
		return c.APlus, c.AReturn
	case gap == c.Loads:
		return c.BPlus, c.BReturn
	}
	plus = p.shape.Nodes + 2*(p.offset[chain]+gap)
	return plus, plus + 1
}

// places is one more than the largest number that names a place.
func (p *Plan) places() int { return p.shape.Nodes + 2*p.Loads() }

// tapped is the tap that a place is; ok is false for a node.
func (p *Plan) tapped(place int) (chain, gap int, minus, ok bool) {
	k := place - p.shape.Nodes
	if k < 0 {
		return 0, 0, false, false
	}
	chain = sort.SearchInts(p.offset, k/2+1) - 1
	return chain, k/2 - p.offset[chain], k%2 == 1, true
}

// rail is the node at end A of the rail that a tap lies on; a node is itself.
func (p *Plan) rail(place int) int {
	chain, _, minus, ok := p.tapped(place)
	switch c := p.shape.Chains; {
	case !ok:
		return place
	case minus:
		return c[chain].AReturn
	default:
		return c[chain].APlus
	}
}

// A tap is a gap of a chain where a bridge ends. Its two rails are two more nodes, and the chain is two parts that meet there.
type tap struct {
	chain, gap  int
	rails       [2]loose // plus, return
	parts       [2]ladder
	left, right reduced
}

// A loose node is a rail of a tap. It is no node of the plan: it is eliminated before those, or last if it is the border.
type loose struct {
	u, try, du, excess float64    // as the worker's u, uTry, du and excess
	border             bool       // it is the end of the bridge that is eliminated last
	to                 [4]float64 // conductance to the ends of its chain, in the order of Chain.nodes
	mate               float64    // to the other rail, where that is eliminated later
	x                  float64    // to the border
	inverse, push      float64
	bound              float64 // current that the lines beside it may be wrong by
}

// bridged is the bridge of the values that are being solved. One of its ends is the border: the node that is eliminated last,
// so that the bridge fits into the plan's order whatever it joins. Every row has one conductance more, x, to the border.
type bridged struct {
	Bridge
	on      bool
	parted  bool    // it asks for a current between pieces that nothing else joins
	amps    float64 // at the place last evaluated
	taps    []tap
	ends    [2]bridgeEnd
	start   bridgeEnd // the end that is not the border
	border  int       // the plan's node that is the border, −1 for a rail of a tap
	x       []float64 // per step
	leak    float64   // of the border
	inverse float64   // of the border
	push    float64   // of the border
	du      float64   // of the border
}

// A bridgeEnd is a node of the plan, or a rail of a tap.
type bridgeEnd struct{ node, tap, rail int } // tap is −1 for a node

// cross lays out the bridge of the values, if there is one.
func (w *Worker) cross(p *Plan, v *Values) {
	b := &w.bridge
	b.Bridge, b.on, b.parted, b.amps, b.taps, b.border = v.bridge, !v.bridge.none(), false, 0, b.taps[:0], -1
	if !b.on {
		return
	}
	for k, place := range []int{b.A, b.B} {
		if place < 0 || place >= p.places() {
			panic("circuit: a bridge between places that are not there")
		}
		b.ends[k] = bridgeEnd{node: place, tap: -1}
		if chain, gap, minus, ok := p.tapped(place); ok {
			b.ends[k] = bridgeEnd{tap: b.tapAt(&w.ladders[chain], chain, gap)}
			if minus {
				b.ends[k].rail = 1
			}
		}
	}
	b.x = resize(b.x, p.shape.Nodes)
}

// chooseBorder makes that end of the bridge the border which takes the fewer rows with it: a pinned node takes none, a rail of a
// tap its own, a bar where many cables meet those of all of them.
func (w *Worker) chooseBorder(p *Plan) {
	b := &w.bridge
	if !b.on {
		return
	}
	rows := func(e bridgeEnd) int {
		switch {
		case e.tap >= 0:
			return 1
		case w.pinned[e.node]:
			return 0
		}
		k := p.step[e.node]
		return 1 + p.ownAt[k+1] - p.ownAt[k] + p.columnAt[k+1] - p.columnAt[k]
	}
	last := 1
	if rows(b.ends[0]) < rows(b.ends[1]) {
		last = 0
	}
	b.start = b.ends[1-last]
	if e := b.ends[last]; e.tap < 0 {
		b.border = e.node
	} else {
		b.taps[e.tap].rails[e.rail].border = true
	}
}

// tapAt is the index of a tap, made if it is new.
func (b *bridged) tapAt(l *ladder, chain, gap int) int {
	for i, t := range b.taps {
		if t.chain == chain {
			if t.gap != gap {
				panic("circuit: two taps of one chain must lie in one gap")
			}
			return i
		}
	}
	b.taps = append(b.taps, tap{chain: chain, gap: gap, parts: l.split(gap)})
	return len(b.taps) - 1
}

// before is the share of a ladder's resistance that lies before the middle of a gap.
func (l *ladder) before(gap int) float64 { return l.split(gap)[0].loop / l.loop }

// split parts a ladder in the middle of a gap, as far as conductances needs it. Each part is a sum of its own: a short part of a
// long ladder must not be what rounding leaves of a difference.
func (l *ladder) split(gap int) [2]ladder {
	left, right := float64(gap)/l.gap, float64(l.n-gap)/l.gap
	for _, j := range l.joints {
		switch {
		case j.Gap < gap:
			left += j.Loop
		case j.Gap > gap:
			right += j.Loop
		default:
			left, right = left+j.Loop/2, right+j.Loop/2
		}
	}
	return [2]ladder{{n: gap, loop: left, rho: l.rho}, {n: l.n - gap, loop: right, rho: l.rho}}
}

// tapOf is the tap of a chain, nil where there is none.
func (w *Worker) tapOf(chain int) *tap {
	if !w.bridge.on {
		return nil
	}
	for i := range w.bridge.taps {
		if w.bridge.taps[i].chain == chain {
			return &w.bridge.taps[i]
		}
	}
	return nil
}

// reduceTapped sweeps the two parts of a tapped chain.
func (w *Worker) reduceTapped(p *Plan, t *tap, g, amps, slope []float64, least float64) {
	x, u, m := w.strip(p, t.chain), terminals(p.shape.Chains[t.chain], w.uTry), t.gap
	whole, plus, minus := g[m], t.rails[0].try, t.rails[1].try
	g[m] = 2 * whole
	t.left = x.part(0, m).reduce(&t.parts[0], g[:m+1], [4]float64{u[0], u[1], plus, minus}, amps[:m], slope[:m], least, &w.sums)
	t.right = x.part(m, len(x.v)).reduce(&t.parts[1], g[m:], [4]float64{plus, minus, u[2], u[3]}, amps[m:], slope[m:], least, &w.sums)
	g[m] = whole
}

// beginTaps puts every tap midway between the loads beside it, in w on the line between the ends of its chain.
func (w *Worker) beginTaps(p *Plan) {
	for i := range w.bridge.taps {
		t := &w.bridge.taps[i]
		loads, c, rho := w.strip(p, t.chain).v, p.shape.Chains[t.chain], t.parts[0].rho
		v, x := (loads[t.gap-1]+loads[t.gap])/2, t.parts[0].loop/(t.parts[0].loop+t.parts[1].loop)
		a, b := rho*w.u[c.APlus]+(1-rho)*w.u[c.AReturn], rho*w.u[c.BPlus]+(1-rho)*w.u[c.BReturn]
		t.rails[0].u = a + x*(b-a) + (1-rho)*v
		t.rails[1].u = t.rails[0].u - v
		t.rails[0].du, t.rails[1].du = 0, 0
	}
}

// evaluateBridge moves the taps to the place at along the step and gathers the bridge's current there.
func (w *Worker) evaluateBridge(at float64) {
	b := &w.bridge
	for i := range b.taps {
		for r := range 2 {
			n := &b.taps[i].rails[r]
			n.try, n.excess = n.u+at*n.du, 0
		}
	}
	b.amps = b.current(w.uTry, looseTry)
	for k, e := range b.ends {
		amps := b.amps * float64(1-2*k)
		if e.tap < 0 {
			w.excess[e.node] += amps
		} else {
			b.taps[e.tap].rails[e.rail].excess += amps
		}
	}
}

// at is the potential of an end: of its node in u, or what its loose node has of it.
func (b *bridged) at(e bridgeEnd, u []float64, of func(*loose) float64) float64 {
	if e.tap < 0 {
		return u[e.node]
	}
	return of(&b.taps[e.tap].rails[e.rail])
}

func looseU(n *loose) float64   { return n.u }
func looseTry(n *loose) float64 { return n.try }
func looseDu(n *loose) float64  { return n.du }

// across is the voltage between the ends.
func (b *bridged) across(u []float64, of func(*loose) float64) float64 {
	return b.at(b.ends[0], u, of) - b.at(b.ends[1], u, of)
}

// current is the bridge's at these potentials.
func (b *bridged) current(u []float64, of func(*loose) float64) float64 {
	return b.Amps + b.G*b.across(u, of)
}

// acceptTaps makes the place last evaluated the taps' own.
func (b *bridged) acceptTaps() {
	for i := range b.taps {
		for r := range 2 {
			b.taps[i].rails[r].u = b.taps[i].rails[r].try
		}
	}
}

// alongTaps is the taps' part of the slope of the co-content along the step.
func (b *bridged) alongTaps() (sum float64) {
	for i := range b.taps {
		for _, n := range b.taps[i].rails {
			sum += n.excess * n.du
		}
	}
	return sum
}

// draws says what the bridge draws inside chains: from the plus rail, I draws (1 − ρ)·I in v and I in w; from the return
// rail −ρ·I and I.
func (b *bridged) draws() []draw {
	if !b.on || len(b.taps) == 0 {
		return nil
	}
	list := make([]draw, len(b.taps))
	for i, t := range b.taps {
		list[i] = draw{chain: t.chain, gap: t.gap}
	}
	for k, e := range b.ends {
		if e.tap >= 0 {
			amps, d := b.amps*float64(1-2*k), &list[e.tap]
			d.inV += amps * (1 - b.taps[e.tap].parts[0].rho - float64(e.rail))
			d.inW += amps
		}
	}
	return list
}
