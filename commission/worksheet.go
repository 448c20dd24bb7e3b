package commission

import (
	"fmt"
	"slices"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A Worksheet is a table in which steps of one kind are filled in: a row for each thing, a field for each step.
type Worksheet struct {
	Name    string // among those of its stage
	Title   string
	Warning string   // in bold, before the notes
	Notes   []string // of all its rows
	Columns []Column
	Rows    []Row
}

// A Column is words, or a field.
type Column struct {
	Head, Over string // over may be the same of several columns
	Means      string // what it is called in a sentence, where that is not its head
	Field      string // which steps are filled in there; "" where words stand
	Kind       ColumnKind
	Quiet      bool // what is said beside a reading is told by the words of the row, or by the notes
}

// A ColumnKind says what a column has of its steps.
type ColumnKind int

const (
	Words    ColumnKind = iota // of the row
	Cores                      // how many cores of which cross-section, of the row
	Measured                   // what is expected, its band, and room to write
	Ticked                     // a box to tick
	How                        // what is expected in words, by a letter where it is long
)

// A Row is a thing.
type Row struct {
	Name    string   // among those of its worksheet
	Words   []string // in the columns of words, in their order
	Cores   int
	Section unit.SquareMetre
	Leaves  []string // on which the thing is drawn or listed, the best first
}

// A Fill is where a step is filled in: a field of a row of a worksheet of its stage. Without a worksheet it stands in the list of what is to be done.
type Fill struct{ Sheet, Row, Field string }

// in is a step that is filled in there.
func (s Step) in(sheet, row, field string) Step {
	s.Fill = Fill{sheet, row, field}
	return s
}

// words are a column of them.
func words(head string) Column { return Column{Head: head} }

// leaves are the pages on which a run, board, way, supply or cable may be found.
func (m *maker) leaves(id string) []string {
	if _, run := m.s.Runs[id]; run {
		return []string{"run-" + id, "runs"}
	}
	if _, board := m.s.Boards[id]; board {
		return []string{"face-" + id, "boards"}
	}
	if _, supply := m.s.Supplies[id]; supply {
		return []string{"single-line", "supplies"}
	}
	if c, cable := m.s.Cables[id]; cable {
		for _, ref := range []scheme.Ref{c.To, c.From} {
			if ref.Kind == scheme.StationRef {
				return []string{"run-" + ref.Element, "cables"}
			}
		}
		return []string{"single-line", "cables"}
	}
	if d, lead := m.s.Data[id]; lead {
		return []string{"run-" + d.To.Element, "data"}
	}
	if _, way := m.s.WayPart(id); way {
		return []string{"face-" + network.BoardOf(id), "fuses"}
	}
	return nil
}

// row is a row about a thing.
func (m *maker) row(name, about string, words ...string) Row {
	return Row{Name: name, Words: words, Leaves: m.leaves(about)}
}

// cored is a row about a cable, or a lead, with its cores.
func (m *maker) cored(id string, words ...string) Row {
	row := m.row(id, id, words...)
	c, cable := m.s.Cables[id]
	name := c.Part
	if !cable {
		name = m.s.Data[id].Part
	}
	if part, ok := parts.Get[parts.Cable](m.s.Library, name); ok {
		row.Section, row.Cores = part.Area.Is, part.Cores
	}
	return row
}

// label is what people call a thing, "" where it has no such name.
func (m *maker) label(id string) string {
	for _, label := range []string{m.s.Runs[id].Label, m.s.Supplies[id].Label, m.s.Boards[id].Label} {
		if label != "" {
			return label
		}
	}
	return ""
}

// The conditions of the dead tests, over the columns of what is done in them.
const (
	overBare = "Far ends not landed"
	overDead = "All landed"
)

// railSheet is the pieces of runs.
func (m *maker) railSheet() Worksheet {
	w := Worksheet{
		Name: "rails", Title: "Runs",
		Notes: []string{"Rails: volts from end to end of the piece while 1 A flows through that rail alone. No short: + to − at the beginning of the piece; the meter rises for as long as is said while the tape charges, then stays; chips may look like a diode; at least 10 Ω. Cut open: across the positive at the end of the piece, at least 100 Ω, through chips anything above."},
		Columns: []Column{words("Run"), words("Piece, from mark to mark"), words("Long"), {Head: "Its rail", Means: "the milliohms of its rail", Over: overBare, Field: "rail", Kind: Measured},
			{Head: "Charges, for up to", Over: overDead}, {Head: "No short", Over: overDead, Field: "short", Kind: Ticked}, {Head: "Cut open", Over: overDead, Field: "cut", Kind: Ticked}},
	}
	for _, run := range scheme.IDs(m.s.Runs) {
		for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
			for i, p := range m.pieces(run, pole) {
				name := run
				if label := m.label(run); i == 0 && pole == scheme.Plus && label != "" {
					name += ", " + label
				}
				row := m.row(pieceRow(run, pole, i), run, name, m.stretch(run, pole, p), "–", "")
				if tape := m.s.Tape(run); tape != nil && tape.Pixels.Is > 0 {
					row.Words[2] = unit.Metre(float64(p.to-p.from) / float64(tape.Pixels.Is)).String()
				}
				if pole == scheme.Plus {
					row.Words[3] = m.chargeWords(run, p)
				}
				w.Rows = append(w.Rows, row)
			}
		}
	}
	return w
}

// pieceRow names the row of a piece.
func pieceRow(run string, pole scheme.Pole, i int) string {
	return fmt.Sprintf("%s %s %d", run, pole, i+1)
}

// stretch is a piece by its marks: "+ start to px70".
func (m *maker) stretch(run string, pole scheme.Pole, p piece) string {
	sign := "+ "
	if pole == scheme.Return {
		sign = "− "
	}
	return sign + afterAt(m.mark(run, p.from, false)) + " to " + afterAt(m.mark(run, p.to, false))
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
			own := Reading{Ohms, float64(fuse.Resistance.Is), float64(fuse.Resistance.Lower()), float64(fuse.Resistance.Upper()), false}
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

// supplySheet is volts and amperes of supplies in one state.
func (m *maker) supplySheet() Worksheet {
	w := Worksheet{
		Name: "supplies", Title: "Supplies",
		Notes:   []string{"Volts at the terminals; amperes by clamp on whatever leaves +."},
		Columns: []Column{words("Supply"), words("Called"), {Head: "Volts", Means: "the volts", Field: "volts", Kind: Measured}, {Head: "Amperes", Means: "the amperes", Field: "amps", Kind: Measured}},
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		w.Rows = append(w.Rows, m.row(id, id, id, m.label(id)))
	}
	return w
}

// lowestSheet is the lowest volts of runs in one state, of the steps that are there.
func (m *maker) lowestSheet(steps []Step) Worksheet {
	w := Worksheet{Name: "runs", Title: "Lowest volts of each run, of its landings, ends and cut sides", Columns: []Column{words("Run"), words("Called"), words("At"), {Head: "Volts", Means: "the volts", Field: "volts", Kind: Measured, Quiet: true}}}
	for _, s := range steps {
		run := s.About[0]
		w.Rows = append(w.Rows, m.row(run, run, run, m.label(run), afterAt(place(s))))
	}
	return w
}

// place is where the volts of a step are read.
func place(s Step) string {
	if s.Between[0] == "" {
		return "–"
	}
	return strings.TrimSuffix(strings.TrimSuffix(s.Between[0], " +"), ",")
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

// abreast is how many states stand side by side.
const abreast = 3

// litSheet names a worksheet of the i-th state.
func litSheet(kind string, i int) string { return fmt.Sprintf("%s %d", kind, i/abreast+1) }

// litSheets are the worksheets of the states: supplies and ways, runs, what the eye sees, states side by side.
func (m *maker) litSheets(lowest map[string][]Step) (sheets []Worksheet) {
	for from := 0; from < len(m.lit); from += abreast {
		these := m.lit[from:min(from+abreast, len(m.lit))]
		feeds := Worksheet{Name: litSheet("feeds", from), Title: "Supplies, and what ways and fused cables carry", Notes: []string{"By clamp on their +; of a supply on whatever leaves +."}, Columns: []Column{words("Of"), words("Volts, or rating")}}
		runs := Worksheet{Name: litSheet("runs", from), Title: "Lowest volts of each run, of its landings, ends and cut sides", Columns: []Column{words("Run"), words("At")}}
		eye := Worksheet{Name: litSheet("eye", from), Title: "By eye: alike from end to end and past each cut, none flickers", Notes: []string{"Dimmest is the dimmest pixel over the brightest, as computed, of the mean; in the peak, where that is worse, while the pulses of all pixels of a run fall together. Colours apart are Δu′v′."}, Columns: []Column{words("Run"), words("Called")}}
		for _, l := range these {
			feeds.Columns = append(feeds.Columns, Column{Head: "Expected", Means: "the volts in " + l.name, Over: l.name, Field: l.name, Kind: Measured, Quiet: true})
			runs.Columns = append(runs.Columns, Column{Head: "Volts", Means: "the volts in " + l.name, Over: l.name, Field: l.name, Kind: Measured, Quiet: true})
			eye.Columns = append(eye.Columns, Column{Head: "Dimmest", Over: l.name}, Column{Head: "Seen", Over: l.name, Field: l.name, Kind: Ticked, Quiet: true})
		}
		for _, id := range scheme.IDs(m.s.Supplies) {
			feeds.Rows = append(feeds.Rows, m.row(id+" volts", id, id, "volts"), m.row(id+" amps", id, id, "amperes"))
		}
		for _, b := range m.gaps {
			rated := "no fuse"
			if b.fuse != "" {
				rated = "to be chosen"
			}
			if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok {
				rated = short(part.Rating.Is.String())
			}
			feeds.Rows = append(feeds.Rows, m.row(b.name, b.name, b.name, rated))
		}
		for _, run := range scheme.IDs(m.s.Runs) {
			called := []string{run, m.label(run)}
			for _, l := range these {
				called = append(called, m.evenness(l, run))
			}
			eye.Rows = append(eye.Rows, m.row(run, run, called...))
			runs.Rows = append(runs.Rows, m.lowestRows(run, these, lowest)...)
		}
		sheets = append(sheets, feeds, runs, eye)
	}
	return sheets
}

// lowestRows are the rows of a run in some states: one for each place that is lowest in some of them.
func (m *maker) lowestRows(run string, states []lit, lowest map[string][]Step) (rows []Row) {
	for _, l := range states {
		for _, s := range lowest[l.name] {
			at := place(s)
			if s.About[0] != run || slices.ContainsFunc(rows, func(r Row) bool { return r.Name == run+" "+at }) {
				continue
			}
			rows = append(rows, m.row(run+" "+at, run, run, afterAt(at)))
		}
	}
	return rows
}

// evenness is what is computed of the light of a run in a state.
func (m *maker) evenness(l lit, run string) string {
	r := m.st.Result(l.in)
	switch {
	case m.notChosen(run) != "", r == nil || !r.Found():
		return "not known"
	case r.Runs[run].Evenness == nil:
		return "–"
	}
	text := unit.Ratio(*r.Runs[run].Evenness).String()
	if worse, ok := m.worseInThePeak(l, run); ok {
		text += ", in the peak " + worse.String()
	}
	if shift := r.Runs[run].ColourShift; shift != nil && *shift >= 1e-4 {
		text += fmt.Sprintf(", Δu′v′ %.4f", *shift)
	}
	return text
}

// coreSheet is the feeds in the fullest state.
func (m *maker) coreSheet(state string, steps []Step) Worksheet {
	w := Worksheet{
		Name: "cores", Title: "Feeds, under load",
		Notes: []string{"Milliohms along a core: volts from one end of it to the other, from behind a fuse holder where there is one, over its amperes by clamp. Millivolts to expect are milliohms times amperes."},
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

// heatSheet is the points of the thermal look.
func heatSheet() Worksheet {
	return Worksheet{
		Name: "heat", Title: "Points, the hottest of each kind first",
		Notes:   []string{"Alike: no hotter than its likes."},
		Columns: []Column{words("Point"), words("Computed"), {Head: "Expected", Field: "°C", Kind: Measured, Quiet: true}, {Head: "Alike", Field: "°C", Kind: Ticked, Quiet: true}},
	}
}

// drawn is how fuses are put in and taken out. Nobody draws them live, for an arc burns the hand and the holder.
const drawn = "supply off and seen dead, fuse (or meter) in or out, supply on, measure: never a fuse in or out while its supply is on (common practice, no source)."

// isolateSheet is what to take out together.
func (m *maker) isolateSheet() Worksheet {
	return Worksheet{
		Name: "isolate", Title: "What to take out together, to make a run or board dead", Warning: "Supplies off first, then the fuses out and the leads unplugged; only then supplies on again for the rest (common practice, no source).",
		Notes:   []string{"All of a line at once. Dead is at most 0.5 V, of a run from each piece of its + to its −, of a board at its inlet and at each of its ways; wait a minute for capacitors that drain slowly."},
		Columns: []Column{words("Of"), words("Called"), words("Do"), {Head: "Dead", Field: "dead", Kind: Ticked, Quiet: true}},
	}
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
