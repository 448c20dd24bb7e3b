package study

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"farend/circuit"
	"farend/fuse"
	"farend/network"
	"farend/unit"
)

// A Strike is one fault in one case and corner: what flows at first, which fuses open one after the other, and what is left.
type Strike struct {
	Case    network.Case
	Found   bool          // nothing below means anything otherwise
	Amps    unit.Ampere   // through the fault, at first
	Held    []string      // supplies that feed it and are at their limit at first
	Near    []Nearby      // the fuses that are met first on the way from the place to a supply
	Phases  []Phase       // in order of time, if every fuse takes as long as it may; the last is what then lasts
	Pulses  []string      // supplies that pulse in that; Lasts and what conductors carry then is its rms
	Orders  int           // states that fuses may leave by opening in one order or another, this one among them
	Cut     bool          // there are more of them than were followed
	Slow    unit.Second   // within which nothing flows through the fault any more, in any order; Never where something may go on
	Fast    unit.Second   // before which that cannot be
	Going   unit.Second   // Slow if supplies that switch themselves off and on held their limit instead
	Lasts   unit.Ampere   // the most that may flow through the fault for ever
	Volts   unit.Volt     // of a bridge, the most across the poles of the lower run while it is there
	Over    []Overstepped // conductors that carry more than they may for ever in some order, the worst first
	Crossed []Crossing    // fuses that may open before one that is nearer

	most []unit.Ampere // by bearer: what it carries at most because of the fault
}

// A Nearby is a fuse next to a fault, with what it carries at first; while a supply that pulses is on.
type Nearby struct {
	Guard string
	Amps  unit.Ampere
	Holds unit.Second // surely, warm as it was
	Opens unit.Second // surely, cold
}

// A Crossing is a fuse that may open in a fault while one that is nearer has not: then more goes dark than had to.
type Crossing struct{ Near, Above Nearby }

// Sure reports whether the one above has surely opened before the nearer one may.
func (c Crossing) Sure() bool { return c.Above.Opens < c.Near.Holds }

// A Phase is the time between the opening of one fuse and the next.
type Phase struct {
	Opens []string    // fuses that have surely opened when it ends; none of the last
	For   unit.Second // how long it lasts at most, Never of the last
	Melts unit.Second // the same for what it warms, see fuse.Band.Melts
	Amps  unit.Ampere // through the fault
}

// Overstepped is a conductor that a fault makes carry more than it may for ever. Each number is the worst over all orders in which fuses
// may open.
type Overstepped struct {
	Bearer *Bearer
	Amps   unit.Ampere             // the most, at any time
	Heat   unit.AmpereSquareSecond // until nothing more opens
	Share  float64                 // how much of what it bears is used up until then; above 1 it takes harm
	Lasts  unit.Ampere             // the most that may go on for ever
	Long   unit.Ampere             // the most that may go on for longer than Patience
}

// A striker holds what all strikes of a study share.
type striker struct {
	s        *Study
	guards   []Guard
	cold     []fuse.Band // in the coldest air: by when they have opened
	warm     []fuse.Band // in the hottest: for how long they hold
	known    []bool      // whether the bands are
	wire     []int       // where each guard stands among the conductors
	guardAt  map[string]int
	bearers  []Bearer
	unharmed []Overstepped       // of these, what takes nothing
	bases    []network.Case      // the sound cases: as struckIn lists them, and for outages every state besides
	sound    []*network.Solution // of these
	loads    [][]unit.Ampere     // of all conductors, in these
	rooms    sync.Pool           // of strikes that are done
}

func (s *Study) striker() *striker {
	var bases []network.Case
	for i := range struckIn {
		bases = append(bases, s.base(i))
	}
	return s.strikerIn(bases)
}

// strikerIn is one that strikes in some sound cases.
func (s *Study) strikerIn(bases []network.Case) *striker {
	list := s.Network.Conductors()
	place := make(map[string]int, len(list))
	for i, c := range list {
		place[c.Name] = i
	}
	k := &striker{s: s, guardAt: map[string]int{}, bases: bases}
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
	k.bearers = k.bearersOf(list, place)
	k.unharmed = make([]Overstepped, len(k.bearers))
	return k
}

// settle solves the sound cases. It reports whether the context let it.
func (k *striker) settle(ctx context.Context) error {
	k.sound, k.loads = make([]*network.Solution, len(k.bases)), make([][]unit.Ampere, len(k.bases))
	parallel(len(k.bases), func(w *circuit.Worker, i int) {
		k.sound[i] = k.s.Network.Solve(ctx, w, k.bases[i])
		if k.sound[i].Found() {
			k.loads[i] = k.s.Network.Heating(k.sound[i])
		}
	})
	return ctx.Err()
}

// strike follows a fault from one of the sound cases until nothing more opens, in every order in which fuses may.
func (k *striker) strike(ctx context.Context, w *circuit.Worker, a *aim, base int) Strike {
	x := k.walk(ctx, w, a, base)
	defer k.settled(x)
	return x.strike()
}

// settled takes the memory of a walk back that is over.
func (k *striker) settled(x *walk) { k.rooms.Put(x.room) }

// strike is what a walk comes to.
func (x *walk) strike() Strike {
	k, a, out := x.striker, x.aim, Strike{Case: x.c}
	if !x.sound.Found() {
		return out
	}
	end := x.fate(opened{})
	if x.lost {
		return out
	}
	first := x.state(opened{})
	out.Found, out.Amps, out.Orders, out.Cut = true, first.amps, len(x.fates), x.cut
	for _, t := range first.net.held {
		out.Held = append(out.Held, t.ID)
	}
	out.Slow, out.Fast, out.Lasts, out.Going = end.slow, end.fast, end.lasts, end.slow
	if x.pulsed {
		out.Going = x.goingOn().fate(opened{}).slow
	}
	if a.fault.Kind == network.Bridged {
		for _, s := range x.solved {
			if s.solution != nil {
				out.Volts = max(out.Volts, x.n.VoltsAt(s.solution, a.fault.To))
			}
		}
	}
	out.Over, out.Crossed = k.overstepped(end), x.crossings()
	out.Phases, out.Pulses = x.surely()
	for _, g := range x.near {
		out.Near = append(out.Near, x.nearby(g, first))
	}
	for _, o := range end.of {
		out.most = append(out.most, o.Amps)
	}
	return out
}

// overstepped lists the conductors that carry more than they may for ever, the worst first.
func (k *striker) overstepped(f *fate) []Overstepped {
	var list []Overstepped
	for i := range k.bearers {
		if o := f.of[i]; o.Amps > k.bearers[i].Limit {
			o.Bearer = &k.bearers[i]
			list = append(list, o)
		}
	}
	slices.SortStableFunc(list, worseHarm)
	return list
}

// worseHarm puts what takes most harm first: what lasts beyond its limit by how far, then by the share that is used up.
func worseHarm(a, b Overstepped) int {
	return cmp.Or(cmp.Compare(b.beyond(), a.beyond()), cmp.Compare(b.Share, a.Share))
}

func (o Overstepped) beyond() float64 { return max(1, float64(o.Lasts/o.Bearer.Limit)) }
