package remedy

import (
	"math"

	"farend/finding"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// length is how long the cable of a feed is, in text, from a board or supply, and how that is known. Where both ends are drawn it is
// the way along the two directions of the drawing, and as much more as the longest of the run's other feeds from there has over its
// own. Else it is the shortest way that is known to be there: along another feed of the run, then along the run; for a run without
// any, the longest cable from there.
func (f feed) length(from string) (text, label string, known bool) {
	if drawn, ok := f.drawn(from); ok {
		return metres(drawn), scheme.DrawnLength, true
	}
	shortest := unit.Metre(math.Inf(1))
	for _, l := range landings(f.s, f.run) {
		if length, ok := pathFrom(f.s, from, l); ok {
			shortest = min(shortest, length+pitches(f.s, f.run, abs(l.mark-f.mark)))
		}
	}
	if !math.IsInf(float64(shortest), 1) {
		return metres(shortest), scheme.EstimatedLength, true
	}
	longest := unit.Metre(0)
	for _, id := range scheme.IDs(f.s.Scheme.Cables) {
		c := f.s.Scheme.Cables[id]
		if (startsAt(c.From, from) || startsAt(c.To, from)) && c.Length != nil {
			longest = max(longest, *c.Length)
		}
	}
	return metres(longest), scheme.EstimatedLength, longest > 0
}

// startsAt reports whether a place is a supply, or a way of a board.
func startsAt(at scheme.Ref, from string) bool {
	return at.Element == from && (at.Kind == scheme.SupplyRef || at.Kind == scheme.WayRef)
}

// pathFrom is the length of the cables from a board or supply through junctions to where a feed lands.
func pathFrom(s *study.Study, from string, l landing) (unit.Metre, bool) {
	type step struct {
		at   scheme.Ref
		long unit.Metre
	}
	own := s.Scheme.Cables[l.cable].Length
	if own == nil {
		return 0, false
	}
	seen := map[string]bool{}
	for queue := []step{{l.near, *own}}; len(queue) > 0; queue = queue[1:] {
		here := queue[0]
		if startsAt(here.at, from) {
			return here.long, true
		}
		if here.at.Kind == scheme.WayRef { // back through the board to its inlet
			here.at = scheme.Ref{Element: here.at.Element, Kind: scheme.InletRef, Socket: "in"}
		}
		if here.at.Kind != scheme.JunctionRef && here.at.Kind != scheme.InletRef || seen[here.at.String()] {
			continue
		}
		seen[here.at.String()] = true
		for _, id := range s.Network.Landings(here.at.String()) {
			if c := s.Scheme.Cables[id]; c.Length != nil {
				queue = append(queue, step{far(c, here.at.String()), here.long + *c.Length})
			}
		}
	}
	return 0, false
}

// pitches is the length of so many pixels of a run.
func pitches(s *study.Study, run string, pixels int) unit.Metre {
	return unit.Metre(float64(pixels) / float64(s.Scheme.Tape(run).Pixels.Is))
}

// drawn is the length by the drawing.
func (f feed) drawn(from string) (unit.Metre, bool) {
	straight, ok := f.distance(from, f.mark)
	if !ok {
		return 0, false
	}
	more := 0.0
	for _, l := range landings(f.s, f.run) {
		if c := f.s.Scheme.Cables[l.cable]; c.Length != nil && startsAt(l.near, from) {
			direct, _ := f.distance(from, l.mark)
			more = max(more, float64(*c.Length)-direct)
		}
	}
	return unit.Metre(straight + more), true
}

// distance is how far a mark of the run is from a board or supply, along the two directions of the drawing.
func (f feed) distance(from string, mark int) (float64, bool) {
	a, ok := f.s.Scheme.Spot(from, 0)
	b, too := f.s.Scheme.Spot(f.run, mark)
	return math.Abs(a[0]-b[0]) + math.Abs(a[1]-b[1]), ok && too
}

// Reaching makes a cable or data lead as long as it has to be at the least by the drawing; where it has no label it gets that of a length which nobody
// measured. It makes none longer than any cable may be.
func Reaching(s *study.Study, id string) []finding.Edit {
	least := s.Scheme.LeastWay(id)
	if least > scheme.MaxMetres {
		return nil
	}
	section, label := "cables", s.Scheme.Cables[id].Label
	if lead, is := s.Scheme.Data[id]; is {
		section, label = "data", lead.Label
	}
	edits := []finding.Edit{edit(metres(least), section, id, "length")}
	if label == "" {
		edits = append(edits, edit(scheme.DrawnLength, section, id, "label"))
	}
	return edits
}

// metres is a length rounded up to 0.1 m, in text.
func metres(length unit.Metre) string { return plain(math.Ceil(float64(length)*10-1e-6)/10) + " m" }
