package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

var leadGround = study.Rule{
	Name: "signal/lead-ground", Title: "Data without its ground", Scope: study.Leads,
	Doc: study.Doc{
		What:    "Data leads whose ground core is open, though their two ends have one reference by power copper: what they send comes home that way.",
		Why:     "Every edge on a data core has its like on the way home. Beside it, in the same sheath, the two make a pair; by power copper elsewhere they make a loop, which picks up and gives off whatever changes near it, and what flows in that copper is added to the level.",
		Formula: []string{"N_c ≥ 1"},
		Symbols: []study.Symbol{{Sign: "N_c", Unit: "1", Means: "ground cores of the lead that are joined at both ends"}},
		Sources: []study.Source{
			{Title: "current goes round", Basis: parts.Derived, Says: "what leaves by the data core comes back, by the nearest copper that joins the two grounds"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "data and its own ground side by side, in one pair where it is longer than some metres"},
		},
		Limits: []string{
			"A note, for a ground may be open on purpose: where both ends have their returns by power copper of their own, it keeps the load of a run out of the thin core when a return comes loose (protection/lost-return).",
			"How far levels move is counted by signal/levels, from the currents of each state. What the loop picks up is counted by nothing.",
			"Where no copper joins the two grounds at all, signal/common-return says so.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "no ground core is joined, and copper joins the two grounds elsewhere"}},
		Example: study.Example{
			Given: []string{"A run has its power from the board that sends its data, and the ground core of its data lead is open."},
			Sums:  []string{"0 < 1"},
			Grade: finding.Note,
			Says:  "Its data comes home along the feed. Short, and laid beside the feed, it mostly works.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead, cores := s.Scheme.Data[id], 1
		if lead.Ground == scheme.OpenGround {
			cores = 0
		}
		if cores == 0 && !s.Network.CommonReturn(id) {
			return study.Passes("No copper joins the two grounds, which signal/common-return judges.")
		}
		a := study.Assessment{Grade: finding.Pass}
		if cores == 0 {
			a = study.Assessment{Grade: finding.Note, Source: "needs no source: current goes round"}.Say(
				fmt.Sprintf("The ground core of %s is open: what %s sends to %s comes home by power copper, in a wide loop, and what flows there moves its levels.", id, lead.From, lead.To),
				"Leave it open where a lost return would send the load of a run through it, and lay the lead short and along the power copper; else join it at both ends.")
		}
		return []study.Assessment{a.Worked(func(w *study.Working) {
			w.Counted("N_c", "ground cores of the lead that are joined at both ends", cores)
			w.When(finding.Note, "N_c < 1")
		})}
	},
}
