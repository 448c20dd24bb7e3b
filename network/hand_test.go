package network_test

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"farend/internal/spice"
	"farend/network"
)

// TestDecksWrittenByHand compares schemes with decks that were written from the laws by hand, so that exporter and solver
// cannot share a mistake. The deck says what to compare.
func TestDecksWrittenByHand(t *testing.T) {
	spice.Need(t)
	decks, _ := filepath.Glob("testdata/decks/*.cir")
	if len(decks) < 12 {
		t.Fatalf("only %d decks", len(decks))
	}
	for _, path := range decks {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			n := layOut(t, readFile(t, strings.TrimSuffix(path, ".cir")+".scheme.yaml"))
			s := solved(t, n, caseOf(t, n, string(text)))
			got := spice.Run(t, string(text))
			compared := 0
			for _, line := range strings.Split(string(text), "\n") {
				if words := strings.Fields(line); len(words) > 1 && words[0] == "*=" && words[1] != "case" {
					compareByHand(t, n, s, got, words[1:])
					compared++
				}
			}
			if compared < 4 {
				t.Errorf("the deck compares only %d values", compared)
			}
		})
	}
}

// caseOf is the case that a deck is about: state/full where it names none.
func caseOf(t *testing.T, n *network.Network, deck string) network.Case {
	t.Helper()
	name := "state/full"
	if _, rest, given := strings.Cut(deck, "\n*= case "); given {
		name, _, _ = strings.Cut(rest, "\n")
	}
	c, ok := n.CaseNamed(name)
	if !ok {
		t.Fatalf("the scheme has no case %q", name)
	}
	return c
}

// compareByHand compares one value: amps of a supply or ground current of a lead with a current, pixel or lowest (in its
// lowest slice) of a run with the voltage between two nodes.
func compareByHand(t *testing.T, n *network.Network, s *network.Solution, got map[string]float64, words []string) {
	t.Helper()
	r := n.Read(s)
	switch what, id := words[0], words[1]; what {
	case "amps", "ground":
		ours := float64(r.Supplies[id].Amps.Mean)
		if what == "ground" {
			ours = float64(r.Data[id].Ground.Mean)
		}
		if theirs := byHand(t, got, words[2]); !(math.Abs(ours-theirs) <= ampsApart) {
			t.Errorf("%s: %.12g A here, %.12g A by hand", id, ours, theirs)
		}
	case "pixel", "lowest":
		profile, _ := n.Profile(s, id)
		volts := profile.Volts
		if what == "lowest" {
			volts = profile.Lowest
		}
		k, err := strconv.Atoi(words[2])
		if err != nil {
			t.Fatal(err)
		}
		theirs := byHand(t, got, "v("+words[3]+")") - byHand(t, got, "v("+words[4]+")")
		if !(math.Abs(volts[k]-theirs) <= voltsApart) {
			t.Errorf("%s pixel %d: %.12g V here, %.12g V by hand", id, k, volts[k], theirs)
		}
	default:
		t.Fatalf("nothing is called %q", what)
	}
}

// byHand is a value of ngspice's answer, with its sign.
func byHand(t *testing.T, got map[string]float64, name string) float64 {
	t.Helper()
	bare, negative := strings.CutPrefix(strings.ToLower(name), "-")
	v, ok := got[bare]
	switch {
	case bare == "v(0)":
		return 0
	case !ok:
		t.Fatalf("the deck has no %s", bare)
	case negative:
		return -v
	}
	return v
}
