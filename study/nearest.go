package study

import (
	"slices"

	"farend/network"
)

// A NearShort is a bolted short right behind a fuse, where it carries most.
type NearShort struct {
	Place  string
	Strike *Strike // in which it does
	Nearby
}

// Nearest is the short right behind the fuse of a way or cable, before any copper that it feeds; it is not ok where such a short draws nothing
// through it.
func (t *Struck) Nearest(at string) (near NearShort, ok bool) {
	behind := t.striker.s.rightBehind(at)
	for i := range t.Faults {
		f := &t.Faults[i]
		if f.Fault.Kind != network.PolesMeet || f.Fault.Ohms > 0 || f.Fault.At != behind {
			continue
		}
		for k := range f.Strikes {
			strike := &f.Strikes[k]
			for _, n := range strike.Near {
				if n.Guard == at+".fuse" && strike.Case.Corner == network.Through && (!ok || n.Amps > near.Amps) {
					near, ok = NearShort{Place: f.Fault.At, Strike: strike, Nearby: n}, true
				}
			}
		}
	}
	return near, ok
}

// rightBehind is the place right behind the fuse of a way, or on the core of a cable at the end that its fuse is at, by the first of its names.
func (s *Study) rightBehind(at string) string {
	if c, is := s.Scheme.Cables[at]; is {
		if c.FuseAt == "to" {
			at += "@to"
		} else {
			at += "@from"
		}
	}
	for _, p := range s.Network.Places() {
		if p.Name == at || slices.Contains(p.Also, at) {
			return p.Name
		}
	}
	return ""
}
