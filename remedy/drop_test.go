package remedy

import (
	"strings"
	"testing"

	"farend/finding"
	"farend/network"
	"farend/study"
)

// single is a run that is fed by a link of the plus and one of the return, thin as given, from a way with a fuse.
func single(t *testing.T, plus, back string) *study.Study {
	t.Helper()
	return solved(t, strings.NewReplacer("PLUS", plus, "BACK", back).Replace(`farend: 1
supplies: {T1: {part: supply/12v-150w}}
boards: {A1: {part: board/six-way-two-port-24v}}
runs: {E1: {tape: tape/12v-rgb-20x3, length: 3 m}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-15A}
  W2: {part: cable/link-1xPLUS, length: 3 m, from: A1.1, to: E1@start, pole: plus}
  W3: {part: cable/link-1xBACK, length: 3 m, from: A1.1, to: E1@start, pole: return}
fuses: {A1.1: fuse/blade-7.5A}
states: {full: {}}
`))
}

// Both links carry one current, so that which of them loses most their cores say.
func TestWhatIsLostIsMendedWhereMostOfItIsLost(t *testing.T) {
	c := network.Case{Name: "state/full"}
	for _, x := range []struct{ plus, back, loser string }{
		{"1.5", "0.25", "W3"},
		{"0.25", "1.5", "W2"},
	} {
		s := single(t, x.plus, x.back)
		cable, volts := Loser(s, "W2", c, "T1")
		at := s.Result(c.Name).Cables[x.loser]
		if cable != x.loser || volts != max(at.Drop, -at.Drop) || volts <= 0 {
			t.Errorf("of %s and %s mm² %s loses most, %v", x.plus, x.back, cable, volts)
		}
		edits := Lossless(s, "W2", c, volts/4)
		if len(edits) != 1 || edits[0].Path != finding.Pointer("cables", x.loser, "part") {
			t.Errorf("of %s and %s mm² it is mended by %v", x.plus, x.back, edits)
		}
	}
}

// A fuse that feeds a link of the return alone is held to what that may carry: it is refitted together with it.
func TestAFuseSuitsTheReturnLinkToo(t *testing.T) {
	s := single(t, "1.5", "0.25")
	iz := s.Result("state/full").Cables["W3"].Iz
	if p, ok := waySeat(s, "A1.1"); !ok || p.iz != iz {
		t.Errorf("the fuse may be of %v, W3 may carry %v", p.iz, iz)
	}
	for _, e := range WayFuse(s, "A1.1") {
		if e.Path == finding.Pointer("cables", "W3", "part") {
			return
		}
	}
	t.Errorf("W3 stays as it is: %v", WayFuse(s, "A1.1"))
}
