package study_test

import (
	"fmt"
	"math"
	"testing"

	"farend/finding"
)

// homeward is a run behind a blade of 10 A in a way for 10 A, at the end of a long lead; with one more cable, if that is given.
func homeward(more string) string {
	return fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/own}}
boards: {A1: {part: board/own}}
runs: {E1: {tape: tape/even, pixels: 10}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
  W2: {part: cable/flex-2x4, length: 39 m, from: A1.1, to: E1@start}
%s
fuses: {A1.1: fuse/blade-10A, A1.2: fuse/blade-10A}
states: {full: {}}
parts:%s  supply/own: {title: own, basis: measured, source: invented, volts: 5 V, amps: 100 A, watts: 500 W, source_resistance: 0.1 mΩ, limit: constant-current, limit_at: {low: 110 A, high: 120 A}}
  board/own: {title: own, basis: measured, source: invented, volts_max: 24 V, inlet: {amps: 80 A, resistance: 0.1 mΩ}, ways: {1: {amps: 10 A, resistance: 0.1 mΩ, holder: blade}, 2: {amps: 10 A, resistance: 0.1 mΩ, holder: blade}}}
`, more, even)
}

// By hand: 5 V over 2 × 39 m of 4.95 mΩ/m, 386 mΩ, and about 18 mΩ before it are 12.4 A, which a blade of 10 A holds for ever, since it surely
// opens from 13.5 A on only. The plus of the way, for 10 A, has that fuse to itself, and bears 14.5 A (IEC 60364-4-43, 433.1). Its return
// brings home what the plus sends, so it bears as much.
//
// With a second feed of the same copper that has a plus alone the loop is 193 mΩ of return, 97 mΩ of plus and about 15 mΩ before: 16.4 A come
// home by that terminal, while each plus sends 8.2 A, which no blade of 10 A ends. That is beyond 1.2 times its rating, and no fuse guards it.
func TestAReturnIsGuardedByTheFuseOfWhatItBringsHome(t *testing.T) {
	for _, x := range []struct {
		more    string
		guarded bool
		grade   finding.Grade
	}{
		{"", true, finding.Pass},
		{"  W3: {part: cable/link-1x4, length: 39 m, from: A1.2, to: E1@start, pole: plus}", false, finding.Danger},
	} {
		s, asked := studied(t, homeward(x.more)), 0
		for _, i := range s.Struck().Of("A1.1") {
			h := s.Struck().Harm(i)
			asked++
			switch h.Bearer.Name {
			case "A1.1.plus":
				if h.Verdict.Grade != finding.Pass {
					t.Errorf("%s: the plus is %v: %+v", x.more, h.Verdict.Grade, h.Verdict)
				}
			case "A1.1.return":
				if h.Guarded != x.guarded || h.Verdict.Grade != x.grade {
					t.Errorf("%s: the return, guarded %v, is %v: %+v", x.more, h.Guarded, h.Verdict.Grade, h.Verdict)
				}
				const amps = 5 / (0.1e-3 + 2*1.91e-3 + 2.9e-3 + 3*0.1e-3 + 7.7e-3 + 2*39*4.95e-3 + 1e-5)
				if !x.guarded && math.Abs(h.Verdict.Value/16.4-1) > 2e-2 {
					t.Errorf("the return of both carries %v, want about 16.4 A", h.Verdict.Value)
				}
				if x.guarded && (math.Abs(h.Verdict.Value/amps-1) > 5e-3 || h.Verdict.Limit != 14.5) {
					t.Errorf("the return carries %v, want %.2f A, against %v A", h.Verdict.Value, amps, h.Verdict.Limit)
				}
			}
		}
		if asked != 2 {
			t.Errorf("%s: %d conductors of A1.1, want its plus and its return", x.more, asked)
		}
	}
}
