package remedy

import (
	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Lift raises the lowest pixel of a run by so much in a case. Where little is missing it is a higher set point; else one more feed, a
// thicker one or a higher set point: what gives half of it or more, tried first where most is lost; where nothing does, what gives
// most. A pixel is low for other reasons too, and then those are mended: no circuit reaches it, its return is a data ground, its
// supply is of another voltage or has reached its limit.
func Lift(s *study.Study, run string, c network.Case, by unit.Volt) []finding.Edit {
	r := s.Result(c.Name).Runs[run]
	for _, f := range s.Network.Feeds(run) {
		switch here := f.From <= r.LowAt && r.LowAt < f.To; {
		case here && !f.Closed():
			return Unfed(s, run, f)
		case here && f.DataOnly:
			return Return(s, run, r.LowAt)
		}
	}
	for _, t := range suppliesOf(s, run) {
		switch at := s.Result(c.Name).Supplies[t]; {
		case !matches(s, t, run):
			return Rehang(s, run, t)
		case at.State != "normal" && at.State != "idle":
			return Supply(s, t)
		}
	}
	const little = 0.02 // of the set point; common practice, no source
	if trim, gain := trimUp(s, run, by); gain >= by && float64(by) <= little*float64(s.Scheme.Tape(run).Volts.Is) {
		return trim
	}
	model, _ := nearest(s, run, r.LowAt)
	rails, lead := r.VoltsHigh-r.VoltsLow, unit.Volt(0)
	if model.cable != "" {
		lead = s.Result(c.Name).Cables[model.cable].Drop
	}
	lead = max(lead, -lead)
	feed := lift{rails*(1-quarter) + lead/unit.Volt(1+max(1, len(landings(s, run)))), func() []finding.Edit { return Dim(s, run, c) }}
	larger := lift{lead * (1 - twice), func() []finding.Edit { return thickerFeed(s, model.cable, float64(1-by/max(lead, by/(1-twice)))) }}
	trimmed, gained := trimUp(s, run, by)
	trim := lift{gained, func() []finding.Edit { return trimmed }}
	order := []lift{feed, larger, trim}
	if lead > rails || larger.gain >= by { // thicker cores alone do
		order = []lift{larger, feed, trim}
	}
	var best []finding.Edit
	gain := unit.Volt(0)
	for _, w := range order {
		if w.gain <= gain {
			continue
		}
		if edits := w.edits(); edits != nil {
			if best, gain = edits, w.gain; gain >= by/2 {
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

// thickerFeed is a cable of its family that loses at most a share of what one loses now.
func thickerFeed(s *study.Study, cable string, share float64) []finding.Edit {
	if _, ok := s.Scheme.Cables[cable]; !ok {
		return nil
	}
	return Larger(s, cable, share)
}

// bare gives the leads of a run that begin at a supply without a fuse one there, for what the run will draw.
func bare(s *study.Study, run string) []finding.Edit {
	var edits []finding.Edit
	for _, l := range landings(s, run) {
		c := s.Scheme.Cables[l.cable]
		if l.near.Kind != scheme.SupplyRef || c.Fuse != "" || c.From.String() != l.near.String() {
			continue
		}
		p := inlineSeat(s, l.cable)
		p.load = max(p.load, lit(s, run))
		edits = append(edits, changed(p.smallest(s), "", "cables", l.cable, "fuse")...)
	}
	return edits
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
				return append([]finding.Edit{edit(f.Plus[0], "cables", id, side)}, bare(s, run)...)
			}
		}
	}
	return nil
}
