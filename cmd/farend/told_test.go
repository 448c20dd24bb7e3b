package main

import (
	"bytes"
	"strings"
	"testing"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/report"
)

// A source is told once; what is from memory or practice is said beside the finding, and what it is among the sources.
func TestSourcesOfFindingsAreToldOnceByTheirNumbers(t *testing.T) {
	var out bytes.Buffer
	p := &page{out: &out, plain: true}
	var notes report.Footnotes
	const memory = " This rests on numbers from memory, for which no source was read: x a, b."
	for _, f := range []finding.Finding{
		{ID: "protection/weather:", Grade: finding.Fails, Text: "It is wet." + memory + " This rests on common practice, for which there is no source.", Source: "a sheet", Basis: "memory", Weakest: "x a"},
		{ID: "a/b:W1", Grade: finding.Note, Text: "It is dry.", Source: "a sheet", Basis: "datasheet"},
		{ID: "a/b:W2", Grade: finding.Note, Text: "It is so." + memory, Source: "a book", Basis: "derived", Weakest: "y c"},
		{ID: "a/b:W3", Grade: finding.Note, Text: "It is."},
	} {
		p.finding(f, &notes)
	}
	p.sources("Sources", notes)
	want := `[F] fails  protection/weather
    It is wet.
    source [1]; rests on numbers from memory [2] and common practice [3]

[N] note  a/b:W1
    It is dry.
    source [1] (datasheet)

[N] note  a/b:W2
    It is so.
    source [4]; least known: y c (derived); rests on numbers from memory [2]

[N] note  a/b:W3
    It is.

Sources
    [1]  a sheet.
    [2]  Numbers from memory, for which no source was read: x a, b.
    [3]  Common practice, for which there is no source.
    [4]  a book.

`
	if out.String() != want {
		t.Errorf("%s\nwant\n%s", out.String(), want)
	}
}

func TestFindingsAreCountedInWords(t *testing.T) {
	for want, c := range map[string]struct {
		n int
		g finding.Grade
	}{"1 danger": {1, finding.Danger}, "2 dangers": {2, finding.Danger}, "1 failing": {1, finding.Fails}, "7 failing": {7, finding.Fails}, "3 unknown": {3, finding.Unknown}, "1 tight": {1, finding.Tight}} {
		if got := report.OfGrade(c.n, c.g); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

func TestACoreThatSettlesNowhereIsNotSaidToBeAsWarmAsTheClamp(t *testing.T) {
	if got := warmth(network.Cable{Celsius: conductor.Clamp, Clamped: true}); got != "> 160" {
		t.Error(got)
	}
	if got := warmth(network.Cable{Celsius: 116.4}); got != "116" {
		t.Error(got)
	}
}

// Of two shelves of one tape the far one has less voltage: its bars are lower than those of the near one, though each falls as far.
func TestRowsOfOneNominalVoltageShareAScale(t *testing.T) {
	source := strings.Replace(installation(2, 120, func(int) string { return "rail" }), "W3: {part: cable/flex-2x2.5, length: 2 m", "W3: {part: cable/flex-2x2.5, length: 9 m", 1)
	out, errs, _ := call("check", file(t, source))
	if errs != "" {
		t.Fatal(errs)
	}
	var rows []string
	for _, line := range strings.Split(out, "\n") {
		if name, bars, ok := strings.Cut(line, "  "); ok && (name == "E1" || name == "E2") && strings.ContainsAny(bars, "▁▂▃▄▅▆▇█") {
			rows = append(rows, bars)
		}
	}
	if len(rows) != 2 {
		t.Fatalf("%d rows:\n%s", len(rows), out)
	}
	if !strings.Contains(rows[0], "▇") || strings.Contains(rows[0], "▁") || strings.Contains(rows[1], "▇") || !strings.Contains(rows[1], "▁") {
		t.Errorf("%s\n%s", rows[0], rows[1])
	}
}
