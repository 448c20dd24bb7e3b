package study

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"farend/unit"
)

// A Reading is how people read the numbers of a rule that have no unit: as they are, where nothing is said.
type Reading string

const (
	AsPercent Reading = "percent" // 0.85 is 85 %
	AsCount   Reading = "count"   // 5 is 5, not 5.00
	AsTimes   Reading = "times"   // 74 is 74.0 times
)

// Words is a value or limit of a rule as people read it, from what JSON has: a number in a unit as Assessment spells it.
func (r Rule) Words(v float64, si string) string {
	switch {
	case si == "1" && r.Reads == AsPercent:
		return unit.Ratio(v).String()
	case si == "1" && r.Reads == AsCount:
		return strconv.FormatFloat(v, 'f', 0, 64)
	case si == "1" && r.Reads == AsTimes:
		return unit.Number(v, 3) + " times"
	case si == "1" && v > 0 && v < faint:
		return "< " + unit.Number(faint, 1)
	}
	for _, d := range unit.Dimensions() {
		if d.SI == si && si != "1" {
			return d.Format(v, 3)
		}
	}
	return unit.Number(v, 3)
}

// faint is what nobody sees of a difference in colour (common practice, no source).
const faint = 1e-4

// Listed is all of some names for a trace, "none" where there are none.
func Listed(names []string) string {
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}

// Several lists identifiers in a sentence: the first eight, and how many more there are.
func Several(ids []string) string {
	const most = 8
	switch {
	case len(ids) == 0:
		return "nothing"
	case len(ids) == 1:
		return ids[0]
	case len(ids) > most+1:
		return fmt.Sprintf("%s and %d more", strings.Join(ids[:most], ", "), len(ids)-most)
	}
	return strings.Join(ids[:len(ids)-1], ", ") + " and " + ids[len(ids)-1]
}

// Counted is a number of things: 1 pixel, 288 pixels.
func Counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// Capital is a text as it begins a sentence. The name of a part stays as it is: tape/5v-rgb-60.
func Capital(text string) string {
	first, _, _ := strings.Cut(text, " ")
	if text == "" || strings.Contains(first, "/") {
		return text
	}
	letter, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(letter)) + text[size:]
}
