package rulebook_test

import (
	"fmt"
	"strings"

	"farend/rulebook"
	"farend/study"
)

// page is docs/rules.md: a table of contents by room, then every rule with its sections.
func page(rooms []rulebook.Room) string {
	var b strings.Builder
	b.WriteString("# Rules\n\nWritten from the rules themselves by `go test ./rulebook -update`; `farend explain RULE` shows the same. " +
		"Grades, worst first: danger (can hurt or burn), fails (will not do what was asked), unknown (not assessed, and why), tight (works, with little margin), note. " +
		"A safety rule that cannot be assessed is not a pass. Bases: standard, datasheet, handbook, measured, derived, practice (common practice, no source), memory (no source read), invented, unstated.\n\n" +
		"Every example is worked out again by a test, and judged by the rule in a scheme of its room's testdata.\n")
	for _, room := range rooms {
		fmt.Fprintf(&b, "\n**%s.** %s\n\n", room.Name, room.Asks)
		for _, r := range room.Rules {
			fmt.Fprintf(&b, "- [%s](#%s): %s%s\n", r.Name, anchor(r), r.Title, safety(r, " (safety)"))
		}
	}
	for _, room := range rooms {
		for _, r := range room.Rules {
			section(&b, r)
		}
	}
	return b.String()
}

func safety(r study.Rule, word string) string {
	if r.Safety {
		return word
	}
	return ""
}

func heading(r study.Rule) string { return r.Name + ": " + r.Title }

// anchor is the link to a heading as renderers of Markdown make it: lower case, spaces as hyphens, no other punctuation.
func anchor(r study.Rule) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == ' ':
			return '-'
		case c == '-' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			return c
		}
		return -1
	}, strings.ToLower(heading(r)))
}

func section(b *strings.Builder, r study.Rule) {
	d := r.Doc
	fmt.Fprintf(b, "\n## %s\n\nJudges %s%s.\n\n**What.** %s\n\n**Why.** %s\n\n```\n%s\n```\n\n", heading(r), r.Scope, safety(r, "; a safety rule"), d.What, d.Why, strings.Join(d.Formula, "\n"))
	b.WriteString("| sign | unit | is |\n|---|---|---|\n")
	for _, s := range d.Symbols {
		fmt.Fprintf(b, "| %s | %s | %s |\n", s.Sign, s.Unit, s.Means)
	}
	b.WriteString("\n**Sources.**\n\n")
	for _, s := range d.Sources {
		fmt.Fprintf(b, "- %s (%s): %s.%s\n", s, s.Basis, s.Says, read(s))
	}
	b.WriteString("\n**Where it ends.**\n\n")
	for _, l := range d.Limits {
		fmt.Fprintf(b, "- %s\n", l)
	}
	b.WriteString("\n**Grades.**\n\n")
	for _, g := range d.Grades {
		fmt.Fprintf(b, "- %s: %s.\n", g.Grade, g.When)
	}
	e := d.Example
	fmt.Fprintf(b, "\n**Example.** %s\n\n```\n%s\n```\n\n%s: %s\n", strings.Join(e.Given, " "), strings.Join(e.Sums, "\n"), strings.ToUpper(e.Grade.String()[:1])+e.Grade.String()[1:], e.Says)
}

func read(s study.Source) string {
	if s.Read == "" {
		return ""
	}
	return " Read in: " + s.Read + "."
}
