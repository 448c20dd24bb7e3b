package remedy_test

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
)

// rule is one that judges every way, with an edit for each.
func rule(name string, grade func(s *study.Study, way string) finding.Grade, fix func(s *study.Study, way string) []finding.Edit) study.Rule {
	return study.Rule{Name: name, Scope: study.Ways, Judge: func(s *study.Study, way string) []study.Assessment {
		g := grade(s, way)
		return []study.Assessment{study.Assessment{Grade: g}.Say(name+" "+way, "").Fixed(func() []finding.Edit { return fix(s, way) })}
	}}
}

// six is a board of six ways, each with a fuse and a feed.
const six = `farend: 1
title: Six ways   # and a comment
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/six-way-three-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 100}}
cables:
  W1: {part: cable/flex-2x6, length: 0.6 m, from: T1, to: A1.in, fuse: fuse/inline-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@px20}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E1@px40}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.4, to: E1@px60}
  W6: {part: cable/flex-2x2.5, length: 1 m, from: A1.5, to: E1@px80}
  W7: {part: cable/flex-2x2.5, length: 1 m, from: A1.6, to: E1@end}
fuses:
  A1.1: fuse/blade-7.5A
  A1.2: fuse/blade-7.5A
  A1.3: fuse/blade-7.5A
  A1.4: fuse/blade-7.5A
  A1.5: fuse/blade-7.5A
  A1.6: fuse/blade-7.5A
states: {full: {level: 50 %}}
`

func board(t *testing.T) *study.Study {
	t.Helper()
	sch, mistakes := scheme.Read("six.scheme.yaml", []byte(six), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func mend(t *testing.T, rules ...study.Rule) *remedy.Mended {
	t.Helper()
	m, err := remedy.Mend(t.Context(), board(t), []byte(six), rules, func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func fuse(s *study.Study, way string) string { return s.Scheme.Fuses[way] }

func to(part string) func(*study.Study, string) []finding.Edit {
	return func(_ *study.Study, way string) []finding.Edit {
		return []finding.Edit{{Path: finding.Pointer("fuses", way), Value: part}}
	}
}

func unless(grade finding.Grade, part string) func(*study.Study, string) finding.Grade {
	return func(s *study.Study, way string) finding.Grade {
		if fuse(s, way) == part {
			return finding.Pass
		}
		return grade
	}
}

func TestAllThatTouchesNoOtherIsMendedAtOnce(t *testing.T) {
	m := mend(t, rule("a", unless(finding.Fails, "fuse/blade-10A"), to("fuse/blade-10A")))
	if len(m.Steps) != 6 || m.Rounds != 1 || !m.Settled || len(m.Findings) != 0 || len(m.Left) != 0 {
		t.Errorf("%d steps in %d rounds, settled: %v, left %v", len(m.Steps), m.Rounds, m.Settled, m.Left)
	}
	if want := strings.ReplaceAll(six, "fuse/blade-7.5A", "fuse/blade-10A"); string(m.Text) != want {
		t.Errorf("%s", m.Text)
	}
	if m.Steps[0].Words[0] != "fuse A1.1: fuse/blade-10A instead of fuse/blade-7.5A" {
		t.Errorf("%q", m.Steps[0].Words)
	}
	for i, s := range m.Steps[1:] {
		if !bytes.Equal(s.Before, m.Steps[i].After) {
			t.Errorf("step %d does not begin where the one before ended", i+1)
		}
	}
}

// fuses are the parts of the section fuses of a text.
func fuses(text []byte) (list []string) {
	for line := range strings.Lines(string(text)) {
		if _, part, ok := strings.Cut(line, ": fuse/blade"); ok {
			list = append(list, "fuse/blade"+strings.TrimSpace(part))
		}
	}
	return list
}

// Where two would have different things in one place, the worst has its way; the other is then tried and not kept, since the first would
// be as it was.
func TestTheWorstWinsWhereTwoTouchOnePlace(t *testing.T) {
	m := mend(t, rule("a", unless(finding.Fails, "fuse/blade-5A"), to("fuse/blade-5A")), rule("b", unless(finding.Danger, "fuse/blade-10A"), to("fuse/blade-10A")))
	if got := fuses(m.Text); got[0] != "fuse/blade-10A" || len(got) != 6 || finding.Worst(m.Findings) != finding.Fails {
		t.Errorf("%v, %v", got, m.Findings)
	}
	if len(m.Left) != 6 || !strings.Contains(m.Left[0].Why, "b:A1.1 would be danger") {
		t.Errorf("left: %+v", m.Left)
	}
}

func TestWhatMendsNothingIsNotKept(t *testing.T) {
	always := func(*study.Study, string) finding.Grade { return finding.Fails }
	one := func(f func(*study.Study, string) []finding.Edit) func(*study.Study, string) []finding.Edit {
		return func(s *study.Study, way string) []finding.Edit {
			if way != "A1.1" {
				return nil
			}
			return f(s, way)
		}
	}
	for name, c := range map[string]struct {
		fix func(*study.Study, string) []finding.Edit
		why string
	}{
		"no better":      {to("fuse/blade-10A"), "a:A1.1 would be no better"},
		"the same again": {to("fuse/blade-7.5A"), "it changes nothing"},
		"no such part":   {to("fuse/none"), "the scheme would not read: there is no fuse \"fuse/none\""},
		"no such place": {func(*study.Study, string) []finding.Edit {
			return []finding.Edit{{Path: "/title/deep/er", Value: "x"}}
		}, "the file cannot be changed so: "},
	} {
		m := mend(t, rule("a", always, one(c.fix)))
		if len(m.Left) != 1 || !strings.HasPrefix(m.Left[0].Why, c.why) || len(m.Steps) != 0 || string(m.Text) != six || !m.Settled {
			t.Errorf("%s: %+v, %d steps", name, m.Left, len(m.Steps))
		}
	}
}

// Each round makes the title a little better, and there is no end to it. What was changed in every round is told once.
func TestItEndsAfterSomeRounds(t *testing.T) {
	endless := study.Rule{Name: "a", Scope: study.Whole, Judge: func(s *study.Study, _ string) []study.Assessment {
		margin := float64(len(s.Scheme.Title))
		return []study.Assessment{study.Assessment{Grade: finding.Fails, Margin: &margin}.Fixed(func() []finding.Edit {
			return []finding.Edit{{Path: "/title", Value: s.Scheme.Title + "x"}}
		})}
	}}
	m := mend(t, endless)
	if m.Rounds != remedy.Rounds || len(m.Steps) != 1 || m.Settled || m.Study.Scheme.Title != "Six ways"+strings.Repeat("x", remedy.Rounds) {
		t.Errorf("%d rounds, %d steps, settled: %v, %q", m.Rounds, len(m.Steps), m.Settled, m.Study.Scheme.Title)
	}
	if words := m.Steps[0].Words[0]; !strings.HasSuffix(words, "instead of Six ways") || !bytes.Equal(m.Steps[0].Before, []byte(six)) || !bytes.Equal(m.Steps[0].After, m.Text) {
		t.Errorf("%q", words)
	}
}

func TestNotesAreLeftAlone(t *testing.T) {
	m := mend(t, rule("a", unless(finding.Note, "fuse/blade-10A"), to("fuse/blade-10A")))
	if len(m.Steps) != 0 || !m.Settled || len(m.Findings) != 6 {
		t.Errorf("%d steps, %d findings", len(m.Steps), len(m.Findings))
	}
}

func TestMendingEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := remedy.Mend(ctx, board(t), []byte(six), []study.Rule{rule("a", unless(finding.Fails, "fuse/blade-10A"), to("fuse/blade-10A"))}, func(int) {}); !errors.Is(err, context.Canceled) {
		t.Errorf("err = %v", err)
	}
}

// What Mend gives is what reading its text gives.
func TestTheStudyIsThatOfTheText(t *testing.T) {
	m := mend(t, rule("a", unless(finding.Fails, "fuse/blade-10A"), to("fuse/blade-10A")))
	sch, mistakes := scheme.Read("x", m.Text, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range s.Cases() {
		for id, run := range s.Result(c.Name).Runs {
			if d := run.VoltsLow - m.Study.Result(c.Name).Runs[id].VoltsLow; d > 1e-6 || d < -1e-6 {
				t.Errorf("%s in %s is off by %v", id, c.Name, d)
			}
		}
	}
}

func TestWorseCountsTheWorstFirst(t *testing.T) {
	list := func(grades ...finding.Grade) (all []finding.Finding) {
		for _, g := range grades {
			all = append(all, finding.Finding{Grade: g})
		}
		return all
	}
	for _, c := range []struct {
		before, after []finding.Finding
		worse         bool
	}{
		{list(), list(), false},
		{list(finding.Danger), list(finding.Fails, finding.Fails), false},
		{list(finding.Fails), list(finding.Danger), true},
		{list(finding.Fails), list(finding.Fails, finding.Tight), true},
		{list(finding.Tight, finding.Tight), list(finding.Unknown), true},
		{list(finding.Fails), list(finding.Fails, finding.Note), false},
	} {
		if got := remedy.Worse(c.before, c.after); got != c.worse {
			t.Errorf("%v to %v is worse: %v", c.before, c.after, got)
		}
	}
}
