// Package report makes the pages of an installation that are text and tables: a cover, the findings with their computations, schedules, on
// which numbers all of it rests, and a record of changes. It judges nothing and solves nothing.
//
// A page answers one question. What the terminal says too is said in the same words, which are in words.go.
package report

import (
	"slices"
	"strings"

	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/sheet/drafting"
	"farend/study"
)

// A Report is what there is to report, as plain data.
type Report struct {
	Study    *study.Study
	Assessed []study.Assessed
	Findings []finding.Finding
	Source   []byte // the text of the scheme, by which edits are told in words; where there is none they are left out
	Version  string // of Farend

	// Pages that others make. They stand where a reader looks for them: drawings before the schedules, charts and steps behind them.
	Drawings []layout.Leaf // plan, diagrams, faces of boards, runs
	Charts   []layout.Leaf // of fuses, faults and pulses
	Steps    []layout.Leaf // commissioning
}

// Pages are the leaves of the report, the cover first. Links lead to pages of the report alone.
func (r Report) Pages(style drafting.Style) []layout.Leaf {
	b := newBook(r, style)
	schedules := b.schedules()
	rests, changes := b.rests(), b.changes()
	findings := b.findings() // knows by now where everything stands
	leaves := slices.Concat(findings, r.Drawings, schedules, r.Charts, wholly(r.Steps), rests, changes)
	return layout.Linked(append(b.cover(leaves), leaves...))
}

// wholly are leaves with the entries of their stages where each stage has one, which the first leaf says that has more than its own; else without
// them, for a table of contents with gaps in it misleads more than a short one.
func wholly(steps []layout.Leaf) []layout.Leaf {
	if len(steps) == 0 || len(steps[0].More) > 0 {
		return steps
	}
	steps = slices.Clone(steps)
	for i := range steps[1:] {
		if steps[i+1].Level > 0 {
			steps[i+1].Outline = ""
		}
	}
	return steps
}

// schedules are the tables of what is there, in the order in which people ask for them.
func (b *book) schedules() []layout.Leaf {
	return slices.Concat(b.runs(), b.supplies(), b.boards(), b.cables(), b.labels(), b.fuses(), b.protected(), b.data())
}

// A book is a report that is being made.
type book struct {
	Report
	style      drafting.Style
	at         map[string]string           // the leaf on which something stands, by its name: "cable:W3"
	about      map[string][]study.Assessed // by rule:subject
	protection []study.Protected
	open       map[string][]string // by what may be fed by them, the supplies that are not chosen
}

func newBook(r Report, style drafting.Style) *book {
	b := &book{Report: r, style: style, at: map[string]string{}, about: map[string][]study.Assessed{}, protection: r.Study.Protection(r.Assessed), open: waiting(r.Study.Scheme)}
	for _, a := range r.Assessed {
		key := a.Rule.Name + ":" + a.Subject
		b.about[key] = append(b.about[key], a)
	}
	return b
}

// behind is the assessment that a finding tells; it is not ok of what reading the scheme changed.
func (b *book) behind(f finding.Finding) (study.Assessed, bool) {
	for _, a := range b.about[f.Rule+":"+f.Subject] {
		if a.Case == f.Case && a.At == f.At && a.Grade == f.Grade && same(a.Value, f.Value) && same(a.Limit, f.Limit) && strings.HasPrefix(f.Text, a.Text) {
			return a, true
		}
	}
	return study.Assessed{}, false
}

// same reports whether two numbers are the same, or neither is there.
func same(a, b *float64) bool { return a == b || a != nil && b != nil && *a == *b }

// bind lays a flow out on leaves that are like one, and notes where things stand.
func (b *book) bind(flow *layout.Flow, like layout.Leaf) []layout.Leaf {
	like.Paper = b.style.Texts
	like.Cells = []layout.Cell{
		{Caption: "Verdict", Says: b.counts(), Share: 88},
		{Caption: "Section", Says: like.Outline, Share: 62},
		{Caption: "Made by", Says: "Farend " + b.Version, Share: 42},
	}
	leaves, at := flow.Leaves(like)
	for name, leaf := range at {
		if _, known := b.at[name]; !known {
			b.at[name] = leaf
		}
	}
	return leaves
}

// leads are the leaves on which a subject is shown, the first that is there: its drawing, else its line in a schedule.
func (b *book) leads(subject string) (names []string) {
	s := b.Study.Scheme
	board := network.BoardOf(subject)
	switch {
	case has(s.Runs, subject):
		names = append(names, "run-"+subject)
	case has(s.Boards, board):
		names = append(names, "face-"+board)
	}
	for _, kind := range []string{"run", "cable", "way", "supply", "lead", "port", "board", "junction"} {
		if leaf, ok := b.at[kind+":"+subject]; ok {
			names = append(names, leaf)
		}
	}
	return names
}

func has[V any](m map[string]V, id string) bool {
	_, is := m[id]
	return is
}

// heading is a title within a page.
func heading(words string) layout.Para {
	return layout.Para{Words: words, Size: 12, Face: draw.SemiBold, Above: 6, Keep: true}
}

// told is a paragraph.
func told(words string) layout.Para { return layout.Para{Words: layout.Sentence(words), Above: 1.5} }

// intro is one that stands over a table.
func intro(words string) layout.Para {
	para := told(words)
	para.Keep = true
	return para
}

// remark is one in smaller type, as it stands under tables.
func remark(words string) layout.Para {
	return layout.Para{Words: layout.Sentence(words), Size: 8, Tone: draw.Graphite, Above: 1.5}
}
