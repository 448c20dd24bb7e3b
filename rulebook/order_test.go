package rulebook_test

import (
	"slices"
	"testing"

	"farend/rulebook"
	"farend/study"
)

// Findings of one grade are told in the order of the rules, so causes must stand before what comes of them.
func TestCausesStandBeforeSymptoms(t *testing.T) {
	place := func(name string) int {
		return slices.IndexFunc(rulebook.All(), func(r study.Rule) bool { return r.Name == name })
	}
	for _, c := range []struct{ cause, symptom, why string }{
		{"survey/reach", "protection/voltage-drop", "what is lost in a cable is that of its length"},
		{"survey/run", "protection/fuse-load", "what a run draws is that of its length"},
		{"protection/not-chosen", "light/unfed-run", "what is not chosen feeds nothing"},
		{"protection/unequal-supplies", "protection/parallel-supplies", "unlike voltages first, leave second"},
		{"protection/tape-voltage", "light/pixel-voltage", "a tape on too little voltage is dim for that reason"},
		{"protection/data-return", "board/port-ground", "a lost return is why a port's ground is overloaded"},
		{"protection/way-fuse", "protection/fuse-load", "no fuse, no load of it"},
		{"protection/supply-load", "protection/cable-current", "a supply at its limit decides every current behind it"},
		{"protection/supply-load", "light/pixel-voltage", "a supply at its limit lowers every pixel"},
		{"light/unfed-run", "light/pixel-voltage", "no copper, no voltage"},
		{"light/pixel-voltage", "light/evenness", "less voltage is less light"},
		{"light/evenness", "light/colour-shift", "what is dim changes its colour"},
	} {
		if a, b := place(c.cause), place(c.symptom); a < 0 || b < 0 || a >= b {
			t.Errorf("%s, %d, does not stand before %s, %d: %s", c.cause, a, c.symptom, b, c.why)
		}
	}
}
