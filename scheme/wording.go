package scheme

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"farend/unit"
)

// list writes words as people do, "a, b and c", and cuts a long list short.
func list(words []string, and string, most int) string {
	switch {
	case len(words) == 0:
		return "none"
	case len(words) == 1:
		return words[0]
	case len(words) > most:
		return strings.Join(words[:most], ", ") + fmt.Sprintf(" and %d more", len(words)-most)
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " " + and + " " + words[last]
}

// article puts the article before a noun.
func article(noun string) string {
	if noun != "" && strings.IndexByte("aeiou", noun[0]) >= 0 {
		return "an " + noun
	}
	return "a " + noun
}

// plural counts things: "1 pixel", "288 pixels".
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return grouped(n) + " " + noun + "s"
}

// grouped prints a count with commas between thousands.
func grouped(n int) string {
	text, minus := strings.CutPrefix(strconv.Itoa(n), "-")
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	if minus {
		return "−" + text
	}
	return text
}

// count prints a number of things that may be too large to count.
func count(n float64) string {
	if n < 1e15 {
		return grouped(int(n))
	}
	return plain(n, "")
}

// plain prints what the user wrote nearly as it was written: six figures and no idle zeros, where three figures would
// call 100.1 % a 100 %.
func plain(v float64, unit string) string {
	text := strings.Replace(strconv.FormatFloat(v, 'g', 6, 64), "-", "−", 1)
	if unit == "" {
		return text
	}
	return text + " " + unit
}

func percent(r unit.Ratio) string   { return plain(float64(r)*100, "%") }
func degrees(t unit.Celsius) string { return plain(float64(t), "°C") }
func volts(v unit.Volt) string      { return plain(float64(v), "V") }
func hours(s unit.Share) string     { return plain(float64(s)*24, "h/day") }

// metresText prints a length to the tenth of a millimetre, without idle zeros.
func metresText(m unit.Metre) string {
	if v := math.Abs(float64(m)); v >= 1e6 || v < 1e-3 {
		return plain(float64(m), "m")
	}
	return strings.Replace(strconv.FormatFloat(math.Round(float64(m)*1e4)/1e4, 'f', -1, 64), "-", "−", 1) + " m"
}
