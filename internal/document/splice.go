package document

import (
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// A splice puts text in place of the bytes from..to.
type splice struct {
	from, to int
	text     string
}

// within reports whether all splices lie in the text, the right way round.
func (l *layout) within(splices []splice) bool {
	return !slices.ContainsFunc(splices, func(s splice) bool { return s.from < 0 || s.from > s.to || s.to > len(l.text) })
}

// spliced is the text after the splices, which do not overlap.
func spliced(text string, splices []splice) string {
	slices.SortStableFunc(splices, func(a, b splice) int { return a.from - b.from })
	var b strings.Builder
	at := 0
	for _, s := range splices {
		b.WriteString(text[at:max(s.from, at)] + s.text)
		at = max(at, s.to)
	}
	return b.String() + text[at:]
}

// A spot is one entry of a map or list in the text: there already, or about to be.
type spot struct {
	in    *yaml.Node // the map or list
	at    int        // the entry; −1: a new one
	key   string     // of a map
	flow  bool       // some map or list around the entry is in brackets
	above *spot      // where the map or list itself stands; nil for the whole file
	shape shape      // of the map or list
}

func (s spot) value() *yaml.Node { return value(s.in, s.at) }

// section reports whether the value of the entry is a section of the file, which is written in lines.
func (s spot) section() bool { return s.above == nil && s.in.Kind == yaml.MappingNode && block(s.in) }

// put writes a value that is not there yet, or in the place of another.
func (l *layout) put(s spot, want *meaning) []splice {
	switch {
	case s.at < 0:
		return l.insert(s, want)
	case empty(s.value()):
		return l.fill(s, want)
	case block(s.value()):
		return l.fold(s, inline(want, s.flow))
	}
	v := s.value()
	from, to := l.content(v), l.end(v)
	if v.Style&yaml.TaggedStyle != 0 {
		from = l.at(v) // the tag was that of the old value
	}
	text := inline(want, s.flow)
	if hollow(v) && v.Anchor != "" {
		from, text = to, " "+text
	}
	if v.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		return []splice{{from, to, text}}
	}
	indicators := from + len(l.text[from:]) - len(strings.TrimLeft(l.text[from:], "|>+-0123456789"))
	return []splice{{from, max(from, indicators), text}, {l.lineEnd(from), to, ""}}
}

// fill writes the value of a key or dash that has none.
func (l *layout) fill(s spot, want *meaning) []splice {
	p, ready := l.slot(s.in, s.at)
	switch {
	case s.section() && want.isMap() && len(want.items) > 0:
		end := l.lineEnd(p)
		return []splice{{end, end, indented(want, l.indent(s.in), l.ends(p))}}
	case !ready:
		return []splice{{p, p, ": " + inline(want, s.flow)}}
	}
	return []splice{{p, p, " " + inline(want, s.flow)}}
}

// fold writes one line in place of a map or list in lines. Comments above its first entry stay.
func (l *layout) fold(s spot, text string) []splice {
	v := s.value()
	start, end := l.content(v), l.lineEnd(l.end(v))
	if !l.first(start) { // begun in the line of its dash
		return []splice{{start, end, text}}
	}
	from := l.entryStart(s.in, s.at) + len("-")
	if s.in.Kind == yaml.MappingNode {
		from, _ = l.slot(s.in, s.at)
	}
	to := from
	switch {
	case v.Style&yaml.TaggedStyle != 0: // the tag was that of the old value
		to = l.properties(v)
	case v.Anchor != "":
		from, to = l.properties(v), l.properties(v)
	}
	return []splice{{from, to, " " + text}, l.lineCut(start, end)}
}

// lineCut takes out whole lines. At the end of a text without a last line break the one before goes.
func (l *layout) lineCut(from, to int) splice {
	start, end := l.lineStart(from), l.lineEnd(to)
	if end < len(l.text) {
		return splice{start, end + l.eol(end), ""}
	}
	if i, found := slices.BinarySearch(l.lines, start); found && i > 0 {
		start = l.lineEnd(l.lines[i-1])
	}
	return splice{start, end, ""}
}

// indent is how far the keys of the sections of the file stand in: as in the first that has any, or else two spaces.
func (l *layout) indent(root *yaml.Node) string {
	for i := range entries(root) {
		if v := value(root, i); v.Kind == yaml.MappingNode && block(v) && entries(v) > 0 {
			return l.lead(v.Content[0])
		}
	}
	return "  "
}

// lead is as many spaces as stand before a node, or other characters in their place.
func (l *layout) lead(n *yaml.Node) string { return strings.Repeat(" ", max(n.Column-1, 0)) }

// insert writes a new entry.
func (l *layout) insert(s spot, want *meaning) []splice {
	name := ""
	if s.in.Kind == yaml.MappingNode {
		name = key(s.key, !block(s.in)) + ":"
	}
	if !block(s.in) {
		return l.insertFlow(s.in, strings.TrimPrefix(name+" "+inline(want, true), " "))
	}
	if s.in.Kind != yaml.MappingNode {
		name = "-"
	}
	lead := strings.Repeat(" ", l.column(l.entryStart(s.in, 0)))
	after := entries(s.in) - 1
	if s.above == nil {
		after = s.neighbour()
	}
	p := l.lineEnd(l.entryEnd(s.in, after))
	eol := l.ends(p)
	text := eol + lead + name
	if s.section() && want.isMap() && len(want.items) > 0 {
		if l.apart(s.in, after) {
			text = eol + text
		}
		return []splice{{p, p, text + indented(want, l.indent(s.in), eol)}}
	}
	return []splice{{p, p, text + " " + inline(want, s.flow)}}
}

// column counts characters from the start of the line.
func (l *layout) column(p int) int { return utf8.RuneCountInString(l.between(l.lineStart(p), p)) }

// neighbour is the section after which a new one goes: the last of those that the house puts before it, or else the
// last of all.
func (s spot) neighbour() int {
	ranks := s.shape.rank()
	rank, known := ranks[s.key]
	for i := entries(s.in) - 1; known && s.in.Kind == yaml.MappingNode && i >= 0; i-- {
		if other, ok := ranks[s.in.Content[2*i].Value]; ok && other < rank {
			return i
		}
	}
	return entries(s.in) - 1
}

// apart reports whether an empty line stands between an entry and the one before.
func (l *layout) apart(n *yaml.Node, i int) bool {
	if i == 0 {
		return false
	}
	above := l.lineEnd(l.entryEnd(n, i-1))
	for line := range strings.Lines(l.between(above+l.eol(above), l.entryStart(n, i))) {
		if strings.TrimSpace(line) == "" {
			return true
		}
	}
	return false
}

// insertFlow writes an entry as the last in brackets or braces: in a line of its own if the one before has one.
func (l *layout) insertFlow(n *yaml.Node, entry string) []splice {
	count := entries(n)
	if count == 0 {
		from := l.content(n) + 1
		to := l.blanks(from)
		if l.byte(to) != '}' && l.byte(to) != ']' {
			to = from
		}
		return []splice{{from, to, entry}}
	}
	start, last := l.entryStart(n, count-1), l.entryEnd(n, count-1)
	if !l.first(start) {
		return []splice{{last, last, ", " + entry}}
	}
	after, comma, trailing := last, ",", ""
	if p := l.gap(last); l.byte(p) == ',' {
		after, comma, trailing = p+1, "", ","
	}
	line := l.ends(last) + l.between(l.lineStart(start), start) + entry + trailing
	if p := l.blanks(after); l.byte(p) == '#' || p >= len(l.text) || l.eol(p) > 0 {
		return []splice{{last, last, comma}, {l.lineEnd(p), l.lineEnd(p), line}}
	}
	return []splice{{after, after, comma + line}}
}

// remove takes an entry out, with the comment in its own last line. The last one of a map or list leaves {} or [], because
// nothing more was asked: the key keeps its place and its comments.
func (l *layout) remove(s spot) []splice {
	switch {
	case !block(s.in):
		return l.removeFlow(s.in, s.at)
	case entries(s.in) > 1:
		return l.removeBlock(s.in, s.at)
	}
	nothing := "{}"
	if s.in.Kind == yaml.SequenceNode {
		nothing = "[]"
	}
	if s.above != nil {
		return l.fold(*s.above, nothing)
	}
	return []splice{{l.content(s.in), l.lineEnd(l.end(s.in)), nothing}}
}

func (l *layout) removeBlock(n *yaml.Node, i int) []splice {
	start, end := l.entryStart(n, i), l.lineEnd(l.entryEnd(n, i))
	if l.first(start) {
		return []splice{l.lineCut(start, end)}
	}
	next := l.entryStart(n, i+1) // begun in the line of a dash, so it is the first
	if l.silent(end, next) {
		return []splice{{start, next, ""}}
	}
	start = len(strings.TrimRight(l.text[:start], " \t"))
	return []splice{{start, end, ""}}
}

func (l *layout) removeFlow(n *yaml.Node, i int) []splice {
	start, end := l.entryStart(n, i), l.entryEnd(n, i)
	after, comma := end, false
	if p := l.gap(end); l.byte(p) == ',' {
		after, comma = p+1, true
	}
	rest := l.blanks(after)
	if l.byte(rest) == '#' {
		rest = l.lineEnd(rest)
	}
	ends := rest >= len(l.text) || l.eol(rest) > 0
	var splices []splice
	gap := start // the blanks before go too, where nothing is said there
	if i > 0 {
		before := l.gap(l.entryEnd(n, i-1))
		if l.silent(before+1, start) {
			gap = before + 1
		}
		if i == entries(n)-1 && !comma { // the comma before goes too; else the last keeps its comma
			splices = []splice{{before, before + 1, ""}}
		}
	}
	switch {
	case ends && l.first(start):
		return append(splices, l.lineCut(start, rest))
	case i+1 < entries(n):
		next := l.entryStart(n, i+1)
		if l.silent(rest, next) {
			rest = next
		}
		return []splice{{start, rest, ""}}
	case i > 0:
		return append(splices, splice{gap, after, ""})
	}
	if closing := l.closing(n); l.silent(after, closing) && l.silent(l.content(n)+1, start) {
		return []splice{{l.content(n) + 1, closing, ""}}
	}
	return []splice{{start, rest, ""}}
}
