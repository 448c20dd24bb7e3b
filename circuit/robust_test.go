package circuit_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"farend/circuit"
)

// exact is how far, in volts or amperes, an answer may be from a closed form or from the same network written otherwise: far
// below anything that can be measured, far above what some thousands of roundings of 5 V leave (1e-15 each).
const exact = 1e-9

// flat is a load that holds its current from 1 V up: 10 mV knees are fifty widths below anything that these tests light.
func flat(amps float64) knee { return knee{amps, 0.5, 0.9, 0.005} }

// bow rises at once and levels off, without an exponential: amps·v/(1 V + |v|).
type bow float64

func (b bow) Eval(v, amps, slope []float64) {
	for i, u := range v {
		x := 1 / (1 + math.Abs(u))
		amps[i], slope[i] = float64(b)*u*x, float64(b)*x*x
	}
}

// TestFiveHundredRunsOfOnePixel hangs single pixels on one supply, each on a lead of its own. By hand: the supply falls by its
// resistance times all currents, each pixel by its own current through its lead and half a pitch of rail.
func TestFiveHundredRunsOfOnePixel(t *testing.T) {
	const runs, amps, source, plus, minus = 500, 0.02, 2e-3, 0.004, 0.007
	s := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}}
	for range runs {
		n := s.Nodes
		s.Nodes += 4
		s.Wires = append(s.Wires, circuit.Pair{A: 0, B: n}, circuit.Pair{A: 1, B: n + 1})
		s.Chains = append(s.Chains, circuit.Chain{APlus: n, AReturn: n + 1, BPlus: n + 2, BReturn: n + 3, Loads: 1})
	}
	p := plan(t, s)
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: source, Limit: 60})
	for i := range runs {
		v.SetWire(2*i, circuit.Resistor(0.01*float64(i+1)))
		v.SetWire(2*i+1, circuit.Resistor(0.02))
		v.SetRails(i, circuit.Rails{Plus: plus, Return: minus, Law: flat(amps)})
	}
	x, _ := solve(t, p, v, nil)
	for i := range runs {
		want := 5 - source*runs*amps - amps*(0.01*float64(i+1)+0.02+(plus+minus)/2)
		near(t, fmt.Sprintf("pixel of run %d", i), x.LoadVolts(i)[0], want, exact)
	}
	for i := range runs {
		v.SetRails(i, circuit.Rails{Plus: plus, Return: minus, Law: lit})
	}
	x, _ = solve(t, p, v, nil)
	meetsFullNodes(t, s, v, x)
}

// meetsFullNodes compares a point with that of the same network written out node by node.
func meetsFullNodes(t *testing.T, s circuit.Shape, v *circuit.Values, x *circuit.Point) {
	t.Helper()
	full, set, at := unfold(s, v)
	q := plan(t, full)
	values := q.NewValues()
	set(values)
	y, _ := solve(t, q, values, nil)
	for i := range s.Chains {
		for k, volts := range x.LoadVolts(i) {
			near(t, fmt.Sprintf("load %d of chain %d", k, i), volts, y.Across(at[i][k][0], at[i][k][1]), exact)
		}
	}
}

// fedAtBothEnds is a run in so many equal chains, end to end, with a stiff supply at its start and its end joined to the start by
// two shorts.
func fedAtBothEnds(t *testing.T, chains, loads int, rails circuit.Rails) (*circuit.Plan, *circuit.Values) {
	s := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}, {A: 2 * chains, B: 2*chains + 1}}}
	for range chains {
		n := s.Nodes
		s.Nodes += 2
		s.Chains = append(s.Chains, circuit.Chain{APlus: n - 2, AReturn: n - 1, BPlus: n, BReturn: n + 1, Loads: loads})
	}
	s.Wires = []circuit.Pair{{A: 1, B: 2*chains + 1}}
	p := plan(t, s)
	v := p.NewValues()
	for i := range s.Sources {
		v.SetSource(i, circuit.Source{E: 5, R: 1e-3, Limit: 100})
	}
	v.SetWire(0, circuit.Wire{G: circuit.Short})
	for i := range s.Chains {
		v.SetRails(i, rails)
	}
	return p, v
}

// TestMillionPixelsFedAtBothEnds solves one run whose middle gets a third of the voltage of its ends, from cold. It must be symmetric, fall
// towards the middle, and agree with the same run in a thousand pieces: stations where nothing lands change nothing.
func TestMillionPixelsFedAtBothEnds(t *testing.T) {
	const n = 1000000
	rails := circuit.Rails{Plus: 2e-6, Return: 3e-6, Law: bow(5e-6)}
	p, v := fedAtBothEnds(t, 1, n, rails)
	x, status := solve(t, p, v, nil)
	volts := x.LoadVolts(0)
	for k := range n / 2 {
		if math.Abs(volts[k]-volts[n-1-k]) > exact {
			t.Fatalf("pixel %d has %.12g V, its mirror image %.12g V", k, volts[k], volts[n-1-k])
		}
		if volts[k+1] > volts[k]+exact && k+1 < n/2 {
			t.Fatalf("pixel %d has %.12g V, the next one towards the middle %.12g V", k, volts[k], volts[k+1])
		}
	}
	q, w := fedAtBothEnds(t, 1000, n/1000, rails)
	y, cut := solve(t, q, w, nil)
	for i := range 1000 {
		for k, want := range y.LoadVolts(i) {
			if at := i*n/1000 + k; math.Abs(volts[at]-want) > exact {
				t.Fatalf("pixel %d has %.12g V, %.12g V in the run of a thousand pieces", at, volts[at], want)
			}
		}
	}
	t.Logf("%d steps, %d in pieces; from %.3f V to %.3f V", status.Steps, cut.Steps, volts[0], volts[n/2])
}

// TestMicrohmBesideTenMegohms puts both at one node, in a voltage divider either way round: by Ohm's law. The voltage of a
// microhm at the datum must be right in itself, not only beside 5 V.
func TestMicrohmBesideTenMegohms(t *testing.T) {
	const low, high, source = 1e-6, 1e7, 1e-3
	p := plan(t, circuit.Shape{Nodes: 4, Wires: []circuit.Pair{{A: 0, B: 2}, {A: 2, B: 1}, {A: 0, B: 3}, {A: 3, B: 1}, {A: 2, B: 1}}, Sources: []circuit.Pair{{A: 0, B: 1}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: source, Limit: 100})
	v.SetWire(0, circuit.Wire{G: 1 / low})
	v.SetWire(1, circuit.Wire{G: 1 / high})
	v.SetWire(2, circuit.Wire{G: 1 / high})
	v.SetWire(3, circuit.Wire{G: 1 / low})
	v.SetWire(4, circuit.Resistor(2)) // a load, so that the supply is on its straight part
	x, _ := solve(t, p, v, nil)
	left, right := low+1/(1/high+0.5), high+low
	amps := 5 / (source + 1/(1/left+1/right))
	near(t, "amperes of the supply", x.SourceAmps(0), amps, exact)
	volts := 5 - amps*source
	near(t, "microhm above, ten megohms below", x.Volts(2), volts/left*(left-low), exact)
	near(t, "ten megohms above, microhm below", x.Volts(3)/(volts/right*low), 1, exact)
}

// TestTwoStiffSuppliesFeedNothingIntoEachOther joins two supplies 0.1 V apart by 20 µΩ: 2,500 A would flow if they took current
// back. By hand, the higher one carries the load up to its limit, and the lower one what is beyond it.
func TestTwoStiffSuppliesFeedNothingIntoEachOther(t *testing.T) {
	const r, link, limit = 1e-5, 2e-5, 60.0
	p := plan(t, circuit.Shape{Nodes: 3, Wires: []circuit.Pair{{A: 0, B: 1}, {A: 0, B: 2}}, Sources: []circuit.Pair{{A: 0, B: 2}, {A: 1, B: 2}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5.1, R: r, Limit: limit})
	v.SetSource(1, circuit.Source{E: 5.0, R: r, Limit: 200})
	v.SetWire(0, circuit.Wire{G: 1 / link})
	for name, c := range map[string]struct{ load, higher, lower float64 }{
		"a load that the higher one carries": {0.5, 5.1 / (0.5 + r), 0},
		// V/load − limit flows from the lower one through r + link: V = 5 − (r + link)·(V/load − limit).
		"a load beyond its limit": {0.05, limit, (5+(r+link)*limit)/(1+(r+link)/0.05)/0.05 - limit},
	} {
		t.Run(name, func(t *testing.T) {
			v := v.Fork()
			v.SetWire(1, circuit.Resistor(c.load))
			x, _ := solve(t, p, v, nil)
			// Rounding of 5 V at the 1e5 S of the supplies is 1e-10 A and more.
			near(t, "the higher one", x.SourceAmps(0), c.higher, 10*exact)
			near(t, "the lower one", x.SourceAmps(1), c.lower, 10*exact)
		})
	}
	t.Run("no load", func(t *testing.T) {
		v := v.Fork()
		x, _ := solve(t, p, v, nil)
		near(t, "the higher one", x.SourceAmps(0), 0, balance)
		near(t, "the lower one", x.SourceAmps(1), 0, balance)
		// An idle supply floats up to 40 widths of its law.
		near(t, "volts", x.Volts(0), 5.1, 40*0.001*r*limit)
	})
}

// TestNothingButOpens leaves every supply at its set voltage, without current, and every load dark.
func TestNothingButOpens(t *testing.T) {
	random := rand.New(rand.NewSource(31))
	for range 200 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		for i := range shape.Wires {
			v.SetWire(i, circuit.Wire{})
		}
		x, _ := solve(t, p, v, nil)
		for i := range shape.Sources {
			near(t, "volts of a supply", x.SourceVolts(i), v.Source(i).E, exact)
			near(t, "amperes of a supply", x.SourceAmps(i), 0, exact)
		}
		for i, c := range shape.Chains {
			for _, volts := range x.LoadVolts(i) {
				near(t, "volts of a load", volts, 0, exact)
			}
			if x.Live(c.APlus) {
				t.Error("a run without a supply is alive")
			}
		}
	}
}

// TestEverythingShortedTogether ties every node to the first. Every supply then gives its limit, and no two nodes are further
// apart than all limits make through two shorts.
func TestEverythingShortedTogether(t *testing.T) {
	random := rand.New(rand.NewSource(32))
	for range 200 {
		shape, set := randomNetwork(random)
		wires := len(shape.Wires)
		for n := 1; n < shape.Nodes; n++ {
			shape.Wires = append(shape.Wires, circuit.Pair{A: 0, B: n})
		}
		p := plan(t, shape)
		q := plan(t, circuit.Shape{Nodes: shape.Nodes, Wires: shape.Wires[:wires], Sources: shape.Sources, Chains: shape.Chains})
		v, old := p.NewValues(), q.NewValues()
		set(old)
		all := 0.0
		for i := range shape.Sources {
			v.SetSource(i, old.Source(i))
			all += old.Source(i).Limit
		}
		for i := range shape.Chains {
			v.SetRails(i, old.Rails(i))
		}
		for i := range shape.Wires {
			if v.SetWire(i, circuit.Wire{G: circuit.Short}); i < wires {
				v.SetWire(i, old.Wire(i))
			}
		}
		x, _ := solve(t, p, v, nil)
		for i := range shape.Sources {
			near(t, "a supply", x.SourceAmps(i), v.Source(i).Limit, 10*balance)
		}
		for n := range shape.Nodes {
			if apart := math.Abs(x.Across(0, n)); apart > 2*all/circuit.Short {
				t.Errorf("node %d is %g V from the first", n, apart)
			}
		}
	}
}

// TestEveryPixelOutOfRegulation feeds a run so far above the knees of its pixels that each is a constant current, where the sag
// has a closed form, and so far below that each draws microamperes, where the network written out node by node is the measure.
func TestEveryPixelOutOfRegulation(t *testing.T) {
	const n, r = 300, 0.003
	shape := circuit.Shape{Nodes: 4, Sources: []circuit.Pair{{A: 0, B: 1}}, Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 2, BReturn: 3, Loads: n}}}
	p := plan(t, shape)
	v := p.NewValues()
	v.SetRails(0, circuit.Rails{Plus: r / 3, Return: 2 * r / 3, Law: lit})
	t.Run("far above", func(t *testing.T) {
		const all = 3*0.012 + 0.0006
		v.SetSource(0, circuit.Source{E: 24, R: 1e-3, Limit: 100})
		x, _ := solve(t, p, v, nil)
		volts, amps := 24-1e-3*n*all, n*all
		for k, got := range x.LoadVolts(0) {
			ohms := r
			if k == 0 {
				ohms = r / 2
			}
			volts -= amps * ohms
			near(t, fmt.Sprintf("pixel %d", k), got, volts, 1e-6) // a knee ends softly: its tail is some nanoamperes a pixel
			amps -= all
		}
	})
	t.Run("far below", func(t *testing.T) {
		v.SetSource(0, circuit.Source{E: 0.9, R: 1e-3, Limit: 100})
		x, _ := solve(t, p, v, nil)
		if amps := x.SourceAmps(0); amps > 0.1*n*0.0006+n*1e-5 {
			t.Errorf("%g A where only the tails of knees conduct", amps)
		}
		meetsFullNodes(t, shape, v, x)
	})
}

// TestTenThousandStationsOnOneRun cuts a run into chains of two pixels, feeds every fiftieth station, and solves it from where half
// the voltage left it. A step costs the same for every station; the number of steps must not grow with the length of the run, and stations where nothing lands must change nothing.
func TestTenThousandStationsOnOneRun(t *testing.T) {
	const every = 50
	run := func(stations, apart int) (*circuit.Point, circuit.Status) {
		s := circuit.Shape{Nodes: 4, Sources: []circuit.Pair{{A: 0, B: 1}}}
		var feeds []circuit.Wire
		for k := 0; k <= stations; k += apart {
			n := s.Nodes - 2
			if k%every == 0 {
				s.Wires = append(s.Wires, circuit.Pair{A: 0, B: n}, circuit.Pair{A: 1, B: n + 1})
				feeds = append(feeds, circuit.Resistor(0.02+1e-5*float64(k)), circuit.Resistor(0.03))
			}
			if k < stations {
				s.Nodes += 2
				s.Chains = append(s.Chains, circuit.Chain{APlus: n, AReturn: n + 1, BPlus: n + 2, BReturn: n + 3, Loads: 2 * apart})
			}
		}
		p := plan(t, s)
		v := p.NewValues()
		v.SetSource(0, circuit.Source{E: 5, R: 1e-5, Limit: 1000})
		for i, w := range feeds {
			v.SetWire(i, w)
		}
		for i := range s.Chains {
			v.SetRails(i, circuit.Rails{Plus: 0.0016, Return: 0.0018, Law: lit})
		}
		dim := v.Fork()
		dim.SetSource(0, circuit.Source{E: 2.5, R: 1e-5, Limit: 1000})
		from, _ := solve(t, p, dim, nil)
		x, status := circuit.NewWorker().Solve(t.Context(), p, v, from, &circuit.Options{Accuracy: inFull})
		balanced(t, p, v, x)
		return x, status
	}
	_, short := run(1000, 1)
	x, long := run(10000, 1)
	y, _ := run(10000, every)
	if long.Steps > short.Steps+3 {
		t.Errorf("%d steps for a run of 10,000 stations, %d for one of 1,000", long.Steps, short.Steps)
	}
	for i := range 10000 {
		for k, volts := range x.LoadVolts(i) {
			at := 2*(i%every) + k
			if want := y.LoadVolts(i / every)[at]; math.Abs(volts-want) > exact {
				t.Fatalf("pixel %d has %.12g V, %.12g V where stations are only at feeds", 2*i+k, volts, want)
			}
		}
	}
	t.Logf("%d steps, %d for a tenth of it", long.Steps, short.Steps)
}

// TestNetworksWithoutASourceAreDead takes all supplies from random networks; sources that are off are none either.
func TestNetworksWithoutASourceAreDead(t *testing.T) {
	random := rand.New(rand.NewSource(33))
	for k := range 200 {
		shape, set := randomNetwork(random)
		p := plan(t, shape)
		v := p.NewValues()
		set(v)
		for i := range shape.Sources {
			s := v.Source(i)
			if s.Off = k%2 == 0; !s.Off {
				s.Limit = 0
			}
			v.SetSource(i, s)
		}
		x, status := solve(t, p, v, nil)
		for n := range shape.Nodes {
			if x.Live(n) || x.Volts(n) != 0 {
				t.Fatalf("node %d of a network without a source has %g V", n, x.Volts(n))
			}
		}
		for i := range shape.Chains {
			for _, volts := range x.LoadVolts(i) {
				if volts != 0 {
					t.Fatalf("a load of a network without a source has %g V", volts)
				}
			}
		}
		if status.Steps > 2 {
			t.Errorf("%d steps for a dead network", status.Steps)
		}
	}
}

// TestShortedSourceLeavesAnotherAlone shorts one of two supplies that share a return: it gives its limit into its short, and the
// other one sees nothing of it.
func TestShortedSourceLeavesAnotherAlone(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 3, Wires: []circuit.Pair{{A: 0, B: 2}, {A: 1, B: 2}}, Sources: []circuit.Pair{{A: 0, B: 2}, {A: 1, B: 2}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 66})
	v.SetSource(1, circuit.Source{E: 12, R: 2e-3, Limit: 10})
	v.SetWire(0, circuit.Wire{G: circuit.Short})
	v.SetWire(1, circuit.Resistor(4))
	x, _ := solve(t, p, v, nil)
	near(t, "the shorted one", x.SourceAmps(0), 66, balance)
	near(t, "its volts", x.SourceVolts(0), 66/circuit.Short, exact)
	near(t, "the other one", x.SourceAmps(1), 12/4.002, exact)
}

// TestRingIsARunFedAtBothEnds lays a run in a ring. Loads of constant current sag by r·i·(x·(n−x)/2 + ⅛), x in pitches, as in a run fed
// at both ends.
func TestRingIsARunFedAtBothEnds(t *testing.T) {
	const n, r, i = 200, 0.0012, 0.02
	p := plan(t, circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}, Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 0, BReturn: 1, Loads: n}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 100})
	v.SetRails(0, circuit.Rails{Plus: r / 4, Return: 3 * r / 4, Law: flat(i)})
	x, _ := solve(t, p, v, nil)
	end := 5 - 1e-3*n*i
	near(t, "ends", x.Across(0, 1), end, exact)
	for k, volts := range x.LoadVolts(0) {
		at := float64(k) + 0.5
		near(t, fmt.Sprintf("load %d", k), volts, end-r*i*(at*(n-at)/2+0.125), exact)
	}
}

// TestTwistedRingLightsNothing joins the plus rail of one end to the return of the other: every load lies between rails that fall
// towards each other from ±E, and by symmetry those of the middle see nothing.
func TestTwistedRingLightsNothing(t *testing.T) {
	const n = 51
	shape := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}, Chains: []circuit.Chain{{APlus: 0, AReturn: 1, BPlus: 1, BReturn: 0, Loads: n}}}
	p := plan(t, shape)
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 1e-3, Limit: 100})
	v.SetRails(0, circuit.Rails{Plus: 0.02, Return: 0.02, Law: bow(0.01)})
	x, _ := solve(t, p, v, nil)
	near(t, "the middle", x.LoadVolts(0)[n/2], 0, exact)
	meetsFullNodes(t, shape, v, x)
}

// TestPlanWithoutChains solves a bridge of five resistors: node voltages by hand, from the two node equations.
func TestPlanWithoutChains(t *testing.T) {
	p := plan(t, circuit.Shape{Nodes: 4, Wires: []circuit.Pair{{A: 0, B: 2}, {A: 2, B: 1}, {A: 0, B: 3}, {A: 3, B: 1}, {A: 2, B: 3}}, Sources: []circuit.Pair{{A: 0, B: 1}}})
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 10, R: 1e-5, Limit: 20})
	for i, ohms := range []float64{1, 2, 3, 4, 5} {
		v.SetWire(i, circuit.Resistor(ohms))
	}
	x, _ := solve(t, p, v, nil)
	// (1 + ½ + ⅕)·a − ⅕·b = e and −⅕·a + (⅓ + ¼ + ⅕)·b = e/3, with e at the supply.
	const a11, a12, a22 = 1 + 0.5 + 0.2, -0.2, 1.0/3 + 0.25 + 0.2
	e, det := x.Volts(0), a11*a22-a12*a12
	near(t, "left", x.Volts(2), (e*a22-e/3*a12)/det, exact)
	near(t, "right", x.Volts(3), (a11*e/3-a12*e)/det, exact)
	amps := (e - x.Volts(2)) + (e-x.Volts(3))/3
	near(t, "supply", e, 10-1e-5*amps, exact)
}

// TestThousandParallelWires lays a thousand wires of 1 to 1,000 Ω side by side: conductances add.
func TestThousandParallelWires(t *testing.T) {
	s := circuit.Shape{Nodes: 2, Sources: []circuit.Pair{{A: 0, B: 1}}}
	for range 1000 {
		s.Wires = append(s.Wires, circuit.Pair{A: 0, B: 1})
	}
	p := plan(t, s)
	v := p.NewValues()
	v.SetSource(0, circuit.Source{E: 5, R: 0.01, Limit: 100})
	sum := 0.0
	for i := range s.Wires {
		v.SetWire(i, circuit.Resistor(float64(i+1)))
		sum += 1 / float64(i+1)
	}
	x, _ := solve(t, p, v, nil)
	near(t, "amperes", x.SourceAmps(0), 5/(0.01+1/sum), exact)
	near(t, "one of them", x.WireAmps(499), x.Volts(0)/500, exact)
}

// TestDarkLoadsDrawNothing lights no load of random networks with one supply and a resistor across the far end of every run: each
// chain is then copper only, so the network with two resistors in its place is the measure.
func TestDarkLoadsDrawNothing(t *testing.T) {
	random := rand.New(rand.NewSource(34))
	lit := 0
	for range 300 {
		shape, set := randomNetwork(random)
		old := plan(t, shape).NewValues()
		set(old)
		wires := len(shape.Wires)
		for _, c := range shape.Chains {
			shape.Wires = append(shape.Wires, circuit.Pair{A: c.BPlus, B: c.BReturn})
		}
		copper := circuit.Shape{Nodes: shape.Nodes, Wires: append([]circuit.Pair(nil), shape.Wires...), Sources: shape.Sources}
		for _, c := range shape.Chains {
			copper.Wires = append(copper.Wires, circuit.Pair{A: c.APlus, B: c.BPlus}, circuit.Pair{A: c.AReturn, B: c.BReturn})
		}
		p, q := plan(t, shape), plan(t, copper)
		v, w := p.NewValues(), q.NewValues()
		for _, to := range []*circuit.Values{v, w} {
			to.SetSource(0, old.Source(0))
			for i := range shape.Wires {
				if to.SetWire(i, circuit.Resistor(5)); i < wires {
					to.SetWire(i, old.Wire(i))
				}
			}
		}
		for i, c := range shape.Chains {
			r, ohms := old.Rails(i), 0.0
			for _, j := range r.Joints {
				ohms += j.Loop
			}
			ohms += float64(c.Loads) * (r.Plus + r.Return)
			share := r.Plus / (r.Plus + r.Return)
			w.SetWire(len(shape.Wires)+2*i, circuit.Resistor(ohms*share))
			w.SetWire(len(shape.Wires)+2*i+1, circuit.Resistor(ohms*(1-share)))
			r.Law = nil
			v.SetRails(i, r)
		}
		x, _ := solve(t, p, v, nil)
		y, _ := solve(t, q, w, nil)
		near(t, "supply", x.SourceAmps(0), y.SourceAmps(0), exact*circuit.Short/1e3)
		if x.SourceAmps(0) > 0.1 {
			lit++
		}
		for i, c := range shape.Chains {
			dark := make([]float64, c.Loads)
			if x.LoadAmps(i, dark); dark[0] != 0 {
				t.Errorf("a dark load draws %g A", dark[0])
			}
			near(t, "volts of end A", x.Across(c.APlus, c.AReturn), y.Across(c.APlus, c.AReturn), exact)
			near(t, "volts of end B", x.Across(c.BPlus, c.BReturn), y.Across(c.BPlus, c.BReturn), exact)
		}
	}
	if lit < 100 {
		t.Errorf("current flows in %d networks only", lit)
	}
}
