package rulebook_test

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"farend/conductor"
	"farend/internal/schemetest"
	"farend/internal/sums"
	"farend/network"
	"farend/parts"
	"farend/rulebook"
	"farend/study"
)

// every lists the schemes that are kept: those of the rooms and the examples.
func every(t *testing.T) []string {
	paths := schemetest.Paths(t, "../examples/*.scheme.yaml")
	for _, room := range rulebook.Rooms() {
		paths = append(paths, roomPaths(t, room.Name)...)
	}
	return paths
}

// roomPaths lists the schemes of a room, those about its faults among them where it has any.
func roomPaths(t *testing.T, room string) []string {
	t.Helper()
	faults, err := filepath.Glob("../" + room + "/testdata/faults/*.scheme.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return append(schemetest.Paths(t, "../"+room+"/testdata/*.scheme.yaml"), faults...)
}

// Every assessment of every scheme that is kept has a trace, every line of which a pocket calculator agrees with, that starts from
// what is stated and ends at the assessment's value, limit and grade.
func TestEveryAssessmentIsFollowedByHand(t *testing.T) {
	for _, path := range every(t) {
		t.Run(filepath.Base(filepath.Dir(filepath.Dir(path)))+" "+filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			f := follower{t, schemetest.Study(t, path), map[string]parts.Fact{}}
			for _, a := range f.Assess(rulebook.All()) {
				f.follow(a)
			}
		})
	}
}

// A follower follows the traces of a study.
type follower struct {
	*testing.T
	*study.Study
	facts map[string]parts.Fact
}

func (f follower) follow(a study.Assessed) {
	name := a.Rule.Name + ":" + a.Subject + ":" + a.Case
	if a.Trace == nil {
		f.Errorf("%s has no trace", name)
		return
	}
	trace := a.Trace()
	if len(trace.Steps) == 0 || trace.Grade != a.Grade {
		f.Errorf("%s: %d steps lead to %s, the rule to %s: %+v", name, len(trace.Steps), trace.Grade, a.Grade, trace.Steps)
		return
	}
	for _, s := range trace.Steps {
		f.holds(name, s, trace.Figures)
		for _, in := range s.Inputs {
			f.holdOrigin(name, in)
		}
	}
	f.ends(name, "value", trace.Value, a.Value, trace.Steps)
	f.ends(name, "limit", trace.Limit, a.Limit, trace.Steps)
}

// holds works the sum of a step out: what it gives is right to the last of the figures that are carried, also where noughts at its end
// are not printed.
func (f follower) holds(name string, s study.Step, figures int) {
	if s.What == "" || s.Sum == "" && s.Formula != "" {
		f.Errorf("%s: a step says nothing: %+v", name, s)
	}
	if s.Sum == "" {
		return
	}
	if strings.Contains(s.Sum, "undefined") || strings.Contains(s.Sum, "unlimited") {
		return // numbers of no world
	}
	if err := sums.Holds(s.Sum); err != nil {
		f.Errorf("%s: %s: %v", name, s.Formula, err)
	}
	if s.Result == "no" || strings.HasPrefix(s.Result, "yes") {
		return
	}
	expression, ends := strings.CutSuffix(s.Sum, " = "+s.Result)
	left, err := sums.Worth(expression)
	right, err2 := sums.Worth(s.Result)
	if step := math.Pow(10, math.Floor(math.Log10(math.Abs(left.Value)))-float64(figures-1)); !ends || err != nil || err2 != nil || math.Abs(left.Value-right.Value) > 0.5001*step {
		f.Errorf("%s: %q gives %v, not %q to %d figures (%v, %v)", name, s.Sum, left.Value, s.Result, figures, err, err2)
	}
}

// The temperature that a trace of a cable's current comes to is the one that was solved. In T = (T_a + 234.5 °C · q)/(1 − q) an error
// of a thousandth of q, which is what four figures leave of b, x and the current in it, moves T by
// 0.001 · (T + 234.5 °C) · (T − T_a)/(T_a + 234.5 °C); T itself is printed to 0.05 °C.
func TestATraceOfACableComesToItsTemperature(t *testing.T) {
	seen := 0
	for _, path := range schemetest.Paths(t, "../protection/testdata/*.scheme.yaml") {
		s := schemetest.Study(t, path)
		for _, a := range s.Assess(rulebook.All()) {
			if a.Rule.Name != "protection/cable-current" || a.Trace == nil || a.Case == "" {
				continue
			}
			solved := s.Result(a.Case).Cables[a.Subject]
			for _, step := range a.Trace().Steps {
				if !strings.HasPrefix(step.Formula, "T = ") || solved.Clamped {
					continue
				}
				seen++
				air, _, _, _ := s.Scheme.Cables[a.Subject].Env(s.Scheme)
				warm := float64(solved.Celsius)
				within := 0.05 + 0.001*(warm+conductor.Absolute)*math.Abs(warm-float64(air))/(float64(air)+conductor.Absolute)
				if got, err := sums.Worth(step.Result); err != nil || math.Abs(got.Value-warm) > within {
					t.Errorf("%s: %s in %s gets to %s, solved is %v (%v)", path, a.Subject, a.Case, step.Result, solved.Celsius, err)
				}
			}
		}
	}
	if seen < 50 {
		t.Errorf("only %d temperatures were compared", seen)
	}
}

// ends compares what a trace comes to with what the rule compares, to the figures that are printed.
func (f follower) ends(name, what string, carried, exact *float64, steps []study.Step) {
	const printed = 5e-4 // half a step of the fourth figure of 1.000
	switch {
	case (carried == nil) != (exact == nil):
		f.Errorf("%s: the trace has the %s %v, the rule %v", name, what, carried, exact)
	case carried != nil && !(math.Abs(*carried-*exact) <= printed*math.Abs(*exact)+1e-12):
		f.Errorf("%s: the trace ends at the %s %v, the rule at %v: %+v", name, what, *carried, *exact, steps)
	}
}

// holdOrigin holds an input to where it says that it is from.
func (f follower) holdOrigin(name string, in study.Input) {
	from := in.From
	switch from.Kind {
	case study.OfPart:
		f.holdFact(name, in)
	case study.Solved:
		faulted := f.Struck() != nil && slices.ContainsFunc(f.Struck().Faults, func(x study.Faulted) bool {
			return slices.ContainsFunc(x.Strikes, func(k study.Strike) bool { return k.Case.Name == from.Case })
		})
		faulted = faulted || f.Lost() != nil && slices.ContainsFunc(f.Lost().Outages, func(o study.Outage) bool {
			return slices.ContainsFunc(o.Courses, func(k study.Course) bool { return k.Case.Name == from.Case })
		})
		if !faulted && !slices.ContainsFunc(f.Cases(), func(c network.Case) bool { return c.Name == from.Case }) {
			f.Errorf("%s: %s is solved in no case: %+v", name, in.Sign, from)
		}
	case study.OfScheme:
		if from.Key != "" && from.Pos.Line == 0 && from.Basis == "" {
			f.Errorf("%s: %s stands nowhere in the scheme: %+v", name, in.Sign, from)
		}
	case study.OfRule:
		if from.Source == "" || from.Basis == "" {
			f.Errorf("%s: %s is taken from nowhere", name, in.Sign)
		}
	default:
		f.Errorf("%s: %s does not say where it is from", name, in.Sign)
	}
	if in.Means == "" || in.Text == "" || in.Unit == "" {
		f.Errorf("%s: %+v is not whole", name, in)
	}
}

// holdFact holds a number of a part to what its part states under that key.
func (f follower) holdFact(name string, in study.Input) {
	from := in.From
	if _, known := f.facts[from.Part]; !known {
		part, _ := f.Scheme.Library.Find(from.Part)
		f.facts[from.Part] = parts.Fact{}
		for _, fact := range parts.Facts(part) {
			f.facts[from.Part+" "+fact.Key] = fact
		}
	}
	key, _, spread := strings.Cut(from.Key, ".spread.")
	fact, stated := f.facts[from.Part+" "+key]
	switch {
	case !stated && strings.Contains(from.Source, "the part does not say"): // a default of the catalogue's own
	case !stated && from.Key == "curve": // a fuse without one
	case !stated:
		f.Errorf("%s: %s does not state %s, which is %s", name, from.Part, from.Key, in.Sign)
	case spread && fact.Spread == "" && in.Is != 0:
		f.Errorf("%s: %s states no spread of %s", name, from.Part, key)
	case fact.Number && !spread && math.Abs(fact.Value-in.Is) > 5e-4*math.Abs(fact.Value)+1e-15:
		f.Errorf("%s: %s states %s %v, and %s is %v", name, from.Part, from.Key, fact.Value, in.Sign, in.Is)
	}
}
