package study

import (
	"context"

	"farend/circuit"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// Fixed adds the edits that would do what a remedy says in words. They are made only when asked for, of an assessment that does not
// pass, and may read what was solved; whether they do what they should, solving again tells.
func (a Assessment) Fixed(fix func() []finding.Edit) Assessment {
	a.Fix = fix
	return a
}

// FixedAll adds the same edits to every one of some assessments that does not pass and was not left open; those that have edits of
// their own keep them.
func FixedAll(found []Assessment, fix func() []finding.Edit) []Assessment {
	for i, a := range found {
		if a.Fix == nil && a.Grade > finding.Note && a.Grade != finding.Unknown {
			found[i].Fix = fix
		}
	}
	return found
}

// A Revision is what edits make of a study.
type Revision struct {
	Study    *Study           // nil where the edits cannot be made or leave mistakes
	Text     []byte           // the new text; nil where the edits cannot be made
	Changed  []string         // cases that had to be solved again
	Mistakes finding.Mistakes // see scheme.Apply
}

// Edit makes edits to the text that the study's scheme was read from, and studies what comes of it. The error is ours or the
// context's.
func (s *Study) Edit(ctx context.Context, source []byte, edits []finding.Edit) (Revision, error) {
	sch, text, mistakes := scheme.Apply(s.Scheme.File, source, edits, parts.Catalogue())
	if sch == nil {
		return Revision{Text: text, Mistakes: mistakes}, nil
	}
	st, changed, err := s.Revise(ctx, sch)
	if err != nil {
		return Revision{}, err
	}
	return Revision{st, text, changed, nil}, nil
}

// Revise studies a scheme that differs little from this study's. Cases that the difference does not touch keep their solution;
// of the others, those whose copper is laid out as before are followed from where they were, within 1 µV of a study made anew;
// changed names all that were solved. The receiver stays as it is.
func (s *Study) Revise(ctx context.Context, sch *scheme.Scheme) (revised *Study, changed []string, err error) {
	n, err := network.New(sch)
	if err != nil {
		return nil, nil, err
	}
	n.Adopt(s.Network)
	solved := make([]bool, len(n.States()))
	st, err := study(ctx, n, func(w *circuit.Worker, i int, c network.Case) *network.Solution {
		solution, again := n.Resolve(ctx, w, c, s.Network, s.solutions[c.Name])
		solved[i] = again
		return solution
	}, Options{Striking: s.striking, Mending: s.mending})
	if err != nil {
		return nil, nil, err
	}
	for i, c := range st.cases {
		if solved[i] {
			changed = append(changed, c.Name)
		}
	}
	return st, changed, nil
}

// ForMending is the study as one on the way to another, see Options.Mending: so are those that come of it.
func (s *Study) ForMending() *Study {
	mending := *s
	mending.mending = true
	return &mending
}
