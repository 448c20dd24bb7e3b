package commission_test

import (
	"bytes"
	"regexp"
	"strings"
	"testing"

	"farend/commission"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/layout"
	"farend/unit"
)

var bound = layout.Binding{Scheme: "an installation", File: "an.scheme.yaml", Revision: "A", Date: "2026-03-14", Hash: "0123abcd"}

// spaced is a number before a unit with a space that may break.
var spaced = regexp.MustCompile(`\d (m?[VAWΩ]|°C|mm²)([ ,;.)]|$)`)

// looks complains of the looks of the pages, on both papers.
func looks(t testing.TB, name string, p commission.Procedure) {
	t.Helper()
	for _, paper := range []layout.Paper{layout.A4, layout.Letter} {
		leaves := commission.Pages(p, paper, nil)
		if len(leaves) == 0 || leaves[0].Name != "commissioning" || len(leaves) > 1 && leaves[1].Name != "commissioning.2" {
			t.Errorf("%s: leaves are called %v", name, leaves)
		}
		for i, page := range bound.Bind(leaves) {
			for _, c := range pagetest.Complaints(page.Scene) {
				t.Errorf("%s, %s, page %d: %s", name, paper.Name, i+1, c)
			}
			for _, words := range pagetest.Words(page.Scene) {
				if spaced.MatchString(words) {
					t.Errorf("%s, %s, page %d: a number and its unit are apart: %q", name, paper.Name, i+1, words)
				}
				if strings.Contains(words, "…") || strings.Contains(words, "NaN") || strings.Contains(words, "Inf") || strings.Contains(words, "undefined") || strings.Contains(words, "e−") {
					t.Errorf("%s, %s, page %d: %q", name, paper.Name, i+1, words)
				}
			}
		}
	}
}

func TestPagesOfExamples(t *testing.T) {
	for _, name := range names(t) {
		looks(t, name, example(t, name).p)
	}
}

// byGauge sets cross-sections as pages do that name wire by gauge.
func byGauge(v unit.SquareMetre) string {
	return layout.Unbroken(v.Gauge()) + " (" + layout.Nominal(v) + ")"
}

// Wire by gauge is named with its mm², and the factor by which its copper reads lower.
func TestPagesWithGauges(t *testing.T) {
	said := ""
	for _, name := range []string{"footbridge", "library-atrium"} {
		for i, page := range bound.Bind(commission.Pages(example(t, name).p, layout.Letter, byGauge)) {
			for _, c := range pagetest.Complaints(page.Scene) {
				t.Errorf("%s, page %d: %s", name, i+1, c)
			}
			said += strings.Join(pagetest.Words(page.Scene), " ") + " "
		}
	}
	for _, want := range []string{"12 AWG (2.5 mm²): × 0.75", "10 AWG (4 mm²): × 0.76", "6 AWG (10 mm²): × 0.75"} { // 3.31, 5.26 and 13.3 mm², ASTM B258
		if !strings.Contains(strings.ReplaceAll(said, layout.Thin, " "), want) {
			t.Errorf("no %q", want)
		}
	}
}

// boxes are those to write in on the pages of a procedure.
func boxes(p commission.Procedure, paper layout.Paper) (list []draw.Box) {
	for _, leaf := range commission.Pages(p, paper, nil) {
		for _, path := range leaf.Layers[0].Paths {
			if len(path.Steps) >= 4 && path.Fill == draw.None {
				box := draw.Box{Min: path.Steps[0].To, Max: path.Steps[2].To}
				list = append(list, box)
			}
		}
	}
	return list
}

// Every step has a field of its own, in a worksheet or in a list, and on paper a box that one can write in; a point of the thermal look has two.
func TestEveryStepHasItsBox(t *testing.T) {
	for _, name := range names(t) {
		p := example(t, name).p
		want := 0
		for _, g := range p.Stages {
			fields := map[commission.Fill]bool{}
			for _, w := range g.Sheets {
				for _, r := range w.Rows {
					for _, c := range w.Columns {
						if c.Field != "" {
							fields[commission.Fill{Sheet: w.Name, Row: r.Name, Field: c.Field}] = true
						}
					}
				}
			}
			for _, s := range g.Steps {
				want++
				if s.Fill.Sheet == "heat" {
					want++
				}
				if s.Fill == (commission.Fill{}) {
					continue
				}
				if !fields[s.Fill] {
					t.Errorf("%s: %s has no field of its own at %+v", name, s.Do, s.Fill)
				}
				delete(fields, s.Fill)
			}
		}
		found := boxes(p, layout.A4)
		if len(found) != want {
			t.Errorf("%s: %d boxes for %d", name, len(found), want)
		}
		for _, b := range found {
			if wide, high := b.Width(), b.Max.Y-b.Min.Y; high < 5.5-1e-9 || wide < 5 || wide > 10 && wide < 14-1e-9 {
				t.Errorf("%s: a box of %.1f mm by %.1f mm", name, wide, high)
			}
		}
	}
}

// One carries it up a ladder. Letter is shorter than A4, and wire by gauge takes more room.
func TestHowManyPages(t *testing.T) {
	for name, most := range map[string][2]int{"footbridge": {8, 9}, "library-atrium": {15, 16}} {
		p := example(t, name).p
		if n := [2]int{len(commission.Pages(p, layout.A4, nil)), len(commission.Pages(p, layout.Letter, byGauge))}; n[0] > most[0] || n[1] > most[1] {
			t.Errorf("%s takes %d pages of A4 and %d of Letter", name, n[0], n[1])
		}
	}
}

// Things lead to where they are drawn.
func TestRowsLeadToDrawings(t *testing.T) {
	to := map[string]bool{}
	for _, leaf := range commission.Pages(example(t, "footbridge").p, layout.A4, nil) {
		for _, link := range leaf.Links {
			to[link.To] = true
		}
	}
	for _, want := range []string{"run-E1", "run-E2", "face-A1", "cables", "supplies"} {
		if !to[want] {
			t.Errorf("nothing leads to %s", want)
		}
	}
}

// Names that are long, and cells taller than a page, are broken over lines and pages.
func TestLongWords(t *testing.T) {
	long := strings.Repeat("west handrail of the second bridge ", 40)
	name := strings.Repeat("opening of the second bridge ", 3)
	longer := strings.Repeat(long, 8) + strings.Repeat("x", 60)
	there := commission.Fill{Sheet: long, Row: long, Field: long}
	p := commission.Procedure{Stages: []commission.Stage{{
		Name: long, Why: long, Stop: long,
		Steps: []commission.Step{
			{Do: long, State: "dark", Expect: long, Between: [2]string{long, strings.Repeat("connector/pluggable-5.08mm-", 5) + strings.Repeat("x", 60)}},
			{Do: long, Expect: long, Reading: &commission.Reading{Kind: commission.Volts, Is: 5, Low: 4.9, High: 5.1}, Rests: long, Fill: there},
			{Do: longer, Expect: longer},
		},
		Sheets: []commission.Worksheet{{
			Name: long, Title: long, Notes: []string{long}, Rows: []commission.Row{{Name: long, Words: []string{long, longer}}},
			Columns: []commission.Column{{Head: "Thing"}, {Head: "Where"}, {Head: "Volts", Over: name, Field: long, Kind: commission.Measured}, {Head: "Done", Over: name, Field: long, Kind: commission.Ticked}, {Head: "How", Field: long, Kind: commission.How}},
		}},
	}}}
	looks(t, "long", p)
}

func TestSameBytesTwice(t *testing.T) {
	st := read(t, byHand)
	var first []byte
	for range 2 {
		var all []byte
		for _, page := range bound.Bind(commission.Pages(of(t, st), layout.A4, nil)) {
			svg, err := draw.SVG(page.Scene)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, svg...)
		}
		if first != nil && !bytes.Equal(first, all) {
			t.Error("two procedures of one study differ on paper")
		}
		first = all
	}
}
