package remedy

import (
	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Lift raises the lowest pixel of a run by so much in a case: by one more feed, a thicker one or a higher set point. It takes what
// would do, where most is lost first; where nothing alone would do, what does most.
func Lift(s *study.Study, run string, c network.Case, by unit.Volt) []finding.Edit {
	r := s.Result(c.Name).Runs[run]
	for _, f := range s.Network.Feeds(run) {
		if f.DataOnly && f.From <= r.LowAt && r.LowAt < f.To {
			return Return(s, run, r.LowAt)
		}
	}
	model, _ := nearest(s, run, r.LowAt)
	rails, lead := r.VoltsHigh-r.VoltsLow, unit.Volt(0)
	if model.cable != "" {
		lead = s.Result(c.Name).Cables[model.cable].Drop
	}
	lead = max(lead, -lead)
	feed := lift{rails*(1-quarter) + lead/unit.Volt(1+max(1, len(landings(s, run)))), func() []finding.Edit { return Feed(s, run, r.LowAt) }}
	larger := lift{lead * (1 - twice), func() []finding.Edit { return thickened(s, model.cable, float64(1-by/max(lead, by/(1-twice)))) }}
	trim := lift{by, func() []finding.Edit { return TrimUp(s, run, by) }}
	order := []lift{feed, larger, trim}
	if lead > rails {
		order = []lift{larger, feed, trim}
	}
	var best []finding.Edit
	gain := unit.Volt(0)
	for _, w := range order {
		if w.gain <= gain {
			continue
		}
		if edits := w.edits(); edits != nil {
			if best, gain = edits, w.gain; gain >= by {
				break
			}
		}
	}
	return best
}

// A lift is one way to lift a pixel, with about how much it gives.
type lift struct {
	gain  unit.Volt
	edits func() []finding.Edit
}

const (
	quarter = 0.25 // of what is lost along rails is lost along those of half the length, with half the current
	twice   = 0.4  // about what a cable of the second next size still loses of what one loses
)

// thickened is a cable of its family that loses at most a share of what one loses now.
func thickened(s *study.Study, cable string, share float64) []finding.Edit {
	if _, ok := s.Scheme.Cables[cable]; !ok {
		return nil
	}
	return Larger(s, cable, share)
}

// Unfed feeds a stretch of a run that no circuit reaches: by one more feed, or, where its plus and its return hang on different supplies,
// by landing the single return where its plus comes from.
func Unfed(s *study.Study, run string, f network.Feed) []finding.Edit {
	if len(f.Plus) == 0 || len(f.Return) == 0 {
		return Return(s, run, f.From)
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		c := s.Scheme.Cables[id]
		if c.Pole != scheme.Return {
			continue
		}
		for i, side := range []string{"from", "to"} {
			if near := ends(c)[i]; near.Kind == scheme.SupplyRef && lands(ends(c)[1-i], run) && len(f.Plus) == 1 {
				return []finding.Edit{edit(f.Plus[0], "cables", id, side)}
			}
		}
	}
	return nil
}
