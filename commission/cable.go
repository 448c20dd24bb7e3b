package commission

import (
	"fmt"

	"farend/conductor"
	"farend/parts"
	"farend/scheme"
)

// The dead tests of cables.

// landedWell is the polarity of a cable once both its ends have landed.
func (m *maker) landedWell(id string) Step {
	c := m.s.Cables[id]
	step := Step{Do: id + ", both ends landed: + through to +, − to −, + not to −", Between: [2]string{c.From.String(), c.To.String()}, State: stateDead, About: []string{id}, Expect: "as marked"}
	if c.Poles() == 1 {
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

// A cableEnd is an end of a cable: where it lands, and its connector, "" where it has none.
type cableEnd struct {
	at        scheme.Ref
	connector string
}

// endsOf are both, from on first.
func endsOf(c scheme.Cable) [2]cableEnd {
	return [2]cableEnd{{c.From, c.Ends.From}, {c.To, c.Ends.To}}
}

// loop is the milliohms of a cable of which one end has landed, which say polarity and continuity too.
func (m *maker) loop(id string) Step {
	c := m.s.Cables[id]
	what := "+ to +, − to −, not crossed; milliohms of both cores together"
	if c.Poles() == 1 {
		what = "one core, " + string(c.Pole) + ", the test lead taken off"
	}
	if c.Fuse != "" {
		what += ", + without its fuse holder"
	}
	step := Step{Do: id + ": " + what, State: stateBare, Between: [2]string{endsOf(c)[near(c)].at.String(), "far end of " + id}, About: []string{id}, Rests: restsLoop}.in("cables", id, "loop")
	part, ok := parts.Get[parts.Cable](m.s.Library, c.Part)
	if !ok || c.Length == nil {
		return step.without("continuity alone: the cable is still to be chosen")
	}
	step.Section = part.Area.Is
	step.Reading = driven.shown(Ohms, m.loopOhms(c, part))
	step.Joint = step.Reading.joint(driven, float64(badJoint))
	return step
}

// loopOhms are those of the cores of a cable, one behind the other, with the contacts at the near end, and without what lies before a fuse holder.
func (m *maker) loopOhms(c scheme.Cable, part *parts.Cable) band {
	perPole := c.PerPole()
	cold, hot := m.factors()
	if c.Ambient != nil {
		hot = max(hot, conductor.Factor(*c.Ambient))
	}
	touched := float64(c.Poles())
	b := coreOhms(part, float64(c.Poles())*float64(*c.Length)/float64(perPole), 1, cold, hot)
	if c.Fuse != "" && holder(c) == near(c) {
		touched-- // what is before the fuse holder stays out
	}
	b = b.plus(m.contacts(c)[near(c)].times(touched))
	if c.Fuse != "" {
		b.low -= tailOhms(c, part, perPole)
	}
	return band{b.is, min(b.low, b.is), max(b.high, b.is)}
}

// cableSheet is the cables.
func (m *maker) cableSheet() Worksheet {
	w := Worksheet{
		Name: "cables", Title: "Cables",
		Notes: []string{
			"Milliohms, + to + and − to −, not crossed, of both cores together (of the one where the cable has one pole alone), from the end that is named first; where a fuse holder is in the core it stays out: from behind it.",
			"Once both ends have landed: + through to +, − to −, + not to −.",
		},
		Columns: []Column{words("Cable"), {Head: "Cores", Kind: Cores}, words("From, to"), {Head: "Both cores", Means: "the milliohms of the cores", Over: overBare, Field: "loop", Kind: Measured}, {Head: "Polarity", Over: overDead, Field: "landed", Kind: Ticked, Quiet: true}},
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		name := id
		if c.Fuse != "" {
			name += ", fused"
		}
		switch {
		case !c.Pole.Has(scheme.Return):
			name += ", + alone"
		case !c.Pole.Has(scheme.Plus):
			name += ", − alone"
		}
		ends, k := endsOf(c), near(c)
		w.Rows = append(w.Rows, m.cored(id, name, ends[k].at.String()+" to "+ends[1-k].at.String()))
	}
	return w
}
