package commission

import (
	"fmt"
	"math"
	"slices"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

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
		before[c.gap.out] = c
		var was *charged
		if k := len(c.gap.closed); k > 0 {
			was = before[c.gap.closed[k-1]]
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

// closing is the steps of one gap. was is what was live before it.
func (m *maker) closing(c, was *charged) []Step {
	state := "dark; in: " + study.Listed(append([]string{c.gap.name}, m.closedBefore(c.gap)...))
	steps := []Step{m.darkCurrent(c, state)}
	if !c.gap.fed || !c.found || m.notChosen(c.gap.name) != "" {
		return steps
	}
	for i, at := range c.ends {
		steps = append(steps, m.chargedEnd(c, at, state).in("fuses", endRow(c, i), "volts"))
	}
	behind, dead := c.beyond(was)
	if len(behind) > 0 {
		steps = append(steps, m.liveBehind(c, behind, state))
	}
	if dead {
		steps = append(steps, m.stillDead(c, state))
	}
	return steps
}

// closedBefore are the names of what must be closed before a gap, the nearest to it first.
func (m *maker) closedBefore(b gap) (names []string) {
	for _, out := range slices.Backward(b.closed) {
		if other, ok := m.gapOf(out); ok {
			names = append(names, other.name)
		}
	}
	return names
}

// What bears a current that is measured, as its row says it.
const (
	byClamp = "clamp"
	inMilli = "mA range"
	inTen   = "10 A range"
)

// darkCurrent is what flows with one gap closed and nothing lit.
func (m *maker) darkCurrent(c *charged, state string) Step {
	words, meter := study.Capital(c.gap.words()), "in place of the fuse"
	s := Step{State: state, About: []string{c.gap.name}, Rests: restsIdle, Stop: "take it out again, find out why"}.in("fuses", c.gap.name, "amps")
	if c.gap.fuse != "" {
		s.Do = fmt.Sprintf("%s: dark current, then put it in (%s)", words, m.fuseWords(c.gap.fuse))
	} else {
		s.Do, meter = words+": no fuse there; through the meter, then connect it, supply off meanwhile", "in its positive"
	}
	over := m.overEnds(c.ends, c.expected)
	switch {
	case !c.gap.fed:
		return s.without("nothing: no supply reaches it by copper, data leads apart")
	case m.notChosen(c.gap.name) != "":
		return s.without(m.notChosen(c.gap.name))
	case c.found && over != "":
		return s.forbidding(over)
	case c.found && c.amps.high > through.ranges[0].upTo:
		s.Do = words + ": put it in, more than a meter bears: by clamp"
		s.Between, s.Where, s.Rests = [2]string{"clamp on its positive"}, byClamp, "what dark pixels draw at both ends of its spread; the clamp"
		s.Reading = c.amps.read(Amps, clamped)
		return s
	}
	s.Between, s.Where = [2]string{meter}, inTen
	switch {
	case !c.found:
		return s.without(unsolved)
	case c.faint() && slices.ContainsFunc(c.ends, m.isInlet):
		return s.without("what boards on it draw themselves, which is not in the sums: note it")
	case c.faint():
		s.Where, s.Reading, s.Expect = inMilli, finely.shown(Amps, band{high: c.amps.high}), "what lies behind it is still off"
	case c.amps.high <= slightAmps:
		s.Where, s.Reading = inMilli, c.amps.read(Amps, finely)
	default:
		s.Reading = c.amps.read(Amps, through)
	}
	s.Between[0] += ", " + s.Where
	return s
}

// chargedEnd is the volts where the copper behind a gap ends.
func (m *maker) chargedEnd(c *charged, at, state string) Step {
	b := c.volts[at]
	s := Step{Do: "Volts at " + spoken(at), Where: spoken(at), Between: poles(at), State: state, About: []string{c.gap.name}, Rests: restsVolts, Reading: b.read(Volts, direct)}
	switch over := m.overVolts(at, b.is); {
	case !b.ok:
		return s.without(unsolved)
	case math.Abs(b.is) <= deadVolts && math.Abs(b.high) <= deadVolts:
		s.Reading, s.Rests = nothing(), restsDead
		s.Expect = "dead: its return is open, or another fuse lies between"
	case over != "":
		return s.forbidding(over)
	case !c.faint():
		s.Joint = s.Reading.joint(direct, -c.amps.is*float64(badJoint)) // the only feed: all it carries goes through the joint
	}
	return s
}

// liveBehind is what shows a voltage though its own fuse is out, because copper leads there from behind.
func (m *maker) liveBehind(c *charged, places []string, state string) Step {
	words := study.Listed(spokenAll(places))
	s := Step{
		Do: "Live from behind, though their own fuses are out: " + words, Where: "from behind: " + words, Between: [2]string{"each +", "each −"}, State: state, About: []string{c.gap.name},
		Reading: c.behind(places), Expect: "copper joins them beyond this fuse, as drawn", Rests: restsVolts,
	}.in("fuses", c.gap.name+" behind", "volts")
	if over := m.overEnds(slices.Concat(c.ends, places), c.expected); over != "" {
		return s.forbidding(over)
	}
	return s
}

// stillDead is what must show no voltage.
func (m *maker) stillDead(c *charged, state string) Step {
	return Step{
		Do: "Still dead: every other inlet, way, junction and landing, first those on " + neighbours(c), Between: [2]string{"each +", "each −"}, State: state, About: []string{c.gap.name},
		Reading: nothing(), Rests: restsDead, Stop: "nearly the volts of " + c.gap.name + " there are a cut that was not made, or a swapped feed",
	}.in("fuses", c.gap.name, "dead")
}

// endRow names the row of an end of the copper behind a gap; the first stands in that of the gap itself.
func endRow(c *charged, i int) string {
	if i == 0 {
		return c.gap.name
	}
	return c.gap.name + " at " + c.ends[i]
}

// fuseRows are the rows of a gap: its own, and one for each further place whose volts are read.
func (m *maker) fuseRows(c *charged, steps []Step) []Row {
	own := m.row(c.gap.name, c.gap.name, c.gap.name, m.rated(c.gap.fuse), "–", "", "")
	if before := m.closedBefore(c.gap); len(before) > 0 {
		own.Words[2] = study.Listed(before)
	}
	if part, ok := parts.Get[parts.Fuse](m.s.Library, c.gap.fuse); ok && part.Colour != "" {
		own.Words[1] += ", " + part.Colour
	}
	rows := []Row{own}
	for _, s := range steps {
		switch {
		case s.Fill.Field == "amps":
			own.Words[3] = s.Where
		case s.Fill.Field == "volts" && s.Fill.Row == own.Name:
			own.Words[4] = s.Where
		case s.Fill.Field == "volts":
			rows = append(rows, m.row(s.Fill.Row, c.gap.name, "", "", "", "", s.Where))
		}
	}
	return rows
}

// rated is the rating of a fuse in a row.
func (m *maker) rated(fuse string) string {
	if part, ok := parts.Get[parts.Fuse](m.s.Library, fuse); ok {
		return short(part.Rating.Is.String())
	}
	if fuse != "" {
		return "to be chosen"
	}
	return "no fuse"
}

// neighbours names what a cut not made would make live first: the other landings of the same runs.
func neighbours(c *charged) string {
	runs := map[string]bool{}
	for _, at := range c.ends {
		if run := runOf(at); run != "" {
			runs[run] = true
		}
	}
	if len(runs) == 0 {
		return "the ways nearest to " + c.gap.name
	}
	return study.Listed(scheme.IDs(runs))
}

// fuseWords is a fuse by its part: "fuse/blade-3A, 3 A, violet".
func (m *maker) fuseWords(name string) string {
	if name == "choose" {
		return "a fuse that is still to be chosen"
	}
	part, ok := parts.Get[parts.Fuse](m.s.Library, name)
	switch {
	case !ok:
		return name
	case part.Colour != "":
		return name + ", " + short(part.Rating.Is.String()) + ", " + part.Colour
	}
	return name + ", " + short(part.Rating.Is.String())
}

// fuseSheet is the fuses, one by one.
func (m *maker) fuseSheet() Worksheet {
	return Worksheet{
		Name: "fuses", Title: "One by one", Warning: "For each row: " + drawn + " " + "That is: meter across the empty holder, supply on, read, supply off; fuse in its place, supply on, volts; supply off, fuse out.",
		Notes: []string{
			"Across: what of the meter bears it. Where the current is not that which is expected take the fuse out again and find out why.",
			"Rest dead: all that lies behind no fuse that is in, at every inlet, way, junction and landing, at most 0.5 V; look first at the other feeds of the same run, for nearly the full volts there are a cut that was not made, or a swapped feed.",
		},
		Columns: []Column{words("Fuse"), words("Its rating"), words("In before it"), {Head: "Dark current", Field: "amps", Kind: Measured}, words("Across"),
			words("Volts at"), {Head: "Volts", Means: "the volts where its copper ends", Field: "volts", Kind: Measured}, {Head: "Rest dead", Field: "dead", Kind: Ticked, Quiet: true}},
	}
}

// drawn is how fuses are put in and taken out. Nobody draws them live, for an arc burns the hand and the holder.
const drawn = "supply off and seen dead, fuse (or meter) in or out, supply on, measure: never a fuse in or out while its supply is on (common practice, no source)."
