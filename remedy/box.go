package remedy

import (
	"cmp"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

// Box puts an enclosure that keeps out what it must in the place of one that does not: no smaller in any direction, the smallest that
// there is, one of the same family before others.
func Box(s *study.Study, box string, keeps func(ip string) bool) []finding.Edit {
	was := s.Scheme.Enclosures[box].Part
	now, ok := parts.Get[parts.Enclosure](s.Scheme.Library, was)
	if !ok {
		return nil
	}
	size := func(e *parts.Enclosure) float64 {
		return float64(e.Width.Is) * float64(e.Height.Is) * float64(e.Depth.Is)
	}
	return changed(first(fitting(s, "enclosure", func(_ string, e *parts.Enclosure) bool {
		return keeps(e.IP) && e.Width.Is >= now.Width.Is && e.Height.Is >= now.Height.Is && e.Depth.Is >= now.Depth.Is
	}, func(a, b named[parts.Enclosure]) int {
		return cmp.Or(rank(family(a.name) == family(was), family(b.name) == family(was)), cmp.Compare(size(a.part), size(b.part)))
	})), was, "enclosures", box, "part")
}
