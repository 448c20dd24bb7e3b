package protection_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/finding"
	"farend/protection"
)

// shared is a way of 5 A behind which several runs hang.
func shared(runs int, limit string) string {
	var b strings.Builder
	b.WriteString(`farend: 1
title: several runs on one way
site: {ambient: 30 °C, coldest: 20 °C, exposure: dry}
supplies: {T1: {part: supply/own}}
states: {full: {colour: red}}
boards: {A1: {part: board/six-way-three-port}}
junctions: {X1: {part: junction/lever-5}}
fuses: {A1.1: fuse/blade-5A}
runs:
`)
	for i := range runs {
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, length: 2.35 m}\n", i+1)
	}
	b.WriteString("cables:\n  W1: {part: cable/flex-2x6, length: 0.5 m, from: T1, to: A1.in, fuse: fuse/inline-30A}\n  W2: {part: cable/flex-2x2.5, length: 0.5 m, from: A1.1, to: X1}\n")
	for i := range runs {
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x2.5, length: 0.5 m, from: X1, to: E%d@start}\n", i+3, i+1)
	}
	return b.String() + `parts:
  supply/own: {basis: measured, source: invented for this test, title: own, volts: 5 V, source_resistance: 4 mΩ, ` + limit + "}\n"
}

// worstOf is the worst grade that a rule gives a subject.
func worstOf(t *testing.T, text, rule, subject string) finding.Grade {
	t.Helper()
	_, all := judged(t, text)
	worst := finding.Pass
	for _, a := range of(all, rule, subject) {
		worst = max(worst, a.Grade)
	}
	return worst
}

// What else hangs on the fuse of an overloaded part may be dark: it never makes the part any safer.
func TestOneMoreRunNeverImprovesAVerdict(t *testing.T) {
	for _, rule := range protection.Rules() {
		if rule.Name != "protection/rail-current" && rule.Name != "protection/cable-current" {
			continue
		}
		subject := map[string]string{"protection/rail-current": "E1", "protection/cable-current": "W3"}[rule.Name]
		before := finding.Pass
		for runs := 1; runs <= 4; runs++ {
			now := worstOf(t, shared(runs, "limit: constant-current, amps: 100 A, watts: 500 W, limit_at: {low: 110 A, high: 120 A}"), rule.Name, subject)
			if now < before {
				t.Errorf("%s of %s is %v with %d runs, and was %v with fewer", rule.Name, subject, now, runs, before)
			}
			before = max(before, now)
		}
		if rule.Name == "protection/rail-current" && before != finding.Danger {
			t.Errorf("an overload of the rails is %v", before)
		}
	}
}

// With the cap failed copper has to bear the unit with the highest limit, which need not do what its part says it does: no behaviour
// makes a verdict better than one that holds its current.
func TestWhatASupplyDoesAtItsLimitSparesCopperNothing(t *testing.T) {
	const band = ", amps: 12 A, watts: 60 W, limit_at: {low: 13 A, high: 18 A}"
	want := worstOf(t, shared(3, "limit: constant-current"+band), "protection/rail-current", "E1")
	for _, limit := range []string{"limit: latch-off", "limit: hiccup, pulse_on: 1 s, pulse_off: 7 s", "limit: fold-back, fold_to: 10 %", "limit: boost, boost: 120 %, then: latch-off"} {
		if got := worstOf(t, shared(3, limit+band), "protection/rail-current", "E1"); got != want || got != finding.Danger {
			t.Errorf("%s: %v, want %v and danger", limit, got, want)
		}
	}
}
