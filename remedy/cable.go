package remedy

import (
	"cmp"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Thicker puts the thinnest cable of the same family in the place of a cable of which each pole may carry so much where it lies,
// with junctions and connectors that take it.
func Thicker(s *study.Study, cable string, need unit.Ampere) []finding.Edit {
	c := s.Scheme.Cables[cable]
	return replaced(s, cable, first(sizes(s, c.Part, func(p *parts.Cable) bool { return carries(s, c, p) >= need })))
}

// Relieved is Thicker for the largest current that a cable carries in any case.
func Relieved(s *study.Study, cable string) []finding.Edit {
	amps := most(s, func(r *network.Result) unit.Ampere { return max(r.Cables[cable].Plus.RMS, r.Cables[cable].Return.RMS) })
	return Thicker(s, cable, amps/roomy)
}

// Larger puts the thinnest cable of the same family in the place of a cable that loses at most a share of what it loses now.
func Larger(s *study.Study, cable string, share float64) []finding.Edit {
	c := s.Scheme.Cables[cable]
	now, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return nil
	}
	return replaced(s, cable, first(sizes(s, c.Part, func(p *parts.Cable) bool { return float64(p.R20.Is) <= share*float64(now.R20.Is) })))
}

// sizes are the thicker cables of a cable's family for which something holds, the thinnest first.
func sizes(s *study.Study, name string, fits func(*parts.Cable) bool) []named[parts.Cable] {
	now, ok := parts.Get[parts.Cable](s.Scheme.Library, name)
	if !ok {
		return nil
	}
	return fitting(s, "cable", func(other string, p *parts.Cable) bool {
		return family(other) == family(name) && p.Cores == now.Cores && p.Area.Is > now.Area.Is && fits(p)
	}, func(a, b named[parts.Cable]) int { return cmp.Compare(a.part.Area.Is, b.part.Area.Is) })
}

// carries is what each pole of a cable may carry where it lies, were it of another part; 0 where that does not say.
func carries(s *study.Study, c scheme.Cable, p *parts.Cable) unit.Ampere {
	air, method, bundle, perPole := c.Env(s.Scheme)
	return conductor.Ampacity(network.Ampacity(p, method).Is, p.Insulation.Is, air, bundle) * unit.Ampere(perPole)
}

// replaced gives a cable another part, and what it ends at another where the new cores do not fit; none where nothing takes them.
func replaced(s *study.Study, cable, name string) []finding.Edit {
	p, ok := parts.Get[parts.Cable](s.Scheme.Library, name)
	if !ok {
		return nil
	}
	c := s.Scheme.Cables[cable]
	edits := []finding.Edit{edit(name, "cables", cable, "part")}
	for _, at := range ends(c) {
		if junction, known := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[at.Element].Part); at.Kind == scheme.JunctionRef && known && !takes(junction.Contact, p.Area.Is) {
			other := junctionFor(s, at.Element, junctionNeeds{areas: []unit.SquareMetre{p.Area.Is}, without: cable, cores: c.PerPole()})
			if other == "" {
				return nil
			}
			edits = append(edits, edit(other, "junctions", at.Element, "part"))
		}
	}
	for _, e := range connectors(c) {
		area := p.Area.Is * unit.SquareMetre(c.PerPole())
		if connector, known := parts.Get[parts.Connector](s.Scheme.Library, e.part); known && !takes(connector.Contact, area) {
			other := connectorFor(s, cable, e.part, p.Area.Is)
			if other == "" {
				return nil
			}
			edits = append(edits, edit(other, "cables", cable, "ends", e.side))
		}
	}
	return edits
}

// takes reports whether a contact takes cores of an area, as far as its part says.
func takes(c parts.Contact, area unit.SquareMetre) bool {
	return (!c.AreaMax.Given || area <= c.AreaMax.Is) && (!c.AreaMin.Given || area >= c.AreaMin.Is)
}

// paired is the thinnest pair that can take the place of a single core of a cable: flexible, no thinner, and carrying what it carries.
func paired(s *study.Study, c scheme.Cable, amps unit.Ampere) string {
	single, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return ""
	}
	both := c
	both.Pole, both.CoresPerPole = "", 1
	return first(fitting(s, "cable", func(name string, p *parts.Cable) bool {
		return family(name) == "cable/flex-" && p.Cores == 2 && p.Area.Is >= single.Area.Is*0.999 && float64(carries(s, both, p))*roomy >= float64(amps)
	}, func(a, b named[parts.Cable]) int { return cmp.Compare(a.part.Area.Is, b.part.Area.Is) }))
}

// WithReturn makes a cable that carries the plus alone carry both poles: as another cable, where it has one core only.
func WithReturn(s *study.Study, cable string) []finding.Edit {
	c := s.Scheme.Cables[cable]
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok || c.Pole != scheme.Plus {
		return nil
	}
	edits := []finding.Edit{edit(nil, "cables", cable, "pole")}
	if part.Cores >= 2*c.PerPole() {
		return edits
	}
	name := paired(s, c, most(s, func(r *network.Result) unit.Ampere { return r.Cables[cable].Plus.RMS }))
	if name == "" || c.CoresPerPole > 1 {
		return nil
	}
	return append(edits, edit(name, "cables", cable, "part"))
}
