package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// warmSupply is what air of a temperature leaves of the rated current of a supply. ok is false where its part says from where on it
// gives less, and not how much less.
func warmSupply(name string, part *parts.Supply, air unit.Celsius) (w study.Warmth, ok bool) {
	over := float64(air - part.DerateFrom.Is)
	switch {
	case !part.DerateFrom.Given || over <= 0:
		return study.Warmth{Share: 1}, true
	case !part.Derate.Given:
		return study.Warmth{Share: 1}, false
	}
	return study.Warmth{
		Share:   max(0, 1-over*float64(part.Derate.Is)),
		Numbers: []study.Number{study.Stated(name, "derate_from", part.DerateFrom), study.Stated(name, "derate", part.Derate)},
	}, true
}

// tooWarm compares the air with the warmest that a supply stands, where its part says so.
func tooWarm(s *study.Study, id string, part *parts.Supply) []study.Assessment {
	if !part.AmbientMax.Given {
		return nil
	}
	air := s.Scheme.Ambient()
	a := study.Upper(float64(air), float64(part.AmbientMax.Is), 0, finding.Fails).Fill("", "°C", part.AmbientMax.Basis, part.AmbientMax.Source)
	a.Margin = nil // a ratio of temperatures means nothing
	return []study.Assessment{a.On(func() []study.Number {
		return append(s.Ambient(), study.Stated(s.Scheme.Supplies[id].Part, "ambient_max", part.AmbientMax))
	}).Say(fmt.Sprintf("%s stands in air of %v; it stands up to %v.", id, air, part.AmbientMax.Is), "Find it a cooler place, or use a supply that stands more.")}
}
