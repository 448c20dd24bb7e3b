package commission

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// after is what is left once all reads well.
func (m *maker) after() Stage {
	g := Stage{Name: "Afterwards", Signed: "Measured by", Why: "Flexible copper settles under a screw. What is not written down was not measured."}
	state := "mains off and locked"
	for _, do := range []string{
		"Every screw terminal once more, at its torque; not those with springs or levers, and not tinned ends, which flow: cut those off and crimp",
		"Labels on: both ends of each cable, each fuse with its rating, each supply with its volts and what it feeds",
		"Spare fuses of each rating taped inside the box, with this sheet and the drawings of the same revision",
		"Covers on, glands tight, nothing pinched; boxes closed",
		"This sheet filled in, dated, initialled; what was outside its band, and what was done about it, on the back",
	} {
		g.Steps = append(g.Steps, Step{Do: do, State: state})
	}
	g.Steps = append(g.Steps, Step{Do: "A week later, and each year: volts of all supplies, the currents of the fullest state, the thermal look", State: "in use"})
	return g
}

// A Cutoff is what to open together so that a thing is dead: the fuses that its positive is fed by, the supplies that no fuse parts it from, and the
// data leads to unplug.
type Cutoff struct {
	Of         string
	Fuses      []string // A1.1.fuse, W1.fuse
	Supplies   []string // those that are still to be chosen among them
	Leads      []string // data leads: of runs all that bring data and a ground; of runs and boards those that carry the supply
	Powered    []string // which of these carry the supply
	Capacitors []string
}

// Isolated is how to make each run, and each board with its bars and the terminals of its ways, dead. What is still to be chosen counts as copper that
// leads, and a supply as live.
func Isolated(ctx context.Context, st *study.Study) ([]Cutoff, error) {
	joined, err := joinedWhole(ctx, st)
	if err != nil {
		return nil, fmt.Errorf("commission: %w", err)
	}
	return isolated(joined), nil
}

func isolated(joined *study.Study) (list []Cutoff) {
	s := joined.Scheme
	cut := func(id string) Cutoff {
		fed, powered := joined.Network.Isolating(id)
		return Cutoff{Of: id, Fuses: fed.Fuses, Supplies: fed.Bare, Leads: powered, Powered: powered}
	}
	for _, id := range scheme.IDs(s.Runs) {
		c := cut(id)
		leads := map[string]bool{}
		for _, lead := range c.Powered {
			leads[lead] = true
		}
		for lead, d := range s.Data {
			if d.To.Element == id || d.From.Element == id && d.From.Kind != scheme.PortRef {
				leads[lead] = true
			}
		}
		c.Leads = scheme.IDs(leads)
		for _, cap := range scheme.IDs(s.Capacitors) {
			if s.Capacitors[cap].At.Element == id {
				c.Capacitors = append(c.Capacitors, cap)
			}
		}
		list = append(list, c)
	}
	for _, id := range scheme.IDs(s.Boards) {
		list = append(list, cut(id))
	}
	return list
}

// fuseNames are fuses as people say them: A1.1, W1.
func fuseNames(fuses []string) []string {
	names := slices.Clone(fuses)
	for i := range names {
		names[i] = strings.TrimSuffix(names[i], ".fuse")
	}
	return names
}

// isolate is how to make each run dead later.
func (m *maker) isolate() Stage {
	g := Stage{
		Name: "How to isolate a run",
		Why:  "A run that several ways feed stays live when one fuse is drawn. Draw all that are named, together; then measure, for lists grow old.",
		Stop: "Do not touch what still shows a voltage.",
		Notes: []string{
			"The return stays joined, and with it the data ground: unplug the data leads too, for a live port feeds a dead tape through its data core, and a current that comes home by a data ground flows on.",
		},
	}
	g.Sheets = []Worksheet{m.isolateSheet()}
	for _, c := range isolated(m.joined) {
		step := Step{Fill: Fill{"isolate", c.Of, "dead"}, State: "in use", About: []string{c.Of}, Between: [2]string{"each piece of " + c.Of + " +", c.Of + " −"}, Reading: nothing(), Rests: restsDead}
		do := m.cutting(c)
		if _, board := m.s.Boards[c.Of]; board {
			step.Between = [2]string{c.Of + ".in and each way of " + c.Of + " +", c.Of + " −"}
		}
		step.Do = m.labelled(c.Of) + ": " + strings.Join(do, "; ")
		g.Sheets[0].Rows = append(g.Sheets[0].Rows, m.row(c.Of, c.Of, c.Of, m.label(c.Of), study.Capital(strings.Join(do, "; "))))
		g.Steps = append(g.Steps, step)
	}
	for _, b := range m.gaps {
		if b.fuse == "" {
			continue
		}
		back := m.joined.BackFed(b.out)
		if by := append(fuseNames(back.Fuses), m.openSupplies(back.Bare)...); len(by) > 0 {
			g.Steps = append(g.Steps, Step{Do: fmt.Sprintf("Behind the fuse of %s copper stays live by %s", b.name, study.Listed(by)), State: "in use, its fuse out", About: []string{b.name}})
		}
	}
	return g
}

// cutting is what to do so that a thing is dead.
func (m *maker) cutting(c Cutoff) (do []string) {
	if len(c.Fuses) > 0 {
		noun := "take out the fuse "
		if len(c.Fuses) > 1 {
			noun = "take out the fuses "
		}
		do = append(do, noun+study.Listed(fuseNames(c.Fuses)))
	}
	if len(c.Supplies) > 0 {
		do = append(do, "switch off "+study.Listed(m.openSupplies(c.Supplies))+", for no fuse lies between")
	}
	if len(c.Leads) > 0 {
		text := "unplug " + study.Listed(c.Leads)
		switch {
		case len(c.Powered) == len(c.Leads):
			text += ", which " + carry(len(c.Powered)) + " the supply"
		case len(c.Powered) > 0:
			text += "; of these " + study.Listed(c.Powered) + " " + carry(len(c.Powered)) + " the supply"
		}
		do = append(do, text)
	}
	if len(c.Capacitors) > 0 {
		do = append(do, "discharge "+study.Listed(c.Capacitors)+" through a resistor")
	}
	if len(c.Fuses)+len(c.Supplies) == 0 {
		do = append(do, "nothing feeds it")
	}
	return do
}

func carry(n int) string {
	if n == 1 {
		return "carries"
	}
	return "carry"
}

// openSupplies are supplies by name; of one that is still to be chosen it is said.
func (m *maker) openSupplies(ids []string) (names []string) {
	for _, id := range ids {
		if _, chosen := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part); !chosen {
			id += " (still to be chosen)"
		}
		names = append(names, id)
	}
	return names
}

// ends is how the ends of cables are made.
func (m *maker) ends() Stage {
	g := Stage{
		Name: "Ends of cables",
		Why:  "Most of what goes wrong later is an end that was made badly. Make them as they are wanted: near ends for the first of the dead tests, far ends for those with all landed.",
		Notes: []string{
			"Strip as the terminal's sheet says; no strand cut, none outside. Ferrules of the core's own cross-section on flexible cores under screws, crimped with the tool for them; never tin what a screw holds (common practice, no source).",
			"Torque: of the part with its basis, else by the maker's sheet.",
		},
	}
	state := "with the dead tests"
	g.Sheets = []Worksheet{m.endSheet()}
	for _, id := range scheme.IDs(m.s.Cables) {
		g.Steps = append(g.Steps, m.cableEnds(id, state)...)
	}
	for _, id := range scheme.IDs(m.s.Data) {
		d := m.s.Data[id]
		from := "by the plug of the port"
		if d.From.Kind != scheme.PortRef {
			from = "at data-out"
		}
		part, _ := parts.Get[parts.Cable](m.s.Library, d.Part)
		for _, end := range []struct{ field, at, how string }{{"from", d.From.String(), from}, {"to", d.To.String(), "at data-in, not data-out"}} {
			step := Step{Do: id + " at " + end.at, State: state, About: []string{id}, Expect: end.how + "; tension off"}.in("ends", id, end.field)
			if part != nil {
				step.Section = part.Area.Is
			}
			g.Steps = append(g.Steps, step)
		}
	}
	if wet := m.s.Site.Exposure; wet == parts.Damp || wet == parts.Outdoors || wet == parts.Immersed {
		g.Steps = append(g.Steps, m.wet(wet, state)...)
	} else if wet == "" {
		g.Steps = append(g.Steps, Step{Do: "The scheme does not say how wet the place is: settle it, for glands, drip loops and seals depend on it", State: state})
	}
	g.Steps = append(g.Steps, Step{Do: "Tension off every cable within 100 mm of where it lands: clamp, gland or tie, never the joint itself (common practice, no source)", State: state})
	return g
}

// wet is what a place that is not dry asks for.
func (m *maker) wet(exposure parts.Exposure, state string) (steps []Step) {
	list := []string{
		"Glands of the size of the sheath, tight; unused entries plugged; entries from below",
		"A drip loop before each entry, its lowest point below the gland, so that water runs off and not in",
		"Cut ends of tape sealed again to the degree that it had, and let cure before the dead tests",
	}
	if exposure != parts.Damp {
		list = append(list, "A drain or a breathing plug at the lowest point of boxes that cannot be kept dry within, as the maker of the box allows")
	}
	if exposure == parts.Immersed {
		list = append(list, "No joint under water but one that is potted and rated for it; water may creep along within a sheath: seal that too")
	}
	for _, do := range list {
		steps = append(steps, Step{Do: do + " (common practice, no source)", State: state})
	}
	return steps
}

// cableEnds is what is at the two ends of a cable.
func (m *maker) cableEnds(id, state string) (steps []Step) {
	c := m.s.Cables[id]
	part, ok := parts.Get[parts.Cable](m.s.Library, c.Part)
	for _, end := range []struct {
		field, connector string
		at               scheme.Ref
	}{{"from", c.Ends.From, c.From}, {"to", c.Ends.To, c.To}} {
		step := Step{Do: id + " at " + end.at.String(), State: state, About: []string{id}, Expect: m.cableEnd(end.at, end.connector, part)}.in("ends", id, end.field)
		if ok {
			step.Section = part.Area.Is
		} else {
			step.Expect += "; the cable is still to be chosen"
		}
		steps = append(steps, step)
	}
	return steps
}

// cableEnd is one of them.
func (m *maker) cableEnd(at scheme.Ref, connector string, part *parts.Cable) string {
	torque, named := parts.Value[unit.NewtonMetre]{}, ""
	if p, ok := parts.Get[parts.Connector](m.s.Library, connector); ok {
		torque, named = p.Torque, connector
	} else if p, ok := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[at.Element].Part); ok && at.Kind == scheme.JunctionRef {
		torque, named = p.Torque, m.s.Junctions[at.Element].Part
	}
	switch {
	case at.Kind == scheme.StationRef && named == "":
		return "soldered to the pads, tension off"
	case torque.Given:
		return named + ", " + ferrule(part) + "screws at " + torqueWords(torque)
	case named != "":
		return named + " by the maker's sheet"
	default:
		return ferrule(part) + "strip and torque by the maker's sheet"
	}
}

func ferrule(part *parts.Cable) string {
	if part != nil && (part.Class == 1 || part.Class == 2) {
		return ""
	}
	return "ferrules, "
}

// torqueWords is a torque with its spread and basis.
func torqueWords(v parts.Value[unit.NewtonMetre]) string {
	text := fmt.Sprintf("%.2g", float64(v.Is))
	if high := v.Upper(); high > v.Is {
		text += fmt.Sprintf(" to %.2g", float64(high))
	}
	return text + " Nm (" + string(v.Basis) + ")"
}

// electrician is what is asked of the licensed electrician, and where he signs.
func (m *maker) electrician() Stage {
	g := Stage{
		Name:   "For the licensed electrician",
		Signed: "Licensed electrician, for the mains side",
		Why:    "To be asked before anything is switched on. These are questions, not answers: local codes decide. The mains side is not part of this design.",
	}
	state := "mains side"
	ask := []string{
		"Supply circuit, protective device, residual-current device, means of switching off and locking, protective earth of each supply: made and tested?",
		"Inrush of all supplies on one breaker at once: does its curve bear it?",
		"Is surge protection called for, of the mains and of long lines outdoors?",
		"Is the metalwork within reach bonded, and is the output to be earthed or left floating?",
		"Are extra-low voltage and mains apart in every box and conduit, by distance or a barrier?",
	}
	switch m.s.Site.Metalwork {
	case "bonded":
		ask[3] = "The scheme takes the metalwork as bonded: is it, and is the output to be earthed at one place or left floating?"
	case "isolated":
		ask[3] = "The scheme takes the metalwork as isolated: is it so left, and may it be?"
	case "none":
		ask[3] = "The scheme knows of no metalwork within reach: is that so, and is the output to be earthed or left floating?"
	}
	if wet := m.s.Site.Exposure; wet == parts.Outdoors || wet == parts.Immersed {
		ask = append(ask, "Outdoors or in water: which zones and distances of the local code hold here?")
	}
	for _, q := range ask {
		g.Steps = append(g.Steps, Step{Do: q, State: state, About: scheme.IDs(m.s.Supplies)})
	}
	return g
}
