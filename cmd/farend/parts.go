package main

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

type partsCommand struct {
	Words []string `arg:"" optional:"" predictor:"part" help:"Words, kinds and quantities to search for; or the whole name of a part, or of several."`
	JSON  bool     `name:"json" help:"As one JSON object."`
}

func (c *partsCommand) Help() string {
	return `Words are looked for in names, titles and the part numbers of chips. A number with a unit finds
parts that state it, to three figures; >, >=, < and <= (in quotes, for the shell), from and to
limit a rating. One whole name shows every number with its basis; several stand side by side.

Examples:
  farend parts
  farend parts tape 5 V 60/m
  farend parts ws2812b
  farend parts cable 2.5mm2
  farend parts supply 24 V '>=10A'
  farend parts fuse from 5 A to 10 A
  farend parts tape/5v-rgb-60
  farend parts fuse/blade-5A fuse/blade-7.5A`
}

// The JSON of parts: the parts found, or those asked for by name with the basis of every number.
type partsJSON struct {
	SchemaVersion int        `json:"schema_version"`
	Parts         []partJSON `json:"parts"`
	Differing     []string   `json:"differing"`
}

type partJSON struct {
	Name  string     `json:"name"`
	Title string     `json:"title"`
	Facts []factJSON `json:"facts,omitempty"`
}

type factJSON struct {
	Key    string   `json:"key"`
	Text   string   `json:"text"`
	Value  *float64 `json:"value"`
	Unit   *string  `json:"unit"`
	Spread *string  `json:"spread"`
	Basis  *string  `json:"basis"`
	Source *string  `json:"source"`
}

func (c *partsCommand) Run(s streams) error {
	library := parts.Catalogue()
	if named, ok := wholeNames(library, c.Words); ok {
		return s.showParts(named, c.JSON)
	}
	if missing := misnamed(library, c.Words); missing != "" {
		return usage(fmt.Sprintf("there is no part %q", missing), nameHint(library, missing))
	}
	query, err := parts.NewQuery(c.Words)
	var mistake *unit.Error
	if errors.As(err, &mistake) {
		return usage(mistake.Text, mistake.Hint)
	}
	found := library.Search(query)
	if len(found) == 0 {
		return usage("no part of the catalogue has all of: "+shown(strings.Join(c.Words, " ")), searchHint(library, query, c.Words))
	}
	if c.JSON {
		out := partsJSON{SchemaVersion: 1}
		for _, m := range found {
			out.Parts = append(out.Parts, partJSON{m.Name, m.Title, factsJSON(m.Stated)})
		}
		return writeJSON(s.out, out)
	}
	s.page().list(found)
	s.page().elsewhere(library, query, c.Words)
	return nil
}

// A namedPart is a part with everything it states.
type namedPart struct {
	name, title string
	facts       []parts.Fact
}

// wholeNames is the parts that the words name, if each names one. A name that stands twice counts once.
func wholeNames(library *parts.Library, words []string) ([]namedPart, bool) {
	var named []namedPart
	for _, name := range words {
		part, ok := library.Find(name)
		if !ok {
			return nil, false
		}
		if !slices.ContainsFunc(named, func(p namedPart) bool { return p.name == name }) {
			named = append(named, namedPart{name, parts.Title(part), parts.Facts(part)})
		}
	}
	return named, len(named) > 0
}

// misnamed is the first word that is written as a whole name and names nothing, where another word does; "" if there is none.
func misnamed(library *parts.Library, words []string) string {
	missing, beside := "", false
	for _, w := range words {
		_, ok := library.Find(w)
		beside = beside || ok
		if !ok && missing == "" && slices.Contains(parts.Kinds(), parts.Kind(w)) {
			missing = w
		}
	}
	if !beside {
		return ""
	}
	return missing
}

func nameHint(library *parts.Library, name string) string {
	if near := library.Meant(parts.Kind(name), name); len(near) > 0 {
		return "did you mean " + strings.Join(near, " or ") + "?"
	}
	return "farend parts " + parts.Kind(name) + " lists every " + parts.Kind(name)
}

// shown is what was typed as it may stand in a line of a terminal.
func shown(typed string) string { return clip(printable(typed), 60) }

// searchHint says which word is misspelt, or what the nearest ratings are.
func searchHint(library *parts.Library, q parts.Query, words []string) string {
	if len(words) == 1 && slices.Contains(parts.Kinds(), parts.Kind(words[0])) && strings.Contains(words[0], "/") {
		return nameHint(library, words[0])
	}
	for _, w := range q.Words {
		if len(library.Search(parts.Query{Words: []string{w}})) > 0 {
			continue
		}
		if near := finding.DidYouMean(w, library.Vocabulary()); near != "" {
			return "did you mean " + shown(strings.Replace(strings.Join(words, " "), w, near, 1)) + "?"
		}
		return fmt.Sprintf("no part has %q; farend parts lists them all", shown(w))
	}
	if bound, near := library.Nearest(q); len(near) > 0 {
		texts := []string{near[0].Text}
		if len(near) > 1 {
			texts = append(texts, near[1].Text)
		}
		return "nearest to " + bound.Sign + bound.Text + ": " + strings.Join(texts, " and ")
	}
	return "farend parts lists them all"
}

// longestName is the widest column of names; a longer one has a line of its own.
const longestName = 40

// list writes parts under the headings of their kinds, and under each what it states of the quantities asked for.
func (p *page) list(found []parts.Match) {
	names := 0
	for _, m := range found {
		names = max(names, min(width(m.Name), longestName))
	}
	kind := ""
	for _, m := range found {
		if k := parts.Kind(m.Name); k != kind {
			if kind != "" {
				p.blank()
			}
			p.heading(k)
			kind = k
		}
		p.entry(m, names)
	}
	p.blank()
	p.line("%s", closing(len(found)))
}

// closing is the last line of a list.
func closing(n int) string {
	if n == 1 {
		return "1 part. Its whole name shows what it states, and whence."
	}
	return fmt.Sprintf("%d parts. A whole name shows what that part states, and whence; several stand side by side.", n)
}

// entry writes one part of a list, its name in a column of so many.
func (p *page) entry(m parts.Match, names int) {
	name := m.Name
	if width(name) > names {
		p.line("%s", name)
		name = ""
	}
	write := func(text, codes string) {
		for _, line := range wrapped(text, columns-names-2) {
			if codes != "" {
				line = p.styled(line, codes)
			}
			p.line("%s%s  %s", name, strings.Repeat(" ", names-width(name)), line)
			name = ""
		}
	}
	write(m.Title, "")
	if len(m.Stated) > 0 {
		write(statement(folded(m.Stated)), "2")
	}
}

// statement is facts in a line: "volts 24.0 V, amps 10.0 A".
func statement(facts []parts.Fact) string {
	var texts []string
	for _, f := range facts {
		texts = append(texts, f.Key+" "+f.Text)
	}
	return strings.Join(texts, ", ")
}

// elsewhere says in which other kinds the word that was taken for a kind, and all others, are found too.
func (p *page) elsewhere(library *parts.Library, q parts.Query, words []string) {
	if q.Kind == "" || len(words) < 2 {
		return
	}
	text, kinds := parts.Query{Words: append([]string{q.Kind}, q.Words...), Bounds: q.Bounds}, map[string]int{}
	for _, m := range library.Search(text) {
		kinds[parts.Kind(m.Name)]++
	}
	for _, kind := range parts.Kinds() {
		if kind != q.Kind && kinds[kind] > 0 {
			p.line("Also %d under %s: farend parts %s %s", kinds[kind], kind, kind, quoted(words))
		}
	}
}

// quoted is words as a shell takes them.
func quoted(words []string) string {
	var list []string
	for _, w := range words {
		if strings.ContainsAny(w, "<> \t'\"$&;|*?()") {
			w = "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
		}
		list = append(list, w)
	}
	return strings.Join(list, " ")
}

func (s streams) showParts(named []namedPart, asJSON bool) error {
	if asJSON {
		out := partsJSON{SchemaVersion: 1}
		for _, part := range named {
			out.Parts = append(out.Parts, partJSON{part.name, part.title, factsJSON(part.facts)})
		}
		if len(named) > 1 {
			out.Differing = differing(named)
		}
		return writeJSON(s.out, out)
	}
	var advice []parts.Fact
	for i := range named {
		named[i].facts, advice = apart(named[i].facts)
	}
	if len(named) > 1 {
		for i := range named {
			named[i].facts = united(folded(named[i].facts))
		}
		s.page().beside(named)
		return nil
	}
	p := s.page()
	p.heading(named[0].name)
	p.wrap(named[0].title)
	p.blank()
	p.facts(named[0].facts)
	p.advice(advice)
	return nil
}

// toMeasure is where a part says how to find a number of one's own, a sentence for each.
const toMeasure = "measure."

// apart is what a part states, and what it says to measure of one's own.
func apart(facts []parts.Fact) (stated, advice []parts.Fact) {
	for _, f := range facts {
		if strings.HasPrefix(f.Key, toMeasure) {
			advice = append(advice, f)
		} else {
			stated = append(stated, f)
		}
	}
	return stated, advice
}

// advice writes what to measure of one's own part, and for which of its numbers.
func (p *page) advice(advice []parts.Fact) {
	if len(advice) == 0 {
		return
	}
	const keys = 8
	p.blank()
	p.line("%s", p.styled("Of your own, measure", "1"))
	for _, f := range advice {
		key := strings.TrimPrefix(f.Key, toMeasure)
		for _, line := range wrapped(f.Text, columns-keys) {
			p.line("%-*s%s", keys, key, line)
			key = ""
		}
	}
}

func factsJSON(facts []parts.Fact) []factJSON {
	var list []factJSON
	for _, f := range facts {
		out := factJSON{Key: f.Key, Text: f.Text, Spread: text(f.Spread), Basis: text(f.Basis), Source: text(f.Source)}
		if f.Number {
			measure := "1"
			if f.Of != nil {
				measure = f.Of.SI
			}
			out.Value, out.Unit = number(f.Value), &measure
		}
		list = append(list, out)
	}
	return list
}

// facts writes what a part states, each with its basis and the number of its source, and the sources under them.
func (p *page) facts(facts []parts.Fact) {
	facts = folded(facts)
	numbers := width("value")
	for _, f := range facts {
		if f.Number {
			numbers = max(numbers, width(f.Text))
		}
	}
	t := p.table("What is stated, and on what it rests", "", padded("value", numbers)+"  spread", "basis", "source")
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
		if f.Number { // words may be longer than any number, and have no spread
			f.Text = strings.TrimRight(padded(f.Text, numbers)+"  "+f.Spread, " ")
		}
		t.row(f.Key, f.Text, f.Basis, mark(f.Source))
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

// numbered is a key that stands under a numbered entry, in three: ways. 12 .amps, ports. P12 .high.
var numbered = regexp.MustCompile(`^(.*\.)([A-Z]?[0-9]+)(\..*)$`)

// folded joins numbered entries that follow each other and state the same: ways.1–12.amps.
func folded(facts []parts.Fact) []parts.Fact {
	var list []parts.Fact
	for i := 0; i < len(facts); {
		size := entrySize(facts[i:])
		end := i + size
		for size > 0 && sameEntry(facts[i:i+size], facts[end:]) {
			end += size
		}
		if size > 0 && end > i+size {
			last := numbered.FindStringSubmatch(facts[end-1].Key)[2]
			for _, f := range facts[i : i+size] {
				m := numbered.FindStringSubmatch(f.Key)
				f.Key = m[1] + m[2] + "–" + last + m[3]
				list = append(list, f)
			}
		} else {
			end = i + max(size, 1)
			list = append(list, facts[i:end]...)
		}
		i = end
	}
	return list
}

// entrySize is how many facts belong to the numbered entry that the facts begin with, 0 where they begin with none.
func entrySize(facts []parts.Fact) int {
	first := numbered.FindStringSubmatch(facts[0].Key)
	for i, f := range facts {
		if m := numbered.FindStringSubmatch(f.Key); m == nil || first == nil || m[1] != first[1] || m[2] != first[2] {
			return i
		}
	}
	return len(facts)
}

// sameEntry reports whether the facts that follow begin with an entry that states the same as the given one, and no more.
func sameEntry(entry, next []parts.Fact) bool {
	if len(next) == 0 || entrySize(next) != len(entry) {
		return false
	}
	for i, f := range entry {
		g := next[i]
		a, b := numbered.FindStringSubmatch(f.Key), numbered.FindStringSubmatch(g.Key)
		f.Key, g.Key = "", ""
		if a[1] != b[1] || a[3] != b[3] || f != g {
			return false
		}
	}
	return true
}
