package examples_test

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"farend/examples"
	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

var update = flag.Bool("update", false, "write the findings of the examples anew")

const (
	ending = ".scheme.yaml"
	golden = ".findings.txt"
)

// Each line of a golden file is one finding: its grade, identifier, case, value and limit to four figures, and unit. What the
// numbers should be is tested elsewhere; this test says when one of them changes.
func TestFindingsOfTheExamplesAreAsWritten(t *testing.T) {
	for name := range schemes(t) {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join("testdata", name+golden)
			got := listed(findings(t, name))
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatalf("%v: go test ./examples -update writes it", err)
			}
			if got != string(want) {
				t.Errorf("the findings are\n%s\nwritten is\n%s\ngo test ./examples -update writes them anew", got, want)
			}
		})
	}
}

// The broken ones say beside their lines what a check finds in them; in the others it finds nothing worse than a note.
func TestEveryExampleShowsWhatItSaysAndNoMore(t *testing.T) {
	for name := range schemes(t) {
		for _, complaint := range schemetest.Compare(schemetest.Wants(t, name+ending), findings(t, name)) {
			t.Errorf("%s: %s", name, complaint)
		}
	}
}

// Each example that passes has a twin in which something went wrong.
func TestEveryPassingExampleHasABrokenTwin(t *testing.T) {
	for name := range schemes(t) {
		broken := 0
		for other := range schemes(t) {
			if strings.HasPrefix(other, name+"-") {
				broken++
			}
		}
		if fine := !finding.Blocks(findings(t, name)); fine != (broken > 0) {
			t.Errorf("%s passes: %v; it has %d broken twins", name, fine, broken)
		}
	}
}

func TestNoFindingsWithoutAnExample(t *testing.T) {
	known := schemes(t)
	paths, err := filepath.Glob("testdata/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if name, ok := strings.CutSuffix(filepath.Base(path), golden); !ok || !known[name] {
			t.Errorf("%s belongs to no example", path)
		}
	}
}

// schemes is the name of every example.
func schemes(t *testing.T) map[string]bool {
	t.Helper()
	paths, err := fs.Glob(examples.Files, "*"+ending)
	if err != nil || len(paths) == 0 {
		t.Fatalf("there are no examples (%v)", err)
	}
	names := map[string]bool{}
	for _, path := range paths {
		names[strings.TrimSuffix(path, ending)] = true
	}
	return names
}

// found keeps what was found in each example.
var found = map[string][]finding.Finding{}

func findings(t *testing.T, name string) []finding.Finding {
	t.Helper()
	if known, done := found[name]; done {
		return known
	}
	source, err := examples.Files.ReadFile(name + ending)
	if err != nil {
		t.Fatal(err)
	}
	sch, mistakes := scheme.Read(name+ending, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	s, err := study.New(context.Background(), sch)
	if err != nil {
		t.Fatal(err)
	}
	found[name] = s.Findings(s.Assess(rulebook.All()))
	return found[name]
}

func listed(findings []finding.Finding) string {
	var b strings.Builder
	for _, f := range findings {
		fmt.Fprintf(&b, "%-7s  %s", f.Grade, f.ID)
		if f.Case != "" {
			fmt.Fprintf(&b, "  in %s", f.Case)
		}
		if f.Value != nil && f.Limit != nil {
			fmt.Fprintf(&b, "  %.4g against %.4g %s", *f.Value, *f.Limit, f.Unit)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
