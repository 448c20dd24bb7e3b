package remedy

import (
	"cmp"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// junctionNeeds is what a junction must take beside the cables that land on it.
type junctionNeeds struct {
	cores   int                // more cores of the fuller pole
	areas   []unit.SquareMetre // cores of these areas
	without string             // a cable that is about to change, and does not count
	amps    unit.Ampere        // a current beside the solved ones
}

// Junction puts a junction of the library in the place of one that is too small for the cables that land on it, or for what they
// carry: one of its family, else the one with the fewest ways.
func Junction(s *study.Study, junction string) []finding.Edit {
	return changed(junctionFor(s, junction, junctionNeeds{}), s.Scheme.Junctions[junction].Part, "junctions", junction, "part")
}

func junctionFor(s *study.Study, junction string, needs junctionNeeds) string {
	was := s.Scheme.Junctions[junction].Part
	plus, back := needs.cores, needs.cores
	areas := slices.Clone(needs.areas)
	for _, id := range s.Network.Landings(junction) {
		c := s.Scheme.Cables[id]
		cable, known := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if id == needs.without || !known {
			continue
		}
		areas = append(areas, cable.Area.Is)
		if c.Pole.Has(scheme.Plus) {
			plus += c.PerPole()
		}
		if c.Pole.Has(scheme.Return) {
			back += c.PerPole()
		}
	}
	amps := max(needs.amps, most(s, func(r *network.Result) unit.Ampere { return s.Network.FullCurrent(r, junction) }))
	top := volts(s, junction)
	return first(fitting(s, "junction", func(name string, p *parts.Junction) bool {
		fits := p.AreaMax.Given && p.Ways >= max(plus, back) && float64(amps) <= roomy*float64(p.Amps.Is) && (!p.VoltsMax.Given || top <= p.VoltsMax.Is)
		return fits && !slices.ContainsFunc(areas, func(a unit.SquareMetre) bool { return !takes(p.Contact, a) })
	}, func(a, b named[parts.Junction]) int {
		return cmp.Or(rank(family(a.name) == family(was), family(b.name) == family(was)), cmp.Compare(a.part.Ways, b.part.Ways), cmp.Compare(a.part.Amps.Is, b.part.Amps.Is))
	}))
}

// Connectors puts connectors that carry what a cable carries, and take its cores, in the place of those at its ends that do not;
// and a fuse in a stronger holder in the place of one whose holder is too weak.
func Connectors(s *study.Study, cable string) []finding.Edit {
	c := s.Scheme.Cables[cable]
	amps := current(s, cable)
	edits := plugs(s, cable)
	if fuse, fused := parts.Get[parts.Fuse](s.Scheme.Library, c.Fuse); fused {
		if holder, brought := parts.Get[parts.Connector](s.Scheme.Library, fuse.Seat); brought && float64(amps) > roomy*float64(holder.Amps.Is) {
			edits = append(edits, InlineFuse(s, cable)...)
		}
	}
	return edits
}

// plugs are the edits of the connectors at the ends of a cable.
func plugs(s *study.Study, cable string) []finding.Edit {
	c := s.Scheme.Cables[cable]
	part, known := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !known {
		return nil
	}
	amps := current(s, cable)
	var edits []finding.Edit
	for _, e := range connectors(c) {
		now, chosen := parts.Get[parts.Connector](s.Scheme.Library, e.part)
		area := part.Area.Is * unit.SquareMetre(c.PerPole())
		high := chosen && now.VoltsMax.Given && volts(s, cable) > now.VoltsMax.Is
		if !chosen || float64(amps) <= roomy*float64(now.Amps.Is) && takes(now.Contact, area) && now.AreaMax.Given && !high {
			continue
		}
		if name := connectorFor(s, cable, e.part, part.Area.Is); name != "" {
			edits = append(edits, edit(name, "cables", cable, "ends", e.side))
		}
	}
	return edits
}

// Contactor puts the weakest contactor that carries the heavier pole of its cable, and breaks the voltage on it, in the place of one: one with
// a coil of the same voltage, where there is one.
func Contactor(s *study.Study, id string) []finding.Edit {
	in := s.Scheme.Contactors[id].In
	was, chosen := parts.Get[parts.Relay](s.Scheme.Library, s.Scheme.Contactors[id].Part)
	same := func(p *parts.Relay) bool { return chosen && p.CoilVolts.Is == was.CoilVolts.Is }
	amps, top := current(s, in), volts(s, in)
	name := first(fitting(s, "relay", func(_ string, p *parts.Relay) bool {
		return float64(amps) <= roomy*float64(p.Amps.Is) && p.VoltsMax.Given && top <= p.VoltsMax.Is
	}, func(a, b named[parts.Relay]) int {
		return cmp.Or(rank(same(a.part), same(b.part)), cmp.Compare(a.part.Amps.Is, b.part.Amps.Is))
	}))
	if name == "" {
		return nil
	}
	return changed(name, s.Scheme.Contactors[id].Part, "contactors", id, "part")
}

// Capacitor puts one of no less capacitance in the place of a capacitor, the smallest that stands the voltage of its run for good.
func Capacitor(s *study.Study, id string) []finding.Edit {
	now := s.Scheme.Capacitors[id]
	was, ok := parts.Get[parts.Capacitor](s.Scheme.Library, now.Part)
	top, _, fed := s.Highest(now.At.Element)
	if !ok || !fed {
		return nil
	}
	name := first(fitting(s, "capacitor", func(_ string, p *parts.Capacitor) bool {
		return p.Capacitance.Is >= was.Capacitance.Is && top <= p.VoltsMax.Is
	}, func(a, b named[parts.Capacitor]) int {
		return cmp.Or(cmp.Compare(a.part.Capacitance.Is, b.part.Capacitance.Is), cmp.Compare(a.part.VoltsMax.Is, b.part.VoltsMax.Is))
	}))
	if name == "" {
		return nil
	}
	return changed(name, now.Part, "capacitors", id, "part")
}

// A plug is the connector at one end of a cable.
type plug struct{ side, part string }

func connectors(c scheme.Cable) []plug { return []plug{{"from", c.Ends.From}, {"to", c.Ends.To}} }

// current is the largest heating current of the heavier pole of a cable.
func current(s *study.Study, cable string) unit.Ampere {
	return most(s, func(r *network.Result) unit.Ampere { return max(r.Cables[cable].Plus.RMS, r.Cables[cable].Return.RMS) })
}

// connectorFor is the weakest connector that carries what a cable carries and takes its cores: of the family of what is there, else a
// screw terminal, which any cable may end in.
func connectorFor(s *study.Study, cable, was string, area unit.SquareMetre) string {
	perPole := unit.SquareMetre(s.Scheme.Cables[cable].PerPole())
	amps, top := current(s, cable), volts(s, cable)
	return first(fitting(s, "connector", func(name string, p *parts.Connector) bool {
		kin := family(name) == family(was) || family(name) == "connector/screw-"
		return kin && p.AreaMax.Given && area*perPole <= p.AreaMax.Is && (!p.AreaMin.Given || area >= p.AreaMin.Is) &&
			float64(amps) <= roomy*float64(p.Amps.Is) && (!p.VoltsMax.Given || top <= p.VoltsMax.Is)
	}, func(a, b named[parts.Connector]) int {
		return cmp.Or(rank(family(a.name) == family(was), family(b.name) == family(was)), cmp.Compare(a.part.Amps.Is, b.part.Amps.Is))
	}))
}
