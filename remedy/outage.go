package remedy

import (
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
)

// Homeless mends a data lead by whose ground the load of a run comes home when a return is lost: the ground is opened, where the runs at both of its
// ends have their return by power copper, which is the reference of the data then. A run that has none gets one.
func Homeless(s *study.Study, lead string) []finding.Edit {
	d := s.Scheme.Data[lead]
	if d.Ground == scheme.OpenGround {
		return nil
	}
	ends := []string{d.To.Element}
	if d.From.Kind != scheme.PortRef {
		ends = append(ends, d.From.Element)
	}
	for _, run := range ends {
		for _, f := range s.Network.Feeds(run) {
			if f.DataOnly {
				return Return(s, run, f.From)
			}
		}
		if !slices.ContainsFunc(s.Network.Feeds(run), network.Feed.Closed) {
			return nil
		}
	}
	return []finding.Edit{edit(string(scheme.OpenGround), "data", lead, "ground")}
}

// Lost mends what a conductor carries with something out. Of a return, or of rails through which a return comes home: the return of the run is cut
// between the feeds whose own way home is lost and their neighbours, and the positive with it, so that lights go out where one is lost; else as Harmed
// does.
func Lost(s *study.Study, h study.Harm) []finding.Edit {
	if h.Bearer == nil || h.Remote {
		return nil
	}
	if h.Strike != nil && (h.Bearer.Kind == study.OfRails || strings.Contains(h.Bearer.Name, ".return")) {
		for _, run := range runsOf(s, h) {
			if edits := homesApart(s, run, h.Strike.Case.Out); edits != nil {
				return edits
			}
		}
	}
	return Harmed(s, h)
}
