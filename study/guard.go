package study

import (
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
