package finding_test

import (
	"fmt"
	"strings"
	"testing"

	"farend/finding"
)

func at(line, column int) finding.Mistake {
	return finding.Mistake{Pos: finding.Pos{File: "s", Line: line, Column: column}, Text: "wrong", Hint: "write right"}
}

func TestCaretStandsUnderItsCharacter(t *testing.T) {
	for _, c := range []struct {
		name         string
		source       string
		line, column int
		shown, caret string
	}{
		{"in the first column", "abc", 1, 1, "abc", "^"},
		{"within the last line", "one\ntwo", 2, 3, "two", "  ^"},
		{"behind the end of a line", "one\ntwo", 1, 4, "one", "   ^"},
		{"far behind the end", "one\ntwo", 1, 40, "one", "   ^"},
		{"where the column is unknown", "one", 1, 0, "one", "^"},
		{"after tabs, which become blanks", "\t\tx: 1", 1, 3, "  x: 1", "  ^"},
		{"with CR LF", "one\r\ntwo\r\nthree", 2, 1, "two", "^"},
		{"with CR alone", "one\rtwo\rthree", 3, 1, "three", "^"},
		{"with the line breaks of Unicode", "one\u0085two\u2028three\u2029four", 4, 2, "four", " ^"},
		{"on an empty line", "one\n\nthree", 2, 1, "", "^"},
		{"after a byte-order mark", "\ufeffone", 1, 2, "one", " ^"},
		{"after letters of two bytes", "2,5 mm² über", 1, 9, "2,5 mm² über", "        ^"},
		{"after letters of two columns", "灯具: x", 1, 5, "灯具: x", "      ^"},
		{"after a mark that takes no column", "a\u0301b: x", 1, 3, "a\u0301b: x", " ^"},
		{"after a command to the terminal", "a\x1b[31m\u009b2Jb", 1, 10, "a [31m 2Jb", "         ^"},
		{"after a change of direction", "a\u202eb", 1, 3, "a b", "  ^"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := at(c.line, c.column).Explain([]byte(c.source))
			if want := strings.Join([]string{fmt.Sprintf("s:%d:%d: wrong", c.line, c.column), "  " + c.shown, "  " + c.caret, "hint: write right", ""}, "\n"); got != want {
				t.Errorf("it says\n%s\nwant\n%s", got, want)
			}
		})
	}
}

func TestLongLinesAreCutAroundTheCaret(t *testing.T) {
	long := strings.Repeat("0123456789", 100)
	for _, column := range []int{1, 50, 87, 88, 500, 999, 1000, 1001} {
		lines := strings.Split(at(1, column).Explain([]byte(long)), "\n")
		caret := strings.Index(lines[2], "^")
		if len(lines[1]) > 98 || len(lines[2]) > 98 {
			t.Errorf("column %d: the line is %d wide", column, len(lines[1]))
		}
		under := ""
		if caret < len(lines[1]) {
			under = lines[1][caret : caret+1]
		}
		if want := long + " "; column <= 1000 && under != want[column-1:column] || column > 1000 && under != "" {
			t.Errorf("column %d: the caret stands under %q", column, under)
		}
	}
}

func TestExplainLeavesOutWhatItHasNot(t *testing.T) {
	for _, c := range []struct {
		name, source, want string
		mistake            finding.Mistake
	}{
		{"a byte of no character shows as a mark", "one\xfftwo", "s:1:4: wrong\n  one\ufffdtwo\n     ^\nhint: write right\n", at(1, 4)},
		{"a line that is not there shows none", "one", "s:9:1: wrong\nhint: write right\n", at(9, 1)},
		{"a mistake of the whole file has no line", "one", "s: wrong\n", finding.Mistake{Pos: finding.Pos{File: "s"}, Text: "wrong"}},
		{"no hint, no hint line", "one", "s:1:1: wrong\n  one\n  ^\n", finding.Mistake{Pos: finding.Pos{File: "s", Line: 1, Column: 1}, Text: "wrong"}},
		{"an empty file still has a first line", "", "s:1:1: wrong\n  \n  ^\n", finding.Mistake{Pos: finding.Pos{File: "s", Line: 1, Column: 1}, Text: "wrong"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.mistake.Explain([]byte(c.source)); got != c.want {
				t.Errorf("it says %q, want %q", got, c.want)
			}
		})
	}
}

func TestLongHintsAreBroken(t *testing.T) {
	m := at(1, 1)
	m.Hint = "there are " + strings.Repeat("fuse/blade-7.5A, ", 11) + "and " + strings.Repeat("x", 120)
	lines := strings.Split(strings.TrimSuffix(m.Explain([]byte("abc")), "\n"), "\n")[3:]
	for i, line := range lines {
		if len(line) > 100 && !strings.HasSuffix(line, "xxx") || i > 0 && !strings.HasPrefix(line, "      ") {
			t.Errorf("line %d of the hint reads %q", i+1, line)
		}
		lines[i] = strings.TrimSpace(line)
	}
	if len(lines) != 4 || strings.Join(lines, " ") != "hint: "+m.Hint {
		t.Errorf("the hint reads %q", lines)
	}
}

func TestPlacesAreCountedAsTheYAMLReaderCounts(t *testing.T) {
	for _, c := range []struct {
		name, before string
		line, column int
	}{
		{"the first byte", "", 1, 1},
		{"within a line", "ab", 1, 3},
		{"the first of the next line", "ab\n", 2, 1},
		{"after CR LF", "ab\r\nc", 2, 2},
		{"after CR alone", "ab\rc\rd", 3, 2},
		{"after LF CR, which is two", "ab\n\rc", 3, 2},
		{"after the breaks of Unicode", "a\u0085b\u2028c\u2029d", 4, 2},
		{"after a byte-order mark, which is no character of the line", "\ufeffa", 1, 2},
		{"after letters of two bytes", "é\né", 2, 2},
		{"after bytes of no character", "\xff\xfe", 1, 3},
		{"between CR and LF", "a\r", 2, 1},
	} {
		want := finding.Pos{File: "s", Line: c.line, Column: c.column}
		if got := finding.Locate("s", []byte(c.before+"x"), len(c.before)); got != want {
			t.Errorf("%s: %v, want %v", c.name, got, want)
		}
	}
}

func TestManyMistakesAreExplainedInOneGo(t *testing.T) {
	source := []byte(strings.Repeat("one\ntwo\r\nthree\r", 3))
	var list finding.Mistakes
	for _, line := range []int{1, 1, 2, 5, 9, 9, 3, 10, 11, 0, 6} { // in any order, and off the end
		list = append(list, at(line, 2))
	}
	var want strings.Builder
	for _, one := range list {
		want.WriteString(one.Explain(source))
	}
	if got := list.Explain(source); got != want.String() || !strings.Contains(got, "s:9:2: wrong\n  three\n   ^\n") {
		t.Errorf("together they read\n%s\none by one\n%s", got, want.String())
	}
}

func TestMistakesAreInTheOrderOfTheFileAndOnce(t *testing.T) {
	a, b, c := at(2, 1), at(2, 1), at(10, 1)
	b.Text = "worse"
	got := finding.Mistakes{c, b, a, b}.Sort()
	if want := "s:2:1: worse\ns:2:1: wrong\ns:10:1: wrong"; got.Error() != want {
		t.Errorf("they read\n%s\nwant\n%s", got.Error(), want)
	}
}

func TestDidYouMean(t *testing.T) {
	words := []string{"length", "from", "to", "fuse", "fuse_at", "part", "µF"}
	for _, c := range []struct{ word, want, why string }{
		{"lenght", "length", "neighbours swapped"},
		{"lengt", "length", "a letter left out"},
		{"lengthh", "length", "a letter too many"},
		{"langth", "length", "a wrong letter"},
		{"Length", "length", "a capital"},
		{"langht", "length", "two slips"},
		{"langhtt", "", "three slips"},
		{"fuse", "fuse", "the word itself, though another is near"},
		{"fuse_a", "fuse_at", "one slip before two"},
		{"form", "from", "neighbours swapped"},
		{"ot", "", "half of a short word is wrong"},
		{"x", "", "nothing in common"},
		{"", "", "nothing"},
		{"pqrt", "part", "one of four"},
		{"pqst", "", "two of four is half"},
		{"µf", "µF", "letters of two bytes count once"},
		{"uF", "", "one of two letters is half, however many bytes the other has"},
		{"cable/flex-2x1.5mm", "", "far longer"},
	} {
		if got := finding.DidYouMean(c.word, words); got != c.want {
			t.Errorf("%q: did you mean %q, want %q (%s)", c.word, got, c.want, c.why)
		}
	}
	for word, want := range map[string]string{"cable/flex-2x15": "cable/flex-2x1.5", "fuse/blade-75A": "fuse/blade-7.5A", "fuse/inline-30": "fuse/inline-30A"} {
		if got := finding.DidYouMean(word, []string{"fuse/inline-3A", "fuse/inline-30A", "cable/flex-2x1", "fuse/blade-5A", "cable/flex-2x1.5", "cable/flex-2x10", "fuse/blade-7.5A", "fuse/blade-15A"}); got != want {
			t.Errorf("%q: did you mean %q, want %q", word, got, want)
		}
	}
	if got := finding.DidYouMean("word", nil); got != "" {
		t.Errorf("without candidates it means %q", got)
	}
}

func TestWordsLongerThanALineAreCut(t *testing.T) {
	long := strings.Repeat("ä", 99)
	said := finding.Mistake{Pos: finding.Pos{File: "f"}, Text: "there is no " + long + " and no " + long + "äb"}.Error()
	if want := "f: there is no " + long + " and no " + strings.Repeat("ä", 60) + "…"; said != want {
		t.Errorf("got %q, want %q", said, want)
	}
}
