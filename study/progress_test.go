package study_test

import (
	"context"
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
