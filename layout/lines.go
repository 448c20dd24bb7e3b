package layout

import (
	"strings"
	"unicode"

	"farend/draw"
)

// Lines breaks words into lines of at most so many millimetres, at spaces, and leaves nothing out: a word that is longer is broken behind
// a sign that parts names, such as / or :, and where there is none between letters.
func Lines(like draw.Text, words string, width float64) []string {
	return broken(words, width, func(text string) float64 { return Wide(like, text) })
}

// broken is Lines with any way of measuring that adds up.
func broken(words string, width float64, measure func(string) float64) []string {
	var lines []string
	line, taken, space := "", 0.0, measure(" ")
	for _, word := range strings.FieldsFunc(words, blank) {
		wide := measure(word)
		if line != "" && taken+space+wide <= width {
			line, taken = line+" "+word, taken+space+wide
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for wide > width && word != "" {
			head := beginning(word, width, measure)
			lines, word = append(lines, head), word[len(head):]
			wide = measure(word)
		}
		line, taken = word, wide
	}
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// blank reports whether a line may break at a character.
func blank(r rune) bool { return r == ' ' || r == '\n' || r == '\t' || r == '\r' }

// beginning is as much of a word as fits into a width, a letter at least: up to its last sign where that leaves a third of the line
// or more. A mark that belongs to a letter stays with it.
func beginning(word string, width float64, measure func(string) float64) string {
	end, sign, taken := 0, 0, 0.0
	for i, r := range word {
		size := len(string(r))
		if i > 0 && unicode.Is(unicode.M, r) {
			end = i + size
			continue
		}
		if taken += measure(string(r)); taken > width && i > 0 {
			break
		}
		end = i + size
		if strings.ContainsRune("/:-@_.,+", r) && taken > width/3 {
			sign = end
		}
	}
	if sign > 0 {
		return word[:sign]
	}
	return word[:end]
}

// units are the names of units that stand behind a number in a sentence.
var units = func() map[string]bool {
	known := map[string]bool{}
	for _, name := range []string{"h", "min", "%", "°C", "K", "mm²", "A²s", "AWG", "J", "kWh", "dB", "cd", "lm"} {
		known[name] = true
	}
	for _, prefix := range []string{"", "p", "n", "µ", "m", "k", "M", "G"} {
		for _, name := range []string{"V", "A", "W", "Ω", "m", "s", "Hz", "F", "H"} {
			for _, by := range []string{"", "/m", "/km"} {
				known[prefix+name+by] = true
			}
		}
	}
	return known
}()

// Sentence is a text in which every number stands with its unit behind a thin space, so that no line breaks between them.
func Sentence(text string) string {
	words := strings.Split(text, " ")
	for i := len(words) - 2; i >= 0; i-- {
		if number(words[i]) && units[strings.TrimRight(words[i+1], ".,;:)?")] {
			words[i] += Thin + words[i+1]
			words = append(words[:i+1], words[i+2:]...)
		}
	}
	return strings.Join(words, " ")
}

// number reports whether a word is a number and nothing else.
func number(word string) bool {
	word = strings.TrimLeft(word, "(−-±")
	return word != "" && strings.Trim(word, "0123456789.") == "" && word[len(word)-1] != '.'
}
