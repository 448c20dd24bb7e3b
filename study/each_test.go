package study_test

import (
	"context"
	"errors"
	"iter"
	"math"
	"reflect"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"

	"farend/circuit"
	"farend/examples"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// within is what following is certified for, in volts, with the rounding of reading; amps follow through copper of a milliohm
// and more.
const (
	within     = 1.1e-6
	withinAmps = 2e-3
)

func example(t testing.TB, name string, options ...*study.Options) (*study.Study, []byte) {
	t.Helper()
	source, err := examples.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	sch, mistakes := scheme.Read(name, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	st, err := study.New(context.Background(), sch, options...)
	if err != nil {
		t.Fatal(err)
	}
	return st, source
}

func allOutages(s *study.Study) iter.Seq[network.Case] {
	return func(yield func(network.Case) bool) {
		for _, in := range s.Cases() {
			for c := range s.Outages(in) {
				if !yield(c) {
					return
				}
			}
		}
	}
}

// TestEachOutageMeetsItsColdSolve streams every outage of every case of the examples, and solves each from cold beside it.
func TestEachOutageMeetsItsColdSolve(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	for _, name := range []string{"footbridge.scheme.yaml", "footbridge-two-feeds.scheme.yaml", "cafe-canopy.scheme.yaml"} {
		s, _ := example(t, name)
		w, followed, all := circuit.NewWorker(), 0, 0
		var order []string
		err := s.Each(t.Context(), allOutages(s), func(got *network.Solution) error {
			all++
			order = append(order, got.Case.Name)
			if got.Followed {
				followed++
			}
			if all%3 != 0 { // a cold solve of each would take long
				return nil
			}
			cold := s.Network.Solve(t.Context(), w, got.Case)
			if got.Outcome != circuit.Converged || cold.Outcome != circuit.Converged {
				t.Errorf("%s: outcome %v, cold %v", got.Case.Name, got.Outcome, cold.Outcome)
			}
			sameResults(t, got.Case.Name, s.Network.Read(got), s.Network.Read(cold))
			if named, ok := s.Network.CaseNamed(got.Case.Name); !ok || named != got.Case {
				t.Errorf("%s is not found by its name", got.Case.Name)
			}
			return nil
		})
		var want []string
		for c := range allOutages(s) {
			want = append(want, c.Name)
		}
		if err != nil || !slices.Equal(order, want) {
			t.Errorf("%s: %v, %d of %d outages in order", name, err, len(order), len(want))
		}
		t.Logf("%s: %d of %d outages followed", name, followed, all)
		if followed < all*9/10 {
			t.Errorf("%s: only %d of %d outages followed", name, followed, all)
		}
	}
}

func sameResults(t *testing.T, name string, got, want *network.Result) {
	t.Helper()
	near := func(what string, a, b, tolerance float64) {
		t.Helper()
		if !(math.Abs(a-b) <= tolerance) && !(math.IsInf(a, 0) && a == b) {
			t.Errorf("%s: %s is %v, from cold %v", name, what, a, b)
		}
	}
	for id, x := range want.Supplies {
		near(id+" volts", float64(got.Supplies[id].Volts), float64(x.Volts), within)
		near(id+" amps", float64(got.Supplies[id].Amps.Mean), float64(x.Amps.Mean), withinAmps)
		if got.Supplies[id].State != x.State {
			t.Errorf("%s: %s is %s, from cold %s", name, id, got.Supplies[id].State, x.State)
		}
	}
	for id, x := range want.Ways {
		near(id+" volts", float64(got.Ways[id].Volts), float64(x.Volts), within)
		near(id+" amps", float64(got.Ways[id].Amps.RMS), float64(x.Amps.RMS), withinAmps)
	}
	for id, x := range want.Cables {
		near(id+" amps", float64(got.Cables[id].Plus.Mean), float64(x.Plus.Mean), withinAmps)
		near(id+" return", float64(got.Cables[id].Return.Mean), float64(x.Return.Mean), withinAmps)
	}
	for id, x := range want.Data {
		near(id+" shift", float64(got.Data[id].Shift), float64(x.Shift), within)
	}
	for id, x := range want.Runs {
		near(id+" lowest", float64(got.Runs[id].VoltsLow), float64(x.VoltsLow), within)
		near(id+" highest", float64(got.Runs[id].VoltsHigh), float64(x.VoltsHigh), within)
		near(id+" amps", float64(got.Runs[id].Amps.Mean), float64(x.Amps.Mean), withinAmps)
		if got.Runs[id].Live != x.Live {
			t.Errorf("%s: %s live is %v, from cold %v", name, id, got.Runs[id].Live, x.Live)
		}
	}
}

func TestEachKeepsNoMoreThanAFewCases(t *testing.T) {
	s, _ := example(t, "footbridge.scheme.yaml")
	var asked atomic.Int64 // by another goroutine
	read, most := 0, 0
	endless := func(yield func(network.Case) bool) {
		for {
			for c := range s.Outages(s.Cases()[0]) {
				if asked.Add(1); !yield(c) {
					return
				}
			}
		}
	}
	enough := errors.New("enough")
	err := s.Each(t.Context(), endless, func(*network.Solution) error {
		read++
		most = max(most, int(asked.Load())-read)
		if read == 300 {
			return enough
		}
		return nil
	})
	// The queue, one in each worker's hand, and two on their way.
	if limit := 17*runtime.GOMAXPROCS(0) + 2; err != enough || read != 300 || most > limit {
		t.Errorf("%v after %d cases, %d on their way at most, want at most %d", err, read, most, limit)
	}
}

func TestEachEndsWithItsContext(t *testing.T) {
	s, _ := example(t, "footbridge.scheme.yaml")
	ctx, cancel := context.WithCancel(t.Context())
	read := 0
	err := s.Each(ctx, allOutages(s), func(*network.Solution) error {
		if read++; read == 5 {
			cancel()
		}
		return nil
	})
	if err != context.Canceled || read != 5 {
		t.Errorf("cancelled after five cases: %v after %d", err, read)
	}
	if err := s.Each(t.Context(), func(func(network.Case) bool) {}, nil); err != nil {
		t.Errorf("no cases: %v", err)
	}
}

// TestEditSolvesOnlyWhatItTouches makes edits and compares what comes of them with a study made anew.
func TestEditSolvesOnlyWhatItTouches(t *testing.T) {
	for name, c := range map[string]struct {
		edits   []finding.Edit
		changed func(name string) bool
	}{
		"a title":              {[]finding.Edit{{Path: "/title", Value: "Another name"}}, func(string) bool { return false }},
		"the level of a state": {[]finding.Edit{{Path: "/states/dusk/level", Value: "20 %"}}, func(n string) bool { return n == "state/dusk" || n == "peak/dusk" }},
		"a thicker cable":      {[]finding.Edit{{Path: "/cables/W3/part", Value: "cable/flex-2x1.5"}}, func(string) bool { return true }},
		"a longer cable":       {[]finding.Edit{{Path: "/cables/W4/length", Value: "9 m"}}, func(string) bool { return true }},
		"another fuse":         {[]finding.Edit{{Path: "/fuses/A1.2", Value: "fuse/blade-10A"}}, func(string) bool { return true }},
		"a cable taken away":   {[]finding.Edit{{Path: "/cables/W3", Value: nil}}, func(string) bool { return true }},
		"two at once":          {[]finding.Edit{{Path: "/site/ambient", Value: "40 °C"}, {Path: "/title", Value: "Warm"}}, func(string) bool { return true }},
	} {
		t.Run(name, func(t *testing.T) {
			options := &study.Options{Striking: study.NotNow}
			if name == "another fuse" { // following faults anew takes most of the time
				options.Striking = study.Always
			}
			s, source := example(t, "footbridge.scheme.yaml", options)
			got, err := s.Edit(t.Context(), source, c.edits)
			if err != nil || len(got.Mistakes) > 0 {
				t.Fatal(err, got.Mistakes)
			}
			sch, mistakes := scheme.Read("footbridge.scheme.yaml", got.Text, parts.Catalogue())
			if len(mistakes) > 0 {
				t.Fatal(mistakes)
			}
			want, err := study.New(t.Context(), sch, options)
			if err != nil {
				t.Fatal(err)
			}
			if options.Striking == study.Always && !reflect.DeepEqual(got.Study.Struck().Faults, want.Struck().Faults) {
				t.Error("its faults end otherwise")
			}
			for _, x := range want.Cases() {
				if c.changed(x.Name) != slices.Contains(got.Changed, x.Name) {
					t.Errorf("%s: changed %v", x.Name, got.Changed)
				}
				if got.Study.Result(x.Name) == nil {
					t.Fatalf("%s is missing", x.Name)
				}
				sameResults(t, x.Name, got.Study.Result(x.Name), want.Result(x.Name))
			}
		})
	}
}

func TestEditThatCannotBeMadeLeavesTheStudy(t *testing.T) {
	s, source := example(t, "footbridge.scheme.yaml")
	for name, edits := range map[string][]finding.Edit{
		"no such part": {{Path: "/cables/W3/part", Value: "cable/none"}},
		"no such path": {{Path: "/cables/W3/part/deeper/still", Value: "x"}},
	} {
		got, err := s.Edit(t.Context(), source, edits)
		if err != nil || got.Study != nil || len(got.Mistakes) == 0 {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	if s.Result("dark") == nil {
		t.Error("the study has lost its cases")
	}
}
