package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// knee is a law that rises softly from 0 to set between lo and hi, like a regulated sink behind diodes.
type knee struct{ set, lo, hi, eps float64 }

func (k knee) Eval(v, amps, slope []float64) {
	for i := range v {
		amps[i], slope[i] = k.at(v[i])
	}
}

func (k knee) at(v float64) (amps, slope float64) {
	f := func(v float64) (float64, float64) {
		a, da := soft(v-k.lo, k.eps)
		b, db := soft(v-k.hi, k.eps)
		return k.set * (a - b) / (k.hi - k.lo), k.set * (da - db) / (k.hi - k.lo)
	}
	amps, slope = f(v)
	zero, _ := f(0)
	return amps - zero, slope
}

func soft(x, eps float64) (value, slope float64) {
	e := math.Exp(-math.Abs(x) / eps)
	if x > 0 {
		return x + eps*math.Log1p(e), 1 / (1 + e)
	}
	return eps * math.Log1p(e), e / (1 + e)
}

func solve(t testing.TB, p *circuit.Plan, v *circuit.Values, from *circuit.Point) (*circuit.Point, circuit.Status) {
	t.Helper()
	point, status := circuit.NewWorker().Solve(context.Background(), p, v, from, nil)
	if status.Outcome != circuit.Converged {
		t.Errorf("outcome %v after %d steps, residual %g", status.Outcome, status.Steps, status.Residual)
	}
	balanced(t, p, v, point)
	return point, status
}

// balance is the largest current in amperes that a node may lack: rounding of 5 V potentials at the 1e5 S of a short.
const balance = 2e-9

// balanced checks Kirchhoff's current law at every node from the point's own currents, and that sources give what wires,
// rails and loads take (Tellegen).
func balanced(t testing.TB, p *circuit.Plan, v *circuit.Values, point *circuit.Point) {
	t.Helper()
	shape := p.Shape()
	sum := make([]float64, shape.Nodes)
	given, taken := 0.0, 0.0
	for i, s := range shape.Sources {
		amps := point.SourceAmps(i)
		sum[s.A] -= amps
		sum[s.B] += amps
		given += amps * point.SourceVolts(i)
	}
	for i, w := range shape.Wires {
		amps := point.WireAmps(i)
		sum[w.A] += amps
		sum[w.B] -= amps
		taken += amps * point.Across(w.A, w.B)
	}
	for i, c := range shape.Chains {
		e := point.Ends(i)
		sum[c.APlus] += e.APlus
		sum[c.AReturn] += e.AReturn
		sum[c.BPlus] -= e.BPlus
		sum[c.BReturn] -= e.BReturn
		amps := make([]float64, c.Loads)
		point.LoadAmps(i, amps)
		plus, minus := make([]float64, c.Loads), make([]float64, c.Loads)
		point.Rails(i, plus, minus)
		for k, volts := range point.LoadVolts(i) {
			if d := plus[k] - minus[k] - volts; math.Abs(d) > 1e-9 {
				t.Fatalf("chain %d load %d: rails differ by %g V from the load's voltage", i, k, d)
			}
			taken += volts * amps[k]
		}
		taken += railLoss(v.Rails(i), c, point, i, plus, minus)
	}
	for n, s := range sum {
		if math.IsNaN(s) || math.Abs(s) > balance {
			t.Fatalf("node %d lacks %g A", n, s)
		}
	}
	if d := given - taken; math.Abs(d) > 1e-7*(1+math.Abs(given)) {
		t.Fatalf("sources give %.12g W, elements take %.12g W", given, taken)
	}
}

// railLoss is the heat in the rails of a chain, from the potentials alone.
func railLoss(r circuit.Rails, c circuit.Chain, p *circuit.Point, i int, plus, minus []float64) float64 {
	loss := func(a, b float64, at []float64, ohms, joint float64) float64 {
		sum, left := 0.0, a
		for g := 0; g <= c.Loads; g++ {
			right, gap := b, ohms
			if g < c.Loads {
				right = at[g]
			}
			if g == 0 || g == c.Loads {
				gap /= 2
			}
			for _, j := range r.Joints {
				if j.Gap == g {
					gap += j.Loop * joint
				}
			}
			sum += (left - right) * (left - right) / gap
			left = right
		}
		return sum
	}
	share := r.Plus / (r.Plus + r.Return)
	return loss(p.Volts(c.APlus), p.Volts(c.BPlus), plus, r.Plus, share) + loss(p.Volts(c.AReturn), p.Volts(c.BReturn), minus, r.Return, 1-share)
}

func plan(t testing.TB, s circuit.Shape) *circuit.Plan {
	t.Helper()
	p, err := circuit.NewPlan(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.12g, want %.12g ± %g", what, got, want, within)
	}
}

func TestVoltageDivider(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 3, Wires: []circuit.Pair{{0, 1}, {1, 2}}, Sources: []circuit.Pair{{0, 2}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 60})
	v.SetWire(0, circuit.Resistor(1))
	v.SetWire(1, circuit.Resistor(1.999))
	x, _ := solve(t, p, v, nil)
	// 5 V over 3 Ω in all: Ohm's law. The source's soft corner is 0.06 mV wide, 1.67 A is far from it.
	near(t, "amps", x.SourceAmps(0), 5.0/3, 1e-9)
	near(t, "volts", x.Volts(1), 1.999*5/3, 1e-9)
}

// A ladder of equal linear loads has the closed form of a transmission line at zero frequency: with half sections at
// the ends, the image impedance is √(rs/g)·√(1+rs·g/4) … / …; here the T-section chain is compared with the exact
// recursion of its input conductance, worked from the far end.
func TestLinearLadderAgainstRecursion(t *testing.T) {
	const n, r, g = 200, 0.004, 0.01
	p := plan(t, circuit.Shape{Nodes: 4, Sources: []circuit.Pair{{0, 1}}, Chains: []circuit.Chain{{0, 1, 2, 3, n}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 100})
	v.SetRails(0, circuit.Rails{Plus: 0.75 * r, Return: 0.25 * r, Law: linear(g)})
	x, _ := solve(t, p, v, nil)
	input := 0.0 // conductance looking into the chain
	for i := range n {
		input += g
		ohms := r
		if i == n-1 {
			ohms = r / 2
		}
		input = input / (1 + ohms*input)
	}
	near(t, "amps", x.SourceAmps(0), 5*input/(1+1e-3*input), 1e-9)
	if end := x.Ends(0); math.Abs(end.BPlus) > 1e-12 || math.Abs(end.BReturn) > 1e-12 {
		t.Errorf("current leaves the open end: %+v", end)
	}
	near(t, "both rails carry the same", x.Ends(0).APlus+x.Ends(0).AReturn, 0, 1e-12)
}

type linear float64

func (g linear) Eval(v, amps, slope []float64) {
	for i := range v {
		amps[i], slope[i] = float64(g)*v[i], float64(g)
	}
}

// Constant-current loads fed from both ends by stiff sources: the voltage sags by a parabola, r·i·x·(n−x)/2 with x in
// pitches from the end (textbook distributed load fed at both ends).
func TestConstantCurrentParabola(t *testing.T) {
	const n, r, i = 100, 0.003, 0.02
	p := plan(t, circuit.Shape{Nodes: 4, Wires: []circuit.Pair{{0, 2}, {1, 3}}, Sources: []circuit.Pair{{0, 1}}, Chains: []circuit.Chain{{0, 1, 2, 3, n}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-5, Limit: 100})
	v.SetWire(0, circuit.Wire{G: circuit.Short})
	v.SetWire(1, circuit.Wire{G: circuit.Short})
	v.SetRails(0, circuit.Rails{Plus: r / 2, Return: r / 2, Law: knee{i, 0.5, 1, 0.01}})
	x, _ := solve(t, p, v, nil)
	end := x.Across(0, 1)
	for _, k := range []int{0, 10, 49, 99} {
		at := float64(k) + 0.5
		sag := r * i * (at*(n-at)/2 + 0.125) // ⅛: the loads are points, not a continuum
		near(t, "volts", x.LoadVolts(0)[k], end-sag, 2e-5)
	}
}

func TestJointsAddTheirResistance(t *testing.T) {
	shape := circuit.Shape{Nodes: 4, Sources: []circuit.Pair{{0, 1}}, Chains: []circuit.Chain{{0, 1, 2, 3, 4}}}
	p := plan(t, shape)
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-5, Limit: 100})
	v.SetRails(0, circuit.Rails{Plus: 0.01, Return: 0.01, Law: knee{0.05, 0.5, 1, 0.01}, Joints: []circuit.Joint{{Gap: 0, Loop: 0.1}, {Gap: 2, Loop: 0.2}, {Gap: 2, Loop: 0.1}}})
	x, _ := solve(t, p, v, nil)
	e := x.Across(0, 1)
	// 50 mA a load: 0.2 A through the first gap of 10 mΩ + 0.1 Ω, 0.15 A through 20 mΩ, 0.1 A through 20 mΩ + 0.3 Ω.
	near(t, "first", x.LoadVolts(0)[0], e-0.2*0.11, 1e-9)
	near(t, "second", x.LoadVolts(0)[1], e-0.2*0.11-0.15*0.02, 1e-9)
	near(t, "third", x.LoadVolts(0)[2], e-0.2*0.11-0.15*0.02-0.1*0.32, 1e-9)
}

func TestDeadShortIsHeldByTheLimit(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 2, Wires: []circuit.Pair{{0, 1}}, Sources: []circuit.Pair{{0, 1}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 66})
	v.SetWire(0, circuit.Wire{G: circuit.Short})
	x, _ := solve(t, p, v, nil)
	near(t, "amps", x.SourceAmps(0), 66, 1e-6)
	near(t, "volts", x.SourceVolts(0), 66/circuit.Short, 1e-9)
	if !v.Source(0).Limited(x.SourceAmps(0)) {
		t.Error("the source does not say that it is limited")
	}
}

func TestNetworkWithoutASourceIsDead(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 4, Chains: []circuit.Chain{{0, 1, 2, 3, 5}}})
	v := p.NewValues()
	v.SetRails(0, circuit.Rails{Plus: 0.01, Return: 0.01, Law: knee{0.05, 0.5, 1, 0.01}})
	x, _ := solve(t, p, v, nil)
	if x.Live(0) || x.LoadVolts(0)[2] != 0 {
		t.Errorf("a piece without a source is alive: %v", x.LoadVolts(0))
	}
}

func TestSupplyWithNothingConnectedReadsE(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 4, Wires: []circuit.Pair{{0, 2}}, Sources: []circuit.Pair{{0, 1}, {2, 3}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 66})
	v.SetSource(1, circuit.Source{E: 12, R: 1e-3, Limit: 10})
	v.SetWire(0, circuit.Resistor(1))
	x, status := solve(t, p, v, nil)
	near(t, "first", x.SourceVolts(0), 5, 1e-12)
	near(t, "second", x.SourceVolts(1), 12, 1e-12)
	if x.SourceAmps(0) != 0 || x.SourceAmps(1) != 0 {
		t.Error("current flows in an open network")
	}
	if status.Steps > 2 {
		t.Errorf("%d steps for a network without current", status.Steps)
	}
}

func TestEmptyNetworkAndLooseNodesAnswer(t *testing.T) {
	solve(t, plan(t, circuit.Shape{}), plan(t, circuit.Shape{}).NewValues(), nil)
	p := plan(t, circuit.Shape{Nodes: 3, Wires: []circuit.Pair{{0, 1}, {1, 1}}})
	solve(t, p, p.NewValues(), nil)
}

func TestUnequalSuppliesLeaveOneIdle(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 3, Wires: []circuit.Pair{{0, 1}, {1, 2}}, Sources: []circuit.Pair{{0, 2}, {1, 2}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5.2, R: 1e-3, Limit: 60})
	v.SetSource(1, circuit.Source{E: 5.0, R: 1e-3, Limit: 60})
	v.SetWire(0, circuit.Resistor(1e-3))
	v.SetWire(1, circuit.Resistor(10))
	x, _ := solve(t, p, v, nil)
	near(t, "the higher one carries all", x.SourceAmps(0), 5.2/10.002, 1e-6)
	if !v.Source(1).Idle(x.SourceAmps(1)) {
		t.Errorf("the lower one delivers %g A", x.SourceAmps(1))
	}
}

func TestLostReturnLeavesLoadsDark(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 5, Wires: []circuit.Pair{{0, 1}, {2, 4}}, Sources: []circuit.Pair{{0, 4}}, Chains: []circuit.Chain{{1, 2, 3, 2, 50}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 60})
	v.SetWire(0, circuit.Resistor(0.01))
	v.SetRails(0, circuit.Rails{Plus: 0.001, Return: 0.002, Law: knee{0.036, 2.7, 3.5, 0.11}})
	x, _ := solve(t, p, v, nil)
	near(t, "amps", x.SourceAmps(0), 0, 1e-9)
	v2 := v.Fork()
	v2.SetWire(1, circuit.Resistor(0.01))
	y, _ := solve(t, p, v2, x)
	if y.SourceAmps(0) < 1 {
		t.Errorf("with its return back the chain takes %g A", y.SourceAmps(0))
	}
	z, _ := solve(t, p, v, y) // and lost again, from the lit point
	near(t, "amps again", z.SourceAmps(0), 0, 1e-9)
}

func TestSourceLawHasItsLimits(t *testing.T) {
	// Closed forms: at V = 0 the limit; at V = E the offset ε·ln 2/r; far above E nothing.
	p := plan(t, circuit.Shape{Nodes: 2, Wires: []circuit.Pair{{0, 1}}, Sources: []circuit.Pair{{0, 1}}})
	for _, s := range []circuit.Source{{E: 5, R: 1e-3, Limit: 60}, {E: 24, R: 0.05, Limit: 5}, {E: 5, R: 0, Limit: 1}} {
		v := p.NewValues()
		v.SetSource(0, s)
		for _, ohms := range []float64{1e-5, 1e-3, 0.1, 1, 100, 1e4, 1e7} {
			v.SetWire(0, circuit.Resistor(ohms))
			x, _ := solve(t, p, v, nil)
			got := x.SourceAmps(0)
			if got > s.Limit*(1+1e-9) || got < 0 {
				t.Errorf("%+v into %g Ω gives %g A", s, ohms, got)
			}
			r := max(s.R, 1e-5)
			if ideal := s.E / (ohms + r); ideal < 0.98*s.Limit && ideal > 0.02*s.Limit {
				near(t, "straight part", got, ideal, 1e-9*s.Limit+1e-9)
			}
		}
	}
}

func TestForkLeavesTheOriginalAlone(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 2, Wires: []circuit.Pair{{0, 1}}, Sources: []circuit.Pair{{0, 1}}})
	v := p.NewValues()
	v.SetWire(0, circuit.Resistor(2))
	w := v.Fork()
	w.SetWire(0, circuit.Resistor(4))
	w.SetSource(0, circuit.Source{E: 1, R: 1, Limit: 1})
	if v.Wire(0).G != 0.5 || !v.Source(0).Off {
		t.Error("setting a fork changed its origin")
	}
}

func TestCancelledSolveStops(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 2, Wires: []circuit.Pair{{0, 1}}, Sources: []circuit.Pair{{0, 1}}})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, s := circuit.NewWorker().Solve(ctx, p, p.NewValues(), nil, nil); s.Outcome != circuit.Interrupted {
		t.Errorf("outcome %v", s.Outcome)
	}
}

func TestPlanRefusesNodesThatAreNotThere(t *testing.T) {
	for name, s := range map[string]circuit.Shape{
		"wire":   {Nodes: 1, Wires: []circuit.Pair{{0, 1}}},
		"source": {Nodes: 2, Sources: []circuit.Pair{{1, 1}}},
		"chain":  {Nodes: 3, Chains: []circuit.Chain{{0, 1, 2, 3, 5}}},
		"loads":  {Nodes: 4, Chains: []circuit.Chain{{0, 1, 2, 3, 0}}},
	} {
		if _, err := circuit.NewPlan(s); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// TestRandomNetworksAgainstFullNodes compares random small networks with the same networks solved node by node, every
// rail piece a wire and every load a wire of its own: the elimination of chains must change nothing.
func TestRandomNetworksAgainstFullNodes(t *testing.T) {
	random := rand.New(rand.NewSource(1))
	for range 400 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		x, _ := solve(t, p, v, nil)
		full, fv, at := unfold(shape, v)
		q := plan(t, full)
		vals := q.NewValues()
		fv(vals)
		y, _ := solve(t, q, vals, nil)
		for i := range shape.Chains {
			for k, volts := range x.LoadVolts(i) {
				near(t, "load", volts, y.Across(at[i][k][0], at[i][k][1]), 1e-8)
			}
		}
		for i := range shape.Sources {
			near(t, "source", x.SourceAmps(i), y.SourceAmps(i), 1e-6)
		}
		if t.Failed() {
			t.Fatalf("%+v", shape)
		}
	}
}

// randomNetwork makes a network of up to three supplies and four chains, joined at random, with opens and shorts.
func randomNetwork(r *rand.Rand) (circuit.Shape, func(*circuit.Values)) {
	var s circuit.Shape
	pair := func() (int, int) { s.Nodes += 2; return s.Nodes - 2, s.Nodes - 1 }
	var pairs [][2]int
	for range 1 + r.Intn(3) {
		a, b := pair()
		s.Sources = append(s.Sources, circuit.Pair{A: a, B: b})
		pairs = append(pairs, [2]int{a, b})
	}
	for range 1 + r.Intn(4) {
		a, b := pair()
		c, d := pair()
		s.Chains = append(s.Chains, circuit.Chain{APlus: a, AReturn: b, BPlus: c, BReturn: d, Loads: 1 + r.Intn(30)})
		pairs = append(pairs, [2]int{a, b}, [2]int{c, d})
	}
	for range len(pairs) + r.Intn(6) {
		x, y := pairs[r.Intn(len(pairs))], pairs[r.Intn(len(pairs))]
		s.Wires = append(s.Wires, circuit.Pair{A: x[0], B: y[0]}, circuit.Pair{A: x[1], B: y[1]})
	}
	seed := r.Int63()
	return s, func(v *circuit.Values) {
		r := rand.New(rand.NewSource(seed))
		for i := range s.Sources {
			v.SetSource(i, circuit.Source{E: 5 + r.Float64()*0.4, R: 1e-3 * (0.2 + r.Float64()), Limit: 0.5 + 10*r.Float64()})
		}
		for i := range s.Wires {
			switch r.Intn(12) {
			case 0:
			case 1:
				v.SetWire(i, circuit.Wire{G: circuit.Short})
			default:
				v.SetWire(i, circuit.Resistor(math.Pow(10, -3+2.5*r.Float64())))
			}
		}
		for i, c := range s.Chains {
			rails := circuit.Rails{Plus: 0.001 + 0.05*r.Float64(), Return: 0.001 + 0.05*r.Float64(), Law: knee{0.01 + 0.06*r.Float64(), 2.5, 3.5, 0.11}}
			if r.Intn(2) == 0 {
				rails.Joints = []circuit.Joint{{Gap: r.Intn(c.Loads + 1), Loop: 0.01}}
			}
			v.SetRails(i, rails)
		}
	}
}

// unfold writes every chain out as nodes and wires. at gives the nodes of each load.
func unfold(s circuit.Shape, v *circuit.Values) (full circuit.Shape, set func(*circuit.Values), at [][][2]int) {
	full = circuit.Shape{Nodes: s.Nodes, Wires: append([]circuit.Pair(nil), s.Wires...), Sources: s.Sources}
	var extra []circuit.Wire
	wire := func(a, b int, w circuit.Wire) {
		full.Wires = append(full.Wires, circuit.Pair{A: a, B: b})
		extra = append(extra, w)
	}
	for i, c := range s.Chains {
		r := v.Rails(i)
		share := r.Plus / (r.Plus + r.Return)
		left := [2]int{c.APlus, c.AReturn}
		var loads [][2]int
		for g := 0; g <= c.Loads; g++ {
			right := [2]int{c.BPlus, c.BReturn}
			if g < c.Loads {
				right = [2]int{full.Nodes, full.Nodes + 1}
				full.Nodes += 2
				loads = append(loads, right)
				wire(right[0], right[1], circuit.Wire{Law: r.Law})
			}
			half, joint := 1.0, 0.0
			if g == 0 || g == c.Loads {
				half = 0.5
			}
			for _, j := range r.Joints {
				if j.Gap == g {
					joint += j.Loop
				}
			}
			wire(left[0], right[0], circuit.Resistor(half*r.Plus+joint*share))
			wire(left[1], right[1], circuit.Resistor(half*r.Return+joint*(1-share)))
			left = right
		}
		at = append(at, loads)
	}
	return full, func(w *circuit.Values) {
		for i := range s.Sources {
			w.SetSource(i, v.Source(i))
		}
		for i := range s.Wires {
			w.SetWire(i, v.Wire(i))
		}
		for i, x := range extra {
			w.SetWire(len(s.Wires)+i, x)
		}
	}, at
}

// TestValuesOfNoWorldAreAnswered solves conductances whose products overflow: no loop may wait for a number, and what is
// read off the point must be numbers.
func TestValuesOfNoWorldAreAnswered(t *testing.T) {
	for name, g := range map[string]float64{"huge": 1e300, "largest": math.MaxFloat64} {
		t.Run(name, func(t *testing.T) {
			p := plan(t, circuit.Shape{Nodes: 6, Wires: []circuit.Pair{{0, 2}, {2, 4}, {1, 3}, {3, 5}}, Sources: []circuit.Pair{{0, 1}}, Chains: []circuit.Chain{{2, 3, 4, 5, 50}}})
			v := p.NewValues()
			v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 66})
			for i := range 4 {
				v.SetWire(i, circuit.Wire{Law: linear(g)})
			}
			v.SetRails(0, circuit.Rails{Plus: 1e-3, Return: 1e-3, Law: knee{set: 0.04, lo: 2.7, hi: 3.4, eps: 0.1}})
			x, status := circuit.NewWorker().Solve(t.Context(), p, v, nil, nil)
			numbers := append([]float64{status.Residual, x.SourceVolts(0), x.SourceAmps(0)}, x.LoadVolts(0)...)
			for i := range 6 {
				numbers = append(numbers, x.Volts(i))
			}
			for _, n := range numbers {
				if math.IsNaN(n) || math.IsInf(n, 0) {
					t.Fatalf("%+v leaves %v", status, numbers)
				}
			}
		})
	}
}
