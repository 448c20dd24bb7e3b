package report_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"farend/network"
)

const joined = `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/ten-way-six-port}}
junctions: {X1: {part: junction/lever-5, label: behind the beam}, X2: {part: choose}, X3: {part: junction/lever-3}, X4: {part: junction/lever-3}}
enclosures: {B1: {part: enclosure/steel-400x500x200, holds: [A1, X1]}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}, E2: {tape: tape/5v-rgb-60, length: 1 m}}
cables:
  W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/data-4x0.75, cores_per_pole: 2, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x1.5, pole: plus, length: 1 m, from: X1, to: E2@start}
  W5: {part: cable/flex-2x1.5, pole: plus, length: 1 m, from: A1.2, to: X2}
  W6: {part: cable/flex-2x1.5, pole: plus, length: 1 m, from: X3, to: E2@px30}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-3A}
states: {full: {}}
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, label: first, buffer: {part: buffer/ahct-5v, at: from}}
  D2: {part: cable/data-3x0.5, length: 1 m, from: E1, to: E2, buffer: {part: choose, at: to}}
`

// Each pole of a junction is a splice, with what lands on it, how many cores, what one of them brings at most, and a label of its own. By hand: on X1 land
// W2, W3 with two cores a pole and W4 with its plus; on X2 and X3 one plus; on X4 nothing. Splices of lever-3: that of X3.
func TestJunctionsAreScheduledSpliceBySplice(t *testing.T) {
	r := of(t, joined)
	pages := bound(r, a4)
	list := rows(pages, "boards")
	heaviest := func(of func(*network.Result) float64) string {
		_, most := r.Study.Heaviest(of)
		return strings.TrimSuffix(fmt.Sprintf("%.3g", most), "0")
	}
	plus := heaviest(func(r *network.Result) float64 {
		return math.Max(float64(r.Cables["W2"].Plus.RMS), math.Max(float64(r.Cables["W3"].Plus.RMS)/2, float64(r.Cables["W4"].Plus.RMS)))
	})
	for splice, want := range map[string][]string{
		"X1+": {"lever-5", "+ of W2; + of W3, 2 cores; + of W4", "4", "5", "20 A", "B1", "behind the beam"},
		"X1−": {"lever-5", "− of W2; − of W3, 2 cores", "3", "5", "20 A", "B1", "behind the beam"},
		"X2+": {"not chosen", "+ of W5", "1"},
		"X3+": {"lever-3", "+ of W6", "1", "3"},
		"X4":  {"lever-3", "0", "3"},
	} {
		got := row(t, list, splice, 0)
		text := strings.Join(got, " ")
		for _, cell := range want {
			if !slices.Contains(got, cell) && !strings.Contains(text, cell) {
				t.Errorf("%s: %q, want %q", splice, got, cell)
			}
		}
		if splice == "X1+" && !strings.Contains(text, plus) {
			t.Errorf("its heaviest core is %s A: %q", plus, got)
		}
	}
	words := said(pages)
	for _, want := range []string{
		"In all: 1 × lever-3, 2 × lever-5 and 1 not chosen.",
		" X1+ · joins + of W2, W3, W4 behind the beam ", " X1− · joins − of W2, W3 ", " X2+ · joins + of W5 ", " X3+ · joins + of W6 ",
		" D1.buffer · for 5 V · at A1.P1 first ", " D2.buffer · not chosen · at E2 ",
	} {
		if !strings.Contains(words, want) {
			t.Errorf("nowhere is %q", want)
		}
	}
	if strings.Contains(words, "X4+") || strings.Contains(words, "X2−") {
		t.Error("a pole that nothing lands on has a splice")
	}
}

// The schedule of data leads says of each core what it is for, and of a buffer what feeds it.
func TestDataLeadsAreScheduledCoreByCore(t *testing.T) {
	words := said(bound(of(t, joined), a4))
	for _, want := range []string{"1 data, 1 ground, 1 spare:", "ahct-5v at A1.P1, + and −", "not chosen at E2, + and −"} {
		if !strings.Contains(words, want) {
			t.Errorf("nowhere is %q", want)
		}
	}
}
