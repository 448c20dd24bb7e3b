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
	return []study.Rule{inletCurrent, wayCurrent, portGround, junctionCurrent, junctionFit}
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
	return a.Say(fmt.Sprintf("%s carries %v in %s; it is rated for %v.", what, amps, study.CaseWords(c), rating.Is), remedy)
}

var inletCurrent = study.Rule{
	Name: "board/inlet-current", Title: "Inlet current", Scope: study.Boards, Safety: true,
	Doc: "The heating (rms) current of each pole of a board's inlet, in every state, its peak and with the cap failed, is compared with the inlet's rating. Up to 1.2 times the rating it fails, beyond that it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := s.Scheme.BoardPart(id)
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
		way, ok := s.Scheme.WayPart(id)
		if !ok {
			return nil
		}
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
	Doc: "The ground core of a data lead shares the return current of its run. Its heating (rms) current, in every state, its peak and with the cap failed, is compared with the rating of the port's ground contact and with what the core itself may carry; except with the cap failed, also with 75 % of the rating of a fuse in the port's ground, " +
		"which would open and stop the data (75 %: fuse application guides; a resettable fuse holds as much at 50 °C in the most careful of five maker series).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		d := s.Scheme.Data[id]
		var found []study.Assessment
		for _, c := range s.Cases() {
			amps := s.Result(c.Name).Data[id].Ground.RMS
			if port, ok := s.Scheme.PortPart(d.From); ok && port.GroundAmps.Given {
				found = append(found, contact("The ground of "+d.From.String(), amps, port.GroundAmps, c, remedyGround))
			}
			if port, ok := s.Scheme.PortPart(d.From); ok && c.Kind != network.CapFailed {
				found = append(found, groundFuse(s, d.From.String(), amps, port, c)...)
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

// held is the share of its rating that the fuse in a port's ground holds for ever, warm.
const held = 0.75

// groundFuse judges the fuse in a port's ground.
func groundFuse(s *study.Study, port string, amps unit.Ampere, p parts.Port, c network.Case) []study.Assessment {
	link, ok := parts.Get[parts.Fuse](s.Scheme.Library, p.GroundFuse)
	if !ok {
		return nil
	}
	limit := held * link.Rating.Is
	a := study.Upper(float64(amps), float64(limit), 0.05, finding.Fails).Fill(c.Name, "A", link.Rating.Basis, link.Rating.Source)
	return []study.Assessment{a.Say(fmt.Sprintf("The fuse in the ground of %s carries %v in %s; it holds %v for sure, and when it opens the data fails.", port, amps, study.CaseWords(c), limit), remedyGround)}
}

const remedyGround = "Improve the return of the run: a thicker or shorter return core, or a second one; or open the data ground where the run has a good return of its own."

var junctionCurrent = study.Rule{
	Name: "board/junction-current", Title: "Junction current", Scope: study.Junctions, Safety: true,
	Doc: "The largest heating (rms) current that one core brings to a contact of a junction is compared with the junction's rating. " +
		"Up to 1.2 times the rating it fails, beyond that it is a danger (common practice, no source).",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a junction part.")
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			amps := s.Network.FullCurrent(s.Result(c.Name), id)
			found = append(found, contact("A contact of "+id, amps, part.Amps, c, "Use a stronger junction, or split the cable."))
		}
		return found
	},
}

var junctionFit = study.Rule{
	Name: "board/junction-fit", Title: "Junction fit", Scope: study.Junctions, Safety: true,
	Doc: "The cores that land on a junction, in the fuller of its two poles, are compared in number with its ways and in cross-section with the largest it takes. A core that is squeezed in makes a bad joint, and a bad joint gets hot without any fuse seeing it.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a junction part.")
		}
		return append([]study.Assessment{crowded(s, id, part)}, thick(s, id, part)...)
	},
}

// crowded compares the cores that land on a junction with its ways.
func crowded(s *study.Study, id string, part *parts.Junction) study.Assessment {
	plus, back := 0, 0
	for _, w := range s.Network.Landings(id) {
		c := s.Scheme.Cables[w]
		cores := max(c.CoresPerPole, 1)
		if c.Pole.Has(scheme.Plus) {
			plus += cores
		}
		if c.Pole.Has(scheme.Return) {
			back += cores
		}
	}
	cores := max(plus, back)
	a := study.Upper(float64(cores), float64(part.Ways), 0, finding.Fails).Fill("", "1", part.Basis, part.Source)
	return a.Say(fmt.Sprintf("%d cores of one pole land on %s; it has %d ways.", cores, id, part.Ways), "Use a junction with more ways.")
}

// thick compares the cross-section of every landing cable with the largest a junction takes.
func thick(s *study.Study, id string, part *parts.Junction) []study.Assessment {
	if !part.AreaMax.Given {
		return nil
	}
	var found []study.Assessment
	for _, w := range s.Network.Landings(id) {
		cable, ok := parts.Get[parts.Cable](s.Scheme.Library, s.Scheme.Cables[w].Part)
		if !ok {
			continue
		}
		a := study.Upper(float64(cable.Area.Is), float64(part.AreaMax.Is), 0, finding.Fails).Fill("", "m2", parts.Weaker(part.AreaMax.Basis, cable.Area.Basis), part.AreaMax.Source)
		found = append(found, a.Say(fmt.Sprintf("%s has cores of %v; %s takes up to %v.", w, cable.Area.Is, id, part.AreaMax.Is), "Use a junction for thicker cores, or a thinner cable where its current allows it."))
	}
	return found
}
