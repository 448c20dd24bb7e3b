package commission_test

import (
	"fmt"
	"maps"
	"reflect"
	"strings"
	"testing"

	"farend/commission"
	"farend/parts"
	"farend/scheme"
)

// What is to be opened is the same whether parts are chosen or not: what is bought later is as live.
func TestWhatIsNotChosenIsAsLive(t *testing.T) {
	for _, name := range []string{"footbridge-two-feeds", "cafe-canopy", "library-atrium-altered"} {
		st := example(t, name).st
		want := cutoffs(t, st)
		if got := cutoffs(t, studied(t, nothingChosen(st.Scheme))); !reflect.DeepEqual(got, want) {
			t.Errorf("%s, nothing chosen: %+v, all chosen: %+v", name, got, want)
		}
	}
	for seed := range int64(3) {
		s, mistakes := scheme.Read("x.scheme.yaml", []byte(random(seed)), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		p := of(t, studied(t, nothingChosen(s)))
		ordered(t, fmt.Sprint("seed ", seed, ", nothing chosen"), p)
		looks(t, fmt.Sprint("seed ", seed, ", nothing chosen"), p)
	}
}

// nothingChosen is a scheme of which supplies, boards, cables and leads are still to be chosen.
func nothingChosen(of *scheme.Scheme) *scheme.Scheme {
	s := *of
	s.Supplies, s.Boards, s.Cables, s.Data = maps.Clone(s.Supplies), maps.Clone(s.Boards), maps.Clone(s.Cables), maps.Clone(s.Data)
	for id, c := range s.Supplies {
		c.Part = "choose"
		s.Supplies[id] = c
	}
	for id, c := range s.Boards {
		c.Part = "choose"
		s.Boards[id] = c
	}
	for id, c := range s.Cables {
		c.Part = "choose"
		s.Cables[id] = c
	}
	for id, d := range s.Data {
		d.Part = "choose"
		s.Data[id] = d
	}
	return &s
}

// T1 is not chosen. It feeds E1 through a way without a fuse, and T2 through one with a fuse.
const unchosen = `farend: 1
supplies: {T1: {part: choose}, T2: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}, A2: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 60}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x4, length: 1 m, from: T2, to: A2.in}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A2.2, to: E1@end}
fuses: {A2.2: fuse/blade-3A}
states: {full: {level: 100 %, colour: red}}
`

func TestASupplyThatIsNotChosenCountsAsLive(t *testing.T) {
	p := of(t, read(t, unchosen))
	for at, want := range map[string]string{
		"E1: ": "take out the fuse A2.2; switch off T1 (still to be chosen), for no fuse lies between",
		"A1: ": "take out the fuse A2.2; switch off T1 (still to be chosen), for no fuse lies between",
	} {
		if s := step(t, p, at, "in use"); s.Do != at+want {
			t.Error(s.Do)
		}
	}
	seen := 0
	for _, g := range p.Stages {
		for _, s := range g.Steps {
			if !g.Live || g.Name == "Supplies alone" || s.Reading == nil || s.Reading.Kind == commission.Degrees || s.Fill.Field == "dead" {
				continue
			}
			t.Errorf("%s, %s: %s is expected", g.Name, s.Do, s.Reading)
		}
		for _, s := range g.Steps {
			if strings.Contains(s.Expect, "not known: T1 is not chosen") {
				seen++
			}
		}
	}
	if seen < 8 {
		t.Errorf("only %d steps say that T1 is not chosen", seen)
	}
}
