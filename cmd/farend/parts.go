package main

import (
	"fmt"
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

// partJSON is a part with the basis of every number.
type partJSON struct {
	Name  string     `json:"name"`
	Title string     `json:"title"`
	Facts []factJSON `json:"facts,omitempty"`
}

type factJSON struct {
	Key    string `json:"key"`
	Text   string `json:"text"`
	Spread string `json:"spread,omitempty"`
	Basis  string `json:"basis,omitempty"`
	Source string `json:"source,omitempty"`
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
		return writeJSON(s.out, map[string]any{"schema_version": 1, "parts": found})
	}
	p := &page{out: s.out, plain: s.plain()}
	kind := ""
	for _, part := range found {
		if k := parts.Kind(part.Name); k != kind {
			if kind != "" {
				p.blank()
			}
			p.heading(k)
			kind = k
		}
		p.line("%-34s %s", part.Name, part.Title)
	}
	return nil
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
			out.Facts = append(out.Facts, factJSON{f.Key, f.Text, f.Spread, f.Basis, f.Source})
		}
		return writeJSON(s.out, out)
	}
	p := &page{out: s.out, plain: s.plain()}
	p.heading(name)
	p.wrap(parts.Title(part))
	p.blank()
	sources := map[string]int{}
	var order []string
	for _, f := range facts {
		ref := ""
		if f.Source != "" {
			if sources[f.Source] == 0 {
				order = append(order, f.Source)
				sources[f.Source] = len(order)
			}
			ref = fmt.Sprintf("[%d]", sources[f.Source])
		}
		p.line("%-24s %-22s %-14s %-10s %s", f.Key, f.Text, f.Spread, f.Basis, ref)
	}
	p.blank()
	for i, source := range order {
		for j, line := range wrapped(source, columns-6) {
			if j == 0 {
				p.line("%4s  %s", fmt.Sprintf("[%d]", i+1), line)
			} else {
				p.line("      %s", line)
			}
		}
	}
	return nil
}
