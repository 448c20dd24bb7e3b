package circuit_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// edit changes one to three values of a network at random: opens, shorts, other resistances, supplies off or trimmed, runs
// dark or brighter, a bridge anywhere.
func edit(r *rand.Rand, p *circuit.Plan, v *circuit.Values) *circuit.Values {
	shape, w := p.Shape(), v.Fork()
	for range 1 + r.Intn(3) {
		switch kind := r.Intn(10); {
		case kind < 4:
			w.SetWire(r.Intn(len(shape.Wires)), circuit.Wire{})
		case kind < 6:
			w.SetWire(r.Intn(len(shape.Wires)), circuit.Resistor(between(r, 1e-4, 10)))
		case kind < 7:
			i := r.Intn(len(shape.Sources))
			s := w.Source(i)
			s.Off, s.E = r.Intn(2) == 0, s.E+0.2*r.Float64()
			w.SetSource(i, s)
		case kind < 8:
			i := r.Intn(len(shape.Chains))
			rails := w.Rails(i)
			if rails.Law = nil; r.Intn(3) > 0 {
				rails.Law = knee{0.01 + 0.06*r.Float64(), 2.5, 3.5, 0.11}
			}
			w.SetRails(i, rails)
		default:
			w.SetBridge(circuit.Bridge{A: anyPlace(r, p), B: r.Intn(shape.Nodes), G: 1 / between(r, 1e-5, 10)})
		}
	}
	return w
}

// anyPlace is a node, or a tap.
func anyPlace(r *rand.Rand, p *circuit.Plan) int {
	i := r.Intn(len(p.Shape().Chains))
	plus, minus := p.Tap(i, r.Intn(p.Shape().Chains[i].Loads+1))
	return [2]int{plus, minus}[r.Intn(2)]
}

// TestFollowingMeetsFullSolves edits random networks ten thousand times, each from a point found before, and compares every
// node, load and current with a full solve: within the 1 µV for which following is certified.
func TestFollowingMeetsFullSolves(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	random := rand.New(rand.NewSource(5))
	follower, full := circuit.NewWorker(), circuit.NewWorker()
	edits, followed, flat, worst, worstEnds := 0, 0, 0, 0.0, 0.0
	for k := 0; edits < 10000; k++ {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		from, _ := full.Solve(context.Background(), p, v, nil, nil)
		for range 20 {
			edits++
			changed := edit(random, p, v)
			x, s := follower.Solve(context.Background(), p, changed, from, nil)
			y, sy := full.Solve(context.Background(), p, changed, nil, nil)
			if s.Outcome != sy.Outcome {
				t.Errorf("network %d: outcome %v, in full %v", k, s.Outcome, sy.Outcome)
			}
			if s.Followed {
				followed++
				for i := range shape.Chains {
					near, ends := x.EndsNear(i), x.Ends(i)
					off := max(math.Abs(near.APlus-ends.APlus), math.Abs(near.AReturn-ends.AReturn), math.Abs(near.BPlus-ends.BPlus), math.Abs(near.BReturn-ends.BReturn))
					if worstEnds = max(worstEnds, off); off > 1e-4 {
						t.Errorf("network %d, edit %d: the ends of chain %d carry %+v, by its line %+v", k, edits, i, ends, near)
					}
				}
				apart := distance(p, x, y)
				if apart > certified { // a part that no current holds may float: then x is a solved point too
					z, _ := full.Solve(context.Background(), p, changed, x, &circuit.Options{Accuracy: inFull})
					apart = distance(p, x, z)
					flat++
				}
				if apart > certified && apart < idleFloat(p, changed, x) {
					continue
				}
				if worst = max(worst, apart); apart > certified {
					t.Fatalf("network %d, edit %d: %g V from the full solve, %+v", k, edits, apart, s)
				}
			}
			if random.Intn(4) == 0 { // go on from here
				from, v = x, changed
			}
		}
	}
	t.Logf("%d of %d edits followed, at most %.2g V from the full solve, %.2g A at ends of chains; %d with a part that floats", followed, edits, worst, worstEnds, flat)
	if followed < edits*9/10 || flat > edits/20 {
		t.Errorf("%d of %d edits were followed, %d float", followed, edits, flat)
	}
}

// certified is what following promises, in volts.
const certified = 1e-6

// idleFloat is how far idle supplies may float: some 40 widths of the law of each.
func idleFloat(p *circuit.Plan, v *circuit.Values, x *circuit.Point) (volts float64) {
	for i := range p.Shape().Sources {
		if s := v.Source(i); !s.Off && x.SourceAmps(i) < 1e-6*s.Limit {
			volts += 40 * 0.001 * s.R * s.Limit
		}
	}
	return volts
}

// distance is the largest difference between two points of one plan, over nodes and loads.
func distance(p *circuit.Plan, x, y *circuit.Point) (worst float64) {
	shape := p.Shape()
	for n := range shape.Nodes {
		if x.Live(n) != y.Live(n) || x.Datum(n) != y.Datum(n) {
			return math.Inf(1)
		}
		worst = max(worst, math.Abs(x.Volts(n)-y.Volts(n)))
	}
	for i := range shape.Chains {
		a, b := x.LoadVolts(i), y.LoadVolts(i)
		for k := range a {
			worst = max(worst, math.Abs(a[k]-b[k]))
		}
	}
	return worst
}

// TestErrorsOfFollowingDoNotAddUp makes three hundred small changes, one after the other, each from the point before.
func TestErrorsOfFollowingDoNotAddUp(t *testing.T) {
	random := rand.New(rand.NewSource(8))
	for k := range 20 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		for i := range shape.Wires { // nothing floats
			v.SetWire(i, circuit.Resistor(between(random, 1e-3, 0.3)))
		}
		for i := range shape.Sources { // nor is at its limit
			v.SetSource(i, circuit.Source{E: 5, R: 1e-3, Limit: 100})
		}
		w := circuit.NewWorker()
		x, _ := w.Solve(context.Background(), p, v, nil, nil)
		followed := 0
		for range 300 {
			v = v.Fork()
			i := random.Intn(len(shape.Wires))
			v.SetWire(i, circuit.Wire{G: v.Wire(i).G * (0.98 + 0.04*random.Float64())})
			var s circuit.Status
			if x, s = w.Solve(context.Background(), p, v, x, nil); s.Followed {
				followed++
			}
		}
		y, _ := w.Solve(context.Background(), p, v, nil, nil)
		if d := distance(p, x, y); d > certified || followed < 290 {
			t.Errorf("network %d: %g V from the full solve after %d followed changes", k, d, followed)
		}
	}
}
