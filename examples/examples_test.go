package examples_test

import (
	"context"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
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

// What an example is about stands in ten lines at its head. The watts that it names there are those of a place that a fault may make for ever, to as many
// figures as are given; what it says of returns and feeds that come loose is so.
func TestStoriesAreShortAndTrue(t *testing.T) {
	watts := regexp.MustCompile(`([0-9.]+) W\b`)
	for name := range schemes(t) {
		source, err := examples.Files.ReadFile(name + ending)
		if err != nil {
			t.Fatal(err)
		}
		head, _, _ := strings.Cut(string(source), "\nfarend:")
		lines := strings.Split(strings.ReplaceAll(head, "#\n", ""), "\n")
		if len(lines) > 10 {
			t.Errorf("%s: its story takes %d lines", name, len(lines))
		}
		told := watts.FindAllStringSubmatch(strings.Join(lines, " "), -1)
		if len(told) == 0 {
			t.Errorf("%s does not say what a fault may make for ever", name)
		}
		for _, m := range told {
			_, decimals, _ := strings.Cut(m[1], ".")
			is := slices.ContainsFunc(studied(t, name).Silent(), func(p study.Silent) bool {
				return strconv.FormatFloat(float64(p.Watts), 'f', len(decimals), 64) == m[1]
			})
			if !is {
				t.Errorf("%s: at no place may a fault make %s for ever", name, m[0])
			}
		}
	}
	for _, claim := range []struct {
		name, outs string
		dark, off  bool
		least      finding.Grade
		most       finding.Grade
	}{
		{"footbridge", `^A1\.\d+\.return$`, false, false, finding.Pass, finding.Note},
		{"footbridge-two-feeds", `^A1\.[1346]\.return$`, false, true, finding.Fails, finding.Danger},
		{"footbridge-two-feeds", `^A1\.[1346]\.fuse$`, false, true, finding.Pass, finding.Danger},
		{"cafe-canopy", `^W([2-9]|1\d)\.return$`, false, false, finding.Pass, finding.Note},
		{"cafe-canopy-hasty", `^W[34]$`, false, true, finding.Pass, finding.Danger},
	} {
		met := 0
		for _, o := range studied(t, claim.name).Lost().Worst() {
			if !regexp.MustCompile(claim.outs).MatchString(o.Out) {
				continue
			}
			met++
			if len(o.Dark) > 0 != claim.dark || len(o.Off) > 0 != claim.off || o.Grade() < claim.least || o.Grade() > claim.most {
				t.Errorf("%s with %s out: dark %v, off colour %v, %v", claim.name, o.Out, o.Dark, o.Off, o.Grade())
			}
		}
		if met < 2 {
			t.Errorf("%s: only %d outages like %s", claim.name, met, claim.outs)
		}
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
	s := studied(t, name)
	found[name] = s.Findings(s.Assess(rulebook.All()))
	return found[name]
}

// studies keeps what was made of each example.
var studies = map[string]*study.Study{}

// studied is the study of an example, faults and all however long they take.
func studied(t *testing.T, name string) *study.Study {
	t.Helper()
	if known, done := studies[name]; done {
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
	s, err := study.New(context.Background(), sch, &study.Options{Striking: study.Always})
	if err != nil {
		t.Fatal(err)
	}
	studies[name] = s
	return s
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
