package scheme_test

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
	"pgregory.net/rapid"

	"farend/examples"
	"farend/finding"
	"farend/internal/document"
	"farend/scheme"
)

// exampleFiles gives the worked schemes by name.
func exampleFiles(t testing.TB) map[string]string {
	t.Helper()
	names, err := fs.Glob(examples.Files, "*.scheme.yaml")
	if err != nil || len(names) < 3 {
		t.Fatal(names, err)
	}
	sources := map[string]string{}
	for _, name := range names {
		source, err := examples.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		sources[strings.TrimSuffix(path.Base(name), ".scheme.yaml")] = string(source)
	}
	return sources
}

// dressed gives a text with the line ends and marks that editors write.
func dressed(source string) map[string]string {
	crlf := strings.ReplaceAll(source, "\n", "\r\n")
	return map[string]string{
		"LF": source, "CR LF": crlf, "LF and a byte-order mark": "\ufeff" + source, "CR LF and a byte-order mark": "\ufeff" + crlf,
		"no last line break": strings.TrimSuffix(source, "\n"),
	}
}

// A leaf is a value of a text and where it stands, as the YAML parser says.
type leaf struct {
	path         string
	value        any
	line, column int
	token        string
}

func leaves(t testing.TB, source string) []leaf {
	t.Helper()
	var doc yaml.Node
	if err := yaml.Unmarshal([]byte(source), &doc); err != nil {
		t.Fatal(err)
	}
	var all []leaf
	var visit func(path string, n *yaml.Node)
	visit = func(path string, n *yaml.Node) {
		switch n.Kind {
		case yaml.MappingNode:
			for i := 0; i+1 < len(n.Content); i += 2 {
				visit(path+document.Pointer(n.Content[i].Value), n.Content[i+1])
			}
		case yaml.SequenceNode:
			for i, item := range n.Content {
				visit(fmt.Sprintf("%s/%d", path, i), item)
			}
		default:
			token := n.Value
			if n.Style&yaml.DoubleQuotedStyle != 0 {
				token = `"` + token + `"`
			}
			var value any
			if err := n.Decode(&value); err != nil {
				t.Fatal(err)
			}
			if n.Tag == "!!int" || n.Tag == "!!float" {
				value = json.Number(n.Value) // as it is written: 1.0 is not 1
			}
			if n.Tag == "!!timestamp" {
				value = n.Value // a day is text to us
			}
			all = append(all, leaf{path, value, n.Line, n.Column, token})
		}
	}
	visit("", doc.Content[0])
	return all
}

// some is forty of many leaves, spread over them.
func some(all []leaf) []leaf {
	step := 1 + len(all)/40
	var list []leaf
	for i := 0; i < len(all); i += step {
		list = append(list, all[i])
	}
	return list
}

// replaced puts another token in the place of a leaf's, by its line and column alone.
func replaced(t testing.TB, source string, l leaf, token string) string {
	t.Helper()
	mark := ""
	if strings.HasPrefix(source, "\ufeff") {
		mark = "\ufeff"
	}
	lines := strings.SplitAfter(strings.TrimPrefix(source, mark), "\n")
	line := []rune(lines[l.line-1])
	if end := l.column - 1 + len([]rune(l.token)); string(line[l.column-1:end]) != l.token {
		t.Fatalf("%s is not %s in %q", l.path, l.token, string(line))
	} else {
		lines[l.line-1] = string(line[:l.column-1]) + token + string(line[end:])
	}
	return mark + strings.Join(lines, "")
}

func TestReplacingAnyValueOfTheExamplesChangesNothingElse(t *testing.T) {
	for name, source := range exampleFiles(t) {
		for form, source := range dressed(source) {
			t.Run(name+" with "+form, func(t *testing.T) {
				all := leaves(t, strings.TrimPrefix(source, "\ufeff"))
				if len(all) < 50 {
					t.Fatalf("only %d values found", len(all))
				}
				news := []struct {
					token string
					value any
				}{{"new", "new"}, {`"#102030"`, "#102030"}, {"{a: 1}", map[string]any{"a": 1}}, {"7", 7}}
				for i, l := range some(all) {
					to := news[i%len(news)]
					got, mistakes := document.Apply(name, []byte(source), []finding.Edit{{Path: l.path, Value: to.value}}, scheme.Scheme{})
					if want := replaced(t, source, l, to.token); string(got) != want || len(mistakes) > 0 {
						t.Fatalf("%s: %v\n%s", l.path, mistakes, got)
					}
					back, mistakes := document.Apply(name, got, []finding.Edit{{Path: l.path, Value: l.value}}, scheme.Scheme{})
					if string(back) != source || len(mistakes) > 0 {
						t.Fatalf("%s is not put back: %v\n%s", l.path, mistakes, back)
					}
				}
			})
		}
	}
}

func TestTakingAnyKeyOutOfTheExamplesAndPuttingItBackMeansTheSame(t *testing.T) {
	for name, source := range exampleFiles(t) {
		for _, form := range []string{"CR LF and a byte-order mark"} { // the hardest of them
			source := dressed(source)[form]
			t.Run(name+" with "+form, func(t *testing.T) {
				was, mistakes := scheme.Read(name, []byte(source), nil)
				if len(mistakes) > 0 {
					t.Fatal(mistakes)
				}
				for _, l := range some(leaves(t, strings.TrimPrefix(source, "\ufeff"))) {
					if strings.HasPrefix(l.path, "/drawing/") || strings.HasPrefix(l.path, "/site/separate/") || strings.Contains(l.path, "/holds/") {
						continue // items of lists are added at the end only
					}
					now, text, mistakes := scheme.Apply(name, []byte(source), []finding.Edit{{Path: l.path}, {Path: l.path, Value: l.value}}, nil)
					if len(mistakes) > 0 {
						t.Fatalf("%s: %v\n%s", l.path, mistakes, text)
					}
					unplaced(now) // the key stands last in its map now
					unplaced(was)
					if !reflect.DeepEqual(now, was) {
						t.Errorf("%s: another scheme\n%s", l.path, text)
					}
				}
			})
		}
	}
}

// unplaced takes the places out of a scheme.
func unplaced(s *scheme.Scheme) {
	s.Places, s.Hash = nil, ""
	for i := range s.Notes {
		s.Notes[i].Pos = finding.Pos{}
	}
}

// The story of the two examples of the footbridge, whose comments tell it: with cuts and feeds put back, one is the other; and what was
// not changed stands as it stood, comments and all.
func TestFeedsArePutBack(t *testing.T) {
	sources := exampleFiles(t)
	source := sources["footbridge-two-feeds"]
	cut := func(at string) map[string]any { return map[string]any{"at": at, "pole": "plus"} }
	edits := []finding.Edit{
		{Path: "/title", Value: "Weir Lane footbridge (invented)"},
		{Path: "/boards/A1/part", Value: "board/ten-way-six-port"},
		{Path: "/data/D1/length", Value: "3.2 m"},
	}
	for r, run := range []string{"E1", "E2"} {
		edits = append(edits, finding.Edit{Path: "/runs/" + run + "/cuts", Value: []any{cut("px58"), cut("px116"), cut("px173"), cut("px231")}})
		for i, at := range []string{"px29", "px87", "px144", "px202", "px260"} {
			feed := map[string]any{"to": run + "@" + at, "from": fmt.Sprintf("A1.%d", 5*r+i+1), "suits": "outdoors",
				"part": []string{"cable/flex-2x4", "cable/flex-2x2.5", "cable/flex-2x2.5", "cable/flex-2x2.5", "cable/flex-2x4"}[i], "length": []string{"2.8 m", "1.8 m", "0.9 m", "1.8 m", "2.8 m"}[i]}
			edits = append(edits, finding.Edit{Path: fmt.Sprintf("/cables/W%d", 5*r+i+2), Value: feed}, finding.Edit{Path: fmt.Sprintf("/fuses/A1.%d", 5*r+i+1), Value: "fuse/blade-3A"})
		}
	}
	s, text, mistakes := scheme.Apply("footbridge", []byte(source), edits, nil)
	if len(mistakes) > 0 {
		t.Fatal(explain(mistakes, string(text)))
	}
	now := strings.Split(string(text), "\n")
	for _, line := range strings.Split(source, "\n") {
		if regexp.MustCompile(`^(title|  (E[12]|A1|A1\.\d|W[2457]|D1)): `).MatchString(line) {
			if _, comment, commented := strings.Cut(line, "   #"); commented && !strings.Contains(string(text), comment) {
				t.Errorf("%q is gone", comment)
			}
			continue
		}
		i := slices.Index(now, line)
		if i < 0 {
			t.Fatalf("%q is gone, or stands elsewhere", line)
		}
		now = now[i+1:]
	}
	at := s.Places["/fuses/A1.5"]
	if line := strings.Split(string(text), "\n")[at.Line-1]; line != "  A1.5: fuse/blade-3A" || at.Column != 3 {
		t.Errorf("A1.5 is said to stand at %v, where %q stands", at, line)
	}
	other, mistakes := scheme.Read("footbridge", []byte(sources["footbridge"]), nil)
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s.Places, other.Places, s.Notes, other.Notes, s.Hash, other.Hash = nil, nil, nil, nil, "", "" // their comments differ
	s.Revisions, other.Revisions = nil, nil
	if !reflect.DeepEqual(s, other) {
		t.Errorf("not the footbridge: %+v", s)
	}
}

func TestTheEditsOfNotesSettleThem(t *testing.T) {
	source := "farend: 1\nruns:\n  E1: {tape: tape/12v-rgb-60, length: 1.03 m}  # over the door\nsupplies: {T1: {part: choose}}\n" +
		"cables:\n  W1: {part: choose, length: 1 m, from: T1, to: E1@0.52m}\nduty: {}\n"
	s := read(t, source)
	var edits []finding.Edit
	for _, note := range s.Notes {
		edits = append(edits, note.Edits...)
	}
	s, text, mistakes := scheme.Apply("a.scheme.yaml", []byte(source), edits, library(t))
	want := "farend: 1\nruns:\n  E1: {tape: tape/12v-rgb-60, pixels: 20}  # over the door\nsupplies: {T1: {part: choose}}\n" +
		"cables:\n  W1: {part: choose, length: 1 m, from: T1, to: E1@px10}\nstates:\n  full: {level: 100 %, colour: white}\nduty: {}\n"
	if string(text) != want || len(mistakes) > 0 || len(s.Notes) > 0 {
		t.Errorf("%v: got\n%s\nwant\n%s\nnotes %v", mistakes, text, want, s)
	}
}

func TestAnEditThatMakesAMistakeIsToldInTheNewText(t *testing.T) {
	source := footbridge(t)
	s, text, mistakes := scheme.Apply("a.scheme.yaml", []byte(source), []finding.Edit{{Path: "/site/coldest"}, {Path: "/cables/W3/to", Value: "E9"}}, library(t))
	if s != nil || text == nil || len(mistakes) != 1 || !strings.Contains(explain(mistakes, string(text)), "to: E9}\n") {
		t.Errorf("got %v in\n%s", mistakes, text)
	}
}

func TestAnEditThatCannotBeMadeIsToldInTheOldText(t *testing.T) {
	source := "farend: 1\ntitle: x\nruns:\n  E1: {tape: choose\u202e, length: 1 m}\n"
	s, text, mistakes := scheme.Apply("a.scheme.yaml", []byte(source), []finding.Edit{{Path: "/title"}, {Path: "/runs/E1/tape/x", Value: 1}}, library(t))
	const want = "a.scheme.yaml:4:14: cannot set /runs/E1/tape/x to 1: /runs/E1/tape is \"choose\\u202e\" and has no keys"
	if s != nil || text != nil || len(mistakes) != 1 || mistakes.Error() != want {
		t.Errorf("got %v and\n%s", mistakes, text)
	}
}

func TestPartsOfOnesOwnAreEdited(t *testing.T) {
	source := "farend: 1\nparts:\n  fuse/own-5A:  # from the drawer\n    title: x\n    rating: 5 A   # printed on it\n    resistance: 20 mΩ\n"
	_, text, mistakes := scheme.Apply("a.scheme.yaml", []byte(source), []finding.Edit{{Path: "/parts/fuse~1own-5A/rating", Value: "7.5 A"}, {Path: "/parts/fuse~1own-5A/volts_max", Value: "32 V"}}, library(t))
	want := strings.Replace(source, "5 A   #", "7.5 A   #", 1) + "    volts_max: 32 V\n"
	if string(text) != want {
		t.Errorf("%v: got\n%s\nwant\n%s", mistakes, text, want)
	}
}

func TestRandomEditsGiveWhatReadingTheirTextGives(t *testing.T) {
	sources := exampleFiles(t)
	catalogue := library(t)
	rapid.Check(t, func(r *rapid.T) {
		source := dressed(rapid.SampledFrom([]string{sources["footbridge"], sources["cafe-canopy"]}).Draw(r, "example"))[rapid.SampledFrom([]string{"LF", "CR LF"}).Draw(r, "form")]
		all := leaves(t, source)
		var edits []finding.Edit
		for range rapid.IntRange(0, 4).Draw(r, "edits") {
			at := rapid.SampledFrom(all).Draw(r, "at").path
			if rapid.Bool().Draw(r, "above") {
				at = path.Dir(at)
			}
			value := rapid.SampledFrom([]any{nil, rapid.SampledFrom(all).Draw(r, "from").value, "x", map[string]any{"level": "5 %"}, []any{0, 1}}).Draw(r, "value")
			edits = append(edits, finding.Edit{Path: at, Value: value})
		}
		s, text, mistakes := scheme.Apply("f", []byte(source), edits, catalogue)
		if text == nil {
			if s != nil || len(mistakes) == 0 {
				r.Fatalf("no text and no reason: %v", edits)
			}
			return
		}
		again, others := scheme.Read("f", text, catalogue)
		if !reflect.DeepEqual(mistakes, others) || (s == nil) != (again == nil) || s != nil && !reflect.DeepEqual(s.Places, again.Places) {
			r.Fatalf("%v: %v, but %v", edits, mistakes, others)
		}
		if len(edits) == 0 && string(text) != source {
			r.Fatalf("no edit, but another text")
		}
	})
}
