package study

import (
	"context"
	"math/bits"
	"slices"

	"farend/circuit"
	"farend/fuse"
	"farend/network"
	"farend/unit"
)

// A walk is one strike, or the course of one outage, on its way.
type walk struct {
	*striker
	*aim
	ctx    context.Context
	worker *circuit.Worker
	c      network.Case
	sound  *network.Solution
	from   *network.Solution  // from which states are followed: the sound one, or in a network that is laid out anew the first state
	load   []unit.Ampere      // of all conductors, before the fault
	solved map[string]*solved // shared with the walk that goes on, see goingOn
	states map[string]*state
	fates  map[string]*fate
	room   *room
	going  bool // supplies that switch themselves off and on go on at their limit instead
	pulsed bool // some state met one that does not
	cut    bool
	lost   bool // a state was not found
}

// goingOn is the same walk where supplies that switch themselves off and on at their limit hold it instead.
func (x *walk) goingOn() *walk {
	y := *x
	y.going, y.states, y.fates = true, map[string]*state{}, map[string]*fate{}
	return &y
}

// A room is memory for the fates of one walk after another.
type room struct {
	all  []Overstepped
	free int
}

// take gives so many that are zero.
func (r *room) take(n int) []Overstepped {
	if r.free+n > len(r.all) {
		r.all, r.free = make([]Overstepped, max(64*n, len(r.all))), 0
	}
	taken := r.all[r.free : r.free+n : r.free+n]
	r.free += n
	clear(taken)
	return taken
}

// An aim is what the strikes of one fault share, or what follows when one thing is out: then there is no fault.
type aim struct {
	fault  network.Fault
	out    string
	n      *network.Network // in which it is: laid out anew where it lands something the wrong way round
	around *network.Sections
	feeds  []bool   // whether a guard is on the way to it
	near   []int    // guards that are met first on the way from its place to a supply
	hung   []string // supplies of the run at a fault without a place; of an outage all
}

// in is the case of it in a sound one.
func (a *aim) in(base network.Case) network.Case {
	if a.out != "" {
		return base.With(a.out)
	}
	return base.Struck(a.fault)
}

// aimed is the aim of a case with something wrong.
func (k *striker) aimed(c network.Case) (*aim, error) {
	if c.Out != "" {
		return k.outing(c.Out), nil
	}
	return k.aim(c.Fault)
}

func (k *striker) aim(f network.Fault) (*aim, error) {
	a := &aim{fault: f, n: k.s.Network, feeds: make([]bool, len(k.guards))}
	switch f.Kind {
	case network.PoleOpen:
		a.hung = a.n.SuppliesOf(f.At)
	case network.Reversed:
		swapped, _, err := a.n.Swapped(f.At)
		if err != nil {
			return nil, err
		}
		a.hung, a.n = a.n.SuppliesOn(f.At), swapped
	}
	a.around = a.n.Sections(f)
	for _, name := range a.n.Feeding(f) {
		if g, known := k.guardAt[name]; known {
			a.feeds[g] = true
		}
	}
	for _, name := range a.around.Nearest() {
		if g, known := k.guardAt[name]; known {
			a.near = append(a.near, g)
		}
	}
	return a, nil
}

func (k *striker) walk(ctx context.Context, w *circuit.Worker, a *aim, base int) *walk {
	memory, used := k.rooms.Get().(*room)
	if !used {
		memory = new(room)
	}
	memory.free = 0
	x := &walk{
		striker: k, aim: a, room: memory, ctx: ctx, worker: w, c: a.in(k.bases[base]), sound: k.sound[base], load: k.loads[base],
		solved: map[string]*solved{}, states: map[string]*state{}, fates: map[string]*fate{},
	}
	if a.n == k.s.Network {
		x.from = x.sound
	}
	return x
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

// A solved is the network with the fault and some fuses open.
type solved struct {
	solution *network.Solution // nil where none was found
	currents []unit.Ampere     // of all conductors
	least    []unit.Ampere     // with supplies that fold back as they start from 0 V
	amps     unit.Ampere       // through the fault
	feeding  []string          // supplies on which its place hangs
	held     []network.Held    // those of them that are at their limit
}

// solve solves the network with some fuses open.
func (x *walk) solve(o opened) *solved {
	key := o.key()
	if s, known := x.solved[key]; known {
		return s
	}
	s := &solved{}
	x.solved[key] = s
	c := x.c
	for i, is := range o {
		if is {
			c = c.Past(x.guards[i].Name)
		}
	}
	solution := x.n.Glance(x.ctx, x.worker, c, x.from)
	if !solution.Found() {
		return s
	}
	if x.from == nil {
		x.from = solution
	}
	s.solution, s.amps, s.currents = solution, solution.FaultAmps(), x.n.Heating(solution)
	s.feeding = x.supplies(o)
	s.held = slices.DeleteFunc(x.n.AtLimit(solution), func(t network.Held) bool { return !slices.Contains(s.feeding, t.ID) })
	s.least = s.currents
	if solution.Start != nil { // one that folds back and is stuck lower from 0 V opens no fuse with what it gives once it runs
		s.least = lesser(s.currents, x.n.Heating(solution.Start))
	}
	return s
}

// A state is the network with the fault and some fuses open, for as long as it lasts.
type state struct {
	net      *solved
	amps     unit.Ampere   // through the fault; where supplies pulse, the rms
	currents []unit.Ampere // of all conductors, likewise
	pulse    unit.Ampere   // while a supply is on that pulses, as a multiple of these
	pulses   []string
	driven   []int       // guards on which the fault acts
	within   unit.Second // by when some fuse has surely opened; Never where none does
	melts    unit.Second // the same for what the current warms until then, see fuse.Band.Melts
	sure     []int       // those that have then
	may      []int       // those that may open before, the sure ones among them
}

// state is what comes of the network with some fuses open.
func (x *walk) state(o opened) *state {
	key := o.key()
	if s, known := x.states[key]; known {
		return s
	}
	s := &state{net: x.solve(o), within: fuse.Never, melts: fuse.Never, pulse: 1}
	x.states[key] = s
	if s.net.solution == nil {
		x.lost = true
		return s
	}
	s.amps, s.currents = s.net.amps, s.net.currents
	pulses := pulse{on: fuse.Never}
	if !x.going {
		pulses = x.pulsing(s.net.held, x.c.Corner)
		x.pulsed = x.pulsed || len(pulses.ids) > 0
	}
	s.driven = x.driven(s.currents, o)
	s.sure, s.within = x.first(s.net.least, s.driven, pulses.on)
	if len(s.sure) == 0 && len(pulses.ids) > 0 {
		s.pulses = pulses.ids
		if x.n.Giving(s.net.solution, s.net.feeding) == len(pulses.ids) { // what others give besides goes on, and counts in full
			s.scale(x.share(s.currents, s.driven, pulses))
			s.sure, s.within = x.first(s.currents, s.driven, fuse.Never)
		}
	}
	for _, g := range s.sure {
		s.melts = min(s.within, s.melts, x.cold[g].Melts(s.currents[x.wire[g]]))
	}
	s.may = x.may(s)
	return s
}

// supplies are those on which the place of the fault hangs, with some fuses open; where it has no place, those of its run, whatever opens.
func (x *walk) supplies(o opened) []string {
	if x.around.Nowhere() {
		return x.hung
	}
	return x.around.Supplies(func(name string) bool {
		at, is := x.guardAt[name]
		return is && o.has(at)
	})
}

// parted reports whether a fault hangs on no supply any more. What goes on elsewhere is then that of blown fuses.
func (x *walk) parted(o opened) bool { return len(o) > 0 && len(x.supplies(o)) == 0 }

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

// still is the current through a fault that is none, in amperes.
const still unit.Ampere = 1e-6

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
	return x.holding(guard, s.currents[x.wire[guard]])
}

// holding is for how long a fuse surely holds a current, warm as it was before the fault; one of which nothing is known for no time.
func (x *walk) holding(guard int, amps unit.Ampere) unit.Second {
	if !x.known[guard] {
		return 0
	}
	band := x.warm[guard]
	if t := band.Holds(amps); t < fuse.Never {
		return t * unit.Second(band.Warm(x.load[x.wire[guard]]))
	}
	return fuse.Never
}

// over reports whether a state is the end of a fault: nothing flows through it any more. One that carries nothing itself is over where
// nothing more surely opens and it makes no conductor carry more than it may.
func (x *walk) over(s *state) bool {
	if !x.around.Nowhere() {
		return s.amps < still && s.amps > -still
	}
	return len(s.may) == 0 && !slices.ContainsFunc(x.bearers, func(b Bearer) bool {
		amps := b.of(s.currents)
		return amps > b.Limit && raised(amps, b.of(x.load))
	})
}

// A fate is what may come of a state, the worst over all orders of what follows; of conductors in the order of the bearers.
type fate struct {
	slow, fast unit.Second
	lasts      unit.Ampere
	of         []Overstepped
	ways       [][]int // what may open first
}

// mostOrders is how many states of one strike are followed in every order; beyond, only what is sure is.
const mostOrders = 64

// fate follows a state to its ends.
func (x *walk) fate(o opened) *fate {
	key := o.key()
	if f, known := x.fates[key]; known {
		return f
	}
	f := &fate{of: x.unharmed}
	x.fates[key] = f
	if x.parted(o) {
		return f
	}
	f.of = x.room.take(len(x.bearers))
	s := x.state(o)
	f.slow, f.fast = s.within, fuse.Never
	if x.lost {
		return f
	}
	if x.spend(f, s); x.over(s) {
		f.slow, f.fast = 0, 0
		return f
	}
	if s.within == fuse.Never {
		f.lasts = max(s.amps, -s.amps)
	}
	x.onward(f, s, o)
	return f
}

// spend is what conductors take while a state lasts, of those that carry more than before the fault.
func (x *walk) spend(f *fate, s *state) {
	for i := range x.bearers {
		b := &x.bearers[i]
		amps := b.of(s.currents)
		if !raised(amps, b.of(x.load)) {
			continue
		}
		to := &f.of[i]
		to.Amps = amps
		if s.within > Patience {
			to.Long = amps
		}
		if s.within == fuse.Never {
			to.Lasts = amps
			continue
		}
		to.Heat = unit.AmpereSquareSecond(float64(amps*amps) * float64(s.melts))
		to.Share = b.share(amps, s.within, s.melts, b.paired(s.currents))
	}
}

// onward goes on from a state by every fuse that may open, and takes the worst of what follows.
func (x *walk) onward(f *fate, s *state, o opened) {
	for _, g := range s.may {
		f.ways = append(f.ways, []int{g})
	}
	if len(x.fates) >= mostOrders && len(f.ways) > 1 {
		x.cut, f.ways = true, nil
		if len(s.sure) > 0 {
			f.ways = [][]int{s.sure}
		}
	}
	if len(f.ways) == 0 {
		return
	}
	next, later := make([]*fate, len(f.ways)), unit.Second(0)
	for i, way := range f.ways {
		then := x.fate(o.with(way, len(x.guards)))
		later = max(later, then.slow)
		f.fast = min(f.fast, max(x.holds(way[0], s), then.fast))
		f.lasts = max(f.lasts, then.lasts)
		next[i] = then
	}
	f.slow += later
	for i := range f.of {
		to, then := &f.of[i], Overstepped{}
		for _, n := range next {
			then.take(n.of[i])
		}
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
			return append(phases, Phase{For: fuse.Never, Melts: fuse.Never}), nil
		}
		s := x.state(o)
		p := Phase{For: s.within, Melts: s.melts, Amps: s.amps}
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

// crossings are the fuses that may open at first, while the nearest are intact and carry more than before, though they are farther off. One
// that may open without the fault as well is not among them.
func (x *walk) crossings() []Crossing {
	s := x.state(opened{})
	near := -1
	for _, g := range x.near {
		if near < 0 || s.currents[x.wire[g]] > s.currents[x.wire[near]] {
			near = g
		}
	}
	if near < 0 || !x.known[near] || x.over(s) {
		return nil
	}
	var list []Crossing
	for _, g := range s.may {
		if x.feeds[g] && !slices.Contains(x.near, g) && x.warm[g].Lasting(x.load[x.wire[g]]) == fuse.HoldsForEver {
			if c := (Crossing{x.nearby(near, s), x.nearby(g, s)}); c.Above.Holds < c.Near.Opens {
				list = append(list, c)
			}
		}
	}
	return list
}

// nearby is a guard with what it carries in a state.
func (x *walk) nearby(g int, s *state) Nearby {
	amps := s.currents[x.wire[g]] * s.pulse
	return Nearby{x.guards[g].Name, amps, x.holding(g, amps), x.cold[g].Opens(amps)}
}

// lesser are the lesser of two currents, one by one.
func lesser(a, b []unit.Ampere) []unit.Ampere {
	least := slices.Clone(a)
	for i := range least {
		least[i] = min(a[i], b[i])
	}
	return least
}

func (s *state) scale(by float64) {
	s.pulse = 1 / unit.Ampere(by)
	s.amps *= unit.Ampere(by)
	s.currents = slices.Clone(s.currents)
	for i := range s.currents {
		s.currents[i] *= unit.Ampere(by)
	}
}
