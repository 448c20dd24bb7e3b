package study

import (
	"context"
	"math"

	"farend/circuit"
	"farend/conductor"
	"farend/finding"
	"farend/fuse"
	"farend/network"
	"farend/unit"
)

// Striking says whether a study follows its faults.
type Striking int

const (
	WhereQuick Striking = iota // where that takes about a second or less
	Always
	NotNow // a study for something else
)

// quick is how many faults times pixels are followed without being asked for: about a second's worth.
const quick = 2_000_000

// Struck is all faults of a study, followed.
type Struck struct {
	Faults  []Faulted
	Bearers []Bearer // all conductors that something says the rating of

	striker *striker
	most    []unit.Ampere      // by bearer: what it carries at most because of any fault
	over    map[string][]place // by bearer: where it is overstepped
}

// A place is a line in the list of what a strike oversteps.
type place struct{ fault, strike, line int }

// Struck is all faults of the study, followed; nil where they were not.
func (s *Study) Struck() *Struck { return s.struck }

// follow strikes all faults, if that is to be.
func (s *Study) follow(ctx context.Context, striking Striking, progress func(done, total int)) error {
	faults := s.Faults()
	if striking == NotNow || striking == WhereQuick && len(faults)*s.pixels() > quick {
		return nil
	}
	k := s.striker()
	if err := k.settle(ctx); err != nil {
		return err
	}
	t := &Struck{Bearers: k.bearers, striker: k, most: make([]unit.Ampere, len(k.bearers)), over: map[string][]place{}}
	if progress != nil {
		progress(0, len(faults))
	}
	err := k.each(ctx, faults, func(f Faulted) error {
		t.take(f)
		if progress != nil {
			progress(len(t.Faults), len(faults))
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.struck = t
	return nil
}

func (s *Study) pixels() int {
	all := 0
	for _, r := range s.Scheme.Runs {
		if r.Pixels != nil {
			all += *r.Pixels
		}
	}
	return all
}

// take notes what a fault does to every conductor.
func (t *Struck) take(f Faulted) {
	for i := range f.Strikes {
		k := &f.Strikes[i]
		for b, amps := range k.most {
			t.most[b] = max(t.most[b], amps)
		}
		k.most = nil
		for line, o := range k.Over {
			t.over[o.Bearer.Name] = append(t.over[o.Bearer.Name], place{len(t.Faults), i, line})
		}
	}
	t.Faults = append(t.Faults, f)
}

// A Harm is what the worst fault does to a conductor. Where it has a fuse to itself that may be a fault of another resistance, or at
// another place, than any that was followed: whatever lets through just less than what opens that fuse sooner.
type Harm struct {
	Overstepped
	Grade  finding.Grade
	Strike *Strike // nil for what no strike did
	Guard  *Guard  // the fuse that lets it through, nil for what a strike did
}

// Harm is what the worst fault does to a conductor; the zero Harm, which passes, where none makes it carry more than it may for ever.
func (t *Struck) Harm(bearer int) Harm {
	b := &t.Bearers[bearer]
	worst := Harm{Overstepped: Overstepped{Bearer: b, Amps: t.most[bearer]}}
	for _, at := range t.over[b.Name] {
		k := &t.Faults[at.fault].Strikes[at.strike]
		h := Harm{Overstepped: k.Over[at.line], Strike: k}
		if h.Grade = h.grade(); t.remote(k) {
			h.Grade = min(h.Grade, finding.Tight)
		}
		worst = worst.or(h)
	}
	if b.Kind != OfCore { // of cables protection/coordination asks that
		for i := range b.Guards {
			h := t.lets(bearer, &b.Guards[i])
			h.Grade = h.grade()
			worst = worst.or(h)
		}
	}
	return worst
}

// remote reports whether a strike is of what takes two mistakes: a feed that landed the wrong way round, and was not found when it was first
// switched on; several returns of a run lost at once.
func (t *Struck) remote(k *Strike) bool {
	f := k.Case.Fault
	return f.Kind == network.Reversed || f.Kind == network.PoleOpen && t.striker.s.Network.Returns(f.At) > 1
}

// or is the worse of two.
func (h Harm) or(other Harm) Harm {
	a, b := other.Overstepped, h.Overstepped
	if other.Grade > h.Grade || other.Grade == h.Grade && (h.Strike == nil && h.Guard == nil || worseHarm(a, b) < 0) {
		return other
	}
	return h
}

// worn is the share of what a conductor bears from which on it is tight.
const worn = 0.8

// grade is a danger where a conductor takes harm: a core by more than 1.45 times its ampacity for ever (IEC 60364-4-43, 433.1), rails by what
// makes them Scorching, all by more than they bear for a time. A contact that has a fuse to itself, no larger than its rating, bears what
// that lets last (see Bearer.share); of any other, and of rails whose tape does not say how warm they get, what lasts beyond the rating fails up
// to 1.2 times it.
func (o Overstepped) grade() finding.Grade {
	b, lasts := o.Bearer, max(o.Lasts, o.Long)
	switch bears := b.bears(); {
	case bears > 0 && (o.Lasts > bears || o.Share > 1):
		return finding.Danger
	case bears == 0 && (lasts > b.Limit || o.Share > 1):
		return Overload(float64(max(lasts, o.ended())), float64(b.Limit))
	case o.Share > worn, bears > 0 && b.Kind == OfRails && o.Lasts > worn*bears:
		return finding.Tight
	}
	return finding.Pass
}

// bears is what a conductor bears for ever after a fault, or for as long as that is let be; 0 where only its rating is known.
func (b *Bearer) bears() unit.Ampere {
	switch {
	case b.Kind == OfCore, b.Kind == OfContact && b.Paired:
		return conductor.Bearable * b.Limit
	case b.Kind == OfRails:
		return b.Hot
	}
	return 0
}

// ended is the current of what ends too late, however short each part of it is.
func (o Overstepped) ended() unit.Ampere {
	if o.Share > 1 {
		return o.Amps
	}
	return 0
}

// lets is the worst that a fuse lets through to a conductor that it alone feeds: just below each of its gates, up to what any fault makes
// the conductor carry.
func (t *Struck) lets(bearer int, g *Guard) Harm {
	b, most := &t.Bearers[bearer], t.most[bearer]
	h := Harm{Overstepped: Overstepped{Bearer: b}, Guard: g}
	at := t.striker.guardAt[g.Name]
	band := t.striker.cold[at]
	for _, amps := range append(band.Below(), most) {
		if amps > most || amps <= b.Limit {
			continue
		}
		within := band.Opens(amps)
		if within > Patience {
			h.Long = max(h.Long, amps)
		}
		if within == fuse.Never {
			h.Lasts, h.Amps = max(h.Lasts, amps), max(h.Amps, amps)
			continue
		}
		if share := b.share(amps, within); share > h.Share {
			h.Share, h.Amps, h.Heat = share, amps, unit.AmpereSquareSecond(float64(amps*amps)*float64(within))
		}
	}
	return h
}

// A Spell is a time within a strike for which a conductor carries one current.
type Spell struct {
	Opens string      // the fuse that opens at its end, "" of the last
	For   unit.Second // Never of what lasts
	Amps  unit.Ampere
	Share float64 // of what it bears
	Fault unit.Ampere
}

// Trail is how a strike comes to what it does to a conductor: the order in which fuses open that is worst for it, by what it uses up or, if
// that is asked, by what lasts.
func (t *Struck) Trail(ctx context.Context, h Harm, lasting bool) []Spell {
	c := h.Strike.Case
	base := 0
	for i, b := range t.striker.bases {
		if b.Kind == c.Kind && b.Corner == c.Corner {
			base = i
		}
	}
	n := t.striker.s.Network
	if c.Fault.Kind == network.Reversed {
		swapped, ok, err := n.Swapped(c.Fault.At)
		if !ok || err != nil {
			return nil
		}
		n = swapped
	}
	x := t.striker.walk(ctx, circuit.NewWorker(), n, c.Fault, base)
	for i := range t.Bearers {
		if &t.Bearers[i] == h.Bearer {
			return x.trail(i, lasting)
		}
	}
	return nil
}

func (x *walk) trail(bearer int, lasting bool) (spells []Spell) {
	of := func(o Overstepped) float64 {
		if lasting {
			return float64(max(o.Lasts, o.Long))
		}
		return o.Share
	}
	b := &x.bearers[bearer]
	for o := (opened{}); !x.parted(o); {
		f, s := x.fate(o), x.state(o)
		if x.lost {
			return nil
		}
		amps := b.of(s.currents)
		spell := Spell{For: s.within, Amps: amps, Fault: s.amps}
		if s.within < fuse.Never && raised(amps, b.of(x.load)) {
			spell.Share = b.share(amps, s.within)
		}
		var next []int
		best := 0.0
		for _, way := range f.ways {
			if then := of(x.fate(o.with(way, len(x.guards))).of[bearer]); then > best {
				best, next = then, way
			}
		}
		here := lasting && s.within > Patience && float64(amps) >= best
		if next == nil || here {
			return append(spells, spell)
		}
		spell.Opens = x.guards[next[0]].Name
		spells = append(spells, spell)
		o = o.with(next, len(x.guards))
	}
	return spells
}

// Cleared is by when a fault has surely ended, whichever of its strikes takes longest, and before when it cannot have; Never where it may go
// on. It is not ok where one of them was not solved.
func (f Faulted) Cleared() (fast, slow unit.Second, ok bool) {
	fast = unit.Second(math.Inf(1))
	for _, k := range f.Strikes {
		if !k.Found {
			return 0, 0, false
		}
		fast, slow = min(fast, k.Fast), max(slow, k.Slow)
	}
	return fast, slow, true
}
