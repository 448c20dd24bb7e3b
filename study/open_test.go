package study_test

import (
	"context"
	"strings"
	"testing"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

func TestEveryPartThatIsLeftOpenIsListed(t *testing.T) {
	const source = `farend: 1
supplies: {T1: {part: choose}}
boards: {A1: {part: choose}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}}
cables:
  W1: {part: choose, length: 1 m, from: T1, to: A1.in, fuse: choose, ends: {from: choose, to: choose}}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start, ends: {to: choose}}
fuses: {A1.1: choose}
data: {D1: {part: choose, length: 1 m, from: A1.P1, to: E1, buffer: {part: choose, at: to}}}
junctions: {X1: {part: choose}}
contactors: {Q1: {part: choose, in: W1}}
capacitors: {C1: {part: choose, at: E1@start}}
enclosures: {B1: {part: choose, holds: [T1, A1]}}
`
	sch, mistakes := scheme.Read("open", []byte(source), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(context.Background(), sch)
	if err != nil {
		t.Fatal(err)
	}
	const want = "T1 A1 W1 W1.fuse W1@from W1@to W2@to A1.1.fuse D1 D1.buffer X1 Q1 C1 B1"
	if got := strings.Join(s.Open(), " "); got != want || strings.Count(source, "choose") != len(strings.Fields(want)) {
		t.Errorf("it lists %s, want %s", got, want)
	}
}
