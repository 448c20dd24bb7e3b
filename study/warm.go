package study

import (
	"fmt"

	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A Warmth is what warm air leaves of a rating: the share, and the numbers behind it.
type Warmth struct {
	Share   float64
	Numbers []Number
}

// Warm is what air of a temperature leaves of the rating of a fuse by the derating of its curve, at most all of it; all where the
// curve states none. It is not ok in warmer air than the curve speaks of.
func (s *Study) Warm(fuse *parts.Fuse, air unit.Celsius) (w Warmth, ok bool) {
	curve, known := network.Curve(s.Scheme.Library, fuse)
	if !known || len(curve.Derating) == 0 {
		return Warmth{Share: 1}, true
	}
	share, ok := curve.Factor(air)
	if share >= 1 {
		return Warmth{Share: 1}, ok
	}
	w.Share = share
	stated, _ := parts.Get[parts.Curve](s.Scheme.Library, fuse.Curve)
	for i, d := range stated.Derating {
		if air <= d.At.Is {
			w.Numbers = []Number{Stated(fuse.Curve, fmt.Sprintf("derating.%d.factor", i+1), d.Factor)}
			break
		}
	}
	return w, ok
}

// In says in which air a rating holds, where that is less than all of it.
func (w Warmth) In(air unit.Celsius) string {
	if w.Share == 1 {
		return ""
	}
	return fmt.Sprintf(" in air of %v", air)
}
