package network_test

import (
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// laid is a scheme laid out.
func laid(t *testing.T, text string) *network.Network {
	t.Helper()
	s, mistakes := scheme.Read("laid", []byte("farend: 1\n"+text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// What lies behind each end, as one finds it with a finger on the drawing: the first fuses on each way back to a supply, and the
// supplies without one.
func TestBehindIsWhatFeedsAnEnd(t *testing.T) {
	const run = `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}}
`
	for _, c := range []struct {
		name, text string
		want       []string // "W2@to: A1.2.fuse + T1", fuses before supplies
	}{
		{"radial", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A}
`, []string{"W1@from: W1.fuse", "W1@to:", "W2@from: A1.1.fuse", "W2@to:"}},

		{"one fuse over several cables", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@end}
fuses: {A1.1: fuse/blade-7.5A}
`, []string{"W2@from: A1.1.fuse", "W2@to:", "W3@from: A1.1.fuse", "W3@to: A1.1.fuse", "W4@from: A1.1.fuse", "W4@to: A1.1.fuse"}},

		{"feeds at both ends of a run", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@px60}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E1@end}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A, A1.3: fuse/blade-7.5A}
`, []string{"W1@to:", "W2@from: A1.1.fuse", "W2@to: A1.2.fuse + A1.3.fuse", "W3@to: A1.1.fuse + A1.3.fuse"}},

		{"a cut parts them", `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m, cuts: [{at: px60, pole: plus}]}}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-7.5A}
`, []string{"W1@from: T1", "W2@to:", "W3@to:"}},

		{"a ring from a junction, fed once more", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@end}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@px60}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A}
`, []string{"W2@from: A1.1.fuse", "W2@to: A1.2.fuse", "W3@from: A1.1.fuse + A1.2.fuse", "W3@to: A1.1.fuse + A1.2.fuse", "W5@to: A1.1.fuse"}},

		{"fuses in the cables behind a junction", run + `supplies: {T1: {part: supply/5v-300w}}
junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: X1, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@start, fuse: fuse/inline-10A}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@end, fuse: fuse/inline-10A, fuse_at: to}
`, []string{"W1@from: W1.fuse", "W1@to:", "W2@from: W2.fuse", "W2@to: W3.fuse", "W3@from: W1.fuse", "W3@to: W3.fuse"}},

		{"an unfused lead from a supply", run + `supplies: {T1: {part: supply/5v-300w}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@start}
`, []string{"W1@from: T1", "W1@to:"}},

		{"a fuse at the wrong end", run + `supplies: {T1: {part: supply/5v-300w}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: E1@start, to: T1, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@end, fuse: fuse/inline-20A, fuse_at: to}
`, []string{"W1@from: W1.fuse", "W1@to: T1", "W2@from: T1", "W2@to: W2.fuse"}},

		{"supplies in parallel", run + `supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}, T3: {part: supply/5v-300w}}
junctions: {X1: {part: junction/lever-5}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: X1}
  W2: {part: cable/flex-2x6, length: 1 m, from: T2, to: X1}
  W3: {part: cable/flex-2x6, length: 1 m, from: T3, to: X1, fuse: fuse/inline-30A}
  W4: {part: cable/flex-2x6, length: 1 m, from: X1, to: E1@start}
`, []string{"W1@from: T1", "W1@to: W3.fuse + T2", "W2@to: W3.fuse + T1", "W3@from: W3.fuse", "W3@to: T1 + T2", "W4@from: W3.fuse + T1 + T2", "W4@to:"}},

		{"single-pole links; the return never counts", run + `supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/12v-350w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/link-1x2.5, length: 1 m, from: A1.1, to: E1@start, pole: plus}
  W3: {part: cable/link-1x2.5, length: 1 m, from: E1@end, to: A1.2, pole: return}
  W4: {part: cable/link-1x2.5, length: 1 m, from: E1@px60, to: T2, pole: return}
fuses: {A1.1: fuse/blade-7.5A}
`, []string{"W2@from: A1.1.fuse", "W2@to:", "W3@from: A1.1.fuse", "W3@to: W1.fuse", "W4@from: A1.1.fuse", "W4@to: T2"}},

		{"a bridged way, and supply on the spare core of a data lead", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
fuses: {A1.1: fuse/blade-7.5A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, power: yes}}
`, []string{"W2@from: A1.1.fuse", "W2@to: W1.fuse", "W3@from: W1.fuse", "W3@to: W1.fuse"}},

		{"fuses to be chosen", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: choose}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end, fuse: choose, fuse_at: to}
fuses: {A1.1: choose}
`, []string{"W1@from: W1.fuse", "W1@to:", "W2@from: A1.1.fuse", "W2@to: W3.fuse", "W3@from: W1.fuse", "W3@to: W3.fuse"}},

		{"boards one behind the other", run + `supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: A2.in}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: A2.1, to: E1@start}
  W4: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: E1@end}
fuses: {A1.1: fuse/blade-15A, A1.2: fuse/blade-5A, A2.1: fuse/blade-7.5A}
`, []string{"W2@from: A1.1.fuse", "W2@to: A2.1.fuse", "W3@from: A2.1.fuse", "W3@to: A1.2.fuse", "W4@to: A2.1.fuse"}},

		{"nothing behind it", run + `junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: X1, to: E1@start}
`, []string{"W1@from:", "W1@to:", "W9@from:"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := laid(t, c.text)
			for _, line := range c.want {
				at, want, _ := strings.Cut(line, ":")
				cable, end, _ := strings.Cut(at, "@")
				if got := worded(n.Behind(cable, scheme.End(end))); got != strings.TrimSpace(want) {
					t.Errorf("behind %s: %q, want %q", at, got, strings.TrimSpace(want))
				}
			}
		})
	}
}

func worded(b network.Behind) string { return strings.Join(slices.Concat(b.Fuses, b.Bare), " + ") }

// By wire, feeds of one run reach each other where they land on the same mark. Along tape they do not, at once or beyond a fuse, nor by
// the spare cores of a data lead.
func TestBehindByWireTheTapeDoesNotCount(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}, E2: {tape: tape/5v-rgb-60, length: 2 m}}
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}, T3: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E1@end}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: E1@px60, fuse: fuse/inline-20A}
  W6: {part: cable/flex-2x2.5, length: 1 m, from: A1.4, to: E2@start, fuse: choose, fuse_at: to}
  W7: {part: cable/flex-2x2.5, length: 1 m, from: T3, to: E2@start}
  W8: {part: cable/link-1x2.5, length: 1 m, from: E1@end, to: A1.3, pole: return}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-7.5A, A1.4: fuse/blade-3A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E2, power: yes}}
`)
	for at, want := range map[string]string{
		"W1@from": "W1.fuse", "W1@to": "A1.4.fuse", "W2@from": "A1.1.fuse", "W2@to": "A1.2.fuse", "W3@to": "A1.1.fuse", "W4@from": "A1.3.fuse", "W4@to": "",
		"W5@from": "W5.fuse", "W5@to": "", "W6@from": "A1.4.fuse", "W6@to": "W6.fuse", "W7@from": "T3", "W7@to": "W6.fuse", "W8@from": "A1.3.fuse", "W9@to": "",
	} {
		cable, end, _ := strings.Cut(at, "@")
		if got := worded(n.BehindByWire(cable, scheme.End(end))); got != want {
			t.Errorf("by wire %q lies behind %s, want %q", got, at, want)
		}
	}
}

// Places are fed as the ends of the cables there are: an inlet from outside its board, a run by all its feeds.
func TestFedIsWhatFeedsAPlace(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m, cuts: [{at: px60, pole: plus}]}, E2: {tape: tape/5v-rgb-60, length: 1 m}}
supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: T2, to: X1}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E2@start}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A}
`)
	for place, want := range map[string]string{
		"A1.in": "W1.fuse", "E1": "A1.1.fuse + A1.2.fuse", "E1@start": "A1.1.fuse", "A1.1": "A1.1.fuse", "A1.3": "W1.fuse", "X1": "T2", "E2": "T2", "T1": "T1", "X9": "",
	} {
		if got := worded(n.Fed(place)); got != want {
			t.Errorf("%s is fed by %q, want %q", place, got, want)
		}
	}
}

// A place around an end is fed by the cable too.
func TestAroundAnEndTheCableItselfCounts(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/link-1x2.5, length: 1 m, from: A1.2, to: E1@end, pole: plus}
  W4: {part: cable/link-1x2.5, length: 1 m, from: E1@end, to: A1.3, pole: return}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A}
`)
	for at, want := range map[string]string{"W1@from": "T1", "W1@to": "W1.fuse", "W2@from": "A1.1.fuse + A1.2.fuse", "W2@to": "A1.1.fuse + A1.2.fuse", "W4@from": "A1.1.fuse + A1.2.fuse", "W4@to": "W1.fuse", "W9@to": ""} {
		cable, end, _ := strings.Cut(at, "@")
		if got := worded(n.Around(cable, scheme.End(end))); got != want {
			t.Errorf("around %s: %q, want %q", at, got, want)
		}
	}
}

// Towards a place is outwards from a way that feeds it, along a cable that leads there, and against one that leads away.
func TestAFuseLeadsTowardsAPlaceOrAway(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: E1@px60, to: T1, fuse: fuse/inline-10A}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@end, fuse: fuse/inline-10A}
fuses: {A1.1: fuse/blade-7.5A}
`)
	for fuse, want := range map[string]bool{"A1.1.fuse": true, "W3.fuse": false, "W4.fuse": true, "A1.2.fuse": false} {
		if got := n.Towards(fuse, "W2", "to"); got != want {
			t.Errorf("%s leads to E1@start: %v, want %v", fuse, got, want)
		}
	}
	if n.Towards("A1.1.fuse", "W9", "to") {
		t.Error("a fuse leads to a cable that is not there")
	}
}

// Beyond the fuse of an inlet lie those of its ways, beyond a way that of the cable which a junction leads on to; against its
// direction those beside it. A fuse that is not there has none.
func TestBeyondAFuseLieThoseThatItFeeds(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}, E2: {tape: tape/5v-rgb-60, length: 1 m}}
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-3}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: X1}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: X1, to: E1@start, fuse: fuse/inline-5A}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E2@start}
fuses: {A1.1: fuse/blade-7.5A, A1.2: fuse/blade-5A}
`)
	for _, c := range []struct {
		fuse  string
		along bool
		want  string
	}{
		{"W1.fuse", true, "A1.1.fuse A1.2.fuse W3.fuse"}, {"W1.fuse", false, ""}, {"A1.1.fuse", true, "W3.fuse"}, {"A1.1.fuse", false, "A1.2.fuse W1.fuse"},
		{"W3.fuse", true, ""}, {"A1.2.fuse", true, ""}, {"A1.3.fuse", true, ""},
	} {
		if got := strings.Join(n.Beyond(c.fuse, c.along), " "); got != c.want {
			t.Errorf("beyond %s (%v) lie %q, want %q", c.fuse, c.along, got, c.want)
		}
	}
	for fuse, want := range map[string]string{"W1.fuse": "E1 E2", "A1.1.fuse": "E1", "W3.fuse": "E1", "A1.2.fuse": "E2", "A1.3.fuse": ""} {
		if got := strings.Join(n.RunsBeyond(fuse, true), " "); got != want {
			t.Errorf("beyond %s lie %q, want %q", fuse, got, want)
		}
	}
	if got := n.RunsBeyond("A1.1.fuse", false); len(got) != 1 || got[0] != "E2" {
		t.Errorf("against the direction of A1.1 lie %v, want E2", got)
	}
}

// From a lead hang the cables behind it as far as the next fuse, not those beside it at its supply.
func TestWhatHangsOnALeadIsBehindIt(t *testing.T) {
	n := laid(t, `runs: {E1: {tape: tape/5v-rgb-60, length: 2 m}, E2: {tape: tape/5v-rgb-60, length: 1 m}}
supplies: {T1: {part: supply/5v-300w}}
junctions: {X1: {part: junction/lever-5}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: X1}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E2@start, fuse: fuse/inline-5A}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: E2@end, to: T1}
  W5: {part: cable/link-1x2.5, length: 1 m, from: E1@end, to: X1, pole: return}
`)
	for at, want := range map[string]string{"W1@from": "W2@from W2@to W5@from W5@to", "W4@to": "W3@from W3@to", "W2@from": "W5@from", "W5@from": "", "W9@to": ""} {
		cable, end, _ := strings.Cut(at, "@")
		var got []string
		for _, e := range n.Hanging(cable, scheme.End(end)) {
			got = append(got, e.Cable+"@"+string(e.End))
		}
		if strings.Join(got, " ") != want {
			t.Errorf("on %s hang %v, want %s", at, got, want)
		}
	}
}

// With every fuse that lies behind an end out of the circuit, and the cable as well, no supply is left that feeds the end: taken from
// the circuit itself, in random schemes of cables, fuses and supplies.
func TestNothingFeedsAnEndPastWhatIsBehindIt(t *testing.T) {
	random := rand.New(rand.NewSource(6))
	fed, bare, taped := 0, 0, 0
	for range 400 {
		n := laid(t, tangle(random))
		for _, id := range scheme.IDs(n.Scheme.Cables) {
			for _, end := range []scheme.End{"from", "to"} {
				b := n.Behind(id, end)
				if len(b.Fuses) > 0 {
					fed++
				}
				if len(b.Bare) > 0 {
					bare++
				}
				wired := n.BehindByWire(id, end)
				if len(wired.Fuses)+len(wired.Bare) < len(b.Fuses)+len(b.Bare) {
					taped++
				}
				if got := n.WiredPast(id, end, wired.Fuses); !slices.Equal(got, wired.Bare) {
					t.Fatalf("by wire %v and %v lie behind %s@%s; with the fuses out %v feeds it", wired.Fuses, wired.Bare, id, end, got)
				}
				if got := n.FedPast(id, end, b.Fuses); !slices.Equal(got, b.Bare) {
					t.Fatalf("behind %s@%s lie %v and %v; with the fuses out %v feeds it", id, end, b.Fuses, b.Bare, got)
				}
				for _, f := range b.Fuses {
					others := slices.DeleteFunc(slices.Clone(b.Fuses), func(g string) bool { return g == f })
					if got := n.FedPast(id, end, others); len(got) == 0 {
						t.Fatalf("behind %s@%s lies %s, and nothing feeds it through that", id, end, f)
					}
				}
			}
		}
	}
	if fed < 1000 || bare < 300 || taped < 100 {
		t.Errorf("only %d ends behind fuses and %d without, %d along tape", fed, bare, taped)
	}
}

// tangle is a scheme of two supplies and cables between junctions at random, a third of them with a fuse.
func tangle(random *rand.Rand) string {
	var b strings.Builder
	b.WriteString("supplies: {T1: {part: supply/5v-300w}, T2: {part: supply/5v-300w}}\njunctions: {X1: {part: junction/lever-5}, X2: {part: junction/lever-5}, X3: {part: junction/lever-5}, X4: {part: junction/lever-5}}\n")
	b.WriteString("runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}}\ncables:\n")
	places := []string{"T1", "T2", "X1", "X2", "X3", "X4", "E1@start", "E1@end"}
	for i := range 3 + random.Intn(6) {
		from, to := random.Intn(len(places)), random.Intn(len(places)-1)
		if to >= from {
			to++
		}
		fuse := []string{"", "", ", fuse: fuse/inline-10A", ", fuse: fuse/inline-10A, fuse_at: to"}[random.Intn(4)]
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x2.5, length: 1 m, from: %s, to: %s%s}\n", i+1, places[from], places[to], fuse)
	}
	return b.String()
}
