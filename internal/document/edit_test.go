package document_test

import (
	"encoding/json"
	"math"
	"net/netip"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/document"
	"farend/unit"
)

// garden declares its keys in the order in which they are written.
type garden struct {
	Name  string            `key:"name"`
	Beds  map[string]bed    `key:"beds"`
	Trees map[string]string `key:"trees"`
	Notes []string          `key:"notes"`
}

type bed struct {
	Plant string   `key:"plant"`
	Width string   `key:"width"`
	Rows  []string `key:"rows"`
	Dry   bool     `key:"dry"`
}

type editCase struct {
	name, before, path string
	value              any
	after              string
}

func checkEdits(t *testing.T, cases []editCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got, mistakes := document.Apply("g", []byte(c.before), []finding.Edit{{Path: c.path, Value: c.value}}, garden{})
			if len(mistakes) > 0 {
				t.Fatal(mistakes)
			}
			if string(got) != c.after {
				t.Errorf("got\n%q\nwant\n%q", got, c.after)
			}
		})
	}
}

func TestEditsReplaceOneValue(t *testing.T) {
	checkEdits(t, []editCase{
		{"a plain value, with its comment and blanks", "a:   1  # one\nb: 2\n", "/a", 12, "a:   12  # one\nb: 2\n"},
		{"by the same", "a:   '1'\n", "/a", "1", "a:   '1'\n"},
		{"a quoted value", "a: \"x \\\" y\" # c\n", "/a", "z", "a: z # c\n"},
		{"a value in single quotes", "a: 'it''s' # c\n", "/a", "z", "a: z # c\n"},
		{"a value in braces", "W1: {part:  x,   length: 1 m}   # c\n", "/W1/part", "cable/y", "W1: {part:  cable/y,   length: 1 m}   # c\n"},
		{"text that must be quoted in braces only", "a: {b: 1}\nc: 1\n", "/a/b", "x, y", "a: {b: \"x, y\"}\nc: 1\n"},
		{"text that may stay plain in a line", "a: {b: 1}\nc: 1\n", "/c", "x, y", "a: {b: 1}\nc: x, y\n"},
		{"after other letters than those of English", "é: {ж: 1, 日: 2}\n", "/é/日", 3, "é: {ж: 1, 日: 3}\n"},
		{"in a file with CR LF", "a: 1\r\nb: 2\r\n", "/b", 3, "a: 1\r\nb: 3\r\n"},
		{"after a byte-order mark", "\ufeffa: 1\n", "/a", 2, "\ufeffa: 2\n"},
		{"at the end of a file without a last line break", "a: 1\nb: 2", "/b", 3, "a: 1\nb: 3"},
		{"of a quoted key", "\"a b\": 1\n'c/d~e': 2\n", "/c~1d~0e", 3, "\"a b\": 1\n'c/d~e': 3\n"},
		{"of a key with a dot", "fuses:\n  A1.1: x\n", "/fuses/A1.1", "fuse/blade-5A", "fuses:\n  A1.1: fuse/blade-5A\n"},
		{"of a key with no text", "\"\": 1\n", "/", 2, "\"\": 2\n"},
		{"that is not there", "a:   # soon\nb: 1\n", "/a", 2, "a: 2   # soon\nb: 1\n"},
		{"that is not there, in braces", "a: {b, c: , d: 1}\n", "/a/b", 2, "a: {b: 2, c: , d: 1}\n"},
		{"that is not there after a colon in braces", "a: {b, c: , d: 1}\n", "/a/c", 2, "a: {b, c: 2 , d: 1}\n"},
		{"that is not there after a dash", "a:\n-\n- 1\n", "/a/0", 2, "a:\n- 2\n- 1\n"},
		{"over several lines", "a: one\n  two\n\n  three  # c\nb: 1\n", "/a", "x", "a: x  # c\nb: 1\n"},
		{"in quotes over several lines", "a: \"one\n  two\" # c\nb: 1\n", "/a", "x", "a: x # c\nb: 1\n"},
		{"in lines after a bar", "a: |  # c\n  one\n   two\n\nb: 1\n", "/a", "x", "a: x  # c\n\nb: 1\n"},
		{"in lines after a bar that keeps all", "a: |+\n  one\n\n\nb: 1\n", "/a", "x", "a: x\nb: 1\n"},
		{"in folded lines", "a: >-\n  one\n  two\n# c\nb: 1\n", "/a", "x", "a: x\n# c\nb: 1\n"},
		{"with a tag", "a: !!str 5\nb: 1\n", "/a", 6, "a: 6\nb: 1\n"},
		{"with an anchor that nobody uses", "a: &x 5\nb: 1\n", "/a", 6, "a: &x 6\nb: 1\n"},
		{"an alias", "a: &x 5\nb: *x # c\n", "/b", 6, "a: &x 5\nb: 6 # c\n"},
		{"beside an anchor in use", "a: &x {p: 5}\nb: *x\nc: 1\n", "/c", 6, "a: &x {p: 5}\nb: *x\nc: 6\n"},
		{"to a sign that asks for a key where a blank follows", "a: {\n  b: \"x\"\n}\nc: {d: 1 }\n", "/a/b", "?", "a: {\n  b: \"?\"\n}\nc: {d: 1 }\n"},
		{"to such a sign before a blank", "c: {d: 1 }\n", "/c/d", "?", "c: {d: \"?\" }\n"},
		{"in JSON", "{\"a\":1,\"b\":[\"x\",2]}", "/b/1", "y", "{\"a\":1,\"b\":[\"x\",y]}"},
		{"after a document start", "# c\n---\na: 1\n...\n", "/a", 2, "# c\n---\na: 2\n...\n"},
		{"of an item", "a: [1 m, 2 m]\n", "/a/1", "3 m", "a: [1 m, 3 m]\n"},
		{"below its key", "a:\n  some value  # c\nb: 1\n", "/a", 5, "a:\n  5  # c\nb: 1\n"},
		{"of an explicit key", "? a\n: 1\nb: 2\n", "/a", 3, "? a\n: 3\nb: 2\n"},
	})
}

func TestEditsReplaceMapsAndLists(t *testing.T) {
	checkEdits(t, []editCase{
		{"one value by a map", "beds:\n  E: 5  # c\n", "/beds/E", map[string]any{"width": "1 m", "plant": "x"}, "beds:\n  E: {plant: x, width: 1 m}  # c\n"},
		{"a map in braces by one value", "a: {b: {c: 1}, d: 2}\n", "/a/b", 1, "a: {b: 1, d: 2}\n"},
		{"a map in lines by one value", "a:  # c\n  # above\n  b: 1  # own\n  # below\nd: 1\n", "/a", 5, "a: 5  # c\n  # above\n  # below\nd: 1\n"},
		{"a list in lines by a list", "a:\n  - 1 # one\n  - 2 # two\n  - 3 # three\n", "/a", []int{1, 3}, "a:\n  - 1 # one\n  - 3 # three\n"},
		{"a list by a longer one", "a: [1, 2]\n", "/a", []any{1, 5, 6, 7}, "a: [1, 5, 6, 7]\n"},
		{"a list by a shorter one", "a: [1, 2, 3, 4]\n", "/a", []any{5}, "a: [5]\n"},
		{"a list by none", "a:\n- 1\nb: 2\n", "/a", []any{}, "a: []\nb: 2\n"},
		{"a map by one that differs in one value", "a: {b: 1,   c: \"2\", d: 3} # c\n", "/a", map[string]any{"d": 4, "c": "2", "b": 1}, "a: {b: 1,   c: \"2\", d: 4} # c\n"},
		{"a map by one with other keys", "a:\n  b: 1  # b\n  c: 2  # c\n", "/a", map[string]any{"b": 1, "d": 3, "c": nil}, "a:\n  b: 1  # b\n  d: 3\n"},
		{"a map of which nothing stays", "a:\n  b: 1\n", "/a", map[string]any{"c": 1}, "a:\n  c: 1\n"},
		{"a map that is an item", "a:\n- b: 1 # b\n  c: 2 # c\n- d: 1\n", "/a/0", "x", "a:\n- x\n- d: 1\n"},
		{"a map below its dash", "a:\n- # c\n  b: 1\n- d: 1\n", "/a/0", "x", "a:\n- x # c\n- d: 1\n"},
		{"a map with an alias in it", "a: &x 1\nb: {c: *x, d: 2}\n", "/b", map[string]any{"c": 1, "d": 3}, "a: &x 1\nb: {c: *x, d: 3}\n"},
		{"an alias by another map", "a: &x {p: 1}\nb: *x\n", "/b", map[string]any{"p": 2}, "a: &x {p: 1}\nb: {p: 2}\n"},
		{"a map with a tag by one value", "a: !!map\n  b: 1\nc: 1\n", "/a", 2, "a: 2\nc: 1\n"},
	})
}

func TestEditsAddKeys(t *testing.T) {
	checkEdits(t, []editCase{
		{"in lines", "cables:\n  W1: {a: 1}  # c\n\n# the fuses\nfuses:\n  A: x\n", "/cables/W2", map[string]any{"part": "x", "fuse": "y"}, "cables:\n  W1: {a: 1}  # c\n  W2: {fuse: y, part: x}\n\n# the fuses\nfuses:\n  A: x\n"},
		{"in lines of their own depth", "a:\n     b: 1\n     c:\n       d: 1\ne: 1\n", "/a/f", 2, "a:\n     b: 1\n     c:\n       d: 1\n     f: 2\ne: 1\n"},
		{"in lines with CR LF", "a:\r\n  b: 1\r\nc: 2\r\n", "/a/d", 1, "a:\r\n  b: 1\r\n  d: 1\r\nc: 2\r\n"},
		{"at the end of a file without a last line break", "a:\n  b: 1 # c", "/a/d", 1, "a:\n  b: 1 # c\n  d: 1"},
		{"in lines that end with CR alone", "a: 1\rb: 2\r", "/c", 2, "a: 1\rb: 2\rc: 2\r"},
		{"above comments at the end", "a:\n  b: 1\n  # W9: spare\n# end", "/a/d", 1, "a:\n  b: 1\n  d: 1\n  # W9: spare\n# end"},
		{"after a key without a value", "a:\n  b:\nc: 1\n", "/a/d", 1, "a:\n  b:\n  d: 1\nc: 1\n"},
		{"after lines behind a bar", "a:\n  b: |+\n    x\n\nc: 1\n", "/a/d", 1, "a:\n  b: |+\n    x\n\n  d: 1\nc: 1\n"},
		{"after an explicit key", "? a\n: 1\n", "/b", 2, "? a\n: 1\nb: 2\n"},
		{"in a map that is an item", "a:\n- b: 1\n- c: 1\n", "/a/0/d", 2, "a:\n- b: 1\n  d: 2\n- c: 1\n"},
		{"in a map below its anchor", "a: &x\n   b: 1\n", "/a/d", 2, "a: &x\n   b: 1\n   d: 2\n"},
		{"in braces", "W1: {part: x, length: 1 m}  # c\n", "/W1/fuse", "fuse/y", "W1: {part: x, length: 1 m, fuse: fuse/y}  # c\n"},
		{"in empty braces", "W1: {}\n", "/W1/fuse", "y", "W1: {fuse: y}\n"},
		{"in empty braces with a blank", "W1: { }\n", "/W1/fuse", "y", "W1: {fuse: y}\n"},
		{"in empty braces with a comment", "W1: { # c\n  }\n", "/W1/fuse", "y", "W1: {fuse: y # c\n  }\n"},
		{"in braces with a last comma", "W1: {a: 1, b: 2,}\n", "/W1/c", 3, "W1: {a: 1, b: 2, c: 3,}\n"},
		{"in braces over lines", "W1: {\n  a: 1,  # a\n  b: 2   # b\n}\n", "/W1/c", 3, "W1: {\n  a: 1,  # a\n  b: 2,   # b\n  c: 3\n}\n"},
		{"in braces over lines with a last comma", "W1: {\r\n  a: 1,\r\n  b: 2,   # b\r\n}\r\n", "/W1/c", 3, "W1: {\r\n  a: 1,\r\n  b: 2,   # b\r\n  c: 3,\r\n}\r\n"},
		{"in braces over lines that close in the last", "W1: {a: 1,\n     b: 2}\n", "/W1/c", 3, "W1: {a: 1,\n     b: 2,\n     c: 3}\n"},
		{"in braces in brackets", "a: [[0, 0], {b: \"}\"}]\n", "/a/1/c", "]", "a: [[0, 0], {b: \"}\", c: \"]\"}]\n"},
		{"in braces after a key without a value", "a: {b}\n", "/a/c", 1, "a: {b, c: 1}\n"},
		{"in a file in braces", "{\"a\": 1}\n", "/b", map[string]any{"c": 1}, "{\"a\": 1, b: {c: 1}}\n"},
		{"that need quotes", "a:\n  b: 1\n", "/a/x: y", 1, "a:\n  b: 1\n  \"x: y\": 1\n"},
		{"with a slash and a tilde", "a: {b: 1}\n", "/a/tape~1m~0n", 1, "a: {b: 1, tape/m~n: 1}\n"},
		{"that are whole numbers", "a: {1: x}\n", "/a/2", "y", "a: {1: x, 2: y}\n"},
		{"in a map that is missing", "a: {b: 1}\n", "/a/c/d/e", true, "a: {b: 1, c: {d: {e: true}}}\n"},
		{"in a list that is missing", "beds:\n  B: {plant: x}\n", "/beds/B/rows/0", "y", "beds:\n  B: {plant: x, rows: [y]}\n"},
		{"in a list that is missing, by a dash", "a: {b: 1}\n", "/a/c/-", "y", "a: {b: 1, c: [y]}\n"},
		{"in a map that is empty", "beds:  # none yet\nnotes: []\n", "/beds/B/plant", "x", "beds:  # none yet\n  B: {plant: x}\nnotes: []\n"},
	})
}

func TestEditsAddSectionsWhereTheHouseHasThem(t *testing.T) {
	checkEdits(t, []editCase{
		{"between others", "name: x\ntrees:\n    T: oak\n", "/beds/B", map[string]any{"dry": true, "plant": "x"}, "name: x\nbeds:\n    B: {plant: x, dry: true}\ntrees:\n    T: oak\n"},
		{"at the end", "name: x  # c\n\n# end\n", "/trees", map[string]any{"T10": "ash", "T9": "oak"}, "name: x  # c\ntrees:\n  T9: oak\n  T10: ash\n\n# end\n"},
		{"with an empty line where others have one", "name: x\n\nbeds:\n  B: {}\n\nnotes: []\n", "/trees/T", "oak", "name: x\n\nbeds:\n  B: {}\n\ntrees:\n  T: oak\n\nnotes: []\n"},
		{"with an empty line where a comment stands between, too", "name: x\n\n# beds\nbeds:\n  B: {}\n", "/trees/T", "oak", "name: x\n\n# beds\nbeds:\n  B: {}\n\ntrees:\n  T: oak\n"},
		{"one value", "name: x\ntrees: {}\n", "/notes/-", "n", "name: x\ntrees: {}\nnotes: [n]\n"},
		{"before all others in the house, after them in the file", "trees: {}\n", "/name", "x", "trees: {}\nname: x\n"},
		{"that the house does not know", "trees: {}\nname: x\n", "/other", "y", "trees: {}\nname: x\nother: y\n"},
		{"before a document end", "name: x\n...\n", "/notes", []string{"a"}, "name: x\nnotes: [a]\n...\n"},
	})
}

func TestEditsTakeKeysOut(t *testing.T) {
	checkEdits(t, []editCase{
		{"in lines, with their own comment", "a:\n  b: 1  # b\n  # about c\n  c: 2\n", "/a/b", nil, "a:\n  # about c\n  c: 2\n"},
		{"in lines, not with a comment above", "a:\n  # about b\n  b: 1\n  c: 2\n", "/a/b", nil, "a:\n  # about b\n  c: 2\n"},
		{"with all below", "a:\n  b: 1\n  # in a\n  c: [2,\n    3] # c\n\nd: 1\n", "/a", nil, "\nd: 1\n"},
		{"in lines with CR LF", "a: 1\r\nb: 2\r\nc: 3\r\n", "/b", nil, "a: 1\r\nc: 3\r\n"},
		{"at the end of a file without a last line break", "a: 1\r\nb: 2", "/b", nil, "a: 1"},
		{"after a byte-order mark", "\ufeffa: 1\nb: 2\n", "/a", nil, "\ufeffb: 2\n"},
		{"without a value", "a:\nb: 2\n", "/a", nil, "b: 2\n"},
		{"with lines behind a bar", "a: |\n  x\n  y\n\nb: 2\n", "/a", nil, "\nb: 2\n"},
		{"first in an item", "a:\n- b: 1 # b\n  c: 2 # c\n", "/a/0/b", nil, "a:\n- c: 2 # c\n"},
		{"first in an item, above a comment", "a:\n- b: 1 # b\n  # about c\n  c: 2\n", "/a/0/b", nil, "a:\n-\n  # about c\n  c: 2\n"},
		{"last in an item", "a:\n- b: 1 # b\n  c: 2 # c\n- d: 1\n", "/a/0/c", nil, "a:\n- b: 1 # b\n- d: 1\n"},
		{"with an explicit key", "? a\n: 1\nb: 2\n", "/a", nil, "b: 2\n"},
		{"the only one, in lines", "a:  # c\n  # above\n  b: 1 # b\nd: 1\n", "/a/b", nil, "a: {}  # c\n  # above\nd: 1\n"},
		{"the only one in an item", "a:\n- b: 1\n", "/a/0/b", nil, "a:\n- {}\n"},
		{"the only one below an anchor", "a: &x  # c\n  b: 1\n", "/a/b", nil, "a: &x {}  # c\n"},
		{"the only one of the file", "# c\na: 1 # a\n", "/a", nil, "# c\n{}\n"},
		{"first in braces", "a: {b: 1,  c: 2, d: 3}\n", "/a/b", nil, "a: {c: 2, d: 3}\n"},
		{"in the middle of braces", "a: {b: 1,  c: 2, d: 3}\n", "/a/c", nil, "a: {b: 1,  d: 3}\n"},
		{"last in braces", "a: {b: 1,  c: 2, d: 3} # c\n", "/a/d", nil, "a: {b: 1,  c: 2} # c\n"},
		{"last in braces with a last comma", "a: {b: 1, c: 2,}\n", "/a/c", nil, "a: {b: 1,}\n"},
		{"the only one in braces", "a: { b: 1, } # c\n", "/a/b", nil, "a: {} # c\n"},
		{"first in braces over lines", "a: {\n  b: 1,  # b\n  # about c\n  c: 2\n}\n", "/a/b", nil, "a: {\n  # about c\n  c: 2\n}\n"},
		{"last in braces over lines", "a: {\n  b: 1,  # b\n  c: 2  # c\n}\n", "/a/c", nil, "a: {\n  b: 1  # b\n}\n"},
		{"last in braces over lines with a last comma", "a: {\n  b: 1,  # b\n  c: 2,  # c\n}\n", "/a/c", nil, "a: {\n  b: 1,  # b\n}\n"},
		{"first in braces that go on below", "a: {b: 1,\n    c: 2}\n", "/a/b", nil, "a: {c: 2}\n"},
		{"last in braces that close beside it", "a: {b: 1,\n    c: 2}\n", "/a/c", nil, "a: {b: 1}\n"},
		{"last in braces beside a comment on all", "a: {b: 1, c: 2, # both\n}\n", "/a/c", nil, "a: {b: 1, # both\n}\n"},
		{"last in braces below a comment on another", "a: {b: 1, # one\n  c: 2}\n", "/a/c", nil, "a: {b: 1 # one\n  }\n"},
		{"with an explicit key in braces", "a: {? b : 1, c: 2}\n", "/a/b", nil, "a: {c: 2}\n"},
		{"that are not there", "a: {b: 1}\n", "/a/c", nil, "a: {b: 1}\n"},
		{"below a key that is not there", "a: {b: 1}\n", "/c/d/e", nil, "a: {b: 1}\n"},
		{"below a key without a value", "a:\n", "/a/b", nil, "a:\n"},
	})
}

func TestEditsOfListsCountItems(t *testing.T) {
	checkEdits(t, []editCase{
		{"the first out of brackets", "a: [1, 2, 3]\n", "/a/0", nil, "a: [2, 3]\n"},
		{"the last out of brackets", "a: [1, 2, 3]\n", "/a/2", nil, "a: [1, 2]\n"},
		{"the only one out of brackets", "a: [ 1 ]\n", "/a/0", nil, "a: []\n"},
		{"one more into brackets", "a: [1, 2]\n", "/a/-", 3, "a: [1, 2, 3]\n"},
		{"one more into none", "a: []\n", "/a/-", 3, "a: [3]\n"},
		{"one more by its index", "a: [1]\n", "/a/1", map[string]any{"b": 1}, "a: [1, {b: 1}]\n"},
		{"one out of lines", "a:\n  - 1 # one\n  - 2 # two\n", "/a/0", nil, "a:\n  - 2 # two\n"},
		{"the only one out of lines", "a:\n- 1\nb: 2\n", "/a/0", nil, "a: []\nb: 2\n"},
		{"the first of a list in a list", "a:\n- - 1\n  - 2\n", "/a/0/0", nil, "a:\n- - 2\n"},
		{"one more into lines", "a:\n- b: 1\n  c: 2\n\nd: 1\n", "/a/-", map[string]any{"b": 2}, "a:\n- b: 1\n  c: 2\n- {b: 2}\n\nd: 1\n"},
		{"one more into a list in a list", "a:\n- - 1\n- 2\n", "/a/0/-", 3, "a:\n- - 1\n  - 3\n- 2\n"},
		{"below the last of lines", "a:\n  - b: 1\n", "/a/0/c", []float64{0.5, 1e-9, 4, -0.25}, "a:\n  - b: 1\n    c: [0.5, 1e-09, 4, -0.25]\n"},
	})
}

func TestValuesAreWrittenAsShortAsTheyReadBack(t *testing.T) {
	for _, c := range []struct {
		value any
		want  string
	}{
		{"5 V", "5 V"}, {"#ffb060", "\"#ffb060\""}, {"a #b", "\"a #b\""}, {"a#b", "a#b"}, {"5", "\"5\""}, {"0.5", "\"0.5\""}, {"", "\"\""},
		{"true", "\"true\""}, {"yes", "yes"}, {"null", "\"null\""}, {"~", "\"~\""}, {"- a", "\"- a\""}, {"-a", "-a"}, {"? a", "\"? a\""}, {"a: b", "\"a: b\""},
		{"a:b", "a:b"}, {"a:", "\"a:\""}, {"*a", "\"*a\""}, {"&a b", "\"&a b\""}, {"!a", "\"!a\""}, {"@a", "\"@a\""}, {"`a", "\"`a\""}, {"%a", "\"%a\""}, {"|", "\"|\""}, {"> a", "\"> a\""},
		{"{a", "\"{a\""}, {"[a]", "\"[a]\""}, {"a]", "a]"}, {"it's", "it's"}, {"'a'", "\"'a'\""}, {"\"a\"", "'\"a\"'"}, {"a\\b", "a\\b"}, {"\\: \"'", "\"\\\\: \\\"'\""},
		{" a", "\" a\""}, {"a ", "\"a \""}, {"a\nb", "\"a\\nb\""}, {"a\tb", "\"a\\tb\""}, {"a\rb", "\"a\\x0db\""}, {"a\u2028b", "\"a\\u2028b\""}, {"\ufeff", "\"\\ufeff\""}, {"\U000e0001", "\"\\U000e0001\""},
		{"2026-11-25", "2026-11-25"}, {"=", "="}, {"<<", "\"<<\""}, {"---", "---"}, {"...", "..."}, {"Δu'v' ≤ 4 Ω", "Δu'v' ≤ 4 Ω"},
		{5, "5"}, {uint8(5), "5"}, {5.0, "5"}, {1e6, "1000000"}, {1e300, "1e+300"}, {math.Copysign(0, -1), "0"}, {float32(0.1), "0.1"}, {json.Number("1.50"), "1.50"}, {true, "true"}, {false, "false"},
		{netip.MustParseAddr("192.0.2.1"), "192.0.2.1"}, {unit.Metre(1.5), ""}, {math.Inf(1), ""}, {json.Number("x"), ""}, {struct{}{}, ""},
		{bond("header"), "header"}, {[]string{"a", "b, c"}, "[a, \"b, c\"]"}, {[][2]float64{{0, 1}, {2, 3}}, "[[0, 1], [2, 3]]"}, {map[string]any{}, "{}"}, {[]any{}, "[]"},
		{map[string]any{"b10": 1, "b9": 2, "a": nil}, "{b9: 2, b10: 1}"}, {new(int), "0"},
	} {
		want := "a:\n  b: x\n  c: " + c.want + "\n"
		if c.want == "" {
			want = "" // refused
		}
		got, mistakes := document.Apply("g", []byte("a:\n  b: x\n"), []finding.Edit{{Path: "/a/c", Value: c.value}}, nil)
		if string(got) != want || (want == "") != (len(mistakes) > 0) {
			t.Errorf("%#v: got %q, want %q (%v)", c.value, got, want, mistakes)
		}
	}
}

func TestEditsGoInOrder(t *testing.T) {
	got, mistakes := document.Apply("g", []byte("a: [1, 2, 3] # c\n"), []finding.Edit{
		{Path: "/a/0"}, {Path: "/a/0", Value: 5}, {Path: "/a/-", Value: 6}, {Path: "/b/c", Value: 1}, {Path: "/b/d", Value: 2}, {Path: "/b/c"}, {Path: "/a/2"}, {Path: "/a/1"},
	}, nil)
	if want := "a: [5] # c\nb:\n  d: 2\n"; string(got) != want || len(mistakes) > 0 {
		t.Errorf("got %q, want %q; %v", got, want, mistakes)
	}
}

func TestEditsThatCannotBeMadeSayWhy(t *testing.T) {
	cases := []struct {
		name, source, path string
		value              any
		want               string
	}{
		{"a path without a slash", "a: 1\n", "a", 2, `1:1: cannot set a to 2: "a" is not the path of a key | write a JSON Pointer such as /cables/W3/part`},
		{"the whole file", "a: 1\n", "", 2, `1:1: cannot set the whole file to 2: "" is not the path of a key | write a JSON Pointer such as /cables/W3/part`},
		{"a lone tilde", "a: 1\n", "/a~2", nil, `1:1: cannot remove /a~2: "/a~2" has a ~ that stands for nothing | write ~0 for ~ and ~1 for /`},
		{"below one value", "a: 1\nb: xyz\n", "/b/c", 2, `2:4: cannot set /b/c to 2: /b is "xyz" and has no keys | `},
		{"an item that is not there", "a: [1, 2]\n", "/a/3", 2, `1:4: cannot set /a/3 to 2: /a has 2 items | count from 0; "-" adds an item`},
		{"an item with a zero before it", "a: [1, 2]\n", "/a/01", 2, `1:4: cannot set /a/01 to 2: /a is a list, and "01" counts no item of it | count from 0; "-" adds an item`},
		{"taking out an item that is not there", "a: [1, 2]\n", "/a/2", nil, `1:4: cannot remove /a/2: /a has 2 items | count from 0; "-" adds an item`},
		{"a key that stands twice", "a: 1\nb: 2\na: 3\n", "/a", 2, `1:4: cannot set /a to 2: "a" stands twice, in lines 1 and 3 | remove one of the two`},
		{"below an alias", "a: &x {p: 1}\nb: *x\n", "/b/p", 2, `2:4: cannot set /b/p to 2: /b takes its value from &x in line 1 | write the values out there`},
		{"what an alias stands for", "a: &x {p: 1}\nb: *x\n", "/a/p", 2, `1:11: cannot set /a/p to 2: line 2 takes its value from here, by *x | write the value out there first`},
		{"taking out what an alias stands for", "a: {p: &x 1}\nb: *x\n", "/a", nil, `1:4: cannot remove /a: line 2 takes its value from here, by *x | write the value out there first`},
		{"a key with an anchor in use", "&x a: 1\nb: *x\n", "/a", nil, `1:7: cannot remove /a: line 2 takes its value from here, by *x | write the value out there first`},
		{"a map with a merge key", "a: &x {p: 1}\nb: {<<: *x}\n", "/b/q", 2, `2:4: cannot set /b/q to 2: the merge key in line 2 may bring in the same key | write the values out`},
		{"an alias without end", "a: &x {p: *x}\nb: 1\n", "/b", 2, `1:1: an alias in this file stands inside what it stands for | write the values out`},
		{"a list in place of the file", "[1, 2]\n", "/a", 2, `1:1: cannot set /a to 2: the file is a list, and "a" counts no item of it | count from 0; "-" adds an item`},
		{"a value that is no data", "a: 1\n", "/a", func() {}, `1:4: cannot set /a: a value of type func() cannot be written | `},
		{"nothing in a list", "a: 1\n", "/a", []any{nil}, `1:4: cannot set /a: item 1 of the list is nothing | `},
		{"text that is none", "a: 1\n", "/a", "\xff", `1:4: cannot set /a: the value is not UTF-8 text | `},
		{"a map without text for keys", "a: 1\n", "/a", map[int]int{1: 1}, `1:4: cannot set /a: a map with keys of type int cannot be written | `},
		{"a pair in a list", "a: [b: 1]\n", "/a/0/c", 2, `1:5: cannot set /a/0/c to 2: the text around it is written in a way that cannot be changed safely | make this change by hand`},
		{"a text after a bar that has no last line break", "a:\n  b: |\n    x", "/a/c", 2, `2:3: cannot set /a/c to 2: the text around it is written in a way that cannot be changed safely | make this change by hand`},
		{"a file that is no YAML", "a: [\n", "/a", 2, "2:1: the file ends within brackets or braces | look for a [ or { without its ] or }"},
		{"a long value", "a: {b: 1}\n", "/a/b/c", strings.Repeat("long ", 30) + "x", `1:8: cannot set /a/b/c to ` + strings.Repeat("long ", 11) + "long…" + `: /a/b is "1" and has no keys | `},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			text, mistakes := document.Apply("g", []byte(c.source), []finding.Edit{{Path: c.path, Value: c.value}}, garden{})
			if got := told(mistakes); got != c.want || text != nil {
				t.Errorf("got  %s\nwant %s\ntext %q", got, c.want, text)
			}
		})
	}
}
