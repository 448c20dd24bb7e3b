package study_test

import (
	"strings"
	"testing"

	"farend/finding"
	"farend/rulebook"
)

// What feeds each end of each cable, as one finds it with a finger on the drawing: an end that current enters by all copper, another by
// cables and junctions alone, a cable without current that hangs on tape by that; a return by what feeds the place it comes from.
func TestWhatFeedsTheEndsOfCables(t *testing.T) {
	s := guarded(t, `site: {exposure: dry}
supplies: {T1: {part: supply/big}}
junctions: {X1: {part: junction/lever-5}, X2: {part: junction/lever-5}, X3: {part: junction/lever-5}, X4: {part: junction/lever-5}}
runs: {E1: {tape: tape/even, pixels: 100}, E2: {tape: tape/even, pixels: 100}}
cables:
  W1: {part: cable/flex-2x4, length: 0.5 m, from: T1, to: X1, fuse: fuse/inline-25A}
  W2: {part: cable/flex-2x4, length: 0.5 m, from: X1, to: X2}
  W3: {part: cable/flex-2x4, length: 0.5 m, from: X1, to: X3}
  W4: {part: cable/flex-2x4, length: 0.5 m, from: X2, to: E1@start}
  W5: {part: cable/flex-2x4, length: 0.5 m, from: X3, to: E2@start}
  W6: {part: cable/flex-2x1, length: 0.5 m, from: X2, to: X3}
  W7: {part: cable/link-1x2.5, length: 0.5 m, from: X1, to: E1@end, fuse: fuse/inline-5A, pole: plus}
  W8: {part: cable/link-1x2.5, length: 0.5 m, from: E2@end, to: X1, pole: return}
  W9: {part: cable/flex-2x1, length: 0.5 m, from: E1@px50, to: X4}
states: {full: {}}
`)
	for cable, want := range map[string]string{
		"W1": "from enters W1.fuse", "W2": "from enters W1.fuse, to fault W1.fuse", "W4": "from enters W1.fuse",
		"W7": "from enters W7.fuse", "W8": "from enters W1.fuse", "W9": "from fault W1.fuse",
	} {
		var got []string
		for _, f := range s.Feedings(cable) {
			what := map[bool]string{true: "enters", false: "fault"}[f.Entered]
			got = append(got, string(f.End)+" "+what+" "+strings.Join(append(f.Fuses, f.Bare...), " + "))
		}
		if strings.Join(got, ", ") != want {
			t.Errorf("%s is fed %q, want %q", cable, got, want)
		}
	}
	for _, p := range s.Protection(s.Assess(rulebook.All())) {
		if p.ID == "W1" && (p.Grade != finding.Danger || p.Thin != "W6" && p.Thin != "W9") {
			t.Errorf("the fuse of W1 is %v over %s: the thin cables behind it are dangers", p.Grade, p.Thin)
		}
	}
}
