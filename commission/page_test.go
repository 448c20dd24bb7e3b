package commission_test

import (
	"bytes"
	"math/rand"
	"regexp"
	"strings"
	"testing"

	"farend/commission"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/layout"
)

func random(seed int64) string {
	return schemetest.Text(schemetest.Random(rand.New(rand.NewSource(seed))), schemetest.AsWritten)
}

var bound = layout.Binding{Scheme: "an installation", File: "an.scheme.yaml", Revision: "A", Date: "2026-03-14", Hash: "0123abcd"}

// spaced is a number before a unit with a space that may break.
var spaced = regexp.MustCompile(`\d (m?[VAWΩ]|°C|mm²)([ ,;.)]|$)`)

// looks complains of the looks of the pages, on both papers.
func looks(t testing.TB, name string, p commission.Procedure) {
	t.Helper()
	for _, paper := range []layout.Paper{layout.A4, layout.Letter} {
		leaves := commission.Pages(p, paper, nil)
		if len(leaves) == 0 || leaves[0].Name != "commissioning" || len(leaves) > 1 && leaves[1].Name != "commissioning-2" {
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

// Every step is on a page once, with its number.
func TestEveryStepIsOnPaperOnce(t *testing.T) {
	p := example(t, "footbridge").p
	numbers := map[string]int{}
	for _, page := range bound.Bind(commission.Pages(p, layout.A4, nil)) {
		for _, words := range pagetest.Words(page.Scene) {
			numbers[words]++
		}
	}
	for i, g := range p.Stages {
		for k := range g.Steps {
			if n := numbers[number(i, k)]; n != 1 {
				t.Errorf("step %s is there %d times", number(i, k), n)
			}
		}
	}
}

// Names that are long, and cells taller than a page, are broken over lines and pages.
func TestLongWords(t *testing.T) {
	long := strings.Repeat("west handrail of the second bridge ", 40)
	p := commission.Procedure{Stages: []commission.Stage{{Name: long, Why: long, Stop: long, Steps: []commission.Step{{Do: long, State: "dark", Expect: long, Between: [2]string{long, strings.Repeat("connector/pluggable-5.08mm-", 5) + strings.Repeat("x", 60)}}}}}}
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
