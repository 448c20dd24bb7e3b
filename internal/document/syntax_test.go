package document_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/internal/document"
)

// A file for every way in which YAML is got wrong, and what is said of it.
func TestWhatIsNoYAMLIsSaidInWordsForPeople(t *testing.T) {
	for _, c := range []struct{ name, source, want string }{
		{"a tab as indent", "nested:\n\ta: [1]\n", `2:1: a tab stands where YAML wants spaces | indent with spaces, not tabs`},
		{"a tab after spaces", "nested:\n  a: [1]\n\tb: [1]\n", `3:1: a tab stands where YAML wants spaces | indent with spaces, not tabs`},
		{"a tab in a folded text", "plain: >\n\tx\n", `2:1: a tab stands where YAML wants spaces | indent with spaces, not tabs`},
		{"an at sign", "plain: @x\n", `1:8: '@' cannot begin a value or a key | put the text in quotes`},
		{"a backquote", "plain: `x\n", "1:8: '`' cannot begin a value or a key | put the text in quotes"},
		{"a comma", "plain: ,\n", `1:8: a value is missing here, or ',' cannot begin one | put the text in quotes`},
		{"a colon too many", "plain: x: y\n", `1:9: a colon too many stands here, or the line is indented too deep | put a text that holds ": " in quotes, or indent the line like its neighbours`},
		{"a line indented too deep", "height: 1 m\n  wet: yes\n", `2:6: a colon too many stands here, or the line is indented too deep | put a text that holds ": " in quotes, or indent the line like its neighbours`},
		{"a line indented too little", "nested:\n  a: [1]\n b: [1]\n", `3:2: this does not belong to the map that begins in line 1 | indent all keys of a map alike; look for a bracket, brace or quotation mark too many`},
		{"a first key that is indented", "  height: 1 m\nwet: yes\n", `2:1: this line is indented less than the first key of the file | begin all keys of the file in the first column`},
		{"an item of a list and a key", "- a\nb: c\n", `2:1: this does not belong to the list that begins in line 1 | indent all items of a list alike, each after "- "`},
		{"a brace too many", "nested: {a: [1]}}\n", `1:17: this does not belong to the map that begins in line 1 | indent all keys of a map alike; look for a bracket, brace or quotation mark too many`},
		{"more after a quotation", "plain: \"x\" y\n", `1:12: this does not belong to the map that begins in line 1 | indent all keys of a map alike; look for a bracket, brace or quotation mark too many`},
		{"a brace open to the end", "nested: {a: [1]\n", `1:9: the brace opened in line 1 is not closed, or a comma is missing | close it with }, and put commas between its entries`},
		{"a bracket open within braces", "nested: {a: [1}\n", `1:15: the bracket opened in line 1 is not closed, or a comma is missing | close it with ], and put commas between its items`},
		{"a comma is missing", "nested: {a: [1] b: [1]}\n", `1:17: the brace opened in line 1 is not closed, or a comma is missing | close it with }, and put commas between its entries`},
		{"a bracket and nothing more", "doors: [", `1:9: the file ends within brackets or braces | look for a [ or { without its ] or }`},
		{"a quotation that is not closed", "plain: \"abc\nwet: yes\n", `1:8: the quotation mark here is not closed | close it with the same mark`},
		{"a quotation that a new document ends", "plain: 'abc\n---\n", `1:8: the quotation mark here is not closed | close it with the same mark`},
		{"a line without a colon", "height: 1 m\nsigns\nwet: yes\n", `2:1: this line has no colon, and is no part of the value above | write it as key: value, with a blank after the colon`},
		{"an escape that is none", `plain: "\q"`, `1:9: this is no escape | write \\ for a backslash, or put the text in single quotes`},
		{"half a character", `plain: "\ud800"`, `1:11: this is no escape | write \\ for a backslash, or put the text in single quotes`},
		{"an escape without digits", `plain: "\xzz"`, `1:11: this is no escape | write \\ for a backslash, or put the text in single quotes`},
		{"an alias of nothing", "height: *a\n", `1:9: a value that begins with * stands for another value, and there is none of that name | put the text in quotes`},
		{"a star alone", "plain: * x\n", `1:9: a value that begins with & or * names another value, and here is no name | put the text in quotes`},
		{"a list in the line of its key", "doors: - 1 m\n", `1:8: a list cannot begin here | write it in square brackets, [a, b], or one item a line, each after "- "`},
		{"a key within a value", "plain: ? x\n", `1:8: a key cannot begin here | put the text in quotes`},
		{"a comment without its blank", "plain: \"x\"#y\n", `1:11: the # here begins no comment: a blank is missing before it | put a blank before it, or the text in quotes`},
		{"a per cent sign", "%x\n", `1:3: a line that begins with % gives orders to YAML readers, and this is none | remove the line, or put the text in quotes`},
		{"an order in the middle", "wet: yes\n%TAG ! y\n", `2:1: a line that begins with % gives orders to YAML readers, and this is none | remove the line, or put the text in quotes`},
		{"another YAML", "%YAML 3.0\n---\nwet: yes\n", `1:1: this is no version of YAML that Farend reads | remove the line that begins with %YAML`},
		{"more after the end", "wet: yes\n... y\n", `2:5: the line ... ends the file, and more follows | remove the line "..."`},
		{"a bar and a number", "plain: |9x\n  y\n", `1:10: the text after | or > does not begin as it should | write a short text in quotes, in one line`},
		{"a tag that is none", "plain: !<x y\n", `1:11: a value that begins with ! is a tag, and this is none | put the text in quotes`},
		{"a tag of another file", "plain: !a!b y\n", `1:8: a value that begins with ! is a tag, and this is none | put the text in quotes`},
		{"brackets thousands deep", strings.Repeat("[", 10001), `1:10001: brackets or levels are nested thousands deep here | a scheme needs hardly more than five`},
		{"a colour without quotes within braces", "nested: {a: [1], b: #ffb060}\nwet: yes\n", `1:21: # begins a comment here, so the rest of the line does not count | put the colour in quotes: "#ffb060"`},
		{"a colour without quotes in the last line", "height: 1 m\nnested: {\"a'#\": \"#aabbcc\", b: #fff}", `2:31: # begins a comment here, so the rest of the line does not count | put the colour in quotes: "#fff"`},
		{"a colour in a comment is not to blame", "wet: yes # such as: x, y: #ffb060}\nnested: {a: [1]\n", `2:9: the brace opened in line 2 is not closed, or a comma is missing | close it with }, and put commas between its entries`},
		{"a comment that holds nothing", "#", `1:1: the file is empty | begin with the line "farend: 1"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, mistakes := document.Read("w", []byte(c.source), new(wall))
			if got := told(mistakes); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestVeryManyMistakesAreCutShort(t *testing.T) {
	for name, source := range map[string]string{
		"keys":   "height: 1 m\nsigns:\n" + strings.Repeat("  ? \n", 100000),
		"values": "height: 1 m\ndoors:\n" + strings.Repeat("  - x\n", 100000),
		"names":  "height: 1 m\n" + names(100000),
	} {
		t.Run(name, func(t *testing.T) {
			result := document.Load("w", []byte(source), new(wall))
			if n := len(result.Mistakes); n != 1001 || result.Whole || result.Mistakes[0].Error() != "w: there are more than 1000 mistakes; these are the first" {
				t.Errorf("%d mistakes, the first: %v; whole: %v", n, result.Mistakes[0], result.Whole)
			}
			if said := result.Mistakes.Explain([]byte(source)); strings.Count(said, "^\n") != 1000 {
				t.Errorf("%d of them are shown", strings.Count(said, "^\n"))
			}
		})
	}
}

func names(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "n%d: x\n", i)
	}
	return b.String()
}

func TestWhatIsMissingOrOfAnotherKindIsShownByExample(t *testing.T) {
	for _, c := range []struct{ source, want string }{
		{"wet: no", `1:1: the file lacks the key "height" | write for example height: 2.5 m`},
		{"height:", `1:8: "height" needs a length, not nothing | write for example 2.5 m; a value that begins with # needs quotes`},
		{"height: [2 m]", `1:9: "height" needs a length, not a list | write for example 2.5 m`},
		{"height: 1 m\nbond: {a: b}", `2:7: "bond" needs one word, not a map of keys | write for example stretcher`},
		{"height: 1 m\nwet: perhaps", `2:6: "wet" needs yes or no, not "perhaps" | write for example yes`},
		{"height: 1 m\nbricks: 1.5", `2:9: "bricks" needs a whole number, not "1.5" | write for example 1`},
		{"height: 1 m\nbricks: 99999999999999999999", `2:9: "bricks" needs a whole number, not "99999999999999999999" | write for example 1`},
		{"height: 1 m\nratio: .inf", `2:8: "ratio" needs a plain number, not ".inf" | write for example 0.5`},
		{"height: 1 m\nratio: Infinity", `2:8: "ratio" needs a plain number, not "Infinity" | write for example 0.5`},
		{"height: 1 m\nratio: 0x10", `2:8: "ratio" needs a plain number, not "0x10" | write for example 0.5`},
		{"height: 1 m\nratio: 1e999", `2:8: "ratio" needs a plain number, not "1e999" | write for example 0.5`},
		{"height: 1 m\ndoors: 1 m", `2:8: "doors" needs a list, not "1 m" | write it in square brackets, for example [2.5 m]`},
		{"height: 1 m\nsigns: [a]", `2:8: "signs" needs a map of keys, not a list | write for example {NAME: {text: text}}`},
		{"height: 1 m\nnested: 5", `2:9: "nested" needs a map of keys, not "5" | write for example {NAME: [1]}`},
		{"height: 1 m\ngates: {A: {}}", `2:12: "A" lacks the keys "from", "to" and "width" | write for example from: A1.2, to: text, width: 2.5 m`},
		{"height: 1 m\ngates: {A: []}", `2:12: "A" needs a map of keys, not a list | write for example {width: 2.5 m, from: A1.2, …}`},
	} {
		_, mistakes := document.Read("w", []byte(c.source), new(wall))
		if got := told(mistakes); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
