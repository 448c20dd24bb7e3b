package document_test

import (
	"testing"

	"farend/internal/document"
)

func TestLookShowsWhatStandsAtAPath(t *testing.T) {
	source := "a: {b: \"4 m\", c: [1, x]}  # comment\nd:\n  e/f: 'it''s'\n  g: &anchor {h: 2}\n  i: *anchor\n  j:\n"
	look := document.Look([]byte(source))
	for pointer, want := range map[string]string{
		"/a/b": "4 m", "/a/c": "[1, x]", "/a/c/1": "x", "/a": `{b: 4 m, c: [1, x]}`, "/d/e~1f": "it's", "/d/i": "{h: 2}", "/d/i/h": "2", "/d/j": "",
	} {
		if got, ok := look(pointer); got != want || !ok {
			t.Errorf("%s: %q, %v", pointer, got, ok)
		}
	}
	for _, pointer := range []string{"a", "/b", "/a/b/c", "/a/c/2", "/a/c/-", "/a/~2"} {
		if got, ok := look(pointer); ok {
			t.Errorf("%s: %q", pointer, got)
		}
	}
	for _, source := range []string{"", "a: [", "a: &x [*x]\n"} {
		if got, ok := document.Look([]byte(source))("/a"); ok {
			t.Errorf("%q has %q", source, got)
		}
	}
}

func TestShownIsAValueAsPeopleReadIt(t *testing.T) {
	for _, c := range []struct {
		value any
		want  string
	}{{"4 m", "4 m"}, {true, "true"}, {2, "2"}, {map[string]any{"at": "px50", "pole": "plus"}, "{at: px50, pole: plus}"}, {nil, ""}, {func() {}, ""}} {
		if got := document.Shown(c.value); got != c.want {
			t.Errorf("%v is shown as %q, want %q", c.value, got, c.want)
		}
	}
}
