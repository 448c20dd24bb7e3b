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

// Joined closes the ground core of a data lead that was left open.
func Joined(s *study.Study, lead string) []finding.Edit {
	if s.Scheme.Data[lead].Ground != scheme.OpenGround {
		return nil
	}
	return []finding.Edit{edit(nil, "data", lead, "ground")}
}
