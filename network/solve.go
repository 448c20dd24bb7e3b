package network

import (
	"context"
	"math"

	"farend/circuit"
)

// A Solution is the operating point of a case, one for each slice of its cycle.
type Solution struct {
	Case     Case
	Steps    int
	Residual float64 // amperes
	Outcome  circuit.Outcome
	Followed bool // found from the solution of the sound case

	// Start is where the case ends when all supplies are switched on at 0 V, where a supply that folds back is stuck below
	// the point it would keep once running; nil where it comes to the same.
	Start *Solution

	cycle   []slice
	points  []*circuit.Point
	values  []*circuit.Values
	rms     []float64 // heating current of every wire over the cycle; nil for a case of one slice
	off     []bool    // supplies that have shut down for good
	pulsing []bool    // supplies that switch themselves off and on
	rising  bool      // limits that fold back rise from those into a short
}

// Solve finds the operating point of a case. Where the context ends first, the outcome is Interrupted and there is
// nothing to read.
func (n *Network) Solve(ctx context.Context, w *circuit.Worker, c Case) *Solution {
	s := n.settle(ctx, w, c, false)
	if s.Outcome != circuit.Converged || !n.foldsBack(c) {
		return s
	}
	start := n.settle(ctx, w, c, true)
	s.Steps += start.Steps
	s.Residual = max(s.Residual, start.Residual)
	s.Outcome = start.Outcome
	if s.Outcome == circuit.Converged && n.stuck(s, start) {
		s.Start = start
	}
	return s
}

// solve finds the points of all slices of the cycle as it is.
func (n *Network) solve(ctx context.Context, w *circuit.Worker, s *Solution) {
	s.points = make([]*circuit.Point, len(s.cycle))
	s.values = make([]*circuit.Values, len(s.cycle))
	s.rms, s.Residual = nil, 0
	if len(s.cycle) == 1 {
		n.solveCycle(ctx, w, s)
		return
	}
	n.solveHeat(ctx, w, s)
}

func (n *Network) solveCycle(ctx context.Context, w *circuit.Worker, s *Solution) {
	for k := range s.cycle {
		if s.values[k] == nil {
			s.values[k] = n.values(s.Case, s.cycle[k], s.rms)
			n.switchOff(s, k)
		} else { // another round of heating: only copper has changed its temperature
			s.values[k] = s.values[k].Fork()
			n.setWires(s.values[k], s.Case, s.rms)
		}
		status := n.fold(ctx, w, s, k)
		s.Residual = max(s.Residual, status.Residual)
		s.Outcome = max(s.Outcome, status.Outcome)
		if status.Outcome == circuit.Interrupted {
			return
		}
	}
}

// inFull is an accuracy in volts at which the kernel gives every digit also where it starts from a point that is near: what is
// repeated until nothing changes, temperatures and limits that fold back, must not stop at what a microvolt leaves open.
const inFull = 1e-10

// point solves one slice with its values as they are, from where it stood.
func (n *Network) point(ctx context.Context, w *circuit.Worker, s *Solution, k int) circuit.Status {
	point, status := w.Solve(ctx, n.Plan, s.values[k], s.points[k], &circuit.Options{Accuracy: inFull})
	s.points[k] = point
	s.Steps += status.Steps
	return status
}

// solveHeat solves the slices of a cycle with copper at the temperature of the whole cycle: resistances follow from the
// rms current, which follows from the slices, until neither changes. A core near the end of its law may swing between warm
// and cold with little damping of its own: if it has not settled after some rounds, it goes half the way, then a quarter, and so on.
func (n *Network) solveHeat(ctx context.Context, w *circuit.Worker, s *Solution) {
	const rounds, settled = 200, 20
	const enough = 1e-11 // the change in rms current, relative to the largest, that 1 µV needs with room to spare
	const idle = 1e-9    // a largest current, in amperes, that warms nothing: every supply has shut down, and the rest is rounding
	s.rms = make([]float64, len(n.elements))
	fixed := n.Scheme.Site.Conductors.Fixed != nil
	for round := 0; ; round++ {
		s.Residual = 0
		n.solveCycle(ctx, w, s)
		if s.Outcome != circuit.Converged || fixed {
			return
		}
		step := 1.0
		if round >= settled {
			step = math.Ldexp(0.5, (settled-round)/45)
		}
		change, largest := s.heat(step)
		if change <= enough*largest || largest < idle {
			return
		}
		if round == rounds {
			s.Outcome = circuit.NotFound
			return
		}
	}
}

// heat moves the heating currents to those of the points, by a share of the way, and returns the largest distance and the
// largest current.
func (s *Solution) heat(step float64) (change, largest float64) {
	for i := range s.rms {
		sum := 0.0
		for k, part := range s.cycle {
			amps := s.points[k].WireAmps(i)
			sum += part.share * amps * amps
		}
		now := math.Sqrt(sum)
		change = max(change, math.Abs(now-s.rms[i]))
		largest = max(largest, now)
		s.rms[i] = now + (1-step)*(s.rms[i]-now)
	}
	return change, largest
}

// A Flow is a current over the cycle. In a case of one slice the three are equal in size.
type Flow struct {
	Mean float64
	RMS  float64
	Peak float64 // largest size
}

// flow gathers one current over the cycle.
func (s *Solution) flow(amps func(*circuit.Point) float64) Flow {
	var f Flow
	for k, part := range s.cycle {
		a := amps(s.points[k])
		f.Mean += part.share * a
		f.RMS += part.share * a * a
		f.Peak = max(f.Peak, math.Abs(a))
	}
	f.RMS = math.Sqrt(f.RMS)
	if len(s.cycle) == 1 {
		f.RMS = math.Abs(f.Mean)
	}
	return f
}

// mean is a quantity averaged over the cycle.
func (s *Solution) mean(of func(*circuit.Point) float64) float64 {
	sum := 0.0
	for k, part := range s.cycle {
		sum += part.share * of(s.points[k])
	}
	return sum
}
