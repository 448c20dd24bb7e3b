package document

import (
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// A layout finds where the pieces of a text stand, to the byte. The parser says where a node begins; its end, the commas,
// colons and comments around it are found here, by going from one node to the next: no text is scanned blindly.
type layout struct {
	text  string
	lines []int // where each line begins
	lost  bool  // something was not where it should be; nothing found since can be trusted
}

const mark = "\ufeff" // byte-order mark

func newLayout(text string) *layout {
	start := 0
	if strings.HasPrefix(text, mark) {
		start = len(mark)
	}
	l := &layout{text: text, lines: []int{start}}
	for p := start; p < len(text); {
		size := l.eol(p)
		if size > 0 {
			l.lines = append(l.lines, p+size)
		}
		p += max(size, 1)
	}
	return l
}

// eol is how many bytes the line break at p has, 0 where there is none. YAML 1.1 breaks lines at all of these.
func (l *layout) eol(p int) int {
	switch rest := l.text[p:]; {
	case rest == "":
		return 0
	case rest[0] == '\n', rest[0] == '\r' && !strings.HasPrefix(rest, "\r\n"):
		return 1
	case rest[0] == '\r', strings.HasPrefix(rest, "\u0085"):
		return 2
	case strings.HasPrefix(rest, "\u2028"), strings.HasPrefix(rest, "\u2029"):
		return 3
	}
	return 0
}

// ends is the line break of the line around p, or else that of the first line; LF where there is no other line.
func (l *layout) ends(p int) string {
	for _, end := range []int{l.lineEnd(p), l.lineEnd(l.lines[0])} {
		if size := l.eol(end); size > 0 {
			return l.text[end : end+size]
		}
	}
	return "\n"
}

func (l *layout) byte(p int) byte {
	if p < 0 || p >= len(l.text) {
		return 0
	}
	return l.text[p]
}

func (l *layout) lineEnd(p int) int {
	for p < len(l.text) && l.eol(p) == 0 {
		p++
	}
	return min(p, len(l.text))
}

func (l *layout) lineStart(p int) int {
	start := l.lines[0]
	low, high := 0, len(l.lines)
	for low < high {
		middle := (low + high) / 2
		if l.lines[middle] <= p {
			start, low = l.lines[middle], middle+1
		} else {
			high = middle
		}
	}
	return start
}

// first reports whether nothing but blanks stands before p in its line.
func (l *layout) first(p int) bool { return l.blanks(l.lineStart(p)) >= p }

// blanks goes over spaces and tabs.
func (l *layout) blanks(p int) int {
	for l.byte(p) == ' ' || l.byte(p) == '\t' {
		p++
	}
	return p
}

// gap goes over blanks, line breaks and comments: to the next token.
func (l *layout) gap(p int) int {
	for p < len(l.text) {
		next := l.blanks(p)
		if l.byte(next) == '#' {
			next = l.lineEnd(next)
		}
		if next < len(l.text) {
			next += l.eol(next)
		}
		if next == p {
			break
		}
		p = next
	}
	return p
}

// silent reports whether nothing but blanks and line breaks stands between two places.
func (l *layout) silent(from, to int) bool { return strings.TrimSpace(l.between(from, to)) == "" }

func (l *layout) between(from, to int) string {
	if from < 0 || from > to || to > len(l.text) {
		l.lost = true
		return ""
	}
	return l.text[from:to]
}

// at is where a node begins, its anchor and tag included.
func (l *layout) at(n *yaml.Node) int {
	if n.Line < 1 || n.Line > len(l.lines) {
		l.lost = true
		return 0
	}
	p := l.lines[n.Line-1]
	for range n.Column - 1 {
		_, size := utf8.DecodeRuneInString(l.text[p:])
		p += size
	}
	return p
}

// properties goes over the anchor and the tag of a node, and stops right after them.
func (l *layout) properties(n *yaml.Node) int {
	end, count := l.at(n), 0
	if n.Anchor != "" {
		count++
	}
	if n.Style&yaml.TaggedStyle != 0 {
		count++
	}
	for range count {
		p := l.gap(end)
		if c := l.byte(p); c != '&' && c != '!' {
			l.lost = true
		}
		stops := " \t\r\n\u0085\u2028\u2029,[]{}"
		if strings.HasPrefix(l.text[p:], "!<") {
			stops = "> \t\r\n"
		}
		end = p + strings.IndexAny(l.text[p:]+"\n", stops)
		if l.byte(end) == '>' {
			end++
		}
	}
	return end
}

// content is where a node begins after its anchor and tag.
func (l *layout) content(n *yaml.Node) int {
	if p := l.properties(n); p > l.at(n) {
		return l.gap(p)
	}
	return l.at(n)
}

// empty reports whether a node is nothing at all: not even the word null, an anchor or a tag.
func empty(n *yaml.Node) bool { return hollow(n) && n.Anchor == "" && n.Style == 0 }

// hollow reports whether a node has no text of its own; it may have an anchor or a tag.
func hollow(n *yaml.Node) bool {
	return n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&^yaml.TaggedStyle == 0
}

// block reports whether a map or list is written in lines, not in brackets.
func block(n *yaml.Node) bool {
	return (n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode) && n.Style&yaml.FlowStyle == 0
}

// end is where a node ends; line break and comment after it are not part of it.
func (l *layout) end(n *yaml.Node) int {
	switch {
	case n.Kind == yaml.AliasNode:
		return l.at(n) + len("*") + len(n.Value)
	case n.Kind == yaml.ScalarNode:
		return l.scalarEnd(n)
	case block(n):
		return l.entryEnd(n, entries(n)-1)
	}
	open := l.byte(l.content(n))
	if open != '{' && open != '[' { // a pair in a list, [a: b], is a map without braces
		return l.entryEnd(n, entries(n)-1)
	}
	p := l.closing(n)
	if l.byte(p) != open+2 { // in ASCII a closing bracket or brace is two after its opening one
		l.lost = true
	}
	return min(p+1, len(l.text))
}

// closing is where the closing bracket or brace of a map or list stands.
func (l *layout) closing(n *yaml.Node) int {
	if entries(n) == 0 {
		return l.gap(l.content(n) + 1)
	}
	p := l.gap(l.entryEnd(n, entries(n)-1))
	if l.byte(p) == ',' {
		p = l.gap(p + 1)
	}
	return p
}

func (l *layout) scalarEnd(n *yaml.Node) int {
	if hollow(n) {
		return l.properties(n)
	}
	p := l.content(n)
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		for p++; p < len(l.text) && l.text[p] != '"'; p++ {
			if l.text[p] == '\\' {
				p++
			}
		}
		return min(p+1, len(l.text))
	case n.Style&yaml.SingleQuotedStyle != 0:
		for p++; p < len(l.text) && (l.text[p] != '\'' || l.byte(p+1) == '\''); p++ {
			if l.text[p] == '\'' {
				p++
			}
		}
		return min(p+1, len(l.text))
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return l.blockScalarEnd(p, n.Value)
	}
	return l.follow(p, n.Value)
}

const white = " \t\r\n\u0085\u2028\u2029"

// follow goes along an unquoted text whose lines were folded: the visible characters are the same in both.
func (l *layout) follow(p int, value string) int {
	end := p
	for _, c := range value {
		if strings.ContainsRune(white, c) {
			continue
		}
		p = end
		for p < len(l.text) {
			next, size := utf8.DecodeRuneInString(l.text[p:])
			if !strings.ContainsRune(white, next) {
				l.lost = l.lost || next != c
				end = p + size
				break
			}
			p += size
		}
		l.lost = l.lost || p >= len(l.text)
	}
	return end
}

// blockScalarEnd is the end of the last line that a text after | or > keeps.
func (l *layout) blockScalarEnd(p int, value string) int {
	end := l.lineEnd(p)
	rest := strings.TrimRight(value, white)
	if rest != "" {
		end = l.lineEnd(l.follow(end, rest))
	}
	kept := strings.Count(value[len(rest):], "\n")
	if rest != "" {
		kept-- // the break of the last visible line
	}
	for ; kept > 0 && end < len(l.text); kept-- {
		end = l.lineEnd(end + l.eol(end))
	}
	return end
}

// entries is the number of pairs of a map or items of a list.
func entries(n *yaml.Node) int {
	if n.Kind == yaml.MappingNode {
		return len(n.Content) / 2
	}
	return len(n.Content)
}

// value is the value of a pair, or an item.
func value(n *yaml.Node, i int) *yaml.Node {
	if n.Kind == yaml.MappingNode {
		return n.Content[2*i+1]
	}
	return n.Content[i]
}

// entryStart is where a pair (at its key, or at the ? before it) or an item (at its dash, if it has one) begins.
func (l *layout) entryStart(n *yaml.Node, i int) int {
	if i == 0 {
		if open := l.byte(l.content(n)); !block(n) && (open == '{' || open == '[') {
			return l.gap(l.content(n) + 1)
		}
		return l.content(n)
	}
	p := l.gap(l.entryEnd(n, i-1))
	if !block(n) && l.byte(p) == ',' {
		p = l.gap(p + 1)
	}
	return p
}

// entryEnd is where a pair or an item ends.
func (l *layout) entryEnd(n *yaml.Node, i int) int {
	if v := value(n, i); !empty(v) {
		return l.end(v)
	}
	p, _ := l.slot(n, i)
	return p
}

// slot is where a value goes that is not there: after the colon of its key or the dash of its item. A key in braces may
// have no colon yet.
func (l *layout) slot(n *yaml.Node, i int) (p int, ready bool) {
	if n.Kind != yaml.MappingNode {
		return l.at(value(n, i)), true // the parser puts it right after the dash
	}
	key := n.Content[2*i]
	after := l.end(key)
	if empty(key) {
		after = l.at(key)
	}
	if colon := l.gap(after); l.byte(colon) == ':' {
		return colon + 1, true
	}
	return after, false
}
