package commission

import (
	"cmp"
	"fmt"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A lit is a lighting state, with what all supplies give in it.
type lit struct {
	name, in string
	watts    float64
}

// state is the condition of the installation in it.
func (l lit) state() string { return "lit, " + l.name }

// orderStates lists the states, that in which least flows first.
func (m *maker) orderStates() {
	for _, name := range m.s.StateNames() {
		l := lit{name: name, in: "state/" + name}
		if r := m.st.Result(l.in); r != nil && r.Found() {
			for _, id := range scheme.IDs(r.Supplies) {
				l.watts += float64(r.Supplies[id].Volts) * float64(r.Supplies[id].Amps.Mean) // of several voltages watts compare
			}
		}
		m.lit = append(m.lit, l)
	}
	slices.SortStableFunc(m.lit, func(a, b lit) int { return cmp.Compare(a.watts, b.watts) })
}

// fullest is the state in which most flows; it is not ok where there is none.
func (m *maker) fullest() (lit, bool) {
	if len(m.lit) == 0 {
		return lit{}, false
	}
	return m.lit[len(m.lit)-1], true
}

// likes is how to find what a wide band hides.
const likes = "Tapes differ widely from maker to maker, and little along one reel: ways of which the same is expected read alike. One that is off its likes by more than a tenth hides something, though it is within its band (common practice, no source)."

// states is the lighting states, one after the other.
func (m *maker) states() Stage {
	last, ok := m.fullest()
	if !ok {
		return Stage{
			Name: "Lit", Live: true, Why: "The scheme has no lighting state, so nothing that is lit can be expected.",
			Steps: []Step{{Do: "Write the states into the scheme, and make this sheet anew", State: "lit"}},
		}
	}
	var names []string
	for _, l := range m.lit {
		names = append(names, l.name)
	}
	g := Stage{
		Name:  "Lit: " + study.Listed(names),
		Why:   "States follow each other in rising load: what is wrong shows while little flows.",
		Live:  true,
		Stop:  "Do not go on while a supply, way or voltage is outside its band, while anything smells or is too hot to hold, or while lights flicker.",
		Notes: []string{"One state after the other, from left to right: supplies and ways, then runs, then by eye, before the next. Let each stand for a minute before the first reading: copper and pixels warm up. A clamp shows the mean, which is what is expected. " + ownDraw, likes},
	}
	if len(m.s.Cables) > mostSpoilt {
		g.Notes = append(g.Notes, fmt.Sprintf("Of more than %d cables it is not solved what a bad joint in each does to the volts: the milliohms of the cores find it.", mostSpoilt))
	}
	g.Steps = m.ports(m.lit[0].state())
	lowest := map[string][]Step{}
	for i, l := range m.lit {
		lowest[l.name] = m.lowestOfAll(l.in, l.state())
		g.Steps = append(g.Steps, m.abreast(i, l, lowest[l.name])...)
	}
	feeds := m.feeds(last)
	g.Steps = append(g.Steps, feeds...)
	g.Sheets = append([]Worksheet{m.portSheet()}, m.litSheets(lowest)...)
	g.Sheets = append(g.Sheets, m.coreSheet(last.state(), feeds))
	return g
}

// mostAbreast is how many states stand side by side in a worksheet.
const mostAbreast = 3

// litSheet names a worksheet of the i-th state.
func litSheet(kind string, i int) string { return fmt.Sprintf("%s %d", kind, i/mostAbreast+1) }

// abreast are the steps of the i-th state whose fields stand beside those of other states.
func (m *maker) abreast(i int, l lit, lowest []Step) (steps []Step) {
	for _, s := range m.atSupplies(l.in, l.state()) {
		steps = append(steps, s.in(litSheet("feeds", i), s.Fill.Row+" "+s.Fill.Field, l.name))
	}
	for _, b := range m.gaps {
		steps = append(steps, m.gapLit(b, l).in(litSheet("feeds", i), b.name, l.name))
	}
	for _, s := range lowest {
		steps = append(steps, s.in(litSheet("runs", i), s.Fill.Row+" "+s.Where, l.name))
	}
	for _, run := range scheme.IDs(m.s.Runs) {
		steps = append(steps, m.eye(l, run).in(litSheet("eye", i), run, l.name))
	}
	return steps
}

// litSheets are the worksheets of the states: supplies and ways, runs, what the eye sees, states side by side.
func (m *maker) litSheets(lowest map[string][]Step) (sheets []Worksheet) {
	for i := 0; i < len(m.lit); i += mostAbreast {
		states := m.lit[i:min(i+mostAbreast, len(m.lit))]
		sheets = append(sheets, m.feedSheet(litSheet("feeds", i), states), m.lowestOfStates(litSheet("runs", i), states, lowest), m.eyeSheet(litSheet("eye", i), states))
	}
	return sheets
}

// feedSheet is what supplies give, and ways and fused cables carry, in some states.
func (m *maker) feedSheet(name string, states []lit) Worksheet {
	w := Worksheet{Name: name, Title: "Supplies, and what ways and fused cables carry", Notes: []string{"By clamp on their +; of a supply on whatever leaves +."}, Columns: []Column{words("Of"), words("Volts, or rating")}}
	for _, l := range states {
		w.Columns = append(w.Columns, Column{Head: "Expected", Over: l.name, Field: l.name, Kind: Measured, Quiet: true})
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		w.Rows = append(w.Rows, m.row(id+" volts", id, id, "volts"), m.row(id+" amps", id, id, "amperes"))
	}
	for _, b := range m.gaps {
		w.Rows = append(w.Rows, m.row(b.name, b.name, b.name, m.rated(b.fuse)))
	}
	return w
}

// gapLit is what a way or fused cable carries in a state.
func (m *maker) gapLit(b gap, l lit) Step {
	step := Step{Do: study.Capital(b.words()) + ": what it carries", Between: [2]string{"clamp on + of " + b.name}, State: l.state(), About: []string{b.name}, Rests: restsAmps}
	if m.shared.outs[b.out] {
		step.Rests = restsShared
	}
	over := ""
	if r := m.st.Result(l.in); r != nil && r.Found() {
		over = m.overEnds(m.farEnds(b.name), m.expectedIn(l.in))
	}
	step.Reading = m.boundedShare(l.in, b.out, gapAmps(b)).read(Amps, clamped)
	switch why := m.notChosen(b.name); {
	case why != "":
		return step.without(why)
	case over != "":
		return step.forbidding(over)
	case step.Reading == nil:
		return step.without(unsolved)
	}
	if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok && part.Rating.Is > 0 && step.Reading.High > 0 {
		step.Expect = fmt.Sprintf("%v of its %s", unit.Ratio(step.Reading.Is/float64(part.Rating.Is)), short(part.Rating.Is.String()))
	}
	return step
}

// ports is whether data arrives, port by port.
func (m *maker) ports(state string) (steps []Step) {
	for _, p := range m.st.Ports() {
		text := fmt.Sprintf("%s, by %s: light the first and the last pixel of each run red, green, blue", p.ID, p.Lead)
		expect := fmt.Sprintf("%d pixels, through %s", p.Pixels, study.Listed(p.Runs))
		switch {
		case p.Pixels == 0:
			expect = "how many pixels it has is not known yet"
		case p.Known && p.Aimed:
			expect += fmt.Sprintf("; a frame takes %v, %v are possible, %s are asked for", p.Frame, p.Rate, short(m.s.Aims.FrameRate.String()))
		case p.Known:
			expect += fmt.Sprintf("; a frame takes %v, %v are possible", p.Frame, p.Rate)
		}
		steps = append(steps, Step{Do: text, State: state, Expect: expect, About: append([]string{p.Lead}, p.Runs...), Stop: "a wrong colour is a wrong order of bytes; a dead rest of a run a data joint"}.in("ports", p.ID, "seen"))
	}
	return steps
}

// portSheet is the ports.
func (m *maker) portSheet() Worksheet {
	w := Worksheet{
		Name: "ports", Title: "Data, port by port",
		Notes:   []string{"Light the first and the last pixel of each run red, green, blue. A wrong colour is a wrong order of bytes; a dead rest of a run a data joint."},
		Columns: []Column{words("Port"), words("Lead"), words("Runs"), words("Pixels"), words("A frame takes"), words("Rate possible"), words("Asked for"), {Head: "Seen", Field: "seen", Kind: Ticked, Quiet: true}},
	}
	for _, p := range m.st.Ports() {
		pixels, frame, rate, asked := "not known yet", "–", "–", "–"
		if p.Pixels > 0 {
			pixels = fmt.Sprint(p.Pixels)
		}
		if p.Known {
			frame, rate = p.Frame.String(), p.Rate.String()
		}
		if p.Known && p.Aimed {
			asked = short(m.s.Aims.FrameRate.String())
		}
		w.Rows = append(w.Rows, Row{Name: p.ID, Words: []string{p.ID, p.Lead, study.Listed(p.Runs), pixels, frame, rate, asked}, Leaves: m.leaves(network.BoardOf(p.ID))})
	}
	return w
}
