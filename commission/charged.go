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
	b      gap
	c      network.Case
	ends   []string // where the copper behind it ends
	found  bool
	amps   bound
	volts  map[string]bound // at the ends, and at the places that are looked at
	probes []string
}

// charge solves each gap closed alone, in the scheme and in its corners.
func (m *maker) charge() ([]*charged, error) {
	var list []*charged
	places := m.places()
	for _, b := range m.gaps {
		c := &charged{b: b, c: m.aloneIn(b), volts: map[string]bound{}, found: b.fed, probes: places}
		c.ends = slices.DeleteFunc(m.farEnds(b.name), func(at string) bool { return at == b.name })
		c.amps = nowhere()
		list = append(list, c)
	}
	for i, st := range slices.Concat([]*study.Study{m.st}, m.corners) {
		var queue []*charged
		for _, c := range list {
			if c.b.fed {
				queue = append(queue, c)
			}
		}
		err := st.Each(m.ctx, func(yield func(network.Case) bool) {
			for _, c := range queue {
				if !yield(c.c) {
					return
				}
			}
		}, func(s *network.Solution) error {
			c := queue[0]
			queue = queue[1:]
			c.take(st.Network, s, i == 0)
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return list, nil
}

// take notes what is measured in one solution, of the scheme itself first.
func (c *charged) take(n *network.Network, s *network.Solution, first bool) {
	if s == nil || !s.Found() || len(n.AtLimit(s)) > 0 {
		c.found = false
		return
	}
	c.amps = c.amps.with(float64(n.Carrying(s, c.b.out)), first)
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
		case at == c.b.name || slices.Contains(c.ends, at) || was.live(at):
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
