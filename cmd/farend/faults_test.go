package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

// shelf is one run, fed at both ends by unlike cables, on a supply that holds its current: a short at its end goes on, fed from its start.
const shelf = `farend: 1
title: A shelf (invented)
site: {coldest: 20 °C, exposure: dry, metalwork: isolated}
supplies:
  T1: {part: supply/own}
boards:
  A1: {part: board/four-way-two-port}
runs:
  E1: {tape: tape/5v-rgb-60, length: 2 m}
cables:
  W1: {part: cable/flex-2x4, length: 0.5 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x1.5, length: 3 m, from: A1.2, to: E1@end}
fuses:
  A1.1: fuse/blade-7.5A
  A1.2: fuse/blade-7.5A
data:
  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}
states:
  full: {level: 100 %, colour: white}
parts:
  supply/own: {title: own, basis: measured, source: invented, volts: 5 V, amps: 40 A, watts: 200 W, source_resistance: 1 mΩ, limit: constant-current, limit_at: {low: 44 A, high: 60 A}}
`

// The faults of a small scheme as JSON, held to each other and to what the tables say of the same.
func TestTheFaultsOfTheJSONAgree(t *testing.T) {
	path := file(t, shelf)
	v := object(t, exitFindings, "check", "--json", path)
	if at(t, v, "protection", "faults_followed") != true {
		t.Fatal("faults of a small scheme were not followed")
	}
	list, harmed, lasting := at(t, v, "protection", "faults").([]any), 0, 0
	for i, f := range list {
		name := fmt.Sprint(at(t, f, "kind"), " ", at(t, f, "at"), " ", at(t, f, "ohms"))
		if slices.ContainsFunc(list[:i], func(g any) bool {
			return name == fmt.Sprint(at(t, g, "kind"), " ", at(t, g, "at"), " ", at(t, g, "ohms"))
		}) {
			t.Errorf("%s stands there twice", name)
		}
		least, most := at(t, f, "opens_corner", "amps").(float64), at(t, f, "let_through_corner", "amps").(float64)
		if least > most {
			t.Errorf("%s: the least is %g A, the most %g A", name, least, most)
		}
		if (at(t, f, "opens_corner", "clearing_s") == nil) != (at(t, f, "lasts_amps").(float64) > 0) && at(t, f, "kind") == "poles" {
			t.Errorf("%s: %v A last, and it ends within %v", name, at(t, f, "lasts_amps"), at(t, f, "opens_corner", "clearing_s"))
		}
		ok := true
		for _, c := range at(t, f, "conductors").([]any) {
			ok = ok && at(t, c, "ok").(bool)
		}
		if at(t, f, "ok") != ok {
			t.Errorf("%s is %v, though of its conductors all are well: %v", name, at(t, f, "ok"), ok)
		}
		if !ok {
			harmed++
		}
		if at(t, f, "opens_corner", "clearing_s") == nil {
			lasting++
		}
	}
	if harmed == 0 || lasting == 0 || harmed == len(list) {
		t.Errorf("of %d faults %d harm something, %d go on", len(list), harmed, lasting)
	}
	text, _, _ := call("check", path)
	for i := range at(t, v, "protection", "ways").([]any) {
		way := at(t, v, "protection", "ways", i)
		amps, ends := at(t, way, "far_short_amps"), at(t, way, "far_short_at")
		if amps == nil {
			continue
		}
		row := fmt.Sprintf("%v  ", at(t, way, "id"))
		within := "never"
		if slow := at(t, way, "clearing_s", "slow"); slow != nil {
			within = fmt.Sprint(slow)
		}
		line := strings.Split(text[strings.Index(text, "Shorts at the far end"):], "\n")
		k := slices.IndexFunc(line, func(l string) bool { return strings.HasPrefix(l, row) })
		if k < 0 || !strings.Contains(line[k], fmt.Sprint(ends)) || !strings.Contains(line[k], strings.TrimSuffix(fmt.Sprintf("%.1f", amps), ".0")) || !strings.Contains(line[k], within[:min(3, len(within))]) {
			t.Errorf("%v: %v A at %v, within %s: no such line in the table", at(t, way, "id"), amps, ends, within)
		}
	}
}

// Faults stand among the cases where that is asked for: all that are bolted, or one.
func TestFaultsAreCasesWhereThatIsAsked(t *testing.T) {
	path := file(t, shelf)
	names := func(args ...string) []string {
		var list []string
		for _, c := range at(t, object(t, exitFindings, append([]string{"check", "--json", path}, args...)...), "cases").([]any) {
			list = append(list, at(t, c, "name").(string))
		}
		return list
	}
	plain, one := names(), names("--case", "fault/poles/E1@end/dark", "--case", "outage/W2.return/full")
	if want := slices.Concat(plain, []string{"fault/poles/E1@end/dark", "outage/W2.return/full"}); !slices.Equal(one, want) {
		t.Errorf("asked for two more there are %v, want %v", one, want)
	}
	if again := names("--case", "dark"); !slices.Equal(again, plain) {
		t.Errorf("asked for one that is there anyway there are %v", again)
	}
	bolted, all := 0, names("--cases", "all")
	for _, f := range at(t, object(t, exitFindings, "check", "--json", path), "protection", "faults").([]any) {
		if at(t, f, "ohms") == 0.0 && at(t, f, "kind") != "reversed" {
			bolted++
		}
	}
	if len(all) != len(plain)+2*bolted {
		t.Errorf("%d cases, want %d sound ones and two of each of %d bolted faults", len(all), len(plain), bolted)
	}
	for _, wrong := range [][]string{{"--case", "fault/poles/E9@end/dark"}, {"--case", "fault/pole/E1@end/dark"}, {"--cases", "some"}, {"--case", "fault/reversed/W2/dark"}} {
		out, errs, code := call(append([]string{"check", "--json", path}, wrong...)...)
		if code != exitUsage || out != "" || !strings.Contains(errs, "hint: ") {
			t.Errorf("%v: exit code %d, %q, %q", wrong, code, out, errs)
		}
	}
	if _, errs, code := call("check", "--case", "dark", path); code != exitUsage || !strings.Contains(errs, "--json") {
		t.Errorf("--case without --json: exit code %d, %q", code, errs)
	}
}

// Where following takes long it is done when asked, says how far it is, and ends when it is interrupted.
func TestFollowingFaultsIsToldAndEnds(t *testing.T) {
	path := file(t, installation(40, 500, func(int) string { return "rail" }))
	text, _, _ := call("check", path)
	if !strings.Contains(text, "protection/faults") || strings.Contains(text, "Faults, the worst first") {
		t.Error("the faults of 20,000 pixels are followed unasked, or it is not said that they are not")
	}
	for _, after := range []time.Duration{200 * time.Millisecond, 900 * time.Millisecond} {
		out, errs, code, took := interrupted(t, nil, after, "check", "--protection", path)
		if code != exitInterrupted || out != "" || errs != "farend: interrupted\n" || took > soon {
			t.Errorf("interrupted after %v it ends after %v with exit code %d, %d bytes of output, and %q", after, took, code, len(out), errs)
		}
	}
}
