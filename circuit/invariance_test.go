package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"runtime"
	"slices"
	"sync"
	"testing"

	"farend/circuit"
)

// held tells which nodes of a point are held by so little resistance that rounding cannot move them by exact: 10 kΩ at 0.1 pA,
// which is the rounding of some hundred amperes.
func held(x *circuit.Point) []bool {
	loose := circuit.NewWorker().Loose(x, 1e-13, exact)
	for n := range loose {
		loose[n] = !loose[n]
	}
	return loose
}

// grounded groups the nodes that anything but an open joins, loads and sources included, and names each group by a number.
func grounded(s circuit.Shape, v *circuit.Values) []int {
	group := make([]int, s.Nodes)
	for n := range group {
		group[n] = n
	}
	join := func(a, b int) {
		old, name := group[a], group[b]
		for n := range group {
			if group[n] == old {
				group[n] = name
			}
		}
	}
	for i, w := range s.Wires {
		if x := v.Wire(i); x.G > 0 || x.Law != nil {
			join(w.A, w.B)
		}
	}
	for i, c := range s.Chains {
		join(c.APlus, c.BPlus)
		join(c.AReturn, c.BReturn)
		if v.Rails(i).Law != nil {
			join(c.APlus, c.AReturn)
		}
	}
	for i, pair := range s.Sources {
		if !v.Source(i).Off {
			join(pair.A, pair.B)
		}
	}
	return group
}

// TestPotentialsStayBetweenTerminalsOfSources checks the maximum principle: passive elements between terminals of sources make no
// node higher than the highest of them, nor lower than the lowest; and no source that gives current is above its set voltage by more
// than 40 widths of its law. One that gives none may be held up by others.
func TestPotentialsStayBetweenTerminalsOfSources(t *testing.T) {
	random := rand.New(rand.NewSource(41))
	for k := range 1000 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		x, _ := solve(t, p, v, nil)
		group := grounded(shape, v)
		low, high := map[int]float64{}, map[int]float64{}
		for i, pair := range shape.Sources {
			s, g := v.Source(i), group[pair.A]
			if volts := x.SourceVolts(i); volts < -exact || volts > s.E+40*0.001*s.R*s.Limit+exact && !s.Idle(x.SourceAmps(i)) {
				t.Errorf("network %d: a source of %g V has %g V and gives %g A", k, s.E, volts, x.SourceAmps(i))
			}
			low[g] = min(low[g], x.Volts(pair.A), x.Volts(pair.B)) // the datum of the group is 0 and one of them
			high[g] = max(high[g], x.Volts(pair.A), x.Volts(pair.B))
		}
		for n, g := range group {
			if u := x.Volts(n); u < low[g]-exact || u > high[g]+exact {
				t.Errorf("network %d: node %d is at %g V, the terminals of sources between %g V and %g V", k, n, u, low[g], high[g])
			}
		}
		for i, c := range shape.Chains {
			plus, minus := make([]float64, c.Loads), make([]float64, c.Loads)
			x.Rails(i, plus, minus)
			if g := group[c.APlus]; v.Rails(i).Law != nil && (slices.Max(plus) > high[g]+exact || slices.Min(minus) < low[g]-exact) {
				t.Errorf("network %d: rails of chain %d leave the terminals of sources", k, i)
			}
		}
	}
}

// alone switches all sources off but the first.
func alone(s circuit.Shape, v *circuit.Values) {
	for i := 1; i < len(s.Sources); i++ {
		v.SetSource(i, circuit.Source{Off: true})
	}
}

// TestOneSupplyGivesNoLoadMoreThanItsVoltage: with one supply the terminals are its own, so no load has more than its voltage; and
// none is turned round.
func TestOneSupplyGivesNoLoadMoreThanItsVoltage(t *testing.T) {
	random := rand.New(rand.NewSource(42))
	for k := range 500 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		alone(shape, v)
		x, _ := solve(t, p, v, nil)
		firm := held(x)
		for i, c := range shape.Chains {
			if !(firm[c.APlus] && firm[c.AReturn]) { // where only the tails of knees hold a rail, it may be anywhere near
				continue
			}
			for n, volts := range x.LoadVolts(i) {
				if volts > x.SourceVolts(0)+exact || volts > v.Source(0).E+exact || volts < -exact {
					t.Errorf("network %d: load %d of chain %d has %g V, the supply %g V", k, n, i, volts, x.SourceVolts(0))
				}
			}
		}
	}
}

// TestTwoSuppliesMayGiveALoadMoreThanEither is the counter-example that says why the test before has one supply. The return of the
// second supply's load, 20 A through 20 mΩ, ends at the return of the first: so the second one's minus is 0.4 V below the
// first one's, and a load from the first one's plus to the second one's minus has 5.4 V. By hand, with the small load drawing i:
// 5 V − (20 A − i)·(−20 mΩ) across 1 kΩ.
func TestTwoSuppliesMayGiveALoadMoreThanEither(t *testing.T) {
	p := plan(t, circuit.Shape{
		Nodes:   4, // 0 and 1: plus and minus of the first, 2 and 3 of the second
		Sources: []circuit.Pair{{A: 0, B: 1}, {A: 2, B: 3}},
		Wires:   []circuit.Pair{{A: 2, B: 1}, {A: 1, B: 3}, {A: 0, B: 3}},
	})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-5, Limit: 0.1})
	v.SetSource(1, circuit.Source{E: 5, R: 1e-5, Limit: 60})
	v.SetWire(0, circuit.Wire{Law: flat(20)})
	v.SetWire(1, circuit.Resistor(0.02))
	v.SetWire(2, circuit.Resistor(1000))
	x, _ := solve(t, p, v, nil)
	near(t, "the load across both", x.Across(0, 3), (5-1e-5*x.SourceAmps(0)+0.02*20)*1000/1000.02, 1e-7)
	if volts := x.Across(0, 3); volts < 5.39 {
		t.Errorf("%g V", volts)
	}
}

// TestNumberingChangesNothing renumbers the nodes and all elements of random networks at random. The datum may become another
// node, so voltages across loads and currents are compared.
func TestNumberingChangesNothing(t *testing.T) {
	random := rand.New(rand.NewSource(43))
	for k := range 400 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		nodes, wires := random.Perm(shape.Nodes), random.Perm(len(shape.Wires))
		sources, chains := random.Perm(len(shape.Sources)), random.Perm(len(shape.Chains))
		other := circuit.Shape{
			Nodes: shape.Nodes, Wires: make([]circuit.Pair, len(wires)),
			Sources: make([]circuit.Pair, len(sources)), Chains: make([]circuit.Chain, len(chains)),
		}
		to := func(z circuit.Pair) circuit.Pair { return circuit.Pair{A: nodes[z.A], B: nodes[z.B]} }
		for i, z := range shape.Wires {
			other.Wires[wires[i]] = to(z)
		}
		for i, z := range shape.Sources {
			other.Sources[sources[i]] = to(z)
		}
		for i, c := range shape.Chains {
			other.Chains[chains[i]] = circuit.Chain{APlus: nodes[c.APlus], AReturn: nodes[c.AReturn], BPlus: nodes[c.BPlus], BReturn: nodes[c.BReturn], Loads: c.Loads}
		}
		q := plan(t, other)
		w := q.NewValues()
		for i := range shape.Wires {
			w.SetWire(wires[i], v.Wire(i))
		}
		for i := range shape.Sources {
			w.SetSource(sources[i], v.Source(i))
		}
		for i := range shape.Chains {
			w.SetRails(chains[i], v.Rails(i))
		}
		x, _ := solve(t, p, v, nil)
		y, _ := solve(t, q, w, nil)
		if alike(t, shape, x, y, func(i, load int) (int, int) { return chains[i], load }); t.Failed() {
			t.Fatalf("network %d: %+v", k, shape)
		}
		for i := range shape.Sources {
			near(t, "a source", x.SourceAmps(i), y.SourceAmps(sources[i]), 10*balance)
		}
	}
}

// alike compares the loads of all chains whose ends are held, in another point that has load k of chain i where at says.
func alike(t *testing.T, s circuit.Shape, x, y *circuit.Point, at func(i, k int) (chain, load int)) (compared int) {
	t.Helper()
	firm := held(x)
	for i, c := range s.Chains {
		if !(firm[c.APlus] && firm[c.AReturn] && firm[c.BPlus] && firm[c.BReturn]) {
			continue
		}
		for k, volts := range x.LoadVolts(i) {
			chain, load := at(i, k)
			near(t, "a load", y.LoadVolts(chain)[load], volts, exact)
			compared++
		}
	}
	return compared
}

// TestMirroredChainsGiveMirroredVoltages turns every chain round, its joints with it.
func TestMirroredChainsGiveMirroredVoltages(t *testing.T) {
	random := rand.New(rand.NewSource(44))
	compared := 0
	for k := range 400 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		other := shape
		other.Chains = nil
		for _, c := range shape.Chains {
			other.Chains = append(other.Chains, circuit.Chain{APlus: c.BPlus, AReturn: c.BReturn, BPlus: c.APlus, BReturn: c.AReturn, Loads: c.Loads})
		}
		q := plan(t, other)
		w := q.NewValues()
		set(w)
		for i, c := range shape.Chains {
			r := v.Rails(i)
			var joints []circuit.Joint
			for _, j := range r.Joints {
				joints = append(joints, circuit.Joint{Gap: c.Loads - j.Gap, Loop: j.Loop})
			}
			r.Joints = joints
			w.SetRails(i, r)
		}
		x, _ := solve(t, p, v, nil)
		y, _ := solve(t, q, w, nil)
		compared += alike(t, shape, x, y, func(i, k int) (int, int) { return i, shape.Chains[i].Loads - 1 - k })
		if t.Failed() {
			t.Fatalf("network %d: %+v", k, shape)
		}
	}
	if compared < 5000 {
		t.Errorf("only %d loads compared", compared)
	}
}

// TestScaledNetworksHaveTheSameVoltages multiplies all resistances and divides all currents by the same number.
func TestScaledNetworksHaveTheSameVoltages(t *testing.T) {
	random := rand.New(rand.NewSource(45))
	compared := 0
	for k := range 400 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		times := between(random, 0.1, 20)
		w := p.NewValues()
		for i := range shape.Wires {
			w.SetWire(i, circuit.Wire{G: v.Wire(i).G / times})
		}
		for i := range shape.Sources {
			s := v.Source(i)
			s.R, s.Limit = s.R*times, s.Limit/times
			w.SetSource(i, s)
		}
		for i := range shape.Chains {
			r := v.Rails(i)
			law := r.Law.(knee)
			law.set /= times
			scaled := circuit.Rails{Plus: r.Plus * times, Return: r.Return * times, Law: law}
			for _, j := range r.Joints {
				scaled.Joints = append(scaled.Joints, circuit.Joint{Gap: j.Gap, Loop: j.Loop * times})
			}
			w.SetRails(i, scaled)
		}
		x, _ := solve(t, p, v, nil)
		y, _ := solve(t, p, w, nil)
		compared += alike(t, shape, x, y, func(i, k int) (int, int) { return i, k })
		for i := range shape.Sources {
			near(t, "a source", y.SourceAmps(i)*times, x.SourceAmps(i), 10*balance*max(1, times))
		}
		if t.Failed() {
			t.Fatalf("network %d, %g times: %+v", k, times, shape)
		}
	}
	if compared < 5000 {
		t.Errorf("only %d loads compared", compared)
	}
}

// linearNetwork is a random network without opens, of loads that are resistors, with supplies far from their limits.
func linearNetwork(r *rand.Rand) (circuit.Shape, *circuit.Plan, *circuit.Values) {
	shape, set := randomNetwork(r)
	p, err := circuit.NewPlan(shape)
	if err != nil {
		panic(err)
	}
	v := p.NewValues()
	set(v)
	for i := range shape.Wires {
		v.SetWire(i, circuit.Resistor(between(r, 1e-3, 0.3)))
	}
	for i := range shape.Sources {
		v.SetSource(i, circuit.Source{E: 5 + 0.05*r.Float64(), R: 0.05, Limit: 10})
	}
	for i := range shape.Chains {
		x := v.Rails(i)
		x.Law = linear(between(r, 0.005, 0.03))
		v.SetRails(i, x)
	}
	return shape, p, v
}

// TestLinearNetworksSuperpose changes one supply, then another, then draws a current at a bridge, one by one and all together: where
// every supply stays on its straight part, the changes add up. A source between 5 % and 95 % of its limit is 50 widths of its
// corners away from them.
func TestLinearNetworksSuperpose(t *testing.T) {
	random := rand.New(rand.NewSource(46))
	compared := 0
	for k := range 600 {
		shape, p, v := linearNetwork(random)
		straight := true
		with := func(first, last, amps float64) *circuit.Point {
			w := v.Fork()
			for i, by := range map[int]float64{0: first, len(shape.Sources) - 1: last} {
				if s := w.Source(i); by != 0 {
					s.E += by
					w.SetSource(i, s)
				}
			}
			c := shape.Chains[0]
			w.SetBridge(circuit.Bridge{A: c.BPlus, B: c.BReturn, Amps: amps})
			x, status := circuit.NewWorker().Solve(context.Background(), p, w, nil, nil)
			if status.Outcome != circuit.Converged {
				straight = false
			}
			for i := range shape.Sources {
				share := x.SourceAmps(i) / w.Source(i).Limit
				straight = straight && share > 0.05 && share < 0.95
			}
			return x
		}
		base, first, last, drawn, all := with(0, 0, 0), with(0.02, 0, 0), with(0, -0.01, 0), with(0, 0, 0.5), with(0.02, -0.01, 0.5)
		if !straight || len(shape.Sources) < 2 {
			continue
		}
		compared++
		for i := range shape.Chains {
			b, f, l, d, a := base.LoadVolts(i), first.LoadVolts(i), last.LoadVolts(i), drawn.LoadVolts(i), all.LoadVolts(i)
			for n := range b {
				near(t, "a load", a[n]-b[n], (f[n]-b[n])+(l[n]-b[n])+(d[n]-b[n]), exact)
			}
		}
		if t.Failed() {
			t.Fatalf("network %d: %+v", k, shape)
		}
	}
	if compared < 100 {
		t.Errorf("only %d networks compared", compared)
	}
}

// symmetric is a random network of one supply at nodes 0 and 1 and chains joined by pairs of wires, all copper equal in both poles.
// pairs are the node pairs where a feed may land.
func symmetric(r *rand.Rand, stiff float64) (s circuit.Shape, set func(*circuit.Values), pairs []circuit.Pair) {
	s = circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}}
	pairs = []circuit.Pair{{A: 0, B: 1}}
	var ohms []float64
	link := func(a, b circuit.Pair) {
		s.Wires = append(s.Wires, circuit.Pair{A: a.A, B: b.A}, circuit.Pair{A: a.B, B: b.B})
		w := between(r, 1e-3, 0.5)
		ohms = append(ohms, w, w)
	}
	for range 1 + r.Intn(4) {
		n := s.Nodes
		s.Nodes += 4
		a, b := circuit.Pair{A: n, B: n + 1}, circuit.Pair{A: n + 2, B: n + 3}
		s.Chains = append(s.Chains, circuit.Chain{APlus: a.A, AReturn: a.B, BPlus: b.A, BReturn: b.B, Loads: 2 + r.Intn(40)})
		link(pairs[r.Intn(len(pairs))], a)
		if r.Intn(3) == 0 { // a mesh
			link(pairs[r.Intn(len(pairs))], b)
		}
		pairs = append(pairs, a, b)
	}
	rails := make([]circuit.Rails, len(s.Chains))
	for i, c := range s.Chains {
		lo, rail := 1.5+2*r.Float64(), between(r, 1e-3, 0.05)
		rails[i] = circuit.Rails{Plus: rail, Return: rail, Law: knee{between(r, 0.005, 0.05), lo, lo + r.Float64(), 0.1}}
		if r.Intn(2) == 0 {
			rails[i].Joints = []circuit.Joint{{Gap: r.Intn(c.Loads + 1), Loop: 0.05}}
		}
	}
	return s, func(v *circuit.Values) {
		v.SetSource(0, circuit.Source{E: 5, R: stiff, Limit: 1000})
		for i, x := range ohms {
			v.SetWire(i, circuit.Resistor(x))
		}
		for i, x := range rails {
			v.SetRails(i, x)
		}
	}, pairs
}

// TestAnotherFeedDimsNothing adds one more feed, a pair of equal wires from the supply, to networks of one stiff supply and equal
// poles. In the voltage between the poles such a network is one of passive elements with one source, so the feed pushes current
// into its pixels and no voltage falls, but for the little by which the supply does: its resistance times the further current.
func TestAnotherFeedDimsNothing(t *testing.T) {
	const stiff = 1e-5
	random := rand.New(rand.NewSource(47))
	brighter := 0
	for k := range 1000 {
		shape, set, pairs := symmetric(random, stiff)
		to, ohms := pairs[1+random.Intn(len(pairs)-1)], between(random, 1e-3, 1)
		n := len(shape.Wires)
		shape.Wires = append(shape.Wires, circuit.Pair{A: 0, B: to.A}, circuit.Pair{A: 1, B: to.B})
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		before, _ := solve(t, p, v, nil)
		v = v.Fork()
		v.SetWire(n, circuit.Resistor(ohms))
		v.SetWire(n+1, circuit.Resistor(ohms))
		after, _ := solve(t, p, v, nil)
		less := before.SourceVolts(0) - after.SourceVolts(0)
		near(t, "what the supply falls by", less, stiff*(after.SourceAmps(0)-before.SourceAmps(0)), 1e-5) // it is near a corner of its law
		for i := range shape.Chains {
			was, is := before.LoadVolts(i), after.LoadVolts(i)
			for m := range was {
				if is[m] < was[m]-less-exact {
					t.Fatalf("network %d: a feed of %g Ω lowers pixel %d of chain %d from %.9g V to %.9g V", k, ohms, m, i, was[m], is[m])
				}
				if is[m] > was[m]+1e-3 {
					brighter++
				}
			}
		}
	}
	if brighter < 5000 {
		t.Errorf("only %d pixels gain by their feeds", brighter)
	}
}

// TestAnotherFeedMayDimARunBehindASharedResistance is the counter-example. Two pixels of 1 S each hang on a supply of 5 V and
// 0.1 Ω, one at its terminals, one behind a lead; rails of 20 mΩ a pitch in both poles put 20 mΩ before each. With a lead of
// 0.98 Ω in all the second draws through 1 Ω + 1 Ω, so the terminals have 5 V/(1 + 0.1·(1/1.02 + 1/2)); a second lead like it to the
// far end puts two times 1 Ω side by side before it, and the terminals have 5 V/(1 + 0.1·(1/1.02 + 1/1.5)): the first pixel gets
// 0.067 V less.
func TestAnotherFeedMayDimARunBehindASharedResistance(t *testing.T) {
	p := plan(t, circuit.Shape{
		Nodes: 8, Sources: []circuit.Pair{{A: 0, B: 1}},
		Wires:  []circuit.Pair{{A: 0, B: 4}, {A: 1, B: 5}, {A: 0, B: 6}, {A: 1, B: 7}},
		Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 2, BReturn: 3, Loads: 1}, {APlus: 4, AReturn: 5, BPlus: 6, BReturn: 7, Loads: 1}},
	})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 0.1, Limit: 30})
	for i := range 2 {
		v.SetWire(i, circuit.Resistor(0.49))
		v.SetRails(i, circuit.Rails{Plus: 0.02, Return: 0.02, Law: linear(1)})
	}
	before, _ := solve(t, p, v, nil)
	v = v.Fork()
	v.SetWire(2, circuit.Resistor(0.49))
	v.SetWire(3, circuit.Resistor(0.49))
	after, _ := solve(t, p, v, nil)
	near(t, "one feed: the first", before.LoadVolts(0)[0], 5/(1+0.1*(1/1.02+1/2.0))/1.02, exact)
	near(t, "one feed: the second", before.LoadVolts(1)[0], 5/(1+0.1*(1/1.02+1/2.0))/2, exact)
	near(t, "two feeds: the first", after.LoadVolts(0)[0], 5/(1+0.1*(1/1.02+1/1.5))/1.02, exact)
	near(t, "two feeds: the second", after.LoadVolts(1)[0], 5/(1+0.1*(1/1.02+1/1.5))/1.5, exact)
	if by := before.LoadVolts(0)[0] - after.LoadVolts(0)[0]; by < 0.05 {
		t.Errorf("the first pixel gets %g V less", by)
	}
}

// bits are those of all potentials, load voltages and source currents of a point.
func bits(s circuit.Shape, x *circuit.Point) (list []uint64) {
	for n := range s.Nodes {
		list = append(list, math.Float64bits(x.Volts(n)))
	}
	for i := range s.Chains {
		for _, volts := range x.LoadVolts(i) {
			list = append(list, math.Float64bits(volts))
		}
	}
	for i := range s.Sources {
		list = append(list, math.Float64bits(x.SourceAmps(i)))
	}
	return list
}

// TestEveryWorkerFindsTheSameBits solves the same values, cold and by following, by many workers at a time on one processor and on
// two, by fresh ones and by ones that have solved other networks and followed other points before. All must agree in every bit.
func TestEveryWorkerFindsTheSameBits(t *testing.T) {
	random := rand.New(rand.NewSource(48))
	for k := range 100 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		edits := make([]*circuit.Values, 6)
		for i := range edits {
			edits[i] = edit(random, p, v)
		}
		from, _ := circuit.NewWorker().Solve(context.Background(), p, v, nil, nil)
		cold := bits(shape, from)
		want := make([][]uint64, len(edits))
		for i, changed := range edits {
			x, _ := circuit.NewWorker().Solve(context.Background(), p, changed, from, nil)
			want[i] = bits(shape, x)
		}
		other, otherSet := randomNetwork(random)
		q := plan(t, other)
		w := q.NewValues()
		otherSet(w)
		work := func(seed int64) {
			r, worker := rand.New(rand.NewSource(seed)), circuit.NewWorker()
			for range seed % 4 { // a worker with a past
				y, _ := worker.Solve(context.Background(), q, w, nil, nil)
				worker.Solve(context.Background(), q, edit(r, q, w), y, nil)
				worker.Solve(context.Background(), p, edit(r, p, v), from, nil)
			}
			if x, _ := worker.Solve(context.Background(), p, v, nil, nil); !slices.Equal(bits(shape, x), cold) {
				t.Errorf("network %d: a worker finds another point from cold", k)
			}
			for _, i := range r.Perm(len(edits)) {
				if x, _ := worker.Solve(context.Background(), p, edits[i], from, nil); !slices.Equal(bits(shape, x), want[i]) {
					t.Errorf("network %d, edit %d: a worker finds another point by following", k, i)
				}
			}
		}
		for _, processors := range []int{1, 2} {
			before := runtime.GOMAXPROCS(processors)
			var all sync.WaitGroup
			for seed := range int64(8) {
				all.Add(1)
				go func() { defer all.Done(); work(seed) }()
			}
			all.Wait()
			runtime.GOMAXPROCS(before)
		}
	}
}
