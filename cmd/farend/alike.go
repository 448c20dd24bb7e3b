package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/rulebook"
	"farend/study"
)

// fewAlike is how many findings have to be alike to be told as one, mostAlike how many of them are then named one by one.
const (
	fewAlike  = 3
	mostAlike = 24
)

// A likeness is what findings have in common that are told as one: all but their subjects and their numbers. What they rest on, where
// that is weak, is in it, so that no admission is lost.
type likeness struct {
	rule, unit, text, remedy, admission string
	grade                               finding.Grade
}

// alike gathers findings that differ only in their subjects and numbers, worst first; each stands where the first of its kind
// does. Fewer than three stand alone.
func alike(findings []finding.Finding) [][]finding.Finding {
	kinds := map[likeness][]finding.Finding{}
	for _, f := range findings {
		kinds[likenessOf(f)] = append(kinds[likenessOf(f)], f)
	}
	var groups [][]finding.Finding
	told := map[likeness]bool{}
	for _, f := range findings {
		kind := likenessOf(f)
		switch group := kinds[kind]; {
		case told[kind]:
		case len(group) < fewAlike:
			groups = append(groups, []finding.Finding{f})
		default:
			told[kind] = true
			slices.SortStableFunc(group, func(a, b finding.Finding) int { return cmp.Compare(marginOf(a.Margin), marginOf(b.Margin)) })
			groups = append(groups, group)
		}
	}
	return groups
}

func likenessOf(f finding.Finding) likeness {
	text, admission, _ := strings.Cut(f.Text, " This rests on ")
	if f.Value != nil && f.Limit != nil {
		text = "" // of numbers, which are told one by one
	}
	return likeness{f.Rule, f.Unit, anonymous(f, text), anonymous(f, f.Remedy), admission, f.Grade}
}

// anonymous is a text of a finding without its subject and place.
func anonymous(f finding.Finding, text string) string {
	for _, name := range []string{f.At, f.Subject} {
		if name != "" {
			text = strings.ReplaceAll(text, name, "…")
		}
	}
	return text
}

// findings writes findings that are alike: the worst in full, and of the others their subjects and numbers.
func (p *page) findings(group []finding.Finding, notes *footnotes) {
	first, others := group[0], group[1:]
	if len(others) == 0 {
		p.finding(first, notes)
		return
	}
	rule, _ := rulebook.Named(first.Rule)
	named := first
	named.ID = entitled(first) + fmt.Sprintf(" and %d more", len(others))
	p.finding(named, notes)
	if first.Value == nil || first.Limit == nil {
		p.indented("", "So too: "+few(subjectsOf(others))+".")
		p.blank()
		return
	}
	p.indented("", "So too, worst first:")
	names, figures := 0, 0
	for _, f := range others[:min(len(others), mostAlike)] {
		names, figures = max(names, width(f.Subject)), max(figures, width(compared(rule, f.Value, f.Limit, f.Unit)))
	}
	for _, f := range others[:min(len(others), mostAlike)] {
		p.line("      %-*s  %-*s  %s", names, printable(f.Subject), figures, compared(rule, f.Value, f.Limit, f.Unit), f.Case)
	}
	if more := len(others) - mostAlike; more > 0 {
		p.line("      … and %d more; --json has them all", more)
	}
	p.blank()
}

func subjectsOf(findings []finding.Finding) []string {
	var names []string
	for _, f := range findings {
		names = append(names, f.Subject)
	}
	return names
}

// compared says what is compared with what; nothing where no numbers are.
func compared(rule study.Rule, value, limit *float64, si string) string {
	if value == nil || limit == nil {
		return ""
	}
	if rule.Reads == study.AsTimes && si == "1" {
		return rule.Words(*value, si) + " what it bears"
	}
	return rule.Words(*value, si) + " against " + rule.Words(*limit, si)
}

// marginOf orders margins: what has none comes last.
func marginOf(margin *float64) float64 {
	if margin == nil {
		return 1e9
	}
	return *margin
}
