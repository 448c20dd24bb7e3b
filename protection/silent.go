package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// Power source classes of IEC 62368-1.
const (
	ps1 unit.Watt = 15
	ps2 unit.Watt = 100
)

var silentPower = study.Rule{
	Name: "protection/silent-power", Title: "Silent fault power", Scope: study.Whole, Safety: true,
	Doc: study.Doc{
		What:    "The most that a fault behind a fuse may burn with for an hour and longer, no fuse seeing it, against what counts as able to start a fire.",
		Why:     "A pinched strand or a wet joint is no short: it draws what the fuse holds, and turns all of it into heat at one place.",
		Formula: []string{"U_f · I_f ≤ P_1"},
		Symbols: []study.Symbol{
			{Sign: "U_f", Unit: "V", Means: "voltage that is left across the fault"},
			{Sign: "I_f", Unit: "A", Means: "current through it, just less than what some fuse on the way surely opens with, or where copper or a supply let through no more power"},
			{Sign: "P_1", Unit: "W", Means: "available power up to which a source is PS1: 15 W"},
		},
		Sources: []study.Source{classSource},
		Limits: []string{
			"The most over all resistances, in the dark, with the cap failed and in every state, with the most that may flow: set points and limits at their upper end, fuses cold in the coldest air.",
			"What supplies at their limit give is taken to go on for ever.",
			"Before the first fuse there is more: all that a supply gives. The table of check and --json have every place.",
			"Whether something near it burns is not known: what the power does depends on where it is.",
		},
		Grades: []study.Graded{
			{Grade: finding.Unknown, When: "the network was not solved for some place"},
			{Grade: finding.Note, When: "the power is above 15 W"},
		},
		Example: study.Example{
			Given: []string{"A supply of 5 V, a blade of 30 A in air of 20 °C that surely opens from 1.35 times its rating on, and 0.12 V lost on the way to a fault beside it."},
			Sums:  []string{"1.35 · 30 A = 40.5 A", "(5 V − 0.12 V) · 40.5 A = 198 W", "198 W > 15 W"},
			Value: "198 W", Limit: "15 W", Grade: finding.Note,
			Says: "A bad connection between that fuse and the board may burn with 200 W for ever.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		all := s.Silent()
		if all == nil {
			return nil // protection/faults says so
		}
		var worst study.Silent
		able, spreading := 0, 0
		for _, p := range all {
			if p.NotSure {
				return study.Unknown(fmt.Sprintf("What a fault at %s may burn with is not known: the network was not solved.", p.Fault.At), "Look for numbers of no world in the scheme.")
			}
			if p.Watts > ps1 {
				able++
			}
			if p.Watts > ps2 {
				spreading++
			}
			if len(p.Near) > 0 && p.Watts > worst.Watts {
				worst = p
			}
		}
		if worst.Watts == 0 {
			return study.Passes("No place hangs behind a fuse.")
		}
		return []study.Assessment{burning(s, worst, len(all), able, spreading)}
	},
}

// burning is the assessment of the worst place behind a fuse, of so many places; able and spreading are above 15 W and 100 W.
func burning(s *study.Study, worst study.Silent, places, able, spreading int) study.Assessment {
	a := study.Upper(float64(worst.Watts), float64(ps1), 0, finding.Note).Fill(worst.Case.Name, "W", parts.Standard, classSource.String())
	a.At = worst.Fault.At
	why := fmt.Sprintf("with more %s surely opens", worst.Guard)
	switch {
	case worst.Guard == "" && len(worst.Held) > 0:
		why = fmt.Sprintf("the limit of %s lets it have no more", study.Several(worst.Held))
	case worst.Guard == "":
		why = "copper on the way lets it have no more"
	}
	past := ""
	if len(worst.Opened) > 0 {
		past = fmt.Sprintf(" once %s %s open", study.Several(worst.Opened), map[bool]string{true: "is", false: "are"}[len(worst.Opened) == 1])
	}
	text := fmt.Sprintf("%s may burn with %v for ever%s, %v across it and %v through it, %s; %s.", study.Capital(study.FaultWords(worst.Fault)), worst.Watts, past, worst.Volts, worst.Amps, study.ConditionWords(worst.Case), why)
	text += fmt.Sprintf(" At %d of %d places a fault may have more than 15 W, at %d more than 100 W.", able, places, spreading)
	if worst.Cut {
		text += " Not every order in which fuses may open was tried."
	}
	return a.On(func() []study.Number { return silentNumbers(s, worst) }).
		Say(text, "Keep joints tight, covered and away from what burns. Smaller fuses, and cuts in the positive of a run between its feeds, make it less.").
		Fixed(func() []finding.Edit { return remedy.Quieter(s, worst) }).
		Worked(func(w *study.Working) {
			w.Solved("U_f", "voltage left across "+study.FaultWords(worst.Fault), study.Of(worst.Volts), worst.Case)
			w.Solved("I_f", "current through it", study.Of(worst.Amps), worst.Case)
			if g, ok := s.Guard(worst.Guard); ok {
				w.Fusing(s, "I_o", "I_n", "1", g)
			}
			w.Step("What it burns with", "P_f = U_f · I_f")
			w.Taken("P_1", "available power up to which a source is PS1", study.Of(ps1), classSource)
			w.Upper("P_f", "P_1", 0, finding.Note)
		})
}

// silentNumbers lists what decides the power: when the fuse opens that limits it.
func silentNumbers(s *study.Study, worst study.Silent) []study.Number {
	numbers := []study.Number{study.Taken("15 W of a PS1 source", classSource)}
	if g, ok := s.Guard(worst.Guard); ok {
		numbers = append(numbers, s.FusingOf(g)...)
	}
	return numbers
}
