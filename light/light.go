// Package light judges what the viewer gets: whether every pixel has the voltage its colour needs, whether a run is
// evenly bright, and whether its colour changes along it. Each value comes from the solved cases of the study.
package light

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{unfedRun, pixelVoltage, evenness, colourShift, typicalTape}
}

// lit lists the cases in which light is asked for.
func lit(s *study.Study) []network.Case {
	var cases []network.Case
	for _, c := range s.Cases() {
		if c.Kind == network.State || c.Kind == network.Peak {
			cases = append(cases, c)
		}
	}
	return cases
}

var unfedRun = study.Rule{
	Name: "light/unfed-run", Title: "Unfed run", Scope: study.Runs,
	Doc: study.Doc{
		What:    "Every stretch of a run against having copper from a supply's plus to its positive rail, and from its return rail to the same supply's minus.",
		Why:     "A stretch without it stays dark. Behind a cut that is easily forgotten: the run goes on, the copper does not.",
		Formula: []string{"N_c ≥ 1"},
		Symbols: []study.Symbol{{Sign: "N_c", Unit: "1", Means: "supplies whose plus copper joins to the positive rail of the stretch and whose minus copper joins to its return rail"}},
		Sources: []study.Source{{Title: "a circuit needs two conductors", Basis: parts.Derived, Says: "needs no other source"}},
		Limits: []string{
			"The way through other pixels does not count as copper, though a little current may take it.",
			"A return through the ground core of a data lead alone does light the run. It is judged as a danger by protection/data-return.",
			"Whether the supply that feeds it is switched on, or holds its voltage, is judged elsewhere.",
			"Voltage, evenness and colour are judged of the stretches that are fed; of a run without any this finding is all there is.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "some stretch has no such supply"},
			{Grade: finding.Unknown, When: "some stretch has none, and some part of the scheme is not chosen yet"},
		},
		Example: study.Example{
			Given: []string{"A run of 50 pixels is fed at its start, and its positive rail is cut before pixel 20. Nothing lands behind the cut."},
			Sums:  []string{"50 − 20 = 30", "0 < 1"},
			Grade: finding.Fails,
			Says:  "30 pixels, 20 to 49, have a return and no plus.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, f := range s.Network.Feeds(id) {
			if a, wrong := unfed(id, f, s); wrong {
				found = append(found, study.FixedAll([]study.Assessment{a}, func() []finding.Edit { return remedy.Unfed(s, id, f) })...)
			}
		}
		if found == nil {
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(func(w *study.Working) {
				for _, f := range s.Network.Feeds(id) {
					feeding(w, f)
				}
			})}
		}
		return found
	},
}

// feeding asks whether a stretch hangs between the two poles of one supply.
func feeding(w *study.Working, f network.Feed) {
	closed := 0
	for _, t := range f.Plus {
		if slices.Contains(f.Return, t) {
			closed++
		}
	}
	w.Counted("N_c", fmt.Sprintf("supplies on both rails of pixels %d to %d; on the positive: %s, on the return: %s", f.From, f.To-1, study.Listed(f.Plus), study.Listed(f.Return)), closed)
	w.When(finding.Fails, "N_c < 1")
}

func unfed(id string, f network.Feed, s *study.Study) (study.Assessment, bool) {
	if open := s.Open(); len(open) > 0 && !f.Closed() {
		return study.Unknown(fmt.Sprintf("%s, pixels %d to %d, is not fed yet; not chosen: %s.", id, f.From, f.To-1, strings.Join(open, ", ")), "Choose these parts.")[0], true
	}
	a := study.Assessment{Grade: finding.Fails, At: fmt.Sprintf("%s@px%d", id, f.From), Source: "needs no source: a circuit needs two conductors"}.
		Worked(func(w *study.Working) { feeding(w, f) })
	where := fmt.Sprintf("%s, pixels %d to %d,", id, f.From, f.To-1)
	switch {
	case len(f.Plus) == 0 && len(f.Return) == 0:
		return a.Say(where+" is not fed: no cable brings either pole of a supply to it.", fmt.Sprintf("Add a cable from a fused way to %s@start.", id)), true
	case len(f.Plus) == 0:
		return a.Say(where+" has a return but no positive feed.", fmt.Sprintf("Bring the positive of a fused way to %s; look for a cut without a feed behind it.", id)), true
	case len(f.Return) == 0:
		return a.Say(where+" has a positive feed but no return.", fmt.Sprintf("Bring the return of the same way to %s.", id)), true
	case !f.Closed():
		return a.Say(fmt.Sprintf("%s hangs between the plus of %s and the return of %s, which have no copper in common.", where, strings.Join(f.Plus, ", "), strings.Join(f.Return, ", ")),
			"Feed both poles from one supply, or join the returns."), true
	}
	return a, false
}
