package study_test

import (
	"math"
	"math/rand"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"farend/circuit"
	"farend/internal/schemetest"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A brute seeks the silent power of a fault in one case by trying resistances on a grid, in every set of open fuses that some of them reach.
type brute struct {
	t      *testing.T
	s      *study.Study
	w      *circuit.Worker
	fault  network.Fault
	c      network.Case
	guards []study.Guard
	wire   []int // where each stands among the conductors
	feeds  map[string]bool
	sound  *network.Solution
	load   []unit.Ampere // before the fault
	seen   map[string]bool
	best   float64
}

func bruteOf(t *testing.T, s *study.Study, f network.Fault, c network.Case) *brute {
	b := &brute{t: t, s: s, w: circuit.NewWorker(), fault: f, c: c, feeds: map[string]bool{}, seen: map[string]bool{}}
	place := map[string]int{}
	for i, conductor := range s.Network.Conductors() {
		place[conductor.Name] = i
	}
	for _, g := range s.Guards() {
		if at, there := place[g.Name]; there {
			b.guards, b.wire = append(b.guards, g), append(b.wire, at)
		}
	}
	for _, name := range s.Network.Feeding(f) {
		b.feeds[name] = true
	}
	b.sound = s.Network.Solve(t.Context(), b.w, c)
	b.load = s.Network.Heating(b.sound)
	return b
}

// A spot is what one resistance does with some fuses open: the power, the fuses that surely open within an hour, and those that may before one has.
type spot struct {
	watts     float64
	sure, may []string
}

func (b *brute) at(open []string, ohms float64) spot {
	f := b.fault
	f.Ohms = unit.Ohm(ohms)
	s := b.s.Network.SolveFrom(b.t.Context(), b.w, b.c.Struck(f).Past(open...), b.sound)
	if !s.Found() {
		b.t.Fatalf("%s past %v over %g Ω: %v", b.c.Name, open, ohms, s.Outcome)
	}
	currents := b.s.Network.Heating(s)
	rms, _ := s.FaultHeat()
	out := spot{watts: ohms * float64(rms*rms)}
	type acted struct {
		name         string
		opens, holds unit.Second
	}
	var all []acted
	within := study.Hour
	for i, g := range b.guards {
		amps, was := currents[b.wire[i]], b.load[b.wire[i]]
		cold, known := b.s.Band(g, g.Cold)
		if slices.Contains(open, g.Name) || !known || !b.feeds[g.Name] && amps <= 1.01*was+1e-6 {
			continue
		}
		warm, _ := b.s.Band(g, g.Warm)
		holds := warm.Holds(amps)
		if !math.IsInf(float64(holds), 1) {
			holds *= unit.Second(warm.Warm(was))
		}
		all = append(all, acted{g.Name, cold.Opens(amps), holds})
		within = min(within, cold.Opens(amps))
	}
	for _, g := range all {
		if g.opens <= study.Hour {
			out.sure = append(out.sure, g.name)
		}
		if g.opens <= within || g.holds < within {
			out.may = append(out.may, g.name)
		}
	}
	return out
}

// search tries a grid from a milliohm to a kilohm, and finer ones about the best of it.
func (b *brute) search(open []string) {
	key := strings.Join(open, ",")
	feeding := b.s.Network.Sections(b.fault).Supplies(func(name string) bool { return slices.Contains(open, name) })
	if b.seen[key] || len(feeding) == 0 || len(b.seen) > 40 {
		return
	}
	b.seen[key] = true
	next := map[string]bool{}
	best, at := 0.0, math.NaN()
	try := func(ohms float64) {
		spot := b.at(open, ohms)
		for _, name := range spot.may {
			next[name] = true
		}
		if len(spot.sure) == 0 && spot.watts > best {
			best, at = spot.watts, ohms
		}
	}
	const steps = 60
	try(float64(network.Bolted))
	for i := range steps + 1 {
		try(math.Pow(10, -3+6*float64(i)/steps))
	}
	const finer = 12
	for width := 6.0 / steps; width > 1e-4; width *= 2.0 / finer {
		for i, middle := 0, at; i <= finer && !math.IsNaN(middle); i++ {
			try(middle * math.Pow(10, width*(2*float64(i)/finer-1)))
		}
	}
	b.best = max(b.best, best)
	for name := range next {
		more := append(slices.Clone(open), name)
		slices.Sort(more)
		b.search(more)
	}
}

// The silent power of places of random schemes is what trying many resistances in all sets of open fuses finds.
func TestSilentPowerAgainstBruteForce(t *testing.T) {
	if testing.Short() {
		t.Skip("it proves numbers, without the race detector")
	}
	var tried, fused, reached atomic.Int32
	t.Run("schemes", func(t *testing.T) {
		for seed := range int64(52) {
			t.Run(strconv.FormatInt(seed, 10), func(t *testing.T) {
				t.Parallel()
				r := rand.New(rand.NewSource(80 + seed))
				text := schemetest.Text(schemetest.Random(r), schemetest.AsWritten)
				sch, mistakes := scheme.Read("random", []byte(text), parts.Catalogue())
				if len(mistakes) > 0 {
					t.Fatal(mistakes)
				}
				s, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
				if err != nil {
					t.Fatal(err)
				}
				places := s.Network.Places()
				x, ok, err := s.SilentAt(t.Context(), places[r.Intn(len(places))].Name)
				if err != nil || !ok {
					t.Fatal(ok, err)
				}
				want, past := bruteAt(t, s, x.Fault.At)
				tried.Add(1)
				reached.Add(int32(past))
				if x.Guard != "" {
					fused.Add(1)
				}
				got := float64(x.Watts)
				if got < want*(1-1e-3) || x.Case.Kind != network.State && got > want*1.001 {
					t.Errorf("%s %s, %s: %.6g W over %v, limited by %q and %v, past %v; a grid finds %.6g W\n%s", x.Fault.Kind, x.Fault.At, x.Case.Name, got, x.Fault.Ohms, x.Guard, x.Held, x.Opened, want, text)
				}
			})
		}
	})
	if tried.Load() < 50 || fused.Load() < 10 || reached.Load() < 10 {
		t.Errorf("only %d places, %d limited by a fuse, %d searches past open fuses", tried.Load(), fused.Load(), reached.Load())
	}
}

// bruteAt is the most that a grid finds at a place, in the dark and with the cap failed, between the poles and to metalwork; and how many of its
// searches went past an open fuse.
func bruteAt(t *testing.T, s *study.Study, place string) (most float64, past int) {
	for _, kind := range []network.Kind{network.Dark, network.CapFailed} {
		for _, f := range s.Faults() {
			if f.At != place || f.Ohms > 0 || f.Kind != network.PolesMeet && f.Kind != network.ToMetal {
				continue
			}
			c, _ := s.Network.CaseNamed(string(kind))
			b := bruteOf(t, s, f, c.Taken(network.Through))
			b.search(nil)
			if most = max(most, b.best); len(b.seen) > 1 {
				past++
			}
		}
	}
	return most, past
}

// The curve of a place has its silent power as the most of what lasts, and goes on past each fuse that opens.
func TestThePowerCurveOfAPlace(t *testing.T) {
	s, _ := example(t, "footbridge-two-feeds.scheme.yaml", &study.Options{Striking: study.NotNow})
	for place, guards := range map[string][]string{"E1@start": {"A1.1.fuse", "A1.3.fuse"}, "E1@px144": {"A1.1.fuse", "A1.3.fuse"}, "A1.in": {"W1.fuse"}} {
		c, ok, err := s.PowerCurve(t.Context(), place)
		if err != nil || !ok {
			t.Fatalf("%s: %v, %v", place, ok, err)
		}
		most := unit.Watt(0)
		var opens []string
		for i, stage := range c.Stages {
			opens = append(opens, stage.Guard)
			if len(stage.Opened) != i {
				t.Errorf("%s: stage %d has %v open", place, i, stage.Opened)
			}
			for k, spot := range stage.Spots {
				if k > 0 && spot.Ohms >= stage.Spots[k-1].Ohms {
					t.Errorf("%s: %v after %v", place, spot.Ohms, stage.Spots[k-1].Ohms)
				}
				if k > 0 && spot.Lasts && !stage.Spots[k-1].Lasts {
					t.Errorf("%s: what ends over %v lasts over %v", place, stage.Spots[k-1].Ohms, spot.Ohms)
				}
				if spot.Lasts {
					most = max(most, spot.Watts)
				}
			}
		}
		if most > c.Watts*1.001 || most < c.Watts*0.999 {
			t.Errorf("%s: the curve has up to %v, the place %v", place, most, c.Watts)
		}
		if !slices.Equal(opens, guards) {
			t.Errorf("%s: %v open, expected were %v", place, opens, guards)
		}
	}
	if _, ok, err := s.PowerCurve(t.Context(), "nowhere"); ok || err != nil {
		t.Errorf("nowhere has a curve (%v)", err)
	}
}
