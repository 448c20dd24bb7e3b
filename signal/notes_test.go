package signal_test

import (
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/signal"
	"farend/study"
)

// graded lists the subjects to which a rule gives a grade in a scheme, with texts of it replaced first.
func graded(t *testing.T, scheme, rule string, grade finding.Grade, pairs ...string) string {
	t.Helper()
	s := schemetest.Changed(t, "testdata/"+scheme+".scheme.yaml", pairs...)
	var subjects []string
	for _, f := range s.Findings(s.Assess(signal.Rules())) {
		if f.Rule == rule && f.Grade == grade {
			subjects = append(subjects, f.Subject)
		}
	}
	slices.Sort(subjects)
	return strings.Join(subjects, " ")
}

// Notes may come unasked in schemes that say what should be found; here each of them is there, and no other is.
func TestNotesAreThoseAndNoOthers(t *testing.T) {
	for _, c := range []struct {
		scheme, rule string
		grade        finding.Grade
		want         string
		pairs        []string
	}{
		{"common-return", "signal/lead-ground", finding.Note, "D2", nil}, // of D3 signal/common-return speaks
		{"sound", "signal/lead-ground", finding.Note, "", nil},
		{"backup", "signal/backup-line", finding.Note, "D1 D4", nil},
		{"backup", "signal/backup-line", finding.Unknown, "D2", []string{"cable/data-cat5e-pair", "choose"}},
		{"backup", "signal/backup-line", finding.Tight, "", []string{"part: cable/data-cat5e-pair, length: 1 m, from: E1, to: E2", "part: cable/data-cat5e-pair, length: 1 m, from: E1, to: E2, ground: open"}}, // data and backup have a core each
		{"backup", "signal/backup-line", finding.Tight, "D2", []string{"part: cable/data-cat5e-pair, length: 1 m, from: E1, to: E2", "part: cable/data-3x0.5, length: 1 m, from: E1, to: E2, power: yes"}},
		{"backup", "signal/backup-line", finding.Note, "D4", []string{"from: A1.P1, to: E1", "from: A1.P1, to: E4", "from: E3, to: E4", "from: E4, to: E1"}}, // the chain begins behind a run without one
		{"sound", "signal/backup-line", finding.Note, "", nil},
		{"waking", "signal/waking", finding.Note, "tape/blue tape/playing", nil},
		{"unpowered", "signal/unpowered-input", finding.Note, "D2", nil},
		{"unpowered", "signal/unpowered-input", finding.Tight, "D1 D3 D6", nil},
		{"unpowered", "signal/unpowered-input", finding.Tight, "D1 D3", []string{"  Q7: {part: relay/load-16A-12V, in: W8}\n", ""}}, // its end feeds E6 on
		{"unpowered", "signal/unpowered-input", finding.Tight, "D3 D6", []string{"  Q1: {part: relay/load-16A-12V, in: W2}\n", "  Q1: {part: relay/load-16A-12V, in: W1}\n"}},
		{"reach", "signal/reach", finding.Tight, "D4 D5 D7", []string{"length: 3 m, from: E6", "length: 3.01 m, from: E6"}},
		{"reach", "signal/reach", finding.Tight, "D4 D5 D6", []string{", buffer: {part: buffer/ahct-5v, at: from}", ", buffer: {part: buffer/ahct-5v, at: to}"}},
	} {
		if got := graded(t, c.scheme, c.rule, c.grade, c.pairs...); got != c.want {
			t.Errorf("%s %v: %s has %s of %q, want %q", c.scheme, c.pairs, c.rule, c.grade, got, c.want)
		}
	}
}

// Every lead of every scheme is judged by every rule of leads: what passes says so, too.
func TestEveryLeadIsJudged(t *testing.T) {
	for _, path := range schemetest.Paths(t, "testdata/*.scheme.yaml") {
		s := schemetest.Study(t, path)
		for _, r := range signal.Rules() {
			if r.Scope != study.Leads || r.Name == "signal/levels" {
				continue
			}
			for id := range s.Scheme.Data {
				if len(r.Judge(s, id)) == 0 {
					t.Errorf("%s: %s says nothing of %s", path, r.Name, id)
				}
			}
		}
	}
}
