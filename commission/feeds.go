package commission

import (
	"fmt"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Feeds under load, in the fullest state.

// feeds is, in the fullest state, the volts where each feed lands, with what a bad joint in it would do, and the milliohms of its cores under load.
func (m *maker) feeds(l lit) (steps []Step) {
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
		if c.Poles() == 2 {
			steps = append(steps, m.landing(l, id, station))
		}
		steps = append(steps, m.cores(l, id)...)
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
func (m *maker) landing(l lit, id, station string) Step {
	step := Step{Do: "Volts where " + id + " lands", Between: poles(station), State: l.state(), About: []string{id, runOf(station)}, Rests: restsVolts}.in("cores", id, "volts")
	step.Reading = m.bounded(l.in, voltsAt(station)).read(Volts, direct)
	over := m.overVolts(station, m.expectedIn(l.in)(station))
	switch why := m.notChosen(id); {
	case why != "":
		return step.without(why)
	case over != "":
		return step.forbidding(over)
	case step.Reading == nil:
		return step.without(unsolved)
	}
	step.Joint = m.jointOf(id, l.in, station, step.Reading)
	return step
}

// leastLoad is the current from which on the volts along a core say something about it (common practice, no source).
const leastLoad = 0.3

// cores is the milliohms of both cores of a feed under load: the volts along each over what it carries. No spread of what pixels draw is in them.
func (m *maker) cores(l lit, id string) (steps []Step) {
	c := m.s.Cables[id]
	part, ok := parts.Get[parts.Cable](m.s.Library, c.Part)
	if !ok || c.Length == nil || m.notChosen(id) != "" {
		return nil
	}
	station, _ := m.stationOf(id)
	if m.overVolts(station, m.expectedIn(l.in)(station)) != "" {
		return nil
	}
	for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
		if amps := m.coreAmps(l, id, pole); c.Pole.Has(pole) && amps.ok && amps.low >= leastLoad {
			steps = append(steps, m.core(l, id, part, pole, amps.band))
		}
	}
	return steps
}

// coreAmps is what a core of a feed carries in a state.
func (m *maker) coreAmps(l lit, id string, pole scheme.Pole) bound {
	carries := func(_ *network.Network, _ *network.Solution, r *network.Result) float64 {
		if pole == scheme.Plus {
			return float64(r.Cables[id].Plus.Mean)
		}
		return float64(r.Cables[id].Return.Mean)
	}
	if b := m.turned(l.in, carries); b.ok {
		return b
	}
	b := nowhere() // a supply may be at its limit where most flows, and least is asked
	for i, at := range slices.Concat([]*study.Study{m.st}, m.corners) {
		if r := at.Result(l.in); r != nil && r.Found() && (i == 0 || len(r.Limited) == 0) {
			b = b.with(carries(at.Network, at.Solution(l.in), r), i == 0)
		}
	}
	return b.sized()
}

// core is the milliohms of one core under load, by a meter that errs most where least flows.
func (m *maker) core(l lit, id string, part *parts.Cable, pole scheme.Pole, amps band) Step {
	c, sign := m.s.Cables[id], signOf(pole)
	step := Step{
		Do: fmt.Sprintf("%s, %s core: volts along it over its amperes by clamp", id, sign), Between: [2]string{c.From.String() + " " + sign, c.To.String() + " " + sign},
		State: l.state(), About: []string{id}, Rests: restsCores, Section: part.Area.Is,
	}.in("cores", id, sign)
	own, ends := m.warmOhms(l, id, part), m.contacts(c)
	if c.Fuse != "" && pole == scheme.Plus { // its holder, and what lies before it, stay out
		perPole := c.PerPole()
		at := holder(c)
		ends[at] = band{}
		own.low -= tailOhms(c, part, perPole)
		step.Between[at] = "fuse holder of " + id + ", cable side"
	}
	own = own.plus(ends[0]).plus(ends[1])
	errs := func(ohms float64) float64 {
		return direct.error(ohms*amps.low)/amps.low + ohms*clamped.error(amps.low)/amps.low
	}
	step.Reading = &Reading{Kind: Ohms, Is: own.is, Low: max(own.low-errs(own.low), 0), High: own.high + errs(own.high)}
	step.Joint = step.Reading.blurred(float64(badJoint), errs(own.low+float64(badJoint))-errs(own.low))
	step.Expect = fmt.Sprintf("%v at %v", unit.Volt(own.is*amps.is), unit.Ampere(amps.is))
	return step
}

// warmOhms are those of one core of a feed at its solved temperature, from that of the coldest air to the hottest that it has in any corner.
func (m *maker) warmOhms(l lit, id string, part *parts.Cable) band {
	c := m.s.Cables[id]
	perPole := c.PerPole()
	own := m.st.Result(l.in).Cables[id].Celsius
	hottest := own
	for _, corner := range m.corners {
		if other := corner.Result(l.in); other.Found() {
			hottest = max(hottest, other.Cables[id].Celsius)
		}
	}
	expected := m.factorOf(own)
	return coreOhms(part, float64(*c.Length)/float64(perPole), expected, min(m.factorOf(m.s.Coldest()), expected), m.factorOf(hottest))
}

const restsCores = "resistance of the core, from that of its section in copper (IEC 60028) to what IEC 60228 allows, at the coldest air to its solved temperature; length ±3 %, and 0.3 m less where a fuse holder is in it (common practice, no source); contacts at both ends of their spread, from next to nothing to twice what is stated where it has none (common practice, no source), terminals up to 0.67 mΩ, 0.91 mΩ at 1.5 mm², 2.67 mΩ at the thinnest (IEC 60947-7-1); volts and clamp. What pixels draw is in it only as far as meters err more where little flows"

// coreSheet is the feeds in the fullest state.
func (m *maker) coreSheet(state string, steps []Step) Worksheet {
	w := Worksheet{
		Name: "cores", Title: "Feeds, under load",
		Notes: []string{"Milliohms along a core: volts from one end of it to the other, from behind a fuse holder where there is one, over its amperes by clamp. Millivolts to expect are milliohms times amperes. Nothing is expected where less than 0.3 A may flow."},
		Columns: []Column{words("Cable"), words("Lands at"), {Head: "Volts there", Means: "the volts there", Over: state, Field: "volts", Kind: Measured, Quiet: true},
			{Head: "Along +", Means: "the milliohms along +", Over: state, Field: "+", Kind: Measured, Quiet: true}, {Head: "Along −", Means: "the milliohms along −", Over: state, Field: "−", Kind: Measured, Quiet: true}},
	}
	for _, s := range steps {
		id := s.Fill.Row
		if n := len(w.Rows); n == 0 || w.Rows[n-1].Name != id {
			at, _ := m.stationOf(id)
			w.Rows = append(w.Rows, m.row(id, id, id, at))
		}
	}
	return w
}
