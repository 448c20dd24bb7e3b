package study_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"farend/circuit"
	"farend/internal/schemetest"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// losing is what follows when some things go out, by their names.
func losing(t *testing.T, s *study.Study, outs ...string) map[string]study.Outage {
	t.Helper()
	all := map[string]study.Outage{}
	err := s.Lose(t.Context(), outs, func(o study.Outage) error {
		all[o.Out] = o
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// in is the course of an outage in a kind of case and a corner.
func in(t *testing.T, o study.Outage, kind network.Kind, side network.Corner) study.Course {
	t.Helper()
	for _, c := range o.Courses {
		if c.Case.Kind == kind && c.Case.Corner == side && c.Found {
			return c
		}
	}
	t.Fatalf("%s has no course in %s %s", o.Out, kind, side)
	return study.Course{}
}

// Three fuses of 10, 15 and 20 A bring 31 A to one end of a run, over 5 m of 7.98 mΩ/m each, their own 7.7, 4.8 and 3.4 mΩ and 0.1 mΩ of the way: 47.7,
// 44.8 and 43.4 mΩ, all copper and air at 20 °C. With the third out the first carries 31 A · 44.8/(47.7 + 44.8) = 15.01 A, 1.501 times its rating, which
// opens it within 1,800 s (the gate at 1.35) and which it holds for 0.25 s cold (that at 1.6); it has carried 9.80 A of the 11 A that it holds for ever, which
// leaves 1 − (9.80/11)² = 0.207 of that. The second, 15.99 A or 1.07 times its rating, holds. Then it carries all, 2.067 times its rating: within 5 s,
// and not before 0.04 s · (1 − (10.43/16.5)²) = 24 ms. Then the run is dark.
func TestACascadeOfThreeFusesWorkedByHand(t *testing.T) {
	text := `site: {coldest: 20 °C, conductors: 20 °C, ambient: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/heavy, pixels: 10}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x2.5, length: 5 m, from: A1.1, to: E1@start}
  W3: {part: cable/flex-2x2.5, length: 5 m, from: A1.2, to: E1@start}
  W4: {part: cable/flex-2x2.5, length: 5 m, from: A1.3, to: E1@start}
fuses: {A1.1: fuse/blade-10A, A1.2: fuse/blade-15A, A1.3: fuse/blade-20A}
states: {full: {}}
parts:` + even + `  tape/heavy: {title: heavy, basis: measured, source: invented, volts: 5 V, volts_min: 1.2 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 1 mΩ/m, rail_amps: 60 A, phase: unknown, channels: {white: {set: 3.1 A, lo: 0.5 V, hi: 1 V, soft: 0.01 V}}, idle: {set: 0 mA, lo: 0.5 V, hi: 1 V, soft: 0.01 V}, protocol: protocol/single-wire-800k-24}
`
	const r1, r2, r3 = 5*7.98 + 7.7 + 0.1, 5*7.98 + 4.8 + 0.1, 5*7.98 + 3.4 + 0.1
	all := 1/r1 + 1/r2 + 1/r3
	before1, before2 := 31/r1/all, 31/r2/all
	want := []study.Opening{
		{Fuse: "A1.1.fuse", Multiple: 3.1 * r2 / (r1 + r2), Fast: unit.Second(0.25 * (1 - math.Pow(before1/11, 2))), Slow: 1800, Sure: true},
		{Fuse: "A1.2.fuse", Multiple: 31.0 / 15, Fast: unit.Second(0.04 * (1 - math.Pow(before2/16.5, 2))), Slow: 5, Sure: true},
	}
	o := losing(t, studied(t, text), "A1.3.fuse")["A1.3.fuse"]
	for _, c := range o.Courses {
		if c.Case.Kind == network.Dark {
			if len(c.Cascade)+len(c.May) > 0 {
				t.Errorf("in the dark %+v open, %+v may", c.Cascade, c.May)
			}
			continue
		}
		if len(c.Cascade) != len(want) || len(c.May) != 0 || c.Cut {
			t.Errorf("%s %s: %+v open, %+v may", c.Case.Name, c.Case.Corner, c.Cascade, c.May)
			continue
		}
		for i, w := range want {
			got := c.Cascade[i]
			if got.Fuse != w.Fuse || !got.Sure || got.Slow != w.Slow || math.Abs(got.Multiple/w.Multiple-1) > 1e-6 || math.Abs(float64(got.Fast/w.Fast)-1) > 1e-5 {
				t.Errorf("%s %s: %+v, want %+v", c.Case.Name, c.Case.Corner, got, w)
			}
		}
	}
	if want := []study.Faded{{Run: "E1", Pixels: 10, States: []string{"full"}}}; !reflect.DeepEqual(o.Dark, want) || o.Dim != nil {
		t.Errorf("dark: %+v, dim: %+v", o.Dark, o.Dim)
	}
	if !slices.Equal(o.Fed.Fuses, []string{"A1.1.fuse", "A1.2.fuse"}) || len(o.Fed.Bare) > 0 {
		t.Errorf("what is behind A1.3.fuse is fed by %+v", o.Fed)
	}
}

// At 1.2 times its rating a fuse may open or hold: of 12 A through fuses of 10 A and 25 A the second goes out. What may open is told beside what surely does, and
// no light counts as dark for it.
func TestWhatMayOpenIsToldBeside(t *testing.T) {
	text := parallel("", "cable/flex-2x2.5, length: 1 m", "cable/flex-2x2.5, length: 1 m", "A1.1: fuse/blade-10A, A1.2: fuse/blade-25A",
		"amps: 200 A, watts: 1000 W, limit: constant-current, limit_at: {low: 210 A, high: 220 A}")
	text = text[:len(text)-1] + `
  tape/twelve: {title: twelve, basis: measured, source: invented, volts: 5 V, volts_min: 3 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 1 mΩ/m, rail_amps: 30 A, phase: unknown, channels: {white: {set: 1.2 A, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
`
	s := studied(t, strings.Replace(text, "tape: tape/even", "tape: tape/twelve", 1))
	o := losing(t, s, "A1.2.fuse")["A1.2.fuse"]
	c := in(t, o, network.CapFailed, network.Opens)
	if len(c.Cascade) != 0 || len(c.May) != 1 || c.May[0].Fuse != "A1.1.fuse" || c.May[0].Sure || math.Abs(c.May[0].Multiple-1.2) > 1e-6 || !math.IsInf(float64(c.May[0].Slow), 1) {
		t.Errorf("%+v open, %+v may", c.Cascade, c.May)
	}
	if o.Dark != nil || o.Dim != nil {
		t.Errorf("dark: %+v, dim: %+v, though nothing surely opens", o.Dark, o.Dim)
	}
}

// Two runs of 6 A have a return each and a data lead from one to the next. With one return out all of its 6 A comes home through that ground: no
// light goes out or gets dim, and no fuse carries more than before.
func TestALostReturnGoesHomeByTheDataGroundUnseen(t *testing.T) {
	s := schemetest.Study(t, "../protection/testdata/faults/lost.scheme.yaml")
	o, ok := s.Lost().Without("W2.return")
	if !ok || o.Dark != nil || o.Dim != nil {
		t.Fatalf("dark: %+v, dim: %+v", o.Dark, o.Dim)
	}
	for _, c := range o.Courses {
		if len(c.Cascade)+len(c.May) > 0 {
			t.Errorf("%s: %+v open, %+v may", c.Case.Name, c.Cascade, c.May)
		}
		at := slices.IndexFunc(c.Over, func(x study.Overstepped) bool { return x.Bearer.Name == "D2.ground" })
		if c.Case.Kind == network.Dark {
			if at >= 0 {
				t.Errorf("%s: D2 carries %v", c.Case.Name, c.Over[at].Lasts)
			}
			continue
		}
		if at < 0 || math.Abs(float64(c.Over[at].Lasts)-6) > 1e-4 {
			t.Errorf("%s: D2 does not carry 6 A: %+v", c.Case.Name, c.Over)
		}
	}
	if _, ok := s.Lost().Without("W99"); ok {
		t.Error("W99 goes out")
	}
}

// With the one return of a run out its 3 A come home through the port, where a resettable fuse of 0.75 A has tripped within the hour that its curve gives
// from twice on. Then the run is dark.
func TestAFuseInTheGroundEndsALostReturn(t *testing.T) {
	text := fmt.Sprintf(`site: {coldest: 23 °C, ambient: 30 °C, metalwork: isolated}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/big}}
runs: {E1: {tape: tape/even, pixels: 300}}
cables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-10A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
states: {full: {}, dim: {level: 60 %%}}
parts:%s`, even)
	s := studied(t, text)
	o := losing(t, s, "W2.return")["W2.return"]
	c := in(t, o, network.CapFailed, network.Opens)
	if len(c.Cascade) != 1 || c.Cascade[0].Fuse != "A1.P1.ground fuse" || math.Abs(c.Cascade[0].Multiple-4) > 1e-3 || c.Cascade[0].Slow != 3600 {
		t.Errorf("%+v", c.Cascade)
	}
	if want := []study.Faded{{Run: "E1", Pixels: 300, States: []string{"dim", "full"}}}; !reflect.DeepEqual(o.Dark, want) {
		t.Errorf("dark: %+v, want %+v", o.Dark, want)
	}
	if !slices.ContainsFunc(c.Over, func(x study.Overstepped) bool { return x.Bearer.Name == "A1.P1.ground" && x.Bearer.Limit == 2 }) {
		t.Errorf("the ground contact of the port, which may carry 2 A, is not overstepped: %+v", c.Over)
	}
}

// A run on thin rails that is fed at both ends is lit with one feed out, and dim at the other end: 200 pixels of 10 mA over 4 m of rails of 200 mΩ/m lose
// 2 A/2 · 4 m · 2 · 200 mΩ/m = 1.6 V from the one end. With no more than the fuse out the return still goes home at both ends: then it is lit as before.
func TestARunBecomesDimBehindALostFeed(t *testing.T) {
	text := fmt.Sprintf(`site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/big}}
runs: {E1: {tape: tape/narrow, pixels: 200}}
cables:
  W1: {part: cable/flex-2x10, length: 0.1 m, from: T1, to: E1@start, fuse: fuse/inline-10A}
  W2: {part: cable/flex-2x10, length: 0.1 m, from: T1, to: E1@end, fuse: fuse/inline-10A}
states: {full: {}}
parts:%s  tape/narrow: {title: narrow, basis: measured, source: invented, volts: 5 V, volts_min: 3.8 V, volts_max: 6 V, pixels: 50 /m, cut_every: 1, rail: 200 mΩ/m, rail_amps: 5 A, phase: unknown, channels: {white: {set: 10 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
`, even)
	s := studied(t, text)
	o := losing(t, s, "W2.fuse", "W2")
	if f := o["W2.fuse"]; f.Dark != nil || f.Dim != nil {
		t.Errorf("with the fuse out dark: %+v, dim: %+v", f.Dark, f.Dim)
	}
	// From the start U(x) = 5 V − 2·200 mΩ/m · 2 A · (x − x²/(2·4 m)), which is 3.8 V where x − x²/8 = 1.5, at 2 m; so half of them are dim, but for some
	// millivolts of lead and fuse.
	dim := o["W2"].Dim
	if o["W2"].Dark != nil || len(dim) != 1 || dim[0].Run != "E1" || math.Abs(float64(dim[0].Pixels)-100) > 5 {
		t.Errorf("dark: %+v, dim: %+v, want about 100 pixels dim", o["W2"].Dark, dim)
	}
}

// What feeds the copper behind a fuse, or at a supply, when that is out.
func TestBackFeedIsFoundByCopper(t *testing.T) {
	s := studied(t, fmt.Sprintf(`site: {metalwork: isolated}
supplies: {T1: {part: supply/big}, T2: {part: supply/big}}
boards: {A1: {part: board/big}, A2: {part: board/big}}
junctions: {X1: {part: junction/lever-5}}
runs:
  E1: {tape: tape/even, pixels: 100}
  E2: {tape: tape/even, pixels: 100, cuts: [{at: px50, pole: plus}]}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: X1, fuse: fuse/inline-10A}
  W2: {part: cable/flex-2x4, length: 1 m, from: T2, to: X1, fuse: fuse/inline-10A}
  W3: {part: cable/flex-2x4, length: 1 m, from: X1, to: A1.in}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: A1.1, to: E1@start}
  W5: {part: cable/flex-2x2.5, length: 1 m, from: A1.2, to: E1@end}
  W6: {part: cable/flex-2x2.5, length: 1 m, from: A1.3, to: E2@start}
  W7: {part: cable/flex-2x2.5, length: 1 m, from: X1, to: E2@end, fuse: fuse/inline-2A, fuse_at: to}
fuses: {A1.1: fuse/blade-5A, A1.2: fuse/blade-5A, A1.3: fuse/blade-5A}
states: {full: {}}
parts:%s`, even))
	for out, want := range map[string]network.Behind{
		"A1.1.fuse": {Fuses: []string{"A1.2.fuse"}},
		"A1.2.fuse": {Fuses: []string{"A1.1.fuse"}},
		"A1.3.fuse": {},
		"W1.fuse":   {Fuses: []string{"W2.fuse"}},
		"W7.fuse":   {Fuses: []string{"W1.fuse", "W2.fuse"}}, // it stands at the far end: its cable is live before it
		"T1":        {Fuses: []string{"W1.fuse"}},            // its own lead, which the other supply feeds from X1
		"W4.plus":   {},
		"nothing":   {},
	} {
		if got := s.BackFed(out); !slices.Equal(got.Fuses, want.Fuses) || !slices.Equal(got.Bare, want.Bare) {
			t.Errorf("with %s out %+v feeds on, want %+v", out, got, want)
		}
	}
}

// The number of processors changes nothing.
func TestOutagesAreTheSameOnAnyNumberOfWorkers(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, name := range []string{"footbridge-two-feeds.scheme.yaml", "cafe-canopy-hasty.scheme.yaml"} {
		s, _ := example(t, name, &study.Options{Striking: study.NotNow})
		var first []study.Outage
		for _, workers := range []int{1, 2, 5} {
			runtime.GOMAXPROCS(workers)
			var all []study.Outage
			if err := s.Lose(t.Context(), s.Network.Outages(), func(o study.Outage) error { all = append(all, o); return nil }); err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = all
			}
			if len(all) == 0 || !reflect.DeepEqual(all, first) {
				t.Errorf("%s: on %d workers something else follows", name, workers)
			}
		}
	}
}

func TestOutagesStopAtOnceAndRefuseWhatIsNone(t *testing.T) {
	s := studied(t, lead("cable/flex-2x2.5", 5, firm))
	ctx, stop := context.WithCancel(context.Background())
	stop()
	never := func(study.Outage) error { t.Error("it goes on"); return nil }
	if s.Lose(ctx, s.Network.Outages(), never) == nil {
		t.Error("it does not say that it stopped")
	}
	if s.Lose(t.Context(), []string{"W2.plus contact at from"}, never) == nil || s.Lose(t.Context(), []string{""}, never) == nil {
		t.Error("it does not say that there is no such thing")
	}
	if s.Lost() == nil {
		t.Error("they were not followed with the faults")
	}
	quiet, _ := example(t, "cafe-canopy.scheme.yaml", &study.Options{Striking: study.NotNow})
	if quiet.Lost() != nil {
		t.Error("they were followed unasked")
	}
}

// The sure cascade of outages in random schemes, found anew: solve from cold, open what surely opens first of all that carries more than before. And what
// conductors carry for ever, in whatever order fuses open that may: every set of open fuses that some order leads to, one by one.
func TestCascadesAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	r := rand.New(rand.NewSource(4))
	tried, opened, twice, compared := 0, 0, 0, 0
	for range 60 {
		text := meshed(r)
		sch, mistakes := scheme.Read("random", []byte(text), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatal(mistakes)
		}
		s, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
		if err != nil {
			t.Fatal(err)
		}
		outs := s.Network.Outages()
		r.Shuffle(len(outs), func(i, j int) { outs[i], outs[j] = outs[j], outs[i] })
		for _, o := range losing(t, s, outs[:min(15, len(outs))]...) {
			for _, c := range o.Courses {
				if !c.Found || c.Case.Corner == network.Opens { // where least flows pulses of supplies count otherwise
					continue
				}
				want := cascaded(t, s, c.Case)
				tried++
				if len(want) > 0 {
					opened++
				}
				if len(want) > 1 {
					twice++
				}
				same := slices.EqualFunc(c.Cascade, want, func(a, b study.Opening) bool {
					return a.Fuse == b.Fuse && a.Slow == b.Slow && math.Abs(a.Multiple-b.Multiple) < 1e-4*b.Multiple
				})
				if !same {
					t.Fatalf("%s %s: %+v, found anew %+v\n%s", c.Case.Name, c.Case.Corner, c.Cascade, want, text)
				}
				if len(want)+len(c.May) == 0 || c.Cut {
					continue
				}
				lasts := lasting(t, s, c.Case)
				for _, o := range c.Over {
					if anew, one := lasts[o.Bearer.Name]; one && math.Abs(float64(o.Lasts-anew)) > 1e-4 {
						t.Fatalf("%s %s: %v lasts in %s, found anew %v\n%s", c.Case.Name, c.Case.Corner, o.Lasts, o.Bearer.Name, anew, text)
					}
					compared++
				}
			}
		}
	}
	t.Logf("%d courses, in %d of them a fuse opens, in %d several; %d conductors that are overstepped", tried, opened, twice, compared)
	if tried < 500 || opened < 100 || twice < 30 || compared < 80 {
		t.Errorf("only %d courses, in %d of them a fuse opens, in %d several; %d conductors that are overstepped", tried, opened, twice, compared)
	}
}

// lasting is the most that each conductor carries for ever in a case because of what is out, over all orders in which fuses may open; 0 where all end.
func lasting(t *testing.T, s *study.Study, c network.Case) map[string]unit.Ampere {
	t.Helper()
	conductors, place := s.Network.Conductors(), map[string]int{}
	for i, conductor := range conductors {
		place[conductor.Name] = i
	}
	w := circuit.NewWorker()
	before := s.Network.Heating(s.Network.Solve(t.Context(), w, c.Sound().Taken(c.Corner)))
	most := map[string]unit.Ampere{}
	for _, conductor := range conductors {
		most[conductor.Name] = 0
	}
	seen := map[string]bool{}
	var from func(c network.Case)
	from = func(c network.Case) {
		if seen[c.Opened] {
			return
		}
		seen[c.Opened] = true
		solution := s.Network.Solve(t.Context(), w, c)
		if !solution.Found() {
			t.Fatalf("%s past %q: %v", c.Name, c.Opened, solution.Outcome)
		}
		now := s.Network.Heating(solution)
		within := unit.Second(math.Inf(1))
		holds := map[string]unit.Second{}
		for _, g := range s.Guards() {
			at, there := place[g.Name]
			cold, known := s.Band(g, g.Cold)
			if !there || !known || now[at] <= 1.01*before[at]+1e-6 {
				continue
			}
			warm, _ := s.Band(g, g.Warm)
			holds[g.Name] = warm.Holds(now[at])
			if !math.IsInf(float64(holds[g.Name]), 1) {
				holds[g.Name] *= unit.Second(warm.Warm(before[at]))
			}
			if opens := cold.Opens(now[at]); opens < within {
				within = opens
			}
		}
		if math.IsInf(float64(within), 1) {
			for i, conductor := range conductors {
				if now[i] > 1.01*before[i]+1e-6 {
					most[conductor.Name] = max(most[conductor.Name], now[i])
				}
			}
		}
		for name, t := range holds {
			if t < within {
				from(c.Past(name))
			}
		}
	}
	from(c)
	return most
}

// meshed is a random scheme of one or two runs, each fed in two to four places by fuses that carry their share of the load and little more.
func meshed(r *rand.Rand) string {
	blades := []string{"1A", "2A", "3A", "4A", "5A", "7.5A", "10A", "15A", "20A", "25A", "30A"}
	var cables, fuses, runs, data string
	way := 0
	for e := range 1 + r.Intn(2) {
		pixels, feeds := 100+r.Intn(900), 2+r.Intn(3)
		runs += fmt.Sprintf("  E%d: {tape: tape/even, pixels: %d}\n", e+1, pixels)
		least := slices.IndexFunc(blades, func(b string) bool {
			var amps float64
			fmt.Sscanf(b, "%fA", &amps)
			return amps > float64(pixels)*0.01/float64(feeds)
		})
		for k := range feeds {
			way++
			at := fmt.Sprintf("px%d", k*pixels/feeds)
			if k == 0 {
				at = "start"
			}
			cables += fmt.Sprintf("  W%d: {part: %s, length: %.1f m, from: A1.%d, to: E%d@%s}\n", way+1, flexes[r.Intn(len(flexes))], 0.5+3*r.Float64(), way, e+1, at)
			fuses += fmt.Sprintf("  A1.%d: fuse/blade-%s\n", way, blades[min(least+r.Intn(2), len(blades)-1)])
		}
	}
	if r.Intn(2) == 0 {
		data = "data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}\n"
	}
	return fmt.Sprintf(`farend: 1
site: {metalwork: isolated, ambient: %d °C, coldest: %d °C}
supplies: {T1: {part: supply/big}}
boards: {A1: {part: board/wide}}
runs:
%scables:
  W1: {part: cable/flex-2x10, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-maxi-30A}
%sfuses:
%s%sstates: {full: {}, low: {level: 55 %%}}
parts:%s  board/wide: {title: wide, basis: measured, source: invented, inlet: {amps: 40 A, resistance: 0.1 mΩ}, ways: {1: {amps: 20 A, resistance: 0.1 mΩ}, 2: {amps: 20 A, resistance: 0.1 mΩ}, 3: {amps: 20 A, resistance: 0.1 mΩ}, 4: {amps: 20 A, resistance: 0.1 mΩ}, 5: {amps: 20 A, resistance: 0.1 mΩ}, 6: {amps: 20 A, resistance: 0.1 mΩ}, 7: {amps: 20 A, resistance: 0.1 mΩ}, 8: {amps: 20 A, resistance: 0.1 mΩ}}, ports: {P1: {ground: 5 mΩ, ground_amps: 2 A, ground_fuse: fuse/ptc-0.75A}}}
`, 10+r.Intn(30), -10+r.Intn(20), runs, cables, fuses, data, even)
}

// cascaded is the sure cascade of a case.
func cascaded(t *testing.T, s *study.Study, c network.Case) (list []study.Opening) {
	t.Helper()
	place := map[string]int{}
	for i, conductor := range s.Network.Conductors() {
		place[conductor.Name] = i
	}
	w := circuit.NewWorker()
	base := c.Sound().Taken(c.Corner)
	before := s.Network.Heating(s.Network.Solve(t.Context(), w, base))
	for {
		solution := s.Network.Solve(t.Context(), w, c)
		if !solution.Found() {
			t.Fatalf("%s past %q: %v", c.Name, c.Opened, solution.Outcome)
		}
		now := s.Network.Heating(solution)
		least := now
		if solution.Start != nil {
			least = slices.Clone(now)
			for i, amps := range s.Network.Heating(solution.Start) {
				least[i] = min(least[i], amps)
			}
		}
		first := unit.Second(math.Inf(1))
		var next []study.Opening
		for _, g := range s.Guards() {
			at, there := place[g.Name]
			band, known := s.Band(g, g.Cold)
			if !there || !known || now[at] <= 1.01*before[at]+1e-6 {
				continue
			}
			o := study.Opening{Fuse: g.Name, Multiple: float64(now[at] / g.Fuse.Rating.Is), Slow: band.Opens(least[at])}
			switch {
			case o.Slow < first:
				first, next = o.Slow, []study.Opening{o}
			case o.Slow == first && !math.IsInf(float64(first), 1):
				next = append(next, o)
			}
		}
		if len(next) == 0 {
			return list
		}
		list = append(list, next...)
		for _, o := range next {
			c = c.Past(o.Fuse)
		}
	}
}

// A run of 100 pixels of two channels of 10 mA hangs on 30 m of 0.75 mm² alone (26 mΩ/m, 1.56 Ω) when its short feed is out. By hand, with channels that
// go straight from nothing to all: where red needs 2 V and blue begins at 3 V and needs 4 V, 5 V − 1.56 Ω · (1 A + (U − 3 V) · 1 A/V) = U gives 3.17 V, and blue a sixth
// of its light; where both begin at 3 V and need 4 V, 5 V − 1.56 Ω · 2 A/V · (U − 3 V) = U gives 3.49 V, and both half of theirs, in the same colour.
func TestOffColourIsToldFromDim(t *testing.T) {
	follow := func(red, more string) study.Outage {
		s := studied(t, `site: {coldest: 20 °C, conductors: 20 °C, metalwork: isolated}
supplies: {T1: {part: supply/big}}
runs: {E1: {tape: tape/two, pixels: 100}}
cables:
  W1: {part: cable/flex-2x6, length: 1 m, from: T1, to: E1@start, fuse: fuse/inline-10A}
  W2: {part: cable/flex-2x0.75, length: 30 m, from: T1, to: E1@start, fuse: fuse/inline-5A}
states: {full: {colour: all}}
parts:`+even+`
  tape/two: {title: two, basis: measured, source: invented, volts: 5 V, pixels: 50 /m, cut_every: 1, rail: 0.01 mΩ/m, rail_amps: 30 A, phase: unknown, `+more+`channels: {red: {set: 10 mA, `+red+`, soft: 0.001 V, candela: 1 cd, x: 0.69, y: 0.31}, blue: {set: 10 mA, lo: 3 V, hi: 4 V, soft: 0.001 V, candela: 1 cd, x: 0.13, y: 0.08}}, idle: {set: 0 mA, lo: 1 V, hi: 2 V, soft: 0.02 V}, protocol: protocol/single-wire-800k-24}
`)
		return losing(t, s, "W1")["W1"]
	}
	all := []study.Faded{{Run: "E1", Pixels: 100, States: []string{"full"}}}
	if o := follow("lo: 1 V, hi: 2 V", ""); !reflect.DeepEqual(o.Off, all) || o.Dim != nil || o.Dark != nil {
		t.Errorf("where blue alone fades: dark %v, off colour %v, dim %v", o.Dark, o.Off, o.Dim)
	}
	if o := follow("lo: 3 V, hi: 4 V", ""); !reflect.DeepEqual(o.Dim, all) || o.Off != nil || o.Dark != nil {
		t.Errorf("where both fade alike: dark %v, off colour %v, dim %v", o.Dark, o.Off, o.Dim)
	}
	if o := follow("lo: 1 V, hi: 2 V", "volts_min: 3.4 V, "); !reflect.DeepEqual(o.Off, all) || o.Dim != nil {
		t.Errorf("below what chips need, where blue alone fades: off colour %v, dim %v", o.Off, o.Dim)
	}
}
