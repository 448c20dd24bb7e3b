package signal

import (
	"slices"
	"testing"
)

// What need not be open is left out, whatever the order; of several ways one is named.
func TestOnlyContactorsThatMustBeOpenAreNamed(t *testing.T) {
	both := func(open []string) bool { return slices.Contains(open, "Q2") && slices.Contains(open, "Q4") }
	for _, all := range [][]string{{"Q1", "Q2", "Q3", "Q4"}, {"Q4", "Q3", "Q2", "Q1"}, {"Q2", "Q4"}} {
		got := fewest(all, both)
		slices.Sort(got)
		if !slices.Equal(got, []string{"Q2", "Q4"}) {
			t.Errorf("of %v are named %v", all, got)
		}
	}
	if got := fewest([]string{"Q1", "Q2"}, both); got != nil {
		t.Errorf("none do, and %v are named", got)
	}
}
