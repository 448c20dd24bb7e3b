package protection

import (
	"fmt"

	"farend/finding"
	"farend/fuse"
	"farend/parts"
	"farend/study"
)

// faultRules are those that read the faults of a study.
func faultRules() []study.Rule {
	return []study.Rule{faults, farShort, shortHeat, otherVolts, discrimination, silentPower}
}

var faults = study.Rule{
	Name: "protection/faults", Title: "Faults followed", Scope: study.Whole, Safety: true, Reads: study.AsCount,
	Doc: study.Doc{
		What:    "The faults of the scheme that were followed to their end, against all of them.",
		Why:     "Whether every short ends before something burns is only known of those that were followed.",
		Formula: []string{"N_s ≥ N_f"},
		Symbols: []study.Symbol{
			{Sign: "N_s", Unit: "1", Means: "faults that were followed, in all cases and corners"},
			{Sign: "N_f", Unit: "1", Means: "faults that may be at the places of the scheme"},
		},
		Sources: []study.Source{nothingNeeded("that something was not asked proves nothing")},
		Limits: []string{
			"Large schemes take longer than a second, so their faults are followed only when asked for: farend check --protection.",
			"What is not chosen yet is not in the network; nor are faults at it.",
			"Two faults at once are not followed.",
			"Outages are followed with the faults, and not counted here.",
		},
		Grades: []study.Graded{
			{Grade: finding.Unknown, When: "faults were not followed, or the network had no operating point in some, or with one thing out"},
		},
		Example: study.Example{
			Given: []string{"A scheme that draws kilovolts from its supplies leaves a network with no operating point; none of its faults is followed."},
			Sums:  []string{"0 < 1"},
			Grade: finding.Unknown,
			Says:  "Nothing is known of its shorts.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		t := s.Struck()
		all := len(s.Faults())
		if t == nil {
			return study.Unknown(fmt.Sprintf("What happens in %d faults of this scheme was not asked: following them takes longer than a second.", all), "Run farend check --protection.")
		}
		if !t.Sound() {
			return study.Passes("The network has no operating point without a fault; protection/operating-point says so.")
		}
		var lost []string
		on := 0
		for _, f := range t.Faults {
			switch _, ends, ok := f.Cleared(); {
			case !ok:
				lost = append(lost, study.FaultWords(f.Fault))
			case ends == fuse.Never:
				on++
			}
		}
		if lost != nil {
			return study.Unknown(fmt.Sprintf("%d of %d faults have no operating point, the first of them %s: what they do is not known.", len(lost), all, lost[0]), "Look for numbers of no world in the scheme.")
		}
		if outs := s.Lost().Missed(); outs != nil {
			return study.Unknown(fmt.Sprintf("With %d things out, one at a time, the network has no operating point in some case, the first of them %s: what follows then is not known.", len(outs), outs[0]), "Look for numbers of no world in the scheme.")
		}
		followed, there := float64(len(t.Faults)), float64(all)
		a := study.Assessment{Value: &followed, Limit: &there, Unit: "1", Basis: parts.Derived}
		return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("faults of the scheme", solvedSource)} }).Worked(func(w *study.Working) {
			w.Counted("N_s", fmt.Sprintf("faults that were followed, %d of which may go on for ever", on), len(t.Faults))
			w.Counted("N_f", "faults that there may be", all)
			w.Lower("N_s", "N_f", 0, finding.Unknown)
		})}
	},
}
