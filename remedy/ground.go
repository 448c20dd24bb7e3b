package remedy

import (
	"farend/finding"
	"farend/scheme"
	"farend/study"
)

// Ground brings the ground core of a data lead that carries what should go home by power copper down to a share of its current. Where the
// run has no other return, it gets one; where it has one, its feeds become as much thicker, or as thick as there are; where nothing is
// thicker, the core is opened: the data keeps its common return by power copper.
func Ground(s *study.Study, lead string, share float64) []finding.Edit {
	run := s.Scheme.Data[lead].To.Element
	for _, f := range s.Network.Feeds(run) {
		if f.DataOnly {
			return Return(s, run, f.From)
		}
	}
	var edits []finding.Edit
	for _, l := range landings(s, run) {
		thicker := Larger(s, l.cable, share)
		if thicker == nil {
			thicker = Larger(s, l.cable, 1)
		}
		edits = append(edits, thicker...)
	}
	if edits == nil && len(landings(s, run)) > 0 {
		edits = []finding.Edit{edit(string(scheme.OpenGround), "data", lead, "ground")}
	}
	return edits
}

// BetterReturn brings down what the ground core of a data lead takes of the current of its run to a share of what it takes now, which is a share itself: a
// feed without its own return gets it; else the cables that bring the current home become as much thicker as that asks for; where none is so thick,
// one more feed is laid where the data comes in.
func BetterReturn(s *study.Study, lead string, taken, share float64) []finding.Edit {
	run := s.Scheme.Data[lead].To.Element
	for _, l := range landings(s, run) {
		if !s.Scheme.Cables[l.cable].Pole.Has(scheme.Return) {
			return Return(s, run, 0)
		}
	}
	then := taken * share
	ratio := share * (1 - taken) / (1 - then) // of the power return's resistance, for two returns side by side
	var edits []finding.Edit
	for _, l := range landed(s, run, scheme.Return) {
		edits = append(edits, Larger(s, l.cable, ratio)...)
	}
	if edits == nil {
		return Return(s, run, 0)
	}
	return edits
}

// Joined closes the ground core of a data lead that was left open.
func Joined(s *study.Study, lead string) []finding.Edit {
	if s.Scheme.Data[lead].Ground != scheme.OpenGround {
		return nil
	}
	return []finding.Edit{edit(nil, "data", lead, "ground")}
}
