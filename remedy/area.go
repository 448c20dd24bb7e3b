package remedy

import (
	"farend/finding"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// OfArea puts the thinnest cable of the same family with cores of at least an area in the place of a cable.
func OfArea(s *study.Study, cable string, area unit.SquareMetre) []finding.Edit {
	return replaced(s, cable, first(sizes(s, s.Scheme.Cables[cable].Part, func(p *parts.Cable) bool { return p.Area.Is >= area })))
}
