package rulebook_test

import (
	"math"
	"strings"
	"testing"

	"farend/internal/schemetest"
	"farend/internal/sums"
	"farend/network"
	"farend/parts"
	"farend/rulebook"
	"farend/study"
)

// An instance is where the example of a rule stands as a scheme: a file of its room's testdata, and what is judged there in which
// case.
type instance struct{ scheme, subject, in string }

func instances() map[string]instance {
	return map[string]instance{
		"survey/reach":                   {"stair", "D2", ""},
		"survey/run":                     {"stair", "E4", ""},
		"protection/cable-current":       {"bundle", "W1", "state/full"},
		"protection/fuse-load":           {"fuses", "A1.1", "state/full"},
		"protection/inline-fuse-load":    {"fuses", "W1", "state/full"},
		"protection/way-fuse":            {"fuses", "A1.3", ""},
		"protection/source-fuse":         {"source", "W1", ""},
		"protection/fuse-volts":          {"breaking", "W1", ""},
		"protection/fuse-breaking":       {"breaking", "A1.1", ""},
		"protection/coordination":        {"coordination", "W3", ""},
		"protection/nuisance":            {"starts", "A1.1", ""},
		"protection/faults":              {"ended", "", ""},
		"protection/far-short":           {"faults/leads", "A1.1", "fault/poles/E1@start/cap-failed"},
		"protection/short-heat":          {"faults/rails", "E1", ""},
		"protection/silent-power":        {"faults/leads", "", "fault/poles/W1@from/dark"},
		"protection/lost-return":         {"faults/lost", "D2", "outage/A1.1.return/cap-failed"},
		"protection/lost-conductor":      {"faults/lost", "A2.2", "outage/A2.1.return/cap-failed"},
		"protection/back-feed":           {"faults/lost", "A2.1", ""},
		"protection/bridged-volts":       {"faults/volts", "E1", "fault/bridge/E3@start+E1@start/cap-failed"},
		"protection/discrimination":      {"faults/leads", "W6", "fault/poles/E5@end/dark"},
		"signal/levels":                  {"low", "D1", "state/full"},
		"signal/ground-current":          {"current", "D1", "state/full"},
		"signal/buffer":                  {"buffers", "D1", ""},
		"signal/clock-core":              {"clocked", "D1", ""},
		"signal/edges":                   {"edges", "D1", "state/full"},
		"signal/levels-at-cuts":          {"low", "E3", "state/full"},
		"signal/frame-rate":              {"frames", "A1.P1", ""},
		"signal/refresh":                 {"bands", "tape/slow", ""},
		"protection/supply-load":         {"peak", "T3", "peak/half"},
		"protection/supply-start":        {"limits", "T7", "state/full"},
		"protection/idle-supply":         {"limits", "T9", "dark"},
		"protection/parallel-supplies":   {"parallel", "T1", ""},
		"protection/unequal-supplies":    {"unequal", "T2", ""},
		"protection/rail-current":        {"loose", "E1", "state/full"},
		"protection/tape-voltage":        {"voltage", "E6", ""},
		"protection/data-return":         {"returns", "E1", ""},
		"protection/data-power":          {"loose", "D1", ""},
		"protection/loose-cable":         {"loose", "W4", ""},
		"protection/not-chosen":          {"open", "", ""},
		"protection/operating-point":     {"no-world", "", "state/full"},
		"protection/voltage-drop":        {"drop", "W1", "state/full"},
		"protection/touch-voltage":       {"touch", "T1", ""},
		"protection/self-resetting":      {"limited", "T7", ""},
		"protection/limited-power":       {"limited", "T1", ""},
		"protection/output-circuit":      {"limited", "T4", ""},
		"protection/protective-measures": {"sound", "", ""},
		"protection/weather":             {"weather", "", ""},
		"protection/beside-mains":        {"beside", "D1", ""},
		"board/enclosure-degree":         {"wet", "B1", ""},
		"protection/smallest-conductor":  {"thin", "W1", ""},
		"protection/smallest-core":       {"thin", "D1", ""},
		"board/inlet-current":            {"contacts", "A1", "state/full"},
		"board/way-current":              {"contacts", "A1.2", "state/full"},
		"board/port-ground":              {"grounds", "D3", "state/full"},
		"board/junction-current":         {"junctions", "X1", "state/full"},
		"board/junction-fit":             {"junctions", "X2", ""},
		"board/connector-current":        {"connectors", "W1", "state/full"},
		"board/connector-fit":            {"connectors", "W2", ""},
		"board/contactor-current":        {"contactors", "Q1", "state/full"},
		"board/rated-volts":              {"volts", "A1", ""},
		"signal/no-data":                 {"untold", "E3", ""},
		"signal/common-return":           {"common-return", "D3", ""},
		"signal/lead-ground":             {"common-return", "D2", ""},
		"signal/mixed-chain":             {"unlike", "A1.P1", ""},
		"signal/waking":                  {"waking", "tape/playing", ""},
		"signal/reach":                   {"reach", "D2", ""},
		"signal/backup-line":             {"backup", "D2", ""},
		"signal/unpowered-input":         {"unpowered", "D1", ""},
		"light/unfed-run":                {"unfed", "E2", ""},
		"light/pixel-voltage":            {"drop", "E1", "state/full"},
		"light/evenness":                 {"even", "E1", "state/full"},
		"light/colour-shift":             {"far-end", "E1", "state/full"},
		"light/typical-tape":             {"far-end", "tape/5v-rgb-60", ""},
	}
}

// Every sum of every example is right, and the rule judges the example's scheme as the example says.
func TestExamplesAreWorkedOutAndJudgedAsTheySay(t *testing.T) {
	for _, room := range rulebook.Rooms() {
		for _, r := range room.Rules {
			for _, line := range r.Doc.Example.Sums {
				if err := sums.Holds(line); err != nil {
					t.Errorf("%s: %v", r.Name, err)
				}
			}
			at, known := instances()[r.Name]
			if !known {
				t.Errorf("the example of %s stands in no scheme", r.Name)
				continue
			}
			s := schemetest.Study(t, "../"+room.Name+"/testdata/"+at.scheme+".scheme.yaml")
			if !judged(t, r, r.Judge(s, at.subject), at.in) {
				t.Errorf("%s does not judge %s of %s in %q as its example says: %s against %s, %s", r.Name, at.subject, at.scheme, at.in, r.Doc.Example.Value, r.Doc.Example.Limit, r.Doc.Example.Grade)
			}
		}
	}
}

// judged reports whether one of the assessments in a case is that of the rule's example.
func judged(t *testing.T, r study.Rule, all []study.Assessment, in string) bool {
	t.Helper()
	e := r.Doc.Example
	for _, a := range all {
		if a.Case != in || a.Grade != e.Grade || (a.Value == nil) != (e.Value == "") {
			continue
		}
		if a.Value == nil || is(t, r, e.Value, *a.Value) && is(t, r, e.Limit, *a.Limit) {
			return true
		}
	}
	return false
}

// is reports whether a printed quantity is a number in SI, to the last figure printed.
func is(t *testing.T, r study.Rule, text string, value float64) bool {
	t.Helper()
	q, err := sums.Worth(text)
	if err != nil {
		t.Errorf("%s: %v", r.Name, err)
	}
	return math.Abs(q.Value-value) <= q.Slack*(1+1e-9)
}

// What examples borrow from the catalogue is what the catalogue states.
func TestExamplesBorrowWhatTheCatalogueStates(t *testing.T) {
	library := parts.Catalogue()
	for _, c := range []struct{ rule, part, key, text string }{
		{"protection/cable-current", "cable/stranded-2x1.5", "iz.conduit", "16.5 A"},
		{"protection/way-fuse", "cable/flex-2x2.5", "iz.conduit", "20 A"},
		{"protection/way-fuse", "supply/5v-300w", "limit_at.high", "84 A"},
		{"protection/data-power", "supply/5v-300w", "limit_at.high", "84 A"},
		{"protection/data-power", "cable/data-3x0.5", "iz.conduit", "3 A"},
		{"protection/data-return", "cable/data-3x0.5", "r20", "39 mΩ"}, // of one metre
		{"protection/data-return", "board/six-way-three-port", "ports.P1.ground", "5 mΩ"},
		{"protection/data-return", "fuse/ptc-0.75A", "resistance", "0.4 Ω"},
		{"protection/parallel-supplies", "supply/5v-300w", "source_resistance", "1.67 mΩ"},
		{"protection/parallel-supplies", "cable/flex-2x2.5", "r20", "7.98 mΩ"},
		{"board/inlet-current", "board/six-way-three-port", "inlet.amps", "40 A"},
		{"board/junction-current", "junction/lever-3", "amps", "20 A"},
		{"board/connector-current", "connector/pluggable-5.08mm", "amps", "12 A"},
		{"board/connector-current", "cable/flex-2x2.5", "iz.conduit", "20 A"},
		{"board/contactor-current", "relay/load-16A-12V", "amps", "16 A"},
		{"board/connector-fit", "connector/pluggable-5.08mm", "area_max", "2.5 mm²"},
		{"light/pixel-voltage", "supply/5v-300w", "source_resistance", "1.667 mΩ"},
		{"light/typical-tape", "tape/5v-rgb-60", "rail", "100 mΩ/m"},
		{"light/typical-tape", "tape/5v-rgbw-60", "rail", "186 mΩ/m"},
	} {
		r, _ := rulebook.Named(c.rule)
		e := r.Doc.Example
		if !strings.Contains(strings.Join(append(e.Given, e.Sums...), " ")+e.Says, c.text) {
			t.Errorf("%s borrows no %s", c.rule, c.text)
		}
		part, _ := library.Find(c.part)
		stated := ""
		for _, f := range parts.Facts(part) {
			if f.Key == c.key {
				stated = f.Text
			}
		}
		want, err := sums.Worth(c.text)
		got, err2 := sums.Worth(strings.TrimSuffix(stated, "/m"))
		if err != nil || err2 != nil || math.Abs(got.Value-want.Value) > got.Slack+want.Slack {
			t.Errorf("%s says %s; %s states %s %q (%v, %v)", c.rule, c.text, c.part, c.key, stated, err, err2)
		}
	}
}

// What the examples of light take from a solved run is what is solved there.
func TestExamplesTakeWhatIsSolved(t *testing.T) {
	run := func(scheme string) network.Run {
		return schemetest.Study(t, "../light/testdata/"+scheme+".scheme.yaml").Result("state/full").Runs["E1"]
	}
	even, far := run("even"), run("far-end")
	for _, c := range []struct {
		rule, text string
		value      float64
	}{
		{"light/evenness", "11.969 V", float64(even.VoltsHigh)}, {"light/evenness", "11.254 V", float64(even.VoltsLow)},
		{"light/colour-shift", "0.1701", far.U}, {"light/colour-shift", "0.4132", far.V}, {"light/colour-shift", "0.3873", far.DimU}, {"light/colour-shift", "0.4995", far.DimV},
	} {
		r, _ := rulebook.Named(c.rule)
		if !strings.Contains(r.Doc.Example.Given[0], c.text) || !is(t, r, c.text, c.value) {
			t.Errorf("%s takes %s, solved is %v", c.rule, c.text, c.value)
		}
	}
}
