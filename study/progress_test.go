package study_test

import (
	"context"
	"maps"
	"slices"
	"testing"

	"farend/examples"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

func footbridge(t *testing.T) *scheme.Scheme {
	t.Helper()
	source, err := examples.Files.ReadFile("footbridge.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, mistakes := scheme.Read("footbridge.scheme.yaml", source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	return s
}

func TestProgressCountsEveryCaseOnce(t *testing.T) {
	var told []int
	st, err := study.New(t.Context(), footbridge(t), &study.Options{Progress: func(done, total int) {
		if total != 6 {
			t.Errorf("it tells of %d cases", total)
		}
		told = append(told, done)
	}})
	if err != nil || !slices.Equal(told, []int{0, 1, 2, 3, 4, 5, 6}) || len(st.Cases()) != 6 {
		t.Errorf("it tells %v of %d cases (%v)", told, len(st.Cases()), err)
	}
	if _, err := study.New(t.Context(), footbridge(t), nil); err != nil {
		t.Errorf("without options: %v", err)
	}
}

func TestAStudyEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	st, err := study.New(ctx, footbridge(t), &study.Options{Progress: func(done, _ int) {
		if done == 1 {
			cancel()
		}
	}})
	if st != nil || err != context.Canceled {
		t.Errorf("cancelled after its first case, a study is %v, %v", st, err)
	}
}

// Each stage of what follows is told from nothing to all of it, one after the other.
func TestEveryStageIsToldToItsEnd(t *testing.T) {
	var order []study.Stage
	last := map[study.Stage]int{}
	st, err := study.New(t.Context(), footbridge(t), &study.Options{Striking: study.Always, Following: func(stage study.Stage, done, total int) {
		if len(order) == 0 || order[len(order)-1] != stage {
			if done != 0 {
				t.Errorf("stage %d begins with %d of %d", stage, done, total)
			}
			order = append(order, stage)
		} else if done != last[stage]+1 || done > total {
			t.Errorf("stage %d is told %d of %d after %d", stage, done, total, last[stage])
		}
		last[stage] = done
	}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []study.Stage{study.Strikes, study.Outages, study.Silences, study.Joints, study.Divisions}; !slices.Equal(order, want) {
		t.Errorf("stages %v, want %v", order, want)
	}
	want := map[study.Stage]int{
		study.Strikes: len(st.Faults()), study.Outages: len(st.Network.Outages()), study.Joints: len(st.Bad()), study.Divisions: len(st.Scheme.Runs), study.Silences: last[study.Silences],
	}
	if !maps.Equal(last, want) || last[study.Silences] < len(st.Silent()) {
		t.Errorf("told %v, want %v", last, want)
	}
}
