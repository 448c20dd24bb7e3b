package main

import (
	"fmt"

	"farend/finding"
	"farend/report"
	"farend/rulebook"
)

// mostAlike is how many findings that are alike are named one by one.
const mostAlike = 24

// findings writes findings that are alike: the worst in full, and of the others their subjects and numbers.
func (p *page) findings(group []finding.Finding, notes *report.Footnotes) {
	first, others := group[0], group[1:]
	if len(others) == 0 {
		p.finding(first, notes)
		return
	}
	rule, _ := rulebook.Named(first.Rule)
	named := first
	named.ID = report.Entitled(first) + fmt.Sprintf(" and %d more", len(others))
	p.finding(named, notes)
	if first.Value == nil || first.Limit == nil {
		p.indented("", "So too: "+few(subjectsOf(others))+".")
		p.blank()
		return
	}
	p.indented("", "So too, worst first:")
	names, figures := 0, 0
	for _, f := range others[:min(len(others), mostAlike)] {
		names, figures = max(names, width(f.Subject)), max(figures, width(report.Compared(rule, f.Value, f.Limit, f.Unit)))
	}
	for _, f := range others[:min(len(others), mostAlike)] {
		p.line("      %-*s  %-*s  %s", names, printable(f.Subject), figures, report.Compared(rule, f.Value, f.Limit, f.Unit), f.Case)
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
