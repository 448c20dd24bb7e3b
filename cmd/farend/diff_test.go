package main

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestChangedLinesAreTheFewest(t *testing.T) {
	for _, c := range []struct{ before, after, want string }{
		{"", "", ""},
		{"a\n", "a\n", ""},
		{"a\nb\nc\n", "a\nB\nc\n", "2-b 2+B"},
		{"a\nb\nc\n", "a\nb\nx\nc\n", "3+x"},
		{"a\nb\nc\n", "b\nc", "1-a"},
		{"", "a\nb", "1+a 2+b"},
		{"a\r\nb\r\n", "a\r\nc\r\n", "2-b 2+c"},
		{"a\nb\nc\na\nb\nb\na", "c\nb\na\nb\na\nc", "1-a 2-b 2+b 6-b 6+c"}, // the example of Myers: five changes
	} {
		var got []string
		for _, l := range changedLines([]byte(c.before), []byte(c.after)) {
			got = append(got, fmt.Sprintf("%d%s%s", l.number, map[bool]string{true: "-", false: "+"}[l.old], l.text))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%q to %q: %v, want %s", c.before, c.after, got, c.want)
		}
	}
}

// Taking the old lines out and putting the new ones in makes one text of the other.
func TestChangedLinesMakeOneTextOfTheOther(t *testing.T) {
	text := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b", "c", ""}), 0, 12)
	rapid.Check(t, func(r *rapid.T) {
		before, after := text.Draw(r, "before"), text.Draw(r, "after")
		gone, come := map[int]bool{}, map[int]string{}
		for _, l := range changedLines([]byte(strings.Join(before, "\n")+"\n"), []byte(strings.Join(after, "\n")+"\n")) {
			if l.old {
				gone[l.number] = true
			} else {
				come[l.number] = l.text
			}
		}
		var kept, made []string
		for i, line := range strings.Split(strings.Join(before, "\n"), "\n") {
			if !gone[i+1] {
				kept = append(kept, line)
			}
		}
		for n := 1; len(kept) > 0 || len(come) > 0; n++ {
			if line, is := come[n]; is {
				made = append(made, line)
				delete(come, n)
				continue
			}
			if len(kept) == 0 {
				r.Fatalf("line %d is missing", n)
			}
			made, kept = append(made, kept[0]), kept[1:]
		}
		if strings.Join(made, "\n") != strings.Join(after, "\n") {
			r.Fatalf("made %q", made)
		}
	})
}
