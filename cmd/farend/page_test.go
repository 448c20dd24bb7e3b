package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"farend/parts"
)

// installation writes a scheme of many runs, each fed from a way of its own where there are ways left. label names run i.
func installation(runs, pixels int, label func(i int) string) string {
	var b strings.Builder
	const waysPerBoard = 8
	boards := (runs + waysPerBoard - 1) / waysPerBoard
	section := func(name string, n int, line func(i int) string) {
		fmt.Fprintf(&b, "%s:\n", name)
		for i := range n {
			fmt.Fprintf(&b, "  %s\n", line(i))
		}
	}
	b.WriteString("farend: 1\ntitle: A hall (invented)\n")
	section("supplies", boards, func(i int) string { return fmt.Sprintf("T%d: {part: supply/5v-300w}", i+1) })
	section("boards", boards, func(i int) string { return fmt.Sprintf("A%d: {part: board/plain-eight-way}", i+1) })
	section("runs", runs, func(i int) string {
		return fmt.Sprintf("E%d: {tape: tape/5v-rgb-60, pixels: %d, label: %q}", i+1, pixels, label(i))
	})
	section("cables", boards+runs, func(i int) string {
		if i < boards {
			return fmt.Sprintf("W%d: {part: cable/flex-2x6, length: 1 m, from: T%d, to: A%d.in, fuse: fuse/inline-30A}", i+1, i+1, i+1)
		}
		i -= boards
		return fmt.Sprintf("W%d: {part: cable/flex-2x2.5, length: 2 m, from: A%d.%d, to: E%d@start}", boards+i+1, i/waysPerBoard+1, i%waysPerBoard+1, i+1)
	})
	section("fuses", runs, func(i int) string { return fmt.Sprintf("A%d.%d: fuse/blade-7.5A", i/waysPerBoard+1, i%waysPerBoard+1) })
	section("states", 2, func(i int) string {
		return []string{"full: {level: 100 %, colour: white}", "a-long-name-for-a-state-of-light-late-in-the-evening: {level: 40 %, colour: \"#ffb060\"}"}[i]
	})
	return b.String()
}

// own is a part of the user's own whose texts would colour a terminal, ring its bell and turn the direction of writing.
const own = `parts:
  tape/mine:
    title: "\x1b[31mred\a \u202egnorts\u200b end"
    volts: 5 V
    volts_min: {is: 4.9 V, basis: measured, source: "\x1b[31mred\a\r\n\u202egnorts\u200b end"}
    pixels: 60 /m
    cut_every: 1
    protocol: protocol/single-wire-800k-24
    idle: {set: 0.6 mA, lo: 1.0 V, hi: 2.0 V, soft: 0.1 V}
    rail: 100 mΩ/m
    channels:
      red: {set: 12 mA, lo: 1.79 V, hi: 2.43 V, soft: 0.11 V, candela: 0.4 cd, x: 0.70, y: 0.30}
`

// nasty are schemes whose text is hard to fit on a page.
func nasty() map[string]string {
	long := strings.Repeat("a very long label of the handrail on the west side ", 4)
	identifier := "Handrail-west-side-second-span-from-the-lock-house-up-to-the-weir"
	small := installation(2, 60, func(int) string { return "rail" })
	return map[string]string{
		"forty runs":                installation(40, 72, func(i int) string { return fmt.Sprintf("rail %d", i+1) }),
		"long labels":               installation(3, 60, func(int) string { return long }),
		"labels without a space":    installation(3, 60, func(int) string { return strings.Repeat("handrail", 40) }),
		"labels of wide characters": installation(3, 60, func(int) string { return strings.Repeat("歩道橋の手すり", 9) }),
		"a part that commands":      strings.NewReplacer("tape/5v-rgb-60", "tape/mine", "white", "all", `"#ffb060"`, "all").Replace(small) + own,
		"long identifiers":          strings.ReplaceAll(small, "E1", identifier),
		"a long title":              strings.Replace(small, "A hall (invented)", strings.Repeat("歩道橋 handrail ", 30), 1),
		"long names of everything":  strings.NewReplacer("W1", "W-"+identifier, "A1", "A-"+identifier, "E2", "E-"+identifier, "T1", "T-"+identifier).Replace(small),
		"many pixels":               installation(1, 20000, func(int) string { return "far" }),
		"one pixel":                 installation(1, 1, func(int) string { return "dot" }),
		"a long cable":              strings.ReplaceAll(installation(2, 300, func(int) string { return "far" }), "length: 2 m", "length: 9999 m"),
		"nothing":                   "farend: 1\n",
		"a run alone":               "farend: 1\nruns:\n  E1: {tape: tape/5v-rgb-60, length: 1 m}\n",
		"no supply":                 unfed,
	}
}

// fitting wants lines of at most 100 columns, and nothing that could command a terminal.
func fitting(t *testing.T, out string) {
	t.Helper()
	for i, line := range strings.Split(out, "\n") {
		if width(line) > columns {
			t.Errorf("line %d has %d columns:\n%s", i+1, width(line), line)
		}
		if printable(line) != line {
			t.Errorf("line %d holds what no page should: %q", i+1, line)
		}
	}
}

func TestTextFitsThePage(t *testing.T) {
	for name, text := range nasty() {
		t.Run(name, func(t *testing.T) {
			out, errs, code := call("check", file(t, text))
			if code != exitFine && code != exitFindings || errs != "" {
				t.Fatalf("exit code %d: %s", code, errs)
			}
			fitting(t, out)
		})
	}
	for _, out := range examplePages(t) {
		fitting(t, out)
	}
}

// checkedExamples are the pages of all examples by path, made once.
var checkedExamples = sync.OnceValue(func() map[string]string {
	made := map[string]string{}
	examples, _ := filepath.Glob("../../examples/*.scheme.yaml")
	for _, path := range examples {
		made[path], _, _ = call("check", path)
	}
	return made
})

func examplePages(t *testing.T) map[string]string {
	t.Helper()
	made := checkedExamples()
	if len(made) < 3 {
		t.Fatalf("%d examples were found", len(made))
	}
	return made
}

func TestTextOfTheCatalogueFitsThePage(t *testing.T) {
	out, _, _ := call("parts")
	fitting(t, out)
	for _, name := range parts.Catalogue().Names("") {
		out, _, _ := call("parts", name)
		fitting(t, out)
		if strings.Contains(out, "…") {
			t.Errorf("%s is not told in full", name)
		}
	}
}

func TestLongTextIsCutInItsMiddle(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want string
	}{
		{"A1.1", 4, "A1.1"}, {"A-Handrail-west.12", 12, "A-Handr…t.12"}, {"手すり手すり", 7, "手す…り"}, {"abc", 1, "…"}, {"abcd", 2, "a…"}, {"abcd", 3, "a…d"},
	} {
		if got := clip(c.text, c.most); got != c.want || width(got) > c.most {
			t.Errorf("%q in %d columns is %q, want %q", c.text, c.most, got, c.want)
		}
	}
}

// TestTablesAlign holds every row to its heading: the columns of numbers end where their headings end.
func TestTablesAlign(t *testing.T) {
	var out strings.Builder
	table := (&page{out: &out, plain: true}).table("Runs", "", "label", "A", "lowest V", "case")
	table.row("E1", "手すり", "8.46", "4.05", "peak/full")
	table.row("E10", "w", "18.46", "14.05", "state/full")
	table.print()
	want := `Runs
     label       A  lowest V  case
────────────────────────────────────────
E1   手すり   8.46      4.05  peak/full
E10  w       18.46     14.05  state/full

`
	if out.String() != want {
		t.Errorf("got\n%swant\n%s", out.String(), want)
	}
}

func TestWrappingKeepsEveryWord(t *testing.T) {
	for _, c := range []struct {
		text string
		most int
		want []string
	}{
		{"one two three", 7, []string{"one two", "three"}},
		{"one  two\nthree", 20, []string{"one two three"}},
		{"", 5, []string{""}},
		{"abcdefghij", 4, []string{"abcd", "efgh", "ij"}},
		{"a bcdefghij k", 4, []string{"a", "bcde", "fghi", "j k"}},
		{"手すり", 4, []string{"手す", "り"}},
		{"手", 1, []string{"手"}},
	} {
		if got := wrapped(c.text, c.most); strings.Join(got, "|") != strings.Join(c.want, "|") {
			t.Errorf("%q in %d columns: %q, want %q", c.text, c.most, got, c.want)
		}
	}
}

func TestColourStandsOnlyWhereItIsWanted(t *testing.T) {
	var plain, coloured strings.Builder
	for _, s := range []streams{{out: &plain, err: &plain}, {out: &coloured, err: &coloured, colour: true}} {
		if code := run(t.Context(), []string{"check", "../../examples/footbridge-two-feeds.scheme.yaml"}, s); code != exitFindings {
			t.Fatalf("exit code %d", code)
		}
	}
	if strings.Contains(plain.String(), "\x1b") {
		t.Error("a plain page has colour")
	}
	stripped := coloured.String()
	for _, codes := range []string{"0", "1", "2", "7", "33", "1;97;41", "1;97;43"} {
		stripped = strings.ReplaceAll(stripped, "\x1b["+codes+"m", "")
	}
	if stripped == coloured.String() || stripped != plain.String() {
		t.Error("without its colours the page is not the plain one")
	}
}

// TestTheChartShowsWhereTheVoltageIsLow draws a run that falls and one that does not.
func TestTheChartShowsWhereTheVoltageIsLow(t *testing.T) {
	if got := sparks([]float64{8, 7, 6, 5, 4, 3, 2, 1}, 1, 8); got != "█▇▆▅▄▃▂▁" {
		t.Errorf("a fall is drawn %s", got)
	}
	if got := sparks([]float64{5, 5, 5}, 5, 5); got != "███" {
		t.Errorf("no fall is drawn %s", got)
	}
	many := make([]float64, 10*chartWidth)
	for i := range many {
		many[i] = 5
	}
	many[255] = 3 // one low pixel must not vanish between its neighbours
	if got := []rune(sparks(many, 3, 5)); len(got) != chartWidth || got[25] != '▁' || got[24] != '█' {
		t.Errorf("one low pixel is drawn %s", string(got))
	}
	if got := feedMarks([]int{0, 144, 288}, 288); got != "▲"+strings.Repeat(" ", 27)+"▲"+strings.Repeat(" ", 26)+"▲" {
		t.Errorf("feeds at start, middle and end are drawn %q", got)
	}
}
