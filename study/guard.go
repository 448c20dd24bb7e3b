package study

import (
	"fmt"
	"slices"
	"strings"

	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Guard is a fuse where it stands.
type Guard struct {
	Name string       // A1.1.fuse, W1.fuse, A1.P1.ground fuse
	At   string       // the way, cable or port: A1.1
	Part string       // "choose" where it is still open
	Fuse *parts.Fuse  // nil where it is still open
	Warm unit.Celsius // the hottest air around it
	Cold unit.Celsius // the coldest
}

// Guard is the fuse of that name; it is not ok where there is none.
func (s *Study) Guard(name string) (g Guard, ok bool) {
	at, kind, _ := strings.Cut(name, ".ground fuse")
	ground := at != name
	if !ground {
		at, _ = strings.CutSuffix(name, ".fuse")
	}
	g = Guard{Name: name, At: at + kind, Warm: s.Scheme.Ambient(), Cold: s.Scheme.Coldest()}
	cable, inline := s.Scheme.Cables[at]
	switch {
	case ground:
		lead, found := s.grounded(at)
		if !found {
			return g, false
		}
		port, _ := s.Scheme.PortPart(s.Scheme.Data[lead].From)
		g.Part = port.GroundFuse
	case inline:
		g.Part = cable.Fuse
		g.Warm, _, _, _ = cable.Env(s.Scheme)
		g.Cold = min(g.Cold, g.Warm)
	default:
		g.Part = s.Scheme.Fuses[at]
	}
	g.Fuse, _ = parts.Get[parts.Fuse](s.Scheme.Library, g.Part)
	return g, g.Part != ""
}

// grounded is the data lead whose ground is joined to a port.
func (s *Study) grounded(port string) (lead string, ok bool) {
	for _, id := range scheme.IDs(s.Scheme.Data) {
		if d := s.Scheme.Data[id]; d.From.String() == port && d.Ground != scheme.OpenGround {
			return id, true
		}
	}
	return "", false
}

// Guards lists the fuses of the scheme: of ways, of cables, and in the grounds of ports from which a lead goes out.
func (s *Study) Guards() []Guard {
	var all []Guard
	note := func(name string) {
		if g, ok := s.Guard(name); ok {
			all = append(all, g)
		}
	}
	for _, way := range s.Network.Ways() {
		note(way + ".fuse")
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		note(id + ".fuse")
	}
	for _, id := range scheme.IDs(s.Scheme.Data) {
		if from := s.Scheme.Data[id].From; from.Kind == scheme.PortRef {
			note(from.String() + ".ground fuse")
		}
	}
	return slices.CompactFunc(all, func(a, b Guard) bool { return a.Name == b.Name })
}

// CarriedBy is what a fuse carries in a case: outwards from a way, along a cable or lead.
func (s *Study) CarriedBy(g Guard, c network.Case) network.Current {
	r := s.Result(c.Name)
	if at, ok := r.Ways[g.At]; ok {
		return at.Amps
	}
	if at, ok := r.Cables[g.At]; ok {
		return at.Plus
	}
	if lead, ok := s.grounded(g.At); ok {
		return r.Data[lead].Ground
	}
	return network.Current{}
}

// Band is when a fuse opens in air of a temperature; it is not ok where it is not chosen, or its part names no curve.
func (s *Study) Band(g Guard, air unit.Celsius) (band fuse.Band, ok bool) {
	if g.Fuse == nil {
		return fuse.Band{}, false
	}
	curve, ok := network.Curve(s.Scheme.Library, g.Fuse)
	if !ok {
		return fuse.Band{}, false
	}
	return curve.Band(g.Fuse.Rating.Is, air), true
}

// Patience is how long a contact, a board or a rail may carry more than its rating before a fuse has to have ended it, where nothing
// says how fast it warms.
const Patience unit.Second = 60

// PatienceSource says whence Patience is.
func PatienceSource() Source {
	return Source{Title: "common practice, no source", Basis: parts.Practice, Says: "an overload that a fuse surely ends within 60 s does a contact, a board or a rail no harm, where there is no thermal curve"}
}

// An Ending is how an overload ends: the fuses that must all open to end it, what each is sure to carry until it does, and after how
// long they have opened. Within is fuse.Never where it may last.
type Ending struct {
	Guards []Guard
	Amps   []unit.Ampere
	Within unit.Second
}

// Ending is how an overload of a part ends in a case by the fuses through which its current comes: the soonest of several ways to be
// relieved, each of which is what feeds the part there. A supply without a fuse goes on feeding it. Limit is what the part may
// carry.
//
// The fuses are cold and in the coldest air when it begins, and each carries what it does in the case as long as nothing else takes
// some of that away. Where a fuse beyond it may open too, the overload may become less: as long as it is one, a fuse that feeds
// the part alone carries more than the part's limit, and of several none is sure to carry anything.
func (s *Study) Ending(c network.Case, limit unit.Ampere, ways ...network.Behind) Ending {
	best := Ending{Within: fuse.Never}
	for i, b := range ways {
		if e := s.endingBy(c, limit, b); i == 0 || e.Within < best.Within {
			best = e
		}
	}
	return best
}

func (s *Study) endingBy(c network.Case, limit unit.Ampere, b network.Behind) Ending {
	e := Ending{Within: fuse.Never}
	last := unit.Second(0)
	for _, name := range b.Fuses {
		g, ok := s.Guard(name)
		if !ok {
			return e
		}
		carried := s.sure(c, g, limit, b.Fuses)
		e.Guards, e.Amps = append(e.Guards, g), append(e.Amps, carried)
		opens := fuse.Never
		if band, known := s.Band(g, g.Cold); known {
			opens = band.Opens(carried)
		}
		last = max(last, opens)
	}
	if len(b.Fuses) > 0 && len(b.Bare) == 0 {
		e.Within = last
	}
	return e
}

// sure is what a fuse, one of all that feed a part, surely carries in a case as long as the part is over its limit.
func (s *Study) sure(c network.Case, g Guard, limit unit.Ampere, all []string) unit.Ampere {
	carried := s.CarriedBy(g, c)
	if strings.HasSuffix(g.Name, ".ground fuse") {
		return carried.RMS // nothing is beyond it but its lead
	}
	for _, name := range s.Network.Beyond(g.Name, carried.Mean >= 0) {
		switch {
		case slices.Contains(all, name) || !s.mayOpen(c, name):
		case len(all) > 1:
			return 0
		default:
			return min(carried.RMS, limit)
		}
	}
	return carried.RMS
}

// mayOpen reports whether a fuse may open in a case that lasts, in its warmest air.
func (s *Study) mayOpen(c network.Case, name string) bool {
	g, ok := s.Guard(name)
	if !ok {
		return false
	}
	band, known := s.Band(g, g.Warm)
	return !known || band.Lasting(s.CarriedBy(g, c).RMS) != fuse.HoldsForEver
}

// Words says how an overload ends, or why none may be sure of it, in a sentence that goes on after another.
func (e Ending) Words(allowed unit.Second) string {
	if len(e.Guards) == 0 {
		return "No fuse ends that."
	}
	var names []string
	for _, g := range e.Guards {
		names = append(names, g.Name)
	}
	list := strings.Join(names, " and ")
	switch {
	case e.Within == fuse.Never && len(names) > 1:
		return fmt.Sprintf("%s may hold that for ever.", list)
	case e.Within == fuse.Never && e.Amps[0] > 0:
		return fmt.Sprintf("%s may hold %v for ever.", list, e.Amps[0])
	case e.Within == fuse.Never:
		return fmt.Sprintf("%s may hold that for ever.", list)
	case e.Within > allowed:
		return fmt.Sprintf("%s surely opens only within %v; it has %v.", list, e.Within, allowed)
	}
	return fmt.Sprintf("%s opens within %v.", list, e.Within)
}

// EndedBy lists the numbers that decide how an overload ends: of each fuse its rating, the gate by which it opens, and what cold air
// makes of its rating.
func (s *Study) EndedBy(e Ending) []Number {
	var numbers []Number
	for i, g := range e.Guards {
		if g.Fuse == nil {
			continue
		}
		numbers = append(numbers, Stated(g.Part, "rating", g.Fuse.Rating))
		numbers = append(numbers, s.gate(g, e.Amps[i])...)
		numbers = append(numbers, s.derated(g)...)
	}
	return numbers
}

// gate is the gate by which a fuse opens at a current.
func (s *Study) gate(g Guard, amps unit.Ampere) []Number {
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	band, known := s.Band(g, g.Cold)
	if !ok || !known {
		return nil
	}
	opens := band.Opens(amps)
	for i, gate := range curve.Gates {
		if gate.Max.Given && gate.Max.Is == opens {
			return []Number{Stated(g.Fuse.Curve, fmt.Sprintf("gates.%d.max", i+1), gate.Max)}
		}
	}
	return nil
}

// derated is what cold air makes of a fuse's rating, where its curve says so and that is not all of it.
func (s *Study) derated(g Guard) []Number {
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	if !ok {
		return nil
	}
	for i, d := range curve.Derating {
		if g.Cold <= d.At.Is {
			if i == 0 || d.Factor.Is == curve.Derating[i-1].Factor.Is && d.Factor.Is == 1 {
				return nil
			}
			return []Number{Stated(g.Fuse.Curve, fmt.Sprintf("derating.%d.factor", i+1), d.Factor), Stated(g.Fuse.Curve, fmt.Sprintf("derating.%d.factor", i), curve.Derating[i-1].Factor)}
		}
	}
	return nil
}
