package protection_test

import (
	"fmt"
	"math"
	"testing"

	"farend/finding"
	"farend/internal/reference"
	"farend/internal/schemetest"
	"farend/study"
)

// Rows on what may be touched: just within each limit a supply passes, just above it is a danger.
func TestVoltageWithinReachIsWhatTheRowsAllow(t *testing.T) {
	rule := ruleNamed(t, "protection/touch-voltage")
	for _, c := range []struct{ clause, topic, requirement, exposure string }{
		{"414.4.5", "basic protection", "not required in dry conditions if SELV/PELV at most", "dry"},
		{"414.4.5", "basic protection", "not required in all other conditions if at most", "damp"},
		{"411.3", "voltage", "maximum operating voltage, dry", "dry"},
		{"411.3", "voltage", "maximum where wet contact is likely", "outdoors"},
		{"Chapter 9 Tables 11 note 2/4", "Class 2 wet contact", "Vmax for continuous DC where wet contact is likely", "immersed"},
		{"8.2.3 c)", "luminaire SELV", "the same for luminaires other than ordinary (IP-rated): nominal voltage at most", "outdoors"},
		{"715.521.106", "bare conductors", "nominal voltage not above", "dry"},
	} {
		most := math.NaN()
		for _, r := range reference.Rows(t, "elv_lighting.csv") {
			if r["clause"] == c.clause && r["topic"] == c.topic && r["requirement"] == c.requirement && r["unit"] == "V DC" {
				most = reference.Number(t, r, "value")
			}
		}
		for volts, want := range map[float64]finding.Grade{most/1.02 - 0.01: finding.Pass, most/1.02 + 0.01: finding.Danger} { // the set point spreads by 2 %
			s := schemetest.Changed(t, "testdata/touch.scheme.yaml", "exposure: outdoors", "exposure: "+c.exposure, "volts: {is: 48 V, spread: 2 %}", fmt.Sprintf("volts: {is: %.9f V, spread: 2 %%}", volts))
			a, ok := assessed(s.Assess([]study.Rule{rule}), rule.Name, "T1", "")
			if !ok || a.Grade != want || math.Abs(*a.Limit-most) > 1e-12 {
				t.Errorf("%s, %s: %v V %s is %s against %v, want %s against %v V", c.clause, c.requirement, volts, c.exposure, a.Grade, *a.Limit, want, most)
			}
		}
	}
}

func TestVoltageWithinReachIsUnknownWhereNobodySaysHowWetItIs(t *testing.T) {
	rule := ruleNamed(t, "protection/touch-voltage")
	for volts, want := range map[string]finding.Grade{"24 V": finding.Pass, "48 V": finding.Unknown, "72 V": finding.Danger} {
		s := schemetest.Changed(t, "testdata/touch.scheme.yaml", "site: {exposure: outdoors}\n", "", "volts: {is: 48 V, spread: 2 %}", "volts: {is: "+volts+", spread: 2 %}")
		if a, ok := assessed(s.Assess([]study.Rule{rule}), rule.Name, "T1", ""); !ok || a.Grade != want {
			t.Errorf("%s is %s, want %s", volts, a.Grade, want)
		}
	}
}
