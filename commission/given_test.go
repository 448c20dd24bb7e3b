package commission_test

import (
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"farend/commission"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// What the tests are given: the examples, each studied once, and a scheme that can be worked out by hand.

// A worked is an example with its procedure.
type worked struct {
	st *study.Study
	p  commission.Procedure
}

// examples are all examples, studied without their faults, on which nothing here rests.
var examples = sync.OnceValues(func() (map[string]worked, error) {
	all := map[string]worked{}
	paths, err := filepath.Glob("../examples/*.scheme.yaml")
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		s, mistakes := scheme.Read(path, text, parts.Catalogue())
		if len(mistakes) > 0 {
			return nil, mistakes
		}
		st, err := study.New(context.Background(), s, &study.Options{Striking: study.NotNow})
		if err != nil {
			return nil, err
		}
		p, err := commission.Of(context.Background(), st, nil)
		if err != nil {
			return nil, err
		}
		all[strings.TrimSuffix(filepath.Base(path), ".scheme.yaml")] = worked{st, p}
	}
	return all, nil
})

func example(t testing.TB, name string) worked {
	t.Helper()
	all, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	w, ok := all[name]
	if !ok {
		t.Fatalf("no example %s", name)
	}
	return w
}

func names(t testing.TB) []string {
	t.Helper()
	all, err := examples()
	if err != nil || len(all) < 6 {
		t.Fatal(len(all), err)
	}
	return scheme.IDs(all)
}

func studied(t testing.TB, s *scheme.Scheme) *study.Study {
	t.Helper()
	st, err := study.New(context.Background(), s, &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func read(t testing.TB, text string) *study.Study {
	t.Helper()
	s, mistakes := scheme.Read("x.scheme.yaml", []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return studied(t, s)
}

func of(t testing.TB, st *study.Study) commission.Procedure {
	t.Helper()
	p, err := commission.Of(context.Background(), st, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// step is the first step that says something, in a state that says something.
func step(t testing.TB, p commission.Procedure, do, state string) commission.Step {
	t.Helper()
	for _, g := range p.Stages {
		for _, s := range g.Steps {
			if strings.Contains(s.Do, do) && strings.Contains(s.State, state) {
				return s
			}
		}
	}
	t.Fatalf("no step says %q in %q", do, state)
	return commission.Step{}
}

// byHand is one supply, one way, one cable, one short tape, all copper at 20 °C.
const byHand = `farend: 1
title: One feed
site: {conductors: 20 °C, exposure: dry, metalwork: none}
supplies: {T1: {part: supply/5v-200w}}
boards: {A1: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/own, pixels: 60}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 2 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/own}
states: {full: {level: 100 %, colour: red}}
parts:
  fuse/own: {title: own, rating: 5 A, resistance: 10 mΩ}
  tape/own:
    title: own
    volts: 5 V
    pixels: 60 /m
    cut_every: 1
    rail: 100 mΩ/m
    channels: {red: {set: {is: 12 mA, spread: 25 %}, lo: 0.5 V, hi: 0.8 V, soft: 0.01 V}}
    idle: {set: {is: 0.5 mA, spread: 50 %}, lo: 0.5 V, hi: 0.8 V, soft: 0.01 V}
    protocol: protocol/single-wire-800k-24
    phase: free
`

func random(seed int64) string {
	return schemetest.Text(schemetest.Random(rand.New(rand.NewSource(seed))), schemetest.AsWritten)
}
