package network

import (
	"cmp"
	"slices"

	"farend/finding"
	"farend/scheme"
)

// Onward lists the cables that copper leads to from some places through junctions and bridged ways, as far as the tape and as far as the next
// fuse: what a fuse right before those places is the nearest to protect. Apart are the cables that are met at a fuse of their own. Cables
// that are known are passed by.
func (n *Network) Onward(places []string, known ...string) (cables, apart []string) {
	seen := map[string]bool{}
	for _, id := range known {
		seen[id] = true
	}
	for len(places) > 0 {
		place := places[0]
		places = places[1:]
		for _, id := range n.Landings(place) {
			c := n.Scheme.Cables[id]
			near, far := scheme.FromEnd, c.To
			if c.From.String() != place {
				near, far = scheme.ToEnd, c.From
			}
			own := c.Fuse != "" && cmp.Or(c.FuseAt, scheme.FromEnd) == near // which the current meets before the core
			if own && !seen[id] && !slices.Contains(apart, id) {
				apart = append(apart, id)
			}
			if seen[id] || own {
				continue
			}
			seen[id] = true
			cables = append(cables, id)
			if c.Fuse == "" {
				places = append(places, n.PlacesOn(far)...)
			}
		}
	}
	slices.SortFunc(cables, finding.Natural)
	return cables, apart
}

// PlacesOn are the places from which copper leads on without a fuse.
func (n *Network) PlacesOn(at scheme.Ref) []string {
	switch at.Kind {
	case scheme.JunctionRef:
		return []string{at.String()}
	case scheme.InletRef:
		return slices.DeleteFunc(n.Ways(), func(way string) bool {
			return BoardOf(way) != at.Element || n.Scheme.Fuses[way] != ""
		})
	}
	return nil
}
