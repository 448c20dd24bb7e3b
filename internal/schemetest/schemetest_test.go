package schemetest_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"farend/finding"
	"farend/internal/schemetest"
)

func TestWantsAreReadFromComments(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x.scheme.yaml")
	text := "a: 1\nb: 2 # want danger \"p/q\" \"some text\" tight \"r/s\" \"more\"\n# wanted\nc: 3 #want note \"p/q\" \"n\"\n"
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	want := []schemetest.Want{{2, "danger", "p/q", "some text"}, {2, "tight", "r/s", "more"}, {4, "note", "p/q", "n"}}
	if got := schemetest.Wants(t, path); !slices.Equal(got, want) {
		t.Errorf("they are %v, want %v", got, want)
	}
}

func TestWantsAndFindingsAreHeldAgainstEachOther(t *testing.T) {
	f := finding.Finding{Grade: finding.Fails, Rule: "p/q", Text: "W1 carries 3 A.", Pos: finding.Pos{Line: 4}}
	note := finding.Finding{Grade: finding.Note, Rule: "p/n", Text: "rounded", Pos: finding.Pos{Line: 4}}
	w := schemetest.Want{Line: 4, Grade: "fails", Rule: "p/q", Text: "3 A"}
	with := func(change func(*schemetest.Want)) []schemetest.Want {
		other := w
		change(&other)
		return []schemetest.Want{other}
	}
	for _, c := range []struct {
		name     string
		wants    []schemetest.Want
		findings []finding.Finding
		want     int // complaints
	}{
		{"a want that is met", []schemetest.Want{w}, []finding.Finding{f}, 0},
		{"a finding nobody wants", nil, []finding.Finding{f}, 1},
		{"a note nobody wants", nil, []finding.Finding{note}, 0},
		{"a note that is wanted and missing", with(func(w *schemetest.Want) { w.Grade, w.Rule = "note", "p/n" }), nil, 1},
		{"a want nothing meets", []schemetest.Want{w}, nil, 1},
		{"one finding for two wants", []schemetest.Want{w, w}, []finding.Finding{f}, 1},
		{"two findings for one want", []schemetest.Want{w}, []finding.Finding{f, f}, 1},
		{"another line", with(func(w *schemetest.Want) { w.Line = 5 }), []finding.Finding{f}, 2},
		{"another grade", with(func(w *schemetest.Want) { w.Grade = "danger" }), []finding.Finding{f}, 2},
		{"another rule", with(func(w *schemetest.Want) { w.Rule = "p/r" }), []finding.Finding{f}, 2},
		{"another text", with(func(w *schemetest.Want) { w.Text = "4 A" }), []finding.Finding{f}, 2},
	} {
		if got := schemetest.Compare(c.wants, c.findings); len(got) != c.want {
			t.Errorf("%s: %d complaints, want %d: %q", c.name, len(got), c.want, got)
		}
	}
}
