package main

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/remedy"
	"farend/study"
)

// printLeft names the changes that were tried and not kept, those with one reason together.
func (f *fixed) printLeft(p *page) {
	if len(f.mended.Left) == 0 {
		return
	}
	p.heading("Tried and not kept")
	for _, group := range grouped(f.mended.Left, reason) {
		p.indented("", namesOf(group, func(l remedy.Left) finding.Finding { return l.Finding })+": "+triedWords(group))
		why := group[0].Why
		if futile(group[0]) && len(group) > 1 {
			why += " So it is with the others."
		}
		p.indented("because ", why)
	}
	p.blank()
}

// reason is what changes that were not kept for the same reason share: what they would bring, or the rule that they do not satisfy.
func reason(l remedy.Left) string {
	switch {
	case futile(l):
		return l.Finding.Rule
	case l.Brings != nil:
		return fmt.Sprint(l.Brings.ID, l.Brings.Grade)
	}
	return l.Why
}

// futile reports whether a change was not kept because it does not mend what it is for.
func futile(l remedy.Left) bool { return l.Brings != nil && l.Brings.ID == l.Finding.ID }

// triedWords says what was tried: the first change, and how many more there were like it.
func triedWords(group []remedy.Left) string {
	var tried []string
	for _, l := range group {
		if words := strings.Join(l.Words, "; "); !slices.Contains(tried, words) {
			tried = append(tried, words)
		}
	}
	if len(tried) == 1 {
		return tried[0]
	}
	return fmt.Sprintf("%s; and %s like it", tried[0], count(len(tried)-1, "change", "changes"))
}

// printOpen names what is left, with its remedy in words, and says why nothing was changed for it.
func (f *fixed) printOpen(p *page) {
	var open []finding.Finding
	for _, g := range f.after.findings {
		if g.Grade > finding.Note {
			open = append(open, g)
		}
	}
	if open == nil {
		return
	}
	p.blank()
	p.heading("Left, for people to decide")
	const most = 20
	groups := grouped(open, func(g finding.Finding) string { return fmt.Sprint(g.Grade, g.Rule, g.Remedy, f.untouched(g)) })
	for i, group := range groups {
		if i == most {
			p.indented("", fmt.Sprintf("… and %d more; farend check names them", len(slices.Concat(groups[i:]...))))
			return
		}
		g := group[0]
		p.indented("", strings.TrimSpace(fmt.Sprintf("[%s] %s: %s %s", g.Grade.Letter(), namesOf(group, func(g finding.Finding) finding.Finding { return g }), g.Remedy, f.untouched(g))))
	}
}

// untouched says why nothing was changed for a finding.
func (f *fixed) untouched(g finding.Finding) string {
	switch {
	case len(g.Edits) == 0:
		return "No change to the file is known for it."
	case slices.ContainsFunc(f.mended.Left, func(l remedy.Left) bool { return l.Finding.ID == g.ID }):
		return "A change was tried: see above."
	case g.Grade == finding.Tight && f.mended.Settled:
		return "Changes for it wait until what is worse is mended."
	}
	return ""
}

// grouped puts what shares a key together, in the order of the first of each.
func grouped[T any](list []T, key func(T) string) (groups [][]T) {
	at := map[string]int{}
	for _, x := range list {
		i, there := at[key(x)]
		if !there {
			i = len(groups)
			at[key(x)], groups = i, append(groups, nil)
		}
		groups[i] = append(groups[i], x)
	}
	return groups
}

// namesOf names findings by rule: "light/evenness:E1 and E2; light/dim:E1".
func namesOf[T any](list []T, of func(T) finding.Finding) string {
	var names []string
	for _, group := range grouped(list, func(x T) string { return of(x).Rule }) {
		var subjects []string
		for _, x := range group {
			subjects = append(subjects, strings.TrimPrefix(of(x).ID, of(x).Rule+":"))
		}
		names = append(names, strings.TrimSuffix(of(group[0]).Rule+":"+study.Several(subjects), ":"))
	}
	return strings.Join(names, "; ")
}
