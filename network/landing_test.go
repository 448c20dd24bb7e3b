package network_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"farend/circuit"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// T1 feeds E1 through a board and by a bare lead, and E2 through the board; T2 feeds E2's far end; T3 feeds E3 through an inline
// fuse, and E4 lies behind it and nothing else.
const landing = `farend: 1
site: {conductors: 20 °C}
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}, T3: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
junctions: {X1: {part: junction/lever-3}}
runs:
  E1: {tape: tape/even, pixels: 100}
  E2: {tape: tape/even, pixels: 100}
  E3: {tape: tape/even, pixels: 200}
  E4: {tape: tape/even, pixels: 100}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@end}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E2@start}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E2@end}
  W6: {part: cable/flex-2x2.5, length: 10 m, from: T3, to: X1, fuse: fuse/inline-10A}
  W7: {part: cable/flex-2x2.5, length: 5 m, from: E3@start, to: X1}
  W8: {part: cable/link-1x2.5, length: 1 m, from: E3@end, to: E4@start, pole: plus}
  W9: {part: cable/link-1x2.5, length: 1 m, from: E3@end, to: E4@start, pole: return}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E3, to: E4}
states: {full: {}}
parts:
  tape/even:
    title: even load
    volts: 5 V
    pixels: 50 /m
    cut_every: 1
    rail: 1 mΩ/m
    rail_amps: 30 A
    channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}
    idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}
    protocol: protocol/single-wire-800k-24
`

func TestLandingsKnowTheirSupplies(t *testing.T) {
	s, mistakes := scheme.Read("landing", []byte(landing), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for cable, want := range map[string][]string{
		"W1": {"T1"}, "W2": {"T1"}, "W3": {"T1"}, "W4": {"T1"}, "W5": {"T2"}, "W6": {"T3"}, "W7": {"T3"},
		"W8": nil, "W9": nil, "nothing": nil,
	} {
		if got := n.Feeders(cable); !slices.Equal(got, want) {
			t.Errorf("%s is fed by %v, want %v", cable, got, want)
		}
	}
	for fuse, want := range map[string][]string{
		"W6.fuse":   {"T3"},                // all of E3 and E4 hangs on it
		"A1.1.fuse": nil, "A1.2.fuse": nil, // W3, T2 and the rails reach round them
		"A1.3.fuse": nil, "W6": nil, "nothing": nil, // no fuse there
	} {
		if got := n.Guarded(fuse); !slices.Equal(got, want) {
			t.Errorf("%s guards what %v feeds, want %v", fuse, got, want)
		}
	}
}

// What enters W2 at E1 comes home by the board to T1 as what enters W3 does, and no more with the return of the inlet out; by the tape it does not
// count.
func TestHomingIsByCablesAndBoardsAlone(t *testing.T) {
	s, mistakes := scheme.Read("landing", []byte(landing), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	type home struct {
		name string
		of   func(h network.Homing) (int, bool)
	}
	cable := func(id string, end scheme.End) home {
		return home{id + " at " + string(end), func(h network.Homing) (int, bool) { return h.OfCable(id, end) }}
	}
	place := func(id string) home {
		return home{id, func(h network.Homing) (int, bool) { return h.OfPlace(id) }}
	}
	lead := func(id string) home {
		return home{id, func(h network.Homing) (int, bool) { return h.OfLead(id) }}
	}
	for _, c := range []struct {
		out  string
		home []home // all by one
		none []home
	}{
		{"", []home{cable("W2", "to"), cable("W3", "to"), cable("W4", "to"), place("T1"), place("A1"), place("A1.1"), lead("D1")}, []home{cable("W8", "to"), cable("W9", "from"), place("nothing"), lead("D2"), lead("D9")}},
		{"A1.in.return", []home{cable("W3", "to"), cable("W1", "to"), place("T1")}, []home{cable("W2", "to"), cable("W4", "to"), place("A1.1"), lead("D1")}},
		{"A1.1.return", []home{cable("W3", "to"), cable("W2", "from"), cable("W4", "to"), lead("D1")}, []home{cable("W2", "to")}},
		{"W1", []home{cable("W1", "from"), cable("W3", "to")}, []home{cable("W1", "to"), cable("W2", "to"), lead("D1")}},
		{"T1", []home{cable("W2", "to"), cable("W3", "to")}, nil}, // a supply that is off is a home still
	} {
		h := n.Homing(c.out)
		first, _ := c.home[0].of(h)
		for _, at := range c.home {
			if home, ok := at.of(h); !ok || home != first {
				t.Errorf("with %q out %s comes home: %v, by %d as by %d", c.out, at.name, ok, home, first)
			}
		}
		for _, at := range c.none {
			if _, ok := at.of(h); ok {
				t.Errorf("with %q out %s comes home", c.out, at.name)
			}
		}
	}
	one, _ := n.Homing("").OfPlace("T1")
	if other, ok := n.Homing("").OfCable("W5", "to"); !ok || one == other {
		t.Error("what T2 feeds comes home by the same as what T1 feeds")
	}
}

// 3 A in 10 m of 2 × 2.5 mm², then in 5 m, at 7.98 mΩ/m (IEC 60228:2004 table 3, class 5), with a fuse, its holder and two landings
// on the junction, as their parts say.
func TestLostIsWhatCoresAndContactsLose(t *testing.T) {
	s, mistakes := scheme.Read("landing", []byte(landing), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	fuse, _ := parts.Get[parts.Fuse](s.Library, "fuse/inline-10A")
	lever, _ := parts.Get[parts.Junction](s.Library, "junction/lever-3")
	const amps, core = 3, 7.98e-3
	near := amps * (10*2*core + float64(fuse.Resistance.Is) + 2*float64(lever.Resistance.Is))
	far := near + amps*(5*2*core+2*float64(lever.Resistance.Is))
	c, _ := n.CaseNamed("state/full")
	solution := n.Solve(context.Background(), circuit.NewWorker(), c)
	for _, want := range []struct {
		cable string
		end   scheme.End
		volts float64
	}{{"W6", "from", 0}, {"W6", "to", near}, {"W7", "to", near}, {"W7", "from", far}} {
		volts, ok := n.Lost(solution, "T3", want.cable, want.end)
		if !ok || math.Abs(float64(volts)-want.volts) > 1e-6 { // the knees of the pixels leave less
			t.Errorf("up to the %s end of %s %v V are lost, want %v V", want.end, want.cable, float64(volts), want.volts)
		}
	}
	if _, ok := n.Lost(solution, "T9", "W6", "to"); ok {
		t.Error("something is lost from a supply that is not there")
	}
	if _, ok := n.Lost(solution, "T3", "W99", "to"); ok {
		t.Error("something is lost in a cable that is not there")
	}
}
