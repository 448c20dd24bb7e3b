package commission

import (
	"fmt"
	"strings"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// The dead tests of data leads.

// seriesSpread is how far a resistor in a data lead is from what is stated (common practice, no source).
const seriesSpread = 0.05

// lead are the tests of a data lead once it has landed.
func (m *maker) lead(id string) (steps []Step) {
	d := m.s.Data[id]
	steps = append(steps, m.dataCore(id))
	for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
		sign := " " + signOf(pole)
		steps = append(steps, Step{
			Do: id + ": data does not meet" + sign, Between: [2]string{dataIn(d), d.To.Element + "@start" + sign}, State: stateDead, About: []string{id, d.To.Element},
			Reading: atLeast(apartOhms), Rests: restsShort, Expect: "one way round like a diode, the other open",
		}.in("leads", id, string(pole)))
	}
	if d.Power {
		steps = append(steps, Step{Do: id + ": its spare cores carry the supply past the fuses. Keep it unplugged until all fuses are in", State: stateDead, About: []string{id}})
	}
	return steps
}

// dataIn is where a data lead ends.
func dataIn(d scheme.Lead) string { return d.To.Element + " data-in" }

// dataCore is the data core of a lead, from one end to the other.
func (m *maker) dataCore(id string) Step {
	d := m.s.Data[id]
	from := "plug of " + id + ", data"
	if d.From.Kind != scheme.PortRef {
		from = d.From.Element + " data-out"
	}
	core := Step{Do: id + ": data core through", Between: [2]string{from, dataIn(d)}, State: stateDead, About: []string{id}, Expect: "continuity"}.in("leads", id, "core")
	part, known := parts.Get[parts.Cable](m.s.Library, d.Part)
	if !known || d.Length == nil {
		return core
	}
	core.Section = part.Area.Is
	if d.Buffer != nil {
		core.Expect = "none through the buffer: each side to its end"
		return core
	}
	r := float64(d.Series)
	core.Reading, core.Rests = ohms.shown(Ohms, m.leadOhms(d, part).plus(band{r, r * (1 - seriesSpread), r * (1 + seriesSpread)})), restsCore
	return core
}

const restsCore = "resistance of the core, from that of its section in copper (IEC 60028) to what IEC 60228 allows, at the coldest to the hottest air; length ±3 % (common practice, no source); the meter's own range of ohms, leads taken off; a resistor in the lead ±5 % (common practice, no source), one in the port not in it"

// leadOhms are those of one core of a data lead.
func (m *maker) leadOhms(d scheme.Lead, part *parts.Cable) band {
	cold, hot := m.factors()
	return coreOhms(part, float64(*d.Length), 1, min(cold, 1), max(hot, 1))
}

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
	step.Reading, step.Rests = ohms.shown(Ohms, m.leadOhms(d, part)), restsCore
	return step
}

// leadSheet is the data leads.
func (m *maker) leadSheet() Worksheet {
	w := Worksheet{
		Name: "leads", Title: "Data leads",
		Notes: []string{"Ground and data core by the meter's own range of ohms, its plug off the board: from the plug, or from where it lands on the run before, to its far end. What lies in the port stays out. Where at least 100 Ω is expected the ground is not joined, as drawn. Data meets neither pole: from data-in, at least 100 Ω; one way round it may look like a diode, the other open."},
		Columns: []Column{words("Lead"), {Head: "Cores", Kind: Cores}, words("From, to"), {Head: "Ground core", Over: overBare, Field: "ground", Kind: Measured, Quiet: true},
			{Head: "Data core", Over: overDead, Field: "core", Kind: Measured, Quiet: true}, {Head: "Not to +", Over: overDead, Field: "plus", Kind: Ticked, Quiet: true}, {Head: "Not to −", Over: overDead, Field: "return", Kind: Ticked, Quiet: true}},
	}
	for _, id := range scheme.IDs(m.s.Data) {
		d := m.s.Data[id]
		w.Rows = append(w.Rows, m.cored(id, id, d.From.String()+" to "+d.To.Element))
	}
	if text := m.inPorts(); text != "" {
		w.Notes = append(w.Notes, text)
	}
	return w
}

// inPorts names the fuses in the grounds of ports, which are in no reading of a lead.
func (m *maker) inPorts() string {
	ports := map[string][]string{}
	for _, id := range m.s.Senders() {
		port, ok := m.s.PortPart(m.s.Data[id].From)
		if !ok {
			continue
		}
		if fuse, ok := parts.Get[parts.Fuse](m.s.Library, port.GroundFuse); ok {
			own := Reading{Kind: Ohms, Is: float64(fuse.Resistance.Is), Low: float64(fuse.Resistance.Lower()), High: float64(fuse.Resistance.Upper())}
			text := fmt.Sprintf("%s, %s", port.GroundFuse, own.String())
			ports[text] = append(ports[text], m.s.Data[id].From.String())
		}
	}
	var list []string
	for _, text := range scheme.IDs(ports) {
		list = append(list, fmt.Sprintf("%s in %s", text, study.Listed(ports[text])))
	}
	if list == nil {
		return ""
	}
	return "In the grounds of ports, on the board and not in these readings: " + strings.Join(list, "; ") + "."
}
