package protection_test

import (
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/study"
)

// One thing after the other is made as it should be, until all passes; then the place gets wetter.
func TestWeatherIsJudgedThingByThing(t *testing.T) {
	rule := ruleNamed(t, "protection/weather")
	w1, w2 := "to: E1@start, suits: damp", "to: E2@start}"
	e1, place, box := "ip: 20", "exposure: outdoors", "holds: [T1, A1]"
	good := []string{w1, "to: E1@start, suits: outdoors", w2, "to: E2@start, suits: outdoors}", e1, "ip: 67"}
	with := func(more ...string) []string { return append(append([]string{}, good...), more...) }
	for _, c := range []struct {
		what  string
		pairs []string
		want  finding.Grade
		says  string
	}{
		{"as it is", nil, finding.Fails, "Not made for it: W1 (for damp) and E1 (IP20)"},
		{"without the unfit", []string{w1, "to: E1@start, suits: outdoors", e1, "ip: 67"}, finding.Unknown, "Nobody says whether these are made for it: W2."},
		{"all as it should be", good, finding.Pass, ""},
		{"a run that keeps out spray", append(good[:4:4], e1, "ip: 23"), finding.Tight, "Hardly made for it: E1 (IP23)."},
		{"a run that says nothing", append(good[:4:4], ", ip: 20", ""), finding.Unknown, "Nobody says whether these are made for it: E1."},
		{"without the box", with(box, "holds: [A1]"), finding.Unknown, "Nobody says whether these are made for it: W4; in no enclosure of the scheme: T1."},
		{"damp, where sheaths may say nothing", []string{place, "exposure: damp", e1, "ip: 20"}, finding.Fails, "Not made for it: E1 (IP20)."},
		{"damp, all as it should be", []string{place, "exposure: damp", e1, "ip: 22"}, finding.Pass, ""},
		{"under water", with(place, "exposure: immersed"), finding.Fails, "Not made for it: W1 (for outdoors), W2 (for outdoors), W3 (for outdoors) and E2 (IP65); hardly made for it: E1 (IP67)."},
		{"dry", []string{place, "exposure: dry"}, finding.Pass, ""},
		{"nobody says how wet", []string{"site: {exposure: outdoors}\n", ""}, finding.Unknown, "The scheme does not say how wet the site is"},
		{"nobody says how wet, and all is as it should be outdoors", with("site: {exposure: outdoors}\n", ""), finding.Unknown, "The scheme does not say how wet the site is"},
	} {
		s := schemetest.Changed(t, "testdata/weather.scheme.yaml", c.pairs...)
		a, ok := assessed(s.Assess([]study.Rule{rule}), rule.Name, "", "")
		if !ok || a.Grade != c.want || c.says != "" && !strings.Contains(a.Text, c.says) {
			t.Errorf("%s: %s %q, want %s %q", c.what, a.Grade, a.Text, c.want, c.says)
		}
	}
}
