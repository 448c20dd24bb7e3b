package study

import (
	"math"
	"slices"
	"strings"

	"farend/conductor"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// Scorching is how warm a surface of which nobody knows how it burns may get in a fault.
const Scorching unit.Celsius = 115

// ScorchingSource says whence Scorching is.
func ScorchingSource() Source {
	return Source{Title: "IEC 60598-1", Basis: parts.Standard, Says: "a mounting surface of unknown flammability: 95 °C in normal use, 115 °C in a fault", Read: "a lamp maker's page"}
}

// boundless is the limit of what has none, or of which none is known: rules that judge it by its load say so.
var boundless = unit.Ampere(math.Inf(1))

// A BearerKind says by what a conductor is judged.
type BearerKind string

const (
	OfCore    BearerKind = "core"    // of a cable or data lead: IEC 60364-4-43
	OfRails   BearerKind = "rails"   // of tape
	OfContact BearerKind = "contact" // of a board, junction, connector, holder or contactor
)

// A Bearer is a conductor with what it bears.
type Bearer struct {
	Name   string // W3.plus, W3.plus contact X1, E1, A1.1.plus, Q1
	Owner  string // the thing that it is part of: W3, X1, E1, A1.1
	Kind   BearerKind
	Limit  unit.Ampere             // for ever; without end where nothing says
	Rating Number                  // what says so, as it is stated: of a core alone at 30 °C, of contacts of one
	Stands unit.AmpereSquareSecond // of a core k²S², of rails the I²t that takes them from ambient to conductor.Clamp; 0 of a contact
	Hot    unit.Ampere             // of rails, what makes them Scorching for ever, as far as their tape says (rail_rise); 0 otherwise
	Brief  unit.Ampere             // of rails, what makes them warmer by 100 K at the most, and no more than conductor.Clamp, likewise
	Guards []Guard                 // those each of which is the only one that feeds a piece of it, see network.Network.Sole
	Paired bool                    // none of these, or all that may feed either end of a core together, is larger than its limit, nor opens from more than 1.45 times that

	plus *Bearer         // of a return, its plus: what that sends home by it is guarded alike
	at   []int           // where its currents stand among those of the conductors; it carries their sum
	core *conductor.Core // of cables
	area unit.SquareMetre
	air  unit.Celsius
	rise unit.Kelvin // what Limit warms rails by; 0 where nothing says
}

// share is how much of what a conductor bears a current uses up in a time; for what it warms melts counts, where that is shorter. Of cores
// by I²t over what they stand in a short, which no time makes less true, for a core that gives off heat is cooler; beyond 5 s by how long they bear
// it (conductor.Core.Bears), if that is longer. Of
// rails by I²t above what makes them Scorching in the end, or in up to 5 s by 100 K warmer: nothing says how fast they warm, and below that they
// take no harm. Of contacts of a minute
// (practice); of rails whose tape does not say how warm they get likewise, and above three times their rating by I²t, too, if that is more: it
// would warm them twelve times as much as the rating does (IPC-2221: ΔT goes with I^(1/0.44)).
//
// What is Paired bears what its fuses let through below twice its rating, however long they take: that is what 433.1 of IEC 60364-4-43 makes
// of cables (for contacts and rails practice). A contact bears more than that, too, unless it takes longer than Patience.
func (b *Bearer) share(amps unit.Ampere, t, melts unit.Second, paired bool) float64 {
	const hot, twice = 3, 2
	heat := float64(amps*amps) * float64(melts)
	switch {
	case amps <= max(b.Limit, b.Hot), t <= conductor.AdiabaticTo && amps <= b.Brief:
		return 0
	case b.Hot > 0:
		return heat / float64(b.Stands)
	case paired && (amps < twice*b.Limit || b.Kind == OfContact && t <= Patience):
		return 0
	case b.Kind == OfRails && b.Stands > 0 && amps > hot*b.Limit:
		return max(float64(t/Patience), heat/float64(b.Stands))
	case b.Kind != OfCore:
		return float64(t / Patience)
	}
	used := heat / float64(b.Stands)
	if t > conductor.AdiabaticTo {
		used = min(used, float64(t/b.core.Bears(amps, b.area)))
	}
	return used
}

// Celsius is how warm a conductor gets of what it oversteps, from the temperature of the air: of what lasts in the end; of what ends no warmer
// than that, nor than all its heat makes it that does not leave it. Beyond conductor.Clamp, and for rails beyond 100 K, it is no less than
// what is told. It is not ok of a contact, and of rails whose tape does not say how warm they get.
func (b *Bearer) Celsius(o Overstepped) (t unit.Celsius, ok bool) {
	if b.Kind == OfContact || b.Kind == OfRails && b.rise == 0 {
		return 0, false
	}
	inTheEnd := func(amps unit.Ampere) unit.Celsius {
		if b.Kind == OfCore {
			t, _ := b.core.Temperature(amps)
			return t
		}
		return b.air + unit.Celsius(conductor.TraceRise(b.Limit, b.rise, amps))
	}
	return max(inTheEnd(o.Lasts), min(inTheEnd(o.Amps), conductor.Warmed(b.area, b.air, o.Heat))), true
}

// Area is the copper of a core, all cores of its pole together; of the thinner of two rails.
func (b *Bearer) Area() unit.SquareMetre { return b.area }

// Bound is for how long a core bears a current beyond the time for which k²S² holds, see conductor.Core.Bears.
func (b *Bearer) Bound(amps unit.Ampere) unit.Second { return b.core.Bears(amps, b.area) }

// of is what a bearer carries, of the currents of all conductors.
func (b *Bearer) of(currents []unit.Ampere) unit.Ampere {
	sum := unit.Ampere(0)
	for _, i := range b.at {
		sum += currents[i]
	}
	return sum
}

// bearersOf are the conductors of the network, in its order and placed by name, with what each may carry for ever; and after them what has
// no resistance of its own there: the contacts of contactors, which carry what their cable does, and the return terminals of ways, which carry the
// returns of all cables that land there.
func (k *striker) bearersOf(conductors []network.Conductor, place map[string]int) []Bearer {
	s := k.s
	var list []Bearer
	add := func(b Bearer, sole []string) {
		k.guarded(&b, sole)
		list = append(list, b)
	}
	for i, c := range conductors {
		may := s.rated(c)
		b := Bearer{Name: c.Name, Owner: ownerOf(c), Kind: OfContact, at: []int{i}, Limit: may.limit, Rating: may.of}
		if c.Core != nil {
			b.Kind, b.core, b.area, b.air = OfCore, c.Core, s.copper(c.Cable), c.Core.Ambient
			stands, ok := conductor.Withstand(c.Core.Limit, b.area)
			if !ok {
				stands = conductor.Warms(b.area, c.Core.Limit, conductor.Clamp)
			}
			b.Stands = stands
		}
		if tape := s.Scheme.Tape(c.Name); tape != nil {
			b.Kind, b.area, b.air = OfRails, thinner(tape), s.Scheme.Ambient()
			b.Stands = conductor.Warms(b.area, b.air, conductor.Clamp)
			if tape.RailRise.Given {
				b.rise = tape.RailRise.Is
				b.Hot = conductor.Trace(b.Limit, tape.RailRise.Is, unit.Kelvin(Scorching-s.Scheme.Ambient()))
				b.Brief = conductor.Trace(b.Limit, tape.RailRise.Is, unit.Kelvin(conductor.Clamp-s.Scheme.Ambient()))
			}
		}
		add(b, s.Network.Sole(i))
	}
	for _, id := range scheme.IDs(s.Scheme.Contactors) {
		relay, _ := parts.Get[parts.Relay](s.Scheme.Library, s.Scheme.Contactors[id].Part)
		if at, there := place[s.Scheme.Contactors[id].In+".plus"]; there && relay != nil {
			may := rate(s.Scheme.Contactors[id].Part, "amps", relay.Amps)
			add(Bearer{Name: id, Owner: id, Kind: OfContact, at: []int{at}, Limit: may.limit, Rating: may.of}, s.Network.Sole(at))
		}
	}
	for _, way := range s.Network.Ways() {
		board, socket, _ := strings.Cut(way, ".")
		may := s.boardRated(board, socket+".return")
		back := Bearer{Name: way + ".return", Owner: way, Kind: OfContact, Limit: may.limit, Rating: may.of}
		for _, cable := range s.Network.Landings(way) {
			if at, there := place[cable+".return"]; there {
				back.at = append(back.at, at)
			}
		}
		if len(back.at) > 0 {
			add(back, nil)
		}
	}
	twin(list)
	return list
}

// guarded notes the fuses that a conductor has to itself, and whether what feeds it suits it.
func (k *striker) guarded(b *Bearer, sole []string) {
	for _, name := range sole {
		if at, is := k.guardAt[name]; is && k.known[at] {
			b.Guards = append(b.Guards, k.guards[at])
		}
	}
	if len(b.Guards) < len(sole) {
		b.Guards = nil
	}
	_, power := k.s.Scheme.Cables[b.Owner]
	if !power || b.Kind != OfCore {
		b.Paired = len(b.Guards) > 0 && !slices.ContainsFunc(sole, func(fuse string) bool { return !k.suit(b.Limit, fuse) })
		return
	}
	from, to := k.s.Network.Behind(b.Owner, "from"), k.s.Network.Behind(b.Owner, "to")
	b.Paired = b.Name == b.Owner+".plus" && len(from.Bare)+len(to.Bare) == 0 && k.suit(b.Limit, from.Fuses...) && k.suit(b.Limit, to.Fuses...)
}

// suit reports whether fuses together are rated no more than a conductor may carry, and surely open from 1.45 times that (IEC 60364-4-43, 433.1).
func (k *striker) suit(limit unit.Ampere, fuses ...string) bool {
	rated, opens := unit.Ampere(0), unit.Ampere(0)
	for _, name := range fuses {
		at, is := k.guardAt[name]
		if !is || !k.known[at] {
			return false
		}
		rated, opens = rated+k.guards[at].Fuse.Rating.Is, opens+k.cold[at].Threshold()
	}
	return rated <= limit && opens <= conductor.Bearable*limit
}

// twin gives the return of each cable, contact, inlet and way its plus, where that is made for no more than it.
func twin(list []Bearer) {
	at := map[string]int{}
	for i := range list {
		at[list[i].Name] = i
	}
	for i := range list {
		name := strings.Replace(list[i].Name, ".return", ".plus", 1)
		if plus, there := at[name]; there && name != list[i].Name && list[plus].Limit <= list[i].Limit {
			list[i].plus = &list[plus]
		}
	}
}

// paired reports whether a conductor is so in a state: a return that brings home no more than its plus sends is guarded as that is.
func (b *Bearer) paired(currents []unit.Ampere) bool {
	return b.Paired || b.plus != nil && b.plus.Paired && b.of(currents) <= alike*b.plus.of(currents)
}

// alike is how much more than its plus a return may carry and count as carrying no more.
const alike = 1.01

// homeward reports whether what goes on in a return for longer than Patience, in a strike, is no more than what goes on in its plus: it is then
// guarded as that is. Where several ways feed a run, or a data ground joins the returns of two, more may come home than was sent.
func (o Overstepped) homeward(k *Strike) bool {
	b := o.Bearer
	if b.Paired || b.plus == nil || !b.plus.Paired {
		return false
	}
	at := slices.IndexFunc(k.Over, func(other Overstepped) bool { return other.Bearer == b.plus })
	return at >= 0 && o.Lasts <= alike*k.Over[at].Lasts && max(o.Lasts, o.Long) <= alike*max(k.Over[at].Lasts, k.Over[at].Long)
}

// ownerOf is the thing that a conductor is part of: of a contact at a junction that, of one on a board its inlet, way or port.
func ownerOf(c network.Conductor) string {
	name, at, contact := strings.Cut(c.Name, " contact ")
	switch {
	case contact && !strings.HasPrefix(at, "at "):
		return at
	case c.Cable != "":
		return c.Cable
	}
	if dot := strings.LastIndexByte(name, '.'); dot > 0 {
		return name[:dot]
	}
	return name
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

// A rating is what a conductor may carry for ever, and the number that says so; boundless where none does.
type rating struct {
	limit unit.Ampere
	of    Number
}

// rate is the lower end of a rating of a part.
func rate(part, key string, v parts.Value[unit.Ampere]) rating {
	if !v.Given {
		return rating{limit: boundless}
	}
	return rating{v.Lower(), Stated(part, key, v)}
}

// rated is what a conductor may carry for ever.
func (s *Study) rated(c network.Conductor) rating {
	switch owner, socket, _ := strings.Cut(c.Name, "."); {
	case c.Core != nil:
		return s.coreRated(c)
	case s.Scheme.Boards[owner].Part != "": // the ground of a port, too, which is in line with that of a lead
		return s.boardRated(owner, socket)
	case c.Cable != "":
		return s.contactRated(c)
	case s.Scheme.Runs[c.Name].Tape != "":
		return rate(s.Scheme.Runs[c.Name].Tape, "rail_amps", s.Scheme.Tape(c.Name).RailAmps)
	}
	return rating{limit: boundless}
}

func (s *Study) coreRated(c network.Conductor) rating {
	name, method := s.Scheme.Data[c.Cable].Part, scheme.Conduit
	if cable, is := s.Scheme.Cables[c.Cable]; is {
		name = cable.Part
		_, method, _, _ = cable.Env(s.Scheme)
	}
	part, _ := parts.Get[parts.Cable](s.Scheme.Library, name)
	iz := network.Ampacity(part, method)
	if !iz.Given {
		return rating{limit: boundless}
	}
	return rating{c.Core.Iz, Stated(name, "iz."+string(method), iz)}
}

// contactRated is what the contacts of one pole of a cable at one of its ends may carry together: cores in parallel land on a contact
// of a junction each, and share one of a connector. Of a fuse it is its holder.
func (s *Study) contactRated(c network.Conductor) rating {
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
	name := s.Scheme.Junctions[at].Part
	part, ok := parts.Get[parts.Junction](s.Scheme.Library, name)
	if !ok {
		return rating{limit: boundless}
	}
	one := rate(name, "amps", part.Amps)
	one.limit *= unit.Ampere(cable.PerPole())
	return one
}

func (s *Study) connectorRated(name string) rating {
	part, ok := parts.Get[parts.Connector](s.Scheme.Library, name)
	if !ok {
		return rating{limit: boundless}
	}
	return rate(name, "amps", part.Amps)
}

// boardRated is what a contact of a board may carry: of its inlet, a way, or the ground of a port.
func (s *Study) boardRated(board, socket string) rating {
	name := s.Scheme.Boards[board].Part
	part, ok := s.Scheme.BoardPart(board)
	if !ok {
		return rating{limit: boundless}
	}
	at, _, _ := strings.Cut(socket, ".")
	if at == "in" {
		return rate(name, "inlet.amps", part.Inlet.Amps)
	}
	if way, is := part.Ways[at]; is && (strings.HasSuffix(socket, ".plus") || strings.HasSuffix(socket, ".return")) {
		return rate(name, "ways."+at+".amps", way.Amps)
	}
	if port, is := part.Ports[at]; is && strings.HasSuffix(socket, ".ground") {
		return rate(name, "ports."+at+".ground_amps", port.GroundAmps)
	}
	return rating{limit: boundless}
}
