package circuit_test

import (
	"context"
	"math"
	"testing"

	"farend/circuit"
)

// A tape turns bytes into choices: each takes the next byte, and 0 when there are no more.
type tape struct{ bytes []byte }

func (t *tape) next() byte {
	if len(t.bytes) == 0 {
		return 0
	}
	b := t.bytes[0]
	t.bytes = t.bytes[1:]
	return b
}

// upTo is a whole number below n.
func (t *tape) upTo(n int) int { return int(t.next()) % n }

// scale is a number from low to high, evenly in orders of magnitude.
func (t *tape) scale(low, high float64) float64 {
	return low * math.Pow(high/low, float64(t.next())/255)
}

// shape is up to eight nodes with three sources, six wires and three chains between any of them.
func (t *tape) shape() circuit.Shape {
	s := circuit.Shape{Nodes: 2 + t.upTo(7)}
	two := func() circuit.Pair {
		a := t.upTo(s.Nodes)
		return circuit.Pair{A: a, B: (a + 1 + t.upTo(s.Nodes-1)) % s.Nodes}
	}
	for range 1 + t.upTo(3) {
		s.Sources = append(s.Sources, two())
	}
	for range t.upTo(10) {
		s.Wires = append(s.Wires, circuit.Pair{A: t.upTo(s.Nodes), B: t.upTo(s.Nodes)})
	}
	for range t.upTo(4) {
		n := func() int { return t.upTo(s.Nodes) }
		s.Chains = append(s.Chains, circuit.Chain{APlus: n(), AReturn: n(), BPlus: n(), BReturn: n(), Loads: 1 + t.upTo(20)})
	}
	return s
}

func (t *tape) law() circuit.Law {
	switch t.upTo(5) {
	case 0:
		return nil
	case 1:
		return linear(t.scale(1e-4, 10))
	case 2:
		return bow(t.scale(1e-4, 10))
	default:
		lo := t.scale(0.5, 10)
		return knee{t.scale(1e-4, 1), lo, lo * (1.05 + float64(t.next())/255), t.scale(0.01, 0.2)}
	}
}

func (t *tape) wire() circuit.Wire {
	switch t.upTo(6) {
	case 0:
		return circuit.Wire{}
	case 1:
		return circuit.Wire{G: circuit.Short}
	case 2:
		return circuit.Wire{Law: t.law()}
	default:
		return circuit.Resistor(t.scale(1e-5, 1e6))
	}
}

func (t *tape) source() circuit.Source {
	return circuit.Source{E: t.scale(1, 48), R: t.scale(1e-5, 1), Limit: t.scale(0.01, 500), Off: t.upTo(8) == 1}
}

func (t *tape) rails(loads int) circuit.Rails {
	r := circuit.Rails{Plus: t.scale(1e-4, 10), Return: t.scale(1e-4, 10), Law: t.law()}
	for range t.upTo(3) {
		r.Joints = append(r.Joints, circuit.Joint{Gap: t.upTo(loads + 1), Loop: t.scale(1e-5, 1e3)})
	}
	return r
}

// bridge is between any two places; taps of one chain are in one gap.
func (t *tape) bridge(p *circuit.Plan) circuit.Bridge {
	s := p.Shape()
	z := circuit.Bridge{A: t.upTo(s.Nodes), B: t.upTo(s.Nodes)}
	if len(s.Chains) > 0 {
		i := t.upTo(len(s.Chains))
		plus, minus := p.Tap(i, t.upTo(s.Chains[i].Loads+1))
		switch t.upTo(5) {
		case 1:
			z.A = plus
		case 2:
			z.B = minus
		case 3:
			z.A, z.B = plus, minus
		case 4:
			z.A, z.B = minus, plus
		}
	}
	switch t.upTo(4) {
	case 1:
		z.G = circuit.Short
	case 2:
		z.Amps = t.scale(1e-3, 100)
	default:
		z.G = 1 / t.scale(1e-5, 1e6)
	}
	return z
}

func (t *tape) values(p *circuit.Plan) *circuit.Values {
	v, s := p.NewValues(), p.Shape()
	for i := range s.Sources {
		v.SetSource(i, t.source())
	}
	for i := range s.Wires {
		v.SetWire(i, t.wire())
	}
	for i, c := range s.Chains {
		v.SetRails(i, t.rails(c.Loads))
	}
	if t.upTo(3) == 1 {
		v.SetBridge(t.bridge(p))
	}
	return v
}

// edit changes one or two values.
func (t *tape) edit(p *circuit.Plan, v *circuit.Values) *circuit.Values {
	v, s := v.Fork(), p.Shape()
	for range 1 + t.upTo(2) {
		switch kind := t.upTo(4); {
		case kind == 0 && len(s.Wires) > 0:
			v.SetWire(t.upTo(len(s.Wires)), t.wire())
		case kind == 1 && len(s.Chains) > 0:
			i := t.upTo(len(s.Chains))
			v.SetRails(i, t.rails(s.Chains[i].Loads))
		case kind == 2:
			v.SetBridge(t.bridge(p))
		default:
			v.SetSource(t.upTo(len(s.Sources)), t.source())
		}
	}
	return v
}

// FuzzNetwork makes a small network of bytes, solves it from cold, then edits it a few times, and solves each edit both from the
// point before and in full. Nothing may panic; every number must be one; currents must balance wherever a point was found, and one
// must be found unless a bridge asks for a current; following must end within the 1 µV it promises, or at a point that a full
// solve starting there confirms, or where supplies at and above their set voltage float.
func FuzzNetwork(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte("one supply and its run"))
	f.Add([]byte{6, 1, 0, 1, 2, 3, 8, 0, 2, 1, 3, 2, 4, 3, 5, 0, 1, 4, 2, 5, 2, 2, 3, 4, 5, 19, 0, 1, 6, 7, 11, 90, 20, 80, 0, 200, 100, 30, 5, 4, 100, 3, 120, 4, 90, 5, 60, 3, 100})
	f.Fuzz(func(t *testing.T, bytes []byte) {
		if len(bytes) > 400 {
			return
		}
		tape := &tape{bytes}
		p := plan(t, tape.shape())
		v := tape.values(p)
		worker, full := circuit.NewWorker(), circuit.NewWorker()
		var from *circuit.Point
		x, status := worker.Solve(context.Background(), p, v, nil, nil)
		answered(t, p, v, x, status)
		for range 4 {
			if v.Bridge().Amps == 0 { // a current may have pushed a place that megohms hold kilovolts away, too far to start from
				from = x
			}
			v = tape.edit(p, v)
			x, status = worker.Solve(context.Background(), p, v, from, nil)
			answered(t, p, v, x, status)
			y, inFull := full.Solve(context.Background(), p, v, nil, nil)
			answered(t, p, v, y, inFull)
			if status.Followed && status.Outcome == circuit.Converged && inFull.Outcome == circuit.Converged {
				agrees(t, p, v, x, y)
			}
		}
	})
}

// answered checks that every number of an answer is one, and that a point that was found balances.
func answered(t *testing.T, p *circuit.Plan, v *circuit.Values, x *circuit.Point, status circuit.Status) {
	t.Helper()
	shape := p.Shape()
	numbers := []float64{status.Residual, x.BridgeAmps()}
	for n := range shape.Nodes {
		numbers = append(numbers, x.Volts(n))
	}
	for i := range shape.Sources {
		numbers = append(numbers, x.SourceAmps(i))
	}
	for i, c := range shape.Chains {
		e, amps := x.Ends(i), make([]float64, c.Loads)
		x.LoadAmps(i, amps)
		numbers = append(numbers, e.APlus, e.AReturn, e.BPlus, e.BReturn, x.RailPeak(i))
		numbers = append(numbers, x.LoadVolts(i)...)
		numbers = append(numbers, amps...)
	}
	for _, n := range numbers {
		if math.IsNaN(n) || math.IsInf(n, 0) {
			t.Fatalf("%+v leaves %v", status, numbers)
		}
	}
	if status.Outcome != circuit.Converged {
		if v.Bridge().Amps == 0 {
			t.Fatalf("outcome %v after %d steps, residual %g A", status.Outcome, status.Steps, status.Residual)
		}
		return
	}
	if !status.Followed && v.Bridge() == (circuit.Bridge{}) {
		toRounding(t, 0, p, v, x)
	}
}

// agrees compares a followed point with the full solve of the same values, in all that is held: what the 2 nA of a balanced node
// may move by more than following promises is one of many answers.
func agrees(t *testing.T, p *circuit.Plan, v *circuit.Values, x, y *circuit.Point) {
	t.Helper()
	apart := firmDistance(p, v, x, y)
	if apart <= certified || apart < tails(p, v, x) {
		return
	}
	z, _ := circuit.NewWorker().Solve(context.Background(), p, v, x, &circuit.Options{Accuracy: inFull})
	if again := firmDistance(p, v, x, z); again > certified && again >= tails(p, v, x) {
		t.Fatalf("followed to %g V from the full solve, %g V from one that starts there", apart, again)
	}
}

// tails is how far supplies in the corner of their law at the set voltage, or in its tail above, may float: the tail is 40 widths
// long, and the line by which following certifies a supply there is steeper than what lies ahead of it.
func tails(p *circuit.Plan, v *circuit.Values, x *circuit.Point) (volts float64) {
	for i := range p.Shape().Sources {
		s := v.Source(i)
		if tail := 40 * 0.001 * max(s.R, 1e-5) * s.Limit; !s.Off && x.SourceVolts(i) > s.E-tail {
			volts += tail
		}
	}
	return volts
}

// firmDistance is the largest difference between two points over the nodes, and the loads of chains between nodes, that are held
// in both.
func firmDistance(p *circuit.Plan, v *circuit.Values, x, y *circuit.Point) (worst float64) {
	loose := circuit.NewWorker().Loose(x, balance, certified)
	for n, also := range circuit.NewWorker().Loose(y, balance, certified) {
		loose[n] = loose[n] || also
		if x.Live(n) != y.Live(n) || x.Datum(n) != y.Datum(n) {
			return math.Inf(1)
		}
		if !loose[n] {
			worst = max(worst, math.Abs(x.Volts(n)-y.Volts(n)))
		}
	}
	for i, c := range p.Shape().Chains {
		if loose[c.APlus] || loose[c.AReturn] || loose[c.BPlus] || loose[c.BReturn] {
			continue
		}
		a, b := x.LoadVolts(i), y.LoadVolts(i)
		for k := range a {
			worst = max(worst, math.Abs(a[k]-b[k]))
		}
	}
	return worst
}
