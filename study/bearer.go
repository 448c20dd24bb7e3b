package study

import (
	"math"
	"strings"

	"farend/conductor"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// boundless is the limit of what has none, or of which none is known: rules that judge it by its load say so.
var boundless = unit.Ampere(math.Inf(1))

// A bearer is a conductor with what it bears.
type bearer struct {
	name  string
	at    []int                   // where its currents stand among those of the conductors; it carries their sum
	limit unit.Ampere             // for ever
	core  *conductor.Core         // of cables
	area  unit.SquareMetre        // of cables: all cores of the pole together
	rails unit.AmpereSquareSecond // of tape: the I²t that takes a rail from ambient to conductor.Clamp
}

// share is how much of what a conductor bears a current uses up in a time. Of cores by I²t over what they stand in a short, which no time
// makes less true, for a core that gives off heat is cooler; beyond 5 s by how long they bear it (conductor.Core.Bears), if that is longer. Of
// anything else of a minute (practice); of rails above three times their rating by I²t, too, if that is more: it would warm them by more than
// 100 K in the end, twelve times what the rating does (IPC-2221: ΔT goes with I^(1/0.44)), and nothing says how fast.
func (b bearer) share(amps unit.Ampere, t unit.Second) float64 {
	const hot = 3
	heat := float64(amps*amps) * float64(t)
	switch {
	case amps <= b.limit:
		return 0
	case b.core == nil && b.rails > 0 && amps > hot*b.limit:
		return max(float64(t/Patience), heat/float64(b.rails))
	case b.core == nil:
		return float64(t / Patience)
	}
	stands, ok := conductor.Withstand(b.core.Limit, b.area)
	if !ok {
		stands = conductor.Warms(b.area, b.core.Limit, conductor.Clamp)
	}
	used := heat / float64(stands)
	if t > conductor.AdiabaticTo {
		used = min(used, float64(t/b.core.Bears(amps, b.area)))
	}
	return used
}

// bearers are the conductors of the network, in its order and placed by name, with what each may carry for ever; and after them what has no resistance of
// its own there: the contacts of contactors, which carry what their cable does, and the return terminals of ways, which carry the
// returns of all cables that land there.
func (s *Study) bearers(conductors []network.Conductor, place map[string]int) []bearer {
	var list []bearer
	for i, c := range conductors {
		b := bearer{name: c.Name, at: []int{i}, limit: s.rated(c)}
		if c.Core != nil {
			b.core, b.area = c.Core, s.copper(c.Cable)
		}
		if tape := s.Scheme.Tape(c.Name); tape != nil {
			b.rails = conductor.Warms(thinner(tape), s.Scheme.Ambient(), conductor.Clamp)
		}
		list = append(list, b)
	}
	for _, id := range scheme.IDs(s.Scheme.Contactors) {
		relay, _ := parts.Get[parts.Relay](s.Scheme.Library, s.Scheme.Contactors[id].Part)
		if at, there := place[s.Scheme.Contactors[id].In+".plus"]; there && relay != nil {
			list = append(list, bearer{name: id, at: []int{at}, limit: lowest(relay.Amps)})
		}
	}
	for _, way := range s.Network.Ways() {
		part, ok := s.Scheme.WayPart(way)
		back := bearer{name: way + ".return"}
		for _, cable := range s.Network.Landings(way) {
			if at, there := place[cable+".return"]; there {
				back.at = append(back.at, at)
			}
		}
		if ok && len(back.at) > 0 {
			back.limit = lowest(part.Amps)
			list = append(list, back)
		}
	}
	return list
}

// thinner is the copper of the thinner rail of a tape, as thin as its spread lets it be: of its resistance at 17.241 nΩ·m (IEC 60028). A
// supply at its limit drives the same current through it.
func thinner(tape *parts.Tape) unit.SquareMetre {
	const copper = 17.241e-9
	return unit.SquareMetre(copper / float64(max(tape.Rail.Upper(), tape.RailReturn.Or(tape.Rail).Upper())))
}

// copper is the cross-section of one pole of a cable, all its cores together, or of one core of a lead.
func (s *Study) copper(id string) unit.SquareMetre {
	name, cores := s.Scheme.Data[id].Part, 1
	if c, is := s.Scheme.Cables[id]; is {
		name = c.Part
		_, _, _, cores = c.Env(s.Scheme)
	}
	part, _ := parts.Get[parts.Cable](s.Scheme.Library, name)
	return part.Area.Is * unit.SquareMetre(cores)
}

// rated is what a conductor may carry for ever; boundless where nothing says.
func (s *Study) rated(c network.Conductor) unit.Ampere {
	switch owner, socket, _ := strings.Cut(c.Name, "."); {
	case c.Core != nil:
		return s.coreRated(c)
	case c.Cable != "":
		return s.contactRated(c)
	case s.Scheme.Runs[c.Name].Tape != "":
		return lowest(s.Scheme.Tape(c.Name).RailAmps)
	case s.Scheme.Boards[owner].Part != "":
		return s.boardRated(owner, socket)
	}
	return boundless
}

func (s *Study) coreRated(c network.Conductor) unit.Ampere {
	name, method := s.Scheme.Data[c.Cable].Part, scheme.Conduit
	if cable, is := s.Scheme.Cables[c.Cable]; is {
		name = cable.Part
		_, method, _, _ = cable.Env(s.Scheme)
	}
	part, _ := parts.Get[parts.Cable](s.Scheme.Library, name)
	if !network.Ampacity(part, method).Given {
		return boundless
	}
	return c.Core.Iz
}

// contactRated is what the contacts of one pole of a cable at one of its ends may carry together: cores in parallel land on a contact
// of a junction each, and share one of a connector. Of a fuse it is its holder.
func (s *Study) contactRated(c network.Conductor) unit.Ampere {
	cable := s.Scheme.Cables[c.Cable]
	_, at, contact := strings.Cut(c.Name, " contact ")
	switch {
	case !contact && strings.HasSuffix(c.Name, ".fuse"):
		link, _ := parts.Get[parts.Fuse](s.Scheme.Library, cable.Fuse)
		return s.connectorRated(link.Seat)
	case at == "at from":
		return s.connectorRated(cable.Ends.From)
	case at == "at to":
		return s.connectorRated(cable.Ends.To)
	}
	part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[at].Part)
	if !ok {
		return boundless
	}
	return lowest(part.Amps) * unit.Ampere(max(cable.CoresPerPole, 1))
}

func (s *Study) connectorRated(name string) unit.Ampere {
	part, ok := parts.Get[parts.Connector](s.Scheme.Library, name)
	if !ok {
		return boundless
	}
	return lowest(part.Amps)
}

// boardRated is what a contact of a board may carry: of its inlet, a way, or the ground of a port.
func (s *Study) boardRated(board, socket string) unit.Ampere {
	part, ok := s.Scheme.BoardPart(board)
	if !ok {
		return boundless
	}
	at, _, _ := strings.Cut(socket, ".")
	if at == "in" {
		return lowest(part.Inlet.Amps)
	}
	if way, is := part.Ways[at]; is && strings.HasSuffix(socket, ".plus") {
		return lowest(way.Amps)
	}
	if port, is := part.Ports[at]; is && strings.HasSuffix(socket, ".ground") {
		return lowest(port.GroundAmps)
	}
	return boundless
}

// lowest is the lower end of a rating; boundless where none is stated.
func lowest(v parts.Value[unit.Ampere]) unit.Ampere {
	if !v.Given {
		return boundless
	}
	return v.Lower()
}
