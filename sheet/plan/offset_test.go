package plan_test

import (
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/sheet/drafting"
	"testing"
)

// winder is a stair whose last run bends, with a board and a supply beside it.
const winder = `farend: 1
supplies: {T2: {part: supply/24v-120w-din, label: landing}}
boards: {A1: {part: board/six-way-two-port-24v, label: hall cupboard}}
runs:
  E1: {tape: tape/24v-rgb-20x8, length: 1.2 m}
  E5: {tape: tape/24v-rgb-20x8, length: 1.2 m}
  E6: {tape: tape/24v-rgb-20x8, length: 1.25 m}
junctions: {X1: {part: junction/lever-3, label: landing}}
cables:
  W2: {part: cable/flex-2x0.75, length: 2 m, from: A1.1, to: E1@start}
  W6: {part: cable/flex-2x1.5, length: 1 m, from: T2, to: X1}
  W7: {part: cable/flex-2x0.75, length: 1.4 m, from: X1, to: E5@start}
  W8: {part: cable/flex-2x0.75, length: 1.8 m, from: X1, to: E6@start}
data:
  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}
  D5: {part: cable/data-3x0.5, length: 3.5 m, from: A1.P2, to: E5}
  D6: {part: cable/data-3x0.5, length: 0.4 m, from: E5, to: E6}
drawing:
  E1: [[0, 0], [1.2, 0]]
  E5: [[0, 1.2], [1.2, 1.2]]
  E6: [[0, 1.5], [0.8, 1.6], [1.24, 1.7]]
  A1: [-1.2, 0]
  T2: [-0.8, 1.4]
`

// By hand: the pieces of E6 are √(0.8² + 0.1²) and √(0.44² + 0.1²) m long, its end is 0.5 m above that of E5; A1 is 1.2 m, as long as E1, left of E1;
// T2 is 0.8 m left of E6 and 0.1 m below it, which is too near for words to 1:20.
func TestWhatHasRoomIsDimensioned(t *testing.T) {
	st := schemetest.Unsolved(t, "winder", winder)
	for _, c := range []struct {
		style drafting.Style
		times map[string]int
	}{
		{sheettest.A3, map[string]int{"806": 1, "451": 1, "500": 1, "800": 1, "100": 1, "1" + layout.Thin + "200": 3}},
		{sheettest.A4, map[string]int{"806": 1, "451": 1, "500": 1, "800": 1, "100": 0, "1" + layout.Thin + "200": 3}},
	} {
		got := map[string]int{}
		for _, l := range planned(st, c.style)[0].Scene.Layers {
			for _, text := range l.Texts {
				if l.Name == "dimensions" {
					got[text.Words]++
				}
			}
		}
		for words, times := range c.times {
			if got[words] != times {
				t.Errorf("%s: %s stands there %d times, not %d: %v", c.style.Drawings.Name, words, got[words], times, got)
			}
		}
	}
}
