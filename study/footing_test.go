package study_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

// made is an assessment by hand: of a rule, with a margin, on numbers.
func made(rule, subject string, grade finding.Grade, margin float64, numbers ...study.Number) study.Assessed {
	a := study.Assessment{Grade: grade, Margin: &margin}.On(func() []study.Number { return numbers })
	return study.Assessed{Rule: &study.Rule{Name: rule}, Subject: subject, Assessment: a}
}

func shown(f study.Footing) string {
	var b strings.Builder
	for _, c := range f.Bases {
		fmt.Fprintf(&b, "%d %s\n", c.Numbers, c.Basis)
	}
	fmt.Fprintf(&b, "%d by wiring\n", f.Wiring)
	for _, l := range f.Weakest {
		fmt.Fprintf(&b, "%s|%s|%s|%s|%v|%s|%s|%s\n", l.Part, strings.Join(l.Keys, " "), l.Basis, l.Input, l.Spread, strings.Join(l.Holds, " "), l.Grade, strings.Join(l.Firm, "; "))
	}
	return b.String()
}

// Counted is what decides: every finding that is tight or worse, and of every rule the tightest pass with a margin under 1.
func TestFootingCountsWhatDecides(t *testing.T) {
	st, err := study.New(t.Context(), footbridge(t), nil)
	if err != nil {
		t.Fatal(err)
	}
	const tape = "tape/5v-rgb-60"
	number := func(part, key string, basis parts.Basis, source string, spread float64) study.Number {
		return study.Number{Part: part, Key: key, Basis: basis, Source: source, Spread: parts.Spread{Low: -spread, High: spread}}
	}
	rail := number(tape, "rail", parts.Derived, "a formula; weakest input: assumed width; see there", 0)
	red, blue := number(tape, "channels.red.lo", parts.Memory, "", 0), number(tape, "channels.blue.lo", parts.Memory, "", 0)
	iz, set := number("cable/flex-2x2.5", "r20", parts.Standard, "", 0), number(tape, "channels.red.set", parts.Datasheet, "", 0.35)
	steady := number("supply/5v-300w", "amps", parts.Datasheet, "", 0.2)
	rule := number("", "1.2 times a rating", parts.Practice, "common practice", 0)
	air := number("", "site.ambient", parts.Unstated, "not said", 0)
	got := st.Footing([]study.Assessed{
		made("a/x", "E1", finding.Fails, -0.2, rail, red, iz),
		made("a/x", "E1", finding.Tight, 0.1, number(tape, "volts", parts.Memory, "", 0)), // the worst of its subject counts
		made("a/x", "E2", finding.Fails, -0.1, rail, blue, rule),
		made("a/y", "E1", finding.Fails, -0.1),
		made("a/z", "T1", finding.Unknown, 0),
		made("b/x", "W1", finding.Pass, 0.5, number("cable/flex-2x4", "iz.conduit", parts.Memory, "", 0)), // not the tightest
		made("b/x", "W2", finding.Pass, 0.2, iz, set, air),
		made("b/y", "W1", finding.Pass, 1.0, number("cable/flex-2x6", "iz.conduit", parts.Memory, "", 0)), // far from its limit
		made("b/z", "T1", finding.Note, 0, number("supply/5v-300w", "volts", parts.Memory, "", 0)),        // decides nothing
		made("b/w", "T1", finding.Pass, 0.9, steady, rail),
	})
	want := `1 standard
2 datasheet
1 derived
1 practice
2 memory
1 unstated
1 by wiring
tape/5v-rgb-60|channels.red.lo channels.blue.lo|memory||false|a/x:E1 a/x:E2|fails|measure the voltage at which a single pixel visibly dims, in each colour
|1.2 times a rating|practice||false|a/x:E2|fails|
tape/5v-rgb-60|rail|derived|assumed width|false|a/x:E1 a/x:E2 b/w:T1|fails|RAIL
|site.ambient|unstated||false|b/x:W2|pass|measure the hottest air around cables and boards, and write it under site
tape/5v-rgb-60|channels.red.set|datasheet||true|b/x:W2|pass|SET
`
	part, _ := parts.Get[parts.Tape](st.Scheme.Library, tape)
	want = strings.NewReplacer("RAIL", "measure "+string(part.Measure["rail"]), "SET", "measure "+string(part.Measure["set"])).Replace(want)
	if part.Measure["rail"] == "" || part.Measure["set"] == "" {
		t.Fatal("the tape says nothing of what to measure")
	}
	if text := shown(got); text != want {
		t.Errorf("got\n%s\nwant\n%s", text, want)
	}
	if text := shown(st.Footing(nil)); text != "0 by wiring\n" {
		t.Errorf("of nothing: %s", text)
	}
}

// What decides the voltage of a run is what loses a tenth of the loss or more: here the rail, not the millivolts of the supply.
func TestWhatDropsMostDecides(t *testing.T) {
	st, _ := example(t, "footbridge-two-feeds.scheme.yaml")
	var keys []string
	for _, n := range st.Dropped(st.Cases()[0], "E1") {
		keys = append(keys, n.String())
	}
	for key, want := range map[string]bool{
		"supply/5v-300w volts": true, "tape/5v-rgb-60 rail": true, "tape/5v-rgb-60 channels.red.set": true, "cable/flex-2x4 r20": false,
		"tape/5v-rgb-60 joint": false, "board/six-way-three-port inlet.resistance": false,
	} {
		if slices.Contains(keys, key) != want {
			t.Errorf("%s decides: %v, want %v (%v)", key, !want, want, keys)
		}
	}
	var drawn []string
	for _, n := range st.Draw(st.Cases()[len(st.Cases())-1], []string{"E1"}) { // the dark
		drawn = append(drawn, n.String())
	}
	if !slices.Equal(drawn, []string{"tape/5v-rgb-60 idle.set"}) {
		t.Errorf("in the dark the draw rests on %v", drawn)
	}
}
