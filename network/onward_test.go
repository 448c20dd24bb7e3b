package network_test

import (
	"slices"
	"testing"
)

// What a fuse is the nearest to protect, told by hand: a second board hangs on A1.1 by a junction, its way 2 is bridged and its way 1 is not; W11
// begins with a fuse of its own, W10 with one at its far end. Numbers in names count by their value.
func TestOnwardEndsAtTheNextFuse(t *testing.T) {
	n := laid(t, `
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-5}}
runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: X1}
  W10: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@start, fuse: fuse/inline-30A, fuse_at: to}
  W9: {part: cable/flex-2x2.5, length: 1 m, from: A2.in, to: X1}
  W11: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@end, fuse: fuse/inline-30A}
  W12: {part: cable/flex-2x2.5, length: 1 m, from: A2.2, to: E1@1m}
  W13: {part: cable/flex-2x2.5, length: 1 m, from: A2.1, to: E1@1.5m}
fuses: {A1.1: fuse/blade-10A, A2.1: fuse/blade-5A}
`)
	for _, c := range []struct {
		from          string
		known         []string
		cables, apart []string
	}{
		{"A1.1", nil, []string{"W2", "W9", "W10", "W12"}, []string{"W11"}},
		{"A1.1", []string{"W9"}, []string{"W2", "W10"}, []string{"W11"}},
		{"A2.1", nil, []string{"W13"}, nil},
		{"A1.4", nil, nil, nil},
	} {
		cables, apart := n.Onward([]string{c.from}, c.known...)
		if !slices.Equal(cables, c.cables) || !slices.Equal(apart, c.apart) {
			t.Errorf("from %s with %v known: %v and with fuses of their own %v, not %v and %v", c.from, c.known, cables, apart, c.cables, c.apart)
		}
	}
}
