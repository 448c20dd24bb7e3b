package study

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"

	"farend/circuit"
	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A Strike is one fault in one case and corner: what flows at first, which fuses open one after the other, and what is left.
type Strike struct {
	Case   network.Case
	Found  bool          // nothing below means anything otherwise
	Amps   unit.Ampere   // through the fault, at first
	Held   []string      // supplies that are at their limit at first
	Phases []Phase       // in order of time, if every fuse takes as long as it may; the last is what then lasts
	Pulses []string      // supplies that pulse in that; Lasts and what conductors carry then is its rms
	Orders int           // states that fuses may leave by opening in one order or another, this one among them
	Cut    bool          // there are more of them than were followed
	Slow   unit.Second   // within which nothing flows through the fault any more, in any order; Never where something may go on
	Fast   unit.Second   // before which that cannot be
	Lasts  unit.Ampere   // the most that may flow through the fault for ever
	Over   []Overstepped // conductors that carry more than they may for ever in some order, the worst first
}

// A Phase is the time between the opening of one fuse and the next.
type Phase struct {
	Opens []string    // fuses that have surely opened when it ends; none of the last
	For   unit.Second // how long it lasts at most, Never of the last
	Amps  unit.Ampere // through the fault
}

// Overstepped is a conductor that carries more than it may for ever. Each number is the worst over all orders in which fuses may open.
type Overstepped struct {
	Name  string
	Amps  unit.Ampere             // the most, at any time
	Limit unit.Ampere             // what it may carry for ever
	Heat  unit.AmpereSquareSecond // until nothing more opens
	Share float64                 // how much of what it bears is used up until then; above 1 it takes harm
	Lasts unit.Ampere             // the most that may go on for ever
	Long  unit.Ampere             // the most that may go on for longer than Patience
}

// A striker holds what all strikes of a study share.
type striker struct {
	s       *Study
	guards  []Guard
	cold    []fuse.Band // in the coldest air: by when they have opened
	warm    []fuse.Band // in the hottest: for how long they hold
	known   []bool      // whether the bands are
	guardAt map[string]int
	wire    []int // where each guard stands among the conductors
	bearers []bearer
}

func (s *Study) striker() *striker {
	list := s.Network.Conductors()
	place := make(map[string]int, len(list))
	for i, c := range list {
		place[c.Name] = i
	}
	k := &striker{s: s, guardAt: map[string]int{}, bearers: s.bearers(list, place)}
	for _, g := range s.Guards() {
		at, there := place[g.Name]
		if !there {
			continue
		}
		k.guardAt[g.Name] = len(k.guards)
		cold, known := s.Band(g, g.Cold)
		warm, _ := s.Band(g, g.Warm)
		k.guards, k.cold, k.warm, k.known, k.wire = append(k.guards, g), append(k.cold, cold), append(k.warm, warm), append(k.known, known), append(k.wire, at)
	}
	return k
}

// strike follows a fault from the sound solution of its case until nothing more opens, in every order in which fuses may.
func (k *striker) strike(ctx context.Context, w *circuit.Worker, c network.Case, sound *network.Solution) Strike {
	out := Strike{Case: c}
	if !sound.Found() {
		return out
	}
	x := &walk{striker: k, ctx: ctx, worker: w, c: c, sound: sound, load: k.s.Network.Currents(sound), sections: k.s.Network.Sections(c.Fault), states: map[string]*state{}, fates: map[string]*fate{}}
	feeding := k.s.Network.Feeding(c.Fault)
	for _, g := range k.guards {
		x.feeds = append(x.feeds, slices.Contains(feeding, g.Name))
	}
	end := x.fate(opened{})
	if x.lost {
		return out
	}
	first := x.state(opened{})
	out.Found, out.Amps, out.Held, out.Orders, out.Cut = true, first.amps, first.held, len(x.fates), x.cut
	out.Slow, out.Fast, out.Lasts = end.slow, end.fast, end.lasts
	out.Over = k.overstepped(end)
	out.Phases, out.Pulses = x.surely()
	return out
}

// opened says which guards have opened.
type opened []bool

func (o opened) with(guards []int, all int) opened {
	now := make(opened, all)
	copy(now, o)
	for _, g := range guards {
		now[g] = true
	}
	return now
}

func (o opened) has(guard int) bool { return guard < len(o) && o[guard] }

func (o opened) key() string {
	key := make([]byte, 0, len(o)/8+1)
	var b byte
	for i, is := range o {
		if is {
			b |= 1 << (i % 8)
		}
		if i%8 == 7 || i == len(o)-1 {
			key, b = append(key, b), 0
		}
	}
	for len(key) > 0 && bits.OnesCount8(key[len(key)-1]) == 0 {
		key = key[:len(key)-1]
	}
	return string(key)
}

// A walk is one strike on its way.
type walk struct {
	*striker
	ctx    context.Context
	worker *circuit.Worker
	c      network.Case
	sound  *network.Solution
	load   []unit.Ampere // of all conductors, before the fault
	feeds  []bool        // whether a guard is on the way to the fault

	sections *network.Sections // around its place
	states   map[string]*state
	fates    map[string]*fate
	cut      bool
	lost     bool // a state was not found
}

// A state is the network with the fault and some fuses open, for as long as it lasts.
type state struct {
	solution *network.Solution
	amps     unit.Ampere   // through the fault
	currents []unit.Ampere // of all conductors
	held     []string
	pulses   []string
	driven   []int       // guards on which the fault acts
	within   unit.Second // by when some fuse has surely opened; Never where none does
	sure     []int       // those that have then
	may      []int       // those that may open before, the sure ones among them
}

// state solves the network with some fuses open.
func (x *walk) state(o opened) *state {
	key := o.key()
	if s, known := x.states[key]; known {
		return s
	}
	s := &state{within: fuse.Never}
	x.states[key] = s
	c := x.c
	for i, is := range o {
		if is {
			c = c.Past(x.guards[i].Name)
		}
	}
	n := x.s.Network
	solution := n.SolveFrom(x.ctx, x.worker, c, x.sound)
	if !solution.Found() {
		x.lost = true
		return s
	}
	s.solution, s.amps, s.currents = solution, solution.FaultAmps(), n.Currents(solution)
	held := n.AtLimit(solution)
	for _, t := range held {
		s.held = append(s.held, t.ID)
	}
	least := s.currents
	if solution.Start != nil { // one that folds back and is stuck lower from 0 V opens no fuse with what it gives once it runs
		least = lesser(s.currents, n.Currents(solution.Start))
	}
	pulses := x.pulsing(held, c.Corner)
	s.driven = x.driven(s.currents, o)
	s.sure, s.within = x.first(least, s.driven, pulses.on)
	if len(s.sure) == 0 && len(pulses.ids) > 0 {
		s.pulses = pulses.ids
		if n.Giving(solution) == len(pulses.ids) { // what others give besides goes on, and counts in full
			s.scale(x.share(s.currents, s.driven, pulses))
			s.sure, s.within = x.first(s.currents, s.driven, fuse.Never)
		}
	}
	s.may = x.may(s)
	return s
}

// driven are the intact guards on which a fault acts: those on the way to it, and those that carry more than before it. What any other
// does it does without the fault as well.
func (x *walk) driven(currents []unit.Ampere, o opened) []int {
	var list []int
	for i, at := range x.wire {
		if !o.has(i) && x.known[i] && (x.feeds[i] || raised(currents[at], x.load[at])) {
			list = append(list, i)
		}
	}
	return list
}

// raised reports whether a current is more than it was by a hundredth at least.
func raised(amps, was unit.Ampere) bool { return amps > 1.01*was+still }

// first are the guards, of some, that have surely opened first, and when; none where none surely does within a time.
func (k *striker) first(currents []unit.Ampere, of []int, within unit.Second) (sure []int, after unit.Second) {
	after = fuse.Never
	for _, i := range of {
		after = min(after, k.cold[i].Opens(currents[k.wire[i]]))
	}
	if after == fuse.Never || after > within {
		return nil, fuse.Never
	}
	for _, i := range of {
		if k.cold[i].Opens(currents[k.wire[i]]) == after {
			sure = append(sure, i)
		}
	}
	return sure, after
}

// may are the guards that may open in a state before one surely has, that one among them: those that hold for less, warm as they were
// before the fault and in the hottest air.
func (x *walk) may(s *state) []int {
	var may []int
	for _, i := range s.driven {
		if slices.Contains(s.sure, i) || x.holds(i, s) < s.within {
			may = append(may, i)
		}
	}
	return may
}

// holds is for how long a fuse surely holds in a state.
func (x *walk) holds(guard int, s *state) unit.Second {
	band, at := x.warm[guard], x.wire[guard]
	if t := band.Holds(s.currents[at]); t < fuse.Never {
		return t * unit.Second(band.Warm(x.load[at]))
	}
	return fuse.Never
}

// parted reports whether a fault hangs on no supply any more. What goes on elsewhere is then that of blown fuses.
func (x *walk) parted(o opened) bool {
	return x.sections.Parted(func(name string) bool {
		at, is := x.guardAt[name]
		return is && o.has(at)
	})
}

// still is the current through a fault that is none, in amperes.
const still unit.Ampere = 1e-6

// over reports whether a state is the end of a fault: nothing flows through it any more. One that carries nothing itself is over where
// nothing more surely opens and no conductor carries more than it may.
func (x *walk) over(s *state) bool {
	if kind := x.c.Fault.Kind; kind != network.PoleOpen && kind != network.Reversed {
		return s.amps < still && s.amps > -still
	}
	return len(s.may) == 0 && !slices.ContainsFunc(x.bearers, func(b bearer) bool { return b.of(s.currents) > b.limit })
}

// A fate is what may come of a state, the worst over all orders of what follows; of conductors in the order of the bearers.
type fate struct {
	slow, fast unit.Second
	lasts      unit.Ampere
	of         []Overstepped
}

// mostOrders is how many states of one strike are followed in every order; beyond, only what is sure is.
const mostOrders = 64

// fate follows a state to its ends.
func (x *walk) fate(o opened) *fate {
	key := o.key()
	if f, known := x.fates[key]; known {
		return f
	}
	f := &fate{of: make([]Overstepped, len(x.bearers))}
	x.fates[key] = f
	if x.parted(o) {
		return f
	}
	s := x.state(o)
	f.slow, f.fast = s.within, fuse.Never
	if x.lost {
		return f
	}
	x.spend(f, s)
	if x.over(s) {
		f.slow, f.fast = 0, 0
		return f
	}
	if s.within == fuse.Never {
		f.lasts = max(s.amps, -s.amps)
	}
	x.onward(f, s, o)
	return f
}

// spend is what conductors take while a state lasts.
func (x *walk) spend(f *fate, s *state) {
	for i, b := range x.bearers {
		amps := b.of(s.currents)
		to := &f.of[i]
		to.Amps = amps
		if s.within > Patience {
			to.Long = amps
		}
		if s.within == fuse.Never {
			to.Lasts = amps
			continue
		}
		to.Heat = unit.AmpereSquareSecond(float64(amps*amps) * float64(s.within))
		to.Share = b.share(amps, s.within)
	}
}

// onward goes on from a state by every fuse that may open, and takes the worst of what follows.
func (x *walk) onward(f *fate, s *state, o opened) {
	ways := make([][]int, 0, len(s.may))
	for _, g := range s.may {
		ways = append(ways, []int{g})
	}
	if len(x.fates) >= mostOrders && len(ways) > 1 {
		x.cut, ways = true, nil
		if len(s.sure) > 0 {
			ways = [][]int{s.sure}
		}
	}
	after, later := make([]Overstepped, len(f.of)), unit.Second(0)
	for _, way := range ways {
		next := x.fate(o.with(way, len(x.guards)))
		later = max(later, next.slow)
		f.fast = min(f.fast, max(x.holds(way[0], s), next.fast))
		f.lasts = max(f.lasts, next.lasts)
		for i := range after {
			after[i].take(next.of[i])
		}
	}
	f.slow += later
	for i := range after {
		to, then := &f.of[i], after[i]
		to.Heat, to.Share = to.Heat+then.Heat, to.Share+then.Share
		to.Amps, to.Lasts, to.Long = max(to.Amps, then.Amps), max(to.Lasts, then.Lasts), max(to.Long, then.Long)
	}
}

// take takes the worse of two in every number.
func (o *Overstepped) take(other Overstepped) {
	o.Amps, o.Heat, o.Share = max(o.Amps, other.Amps), max(o.Heat, other.Heat), max(o.Share, other.Share)
	o.Lasts, o.Long = max(o.Lasts, other.Lasts), max(o.Long, other.Long)
}

// surely are the phases in which each fuse takes as long as it may.
func (x *walk) surely() (phases []Phase, pulses []string) {
	for o := (opened{}); ; {
		if x.parted(o) {
			return append(phases, Phase{For: fuse.Never}), nil
		}
		s := x.state(o)
		p := Phase{For: s.within, Amps: s.amps}
		for _, g := range s.sure {
			p.Opens = append(p.Opens, x.guards[g].Name)
		}
		phases, pulses = append(phases, p), s.pulses
		if len(s.sure) == 0 || x.lost {
			return phases, pulses
		}
		o = o.with(s.sure, len(x.guards))
	}
}

// overstepped lists the conductors that carry more than they may for ever, the worst first.
func (k *striker) overstepped(f *fate) []Overstepped {
	var list []Overstepped
	for i, b := range k.bearers {
		if o := f.of[i]; o.Amps > b.limit {
			o.Name, o.Limit = b.name, b.limit
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, worseHarm)
	return list
}

// worseHarm puts what takes most harm first: what lasts beyond its limit by how far, then by the share that is used up.
func worseHarm(a, b Overstepped) int {
	beyond := func(o Overstepped) float64 { return max(1, float64(o.Lasts/o.Limit)) }
	return cmp.Or(cmp.Compare(beyond(b), beyond(a)), cmp.Compare(b.Share, a.Share))
}

// of is what a bearer carries, of the currents of all conductors.
func (b bearer) of(currents []unit.Ampere) unit.Ampere {
	sum := unit.Ampere(0)
	for _, i := range b.at {
		sum += currents[i]
	}
	return sum
}

// lesser are the lesser of two currents, one by one.
func lesser(a, b []unit.Ampere) []unit.Ampere {
	least := slices.Clone(a)
	for i := range least {
		least[i] = min(a[i], b[i])
	}
	return least
}

// A pulse is what supplies do that switch themselves off and on: the shortest time for which any is on, and the largest share of time.
type pulse struct {
	ids   []string
	on    unit.Second // Never where none pulses; 0 where it is not known
	share float64     // NaN where it is not known
}

// pulsing is what supplies at their limit do, where least is to flow; where most is, they go on. Several that pulse do so in step or not: a
// fuse is credited with no pulse of them, and their share of time counts as not known.
func (k *striker) pulsing(held []network.Held, side network.Corner) pulse {
	p := pulse{on: fuse.Never}
	if side != network.Opens {
		return p
	}
	for _, t := range held {
		part, _ := parts.Get[parts.Supply](k.s.Scheme.Library, k.s.Scheme.Supplies[t.ID].Part)
		if part.Steady() != parts.Hiccup || part.PulseBelow.Given && t.Volts >= part.PulseBelow.Is {
			continue
		}
		p.ids, p.on = append(p.ids, t.ID), min(p.on, part.PulseOn.Is)
		share := math.NaN()
		if whole := part.PulseOn.Is + part.PulseOff.Is; part.PulseOn.Given && part.PulseOff.Given && whole > 0 {
			share = float64(part.PulseOn.Is / whole)
		}
		p.share = share
	}
	if len(p.ids) > 1 {
		p.on, p.share = 0, math.NaN()
	}
	return p
}

// share is the rms of pulses over what flows while they last. Where the share of time is not known, it is the largest that no fuse
// surely ends: fuses go by the heat of many pulses, and one that carries the rms from which it opens, opens.
func (k *striker) share(currents []unit.Ampere, of []int, p pulse) float64 {
	if !math.IsNaN(p.share) {
		return math.Sqrt(p.share)
	}
	const under = 1 - 1e-9
	rms := 1.0
	for _, i := range of {
		if amps, least := currents[k.wire[i]], k.cold[i].Threshold(); amps >= least {
			rms = min(rms, under*float64(least/amps))
		}
	}
	return rms
}

func (s *state) scale(by float64) {
	s.amps *= unit.Ampere(by)
	for i := range s.currents {
		s.currents[i] *= unit.Ampere(by)
	}
}
