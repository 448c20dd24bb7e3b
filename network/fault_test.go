package network_test

import (
	"context"
	"math"
	"math/rand"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"farend/circuit"
	"farend/internal/schemetest"
	"farend/internal/spice"
	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// faults lists every fault that may be in a network, bolted and over a resistance.
func faults(n *network.Network) []network.Fault {
	var list []network.Fault
	add := func(f network.Fault) {
		if n.Lay(f) {
			list = append(list, f)
		}
	}
	places := n.Places()
	for i, p := range places {
		add(network.Fault{Kind: network.PolesMeet, At: p.Name})
		add(network.Fault{Kind: network.PolesMeet, At: p.Name, Ohms: 0.1})
		add(network.Fault{Kind: network.ToMetal, At: p.Name})
		add(network.Fault{Kind: network.ToData, At: p.Name})
		add(network.Fault{Kind: network.Bridged, At: p.Name, To: places[(i+5)%len(places)].Name})
	}
	for run := range n.Scheme.Runs {
		add(network.Fault{Kind: network.PoleOpen, At: run})
	}
	slices.SortFunc(list, func(a, b network.Fault) int { return strings.Compare(string(a.Kind)+a.At, string(b.Kind)+b.At) })
	return list
}

// Faulted networks against ngspice: some faults of every kind in every example and in random schemes, dark and with the cap failed,
// in both corners and in none.
func TestFaultsAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	r := rand.New(rand.NewSource(7))
	kinds := map[network.FaultKind]int{}
	f := newProof()
	strike := func(n *network.Network, most int) {
		b := f.batch()
		all := faults(n)
		for range most {
			kind := all[r.Intn(len(all))].Kind
			if r.Intn(2) == 0 {
				kind = []network.FaultKind{network.ToData, network.PoleOpen}[r.Intn(2)]
			}
			of := slices.DeleteFunc(slices.Clone(all), func(f network.Fault) bool { return f.Kind != kind })
			if len(of) == 0 {
				continue
			}
			fault := of[r.Intn(len(of))]
			c, _ := n.CaseNamed([]string{"dark", "cap-failed"}[r.Intn(2)])
			c = c.Struck(fault).Taken([]network.Corner{network.Opens, network.Through, ""}[r.Intn(3)])
			s := n.Solve(context.Background(), circuit.NewWorker(), c)
			if s.Outcome != circuit.Converged {
				t.Errorf("%s: outcome %v, residual %g A", c.Name, s.Outcome, s.Residual)
				continue
			}
			b.add(t, n, s, 0)
			kinds[fault.Kind]++
		}
		b.compare(t)
	}
	reverse := func(n *network.Network) {
		ids := scheme.IDs(n.Scheme.Cables)
		id := ids[r.Intn(len(ids))]
		swapped, ok, err := n.Swapped(id)
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			return
		}
		b := f.batch()
		for _, in := range []string{"dark", "cap-failed"} {
			c, _ := swapped.CaseNamed(in)
			c = c.Struck(network.Fault{Kind: network.Reversed, At: id}).Taken([]network.Corner{network.Opens, network.Through}[r.Intn(2)])
			s := swapped.Solve(context.Background(), circuit.NewWorker(), c)
			if s.Outcome != circuit.Converged {
				t.Errorf("%s: outcome %v, residual %g A", c.Name, s.Outcome, s.Residual)
				continue
			}
			b.add(t, swapped, s, 0)
			kinds[network.Reversed]++
		}
		b.compare(t)
	}
	for _, file := range files {
		s := readFile(t, file)
		most := 12
		if pixels(s) > 1000 { // ngspice takes seconds for each deck
			most = 1
		}
		n := layOut(t, s)
		strike(n, most)
		if pixels(s) <= 1000 {
			reverse(n)
		}
	}
	for range 20 {
		n := layOut(t, readScheme(t, "random", []byte(schemetest.Text(schemetest.Random(r), schemetest.AsWritten))))
		strike(n, 6)
		reverse(n)
	}
	f.report(t)
	t.Logf("%v", kinds)
	for _, kind := range []network.FaultKind{network.PolesMeet, network.ToMetal, network.ToData, network.Bridged, network.PoleOpen, network.Reversed} {
		if kinds[kind] < 3 {
			t.Errorf("only %d faults of kind %s", kinds[kind], kind)
		}
	}
}

// What is followed from the sound network is what a solve from cold finds.
func TestFaultsAreFollowed(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(3))
	followed, all := 0, 0
	w, cold := circuit.NewWorker(), circuit.NewWorker()
	for range 25 {
		n := layOut(t, readScheme(t, "random", []byte(schemetest.Text(schemetest.Random(r), schemetest.AsWritten))))
		list := faults(n)
		for _, in := range []string{"dark", "cap-failed"} {
			for _, side := range []network.Corner{network.Opens, network.Through} {
				base, _ := n.CaseNamed(in)
				base = base.Taken(side)
				sound := n.Solve(context.Background(), w, base)
				for range 8 {
					c := base.Struck(list[r.Intn(len(list))])
					if outs := n.Outages(); r.Intn(2) == 0 {
						c = c.Past(outs[r.Intn(len(outs))])
					}
					a, b := n.SolveFrom(context.Background(), w, c, sound), n.Solve(context.Background(), cold, c)
					if a.Outcome != circuit.Converged || b.Outcome != circuit.Converged {
						t.Fatalf("%s past %s: outcomes %v and %v", c.Name, c.Opened, a.Outcome, b.Outcome)
					}
					all++
					if a.Followed {
						followed++
					}
					apart(t, n, c, a, b)
					glanced(t, n, c, a, n.Glance(context.Background(), w, c, sound))
				}
			}
		}
	}
	t.Logf("%d of %d followed", followed, all)
	if followed < all/3 {
		t.Errorf("only %d of %d are followed", followed, all)
	}
}

// glanced fails where a solution that keeps no more than ends says anything else than one that keeps all.
func glanced(t *testing.T, n *network.Network, c network.Case, whole, glance *network.Solution) {
	t.Helper()
	amps := n.Currents(glance)
	for i, was := range n.Currents(whole) {
		if math.Abs(float64(was-amps[i])) > 1e-9 { // a rail between ends of unlike sign is looked at inside, where loads are found anew
			t.Errorf("%s past %q (%s): a glance sees %v in %s, not %v", c.Name, c.Opened, c.Corner, amps[i], n.Conductors()[i].Name, was)
		}
	}
	for i := range n.Plan.Shape().Chains {
		x, y := whole.Point(0).LoadVolts(i), glance.Point(0).LoadVolts(i)
		for k := range x {
			if math.Abs(x[k]-y[k]) > 1e-9 {
				t.Errorf("%s past %q (%s): load %d of chain %d is %g V off", c.Name, c.Opened, c.Corner, k, i, y[k]-x[k])
				return
			}
		}
	}
}

// apart fails where two solutions of a case, each within a microvolt, differ by more across a wire.
func apart(t *testing.T, n *network.Network, c network.Case, a, b *network.Solution) {
	t.Helper()
	shape := n.Plan.Shape()
	for i, pair := range shape.Wires {
		x, y := a.Point(0), b.Point(0)
		if w := a.Values(0).Wire(i); !x.Live(pair.A) || !y.Live(pair.A) || w.Law == nil && w.G == 0 { // across what is open nothing holds the voltage
			continue
		}
		if d := math.Abs(x.Across(pair.A, pair.B) - y.Across(pair.A, pair.B)); d > 2e-6 {
			t.Errorf("%s past %q (%s), %s: %g V apart", c.Name, c.Opened, c.Corner, n.WireName(i), d)
			return
		}
	}
}

// A supply of 24 V whose limit acts at 21 to 24 A, trimmed to 24.5 V ± 2 %: its limit falls with the set point (supply.At), so that the least that it
// surely gives is 21 A × 24/(24.5 × 1.02); the most does not fall. By hand.
func TestTheLeastOfALimitIsThatOfTheHighestSetPoint(t *testing.T) {
	n := laid(t, `
supplies: {T1: {part: supply/24v-480w-din, volts: 24.5 V}}
boards: {A1: {part: board/four-way-two-port}}
cables: {W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}}
`)
	dark, _ := n.CaseNamed("dark")
	for corner, want := range map[network.Corner]unit.Ampere{network.Opens: 21.0 * 24 / (24.5 * 1.02), network.Through: 24} {
		c := dark.Taken(corner).Struck(network.Fault{Kind: network.PolesMeet, At: "A1.in"})
		got := n.Read(n.Solve(t.Context(), circuit.NewWorker(), c)).Supplies["T1"]
		if math.Abs(float64(got.Limit-want)) > 1e-9 || math.Abs(float64(got.Amps.Mean-want)) > 0.001*float64(want) {
			t.Errorf("%s: it gives %v at a limit of %v, not %v", corner, got.Amps.Mean, got.Limit, want)
		}
	}
}
