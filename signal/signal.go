// Package signal judges whether the data arrives: that there is any, that a receiver has the same reference as its sender, and in time, at a level
// that is understood, in shape (docs/signal.md).
package signal

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{noData, commonReturn, leadGround, groundCurrent, mixedChain, frameRate, refresh, waking, leadLevels, cutLevels, edges, bufferSupply, reach, clockCore, backupLine, unpoweredInput}
}

var commonReturn = study.Rule{
	Name: "signal/common-return", Title: "Common return", Scope: study.Leads, Safety: false,
	Doc: study.Doc{
		What:    "The return of a run at its data-in end against being joined by copper to the ground of whoever sends it data: by the ground core of the lead, or by the power returns.",
		Why:     "A data level is a voltage between two conductors. Without a second one it means nothing: pixels flicker, freeze or stay dark, and it changes with who touches what.",
		Formula: []string{"N_g ≥ 1"},
		Symbols: []study.Symbol{{Sign: "N_g", Unit: "1", Means: "ways by copper from the sender's ground to the run's return"}},
		Sources: []study.Source{{Title: "a voltage has two ends", Basis: parts.Derived, Says: "needs no other source"}},
		Limits: []string{
			"It asks for a way, not for a good one: how far the run's return stands above the sender's ground is asked by signal/levels.",
			"Senders that are isolated on purpose, such as differential links, are not in a scheme.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "no copper joins the two"},
			{Grade: finding.Unknown, When: "no copper joins them, and some part of the scheme is not chosen yet"},
		},
		Example: study.Example{
			Given: []string{"A run has a supply of its own, and the ground core of its data lead is open (ground: open)."},
			Sums:  []string{"0 + 0 = 0", "0 < 1"},
			Grade: finding.Fails,
			Says:  "No way by the lead, none by the returns: whatever the port sends, the run has nothing to compare it with.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		joined := func(ways int) func(*study.Working) {
			return func(w *study.Working) {
				w.Counted("N_g", "ways by copper from the sender's ground to the run's return, at least", ways)
				w.When(finding.Fails, "N_g < 1")
			}
		}
		if s.Network.CommonReturn(id) {
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(joined(1))}
		}
		d := s.Scheme.Data[id]
		if open := s.Open(); len(open) > 0 {
			return study.Unknown(fmt.Sprintf("%s: %s and %s have no common return yet; not chosen: %s.", id, d.From, d.To, strings.Join(open, ", ")), "Choose these parts.")
		}
		return []study.Assessment{study.Assessment{Grade: finding.Fails, Source: "needs no source: a voltage has two ends"}.Say(
			fmt.Sprintf("%s: %s and %s have no common return, so the data levels mean nothing.", id, d.From, d.To),
			"Join the ground core of the lead at both ends, or join the returns of the two supplies.").Fixed(func() []finding.Edit { return remedy.Joined(s, id) }).Worked(joined(0))}
	},
}
