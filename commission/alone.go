package commission

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// alone is the supplies with nothing on them.
func (m *maker) alone() Stage {
	g := Stage{
		Name:  "Supplies alone",
		Why:   "A set point that is wrong, or a pole that is swapped, reaches no chip while every fuse is out.",
		Stop:  "Do not go on while a pole is swapped, a voltage is outside its band, or any way or landing shows a voltage.",
		Live:  true,
		Notes: []string{"The licensed electrician releases the mains, one supply at a time."},
	}
	state := "all fuses out, one supply on"
	for _, id := range scheme.IDs(m.s.Supplies) {
		g.Steps = append(g.Steps, m.supplyAlone(id, state))
	}
	if len(m.s.Supplies) == 0 {
		g.Steps = append(g.Steps, Step{Do: "There is no supply in the scheme", State: state})
	}
	if beyond := m.places(); len(beyond) > 0 && len(m.s.Supplies) > 0 {
		g.Steps = append(g.Steps, Step{
			Do: "Dead behind every fuse: every inlet, way, junction and landing", Between: [2]string{"each +", "each −"}, State: "all fuses out, all supplies on", Reading: nothing(), Rests: restsDead,
			Stop: "a voltage here comes past a fuse: find the way it takes",
		})
	}
	return g
}

// deadVolts is what a piece that nothing feeds may still show to a meter: capacitors that drain below where chips conduct (common practice, no source).
const deadVolts = 0.5

const restsDead = "capacitors that drain slowly may leave some tenths of a volt; wait a minute: common practice, no source"

// nothing is the reading of what is dead, whichever way round.
func nothing() *Reading { return &Reading{Kind: Volts, Is: 0, Low: -deadVolts, High: deadVolts} }

func (m *maker) supplyAlone(id, state string) Step {
	step := Step{Between: poles(id), State: state, About: []string{id}, Do: m.labelled(id) + ": polarity and volts at its terminals", Stop: "a minus sign is a swapped pole: switch off"}
	part, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part)
	set := float64(m.s.SetPoint(id))
	switch {
	case !ok || set <= 0:
		step.Expect = "its part is still to be chosen"
	case trimmable(part):
		step.Do = fmt.Sprintf("%s: polarity; trim to %v", m.labelled(id), unit.Volt(set))
		step.Reading = &Reading{Kind: Volts, Is: set, Low: set * (1 - trimSpread), High: set * (1 + trimSpread), Inwards: true}
		step.Rests = "what the trimmer is set by, ±0.5 % (common practice, no source); what the meter errs by is in the bands that follow"
	default:
		step.Reading = direct.shown(Volts, set, set*(1+part.Volts.Spread.Low), set*(1+part.Volts.Spread.High))
		step.Rests = "spread of the set point; the volts of the meter"
	}
	return step
}

// A charged is what is measured once one gap is closed.
type charged struct {
	b      gap
	c      network.Case
	ends   []string // where the copper behind it ends
	found  bool
	amps   bound
	volts  map[string]bound // at the ends, and at the places that are looked at
	probes []string
}

// oneByOne is the fuses put in one at a time, with nothing lit.
func (m *maker) oneByOne() (Stage, error) {
	g := Stage{
		Name: "Fuses in, one by one, dark",
		Why:  "With one fuse in, whatever shows a voltage hangs on that fuse. A piece that should be dead and is not, is joined to another by a cut that was never made or a feed that was swapped.",
		Stop: "Do not go on while a current is outside its band, or anything is live that should be dead: take the fuse out again first.",
		Live: true,
		Notes: []string{
			"Data unplugged, controllers off. Each step begins with all fuses out but those that it names. Begin in the 10 A range even where the sheet says mA, for what charges the tape is more than that range bears.",
			"A meter on its ampere sockets is a short across whatever else it touches: move its lead back before the next volts.",
			"A current of nearly none where some is expected is a tape that is not joined; far more is a short or a piece that hangs on behind.",
		},
	}
	if len(m.s.Contactors) > 0 {
		g.Notes = append(g.Notes, "Contactors closed: "+study.Listed(scheme.IDs(m.s.Contactors))+".")
	}
	g.Sheets = []Worksheet{m.fuseSheet()}
	list, err := m.charge()
	if err != nil {
		return Stage{}, err
	}
	before := map[string]*charged{}
	for _, c := range list {
		before[c.b.out] = c
		var was *charged
		if k := len(c.b.closed); k > 0 {
			was = before[c.b.closed[k-1]]
		}
		steps := m.closing(c, was)
		g.Sheets[0].Rows = append(g.Sheets[0].Rows, m.fuseRows(c, steps)...)
		g.Steps = append(g.Steps, steps...)
	}
	if len(list) == 0 {
		g.Steps = append(g.Steps, Step{Do: "There is no fuse and no cable at a supply: nothing to put in", State: "dark"})
	}
	return g, nil
}

// charge solves each gap closed alone, in the scheme and in its corners.
func (m *maker) charge() ([]*charged, error) {
	var list []*charged
	places := m.places()
	for _, b := range m.gaps {
		c := &charged{b: b, c: m.aloneIn(b), volts: map[string]bound{}, found: b.fed, probes: places}
		c.ends = slices.DeleteFunc(slices.SortedFunc(maps.Keys(m.n.FarEnds(b.name)), natural), func(at string) bool { return at == b.name })
		c.amps = bound{is: math.NaN(), low: math.Inf(1), high: math.Inf(-1), ok: true}
		list = append(list, c)
	}
	for i, st := range slices.Concat([]*study.Study{m.st}, m.corners) {
		var queue []*charged
		for _, c := range list {
			if c.b.fed {
				queue = append(queue, c)
			}
		}
		err := st.Each(m.ctx, func(yield func(network.Case) bool) {
			for _, c := range queue {
				if !yield(c.c) {
					return
				}
			}
		}, func(s *network.Solution) error {
			c := queue[0]
			queue = queue[1:]
			c.take(st.Network, s, i == 0)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return list, nil
}

// take notes what is measured in one solution, of the scheme itself first.
func (c *charged) take(n *network.Network, s *network.Solution, first bool) {
	if s == nil || !s.Found() || len(n.AtLimit(s)) > 0 {
		c.found = false
		return
	}
	c.amps = c.amps.with(float64(n.Carrying(s, c.b.out)), first)
	looked := map[string]bool{}
	for _, at := range slices.Concat(c.ends, c.probes) {
		if looked[at] {
			continue
		}
		looked[at] = true
		b, known := c.volts[at]
		if !known {
			b = bound{low: math.Inf(1), high: math.Inf(-1), ok: true}
		}
		c.volts[at] = b.with(float64(n.VoltsAt(s, at)), first)
	}
}

// live reports whether a place shows a voltage.
func (c *charged) live(at string) bool { return c != nil && math.Abs(c.volts[at].is) > deadVolts }

// with is a bound that holds one more value; the first is that of the scheme itself.
func (b bound) with(v float64, first bool) bound {
	if first {
		b.is = v
	}
	b.low, b.high = min(b.low, v), max(b.high, v)
	b.ok = b.ok && !math.IsNaN(v)
	return b
}

// faintAmps is less than anybody measures through a meter (common practice, no source).
const faintAmps = 1e-3

// slightAmps is the current up to which the milliampere range of a meter is taken, half of what its fuse bears (common practice, no source).
const slightAmps = 0.3

// faint reports whether nothing to speak of flows.
func (c *charged) faint() bool { return c.amps.high < faintAmps }

// closing is the steps of one gap. was is what was live before it.
func (m *maker) closing(c *charged, was *charged) (steps []Step) {
	state := "dark; in: " + c.b.name
	for i := len(c.b.closed) - 1; i >= 0; i-- {
		if b, ok := m.named(c.b.closed[i]); ok {
			state += ", " + b.name
		}
	}
	about := []string{c.b.name}
	first := Step{State: state, About: about, Between: [2]string{"in place of the fuse"}, Rests: restsIdle, Stop: "take it out again, find out why"}.in("fuses", c.b.name, "amps")
	switch {
	case c.b.fuse != "":
		first.Do = fmt.Sprintf("%s: dark current, then put it in (%s)", study.Capital(c.b.words()), m.fuseWords(c.b.fuse))
	default:
		first.Do = study.Capital(c.b.words()) + ": no fuse there; through the meter, then connect it, supply off meanwhile"
		first.Between = [2]string{"in its positive"}
	}
	over := m.overEnds(c.ends, func(at string) float64 { return c.volts[at].is })
	switch {
	case !c.b.fed:
		first.Expect, first.Rests, first.Between = "nothing: no supply reaches it by copper, data leads apart", "", [2]string{}
		return append(steps, first)
	case m.notChosen(c.b.name) != "":
		first.Expect, first.Rests, first.Between = m.notChosen(c.b.name), "", [2]string{}
		return append(steps, first)
	case !c.found:
		first.Expect, first.Rests = unsolved, ""
		return append(steps, first)
	case over != "":
		first.Expect, first.Rests, first.Between = over, "", [2]string{}
	case c.faint() && slices.ContainsFunc(c.ends, func(at string) bool { return strings.HasSuffix(at, ".in") }):
		first.Expect, first.Rests = "what boards on it draw themselves, which is not in the sums: note it", ""
	case c.faint():
		first.Between[0] += ", mA range"
		first.Expect, first.Reading = "what lies behind it is still off", finely.shown(Amps, 0, 0, c.amps.high)
	case c.amps.high > through.ranges[0].upTo:
		first.Do = study.Capital(c.b.words()) + ": put it in, more than a meter bears: by clamp"
		first.Between, first.Rests = [2]string{"clamp on its positive"}, "what dark pixels draw at both ends of its spread; the clamp"
		first.Reading = c.amps.read(Amps, clamped)
	case c.amps.high <= slightAmps:
		first.Between[0] += ", mA range"
		first.Reading = c.amps.read(Amps, finely)
	default:
		first.Between[0] += ", 10 A range"
		first.Reading = c.amps.read(Amps, through)
	}
	steps = append(steps, first)
	for i, at := range c.ends {
		steps = append(steps, m.chargedEnd(c, at, state).in("fuses", endRow(c, i), "volts"))
	}
	return append(steps, m.stillDead(c, was, state)...)
}

// chargedEnd is the volts where the copper behind a gap ends.
func (m *maker) chargedEnd(c *charged, at, state string) Step {
	b := c.volts[at]
	step := Step{Do: "Volts at " + spoken(at), Between: poles(at), State: state, About: []string{c.b.name}, Rests: restsVolts, Reading: b.read(Volts, direct)}
	switch {
	case !b.ok:
		step.Expect = unsolved
	case math.Abs(b.is) <= deadVolts && math.Abs(b.high) <= deadVolts:
		step.Reading, step.Rests = nothing(), restsDead
		step.Expect = "dead: its return is open, or another fuse lies between"
	case m.overVolts(at, b.is) != "":
		step.Reading, step.Rests, step.Expect = nil, "", m.overVolts(at, b.is)
	case !c.faint():
		step.Joint = step.Reading.joint(-c.amps.is * float64(badJoint)) // the only feed: all it carries goes through the joint
	}
	return step
}

// liveBehind begins a step about what is live without its own fuse.
const liveBehind = "Live from behind, though their own fuses are out: "

// stillDead is what must show no voltage, and what does all the same because copper leads there from behind.
func (m *maker) stillDead(c *charged, was *charged, state string) (steps []Step) {
	var behind []string
	dead := 0
	mine := map[string]bool{c.b.name: true}
	for _, at := range c.ends {
		mine[at] = true
	}
	for _, at := range c.probes {
		switch {
		case mine[at] || was.live(at):
		case c.live(at):
			behind = append(behind, at)
		default:
			dead++
		}
	}
	if behind != nil {
		steps = append(steps, Step{
			Do: liveBehind + study.Listed(spokenAll(behind)), Between: [2]string{"each +", "each −"}, State: state, About: []string{c.b.name},
			Reading: c.behind(behind), Expect: "copper joins them beyond this fuse, as drawn", Rests: restsVolts,
		}.in("fuses", c.b.name+" behind", "volts"))
		if over := m.overEnds(slices.Concat(c.ends, behind), func(at string) float64 { return c.volts[at].is }); over != "" {
			s := &steps[len(steps)-1]
			s.Reading, s.Expect, s.Rests = nil, over, ""
		}
	}
	if dead > 0 {
		steps = append(steps, Step{
			Do: "Still dead: every other inlet, way, junction and landing, first those on " + m.near(c), Between: [2]string{"each +", "each −"}, State: state, About: []string{c.b.name},
			Reading: nothing(), Rests: restsDead, Stop: "nearly the volts of " + c.b.name + " there are a cut that was not made, or a swapped feed",
		}.in("fuses", c.b.name, "dead"))
	}
	return steps
}

// endRow names the row of an end of the copper behind a gap; the first stands in that of the gap itself.
func endRow(c *charged, i int) string {
	if i == 0 {
		return c.b.name
	}
	return c.b.name + " at " + c.ends[i]
}

// fuseRows are the rows of a gap: its own, and one for each further place whose volts are read.
func (m *maker) fuseRows(c *charged, steps []Step) (rows []Row) {
	var before []string
	for i := len(c.b.closed) - 1; i >= 0; i-- {
		if b, ok := m.named(c.b.closed[i]); ok {
			before = append(before, b.name)
		}
	}
	own := m.row(c.b.name, c.b.name, c.b.name, "no fuse", study.Listed(before), "", "")
	if len(before) == 0 {
		own.Words[2] = "–"
	}
	if c.b.fuse != "" {
		own.Words[1] = "to be chosen"
	}
	if part, ok := parts.Get[parts.Fuse](m.s.Library, c.b.fuse); ok {
		own.Words[1] = short(part.Rating.Is.String())
		if part.Colour != "" {
			own.Words[1] += ", " + part.Colour
		}
	}
	rows = append(rows, own)
	for _, s := range steps {
		switch _, at, _ := strings.Cut(s.Do, "Volts at "); {
		case s.Fill.Field == "amps":
			rows[0].Words[3] = strings.TrimSuffix(strings.TrimPrefix(strings.TrimPrefix(s.Between[0], "in place of the fuse, "), "in its positive, "), " on its positive")
			if rows[0].Words[3] == s.Between[0] && s.Between[0] != "" && s.Between[0] != "clamp" {
				rows[0].Words[3] = "10 A range"
			}
		case s.Fill.Row == c.b.name && s.Fill.Field == "volts":
			rows[0].Words[4] = at
		case s.Fill.Field == "volts" && at != "":
			rows = append(rows, m.row(s.Fill.Row, c.b.name, "", "", "", "", at))
		case s.Fill.Field == "volts":
			places := strings.TrimPrefix(s.Do, liveBehind)
			rows = append(rows, m.row(s.Fill.Row, c.b.name, "", "", "", "", "from behind: "+places))
		}
	}
	return rows
}

// behind is the band of some places that are live from behind.
func (c *charged) behind(places []string) *Reading {
	all := c.volts[places[0]]
	for _, at := range places {
		b := c.volts[at]
		all.low, all.high, all.ok = min(all.low, b.low), max(all.high, b.high), all.ok && b.ok
	}
	return all.read(Volts, direct)
}

// near names what a cut not made would make live first: the other landings of the same runs.
func (m *maker) near(c *charged) string {
	runs := map[string]bool{}
	for _, at := range c.ends {
		if run := runOf(at); run != "" {
			runs[run] = true
		}
	}
	if len(runs) == 0 {
		return "the ways nearest to " + c.b.name
	}
	return study.Listed(scheme.IDs(runs))
}

// allDark is everything fed and nothing lit.
func (m *maker) allDark() Stage {
	g := Stage{
		Name:  "All fuses in, dark",
		Why:   "What is drawn with nothing lit is drawn every hour of the year; it is also the reading that a later fault is compared with.",
		Stop:  "Do not go on while a current is outside its band.",
		Live:  true,
		Notes: []string{"Chips may come up with some lights on until the first frame. " + ownDraw},
	}
	state := "all fuses in, data in, dark"
	g.Steps = append(g.Steps, Step{Do: "Supply off; all fuses in, each of the rating on its label; supply on", State: state}, Step{Do: "Data plugged in at every port; controllers on, sending dark", State: state, About: m.s.Senders()})
	lowest := m.lowestOfAll(string(network.Dark), state)
	g.Steps = append(g.Steps, m.atSupplies(string(network.Dark), state, clamped)...)
	g.Steps = append(g.Steps, lowest...)
	g.Sheets = []Worksheet{m.supplySheet(), m.lowestSheet(lowest)}
	return g
}

// ownDraw is said wherever amperes of supplies are expected.
const ownDraw = "What boards and controllers draw themselves is not in these sums: where they hang on the same supply its amperes may stand above the band by so much."

// atSupplies is volts and amperes of every supply in a case.
func (m *maker) atSupplies(in, state string, amps accuracy) (steps []Step) {
	for _, id := range scheme.IDs(m.s.Supplies) {
		if _, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part); !ok {
			steps = append(steps, Step{Do: m.labelled(id) + ": volts and amperes", Between: poles(id), State: state, About: []string{id}, Expect: "its part is still to be chosen"}.in("supplies", id, "volts"))
			continue
		}
		v := Step{Do: m.labelled(id) + ": volts at its terminals", Between: poles(id), State: state, About: []string{id}, Rests: restsVolts, Reading: m.bounded(in, supplyVolts(id)).read(Volts, direct)}
		i := Step{Do: m.labelled(id) + ": amperes, whatever leaves +", Between: [2]string{"clamp on all + of " + id}, State: state, About: []string{id}, Rests: restsAmps, Reading: m.shared.widen(m, in, id, supplyAmps(id)).read(Amps, amps)}
		if m.shared.outs[id] {
			i.Rests = restsShared
		}
		if r := m.st.Result(in); r != nil && r.Found() && r.Supplies[id].State != "normal" {
			i.Expect = "it is at its limit in this state, or off: " + r.Supplies[id].State
		}
		for _, s := range []*Step{&v, &i} {
			if why := m.notChosen(id); why != "" {
				s.Reading, s.Expect = nil, why
			}
			if s.Reading == nil && s.Expect == "" {
				s.Expect = unsolved
			}
			if s.Reading == nil {
				s.Rests = ""
			}
		}
		if v.Reading != nil {
			v.Joint = v.Reading.joint(0) // a joint beyond its terminals shifts nothing there
		}
		steps = append(steps, v.in("supplies", id, "volts"), i.in("supplies", id, "amps"))
	}
	return steps
}

// lowestOfAll is lowest of every run that has a feed.
func (m *maker) lowestOfAll(in, state string) (steps []Step) {
	for _, run := range scheme.IDs(m.s.Runs) {
		if step, ok := m.lowest(in, run, state); ok {
			steps = append(steps, step)
		}
	}
	return steps
}

// lowestPlace is where a run is lowest of all places that a probe reaches; it is not ok where nobody can say.
func (m *maker) lowestPlace(in, run string) (at string, volts float64, ok bool) {
	r := m.st.Result(in)
	if r == nil || !r.Found() || m.notChosen(run) != "" || m.s.Tape(run) == nil || len(m.landings[run]) == 0 {
		return "", 0, false
	}
	volts = math.Inf(1)
	for _, station := range m.measurable(run) {
		if v := float64(m.n.VoltsAt(m.st.Solution(in), station)); v < volts-1e-6 {
			at, volts = station, v
		}
	}
	return at, volts, true
}

// lowest is the volts of a run where they are lowest of all places that a probe reaches.
func (m *maker) lowest(in, run, state string) (step Step, ok bool) {
	r := m.st.Result(in)
	if r == nil || m.s.Tape(run) == nil || len(m.landings[run]) == 0 {
		return Step{}, false
	}
	step = Step{State: state, About: []string{run}, Rests: restsVolts}.in("runs", run, "volts")
	at, least, found := m.lowestPlace(in, run)
	if !found {
		step.Do, step.Expect, step.Rests = m.labelled(run)+": volts", unsolved, ""
		if why := m.notChosen(run); why != "" {
			step.Expect = why
		}
		return step, true
	}
	step.Do, step.Between = fmt.Sprintf("%s: lowest volts that a probe reaches", m.labelled(run)), poles(at)
	b := m.bounded(in, voltsAt(at))
	if step.Reading = b.read(Volts, direct); b.ok && max(math.Abs(b.low), math.Abs(b.high)) <= deadVolts {
		step.Reading, step.Rests, step.Expect = nothing(), restsDead, "dead there: nothing feeds it"
		return step, true
	}
	if why := m.overVolts(at, b.is); why != "" {
		step.Reading, step.Rests, step.Expect = nil, "", why
		return step, true
	}
	if own := m.runsIn(in)[run]; own.Fed && float64(own.VoltsLow) < least {
		step.Expect = fmt.Sprintf("its lowest pixel, %d, has %v", own.LowAt, own.VoltsLow)
	}
	if step.Reading == nil {
		step.Expect, step.Rests = unsolved, ""
		return step, true
	}
	step.Joint = m.jointOf(m.feedOf(run, at), in, at, step.Reading)
	return step, true
}

// forbiddenWords stand in the place of a band.
const forbiddenWords = "not to be switched on"

// overVolts says that a place is not to be switched on: more volts are expected there than its tape bears, by its chips, or by its nominal voltage and
// the 15 % within which nominal voltages are meant to go together (common practice, no source) where nobody says what they bear; "" elsewhere.
func (m *maker) overVolts(at string, volts float64) string {
	tape := m.s.Tape(runOf(at))
	if tape == nil || math.IsNaN(volts) {
		return ""
	}
	bears := tape.VoltsMax.Is
	if !tape.VoltsMax.Given {
		bears = tape.Volts.Is * 1.15
	}
	if bears <= 0 || volts <= float64(bears) {
		return ""
	}
	return fmt.Sprintf(forbiddenWords+": about %.2g V would come to %s, and its tape bears %s", volts, runOf(at), short(bears.String()))
}

// overEnds says the same of the first of some places of which it is so.
func (m *maker) overEnds(ends []string, volts func(at string) float64) string {
	for _, at := range ends {
		if why := m.overVolts(at, volts(at)); why != "" {
			return why
		}
	}
	return ""
}

// runsIn is what is so within runs in a case; of sketches it is read when it is first asked for.
func (m *maker) runsIn(in string) map[string]network.Run {
	if of := m.st.Result(in).Runs; len(of) > 0 {
		return of
	}
	if m.runs[in] == nil {
		m.runs = map[string]map[string]network.Run{in: m.n.ReadRuns(m.st.Solution(in), nil, nil)}
	}
	return m.runs[in]
}

// feedOf is the cable that lands on a run nearest to one of its stations, in the same piece of the positive where there is one.
func (m *maker) feedOf(run, station string) (cable string) {
	at, best := m.markOf(run, station), math.Inf(1)
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind != scheme.StationRef || ref.Element != run {
				continue
			}
			there := m.markOf(run, ref.String())
			far := math.Abs(there - at)
			for _, p := range m.pieces(run, scheme.Plus)[1:] {
				if cut := float64(p.from); cut > min(at, there) && cut < max(at, there) {
					far += float64(m.s.Runs[run].Count) // beyond a cut
				}
			}
			if far < best {
				cable, best = id, far
			}
		}
	}
	return cable
}

// markOf is the mark of a station by its name, a little before or after it where there is a cut.
func (m *maker) markOf(run, station string) float64 {
	const side = 0.25
	switch _, name, _ := strings.Cut(station, "@"); name {
	case "start":
		return 0
	case "end":
		return float64(m.s.Runs[run].Count)
	default:
		mark, _ := strconv.Atoi(strings.Trim(name, "px-"))
		switch {
		case strings.HasSuffix(name, "-"):
			return float64(mark) - side
		case slices.ContainsFunc(m.s.Runs[run].Cuts, func(c scheme.Cut) bool { return c.At.Mark == mark }):
			return float64(mark) + side
		}
		return float64(mark)
	}
}
