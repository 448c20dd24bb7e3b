package network_test

import (
	"strings"
	"testing"
)

// E1 hangs on a board with T1, by two ways; E2 on T2, with its data from the same board; E3 on both; E4 on nothing. E1 is cut, so that each way feeds one
// piece of it.
const unpowered = `supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}, A2: {part: board/six-way-three-port}}
runs:
  E1: {tape: tape/5v-rgb-60, pixels: 60, cuts: [{at: px30, pole: plus}]}
  E2: {tape: tape/5v-rgb-60, pixels: 60}
  E3: {tape: tape/5v-rgb-60, pixels: 60}
  E4: {tape: tape/5v-rgb-60, pixels: 60}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E2@start}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E3@start}
  W6: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E3@end}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
  D2: {part: cable/data-3x0.5, length: 1 m, from: A1.P2, to: E2}
  D3: {part: cable/data-3x0.5, length: 1 m, from: A1.P3, to: E3}
  D4: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E4}
states: {full: {}}
`

func TestAFirstPixelHasNoPowerWhereNoPlusReachesIt(t *testing.T) {
	n := laid(t, unpowered)
	for _, c := range []struct {
		lead string
		out  []string
		want bool
	}{
		{"D1", nil, false},
		{"D1", []string{"W2"}, true},
		{"D1", []string{"W2.plus"}, true},
		{"D1", []string{"W3"}, false},       // that feeds the piece behind the cut
		{"D1", []string{"W1", "W6"}, false}, // its sender is off, too
		{"D1", []string{"T1", "T2"}, false},
		{"D2", nil, false},
		{"D2", []string{"T2"}, false}, // T1 feeds it along E3
		{"D2", []string{"T2", "W5"}, true},
		{"D2", []string{"W4"}, true},
		{"D2", []string{"T1"}, false}, // T2 feeds the board along E3
		{"D3", []string{"W5"}, false},
		{"D3", []string{"W5", "W6"}, true},
		{"D4", nil, false}, // a run sends
		{"D9", nil, false},
	} {
		if got := n.Unpowered(c.lead, c.out...); got != c.want {
			t.Errorf("%s with %v out is unpowered: %v, want %v", c.lead, c.out, got, c.want)
		}
		if c.want && !n.Sends(c.lead, c.out...) {
			t.Errorf("%s sends to nothing that is unpowered with %v out, for it has no power itself", c.lead, c.out)
		}
	}
	other := laid(t, strings.Replace(unpowered, "from: E1, to: E4", "from: A2.P1, to: E4", 1))
	if other.Unpowered("D4") {
		t.Error("neither A2 nor E4 hangs on anything")
	}
}
