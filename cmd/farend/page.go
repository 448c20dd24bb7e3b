package main

import (
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	style "github.com/jedib0t/go-pretty/v6/text"

	"farend/finding"
	"farend/parts"
	"farend/report"
)

// A page is text output for people, 100 columns wide. Lines stand under headings only; bold and the boxes of the grades
// are all the colour there is, and none on a plain page.
type page struct {
	out   io.Writer
	plain bool
}

const columns = 100

func (p *page) line(format string, args ...any) {
	fmt.Fprintln(p.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
}

func (p *page) blank() { fmt.Fprintln(p.out) }

// styled wraps text in terminal colours, on pages that have them.
func (p *page) styled(s string, codes string) string {
	if p.plain {
		return s
	}
	return "\x1b[" + codes + "m" + s + "\x1b[0m"
}

// heading writes bold text with a line under it.
func (p *page) heading(s string) {
	widest := 0
	for _, line := range wrapped(s, columns) {
		p.line("%s", p.styled(line, "1"))
		widest = max(widest, width(line))
	}
	p.line("%s", strings.Repeat("─", widest))
}

// gradeCodes are the boxes of the grades: solid for danger and fails, outlined by reverse or dim for the others.
var gradeCodes = map[finding.Grade]string{finding.Danger: "1;97;41", finding.Fails: "1;97;43", finding.Tight: "33", finding.Unknown: "7", finding.Note: "2"}

// finding writes one finding: what was found, the remedy, and on what it rests, each under the other.
func (p *page) finding(f finding.Finding, notes *report.Footnotes) {
	text, admissions := admitted(f.Text)
	told := f
	told.Text = text
	p.found(told)
	if f.Remedy != "" {
		p.indented("→ ", f.Remedy)
	}
	if rests := restsOn(f, admissions, notes); rests != "" {
		p.indented("", rests)
	}
	p.blank()
}

// admitted is the text of a finding without what it says of memory and practice, and that.
func admitted(text string) (string, []string) {
	pieces := strings.Split(text, " This rests on ")
	return pieces[0], pieces[1:]
}

// restsOn names the sources of a finding by their numbers: of the limit, with the number that is least known where that is another; and
// what is from memory or common practice, in words.
func restsOn(f finding.Finding, admissions []string, notes *report.Footnotes) string {
	var said []string
	if f.Source != "" {
		source := "source" + notes.Mark(f.Source)
		if f.Weakest == "" && f.Basis != "" {
			source += " (" + f.Basis + ")"
		}
		said = append(said, source)
	}
	if f.Weakest != "" && f.Basis != string(parts.Memory) && f.Basis != string(parts.Practice) {
		said = append(said, fmt.Sprintf("least known: %s (%s)", f.Weakest, f.Basis))
	}
	var owed []string
	for _, a := range admissions {
		what, _, _ := strings.Cut(strings.TrimSuffix(a, "."), ", for which ")
		owed = append(owed, what+notes.Mark(strings.ToUpper(a[:1])+a[1:]))
	}
	if owed != nil {
		said = append(said, "rests on "+strings.Join(owed, " and "))
	}
	return strings.Join(said, "; ")
}

// sources lists what footnotes say, under a title.
func (p *page) sources(title string, notes report.Footnotes) {
	if len(notes) == 0 {
		return
	}
	p.titled(title)
	for i, source := range notes {
		p.item(fmt.Sprintf("[%d]", i+1), 5, strings.TrimSuffix(source, ".")+".")
	}
	p.blank()
}

// found writes what was found: the box and word of its grade, its name, and under them the text.
func (p *page) found(f finding.Finding) {
	head := fmt.Sprintf("[%s] %s", f.Grade.Letter(), f.Grade)
	for i, line := range wrapped(report.Entitled(f), columns-width(head)-2) {
		if i == 0 {
			p.line("%s  %s", p.styled(head, gradeCodes[f.Grade]), line)
		} else {
			p.line("    %s", line)
		}
	}
	p.indented("", f.Text)
}

// indented writes text four columns in, its first line after a mark; the lines below stand under the first.
func (p *page) indented(mark, s string) {
	hang := strings.Repeat(" ", min(width(mark), 2))
	for i, line := range wrapped(mark+s, columns-4-len(hang)) {
		if i > 0 {
			line = hang + line
		}
		p.line("    %s", line)
	}
}

func (p *page) wrap(s string) {
	for _, line := range wrapped(s, columns) {
		p.line("%s", line)
	}
}

// width is the number of columns that text takes on a terminal.
func width(s string) int { return style.StringWidthWithoutEscSequences(s) }

// wrapped breaks text at spaces into lines of at most so many columns; a word that is longer is broken where it must be.
func wrapped(s string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(printable(s)) {
		for width(word) > most {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			piece := head(word, most)
			if piece == "" { // a wide character on a narrow page
				_, size := utf8.DecodeRuneInString(word)
				piece = word[:size]
			}
			lines, word = append(lines, piece), word[len(piece):]
		}
		switch {
		case word == "":
		case line == "":
			line = word
		case width(line)+1+width(word) <= most:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	if line != "" || lines == nil {
		lines = append(lines, line)
	}
	return lines
}

// head is as much of the beginning of text as fits into so many columns, and tail as much of its end.
func head(s string, most int) string {
	taken := 0
	for i, r := range s {
		if taken += width(string(r)); taken > most {
			return s[:i]
		}
	}
	return s
}

func tail(s string, most int) string {
	for width(s) > most {
		_, size := utf8.DecodeRuneInString(s)
		s = s[size:]
	}
	return s
}

// clip takes the middle out of text that is longer than so many columns: identifiers differ at their ends.
func clip(s string, most int) string {
	if width(s) <= most {
		return s
	}
	end := tail(s, (most-1)/3+(most-1)%3/2)
	return head(s, most-1-width(end)) + "…" + end
}

// printable is text from the user's file as it may stand on a terminal: what has no shape, or could command the terminal
// or turn the direction of writing, is a space or nothing.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsGraphic(r):
			return r
		case unicode.Is(unicode.Cf, r):
			return -1
		}
		return ' '
	}, s)
}
