package remedy

import (
	"slices"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// relieve makes all stronger that carries more than it may with the cap failed in the current of a fuse: a larger fuse would end that
// later, or never. It is not ok where something of it cannot be made stronger.
func relieve(s *study.Study, fuse string) (edits []finding.Edit, ok bool) {
	r := s.Result(string(network.CapFailed))
	if r == nil {
		return nil, true
	}
	whole := true
	add := func(more []finding.Edit) {
		whole = whole && more != nil
		edits = merged(edits, more)
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		if through(s, id, fuse) {
			strengthen(s, r, id, add)
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Data) {
		rating, said := s.Network.LeadAmpacity(id)
		if said && r.Data[id].Ground.RMS > rating.Is && slices.Contains(s.Network.Fed(s.Scheme.Data[id].To.Element).Fuses, fuse) {
			add(Ground(s, id, float64(roomy*rating.Is/r.Data[id].Ground.RMS)))
		}
	}
	for _, id := range scheme.IDs(s.Scheme.Runs) {
		tape := s.Scheme.Tape(id)
		if tape != nil && tape.RailAmps.Given && r.Runs[id].RailAmps > tape.RailAmps.Lower() && slices.Contains(s.Network.Fed(id).Fuses, fuse) {
			add(Rails(s, id))
		}
	}
	return edits, whole
}

// through reports whether a fuse is in a cable, or the first on the way to what feeds it.
func through(s *study.Study, cable, fuse string) bool {
	return fuse == cable+".fuse" || slices.Contains(s.Network.Behind(cable, "from").Fuses, fuse) || slices.Contains(s.Network.Behind(cable, "to").Fuses, fuse)
}

// strengthen adds the edits for a cable and the contacts at its ends that carry more than they may in a case.
func strengthen(s *study.Study, r *network.Result, cable string, add func([]finding.Edit)) {
	c, at := s.Scheme.Cables[cable], r.Cables[cable]
	amps := max(at.Plus.RMS, at.Return.RMS)
	if amps > at.Iz {
		add(Relieved(s, cable))
	}
	for _, e := range connectors(c) {
		if p, ok := parts.Get[parts.Connector](s.Scheme.Library, e.part); ok && amps > p.Amps.Is {
			add(plugs(s, cable))
		}
	}
	for _, end := range ends(c) {
		junction, spliced := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[end.Element].Part)
		board, boarded := s.Scheme.BoardPart(end.Element)
		switch {
		case end.Kind == scheme.JunctionRef && spliced && s.Network.FullCurrent(r, end.Element) > junction.Amps.Is:
			add(Junction(s, end.Element))
		case end.Kind == scheme.InletRef && boarded && amps > board.Inlet.Amps.Is, end.Kind == scheme.WayRef && boarded && amps > board.Ways[end.Socket].Amps.Is:
			add(Board(s, end.Element))
		}
	}
}
