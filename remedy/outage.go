package remedy

import (
	"slices"

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
