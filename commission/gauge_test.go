package commission

import (
	"strings"
	"testing"

	"farend/layout"
	"farend/unit"
)

// Wire of 12 AWG has 3.31 mm² (ASTM B258) in the place of 2.5 mm² and reads 0.755 of it: a bad joint that would be seen in a band from 160 to 210 mΩ, as
// 50 mΩ more than what it is wide, would not be once the lower end is 121 mΩ.
func TestABadJointInWireByGauge(t *testing.T) {
	const area = 2.5e-6
	f := &form{section: func(v unit.SquareMetre) string { return v.Gauge() }}
	s := Step{Section: area, Reading: &Reading{Kind: Ohms, Is: 0.185, Low: 0.165, High: 0.21}}
	s.Joint = s.Reading.joint(driven, 0.05)
	f.Steps = []Step{s}
	if text := f.gauges(); !strings.Contains(text, "(2.5"+layout.Thin+"mm²): ×"+layout.Thin+"0.75") {
		t.Error(text)
	}
	if got := f.jointByGauge(s).Seen; s.Joint.Seen != Seen || got == Seen {
		t.Errorf("in mm² it %s, by gauge it %s", s.Joint.Seen, got)
	}
	f.section = func(v unit.SquareMetre) string { return layout.Nominal(v) }
	if f.gauges() != "" || f.jointByGauge(s).Seen != Seen {
		t.Error("pages that name wire in mm² speak of gauges")
	}
}
