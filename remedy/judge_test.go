package remedy

import (
	"reflect"
	"testing"

	"farend/finding"
)

// What a later step changes again is changed once, in the step that changed it first; what is put at the end of a list is no place.
func TestWhatIsChangedTwiceIsToldOnce(t *testing.T) {
	cable := map[string]any{"part": "cable/flex-2x1", "fuse": "fuse/inline-5A"}
	cut := map[string]any{"at": "px50"}
	steps := []Step{
		{Edits: []finding.Edit{edit("5.1 V", "supplies", "T1", "volts"), edit(cable, "cables", "W7")}},
		{Edits: []finding.Edit{edit(cut, "runs", "E1", "cuts", "-"), edit("5.2 V", "supplies", "T1", "volts")}},
		{Edits: []finding.Edit{edit(cut, "runs", "E1", "cuts", "-"), edit("cable/flex-2x2.5", "cables", "W7", "part"), edit(nil, "cables", "W7", "fuse"), edit("x", "cables", "W70", "part")}},
	}
	want := [][]finding.Edit{
		{edit("5.2 V", "supplies", "T1", "volts"), edit(map[string]any{"part": "cable/flex-2x2.5"}, "cables", "W7")},
		{edit(cut, "runs", "E1", "cuts", "-")},
		{edit(cut, "runs", "E1", "cuts", "-"), edit("x", "cables", "W70", "part")},
	}
	got, changed := once(steps)
	if !changed || !reflect.DeepEqual(got, want) {
		t.Errorf("%v: %v", changed, got)
	}
	if len(cable) != 2 || cable["part"] != "cable/flex-2x1" {
		t.Errorf("the edits of a step are changed: %v", cable)
	}
	if _, changed := once(steps[:1]); changed {
		t.Error("one step changes nothing twice")
	}
}

// Edits for a grade leave no more of it, nor of one above; of one below they may, where there are fewer above.
func TestNoGradeGrowsForALowerOne(t *testing.T) {
	list := func(grades ...finding.Grade) draft {
		var d draft
		for i, g := range grades {
			d.findings = append(d.findings, finding.Finding{ID: string(rune('a' + i)), Grade: g})
		}
		return d
	}
	const none = finding.Pass
	for _, c := range []struct {
		before, after draft
		least         finding.Grade
		kept          bool
	}{
		{list(finding.Danger, none), list(none, finding.Fails), finding.Danger, true},
		{list(finding.Danger, none), list(none, finding.Fails), finding.Fails, false},
		{list(finding.Fails, none, none), list(none, finding.Tight, finding.Tight), finding.Fails, true},
		{list(finding.Fails, none), list(finding.Fails, finding.Tight), finding.Fails, false},
		{list(finding.Tight, none), list(none, finding.Danger), finding.Tight, false},
		{list(finding.Tight, none), list(none, none), finding.Tight, true},
	} {
		if no := more(c.before, c.after, c.least); (no == nil) != c.kept {
			t.Errorf("%v to %v for %v: %+v", c.before.findings, c.after.findings, c.least, no)
		}
	}
}

// Five more changes that do as much as the last are what is waited for.
func TestSmallStepsFarFromTheLimitAreHopeless(t *testing.T) {
	at := func(margin float64) finding.Finding { return finding.Finding{Margin: &margin} }
	for _, c := range []struct {
		was, is finding.Finding
		want    bool
	}{
		{at(-0.405), at(-0.383), true},
		{at(-0.4), at(-0.3), false},
		{at(0.01), at(0.02), false},
		{finding.Finding{}, at(-1), false},
	} {
		if got := hopeless(c.was, c.is); got != c.want {
			t.Errorf("%v to %v: %v", c.was.Margin, c.is.Margin, got)
		}
	}
}
