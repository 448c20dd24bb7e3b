package commission

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"farend/conductor"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A lit is a lighting state, with what all supplies give in it.
type lit struct {
	name, in string
	watts    float64
}

// orderStates lists the states, that in which least flows first.
func (m *maker) orderStates() {
	for _, name := range m.s.StateNames() {
		l := lit{name: name, in: "state/" + name}
		if r := m.st.Result(l.in); r != nil && r.Found() {
			for _, id := range scheme.IDs(r.Supplies) {
				l.watts += float64(r.Supplies[id].Volts) * float64(r.Supplies[id].Amps.Mean) // of several voltages watts compare
			}
		}
		m.lit = append(m.lit, l)
	}
	slices.SortStableFunc(m.lit, func(a, b lit) int { return cmp.Compare(a.watts, b.watts) })
}

// fullest is the state in which most flows; it is not ok where there is none.
func (m *maker) fullest() (lit, bool) {
	if len(m.lit) == 0 {
		return lit{}, false
	}
	return m.lit[len(m.lit)-1], true
}

// likes is how to find what a wide band hides.
const likes = "Tapes differ widely from maker to maker, and little along one reel: ways of which the same is expected read alike. One that is off its likes by more than a tenth hides something, though it is within its band (common practice, no source)."

// states is the lighting states, one after the other.
func (m *maker) states() Stage {
	if len(m.lit) == 0 {
		return Stage{
			Name: "Lit", Live: true, Why: "The scheme has no lighting state, so nothing that is lit can be expected.",
			Steps: []Step{{Do: "Write the states into the scheme, and make this sheet anew", State: "lit"}},
		}
	}
	var names []string
	for _, l := range m.lit {
		names = append(names, l.name)
	}
	g := Stage{
		Name:  "Lit: " + study.Listed(names),
		Why:   "States follow each other in rising load: what is wrong shows while little flows.",
		Live:  true,
		Stop:  "Do not go on while a supply, way or voltage is outside its band, while anything smells or is too hot to hold, or while lights flicker.",
		Notes: []string{"One state after the other, from left to right: supplies and ways, then runs, then by eye, before the next. Let each stand for a minute before the first reading: copper and pixels warm up. A clamp shows the mean, which is what is expected. " + ownDraw, likes},
	}
	lowest := map[string][]Step{}
	var feeds []Step
	for i, l := range m.lit {
		if i == 0 && len(m.s.Cables) > mostSpoilt {
			g.Notes = append(g.Notes, fmt.Sprintf("Of more than %d cables it is not solved what a bad joint in each does to the volts: the milliohms of the cores find it.", mostSpoilt))
		}
		state := "lit, " + l.name
		if i == 0 {
			g.Steps = append(g.Steps, m.ports(state)...)
		}
		for _, s := range m.atSupplies(l.in, state, clamped) {
			g.Steps = append(g.Steps, s.in(litSheet("feeds", i), s.Fill.Row+" "+s.Fill.Field, l.name))
		}
		for _, s := range m.waysLit(l, state) {
			g.Steps = append(g.Steps, s.in(litSheet("feeds", i), s.About[0], l.name))
		}
		lowest[l.name] = m.lowestOfAll(l.in, state)
		for _, s := range lowest[l.name] {
			g.Steps = append(g.Steps, s.in(litSheet("runs", i), s.Fill.Row+" "+place(s), l.name))
		}
		for _, run := range scheme.IDs(m.s.Runs) {
			g.Steps = append(g.Steps, m.eye(l, run, state).in(litSheet("eye", i), run, l.name))
		}
		if i == len(m.lit)-1 {
			feeds = m.feeds(l, state)
			g.Steps = append(g.Steps, feeds...)
		}
	}
	g.Sheets = append([]Worksheet{m.portSheet()}, m.litSheets(lowest)...)
	g.Sheets = append(g.Sheets, m.coreSheet("lit, "+m.lit[len(m.lit)-1].name, feeds))
	return g
}

// ports is whether data arrives, port by port.
func (m *maker) ports(state string) (steps []Step) {
	for _, p := range m.st.Ports() {
		text := fmt.Sprintf("%s, by %s: light the first and the last pixel of each run red, green, blue", p.ID, p.Lead)
		expect := fmt.Sprintf("%d pixels, through %s", p.Pixels, study.Listed(p.Runs))
		switch {
		case p.Pixels == 0:
			expect = "how many pixels it has is not known yet"
		case p.Known && p.Aimed:
			expect += fmt.Sprintf("; a frame takes %v, %v are possible, %s are asked for", p.Frame, p.Rate, short(m.s.Aims.FrameRate.String()))
		case p.Known:
			expect += fmt.Sprintf("; a frame takes %v, %v are possible", p.Frame, p.Rate)
		}
		steps = append(steps, Step{Do: text, State: state, Expect: expect, About: append([]string{p.Lead}, p.Runs...), Stop: "a wrong colour is a wrong order of bytes; a dead rest of a run a data joint"}.in("ports", p.ID, "seen"))
	}
	return steps
}

// eye is what the eye is asked.
func (m *maker) eye(l lit, run, state string) Step {
	step := Step{Do: m.labelled(run) + ": by eye, alike from end to end and past each cut, none flickers", State: state, About: []string{run}}
	r := m.st.Result(l.in)
	switch {
	case m.notChosen(run) != "":
		step.Expect = m.notChosen(run)
	case r == nil || !r.Found():
		step.Expect = unsolved
	case r.Runs[run].Evenness == nil:
		step.Expect = "dark, or no light is known of its tape"
	default:
		own := r.Runs[run]
		step.Expect = fmt.Sprintf("dimmest %v of the brightest", unit.Ratio(*own.Evenness))
		if worse, ok := m.worseInThePeak(l, run); ok {
			step.Expect += fmt.Sprintf(", down to %v where all pixels of the run pulse at once", worse)
		}
		switch {
		case own.ColourShift == nil:
		case *own.ColourShift < 1e-4:
			step.Expect += ", all of one colour"
		default:
			step.Expect += fmt.Sprintf(", colours apart by Δu′v′ %.4f", *own.ColourShift)
		}
	}
	return step
}

// worseInThePeak is how even a run is where all pulses of its pixels fall together; not ok where it is then less even than on the mean by no more than
// a hundredth, which nobody sees.
func (m *maker) worseInThePeak(l lit, run string) (unit.Ratio, bool) {
	mean, peak := m.st.Result(l.in), m.st.Result("peak/"+l.name)
	if mean == nil || peak == nil || !peak.Found() || mean.Runs[run].Evenness == nil || peak.Runs[run].Evenness == nil {
		return 0, false
	}
	worse := *peak.Runs[run].Evenness
	return unit.Ratio(worse), worse < *mean.Runs[run].Evenness-0.01
}

// waysLit is what each way and fused cable carries in a state.
func (m *maker) waysLit(l lit, state string) (steps []Step) {
	for _, b := range m.gaps {
		p := cableAmps(b.name)
		if b.way {
			p = wayAmps(b.name)
		}
		step := Step{Do: study.Capital(b.words()) + ": what it carries", Between: [2]string{"clamp on + of " + b.name}, State: state, About: []string{b.name}, Rests: restsAmps}
		if m.shared.outs[b.out] {
			step.Rests = restsShared
		}
		step.Reading = m.shared.widen(m, l.in, b.out, p).read(Amps, clamped)
		why := m.notChosen(b.name)
		if r := m.st.Result(l.in); why == "" && r != nil && r.Found() {
			why = m.overEnds(slices.Sorted(maps.Keys(m.n.FarEnds(b.name))), func(at string) float64 { return float64(m.n.VoltsAt(m.st.Solution(l.in), at)) })
		}
		switch {
		case why != "":
			step.Reading, step.Expect, step.Rests = nil, why, ""
		case step.Reading == nil:
			step.Expect, step.Rests = unsolved, ""
		case step.Reading.High > 0 && b.fuse != "":
			if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok && part.Rating.Is > 0 {
				step.Expect = fmt.Sprintf("%v of its %s", unit.Ratio(step.Reading.Is/float64(part.Rating.Is)), short(part.Rating.Is.String()))
			}
		}
		steps = append(steps, step)
	}
	return steps
}

const restsShared = "as other currents; where feeds share a piece, or supplies copper, each of their lengths and of their reels by itself besides; the clamp"

// A sharing is how the feeds of pieces that several share divide the load among them, and supplies that share copper: the scheme with each of the
// cables a little longer, and a little shorter, than all others, and with each of the runs at either end of the spread of its rails, and of what its
// pixels draw.
type sharing struct {
	outs  map[string]bool // gaps, and supplies
	pairs [][2]*study.Study
}

// share finds what shares, and sketches the scheme with each part of it by itself at either end.
func (m *maker) share() error {
	m.shared = &sharing{outs: map[string]bool{}}
	cables, runs := m.sharers()
	var schemes []*scheme.Scheme
	for _, side := range []float64{1, -1} {
		for _, id := range scheme.IDs(cables) {
			schemes = append(schemes, m.lengthened(id, func(length float64) float64 { return length * (1 + side*lengthSpread) }))
		}
		for _, id := range scheme.IDs(runs) {
			schemes = append(schemes, m.reeled(id, corner{copper: side}), m.reeled(id, corner{current: side}))
		}
	}
	sketches, err := m.base.Sketches(m.ctx, schemes, m.looked)
	half := len(sketches) / 2
	for i := range half {
		m.shared.pairs = append(m.shared.pairs, [2]*study.Study{sketches[i], sketches[half+i]})
	}
	return err
}

// sharers notes the gaps and supplies that share, and finds the cables and runs on which it hangs how they do.
func (m *maker) sharers() (cables, runs map[string]bool) {
	cables, runs = map[string]bool{}, map[string]bool{}
	for _, g := range m.gaps {
		fed := m.st.BackFed(g.out)
		own := 0
		if g.way && g.fuse == "" {
			fed, own = m.n.Fed(g.name), 1
		}
		if !g.fed || g.fuse == "" && !g.way || len(fed.Fuses)+len(fed.Bare) <= own {
			continue
		}
		m.shared.outs[g.out] = true
		cables[g.name] = !g.way
		for _, id := range m.n.Landings(g.name) {
			cables[id] = true
		}
		for at := range m.n.FarEnds(g.name) {
			runs[runOf(at)] = true
		}
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		if len(m.n.SuppliesOn(id)) < 2 {
			continue
		}
		m.shared.outs[id] = true
		for _, cable := range m.n.Landings(id) {
			cables[cable] = true
		}
		for run := range m.s.Runs {
			runs[run] = runs[run] || slices.Contains(m.n.SuppliesOf(run), id)
		}
	}
	no := func(_ string, is bool) bool { return !is }
	maps.DeleteFunc(cables, no)
	maps.DeleteFunc(runs, no)
	delete(runs, "")
	return cables, runs
}

// reeled is the scheme with a run cut from a reel of its own.
func (m *maker) reeled(run string, c corner) *scheme.Scheme {
	const name = "tape/one-reel"
	other := *m.base.Scheme
	tape := other.Tape(run)
	if tape == nil {
		return m.base.Scheme
	}
	other.Library = other.Library.With(parts.Set{name: c.tape(*tape)})
	other.Runs = maps.Clone(other.Runs)
	r := other.Runs[run]
	r.Tape = name
	other.Runs[run] = r
	return &other
}

// lengthened is the scheme with a cable of another length.
func (m *maker) lengthened(id string, by func(float64) float64) *scheme.Scheme {
	other := *m.base.Scheme
	other.Cables = maps.Clone(other.Cables)
	if c := other.Cables[id]; c.Length != nil {
		length := unit.Metre(by(float64(*c.Length)))
		c.Length = &length
		other.Cables[id] = c
	}
	return &other
}

// widen is a bound with what each feed does by itself added, at the size that the current has in the corner where it is largest.
func (s *sharing) widen(m *maker, in, out string, p probe) bound {
	b := m.bounded(in, p)
	if !b.ok || !s.outs[out] {
		return b
	}
	scale := 1.0
	if b.is > 0 {
		scale = max(1, b.high/b.is)
	}
	down, up := 0.0, 0.0
	for _, pair := range s.pairs {
		low, high := 0.0, 0.0
		for _, st := range pair {
			r := st.Result(in)
			if r == nil || !r.Found() || len(r.Limited) > 0 {
				return bound{}
			}
			shift := p(st.Network, st.Solution(in), r) - b.is
			low, high = min(low, shift), max(high, shift)
		}
		down, up = down+low, up+high
	}
	b.low, b.high = b.low+scale*down, b.high+scale*up
	return b
}

// feeds is, in the fullest state, the volts where each feed lands, with what a bad joint in it would do, and the milliohms of its cores under load.
func (m *maker) feeds(l lit, state string) (steps []Step) {
	r := m.st.Result(l.in)
	if r == nil || !r.Found() {
		return nil
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		station, lands := m.stationOf(id)
		if _, known := r.Cables[id]; !known || !lands {
			continue
		}
		if c.Pole.Has(scheme.Plus) && c.Pole.Has(scheme.Return) {
			steps = append(steps, m.landing(l, id, station, state))
		}
		steps = append(steps, m.cores(l, id, state)...)
	}
	return steps
}

// stationOf is the station of a run on which a cable lands, that of its far end where both do.
func (m *maker) stationOf(cable string) (station string, ok bool) {
	c := m.s.Cables[cable]
	for _, ref := range []scheme.Ref{c.To, c.From} {
		if ref.Kind == scheme.StationRef {
			return ref.String(), true
		}
	}
	return "", false
}

// landing is the volts where a feed lands.
func (m *maker) landing(l lit, id, station, state string) Step {
	step := Step{Do: "Volts where " + id + " lands", Between: poles(station), State: state, About: []string{id, runOf(station)}, Rests: restsVolts}.in("cores", id, "volts")
	step.Reading = m.bounded(l.in, voltsAt(station)).read(Volts, direct)
	for _, why := range []string{m.notChosen(id), m.overVolts(station, float64(m.n.VoltsAt(m.st.Solution(l.in), station)))} {
		if why != "" {
			step.Reading, step.Expect, step.Rests = nil, why, ""
			return step
		}
	}
	if step.Reading == nil {
		step.Expect, step.Rests = unsolved, ""
		return step
	}
	step.Joint = m.jointOf(id, l.in, station, step.Reading)
	return step
}

// mostSpoilt is of how many cables a bad joint in each is followed through the whole installation: the work grows with their square.
const mostSpoilt = 150

// jointOf is what a bad joint in a feed does to the volts of a place in a case; nil where nobody can say.
func (m *maker) jointOf(cable, in, place string, r *Reading) *Joint {
	bad := m.bad[cable]
	if bad == nil {
		return nil
	}
	solved := bad.Result(in)
	if solved == nil || !solved.Found() {
		return nil
	}
	return r.joint(float64(bad.Network.VoltsAt(bad.Solution(in), place)) - r.Is)
}

// spoil sketches the scheme with a bad joint in each feed, in the cases in which it is asked for: where a run is lowest, and in the fullest state where
// the feed lands.
func (m *maker) spoil() error {
	m.bad = map[string]*study.Study{}
	if len(m.s.Cables) > mostSpoilt {
		return nil
	}
	asked := map[string]map[string]bool{}
	ask := func(cable, in string) {
		if asked[cable] == nil {
			asked[cable] = map[string]bool{}
		}
		asked[cable][in] = true
	}
	for _, in := range m.cases {
		for _, run := range scheme.IDs(m.s.Runs) {
			if at, _, ok := m.lowestPlace(in, run); ok {
				ask(m.feedOf(run, at), in)
			}
		}
	}
	if full, ok := m.fullest(); ok {
		for _, id := range scheme.IDs(m.s.Cables) {
			if _, lands := m.stationOf(id); lands {
				ask(id, full.in)
			}
		}
	}
	var ids []string
	var schemes []*scheme.Scheme
	for _, id := range scheme.IDs(asked) {
		c := m.s.Cables[id]
		if part, ok := parts.Get[parts.Cable](m.s.Library, c.Part); ok && part.R20.Is > 0 && c.Length != nil {
			ids, schemes = append(ids, id), append(schemes, m.spoilt(id, part))
		}
	}
	sketches, err := m.base.Sketches(m.ctx, schemes, func(i int, c network.Case) bool { return asked[ids[i]][c.Name] })
	for i, st := range sketches {
		m.bad[ids[i]] = st
	}
	return err
}

// spoilt is the scheme with a bad joint in a cable: so much longer that both its poles together have its resistance more. Of cold copper; in
// warm copper the joint counts for up to a tenth more.
func (m *maker) spoilt(id string, part *parts.Cable) *scheme.Scheme {
	c := m.s.Cables[id]
	_, _, _, perPole := c.Env(m.s)
	poles := 2.0
	if !c.Pole.Has(scheme.Plus) || !c.Pole.Has(scheme.Return) {
		poles = 1
	}
	more := float64(badJoint) / (poles * float64(part.R20.Is)) * float64(perPole)
	return m.lengthened(id, func(length float64) float64 { return length + more })
}

// leastLoad is the current from which on the volts along a core say something about it (common practice, no source).
const leastLoad = 0.3

// cores is the milliohms of both cores of a feed under load: the volts along each over what it carries. No spread of what pixels draw is in them.
func (m *maker) cores(l lit, id, state string) (steps []Step) {
	c := m.s.Cables[id]
	part, ok := parts.Get[parts.Cable](m.s.Library, c.Part)
	r := m.st.Result(l.in)
	if !ok || c.Length == nil || m.notChosen(id) != "" {
		return nil
	}
	_, _, _, perPole := c.Env(m.s)
	station, _ := m.stationOf(id)
	if m.overVolts(station, float64(m.n.VoltsAt(m.st.Solution(l.in), station))) != "" {
		return nil
	}
	at := r.Cables[id]
	hottest := at.Celsius
	for _, corner := range m.corners {
		if other := corner.Result(l.in); other.Found() {
			hottest = max(hottest, other.Cables[id].Celsius)
		}
	}
	metres := float64(*c.Length) / float64(perPole)
	is := float64(part.R20.Is) * metres * m.factorOf(at.Celsius)
	low := float64(part.R20.Lower()) * metres * (1 - lengthSpread) * min(m.factorOf(m.s.Coldest()), m.factorOf(at.Celsius))
	high := float64(part.R20.Upper()) * metres * (1 + lengthSpread) * m.factorOf(hottest)
	contacts := m.contacts(c)
	for i, pole := range []string{"+", "−"} {
		amps := []float64{math.Abs(float64(at.Plus.Mean)), math.Abs(float64(at.Return.Mean))}[i]
		if !c.Pole.Has([]scheme.Pole{scheme.Plus, scheme.Return}[i]) || amps < leastLoad {
			continue
		}
		step := Step{
			Do: fmt.Sprintf("%s, %s core: volts along it over its amperes by clamp", id, pole), Between: [2]string{c.From.String() + " " + pole, c.To.String() + " " + pole},
			State: state, About: []string{id}, Rests: restsCores, Section: part.Area.Is,
		}.in("cores", id, pole)
		own, ends := contact{is, low, high}, contacts
		if c.Fuse != "" && pole == "+" { // its holder, and what lies before it, stay out
			at := holder(c)
			ends[at] = contact{}
			own.low -= float64(part.R20.Lower()) * tail(c) / float64(perPole)
			step.Between[at] = "fuse holder of " + id + ", cable side"
		}
		for _, e := range ends {
			own.is, own.low, own.high = own.is+e.is, own.low+e.low, own.high+e.high
		}
		err := func(ohms float64) float64 {
			return ohms*(direct.share+clamped.share) + clamped.digits*clamped.ranges[0].digit/amps*ohms + direct.digits*direct.ranges[0].digit/amps
		}
		step.Reading = &Reading{Kind: Ohms, Is: own.is, Low: max(own.low-err(own.low), 0), High: own.high + err(own.high)}
		step.Joint = step.Reading.joint(float64(badJoint))
		step.Expect = fmt.Sprintf("%v at %v", unit.Volt(own.is*amps), unit.Ampere(amps))
		steps = append(steps, step)
	}
	return steps
}

const restsCores = "resistance of the core at the coldest air to its solved temperature; length ±3 %, and 0.3 m less where a fuse holder is in it (common practice, no source); contacts at both ends of their spread, from next to nothing to twice what is stated where it has none (common practice, no source), terminals up to 0.67 mΩ, 0.91 mΩ at 1.5 mm² (IEC 60947-7-1); volts and clamp. What pixels draw is not in it"

// factorOf is that of copper at a temperature, or at the one at which the scheme holds all copper.
func (m *maker) factorOf(t unit.Celsius) float64 {
	if fixed := m.s.Site.Conductors.Fixed; fixed != nil {
		t = *fixed
	}
	return conductor.Factor(t)
}

// fullDrive is everything full on for a minute, where the design bears it.
func (m *maker) fullDrive() (Stage, error) {
	g := Stage{
		Name:  "Full drive, once, for a minute",
		Why:   "The cap is a comfort of the control system and never a protection: one day it fails. Better while somebody stands beside it.",
		Live:  true,
		Stop:  "Switch off at once where a reading is above its band, or anything smells or smokes.",
		Notes: []string{ownDraw},
	}
	state := "every channel full on, no cap"
	if why := m.forbids(); why != nil {
		return Stage{
			Name:  "Full drive: not done here",
			Why:   "The cap is a comfort of the control system and never a protection: one day it fails, and then this is what the design does not bear for sure.",
			Steps: []Step{{Do: "Leave it out. " + strings.Join(why, " "), State: state}},
		}, nil
	}
	const in = "state/full"
	alone := func(_ int, c network.Case) bool { return c.Name == in }
	nominal, err := m.base.Sketches(m.ctx, []*scheme.Scheme{corner{}.of(m.full())}, alone)
	if err != nil {
		return Stage{}, err
	}
	other := &maker{ctx: m.ctx, st: nominal[0], s: nominal[0].Scheme, n: nominal[0].Network, gaps: m.gaps, landings: m.landings, cases: []string{in}}
	if err := other.vary(); err != nil {
		return Stage{}, err
	}
	g.Steps = append(g.Steps, Step{Do: "Cap off, every channel of every run full on, a minute by the clock; one person at the switch", State: state})
	lowest := other.lowestOfAll(in, state)
	g.Steps = append(g.Steps, other.atSupplies(in, state, clamped)...)
	g.Steps = append(g.Steps, lowest...)
	g.Sheets = []Worksheet{m.supplySheet(), m.lowestSheet(lowest)}
	g.Steps = append(g.Steps, Step{Do: "Cap back on, and seen to act: the amperes of the last state again", State: state})
	return g, nil
}

// full is the scheme with one state alone, in which all is full on.
func (m *maker) full() *scheme.Scheme {
	other := *m.s
	other.Aims.Cap = nil
	colour, level := scheme.White(), unit.Ratio(1)
	colour.Word = "all"
	other.States = map[string]scheme.State{"full": {Level: &level, Colour: &colour}}
	return &other
}

// forbids says why full drive is not to be tried, one reason after the other; none where every number that is known allows it: the case in which the cap
// has failed, in its careful corner.
func (m *maker) forbids() (why []string) {
	r := m.st.Result(string(network.CapFailed))
	say := func(format string, a ...any) { why = append(why, fmt.Sprintf(format, a...)) }
	switch {
	case len(m.s.Runs) == 0 || len(m.s.Supplies) == 0:
		return []string{"There is nothing to drive."}
	case len(m.open) > 0:
		for _, open := range m.open {
			say("%s is not chosen.", open.name)
		}
		return why
	case r == nil || !r.Found():
		return []string{"No operating point was found with the cap failed."}
	case len(r.Limited) > 0:
		return []string{study.Listed(r.Limited) + " would reach the limit."}
	}
	for _, b := range m.gaps {
		amps := r.Ways[b.name].Amps.RMS
		if !b.way {
			amps = r.Cables[b.name].Plus.RMS
		}
		if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok && amps > part.Rating.Is {
			say("The %s would carry %v, and is for %v.", b.words(), amps, part.Rating.Is)
		}
		if way, ok := m.s.WayPart(b.name); ok && b.way && amps > way.Amps.Is {
			say("%s would carry %v, and is for %v.", b.name, amps, way.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(r.Cables) {
		if c := r.Cables[id]; c.Clamped || max(c.Plus.RMS, c.Return.RMS) > c.Iz {
			say("%s would carry %v, and may carry %v.", id, max(c.Plus.RMS, c.Return.RMS), c.Iz)
		}
	}
	why = append(why, m.overContacts(r)...)
	var unknown []string
	for _, id := range scheme.IDs(r.Runs) {
		tape := m.s.Tape(id)
		switch own := r.Runs[id]; {
		case tape == nil:
		case !tape.RailAmps.Given:
			unknown = append(unknown, id)
		case own.RailAmps > tape.RailAmps.Lower():
			say("The rails of %s would carry %v, and may carry %v at the lower end of the spread.", id, own.RailAmps, tape.RailAmps.Lower())
		}
	}
	if unknown != nil {
		say("What the rails of %s may carry is not known.", study.Listed(unknown))
	}
	return why
}

// overContacts says which inlets, connectors, fuse holders, junctions and contactors would carry more in a solved case than they are rated for.
func (m *maker) overContacts(r *network.Result) (why []string) {
	say := func(name string, amps, rated unit.Ampere) {
		if amps > rated {
			why = append(why, fmt.Sprintf("%s would carry %v, and is for %v.", name, amps, rated))
		}
	}
	heavier := func(cable string) unit.Ampere { return max(r.Cables[cable].Plus.RMS, r.Cables[cable].Return.RMS) }
	for _, id := range scheme.IDs(r.Boards) {
		if part, ok := m.s.BoardPart(id); ok {
			say("The inlet of "+id, max(r.Boards[id].Inlet.RMS, r.Boards[id].Return.RMS), part.Inlet.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(r.Cables) {
		c := m.s.Cables[id]
		for _, name := range []string{c.Ends.From, c.Ends.To} {
			if part, ok := parts.Get[parts.Connector](m.s.Library, name); ok {
				say(fmt.Sprintf("The connector %s of %s", name, id), heavier(id), part.Amps.Is)
			}
		}
		fuse, _ := parts.Get[parts.Fuse](m.s.Library, c.Fuse)
		if fuse == nil {
			continue
		}
		if seat, ok := parts.Get[parts.Connector](m.s.Library, fuse.Seat); ok {
			say("The fuse holder of "+id, r.Cables[id].Plus.RMS, seat.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Junctions) {
		if part, ok := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[id].Part); ok {
			say("A contact of "+id, m.n.FullCurrent(r, id), part.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Contactors) {
		if part, ok := parts.Get[parts.Relay](m.s.Library, m.s.Contactors[id].Part); ok {
			say("The contact of "+id, heavier(m.s.Contactors[id].In), part.Amps.Is)
		}
	}
	return why
}
