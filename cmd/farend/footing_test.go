package main

import (
	"strings"
	"testing"
)

// What a verdict rests on is told in a dozen lines at most, between the findings and the tables.
func TestWhatAVerdictRestsOnIsShort(t *testing.T) {
	for path, out := range examplePages(t) {
		_, rest, found := strings.Cut(out, "\nWhat this rests on\n")
		section, tables, ended := strings.Cut(rest, "\n\n")
		if lines := strings.Count(section, "\n") + 1; !found || !ended || lines > 12 || lines < 3 {
			t.Errorf("%s: it is told in %d lines:\n%s", path, lines, section)
		}
		if !strings.HasPrefix(tables, "Supplies (") {
			t.Errorf("%s: after it comes %.40q", path, tables)
		}
		if !strings.Contains(section, " numbers decide ") || !strings.Contains(section, "\n  – ") {
			t.Errorf("%s: it says\n%s", path, section)
		}
	}
}

// A scheme in which nothing is compared rests on no number, and says nothing of it.
func TestWhereNothingIsComparedNothingIsSaidOfNumbers(t *testing.T) {
	out, _, code := call("check", file(t, "farend: 1\n"))
	if code != exitFine || strings.Contains(out, "What this rests on") {
		t.Errorf("exit code %d:\n%s", code, out)
	}
}
