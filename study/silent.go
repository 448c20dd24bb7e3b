package study

import (
	"context"
	"math"
	"slices"

	"farend/circuit"
	"farend/network"
	"farend/unit"
)

// A Silent is the most power that a fault at a place can make last for an hour, though by then every fuse has opened that surely does.
type Silent struct {
	Fault   network.Fault // with the resistance with which it does, between the poles or from plus to metalwork
	Case    network.Case  // in which it does, with the most that may flow
	Watts   unit.Watt     // mean over the cycle of pulse-width modulation
	Peak    unit.Watt     // the most at any time of it
	Amps    unit.Ampere   // heating current
	Volts   unit.Volt     // what is left across the fault: Watts over Amps
	Guard   string        // the fuse that a little more would surely open, "" where none limits it
	Held    []string      // supplies that are at their limit
	Opened  []string      // fuses that have opened, in the order in which they did
	Near    []string      // fuses that are met first on the way from the place to a supply
	Orders  int           // sets of open fuses that were tried
	Cut     bool          // there are more than were tried
	NotSure bool          // some was not solved
}

// LimitedBy says what keeps the power from being more: a fuse, supplies at their limit, or the copper on the way.
func (s Silent) LimitedBy() string {
	switch {
	case s.Guard != "":
		return s.Guard
	case len(s.Held) > 0:
		return Several(s.Held)
	}
	return "copper"
}

// Hour is for how long what counts as silent lasts.
const Hour unit.Second = 3600

// Silences lists the silent power of every place, in the order of network.Places: the worst over all resistances, cases, and sets of open fuses,
// between the poles and, where metalwork is bonded, from plus to it. See docs/silent.md.
func (s *Study) Silences(ctx context.Context, progress func(done, total int)) ([]Silent, error) {
	return s.silences(ctx, s.quietFaults(), progress)
}

// SilentAt is that of one place, at any mark of a run; it is not ok where no supply reaches it, or there is no such place.
func (s *Study) SilentAt(ctx context.Context, place string) (worst Silent, ok bool, err error) {
	list, err := s.silences(ctx, s.quietAt(place), nil)
	if err != nil || len(list) == 0 {
		return Silent{}, false, err
	}
	return list[0], true, nil
}

// Silent is the silent power of every place, in the order of network.Places; nil where faults were not followed.
func (s *Study) Silent() []Silent { return s.silent }

// SilentBehind is the worst of the places that a fuse feeds before any other does; it is not ok where it feeds none, or faults were not followed.
func (s *Study) SilentBehind(fuse string) (worst Silent, ok bool) {
	for _, p := range s.silent {
		if slices.Contains(p.Near, fuse) && (!ok || clearly(float64(p.Watts), float64(worst.Watts))) {
			worst, ok = p, true
		}
	}
	return worst, ok
}

// silences are those of the places of some faults, which stand together by place.
func (s *Study) silences(ctx context.Context, faults []network.Fault, progress func(done, total int)) ([]Silent, error) {
	k := s.strikerIn(s.quietCases())
	if err := k.settle(ctx); err != nil {
		return nil, err
	}
	aims := make([]*aim, len(faults))
	parallel(len(faults), func(_ *circuit.Worker, i int) { aims[i], _ = k.aim(faults[i]) }) // of faults between conductors none is laid out anew
	found := make([]Silent, len(faults))
	count := counter(len(faults), progress)
	parallel(len(faults), func(w *circuit.Worker, i int) {
		var dark *quiet
		for base := range k.bases {
			if ctx.Err() != nil {
				return
			}
			q := k.quiet(ctx, w, aims[i], base, dark, nil)
			if found[i].take(q.best); base == 0 && k.bases[base].Kind == network.Dark {
				dark = q
			}
		}
		count()
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var worst []Silent
	for i, f := range faults {
		if i == 0 || f.At != faults[i-1].At {
			worst = append(worst, Silent{})
		}
		worst[len(worst)-1].take(found[i])
	}
	return worst, nil
}

// quietCases are the sound cases in which silent power is sought, with the most that may flow: dark, with the cap failed, and the mean of every state.
func (s *Study) quietCases() []network.Case {
	var cases []network.Case
	for _, kind := range []network.Kind{network.Dark, network.CapFailed, network.State} {
		for _, c := range s.Network.States() {
			if c.Kind == kind {
				cases = append(cases, c.Taken(network.Through))
			}
		}
	}
	return cases
}

// quietFaults are the faults at every place that may make heat there.
func (s *Study) quietFaults() []network.Fault {
	var list []network.Fault
	for _, p := range s.Network.Places() {
		list = append(list, s.quietAt(p.Name)...)
	}
	return list
}

// quietAt are those at one place: between the poles, and where metalwork is bonded from plus to it, which leads to each supply in turn.
func (s *Study) quietAt(place string) []network.Fault {
	list := append([]network.Fault{{Kind: network.PolesMeet, At: place}}, s.toMetal(place)...)
	return slices.DeleteFunc(list, func(f network.Fault) bool { return !s.Network.Lay(f) })
}

// take takes the worse of two.
func (s *Silent) take(other Silent) {
	orders, cut, lost := s.Orders+other.Orders, s.Cut || other.Cut, s.NotSure || other.NotSure
	if s.Orders == 0 || clearly(float64(other.Watts), float64(s.Watts)) {
		*s = other
	}
	s.Orders, s.Cut, s.NotSure = orders, cut, lost
}

// A quiet is the search at one place in one case.
type quiet struct {
	*walk
	tried map[string]laid // by the set of open fuses, the smallest resistance with which no more surely opens
	dark  *quiet          // the search in the dark, nil for that itself
	one   *together       // a fuse that stands in the place of several, nil where none does
	best  Silent
}

// quiet finds the silent power of a fault in one of the sound cases; with one fuse in the place of several, if there is one.
func (k *striker) quiet(ctx context.Context, w *circuit.Worker, a *aim, base int, dark *quiet, one *together) *quiet {
	q := &quiet{walk: k.walk(ctx, w, a, base), tried: map[string]laid{}, dark: dark, one: one}
	q.best = Silent{Fault: a.fault, Case: q.c}
	for _, g := range a.near {
		q.best.Near = append(q.best.Near, k.guards[g].Name)
	}
	if !q.sound.Found() {
		q.best.NotSure = true
		return q
	}
	q.search(nil, nil, nil)
	q.best.Orders = len(q.tried)
	return q
}

// search looks for the most with some fuses open, and goes on by every one that may open next; before is the edge of the set without the last of them.
func (q *quiet) search(o opened, names []string, before *laid) {
	key := o.key()
	if _, done := q.tried[key]; done || q.parted(o) || q.ctx.Err() != nil {
		return
	}
	bolted := q.lay(o, 0)
	if !bolted.lost && q.atMost(bolted) <= q.sofar() {
		return // nor has it more when yet another fuse is open
	}
	from, less := q.lessThanDark(o, key, bolted)
	if !less {
		if from = bolted; bolted.ratio >= 1 {
			from = q.edge(o, bolted)
		}
	}
	q.tried[key] = from
	if bolted.lost || from.lost {
		q.best.NotSure = true
		return
	}
	// Without a fuse a place has no more over any resistance; so it has no more in all where less of them last.
	within := before != nil && before.ratio < 1 && from.ohms >= before.ohms
	if !less && !within && from.ratio < 1 {
		q.keep(q.most(o, from), from, names)
	}
	for _, g := range q.next(bolted, from) {
		q.search(o.with([]int{g}, len(q.guards)), append(slices.Clone(names), q.guards[g].Name), &from)
	}
}

// atMost bounds the power over all resistances by the current of a bolted fault and the voltage of none, in the dark; a tenth more, for what goes out
// when a fuse opens.
func (q *quiet) atMost(bolted laid) float64 {
	volts := q.voltsAt()
	if q.dark != nil {
		volts = max(volts, q.dark.voltsAt())
	}
	return 1.1 * volts * float64(bolted.amps)
}

// sofar is the most that is known of the place, in this case and in the dark.
func (q *quiet) sofar() float64 {
	if q.dark != nil {
		return max(float64(q.best.Watts), float64(q.dark.best.Watts))
	}
	return float64(q.best.Watts)
}

// lessThanDark reports whether a fault makes no more with a load beside it than it does in the dark with the same fuses open: where a load leaves less
// voltage for it, and a fuse that holds in the dark does so no more with the same resistance. It gives the state of the fault there.
func (q *quiet) lessThanDark(o opened, key string, bolted laid) (there laid, less bool) {
	if q.dark == nil {
		return laid{}, false
	}
	was, tried := q.dark.tried[key]
	if !tried || was.lost || was.ratio >= 1 {
		return laid{}, false
	}
	if was.ohms <= network.Bolted { // in the dark no resistance opens anything
		return bolted, !bolted.lost && bolted.watts <= was.watts
	}
	there = q.lay(o, was.ohms)
	return there, !there.lost && there.watts <= was.watts && there.ratio >= was.ratio
}

// keep notes a power if it is the most so far.
func (q *quiet) keep(t, edge laid, names []string) {
	if !clearly(t.watts, float64(q.best.Watts)) {
		return
	}
	q.best.Fault.Ohms, q.best.Case.Fault.Ohms = t.ohms, t.ohms
	q.best.Watts, q.best.Peak, q.best.Amps, q.best.Volts = unit.Watt(t.watts), unit.Watt(t.peak), t.amps, unit.Volt(t.watts/float64(t.amps))
	q.best.Opened, q.best.Guard, q.best.Held = names, "", t.held
	if t.ohms == edge.ohms && t.ratio > 1-2*edged {
		q.best.Guard = q.guards[t.guard].Name
	}
}

// A laid is a resistance across the place, with some fuses open.
type laid struct {
	ohms        unit.Ohm
	watts, peak float64
	amps        unit.Ampere
	currents    []unit.Ampere
	held        []string // supplies that feed it and are at their limit
	ratio       float64  // the largest current of a fuse that the fault acts on, over what surely opens it within an Hour
	guard       int      // of which that is
	lost        bool     // it was not solved
}

// lay solves the network with a resistance across the place.
func (q *quiet) lay(o opened, ohms unit.Ohm) laid {
	c := q.c
	c.Fault.Ohms = ohms
	var open []string
	for i, is := range o {
		if is {
			open = append(open, q.guards[i].Name)
		}
	}
	solution := q.n.Glance(q.ctx, q.worker, c.Past(open...), q.sound)
	if !solution.Found() {
		return laid{lost: true}
	}
	t := laid{ohms: max(ohms, network.Bolted), currents: q.n.Heating(solution)}
	rms, peak := solution.FaultHeat()
	t.amps, t.watts, t.peak = rms, float64(t.ohms)*float64(rms*rms), float64(t.ohms)*float64(peak*peak)
	feeding := q.supplies(o)
	for _, h := range q.n.AtLimit(solution) {
		if slices.Contains(feeding, h.ID) {
			t.held = append(t.held, h.ID)
		}
	}
	if q.one != nil {
		t.ratio, t.guard = q.one.ratio(t.currents, q.wire), q.one.guards[0]
	}
	for _, g := range q.driven(t.currents, o) {
		if q.one != nil && q.one.is[g] {
			continue
		}
		if r := float64(t.currents[q.wire[g]] / q.cold[g].OpensBy(Hour)); r > t.ratio {
			t.ratio, t.guard = r, g
		}
	}
	return t
}

// edged is how near to its edge a resistance is found, relative to the current of the fuse.
const edged = 1e-4

// far is a fault that draws next to nothing.
const far unit.Ohm = 1e5

// edge is the smallest resistance with which no fuse surely opens within an Hour; where the network does without the fault what opens one, it is
// one with which some still does. Currents of fuses and what is left of the voltage are nearly straight lines over the current of the fault: each
// step goes to where those through the last one and through no fault lead, and to the middle of what is left where that is out of it.
func (q *quiet) edge(o opened, bolted laid) laid {
	rest := q.lay(o, far)
	if rest.lost || rest.ratio >= 1 {
		return rest
	}
	over, under := 1/float64(bolted.ohms), 1/float64(far) // conductances
	best, now := rest, bolted
	for tries := range 60 {
		amps := float64(now.amps) * (1 - edged/2 - rest.ratio) / (now.ratio - rest.ratio)
		volts := rest.volts() - (rest.volts()-now.volts())*amps/float64(now.amps)
		siemens := amps / volts
		if !(siemens > under && siemens < over) || tries > 8 && tries%2 == 0 {
			siemens = math.Sqrt(under * over)
		}
		now = q.lay(o, unit.Ohm(1/siemens))
		switch {
		case now.lost:
			return now
		case now.ratio >= 1:
			over = siemens
		default:
			if best, under = now, siemens; now.ratio > 1-edged {
				return best
			}
		}
		if over < under*(1+edged/10) { // another fuse jumps in
			return best
		}
	}
	return best
}

// volts is what is left across the fault.
func (t laid) volts() float64 { return float64(t.amps) * float64(t.ohms) }

// voltsAt is the voltage between the poles of the place without a fault.
func (q *quiet) voltsAt() float64 {
	return max(1e-3, math.Abs(float64(q.n.VoltsAt(q.sound, q.fault.At))))
}

// most is the largest power from a resistance up. It has one peak: the less the resistance, the more flows and the less voltage is left, ever
// faster where a supply gets to its limit.
func (q *quiet) most(o opened, from laid) laid {
	const step, near = 1.5, 1e-3
	best := from
	low := from.ohms
	if low <= network.Bolted { // nothing opens: begin where copper alone would leave half of the voltage
		best = q.lay(o, max(low, unit.Ohm(q.voltsAt()/max(float64(from.amps), 1e-9))))
		for next := q.lay(o, best.ohms/step); !next.lost && next.watts > best.watts; next = q.lay(o, best.ohms/step) {
			best = next
		}
		low = best.ohms / step
	} else if next := q.lay(o, low*(1+near/10)); next.lost || next.watts <= best.watts {
		return best
	}
	high := best.ohms * step
	for next := q.lay(o, high); !next.lost && next.watts > best.watts; next = q.lay(o, high) {
		low, best, high = best.ohms, next, next.ohms*step
	}
	lost := false
	loudest(float64(low), float64(high), near, func(ohms float64) float64 {
		t := q.lay(o, unit.Ohm(ohms))
		if lost = lost || t.lost; !t.lost && t.watts > best.watts {
			best = t
		}
		return t.watts
	})
	if lost {
		return laid{lost: true}
	}
	return best
}

// next are the fuses one of which may open next: those that may, in one of some states of the fault, before one surely has, or within an Hour.
func (q *quiet) next(states ...laid) []int {
	var list []int
	for _, t := range states {
		if t.lost {
			continue
		}
		within := Hour
		driven := q.driven(t.currents, nil)
		for _, g := range driven {
			within = min(within, q.cold[g].Opens(t.currents[q.wire[g]]))
		}
		for _, g := range driven {
			amps := t.currents[q.wire[g]]
			if !q.feeds[g] || q.one != nil && q.one.is[g] {
				continue // it stands beside the way to the place, and without it the fault has no more; or one fuse stands in its place
			}
			if opens := q.cold[g].Opens(amps); opens <= within || q.holding(g, amps) < within && len(q.tried) < mostOrders {
				list = append(list, g)
			} else if q.holding(g, amps) < within {
				q.best.Cut = true
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}
