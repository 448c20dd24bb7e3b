package network_test

import (
	"context"
	"math"
	"os"
	"testing"

	"farend/circuit"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// balance is the current in amperes that a node may lack: rounding of 24 V potentials (3.6e-15 V) at the 1e5 S of a short,
// at several elements.
const balance = 1e-8

func readScheme(t testing.TB, name string, source []byte) *scheme.Scheme {
	t.Helper()
	s, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatalf("%v\n%s", mistakes, source)
	}
	return s
}

func readFile(t testing.TB, path string) *scheme.Scheme {
	t.Helper()
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return readScheme(t, path, source)
}

func layOut(t testing.TB, s *scheme.Scheme) *network.Network {
	t.Helper()
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// solved is the operating point of a case, found and in balance.
func solved(t testing.TB, n *network.Network, c network.Case) *network.Solution {
	t.Helper()
	s := n.Solve(context.Background(), circuit.NewWorker(), c)
	found(t, n, s)
	return s
}

// found checks that a case is solved and in balance.
func found(t testing.TB, n *network.Network, s *network.Solution) {
	t.Helper()
	if s.Outcome != circuit.Converged {
		t.Errorf("%s: outcome %v, residual %g A", s.Case.Name, s.Outcome, s.Residual)
	}
	for k := range s.Slices() {
		balanced(t, n, s, k)
	}
}

// balanced checks what holds in every network: Kirchhoff's current law at every node and pixel, as much power out of the
// supplies as into pixels and copper (Tellegen), and no pixel above the highest set point plus the 40 widths of its law
// by which an idle supply may float.
func balanced(t testing.TB, n *network.Network, s *network.Solution, slice int) {
	t.Helper()
	p, v, shape := s.Point(slice), s.Values(slice), n.Plan.Shape()
	lack := make([]float64, shape.Nodes)
	given, taken, highest := 0.0, 0.0, 0.0
	for i, pair := range shape.Sources {
		amps := p.SourceAmps(i)
		lack[pair.A] -= amps
		lack[pair.B] += amps
		given += amps * p.SourceVolts(i)
		highest = max(highest, v.Source(i).E+40*0.001*max(v.Source(i).R, 1e-5)*v.Source(i).Limit)
	}
	for i, pair := range shape.Wires {
		amps := p.WireAmps(i)
		lack[pair.A] += amps
		lack[pair.B] -= amps
		taken += amps * p.Across(pair.A, pair.B)
	}
	for i, c := range shape.Chains {
		taken += chainBalanced(t, p, v.Rails(i), c, i, lack)
		for k, volts := range p.LoadVolts(i) {
			if volts > highest+1e-9 {
				t.Errorf("%s: pixel %d of chain %d stands at %g V, above every supply", s.Case.Name, k, i, volts)
			}
		}
	}
	for k, amps := range lack {
		if !(math.Abs(amps) <= balance) {
			t.Errorf("%s: %s lacks %g A", s.Case.Name, n.NodeName(k), amps)
		}
	}
	// A node's rounding in amperes times its potential: relative to the power, and for the smallest networks on its own.
	if !(math.Abs(given-taken) <= 1e-9*math.Abs(given)+24*balance) {
		t.Errorf("%s: supplies give %.12g W, pixels and copper take %.12g W", s.Case.Name, given, taken)
	}
}

// chainBalanced walks the rails of a stretch by their potentials alone, adds what they take from the nodes at its ends to
// lack, and returns the power of its pixels and copper.
func chainBalanced(t testing.TB, p *circuit.Point, r circuit.Rails, c circuit.Chain, i int, lack []float64) float64 {
	t.Helper()
	plus, minus, amps := make([]float64, c.Loads), make([]float64, c.Loads), make([]float64, c.Loads)
	p.Rails(i, plus, minus)
	p.LoadAmps(i, amps)
	share := r.Plus / (r.Plus + r.Return)
	power, inPlus, inMinus := 0.0, 0.0, 0.0
	up, low := p.Volts(c.APlus), p.Volts(c.AReturn)
	for g := 0; g <= c.Loads; g++ {
		nextUp, nextLow, pitch, joint := p.Volts(c.BPlus), p.Volts(c.BReturn), 1.0, 0.0
		if g < c.Loads {
			nextUp, nextLow = plus[g], minus[g]
		}
		if g == 0 || g == c.Loads {
			pitch = 0.5
		}
		for _, j := range r.Joints {
			if j.Gap == g {
				joint += j.Loop
			}
		}
		outPlus := (up - nextUp) / (pitch*r.Plus + joint*share)
		outMinus := (low - nextLow) / (pitch*r.Return + joint*(1-share))
		power += outPlus*(up-nextUp) + outMinus*(low-nextLow)
		if g == 0 {
			lack[c.APlus] += outPlus
			lack[c.AReturn] += outMinus
		} else {
			pixelBalanced(t, i, g-1, inPlus-outPlus-amps[g-1], inMinus-outMinus+amps[g-1])
			power += amps[g-1] * (plus[g-1] - minus[g-1])
		}
		up, low, inPlus, inMinus = nextUp, nextLow, outPlus, outMinus
	}
	lack[c.BPlus] -= inPlus
	lack[c.BReturn] -= inMinus
	return power
}

func pixelBalanced(t testing.TB, chain, k int, plus, minus float64) {
	t.Helper()
	if !(max(math.Abs(plus), math.Abs(minus)) <= balance) {
		t.Errorf("pixel %d of chain %d lacks %g A in its positive rail, %g A in its return", k, chain, plus, minus)
	}
}
