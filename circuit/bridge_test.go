package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// station writes a network out load by load (unfold) with a pair of nodes in the middle of one gap, and one more wire, the
// last, between two places of which each may be one of that pair. It returns how to set the values with that wire at g, and
// where the loads are.
func station(s circuit.Shape, v *circuit.Values, chain, gap int, a, b func(mid [2]int) int) (full circuit.Shape, set func(w *circuit.Values, g float64), at [][][2]int, mid [2]int) {
	full, set0, at := unfold(s, v)
	mid = [2]int{full.Nodes, full.Nodes + 1}
	full.Nodes += 2
	var halved []int
	for rail := range 2 {
		from, to := at[chain][gap-1][rail], at[chain][gap][rail]
		for i, w := range full.Wires[len(s.Wires):] {
			if w.A == from && w.B == to {
				full.Wires[len(s.Wires)+i].B = mid[rail]
				halved = append(halved, len(s.Wires)+i)
			}
		}
		full.Wires = append(full.Wires, circuit.Pair{A: mid[rail], B: to})
	}
	full.Wires = append(full.Wires, circuit.Pair{A: a(mid), B: b(mid)})
	return full, func(w *circuit.Values, g float64) {
		set0(w)
		n := len(full.Wires)
		for k, i := range halved {
			half := circuit.Wire{G: 2 * w.Wire(i).G}
			w.SetWire(i, half)
			w.SetWire(n-3+k, half)
		}
		w.SetWire(n-1, circuit.Wire{G: g})
	}, at, mid
}

// place is one end of a bridge: a rail of the tap or a node.
type place struct {
	rail int // 0 plus, 1 return, −1 a node
	node int
}

func (p place) inPlan(plus, minus int) int {
	return [3]int{p.node, plus, minus}[p.rail+1]
}

func (p place) inFull(mid [2]int) int {
	return [3]int{p.node, mid[0], mid[1]}[p.rail+1]
}

// TestBridgeMeetsTheSameNetworkWithAStation puts a resistor between a tap's rails, or between one of them and any node, of
// random networks, and compares node by node and load by load with the network written out with a station there.
func TestBridgeMeetsTheSameNetworkWithAStation(t *testing.T) {
	random := rand.New(rand.NewSource(11))
	compared := 0
	for k := range 600 {
		shape, set := randomNetwork(random)
		chain := random.Intn(len(shape.Chains))
		if shape.Chains[chain].Loads < 2 {
			continue
		}
		gap := 1 + random.Intn(shape.Chains[chain].Loads-1)
		node := random.Intn(shape.Nodes)
		ends := [][2]place{{{0, 0}, {1, 0}}, {{0, 0}, {-1, node}}, {{-1, node}, {0, 0}}, {{1, 0}, {-1, node}}}[k%4]
		g := math.Pow(10, 5-7*random.Float64())

		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		full, fill, at, mid := station(shape, v, chain, gap, ends[0].inFull, ends[1].inFull)
		q := plan(t, full)
		stationed := q.NewValues()
		fill(stationed, g)
		plus, minus := p.Tap(chain, gap)
		a, b := ends[0].inPlan(plus, minus), ends[1].inPlan(plus, minus)
		v.SetBridge(circuit.Bridge{A: a, B: b, G: g})

		x, s := circuit.NewWorker().Solve(context.Background(), p, v, nil, nil)
		y, sy := circuit.NewWorker().Solve(context.Background(), q, stationed, nil, nil)
		if s.Outcome != circuit.Converged || sy.Outcome != circuit.Converged {
			t.Fatalf("network %d: outcome %v after %d steps; written out %v", k, s.Outcome, s.Steps, sy.Outcome)
		}
		amps := y.WireAmps(len(full.Wires) - 1)
		if apart := !x.Live(a) || !joinedWithout(p, v, a, b); apart { // then the bridge carries nothing, and potentials are not comparable
			near(t, "current between separate pieces", x.BridgeAmps(), amps, 1e-6)
			continue
		}
		compared++
		near(t, "bridge current", x.BridgeAmps(), amps, 1e-6+1e-8*math.Abs(amps))
		for i := range shape.Chains {
			for n, volts := range x.LoadVolts(i) {
				near(t, "load", volts, y.Across(at[i][n][0], at[i][n][1]), 1e-7)
			}
			e := x.Ends(i)
			near(t, "plus rail current", e.APlus, railAmps(full, y, len(shape.Wires), shape.Chains[i].APlus, at[i][0][0]), 1e-5)
			near(t, "return rail current", e.AReturn, railAmps(full, y, len(shape.Wires), shape.Chains[i].AReturn, at[i][0][1]), 1e-5)
		}
		r := railsOf(x, shape.Chains, chain)
		near(t, "plus potential after the tap", r[0][gap]-x.Volts(shape.Chains[chain].AReturn), y.Volts(at[chain][gap][0])-y.Volts(shape.Chains[chain].AReturn), 1e-7)
		near(t, "return potential after the tap", r[1][gap]-x.Volts(shape.Chains[chain].AReturn), y.Volts(at[chain][gap][1])-y.Volts(shape.Chains[chain].AReturn), 1e-7)
		near(t, "plus rail of the tap", x.Across(plus, shape.Chains[chain].AReturn), y.Across(mid[0], shape.Chains[chain].AReturn), 1e-7)
		near(t, "return rail of the tap", x.Across(minus, shape.Chains[chain].BPlus), y.Across(mid[1], shape.Chains[chain].BPlus), 1e-7)
		other := 1 + random.Intn(shape.Chains[chain].Loads-1)
		if other != gap {
			oPlus, _ := p.Tap(chain, other)
			left, right := at[chain][other-1][0], at[chain][other][0]
			near(t, "another tap", x.Across(oPlus, shape.Chains[chain].AReturn), (y.Across(left, shape.Chains[chain].AReturn)+y.Across(right, shape.Chains[chain].AReturn))/2, 1e-7)
		}
		if t.Failed() {
			t.Fatalf("network %d: bridge %d–%d of %g S at chain %d gap %d", k, a, b, g, chain, gap)
		}
	}
	if compared < 300 {
		t.Errorf("only %d networks compared", compared)
	}
}

// joinedWithout reports whether two places hang together without the bridge; rails and chains count, as do sources and loads.
func joinedWithout(p *circuit.Plan, v *circuit.Values, a, b int) bool {
	v = v.Fork()
	v.SetBridge(circuit.Bridge{})
	group := p.Joined(func(i int) bool { return v.Wire(i).G > 0 }, func(i int) bool { return !v.Source(i).Off })
	parent := append([]int(nil), group...)
	for changed := true; changed; {
		changed = false
		for _, c := range p.Shape().Chains {
			x, y := parent[c.APlus], parent[c.AReturn]
			for n := range parent {
				if x != y && parent[n] == max(x, y) {
					parent[n], changed = min(x, y), true
				}
			}
		}
	}
	nodeOf := func(place int) int {
		for i, c := range p.Shape().Chains {
			for g := 1; g < c.Loads; g++ {
				switch plus, minus := p.Tap(i, g); place {
				case plus:
					return c.APlus
				case minus:
					return c.AReturn
				}
			}
		}
		return place
	}
	return parent[nodeOf(a)] == parent[nodeOf(b)]
}

func railsOf(x *circuit.Point, chains []circuit.Chain, i int) [2][]float64 {
	plus, minus := make([]float64, chains[i].Loads), make([]float64, chains[i].Loads)
	x.Rails(i, plus, minus)
	return [2][]float64{plus, minus}
}

// railAmps is the current of the wire between two nodes of a network written out.
func railAmps(full circuit.Shape, y *circuit.Point, from, a, b int) float64 {
	for i, w := range full.Wires[from:] {
		if w.A == a && w.B == b {
			return y.WireAmps(from + i)
		}
	}
	return math.NaN()
}
