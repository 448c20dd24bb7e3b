package study

import (
	"fmt"
	"slices"

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
	w.Numbers = rows(fuse.Curve, stated, air)
	return w, ok
}

// Continuous is the share of its rating that a fuse link is loaded with for good.
const Continuous = 0.75

// ContinuousSource says whence Continuous is.
func ContinuousSource() Source {
	return Source{Title: "fuse application guide (“fuseology”)", Basis: parts.Handbook, Says: "a link at 25 °C lasts for ever at 75 % of its rating or less"}
}

// In says in which air a rating holds, where that is less than all of it.
func (w Warmth) In(air unit.Celsius) string {
	if w.Share == 1 {
		return ""
	}
	return fmt.Sprintf(" in air of %v", air)
}

// Warm works out what the air around a fuse leaves of its rating, as Study.Warm does: the own air of the thing that it is in, under
// a path of the scheme, where it has one.
func (w *Working) Warm(s *Study, sign, name string, own *unit.Celsius, path ...string) {
	fuse, _ := parts.Get[parts.Fuse](s.Scheme.Library, name)
	curve, known := parts.Get[parts.Curve](s.Scheme.Library, fuse.Curve)
	if !known || len(curve.Derating) == 0 {
		w.put(sign, "what the air leaves of that: all, for no derating is stated", Plain(1), Origin{Kind: OfPart, Part: name, Key: "curve", Basis: fuse.Basis, Source: fuse.Source})
		return
	}
	air := s.Scheme.Ambient()
	if own != nil {
		air = *own
	}
	row := func(i int, t, k string) {
		d, key := curve.Derating[i], fmt.Sprintf("derating.%d.", i+1)
		w.Stated(t, "a temperature for which its curve states a share", Stated(fuse.Curve, key+"at", d.At))
		w.Stated(k, fmt.Sprintf("share of its rating in air of %v", d.At.Is), Stated(fuse.Curve, key+"factor", d.Factor))
	}
	const what = "What the air leaves of its rating, at most all"
	i := slices.IndexFunc(curve.Derating, func(d parts.Derate) bool { return air <= d.At.Is })
	switch {
	case i < 0:
		row(len(curve.Derating)-1, "T_1", "k_1")
		w.Step(what, sign+" = min(1, k_1)")
	case i == 0 || air == curve.Derating[i].At.Is:
		row(i, "T_1", "k_1")
		w.Step(what, sign+" = min(1, k_1)")
	default:
		row(i-1, "T_1", "k_1")
		row(i, "T_2", "k_2")
		w.Air(s, "T_a", "air around it", own, path...)
		w.Step(what+", on a straight line between two temperatures", sign+" = min(1, k_1 + (k_2 − k_1) · (T_a − T_1)/(T_2 − T_1))")
	}
}
