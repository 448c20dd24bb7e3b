package commission_test

import (
	"math"
	"strings"
	"testing"

	"farend/commission"
	"farend/scheme"
)

// Everything that has a name has a step.
func TestEverythingIsInTheProcedure(t *testing.T) {
	for _, name := range names(t) {
		w := example(t, name)
		about := map[string]bool{}
		for _, g := range w.p.Stages {
			for _, s := range g.Steps {
				for _, id := range s.About {
					about[id] = true
				}
			}
		}
		s := w.st.Scheme
		for _, ids := range [][]string{scheme.IDs(s.Supplies), scheme.IDs(s.Boards), scheme.IDs(s.Runs), scheme.IDs(s.Cables), scheme.IDs(s.Data), scheme.IDs(s.Fuses), scheme.IDs(s.Capacitors), scheme.IDs(s.Contactors)} {
			for _, id := range ids {
				if !about[id] {
					t.Errorf("%s: no step is about %s", name, id)
				}
			}
		}
		for id, c := range s.Cables {
			if c.Fuse != "" {
				step(t, w.p, "Fuse of "+id+": dark current", "dark")
			}
		}
		for way := range s.Fuses {
			step(t, w.p, "Fuse of "+way+": dark current", "dark")
		}
	}
}

// ordered complains of bands that do not hold what is expected, and of joints that say more than their bands.
func ordered(t testing.TB, name string, p commission.Procedure) {
	t.Helper()
	for _, g := range p.Stages {
		for _, s := range g.Steps {
			r := s.Reading
			if r == nil {
				continue
			}
			if math.IsNaN(r.Low) || math.IsNaN(r.High) || r.Low > r.High || !math.IsNaN(r.Is) && (r.Is < r.Low || r.Is > r.High) {
				t.Errorf("%s, %s: %s: %+v", name, g.Name, s.Do, *r)
			}
			if s.Rests == "" {
				t.Errorf("%s, %s: %s: nobody says what its band rests on", name, g.Name, s.Do)
			}
			if j := s.Joint; j != nil && (j.Seen == commission.Seen) != (math.Abs(j.Shift)-j.Blur > r.High-r.Low) {
				t.Errorf("%s, %s: %s: %+v in %+v", name, g.Name, s.Do, *j, *r)
			}
		}
	}
}

func TestBandsHoldWhatIsExpected(t *testing.T) {
	for _, name := range names(t) {
		ordered(t, name, example(t, name).p)
	}
}

// In the examples that pass everything is known: no supply comes to its limit, whatever the spreads.
func TestNothingIsUnknownInSoundExamples(t *testing.T) {
	for _, name := range []string{"footbridge", "cafe-canopy", "library-atrium"} {
		for _, g := range example(t, name).p.Stages {
			for _, s := range g.Steps {
				if strings.Contains(s.Expect, "not known") || strings.Contains(s.Do, "still to be chosen") {
					t.Errorf("%s: %s: %s", name, s.Do, s.Expect)
				}
			}
		}
	}
}

// What a procedure costs, the study itself left out.
func BenchmarkOf(b *testing.B) {
	for _, name := range []string{"footbridge", "library-atrium", "library-atrium-altered"} {
		b.Run(name, func(b *testing.B) {
			st := example(b, name).st
			for b.Loop() {
				of(b, st)
			}
		})
	}
}
