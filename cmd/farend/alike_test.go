package main

import (
	"bytes"
	"strings"
	"testing"

	"farend/finding"
	"farend/report"
)

// dim is a finding about a run that has too little voltage.
func dim(run string, volts float64, rests string) finding.Finding {
	limit, margin := 3.7, volts/3.7-1
	return finding.Finding{
		ID: "light/pixel-voltage:" + run, Rule: "light/pixel-voltage", Grade: finding.Fails, Subject: run, Case: "peak/full", At: run + "@px9",
		Text: run + " falls to too little." + rests, Value: &volts, Limit: &limit, Unit: "V", Margin: &margin, Remedy: "Add a feed near " + run + "@px9.",
	}
}

// bare is a finding without numbers.
func bare(way string) finding.Finding {
	return finding.Finding{ID: "protection/way-fuse:" + way, Rule: "protection/way-fuse", Grade: finding.Danger, Subject: way, Text: way + " has no fuse.", Remedy: "Fit a fuse in " + way + "."}
}

func told(groups [][]finding.Finding) string {
	var text []string
	for _, g := range groups {
		text = append(text, strings.Join(subjectsOf(g), " "))
	}
	return strings.Join(text, ", ")
}

func TestFindingsThatDifferInSubjectsAndNumbersAreToldAsOne(t *testing.T) {
	const memory = " This rests on a number from memory, for which no source was read: x."
	for _, c := range []struct {
		name     string
		findings []finding.Finding
		want     string
	}{
		{"worst first", []finding.Finding{dim("E1", 3.5, ""), dim("E2", 3.1, ""), dim("E3", 3.3, "")}, "E2 E3 E1"},
		{"two stand alone", []finding.Finding{dim("E1", 3.5, ""), dim("E2", 3.1, "")}, "E1, E2"},
		{"others keep their places", []finding.Finding{bare("A1.1"), dim("E1", 3.5, ""), dim("E2", 3.1, ""), bare("A1.2"), dim("E3", 3.3, "")}, "A1.1, E2 E3 E1, A1.2"},
		{"no admission is lost", []finding.Finding{dim("E1", 3.5, ""), dim("E2", 3.1, memory), dim("E3", 3.3, ""), dim("E4", 3.2, "")}, "E4 E3 E1, E2"},
		{"without numbers", []finding.Finding{bare("A1.1"), bare("A1.2"), bare("A1.3")}, "A1.1 A1.2 A1.3"},
	} {
		if got := told(report.Alike(c.findings)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	other := bare("A1.3")
	other.Text = "A1.3 feeds W1 and W2 without a fuse."
	if got := told(report.Alike([]finding.Finding{bare("A1.1"), bare("A1.2"), other})); got != "A1.1, A1.2, A1.3" {
		t.Errorf("unlike texts without numbers: %s", got)
	}
}

func TestFindingsToldAsOneNameEachWithItsNumbers(t *testing.T) {
	var many []finding.Finding
	for i := range 30 {
		many = append(many, dim("E"+strings.Repeat("1", i+1), 3.0+0.01*float64(i), ""))
	}
	var out bytes.Buffer
	p := &page{out: &out, plain: true}
	for _, g := range report.Alike(append([]finding.Finding{bare("A1.1"), bare("A1.2"), bare("A1.3")}, many...)) {
		p.findings(g, &report.Footnotes{})
	}
	for _, want := range []string{
		"[D] danger  protection/way-fuse:A1.1 and 2 more\n    A1.1 has no fuse.\n", "    So too: A1.2, A1.3.\n",
		"[F] fails  light/pixel-voltage:E1 and 29 more\n    E1 falls to too little.\n    → Add a feed near E1@px9.\n", "    So too, worst first:\n      E11  ", "  3.01 V against 3.70 V  peak/full\n",
		"      … and 5 more; --json has them all\n",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not in:\n%s", want, out.String())
		}
	}
	fitting(t, out.String())
}
