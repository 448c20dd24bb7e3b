package layout

import (
	"fmt"
	"strings"

	"farend/draw"
)

// Thin is the space between a number and its unit on paper. No line breaks there.
const Thin = "\u202f"

// Unbroken is a number and its unit as they stand on paper.
func Unbroken(text string) string { return strings.ReplaceAll(text, " ", Thin) }

// Quantity is a number with its unit as it stands on paper, five figures or more before the point in threes.
func Quantity(v fmt.Stringer) string {
	number, name, _ := strings.Cut(v.String(), " ")
	whole, rest, point := strings.Cut(number, ".")
	if len(whole) > 4 && strings.Trim(whole, "0123456789") == "" {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + Thin + whole[i:]
		}
	}
	if point {
		whole += "." + rest
	}
	return strings.TrimSuffix(whole+Thin+name, Thin)
}

// Nominal is a quantity by which something is called, without noughts after its last figure: 2.5 mm² rather than 2.50 mm².
func Nominal(v fmt.Stringer) string {
	number, name, _ := strings.Cut(Quantity(v), Thin)
	if strings.Contains(number, ".") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	return strings.TrimSuffix(number+Thin+name, Thin)
}

// Wrap breaks words into lines of at most so many millimetres, at spaces; a word that is longer is cut.
func Wrap(like draw.Text, words string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(words, Thin, "\x00")) {
		word = strings.ReplaceAll(word, "\x00", Thin)
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && Wide(like, longer) > width {
			lines, longer = append(lines, line), word
		}
		line = longer
		if Wide(like, line) > width {
			line = Fit(like, line, width)
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// Fit is words cut in their middle to at most so many millimetres, for names differ at their ends.
func Fit(like draw.Text, words string, width float64) string {
	letters := []rune(words)
	for n := len(letters); Wide(like, words) > width && n > 0; n-- {
		head := n / 2
		words = string(letters[:head]) + "…" + string(letters[len(letters)-(n-1-head):])
	}
	return words
}

// Clip is words cut at their end, for sentences are read from their beginning.
func Clip(like draw.Text, words string, width float64) string {
	letters := []rune(words)
	for n := len(letters) - 1; Wide(like, words) > width && n >= 0; n-- {
		words = strings.TrimSpace(string(letters[:n])) + "…"
	}
	return words
}

func Wide(like draw.Text, words string) float64 {
	like.Words = words
	return like.Width()
}

// A Written is a quantity that is written already; it prints as itself.
type Written string

func (t Written) String() string { return string(t) }

// Join sets phrases one after the other, those left out that are empty.
func Join(between string, phrases ...string) string {
	var list []string
	for _, p := range phrases {
		if p != "" {
			list = append(list, p)
		}
	}
	return strings.Join(list, between)
}

// Put sets a text at a place.
func Put(like draw.Text, words string, x, y float64) draw.Text {
	like.Words, like.At = words, draw.Point{X: x, Y: y}
	return like
}

// WrapAll breaks each phrase into lines of a width, at most so many in all; the last is cut where there were more.
func WrapAll(like draw.Text, width float64, most int, phrases ...string) (lines []string) {
	for _, p := range phrases {
		lines = append(lines, Wrap(like, p, width)...)
	}
	if len(lines) > most {
		lines = append(lines[:most-1], Clip(like, lines[most-1]+" …", width))
	}
	return lines
}
