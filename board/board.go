// Package board judges the distribution board and other places where copper is clamped: inlets, ways, port grounds and
// junctions under load, against the ratings of their parts. There is no thermal curve yet: up to 1.2 times its rating a
// contact fails, beyond it is a danger (common practice, no source), whatever opens.
package board

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{inletCurrent, wayCurrent, portGround, junctionCurrent}
}

// grave is the multiple of a contact's rating above which an overload is a danger; common practice, no source.
const grave = 1.2

// contact judges a current through a clamp or contact.
func contact(what string, amps unit.Ampere, rating parts.Value[unit.Ampere], c network.Case, remedy string) study.Assessment {
	over := finding.Fails
	if float64(amps) > grave*float64(rating.Is) {
		over = finding.Danger
	}
	a := study.Upper(float64(amps), float64(rating.Is), 0.05, over).Fill(c.Name, "A", rating.Basis, rating.Source)
	return a.Say(fmt.Sprintf("%s carries %v in %s; it is rated for %v.", what, amps, c.Name, rating.Is), remedy)
}

var inletCurrent = study.Rule{
	Name: "board/inlet-current", Title: "Inlet current", Scope: study.Boards, Safety: true,
	Doc: "The heating (rms) current of each pole of a board's inlet, in every state, its peak and with the cap failed, is compared with the inlet's rating. Up to 1.2 times the rating it fails, beyond that it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Board](s.Scheme.Library, s.Scheme.Boards[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a board part.")
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			r := s.Result(c.Name).Boards[id]
			found = append(found, contact("The inlet of "+id, max(r.Inlet.RMS, r.Return.RMS), part.Inlet.Amps, c, "Move runs to another board, or use one with a larger inlet."))
		}
		return found
	},
}

var wayCurrent = study.Rule{
	Name: "board/way-current", Title: "Way current", Scope: study.Ways, Safety: true,
	Doc: "The heating (rms) current of a way, its fuse holder and its terminal, in every state, its peak and with the cap failed, is compared with the way's rating. Up to 1.2 times the rating it fails, beyond that it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		board, ok := parts.Get[parts.Board](s.Scheme.Library, s.Scheme.Boards[network.BoardOf(id)].Part)
		if !ok {
			return nil
		}
		way := board.Ways[id[len(network.BoardOf(id))+1:]]
		var found []study.Assessment
		for _, c := range s.Cases() {
			amps := s.Result(c.Name).Ways[id].Amps.RMS
			found = append(found, contact(id, amps, way.Amps, c, "Split its load over two ways, or use a board with stronger ways."))
		}
		return found
	},
}

var portGround = study.Rule{
	Name: "board/port-ground", Title: "Port ground current", Scope: study.Leads, Safety: true,
	Doc: "The ground core of a data lead shares the return current of its run. Its heating (rms) current, in every state, its peak and with the cap failed, is compared with the rating of the port's ground contact, and with what the core itself may carry.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		d := s.Scheme.Data[id]
		var found []study.Assessment
		for _, c := range s.Cases() {
			amps := s.Result(c.Name).Data[id].Ground.RMS
			if port, ok := portOf(s, d.From); ok && port.GroundAmps.Given {
				found = append(found, contact("The ground of "+d.From.String(), amps, port.GroundAmps, c, remedyGround))
			}
			if rating, ok := s.Network.LeadAmpacity(id); ok {
				found = append(found, contact("The ground core of "+id, amps, rating, c, remedyGround))
			}
		}
		if found == nil {
			return study.Unknown(fmt.Sprintf("%s: neither the port nor the cable states what its ground may carry.", id), "Give the port ground_amps, or the cable an iz.")
		}
		return found
	},
}

const remedyGround = "Improve the return of the run: a thicker or shorter return core, or a second one; or open the data ground where the run has a good return of its own."

func portOf(s *study.Study, ref scheme.Ref) (parts.Port, bool) {
	if ref.Kind != scheme.PortRef {
		return parts.Port{}, false
	}
	board, ok := parts.Get[parts.Board](s.Scheme.Library, s.Scheme.Boards[ref.Element].Part)
	if !ok {
		return parts.Port{}, false
	}
	port, ok := board.Ports[ref.Socket]
	return port, ok
}

var junctionCurrent = study.Rule{
	Name: "board/junction-current", Title: "Junction current", Scope: study.Junctions, Safety: true,
	Doc: "The largest heating (rms) current that one cable brings to a contact of a junction is compared with the junction's rating; the number of cables is compared with its ways. Up to 1.2 times the rating it fails, beyond that it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a junction part.")
		}
		found := crowded(s, id, part)
		for _, c := range s.Cases() {
			amps := s.Network.FullCurrent(s.Result(c.Name), id)
			found = append(found, contact("A contact of "+id, amps, part.Amps, c, "Use a stronger junction, or split the cable."))
		}
		return found
	},
}

// crowded compares the cables that land on a junction with its ways.
func crowded(s *study.Study, id string, part *parts.Junction) []study.Assessment {
	cables := s.Network.Landings(id)
	value, limit := float64(len(cables)), float64(part.Ways)
	if value <= limit {
		return nil
	}
	a := study.Assessment{Grade: finding.Fails, Value: &value, Limit: &limit, Unit: "1", Basis: part.Amps.Basis, Source: part.Amps.Source}
	return []study.Assessment{a.Say(fmt.Sprintf("%d cables land on %s; it has %d ways.", len(cables), id, part.Ways), "Use a junction with more ways.")}
}
