package parts_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"farend/parts"
)

// shop is a library of parts made for searching, over the catalogue; each name begins with "own-".
func shop(t *testing.T) *parts.Library {
	t.Helper()
	own, mistakes := read(`
fuse/own-1: {title: Small, rating: 1 A, resistance: 100 mΩ, volts_max: 32 V, breaking: 1 kA}
fuse/own-1.25: {title: Small, rating: 1.25 A, resistance: 80 mΩ, volts_max: 32 V, breaking: 1 kA}
fuse/own-7.5: {title: Larger, rating: 7.5 A, resistance: 11 mΩ, volts_max: 32 V, breaking: 1 kA}
cable/own-2.5: {title: Lead, cores: 2, area: 2.5 mm², r20: 7.98 Ω/km, insulation: 70 °C}
buffer/own-fast: {title: Quick one, chips: [{part: 74AHCT125}], volts: 5 V}
connector/own-holder: {title: Fuse holder, amps: 20 A, resistance: 2 mΩ}
`)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return parts.Catalogue().With(own)
}

// found is the shop's parts, without their "own-", that a query finds.
func found(t *testing.T, library *parts.Library, typed string) string {
	t.Helper()
	q, err := parts.NewQuery(strings.Fields(typed))
	if err != nil {
		t.Fatalf("%s: %v", typed, err)
	}
	var names []string
	for _, m := range library.Search(q) {
		if kind, name, own := strings.Cut(m.Name, "/own-"); own {
			names = append(names, kind+" "+name)
		}
	}
	return strings.Join(names, ", ")
}

func TestPartsAreFoundByWordsAndQuantities(t *testing.T) {
	library := shop(t)
	for _, c := range []struct{ typed, want string }{
		{"own- small", "fuse 1, fuse 1.25"},
		{"own- SMALL 1 A", "fuse 1"},
		{"own- 1A", "fuse 1"},
		{"own- 1.25 A", "fuse 1.25"},
		{"own- 1250 mA", "fuse 1.25"},
		{"own- 1.2 A", ""},
		{"own- 32 V 7.5A", "fuse 7.5"},
		{"fuse own- 1 kA", "fuse 1, fuse 1.25, fuse 7.5"}, // not only the rating
		{"fuse own- >1.25 A", "fuse 7.5"},
		{"fuse own- >=1.25A", "fuse 1.25, fuse 7.5"},
		{"fuse own- >= 1.25 A <=7.5A", "fuse 1.25, fuse 7.5"},
		{"fuse own- from 1.1 A to 7 A", "fuse 1.25"},
		{"fuse own- <100A", "fuse 1, fuse 1.25, fuse 7.5"}, // the rating, not the breaking capacity
		{"fuse own- >100A", ""},
		{"fuse own- ≤1 A", "fuse 1"},
		{"fuse own- =1 A", "fuse 1"},
		{"own- 2.5mm2", "cable 2.5"},
		{"own- 2.5 mm²", "cable 2.5"},
		{"own- 7.98 Ω/km", "cable 2.5"},
		{"own- 74ahct125", "buffer fast"},
		{"own- 74AHCT", "buffer fast"},
		{"own- fuse", "fuse 1, fuse 1.25, fuse 7.5"},    // a word that is a kind asks for that kind
		{"own- fuses 1A", "fuse 1"},                     // in the plural too
		{"connector own- fuse", "connector holder"},     // and the second such word is a word
		{"own- holder", "connector holder"},             // as is any other
		{"own- 20 A holder", "connector holder"},        // in any order
		{"own- -1 A", ""},                               // nothing is rated so
		{"own- from lead", ""},                          // "from" without a quantity is a word
		{"own- 1 2.5mm2", ""},                           // so is a number without a unit
		{"own- 2 2.5mm2", "cable 2.5"},                  // which names may hold
		{"own- quick one 5 V 74AHCT125", "buffer fast"}, //
		{"own- 5 V", "buffer fast"},                     //
		{"own- 5 mV", ""},                               //
		{"own- 70 °C", "cable 2.5"},                     //
		{"own- 343.15 K", "cable 2.5"},                  // the same warmth, where kelvins are read
	} {
		if got := found(t, library, c.typed); got != c.want {
			t.Errorf("%s finds %q, want %q", c.typed, got, c.want)
		}
	}
}

// What is typed in the words of the trade finds the same as in those of the catalogue; numbers are found as numbers, and by what is
// rated before what is stated elsewhere.
func TestWordsOfTheTrade(t *testing.T) {
	library := parts.Catalogue()
	names := func(typed string) string {
		q, err := parts.NewQuery([]string{typed})
		if err != nil {
			t.Fatal(typed, err)
		}
		var list []string
		for _, m := range library.Search(q) {
			list = append(list, m.Name)
		}
		return strings.Join(list, " ")
	}
	for typed, same := range map[string]string{
		"power supply 12V": "supply 12 V", "psu 12 volts": "supply 12 V", "PSU 8 amps": "supply 8 A", "led strip 12v": "tape 12 V", "strips 60 leds/m": "tape 60 /m",
		"wire 1.5mm": "cable 1.5 mm²", "cable 2.5 sq mm": "cable 2.5 mm²", "cable 2.5sqmm": "cable 2.5 mm²", "controller": "board", "supply >=10a": "supply >=10A",
	} {
		if got, want := names(typed), names(same); got != want || got == "" {
			t.Errorf("%s finds %q, %s %q", typed, got, same, want)
		}
	}
	for _, c := range []struct{ typed, has, lacks string }{
		{"blade 5a", "fuse/blade-5A", "fuse/blade-15A"},
		{"blade 5a", "fuse/blade-5A", "fuse/blade-7.5A"},
		{"10 a fuse", "fuse/blade-10A", "fuse/ptc-5A"},
		{"3 core data", "cable/data-3x0.34", "cable/data-4x0.34"},
		{"supply 12V 8A", "supply/12v-96w-latch-off", "supply/12v-15w-class2"},
	} {
		if got := strings.Fields(names(c.typed)); !slices.Contains(got, c.has) || slices.Contains(got, c.lacks) {
			t.Errorf("%s finds %v, want %s and not %s", c.typed, got, c.has, c.lacks)
		}
	}
	q, _ := parts.NewQuery([]string{"supply 12V 100W"})
	if bound, near := library.Nearest(q); bound.Text != "100W" || len(near) != 2 || near[0].Text != "96.0 W" || near[1].Text != "150 W" {
		t.Errorf("nearest to %s: %v", bound.Text, near)
	}
}

func TestALimitWithoutAQuantityIsAMistake(t *testing.T) {
	for _, typed := range []string{">10", ">", "> 10 bananas", ">=x", "<-", "=10"} {
		if q, err := parts.NewQuery([]string{"fuse", typed}); err == nil || !strings.Contains(err.Error(), "needs a number and its unit") {
			t.Errorf("%s is read as %v, %v", typed, q, err)
		}
	}
}

func TestACommaInANumberIsAMistake(t *testing.T) {
	for typed, want := range map[string]string{
		"fuse 7,5 A":      `"7,5 A" has a decimal comma (write 7.5 A)`,
		"fuse >7,5A":      `"7,5A" has a decimal comma (write 7.5A)`,
		"cap. 1,000 uF":   `"1,000 uF" has a comma, for decimals or for thousands (write 1.000 uF or 1000 uF)`,
		"fuse from 1,5 A": `"1,5 A" has a decimal comma (write 1.5 A)`,
	} {
		if _, err := parts.NewQuery(strings.Fields(typed)); err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", typed, err, want)
		}
	}
	if q, err := parts.NewQuery([]string{"lead,", "4,5"}); err != nil || len(q.Words) != 2 {
		t.Errorf("words with commas are read as %v, %v", q, err)
	}
}

// What a search says a part states is what the bounds are about.
func TestAMatchSaysWhatItStates(t *testing.T) {
	library := shop(t)
	q, _ := parts.NewQuery([]string{"fuse", "own-", "32", "V", ">5A"})
	matches := library.Search(q)
	if len(matches) != 1 || len(matches[0].Stated) != 2 || matches[0].Stated[0].Key != "volts_max" || matches[0].Stated[1].Key != "rating" {
		t.Errorf("found %v", matches)
	}
}

func TestTheNearestRatingsAreNamed(t *testing.T) {
	library := shop(t)
	for typed, want := range map[string]string{
		"fuse own- 5 A":        "1.25 A, 7.50 A",
		"fuse own- 100 A":      "7.50 A",
		"fuse own- 0.5 A 32 V": "1.00 A",
		"fuse own- >100 A":     "7.50 A",
		"fuse own- <1 A":       "1.00 A, 1.25 A",
		"fuse own- 5 m":        "",
	} {
		q, _ := parts.NewQuery(strings.Fields(typed))
		var texts []string
		_, near := library.Nearest(q)
		for _, f := range near {
			texts = append(texts, f.Text)
		}
		if got := strings.Join(texts, ", "); got != want {
			t.Errorf("%s: nearest are %q, want %q", typed, got, want)
		}
	}
}

// Whatever a part of the catalogue shows as a number finds it again, typed as shown.
func TestEveryNumberFindsItsPart(t *testing.T) {
	for name, facts := range decode(t) {
		for _, f := range facts {
			if f.Of == nil {
				continue
			}
			q, err := parts.NewQuery([]string{f.Text})
			if err != nil || len(q.Bounds) != 1 {
				t.Errorf("%s %s: %q is read as %v, %v", name, f.Key, f.Text, q, err)
				continue
			}
			within := parts.Keep(q.Bounds[0], facts)
			if !slices.Contains(within, f) {
				t.Errorf("%s is not found by its own %s, %s (%v)", name, f.Key, f.Text, f.Value)
			}
		}
	}
}

// No text makes a search panic, and what it finds is in the library.
func TestAnythingMayBeTyped(t *testing.T) {
	library := shop(t)
	all := library.Names("")
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"5", "V", ">", "<=", "from", "A", "tape", "10 A", "∞", "1e999 A", "NaN V", "0 A", "-0 V", "5.5.5 V"})), 0, 5).Draw(t, "words")
		q, err := parts.NewQuery(words)
		if err != nil {
			return
		}
		for _, m := range library.Search(q) {
			if !slices.Contains(all, m.Name) {
				t.Fatalf("found %s", m.Name)
			}
			for _, f := range m.Stated {
				if math.IsNaN(f.Value) {
					t.Fatalf("%s states %v", m.Name, f)
				}
			}
		}
		library.Nearest(q)
	})
}
