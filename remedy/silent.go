package remedy

import (
	"strings"

	"farend/finding"
	"farend/study"
)

// Quieter makes less of what a fault may burn with at a place that no fuse sees: by the smallest fuses of their family that carry their load, in the
// places of those that are met first on the way to a supply; on a run that several feed by cutting its positive between them, with fuses to match. None
// where fuses are as small as they can be, and nothing is left to be cut.
func Quieter(s *study.Study, p study.Silent) []finding.Edit {
	if run, _, landed := strings.Cut(p.Fault.At, "@"); landed && len(p.Near) > 1 {
		if edits := CutApart(s, run); edits != nil {
			return edits
		}
	}
	return smaller(s, p.Near)
}
