package wiring_test

import (
	"slices"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/sheet/wiring"
)

// keyed is what the key of a page explains.
func keyed(t *testing.T, leaf layout.Leaf) (words []string) {
	t.Helper()
	i := slices.IndexFunc(leaf.Layers, func(l draw.Layer) bool { return l.Name == "key" })
	if i < 0 {
		t.Fatalf("%s has no key", leaf.Name)
	}
	for _, text := range leaf.Layers[i].Texts {
		words = append(words, text.Words)
	}
	return words
}

// bare has next to nothing to explain; full has a sign of every kind on both of its pages.
const (
	bare = `farend: 1
supplies: {T1: {part: supply/24v-120w-din}}
runs: {E1: {tape: tape/24v-rgb-20x8, pixels: 10}}
cables: {W1: {part: cable/flex-2x1.5, length: 1 m, from: T1, to: E1@start}}
`
	full = `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 60, cuts: [{at: px30, pole: plus}]}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x1.5, pole: plus, length: 1 m, from: A1.2, to: E1@px30}
  W4: {part: cable/flex-2x1.5, pole: return, length: 1 m, from: A1.3, to: E1@end}
fuses: {A1.1: fuse/blade-2A, A1.2: fuse/blade-2A}
contactors: {Q1: {part: relay/plug-in-30A, in: W1}}
capacitors: {C1: {part: capacitor/1000uF-10V, at: E1@start}}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, buffer: {part: buffer/ahct-5v, at: from}}}
`
)

// A key explains what is drawn on its page, and nothing else.
func TestKeysHaveWhatIsDrawn(t *testing.T) {
	for _, c := range []struct{ name, text, single, face string }{
		{"bare", bare, "cable, both poles|terminal|joined|run of tape|lamps", ""},
		{"full", full, "cable, both poles|+ alone|− alone|fuse|contactor|terminal|joined|run of tape|lamps|rail cut|capacitor|board|data", "plus|return|data|fuse in its holder|empty holder|resistor|buffer|terminal"},
	} {
		st := schemetest.Unsolved(t, c.name, c.text)
		if got := strings.Join(keyed(t, wiring.SingleLine(st, sheettest.A3)[0]), "|"); got != c.single {
			t.Errorf("%s: the diagram explains %s, want %s", c.name, got, c.single)
		}
		for _, leaf := range wiring.Face(st, "A1", sheettest.A3) {
			if got := strings.Join(keyed(t, leaf), "|"); got != c.face {
				t.Errorf("%s: the face explains %s, want %s", c.name, got, c.face)
			}
		}
	}
}

// What stands in a data lead at a run, and that a junction is a splice for each pole, the diagram says where they are.
func TestDiagramSaysBuffersAndSplices(t *testing.T) {
	st := schemetest.Unsolved(t, "chain", `farend: 1
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/24v-120w-din}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}, X2: {part: choose}, X3: {part: junction/lever-3}}
runs:
  E1: {tape: tape/5v-rgb-60, pixels: 60}
  E2: {tape: tape/5v-rgb-60, pixels: 60}
  E3: {tape: tape/24v-rgb-20x8, pixels: 20}
  E4: {tape: tape/24v-rgb-20x8, pixels: 20}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: X1}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@start}
  W3: {part: cable/flex-2x1.5, pole: plus, length: 1 m, from: T1, to: X2}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, buffer: {part: buffer/ahct-5v, at: from}}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2, buffer: {part: buffer/ahct-5v, at: from}}
  D3: {part: cable/data-3x0.5, length: 1 m, from: A1.P2, to: E3, buffer: {part: buffer/ahct-5v, at: to}}
  D4: {part: cable/data-3x0.5, length: 1 m, from: E3, to: E4, buffer: {part: choose, at: from}}
`)
	said := ""
	for _, s := range sheettest.Scenes(st, wiring.SingleLine(st, sheettest.A3)) {
		for _, l := range s.Layers {
			for _, text := range l.Texts {
				said += strings.ReplaceAll(text.Words, layout.Thin, " ") + " "
			}
		}
	}
	for _, want := range []string{
		"D1 1 m from A1.P1; buffer ahct-5v at A1.P1", "D2 1 m to E2; buffer ahct-5v here, on the rails", "D2 1 m from E1 ",
		"D3 1 m from A1.P2; buffer ahct-5v here, and nothing feeds it", "D4 1 m to E4; buffer not chosen here, on the rails",
		"2 splices: X1+ and X1−", "1 splice: X2+", "no cable lands on it",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q: %s", want, said)
		}
	}
}
