package scheme_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
	"farend/scheme"
)

// library is the catalogue with this room's test parts over it.
func library(t testing.TB) *parts.Library {
	t.Helper()
	source, err := os.ReadFile("testdata/parts.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var own parts.Set
	if _, mistakes := document.Read("parts.yaml", source, &own); len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return parts.Catalogue().With(own)
}

// read reads a scheme that has no mistakes.
func read(t testing.TB, source string) *scheme.Scheme {
	t.Helper()
	s, mistakes := scheme.Read("a.scheme.yaml", []byte(source), library(t))
	if len(mistakes) > 0 {
		t.Fatalf("mistakes in a scheme that should have none:\n%s", explain(mistakes, source))
	}
	return s
}

func explain(mistakes finding.Mistakes, source string) string {
	var b strings.Builder
	for _, m := range mistakes {
		b.WriteString(m.Explain([]byte(source)))
	}
	return b.String()
}

func footbridge(t testing.TB) string {
	t.Helper()
	source, err := os.ReadFile("testdata/footbridge.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(source)
}

func TestFootbridgeReadsWithoutMistakes(t *testing.T) {
	s := read(t, footbridge(t))
	if len(s.Notes) != 1 || s.Notes[0].ID != "scheme/not-judged:mains" {
		t.Errorf("unexpected notes: %v", s.Notes)
	}
	if s.Runs["E1"].Count != 288 || s.Runs["E2"].Count != 288 { // 4.8 m × 60 /m
		t.Errorf("runs have %d and %d pixels, want 288 each", s.Runs["E1"].Count, s.Runs["E2"].Count)
	}
	if got := *s.Runs["E2"].Length; got < 4.8-1e-12 || got > 4.8+1e-12 {
		t.Errorf("E2 is %v long, want 4.8 m", got)
	}
	want := map[string][2]scheme.Kind{
		"W1": {scheme.SupplyRef, scheme.InletRef}, "W3": {scheme.WayRef, scheme.StationRef}, "W7": {scheme.WayRef, scheme.StationRef},
	}
	for id, kinds := range want {
		if c := s.Cables[id]; c.From.Kind != kinds[0] || c.To.Kind != kinds[1] {
			t.Errorf("%s joins a %v and a %v, want a %v and a %v", id, c.From.Kind, c.To.Kind, kinds[0], kinds[1])
		}
	}
	marks := map[string]int{"W2": 0, "W3": 144, "W4": 288, "W6": 144, "W7": 288}
	for id, mark := range marks {
		if got := s.Cables[id].To.Station.Mark; got != mark {
			t.Errorf("%s lands at mark %d, want %d", id, got, mark)
		}
	}
	if d := s.Data["D1"]; d.From.Kind != scheme.PortRef || d.From.Socket != "P1" || d.To.Kind != scheme.RunRef {
		t.Errorf("D1 goes from %+v to %+v", d.From, d.To)
	}
	if pos := s.Place("cables", "W3", "fuse_at"); pos.Line != s.Place("cables", "W3").Line || pos.File != "a.scheme.yaml" {
		t.Errorf("a key that is not there is placed at %v, want where W3 is", pos)
	}
}

// Every section of the file with its lines, and the elements in each section, in the opposite order.
func reversed(source string) string {
	var sections []string
	for line := range strings.Lines(source) {
		if line[0] == ' ' {
			sections[len(sections)-1] += line
		} else {
			sections = append(sections, line)
		}
	}
	var b strings.Builder
	for i := len(sections) - 1; i >= 0; i-- {
		lines := strings.SplitAfter(strings.TrimSuffix(sections[i], "\n"), "\n")
		b.WriteString(lines[0] + "\n")
		for j := len(lines) - 1; j > 0; j-- {
			b.WriteString(strings.TrimSuffix(lines[j], "\n") + "\n")
		}
	}
	return strings.ReplaceAll(b.String(), "\n\n", "\n")
}

func TestOrderOfTheFileChangesNothing(t *testing.T) {
	source := strings.Replace(footbridge(t), "length: 4.8 m", "length: 4.81 m", 1)
	source = strings.Replace(source, "E1@px144", "E1@2.41m", 1)
	one, other := read(t, source), read(t, reversed(source))
	if len(one.Notes) != 3 {
		t.Errorf("%d notes, want one for the length, one for the station and one for what is not judged", len(one.Notes))
	}
	if a, b := withoutPlaces(t, one), withoutPlaces(t, other); a != b {
		t.Errorf("the order of the file changed the scheme:\n%s\n%s", a, b)
	}
}

func withoutPlaces(t *testing.T, s *scheme.Scheme) string {
	t.Helper()
	plain := *s
	plain.Places, plain.Library, plain.Parts, plain.Hash = nil, nil, nil, ""
	for i := range plain.Notes {
		plain.Notes[i].Pos = finding.Pos{}
	}
	text, err := json.Marshal(plain)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestLineEndsAndByteOrderMarkAreAccepted(t *testing.T) {
	source := footbridge(t)
	for name, text := range map[string]string{
		"CRLF":                  strings.ReplaceAll(source, "\n", "\r\n"),
		"byte-order mark":       "\ufeff" + source,
		"both":                  "\ufeff" + strings.ReplaceAll(source, "\n", "\r\n"),
		"no newline at the end": strings.TrimSuffix(source, "\n"),
	} {
		t.Run(name, func(t *testing.T) { read(t, text) })
	}
}

func TestEmptyIshSchemesAreLegal(t *testing.T) {
	s := read(t, "farend: 1\n")
	if names := s.StateNames(); len(names) != 1 || names[0] != "full" {
		t.Errorf("states %v, want the assumed state full", names)
	}
	if len(s.Notes) != 1 || s.Notes[0].Rule != "scheme/assumed-state" || s.Notes[0].Grade != finding.Note {
		t.Errorf("notes %+v, want one that a state is assumed", s.Notes)
	}
}

func TestAllMistakesAreReportedInTheOrderOfTheFile(t *testing.T) {
	source := `farend: 1
site: {ambient: 300 °C}
supplies:
  T1: {part: supply/5v-300}
runs:
  E1: {tape: tape/5v-rgb-60, lenght: 4.8 m}
  E2: {tape: tape/5v-rgb-60, length: 4.8}
cables:
  W1: {part: cable/flex-2x6, length: 0.6 m, from: T1, to: E1@px999}
  W2: {part: cable/flex-2x6, length: -1 m, from: T1, to: E9@start}
states:
  full: {level: 120 %}
`
	_, mistakes := scheme.Read("a.scheme.yaml", []byte(source), library(t))
	want := []string{
		"a.scheme.yaml:2:17: ambient cannot be 300 °C",
		`a.scheme.yaml:4:14: there is no supply "supply/5v-300"`,
		`a.scheme.yaml:6:30: "lenght" is not a key here`,
		`a.scheme.yaml:7:38: "4.8" has no unit`,
		"a.scheme.yaml:10:38: W2 cannot be −1 m long",
		"a.scheme.yaml:10:58: there is no E9 in this scheme",
		"a.scheme.yaml:12:17: level cannot be 120 %",
	}
	if got := mistakes.Error(); got != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", got, strings.Join(want, "\n"))
	}
}
