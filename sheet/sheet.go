// Package sheet makes the drawings of a studied scheme, each a draw.Scene that answers one question. It judges nothing: what it
// draws are the numbers that rules judge, with what they rest on.
//
// Pages have a frame 10 mm from the edge (ISO 5457) and a title block with fields after ISO 7200, from its help pages. Texts are 7
// points or larger; numbers stand with their unit behind a thin space. Kinds of lines differ in width or dash, kinds of areas in
// tint or hatch, and each is named where it is drawn, so that nothing is lost in grey.
//
// A page has no date and no hash, for it must be the same each time that it is drawn.
package sheet

import (
	"fmt"
	"strings"

	"farend/draw"
)

// An Error says why a page cannot be drawn, and what to do.
type Error struct{ Text, Hint string }

func (e *Error) Error() string { return e.Text }

// thin is the space between a number and its unit on paper. No line breaks there.
const thin = "\u202f"

// quantity is a number with its unit as it stands on paper, five figures or more before the point in threes.
func quantity(v fmt.Stringer) string {
	number, name, _ := strings.Cut(v.String(), " ")
	whole, rest, point := strings.Cut(number, ".")
	if len(whole) > 4 && strings.Trim(whole, "0123456789") == "" {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + thin + whole[i:]
		}
	}
	if point {
		whole += "." + rest
	}
	return strings.TrimSuffix(whole+thin+name, thin)
}

// nominal is a quantity by which something is called, without noughts after its last figure: 2.5 mm² rather than 2.50 mm².
func nominal(v fmt.Stringer) string {
	number, name, _ := strings.Cut(quantity(v), thin)
	if strings.Contains(number, ".") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	return strings.TrimSuffix(number+thin+name, thin)
}

// wrap breaks words into lines of at most so many millimetres, at spaces; a word that is longer is cut.
func wrap(like draw.Text, words string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(strings.ReplaceAll(words, thin, "\x00")) {
		word = strings.ReplaceAll(word, "\x00", thin)
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if line != "" && wide(like, longer) > width {
			lines, longer = append(lines, line), word
		}
		line = longer
		if wide(like, line) > width {
			line = fit(like, line, width)
		}
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// fit is words cut in their middle to at most so many millimetres, for names differ at their ends.
func fit(like draw.Text, words string, width float64) string {
	letters := []rune(words)
	for n := len(letters); wide(like, words) > width && n > 0; n-- {
		head := n / 2
		words = string(letters[:head]) + "…" + string(letters[len(letters)-(n-1-head):])
	}
	return words
}

// clip is words cut at their end, for sentences are read from their beginning.
func clip(like draw.Text, words string, width float64) string {
	letters := []rune(words)
	for n := len(letters) - 1; wide(like, words) > width && n >= 0; n-- {
		words = strings.TrimSpace(string(letters[:n])) + "…"
	}
	return words
}

func wide(like draw.Text, words string) float64 {
	like.Words = words
	return like.Width()
}
