package main

import (
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"farend/network"
	"farend/parts"
	"farend/scheme"
)

func TestHelpPagesFitAPageAndSayWhatTheyAreAbout(t *testing.T) {
	for _, topic := range topics() {
		text, err := pages.ReadFile("help/" + topic + ".txt")
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(text), "\n")
		if lines[0] == "" || lines[1] != "" || lines[len(lines)-1] != "" {
			t.Errorf("%s does not begin with a title or does not end with a line end", topic)
		}
		for i, line := range lines {
			if n := utf8.RuneCountInString(line); n > columns && !strings.Contains(line, "{") || strings.ContainsAny(line, "\t\r") {
				t.Errorf("%s:%d is %d columns wide or holds a tab", topic, i+1, n)
			}
		}
	}
}

// What the tables of a check are headed with, and the cases it solves, are explained on the page that is about it.
func TestHelpExplainsWhatACheckPrints(t *testing.T) {
	text, err := pages.ReadFile("help/check.txt")
	if err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(string(text)), " ")
	out, _, _ := call("check", "../../examples/footbridge-two-feeds.scheme.yaml")
	for _, word := range []string{"heating current", "highest mean power", "peak current", "rated A", "cap failed A", "dark W", "Iz", "load A", "limit A", "drop mV", "°C", "lowest V", "at px", "evenness %", "Δu′v′", "least known", "source [1]", "▲", "Shorts at the far end", "ended within", "rests on", "opens first", "on with A", "worst for", "with the least that may flow", "with the most that may flow"} {
		if !strings.Contains(out, word) {
			t.Errorf("check no longer prints %q", word)
		}
		if !strings.Contains(page, strings.TrimSuffix(word, " A")) {
			t.Errorf("farend help check does not explain %q", word)
		}
	}
	for _, name := range []string{"state/NAME", "peak/NAME", string(network.Dark), string(network.CapFailed), "upper end of their spread", "lower, so that most current flows"} {
		if !strings.Contains(page, name) {
			t.Errorf("farend help check does not say %q", name)
		}
	}
}

// The example is what people copy: it must read, and it must be whole.
func TestTheExampleOfHelpReadsAndShowsEveryKey(t *testing.T) {
	text, _ := pages.ReadFile("help/scheme.txt")
	source := between(t, string(text), "\nfarend: 1", "\nColours:")
	_, mistakes := scheme.Read("help", []byte(source), parts.Catalogue())
	for _, m := range mistakes {
		t.Error(m.Explain([]byte(source)))
	}
	for _, key := range schemeKeys(reflect.TypeFor[scheme.Scheme](), nil) {
		if !regexp.MustCompile(`(^|[\s{,])` + key + `:`).MatchString(source) {
			t.Errorf("the example lacks the key %q", key)
		}
	}
}

// Whoever copies it copies something that may be built.
func TestTheExampleOfHelpPasses(t *testing.T) {
	text, _ := pages.ReadFile("help/scheme.txt")
	t.Chdir(t.TempDir())
	if err := os.WriteFile("copied.scheme.yaml", []byte(between(t, string(text), "\nfarend: 1", "\nColours:")), 0o644); err != nil {
		t.Fatal(err)
	}
	out, errs, code := call("check", "copied.scheme.yaml")
	if code != exitFine || strings.Contains(out, "[?] ") || !strings.Contains(out, " comparisons in ") {
		t.Errorf("it exits with %d: %s", code, errs+out)
	}
}

func TestTheExamplesOfPartsRead(t *testing.T) {
	text, _ := pages.ReadFile("help/parts.txt")
	own := between(t, string(text), "  parts:\n", "\nA number is written")
	source := "farend: 1\n" + strings.ReplaceAll(own, "\n  ", "\n")[2:]
	s, mistakes := scheme.Read("help", []byte(source), parts.Catalogue())
	if len(mistakes) > 0 || !s.Library.Own("tape/5v-rgb-60") {
		t.Errorf("%v", mistakes)
	}
	for _, rail := range []string{`rail: {is: 128 mΩ/m, basis: measured, source: "own meter", spread: 10 %}`, `rail: {is: 100 mΩ/m, basis: derived, source: "copper of 3.5 mm by 70 µm", spread: {low: -30 %, high: 90 %}}`} {
		if !strings.Contains(strings.Join(strings.Fields(string(text)), " "), rail) {
			t.Errorf("the page no longer has %s", rail)
		}
		if _, mistakes := scheme.Read("help", []byte(strings.Replace(source, "rail: 128 mΩ/m", rail, 1)), parts.Catalogue()); len(mistakes) > 0 {
			t.Errorf("%s: %v", rail, mistakes)
		}
	}
}

// between is the part of a text from one line to another, without the latter.
func between(t *testing.T, text, from, to string) string {
	t.Helper()
	_, rest, begun := strings.Cut(text, from)
	inner, _, ended := strings.Cut(rest, to)
	if !begun || !ended {
		t.Fatalf("%q and %q are not both there", from, to)
	}
	return strings.TrimPrefix(from, "\n") + inner + "\n"
}

// schemeKeys is every key that a scheme may have, of its own structures; parts have their own page.
func schemeKeys(of reflect.Type, seen []string) []string {
	for of.Kind() == reflect.Pointer || of.Kind() == reflect.Map || of.Kind() == reflect.Slice {
		of = of.Elem()
	}
	if of.Kind() != reflect.Struct || of == reflect.TypeFor[parts.Set]() {
		return seen
	}
	for i := range of.NumField() {
		key, _, _ := strings.Cut(of.Field(i).Tag.Get("key"), ",")
		if key == "" {
			continue
		}
		if !slices.Contains(seen, key) {
			seen = append(seen, key)
		}
		seen = schemeKeys(of.Field(i).Type, seen)
	}
	return seen
}
