package protection_test

import (
	"math"
	"testing"

	"farend/finding"
	"farend/internal/reference"
	"farend/internal/schemetest"
	"farend/study"
)

const (
	general  = "general (seen in the 2006 German edition; the 2011 edition revised this clause, that the number stayed is memory)"
	flexible = "flexible cable not longer than 3 m (seen in the 2006 German edition; the 2011 edition revised this clause, that the number stayed is memory)"
)

// The rows of IEC 60364-7-715, 715.524 and of IEC 60364-5-52, table 52.2: what meets a row and what just does not.
func TestCoresAreAsThickAsTheRowsAsk(t *testing.T) {
	rule := ruleNamed(t, "protection/smallest-conductor")
	for _, c := range []struct {
		clause, requirement string // of the row that decides
		part, length        string
		want                finding.Grade
	}{
		{"715.524", general, "stranded-2x1.5", "1 m", finding.Pass},
		{"715.524", general, "stranded-2x1", "1 m", finding.Tight},
		{"715.524", general, "flex-2x1.5", "30 m", finding.Pass},
		{"715.524", general, "flex-2x1", "3.1 m", finding.Tight},
		{"715.524", flexible, "flex-2x1", "3 m", finding.Pass},
		{"715.524", flexible, "flex-2x0.75", "3 m", finding.Tight},
		{"Table 52.2", "ELV flexible for special applications, copper", "flex-2x0.75", "9 m", finding.Tight},
		{"Table 52.2", "ELV flexible for special applications, copper", "flex-2x0.5", "1 m", finding.Fails},
		{"Table 52.2", "ELV flexible for special applications, copper", "stranded-2x0.5", "1 m", finding.Fails},
	} {
		topic := "minimum copper area"
		if c.clause == "Table 52.2" {
			topic = "minimum area"
		}
		asked := reference.Number(t, row(t, c.clause, topic, c.requirement), "value") * 1e-6
		s := schemetest.Changed(t, "testdata/thin.scheme.yaml", "W1: {part: cable/flex-2x1, length: 4 m", "W1: {part: cable/"+c.part+", length: "+c.length)
		a, ok := assessed(s.Assess([]study.Rule{rule}), rule.Name, "W1", "")
		if !ok || a.Grade != c.want {
			t.Errorf("%s of %s is %s, want %s", c.length, c.part, a.Grade, c.want)
			continue
		}
		if c.clause == "715.524" && math.Abs(*a.Limit-asked) > 1e-15 {
			t.Errorf("%s of %s is held against %v m², the row asks %v m²", c.length, c.part, *a.Limit, asked)
		}
		if met := *a.Value >= asked*(1-1e-9); met != (a.Grade < finding.Tight) && c.clause == "715.524" || met != (a.Grade < finding.Fails) && c.clause == "Table 52.2" {
			t.Errorf("%s of %s meets the row: %v; it is %s", c.length, c.part, met, a.Grade)
		}
	}
}

func TestCoresOfLeadsAreAsThickAsTheRowAsks(t *testing.T) {
	rule := ruleNamed(t, "protection/smallest-core")
	asked := reference.Number(t, row(t, "Table 52.2", "minimum area", "signalling for electronic equipment"), "value")
	for area, want := range map[string]finding.Grade{"0.08 mm²": finding.Fails, "0.1 mm²": finding.Pass, "0.14 mm²": finding.Pass} {
		s := schemetest.Changed(t, "testdata/thin.scheme.yaml", "area: 0.08 mm²", "area: "+area)
		a, ok := assessed(s.Assess([]study.Rule{rule}), rule.Name, "D1", "")
		if !ok || a.Grade != want || math.Abs(*a.Limit-asked*1e-6) > 1e-15 {
			t.Errorf("%s is %s against %v, want %s against %v mm²", area, a.Grade, *a.Limit, want, asked)
		}
	}
}
