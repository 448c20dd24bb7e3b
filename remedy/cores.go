package remedy

import (
	"cmp"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

// MoreCores puts a data lead of the same family with so many cores in the place of one, the one with the fewest that are no thinner.
func MoreCores(s *study.Study, lead string, cores int) []finding.Edit {
	name := s.Scheme.Data[lead].Part
	now, ok := parts.Get[parts.Cable](s.Scheme.Library, name)
	if !ok {
		return nil
	}
	other := first(fitting(s, "cable", func(of string, p *parts.Cable) bool {
		return family(of) == family(name) && p.Cores >= cores && p.Area.Is >= now.Area.Is*0.999
	}, func(a, b named[parts.Cable]) int {
		return cmp.Or(cmp.Compare(a.part.Cores, b.part.Cores), cmp.Compare(a.part.Area.Is, b.part.Area.Is))
	}))
	if other == "" {
		return nil
	}
	return []finding.Edit{edit(other, "data", lead, "part")}
}
