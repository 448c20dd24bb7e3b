package main

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/study"
)

// mostOutages is how many outages a table lists.
const mostOutages = 10

// printOutages lists the outages that do most, a line each: what opens after them, who goes dark, off colour or dim, and the conductor that bears it worst.
func (c *checked) printOutages(p *page) {
	lost := c.Lost()
	if lost == nil || len(lost.Outages) == 0 {
		return
	}
	t := p.table("Outages, the worst first (what opens; who goes dark, off colour or dim; copper worst off)", "out", "in", "opens", "may open", "dark", "off", "dim", "worst for", "A", "verdict")
	list, dark := lost.Worst(), 0
	var rows [][]string
	for _, o := range list {
		if len(o.Dark) > 0 {
			dark++
		}
		gone, off, dim := o.Course.Fades()
		worst, amps := "–", "–"
		if o.Grade() > finding.Pass {
			worst, amps = o.Harm.Bearer.Name, figures(o.Harm.Amps, 1)
		}
		rows = gathered(rows, []string{o.Out, o.Course.Case.Sound().Name, openings(o.Course.Cascade), openings(o.Course.May), fading(o.Dark, gone), fading(o.Off, off), fading(o.Dim, dim), worst, amps, gradeText(o.Grade())})
	}
	for _, row := range rows[:min(len(rows), mostOutages)] {
		t.row(row...)
	}
	t.print()
	text := fmt.Sprintf("%s, in the dark, with the cap failed and in every state; %d of them put lights out", study.Counted(len(list), "outage"), dark)
	if len(rows) > mostOutages {
		text += "; --json has them all"
	}
	p.wrap(text + ".")
	p.blank()
}

// gathered adds a line to those of a table; what is the same of two parts of one thing stands in one line: W31 .fuse .plus.
func gathered(rows [][]string, row []string) [][]string {
	for _, known := range rows {
		thing, _, _ := strings.Cut(known[0], " ")
		owner, _, _ := strings.Cut(thing, ".")
		if thing != owner && strings.Count(thing, ".") > 1 { // a way: A1.2.fuse
			owner = thing[:strings.LastIndexByte(thing, '.')]
		}
		if part, same := strings.CutPrefix(row[0], owner+"."); same && slices.Equal(known[1:], row[1:]) && !strings.Contains(part, ".") {
			known[0] += " ." + part
			return rows
		}
	}
	return append(rows, row)
}

func openings(list []study.Opening) string {
	if len(list) == 0 {
		return "–"
	}
	var names []string
	for _, o := range list {
		names = append(names, strings.TrimSuffix(strings.TrimSuffix(o.Fuse, ".fuse"), " fuse"))
	}
	return strings.Join(names, " ")
}

// fading names the runs in which lights fade in some state, and others in the case that is told: the first three of them.
func fading(states []study.Faded, told []string) string {
	const most = 3
	names := slices.Clone(told)
	for _, f := range states {
		names = append(names, f.Run)
	}
	slices.SortFunc(names, finding.Natural)
	names = slices.Compact(names)
	switch {
	case len(names) == 0:
		return "–"
	case len(names) > most:
		names = append(names[:most], fmt.Sprintf("+%d", len(names)-most))
	}
	return strings.Join(names, " ")
}

// The JSON of what follows when one thing goes out, in one case and corner.
type outageJSON struct {
	Out    string        `json:"out"`
	In     string        `json:"in"`
	Corner *string       `json:"corner"`
	Opens  []openingJSON `json:"opens"`
	May    []openingJSON `json:"may_open"`
	Dark   []string      `json:"dark"`
	Off    []string      `json:"off_colour"`
	Dim    []string      `json:"dim"`
	Fed    []string      `json:"still_fed_by"`
	Grade  finding.Grade `json:"grade"`
}

type openingJSON struct {
	ID       string   `json:"id"`
	Multiple *float64 `json:"multiple"`
	Fast     *float64 `json:"fast_s"`
	Slow     *float64 `json:"slow_s"`
	Sure     bool     `json:"sure"`
}

func outagesJSON(lost *study.Lost) []outageJSON {
	out := []outageJSON{}
	if lost == nil {
		return out
	}
	opening := func(list []study.Opening) []openingJSON {
		lines := []openingJSON{}
		for _, o := range list {
			lines = append(lines, openingJSON{o.Fuse, number(o.Multiple), number(o.Fast), number(o.Slow), o.Sure})
		}
		return lines
	}
	for i := range lost.Outages {
		o := &lost.Outages[i]
		for k := range o.Courses {
			c := &o.Courses[k]
			line := outageJSON{Out: o.Out, In: c.Case.Sound().Name, Opens: opening(c.Cascade), May: opening(c.May), Dark: []string{}, Off: []string{}, Dim: []string{}, Fed: []string{}, Grade: c.Does().Verdict.Grade}
			if c.Case.Corner != "" {
				line.Corner = text(map[network.Corner]string{network.Opens: "opens", network.Through: "let-through"}[c.Case.Corner])
			}
			if !c.Found {
				line.Grade = finding.Unknown
			}
			dark, off, dim := c.Fades()
			line.Dark, line.Off, line.Dim = append(line.Dark, dark...), append(line.Off, off...), append(line.Dim, dim...)
			line.Fed = append(append(line.Fed, o.Fed.Fuses...), o.Fed.Bare...)
			out = append(out, line)
		}
	}
	return out
}
