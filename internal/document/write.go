package document

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"

	"go.yaml.in/yaml/v4"
)

// inline writes a value in one line: maps and lists in flow style, text plain where it reads back the same and in quotes
// elsewhere. Inside brackets or braces (flow) less can stay plain.
func inline(m *meaning, flow bool) string {
	switch {
	case m.isMap():
		entries := make([]string, len(m.items))
		for i, item := range m.items {
			entries[i] = key(m.keys[i].text, true) + ": " + inline(item, true)
		}
		return "{" + strings.Join(entries, ", ") + "}"
	case m.isList():
		items := make([]string, len(m.items))
		for i, item := range m.items {
			items[i] = inline(item, true)
		}
		return "[" + strings.Join(items, ", ") + "]"
	case m.tag != "!!str":
		return m.text
	case plain(m.text, flow):
		return m.text
	}
	return quoted(m.text)
}

// indented writes the keys of a map one a line.
func indented(m *meaning, indent, eol string) string {
	var b strings.Builder
	for i, item := range m.items {
		b.WriteString(eol + indent + key(m.keys[i].text, false) + ": " + inline(item, false))
	}
	return b.String()
}

// key writes a key. A whole number may stay plain: it reads the same, and the ways of a board are written so.
func key(text string, flow bool) string {
	source := text + ": x"
	if flow {
		source = "{" + source + "}"
	}
	if n, ok := probe(source, 0); ok && visible(text) && n.Value == text && (n.Tag == "!!str" || n.Tag == "!!int") {
		return text
	}
	return quoted(text)
}

// plain reports whether YAML reads the text back as the same text where it stands without quotes. The parser itself is
// asked: its rules for numbers, indicators and comments are many.
func plain(text string, flow bool) bool {
	if !visible(text) {
		return false
	}
	sources := []string{"a: " + text, "a:\n- " + text, "a: " + text + "  # x"}
	if flow { // a blank or a new line may follow, before which ? is an indicator
		sources = []string{"{a: " + text + "}", "{a: [" + text + "]}", "{a: " + text + " }", "{a: " + text + "\n}"}
	}
	for i, source := range sources {
		n, ok := probe(source, 1)
		if ok && i == 1 {
			if n.Kind != yaml.SequenceNode || len(n.Content) != 1 {
				return false
			}
			n = n.Content[0]
		}
		if !ok || n.Kind != yaml.ScalarNode || n.Style != 0 || n.Anchor != "" || n.Value != text || textual(n.Tag) != "!!str" {
			return false
		}
	}
	return true
}

// visible reports whether every character can be seen and leaves a line whole.
func visible(text string) bool {
	return text != "" && !strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsGraphic(c) })
}

// probe reads a map of one pair, and gives its key (0) or its value (1) if that is a plain scalar or a collection.
func probe(source string, part int) (*yaml.Node, bool) {
	var doc yaml.Node
	loader, err := yaml.NewLoader(bytes.NewReader([]byte(source)))
	if err != nil || loader.Load(&doc) != nil || len(doc.Content) != 1 {
		return nil, false
	}
	m := doc.Content[0]
	if m.Kind != yaml.MappingNode || len(m.Content) != 2 || part == 0 && (m.Content[0].Style != 0 || m.Content[0].Anchor != "" || m.Content[1].Value != "x") {
		return nil, false
	}
	return m.Content[part], true
}

// quoted writes text in double quotes, or in single ones where that saves escapes (YAML 1.2.2, sections 7.3.1 and 7.3.2).
func quoted(text string) string {
	if strings.ContainsAny(text, `"\`) && !strings.Contains(text, "'") && visible(text) {
		return "'" + text + "'"
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range text {
		switch {
		case c == '"' || c == '\\':
			b.WriteString("\\" + string(c))
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteString(`\t`)
		case unicode.IsGraphic(c):
			b.WriteRune(c)
		case c < 0x100:
			fmt.Fprintf(&b, `\x%02x`, c)
		case c < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, c)
		default:
			fmt.Fprintf(&b, `\U%08x`, c)
		}
	}
	return b.String() + `"`
}
