package remedy

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"

	"farend/finding"
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
	Refusal
}

// Mended is what edits made of a scheme, round by round.
type Mended struct {
	Study    *study.Study
	Findings []finding.Finding // of the scheme as it is now
	Text     []byte
	Steps    []Step
	Left     []Left // what was tried on the scheme as it is now
	Rounds   int    // how many changed something
	Settled  bool   // another round, or another call, would change nothing
}

// Rounds is how many rounds Mend makes at most.
const Rounds = 40

// Mend makes the edits of findings worse than a note, and judges what comes of them, round by round, until nothing changes or Rounds are
// made: dangers first, then what fails or is unknown, and what is tight only where no edit of anything worse is left. Of edits that
// touch the same place those for the worst finding are made. What is kept leaves no more of any grade than there was, except of one
// below what it was for. It follows the faults of what it judges, also where those of st were not. The error is ours or the context's; text is
// what st was read from.
func Mend(ctx context.Context, st *study.Study, text []byte, rules []study.Rule, told func(round int)) (*Mended, error) {
	if st.Struck() == nil { // however long it takes: a change that no fault was asked of may bring what burns
		followed, err := study.New(ctx, st.Scheme, &study.Options{Striking: study.Always, Mending: true})
		if err != nil {
			return nil, err
		}
		st = followed
	}
	st = st.ForMending()
	start := draft{st, st.Findings(st.Assess(rules)), text, nil}
	w := mending{draft: start, rules: rules, tried: map[string]bool{}}
	m := &Mended{}
	for !m.Settled && m.Rounds < Rounds {
		told(m.Rounds)
		changed, err := w.round(ctx)
		switch {
		case err != nil:
			return nil, err
		case changed:
			m.Rounds++
			w.stale = len(w.tried) > 0
		case w.stale: // what did nothing before the last change may do something after it
			w.tried, w.left, w.stale = map[string]bool{}, nil, false
		default:
			m.Settled = true
		}
	}
	end, err := w.retold(ctx, start)
	if err != nil {
		return nil, err
	}
	m.Study, m.Findings, m.Text, m.Steps, m.Left = end.study, end.findings, end.text, end.steps, w.left
	return m, nil
}

// A draft is a scheme as some edits make it, judged.
type draft struct {
	study    *study.Study
	findings []finding.Finding
	text     []byte
	steps    []Step
}

// mending is a draft that is kept, with what was tried on it.
type mending struct {
	draft
	rules []study.Rule
	tried map[string]bool // findings with edits that were not kept
	left  []Left
	stale bool // something was tried before the last change
}

// round changes something for the worst grade for which it can.
func (w *mending) round(ctx context.Context) (changed bool, err error) {
	for grade := finding.Danger; grade > finding.Note; grade-- {
		if grade == finding.Tight && slices.ContainsFunc(w.findings, func(f finding.Finding) bool { return f.Grade > grade && len(f.Edits) > 0 }) {
			return false, nil
		}
		if changed, err := w.level(ctx, grade); changed || err != nil {
			return changed, err
		}
	}
	return false, nil
}

// level makes the edits of the findings of a grade, all at once if that is well, else one after the other until one is.
func (w *mending) level(ctx context.Context, grade finding.Grade) (changed bool, err error) {
	var open []finding.Finding
	for _, f := range w.findings {
		if f.Grade == grade && len(f.Edits) > 0 && !w.tried[key(f)] {
			open = append(open, f)
		}
	}
	if together := separate(open); len(together) > 1 {
		if no, err := w.make(ctx, together); no == nil || err != nil {
			return err == nil, err
		}
	}
	for _, f := range open {
		no, err := w.make(ctx, []finding.Finding{f})
		if no == nil || err != nil {
			return err == nil, err
		}
		w.tried[key(f)] = true
		w.left = append(w.left, Left{f, scheme.Changes(w.text, f.Edits), *no})
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

// links is how many findings are mended in one go at most: those that a change is for, and what it brings.
const links = 5

// make makes the edits of some findings and keeps what comes of them, or says why not. Where what they bring has edits, those are made
// with them: thicker cores let more flow, and rails that carry it need one more feed.
func (w *mending) make(ctx context.Context, list []finding.Finding) (first *Refusal, err error) {
	d := w.draft
	for mend := list; len(d.steps)-len(w.steps) < len(list)+links; {
		next, no, err := w.apply(ctx, d, mend)
		if err != nil {
			return nil, err
		}
		if no == nil {
			d = next
			no = unwell(w.draft, d, list)
		}
		if no == nil {
			w.draft = d
			return nil, nil
		}
		if first == nil {
			first = no
		}
		if no.next == nil {
			break
		}
		mend = []finding.Finding{*no.next}
	}
	return first, nil
}

// apply makes the edits of some findings of a draft.
func (w *mending) apply(ctx context.Context, d draft, list []finding.Finding) (draft, *Refusal, error) {
	text, steps := d.text, slices.Clone(d.steps)
	for _, f := range list {
		edits := scheme.Effective(text, f.Edits)
		_, after, mistakes := scheme.Apply(d.study.Scheme.File, text, edits, parts.Catalogue())
		if after == nil {
			return d, &Refusal{Why: "the file cannot be changed so: " + mistakes[0].Text}, nil
		}
		steps = append(steps, Step{f, edits, scheme.Changes(text, edits), text, after})
		text = after
	}
	if bytes.Equal(text, d.text) {
		return d, &Refusal{Why: "it changes nothing"}, nil
	}
	return w.judged(ctx, d, text, steps)
}

// judged is the draft that a changed text makes of one, with its faults followed however long that takes: what is not asked any more would seem
// to be mended.
func (w *mending) judged(ctx context.Context, d draft, text []byte, steps []Step) (draft, *Refusal, error) {
	sch, mistakes := scheme.Read(d.study.Scheme.File, text, parts.Catalogue())
	if len(mistakes) > 0 {
		return d, &Refusal{Why: "the scheme would not read: " + mistakes[0].Text}, nil
	}
	st, _, err := d.study.Revise(ctx, sch)
	if err == nil && st.Struck() == nil {
		st, err = study.New(ctx, sch, &study.Options{Striking: study.Always, Mending: true})
	}
	if err != nil {
		return d, nil, err
	}
	return draft{st, st.Findings(st.Assess(w.rules)), text, steps}, nil, nil
}
