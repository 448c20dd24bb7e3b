package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
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
	return place + ": " + m.Text
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

// Explain writes a mistake as people read it: the place and the text, the source line with a caret under the
// place, and the hint.
func (m Mistake) Explain(source []byte) string {
	var b strings.Builder
	b.WriteString(m.Error())
	b.WriteByte('\n')
	if line, ok := lineOf(source, m.Pos.Line); ok {
		shown, caret := window(line, m.Pos.Column)
		fmt.Fprintf(&b, "  %s\n  %s^\n", shown, strings.Repeat(" ", caret))
	}
	if m.Hint != "" {
		fmt.Fprintf(&b, "hint: %s\n", m.Hint)
	}
	return b.String()
}

func lineOf(source []byte, n int) (string, bool) {
	if n < 1 || !utf8.Valid(source) {
		return "", false
	}
	text := strings.TrimPrefix(string(source), "\ufeff")
	for i := 1; ; i++ {
		line, rest, more := strings.Cut(text, "\n")
		if i == n {
			return strings.TrimRight(line, "\r"), true
		}
		if !more {
			return "", false
		}
		text = rest
	}
}

// window cuts a long line to the part around the column and says where the caret goes. Tabs and other control
// characters become one blank each, so that the caret stands under its character.
func window(line string, column int) (string, int) {
	const width = 96
	runes := []rune(line)
	for i, r := range runes {
		if r < ' ' || r == 0x7f {
			runes[i] = ' '
		}
	}
	caret := min(max(column-1, 0), len(runes))
	start := 0
	if caret > width-10 {
		start = caret - width/2
	}
	end := min(len(runes), start+width)
	return string(runes[start:end]), caret - start
}

// DidYouMean is the candidate closest to word, or "" where none is close: at most two typing slips (insert,
// delete, replace or swap neighbours), and fewer than half of the letters.
func DidYouMean(word string, candidates []string) string {
	best, bestSlips := "", 3
	for _, c := range candidates {
		slips := distance(strings.ToLower(word), strings.ToLower(c))
		if slips < bestSlips && 2*slips < max(len(word), 2) || slips == 0 {
			best, bestSlips = c, slips
		}
	}
	return best
}

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
