package rulebook_test

import (
	"os"
	"slices"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
)

// Where silent power has edits they make less of it at its place and no more at any other, and nothing fails that did not. A smaller fuse loses a little
// more, and a short that rested on the limit of a supply may now take long until it has ended: that is tight, and told.
func TestSilentPowerIsLessWithItsEdits(t *testing.T) {
	tried := 0
	for _, path := range everyScheme(t) {
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		sch, mistakes := scheme.Read(path, source, parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		pixels := 0
		for _, r := range sch.Runs {
			pixels += r.Count
		}
		if pixels > large {
			continue
		}
		s := schemetest.Study(t, path)
		if s.Struck() == nil {
			if s, err = study.New(t.Context(), sch, &study.Options{Striking: study.Always}); err != nil {
				t.Fatal(err)
			}
		}
		of := func(list []finding.Finding) (f finding.Finding, ok bool) {
			i := slices.IndexFunc(list, func(f finding.Finding) bool { return f.Rule == "protection/silent-power" })
			if i < 0 {
				return finding.Finding{}, false
			}
			return list[i], true
		}
		before := s.Findings(s.Assess(rulebook.All()))
		f, told := of(before)
		if !told || f.Edits == nil {
			continue
		}
		tried++
		revision, err := s.Edit(t.Context(), source, f.Edits)
		if err != nil || revision.Study == nil {
			t.Fatalf("%s: %v cannot be made: %v, %v", path, f.Edits, err, revision.Mistakes)
		}
		if revision.Study.Struck() == nil {
			t.Fatalf("%s: no faults were followed after %v", path, f.Edits)
		}
		after := revision.Study.Findings(revision.Study.Assess(rulebook.All()))
		was, is := at(t, s, f.At), at(t, revision.Study, f.At) // another place may be the worst then
		if g, still := of(after); is.Watts >= was.Watts*(1-1e-6) || still && *g.Value > *f.Value*(1+1e-6) {
			t.Errorf("%s: %v makes it no less: %s; then %v at %s, and %s", path, f.Edits, f.Text, is.Watts, f.At, g.Text)
		}
		for _, worse := range worseThan(s, revision.Study, before, after, finding.Fails) {
			t.Errorf("%s: %v brings %s", path, f.Edits, worse)
		}
	}
	if tried < 5 {
		t.Errorf("silent power has edits in %d schemes only", tried)
	}
}

// at is the silent power of a place.
func at(t *testing.T, s *study.Study, place string) study.Silent {
	t.Helper()
	p, ok, err := s.SilentAt(t.Context(), place)
	if err != nil || !ok {
		t.Fatalf("%s: %v, %v", place, ok, err)
	}
	return p
}
