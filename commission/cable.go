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
		ends := []string{c.From.String(), c.To.String()}
		k := near(c)
		w.Rows = append(w.Rows, m.cored(id, name, ends[k]+" to "+ends[1-k]))
	}
	return w
}
