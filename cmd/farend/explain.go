package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"farend/finding"
	"farend/report"
	"farend/rulebook"
	"farend/study"
)

type explainCommand struct {
	Rule []string `arg:"" optional:"" predictor:"rule" help:"The rule's name, words of it, RULE:SUBJECT as findings have it, or a room: what stands before the slash. None lists all rules."`
	JSON bool     `name:"json" help:"As one JSON object."`
}

func (c *explainCommand) Help() string {
	return "Examples:\n  farend explain\n  farend explain protection\n  farend explain light/evenness\n  farend explain fuse load"
}

// The JSON of explain: the rule asked for, those of a room, or all of them.
type rulesJSON struct {
	SchemaVersion int        `json:"schema_version"`
	Rules         []ruleJSON `json:"rules"`
}

type ruleJSON struct {
	Name    string          `json:"name"`
	Title   string          `json:"title"`
	Text    string          `json:"text"`
	Scope   string          `json:"scope"`
	Safety  bool            `json:"safety"`
	Why     string          `json:"why"`
	Formula []string        `json:"formula"`
	Symbols []symbolJSON    `json:"symbols"`
	Sources []sourceJSON    `json:"sources"`
	Limits  []string        `json:"limits"`
	Grades  []gradeJSON     `json:"grades"`
	Example ruleExampleJSON `json:"example"`
}

type symbolJSON struct {
	Sign  string `json:"sign"`
	Unit  string `json:"unit"`
	Means string `json:"means"`
}

type sourceJSON struct {
	Title   string  `json:"title"`
	Edition *string `json:"edition"`
	Clause  *string `json:"clause"`
	Basis   string  `json:"basis"`
	Says    string  `json:"says"`
	Read    *string `json:"read"`
}

type gradeJSON struct {
	Grade finding.Grade `json:"grade"`
	When  string        `json:"when"`
}

type ruleExampleJSON struct {
	Given []string      `json:"given"`
	Sums  []string      `json:"sums"`
	Value *string       `json:"value"`
	Limit *string       `json:"limit"`
	Grade finding.Grade `json:"grade"`
	Says  string        `json:"says"`
}

func (c *explainCommand) Run(s streams) error {
	name := strings.Join(c.Rule, " ")
	rooms, rule, err := asked(name)
	switch {
	case err != nil:
		return err
	case c.JSON:
		return writeJSON(s.out, explained(rooms))
	case rule:
		p := s.page()
		p.rule(rooms[0].Rules[0])
		if _, subject, found := strings.Cut(name, ":"); found && subject != "" {
			p.blank()
			p.wrap(fmt.Sprintf("farend check --why %s SCHEME shows how that comes about, step by step.", name))
		}
	default:
		s.page().rooms(rooms)
	}
	return nil
}

// asked is what a name asks for: all rooms where it is empty, a room, a room with one rule, also as a finding has it (RULE:SUBJECT), or
// the rules in whose names and titles all its words stand; rule says that it is one.
func asked(name string) (rooms []rulebook.Room, rule bool, err error) {
	if name == "" {
		return rulebook.Rooms(), false, nil
	}
	if room, ok := rulebook.RoomNamed(strings.TrimSuffix(name, "/")); ok {
		return []rulebook.Room{room}, false, nil
	}
	known, _, _ := strings.Cut(name, ":")
	if r, ok := rulebook.Named(known); ok {
		return []rulebook.Room{{Rules: []study.Rule{r}}}, true, nil
	}
	switch rooms = saying(ruleWords(name)); {
	case len(rooms) == 0:
		return nil, false, usage(fmt.Sprintf("there is no rule %q", name), ruleHint(known))
	case len(rooms) == 1 && len(rooms[0].Rules) == 1:
		return rooms, true, nil
	}
	return rooms, false, nil
}

// saying is the rules, in their rooms, in whose names or titles some words stand, all of them.
func saying(words []string) []rulebook.Room {
	var found []rulebook.Room
	for _, room := range rulebook.Rooms() {
		room.Rules = slices.DeleteFunc(room.Rules, func(r study.Rule) bool {
			own := ruleWords(r.Name + " " + r.Title)
			return len(words) == 0 || slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(own, w) })
		})
		if len(room.Rules) > 0 {
			found = append(found, room)
		}
	}
	return found
}

// ruleWords is the words of a name or a title.
func ruleWords(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// ruleHint names the rule or room that was meant: the one that ends so, or one that is spelt like it.
func ruleHint(name string) string {
	var names, ends []string
	for _, room := range rulebook.Rooms() {
		names, ends = append(names, room.Name), append(ends, "")
		for _, r := range room.Rules {
			names, ends = append(names, r.Name), append(ends, strings.TrimPrefix(r.Name, room.Name+"/"))
		}
	}
	near := cmp.Or(finding.DidYouMean(name, names), finding.DidYouMean(name, ends))
	for i := range names {
		if near != "" && (near == names[i] || near == ends[i]) {
			return "did you mean " + names[i] + "?"
		}
	}
	return "farend explain lists them all"
}

// rooms lists rules under the questions of their rooms, safety rules with a mark.
func (p *page) rooms(rooms []rulebook.Room) {
	for _, room := range rooms {
		p.heading(room.Name + ": " + room.Asks)
		for _, r := range room.Rules {
			mark := " "
			if r.Safety {
				mark = "!"
			}
			p.line("%s %-32s %s", mark, r.Name, r.Title)
		}
		p.blank()
	}
	p.wrap("! guards against harm: where such a rule cannot be assessed, the scheme does not pass. farend explain RULE says what each compares, why, and whence.")
}

// rule writes all that is to be read about a rule.
func (p *page) rule(r study.Rule) {
	d := r.Doc
	p.heading(r.Name + ": " + r.Title)
	p.wrap(d.What)
	p.blank()
	p.wrap(d.Why)
	p.blank()
	if r.Safety {
		p.wrap("A safety rule: where it cannot be assessed, the scheme does not pass.")
		p.blank()
	}
	p.formula(d)
	p.titled("Sources")
	for _, s := range d.Sources {
		p.item("–", 2, report.SourceLine(s))
	}
	p.blank()
	p.titled("Where it ends")
	for _, l := range d.Limits {
		p.item("–", 2, l)
	}
	p.blank()
	p.titled("Grades")
	for _, g := range d.Grades {
		p.item(gradeMark(g.Grade), gradeColumns, g.When)
	}
	p.blank()
	p.example(d.Example)
}

func (p *page) titled(s string) { p.line("%s", p.styled(s, "1")) }

// formula writes the comparison and its signs.
func (p *page) formula(d study.Doc) {
	p.titled("Formula")
	for _, line := range d.Formula {
		p.line("    %s", line)
	}
	p.blank()
	for _, s := range d.Symbols {
		p.item(fmt.Sprintf("%-8s %-4s", s.Sign, s.Unit), 15, s.Means)
	}
	p.blank()
}

// example writes the worked number.
func (p *page) example(e study.Example) {
	p.titled("Example")
	p.item("", 0, strings.Join(e.Given, " "))
	p.blank()
	for _, line := range e.Sums {
		p.line("        %s", line)
	}
	p.blank()
	p.item(gradeMark(e.Grade), gradeColumns, e.Says)
}

// gradeColumns is what the box and word of a grade take.
const gradeColumns = 13

func gradeMark(g finding.Grade) string { return fmt.Sprintf("[%s] %s", g.Letter(), g) }

// item writes text four columns in, after a mark in a column of its own; the lines below stand under the first.
func (p *page) item(mark string, wide int, s string) {
	for _, line := range wrapped(s, columns-4-wide) {
		p.line("    %-*s%s", wide, mark, line)
		mark = ""
	}
}

// explained is the JSON of rooms of rules.
func explained(rooms []rulebook.Room) rulesJSON {
	out := rulesJSON{SchemaVersion: 1}
	for _, room := range rooms {
		for _, r := range room.Rules {
			out.Rules = append(out.Rules, explainedRule(r))
		}
	}
	return out
}

func explainedRule(r study.Rule) ruleJSON {
	d, e := r.Doc, r.Doc.Example
	out := ruleJSON{
		Name: r.Name, Title: r.Title, Text: d.What, Scope: string(r.Scope), Safety: r.Safety, Why: d.Why, Formula: d.Formula, Limits: d.Limits,
		Example: ruleExampleJSON{e.Given, e.Sums, text(e.Value), text(e.Limit), e.Grade, e.Says},
	}
	for _, s := range d.Symbols {
		out.Symbols = append(out.Symbols, symbolJSON(s))
	}
	for _, s := range d.Sources {
		out.Sources = append(out.Sources, sourceJSON{s.Title, text(s.Edition), text(s.Clause), string(s.Basis), s.Says, text(s.Read)})
	}
	for _, g := range d.Grades {
		out.Grades = append(out.Grades, gradeJSON(g))
	}
	return out
}
