package parts_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"farend/finding"
	"farend/parts"
)

// counted are the number words of the boards' names.
var counted = map[string]int{"one": 1, "two": 2, "three": 3, "four": 4, "six": 6, "eight": 8, "ten": 10, "twelve": 12}

var (
	wayWord  = regexp.MustCompile(`([a-z]+)-way`)
	portWord = regexp.MustCompile(`([a-z]+)-port`)
)

func counting(of *regexp.Regexp, name string) int {
	if m := of.FindStringSubmatch(name); m != nil {
		return counted[m[1]]
	}
	return 0
}

// Every board is our own invention, says so, and is what its name says: so many ways and ports, named 1, 2, 3 and P1, P2, P3.
func TestBoardsAreInventedAndAsTheirNameSays(t *testing.T) {
	boards := each[parts.Board](t, "board")
	if len(boards) < 8 {
		t.Errorf("there are %d boards", len(boards))
	}
	for name, b := range boards {
		if len(b.Ways) != counting(wayWord, name) || len(b.Ports) != counting(portWord, name) {
			t.Errorf("%s has %d ways and %d ports", name, len(b.Ways), len(b.Ports))
		}
		for i := range len(b.Ways) {
			if _, ok := b.Ways[strconv.Itoa(i+1)]; !ok {
				t.Errorf("%s has no way %d", name, i+1)
			}
		}
		for i := range len(b.Ports) {
			if _, ok := b.Ports["P"+strconv.Itoa(i+1)]; !ok {
				t.Errorf("%s has no port P%d", name, i+1)
			}
		}
		for _, f := range parts.Facts(b) {
			if f.Basis != string(parts.Invented) {
				t.Errorf("%s %s is called %s", name, f.Key, f.Basis)
			}
		}
		if !strings.HasSuffix(b.Title, "(invented)") {
			t.Errorf("%s does not say that it is invented", name)
		}
	}
}

// An inlet that is stronger than any way and weaker than all of them together is what the rules about inlets are for; and a fuse in
// a port's ground must open before its contact is overloaded, at any voltage of the board.
func TestBoardsMakeSense(t *testing.T) {
	for name, b := range each[parts.Board](t, "board") {
		sum, strongest := 0.0, 0.0
		for _, w := range b.Ways {
			sum, strongest = sum+float64(w.Amps.Is), max(strongest, float64(w.Amps.Is))
		}
		if in := float64(b.Inlet.Amps.Is); in < strongest || in > sum {
			t.Errorf("%s: inlet of %v A, ways of %v A in all, the strongest %v A", name, in, sum, strongest)
		}
		for port, p := range b.Ports {
			link, ok := parts.Get[parts.Fuse](parts.Catalogue(), p.GroundFuse)
			if !ok || link.Rating.Is > p.GroundAmps.Is || link.VoltsMax.Is < b.VoltsMax.Is {
				t.Errorf("%s %s: ground of %v behind %s", name, port, p.GroundAmps.Is, p.GroundFuse)
			}
		}
	}
}

// A misspelt board finds its neighbour.
func TestBoardsAreFoundByNearlyTheirName(t *testing.T) {
	if near := finding.DidYouMean("board/twelve-way-eigth-port", parts.Catalogue().Names("board")); near != "board/twelve-way-eight-port" {
		t.Errorf("did you mean %q", near)
	}
}
