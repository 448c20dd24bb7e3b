package main

import (
	"cmp"

	"farend/finding"
	"farend/study"
)

// The JSON of check --why: what can be asked, and, where one rule and subject was asked for, how it comes about.
type whyJSON struct {
	SchemaVersion int              `json:"schema_version"`
	Scheme        string           `json:"scheme"`
	Asked         string           `json:"asked"`
	Askable       []askableJSON    `json:"askable"`
	Comparisons   []comparisonJSON `json:"comparisons"`
	Sources       []sourceJSON     `json:"sources"`
	Limits        []string         `json:"limits"`
}

type askableJSON struct {
	ID      string        `json:"id"`
	Rule    string        `json:"rule"`
	Subject string        `json:"subject"`
	Case    *string       `json:"case"`
	Grade   finding.Grade `json:"grade"`
}

type comparisonJSON struct {
	Rule    string        `json:"rule"`
	Subject string        `json:"subject"`
	Case    *string       `json:"case"`
	At      *string       `json:"at"`
	Grade   finding.Grade `json:"grade"`
	Text    *string       `json:"text"`
	Remedy  *string       `json:"remedy"`
	Value   *float64      `json:"value"`
	Limit   *float64      `json:"limit"`
	Unit    *string       `json:"unit"`
	Figures int           `json:"figures"`
	Steps   []stepJSON    `json:"steps"`
	FirmUp  []firmJSON    `json:"firm_up"`
}

type stepJSON struct {
	What    string      `json:"what"`
	Formula *string     `json:"formula"`
	Sum     *string     `json:"sum"`
	Result  *string     `json:"result"`
	Inputs  []inputJSON `json:"inputs"`
}

type inputJSON struct {
	Sign  string   `json:"sign"`
	Means string   `json:"means"`
	Text  string   `json:"text"`
	Value *float64 `json:"value"`
	Unit  string   `json:"unit"`
	From  fromJSON `json:"from"`
}

type fromJSON struct {
	Kind   string  `json:"kind"`
	Part   *string `json:"part"`
	Key    *string `json:"key"`
	Case   *string `json:"case"`
	Line   *int    `json:"line"`
	Column *int    `json:"column"`
	Basis  *string `json:"basis"`
	Source *string `json:"source"`
}

type firmJSON struct {
	Part  *string  `json:"part"`
	Keys  []string `json:"keys"`
	Basis string   `json:"basis"`
	How   []string `json:"how"`
}

// whyJSON is the object for a question, with the comparisons that answer it.
func (c *checked) whyJSON(asked string, q inquiry, answers []study.Assessed) whyJSON {
	out := whyJSON{SchemaVersion: 1, Scheme: c.Scheme.File, Asked: asked, Askable: []askableJSON{}, Comparisons: []comparisonJSON{}, Sources: []sourceJSON{}, Limits: []string{}}
	for _, a := range c.worstAsked(inquiry{q.rule, q.subject, ""}) {
		out.Askable = append(out.Askable, askableJSON{askName(a), a.Rule.Name, a.Subject, text(a.Case), a.Grade})
	}
	for _, a := range answers {
		out.Comparisons = append(out.Comparisons, c.comparisonJSON(a))
	}
	if answers != nil {
		rule := explainedRule(*answers[0].Rule)
		out.Sources, out.Limits = rule.Sources, rule.Limits
	}
	return out
}

// notedJSON is the object for a question about what reading the scheme noted: comparisons without numbers or steps.
func (c *checked) notedJSON(asked string, notes []finding.Finding) whyJSON {
	out := whyJSON{SchemaVersion: 1, Scheme: c.Scheme.File, Asked: asked, Askable: []askableJSON{}, Comparisons: []comparisonJSON{}, Sources: []sourceJSON{}, Limits: []string{}}
	for _, f := range notes {
		out.Askable = append(out.Askable, askableJSON{f.ID, f.Rule, f.Subject, nil, f.Grade})
		out.Comparisons = append(out.Comparisons, comparisonJSON{Rule: f.Rule, Subject: f.Subject, Grade: f.Grade, Text: text(f.Text), Remedy: text(f.Remedy), Steps: []stepJSON{}, FirmUp: []firmJSON{}})
	}
	return out
}

func (c *checked) comparisonJSON(a study.Assessed) comparisonJSON {
	trace := a.Trace()
	out := comparisonJSON{
		Rule: a.Rule.Name, Subject: a.Subject, Case: text(a.Case), At: text(a.At), Grade: a.Grade, Value: finite(a.Value), Limit: finite(a.Limit), Unit: text(a.Unit),
		Figures: trace.Figures, Steps: []stepJSON{}, FirmUp: []firmJSON{},
	}
	if a.Grade > finding.Pass {
		out.Text, out.Remedy = text(a.Text), text(a.Remedy)
	}
	for _, s := range trace.Steps {
		step := stepJSON{s.What, text(s.Formula), text(s.Sum), text(s.Result), []inputJSON{}}
		for _, in := range s.Inputs {
			from := fromJSON{string(in.From.Kind), text(in.From.Part), text(in.From.Key), text(in.From.Case), place(in.From.Pos.Line), place(in.From.Pos.Column), text(string(in.From.Basis)), text(in.From.Source)}
			step.Inputs = append(step.Inputs, inputJSON{in.Sign, in.Means, in.Text, number(in.Is), cmp.Or(in.Unit, "1"), from})
		}
		out.Steps = append(out.Steps, step)
	}
	for _, l := range c.Weak(a) {
		out.FirmUp = append(out.FirmUp, firmJSON{text(l.Part), l.Keys, string(l.Basis), append([]string{}, l.Firm...)})
	}
	return out
}
