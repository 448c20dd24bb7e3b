package scheme_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"farend/finding"
	"farend/scheme"
)

// A mistakeCase changes the footbridge in one place, or is a file of its own where old is empty.
type mistakeCase struct {
	name     string
	old, new string
	want     string // "line:col: text | hint" for each mistake, one a line
}

// catalogued is a hint that lists parts; which there are is the catalogue's business.
var catalogued = regexp.MustCompile(`there are \w+/.*`)

func told(mistakes finding.Mistakes) string {
	var lines []string
	for _, m := range mistakes {
		lines = append(lines, fmt.Sprintf("%d:%d: %s | %s", m.Pos.Line, m.Pos.Column, m.Text, catalogued.ReplaceAllString(m.Hint, "there are …")))
	}
	return strings.Join(lines, "\n")
}

func runCases(t *testing.T, cases []mistakeCase) {
	t.Helper()
	original, catalogue := footbridge(t), library(t)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			source := c.new
			if c.old != "" {
				if !strings.Contains(original, c.old) {
					t.Fatalf("the footbridge has no %q", c.old)
				}
				source = strings.Replace(original, c.old, c.new, 1)
			}
			s, mistakes := scheme.Read("a.scheme.yaml", []byte(source), catalogue)
			if (s == nil) != (len(mistakes) > 0) {
				t.Errorf("scheme %v with %d mistakes", s, len(mistakes))
			}
			if got := told(mistakes); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestFilesThatAreNoSchemes(t *testing.T) {
	runCases(t, []mistakeCase{
		{"an empty file", "",
			"",
			`1:1: the file is empty | begin with the line "farend: 1"`},
		{"only comments", "",
			`# nothing
`,
			`1:1: the file is empty | begin with the line "farend: 1"`},
		{"only nothing", "",
			`~
`,
			`1:1: the file is empty | begin with the line "farend: 1"`},
		{"a list", "",
			`- farend: 1
`,
			`1:1: a scheme is a map of keys, not a list | begin with the line "farend: 1"`},
		{"one word", "",
			`farend
`,
			`1:1: a scheme is a map of keys, not "farend" | begin with the line "farend: 1"`},
		{"a zero byte", "",
			"farend: 1\n\x00\n",
			"2:1: the file is not text: it holds a zero byte | save the scheme as UTF-8 text"},
		{"not UTF-8", "",
			"farend: 1\ntitle: \xff\n",
			"2:8: the file is not UTF-8 text | save it again as UTF-8; if it is Latin-1 or Windows-1252, this is ÿ"},
		{"a tab as indent", "",
			"farend: 1\nsite:\n\tambient: 3 °C\n",
			"3:1: a tab stands where YAML wants spaces | indent with spaces, not tabs"},
		{"an open bracket", "",
			`farend: 1
runs: {E1: {tape: x
`,
			"2:12: the brace opened in line 2 is not closed, or a comma is missing | close it with }, and put commas between its entries"},
		{"two documents", "",
			`farend: 1
---
farend: 1
`,
			`2:1: a second document begins here | keep one scheme in one file; remove the line "---"`},
		{"no form", "",
			`title: Lane
`,
			`1:1: the file lacks the key "farend" | write for example farend: 1`},
		{"a newer form hides the rest", "",
			`farend: 2
lamps: {}
`,
			"1:9: this file is of form 2; this Farend reads form 1 | use a newer Farend"},
		{"an older form", "",
			`farend: 0
`,
			"1:9: there is no form 0 of this file; this Farend reads form 1 | write farend: 1"},
		{"a form in words", "",
			`farend: one
`,
			`1:9: "farend" needs a whole number, not "one" | write for example 1`},
		{"an anchor that holds itself", "",
			`farend: 1
runs: &a {E1: *a}
`,
			`2:7: "E1" lacks the key "tape" | write for example tape: tape/5v-rgb-60
2:11: "E1" is not a key here | write one of cuts, ip, joints, label, length, pixels, reel, tape`},
	})
}

func TestKeysAndUnits(t *testing.T) {
	runCases(t, []mistakeCase{
		{"a unit is missing", "length: 1.5 m, from: A1.1",
			"length: 1.5, from: A1.1",
			`25:40: "1.5" has no unit | write 1.5 m`},
		{"a unit of something else", "length: 1.5 m, from: A1.1",
			"length: 1.5 A, from: A1.1",
			`25:40: "A" is not a unit of length | write 1.5 m`},
		{"a decimal comma", "length: 1.5 m, from: A1.1",
			`length: "1,5 m", from: A1.1`,
			`25:40: "1,5 m" has a decimal comma | write 1.5 m`},
		{"a key is misspelt", "frame_rate:",
			"framerate:",
			`12:3: "framerate" is not a key here | did you mean frame_rate?`},
		{"a section is misspelt and its names are not called missing", `boards:
`,
			`borads:
`,
			`18:1: "borads" is not a key here | did you mean boards?`},
		{"an unknown section hides no other mistake", "title: Weir Lane footbridge",
			"lamps: {L1: x}",
			`2:1: "lamps" is not a key here | write one of aims, boards, cables, capacitors, contactors, data, drawing, duty, enclosures, farend, fuses, junctions, parts, revisions, runs, site, states, supplies, title`},
		{"a key stands twice", "tape: tape/5v-rgb-60, length: 4.8 m",
			"tape: tape/5v-rgb-60, length: 4.8 m, length: 4.8 m",
			`21:45: "length" stands twice; it was first given in line 21 | remove one of the two`},
		{"a run stands twice", "E2: {tape",
			"E1: {tape",
			`22:3: "E1" stands twice; it was first given in line 21 | remove one of the two`},
		{"a merge key", "E2: {tape: tape/5v-rgb-60",
			"E2: {<<: {}, tape: tape/5v-rgb-60",
			"22:8: merge keys are not used in schemes | write the values out"},
		{"not a number", "colour_shift: 0.004",
			"colour_shift: .nan",
			`15:17: "colour_shift" needs a plain number, not ".nan" | write for example 0.004`},
		{"a word that is none of the list", "exposure: outdoors",
			"exposure: outdoor",
			`6:13: "exposure" cannot be "outdoor" | did you mean outdoors?`},
		{"no degree of protection", "length: 4.8 m, label: west handrail",
			"length: 4.8 m, ip: IP67",
			`21:49: "IP67" is no degree of protection | write its two digits, such as 65 for IP65: the first 0 to 6, the second 0 to 9 (IEC 60529)`},
		{"text where a list belongs", "length: 4.8 m, label: west handrail",
			"length: 4.8 m, joints: 2 m",
			`21:53: "joints" needs a list, not "2 m" | write it in square brackets, for example [2.5 m]`},
		{"a map where text belongs", "title: Weir Lane footbridge",
			"title: {en: x}",
			`2:8: "title" needs one text, not a map of keys | write for example Weir Lane footbridge`},
		{"a part is missing", "A1: {part: board/six-way-three-port}",
			"A1: {}",
			`19:7: "A1" lacks the key "part" | write for example part: board/four-way-two-port`},
		{"a cable that is no map", "W2: {part: cable/flex-2x2.5, length: 1.5 m, from: A1.1, to: E1@start}",
			"W2: 5",
			`25:7: "W2" needs a map of keys, not "5" | write for example {part: cable/flex-2x2.5, from: A1.1, …}`},
		{"copper at a word", "conductors: warm",
			"conductors: hot",
			`10:15: "hot" is not a temperature | write warm, or one temperature for all copper such as 20 °C`},
		{"copper at a temperature that melts its insulation", "conductors: warm",
			"conductors: 900 °C",
			"10:15: conductors cannot be at 900 °C | write warm, or a temperature from −60 °C to 200 °C"},
		{"a label of two lines", "label: west handrail",
			`label: "west\x0ahandrail"`,
			"21:52: label must be one line of plain text | remove line breaks and control characters"},
	})
}

func TestIdentifiers(t *testing.T) {
	runCases(t, []mistakeCase{
		{"begins with a digit", "E2: {tape",
			"2E: {tape",
			`22:3: "2E" is not an identifier | write letters A to Z, digits, - and _, with a letter first, such as E1`},
		{"holds a blank", "E2: {tape",
			"E 2: {tape",
			`22:3: "E 2" is not an identifier | write letters A to Z, digits, - and _, with a letter first, such as E1`},
		{"names of two kinds", "D1: {part",
			"W1: {part",
			"39:3: W1 is the name of a cable already, given in line 24 | give the data lead a name of its own"},
		{"a control character", "E2: {tape",
			"\"E\x1b2\": {tape",
			"22:5: a control character stands here (U+001B) | remove it; it may be invisible in an editor"},
		{"control characters that are escaped are not passed on", "E2: {tape",
			`"E\e2": {tape`,
			`22:3: "E\x1b2" is not an identifier | write letters A to Z, digits, - and _, with a letter first, such as E1`},
	})
}

func TestParts(t *testing.T) {
	runCases(t, []mistakeCase{
		{"no such part", "tape/5v-rgb-60, length",
			"tape/5v-rgb-06, length",
			`21:14: there is no tape "tape/5v-rgb-06" | did you mean tape/5v-rgb-60?`},
		{"nothing like it", "supply/5v-300w",
			"supply/nonesuch",
			`17:14: there is no supply "supply/nonesuch" | there are …`},
		{"of the wrong kind for a run", "tape: tape/5v-rgb-60, length",
			"tape: cable/flex-2x2.5, length",
			"21:14: cable/flex-2x2.5 is a cable; a run needs a tape | there are …"},
		{"of the wrong kind for a cable", "W2: {part: cable/flex-2x2.5",
			"W2: {part: tape/5v-rgb-60",
			"25:14: tape/5v-rgb-60 is a tape, not a cable | there are …"},
		{"tape left open", "tape: tape/5v-rgb-60, length",
			"tape: choose, length",
			"21:14: the tape of E1 cannot be left open: without it there is no pixel to count | write the name of a tape; farend parts tape lists them"},
		{"own part of no kind", "drawing:",
			`parts: {lamp/mine: {}}
drawing:`,
			`46:9: "lamp/mine" is not the name of a kind of part | begin the name with one of tape/, protocol/, cable/, fuse/, curve/, supply/, board/, enclosure/, connector/, junction/, relay/, capacitor/, buffer/`},
		{"own part with a mistake, and no mistake about its use", `runs:
  E1: {tape: tape/5v-rgb-60`,
			`parts:
  tape/mine: {title: x}
runs:
  E1: {tape: tape/mine`,
			`21:14: "tape/mine" lacks the keys "channels", "cut_every", "idle", "pixels", "protocol", "rail" and "volts" | write for example channels: {NAME: {lo: 1.8 V, soft: 0.1 V}}, cut_every: 1, idle: {lo: 1.8 V, soft: 0.1 V}, pixels: 60 /m, protocol: protocol/single-wire-800k-24, rail: 100 mΩ/m, volts: 5 V`},
		{"own part with a blank in its name", "drawing:",
			`parts: {"junction/my own": {title: x, amps: 3 A, resistance: 1 mΩ, ways: 2}}
drawing:`,
			`46:9: "junction/my own" is not the name of a part | write letters A to Z, digits, - _ and . after junction/`},
	})
}
