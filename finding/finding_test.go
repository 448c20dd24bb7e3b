package finding_test

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"testing"

	"farend/finding"
)

// The tokens and pointers of RFC 6901, section 5.
func TestPointerEscapesAsTheStandardAsks(t *testing.T) {
	for token, want := range map[string]string{
		"foo": "/foo", "": "/", "a/b": "/a~1b", "c%d": "/c%d", "e^f": "/e^f", "g|h": "/g|h", `i\j`: `/i\j`, `k"l`: `/k"l`, " ": "/ ", "m~n": "/m~0n",
		"~1": "/~01", // section 4: it must not become "/" when it is read
	} {
		if got := finding.Pointer(token); got != want {
			t.Errorf("%q becomes %q, want %q", token, got, want)
		}
	}
	for want, keys := range map[string][]string{"": nil, "/foo/0": {"foo", "0"}, "/parts/tape~1mine/rail": {"parts", "tape/mine", "rail"}} {
		if got := finding.Pointer(keys...); got != want {
			t.Errorf("%q becomes %q, want %q", keys, got, want)
		}
	}
}

func TestFindingsAreOrderedWorstFirstThenCausesThenByName(t *testing.T) {
	want := []finding.Finding{
		{Grade: finding.Danger, Rank: 3, Rule: "b/x", Subject: "W9"},
		{Grade: finding.Fails, Rule: "z/x", Subject: "E9"},
		{Grade: finding.Fails, Rank: 1, Rule: "y/x", Subject: "E8"},
		{Grade: finding.Fails, Rank: 2, Rule: "a/x", Subject: "E2"},
		{Grade: finding.Fails, Rank: 2, Rule: "a/x", Subject: "W1", Case: "dark"},
		{Grade: finding.Fails, Rank: 2, Rule: "a/x", Subject: "W1", Case: "state/full"},
		{Grade: finding.Fails, Rank: 2, Rule: "a/x", Subject: "W2"},
		{Grade: finding.Fails, Rank: 2, Rule: "a/x", Subject: "W10"},
		{Grade: finding.Fails, Rank: 2, Rule: "b/x", Subject: "A1"},
		{Grade: finding.Unknown, Rule: "a/x"},
		{Grade: finding.Tight, Rule: "a/x"},
		{Grade: finding.Note, Rule: "a/x"},
		{Grade: finding.Pass, Rule: "a/x"},
	}
	order := func(f finding.Finding) string { return f.Grade.String() + f.Rule + f.Subject + f.Case }
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		got := slices.Clone(want)
		random.Shuffle(len(got), func(i, j int) { got[i], got[j] = got[j], got[i] })
		finding.Sort(got)
		for i := range got {
			if order(got[i]) != order(want[i]) {
				t.Fatalf("place %d has %s, want %s", i, order(got[i]), order(want[i]))
			}
		}
	}
}

func TestOrderKeepsEqualFindingsAsTheyCame(t *testing.T) {
	got := []finding.Finding{{Rule: "a/x", Text: "first"}, {Rule: "a/x", Text: "second"}}
	finding.Sort(got)
	if got[0].Text != "first" {
		t.Error("equal findings changed places")
	}
}

func TestNamesAreOrderedAsPeopleSortThem(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"W2", "W10", -1}, {"W10", "W2", 1}, {"W2", "W2", 0}, {"A1.2", "A1.10", -1}, {"W02", "W2", -1}, {"E1", "W1", -1}, {"W", "W1", -1}, {"", "W", -1}} {
		if got := finding.Natural(c.a, c.b); got != c.want {
			t.Errorf("%q before %q: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestOnlyHarmFailureAndUnknownSafetyBlock(t *testing.T) {
	for _, c := range []struct {
		name string
		list []finding.Finding
		want bool
	}{
		{"nothing found", nil, false},
		{"a pass, a note and a tight one", []finding.Finding{{}, {Grade: finding.Note, Safety: true}, {Grade: finding.Tight, Safety: true}}, false},
		{"an unknown of a rule of comfort", []finding.Finding{{Grade: finding.Unknown}}, false},
		{"an unknown of a safety rule", []finding.Finding{{Grade: finding.Note}, {Grade: finding.Unknown, Safety: true}}, true},
		{"a failure of comfort", []finding.Finding{{Grade: finding.Fails}}, true},
		{"a danger", []finding.Finding{{Grade: finding.Danger}}, true},
	} {
		if got := finding.Blocks(c.list); got != c.want {
			t.Errorf("%s: blocks %v, want %v", c.name, got, c.want)
		}
	}
}

func TestWorstOfFindings(t *testing.T) {
	if got := finding.Worst(nil); got != finding.Pass {
		t.Errorf("the worst of none is %v", got)
	}
	if got := finding.Worst([]finding.Finding{{Grade: finding.Note}, {Grade: finding.Fails}, {Grade: finding.Unknown}}); got != finding.Fails {
		t.Errorf("the worst is %v, want fails", got)
	}
}

func TestGradesHaveAWordAndALetterEach(t *testing.T) {
	words, letters := map[string]bool{}, map[string]bool{}
	for g := finding.Pass; g <= finding.Danger; g++ {
		text, err := json.Marshal(g)
		if err != nil || string(text) != `"`+g.String()+`"` || words[g.String()] || letters[g.Letter()] {
			t.Errorf("grade %d: %s %q (%v)", int(g), text, g.Letter(), err)
		}
		words[g.String()], letters[g.Letter()] = true, true
	}
}

func TestAnEditThatRemovesSaysNull(t *testing.T) {
	text, err := json.Marshal(finding.Edit{Path: "/data/D1/power"})
	if want := `{"path":"/data/D1/power","value":null}`; err != nil || string(text) != want {
		t.Errorf("it writes %s (%v), want %s", text, err, want)
	}
}
