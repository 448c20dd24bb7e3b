package rulebook_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/remedy"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// bar is a scheme of which some findings can be mended only together: their edits alone bring what is as bad.
const bar = "../remedy/testdata/together/bar.scheme.yaml"

// slowToMend takes as long as all others together; it is mended where all remedies are tried, too (-all-remedies).
const slowToMend = "library-atrium-altered"

// What is mended is no worse than it was, has no board exchanged twice, and is mended as far as it can be: mended again, it stays as it is.
func TestMendingTwiceChangesNothingTheSecondTime(t *testing.T) {
	changed := 0
	for _, path := range append(everyScheme(t), bar) {
		if strings.Contains(path, slowToMend) && !*allRemedies {
			continue
		}
		t.Run(strings.TrimPrefix(filepath.ToSlash(path), "../"), func(t *testing.T) {
			st, m := schemetest.Study(t, path), mended(t, path)
			changed += len(m.Steps)
			if !m.Settled || remedy.Worse(st.Findings(st.Assess(rulebook.All())), m.Findings) {
				t.Errorf("after %d rounds, settled: %v: %v", m.Rounds, m.Settled, m.Findings)
			}
			exchangedOnce(t, m)
			if len(m.Steps) == 0 {
				return // a second time would be this once more
			}
			again, err := remedy.Mend(t.Context(), studied(t, m.Text), m.Text, rulebook.All(), func(int) {})
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range again.Steps {
				t.Errorf("a second time: %s for %s", s.Words, s.Finding.ID)
			}
			if !bytes.Equal(again.Text, m.Text) || len(again.Left) != len(m.Left) {
				t.Errorf("a second time %d changes are not kept, %d at first", len(again.Left), len(m.Left))
			}
		})
	}
	if changed == 0 {
		t.Error("nothing is mended in any scheme")
	}
}

// barMended is the bar as it is mended, once a test has asked for it.
var barMended atomic.Pointer[remedy.Mended]

// mended mends a scheme that is kept.
func mended(t *testing.T, path string) *remedy.Mended {
	t.Helper()
	if m := barMended.Load(); m != nil && path == bar {
		return m
	}
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	m, err := remedy.Mend(t.Context(), schemetest.Study(t, path), source, rulebook.All(), func(int) {})
	if err != nil {
		t.Fatal(err)
	}
	if path == bar {
		barMended.Store(m)
	}
	return m
}

// studied studies a scheme given as text.
func studied(t *testing.T, text []byte) *study.Study {
	t.Helper()
	sch, mistakes := scheme.Read("mended.scheme.yaml", text, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	st, err := study.New(t.Context(), sch)
	if err != nil {
		t.Fatal(err)
	}
	return st
}

// exchangedOnce checks that no place is changed in two steps.
func exchangedOnce(t *testing.T, m *remedy.Mended) {
	t.Helper()
	seen := map[string]bool{}
	for _, s := range m.Steps {
		for _, e := range s.Edits {
			if seen[e.Path] && !strings.HasSuffix(e.Path, "/-") {
				t.Errorf("%s is changed twice", e.Path)
			}
			seen[e.Path] = true
		}
	}
}

// At the bar a danger can be mended only together with what its mending brings: thicker cores let more flow, and the rails need one more
// feed. Nothing is bought there for millivolts.
func TestThickerCoresComeWithOneMoreFeed(t *testing.T) {
	st, m := schemetest.Study(t, bar), mended(t, bar)
	before := map[string]finding.Grade{}
	for _, f := range st.Findings(st.Assess(rulebook.All())) {
		before[f.ID] = f.Grade
	}
	after := map[string]finding.Grade{}
	for _, f := range m.Findings {
		after[f.ID] = f.Grade
	}
	for _, id := range []string{"protection/coordination:W6", "protection/cable-current:W6"} {
		if before[id] != finding.Danger || after[id] > finding.Note {
			t.Errorf("%s is %v, then %v", id, before[id], after[id])
		}
	}
	if after["protection/rail-current:E2"] >= finding.Danger {
		t.Error("the rails of E2 carry what they must not")
	}
	for _, s := range m.Steps {
		if s.Finding.Grade <= finding.Tight {
			t.Errorf("%s for %s, which is only tight", s.Words, s.Finding.ID)
		}
	}
}
