package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/report"
	"farend/rulebook"
	"farend/study"
)

// reasoned is what check answers with --why.
type reasoned struct {
	Why string `placeholder:"RULE:SUBJECT[:CASE]" predictor:"rule" help:"Show how a comparison comes about, step by step, whether it passes or not. A rule or a subject alone lists what can be asked."`
}

// An inquiry is what was asked with --why: its rule and subject, "" for any; and a case, "" for the worst.
type inquiry struct{ rule, subject, in string }

// wrong says what is wrong with the call; nil where nothing is.
func (r *reasoned) wrong(other string, given bool) error {
	if r.Why == "" || !given {
		return nil
	}
	return usage("--why and "+other+" are two answers", "call farend check once for each")
}

// answer writes how what was asked comes about, or lists what can be asked.
func (s streams) answer(result *checked, asked string, json bool) error {
	if notes := result.noted(asked); notes != nil {
		if json {
			return writeJSON(s.out, result.notedJSON(asked, notes))
		}
		for _, f := range notes {
			s.page().finding(f, &report.Footnotes{})
		}
		return nil
	}
	q, err := result.understood(asked)
	if err != nil {
		return err
	}
	answers := result.answers(q)
	if json {
		return writeJSON(s.out, result.whyJSON(asked, q, answers))
	}
	p := s.page()
	if answers == nil {
		result.printAskable(p, q)
		return nil
	}
	result.printWhy(p, answers)
	return nil
}

// noted lists what reading the scheme changed or left aside, where that was asked for: it is no rule's, so all of it is in the note.
func (c *checked) noted(asked string) []finding.Finding {
	var notes []finding.Finding
	for _, f := range c.Scheme.Notes {
		if name, _ := strings.CutPrefix(f.ID, "scheme/"); asked == f.ID || asked == name || asked == f.Rule || "scheme/"+asked == f.Rule {
			notes = append(notes, f)
		}
	}
	return notes
}

// understood finds the rule, subject and case that were asked for.
func (c *checked) understood(asked string) (inquiry, error) {
	rule, rest, named := strings.Cut(asked, ":")
	q := inquiry{}
	if r, ok := ruleMeant(rule); ok {
		q.rule = r
		q.subject, q.in, _ = strings.Cut(rest, ":")
		if of, _ := rulebook.Named(r); of.Scope == study.Whole && q.in == "" && c.isCase(q.subject) { // of the scheme as a whole a case is all there is to name
			q.subject, q.in = "", q.subject
		}
	} else if !named {
		q.subject = asked
	} else {
		return q, usage(fmt.Sprintf("there is no rule %q", rule), ruleHint(rule))
	}
	if q.rule != "" && !slices.ContainsFunc(c.assessed, func(a study.Assessed) bool { return a.Rule.Name == q.rule }) {
		return q, usage(fmt.Sprintf("%s has nothing to judge in this scheme", q.rule), "farend explain "+q.rule+" says what it judges")
	}
	if len(c.asked(q)) > 0 {
		return q, nil
	}
	return q, c.notFound(asked, q)
}

// isCase reports whether anything is judged in a case of a name.
func (c *checked) isCase(name string) bool {
	return name != "" && slices.ContainsFunc(c.assessed, func(a study.Assessed) bool { return a.Case == name })
}

// ruleMeant is the rule with a name, or with one that ends so: cable-current is protection/cable-current.
func ruleMeant(name string) (string, bool) {
	for _, r := range rulebook.All() {
		if r.Name == name || strings.HasSuffix(r.Name, "/"+name) {
			return r.Name, true
		}
	}
	return "", false
}

// asked lists the assessments that were asked for, in any case where none was named.
func (c *checked) asked(q inquiry) []study.Assessed {
	var list []study.Assessed
	for _, a := range c.assessed {
		if (q.rule == "" || a.Rule.Name == q.rule) && (q.subject == "" || a.Subject == q.subject) && (q.in == "" || a.Case == q.in) {
			list = append(list, a)
		}
	}
	return list
}

// notFound says what was asked for in vain, and what there is instead.
func (c *checked) notFound(asked string, q inquiry) error {
	if q.in != "" {
		if of := c.asked(inquiry{q.rule, q.subject, ""}); len(of) > 0 {
			return c.missing(fmt.Sprintf("%s:%s is not judged in %s", q.rule, q.subject, q.in), q.in, distinct(of, func(a study.Assessed) string { return a.Case }))
		}
	}
	subjects := distinct(c.assessed, func(a study.Assessed) string { return a.Subject })
	slices.SortFunc(subjects, finding.Natural)
	if q.rule == "" {
		names := slices.Concat(ruleNames(), subjects)
		if near := finding.DidYouMean(asked, names); near != "" {
			return usage(fmt.Sprintf("there is no rule and nothing to judge of the name %q", asked), "did you mean "+near+"?")
		}
		return usage(fmt.Sprintf("there is no rule and nothing to judge of the name %q", asked), "this scheme has "+few(subjects))
	}
	judged := distinct(c.asked(inquiry{rule: q.rule}), func(a study.Assessed) string { return a.Subject })
	if rules := distinct(c.asked(inquiry{subject: q.subject}), func(a study.Assessed) string { return a.Rule.Name }); len(rules) > 0 {
		hint := q.subject + " is judged by " + strings.Join(rules, ", ")
		if behind := c.behind(q.subject, judged); len(behind) > 0 {
			hint = fmt.Sprintf("it judges what the fuse of %s has to protect: --why %s:%s", q.subject, q.rule, strings.Join(behind, fmt.Sprintf(", --why %s:", q.rule)))
		}
		if rule, _ := rulebook.Named(q.rule); rule.Scope == study.Whole {
			hint = fmt.Sprintf("it judges the scheme as a whole: --why %s", q.rule)
		}
		return usage(fmt.Sprintf("%s does not judge %s", q.rule, q.subject), hint)
	}
	return c.missing(fmt.Sprintf("%s judges no %q", q.rule, q.subject), q.subject, judged)
}

// behind lists, of the cables that the fuse of a way or cable has to protect, those that are judged: the table of protection has their
// verdict in its row.
func (c *checked) behind(id string, judged []string) []string {
	for _, w := range c.Protection(c.assessed) {
		if w.ID == id {
			return slices.DeleteFunc(slices.Clone(w.Cables), func(cable string) bool { return !slices.Contains(judged, cable) })
		}
	}
	return nil
}

// missing is the failure of a name of which there is none, with the nearest there is.
func (c *checked) missing(text, name string, there []string) error {
	if near := finding.DidYouMean(name, there); near != "" {
		return usage(text, "did you mean "+near+"?")
	}
	return usage(text, "there is "+few(there))
}

// few names the first of many.
func few(names []string) string {
	const most = 12
	text := strings.Join(names[:min(len(names), most)], ", ")
	if more := len(names) - most; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// distinct lists what assessments are of, each once and in their order, nothing that is empty.
func distinct(list []study.Assessed, of func(study.Assessed) string) []string {
	var names []string
	seen := map[string]bool{"": true}
	for _, a := range list {
		if name := of(a); !seen[name] {
			seen[name] = true
			names = append(names, name)
		}
	}
	return names
}

// answers lists the comparisons of one rule about one subject in one case, worst first: of the case that was asked for, else of the worst;
// and those in which no case matters. There is none where the question is about several.
func (c *checked) answers(q inquiry) []study.Assessed {
	list := c.asked(inquiry{q.rule, q.subject, ""})
	if q.rule == "" || len(distinctly(list)) > 1 {
		return nil
	}
	slices.SortStableFunc(list, worseFirst)
	in := q.in
	if in == "" {
		in = list[0].Case
	}
	return slices.DeleteFunc(list, func(a study.Assessed) bool { return a.Case != in && a.Case != "" })
}

// distinctly lists the subjects of assessments, the scheme as a whole too.
func distinctly(list []study.Assessed) []string {
	var names []string
	for _, a := range list {
		if !slices.Contains(names, a.Subject) {
			names = append(names, a.Subject)
		}
	}
	return names
}

// worseFirst orders assessments by grade, then by margin.
func worseFirst(a, b study.Assessed) int {
	return cmp.Or(cmp.Compare(b.Grade, a.Grade), cmp.Compare(report.MarginOf(a.Margin), report.MarginOf(b.Margin)))
}

// printAskable lists what can be asked of a rule or a subject: for each of both the worst comparison.
func (c *checked) printAskable(p *page, q inquiry) {
	worst := c.worstAsked(q)
	p.heading(cmp.Or(q.subject, q.rule))
	names, figures := 0, 0
	for _, a := range worst {
		names, figures = max(names, width(askName(a))), max(figures, width(report.Compared(*a.Rule, a.Value, a.Limit, a.Unit)))
	}
	for _, a := range worst {
		p.line("[%s] %-*s  %-*s  %s", a.Grade.Letter(), names, askName(a), figures, report.Compared(*a.Rule, a.Value, a.Limit, a.Unit), a.Case)
	}
	p.blank()
	p.wrap("farend check --why RULE:SUBJECT shows the worst case of one, RULE:SUBJECT:CASE another.")
}

// worstAsked is the worst comparison of each rule and subject asked for, worst first.
func (c *checked) worstAsked(q inquiry) []study.Assessed {
	var worst []study.Assessed
	place := map[string]int{}
	for _, a := range c.asked(q) {
		i, seen := place[askName(a)]
		switch {
		case !seen:
			place[askName(a)] = len(worst)
			worst = append(worst, a)
		case worseFirst(a, worst[i]) < 0:
			worst[i] = a
		}
	}
	slices.SortStableFunc(worst, worseFirst)
	return worst
}

// askName is what asks for a comparison.
func askName(a study.Assessed) string { return strings.TrimSuffix(a.Rule.Name+":"+a.Subject, ":") }

// printWhy writes how comparisons of one rule about one subject in one case come about.
func (c *checked) printWhy(p *page, answers []study.Assessed) {
	first := answers[0]
	title := askName(first)
	if first.Case != "" {
		title += " in " + first.Case
	}
	p.heading(title)
	var notes report.Footnotes
	for i, a := range answers {
		title := "[" + a.Grade.Letter() + "] " + a.Grade.String()
		if len(answers) > 1 {
			title += fmt.Sprintf(", %d of %d comparisons", i+1, len(answers))
		}
		p.line("%s", p.styled(title, gradeCodes[a.Grade]))
		p.comparison(a, &notes)
	}
	if text := c.carried(answers); text != "" {
		p.wrap(text)
		p.blank()
	}
	p.sources("Sources of the numbers", notes)
	c.printRule(p, first)
	if others := c.otherCases(first); others != "" {
		p.wrap(others)
	}
}

// comparison writes one comparison: what it says, and its steps.
func (p *page) comparison(a study.Assessed, notes *report.Footnotes) {
	switch {
	case a.Grade > finding.Pass && a.Text != "":
		p.indented("", a.Text)
	case a.Value != nil && a.Limit != nil:
		p.indented("", report.Compared(*a.Rule, a.Value, a.Limit, a.Unit)+".")
	}
	if a.Remedy != "" && a.Grade > finding.Pass {
		p.indented("→ ", a.Remedy)
	}
	p.blank()
	for i, s := range a.Trace().Steps {
		p.worked(i+1, s, notes)
	}
}

// worked writes one step: what it is, its formula, the same with numbers in it, and whence those are that it is the first to use.
func (p *page) worked(n int, s study.Step, notes *report.Footnotes) {
	what, result := s.What, ""
	if s.Result == "no" || strings.HasPrefix(s.Result, "yes") { // a question of the grade
		what, result = s.What+" "+s.Formula+"?", s.Result
	}
	for i, line := range wrapped(what, columns-4) {
		mark := ""
		if i == 0 {
			mark = fmt.Sprint(n)
		}
		p.line("%-4s%s", mark, line)
	}
	switch {
	case result != "":
		p.hung("", s.Sum+": "+result)
	case s.Formula != "":
		sign, expression, _ := strings.Cut(s.Formula, " = ")
		p.hung(sign+" ", "= "+expression)
		p.hung(strings.Repeat(" ", width(sign)+1), "= "+report.Once(s.Sum))
	case s.Result != "" && s.Sum == "":
		p.hung("", "so: "+s.Result)
	}
	wide := 0
	for _, in := range s.Inputs {
		wide = max(wide, width(in.Sign+in.Text))
	}
	for _, in := range s.Inputs {
		head := fmt.Sprintf("%s = %s", in.Sign, in.Text)
		p.hung(head+strings.Repeat(" ", wide+5-width(in.Sign+in.Text)-3), in.Means+"; "+report.Whence(in.From)+notes.Mark(in.From.Source))
	}
	p.blank()
}

// hung writes text eight columns in, behind a mark; the lines below stand under the first.
func (p *page) hung(mark, s string) {
	for _, line := range wrapped(s, max(columns-8-width(mark), 20)) {
		p.line("        %s%s", mark, line)
		mark = strings.Repeat(" ", width(mark))
	}
}

// carried says with how many figures traces are carried, and how what was solved in them can be solved again.
func (c *checked) carried(answers []study.Assessed) string {
	least, most, solved := 0, 0, ""
	for _, a := range answers {
		trace := a.Trace()
		for _, s := range trace.Steps {
			if strings.Contains(s.Formula, " = ") {
				least, most = cmp.Or(min(least, trace.Figures), trace.Figures), max(most, trace.Figures)
			}
			for _, in := range s.Inputs {
				solved = cmp.Or(solved, in.From.Case)
			}
		}
	}
	var text []string
	switch {
	case most > least:
		text = append(text, fmt.Sprintf("Each step goes on from the number as it is printed, with %d to %d figures.", least, most))
	case most > 0:
		text = append(text, fmt.Sprintf("Each step goes on from the number as it is printed, with %d figures.", most))
	}
	switch {
	case strings.HasPrefix(solved, "fault/"):
		text = append(text, fmt.Sprintf("farend netlist --case %s --corner opens %s writes that fault for ngspice with the least that may flow, --corner let-through with the most; "+
			"--ohms 0.1Ω makes it no bolted one, and --open A1.1.fuse says what has opened before.", solved, c.Scheme.File))
	case solved != "":
		text = append(text, fmt.Sprintf("farend netlist --case %s %s writes what was solved for ngspice.", solved, c.Scheme.File))
	}
	return strings.Join(text, " ")
}

// printRule writes what stands behind the rule of a comparison, and what would firm that one up.
func (c *checked) printRule(p *page, a study.Assessed) {
	p.titled("Sources of the rule")
	for _, s := range a.Rule.Doc.Sources {
		p.item("–", 2, report.SourceLine(s))
	}
	p.blank()
	p.titled("Where it ends")
	for _, l := range a.Rule.Doc.Limits {
		p.item("–", 2, l)
	}
	p.blank()
	p.titled("What to measure")
	for _, line := range c.measures(a) {
		p.item("–", 2, line)
	}
	p.blank()
}

// measures says what would firm a comparison up.
func (c *checked) measures(a study.Assessed) []string {
	numbers := a.Numbers()
	if len(numbers) == 0 && a.Grade == finding.Unknown {
		return []string{"What is not known, as said above. " + a.Remedy}
	}
	if len(numbers) == 0 {
		return []string{"Nothing: it follows from the wiring alone. Look whether the scheme is what was built."}
	}
	var lines []string
	for _, l := range c.Weak(a) {
		lines = append(lines, weakText(l))
	}
	if lines == nil {
		return []string{"Nothing is weak here: every number that decides is of a standard, a sheet, a handbook or a measurement."}
	}
	return lines
}

// weakText names weak numbers, how they are known, and what would firm them up.
func weakText(l study.Link) string {
	text := report.Link(l)
	if l.Firm == nil {
		return text + "."
	}
	return text + ": " + strings.Join(l.Firm, "; ") + "."
}

// otherCases names the grades of the same rule and subject in its other cases. Where the case does not matter to a comparison, those in a
// case compare something else: only what does not pass is told of them.
func (c *checked) otherCases(a study.Assessed) string {
	var texts []string
	list := c.asked(inquiry{a.Rule.Name, a.Subject, ""})
	for _, in := range distinct(list, func(a study.Assessed) string { return a.Case }) {
		if in == a.Case {
			continue
		}
		worst := finding.Pass
		for _, other := range list {
			if other.Case == in {
				worst = max(worst, other.Grade)
			}
		}
		if a.Case == "" && worst <= finding.Note {
			continue
		}
		texts = append(texts, in+" "+worst.String())
	}
	switch {
	case texts == nil:
		return ""
	case a.Case == "":
		return "What else it compares: " + strings.Join(texts, ", ") + "."
	}
	return "The same in other cases: " + strings.Join(texts, ", ") + "."
}
