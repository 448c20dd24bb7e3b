package main

import (
	"fmt"

	"farend/finding"
	"farend/rulebook"
)

type explainCommand struct {
	Rule string `arg:"" optional:"" help:"The rule's name; none lists them all."`
}

func (c *explainCommand) Run(s streams) error {
	p := &page{out: s.out, plain: s.plain()}
	if c.Rule == "" {
		for _, r := range rulebook.All() {
			p.line("%-32s %s", r.Name, r.Title)
		}
		return nil
	}
	r, ok := rulebook.Named(c.Rule)
	if !ok {
		var names []string
		for _, r := range rulebook.All() {
			names = append(names, r.Name)
		}
		hint := "farend explain lists them all"
		if near := finding.DidYouMean(c.Rule, names); near != "" {
			hint = "did you mean " + near + "?"
		}
		return usage(fmt.Sprintf("there is no rule %q", c.Rule), hint)
	}
	p.heading(r.Name + ": " + r.Title)
	p.wrap(r.Doc)
	if r.Safety {
		p.blank()
		p.wrap("A safety rule: where it cannot be assessed, the scheme does not pass.")
	}
	return nil
}
