package network_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"farend/circuit"
	"farend/network"
)

// connected is one resistor-limited pixel on a supply through a cable with connectors, which a second one lengthens.
const connected = `farend: 1
site: {conductors: 20 °C}
supplies: {T1: {part: supply/bench}}
junctions: {X1: {part: junction/bench}}
runs: {E1: {tape: tape/bench, pixels: 1}}
cables:
  W1: {part: cable/bench, length: 2 m, from: T1, to: X1, ENDS1}
  W2: {part: cable/bench, length: 1 m, from: X1, to: E1@start, pole: plus, ENDS2}
  W3: {part: cable/bench, length: 1 m, from: X1, to: E1@start, pole: return}
states: {full: {colour: white}}
parts:
  supply/bench: {title: bench, volts: 12 V, amps: 5 A, watts: 60 W, source_resistance: 10 mΩ, limit: constant-current, limit_at: {low: 50 A, high: 60 A}}
  cable/bench: {title: bench, cores: 2, area: 0.2 mm², r20: 100 mΩ/m, insulation: 70 °C, iz: 10 A}
  junction/bench: {title: bench, amps: 10 A, resistance: 3 mΩ, ways: 3}
  connector/one: {title: bench, amps: 10 A, resistance: 20 mΩ}
  connector/other: {title: bench, amps: 10 A, resistance: 50 mΩ}
  connector/none: {title: bench, amps: 10 A, resistance: 0 Ω}
  tape/bench:
    {title: bench, volts: 12 V, pixels: 1 /m, cut_every: 1, rail: 40 mΩ/m, phase: free, protocol: protocol/single-wire-800k-24,
     channels: {white: {string: 2 Ω, lo: 6 V, soft: 0.05 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.1 V}}
`

// Far above its knee a resistor-limited pixel is a voltage and a resistance, so by Ohm's law
//
//	I = (12 V − 6 V) / (2 Ω + all that is in series)
//
// which is 10 mΩ of the supply, 2 × 200 mΩ of W1 with two contacts of the junction, 100 mΩ each of W2 and W3 with one more contact each, and
// 2 × 20 mΩ of rail to the middle of the pixel; 662 mΩ, and the connectors.
func TestConnectorsAreInSeriesWithThePolesOfTheirCable(t *testing.T) {
	const without, volts, ohms = 0.662, 6.0, 2.0
	for _, c := range []struct {
		name, first, second string
		one, two            float64 // ohms of the connectors in W1 and W2
	}{
		{"none", "", "", 0, 0},
		{"at the beginning of a pair", "ends: {from: connector/one}", "", 2 * 0.020, 0},
		{"at the end of a pair", "ends: {to: connector/other}", "", 2 * 0.050, 0},
		{"at both ends of a pair", "ends: {from: connector/one, to: connector/other}", "", 2 * 0.070, 0},
		{"at the ends of a single pole", "", "ends: {from: connector/one, to: connector/one}", 0, 2 * 0.020},
		{"everywhere", "ends: {from: connector/other, to: connector/other}", "ends: {to: connector/other}", 2 * 0.100, 0.050},
		{"without resistance", "ends: {from: connector/none}", "ends: {from: connector/none}", 0, 0},
		{"that is not chosen", "ends: {from: choose}", "", 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.NewReplacer(", ENDS1", joined(c.first), ", ENDS2", joined(c.second)).Replace(connected)
			n := layOut(t, readScheme(t, "bench", []byte(text)))
			s := solved(t, n, network.Case{Name: "state/full", Kind: network.State, State: "full"})
			r := n.Read(s)
			amps := volts / (ohms + without + c.one + c.two)
			for what, pair := range map[string][2]float64{
				"current of T1":  {float64(r.Supplies["T1"].Amps.Mean), amps},
				"plus of W1":     {float64(r.Cables["W1"].Plus.Mean), amps},
				"return of W1":   {float64(r.Cables["W1"].Return.Mean), amps},
				"drop along W1":  {float64(r.Cables["W1"].Drop), amps * (2*0.203 + c.one)},
				"heat in W1":     {float64(r.Cables["W1"].Watts), amps * amps * (2*0.203 + c.one)},
				"drop along W2":  {float64(r.Cables["W2"].Drop), amps * (0.103 + c.two)},
				"heat in W2":     {float64(r.Cables["W2"].Watts), amps * amps * (0.103 + c.two)},
				"drop along W3":  {float64(r.Cables["W3"].Drop), -amps * 0.103}, // a return: its current is from its end to its beginning
				"volts at pixel": {float64(r.Runs["E1"].VoltsLow), 6 + 2*amps},
			} {
				if !(math.Abs(pair[0]-pair[1]) < 1e-9) {
					t.Errorf("%s: %.12g, want %.12g", what, pair[0], pair[1])
				}
			}
			outagesAreAsWithout(t, n, s)
			namedInDeck(t, n, s, c.first, c.second)
		})
	}
}

func joined(ends string) string {
	if ends == "" {
		return ""
	}
	return ", " + ends
}

// outagesAreAsWithout checks that connectors are nothing that goes out by itself, and that a core that opens takes its current
// with it.
func outagesAreAsWithout(t *testing.T, n *network.Network, s *network.Solution) {
	t.Helper()
	if got, want := strings.Join(n.Outages(), " "), "T1 W1 W1.plus W1.return W2 W2.plus W3 W3.return"; got != want {
		t.Errorf("what may go out: %s, want %s", got, want)
	}
	for _, out := range n.Outages() {
		with := n.SolveFrom(t.Context(), circuit.NewWorker(), s.Case.With(out), s)
		if amps := n.Read(with).Cables["W1"].Plus.Mean; !(math.Abs(float64(amps)) < 1e-9) {
			t.Errorf("without %s, W1 still carries %v", out, amps)
		}
	}
}

// namedInDeck checks that the deck has a resistor for each contact, by name.
func namedInDeck(t *testing.T, n *network.Network, s *network.Solution, first, second string) {
	t.Helper()
	var deck bytes.Buffer
	if err := n.Netlist(&deck, s, 0); err != nil {
		t.Fatal(err)
	}
	for _, at := range []string{"from", "to"} {
		for cable, ends := range map[string]string{"W1.plus": first, "W1.return": first, "W2.plus": second} {
			has := strings.Contains(ends, at+": connector/o")
			if name := "* " + cable + " contact at " + at + "\n"; strings.Contains(deck.String(), name) != has {
				t.Errorf("the deck names %q: %v, want %v", name, !has, has)
			}
		}
	}
}
