package finding

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Mistake is something wrong in the user's file, with its place and, where there is one, a hint.
type Mistake struct {
	Pos  Pos
	Text string
	Hint string
}

func (m Mistake) Error() string {
	place := m.Pos.File
	if m.Pos.Line > 0 {
		place = fmt.Sprintf("%s:%d:%d", m.Pos.File, m.Pos.Line, m.Pos.Column)
	}
	return place + ": " + shortened(m.Text)
}

// shortened is a text whose words longer than a line, as only a file without sense has them, are cut: the line of the source shows
// where they stand.
func shortened(text string) string {
	const most, head = 100, 60
	if len(text) <= most {
		return text
	}
	words := strings.Split(text, " ")
	for i, word := range words {
		if letters := []rune(word); len(letters) > most {
			words[i] = string(letters[:head]) + "…"
		}
	}
	return strings.Join(words, " ")
}

// Mistakes is every mistake of one file, in the order of the file. It is an error when it is not empty.
type Mistakes []Mistake

func (m Mistakes) Error() string {
	lines := make([]string, len(m))
	for i, one := range m {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Sort puts the mistakes in the order of the file and drops repeats.
func (m Mistakes) Sort() Mistakes {
	slices.SortStableFunc(m, func(a, b Mistake) int {
		return cmp.Or(cmp.Compare(a.Pos.File, b.Pos.File), cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Column, b.Pos.Column), cmp.Compare(a.Text, b.Text))
	})
	return slices.Compact(m)
}

// Explain writes every mistake as people read it, in order: the place and the text, the source line with a caret under the
// place, and the hint.
func (m Mistakes) Explain(source []byte) string {
	var b strings.Builder
	l := lines{rest: bytes.TrimPrefix(source, mark)}
	for _, one := range m {
		one.explain(&b, &l, source)
	}
	return b.String()
}

// Explain writes one mistake as Mistakes.Explain does.
func (m Mistake) Explain(source []byte) string { return Mistakes{m}.Explain(source) }

func (m Mistake) explain(b *strings.Builder, l *lines, source []byte) {
	b.WriteString(m.Error())
	b.WriteByte('\n')
	if m.Pos.Line <= l.before { // an earlier line than the last: begin again
		*l = lines{rest: bytes.TrimPrefix(source, mark)}
	}
	if line, ok := l.line(m.Pos.Line); ok {
		shown, blanks := window(line, m.Pos.Column)
		fmt.Fprintf(b, "  %s\n  %s^\n", shown, strings.Repeat(" ", blanks))
	}
	if m.Hint != "" {
		fmt.Fprintf(b, "hint: %s\n", Hanging(m.Hint, len("hint: ")))
	}
}

// Hanging breaks a text at its blanks so that behind a word of so many columns no line is wider than the page; the lines below the
// first stand under it.
func Hanging(text string, indent int) string {
	const page = 100
	var b strings.Builder
	column := indent
	for i, word := range strings.Split(text, " ") {
		wide := 0
		for _, r := range word {
			wide += cells(r)
		}
		switch {
		case i == 0:
		case column+1+wide > page:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			column = indent
		default:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += wide
	}
	return b.String()
}

// mark is the byte-order mark in UTF-8; it belongs to no line.
var mark = []byte("\ufeff")

// Locate is the place of a byte of the source, with lines and columns as the YAML reader counts them: lines end at LF, CR,
// CR LF, and the three breaks of Unicode (U+0085, U+2028, U+2029); columns are characters, and a byte of no character is one.
func Locate(file string, source []byte, offset int) Pos {
	l := lines{rest: bytes.TrimPrefix(source[:offset], mark)}
	line, column := 1, 0
	for ; ; line++ {
		text, more := l.next()
		if !more {
			column = 1 + utf8.RuneCount(text)
			break
		}
	}
	return Pos{File: file, Line: line, Column: column}
}

// Line is the text of line n of the source, without its break.
func Line(source []byte, n int) ([]byte, bool) {
	l := lines{rest: bytes.TrimPrefix(source, mark)}
	return l.line(n)
}

// lines goes through a text line by line.
type lines struct {
	rest   []byte
	before int // how many lines were taken off rest
	done   bool
}

// line is line n, the last line taken or a later one.
func (l *lines) line(n int) ([]byte, bool) {
	for n > l.before && !l.done {
		start := *l
		text, _ := l.next()
		if l.before == n {
			*l = start // it may be asked for again
			return text, true
		}
	}
	return nil, false
}

// next takes the next line off; more is false at the last one.
func (l *lines) next() (line []byte, more bool) {
	l.before++
	for i := 0; i < len(l.rest); {
		size := breakAt(l.rest[i:])
		if size > 0 {
			line, l.rest = l.rest[:i], l.rest[i+size:]
			return line, true
		}
		i++
	}
	line, l.rest, l.done = l.rest, nil, true
	return line, false
}

// breakAt is how many bytes the line break has with which a text begins; 0 where it begins with none.
func breakAt(text []byte) int {
	switch {
	case text[0] == '\n':
		return 1
	case text[0] == '\r' && len(text) > 1 && text[1] == '\n':
		return 2
	case text[0] == '\r':
		return 1
	case text[0] == 0xc2 && len(text) > 1 && text[1] == 0x85: // U+0085
		return 2
	case text[0] == 0xe2 && len(text) > 2 && text[1] == 0x80 && (text[2] == 0xa8 || text[2] == 0xa9): // U+2028, U+2029
		return 3
	}
	return 0
}

// window cuts a long line to the part around the column and says how many blanks stand before the caret. Tabs and whatever
// else has no shape, or could command a terminal, become one blank each, so that the caret stands under its character.
func window(line []byte, column int) (shown string, blanks int) {
	const width = 96
	runes := []rune(string(line))
	for i, r := range runes {
		if !unicode.IsGraphic(r) {
			runes[i] = ' '
		}
	}
	caret := min(max(column-1, 0), len(runes))
	start := 0
	if caret > width-10 {
		start = caret - width/2
	}
	for _, r := range runes[start:caret] {
		blanks += cells(r)
	}
	return string(runes[start:min(len(runes), start+width)]), blanks
}

// cells is how many columns of a terminal a character takes: none for a mark on the one before it, two for the scripts
// of East Asia and for pictures (Unicode Standard Annex 11, in outline), else one.
func cells(r rune) int {
	switch {
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana), r >= 0xff01 && r <= 0xff60, r >= 0x3000 && r <= 0x303e, r >= 0x1f300 && r <= 0x1faff:
		return 2
	}
	return 1
}

// DidYouMean is the candidate closest to word, or "" where none is close: at most two typing slips (insert,
// delete, replace or swap neighbours), and fewer than half of the letters. Of two as close, one that differs in points
// and dashes only is the better, and then one that goes on where the word ends: 2x15 was meant to be 2x1.5 rather than 2x1, and
// inline-30 inline-30A rather than inline-3A.
func DidYouMean(word string, candidates []string) string {
	const longest = 500 // letters: a longer word is none
	if len(word) > longest {
		return ""
	}
	best, bestSlips, bestLike := "", 3, 0
	for _, c := range candidates {
		slips := distance(strings.ToLower(word), strings.ToLower(c))
		if slips > min(bestSlips, 2) || 2*slips >= utf8.RuneCountInString(word) && slips > 0 {
			continue
		}
		if like := alike(word, c); slips < bestSlips || slips == 0 || like > bestLike {
			best, bestSlips, bestLike = c, slips, like
		}
	}
	return best
}

// alike says how a candidate resembles a word beyond the number of slips.
func alike(word, candidate string) int {
	switch {
	case letters(candidate) == letters(word):
		return 2
	case strings.HasPrefix(strings.ToLower(candidate), strings.ToLower(word)):
		return 1
	}
	return 0
}

// letters is a name without its points and dashes.
func letters(name string) string { return strings.ToLower(withoutDashes.Replace(name)) }

var withoutDashes = strings.NewReplacer(".", "", "-", "", "_", "")

// distance is the restricted Damerau–Levenshtein distance (optimal string alignment).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > 2 || len(y)-len(x) > 2 {
		return 9
	}
	var older, prev []int
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		older, prev, row = prev, row, make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
	}
	return row[len(y)]
}
