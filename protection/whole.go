package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

var notChosen = study.Rule{
	Name: "protection/not-chosen", Title: "Part not chosen", Scope: study.Whole, Safety: true,
	Doc: study.Doc{
		What:    "The parts that the scheme leaves open on purpose (part: choose) against none.",
		Why:     "What hangs on such a part is not in the solved network. Nothing can be said about it, and a guess would be worse than nothing.",
		Formula: []string{"N_o = 0"},
		Symbols: []study.Symbol{{Sign: "N_o", Unit: "1", Means: "how many parts read choose: supplies, boards, tapes, cables, leads, junctions, fuses, connectors, contactors, capacitors, enclosures and buffers"}},
		Sources: []study.Source{nothingNeeded("what is not there cannot be solved")},
		Limits:  []string{"It counts what is marked as open. A wrong part, chosen, is judged by the rules of its kind; a thing that is missing altogether is not seen."},
		Grades:  []study.Graded{{Grade: finding.Unknown, When: "some part is not chosen yet"}},
		Example: study.Example{
			Given: []string{"A supply, a cable, the fuse in another cable and the fuse of a way read choose."},
			Sums:  []string{"1 + 1 + 1 + 1 = 4", "4 > 0"},
			Grade: finding.Unknown,
			Says:  "The scheme does not pass until the four are chosen.",
		},
	},
	Judge: func(s *study.Study, _ string) []study.Assessment {
		open := s.Open()
		a := study.Assessment{Grade: finding.Pass}
		if len(open) > 0 {
			a = study.Assessment{Grade: finding.Unknown}.Say("Not chosen yet: "+strings.Join(open, ", ")+". Results leave them out.", "Choose these parts.")
		}
		return []study.Assessment{a.Worked(func(w *study.Working) {
			w.Counted("N_o", "how many parts read choose: "+study.Listed(open), len(open))
			w.When(finding.Unknown, "N_o > 0")
		})}
	},
}

var operatingPoint = study.Rule{
	Name: "protection/operating-point", Title: "No operating point", Scope: study.Whole, Safety: true,
	Doc: study.Doc{
		What:    "Every case against having a solved operating point: voltages at which the currents balance at every node.",
		Why:     "Where none was found, whatever is said about that case rests on nothing.",
		Formula: []string{"ΔU ≤ 10⁻¹² V in the last step of the solver"},
		Symbols: []study.Symbol{{Sign: "ΔU", Unit: "V", Means: "largest change of a voltage"}},
		Sources: []study.Source{{Title: "Kirchhoff's current law", Basis: parts.Derived, Says: "needs no other source; that a found point is one is tested against other solvers (docs/architecture.md)"}},
		Limits: []string{
			"It says that the sums were done, not that the numbers in them are right.",
			"A double counts 53 binary digits. Where currents in one network differ by more than that, none can be found.",
		},
		Grades: []study.Graded{{Grade: finding.Unknown, When: "some case has no operating point; that is a fault of Farend, or numbers of no world"}},
		Example: study.Example{
			Given: []string{"One network holds a supply that limits at a million amperes and rails that may carry a nanoampere. A sum of double precision is right to about one part in 9 × 10¹⁵."},
			Sums:  []string{"1000000 A/9000000000000000 = 0.00000000011 A", "1000000 A/0.000000001 A = 1000000000000000"},
			Grade: finding.Unknown,
			Says:  "The smallest current is barely above the rounding of the largest: no point is found, and none is made up.",
		},
	},
	Judge: func(s *study.Study, _ string) []study.Assessment {
		var found []study.Assessment
		for _, c := range s.Cases() {
			if r := s.Result(c.Name); !r.Found() {
				found = append(found, study.Assessment{Case: c.Name, Grade: finding.Unknown}.Say(
					fmt.Sprintf("No operating point was found for %s: currents are out of balance by %v.", study.CaseWords(c), r.Residual), "Report this scheme as a fault of Farend.").Worked(func(w *study.Working) {
					w.Solved("I_o", "largest current that does not balance at any node or pixel", study.Of(r.Residual), c)
					w.Fact(finding.Unknown, "The last step still changed some voltage by more than the solver allows.")
				}))
			}
		}
		if found == nil {
			return study.Passes("In the last step of every case no voltage changed by more than the solver allows.")
		}
		return found
	},
}
