package network

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
			v, i := compare(t, n, solution, k)
			volts, amps = max(volts, v), max(amps, i)
		}
	}
	return volts, amps
}

func compare(t *testing.T, n *Network, s *Solution, slice int) (volts, amps float64) {
	t.Helper()
	var deck bytes.Buffer
	if err := n.Netlist(&deck, s, slice); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(deck.String(), "\nR") {
		return 0, 0 // nothing alive
	}
	got := spice.Run(t, deck.String())
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
	d := &deckNames{p}
	shape := n.Plan.Shape()
	for i, c := range shape.Chains {
		if !p.Live(c.APlus) {
			continue
		}
		for k, v := range p.LoadVolts(i) {
			check(fmt.Sprintf("chain %d pixel %d", i, k), v, at(fmt.Sprintf("p%d_%d", i, k))-at(fmt.Sprintf("m%d_%d", i, k)), voltsApart, &volts)
		}
	}
	for k, name := range n.nodeNames {
		if p.Live(k) {
			check(name, p.Volts(k), at(d.node(k)), voltsApart, &volts)
		}
	}
	for i, pair := range shape.Wires {
		if !p.Live(pair.A) {
			continue
		}
		theirs, sensed := got[fmt.Sprintf("i(vs%d)", i)]
		if !sensed {
			theirs = s.values[slice].Wire(i).G * (at(d.node(pair.A)) - at(d.node(pair.B)))
		}
		check(n.elements[i].name, p.WireAmps(i), theirs, ampsApart, &amps)
	}
	for _, t := range n.supplies {
		if p.Live(t.at.plus) {
			check(t.id, p.SourceAmps(t.source), -got[fmt.Sprintf("i(vt%d)", t.source)], ampsApart, &amps)
		}
	}
	return volts, amps
}

type deckNames struct{ p *circuit.Point }

func (d *deckNames) node(k int) string { return (&deck{point: d.p}).node(k) }

func TestExamplesAgainstSpice(t *testing.T) {
	spice.Need(t)
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	if len(files) < 3 {
		t.Fatalf("only %d examples", len(files))
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
