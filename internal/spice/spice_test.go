package spice_test

import (
	"fmt"
	"math"
	"testing"

	"farend/internal/spice"
)

// near is the relative difference from Ohm's law: ngspice is asked for 1e-10.
const near = 1e-9

// divider is a voltage divider whose answer follows from Ohm's law; its function has the name of every other's.
func divider(volts, upper, lower float64) string {
	return fmt.Sprintf("* a divider\n.option reltol=1e-10 abstol=1e-15 vntol=1e-11 gmin=1e-15\n.func half(x) {x/%g}\nV1 e 0 %g\nR1 e m %g\nB1 m 0 I=half(V(m))\n.nodeset v(m)=%g\n.op\n.end\n",
		lower, volts, upper, volts)
}

// TestDecksOfOneProcessDoNotMeet: decks with the same names, one that no circuit answers, one with a part that is nowhere.
func TestDecksOfOneProcessDoNotMeet(t *testing.T) {
	spice.Need(t)
	singular := "* two sources in parallel\nV1 e 0 1\nV2 e 0 2\nR1 e 0 1\n.op\n.end\n"
	decks := []string{divider(5, 1, 4), singular, divider(12, 2, 1), "* a model that is nowhere\nD1 a 0 nowhere\nV1 a 0 1\n.op\n.end\n", divider(24, 3, 3)}
	answers := spice.Solve(t.TempDir(), decks)
	for i, want := range map[int]float64{0: 4, 2: 4, 4: 12} {
		if got := answers[i].Values["v(m)"]; answers[i].Err != nil || !(math.Abs(got-want) <= near*want) {
			t.Errorf("deck %d: %v V, want %v V: %v", i, got, want, answers[i].Err)
		}
	}
	for _, i := range []int{1, 3} {
		if answers[i].Err == nil {
			t.Errorf("deck %d has an answer: %v", i, answers[i].Values)
		}
	}
}

func TestOneDeckIsSolvedWithItsCurrents(t *testing.T) {
	got := spice.Run(t, divider(5, 1, 4))
	if amps := -got["i(v1)"]; !(math.Abs(amps-1) <= near) {
		t.Errorf("%v A, want 1 A", amps)
	}
}
