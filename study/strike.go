package study

import (
	"cmp"
	"context"
	"math"
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
	Phases []Phase       // in order of time; the last is what lasts
	Slow   unit.Second   // within which nothing flows through the fault any more; Never where something goes on
	Fast   unit.Second   // before which that cannot be
	Held   []string      // supplies that are at their limit at first
	Pulses []string      // supplies that pulse in what lasts; Lasts and what conductors carry then is its rms
	Lasts  unit.Ampere   // through the fault in the end
	Over   []Overstepped // conductors that carry more than they may for ever, the worst first
}

// A Phase is the time between the opening of one fuse and the next.
type Phase struct {
	Opens    []string    // fuses that have surely opened when it ends; none of the last
	For      unit.Second // how long it lasts at most, Never of the last
	Amps     unit.Ampere // through the fault
	currents []unit.Ampere
}

// Overstepped is a conductor that carries more than it may for ever.
type Overstepped struct {
	Name  string
	Amps  unit.Ampere             // the most, in any phase
	Limit unit.Ampere             // what it may carry for ever
	Heat  unit.AmpereSquareSecond // of all phases that end
	Share float64                 // how much of what it bears is used up; above 1 it takes harm
	Lasts unit.Ampere             // what goes on for ever
	Long  unit.Ampere             // the most in any phase that is longer than Patience, or lasts
}

// A striker holds what all strikes of a study share.
type striker struct {
	s       *Study
	guards  []Guard
	bands   []fuse.Band // cold, in the coldest air
	known   []bool      // whether the band is
	wire    []int       // where each guard stands among the conductors
	bearers []bearer
}

func (s *Study) striker() *striker {
	k := &striker{s: s, bearers: s.bearers()}
	place := map[string]int{}
	for i, c := range s.Network.Conductors() {
		place[c.Name] = i
	}
	for _, g := range s.Guards() {
		at, there := place[g.Name]
		if !there {
			continue
		}
		band, known := s.Band(g, g.Cold)
		k.guards, k.bands, k.known, k.wire = append(k.guards, g), append(k.bands, band), append(k.known, known), append(k.wire, at)
	}
	return k
}

// strike follows a fault from the sound solution of its case until nothing more surely opens.
func (k *striker) strike(ctx context.Context, w *circuit.Worker, c network.Case, sound *network.Solution) Strike {
	out := Strike{Case: c, Slow: fuse.Never}
	left := make([]bool, len(k.guards)) // which have opened
	for {
		solution := k.s.Network.SolveFrom(ctx, w, c, sound)
		if out.Found = solution.Found(); !out.Found {
			return out
		}
		p := Phase{For: fuse.Never, Amps: solution.FaultAmps(), currents: k.s.Network.Currents(solution)}
		held := k.s.Network.AtLimit(solution)
		if len(out.Phases) == 0 {
			out.Amps = p.Amps
			for _, t := range held {
				out.Held = append(out.Held, t.ID)
			}
		}
		pulses := k.pulsing(held, c.Corner)
		least := p.currents
		if solution.Start != nil { // one that folds back and is stuck lower from 0 V opens no fuse with what it gives once it runs
			least = lesser(p.currents, k.s.Network.Currents(solution.Start))
		}
		p.Opens, p.For = k.next(least, left, pulses.on)
		if out.Pulses = nil; len(p.Opens) == 0 && len(pulses.ids) > 0 {
			out.Pulses = pulses.ids
			if k.s.Network.Giving(solution) == len(pulses.ids) { // what others give besides goes on, and counts in full
				p.scale(k.share(p.currents, left, pulses))
				p.Opens, p.For = k.next(p.currents, left, fuse.Never)
			}
		}
		out.Phases = append(out.Phases, p)
		out.Lasts = p.Amps
		if len(p.Opens) == 0 {
			break
		}
		c = c.Past(p.Opens...)
	}
	out.Over = k.overstepped(out.Phases)
	out.clear(k)
	return out
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
func (k *striker) share(currents []unit.Ampere, left []bool, p pulse) float64 {
	if !math.IsNaN(p.share) {
		return math.Sqrt(p.share)
	}
	const under = 1 - 1e-9
	rms := 1.0
	for i, band := range k.bands {
		if amps := currents[k.wire[i]]; !left[i] && k.known[i] && amps >= band.Threshold() {
			rms = min(rms, under*float64(band.Threshold()/amps))
		}
	}
	return rms
}

func (p *Phase) scale(by float64) {
	p.Amps *= unit.Ampere(by)
	for i := range p.currents {
		p.currents[i] *= unit.Ampere(by)
	}
}

// next are the fuses that have surely opened first, and when; none where none surely does within a time.
func (k *striker) next(currents []unit.Ampere, left []bool, within unit.Second) (opens []string, after unit.Second) {
	after = fuse.Never
	for i, band := range k.bands {
		if !left[i] && k.known[i] {
			after = min(after, band.Opens(currents[k.wire[i]]))
		}
	}
	if after == fuse.Never || after > within {
		return nil, fuse.Never
	}
	for i, band := range k.bands {
		if !left[i] && k.known[i] && band.Opens(currents[k.wire[i]]) == after {
			opens, left[i] = append(opens, k.guards[i].Name), true
		}
	}
	return opens, after
}

// still is the current through a fault that is none, in amperes.
const still unit.Ampere = 1e-6

// clear works out when a fault is over, if it is: within the sum of all phases up to the first in which nothing flows through it, or, of one
// that carries nothing itself, up to the last, if no conductor then carries more than it may; and not before the fast edge of any fuse that
// had to open, cold, at the largest current that it had.
func (out *Strike) clear(k *striker) {
	over := slices.IndexFunc(out.Phases, func(p Phase) bool { return p.Amps < still && p.Amps > -still })
	if kind := out.Case.Fault.Kind; kind == network.PoleOpen || kind == network.Reversed {
		over = len(out.Phases) - 1
		if slices.ContainsFunc(out.Over, func(o Overstepped) bool { return o.Lasts > o.Limit }) {
			over = -1
		}
	}
	if over < 0 {
		return
	}
	out.Slow = 0
	for i, p := range out.Phases[:over] {
		out.Slow += p.For
		for _, name := range p.Opens {
			g := slices.IndexFunc(k.guards, func(g Guard) bool { return g.Name == name })
			most := unit.Ampere(0)
			for _, before := range out.Phases[:i+1] {
				most = max(most, before.currents[k.wire[g]])
			}
			out.Fast = max(out.Fast, k.bands[g].Holds(most))
		}
	}
}

// overstepped lists the conductors that carry more than they may for ever in some phase, the worst first.
func (k *striker) overstepped(phases []Phase) []Overstepped {
	var list []Overstepped
	for _, b := range k.bearers {
		if !(b.limit < unit.Ampere(math.Inf(1))) {
			continue
		}
		o := Overstepped{Name: b.name, Limit: b.limit}
		for _, p := range phases {
			amps := b.of(p.currents)
			o.Amps = max(o.Amps, amps)
			if p.For > Patience {
				o.Long = max(o.Long, amps)
			}
			switch {
			case p.For == fuse.Never:
				o.Lasts = amps
			case p.For > 0:
				o.Heat += unit.AmpereSquareSecond(float64(amps*amps) * float64(p.For))
				o.Share += b.share(amps, p.For)
			}
		}
		if o.Amps > o.Limit {
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
