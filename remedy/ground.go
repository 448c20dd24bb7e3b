package remedy

import (
	"farend/finding"
	"farend/scheme"
	"farend/study"
)

// Ground relieves the ground core of a data lead that carries what should go home by power copper. Where the run has no other return, it
// gets one; where it has one, its feeds become thicker; where nothing is thicker and the data keeps its common return all the same,
// the core is opened.
func Ground(s *study.Study, lead string) []finding.Edit {
	run := s.Scheme.Data[lead].To.Element
	for _, f := range s.Network.Feeds(run) {
		if f.DataOnly {
			return Return(s, run, f.From)
		}
	}
	var edits []finding.Edit
	for _, l := range landings(s, run) {
		edits = append(edits, Larger(s, l.cable, 1)...)
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
