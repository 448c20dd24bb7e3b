package main

import (
	"strings"
	"testing"
)

// A case that is not there is answered by what is like it, or by what there is.
func TestNamesOfCasesAreHintedAt(t *testing.T) {
	for name, want := range map[string]string{
		"state/ful":                          "did you mean state/full?",
		"state/midnight":                     "this scheme has state/dusk, peak/dusk, state/full, ",
		"fault/pole/E1@start/dark":           "did you mean poles?",
		"fault/poles/E1@strat/dark":          "did you mean E1@start?",
		"fault/poles/E1@px9999/dark":         `"E1@px9999" is no place of such a fault; there are E1@end, E1@`,
		"fault/poles/Z/dark":                 `"Z" is no place of such a fault; there are `,
		"fault/poles/E1@start/drak":          "did you mean dark?",
		"fault/bridge/E1@start+nowhere/dark": `"nowhere" is no place of such a fault; there are `,
		"fault/open/E9/dark":                 `"E9" is no place of such a fault; there are E1, E2`,
		"fault/reversed/W2/dark":             "farend netlist --case fault/reversed/W2/dark FILE",
		"fault/reversed/nothing/dark":        `"nothing" is no cable; there are `,
		"outage/W2.plux/dark":                "did you mean W2.plus?",
		"outage/W2.plus/x":                   `"x" is no condition that it may happen in; there are dark, cap-failed, `,
		"fault":                              "this scheme has ",
		"fault//":                            `"" is no kind of fault; there are poles, metal, data, bridge, open, reversed`,
	} {
		_, errs, code := call("check", "--json", "--case="+name, "../../examples/footbridge.scheme.yaml")
		flat := strings.Join(strings.Fields(errs), " ")
		if code != exitUsage || !strings.Contains(flat, "hint: "+want) {
			t.Errorf("%q: %d, %s", name, code, errs)
		}
	}
}
