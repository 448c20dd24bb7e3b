package main

import (
	"fmt"

	"farend/finding"
	"farend/rulebook"
	"farend/study"
)

type explainCommand struct {
	Rule string `arg:"" optional:"" predictor:"rule" help:"The rule's name; none lists them all."`
	JSON bool   `name:"json" help:"As one JSON object."`
}

func (c *explainCommand) Help() string {
	return "Examples:\n  farend explain\n  farend explain light/evenness"
}

// The JSON of explain: the rule asked for, or all of them.
type rulesJSON struct {
	SchemaVersion int        `json:"schema_version"`
	Rules         []ruleJSON `json:"rules"`
}

type ruleJSON struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Text   string `json:"text"`
	Scope  string `json:"scope"`
	Safety bool   `json:"safety"`
}

func (c *explainCommand) Run(s streams) error {
	rules := rulebook.All()
	if c.Rule != "" {
		r, err := ruleNamed(c.Rule)
		if err != nil {
			return err
		}
		rules = []study.Rule{r}
	}
	if c.JSON {
		out := rulesJSON{SchemaVersion: 1}
		for _, r := range rules {
			out.Rules = append(out.Rules, ruleJSON{r.Name, r.Title, r.Doc, string(r.Scope), r.Safety})
		}
		return writeJSON(s.out, out)
	}
	if c.Rule == "" {
		for _, r := range rules {
			s.page().line("%-32s %s", r.Name, r.Title)
		}
		return nil
	}
	s.page().rule(rules[0])
	return nil
}

func ruleNamed(name string) (study.Rule, error) {
	if r, ok := rulebook.Named(name); ok {
		return r, nil
	}
	var names []string
	for _, r := range rulebook.All() {
		names = append(names, r.Name)
	}
	hint := "farend explain lists them all"
	if near := finding.DidYouMean(name, names); near != "" {
		hint = "did you mean " + near + "?"
	}
	return study.Rule{}, usage(fmt.Sprintf("there is no rule %q", name), hint)
}

func (p *page) rule(r study.Rule) {
	p.heading(r.Name + ": " + r.Title)
	p.wrap(r.Doc)
	if r.Safety {
		p.blank()
		p.wrap("A safety rule: where it cannot be assessed, the scheme does not pass.")
	}
}
