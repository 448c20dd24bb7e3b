package document_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"farend/finding"
	"farend/internal/document"
)

// A sketch is a random text with what it means. Every value and comment in it is a word of its own, so that a test can
// find it again without knowing the layout.
type sketch struct {
	t        *rapid.T
	eol      string
	words    int
	entries  []entry
	comments []string // open comments, for the entry being written
}

// An entry is a place in a sketch: a key of a map or an item of a list.
type entry struct {
	path     string
	value    any      // as decoded
	plain    string   // the word, where the value is one in plain text
	comments []string // that go with the entry
	inList   bool
	siblings int
}

func (s *sketch) chance(percent int) bool {
	return rapid.IntRange(0, 99).Draw(s.t, "chance") < percent
}

func (s *sketch) word(prefix string) string {
	s.words++
	return prefix + strconv.Itoa(s.words) + "z" // so that no word begins another
}

func (s *sketch) comment() string {
	c := s.word("remark")
	s.comments = append(s.comments, c)
	return "# " + c
}

// trailing ends a line, with a comment or blanks now and then.
func (s *sketch) trailing() string {
	switch rapid.IntRange(0, 5).Draw(s.t, "trailing") {
	case 0:
		return "  " + s.comment() + s.eol
	case 1:
		return " " + s.eol
	}
	return s.eol
}

func (s *sketch) above(indent string) string {
	switch rapid.IntRange(0, 7).Draw(s.t, "above") {
	case 0:
		return indent + s.comment() + s.eol
	case 1:
		return s.eol
	}
	return ""
}

func (s *sketch) key() string {
	key := s.word("k")
	switch rapid.IntRange(0, 9).Draw(s.t, "key") {
	case 0:
		return key + "/a~b"
	case 1:
		return key + ".1"
	case 2:
		return key + ": b"
	}
	return key
}

func written(key string) string {
	if strings.Contains(key, ": ") {
		return `"` + key + `"`
	}
	return key
}

func (s *sketch) scalar(path string, block bool, indent string) (string, any, string) {
	word := s.word("v")
	switch rapid.IntRange(0, 9).Draw(s.t, "scalar") {
	case 0:
		return `"` + word + ` \" # x"`, word + ` " # x`, ""
	case 1:
		return "'" + word + " '' , }'", word + " ' , }", ""
	case 2:
		return word + s.eol + indent + "  " + word, word + " " + word, ""
	case 3:
		if block {
			return "|" + s.eol + indent + "  " + word + s.eol + indent + "   # " + word, word + "\n # " + word + "\n", ""
		}
	}
	return word, word, word
}

// inline writes a value in one line, or in brackets over several.
func (s *sketch) inline(path string, depth int, indent string) (string, any, string) {
	kind := rapid.IntRange(0, 9).Draw(s.t, "inline")
	if depth > 3 || kind < 5 {
		return s.scalar(path, false, indent)
	}
	count := rapid.IntRange(0, 3).Draw(s.t, "count")
	lines := s.chance(30) && count > 0
	last := s.chance(20) && count > 0
	var text strings.Builder
	separate := func(i int) {
		if i > 0 || last && i == count {
			text.WriteString(",")
		}
	}
	m, l := map[string]any{}, []any{}
	for i := range count {
		if i > 0 {
			text.WriteString(",")
		}
		outer := s.comments
		s.comments = nil
		if lines {
			if i > 0 && s.chance(30) {
				own := s.word("remark") // belongs to the entry before: it stands in its last line
				s.entries[len(s.entries)-1].comments = append(s.entries[len(s.entries)-1].comments, own)
				outer = append(outer, own)
				text.WriteString("  # " + own)
			}
			text.WriteString(s.eol + indent + "  ")
		} else if i > 0 {
			text.WriteString(strings.Repeat(" ", rapid.IntRange(1, 2).Draw(s.t, "blanks")))
		}
		here := path + "/" + strconv.Itoa(i)
		if kind < 8 {
			key := s.key()
			here = path + finding.Pointer(key)
			text.WriteString(written(key) + ": ")
			inner, value, plain := s.inline(here, depth+1, indent+"  ")
			text.WriteString(inner)
			m[key] = value
			s.enter(here, value, plain, false, count)
		} else {
			inner, value, plain := s.inline(here, depth+1, indent+"  ")
			text.WriteString(inner)
			l = append(l, value)
			s.enter(here, value, plain, true, count)
		}
		s.comments = append(outer, s.comments...)
	}
	if last {
		separate(count)
	}
	if lines && s.chance(70) {
		text.WriteString(s.eol + indent)
	}
	if kind < 8 {
		return "{" + text.String() + "}", m, ""
	}
	return "[" + text.String() + "]", l, ""
}

func (s *sketch) enter(path string, value any, plain string, inList bool, siblings int) {
	s.entries = append(s.entries, entry{path, value, plain, slices.Clone(s.comments), inList, siblings})
}

// below writes what follows a key or dash in lines: a value in its line, or a map or list below.
func (s *sketch) below(path string, depth int, indent string) (string, any, string) {
	kind := rapid.IntRange(0, 9).Draw(s.t, "below")
	switch {
	case depth < 3 && kind < 3:
		inner := indent + strings.Repeat(" ", rapid.IntRange(1, 4).Draw(s.t, "indent"))
		head := s.trailing()
		text, value := s.pairs(path, depth+1, inner, true)
		return head + text, value, ""
	case depth < 3 && kind < 4:
		head := s.trailing()
		text, value := s.items(path, depth+1, indent+"  ")
		return head + text, value, ""
	case kind < 8:
		text, value, plain := s.inline(path, depth+1, indent)
		return " " + text + s.trailing(), value, plain
	}
	text, value, plain := s.scalar(path, true, indent)
	if strings.HasPrefix(text, "|") {
		return " " + text + s.eol, value, plain
	}
	return " " + text + s.trailing(), value, plain
}

func (s *sketch) pairs(path string, depth int, indent string, first bool) (string, any) {
	var text strings.Builder
	m := map[string]any{}
	count := rapid.IntRange(1, 4).Draw(s.t, "pairs")
	for i := range count {
		if i > 0 || first {
			text.WriteString(s.above(indent))
			text.WriteString(indent)
		}
		outer := s.comments
		s.comments = nil
		key := s.key()
		here := path + finding.Pointer(key)
		text.WriteString(written(key) + ":")
		inner, value, plain := s.below(here, depth, indent)
		text.WriteString(inner)
		m[key] = value
		s.enter(here, value, plain, false, count)
		s.comments = append(outer, s.comments...)
	}
	return text.String(), m
}

func (s *sketch) items(path string, depth int, indent string) (string, any) {
	var text strings.Builder
	var l []any
	count := rapid.IntRange(1, 3).Draw(s.t, "items")
	for i := range count {
		text.WriteString(s.above(indent) + indent + "-")
		outer := s.comments
		s.comments = nil
		here := path + "/" + strconv.Itoa(i)
		var inner, plain string
		var value any
		if depth < 3 && s.chance(40) {
			inner, value = s.pairs(here, depth+1, indent+"  ", false)
			inner = " " + inner
		} else {
			inner, value, plain = s.below(here, depth, indent)
		}
		text.WriteString(inner)
		l = append(l, value)
		s.enter(here, value, plain, true, count)
		s.comments = append(outer, s.comments...)
	}
	return text.String(), l
}

func draw(t *rapid.T) (string, any, []entry) {
	s := &sketch{t: t, eol: rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "eol")}
	text, value := s.pairs("", 0, "", true)
	if s.chance(20) {
		text = "\ufeff" + text
	}
	if s.chance(20) && !strings.Contains(text, "|") { // the last break is part of a text after a bar
		text = strings.TrimRight(text, "\r\n")
	}
	if got := decoded(t, text); !reflect.DeepEqual(got, value) {
		t.Fatalf("the sketch is wrong: %q means %v, not %v", text, got, value)
	}
	return text, value, s.entries
}

type fataler interface{ Fatalf(string, ...any) }

// decoded is what a general reader makes of a text.
func decoded(t fataler, text string) any {
	var value any
	if err := yaml.Unmarshal([]byte(strings.TrimPrefix(text, "\ufeff")), &value); err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return plainly(value)
}

// plainly turns keys of other kinds into text.
func plainly(value any) any {
	switch v := value.(type) {
	case map[any]any:
		m := map[string]any{}
		for key, item := range v {
			m[fmt.Sprint(key)] = plainly(item)
		}
		return m
	case map[string]any:
		for key, item := range v {
			v[key] = plainly(item)
		}
	case []any:
		for i, item := range v {
			v[i] = plainly(item)
		}
	}
	return value
}

// edited is the edit made in a tree of Go values, a nil value taking out. What is missing on the way is a map.
func edited(tree any, path []string, value any) any {
	if len(path) == 0 {
		return value
	}
	switch at := tree.(type) {
	case []any:
		return editedList(slices.Clone(at), path, value)
	case map[string]any:
		if _, there := at[path[0]]; !there && value == nil {
			return at
		}
		changed := maps.Clone(at)
		changed[path[0]] = edited(at[path[0]], path[1:], value)
		if changed[path[0]] == nil {
			delete(changed, path[0])
		}
		return changed
	}
	return map[string]any{path[0]: edited(nil, path[1:], value)}
}

func editedList(list []any, path []string, value any) any {
	i, err := strconv.Atoi(path[0])
	switch {
	case err != nil || i == len(list):
		return append(list, edited(nil, path[1:], value))
	case len(path) == 1 && value == nil:
		return slices.Delete(list, i, i+1)
	}
	list[i] = edited(list[i], path[1:], value)
	return list
}

func keysOf(pointer string) []string {
	keys := strings.Split(pointer[1:], "/")
	for i, key := range keys {
		keys[i] = strings.NewReplacer("~1", "/", "~0", "~").Replace(key)
	}
	return keys
}

func apply(t fataler, text, path string, value any) string {
	got, mistakes := document.Apply("g", []byte(text), []finding.Edit{{Path: path, Value: value}}, nil)
	if len(mistakes) > 0 {
		t.Fatalf("%v in\n%s", mistakes, text)
	}
	return string(got)
}

// checkMeaning compares an edited text with an edited tree.
func checkMeaning(t fataler, before, after string, was any, path string, value any) {
	if want := edited(was, keysOf(path), value); !reflect.DeepEqual(decoded(t, after), want) {
		t.Fatalf("%s = %v: from\n%s\ngot\n%s\nwant %v", path, value, before, after, want)
	}
}

func values() *rapid.Generator[any] {
	return rapid.OneOf(
		rapid.SampledFrom([]any{"new", "a, b", "a: b", "#c", "'", "}", "4.8 m", "two\nlines", "", "12", 12, 0.5, true}),
		rapid.StringMatching(`[ -~]{0,6}`).AsAny(),
		rapid.Just[any](map[string]any{"x": "1 m", "y y": []any{1, "b]"}}),
		rapid.Just[any]([]any{}), rapid.Just[any](map[string]any{}),
	)
}

func TestReplacingAPlainValueChangesNothingElse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, _, entries := draw(t)
		for _, e := range entries {
			if e.plain == "" {
				continue
			}
			if got, want := apply(t, text, e.path, "new"), strings.Replace(text, e.plain, "new", 1); got != want {
				t.Fatalf("%s: got\n%s\nwant\n%s", e.path, got, want)
			}
		}
	})
}

func TestAnEditMeansWhatItSaysAndCanBeUndone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, was, entries := draw(t)
		e := rapid.SampledFrom(entries).Draw(t, "entry")
		value := values().Draw(t, "value")
		after := apply(t, text, e.path, value)
		checkMeaning(t, text, after, was, e.path, value)
		if got := decoded(t, apply(t, after, e.path, e.value)); !reflect.DeepEqual(got, was) {
			t.Fatalf("%s: after undoing\n%s\ngot %v, want %v", e.path, after, got, was)
		}
	})
}

func TestAddingLeavesAllOtherLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, was, entries := draw(t)
		path, value := "", values().Draw(t, "value")
		if e := rapid.SampledFrom(entries).Draw(t, "entry"); reflect.ValueOf(e.value).Kind() == reflect.Map {
			path = e.path
		} else if _, list := e.value.([]any); list {
			path = e.path + "/-"
		}
		if !strings.HasSuffix(path, "/-") {
			path += "/new key"
		}
		after := apply(t, text, path, value)
		checkMeaning(t, text, after, was, path, value)
		if changed := gone(text, after); changed > 1 {
			t.Fatalf("%s: %d lines were changed in\n%s\nnow\n%s", path, changed, text, after)
		}
		if strings.HasSuffix(path, "/new key") {
			if back := apply(t, after, path, nil); decoded(t, back) == nil || !reflect.DeepEqual(decoded(t, back), was) {
				t.Fatalf("%s: after undoing\n%s", path, back)
			}
		}
	})
}

// gone is how many lines of a text are no longer there, in their order: all but the longest common subsequence.
func gone(before, after string) int {
	a, b := strings.FieldsFunc(before, lineBreak), strings.FieldsFunc(after, lineBreak)
	row := make([]int, len(b)+1)
	for _, line := range a {
		diagonal := 0
		for j, other := range b {
			above := row[j+1]
			if row[j+1] = max(above, row[j]); line == other {
				row[j+1] = diagonal + 1
			}
			diagonal = above
		}
	}
	return len(a) - row[len(b)]
}

func lineBreak(c rune) bool { return c == '\n' || c == '\r' }

func TestTakingOutLeavesTheWordsOfAllOthers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, was, entries := draw(t)
		e := rapid.SampledFrom(entries).Draw(t, "entry")
		after := apply(t, text, e.path, nil)
		checkMeaning(t, text, after, was, e.path, nil)
		for _, word := range strings.Fields(text) {
			if strings.HasPrefix(word, "remark") && strings.Contains(after, word) == slices.Contains(e.comments, word) {
				t.Fatalf("%s: %s is wrong in\n%s\nnow\n%s", e.path, word, text, after)
			}
		}
		if crlf := strings.Count(text, "\r\n"); crlf > 0 && strings.Count(after, "\r\n") != strings.Count(after, "\n") || crlf == 0 && strings.Contains(after, "\r") {
			t.Fatalf("line ends are mixed in %q", after)
		}
		if !e.inList {
			if back := decoded(t, apply(t, after, e.path, e.value)); !reflect.DeepEqual(back, was) {
				t.Fatalf("%s: after undoing\n%s\ngot %v", e.path, after, back)
			}
		}
	})
}

func TestEditsInOrderAreEditsOneByOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, was, entries := draw(t)
		one, all := text, []finding.Edit{}
		for range rapid.IntRange(1, 5).Draw(t, "edits") {
			e := rapid.SampledFrom(entries).Draw(t, "entry")
			edit := finding.Edit{Path: e.path, Value: values().Draw(t, "value")}
			next, mistakes := document.Apply("g", []byte(one), []finding.Edit{edit}, nil)
			if len(mistakes) > 0 {
				continue // below what an earlier edit replaced
			}
			one, all = string(next), append(all, edit)
			was = edited(was, keysOf(edit.Path), edit.Value)
		}
		got, mistakes := document.Apply("g", []byte(text), all, nil)
		if string(got) != one || len(mistakes) > 0 || !reflect.DeepEqual(decoded(t, one), was) {
			t.Fatalf("got\n%s\nwant\n%s\n%v", got, one, mistakes)
		}
	})
}

func FuzzApply(f *testing.F) {
	for _, c := range [][3]string{
		{"a: {b: 1, c: [2, {d: 3}]} # c\n", "/a/c/1/d", `"x"`}, {"a:\n- b: 1 # b\n  # c\n  c: 2\n", "/a/0/b", `null`}, {"? a\n: 1\n? [b]\n: 2\n", "/a", `{"x": [1, "y"]}`},
		{"a: &x {b: 1}\nc: *x\n<<: *x\n", "/c", `"z"`}, {"\ufeffa: |+\r\n  x\r\n\r\nb: >2-\r\n    y\r\n", "/a", `5`}, {"--- !!map {a: !!str 1, b: !<x,y> \"q\\\n  r\"}\n...\n", "/b", `true`},
		{"a: 'b\n\n  c''d'\ne: f\n g\n h # i\n", "/e", `"#"`}, {"a: [b: 1, c]\n", "/a/-", `[]`}, {"a:\u2028  b: 1\u0085c: 2", "/a/b", `null`}, {"\"a\":1\n", "/a", `{}`}, {"a: {\"b\":, c}", "/a/b", `1.5`},
	} {
		f.Add([]byte(c[0]), c[1], c[2])
	}
	f.Fuzz(func(t *testing.T, source []byte, path, literal string) {
		var value any
		if json.Unmarshal([]byte(literal), &value) != nil {
			return
		}
		before := string(source)
		if same, mistakes := document.Apply("g", source, nil, nil); len(mistakes) == 0 && string(same) != before {
			t.Errorf("no edit makes %q of %q", same, before)
		}
		after, mistakes := document.Apply("g", source, []finding.Edit{{Path: path, Value: value}}, nil)
		if (after == nil) != (len(mistakes) > 0) || string(source) != before {
			t.Fatalf("text %q and mistakes %v", after, mistakes)
		}
		for _, m := range mistakes {
			if m.Text == "" || m.Pos.File != "g" {
				t.Errorf("mistake %+v", m)
			}
		}
		if after == nil {
			return
		}
		again, mistakes := document.Apply("g", after, []finding.Edit{{Path: path, Value: value}}, nil)
		if !strings.Contains(path+"/", "/-/") && !(value == nil && strings.ContainsAny(path, "0123456789")) && string(again) != string(after) {
			t.Errorf("%s = %s: a second time\n%q\nbecomes\n%q %v", path, literal, after, again, mistakes)
		}
	})
}
