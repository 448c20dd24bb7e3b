package rulebook_test

import (
	"flag"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/study"
)

var update = flag.Bool("update", false, "write docs/rules.md anew")

func TestRulesPageIsWrittenFromTheRules(t *testing.T) {
	const path = "../docs/rules.md"
	want := page(rulebook.Rooms())
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s is stale: go test ./rulebook -update (%v)", path, err)
	}
}

func TestRulesAreNamedAndDistinct(t *testing.T) {
	seen := map[string]bool{}
	for _, room := range rulebook.Rooms() {
		for _, r := range room.Rules {
			if seen[r.Name] {
				t.Errorf("%s stands twice", r.Name)
			}
			seen[r.Name] = true
			if !strings.HasPrefix(r.Name, room.Name+"/") || r.Title == "" || r.Scope == "" || r.Judge == nil {
				t.Errorf("%s is not complete, or not in its room", r.Name)
			}
			if found, ok := rulebook.Named(r.Name); !ok || found.Title != r.Title {
				t.Errorf("%s is not found by its name", r.Name)
			}
		}
		if found, ok := rulebook.RoomNamed(room.Name); !ok || len(found.Rules) != len(room.Rules) || !sentence(found.Asks) {
			t.Errorf("the room %s is not found by its name, or does not say what it asks", room.Name)
		}
	}
}

// sentence reports whether text is whole sentences: it begins with a capital, a digit or a mark of measure and ends with a stop.
func sentence(text string) bool {
	first, _ := utf8.DecodeRuneInString(text)
	return len(text) > 8 && !unicode.IsLower(first) && strings.ContainsAny(text[len(text)-1:], ".?") && strings.TrimSpace(text) == text
}

// phrase reports whether text is less than a sentence, to stand after a colon.
func phrase(text string) bool {
	return len(text) > 5 && !strings.HasSuffix(text, ".") && strings.TrimSpace(text) == text
}

func TestEveryRuleHasEverySection(t *testing.T) {
	for _, r := range rulebook.All() {
		d := r.Doc
		if !sentence(d.What) || !sentence(d.Why) {
			t.Errorf("%s: what and why are sentences", r.Name)
		}
		if len(d.Formula) == 0 || len(d.Sources) == 0 || len(d.Limits) == 0 || len(d.Grades) == 0 {
			t.Errorf("%s: formula, sources, limits or grades are missing", r.Name)
		}
		for _, l := range d.Limits {
			if !sentence(l) {
				t.Errorf("%s: the limit %q is no sentence", r.Name, l)
			}
		}
		holdSources(t, r)
		holdGrades(t, r)
		e := d.Example
		if len(e.Given) == 0 || len(e.Sums) == 0 || !sentence(e.Says) || (e.Value == "") != (e.Limit == "") {
			t.Errorf("%s: the example is not whole", r.Name)
		}
		for _, g := range e.Given {
			if !sentence(g) {
				t.Errorf("%s: %q is no sentence", r.Name, g)
			}
		}
		for _, line := range append(slices.Clone(d.Formula), e.Sums...) {
			if utf8.RuneCountInString(line) > 94 { // a page of 100 columns, indented
				t.Errorf("%s: the line is too long: %s", r.Name, line)
			}
		}
	}
}

// holdSources wants a basis with every source, and nothing dressed up: what is practice or memory says so in its words too.
func holdSources(t *testing.T, r study.Rule) {
	t.Helper()
	for _, s := range r.Doc.Sources {
		if !slices.Contains(parts.Bases(), s.Basis) || s.Title == "" || !phrase(s.Says) {
			t.Errorf("%s: the source %q has no basis, or does not say of what", r.Name, s.Title)
		}
		if (s.Basis == parts.Practice) != (s.Title == "common practice, no source") {
			t.Errorf("%s: %q is practice by one word and not by the other", r.Name, s.Title)
		}
		if s.Basis == parts.Standard && s.Read == "" && s.Clause == "" && !strings.Contains(s.Title, " ") {
			t.Errorf("%s: the standard %q names no clause and not where it was read", r.Name, s.Title)
		}
	}
}

func holdGrades(t *testing.T, r study.Rule) {
	t.Helper()
	last, given := finding.Danger+1, r.Doc.Example.Grade == finding.Pass
	for _, g := range r.Doc.Grades {
		if g.Grade >= last || g.Grade == finding.Pass || !phrase(g.When) {
			t.Errorf("%s: grades stand worst first, each once, and say when: %s", r.Name, g.Grade)
		}
		last = g.Grade
		given = given || g.Grade == r.Doc.Example.Grade
	}
	if !given {
		t.Errorf("%s: the grade of its example is none of its own", r.Name)
	}
}

var (
	// token is a sign, a letter or word with what hangs on it (I_max, u′_1, ΔU, Δu′v′), or a number with its unit, which is none.
	token = regexp.MustCompile(`(Δ?\p{L}+(?:′\p{L}*)*(?:_[\p{L}\d]+)?)|\d+(?:\.\d+)?[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]*(?: (?:°C|V|A|W|%))?`)
	// word is English, or the name of a function.
	word = regexp.MustCompile(`^([a-z]{2,}|Σ)$`)
)

// Every sign of a formula is explained, once and with its unit, and nothing else is.
func TestEverySignIsExplained(t *testing.T) {
	for _, r := range rulebook.All() {
		explained := map[string]bool{}
		for _, s := range r.Doc.Symbols {
			if explained[s.Sign] || s.Unit == "" || !phrase(s.Means) {
				t.Errorf("%s: the sign %s is explained twice, without a unit or not at all", r.Name, s.Sign)
			}
			explained[s.Sign] = true
		}
		used := map[string]bool{}
		for _, line := range r.Doc.Formula {
			for _, m := range token.FindAllStringSubmatch(line, -1) {
				s := m[1]
				used[s] = true
				if s != "" && !explained[s] && !word.MatchString(s) {
					t.Errorf("%s: the sign %s of %q is not explained", r.Name, s, line)
				}
			}
		}
		for s := range explained {
			if !used[s] {
				t.Errorf("%s: the sign %s is explained and not used", r.Name, s)
			}
		}
	}
}
