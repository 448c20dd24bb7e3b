package network_test

import (
	"strings"
	"testing"
)

// forked is a run cut in its middle: both pieces hang on the junction X1, the left one also on a way of its own.
const forked = `supplies: {T1: {part: supply/5v-200w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-5}}
runs: {E1: {tape: tape/5v-rgb-60, length: 2 m, cuts: [{at: px60, pole: plus}]}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: X1}
  W4: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@px60-}
  W5: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@end}
fuses: {A1.1: fuse/blade-2A, A1.2: fuse/blade-2A}
states: {full: {}}
`

// By hand: the two sides of the cut meet by W4 and W5 through X1 while those are whole, whatever fuses are out; with W4 open only through the board,
// by W2 and W3; and not at all once a fuse of either is out too.
func TestPartedSaysWhatCopperJoins(t *testing.T) {
	n := laid(t, forked)
	for outs, want := range map[string]string{
		"":                                "W4 W5",
		"W1.fuse A1.1.fuse A1.2.fuse":     "W4 W5",
		"W4.plus":                         "W2 W3 W5",
		"W4.plus A1.1.fuse":               "",
		"W4.plus A1.2.fuse":               "",
		"W4.plus W1.fuse":                 "W2 W3 W5",
		"W5.plus":                         "",
		"W4.return":                       "W4 W5",
		"nothing that is there":           "W4 W5",
		"W4.plus A1.1.fuse nothing there": "",
	} {
		p := n.Parted(strings.Fields(outs))
		got := p.Between("E1@px60-", "E1@px60")
		if strings.Join(got, " ") != want || p.Meet("E1@px60-", "E1@px60") != (want != "") {
			t.Errorf("without %q they meet by %v, want %q", outs, got, want)
		}
		if p.Meet("E1@px60", "E9@start") || p.Between("E1@px60", "E9@start") != nil {
			t.Error("a place that is not there meets something")
		}
	}
}
