package study

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
	"sync"

	"farend/circuit"
	"farend/conductor"
	"farend/finding"
	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// Striking says whether a study follows its faults.
type Striking int

const (
	WhereQuick Striking = iota // where that takes about a second or less
	Always
	NotNow // a study for something else
)

// quick is how many faults times pixels are followed without being asked for: about a second's worth. Outages, which are fewer, take about
// half of that besides.
const quick = 2_000_000

// Struck is all faults of a study, followed.
type Struck struct {
	Faults []Faulted
	toll

	lost *Lost
}

// A toll is what faults, or outages, come to for the conductors.
type toll struct {
	Bearers []Bearer // all conductors

	striker *striker
	trails  sync.Mutex         // Trail is asked by several at once
	worker  *circuit.Worker    // of Trail
	most    []unit.Ampere      // by bearer: what it carries at most because of any of them
	over    map[string][]lapse // by bearer: where it is overstepped
}

// A lapse is a line in the list of what a strike oversteps.
type lapse struct {
	in   *Strike
	line int
}

func (k *striker) toll() toll {
	return toll{Bearers: k.bearers, striker: k, worker: circuit.NewWorker(), most: make([]unit.Ampere, len(k.bearers)), over: map[string][]lapse{}}
}

// Struck is all faults of the study, followed; nil where they were not.
func (s *Study) Struck() *Struck { return s.struck }

// Of lists the bearers of a thing, by their places among Bearers: those of which something says what they may carry.
func (t *toll) Of(owner string) []int {
	var list []int
	for i := range t.Bearers {
		if b := &t.Bearers[i]; b.Owner == owner && b.Limit < boundless {
			list = append(list, i)
		}
	}
	return list
}

// Carries is what a bearer carries at most because of any of them.
func (t *toll) Carries(b *Bearer) unit.Ampere {
	for i := range t.Bearers {
		if &t.Bearers[i] == b {
			return t.most[i]
		}
	}
	return 0
}

// Owners lists the things that conductors are part of, in order.
func (t *toll) Owners() []string {
	owners := map[string]bool{}
	for i := range t.Bearers {
		owners[t.Bearers[i].Owner] = true
	}
	return scheme.IDs(owners)
}

// follow strikes all faults, if that is to be.
func (s *Study) follow(ctx context.Context, o Options) error {
	if o.Striking == NotNow || o.Striking == WhereQuick && s.Lengthy() {
		return nil
	}
	faults := s.Faults()
	k := s.striker()
	if err := k.settle(ctx); err != nil {
		return err
	}
	t := &Struck{toll: k.toll()}
	count := counter(len(faults), o.telling(Strikes))
	err := k.each(ctx, faults, func(f Faulted) error {
		t.take(f)
		count()
		return nil
	})
	if err != nil {
		return err
	}
	if t.lost, err = k.lost(ctx, o.telling(Outages)); err != nil {
		return err
	}
	s.struck = t
	if !s.mending {
		s.silent, err = s.Silences(ctx, o.telling(Silences))
	}
	if err == nil && !s.mending && o.Striking == Always {
		if s.joints, err = s.Joints(ctx, o.telling(Joints)); err == nil {
			s.divided, err = s.Divisions(ctx, o.telling(Divisions))
		}
	}
	return err
}

// A Stage is a part of what follows the solving of a study.
type Stage int

// The stages, in order; the last two are where faults are followed however long it takes.
const (
	Strikes   Stage = iota // faults are struck
	Outages                // one thing at a time is out
	Silences               // places are searched for what no fuse sees
	Joints                 // joints get bad
	Divisions              // runs are fed by one fuse instead of several
)

// telling is who is told of a stage; nil where nobody asks.
func (o Options) telling(stage Stage) func(done, total int) {
	if o.Following == nil {
		return nil
	}
	return func(done, total int) { o.Following(stage, done, total) }
}

// Lengthy reports whether following the faults takes so long that it is not done unasked.
func (s *Study) Lengthy() bool { return len(s.Faults())*s.pixels() > quick }

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
		t.count(&f.Strikes[i])
	}
	t.Faults = append(t.Faults, f)
}

// count notes what one strike does to every conductor.
func (t *toll) count(k *Strike) {
	for b, amps := range k.most {
		t.most[b] = max(t.most[b], amps)
	}
	k.most = nil
	for line, o := range k.Over {
		t.over[o.Bearer.Name] = append(t.over[o.Bearer.Name], lapse{k, line})
	}
}

// A Harm is what the worst fault does to a conductor. Where it has a fuse to itself that may be a fault of another resistance, or at
// another place, than any that was followed: whatever lets through just less than what opens that fuse sooner.
type Harm struct {
	Overstepped
	Verdict Verdict
	Remote  bool    // it takes two mistakes: then it is a note
	Strike  *Strike // nil for what no strike did
	Guard   *Guard  // the fuse that lets it through, nil for what a strike did
	Guarded bool    // the conductor has a fuse to itself that suits it, or is a return that brings home no more than a plus sends that has

	Within, Melts unit.Second // for how long it does, see Spell
}

// Harm is what the worst fault does to a conductor; the zero Harm, which passes, where none makes it carry more than it may for ever. What the loss
// of a return does is left to Lost.
func (t *Struck) Harm(bearer int) Harm {
	b := &t.Bearers[bearer]
	_, lead := t.striker.s.Scheme.Data[b.Owner]
	// Of cables protection/coordination asks what their fuses let through. The fuse in the ground of a port ends no short: what comes home by that
	// ground then is over when the short is.
	return t.harm(bearer, b.Kind != OfCore && !lead)
}

// harm is the same of faults or outages; where guards count, also what the fuses that the conductor has to itself let through.
func (t *toll) harm(bearer int, guards bool) Harm {
	b := &t.Bearers[bearer]
	worst := Harm{Overstepped: Overstepped{Bearer: b, Amps: t.most[bearer]}, Guarded: b.Paired, Verdict: Verdict{Lasting: true, Value: float64(t.most[bearer]), Limit: float64(b.Limit)}}
	for _, at := range t.over[b.Name] {
		if at.in.Case.Fault.Kind != network.PoleOpen {
			worst = worst.or(did(at.in, at.in.Over[at.line]))
		}
	}
	if guards {
		for i := range b.Guards {
			if h, over := t.lets(bearer, &b.Guards[i]); over {
				worst = worst.or(h)
			}
		}
	}
	return worst
}

// did is what a strike does to a conductor.
func did(k *Strike, o Overstepped) Harm {
	return Harm{Overstepped: o, Strike: k, Remote: remote(k), Guarded: o.Bearer.Paired || o.homeward(k)}
}

// remote reports whether a strike is of what takes two mistakes: a feed that landed the wrong way round, and was not found when it was first
// switched on.
func remote(k *Strike) bool { return k.Case.Fault.Kind == network.Reversed }

// or is the worse of two.
func (h Harm) or(other Harm) Harm {
	if other.Verdict = other.verdict(); other.Remote {
		other.Verdict.Grade = min(other.Verdict.Grade, finding.Note)
	}
	a, b := other.Verdict, h.Verdict
	if a.Grade > b.Grade || a.Grade == b.Grade && (h.Strike == nil && h.Guard == nil || clearly(a.ratio(), b.ratio())) {
		return other
	}
	return h
}

// clearly reports whether one is more than another by what neither rounding nor following makes: of two that come to the same the first is told,
// on any machine.
func clearly(more, than float64) bool { return more > than*(1+1e-6) }

// A Verdict is one comparison of what a fault does to a conductor with what that bears: of what lasts in it, in amperes, or of what it
// uses up until the fault is over, as a share.
type Verdict struct {
	Lasting      bool
	Value, Limit float64
	Grade        finding.Grade
}

func (v Verdict) ratio() float64 {
	if v.Limit == 0 {
		return 0
	}
	return v.Value / v.Limit
}

// Worn is the share of what a conductor bears from which on it is tight.
const Worn = 0.8

// verdict is the worse of the two.
func (h Harm) verdict() Verdict {
	lasts, spent := h.lasting(), h.spent()
	if lasts.Grade > spent.Grade || lasts.Grade == spent.Grade && lasts.ratio() >= spent.ratio() {
		return lasts
	}
	return spent
}

// lasting is a danger where a conductor takes harm in the end: a core by more than 1.45 times its ampacity, which it bears where fuses suit it
// (IEC 60364-4-43, 433.1) and for an hour, but not for ever, where none do: then what is above its ampacity fails; rails by
// what makes them Scorching. Contacts, and rails whose tape does not say how warm they get, that have a fuse to themselves which is no
// larger than their rating bear what that lets last (see Bearer.share), and so do returns by which that comes home; of any other what is beyond
// the rating for longer than Patience fails up to 1.2 times it.
func (h Harm) lasting() Verdict {
	b := h.Bearer
	v := Verdict{Lasting: true, Value: float64(h.Lasts), Limit: float64(h.Bears())}
	switch {
	case v.Limit == 0 && b.Kind == OfCore:
		if v.Limit = float64(b.Limit); v.Value > conductor.Bearable*v.Limit {
			v.Grade = finding.Danger
		} else if v.Value > v.Limit {
			v.Grade = finding.Fails
		}
	case v.Limit == 0:
		v.Value, v.Limit = float64(max(h.Lasts, h.Long)), float64(b.Limit)
		if v.Value > v.Limit {
			v.Grade = Overload(v.Value, v.Limit)
		}
	case v.Value > v.Limit:
		v.Grade = finding.Danger
	case b.Kind == OfRails && v.Value > Worn*v.Limit:
		v.Grade = finding.Tight
	}
	return v
}

// spent is a danger where a conductor takes harm before the fault is over; where only its rating is known, as Overload says of the most that it
// carries.
func (h Harm) spent() Verdict {
	v := Verdict{Value: h.Share, Limit: 1}
	switch {
	case h.Share > 1 && h.Bears() == 0 && h.Bearer.Kind != OfCore:
		v.Grade = Overload(float64(h.Amps), float64(h.Bearer.Limit))
	case h.Share > 1:
		v.Grade = finding.Danger
	case h.Share > Worn:
		v.Grade = finding.Tight
	}
	return v
}

// Bears is what a conductor bears for ever after a fault, or for as long as that is let be; 0 where only its rating is known.
func (h Harm) Bears() unit.Ampere {
	switch b := h.Bearer; {
	case b.Hot > 0:
		return b.Hot
	case h.Guarded:
		return conductor.Bearable * b.Limit
	}
	return 0
}

// Ever reports whether what a conductor carries longest goes on for ever; else it does for longer than Patience, until a fuse opens.
func (h Harm) Ever() bool { return h.Lasts >= h.Long }

// lets is the worst that a fuse lets through to a conductor that it alone feeds: just below each of its gates, up to what any fault makes
// the conductor carry; over reports whether any of that is more than it may for ever.
func (t *toll) lets(bearer int, g *Guard) (h Harm, over bool) {
	b, most := &t.Bearers[bearer], t.most[bearer]
	h = Harm{Overstepped: Overstepped{Bearer: b}, Guard: g, Guarded: b.Paired}
	at := t.striker.guardAt[g.Name]
	band := t.striker.cold[at]
	for _, amps := range append(band.Below(), most) {
		if amps > most || amps <= b.Limit {
			continue
		}
		over = true
		within := band.Opens(amps)
		if within > Patience {
			h.Long = max(h.Long, amps)
		}
		if within == fuse.Never {
			h.Lasts, h.Amps = max(h.Lasts, amps), max(h.Amps, amps)
			continue
		}
		if share := b.share(amps, within, band.Melts(amps), b.Paired); share > h.Share {
			h.Share, h.Amps, h.Heat, h.Within, h.Melts = share, amps, unit.AmpereSquareSecond(float64(amps*amps)*float64(band.Melts(amps))), within, band.Melts(amps)
		}
	}
	return h, over
}

// A Spell is a time within a strike for which a conductor carries one current.
type Spell struct {
	Opens string      // the fuse that opens at its end, "" of the last
	For   unit.Second // Never of what lasts
	Melts unit.Second // the same for what it warms, see fuse.Band.Melts
	Amps  unit.Ampere
	Share float64 // of what it bears
	Fault unit.Ampere
	Over  bool // it carries more than before the fault
	Pulse bool // the rms of pulses of a supply
}

// Trail is how a strike comes to what it does to a conductor: the order in which fuses open that is worst for it, by what it uses up or, if
// that is asked, by what lasts.
func (t *toll) Trail(ctx context.Context, h Harm, lasting bool) []Spell {
	c := h.Strike.Case
	base := 0
	for i, b := range t.striker.bases {
		if b.Kind == c.Kind && b.Corner == c.Corner && b.State == c.State {
			base = i
		}
	}
	a, err := t.striker.aimed(c)
	if err != nil {
		return nil
	}
	t.trails.Lock()
	defer t.trails.Unlock()
	x := t.striker.walk(ctx, t.worker, a, base)
	for i := range t.Bearers {
		if &t.Bearers[i] == h.Bearer {
			return x.trail(i, lasting, h.Bears() == 0 && h.Bearer.Kind != OfCore)
		}
	}
	return nil
}

// trail is that order for one bearer; long says that what goes on for longer than Patience counts as lasting.
func (x *walk) trail(bearer int, lasting, long bool) (spells []Spell) {
	of := func(o Overstepped) float64 {
		switch {
		case lasting && long:
			return float64(max(o.Lasts, o.Long))
		case lasting:
			return float64(o.Lasts)
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
		spell := Spell{For: s.within, Melts: s.melts, Amps: amps, Fault: s.amps}
		spell.Over, spell.Pulse = raised(amps, b.of(x.load)), s.pulse != 1
		if s.within < fuse.Never && spell.Over {
			spell.Share = b.share(amps, s.within, s.melts, b.paired(s.currents))
		}
		var next []int
		best := 0.0
		for _, way := range f.ways {
			if then := of(x.fate(o.with(way, len(x.guards))).of[bearer]); clearly(then, best) {
				best, next = then, way
			}
		}
		here := lasting && long && s.within > Patience && float64(amps) >= best
		if next == nil && !here && len(f.ways) > 0 { // nothing more is used up; what is left is told to its end
			next = f.ways[0]
		}
		if next == nil || here {
			if len(s.sure) > 0 {
				spell.Opens = x.guards[s.sure[0]].Name
			}
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

// A FarShort is a bolted short at the end, of those that a fuse feeds before any other does and other than through tape, where it carries least.
type FarShort struct {
	Place  string
	Strike *Strike // in which it does
	Nearby
	Fast, Slow unit.Second // of the short, whatever feeds it: before when it cannot have ended, and by when it surely has, in any case and corner
	Ends       unit.Second // the same if supplies that switch themselves off and on held their limit instead
	Pulses     []string    // supplies that do so in one of them
	Stops      []string    // supplies that shut down for good in this one, though it is taken that they do not
	Least      unit.Ampere // from which the fuse surely opens
	Free       unit.Ampere // where a supply is at its limit and the fuse need not open: what it would carry without that limit
}

// Far is the far-end short of the fuse of a way or cable; it is not ok where it feeds no end.
func (t *Struck) Far(at string) (far FarShort, ok bool) {
	name := at + ".fuse"
	ends := t.striker.s.Network.FarEnds(at)
	for i := range t.Faults {
		f := &t.Faults[i]
		if f.Fault.Kind != network.PolesMeet || f.Fault.Ohms > 0 || !ends[f.Fault.At] {
			continue
		}
		for k := range f.Strikes {
			strike := &f.Strikes[k]
			for _, near := range strike.Near {
				if near.Guard == name && strike.Case.Corner == network.Opens && (!ok || near.Amps < far.Amps) {
					far, ok = FarShort{Place: f.Fault.At, Strike: strike, Nearby: near}, true
					far.Fast, far.Slow, _ = f.Cleared()
					far.Ends, far.Pulses = f.going()
				}
			}
		}
	}
	if ok {
		far.Stops = t.striker.s.stopping(far.Strike.Held)
		if at, is := t.striker.guardAt[name]; is {
			far.Least = t.striker.cold[at].Threshold()
		}
		if far.Opens == fuse.Never && len(far.Strike.Held) > 0 {
			far.Free = t.free(far)
		}
	}
	return far, ok
}

// Rests are the supplies on which a far-end short rests: those that may switch themselves off, for a while or for good, before the fuse opens,
// and those whose limit alone keeps it from opening.
func (f FarShort) Rests() []string {
	list := slices.Concat(f.Pulses, f.Stops)
	if f.Free > 0 && f.Free >= f.Least {
		list = append(list, f.Strike.Held...)
	}
	slices.SortFunc(list, finding.Natural)
	return slices.Compact(list)
}

// free is what the fuse of a far-end short would carry at first if no supply had a limit.
func (t *Struck) free(far FarShort) unit.Ampere {
	k := t.striker
	solution := k.s.Network.Solve(context.Background(), circuit.NewWorker(), far.Strike.Case.Unlimited())
	at, is := k.guardAt[far.Guard]
	if !is || !solution.Found() {
		return 0
	}
	return k.s.Network.Currents(solution)[k.wire[at]]
}

// stopping are those of some supplies that shut down for good at their limit.
func (s *Study) stopping(ids []string) (stops []string) {
	for _, id := range ids {
		if part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part); ok && part.Steady() == parts.LatchOff {
			stops = append(stops, id)
		}
	}
	return stops
}

// going is by when a fault has surely ended, in any of its strikes, if every supply held its limit, and those that switch themselves off and on
// instead.
func (f Faulted) going() (ends unit.Second, pulses []string) {
	for _, k := range f.Strikes {
		ends = max(ends, k.Going)
		for _, id := range k.Pulses {
			if !slices.Contains(pulses, id) {
				pulses = append(pulses, id)
			}
		}
	}
	return ends, pulses
}

// Crossings lists, for a fuse, those above it that may open before it does, each once and with the strike in which it does so most surely.
func (t *Struck) Crossings(near string) (list []Crossing, in []*Strike) {
	at := map[string]int{}
	for i := range t.Faults {
		for k := range t.Faults[i].Strikes {
			strike := &t.Faults[i].Strikes[k]
			if remote(strike) {
				continue
			}
			for _, c := range strike.Crossed {
				if _, terminals := t.striker.s.Scheme.Supplies[strike.Case.Fault.At]; c.Near.Guard != near || terminals {
					continue // at the terminals of a supply others feed back through all that hangs between
				}
				before, known := at[c.Above.Guard]
				switch {
				case !known:
					at[c.Above.Guard] = len(list)
					list, in = append(list, c), append(in, strike)
				case c.Sure() && !list[before].Sure():
					list[before], in[before] = c, strike
				}
			}
		}
	}
	return list, in
}

// A Bridged is what a run of a higher voltage brings to one: the most across its poles, the strike in which it does, and by when that has surely
// ended, in any strike that brings more than its chips allow.
type Bridged struct {
	Strike *Strike
	Volts  unit.Volt
	Ends   unit.Second
}

// Bridged is the worst that a run of a higher voltage brings to one: of those strikes that bring more than its chips allow the one that goes on
// longest, of those the one that brings most power. It is not ok where none is within its reach.
func (t *Struck) Bridged(run string) (b Bridged, ok bool) {
	for i := range t.Faults {
		f := &t.Faults[i]
		if at, _, _ := strings.Cut(f.Fault.To, "@"); f.Fault.Kind == network.Bridged && at == run {
			if worst, met := t.bridged(f, run); met && (!ok || worst.worse(b)) {
				b, ok = worst, true
			}
		}
	}
	return b, ok
}

// bridged is the same for one fault.
func (t *Struck) bridged(f *Faulted, run string) (b Bridged, ok bool) {
	most := unit.Volt(math.Inf(1))
	if tape := t.striker.s.Scheme.Tape(run); tape != nil && tape.VoltsMax.Given {
		most = tape.VoltsMax.Is
	}
	for i := range f.Strikes {
		k := &f.Strikes[i]
		if !k.Found {
			continue
		}
		here := Bridged{Strike: k, Volts: k.Volts}
		if k.Volts > most {
			here.Ends = k.Slow
		}
		if !ok || here.worse(b) {
			b, ok = here, true
		}
	}
	return b, ok
}

func (b Bridged) worse(than Bridged) bool {
	return b.Ends > than.Ends || b.Ends == than.Ends && clearly(b.watts(), than.watts())
}

// watts is what the fault brings to the lower run.
func (b Bridged) watts() float64 { return math.Abs(float64(b.Volts) * float64(b.Strike.Amps)) }

// Burst reports whether a bridge lifts its lower run above what its chips allow for longer than Patience.
func (t *Struck) Burst(f *Faulted) (b Bridged, run string, is bool) {
	if f.Fault.Kind != network.Bridged {
		return Bridged{}, "", false
	}
	run, _, _ = strings.Cut(f.Fault.To, "@")
	b, _ = t.bridged(f, run)
	return b, run, b.Ends > Patience
}

// A Tale is what a fault comes to, over all that it was struck in.
type Tale struct {
	Fault      network.Fault
	Amps       unit.Ampere // the most through it, at first
	First      []string    // the fuses that surely open first, where it is struck with the least that may flow; none where none surely does
	Fast, Slow unit.Second // before when it cannot have ended, and by when it surely has
	Lasts      unit.Ampere // the most through it for ever
	Pulses     []string    // supplies that switch themselves off and on meanwhile
	Harm       Harm        // what it does to the conductor that bears it worst; without a bearer where none carries more than it may
	Lifted     string      // the lower run of a bridge that lifts it above what its chips allow, for longer than Patience
}

// Grade is the worst that a fault does.
func (f Tale) Grade() finding.Grade {
	if f.Lifted != "" {
		return finding.Danger
	}
	return f.Harm.Verdict.Grade
}

// Tales lists what every fault comes to, the worst first: by what it does to copper or to a run of a lower voltage, then by how long it goes on, then by how much flows.
func (t *Struck) Tales() []Tale {
	var tales []Tale
	for i := range t.Faults {
		tales = append(tales, t.tale(&t.Faults[i]))
	}
	slices.SortStableFunc(tales, func(a, b Tale) int {
		harmed := func(h Harm) float64 { return min(h.Verdict.ratio(), 1e9) }
		return cmp.Or(cmp.Compare(b.Grade(), a.Grade()), cmp.Compare(harmed(b.Harm), harmed(a.Harm)), cmp.Compare(b.Slow, a.Slow), cmp.Compare(b.Lasts, a.Lasts), cmp.Compare(b.Amps, a.Amps))
	})
	return tales
}

func (t *Struck) tale(f *Faulted) Tale {
	out := Tale{Fault: f.Fault, Fast: fuse.Never, Harm: Harm{Verdict: Verdict{Limit: 1}}}
	if _, run, is := t.Burst(f); is {
		out.Lifted = run
	}
	slowest := unit.Second(-1)
	for i := range f.Strikes {
		k := &f.Strikes[i]
		if !k.Found {
			continue
		}
		out.Amps, out.Lasts = max(out.Amps, k.Amps, -k.Amps), max(out.Lasts, k.Lasts)
		out.Fast, out.Slow = min(out.Fast, k.Fast), max(out.Slow, k.Slow)
		if k.Case.Corner == network.Opens && k.Slow > slowest {
			slowest, out.First, out.Pulses = k.Slow, k.Phases[0].Opens, k.Pulses
		}
		for _, o := range k.Over {
			if o.Bearer.Limit < boundless {
				out.Harm = out.Harm.or(did(k, o))
			}
		}
	}
	return out
}

// Slowest is the strike in a corner after which the fault goes on longest, Largest that in which most flows at first; nil where none was solved.
func (f *Faulted) Slowest(side network.Corner) *Strike {
	return f.pick(side, func(k, best *Strike) bool { return k.Slow > best.Slow })
}

// Largest is explained with Slowest.
func (f *Faulted) Largest(side network.Corner) *Strike {
	return f.pick(side, func(k, best *Strike) bool { return max(k.Amps, -k.Amps) > max(best.Amps, -best.Amps) })
}

func (f *Faulted) pick(side network.Corner, better func(k, best *Strike) bool) (best *Strike) {
	for i := range f.Strikes {
		if k := &f.Strikes[i]; k.Found && k.Case.Corner == side && (best == nil || better(k, best)) {
			best = k
		}
	}
	return best
}

// Heat is the I²t through a fault until nothing more surely opens, at most; without end where something goes on through it.
func (k *Strike) Heat() unit.AmpereSquareSecond {
	sum := 0.0
	for _, p := range k.Phases {
		switch amps := float64(p.Amps); {
		case math.Abs(amps) < float64(still):
		case p.For == fuse.Never:
			return unit.AmpereSquareSecond(math.Inf(1))
		default:
			sum += amps * amps * float64(p.Melts)
		}
	}
	return unit.AmpereSquareSecond(sum)
}

// Harmed lists what a fault does to each conductor that it oversteps and of which something says what it may carry, the worst of its strikes
// for each, in the order of the conductors.
func (t *Struck) Harmed(f *Faulted) []Harm {
	worst := map[*Bearer]Harm{}
	for i := range f.Strikes {
		k := &f.Strikes[i]
		for _, o := range k.Over {
			if o.Bearer.Limit < boundless {
				worst[o.Bearer] = worst[o.Bearer].or(did(k, o))
			}
		}
	}
	var list []Harm
	for i := range t.Bearers {
		if h, there := worst[&t.Bearers[i]]; there {
			list = append(list, h)
		}
	}
	return list
}

// Sound reports whether the network has an operating point without a fault, in every case and corner in which it is struck.
func (t *Struck) Sound() bool {
	return !slices.ContainsFunc(t.striker.sound, func(s *network.Solution) bool { return !s.Found() })
}
