package remedy

import (
	"cmp"

	"farend/finding"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// LeadOfArea puts the thinnest data cable with cores of at least an area in the place of that of a data lead: of its family, else any with as
// many cores.
func LeadOfArea(s *study.Study, lead string, area unit.SquareMetre) []finding.Edit {
	was := s.Scheme.Data[lead].Part
	now, ok := parts.Get[parts.Cable](s.Scheme.Library, was)
	if !ok {
		return nil
	}
	name := first(fitting(s, "cable", func(name string, p *parts.Cable) bool {
		return (family(name) == family(was) || family(name) == "cable/data-") && p.Cores >= now.Cores && p.Area.Is >= area
	}, func(a, b named[parts.Cable]) int {
		return cmp.Or(rank(family(a.name) == family(was), family(b.name) == family(was)), cmp.Compare(a.part.Cores, b.part.Cores), cmp.Compare(a.part.Area.Is, b.part.Area.Is))
	}))
	return changed(name, was, "data", lead, "part")
}

// OfArea puts the thinnest cable of the same family with cores of at least an area in the place of a cable.
func OfArea(s *study.Study, cable string, area unit.SquareMetre) []finding.Edit {
	return replaced(s, cable, first(sizes(s, s.Scheme.Cables[cable].Part, func(p *parts.Cable) bool { return p.Area.Is >= area })))
}
