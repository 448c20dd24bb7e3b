package commission

import (
	"fmt"
	"math"
	"slices"
	"strings"

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

// fuseWords is a fuse by its part: "fuse/blade-3A (violet)".
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
