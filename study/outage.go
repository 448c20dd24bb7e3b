package study

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"

	"farend/circuit"
	"farend/fuse"
	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// An Outage is what follows when one thing goes out.
type Outage struct {
	Out       string
	Courses   []Course       // as struckIn lists its cases, and in every state
	Dark, Off []Faded        // runs in which lights go out, or change colour, in some state, once all has opened that surely does
	Dim       []Faded        // runs in which they get less than they need, or give less than they should, likewise
	Fed       network.Behind // of a fuse or supply: by what else the copper behind it is fed
}

// A Course is what follows when one thing goes out, in one case: what conductors carry, in every order in which fuses may open, as in a Strike
// through which nothing flows, and the fuses.
type Course struct {
	Strike
	Cascade []Opening // those that surely open, in order of time
	May     []Opening // others that may open in some order

	faded fading // not in the dark
}

// An Opening is a fuse that opens.
type Opening struct {
	Fuse       string
	Multiple   float64     // of its rating, as it carries it
	Fast, Slow unit.Second // before when it cannot have opened, and within which it surely has, once those before it have; of one that may open where it does so soonest
	Sure       bool
}

// fading are the lights that fade, by run.
type fading struct{ dark, off, dim map[string]int }

// A Faded is a run in which lights fade, with how many at most and in which states.
type Faded struct {
	Run    string
	Pixels int
	States []string
}

// Lost is all outages of a study, followed.
type Lost struct {
	Outages []Outage
	toll
}

// Lost is all outages of the study, followed; nil where faults were not.
func (s *Study) Lost() *Lost {
	if s.struck == nil {
		return nil
	}
	return s.struck.lost
}

// Lose follows what happens when things go out, one at a time, by their names among the network's Outages, on as many workers as there are
// processors, and hands each, in order, to read. It ends with the first error of read, or with the context's.
func (s *Study) Lose(ctx context.Context, outs []string, read func(Outage) error) error {
	k := s.striker()
	if err := k.settle(ctx); err != nil {
		return err
	}
	return k.lit().lose(ctx, outs, read)
}

// lost follows all outages with a striker that has settled.
func (k *striker) lost(ctx context.Context, progress func(done, total int)) (*Lost, error) {
	k = k.lit()
	t, outs := &Lost{toll: k.toll()}, k.s.Network.Outages()
	count := counter(len(outs), progress)
	err := k.lose(ctx, outs, func(o Outage) error {
		for i := range o.Courses {
			t.count(&o.Courses[i].Strike)
		}
		t.Outages = append(t.Outages, o)
		count()
		return nil
	})
	return t, err
}

// lit is a striker that starts from every state besides, as it was solved, and shares all else.
func (k *striker) lit() *striker {
	y := &striker{
		s: k.s, guards: k.guards, cold: k.cold, warm: k.warm, known: k.known, wire: k.wire, guardAt: k.guardAt, bearers: k.bearers, unharmed: k.unharmed,
		bases: slices.Clone(k.bases), sound: slices.Clone(k.sound), loads: slices.Clone(k.loads),
	}
	for _, c := range k.s.cases {
		if c.Kind != network.State {
			continue
		}
		sound, load := k.s.solutions[c.Name], []unit.Ampere(nil)
		if sound.Found() {
			load = k.s.Network.Heating(sound)
		}
		y.bases, y.sound, y.loads = append(y.bases, c), append(y.sound, sound), append(y.loads, load)
	}
	return y
}

// outing is the aim of one thing that is out.
func (k *striker) outing(out string) *aim {
	n := k.s.Network
	return &aim{out: out, n: n, around: n.Sections(network.Fault{}), feeds: make([]bool, len(k.guards)), hung: scheme.IDs(k.s.Scheme.Supplies)}
}

// lose follows outages in batches, so that few stand in memory at a time.
func (k *striker) lose(ctx context.Context, outs []string, read func(Outage) error) error {
	known := k.s.Network.Outages()
	for _, out := range outs {
		if !slices.Contains(known, out) {
			return fmt.Errorf("%q is nothing that goes out", out)
		}
	}
	lights, twins := k.lights(), k.s.Network.Twins()
	followed := map[string][]Course{} // of the first of what comes to the same
	const batch = 64                  // of each worker
	for some := range slices.Chunk(outs, batch*runtime.GOMAXPROCS(0)) {
		var firsts []string
		for _, out := range some {
			if first := twins[out]; followed[first] == nil {
				firsts, followed[first] = append(firsts, first), make([]Course, len(k.bases))
			}
		}
		parallel(len(firsts)*len(k.bases), func(w *circuit.Worker, j int) {
			base, i := j/len(firsts), j%len(firsts) // all that start from one point in turn
			if ctx.Err() == nil {
				followed[firsts[i]][base] = k.course(ctx, w, firsts[i], base, lights[base])
			}
		})
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, out := range some {
			o := Outage{Out: out, Courses: slices.Clone(followed[twins[out]]), Fed: k.s.BackFed(out)}
			for base := range o.Courses {
				o.Courses[base].Case = k.bases[base].With(out)
			}
			o.Dark = k.faded(o.Courses, func(f fading) map[string]int { return f.dark })
			o.Off = k.faded(o.Courses, func(f fading) map[string]int { return f.off })
			o.Dim = k.faded(o.Courses, func(f fading) map[string]int { return f.dim })
			if err := read(o); err != nil {
				return err
			}
		}
	}
	return ctx.Err()
}

// course follows what happens when one thing goes out in one of the sound cases.
func (k *striker) course(ctx context.Context, w *circuit.Worker, out string, base int, before []lights) Course {
	x := k.walk(ctx, w, k.outing(out), base)
	defer k.settled(x)
	c := Course{Strike: x.strike()}
	if !c.Found {
		return c
	}
	var end opened
	c.Cascade, end = x.cascade()
	c.May = x.besides(c.Cascade)
	if last := x.solve(end).solution; last != nil {
		c.faded = k.fading(before, k.sound[base], last)
	}
	return c
}

// cascade is the fuses that surely open, in order of time, and all of them that then have.
func (x *walk) cascade() (list []Opening, end opened) {
	for {
		s := x.state(end)
		if x.lost || len(s.sure) == 0 {
			return list, end
		}
		for _, g := range s.sure {
			o := x.opening(g, s)
			o.Slow, o.Sure = s.within, true
			list = append(list, o)
		}
		end = end.with(s.sure, len(x.guards))
	}
}

// besides are the fuses that may open in some order and are none of those that surely do, each where it holds for the shortest time.
func (x *walk) besides(sure []Opening) []Opening {
	found := map[string]Opening{}
	for _, s := range x.states {
		for _, g := range s.may {
			o := x.opening(g, s)
			was, known := found[o.Fuse]
			if !known || cmp.Or(cmp.Compare(o.Fast, was.Fast), cmp.Compare(was.Multiple, o.Multiple), cmp.Compare(o.Slow, was.Slow)) < 0 {
				found[o.Fuse] = o
			}
		}
	}
	for _, o := range sure {
		delete(found, o.Fuse)
	}
	var list []Opening
	for _, name := range scheme.IDs(found) {
		list = append(list, found[name])
	}
	return list
}

// opening is a fuse as it is in a state; while a supply is on that pulses it carries more than what counts.
func (x *walk) opening(g int, s *state) Opening {
	o := Opening{Fuse: x.guards[g].Name, Fast: x.holds(g, s), Slow: fuse.Never}
	amps := s.currents[x.wire[g]]
	if x.known[g] {
		o.Slow = x.cold[g].Opens(amps)
	}
	if link := x.guards[g].Fuse; link != nil && link.Rating.Is > 0 {
		o.Multiple = float64(amps / link.Rating.Is)
	}
	return o
}

// lights are those of a run in a state, as they are before anything goes out: what each is fed with, what it needs to start, and by its tape, and from
// what on it gives all its light; its light and colour, where the tape says.
type lights struct {
	run                 string
	volts               []float64
	starts, needs, full float64
	light               []network.Light
}

// lights are those of all lit runs in every base but the dark ones.
func (k *striker) lights() [][]lights {
	all := make([][]lights, len(k.bases))
	for i, c := range k.bases {
		if c.Kind == network.Dark || !k.sound[i].Found() {
			continue
		}
		for _, run := range scheme.IDs(k.s.Scheme.Runs) {
			starts, full, lit := k.s.starts(run, c)
			if volts, ok := k.s.Network.LowestVolts(k.sound[i], run); ok && lit {
				l := lights{run: run, volts: volts, starts: starts, full: full}
				l.light = k.s.Network.Lights(k.sound[i], run)
				if tape := k.s.Scheme.Tape(run); tape.VoltsMin.Given {
					l.needs = float64(tape.VoltsMin.Is)
				}
				all[i] = append(all[i], l)
			}
		}
	}
	return all
}

// starts is the voltage at which the first lit channel of a run begins to carry current, and that from which on all give all their light; it is not lit
// where none is. A channel that is not regulated gives more with every volt.
func (s *Study) starts(run string, in network.Case) (volts, full float64, lit bool) {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return 0, 0, false
	}
	drives, _ := s.Scheme.Drives(in.State, run)
	for _, name := range scheme.Channels(tape) {
		c := tape.Channels[name]
		if in.Kind == network.State && drives[name] <= 0 {
			continue
		}
		if lo := float64(c.Lo.Is); !lit || lo < volts {
			volts, lit = lo, true
		}
		if c.Hi.Given {
			const bends = 20 // times its softness above, the bend is below a billionth
			full = max(full, float64(c.Hi.Is)+bends*float64(c.Soft.Is))
		} else {
			full = math.Inf(1)
		}
	}
	return volts, full, lit
}

// barely is a change in voltage that is none, in volts: far above what following leaves open, far below what anybody sees.
const barely = 1e-3

// fading counts the lights, by run, that were fed and are no more; those of the rest whose colour is not what it was, by more than the aim allows along a
// run; and those of the rest that had what their tape needs and have it no more, or give less than the aim allows along a run of what they did.
func (k *striker) fading(before []lights, sound, after *network.Solution) fading {
	f := fading{map[string]int{}, map[string]int{}, map[string]int{}}
	even, shift := k.s.Scheme.EvennessAim(), k.s.Scheme.ColourShiftAim()
	for _, l := range before {
		if !k.s.Network.Moved(l.run, after, sound) {
			continue
		}
		now, _ := k.s.Network.LowestVolts(after, l.run)
		var light []network.Light
		for i, was := range l.volts {
			volts := now[i]
			if volts > was-barely || was < l.starts {
				continue
			}
			if volts < l.starts {
				f.dark[l.run]++
				continue
			}
			if volts < l.full && light == nil {
				light = k.s.Network.Lights(after, l.run)
			}
			switch {
			case light != nil && light[i].Shift(l.light[i]) > shift:
				f.off[l.run]++
			case volts < l.needs && was >= l.needs, light != nil && light[i].Candela < even*l.light[i].Candela:
				f.dim[l.run]++
			}
		}
	}
	return f
}

// faded merges what fades in the states: runs in order, each with the states in which it does.
func (k *striker) faded(courses []Course, of func(fading) map[string]int) []Faded {
	runs := map[string]Faded{}
	for base, c := range courses {
		if k.bases[base].Kind != network.State {
			continue
		}
		for run, pixels := range of(c.faded) {
			f := runs[run]
			f.Run, f.Pixels, f.States = run, max(f.Pixels, pixels), append(f.States, k.bases[base].State)
			runs[run] = f
		}
	}
	var list []Faded
	for _, run := range scheme.IDs(runs) {
		list = append(list, runs[run])
	}
	return list
}

// Harm is what the worst outage does to a conductor; the zero Harm, which passes, where none makes it carry more than it may for ever. What the
// fuses that it has to itself let through counts, for what a run draws may be anything up to full drive; of cables protection/coordination asks that.
func (t *Lost) Harm(bearer int) Harm {
	b := &t.Bearers[bearer]
	_, cable := t.striker.s.Scheme.Cables[b.Owner]
	return t.harm(bearer, b.Kind != OfCore || !cable)
}

// Without is an outage by what is out; it is not ok where nothing of that name goes out.
func (t *Lost) Without(out string) (o *Outage, ok bool) {
	i := slices.IndexFunc(t.Outages, func(o Outage) bool { return o.Out == out })
	if i < 0 {
		return nil, false
	}
	return &t.Outages[i], true
}

// Missed lists, in order, what is out in the cases in which no operating point was found.
func (t *Lost) Missed() (outs []string) {
	for i := range t.Outages {
		if o := &t.Outages[i]; slices.ContainsFunc(o.Courses, func(c Course) bool { return !c.Found }) {
			outs = append(outs, o.Out)
		}
	}
	return outs
}

// BackFed is by what else the copper behind a fuse, or at a supply, is fed when that is out: the fuses that are met first on the way to another
// supply, and the supplies that are reached without one. All of them and the fuse itself, drawn together, isolate it. There are none of what is no fuse
// of a way or cable, and no supply.
func (s *Study) BackFed(out string) network.Behind {
	at, is := strings.CutSuffix(out, ".fuse")
	_, supply := s.Scheme.Supplies[out]
	cable, inline := s.Scheme.Cables[at]
	var fed network.Behind
	switch {
	case supply:
		fed = s.Network.Fed(out)
	case !is:
	case inline && cable.FuseAt == "to":
		fed = s.Network.Behind(at, "from")
	case inline:
		fed = s.Network.Behind(at, "to")
	default:
		fed = s.Network.Fed(at)
	}
	own := func(name string) bool { return name == out }
	return network.Behind{Fuses: slices.DeleteFunc(fed.Fuses, own), Bare: slices.DeleteFunc(fed.Bare, own)}
}
