// Package runsheet draws one run as somebody at a bench cuts, solders and mounts it.
//
// The tape is drawn to scale along itself (draw.go), in rows with labels that keep out of each other's way (band.go), with a table of the
// same places and what a meter shows before anything is connected (words.go), on one sheet or several (page.go).
package runsheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// Pages is what somebody at a bench cuts, solders and mounts one run by: the tape drawn to scale and stretched out, in rows where it
// is long, with everything at its place from the data-in end; the same as a table; what feeds each piece of a rail, and what a meter
// shows of it before anything is connected; and what nobody has said yet, as questions. There are none of what is no run, or of a run
// without pixels.
//
// It needs no operating point: all of it is the scheme, and what copper joins.
func Pages(st *study.Study, run string, style drafting.Style) []layout.Leaf {
	tape := st.Scheme.Tape(run)
	if tape == nil || st.Scheme.Runs[run].Count < 1 {
		return nil
	}
	s := &runSheet{st: st, id: run, run: st.Scheme.Runs[run], tape: tape, style: style, paper: style.Drawings.Turned()}
	s.spots = s.spotted()
	s.pieces = append(s.pieced(scheme.Plus), s.pieced(scheme.Return)...)
	s.band = s.banded()
	return s.leaves()
}

// A runSheet is such a sheet being made.
type runSheet struct {
	st     *study.Study
	id     string
	run    scheme.Run
	tape   *parts.Tape
	style  drafting.Style
	paper  layout.Paper
	spots  []runSpot
	pieces []runPiece
	band   band
}

// A runSpot is a place of the tape at which something is done, so many pixels from the data-in end. Mark is the cut mark there, and −1 at a
// joint between two marks.
type runSpot struct {
	at         float64
	mark       int
	cut        scheme.Pole // "" where nothing is cut
	feeds      []runLanding
	capacitors []string
	soldered   bool
}

// A runLanding is an end of a cable on the tape.
type runLanding struct {
	id     string
	end    scheme.End
	before bool       // towards data-in of the cut at its mark
	far    scheme.Ref // where its other end is
}

// spotted gathers the spots of a run in their order; both ends are among them.
func (s *runSheet) spotted() []runSpot {
	at := map[int]*runSpot{0: {}, s.run.Count: {}}
	mark := func(m int) *runSpot {
		if at[m] == nil {
			at[m] = &runSpot{}
		}
		return at[m]
	}
	for _, c := range s.run.Cuts {
		mark(c.At.Mark).cut = c.Pole
	}
	s.land(mark)
	for _, id := range scheme.IDs(s.st.Scheme.Capacitors) {
		if c := s.st.Scheme.Capacitors[id]; c.At.Kind == scheme.StationRef && c.At.Element == s.id {
			spot := mark(c.At.Station.Mark)
			spot.capacitors = append(spot.capacitors, id)
		}
	}
	var list []runSpot
	for _, joint := range s.run.Joints {
		pixels := float64(joint) * float64(s.tape.Pixels.Is)
		if m := math.Round(pixels); math.Abs(pixels-m) < atMark {
			mark(int(m)).soldered = true
			continue
		}
		list = append(list, runSpot{at: pixels, mark: -1, soldered: true})
	}
	for m, spot := range at {
		spot.at, spot.mark = float64(m), m
		list = append(list, *spot)
	}
	slices.SortFunc(list, func(a, b runSpot) int { return cmp.Compare(a.at, b.at) })
	return list
}

// land notes the ends of cables at their marks: first what lies before a cut, then what lies after it.
func (s *runSheet) land(mark func(int) *runSpot) {
	for _, before := range []bool{true, false} {
		for _, id := range scheme.IDs(s.st.Scheme.Cables) {
			c := s.st.Scheme.Cables[id]
			for _, l := range []struct {
				end       scheme.End
				here, far scheme.Ref
			}{{scheme.FromEnd, c.From, c.To}, {scheme.ToEnd, c.To, c.From}} {
				if l.here.Kind == scheme.StationRef && l.here.Element == s.id && l.here.Station.Before == before {
					spot := mark(l.here.Station.Mark)
					spot.feeds = append(spot.feeds, runLanding{id, l.end, before, l.far})
				}
			}
		}
	}
}

// atMark is how near to a mark, in pixels, a joint is at it: what is left of rounding.
const atMark = 1e-6

// A runPiece is a stretch of one rail between two cuts or ends, with the ways or fuses that feed it, or the cables that take its current home.
type runPiece struct {
	pole     scheme.Pole
	from, to int // marks
	by       string
	short    string // the same in a few letters, where there is room for no more
}

// pieced is a rail in its pieces.
func (s *runSheet) pieced(pole scheme.Pole) []runPiece {
	marks := []int{0}
	for _, c := range s.run.Cuts {
		if c.Pole.Has(pole) {
			marks = append(marks, c.At.Mark)
		}
	}
	marks = append(marks, s.run.Count)
	var list []runPiece
	for i, from := range marks[:len(marks)-1] {
		p := runPiece{pole: pole, from: from, to: marks[i+1]}
		if pole == scheme.Plus {
			p.by, p.short = s.fedBy(p)
		} else {
			p.by = s.homeBy(p)
		}
		list = append(list, p)
	}
	return list
}

// fedBy says what may feed a piece of the positive: the fuses that are met first, by whatever copper.
func (s *runSheet) fedBy(p runPiece) (by, short string) {
	at := s.id + "@" + scheme.Station{Start: p.from == 0, Pixel: p.from}.String()
	behind := s.st.Network.Fed(at)
	if len(behind.Fuses)+len(behind.Bare) == 0 {
		return "nothing", "fed by nothing"
	}
	return s.behind(behind), strings.Join(s.guards(behind), ", ")
}

// behind is what feeds a place, in words.
func (s *runSheet) behind(b network.Behind) string {
	list := s.guards(b)
	for i, bare := range b.Bare {
		list[len(b.Fuses)+i] = bare + " without a fuse"
	}
	return study.Several(list)
}

// guards are the fuses that feed a place with their ratings, then the supplies that do without one.
func (s *runSheet) guards(b network.Behind) []string {
	var list []string
	for _, name := range b.Fuses {
		list = append(list, strings.TrimSuffix(name, ".fuse")+" "+s.rating(name))
	}
	return append(list, b.Bare...)
}

// rating is that of a fuse by its name.
func (s *runSheet) rating(fuse string) string {
	if g, _ := s.st.Guard(fuse); g.Fuse != nil {
		return layout.Nominal(g.Fuse.Rating.Is)
	}
	return "not chosen"
}

// homeBy names the cables, and the grounds of data leads, that take the current of a piece of the return home.
func (s *runSheet) homeBy(p runPiece) string {
	var ids []string
	for _, spot := range s.spots {
		for _, l := range spot.feeds {
			if s.st.Scheme.Cables[l.id].Pole.Has(scheme.Return) && p.holds(spot, l) && !slices.Contains(ids, l.id) {
				ids = append(ids, l.id)
			}
		}
	}
	slices.SortFunc(ids, finding.Natural)
	joined := func(lead string) bool { return s.st.Scheme.Data[lead].Ground != scheme.OpenGround }
	if lead, is := s.into(); is && p.from == 0 && joined(lead) {
		ids = append(ids, "the ground of "+lead)
	}
	if lead, is := s.onward(); is && p.to == s.run.Count && joined(lead) {
		ids = append(ids, "the ground of "+lead)
	}
	return study.Several(ids)
}

// holds reports whether a cable lands on a piece.
func (p runPiece) holds(at runSpot, l runLanding) bool {
	return at.mark > p.from && at.mark < p.to || at.mark == p.from && !l.before || at.mark == p.to && (l.before || !at.cut.Has(p.pole) || at.cut == "")
}

// into is the data lead that ends at the run, onward the one that begins there.
func (s *runSheet) into() (lead string, ok bool) { return leadWhere(s.st.Scheme, s.id, true) }

func (s *runSheet) onward() (lead string, ok bool) { return leadWhere(s.st.Scheme, s.id, false) }

func leadWhere(sch *scheme.Scheme, run string, ends bool) (lead string, ok bool) {
	for _, id := range scheme.IDs(sch.Data) {
		d := sch.Data[id]
		if ends && d.To.Element == run || !ends && d.From.Kind == scheme.RunRef && d.From.Element == run {
			return id, true
		}
	}
	return "", false
}

// port is the port whose data gets to the run, and how many pixels are before it; none where no lead leads back to one.
func (s *runSheet) port() (port string, before int) {
	seen := map[string]bool{}
	for run := s.id; !seen[run]; {
		seen[run] = true
		lead, ok := leadWhere(s.st.Scheme, run, true)
		if !ok {
			return "", 0
		}
		from := s.st.Scheme.Data[lead].From
		if from.Kind == scheme.PortRef {
			return from.String(), before
		}
		run = from.Element
		before += s.st.Scheme.Runs[run].Count
	}
	return "", 0
}

// pitch is from one pixel to the next, in millimetres.
func (s *runSheet) pitch() float64 { return 1000 / float64(s.tape.Pixels.Is) }

// mm is a place so many pixels from data-in as it stands on paper: to the millimetre, or to a tenth where marks are less than 5 mm apart.
func (s *runSheet) mm(pixels float64) string {
	decimals := 0
	if s.pitch()*float64(s.tape.CutEvery) < 5 {
		decimals = 1
	}
	return layout.Quantity(layout.Written(strconv.FormatFloat(pixels*s.pitch(), 'f', decimals, 64) + " mm"))
}

// pixel is a place by pixels: the mark before a pixel, or between which two a joint is.
func (s *runSheet) pixel(at runSpot) string {
	switch {
	case at.mark < 0:
		before := int(math.Floor(at.at - 0.5))
		if before < 0 {
			return "before px" + layout.Thin + "0"
		}
		return fmt.Sprintf("px%s%d | %d", layout.Thin, before, before+1)
	case at.mark == s.run.Count:
		return fmt.Sprintf("after px%s%d", layout.Thin, at.mark-1)
	}
	return fmt.Sprintf("px%s%d", layout.Thin, at.mark)
}

// factory is the factory joints of the run, in pixels from data-in: how far apart, and how many; none where its part tells of none.
func (s *runSheet) factory() (every float64, count int) {
	every = float64(s.tape.JointEvery.Is) * float64(s.tape.Pixels.Is)
	if !s.tape.JointEvery.Given || !(every > 0) {
		return 0, 0
	}
	return every, max(int(math.Ceil(float64(s.run.Count)/every-atMark))-1, 0) // none at the end of the run
}

// atFactory reports whether a factory joint is at a place.
func (s *runSheet) atFactory(at float64) bool {
	every, count := s.factory()
	if count == 0 {
		return false
	}
	k := math.Round(at / every)
	return k >= 1 && k <= float64(count) && math.Abs(at-k*every) < 0.01
}

// jointsIn is how many joints are in a piece; one at its end counts, for it may lie on either side of the cut.
func (s *runSheet) jointsIn(p runPiece) int {
	n := 0
	if every, count := s.factory(); count > 0 {
		upTo := func(m int) int { return min(int(math.Floor(float64(m)/every+atMark)), count) }
		n = upTo(p.to) - upTo(p.from)
	}
	for _, joint := range s.run.Joints {
		if at := float64(joint) * float64(s.tape.Pixels.Is); at > float64(p.from)+atMark && at < float64(p.to)+atMark {
			n++
		}
	}
	return n
}

// ohms is the resistance of a piece from end to end at 20 °C, and between what it lies.
func (s *runSheet) ohms(p runPiece) (is, low, high unit.Ohm) {
	rail := s.tape.Rail
	if p.pole == scheme.Return {
		rail = s.tape.RailReturn.Or(rail)
	}
	metres := unit.OhmPerMetre(float64(p.to-p.from) / float64(s.tape.Pixels.Is))
	joints := unit.Ohm(s.jointsIn(p))
	sum := func(rail unit.OhmPerMetre, joint unit.Ohm) unit.Ohm { return unit.Ohm(rail*metres) + joints*joint }
	return sum(rail.Is, s.tape.Joint.Is), sum(rail.Lower(), s.tape.Joint.Lower()), sum(rail.Upper(), s.tape.Joint.Upper())
}

// copper is that of a cable, and laid that of a data lead: W2, 2 × 4 mm².
func (s *runSheet) copper(id string) string {
	return id + ", " + drafting.CopperWords(s.st.Scheme, s.style, id)
}

func (s *runSheet) laid(lead string) string {
	return lead + ", " + s.cores(lead)
}

func (s *runSheet) cores(lead string) string {
	words, _ := drafting.LaidWords(s.st.Scheme, s.style, s.st.Scheme.Data[lead].Part)
	return words
}

// guarded is what protects a cable that lands on the run, seen from there: its own fuse, else what is behind its far end.
func (s *runSheet) guarded(l runLanding) string {
	c := s.st.Scheme.Cables[l.id]
	far := scheme.FromEnd
	if l.end == scheme.FromEnd {
		far = scheme.ToEnd
	}
	switch {
	case c.Pole == scheme.Return:
		return ""
	case c.Fuse != "":
		return "fuse " + l.id + " " + s.rating(l.id+".fuse")
	}
	switch b := s.st.Network.BehindByWire(l.id, far); {
	case len(b.Fuses) == 1 && len(b.Bare) == 0 && b.Fuses[0] == l.far.String()+".fuse":
		return "fuse " + s.rating(b.Fuses[0])
	case len(b.Fuses) > 0 && len(b.Bare) == 0:
		return "fuse " + s.behind(b)
	case len(b.Fuses) == 0 && len(b.Bare) == 1 && b.Bare[0] == l.far.String():
		return "no fuse"
	case len(b.Fuses)+len(b.Bare) > 0:
		return s.behind(b)
	}
	return ""
}
