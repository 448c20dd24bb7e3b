package commission_test

import (
	"fmt"
	"math/rand"
	"strings"
	"testing"

	"farend/parts"
	"farend/scheme"
)

// odd are schemes that say little.
var odd = map[string]string{
	"nothing":   "farend: 1\n",
	"a supply":  "farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\n",
	"a run":     "farend: 1\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 10}}\n",
	"all open":  "farend: 1\nsupplies: {T1: {part: choose}}\nboards: {A1: {part: choose}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 10}}\ncables:\n  W1: {part: choose, length: 1 m, from: T1, to: A1.in, fuse: choose}\n  W2: {part: choose, length: 1 m, from: A1.1, to: E1@start}\nfuses: {A1.1: choose}\ndata: {D1: {part: choose, length: 1 m, from: A1.P1, to: E1}}\n",
	"fuse open": "farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nboards: {A1: {part: board/four-way-two-port}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 10}}\ncables:\n  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: choose}\n  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}\nfuses: {A1.1: choose}\n",
	"unfused":   "farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 60}}\ncables: {W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: E1@start}}\nstates: {full: {level: 100 %}}\n",
	"bridged":   "farend: 1\nsite: {exposure: immersed, metalwork: bonded}\nsupplies: {T1: {part: supply/5v-300w}}\nboards: {A1: {part: board/four-way-two-port}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 60}}\ncables:\n  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}\n  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}\ndata: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1, power: true}}\n",
	"unfed":     "farend: 1\nboards: {A1: {part: board/four-way-two-port}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 60}}\ncables:\n  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}\nfuses: {A1.1: fuse/blade-3A}\n",
	"no return": "farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nboards: {A1: {part: board/four-way-two-port}}\nruns: {E1: {tape: tape/5v-rgb-60, pixels: 60}}\ncables:\n  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start, pole: plus}\nfuses: {A1.1: fuse/blade-3A}\ndata: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}\n",
}

func TestOddSchemesGetHonestWords(t *testing.T) {
	for _, name := range scheme.IDs(odd) {
		p := of(t, read(t, odd[name]))
		ordered(t, name, p)
		looks(t, name, p)
	}
	all := of(t, read(t, odd["all open"]))
	for _, x := range [][2]string{{"T1 is still to be chosen", ""}, {"A1.1.fuse is still to be chosen", ""}, {"W1: + to +", "all fuses out"}} {
		if s := step(t, all, x[0], x[1]); !strings.Contains(s.Do+s.Expect, "still to be chosen") || s.Reading != nil {
			t.Errorf("%+v", s)
		}
	}
	unfed := of(t, read(t, odd["unfed"]))
	if s := step(t, unfed, "Fuse of A1.1: dark current", "in: A1.1"); s.Expect != "nothing: no supply reaches it by copper, data leads apart" || s.Reading != nil {
		t.Errorf("a fuse that nothing feeds: %+v", s)
	}
	bare := of(t, read(t, odd["unfused"]))
	if s := step(t, bare, "Positive of W1: no fuse there", "dark"); s.Reading == nil {
		t.Errorf("a cable without a fuse: %+v", s)
	}
	if s := step(t, bare, "E1: switch off T1, for no fuse lies between", "in use"); s.Do == "" {
		t.Error("nobody switches T1 off")
	}
	// Two bridged ways on one uncut run: the second is live from behind while only the first is plugged in.
	twice := of(t, read(t, odd["bridged"]))
	if s := step(t, twice, "Live from behind", "in: A1.1"); !strings.Contains(s.Do, "A1.2") || s.Reading.Is < 4.5 {
		t.Errorf("from behind: %+v", s)
	}
}

// A scheme that was not read from a file may have no state at all.
func TestNoLightingState(t *testing.T) {
	s := *read(t, byHand).Scheme
	s.States = nil
	p := of(t, studied(t, &s))
	ordered(t, "no state", p)
	looks(t, "no state", p)
	for _, do := range []string{"Write the states into the scheme", "No lighting state is known"} {
		if s := step(t, p, do, "lit"); s.Reading != nil {
			t.Errorf("%+v", s)
		}
	}
}

// Schemes of random shape: nothing panics, bands are in order and hold what is built of the parts, pages look well.
func TestRandomSchemes(t *testing.T) {
	read := 0
	for seed := range int64(8) {
		s, mistakes := scheme.Read("x.scheme.yaml", []byte(random(seed)), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		p := of(t, studied(t, s))
		ordered(t, fmt.Sprint("seed ", seed), p)
		looks(t, fmt.Sprint("seed ", seed), p)
		read += within(t, fmt.Sprint("seed ", seed), p, studied(t, built(rand.New(rand.NewSource(seed)), s)))
	}
	if read < 50 {
		t.Errorf("only %d readings were compared", read)
	}
}
