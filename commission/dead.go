package commission

import (
	"math"

	"farend/scheme"
	"farend/study"
)

// The dead tests. Those of rails, cables and data leads are in files of their own.

// The conditions of the tests that come first: returns that are joined would carry what is driven through one of them.
const (
	stateBare = "all fuses out, mains off and locked; each cable and lead landed at its near end alone, leads of ports unplugged"
	stateDead = "all fuses out, mains off and locked; everything landed, leads of ports unplugged"
)

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
			Do: "No short at the output of " + m.fullName(id) + ", its cables landed", Between: poles(id), State: stateDead, About: []string{id},
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

// noShort is what two poles read that do not meet.
func noShort() *Reading { return atLeast(shortOhms) }

// atLeast is a reading of ohms with a lower bound alone.
func atLeast(v float64) *Reading {
	return &Reading{Kind: Ohms, Is: math.NaN(), Low: v, High: math.Inf(1)}
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

// The conditions of the dead tests, over the columns of what is done in them.
const (
	overBare = "Far ends not landed"
	overDead = "All landed"
)
