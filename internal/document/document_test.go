package document_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/document"
	"farend/unit"
)

type wall struct {
	Height unit.Metre       `key:"height,required"`
	Bricks *int             `key:"bricks"`
	Ratio  float64          `key:"ratio"`
	Wet    bool             `key:"wet"`
	Bond   bond             `key:"bond"`
	Doors  []unit.Metre     `key:"doors"`
	Signs  map[string]sign  `key:"signs"`
	Plain  string           `key:"plain"`
	Nested map[string][]int `key:"nested"`
	Gates  map[string]gate  `key:"gates"`
}

type gate struct {
	Width unit.Metre `key:"width,required" doc:"how wide it is"`
	From  string     `key:"from,required" like:"A1.2"`
	To    string     `key:"to,required"`
}

type bond string

func (bond) Words() []string { return []string{"stretcher", "header"} }

type sign struct {
	Text string `key:"text,required"`
}

func told(mistakes finding.Mistakes) string {
	var lines []string
	for _, m := range mistakes {
		lines = append(lines, fmt.Sprintf("%d:%d: %s | %s", m.Pos.Line, m.Pos.Column, m.Text, m.Hint))
	}
	return strings.Join(lines, "\n")
}

func TestValuesAreDecoded(t *testing.T) {
	var w wall
	result := document.Load("w", []byte("height: 2 m\nbricks: 12\nratio: 1.5e1\nwet: Yes\nbond: header\ndoors: [1 m, 50 cm]\nsigns: {A: &s {text: x}, B: *s}\nplain: 007\n"), &w)
	if len(result.Mistakes) > 0 || !result.Whole {
		t.Fatal(result.Mistakes)
	}
	if w.Height != 2 || *w.Bricks != 12 || w.Ratio != 15 || !w.Wet || w.Bond != "header" || !slices.Equal(w.Doors, []unit.Metre{1, 0.5}) || w.Plain != "007" {
		t.Errorf("got %+v", w)
	}
	if w.Signs["A"].Text != "x" || w.Signs["B"].Text != "x" {
		t.Errorf("signs %v", w.Signs)
	}
}

func TestPlacesAndValuesAreLocated(t *testing.T) {
	var w wall
	result := document.Load("w", []byte("height: 2 m\ndoors:\n  - 1 m\n  - 2 m\nsigns: {a/b: {text: x}}\n"), &w)
	places := map[string][2]int{"/height": {1, 1}, "/doors": {2, 1}, "/doors/1": {4, 5}, "/signs/a~1b": {5, 9}, "/signs/a~1b/text": {5, 15}}
	values := map[string][2]int{"/height": {1, 9}, "/doors": {3, 3}, "/doors/1": {4, 5}, "/signs/a~1b": {5, 14}, "/signs/a~1b/text": {5, 21}}
	for path, want := range places {
		if got := result.Places[path]; got.Line != want[0] || got.Column != want[1] || got.File != "w" {
			t.Errorf("%s stands at %v, want %v", path, got, want)
		}
	}
	for path, want := range values {
		if got := result.Values[path]; got.Line != want[0] || got.Column != want[1] {
			t.Errorf("the value of %s stands at %v, want %v", path, got, want)
		}
	}
}

func TestWhatCouldNotBeReadIsKnown(t *testing.T) {
	var w wall
	result := document.Load("w", []byte("height: 2\nbond: headr\nhight: 3 m\nsigns: {A: {}, B: {txet: y}, C: 5, D: {text: ok}}\ndoors: [1 m, x]\n"), &w)
	want := `1:9: "2" has no unit | write 2 m
2:7: "bond" cannot be "headr" | did you mean header?
3:1: "hight" is not a key here | did you mean height?
4:12: "A" lacks the key "text" | write for example text: text
4:20: "txet" is not a key here | did you mean text?
4:33: "C" needs a map of keys, not "5" | write for example {text: text}
5:14: "x" is not a length | write a number and its unit, for example 2.5 m`
	if got := told(result.Mistakes); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	faulty := slices.Sorted(maps.Keys(result.Faulty))
	if !slices.Equal(faulty, []string{"/bond", "/doors/1", "/height", "/hight", "/signs/A", "/signs/B/txet", "/signs/C"}) {
		t.Errorf("faulty %v", faulty)
	}
	unsure := slices.Sorted(maps.Keys(result.Unsure))
	if !slices.Equal(unsure, []string{"", "/signs/B", "/signs/C"}) {
		t.Errorf("unsure %v", unsure)
	}
	if w.Signs["D"].Text != "ok" || w.Doors[0] != 1 {
		t.Errorf("what is right was lost: %+v", w)
	}
}

func TestTextsThatAreNoDocument(t *testing.T) {
	cases := []struct{ name, source, want string }{
		{"a zero byte after a letter of two bytes", "a: é\x00", "1:5: the file is not text: it holds a zero byte | save the scheme as UTF-8 text"},
		{"a byte-order mark counts for no column", "\ufeffa: \xff", "1:4: the file is not UTF-8 text | save it again as UTF-8; if it is Latin-1 or Windows-1252, this is ÿ"},
		{"a byte that stands for nothing", "a: \x80", "1:4: the file is not UTF-8 text | save it again as UTF-8"},
		{"a degree sign of Latin-1", "a: 5 \xb0C", "1:6: the file is not UTF-8 text | save it again as UTF-8; if it is Latin-1 or Windows-1252, this is °"},
		{"a bell", "a: 1\nb: \a", "2:4: a control character stands here (U+0007) | remove it; it may be invisible in an editor"},
		{"a key that is a list", "height: 1 m\n? [a, b]\n: 1\n", "2:3: a key must be one word, not a list | write a word and a colon, such as E1:"},
		{"after lone carriage returns", "a: 1\rb: 2\rc: \xff", "3:4: the file is not UTF-8 text | save it again as UTF-8; if it is Latin-1 or Windows-1252, this is ÿ"},
		{"after CR LF", "a: 1\r\nb: \x00", "2:4: the file is not text: it holds a zero byte | save the scheme as UTF-8 text"},
		{"a character that is none", "a: \ufffe", "1:4: a control character stands here (U+FFFE) | remove it; it may be invisible in an editor"},
		{"a second byte-order mark", "\ufeffa: \ufeff", "1:4: a control character stands here (U+FEFF) | remove it; it may be invisible in an editor"},
		{"UTF-16, little end first", "\xff\xfea\x00:\x00", "0:0: the file is UTF-16 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"UTF-16, big end first", "\xfe\xff\x00a\x00:", "0:0: the file is UTF-16 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"UTF-16 without a mark", "f\x00a\x00r\x00e\x00n\x00", "0:0: the file is UTF-16 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"UTF-16 without a mark, big end first", "\x00f\x00a\x00r\x00e\x00n", "0:0: the file is UTF-16 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"UTF-32", "\xff\xfe\x00\x00a\x00\x00\x00", "0:0: the file is UTF-32 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"UTF-32, big end first", "\x00\x00\xfe\xff\x00\x00\x00a", "0:0: the file is UTF-32 text; Farend reads UTF-8 | save it again as UTF-8"},
		{"too large", strings.Repeat("#\n", 5<<20), "0:0: the file has more than 8 MB; no scheme is that large | is this the right file?"},
		{"too deep", "height: 1 m\nnested: {a: " + strings.Repeat("[", 12000), ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			result := document.Load("w", []byte(c.source), new(wall))
			if got := told(result.Mistakes); got == "" || c.want != "" && got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestItemsOfListsAreCounted(t *testing.T) {
	_, mistakes := document.Read("w", []byte("height: 1 m\nnested: {a: [1, x, [2]]}\n"), new(wall))
	want := `2:17: item 2 of "a" needs a whole number, not "x" | write for example 1
2:20: item 3 of "a" needs a whole number, not a list | write for example 1`
	if got := told(mistakes); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestPointerEscapesAsTheStandardAsks(t *testing.T) {
	for want, keys := range map[string][]string{"": nil, "/a/b": {"a", "b"}, "/m~0n/a~1b/~01": {"m~n", "a/b", "~1"}, "/": {""}} { // RFC 6901, sections 3 and 5
		if got := document.Pointer(keys...); got != want || got != finding.Pointer(keys...) {
			t.Errorf("%q is %s, want %s", keys, got, want)
		}
	}
}

// Within braces YAML takes a decimal comma for the end of a value, and a colon without a blank after it for a letter of the key.
func TestCommasAndColonsWithinBraces(t *testing.T) {
	for _, c := range []struct{ source, want string }{
		{"{height: 1,8m, wet: yes}", `1:10: "1,8m" has a decimal comma | write 1.8m`},
		{"{height: 1,8 m}", `1:10: "1,8 m" has a decimal comma | write 1.8 m`},
		{"{height: 1,250 m}", `1:10: "1,250 m" has a comma, for decimals or for thousands | write 1.250 m or 1250 m`},
		{"{height: 2 m, bricks: 1,5}", `1:23: "bricks" needs a whole number, not "1,5" | write for example 1`},
		{"{height: 1, 8m}", "1:10: \"1\" has no unit | write 1 m\n1:13: \"8m\" is not a key here | write one of bond, bricks, doors, gates, height, nested, plain, ratio, signs, wet"},
		{"{height: '1',8m}", "1:10: \"1\" has no unit | write 1 m\n1:14: \"8m\" is not a key here | write one of bond, bricks, doors, gates, height, nested, plain, ratio, signs, wet"},
		{"{height:2m, wet: yes}", `1:2: "height:2m" lacks a blank after its colon | write height: 2m`},
		{"{height: 2 m, wide:2m}", "1:15: \"wide:2m\" is not a key here | write one of bond, bricks, doors, gates, height, nested, plain, ratio, signs, wet"},
	} {
		_, mistakes := document.Read("w", []byte(c.source), new(wall))
		if got := told(mistakes); got != c.want {
			t.Errorf("%s\ngot  %s\nwant %s", c.source, got, c.want)
		}
	}
}
