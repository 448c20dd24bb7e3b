// Package signal judges whether the data can arrive. For now it knows one thing: a receiver needs the same reference as
// its sender. Levels, edges and frame times come with their own rules.
package signal

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/study"
)

// Rules lists the rules of this room.
func Rules() []study.Rule { return []study.Rule{commonReturn} }

var commonReturn = study.Rule{
	Name: "signal/common-return", Title: "Common return", Scope: study.Leads, Safety: false,
	Doc: "The return of a run must be joined by copper to the ground of whoever sends it data: by the ground core of the lead, or by the power returns. Without it a data level means nothing.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		if s.Network.CommonReturn(id) {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		d := s.Scheme.Data[id]
		if open := s.Open(); len(open) > 0 {
			return study.Unknown(fmt.Sprintf("%s: %s and %s have no common return yet; not chosen: %s.", id, d.From, d.To, strings.Join(open, ", ")), "Choose these parts.")
		}
		return []study.Assessment{study.Assessment{Grade: finding.Fails, Source: "needs no source: a voltage has two ends"}.Say(
			fmt.Sprintf("%s: %s and %s have no common return, so the data levels mean nothing.", id, d.From, d.To),
			"Join the ground core of the lead at both ends, or join the returns of the two supplies.")}
	},
}
