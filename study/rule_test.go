package study_test

import (
	"math"
	"testing"

	"farend/finding"
	"farend/network"
	"farend/study"
)

func TestValuesAreGradedAgainstTheirLimits(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		name                 string
		judge                func(value, limit, spare float64, grade finding.Grade) study.Assessment
		value, limit, margin float64
		want                 finding.Grade
	}{
		{"well below an upper limit", study.Upper, 8, 10, 0.25, finding.Pass},
		{"exactly at the spare below an upper limit", study.Upper, 9, 10, 10.0/9 - 1, finding.Pass},
		{"little below an upper limit", study.Upper, 9.5, 10, 10/9.5 - 1, finding.Tight},
		{"exactly at an upper limit", study.Upper, 10, 10, 0, finding.Tight},
		{"above an upper limit", study.Upper, 12.5, 10, -0.2, finding.Danger},
		{"nothing against an upper limit", study.Upper, 0, 10, none, finding.Pass},
		{"nothing against an upper limit of nothing", study.Upper, 0, 0, none, finding.Pass},
		{"something against an upper limit of nothing", study.Upper, 1, 0, -1, finding.Danger},
		{"no number against an upper limit", study.Upper, math.NaN(), 10, none, finding.Unknown},
		{"a value against no number", study.Upper, 1, math.NaN(), none, finding.Unknown},
		{"an endless value", study.Upper, math.Inf(1), 10, -1, finding.Danger},
		{"well above a lower limit", study.Lower, 12, 10, 0.2, finding.Pass},
		{"little above a lower limit", study.Lower, 10.5, 10, 0.05, finding.Tight},
		{"exactly at a lower limit", study.Lower, 10, 10, 0, finding.Tight},
		{"below a lower limit", study.Lower, 8, 10, -0.2, finding.Danger},
		{"a lower limit of nothing", study.Lower, 1, 0, none, finding.Pass},
		{"no number against a lower limit", study.Lower, math.NaN(), 10, none, finding.Unknown},
	} {
		a := c.judge(c.value, c.limit, 0.1, finding.Danger)
		if a.Grade != c.want || (a.Margin == nil) != math.IsNaN(c.margin) || a.Margin != nil && math.Abs(*a.Margin-c.margin) > 1e-12 {
			t.Errorf("%s: %v, margin %v; want %v, %v", c.name, a.Grade, a.Margin, c.want, c.margin)
		}
	}
}

func TestCasesAreNamedInWords(t *testing.T) {
	for want, c := range map[string]network.Case{
		"state full":              {Kind: network.State, State: "full"},
		"the peak of state full":  {Kind: network.Peak, State: "full"},
		"full drive (cap failed)": {Kind: network.CapFailed},
		"the dark":                {Kind: network.Dark, State: "dark"},
	} {
		if got := study.CaseWords(c); got != want {
			t.Errorf("%+v reads %q, want %q", c, got, want)
		}
	}
}
