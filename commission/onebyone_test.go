package commission_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"farend/network"
	"farend/scheme"
)

// With all other fuses out, and the data unplugged, what flows is what flows in a scheme of whose other feeds only the returns are there, and no data
// leads.
func TestOneFuseAloneIsASchemeWithoutTheOthers(t *testing.T) {
	w := example(t, "footbridge")
	for k := 1; k <= 10; k++ {
		way, cable := fmt.Sprintf("A1.%d", k), fmt.Sprintf("W%d", k+1)
		other := *w.st.Scheme
		other.Cables = map[string]scheme.Cable{}
		for id, c := range w.st.Scheme.Cables {
			if id != "W1" && id != cable {
				c.Pole = scheme.Return
			}
			other.Cables[id] = c
		}
		other.Data = nil
		alone := studied(t, &other)
		r := alone.Result(string(network.Dark))
		state := "dark; in: " + way + ", W1"
		if got, want := step(t, w.p, "Fuse of "+way+": dark current", state).Reading.Is, float64(r.Ways[way].Amps.Mean); math.Abs(got-want) > 1e-8+1e-6*want {
			t.Errorf("%s alone: %v A, without the others %v A", way, got, want)
		}
		at := other.Cables[cable].To.String()
		want := float64(alone.Network.VoltsAt(alone.Solution(string(network.Dark)), at))
		if got := step(t, w.p, "Volts at "+at, state).Reading.Is; math.Abs(got-want) > 2e-6 {
			t.Errorf("%s alone: %v V at %s, without the others %v V", way, got, at, want)
		}
	}
}

// Nobody is told to draw a fuse live.
func TestFusesAreDrawnWithTheSupplyOff(t *testing.T) {
	for _, name := range names(t) {
		for _, g := range example(t, name).p.Stages {
			for _, w := range g.Sheets {
				if (w.Name == "fuses" || w.Name == "isolate") && !strings.Contains(strings.ToLower(w.Warning), "off first") && !strings.Contains(w.Warning, "supply off") {
					t.Errorf("%s: %s says nothing of the supply", name, w.Title)
				}
			}
		}
	}
}

// The row of a fuse says what was in before it, what of the meter bears its current, and where the volts are read; each further place has a row of its own.
func TestRowsOfFuses(t *testing.T) {
	rows := func(text string) (list []string) {
		for _, g := range of(t, read(t, text)).Stages {
			for _, w := range g.Sheets {
				for _, r := range w.Rows {
					if w.Name == "fuses" {
						list = append(list, strings.Join(r.Words, " | "))
					}
				}
			}
		}
		return list
	}
	hungry := strings.Replace(byHand, "set: {is: 0.5 mA", "set: {is: 160 mA", 1) // 9.6 A, and 14.4 A at the end of its spread
	for _, c := range []struct {
		text string
		want []string
	}{
		{byHand, []string{"W1 | no fuse | – | 10 A range | A1.in", "A1.1 | 5 A | W1 | mA range | E1@start"}},
		{hungry, []string{"W1 | no fuse | – | 10 A range | A1.in", "A1.1 | 5 A | W1 | clamp | E1@start"}},
		{odd["fuse open"], []string{"W1 | to be chosen | – |  | ", "A1.1 | to be chosen | W1 |  | "}},
		{odd["bridged"], []string{
			"W1 | no fuse | – | 10 A range | A1.in", "A1.1 | no fuse | W1 | mA range | E1@start", " |  |  |  | from behind: A1.2, E1@end",
			"A1.2 | no fuse | W1 | mA range | E1@end", " |  |  |  | from behind: A1.1, E1@start",
		}},
	} {
		if got := rows(c.text); !slices.Equal(got, c.want) {
			t.Errorf("%q, should be %q", got, c.want)
		}
	}
}
