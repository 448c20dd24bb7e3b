package remedy

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// A Step is what was done for one finding.
type Step struct {
	Finding finding.Finding // as it was before
	Edits   []finding.Edit
	Words   []string // each edit in words
	Before  []byte   // the text before, and after
	After   []byte
}

// A Left is a finding whose edits were not made, and why.
type Left struct {
	Finding finding.Finding
	Words   []string
	Why     string
}

// Mended is what edits made of a scheme, round by round.
type Mended struct {
	Study    *study.Study
	Findings []finding.Finding // of the scheme as it is now
	Text     []byte
	Steps    []Step
	Left     []Left
	Rounds   int  // how many changed something
	Settled  bool // another round would change nothing
}

// Rounds is how many rounds Mend makes at most.
const Rounds = 10

// Mend makes the edits of all findings worse than a note, worst first, and judges what comes of them, round by round, until nothing
// changes or ten rounds are made. Of edits that touch the same place those for the worst finding are made. What does not make its
// finding better, or brings another that is as bad, is not kept. The error is ours or the context's; text is what st was read from.
func Mend(ctx context.Context, st *study.Study, text []byte, rules []study.Rule, told func(round int)) (*Mended, error) {
	m := &Mended{Study: st, Findings: st.Findings(st.Assess(rules)), Text: text}
	w := mending{Mended: m, rules: rules, tried: map[string]bool{}}
	for !m.Settled && m.Rounds < Rounds {
		told(m.Rounds)
		changed, err := w.round(ctx)
		if err != nil {
			return nil, err
		}
		if m.Settled = !changed; changed {
			m.Rounds++
		}
	}
	return m, nil
}

// mending is a Mended in the making.
type mending struct {
	*Mended
	rules []study.Rule
	tried map[string]bool // findings with edits that were not kept
}

// round makes the edits of one round, all at once if that is well, else one after the other until one is.
func (w *mending) round(ctx context.Context) (changed bool, err error) {
	var open []finding.Finding
	for _, f := range w.Findings {
		if f.Grade > finding.Note && len(f.Edits) > 0 && !w.tried[key(f)] {
			open = append(open, f)
		}
	}
	together := separate(open)
	if len(together) > 1 {
		if why, err := w.make(ctx, together); err != nil || why == "" {
			return err == nil, err
		}
	}
	for _, f := range open {
		why, err := w.make(ctx, []finding.Finding{f})
		if err != nil || why == "" {
			return err == nil, err
		}
		w.tried[key(f)] = true
		w.Left = append(w.Left, Left{f, scheme.Changes(w.Text, f.Edits), why})
	}
	return false, nil
}

// key is a finding with its edits.
func key(f finding.Finding) string {
	edits, _ := json.Marshal(f.Edits)
	return f.ID + string(edits)
}

// separate are the findings, in their order, whose edits touch no place that those of one before touch.
func separate(all []finding.Finding) []finding.Finding {
	var list []finding.Finding
	var taken []string
	for _, f := range all {
		free := true
		for _, e := range f.Edits {
			for _, t := range taken {
				free = free && !touches(e.Path, t)
			}
		}
		if !free {
			continue
		}
		for _, e := range f.Edits {
			taken = append(taken, e.Path)
		}
		list = append(list, f)
	}
	return list
}

// touches reports whether one of two places is in the other.
func touches(a, b string) bool {
	return strings.HasPrefix(a+"/", b+"/") || strings.HasPrefix(b+"/", a+"/")
}

// make makes the edits of some findings and keeps what comes of them, unless it says why not.
func (w *mending) make(ctx context.Context, list []finding.Finding) (why string, err error) {
	text := w.Text
	var steps []Step
	for _, f := range list {
		_, after, mistakes := scheme.Apply(w.Study.Scheme.File, text, f.Edits, parts.Catalogue())
		if after == nil {
			return "the file cannot be changed so: " + mistakes[0].Text, nil
		}
		steps = append(steps, Step{f, f.Edits, scheme.Changes(text, f.Edits), text, after})
		text = after
	}
	if bytes.Equal(text, w.Text) {
		return "it changes nothing", nil
	}
	sch, mistakes := scheme.Read(w.Study.Scheme.File, text, parts.Catalogue())
	if len(mistakes) > 0 {
		return "the scheme would not read: " + mistakes[0].Text, nil
	}
	st, _, err := w.Study.Revise(ctx, sch)
	if err != nil {
		return "", err
	}
	found := st.Findings(st.Assess(w.rules))
	if why := unwell(w.Study, st, w.Findings, found, list); why != "" {
		return why, nil
	}
	w.Study, w.Findings, w.Text, w.Steps = st, found, text, append(w.Steps, steps...)
	return "", nil
}

// unwell says why what was found after some edits is no better than before: a finding that they were for is not better, or another is
// worse now, and as bad as the least of those. Of a run that nothing feeds, nothing that is asked of its light could be judged: it
// failed all of that; and a new cable may be as bad as the cables beside it are.
func unwell(st, now *study.Study, before, after, mended []finding.Finding) string {
	was, is := byID(before), byID(after)
	least := finding.Danger
	for _, f := range mended {
		least = min(least, f.Grade)
		if !better(f, is[f.ID]) {
			return fmt.Sprintf("%s would be no better: %s", f.ID, is[f.ID].Text)
		}
	}
	for _, f := range after {
		grade := was[f.ID].Grade
		if dark(st, f.Subject) {
			grade = max(grade, finding.Fails)
		}
		for _, other := range siblings(st, now, f.Subject) {
			grade = max(grade, was[f.Rule+":"+other].Grade)
		}
		if f.Grade >= least && f.Grade > grade && (f.Grade != finding.Unknown || f.Safety) { // what is unknown and no question of safety proves nothing
			return fmt.Sprintf("%s would be %s: %s", f.ID, f.Grade, f.Text)
		}
	}
	return ""
}

// dark reports whether nothing feeds a run, or some stretch of it.
func dark(st *study.Study, run string) bool {
	return slices.ContainsFunc(st.Network.Feeds(run), func(f network.Feed) bool { return !f.Closed() })
}

// siblings lists, of a cable that is new, the cables that were there and land on the same run.
func siblings(st, now *study.Study, cable string) []string {
	c, is := now.Scheme.Cables[cable]
	if _, was := st.Scheme.Cables[cable]; was || !is {
		return nil
	}
	var list []string
	for _, at := range ends(c) {
		if at.Kind == scheme.StationRef {
			for _, l := range landings(st, at.Element) {
				list = append(list, l.cable)
			}
		}
	}
	return list
}

// better reports whether a finding is better than it was: gone, of a better grade, or with more margin.
func better(was, is finding.Finding) bool {
	const rounding = 1e-6
	switch {
	case is.Grade != was.Grade:
		return is.Grade < was.Grade
	case was.Margin == nil || is.Margin == nil:
		return false
	}
	return *is.Margin > *was.Margin+rounding
}

func byID(findings []finding.Finding) map[string]finding.Finding {
	m := map[string]finding.Finding{}
	for _, f := range findings {
		m[f.ID] = f
	}
	return m
}

// Worse reports whether findings are worse than they were: more of a grade, and no fewer of any above it.
func Worse(before, after []finding.Finding) bool {
	count := func(list []finding.Finding) (n [finding.Danger + 1]int) {
		for _, f := range list {
			n[f.Grade]++
		}
		return n
	}
	was, is := count(before), count(after)
	for g := finding.Danger; g > finding.Note; g-- {
		if was[g] != is[g] {
			return is[g] > was[g]
		}
	}
	return false
}
