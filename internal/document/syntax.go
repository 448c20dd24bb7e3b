package document

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"farend/finding"
)

// maxBytes is more than any scheme needs: 10,000 runs with their feeds and leads take six million bytes. A larger file is
// answered at once rather than after minutes.
const maxBytes = 8 << 20

// parse turns text into one YAML document, or says why it cannot.
func (r *Reader) parse(source []byte) (*yaml.Node, bool) {
	if !r.isText(source) {
		return nil, false
	}
	loader, err := yaml.NewLoader(bytes.NewReader(bytes.TrimPrefix(source, []byte(mark))))
	if err != nil {
		r.syntax(err, source)
		return nil, false
	}
	var doc, extra yaml.Node
	if err := loader.Load(&doc); err != nil && !errors.Is(err, io.EOF) {
		r.syntax(err, source)
		return nil, false
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) == 0 || isNull(doc.Content[0]) {
		r.add(finding.Pos{File: r.file, Line: 1, Column: 1}, "the file is empty", "begin with the line \"farend: 1\"")
		return nil, false
	}
	switch err := loader.Load(&extra); {
	case err == nil && extra.Kind == yaml.DocumentNode:
		r.add(r.place(&extra), "a second document begins here", "keep one scheme in one file; remove the line \"---\"")
		return nil, false
	case err != nil && !errors.Is(err, io.EOF):
		r.syntax(err, source)
		return nil, false
	}
	return doc.Content[0], true
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// isText reports whether the source is text that YAML may hold, of a size that can be read.
func (r *Reader) isText(source []byte) bool {
	whole := finding.Pos{File: r.file}
	encoding := wide(source)
	text := bytes.TrimPrefix(source, []byte(mark))
	at := func(offset int) finding.Pos { return finding.Locate(r.file, source, len(source)-len(text)+offset) }
	zero, odd, steering := bytes.IndexByte(text, 0), invalidAt(text), bytes.IndexFunc(text, forbidden)
	switch {
	case len(source) > maxBytes:
		r.add(whole, fmt.Sprintf("the file has more than %d MB; no scheme is that large", maxBytes>>20), "is this the right file?")
	case encoding != "":
		r.add(whole, "the file is "+encoding+" text; Farend reads UTF-8", "save it again as UTF-8")
	case zero >= 0:
		r.add(at(zero), "the file is not text: it holds a zero byte", "save the scheme as UTF-8 text")
	case odd < len(text):
		hint := "save it again as UTF-8"
		if text[odd] > 0xa0 { // of these alone Latin-1 and Windows-1252 think alike
			hint += fmt.Sprintf("; if it is Latin-1 or Windows-1252, this is %c", rune(text[odd]))
		}
		r.add(at(odd), "the file is not UTF-8 text", hint)
	case steering >= 0:
		c, _ := utf8.DecodeRune(text[steering:])
		r.add(at(steering), fmt.Sprintf("a control character stands here (U+%04X)", c), "remove it; it may be invisible in an editor")
	default:
		return true
	}
	return false
}

// wide names an encoding of two or four bytes a character: by its byte-order mark, or by the zero byte that each of the
// first letters then has beside it.
func wide(source []byte) string {
	starts := func(with string) bool { return bytes.HasPrefix(source, []byte(with)) }
	switch {
	case starts("\xff\xfe\x00\x00"), starts("\x00\x00\xfe\xff"):
		return "UTF-32"
	case starts("\xff\xfe"), starts("\xfe\xff"):
		return "UTF-16"
	}
	const looked = 4 // letters
	var zeros [2]int
	for i, c := range source[:min(len(source), 2*looked)] {
		if c == 0 {
			zeros[i%2]++
		}
	}
	if zeros[0]+zeros[1] == looked && (zeros[0] == 0 || zeros[1] == 0) {
		return "UTF-16"
	}
	return ""
}

// forbidden reports whether YAML forbids a character (YAML 1.2.2, production 1), or allows it in the first place only, as
// a byte-order mark.
func forbidden(c rune) bool {
	return c < ' ' && c != '\t' && c != '\n' && c != '\r' || c >= 0x7f && c < 0xa0 && c != 0x85 || c == 0xfffe || c == 0xffff || c == 0xfeff
}

func invalidAt(source []byte) int {
	for i := 0; i < len(source); {
		c, size := utf8.DecodeRune(source[i:])
		if c == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return len(source)
}

// syntax says what the YAML parser found, in words for people who do not know how it works.
func (r *Reader) syntax(err error, source []byte) {
	var one *yaml.LoadError
	if !errors.As(err, &one) {
		r.add(finding.Pos{File: r.file, Line: 1, Column: 1}, "the file is not YAML: "+err.Error(), "look for a bracket, brace or quote that is not closed")
		return
	}
	at := finding.Pos{File: r.file, Line: max(one.Mark.Line, 1), Column: max(one.Mark.Column, 1)}
	if _, ok := finding.Line(source, at.Line); !ok { // the parser counts a line behind the last
		at = finding.Locate(r.file, source, len(source))
	}
	if place, colour, ok := r.lostColour(source, at.Line); ok {
		r.add(place, "# begins a comment here, so the rest of the line does not count", "put the colour in quotes: "+strconv.Quote(colour))
		return
	}
	began := finding.Pos{File: r.file, Line: one.ContextMark.Line, Column: one.ContextMark.Column}
	c := here(source, at)
	i := slices.IndexFunc(slips(), func(s slip) bool {
		return strings.Contains(one.Message, s.parser) && strings.Contains(one.ContextMsg, s.within) && (s.at == 0 || s.at == c)
	})
	s := slips()[i] // the last holds for any
	before := cmp.Or(cmp.Compare(began.Line, at.Line), cmp.Compare(began.Column, at.Column)) < 0
	if (s.opening || c == ended) && began.Line > 0 && before {
		at = began
	}
	r.add(at, strings.NewReplacer("{here}", strconv.QuoteRune(c), "{line}", strconv.Itoa(began.Line), "{parser}", one.Message).Replace(s.text), s.hint)
}

// ended stands for the character behind the last one.
const ended = -1

// lostColour finds the first colour without quotes, up to the line where the parser gave up, that takes a closing bracket with it
// into a comment: {colour: #ffb060}.
func (r *Reader) lostColour(source []byte, last int) (at finding.Pos, colour string, ok bool) {
	m := bareColour.FindSubmatchIndex(source)
	if m == nil {
		return finding.Pos{}, "", false
	}
	at = finding.Locate(r.file, source, m[2])
	return at, string(source[m[2]:m[3]]), at.Line <= last
}

// bareColour is a line up to a closing bracket behind a colour without quotes, where the quotes before it are closed.
var bareColour = regexp.MustCompile(`(?m)^(?:[^"'#\r\n]|"[^"\r\n]*"|'[^'\r\n]*')*[:,\[][ \t]+(#(?:[0-9a-fA-F]{3}|[0-9a-fA-F]{6}))\b[^#\r\n]*[}\]]`)

// here is the character at a place: a line break behind the last of a line.
func here(source []byte, at finding.Pos) rune {
	line, ok := finding.Line(source, at.Line)
	if runes := []rune(string(line)); at.Column <= len(runes) {
		return runes[at.Column-1]
	}
	if _, more := finding.Line(source, at.Line+1); more && ok {
		return '\n'
	}
	return ended
}

// A slip is a message of the YAML parser, what it means, and what helps. Within is what the parser was reading, at the character
// where it gave up; where opening is set the mistake is where what it was reading began.
type slip struct {
	parser, within string
	at             rune
	opening        bool
	text, hint     string
}

// slips is every kind of message that the parser has, the particular ones first; the last holds for any other.
func slips() []slip {
	const quotes, spaces = "put the text in quotes", "indent with spaces, not tabs"
	return []slip{
		{parser: "cannot start any token", at: '\t', text: "a tab stands where YAML wants spaces", hint: spaces},
		{parser: "cannot start any token", text: "{here} cannot begin a value or a key", hint: quotes},
		{parser: "tab", text: "a tab stands where YAML wants spaces", hint: spaces},
		{parser: "mapping values are not allowed", text: "a colon too many stands here, or the line is indented too deep", hint: "put a text that holds \": \" in quotes, or indent the line like its neighbours"},
		{parser: "expected ',' or '}'", text: "the brace opened in line {line} is not closed, or a comma is missing", hint: "close it with }, and put commas between its entries"},
		{parser: "expected ',' or ']'", text: "the bracket opened in line {line} is not closed, or a comma is missing", hint: "close it with ], and put commas between its items"},
		{parser: "expected key", text: "this does not belong to the map that begins in line {line}", hint: "indent all keys of a map alike; look for a bracket, brace or quotation mark too many"},
		{parser: "expected '-' indicator", text: "this does not belong to the list that begins in line {line}", hint: "indent all items of a list alike, each after \"- \""},
		{parser: "stream", within: "quoted", opening: true, text: "the quotation mark here is not closed", hint: "close it with the same mark"},
		{parser: "document indicator", within: "quoted", opening: true, text: "the quotation mark here is not closed", hint: "close it with the same mark"},
		{parser: "expected ':'", opening: true, text: "this line has no colon, and is no part of the value above", hint: "write it as key: value, with a blank after the colon"},
		{parser: "escape", text: "this is no escape", hint: "write \\\\ for a backslash, or put the text in single quotes"},
		{parser: "hexadecimal", text: "this is no escape", hint: "write \\\\ for a backslash, or put the text in single quotes"},
		{parser: "unknown anchor", text: "a value that begins with * stands for another value, and there is none of that name", hint: quotes},
		{parser: "alphabetic or numeric", text: "a value that begins with & or * names another value, and here is no name", hint: quotes},
		{parser: "block sequence entries", text: "a list cannot begin here", hint: "write it in square brackets, [a, b], or one item a line, each after \"- \""},
		{parser: "mapping keys are not allowed", text: "a key cannot begin here", hint: quotes},
		{parser: "max depth", text: "brackets or levels are nested thousands deep here", hint: "a scheme needs hardly more than five"},
		{parser: "comment without", text: "the # here begins no comment: a blank is missing before it", hint: "put a blank before it, or the text in quotes"},
		{within: "directive", text: "a line that begins with % gives orders to YAML readers, and this is none", hint: "remove the line, or put the text in quotes"},
		{parser: "directive", text: "a line that begins with % gives orders to YAML readers, and this is none", hint: "remove the line, or put the text in quotes"},
		{parser: "incompatible", text: "this is no version of YAML that Farend reads", hint: "remove the line that begins with %YAML"},
		{parser: "document start", text: "this line is indented less than the first key of the file", hint: "begin all keys of the file in the first column"},
		{parser: "document-end", text: "the line ... ends the file, and more follows", hint: "remove the line \"...\""},
		{within: "document-end", text: "the line ... ends the file, and more follows", hint: "remove the line \"...\""},
		{within: "block scalar", text: "the text after | or > does not begin as it should", hint: "write a short text in quotes, in one line"},
		{within: "tag", text: "a value that begins with ! is a tag, and this is none", hint: quotes},
		{parser: "tag handle", text: "a value that begins with ! is a tag, and this is none", hint: quotes},
		{parser: "node content", at: ended, text: "the file ends within brackets or braces", hint: "look for a [ or { without its ] or }"},
		{parser: "node content", text: "a value is missing here, or {here} cannot begin one", hint: quotes},
		{parser: "aliasing", text: "nearly everything in this file is an alias", hint: "write the values out; a scheme needs no aliases"},
		{text: "the file is not YAML here: {parser}", hint: "look at this line and the one before: a bracket, brace or quotation mark may not be closed, or a line not indented like its neighbours"},
	}
}
