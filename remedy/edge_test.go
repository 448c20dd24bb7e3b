package remedy

import (
	"slices"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
)

// With its buffer at the far end D2 would do with a shorter lead alone; not where its ends are drawn too far apart for that, or its route is drawn longer.
func TestALeadIsMadeNoShorterThanItIsDrawn(t *testing.T) {
	for drawing, want := range map[string]bool{
		"": true,
		"drawing: {A1: [0, 0], E2: [[0, 0.1], [1, 0.1]]}\n": true,
		"drawing: {A1: [0, 0], E2: [[2.9, 0], [3.9, 0]]}\n": false,
		"drawing: {D2: [[0, 0], [3, 0]]}\n":                 false,
	} {
		s := schemetest.Changed(t, "../signal/testdata/edges.scheme.yaml",
			"from: A1.P2, to: E2, ground: open}", "from: A1.P2, to: E2, ground: open, buffer: {part: buffer/ahct-5v, at: to}}", "states: {full: {}}\n", "states: {full: {}}\n"+drawing)
		shorter := slices.ContainsFunc(Edged(s, "D2"), func(e finding.Edit) bool { return e.Path == "/data/D2/length" })
		if shorter != want {
			t.Errorf("%q: a shorter lead is proposed: %v", drawing, shorter)
		}
	}
}
