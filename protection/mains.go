package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// segregation is what lets extra-low voltage lie beside mains, and apart how far data keeps from it.
var (
	segregation = study.Source{Title: "IEC 60364-5-52", Clause: "528", Basis: parts.Standard, Read: "a page that was not named, on that and BS 7671",
		Says: "extra-low voltage and mains share an enclosure only where every cable is insulated for the highest voltage, or they are parted by a partition, a conduit or an earthed metal screen"}
	apart = study.Source{Title: "EN 50174-2", Basis: parts.Standard, Read: "a page that was not named", Says: "an unscreened data cable keeps 200 mm from power cables where nothing parts them"}
)

var besideMains = study.Rule{
	Name: "protection/beside-mains", Title: "Beside mains", Scope: study.Lines, Safety: true,
	Doc: study.Doc{
		What:    "Cables and data leads that the scheme says lie in one conduit, bundle or box with mains (beside).",
		Why:     "One nick in the wrong place, and mains is on the line, and on everything that it goes to: the tape that people touch among it. Long before that, what mains switches couples into the data.",
		Formula: []string{"N_m = 0, or segregated"},
		Symbols: []study.Symbol{{Sign: "N_m", Unit: "1", Means: "1 where mains lies in one conduit, bundle or box with the line, as far as the scheme says"}},
		Sources: []study.Source{
			segregation,
			apart,
			{Title: "IEC 60364-4-41", Clause: "414", Basis: parts.Memory, Says: "a SELV circuit is parted from others by double or reinforced insulation"},
		},
		Limits: []string{
			"Where the scheme does not say what lies beside a line, nothing is found, and nothing is proven: protection/protective-measures asks it once.",
			"Inside a box that holds a supply mains comes in. How it is kept from the rest there is asked of the electrician, too, and not of a scheme.",
			"What couples into data from power cables of the installation (beside: power) is judged by nothing: no source says how much. Where they must lie together, twist data with its own ground, and cross at right angles.",
			"Which of the clauses binds depends on the country. The local code goes first, and mains is a licensed electrician's.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "mains lies beside it, and the scheme does not say that it is segregated"},
			{Grade: finding.Note, When: "segregated mains lies beside it"},
		},
		Example: study.Example{
			Given: []string{"A data lead goes through the conduit that brings the supply its mains (beside: mains)."},
			Sums:  []string{"1 > 0"},
			Grade: finding.Danger,
			Says:  "Such a lead is insulated for its own few volts. It goes through a conduit of its own, away from the mains.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead, data := s.Scheme.Data[id]
		beside, disturbed := s.Scheme.Cables[id].Beside, ""
		if data {
			beside, disturbed = lead.Beside, ", and what mains switches couples into the data"
		}
		switch beside {
		case scheme.BesideMains:
			return []study.Assessment{study.Assessment{Grade: finding.Danger, Basis: segregation.Basis, Source: segregation.String()}.
				Say(fmt.Sprintf("%s lies in one conduit, bundle or box with mains, and nothing says that it may: a fault there brings mains to the tape%s.", id, disturbed),
					"Lead it apart, data 200 mm from mains where nothing parts them. Where both must share a way, a licensed electrician segregates them by the local code (a partition, an earthed metal screen, or every cable insulated for the mains); then write beside: segregated-mains.").
				Worked(func(w *study.Working) {
					w.Counted("N_m", "mains that lies beside it and is not said to be segregated", 1)
					w.When(finding.Danger, "N_m > 0")
				})}
		case scheme.BesideSegregated:
			said := fmt.Sprintf("%s lies beside mains that is said to be segregated from it: by a partition, an earthed metal screen, or insulation for the mains on every cable there.", id)
			return []study.Assessment{study.Assessment{Grade: finding.Note, Basis: segregation.Basis, Source: segregation.String()}.
				Say(said, "Have a licensed electrician confirm it.").
				Worked(func(w *study.Working) { w.Fact(finding.Note, said) })}
		case scheme.BesidePower:
			return study.Passes("Power of the installation lies beside it, and no mains.")
		case scheme.BesideNothing:
			return study.Passes("Nothing lies beside it.")
		}
		return study.Passes("The scheme does not say what lies beside it (beside).")
	},
}
