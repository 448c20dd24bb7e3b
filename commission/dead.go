package commission

import (
	"fmt"
	"math"
	"slices"

	"farend/conductor"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// The conditions of the tests that come first: returns that are joined would carry what is driven through one of them.
const (
	stateBare = "all fuses out, mains off and locked; each cable and lead landed at its near end alone, leads of ports unplugged"
	stateDead = "all fuses out, mains off and locked; everything landed, leads of ports unplugged"
)

// before is what one needs, and what must be so, before anything is measured.
func (m *maker) before() Stage {
	g := Stage{
		Name:  "Before you begin",
		Why:   "Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. Rings and bracelets off. Local codes and licensed electricians come before this sheet; whatever concerns the mains is theirs.",
		Rests: true,
		Stop:  "Do not begin while the sheet says of anything that it is still to be chosen, or while a finding of the design is a danger, or of those that guard against harm one fails or is unknown.",
	}
	state := "before the first test"
	for _, do := range []string{
		"Have this sheet, the drawings and the findings of the same revision at hand",
		"Mains side made, tested and signed by a licensed electrician; supplies switched off and locked against switching on",
		"Meter of 6000 counts, category CAT II 300 V or better (CAT III for whoever works on the mains); leads sound, fuses of the meter sound (common practice, no source)",
		"Clamp for direct current, zeroed before each reading, or a shunt with its value written on it",
		"Supply for 1 A with adjustable limit, no more than 3 V, to measure milliohms (common practice, no source)",
		"Thermometer with a contact probe; one that reads infrared errs on bare metal",
		"Spare fuses of each rating; a short lead to link cores, a long one with clips to read volts along them",
		"Note make and number of each instrument on the back of this page",
		"Labels on every cable end, fuse and supply as on the drawings",
		"Control system off, data unplugged at every port, until the sheet asks for data",
	} {
		g.Steps = append(g.Steps, Step{Do: do, State: state})
	}
	for _, open := range m.st.Open() {
		g.Steps = append(g.Steps, Step{Do: open + " is still to be chosen: what rests on it is missing from this sheet", State: state, Stop: "choose it, and make this sheet anew"})
	}
	g.Notes = []string{
		"Meters: " + accuracies + ".",
		"A landing is where a cable lands on a run: E1@px29 is just before pixel 29 of E1, counted from 0 at data-in; at a cut it is said which side of it is meant.",
	}
	return g
}

// dead is the tests before anything is live.
func (m *maker) dead() Stage {
	g := Stage{
		Name: "Dead tests",
		Why: "Everything that these find costs a screw now, and a burnt tape later. No spread of the tape is in the milliohms of a feed: that of a short and thick one gives a bad joint away, in that of a long one it may drown in the spread of the copper, " +
			"and each row or table says whether it would be seen.",
		Stop: "Do not go on while a pole meets another, the data or metalwork, while a cable is crossed, for that destroys tape, or while a reading is outside its band.",
		Notes: []string{
			"Take out every fuse and unplug every data lead at its port. Milliohms come before the far ends land, for what is joined already would carry a share of the 1 A. A test of insulation at 250 V or 500 V would destroy chips and supplies: a meter's own few volts only.",
			"Milliohms: link the far ends and drive 1 A through both cores for a few seconds. Read the volts along each core, from the near terminal to the far end of the core, by a long lead that carries nothing, and add the two: 1 mV is 1 mΩ, and the link does not count.",
		},
	}
	g.Sheets = []Worksheet{m.railSheet(), m.leadSheet(), m.cableSheet()}
	g.Steps = append(g.Steps, m.emptied()...)
	for _, id := range scheme.IDs(m.s.Runs) {
		g.Steps = append(g.Steps, m.rails(id)...)
	}
	for _, id := range scheme.IDs(m.s.Data) {
		g.Steps = append(g.Steps, m.ground(id))
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		g.Steps = append(g.Steps, m.loop(id))
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		g.Steps = append(g.Steps, m.landedWell(id))
	}
	for _, id := range scheme.IDs(m.s.Runs) {
		g.Steps = append(g.Steps, m.apart(id)...)
	}
	for _, id := range scheme.IDs(m.s.Data) {
		g.Steps = append(g.Steps, m.lead(id)...)
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		g.Steps = append(g.Steps, Step{
			Do: "No short at the output of " + m.labelled(id) + ", its cables landed", Between: poles(id), State: stateDead, About: []string{id},
			Expect: "ohms that change while the capacitors in the supply charge, then stay", Reading: noShort(), Rests: restsShort,
		})
	}
	g.Steps = append(g.Steps, m.fitted()...)
	g.Steps = append(g.Steps, m.metalwork())
	return g
}

// emptied is that every gap is open.
func (m *maker) emptied() (steps []Step) {
	var fuses, other, about []string
	for _, b := range m.gaps {
		about = append(about, b.name)
		if b.fuse != "" {
			fuses = append(fuses, b.name)
		} else {
			other = append(other, b.words())
		}
	}
	if fuses != nil {
		steps = append(steps, Step{Do: "Every fuse out: " + study.Listed(fuses), State: stateBare, About: about})
	}
	if other != nil {
		steps = append(steps, Step{Do: "No fuse there, so off its terminal and insulated: " + study.Listed(other), State: stateBare, About: about})
	}
	return steps
}

// Limits of tests without a number of their own (common practice, no source).
const (
	shortOhms  = 10    // less than this, and steady, is a short: tape, chips and capacitors in front of a meter's few milliamperes show more
	apartOhms  = 100   // less than this across a cut is copper
	aloofOhms  = 500e3 // IEC 60364-6 asks 0.5 MΩ of extra-low voltage circuits (memory), at a voltage that chips do not bear
	meterAmps  = 1e-4  // what a meter drives into a capacitor at least
	meterVolts = 3.0   // and up to which voltage
	restsShort = "a meter's few milliamperes leave tape below the voltage at which it conducts: common practice, no source"
)

// noShort is a reading with a lower bound alone.
func noShort() *Reading { return atLeast(shortOhms) }

func atLeast(v float64) *Reading {
	return &Reading{Kind: Ohms, Is: math.NaN(), Low: v, High: math.Inf(1)}
}

// factors are those of copper in the coldest and the hottest air.
func (m *maker) factors() (cold, hot float64) {
	return conductor.Factor(m.s.Coldest()), conductor.Factor(m.s.Ambient())
}

// landedWell is the polarity of a cable once both its ends have landed.
func (m *maker) landedWell(id string) Step {
	c := m.s.Cables[id]
	step := Step{Do: id + ", both ends landed: + through to +, − to −, + not to −", Between: [2]string{c.From.String(), c.To.String()}, State: stateDead, About: []string{id}, Expect: "as marked"}
	if !c.Pole.Has(scheme.Plus) || !c.Pole.Has(scheme.Return) {
		step.Do = fmt.Sprintf("%s, both ends landed: its %s through, and not to the other pole", id, c.Pole)
	}
	if c.Fuse != "" {
		step.Do += "; from behind its fuse holder"
	}
	return step.in("cables", id, "landed")
}

// near is the end of a cable from which its cores are measured, 0 for from: not the one that lands on a run.
func near(c scheme.Cable) int {
	if c.From.Kind == scheme.StationRef && c.To.Kind != scheme.StationRef {
		return 1
	}
	return 0
}

// holder is the end of a cable at which its fuse stands, 0 for from.
func holder(c scheme.Cable) int {
	if c.FuseAt == scheme.ToEnd {
		return 1
	}
	return 0
}

// loop is the milliohms of a cable of which one end has landed, which say polarity and continuity too.
func (m *maker) loop(id string) Step {
	c := m.s.Cables[id]
	at := []scheme.Ref{c.From, c.To}[near(c)]
	step := Step{State: stateBare, Between: [2]string{at.String(), "far end of " + id}, About: []string{id}, Rests: restsLoop}.in("cables", id, "loop")
	poles, what := 2.0, "+ to +, − to −, not crossed; milliohms of both cores together"
	if !c.Pole.Has(scheme.Plus) || !c.Pole.Has(scheme.Return) {
		poles, what = 1, "one core, "+string(c.Pole)+", the test lead taken off"
	}
	if c.Fuse != "" {
		what += ", + without its fuse holder"
	}
	step.Do = id + ": " + what
	part, ok := parts.Get[parts.Cable](m.s.Library, c.Part)
	if !ok || c.Length == nil {
		step.Expect = "continuity alone: the cable is still to be chosen"
		step.Rests = ""
		return step
	}
	step.Section = part.Area.Is
	_, _, _, perPole := c.Env(m.s)
	cold, hot := m.factors()
	if c.Ambient != nil {
		hot = max(hot, conductor.Factor(*c.Ambient))
	}
	metres := poles * float64(*c.Length) / float64(perPole)
	is, low, high := float64(part.R20.Is)*metres, float64(part.R20.Lower())*metres*(1-lengthSpread)*cold, float64(part.R20.Upper())*metres*(1+lengthSpread)*hot
	r, touched := m.contacts(c)[near(c)], poles
	if c.Fuse != "" && holder(c) == near(c) {
		touched-- // what is before the fuse holder stays out
	}
	is, low, high = is+touched*r.is, low+touched*r.low, high+touched*r.high
	if c.Fuse != "" {
		low -= float64(part.R20.Lower()) * tail(c) / float64(perPole)
	}
	step.Reading = driven.shown(Ohms, is, min(low, is), max(high, is))
	step.Joint = step.Reading.joint(float64(badJoint))
	return step
}

// A contact is the resistance of an end of one core.
type contact struct{ is, low, high float64 }

// contacts are those at both ends of each core of a cable, from on first: of its connectors and junctions, else of terminals, of which only what they may
// have at most is known.
func (m *maker) contacts(c scheme.Cable) (list [2]contact) {
	for i, end := range []struct {
		connector string
		at        scheme.Ref
	}{{c.Ends.From, c.From}, {c.Ends.To, c.To}} {
		junction, landed := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[end.at.Element].Part)
		connector, plugged := parts.Get[parts.Connector](m.s.Library, end.connector)
		if plugged {
			list[i].add(connector.Resistance)
		}
		if landed && end.at.Kind == scheme.JunctionRef {
			list[i].add(junction.Resistance)
		} else if !plugged {
			list[i].high = terminalOhms(terminalOf(m.s, c))
		}
	}
	return list
}

func (c *contact) add(v parts.Value[unit.Ohm]) {
	v = touching(v)
	c.is, c.low, c.high = c.is+float64(v.Is), c.low+float64(v.Lower()), c.high+float64(v.Upper())
}

// tail is how much of a core may lie before its fuse holder, in metres (common practice, no source); no more than half of it.
func tail(c scheme.Cable) float64 { return min(0.3, float64(*c.Length)/2) }

// A piece is a stretch of one rail between its ends and cuts.
type piece struct {
	from, to int // marks
}

// pieces are those of one pole of a run.
func (m *maker) pieces(run string, pole scheme.Pole) []piece {
	r := m.s.Runs[run]
	marks := []int{0, r.Count}
	for _, cut := range r.Cuts {
		if cut.Pole.Has(pole) {
			marks = append(marks, cut.At.Mark)
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	var list []piece
	for i := range marks[1:] {
		list = append(list, piece{marks[i], marks[i+1]})
	}
	return list
}

// mark is a station of a run by its mark, before it where a cut is there.
func (m *maker) mark(run string, at int, before bool) string {
	switch count := m.s.Runs[run].Count; {
	case at == 0:
		return run + "@start"
	case at == count:
		return run + "@end"
	case before:
		return fmt.Sprintf("%s@px%d-", run, at)
	}
	return fmt.Sprintf("%s@px%d", run, at)
}

// apart are the tests of a run in which nothing may meet: one pole the other, one piece of the positive the next.
func (m *maker) apart(run string) (steps []Step) {
	about := []string{run}
	for i, p := range m.pieces(run, scheme.Plus) {
		a, b := m.mark(run, p.from, false), m.mark(run, p.to, true)
		steps = append(steps, Step{
			Do: fmt.Sprintf("%s, piece %d, %s to %s: + does not meet −", m.labelled(run), i+1, a, spoken(b)), Between: poles(m.mark(run, p.from, false)), State: stateDead, About: about,
			Reading: noShort(), Rests: restsShort, Expect: m.charging(run, p),
		}.in("rails", pieceRow(run, scheme.Plus, i), "short"))
	}
	cuts := m.pieces(run, scheme.Plus)[1:]
	for i, p := range cuts {
		step := Step{
			Do: "Positive cut at " + m.mark(run, p.from, false), Between: [2]string{atPole(m.mark(run, p.from, true), "+"), m.mark(run, p.from, false) + ", after the cut, +"}, State: stateDead, About: about,
			Reading: atLeast(apartOhms), Rests: restsShort, Expect: "open; through chips it may read anything above",
		}
		if by := m.parted.Between(m.mark(run, p.from, true), m.mark(run, p.from, false)); by != nil { // no box in the table, for its column asks for a band
			step.Reading, step.Rests = nil, ""
			step.Expect = fmt.Sprintf("joined by %s: it reads as copper. With one of them off its terminal at least %d Ω", m.ways(by), apartOhms)
			steps = append(steps, step)
			continue
		}
		steps = append(steps, step.in("rails", pieceRow(run, scheme.Plus, i), "cut"))
	}
	return steps
}

// ways are the cables and leads of a way, with the junctions at their ends: "W2, W3 (X1)".
func (m *maker) ways(by []string) string {
	junctions := map[string]bool{}
	for _, id := range by {
		for _, ref := range []scheme.Ref{m.s.Cables[id].From, m.s.Cables[id].To} {
			if ref.Kind == scheme.JunctionRef {
				junctions[ref.Element] = true
			}
		}
	}
	if len(junctions) == 0 {
		return study.Listed(by)
	}
	return study.Listed(by) + " (" + study.Listed(scheme.IDs(junctions)) + ")"
}

// rails are the milliohms of the rails of a run between cuts.
func (m *maker) rails(run string) (steps []Step) {
	tape := m.s.Tape(run)
	if tape == nil {
		return []Step{{Do: run + ": its tape is not known, so its rails are not either", State: stateBare, About: []string{run}}}
	}
	for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
		for i, p := range m.pieces(run, pole) {
			steps = append(steps, m.railPiece(run, pole, p, tape).in("rails", pieceRow(run, pole, i), "rail"))
		}
	}
	return steps
}

// railPiece is the milliohms of one rail between its cuts.
func (m *maker) railPiece(run string, pole scheme.Pole, p piece, tape *parts.Tape) Step {
	rail, sign := tape.Rail, "+"
	if pole == scheme.Return {
		rail, sign = tape.RailReturn.Or(tape.Rail), "−"
	}
	metres := float64(p.to-p.from) / float64(tape.Pixels.Is)
	joints := float64(m.joints(run, tape, p))
	cold, hot := m.factors()
	a, b := m.mark(run, p.from, false), m.mark(run, p.to, true)
	r := driven.shown(Ohms, float64(rail.Is)*metres+joints*float64(tape.Joint.Is),
		(float64(rail.Lower())*metres+joints*float64(tape.Joint.Lower()))*min(cold, 1),
		(float64(rail.Upper())*metres+joints*float64(tape.Joint.Upper()))*max(hot, 1))
	return Step{
		Do: fmt.Sprintf("%s, %s rail, %v", run, pole, unit.Metre(metres)), Between: [2]string{atPole(a, sign), atPole(b, sign)}, State: stateBare, About: []string{run},
		Reading: r, Joint: r.joint(float64(badJoint)), Rests: restsRail,
	}
}

// joints is how many factory and soldered joints a piece of a run has in each rail; one at the end of a piece counts to it, as it does in the network.
func (m *maker) joints(run string, tape *parts.Tape, p piece) (count int) {
	for _, x := range network.JointPlaces(m.s.Runs[run], tape) {
		if x > float64(p.from)+1e-9 && x <= float64(p.to)+1e-9 {
			count++
		}
	}
	return count
}

// charging says what a meter shows of a piece of tape between its poles: how long it rises, at most.
func (m *maker) charging(run string, p piece) string {
	farads, caps := m.heldTogether(run, p)
	if farads == 0 {
		return "rises, then stays; chips may look like a diode"
	}
	return fmt.Sprintf("rises for up to %s while %v of tape%s charges, then stays; chips may look like a diode", rising(farads), unit.Farad(farads), caps)
}

// chargeWords is the same in a few words.
func (m *maker) chargeWords(run string, p piece) string {
	farads, caps := m.heldTogether(run, p)
	if farads == 0 {
		return "not known"
	}
	return fmt.Sprintf("%s, %v%s", rising(farads), unit.Farad(farads), caps)
}

// rising is how long a meter takes to charge so much, at most.
func rising(farads float64) string {
	return short(max(unit.Second(farads*meterVolts/meterAmps), 1).String())
}

// heldTogether is the capacitance of a piece of tape and of all pieces that its positive meets while every gap is open, and what it is of in words.
func (m *maker) heldTogether(run string, p piece) (farads float64, caps string) {
	farads, caps = m.held(run, p)
	at, others := m.mark(run, p.from, false), 0
	for _, other := range scheme.IDs(m.s.Runs) {
		for _, q := range m.pieces(other, scheme.Plus) {
			if other == run && q == p || !m.parted.Meet(at, m.mark(other, q.from, false)) {
				continue
			}
			more, besides := m.held(other, q)
			farads, caps, others = farads+more, caps+besides, others+1
		}
	}
	if others > 0 {
		caps += fmt.Sprintf(" (with %s joined to it)", study.Counted(others, "piece"))
	}
	return farads, caps
}

// held is the capacitance of a piece of tape, and the capacitors on it in words.
func (m *maker) held(run string, p piece) (farads float64, caps string) {
	if tape := m.s.Tape(run); tape != nil {
		farads = float64(p.to-p.from) * float64(tape.Capacitance.Upper())
	}
	for _, id := range scheme.IDs(m.s.Capacitors) {
		c := m.s.Capacitors[id]
		if part, ok := parts.Get[parts.Capacitor](m.s.Library, c.Part); ok && c.At.Element == run && m.within(run, c.At.Station, p) {
			farads += float64(part.Capacitance.Upper())
			caps += " and " + id
		}
	}
	return farads, caps
}

// within reports whether a station of a run is on a piece: at a cut it is on the one before it or the one after it, and not on both.
func (m *maker) within(run string, at scheme.Station, p piece) bool {
	switch at.Mark {
	case p.from:
		return !at.Before || p.from == 0
	case p.to:
		return at.Before || p.to == m.s.Runs[run].Count
	}
	return at.Mark > p.from && at.Mark < p.to
}

// seriesSpread is how far a resistor in a data lead is from what is stated (common practice, no source).
const seriesSpread = 0.05

// lead are the tests of a data lead.
func (m *maker) lead(id string) (steps []Step) {
	d := m.s.Data[id]
	about := []string{id}
	to := d.To.Element + " data-in"
	from := "plug of " + id + ", data"
	if d.From.Kind != scheme.PortRef {
		from = d.From.Element + " data-out"
	}
	part, known := parts.Get[parts.Cable](m.s.Library, d.Part)
	core := Step{Do: id + ": data core through", Between: [2]string{from, to}, State: stateDead, About: about, Expect: "continuity"}.in("leads", id, "core")
	cold, hot := m.factors()
	if known && d.Length != nil {
		core.Section = part.Area.Is
		r := float64(d.Series)
		if d.Buffer != nil {
			core.Expect = "none through the buffer: each side to its end"
		} else {
			metres := float64(*d.Length)
			core.Reading = ohms.shown(Ohms, float64(part.R20.Is)*metres+r, float64(part.R20.Lower())*metres*(1-lengthSpread)*min(cold, 1)+r*(1-seriesSpread), float64(part.R20.Upper())*metres*(1+lengthSpread)*max(hot, 1)+r*(1+seriesSpread))
			core.Rests = restsCore
		}
	}
	steps = append(steps, core)
	run := d.To.Element
	for i, sign := range []string{" +", " −"} {
		steps = append(steps, Step{
			Do: id + ": data does not meet" + sign, Between: [2]string{to, run + "@start" + sign}, State: stateDead, About: []string{id, run}, Reading: atLeast(apartOhms), Rests: restsShort,
			Expect: "one way round like a diode, the other open",
		}.in("leads", id, []string{"plus", "return"}[i]))
	}
	if d.Power {
		steps = append(steps, Step{Do: id + ": its spare cores carry the supply past the fuses. Keep it unplugged until all fuses are in", State: stateDead, About: about})
	}
	return steps
}

const restsCore = "resistance of the core at 20 °C, at the coldest to the hottest air; length ±3 % (common practice, no source); the meter's own range of ohms, leads taken off; a resistor in the lead ±5 % (common practice, no source), one in the port not in it"

// ground is whether the ground of a data lead is joined as the scheme has it.
func (m *maker) ground(id string) Step {
	d := m.s.Data[id]
	part, _ := parts.Get[parts.Cable](m.s.Library, d.Part)
	from := "plug of " + id + ", ground"
	if d.From.Kind != scheme.PortRef {
		from = d.From.Element + "@end −"
	}
	step := Step{Between: [2]string{from, "far end of " + id + ", ground"}, State: stateBare, About: []string{id}}.in("leads", id, "ground")
	if d.Ground == scheme.OpenGround {
		step.Do, step.Expect = id+": ground core not joined, as drawn", "open"
		step.Reading, step.Rests = atLeast(apartOhms), restsShort
		return step
	}
	step.Do, step.Expect = id+": ground core through", "continuity"
	if part == nil || d.Length == nil {
		return step
	}
	cold, hot := m.factors()
	metres := float64(*d.Length)
	is, low, high := float64(part.R20.Is)*metres, float64(part.R20.Lower())*metres*(1-lengthSpread)*min(cold, 1), float64(part.R20.Upper())*metres*(1+lengthSpread)*max(hot, 1)
	step.Reading, step.Rests = ohms.shown(Ohms, is, low, high), restsCore
	return step
}

// fitted is what sits on cables and runs besides.
func (m *maker) fitted() (steps []Step) {
	for _, id := range scheme.IDs(m.s.Capacitors) {
		c := m.s.Capacitors[id]
		steps = append(steps, Step{Do: id + ": polarity as it is marked", Between: poles(c.At.String()), State: stateDead, About: []string{id}, Expect: "the wrong way round it bursts"})
	}
	for _, id := range scheme.IDs(m.s.Contactors) {
		c := m.s.Contactors[id]
		steps = append(steps, Step{Do: id + ": contact open at rest, in the positive of " + c.In, Between: [2]string{id + " in", id + " out"}, State: stateDead, About: []string{id, c.In}, Reading: atLeast(apartOhms), Rests: restsShort, Stop: "bridge it for the milliohms of " + c.In})
	}
	return steps
}

// metalwork is the poles against metalwork.
func (m *maker) metalwork() Step {
	step := Step{Do: "Neither pole of any run, cable or supply meets metalwork", Between: [2]string{"each +, each −", "metalwork"}, State: stateDead, Reading: atLeast(aloofOhms), Rests: restsMetal}
	switch m.s.Site.Metalwork {
	case "none":
		step.Do, step.Expect = "No metalwork in reach, as the scheme says: look again", "nothing to measure"
		step.Between, step.Reading, step.Rests = [2]string{}, nil, ""
	case "isolated":
		step.Expect = "open: the metalwork is isolated. Were it bonded, a stray positive would find a way home"
	case "bonded":
		step.Expect = "+ open. − open too, or through at the one place where the electrician has earthed the output on purpose, and then nowhere else"
	default:
		step.Expect = "+ open; − open too unless earthed on purpose. The scheme does not say whether metalwork is bonded: it is taken to be"
	}
	return step
}

const restsMetal = "0.5 MΩ of IEC 60364-6 for extra-low voltage circuits (memory), by the meter's own volts"
