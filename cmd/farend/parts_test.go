package main

import (
	"slices"
	"strings"
	"testing"

	"farend/parts"
)

// What is found and what stands side by side keep to the page, whatever is asked for.
func TestPartsFoundAndBesideFitThePage(t *testing.T) {
	library := parts.Catalogue()
	for _, kind := range parts.Kinds() {
		for some := range slices.Chunk(library.Names(kind), 12) {
			out, errs, code := call(append([]string{"parts"}, some...)...)
			if fitting(t, out); code != exitFine || errs != "" {
				t.Errorf("%v: exit %d: %s", some, code, errs)
			}
		}
	}
	for _, words := range []string{"5 V", "12 mA", "from 1 A", "tape", "supply >10A"} {
		out, errs, code := call(append([]string{"parts"}, strings.Fields(words)...)...)
		if fitting(t, out); code != exitFine || errs != "" {
			t.Errorf("%s: exit %d: %s", words, code, errs)
		}
	}
}

// Side by side, every part has each of its numbers in its own column, and a mark stands where, and only where, they differ.
func TestPartsSideBySideAreWhatEachStates(t *testing.T) {
	library := parts.Catalogue()
	names := []string{"fuse/blade-5A", "fuse/blade-10A"}
	out, _, _ := call(append([]string{"parts"}, names...)...)
	first, _ := library.Find(names[0])
	second, _ := library.Find(names[1])
	others := map[string]parts.Fact{}
	for _, f := range parts.Facts(second) {
		others[f.Key] = f
	}
	for _, f := range parts.Facts(first) {
		g := others[f.Key]
		mark := "  "
		if f.Text != g.Text || f.Basis != g.Basis {
			mark = unequal
		}
		line := ""
		for row := range strings.Lines(out) {
			if strings.HasPrefix(row, mark+f.Key+" ") {
				line = row
			}
		}
		if i, j := strings.Index(line, " "+f.Text+" "), strings.LastIndex(line, " "+g.Text); i < 0 || j <= i {
			t.Errorf("%s is %s and %s, and the row is %q", f.Key, f.Text, g.Text, line)
		}
	}
}

// A key that only one of two parts states differs, and stands where that part has it.
func TestPartsOfTwoKindsStandSideBySide(t *testing.T) {
	out, _, code := call("parts", "fuse/blade-5A", "cable/flex-2x1.5")
	if code != exitFine || !strings.Contains(out, "≠ r20") || !strings.Contains(out, "≠ rating") || strings.Contains(out, "\n  rating") {
		t.Errorf("exit %d:\n%s", code, out)
	}
}

func TestNumberedEntriesFoldWhereTheyAreAlike(t *testing.T) {
	fact := func(key, text string) parts.Fact { return parts.Fact{Key: key, Text: text} }
	for _, c := range []struct{ given, want []parts.Fact }{
		{nil, nil},
		{[]parts.Fact{fact("volts", "5")}, []parts.Fact{fact("volts", "5")}},
		{[]parts.Fact{fact("w.1.a", "x")}, []parts.Fact{fact("w.1.a", "x")}},
		{[]parts.Fact{fact("w.1.a", "x"), fact("w.2.a", "x"), fact("w.3.a", "y")}, []parts.Fact{fact("w.1–2.a", "x"), fact("w.3.a", "y")}},
		{[]parts.Fact{fact("w.1.a", "x"), fact("w.1.b", "z"), fact("w.2.a", "x")}, []parts.Fact{fact("w.1.a", "x"), fact("w.1.b", "z"), fact("w.2.a", "x")}},
		{[]parts.Fact{fact("w.1.a", "x"), fact("p.P1.a", "x"), fact("p.P2.a", "x"), fact("z", "1")}, []parts.Fact{fact("w.1.a", "x"), fact("p.P1–P2.a", "x"), fact("z", "1")}},
		{[]parts.Fact{fact("w.1.a", "x"), fact("w.1.b", "y"), fact("w.2.a", "x"), fact("w.2.b", "y"), fact("w.3.a", "x"), fact("w.3.b", "y")}, []parts.Fact{fact("w.1–3.a", "x"), fact("w.1–3.b", "y")}},
	} {
		if got := folded(c.given); !slices.Equal(got, c.want) {
			t.Errorf("%v folds to %v, want %v", c.given, got, c.want)
		}
	}
}

func TestLongNamesBreakAfterTheirDashes(t *testing.T) {
	for name, want := range map[string]string{
		"fuse/blade-5A":                       "fuse/blade-5A",
		"connector/holder-inline-blade-heavy": "connector/holder-|inline-blade-heavy",
		"board/averyveryverylongname":         "board/|averyveryverylongname",
	} {
		if got := strings.Join(broken(name, 18), "|"); got != want {
			t.Errorf("%s breaks to %s, want %s", name, got, want)
		}
	}
}

func TestWordsAreQuotedForTheShell(t *testing.T) {
	if got := quoted([]string{"fuse", ">=5A", "5 V", "it's"}); got != `fuse '>=5A' '5 V' 'it'\''s'` {
		t.Error(got)
	}
}

// Whatever is typed gets an answer of some short lines that command no terminal.
func TestOddWordsGetAnAnswer(t *testing.T) {
	for _, word := range []string{"", " ", "/", "fuse/", ">", "from", "from from 5 A", "∞ A", "%s%d", "'", "a\tb\x1b[31m", strings.Repeat("x", 3000), "5 V 5 V", "0 A", "1e400 V", "\xff\xfe", "fuse 5,5 A", "fuse -5 A", "\u202eV 5"} {
		out, errs, code := call("parts", "--", word)
		if code != exitFine && code != exitUsage {
			t.Errorf("%q: exit code %d", word, code)
		}
		fitting(t, out)
		for line := range strings.Lines(errs) {
			if line = strings.TrimRight(line, "\n"); width(line) > 140 || printable(line) != line {
				t.Errorf("%q: it says %q", word, line)
			}
		}
	}
}
