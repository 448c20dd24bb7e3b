package commission

import (
	"fmt"

	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

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
		g.Steps = append(g.Steps, m.leadEnds(id, state)...)
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
	for i, end := range endsOf(c) {
		step := Step{Do: id + " at " + end.at.String(), State: state, About: []string{id}, Expect: m.endWords(end, part)}.in("ends", id, []string{"from", "to"}[i])
		if ok {
			step.Section = part.Area.Is
		} else {
			step.Expect += "; the cable is still to be chosen"
		}
		steps = append(steps, step)
	}
	return steps
}

// leadEnds is what is at the two ends of a data lead.
func (m *maker) leadEnds(id, state string) (steps []Step) {
	d := m.s.Data[id]
	from := "by the plug of the port"
	if d.From.Kind != scheme.PortRef {
		from = "at data-out"
	}
	part, ok := parts.Get[parts.Cable](m.s.Library, d.Part)
	for _, end := range []struct{ field, at, how string }{{"from", d.From.String(), from}, {"to", d.To.String(), "at data-in, not data-out"}} {
		step := Step{Do: id + " at " + end.at, State: state, About: []string{id}, Expect: end.how + "; tension off"}.in("ends", id, end.field)
		if ok {
			step.Section = part.Area.Is
		}
		steps = append(steps, step)
	}
	return steps
}

// endWords is how an end of a cable is made.
func (m *maker) endWords(end cableEnd, part *parts.Cable) string {
	torque, named := parts.Value[unit.NewtonMetre]{}, ""
	junction := m.s.Junctions[end.at.Element].Part
	if p, ok := parts.Get[parts.Connector](m.s.Library, end.connector); ok {
		torque, named = p.Torque, end.connector
	} else if p, ok := parts.Get[parts.Junction](m.s.Library, junction); ok && end.at.Kind == scheme.JunctionRef {
		torque, named = p.Torque, junction
	}
	switch {
	case end.at.Kind == scheme.StationRef && named == "":
		return "soldered to the pads, tension off"
	case torque.Given:
		return named + ", " + ferrule(part) + "screws at " + torqueWords(torque)
	case named != "":
		return named + " by the maker's sheet"
	default:
		return ferrule(part) + "strip and torque by the maker's sheet"
	}
}

// ferrule is said of cores of fine strands, and where nobody says how fine; those of IEC 60228 classes 1 and 2 go under a screw as they are.
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

// endSheet is the ends of cables and leads.
func (m *maker) endSheet() Worksheet {
	w := Worksheet{Name: "ends", Title: "One by one", Columns: []Column{
		words("Cable"), {Head: "Cores", Kind: Cores}, words("One end"), {Head: "How", Field: "from", Kind: How}, {Head: "Done", Field: "from", Kind: Ticked, Quiet: true},
		words("Other end"), {Head: "How", Field: "to", Kind: How}, {Head: "Done", Field: "to", Kind: Ticked, Quiet: true}}}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		w.Rows = append(w.Rows, m.cored(id, id, c.From.String(), c.To.String()))
	}
	for _, id := range scheme.IDs(m.s.Data) {
		d := m.s.Data[id]
		w.Rows = append(w.Rows, m.cored(id, id, d.From.String(), d.To.String()))
	}
	return w
}
