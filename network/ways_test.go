package network_test

import (
	"slices"
	"strings"
	"testing"

	"farend/network"
)

// ring is a run that one board feeds at both ends behind a main fuse; beside it hang another run, fed twice, and a third with a supply of
// its own.
const ring = `supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-200w}}
boards: {A1: {part: board/six-way-three-port}}
runs:
  E1: {tape: tape/5v-rgb-60, pixels: 100}
  E2: {tape: tape/5v-rgb-60, pixels: 100}
  E3: {tape: tape/5v-rgb-60, pixels: 100, cuts: [{at: px50, pole: plus}]}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E2@start}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.4, to: E2@end}
  W6: {part: cable/flex-2x2.5, length: 1 m, from: A1.5, to: E3@start}
  W7: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E3@end, fuse: fuse/inline-10A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A, A1.3: fuse/blade-7.5A, A1.4: fuse/blade-7.5A, A1.5: fuse/blade-7.5A}
`

// By hand: into the middle of E1 both its ways and the main fuse lead; those of E2 would lead from the bar and back to it. E3 is cut in the
// middle, so that each half has a fuse of its own; without the cut both supplies feed each half.
func TestFusesThatFeedAFault(t *testing.T) {
	joined := strings.Replace(ring, ", cuts: [{at: px50, pole: plus}]", "", 1)
	for _, x := range []struct {
		text  string
		fault network.Fault
		fuses string
	}{
		{ring, network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "A1.1 A1.2 W1"},
		{ring, network.Fault{Kind: network.PolesMeet, At: "E1@start"}, "A1.1 A1.2 W1"},
		{ring, network.Fault{Kind: network.PolesMeet, At: "A1.1"}, "A1.1 A1.2 W1"},
		{ring, network.Fault{Kind: network.PolesMeet, At: "A1.in"}, "W1"},
		{ring, network.Fault{Kind: network.PolesMeet, At: "T1"}, ""},
		{ring, network.Fault{Kind: network.PolesMeet, At: "E3@start"}, "A1.5 W1"},
		{ring, network.Fault{Kind: network.PolesMeet, At: "E3@end"}, "W7"},
		{joined, network.Fault{Kind: network.PolesMeet, At: "E3@start"}, "A1.5 W1 W7"},
		{joined, network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "A1.1 A1.2 A1.5 W1 W7"},
		{ring, network.Fault{Kind: network.Bridged, At: "E1@start", To: "E3@end"}, "A1.1 A1.2 W1 W7"},
		{ring, network.Fault{Kind: network.PoleOpen, At: "E1"}, ""},
	} {
		n := laid(t, x.text)
		if got := strings.ReplaceAll(strings.Join(n.Feeding(x.fault), " "), ".fuse", ""); got != x.fuses {
			t.Errorf("%v: %s, want %s", x.fault, got, x.fuses)
		}
	}
}

func TestWhenAFaultHangsOnNoSupply(t *testing.T) {
	n := laid(t, ring)
	for _, x := range []struct {
		fault  network.Fault
		opened string
		parted bool
	}{
		{network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "", false},
		{network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "A1.1", false},
		{network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "A1.1 A1.2", true},
		{network.Fault{Kind: network.PolesMeet, At: "E1@px50"}, "W1", true},
		{network.Fault{Kind: network.PolesMeet, At: "A1.1"}, "A1.1 A1.3", false},
		{network.Fault{Kind: network.PolesMeet, At: "T1"}, "A1.1 A1.2 W1", false},
		{network.Fault{Kind: network.Bridged, At: "E1@start", To: "E3@end"}, "W1", false},
		{network.Fault{Kind: network.Bridged, At: "E1@start", To: "E3@end"}, "W1 W7", true},
		{network.Fault{Kind: network.PoleOpen, At: "E1"}, "W1 A1.1", false},
	} {
		opened := func(fuse string) bool {
			return slices.Contains(strings.Fields(x.opened), strings.TrimSuffix(fuse, ".fuse"))
		}
		s := n.Sections(x.fault)
		if got := len(s.Supplies(opened)) == 0 && !s.Nowhere(); got != x.parted {
			t.Errorf("%v, %s open: parted %v", x.fault, x.opened, got)
		}
	}
}

// By hand: of what one fuse alone feeds; the fuse itself and its holder among it. The main fuse feeds the bar, and that feeds E1 by two ways.
func TestFusesThatAreNearest(t *testing.T) {
	n := laid(t, ring)
	for place, fuses := range map[string]string{"E1@px50": "A1.1 A1.2", "A1.5": "A1.5", "A1.1": "A1.1 A1.2", "A1.in": "W1", "T1": "", "E3@end": "W7"} {
		if got := strings.ReplaceAll(strings.Join(n.Sections(network.Fault{Kind: network.PolesMeet, At: place}).Nearest(), " "), ".fuse", ""); got != fuses {
			t.Errorf("%s: %s, want %s", place, got, fuses)
		}
	}
	sole := map[string]string{}
	for i, c := range n.Conductors() {
		sole[c.Name] = strings.ReplaceAll(strings.Join(n.Sole(i), " "), ".fuse", "")
	}
	for name, want := range map[string]string{"W1.plus": "W1", "W1.fuse": "W1", "A1.in.plus": "W1", "A1.1.plus": "A1.1", "A1.5.plus": "A1.5", "A1.5.fuse": "A1.5", "W2.plus": "", "E1": "", "W6.plus": "A1.5", "E3": "A1.5 W7", "W7.plus": "W7", "W7.return": "", "D1.ground": "A1.P1.ground fuse", "A1.P1.ground": "A1.P1.ground fuse"} {
		if got, there := sole[name]; !there || got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
}
