package commission

import (
	"math"
	"slices"

	"farend/network"
	"farend/study"
)

// What each gap closed alone puts under voltage, solved in the scheme and in its corners.

// A charged is what is measured once one gap is closed.
type charged struct {
	gap    gap
	in     network.Case
	ends   []string // where the copper behind it ends
	probes []string // places that are looked at besides
	found  bool     // a supply reaches it, and it was solved in all corners
	amps   bound
	volts  map[string]bound // at the ends and the probes
}

// charge solves each gap closed alone, in the scheme and in its corners.
func (m *maker) charge() (list []*charged, err error) {
	places := m.places()
	for _, b := range m.gaps {
		ends := slices.DeleteFunc(m.farEnds(b.name), func(at string) bool { return at == b.name })
		list = append(list, &charged{gap: b, in: m.aloneIn(b), ends: ends, probes: places, found: b.fed, amps: nowhere(), volts: map[string]bound{}})
	}
	for i, st := range slices.Concat([]*study.Study{m.st}, m.corners) {
		if err := m.chargeOf(st, i == 0, list); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// chargeOf notes what is measured of one study, that of the scheme itself first. Solutions come in the order of their cases.
func (m *maker) chargeOf(st *study.Study, first bool, list []*charged) error {
	queue := slices.DeleteFunc(slices.Clone(list), func(c *charged) bool { return !c.gap.fed })
	var cases []network.Case
	for _, c := range queue {
		cases = append(cases, c.in)
	}
	return st.Each(m.ctx, slices.Values(cases), func(s *network.Solution) error {
		queue[0].take(st.Network, s, first)
		queue = queue[1:]
		return nil
	})
}

// take notes what is measured in one solution, of the scheme itself first.
func (c *charged) take(n *network.Network, s *network.Solution, first bool) {
	if s == nil || !s.Found() || len(n.AtLimit(s)) > 0 {
		c.found = false
		return
	}
	c.amps = c.amps.with(float64(n.Carrying(s, c.gap.out)), first)
	looked := map[string]bool{}
	for _, at := range slices.Concat(c.ends, c.probes) {
		if looked[at] {
			continue
		}
		looked[at] = true
		b, known := c.volts[at]
		if !known {
			b = nowhere()
		}
		c.volts[at] = b.with(float64(n.VoltsAt(s, at)), first)
	}
}

// expected is the volts of a place, of the scheme itself.
func (c *charged) expected(at string) float64 { return c.volts[at].is }

// live reports whether a place shows a voltage.
func (c *charged) live(at string) bool { return c != nil && math.Abs(c.volts[at].is) > deadVolts }

// faintAmps is less than anybody measures through a meter (common practice, no source).
const faintAmps = 1e-3

// slightAmps is the current up to which the milliampere range of a meter is taken, half of what its fuse bears (common practice, no source).
const slightAmps = 0.3

// faint reports whether nothing to speak of flows.
func (c *charged) faint() bool { return c.amps.high < faintAmps }

// beyond are the places that show a voltage though their own gaps are open, and whether any other must be dead. was is what was live before.
func (c *charged) beyond(was *charged) (behind []string, dead bool) {
	for _, at := range c.probes {
		switch {
		case at == c.gap.name || slices.Contains(c.ends, at) || was.live(at):
		case c.live(at):
			behind = append(behind, at)
		default:
			dead = true
		}
	}
	return behind, dead
}

// behind is the band of some places that are live from behind.
func (c *charged) behind(places []string) *Reading {
	all := c.volts[places[0]]
	for _, at := range places {
		b := c.volts[at]
		all.low, all.high, all.ok = min(all.low, b.low), max(all.high, b.high), all.ok && b.ok
	}
	return all.read(Volts, direct)
}
