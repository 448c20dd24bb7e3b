package study

import (
	"slices"
	"strings"

	"farend/network"
	"farend/scheme"
	"farend/unit"
)

// A circuit of runs is those of one nominal voltage on the same supplies.
type fedAlike struct {
	volts    unit.Volt
	supplies string
	runs     []string
}

// bridges are the faults between the plus of runs of unequal voltage that are within reach of each other, at the ends of both. Of runs on
// the same supplies one stands for all on the higher side.
func (s *Study) bridges() []network.Fault {
	groups := s.fedAlike()
	var list []network.Fault
	for _, high := range groups {
		for _, low := range groups {
			if low.volts >= high.volts || low.supplies == high.supplies {
				continue
			}
			for _, run := range low.runs {
				at := slices.IndexFunc(high.runs, func(other string) bool { return !s.separate(run, other) })
				if at < 0 {
					continue
				}
				for _, from := range []string{"@start", "@end"} {
					for _, to := range []string{"@start", "@end"} {
						list = append(list, network.Fault{Kind: network.Bridged, At: high.runs[at] + from, To: run + to})
					}
				}
			}
		}
	}
	return list
}

func (s *Study) fedAlike() []fedAlike {
	var groups []fedAlike
	for _, run := range scheme.IDs(s.Scheme.Runs) {
		tape := s.Scheme.Tape(run)
		if tape == nil {
			continue
		}
		volts, supplies := tape.Volts.Is, strings.Join(s.Network.SuppliesOf(run), " ")
		at := slices.IndexFunc(groups, func(g fedAlike) bool { return g.volts == volts && g.supplies == supplies })
		if at < 0 {
			at, groups = len(groups), append(groups, fedAlike{volts: volts, supplies: supplies})
		}
		groups[at].runs = append(groups[at].runs, run)
	}
	return slices.DeleteFunc(groups, func(g fedAlike) bool { return g.supplies == "" })
}

// separate reports whether the scheme says that two runs are out of reach of each other.
func (s *Study) separate(a, b string) bool {
	return slices.ContainsFunc(s.Scheme.Site.Separate, func(group []string) bool {
		return slices.Contains(group, a) && slices.Contains(group, b)
	})
}
