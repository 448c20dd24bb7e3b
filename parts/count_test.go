package parts_test

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"farend/parts"
)

var update = flag.Bool("update", false, "write docs/catalogue.md anew; read the difference before believing it")

// docs/catalogue.md counts the numbers of the catalogue by kind and by basis, so that a number that is called something better or
// worse shows in review.
func TestTheCatalogueIsCounted(t *testing.T) {
	const path = "../docs/catalogue.md"
	want := counts(decode(t))
	t.Log("\n" + want)
	if *update {
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil || string(got) != want {
		t.Errorf("%s is stale: go test ./parts -update, and read the difference (%v)", path, err)
	}
}

// counts is the page: a row for each kind, a column for each basis.
func counts(all map[string][]parts.Fact) string {
	var b strings.Builder
	b.WriteString("# The catalogue\n\nWritten from the catalogue itself by `go test ./parts -update`: how many parts there are of each kind, and on what their numbers and words rest, the most " +
		"trustworthy first. `farend parts NAME` shows the basis and the source of each.\n\n")
	bases := parts.Bases()[:len(parts.Bases())-1] // nothing in it is unstated
	row := func(first string, of func(basis string) int, number int) {
		fmt.Fprintf(&b, "| %s | %d |", first, number)
		for _, basis := range bases {
			fmt.Fprintf(&b, " %d |", of(string(basis)))
		}
		b.WriteString("\n")
	}
	b.WriteString("| kind | parts |")
	for _, basis := range bases {
		b.WriteString(" " + string(basis) + " |")
	}
	b.WriteString("\n|---|" + strings.Repeat("---:|", len(bases)+1) + "\n")
	total, sum := 0, map[string]int{}
	for _, kind := range parts.Kinds() {
		number, of := 0, map[string]int{}
		for name, facts := range all {
			if parts.Kind(name) != kind {
				continue
			}
			number++
			for _, f := range facts {
				if !pointer(f) {
					of[f.Basis]++
					sum[f.Basis]++
				}
			}
		}
		total += number
		row(kind, func(basis string) int { return of[basis] }, number)
	}
	row("all", func(basis string) int { return sum[basis] }, total)
	return b.String()
}
