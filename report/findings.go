package report

import (
	"fmt"
	"strings"

	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// mostTold is how many findings are told with how they come about; what is found in hundreds is alike, and the others are told in short.
const mostTold = 40

// The columns of a finding: its box at the edge, its words beside it.
const (
	textIndent    = 8
	stepIndent    = 13
	formulaIndent = 18
	stepSize      = 8
)

// findings are the pages of what was found, the worst first: what is worse than a note each with how it comes about, notes in short.
func (b *book) findings() []layout.Leaf {
	var grave, notes []finding.Finding
	for _, f := range b.Findings {
		if f.Grade > finding.Note {
			grave = append(grave, f)
		} else {
			notes = append(notes, f)
		}
	}
	var flow layout.Flow
	var sources Footnotes
	for _, f := range grave[:min(len(grave), mostTold)] {
		flow.Add(b.atLength(f, &sources)...)
	}
	if more := grave[min(len(grave), mostTold):]; len(more) > 0 {
		flow.Add(heading("Further findings"), told(fmt.Sprintf("The worst %d are told above with how they come about. The others, %d of them, stand here in short; farend check --why RULE:SUBJECT shows how any of them comes about.", mostTold, len(more))), b.inShort(more))
	}
	if len(notes) > 0 {
		flow.Add(heading("Notes"))
		for _, group := range Alike(notes) {
			flow.Add(b.note(group)...)
		}
	}
	if len(sources) > 0 {
		flow.Add(heading("Sources of the numbers"))
		for i, source := range sources {
			flow.Add(layout.Para{Mark: fmt.Sprintf("[%d]", i+1), Words: strings.TrimSuffix(source, ".") + ".", Indent: 8, Size: stepSize, Above: 0.8})
		}
	}
	return b.bind(&flow, layout.Leaf{
		Name: "findings", Outline: "Findings", Title: "What was found?", Verdict: b.counts(), Under: "the worst first",
		Desc:  "Findings, the worst first, each with its remedy and how it comes about. " + Verdict(b.Study, b.Assessed, b.Findings),
		Notes: "A computation is carried with as many figures as are printed, each step from the rounded number of the last. What is solved is solved in the case that is named. Edits are changes to the scheme file; solving again tells whether they do what they should.",
	})
}

// titled is the box and the name of a finding.
func (b *book) titled(f finding.Finding, more string) []layout.Block {
	title := plain(f.Rule)
	if a, ok := b.behind(f); ok {
		title = a.Rule.Title
	}
	if f.Subject != "" {
		title += ": " + f.Subject
	}
	name := Entitled(f) + more
	if f.At != "" && f.At != f.Subject {
		name += ", at " + f.At
	}
	if f.Case != "" {
		name += ", in " + f.Case
	}
	return []layout.Block{
		layout.Hairline(4),
		layout.Para{Words: title + more, Badge: badge(f.Grade), Indent: textIndent, Face: draw.SemiBold, Above: 1.6, Keep: true, Anchor: "finding:" + f.ID, To: b.leads(f.Subject)},
		layout.Para{Words: f.Grade.String() + ", " + name, Indent: textIndent, Size: draw.Smallest, Tone: draw.Graphite, Keep: true},
	}
}

// plain is the name of what is no rule as a title: scheme/not-judged is Not judged.
func plain(name string) string {
	return study.Capital(strings.ReplaceAll(name[strings.IndexByte(name, '/')+1:], "-", " "))
}

// sentence is a text with its full stop.
func sentence(text string) string {
	text = study.Capital(text)
	if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
		text += "."
	}
	return layout.Sentence(text)
}

// atLength is a finding with its numbers, its remedy, and how it comes about.
func (b *book) atLength(f finding.Finding, sources *Footnotes) []layout.Block {
	blocks := append(b.titled(f, ""), layout.Para{Words: sentence(f.Text), Indent: textIndent, Above: 1})
	a, known := b.behind(f)
	if known {
		if text := numbers(*a.Rule, f); text != "" {
			blocks = append(blocks, layout.Para{Words: layout.Sentence(text), Indent: textIndent, Face: draw.SemiBold, Above: 0.6})
		}
	}
	blocks = append(blocks, b.mending(f)...)
	if text := sourced(f); text != "" {
		blocks = append(blocks, layout.Para{Words: layout.Sentence(text), Indent: textIndent, Size: stepSize, Tone: draw.Graphite, Above: 0.6})
	}
	if known && a.Trace != nil {
		blocks = append(blocks, computation(a.Trace(), sources)...)
	}
	return blocks
}

// numbers says what is compared with what, and the margin.
func numbers(rule study.Rule, f finding.Finding) string {
	text := Compared(rule, f.Value, f.Limit, f.Unit)
	if text == "" {
		return ""
	}
	if f.Margin != nil {
		text += ", margin " + percent(*f.Margin)
	}
	return text
}

// mending is the remedy, and the edits that would do it.
func (b *book) mending(f finding.Finding) (blocks []layout.Block) {
	if f.Remedy != "" {
		blocks = append(blocks, layout.Para{Mark: "→", MarkAt: textIndent, Words: layout.Sentence(f.Remedy), Indent: textIndent + 5, Above: 0.6})
	}
	if len(f.Edits) == 0 || b.Source == nil {
		return blocks
	}
	const most = 8
	words := scheme.Changes(b.Source, f.Edits)
	text := "In the file: " + strings.Join(words[:min(len(words), most)], "; ")
	if more := len(words) - most; more > 0 {
		text += fmt.Sprintf("; and %d more", more)
	}
	return append(blocks, layout.Para{Words: layout.Sentence(text) + ".", Indent: textIndent + 5, Size: stepSize, Above: 0.4})
}

// sourced says whence the limit is, and which number is least known.
func sourced(f finding.Finding) string {
	var said []string
	if f.Source != "" {
		source := "Limit: " + f.Source
		if f.Weakest == "" && f.Basis != "" {
			source += " (" + f.Basis + ")"
		}
		said = append(said, source)
	}
	if f.Weakest != "" && f.Basis != string(parts.Memory) && f.Basis != string(parts.Practice) {
		said = append(said, fmt.Sprintf("Least known: %s (%s)", f.Weakest, f.Basis))
	}
	if said == nil {
		return ""
	}
	return strings.Join(said, ". ") + "."
}

// computation is how a finding comes about, step by step.
func computation(t study.Trace, sources *Footnotes) (blocks []layout.Block) {
	for i, step := range t.Steps {
		blocks = append(blocks, worked(i+1, step, sources)...)
	}
	return blocks
}

// worked is one step: what it is, its formula, the same with numbers in it, and whence those are that it is the first to use.
func worked(n int, s study.Step, sources *Footnotes) []layout.Block {
	what, result := s.What, ""
	if s.Result == "no" || strings.HasPrefix(s.Result, "yes") { // a question of the grade
		what, result = s.What+" "+s.Formula+"?", s.Result
	}
	like := draw.Text{Size: stepSize}
	line := func(indent float64, mark, words string) layout.Para {
		return layout.Para{Mark: mark, MarkAt: formulaIndent, Words: layout.Sentence(words), Indent: indent, Size: stepSize, Formula: true}
	}
	blocks := []layout.Block{layout.Para{Mark: fmt.Sprint(n), MarkAt: textIndent, Words: layout.Sentence(what), Indent: stepIndent, Size: stepSize, Formula: true, Above: 1.2, Keep: true}}
	switch {
	case result != "":
		blocks = append(blocks, line(formulaIndent, "", s.Sum+": "+result))
	case s.Formula != "":
		sign, expression, _ := strings.Cut(s.Formula, " = ")
		indent := formulaIndent + layout.WideFormula(like, sign+" = ")
		first := line(indent, sign+" =", expression)
		first.Keep = true
		second := line(indent, "=", Once(s.Sum))
		second.MarkAt = indent - layout.Wide(like, "= ")
		blocks = append(blocks, first, second)
	case s.Result != "" && s.Sum == "":
		blocks = append(blocks, line(formulaIndent, "", "so: "+s.Result))
	default:
		blocks[0] = unkept(blocks[0].(layout.Para))
	}
	wide := 0.0
	for _, in := range s.Inputs {
		wide = max(wide, layout.WideFormula(like, equation(in)))
	}
	for _, in := range s.Inputs {
		indent := min(formulaIndent+wide+4, 70)
		blocks = append(blocks, layout.Para{
			Mark: equation(in), MarkAt: formulaIndent, Words: layout.Sentence(in.Means + "; " + Whence(in.From) + sources.Mark(in.From.Source)),
			Indent: max(indent, formulaIndent+layout.WideFormula(like, equation(in))+2), Size: stepSize, Tone: draw.Graphite, Formula: true,
		})
	}
	return blocks
}

func equation(in study.Input) string { return in.Sign + " = " + layout.Unbroken(in.Text) }

func unkept(p layout.Para) layout.Para {
	p.Keep = false
	return p
}

// inShort is a table of findings.
func (b *book) inShort(list []finding.Finding) layout.Table {
	t := layout.Table{Above: 1.5, Columns: []layout.Column{{Head: "grade"}, {Head: "finding", Share: 2}, {Head: "what was found", Share: 5}}}
	for _, f := range list {
		first := graded(f.Grade)
		first.Anchor = "finding:" + f.ID
		t.Rows = append(t.Rows, []layout.Said{first, {Words: Entitled(f), To: b.leads(f.Subject)}, {Words: layout.Sentence(f.Text)}})
	}
	return t
}

// note is notes that are alike: the worst in full, of the others their subjects and numbers.
func (b *book) note(group []finding.Finding) []layout.Block {
	f, others := group[0], group[1:]
	more := ""
	if len(others) > 0 {
		more = fmt.Sprintf(" and %d more", len(others))
	}
	blocks := append(b.titled(f, more), layout.Para{Words: sentence(f.Text), Indent: textIndent, Above: 1})
	blocks = append(blocks, b.mending(f)...)
	if len(others) > 0 {
		blocks = append(blocks, layout.Para{Words: layout.Sentence("So too, the worst first: " + b.others(others)), Indent: textIndent, Size: stepSize, Above: 0.6})
	}
	if text := sourced(f); text != "" {
		blocks = append(blocks, layout.Para{Words: layout.Sentence(text), Indent: textIndent, Size: stepSize, Tone: draw.Graphite, Above: 0.6})
	}
	return blocks
}

// others names findings with their numbers.
func (b *book) others(list []finding.Finding) string {
	var names []string
	for _, f := range list {
		name := f.Subject
		if a, ok := b.behind(f); ok {
			if text := Compared(*a.Rule, f.Value, f.Limit, f.Unit); text != "" {
				name += " (" + text + ")"
			}
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ") + "."
}
