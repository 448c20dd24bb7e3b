package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

var noData = study.Rule{
	Name: "signal/no-data", Title: "Run without data", Scope: study.Runs, Safety: false,
	Doc: study.Doc{
		What:    "Every run against having a data lead that ends at its data-in end.",
		Why:     "Pixels show what they are told. Without data they stay dark, or keep whatever they woke up with: the voltages and currents of its states are then those of a run that never shows them.",
		Formula: []string{"N_d ≥ 1"},
		Symbols: []study.Symbol{{Sign: "N_d", Unit: "1", Means: "data leads that end at the run"}},
		Sources: []study.Source{{Title: "pixels repeat what they are sent", Basis: parts.Derived, Says: "needs no other source"}},
		Limits: []string{
			"It asks for a lead, not whether what it sends arrives: see the other rules of this room.",
			"A tape without chips of its own, switched or dimmed by its supply, needs none. A scheme may also leave its data out on purpose: so it is a note.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "no data lead ends at the run"}},
		Example: study.Example{
			Given: []string{"Of three runs the first gets its data from a port and the second from the first. Nobody drew a lead to the third."},
			Sums:  []string{"0 < 1"},
			Grade: finding.Note,
			Says:  "The third is lit in the sums and dark on the wall.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		leads := 0
		for _, d := range scheme.IDs(s.Scheme.Data) {
			if s.Scheme.Data[d].To.Element == id {
				leads++
			}
		}
		a := study.Assessment{Grade: finding.Pass}
		if leads == 0 {
			a = study.Assessment{Grade: finding.Note, Source: "needs no source: pixels repeat what they are sent"}.Say(
				fmt.Sprintf("No data lead ends at %s: nothing tells it what to show.", id), fmt.Sprintf("Lead data to %s from a port, or from the end of another run.", id))
		}
		return []study.Assessment{a.Worked(func(w *study.Working) {
			w.Counted("N_d", "data leads that end at the run", leads)
			w.When(finding.Note, "N_d < 1")
		})}
	},
}
