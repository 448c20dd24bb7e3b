package wiring

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// Face draws the connections of a distribution board as who assembles it needs them: the inlet, each way with its fuse and its pair of
// terminals, each port, and beside them what goes where, with what load. It shows no positions, for a board's part says none.
//
// It needs no solution but loads, which are left out where nothing is solved. Of a board that is not there it makes no page.
func Face(st *study.Study, board string, style drafting.Style) []layout.Leaf {
	if _, is := st.Scheme.Boards[board]; !is {
		return nil
	}
	f := &face{diagrammed: newDiagrammed(st, style), board: board, paper: style.Drawings.Turned()}
	f.part, _ = st.Scheme.BoardPart(board)
	f.measure()
	f.list()
	var leaves []layout.Leaf
	for rows := f.rows; len(rows) > 0 || leaves == nil; {
		n := f.fitting(rows)
		leaves = append(leaves, f.leaf(rows[:n], len(leaves), len(rows) == n))
		rows = rows[n:]
	}
	for i := range leaves {
		leaves[i].Under = layout.Join(". ", partOf(i, len(leaves)), leaves[i].Under, study.Capital(f.unfused(board)))
	}
	return leaves
}

// A face is the face of a board being drawn.
type face struct {
	*diagrammed
	board string
	part  *parts.Board // nil where it is not chosen
	paper layout.Paper
	field draw.Box
	at    []float64 // where the cells of the table begin, and where the last ends
	rows  []faceRow
	cut   bool // a cell has more words than a page has room for
}

// A faceRow is a line of the table, with what stands before it in the frame.
type faceRow struct {
	kind  faceKind
	name  string // A1.1, A1.P1
	cells [][]string
	high  float64
	above float64 // of one more cable at a way: from the line of the way

	buffered bool // of a port: its lead begins with a buffer
	powered  bool // and carries the supply in a core of its own
}

type faceKind int

const (
	inletRow faceKind = iota
	wayRow
	spareWay
	portRow
	sparePort
)

// The measures of the frame, in millimetres from its left edge.
const (
	frameWide   = 92.0
	plusBar     = 14.0
	holderAt    = 45.0
	facePlusAt  = 76.0
	minusAt     = 86.0
	faceRowLow  = 11.5 // the least height of a row
	lineOfRow   = 6.2  // from its top to its line
	groundBelow = 3.6  // from the line of a port to that of its ground
	faceHeading = 8.0
	cellGap     = 2.5
)

// columnsOf are the captions of the table, and the shares of its width.
var columnsOf = []struct {
	caption string
	share   float64
}{{"Cable or lead", 20}, {"Copper, length", 20}, {"Goes to", 34}, {"Load, or protocol", 25}, {"Behind its fuse", 24}, {"Connection at the board", 30}}

func (f *face) measure() {
	f.field = f.paper.Field()
	f.field.Min.Y += 2
	f.field.Max.Y -= keyHigh
	all := 0.0
	for _, c := range columnsOf {
		all += c.share
	}
	x := f.field.Min.X + frameWide + 4
	room := f.field.Max.X - x
	for _, c := range columnsOf {
		f.at = append(f.at, x)
		x += room * c.share / all
	}
	f.at = append(f.at, f.field.Max.X+cellGap)
}

// row breaks the cells of a row into lines.
func (f *face) row(kind faceKind, name string, cells ...string) faceRow {
	r := faceRow{kind: kind, name: name, high: faceRowLow}
	for i, c := range cells {
		var lines []string
		for _, phrase := range strings.Split(c, "\n") {
			lines = append(lines, layout.Wrap(small, phrase, f.at[i+1]-f.at[i]-cellGap)...)
		}
		if most := int(f.field.Height()/layout.Pitch(small.Size)) - 12; len(lines) > most {
			lines, f.cut = append(lines[:most-1], "…"), true
		}
		r.cells = append(r.cells, lines)
		r.high = max(r.high, float64(len(lines))*layout.Pitch(small.Size)+3.4)
	}
	return r
}

// list makes all rows: the cables of the inlet, the ways, the ports.
func (f *face) list() {
	inlet := false
	seen := map[string]bool{}
	for _, s := range f.slots[f.board] {
		switch {
		case s.place == f.board+".in":
			f.rows = append(f.rows, f.inlet(s, inlet))
			inlet = true
		default:
			if !inlet {
				f.rows, inlet = append(f.rows, f.row(inletRow, s.place, "none", "", "no cable lands on the inlet")), true
			}
			f.rows = append(f.rows, f.way(s, seen[s.place]))
			seen[s.place] = true
		}
	}
	if !inlet {
		f.rows = append(f.rows, f.row(inletRow, f.board+".in", "none", "", "no cable lands on the inlet"))
	}
	for _, port := range f.ports() {
		f.rows = append(f.rows, f.port(port))
	}
}

// inlet is the row of a cable that lands on the inlet.
func (f *face) inlet(s slot, again bool) faceRow {
	load := ""
	if !again {
		rated, limit := "", unit.Ampere(0)
		if f.part != nil {
			rated, limit = "inlet "+layout.Nominal(f.part.Inlet.Amps.Is), f.part.Inlet.Amps.Is
		}
		load = f.loaded(f.heaviest(func(r *network.Result) unit.Ampere {
			return max(r.Boards[f.board].Inlet.RMS, r.Boards[f.board].Return.RMS)
		}), rated, limit)
	}
	name := f.board + ".in"
	if again {
		name = ""
	}
	c := f.s.Cables[s.cable]
	fuse := ""
	if c.Fuse != "" {
		fuse = "fuse in the cable: " + f.fuseWords(c.Fuse) + f.coloured(c.Fuse)
	}
	return f.row(inletRow, name, layout.Join("\n", s.cable, c.Label), f.copperAt(s), "from "+f.farEnd(s), load, fuse, f.connection(s))
}

// way is the row of a cable at a way, or of a way that nothing lands on.
func (f *face) way(s slot, again bool) faceRow {
	if s.cable == "" {
		words := "spare: no fuse fitted"
		if f.s.Fuses[s.place] != "" {
			words = "spare: nothing lands on it"
		}
		return f.row(spareWay, s.place, "–", "", words)
	}
	name, load, protects := s.place, "", ""
	if again {
		name = ""
	} else {
		load, protects = f.wayLoad(s.place), f.protects(s.place)
	}
	return f.row(wayRow, name, layout.Join("\n", s.cable, f.s.Cables[s.cable].Label), f.copperAt(s), f.farEnd(s), load, protects, f.connection(s))
}

// wayLoad is the load of a way against the lower of what it and its fuse are rated.
func (f *face) wayLoad(way string) string {
	load := f.heaviest(func(r *network.Result) unit.Ampere { return r.Ways[way].Amps.RMS })
	limit := unit.Ampere(math.Inf(1))
	var phrases []string
	if part, ok := f.s.WayPart(way); ok {
		limit = part.Amps.Is
		phrases = append(phrases, "way "+layout.Nominal(part.Amps.Is))
	}
	if fuse, ok := parts.Get[parts.Fuse](f.s.Library, f.s.Fuses[way]); ok {
		limit = min(limit, fuse.Rating.Is)
		phrases = append(phrases, "fuse "+layout.Nominal(fuse.Rating.Is))
	}
	home := ""
	if back := f.heaviest(func(r *network.Result) unit.Ampere { return f.returned(way, r) }); layout.Quantity(back) != layout.Quantity(load) && back > load {
		home = "return " + layout.Quantity(back)
	}
	return layout.Join("\n", f.loaded(load, strings.Join(phrases, ", "), limit), home)
}

// returned is what the cable at a way brings home in a case, which may be more than its fuse sends out; 0 where several share the way, for
// what they bring may flow on from one to the other.
func (f *face) returned(way string, r *network.Result) unit.Ampere {
	var landed []string
	for _, s := range f.slots[f.board] {
		if s.place == way && s.cable != "" {
			landed = append(landed, s.cable)
		}
	}
	if len(landed) != 1 {
		return 0
	}
	return r.Cables[landed[0]].Return.RMS
}

// loaded sets a load beside what it is held against.
func (f *face) loaded(load unit.Ampere, rated string, limit unit.Ampere) string {
	if load <= 0 {
		return rated
	}
	text := layout.Quantity(load)
	if limit > 0 && !math.IsInf(float64(limit), 1) {
		if percent := 100 * float64(load/limit); percent < 1 {
			text += " (under 1" + layout.Thin + "%)"
		} else {
			text += fmt.Sprintf(" (%.0f%s%%)", percent, layout.Thin)
		}
	}
	return layout.Join("\n", text, rated)
}

// protects lists the cables behind a way, as far as the next fuse and the tape, and those that begin with a fuse of their own.
func (f *face) protects(way string) string {
	cables, apart := f.st.Network.Onward([]string{way})
	own, unfused := "", ""
	if f.s.Fuses[way] == "" {
		cables = slices.DeleteFunc(cables, func(id string) bool { return !f.s.Cables[id].Pole.Has(scheme.Plus) })
		if len(cables) > 0 {
			unfused = "no fuse here for "
		}
	}
	list := unfused + strings.Join(cables, ", ")
	if len(apart) > 0 {
		own = "with fuses of their own: " + strings.Join(apart, ", ")
	}
	return layout.Join("\n", list, own)
}

func (f *face) copperAt(s slot) string {
	length := ""
	if l := f.s.Cables[s.cable].Length; l != nil {
		length = layout.Nominal(*l)
	}
	return layout.Join("\n", drafting.CopperWords(f.s, f.style, s.cable), length)
}

// farEnd is where a cable goes to, by its place and what it is called.
func (f *face) farEnd(s slot) string {
	far := f.other(s)
	id := elementOf(far.place)
	label := ""
	switch f.kindOf(id) {
	case scheme.SupplyRef:
		label = f.s.Supplies[id].Label
	case scheme.InletRef:
		label = f.s.Boards[id].Label
	case scheme.JunctionRef:
		label = f.s.Junctions[id].Label
	default:
		label = f.s.Runs[id].Label
	}
	place := far.place
	if at := f.station(far); f.kindOf(id) == scheme.RunRef && !at.Start && !at.End {
		place = id + " at " + f.stationWords(id, at)
	}
	return layout.Join("\n", place, label)
}

// connection is what the end of a cable at the board asks of who makes it.
func (f *face) connection(s slot) string {
	name := f.s.Cables[s.cable].Ends.From
	if s.end == scheme.ToEnd {
		name = f.s.Cables[s.cable].Ends.To
	}
	if name == "" {
		return "no connector stated"
	}
	part, ok := parts.Get[parts.Connector](f.s.Library, name)
	if !ok {
		return "connector not chosen"
	}
	torque := ""
	if part.Torque.Given {
		torque = "torque " + ranged(part.Torque)
	}
	cores := ""
	if part.AreaMax.Given {
		cores = "takes up to " + f.style.Section(part.AreaMax.Is)
	}
	return layout.Join("\n", layout.Join(", ", drafting.BareName(name), layout.Nominal(part.Amps.Is)), torque, cores)
}

// ranged is a number with its spread.
func ranged[T interface {
	unit.Quantity
	fmt.Stringer
}](v parts.Value[T]) string {
	if v.Lower() == v.Upper() {
		return layout.Nominal(v.Is)
	}
	low, _, _ := strings.Cut(layout.Nominal(v.Lower()), layout.Thin)
	return low + " to " + layout.Nominal(v.Upper())
}

// coloured is the standard colour of a fuse's body in words, where its part says one.
func (f *face) coloured(part string) string {
	if fuse, ok := parts.Get[parts.Fuse](f.s.Library, part); ok && fuse.Colour != "" {
		return ", " + fuse.Colour
	}
	return ""
}

// ports lists those of the board's part, and those that the scheme speaks of where that is not chosen.
func (f *face) ports() []string {
	found := map[string]bool{}
	if f.part != nil {
		for name := range f.part.Ports {
			found[f.board+"."+name] = true
		}
	}
	for _, d := range f.s.Data {
		if d.From.Kind == scheme.PortRef && d.From.Element == f.board {
			found[d.From.String()] = true
		}
	}
	return scheme.IDs(found)
}

// port is the row of a data port.
func (f *face) port(name string) faceRow {
	_, socket, _ := strings.Cut(name, ".")
	ground := ""
	if f.part != nil {
		if p := f.part.Ports[socket]; p.GroundFuse != "" {
			ground = "fuse in its ground: " + f.fuseWords(p.GroundFuse)
		} else {
			ground = "no fuse in its ground"
		}
	}
	for _, id := range scheme.IDs(f.s.Data) {
		d := f.s.Data[id]
		if d.From.String() != name {
			continue
		}
		copper, _ := drafting.LaidWords(f.s, f.style, d.Part)
		length := ""
		if d.Length != nil {
			length = layout.Nominal(*d.Length)
		}
		runs := f.s.Chained(d.To.Element)
		count := 0
		for _, run := range runs {
			count += f.s.Runs[run].Count
		}
		to := layout.Join("\n", layout.Join(", then ", runs...), f.s.Runs[d.To.Element].Label, strconv.Itoa(count)+" pixels")
		row := f.row(portRow, name, layout.Join("\n", id, d.Label), layout.Join("\n", copper, length), to, f.protocol(d.To.Element), ground, f.inLead(id))
		if row.powered = d.Power; row.powered { // which is said under the line of its ground
			row.high = max(row.high, faceRowLow+2.5)
		}
		row.buffered = d.Buffer != nil && d.Buffer.At == scheme.FromEnd
		return row
	}
	return f.row(sparePort, name, "–", "", "spare: sends to nothing", "", ground)
}

func (f *face) protocol(run string) string {
	tape := f.s.Tape(run)
	if tape == nil {
		return ""
	}
	if p, ok := parts.Get[parts.Protocol](f.s.Library, tape.Protocol); ok {
		return p.Title
	}
	return ""
}

// inLead is what each core of a data lead is for, and what stands in it at the board.
func (f *face) inLead(id string) string {
	d := f.s.Data[id]
	phrases := []string{drafting.CoreWords(f.s, id)}
	if d.Buffer != nil && d.Buffer.At == scheme.FromEnd {
		phrases = append(phrases, drafting.BufferName(f.s, d.Buffer)+", "+drafting.BufferFeed(f.s, d))
	}
	if d.Series > 0 {
		phrases = append(phrases, layout.Nominal(d.Series)+" in series")
	}
	if d.Power {
		phrases = append(phrases, drafting.PastFuses)
	}
	return strings.Join(phrases, "\n")
}

// fitting is how many rows go on one page, one at the least.
func (f *face) fitting(rows []faceRow) int {
	y := f.field.Min.Y + f.headHigh() + faceHeading
	n := 0
	for n < len(rows) && (n == 0 || y+rows[n].high+2 <= f.field.Max.Y) {
		y += rows[n].high
		n++
	}
	return n
}
