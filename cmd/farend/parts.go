package main

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
)

type partsCommand struct {
	Words []string `arg:"" optional:"" help:"A part's whole name, or words to search for."`
	JSON  bool     `name:"json" help:"As one JSON object."`
}

func (c *partsCommand) Help() string {
	return "Examples:\n  farend parts\n  farend parts tape 5 V\n  farend parts tape/5v-rgb-60"
}

// The JSON of parts: the parts found, or one part with the basis of every number.
type partsJSON struct {
	SchemaVersion int        `json:"schema_version"`
	Parts         []partJSON `json:"parts"`
}

type partJSON struct {
	Name  string     `json:"name"`
	Title string     `json:"title"`
	Facts []factJSON `json:"facts,omitempty"`
}

type factJSON struct {
	Key    string  `json:"key"`
	Text   string  `json:"text"`
	Spread *string `json:"spread"`
	Basis  *string `json:"basis"`
	Source *string `json:"source"`
}

func (c *partsCommand) Run(s streams) error {
	library := parts.Catalogue()
	if len(c.Words) == 1 {
		if part, ok := library.Find(c.Words[0]); ok {
			return s.showPart(c.Words[0], part, c.JSON)
		}
	}
	found := search(library, c.Words)
	if len(found) == 0 {
		return usage(fmt.Sprintf("no part of the catalogue has all of: %s", strings.Join(c.Words, " ")), partHint(library, c.Words))
	}
	if c.JSON {
		return writeJSON(s.out, partsJSON{1, found})
	}
	s.page().list(found)
	return nil
}

// list writes parts under the headings of their kinds.
func (p *page) list(found []partJSON) {
	const names = 34
	kind := ""
	for _, part := range found {
		if k := parts.Kind(part.Name); k != kind {
			if kind != "" {
				p.blank()
			}
			p.heading(k)
			kind = k
		}
		for i, line := range wrapped(part.Title, columns-names-1) {
			if i > 0 {
				part.Name = ""
			}
			p.line("%-*s %s", names, part.Name, line)
		}
	}
}

func partHint(library *parts.Library, words []string) string {
	if near := finding.DidYouMean(strings.Join(words, " "), library.Names("")); near != "" {
		return "did you mean " + near + "?"
	}
	return "farend parts lists them all"
}

// search lists the parts whose name or title holds every word.
func search(library *parts.Library, words []string) []partJSON {
	found := []partJSON{}
	for _, kind := range parts.Kinds() {
		for _, name := range library.Names(kind) {
			part, _ := library.Find(name)
			title := parts.Title(part)
			all := strings.ToLower(name + " " + title)
			if matches(all, words) {
				found = append(found, partJSON{Name: name, Title: title})
			}
		}
	}
	return found
}

func matches(text string, words []string) bool {
	for _, w := range words {
		if !strings.Contains(text, strings.ToLower(w)) {
			return false
		}
	}
	return true
}

func (s streams) showPart(name string, part any, asJSON bool) error {
	facts := parts.Facts(part)
	if asJSON {
		out := partJSON{Name: name, Title: parts.Title(part)}
		for _, f := range facts {
			out.Facts = append(out.Facts, factJSON{f.Key, f.Text, text(f.Spread), text(f.Basis), text(f.Source)})
		}
		return writeJSON(s.out, partsJSON{1, []partJSON{out}})
	}
	p := s.page()
	p.heading(name)
	p.wrap(parts.Title(part))
	p.blank()
	p.facts(facts)
	return nil
}

// facts writes what a part states, each with its basis and the number of its source, and the sources under them.
func (p *page) facts(facts []parts.Fact) {
	t := p.table("What is stated, and on what it rests", "", "value", "spread", "basis", "source")
	var sources []string
	mark := func(source string) string {
		if source == "" {
			return ""
		}
		if !slices.Contains(sources, source) {
			sources = append(sources, source)
		}
		return fmt.Sprintf("[%d]", slices.Index(sources, source)+1)
	}
	for _, f := range facts {
		if strings.HasSuffix(f.Key, ".source") { // of a chip's own; it stands with the others
			f.Text, f.Basis, f.Source = mark(f.Text), "", ""
		}
		t.row(f.Key, f.Text, f.Spread, f.Basis, mark(f.Source))
	}
	t.print()
	for i, source := range sources {
		mark := fmt.Sprintf("[%d]", i+1)
		for _, line := range wrapped(source, columns-6) {
			p.line("%4s  %s", mark, line)
			mark = ""
		}
	}
}
