package network_test

import (
	"slices"
	"testing"

	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// Two supplies of 5 V and one of 12 V; E1 hangs on T1 through a board, E2 on T1 and T2 by its two ends, E3 on T3. All returns
// meet, E3's by a link of the return alone. T4 and T5 meet at a junction and feed nothing.
const reach = `farend: 1
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}, T3: {part: supply/12v-350w}, T4: {part: supply/24v-240w-din}, T5: {part: supply/24v-240w-din}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}}
runs:
  E1: {tape: tape/5v-rgb-60, length: 1 m}
  E2: {tape: tape/5v-rgb-60, length: 1 m, cuts: [{at: px30, pole: plus}]}
  E3: {tape: tape/12v-rgb-60-per-led, length: 1 m}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E2@start}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E2@end}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: T3, to: E3@start}
  W6: {part: cable/link-1x2.5, length: 1 m, from: E1@end, to: E3@end, pole: return}
  W7: {part: cable/flex-2x2.5, length: 1 m, from: T4, to: X1}
  W8: {part: cable/flex-2x2.5, length: 1 m, from: T5, to: X1}
states: {full: {}}
`

func TestRunsAndPartnersAreThoseThatCopperJoins(t *testing.T) {
	s, mistakes := scheme.Read("reach", []byte(reach), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string][]string{
		"T1": {"E1", "E2"}, "T2": {"E2"}, "T3": {"E3"}, "T4": nil, "A1": {"E1", "E2"}, "A1.1": {"E1", "E2"}, "A1.4": {"E1", "E2"},
		"W1": {"E1", "E2"}, "W4": {"E2"}, "W5": {"E3"}, "W6": {"E1", "E2", "E3"}, "W7": nil, "nothing": nil,
	} {
		if got := n.RunsOn(id); !slices.Equal(got, want) {
			t.Errorf("on %s hang %v, want %v", id, got, want)
		}
	}
	for id, want := range map[string][]string{"T1": nil, "T2": nil, "T3": nil, "T4": {"T5"}, "T5": {"T4"}, "nothing": nil} {
		if got := n.Partners(id); !slices.Equal(got, want) {
			t.Errorf("%s works in parallel with %v, want %v", id, got, want)
		}
	}
}
