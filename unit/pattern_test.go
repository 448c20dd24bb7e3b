package unit_test

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"farend/unit"
)

// texts draws what may or may not be a quantity: a number in most of the ways there are, blanks, and the pieces of which units
// are made, in any order.
func texts(t *rapid.T) string {
	number := rapid.OneOf(rapid.StringMatching(`[-+−]?[0-9]{0,3}\.?[0-9]{0,2}([eE][-+−]?[0-9]{0,2})?`), rapid.SampledFrom([]string{"5", "2.5", ".5", "5.", "-0", "40", "41", "016", "1e999", "NaN", "Inf", "0x10", "1_0", ""})).Draw(t, "number")
	blank := rapid.SampledFrom([]string{"", " ", "  ", "\t", "\u00a0", "\u2009", "\u202f", "\u200b", "_"})
	pieces := rapid.SampledFrom([]string{"m", "µ", "u", "\u03bc", "k", "M", "n", "p", "c", "V", "A", "Ω", "\u2126", "ohm", "Ohms", "OHM", "/", " / ", "/ ", "m", "m2", "mm²", "mm^2", "²", "2", "·", " ", "s", "h", "min", "day", "d",
		"°", "C", "F", "K", "\u2103", "\u2109", "%", "W", "Hz", "cd", "N", "ft", "in", "km", "AWG", "awg", "EUR", "kWh", "eur"})
	name := strings.Join(rapid.SliceOfN(pieces, 0, 4).Draw(t, "pieces"), "")
	if rapid.Bool().Draw(t, "whole") {
		name = strings.TrimLeft(rapid.SampledFrom(strings.Split(rapid.SampledFrom(spellings()).Draw(t, "spelling").texts, "|")).Draw(t, "unit"), "+-−.0123456789")
	}
	return blank.Draw(t, "before") + number + blank.Draw(t, "between") + name + blank.Draw(t, "after")
}

func patterns() map[*unit.Dimension]*regexp.Regexp {
	all := map[*unit.Dimension]*regexp.Regexp{}
	for _, d := range dimensions() {
		all[d] = regexp.MustCompile(d.Pattern())
	}
	return all
}

// tooLarge reports whether a number is refused for its size, which is all that a pattern does not see.
func tooLarge(err error) bool {
	return err != nil && strings.Contains(err.Error(), "is too large a number")
}

func TestPatternsMatchWhatIsReadAndNothingElse(t *testing.T) {
	patterns := patterns()
	tariff := regexp.MustCompile(unit.Price{}.Pattern())
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		text := texts(t)
		for d, pattern := range patterns {
			_, err := d.Parse(text)
			if matches := pattern.MatchString(text); matches != (err == nil) && !tooLarge(err) {
				t.Fatalf("%q: the pattern of %s says %v, and reading %v", text, d.Name, matches, err)
			}
			if err == nil {
				read++
			}
		}
		var p unit.Price
		err := p.UnmarshalText([]byte(text))
		if matches := tariff.MatchString(text); matches != (err == nil) && !tooLarge(err) {
			t.Fatalf("%q: the pattern of tariffs says %v, and reading %v", text, matches, err)
		}
	})
	if read == 0 {
		t.Error("none of the texts was a quantity")
	}
}

func TestPatternsMatchEverySpellingThatIsTested(t *testing.T) {
	for _, c := range spellings() {
		pattern := regexp.MustCompile(c.of.Pattern())
		for text := range strings.SplitSeq(c.texts, "|") {
			if !pattern.MatchString(text) {
				t.Errorf("%q is no %s to the pattern", text, c.of.Name)
			}
		}
	}
}

// FuzzParse wants of any text that it is read or refused with a word, that the pattern agrees, and that what was read is a finite
// number that prints as something that is read again.
func FuzzParse(f *testing.F) {
	for _, c := range spellings() {
		for text := range strings.SplitSeq(c.texts, "|") {
			f.Add(text)
		}
	}
	for _, text := range []string{"", "5", "2,5 m", "1e309 V", "00 AWG", "2/0 AWG", "4-6 V", "5 m·m", "0.27 EUR/kWh", "\xff V", "5 \u2103\u2103"} {
		f.Add(text)
	}
	patterns := patterns()
	f.Fuzz(func(t *testing.T, text string) {
		for d, pattern := range patterns {
			v, err := d.Parse(text)
			if matches := pattern.MatchString(text); matches != (err == nil) && !tooLarge(err) {
				t.Errorf("%q: the pattern of %s says %v, and reading %v", text, d.Name, matches, err)
			}
			switch mistake, ours := err.(*unit.Error); {
			case err == nil && (math.IsNaN(v) || math.IsInf(v, 0)):
				t.Errorf("%q is read as %v", text, v)
			case err != nil && (!ours || mistake.Text == "" || mistake.Hint == "" || len(mistake.Text) > 300 || v != 0):
				t.Errorf("%q is refused with %q, and %v", text, err, v)
			}
			if err == nil && math.Abs(v) < 1e100 {
				if _, err := d.Parse(d.Format(v, 3)); err != nil {
					t.Errorf("%q prints %q, which is not read: %v", text, d.Format(v, 3), err)
				}
			}
		}
	})
}
