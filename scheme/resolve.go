package scheme

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

// A use is what a reference is for.
type use int

const (
	powerEnd    use = iota // an end of a cable
	dataFrom               // where a data lead begins
	dataTo                 // where it ends
	fuseSeat               // a key of fuses
	acrossRails            // where a capacitor is
)

// resolve finds what a reference points to. It reports whether the reference is one that serves the use; if not it has
// said why, unless that follows from a mistake elsewhere. Owner is who refers, for the texts.
func (r *reading) resolve(ref *Ref, use use, owner string, at finding.Pos) bool {
	section, known := r.elements[ref.Element]
	switch {
	case !known && r.anyLost(), known && section == "":
		return false
	case !known:
		r.wrong(at, fmt.Sprintf("there is no %s in this scheme", ref.Element), r.nearOr(ref.Text, func() []string { return r.candidates(use, *ref) }, "describe it first"))
		return false
	}
	return r.locate(ref, section, use, at) && r.fits(*ref, use, owner, at) && r.land(ref, at)
}

// locate settles the kind of the reference.
func (r *reading) locate(ref *Ref, section string, use use, at finding.Pos) bool {
	switch section {
	case "supplies":
		ref.Kind = SupplyRef
	case "junctions":
		ref.Kind = JunctionRef
	case "boards":
		return r.onBoard(ref, at)
	case "runs":
		return r.onRun(ref, at)
	default:
		r.endsOn(ref, section, use, at)
		return false
	}
	if ref.Socket != "" || ref.Station.Text != "" {
		r.wrong(at, fmt.Sprintf("%s is %s; there is no %q on it", ref.Element, article(nounOf(section)), ref.Text), "write "+ref.Element)
		return false
	}
	return true
}

// endsOn says that a reference is to what nothing can end on, once for each such element: one wrong name may stand in many places.
func (r *reading) endsOn(ref *Ref, section string, use use, at finding.Pos) {
	if r.endless[ref.Element] {
		return
	}
	r.endless[ref.Element] = true
	text := fmt.Sprintf("%s is %s, given in line %d; ", ref.Element, article(nounOf(section)), r.key(section, ref.Element).Line)
	switch {
	case use == fuseSeat:
		r.wrong(at, text+"this list is for the ways of boards", seatHint)
	case ref.Socket != "":
		r.wrong(at, text+fmt.Sprintf("there is no %q on it", ref.Text), "name a board"+r.boardsThere())
	default:
		r.wrong(at, text+"nothing can end on it", "put a junction where cables meet")
	}
}

// boardsThere is the end of a hint to name a board: which there are.
func (r *reading) boardsThere() string {
	if len(r.Boards) == 0 {
		return ", described under boards"
	}
	return ": there is " + list(IDs(r.Boards), "and", 8)
}

func nounOf(key string) string {
	for _, s := range sections() {
		if s.key == key {
			return s.noun
		}
	}
	return "thing"
}

func (r *reading) onBoard(ref *Ref, at finding.Pos) bool {
	board := r.board(ref.Element)
	switch {
	case ref.Socket == "":
		r.wrong(at, fmt.Sprintf("%s is a board; %q does not say where on it", ref.Element, ref.Text), "write its inlet "+ref.Element+".in, or a way or port: "+r.sockets(ref.Element, board))
		return false
	case ref.Socket == "in":
		ref.Kind = InletRef
		return true
	case board == nil:
		ref.Kind = kindOfSocket(ref.Socket)
		return true
	}
	_, way := board.Ways[ref.Socket]
	_, port := board.Ports[ref.Socket]
	switch {
	case way:
		ref.Kind = WayRef
	case port:
		ref.Kind = PortRef
	default:
		r.wrong(at, fmt.Sprintf("%s has no %s %s", ref.Element, kindOfSocket(ref.Socket), ref.Socket), r.socketHint(*ref, board))
		return false
	}
	return true
}

// kindOfSocket tells a way from a port by its name: ways have digits only.
func kindOfSocket(socket string) Kind {
	if strings.Trim(socket, "0123456789") == "" {
		return WayRef
	}
	return PortRef
}

// board is the part of a board, nil where it is not chosen or has a mistake.
func (r *reading) board(id string) *parts.Board {
	name := r.Boards[id].Part
	if !r.sound("boards", id, "part") || !r.sound("parts", name) {
		return nil
	}
	board, _ := parts.Get[parts.Board](r.Library, name)
	return board
}

func (r *reading) sockets(id string, board *parts.Board) string {
	if board == nil {
		return id + ".1 or " + id + ".P1"
	}
	return list(socketRefs(id, board), "and", 12)
}

func socketRefs(id string, board *parts.Board) []string {
	var refs []string
	for _, name := range append(IDs(board.Ways), IDs(board.Ports)...) {
		refs = append(refs, id+"."+name)
	}
	return refs
}

func (r *reading) socketHint(ref Ref, board *parts.Board) string {
	hint := ref.Element + " has " + list(socketRefs(ref.Element, board), "and", 12)
	if near := r.near(ref.Text, append(socketRefs(ref.Element, board), ref.Element+".in")); near != "" {
		hint = "did you mean " + near + "? " + hint
	}
	return hint
}

func (r *reading) onRun(ref *Ref, at finding.Pos) bool {
	switch {
	case ref.Socket != "":
		hint := "write a station: " + ref.Element + "@start, " + ref.Element + "@end, " + ref.Element + "@px120 or " + ref.Element + "@2.5m"
		if new(Station).UnmarshalText([]byte(ref.Socket)) == nil {
			hint = "did you mean " + ref.Element + "@" + ref.Socket + "?"
		}
		r.wrong(at, fmt.Sprintf("%s is a run; there is no %q on it", ref.Element, ref.Text), hint)
		return false
	case ref.Station.Text != "":
		ref.Kind = StationRef
	default:
		ref.Kind = RunRef
	}
	return true
}

// fits says what is wrong with a place that exists but does not serve.
func (r *reading) fits(ref Ref, use use, owner string, at finding.Pos) bool {
	text, hint := "", ""
	switch use {
	case powerEnd:
		text, hint = unfitForPower(ref, owner)
	case dataFrom:
		text, hint = unfitForData(ref, owner+" cannot begin at "+ref.Text, "data comes from a port or from a run", "write a port such as A1.P1, or a run such as E1")
	case dataTo:
		text, hint = unfitForData(ref, owner+" cannot end at "+ref.Text, "data goes to a run", "write a run such as E1")
		if ref.Kind == PortRef {
			text, hint = owner+" cannot end at the port "+ref.Text+": data goes from a port to a run", "put the port under from:"
		}
	case acrossRails:
		if ref.Kind != StationRef {
			text, hint = fmt.Sprintf("%s cannot be at %s: a capacitor is across the rails of a run", owner, ref.Text), "write a station such as E1@start"
		}
		if ref.Kind == RunRef {
			hint = stationsOf(ref.Element)
		}
	case fuseSeat:
		if ref.Kind != WayRef {
			text, hint = ref.Text+" is "+article(ref.Kind.String())+"; this list is for the ways of boards", seatHint
		}
	}
	if text != "" {
		r.wrong(at, text, hint)
	}
	return text == ""
}

const seatHint = "write a way such as A1.1; an inline fuse belongs to its cable, as fuse:"

func unfitForPower(ref Ref, owner string) (text, hint string) {
	switch ref.Kind {
	case PortRef:
		return owner + " cannot end at the port " + ref.Text + ", which is for data", "list a data lead under data:, or land on the inlet or a way"
	case RunRef:
		return owner + " ends on the run " + ref.Text + " without saying where", stationsOf(ref.Text)
	}
	return "", ""
}

// stationsOf is a hint: how stations of a run are written.
func stationsOf(run string) string {
	return "write " + run + "@start, " + run + "@end, " + run + "@px120 or " + run + "@2.5m"
}

func unfitForData(ref Ref, start, law, hint string) (string, string) {
	switch ref.Kind {
	case PortRef, RunRef:
		return "", ""
	case StationRef:
		return start + ": data enters a run at its start and leaves at its end", "write " + ref.Element
	}
	return start + ": " + law, hint
}

// land settles the mark of a station. It fails where the run has no known marks.
func (r *reading) land(ref *Ref, at finding.Pos) bool {
	if ref.Kind != StationRef {
		return true
	}
	extent, known := r.extent[ref.Element]
	if !known {
		return false
	}
	run := r.Runs[ref.Element]
	text, hint := ref.Station.resolve(run.Count, extent, r.Tape(ref.Element), ref.Element)
	if text == "" && ref.Station.Before && !run.cutAt(ref.Station.Mark) {
		if !r.sound("runs", ref.Element, "cuts") {
			return false
		}
		mark := "px" + strconv.Itoa(ref.Station.Mark)
		text = fmt.Sprintf("%s is not cut at %s, so there is no side before a cut", ref.Element, mark)
		hint = fmt.Sprintf("write %s@%s, or cut the run there: cuts: [{at: %s, pole: plus}]", ref.Element, mark, mark)
	}
	if text != "" {
		r.wrong(at, text, hint)
	}
	return text == ""
}

func (run Run) cutAt(mark int) bool {
	return slices.ContainsFunc(run.Cuts, func(c Cut) bool { return c.At.Mark == mark })
}

// resolve finds the nearest cut mark, the lower one on a tie. Extent is where the run ends as the user wrote it, in
// pixels; places up to there are on the run though the tape is cut a little before.
func (s *Station) resolve(count int, extent float64, tape *parts.Tape, run string) (text, hint string) {
	at := s.pixels(count, tape)
	if at > max(float64(count), extent)+slack {
		return fmt.Sprintf("%s@%s is beyond the end of %s, which has %s (%s)", run, s.Text, run, plural(count, "pixel"), metresText(metresOf(count, tape))),
			"write a station up to " + run + "@end"
	}
	mark := nearestMark(at, count, tape.CutEvery)
	if s.Before && (mark == 0 || mark == count) {
		return fmt.Sprintf("%s@%s is an end of %s; there is no cut, so no side before it", run, s.Text, run), "leave the last - out"
	}
	*s = Station{Text: s.Text, Start: mark == 0, End: mark == count, Pixel: mark, Before: s.Before, Mark: mark}
	return "", ""
}

// pixels is where the station was asked for, counted in pixels from the data-in end.
func (s Station) pixels(count int, tape *parts.Tape) float64 {
	switch {
	case s.Start:
		return 0
	case s.End:
		return float64(count)
	case s.Metres != nil:
		return float64(*s.Metres) * float64(tape.Pixels.Is)
	}
	return float64(s.Pixel)
}

// slack, in pixels, is how far a length may miss a mark and still mean it: more than the rounding of any sum of lengths
// written in decimals, less than anything that can be cut.
const slack = 1e-6

func nearestMark(at float64, count, every int) int {
	piece := float64(every)
	below := math.Floor((at+slack)/piece) * piece
	if below >= float64(count) {
		return count
	}
	above := min(below+piece, float64(count))
	if above-at < at-below-2*slack {
		return int(above)
	}
	return int(below)
}

// moved says what a station became where that is not what was written.
func (r *reading) moved(was, is Station, run string) (string, bool) {
	tape := r.Tape(run)
	at := was.pixels(is.Mark, tape) // "end" is a mark, so its count does not matter
	if math.Abs(at-float64(is.Mark)) <= slack {
		return "", false
	}
	return fmt.Sprintf("%s@%s lies between cut marks of %s, which is cut every %s; it became %s@%s, %s from data-in",
		run, was.Text, run, metresText(metresOf(tape.CutEvery, tape)), run, is, metresText(metresOf(is.Mark, tape))), true
}

// candidates lists the places that would serve a use, with the station of the reference on every run.
func (r *reading) candidates(use use, ref Ref) []string {
	if r.places[use] == nil {
		r.places[use] = r.serving(use)
	}
	if use != powerEnd && use != acrossRails {
		return r.places[use]
	}
	named := slices.Clone(r.places[use])
	suffixes := []string{"start", "end"}
	if text := ref.Station.Text; text != "" && text != "start" && text != "end" {
		suffixes = append(suffixes, text)
	}
	for _, id := range IDs(r.Runs) {
		for _, suffix := range suffixes {
			named = append(named, id+"@"+suffix)
		}
	}
	return named
}

func (r *reading) serving(use use) []string {
	named := []string{}
	if use == powerEnd {
		named = append(IDs(r.Supplies), IDs(r.Junctions)...)
	}
	for _, id := range IDs(r.Boards) {
		if use == powerEnd {
			named = append(named, id+".in")
		}
		board := r.board(id)
		if board == nil {
			continue
		}
		for _, socket := range socketRefs(id, board) {
			_, name, _ := strings.Cut(socket, ".")
			if kind := kindOfSocket(name); kind == WayRef && (use == powerEnd || use == fuseSeat) || kind == PortRef && use == dataFrom {
				named = append(named, socket)
			}
		}
	}
	if use == dataFrom || use == dataTo {
		named = append(named, IDs(r.Runs)...)
	}
	return named
}

// metresOf is the length of so many pixels of a tape.
func metresOf(pixels int, tape *parts.Tape) unit.Metre {
	return unit.Metre(float64(pixels) / float64(tape.Pixels.Is))
}
