package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

// tooWarm compares the air with the warmest that a supply stands, where its part says so.
func tooWarm(s *study.Study, id string, part *parts.Supply) []study.Assessment {
	if !part.AmbientMax.Given {
		return nil
	}
	air := s.Scheme.Ambient()
	a := study.Upper(float64(air), float64(part.AmbientMax.Is), 0, finding.Fails).Fill("", "°C", part.AmbientMax.Basis, part.AmbientMax.Source)
	a.Margin = nil // a ratio of temperatures means nothing
	a = a.On(func() []study.Number {
		return append(s.Ambient(), study.Stated(s.Scheme.Supplies[id].Part, "ambient_max", part.AmbientMax))
	}).Say(fmt.Sprintf("%s stands in air of %v; it stands up to %v.", id, air, part.AmbientMax.Is), "Find it a cooler place, or use a supply that stands more.")
	return []study.Assessment{a.Worked(func(w *study.Working) {
		w.Air(s, "T_a", "air around it", nil)
		w.Stated("T_max", "warmest that it stands", study.Stated(s.Scheme.Supplies[id].Part, "ambient_max", part.AmbientMax))
		w.Upper("T_a", "T_max", 0, finding.Fails)
	})}
}

// warmed works out what the air leaves of the rating of a supply.
func warmed(w *study.Working, s *study.Study, name string, part *parts.Supply) {
	if !part.DerateFrom.Given || !part.Derate.Given {
		w.Taken("k_w", "what the air leaves of that: all, for its part states no less", study.Plain(1), study.MildSource())
		return
	}
	w.Stated("d", "share that it loses with each degree", study.Stated(name, "derate", part.Derate))
	w.Stated("T_d", "air up to which it gives all", study.Stated(name, "derate_from", part.DerateFrom))
	w.Air(s, "T_a", "air around it", nil)
	w.Step("What the air leaves of its rating", "k_w = max(0, 1 − d · max(0 °C, T_a − T_d))")
}
