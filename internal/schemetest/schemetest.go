// Package schemetest tests rules by schemes that say in comments what should be found in them:
//
//	W2: {part: cable/flex-2x1.5, …}   # want danger "protection/cable-current" "may carry 16.5 A"
//
// A want stands on the line of its subject and names the grade, the rule and a part of the text; several may stand in one
// comment, one after the other. A finding worse than a note that nobody wants fails the test, and so does a want that
// nothing meets. The rules are given by the caller, so that a judge is tested by itself as well as among all.
package schemetest

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// Run reads every scheme that glob matches and compares what the rules find in it with its wants.
func Run(t *testing.T, glob string, rules []study.Rule) {
	t.Helper()
	for _, path := range Paths(t, glob) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".scheme.yaml"), func(t *testing.T) {
			s := Study(t, path)
			for _, complaint := range Compare(Wants(t, path), s.Findings(s.Assess(rules))) {
				t.Error(complaint)
			}
		})
	}
}

// Paths lists the files that glob matches. It fails the test when there is none.
func Paths(t testing.TB, glob string) []string {
	t.Helper()
	paths, err := filepath.Glob(glob)
	if err != nil || len(paths) == 0 {
		t.Fatalf("schemetest: no scheme matches %s (%v)", glob, err)
	}
	return paths
}

// studies are those of files as they are, by path.
var studies sync.Map

// Study reads and solves a scheme with the catalogue that comes with the program. Whoever asks for a path a second time gets the same
// study: nothing that asks a study changes it, and to solve it takes the most time of a test.
func Study(t testing.TB, path string) *study.Study {
	t.Helper()
	once, _ := studies.LoadOrStore(path, sync.OnceValues(func() (*study.Study, error) { return solved(path) }))
	s, err := once.(func() (*study.Study, error))()
	if err != nil {
		t.Fatalf("schemetest: %v", err)
	}
	return s
}

// Changed is a study of its own, with texts of the scheme replaced first: one text and what stands in its place, then the next. Each must
// be there once, so that none can be missed.
func Changed(t testing.TB, path string, pairs ...string) *study.Study {
	t.Helper()
	s, err := solved(path, pairs...)
	if err != nil {
		t.Fatalf("schemetest: %v", err)
	}
	return s
}

func solved(path string, pairs ...string) (*study.Study, error) {
	source, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		if n := bytes.Count(source, []byte(pairs[i])); n != 1 {
			return nil, fmt.Errorf("%s has %q %d times", path, pairs[i], n)
		}
		source = bytes.Replace(source, []byte(pairs[i]), []byte(pairs[i+1]), 1)
	}
	return made(path, source)
}

// made is a study of a text.
func made(name string, source []byte, options ...*study.Options) (*study.Study, error) {
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		return nil, mistakes
	}
	s, err := study.New(context.Background(), sch, options...)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return s, nil
}

// Unsolved is a study of a text without any solution, for what asks only how things are joined.
func Unsolved(t testing.TB, name, text string) *study.Study {
	t.Helper()
	s, mistakes := scheme.Read(name, []byte(text), parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatalf("%s: %v\n%s", name, mistakes, text)
	}
	n, err := network.New(s)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return &study.Study{Scheme: s, Network: n}
}

// UnsolvedFile is that of a file.
func UnsolvedFile(t testing.TB, path string) *study.Study {
	t.Helper()
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return Unsolved(t, path, string(source))
}

// unstruck are the studies of Unstruck, by path.
var unstruck sync.Map

// Unstruck is a study of a file without its faults. Like that of Study it is solved once.
func Unstruck(t testing.TB, path string) *study.Study {
	t.Helper()
	if st, ok := unstruck.Load(path); ok {
		return st.(*study.Study)
	}
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	st := UnstruckText(t, path, string(source))
	unstruck.Store(path, st)
	return st
}

// UnstruckText is a study of a text without its faults.
func UnstruckText(t testing.TB, name, text string) *study.Study {
	t.Helper()
	st, err := made(name, []byte(text), &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return st
}

// A Want is a finding that should be there.
type Want struct {
	Line  int
	Grade string
	Rule  string
	Text  string // a part of the finding's text
}

var (
	comment = regexp.MustCompile(`#\s*want\s(.*)$`)
	one     = regexp.MustCompile(`^\s*(danger|fails|unknown|tight|note) "([^"]+)" "([^"]+)"`)
)

// Wants reads the wants of a scheme. It fails the test where one cannot be read, so that a slip cannot pass for silence.
func Wants(t testing.TB, path string) []Want {
	t.Helper()
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("schemetest: %v", err)
	}
	var wants []Want
	lines := bufio.NewScanner(bytes.NewReader(source))
	for n := 1; lines.Scan(); n++ {
		m := comment.FindStringSubmatch(lines.Text())
		if m == nil {
			continue
		}
		for rest := m[1]; strings.TrimSpace(rest) != ""; {
			w := one.FindStringSubmatch(rest)
			if w == nil {
				t.Fatalf("schemetest: %s:%d: %q is no want: write a grade, \"rule\" and \"part of the text\"", path, n, rest)
			}
			wants = append(wants, Want{n, w[1], w[2], w[3]})
			rest = rest[len(w[0]):]
		}
	}
	return wants
}

// Compare lists what is wanted and was not found, and what was found, worse than a note, and is not wanted.
func Compare(wants []Want, findings []finding.Finding) []string {
	var complaints []string
	met := make([]bool, len(findings))
	for _, w := range wants {
		found := false
		for i, f := range findings {
			if !met[i] && w.meets(f) {
				met[i], found = true, true
				break
			}
		}
		if !found {
			complaints = append(complaints, fmt.Sprintf("line %d: no %s of %s that says %q", w.Line, w.Grade, w.Rule, w.Text))
		}
	}
	for i, f := range findings {
		if !met[i] && f.Grade > finding.Note {
			complaints = append(complaints, fmt.Sprintf("line %d: not wanted: %s %q %q", f.Pos.Line, f.Grade, f.Rule, f.Text))
		}
	}
	return complaints
}

func (w Want) meets(f finding.Finding) bool {
	return w.Line == f.Pos.Line && w.Grade == f.Grade.String() && w.Rule == f.Rule && strings.Contains(f.Text, w.Text)
}
