package network

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"farend/circuit"
	"farend/internal/spice"
	"farend/parts"
	"farend/scheme"
)

// What the operating point may differ from ngspice's: DESIGN's proof of the main job.
const (
	voltsApart = 1e-6
	ampsApart  = 1e-5
)

func readScheme(t testing.TB, name string, source []byte) *scheme.Scheme {
	t.Helper()
	s, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatalf("%v\n%s", mistakes, source)
	}
	return s
}

// compareAll solves every case of a scheme and compares every slice of it with ngspice. It returns the largest
// differences.
func compareAll(t *testing.T, s *scheme.Scheme) (volts, amps float64) {
	t.Helper()
	n, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range n.States() {
		solution := n.Solve(context.Background(), circuit.NewWorker(), c)
		if solution.Outcome != circuit.Converged {
			t.Errorf("%s: outcome %v, residual %g A", c.Name, solution.Outcome, solution.Residual)
		}
		for k := range solution.Slices() {
			v, i, ok := compare(t, n, solution, k)
			if !ok {
				t.Errorf("%s slice %d: ngspice finds no operating point", c.Name, k)
			}
			volts, amps = max(volts, v), max(amps, i)
		}
	}
	return volts, amps
}

// patience is how long ngspice may take over one deck; those it can do take under two seconds.
const patience = 15 * time.Second

// solveElsewhere is ngspice's answer to one slice, nil if it has none. Copper is in its own law at first, and at the solved
// resistances where ngspice cannot do it so.
func solveElsewhere(t *testing.T, n *Network, s *Solution, slice int) map[string]float64 {
	t.Helper()
	for _, solved := range []bool{false, true} {
		var text bytes.Buffer
		if err := n.netlist(&text, s, slice, solved); err != nil {
			t.Fatal(err)
		}
		if got, _ := spice.Run(t, text.String(), patience); got != nil {
			return got
		}
	}
	return nil
}

// compare holds one slice of a solution against ngspice: every node, every pixel, every current. Pieces of copper that hang on
// pixels alone have no potential to speak of (see deck.head); their pixels must be dark to within a millivolt.
func compare(t *testing.T, n *Network, s *Solution, slice int) (volts, amps float64, ok bool) {
	t.Helper()
	if !slices.ContainsFunc(n.allNodes(), s.points[slice].Live) {
		return 0, 0, true
	}
	got := solveElsewhere(t, n, s, slice)
	if got == nil {
		return 0, 0, false
	}
	p := s.points[slice]
	check := func(what string, ours, theirs, within float64, worst *float64) {
		apart := math.Abs(ours - theirs)
		if !(apart <= within) {
			t.Errorf("%s slice %d %s: %.12g here, %.12g in ngspice", s.Case.Name, slice, what, ours, theirs)
		}
		*worst = max(*worst, apart)
	}
	at := func(name string) float64 {
		if name == "0" {
			return 0
		}
		v, ok := got["v("+name+")"]
		if !ok {
			t.Errorf("ngspice has no node %s", name)
		}
		return v
	}
	d := &deck{n: n, s: s, slice: slice, point: p, values: s.values[slice]}
	shape := n.Plan.Shape()
	for i, c := range shape.Chains {
		if !p.Live(c.APlus) {
			continue
		}
		within, worst := voltsApart, &volts
		if d.adrift(c.APlus) || d.adrift(c.AReturn) {
			within, worst = 1e-3, new(float64)
		}
		for k, v := range p.LoadVolts(i) {
			check(fmt.Sprintf("chain %d pixel %d", i, k), v, at(fmt.Sprintf("p%d_%d", i, k))-at(fmt.Sprintf("m%d_%d", i, k)), within, worst)
		}
	}
	for k, name := range n.nodeNames {
		if p.Live(k) && !d.adrift(k) {
			check(name, p.Volts(k), at(d.node(k)), voltsApart, &volts)
		}
	}
	for i, pair := range shape.Wires {
		if !p.Live(pair.A) {
			continue
		}
		theirs, sensed := got[fmt.Sprintf("i(vs%d)", i)]
		if !sensed { // a plain resistance, or a law written at its solved resistance
			w := s.values[slice].Wire(i)
			ohms := 1 / w.G
			if w.Law != nil {
				ohms = d.solved(i, w)
			}
			theirs = (at(d.node(pair.A)) - at(d.node(pair.B))) / ohms
		}
		check(n.elements[i].name, p.WireAmps(i), theirs, ampsApart, &amps)
	}
	for _, t := range n.supplies {
		if theirs, ok := got[fmt.Sprintf("i(vt%d)", t.source)]; ok { // not there where its current is given
			check(t.id, p.SourceAmps(t.source), -theirs, ampsApart, &amps)
		}
	}
	return volts, amps, true
}

func TestExamplesAgainstSpice(t *testing.T) {
	spice.Need(t)
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	byHand, _ := filepath.Glob("testdata/decks/*.scheme.yaml") // one of them at its current limit
	if files = append(files, byHand...); len(files) < 8 {
		t.Fatalf("only %d schemes", len(files))
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			t.Parallel()
			source, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			v, a := compareAll(t, readScheme(t, file, source))
			t.Logf("largest difference %.3g V, %.3g A", v, a)
		})
	}
}
