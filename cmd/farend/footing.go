package main

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/report"
	"farend/study"
)

// mostLinks is the number of weak links that are told.
const mostLinks = 3

// printFooting says on which numbers the verdict rests, where they are weakest and what would firm them up.
func (c *checked) printFooting(p *page) {
	f := c.Footing(c.assessed)
	if len(f.Bases) == 0 {
		return
	}
	p.heading("What this rests on")
	text := report.Rests(f, c.findings)
	if len(f.Weakest) > 0 {
		text += " Weakest, and what would firm it up:"
	}
	p.wrap(text)
	for _, l := range f.Weakest[:min(len(f.Weakest), mostLinks)] {
		p.listed(linkText(l))
	}
	if more := len(f.Weakest) - mostLinks; more > 0 {
		p.line("  … and %d more; --json has them all", more)
	}
	p.blank()
}

// listed writes an entry of a list, two columns in.
func (p *page) listed(s string) {
	mark := "–"
	for _, line := range wrapped(s, columns-4) {
		p.line("  %-2s%s", mark, line)
		mark = ""
	}
}

// linkText names a weak link, how it is known, how much rests on it, and what would firm it up.
func linkText(l study.Link) string {
	text := report.Link(l)
	text += ", under " + strings.TrimSuffix(l.Holds[0], ":")
	if more := len(l.Holds) - 1; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	if l.Firm == nil {
		return text + "."
	}
	firm, _, _ := strings.Cut(l.Firm[0], ", ") // the rest is in --json, and in the note on a typical tape
	return text + ": " + firm + "."
}

// The JSON of what a verdict rests on.
type restsJSON struct {
	Numbers []basisJSON `json:"numbers"`
	Wiring  int         `json:"wiring"`
	Weakest []linkJSON  `json:"weakest"`
}

type basisJSON struct {
	Basis string `json:"basis"`
	Count int    `json:"count"`
}

type linkJSON struct {
	Part   *string       `json:"part"`
	Keys   []string      `json:"keys"`
	Basis  string        `json:"basis"`
	Input  *string       `json:"input"`
	Varies bool          `json:"varies"`
	Holds  []string      `json:"holds"`
	Grade  finding.Grade `json:"grade"`
	FirmUp []string      `json:"firm_up"`
}

// footingJSON is the JSON of a footing; of the zero Footing where there is none.
func footingJSON(f study.Footing) restsJSON {
	out := restsJSON{Numbers: []basisJSON{}, Wiring: f.Wiring, Weakest: []linkJSON{}}
	for _, b := range f.Bases {
		out.Numbers = append(out.Numbers, basisJSON{string(b.Basis), b.Numbers})
	}
	for _, l := range f.Weakest {
		out.Weakest = append(out.Weakest, linkJSON{text(l.Part), l.Keys, string(l.Basis), text(l.Input), l.Spread, l.Holds, l.Grade, append([]string{}, l.Firm...)})
	}
	return out
}
