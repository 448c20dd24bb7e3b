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

// coreOhms are those of so many metres of a core, expected in copper of one factor, and in the coldest and the hottest copper by theirs.
func coreOhms(part *parts.Cable, metres, expected, cold, hot float64) band {
	return band{
		float64(part.R20.Is) * metres * expected,
		float64(coreR20(part).Lower()) * metres * (1 - lengthSpread) * cold,
		float64(coreR20(part).Upper()) * metres * (1 + lengthSpread) * hot,
	}
}

// rhoCopper is the resistivity of annealed copper at 20 °C: 1/58 Ω·mm²/m (IEC 60028).
const rhoCopper = 1e-6 / 58

// coreR20 is the resistance of a core with its spread. What tables of IEC 60228 state, and parts with them, is the most that a core may have; one whose
// section is all copper has as much less as tables allow for lay and tolerance, 15 % for fine strands. What is more than a quarter over that is another
// metal, of which nobody knows.
func coreR20(part *parts.Cable) parts.Value[unit.OhmPerMetre] {
	v := part.R20
	if v.Spread.Low == 0 && v.Spread.High == 0 && part.Area.Is > 0 && v.Is > 0 {
		if full := rhoCopper / float64(part.Area.Is) / float64(v.Is); full < 1 && full > 1/1.25 {
			v.Spread.Low = full - 1
		}
	}
	return v
}

// contacts are the ohms at both ends of each core of a cable, from on first: of its connectors and junctions, else of terminals, of which only what they may
// have at most is known.
func (m *maker) contacts(c scheme.Cable) (list [2]band) {
	for i, end := range endsOf(c) {
		junction, landed := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[end.at.Element].Part)
		connector, plugged := parts.Get[parts.Connector](m.s.Library, end.connector)
		if plugged {
			list[i] = list[i].plus(contactOhms(connector.Resistance))
		}
		if landed && end.at.Kind == scheme.JunctionRef {
			list[i] = list[i].plus(contactOhms(junction.Resistance))
		} else if !plugged {
			list[i].high = terminalOhms(terminalOf(m.s, c))
		}
	}
	return list
}

// contactOhms are those of one contact.
func contactOhms(v parts.Value[unit.Ohm]) band {
	v = touching(v)
	return band{float64(v.Is), float64(v.Lower()), float64(v.Upper())}
}

// tailOhms are those of what may lie of a core before its fuse holder, in copper of 20 °C: 0.3 m (common practice, no source), and no more than half of it.
func tailOhms(c scheme.Cable, part *parts.Cable, perPole int) float64 {
	return float64(coreR20(part).Lower()) * min(0.3, float64(*c.Length)/2) / float64(perPole)
}
