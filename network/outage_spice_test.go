package network_test

import (
	"context"
	"math"
	"math/rand"
	"path/filepath"
	"testing"

	"farend/circuit"
	"farend/internal/schemetest"
	"farend/internal/spice"
	"farend/network"
)

// Opened networks against ngspice: with one thing out, and in half of them with a fuse or two that have opened since, in the smaller examples and in random
// schemes; in states, in the dark and with the cap failed, in both corners and in none. Every current is held to 10 µA and every voltage to 1 µV, which is
// a thousandth and less of any current above 10 mA; and what is followed from the sound network is held to what is solved from cold.
func TestOutagesAgainstSpice(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	spice.Need(t)
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	r := rand.New(rand.NewSource(11))
	w := circuit.NewWorker()
	f := newProof()
	asked := 0
	opens := func(n *network.Network, most int) {
		b := f.batch()
		outs := n.Outages()
		for range most {
			sound := n.States()[r.Intn(len(n.States()))]
			if sound.Kind != network.State {
				sound = sound.Taken([]network.Corner{network.Opens, network.Through, ""}[r.Intn(3)])
			}
			c := sound.With(outs[r.Intn(len(outs))])
			for range r.Intn(3) {
				c = c.Past(outs[r.Intn(len(outs))])
			}
			s := n.Solve(context.Background(), w, c)
			if s.Outcome == circuit.NotFound && stillAll(n, s) {
				continue
			}
			if s.Outcome != circuit.Converged {
				t.Errorf("%s past %q: outcome %v, residual %g A", c.Name, c.Opened, s.Outcome, s.Residual)
				continue
			}
			before := len(b.questions)
			b.add(t, n, s, r.Intn(s.Slices()))
			asked += len(b.questions) - before
			if from := n.Solve(context.Background(), w, sound); from.Outcome == circuit.Converged && s.Slices() == 1 {
				apart(t, n, c, n.SolveFrom(context.Background(), circuit.NewWorker(), c, from), s)
			}
		}
		b.compare(t)
	}
	for _, file := range files {
		if s := readFile(t, file); pixels(s) <= 1000 { // ngspice takes half a minute for a deck of more; faults ask it some
			opens(layOut(t, s), 10)
		}
	}
	for range 20 {
		opens(layOut(t, readScheme(t, "random", []byte(schemetest.Text(schemetest.Random(r), schemetest.AsWritten)))), 6)
	}
	f.report(t)
	if asked < 100 {
		t.Errorf("only %d opened networks were compared", asked)
	}
}

// What comes to the same leaves the same currents in all that is not out itself, solved from cold.
func TestTwinsLeaveTheSameCurrents(t *testing.T) {
	r := rand.New(rand.NewSource(12))
	w := circuit.NewWorker()
	pairs := 0
	check := func(n *network.Network, most int) {
		twins := n.Twins()
		if len(twins) != len(n.Outages()) {
			t.Errorf("%d of %d outages have a first", len(twins), len(n.Outages()))
		}
		for _, out := range n.Outages() {
			if twins[out] == out || most == 0 {
				continue
			}
			most--
			for _, in := range []string{"dark", "cap-failed"} {
				sound, _ := n.CaseNamed(in)
				sound = sound.Taken(network.Through)
				a, b := n.Solve(context.Background(), w, sound.With(out)), n.Solve(context.Background(), w, sound.With(twins[out]))
				if a.Outcome != circuit.Converged || b.Outcome != circuit.Converged {
					t.Errorf("%s and %s in %s: %v and %v", out, twins[out], in, a.Outcome, b.Outcome)
					continue
				}
				pairs++
				other := n.Currents(b)
				for i, amps := range n.Currents(a) {
					if math.Abs(float64(amps-other[i])) > 1e-6 {
						t.Errorf("in %s %s carries %v with %s out, and %v with %s out", in, n.Conductors()[i].Name, amps, out, other[i], twins[out])
						break
					}
				}
			}
		}
	}
	files, _ := filepath.Glob("../examples/*.scheme.yaml")
	for _, file := range files {
		if s := readFile(t, file); pixels(s) <= 1000 {
			check(layOut(t, s), 40)
		}
	}
	for range 20 {
		check(layOut(t, readScheme(t, "random", []byte(schemetest.Text(schemetest.Random(r), schemetest.AsWritten)))), 12)
	}
	if pairs < 200 {
		t.Errorf("only %d pairs were compared", pairs)
	}
}

// By hand: the fuse, the plus of a way and the plus core behind it are in series, and so are the returns of the way and of its one cable; the inlet
// and its cable, pole by pole; two cables that share a way are not.
func TestTwinsOfAnExample(t *testing.T) {
	n := layOut(t, readScheme(t, "twins", []byte(`farend: 1
site: {metalwork: isolated}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 20}, E2: {tape: tape/5v-rgb-60, pixels: 20}, E3: {tape: tape/5v-rgb-60, pixels: 20}}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-15A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: E2@start}
  W4: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: E3@start}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A}
states: {full: {}}
`)))
	twins := n.Twins()
	for out, first := range map[string]string{
		"A1.1.fuse": "A1.1.fuse", "A1.1.plus": "A1.1.fuse", "W2.plus": "A1.1.fuse", "W2.return": "A1.1.return", "W2": "W2",
		"W1.fuse": "A1.in.plus", "W1.plus": "A1.in.plus", "W1.return": "A1.in.return", "W1": "W1", "A1": "A1",
		"W3.plus": "W3.plus", "W3.return": "W3.return", "W4.return": "W4.return", "A1.2.return": "A1.2.return", "A1.2.fuse": "A1.2.fuse",
	} {
		if got := twins[out]; got != first {
			t.Errorf("%s comes to the same as %s, want %s", out, got, first)
		}
	}
}
