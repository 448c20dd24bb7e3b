package report

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/layout"
	"farend/study"
)

// rests says on which numbers all of it rests, the least known first; and which rules were applied.
func (b *book) rests() []layout.Leaf {
	f := b.Study.Footing(b.Assessed)
	var flow layout.Flow
	if len(f.Bases) > 0 {
		flow.Add(told(Rests(f, b.Findings)))
	} else {
		flow.Add(told("No number decides anything here."))
	}
	if len(f.Weakest) > 0 {
		flow.Add(heading("Where it is weakest"), intro("Derived or less, or varying by more than a fifth; the first hold up the worst that was found."), b.weakest(f.Weakest))
	}
	if len(f.Numbers) > 0 {
		flow.Add(heading("Every number that decides"), intro("The least known first. A number of a part stands under the name of the part and its key."), b.deciding(f.Numbers))
	}
	leaves := b.bind(&flow, layout.Leaf{
		Name: "rests", Outline: "What the numbers rest on", Title: "On which numbers does all of this rest?",
		Desc:  "The numbers that decide the findings and the tightest of what passes, with their basis, source, and what would firm them up.",
		Notes: "Bases, the most trustworthy first: standard, datasheet, handbook, measured, derived, practice, memory, invented, unstated. Memory: no source was read. Practice: of the trade, without a source. A number that is measured on the parts in hand is better than any of the last five. Printed numbers have three figures, rounded to the nearest; they are compared before they are rounded.",
	})
	return append(leaves, b.rules()...)
}

// weakest is a table of what is known least.
func (b *book) weakest(list []study.Link) layout.Table {
	t := layout.Table{Above: 1, Columns: []layout.Column{{Head: "numbers", Share: 3}, {Head: "worst on it"}, {Head: "hold up", Share: 3}, {Head: "what would firm them up", Share: 4}}}
	for _, l := range list {
		holds := strings.TrimSuffix(l.Holds[0], ":")
		if more := len(l.Holds) - 1; more > 0 {
			holds += fmt.Sprintf(" and %d more", more)
		}
		firm := none
		if l.Firm != nil {
			firm = study.Capital(strings.Join(l.Firm, "; ")) + "."
		}
		t.Rows = append(t.Rows, []layout.Said{{Words: layout.Sentence(Link(l))}, graded(l.Grade), {Words: holds}, {Words: layout.Sentence(firm)}})
	}
	return t
}

// deciding is a table of every number that decides.
func (b *book) deciding(list []study.Number) layout.Table {
	t := layout.Table{Above: 1, Columns: []layout.Column{{Head: "number", Share: 4}, {Head: "is", Number: true}, {Head: "basis"}, {Head: "source", Share: 5}, {Head: "what would firm it up", Share: 4}}}
	for _, n := range list {
		value := none
		if text := n.Is.String(); text != "" {
			value = layout.Unbroken(text)
		}
		t.Rows = append(t.Rows, layout.Plain(layout.Sentence(n.String()), value, string(n.Basis), layout.Sentence(or(n.Source)), layout.Sentence(or(study.Capital(b.Study.Firming(n))))))
	}
	return t
}

// rules are those that judged something, with their sources.
func (b *book) rules() []layout.Leaf {
	t := layout.Table{Columns: []layout.Column{{Head: "rule", Share: 4}, {Head: "guards against harm"}, {Head: "times asked", Number: true}, {Head: "worst"}, {Head: "sources", Share: 7}}}
	count, worst := map[string]int{}, map[string]finding.Grade{}
	var order []*study.Rule
	for _, a := range b.Assessed {
		if count[a.Rule.Name] == 0 {
			order = append(order, a.Rule)
		}
		count[a.Rule.Name]++
		worst[a.Rule.Name] = max(worst[a.Rule.Name], a.Grade)
	}
	for _, r := range order {
		var sources []string
		for _, s := range r.Doc.Sources {
			sources = append(sources, fmt.Sprintf("%s [%s]", s, s.Basis))
		}
		safety := "no"
		if r.Safety {
			safety = "yes"
		}
		t.Rows = append(t.Rows, []layout.Said{{Words: r.Title + ", " + r.Name}, {Words: safety}, {Words: whole(count[r.Name])}, graded(worst[r.Name]), {Words: strings.Join(sources, "; ") + "."}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	var flow layout.Flow
	flow.Add(intro(fmt.Sprintf("%s made %s.", study.Counted(len(order), "rule"), study.Counted(len(b.Assessed), "comparison"))), t)
	return b.bind(&flow, layout.Leaf{
		Name: "rules", Outline: "Rules that were applied", Title: "By which rules was it judged?",
		Desc:  "The rules that judged something, how often, the worst that each found, and their sources.",
		Notes: "farend explain RULE says what each compares with what, why, where it ends, and a worked example. A rule that guards against harm and cannot be assessed is no pass.",
	})
}
