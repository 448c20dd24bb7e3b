package commission

import (
	"farend/conductor"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// What a core of copper and the contacts at its ends resist, at both ends of their spread.

// factors are those of copper in the coldest and the hottest air.
func (m *maker) factors() (cold, hot float64) {
	return conductor.Factor(m.s.Coldest()), conductor.Factor(m.s.Ambient())
}

// factorOf is that of copper at a temperature, or at the one at which the scheme holds all copper.
func (m *maker) factorOf(t unit.Celsius) float64 {
	if fixed := m.s.Site.Conductors.Fixed; fixed != nil {
		t = *fixed
	}
	return conductor.Factor(t)
}

// A contact is the resistance of an end of one core.
type contact struct{ is, low, high float64 }

// contacts are those at both ends of each core of a cable, from on first: of its connectors and junctions, else of terminals, of which only what they may
// have at most is known.
func (m *maker) contacts(c scheme.Cable) (list [2]contact) {
	for i, end := range []struct {
		connector string
		at        scheme.Ref
	}{{c.Ends.From, c.From}, {c.Ends.To, c.To}} {
		junction, landed := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[end.at.Element].Part)
		connector, plugged := parts.Get[parts.Connector](m.s.Library, end.connector)
		if plugged {
			list[i].add(connector.Resistance)
		}
		if landed && end.at.Kind == scheme.JunctionRef {
			list[i].add(junction.Resistance)
		} else if !plugged {
			list[i].high = terminalOhms(terminalOf(m.s, c))
		}
	}
	return list
}

func (c *contact) add(v parts.Value[unit.Ohm]) {
	v = touching(v)
	c.is, c.low, c.high = c.is+float64(v.Is), c.low+float64(v.Lower()), c.high+float64(v.Upper())
}

// tail is how much of a core may lie before its fuse holder, in metres (common practice, no source); no more than half of it.
func tail(c scheme.Cable) float64 { return min(0.3, float64(*c.Length)/2) }
