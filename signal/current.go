package signal

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// poorShare is the share of what a run draws from which on its data ground is a return, and littleGround a current that no data ground minds.
const (
	poorShare                = 1.0 / 3
	littleGround unit.Ampere = 0.1
)

// poorReturn says whence they are.
var poorReturn = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a data ground is a reference: the power return of a run should bring home most of what it draws; a tenth of an ampere is no matter"}

var groundCurrent = study.Rule{
	Name: "signal/ground-current", Title: "Current in a data ground", Scope: study.Leads,
	Doc: study.Doc{
		What:    "The current in the ground core of a data lead, in every state and its peak, against what the run that it leads to draws.",
		Why:     "A data ground lies beside the power return of its run, and takes a share by its resistance. A large share says that the power return is poor: too thin, too long, loose, or not there. It lifts the reference of the data with every change of the light, and the thin core is the next to go.",
		Formula: []string{"I_g ≤ max(k_p · I_E, I_o)"},
		Symbols: []study.Symbol{
			{Sign: "I_g", Unit: "A", Means: "current in the ground core, rms"},
			{Sign: "I_E", Unit: "A", Means: "what the run draws in that case, rms"},
			{Sign: "k_p", Unit: "1", Means: "share of it that a poor return leaves to the data ground: a third"},
			{Sign: "I_o", Unit: "A", Means: "current that is no matter: 100 mA"},
		},
		Sources: []study.Source{poorReturn},
		Limits: []string{
			"What the core, the contact of the port and its fuse may carry is asked by board/port-ground; what the shift does to the data by signal/levels.",
			"Of a lead between runs that are joined at both ends by power copper it is the share of one way of two, which may be large and harmless.",
			"A return that comes loose is not solved here: protection/lost-return follows it.",
		},
		Grades: []study.Graded{{Grade: finding.Tight, When: "the data ground takes more than a third of what its run draws, and more than 100 mA"}},
		Example: study.Example{
			Given: []string{"A run draws 1 A. Its only power return is 40 m of 1 mm², 0.78 Ω; its data ground has 0.05 Ω."},
			Sums: []string{
				"1 A · 0.78 Ω/(0.78 Ω + 0.05 Ω) = 0.94 A",
				"1/3 · 1 A = 0.333 A",
				"0.94 A > 0.333 A",
			},
			Value: "940 mA", Limit: "333 mA", Grade: finding.Tight,
			Says: "The lamp current goes home by the data lead, and changes with every scene.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		var all []study.Assessment
		run := s.Scheme.Data[id].To.Element
		for _, c := range s.Cases() {
			if c.Kind != network.State && c.Kind != network.Peak {
				continue
			}
			r := s.Result(c.Name)
			amps, drawn := r.Data[id].Ground.RMS, r.Runs[run].Amps.RMS
			limit := max(unit.Ampere(poorShare)*drawn, littleGround)
			a := study.Upper(float64(amps), float64(limit), 0, finding.Tight).Fill(c.Name, "A", poorReturn.Basis, poorReturn.String())
			got, wanted := unit.Apart(amps, limit)
			share := " of"
			if amps > drawn {
				share = ", more than"
			}
			all = append(all, a.On(func() []study.Number { return s.Draw(c, []string{run}) }).
				Say(fmt.Sprintf("The ground core of %s brings home %s%s the %v that %s draws in %s; %s are no matter. A power return is poor.", id, got, share, drawn, run, study.CaseWords(c), wanted),
					"Bring a better power return to the run: thicker or shorter, or one more, at the end that the data comes in.").
				Worked(func(w *study.Working) {
					w.Solved("I_g", "current in the ground core", study.Of(amps), c)
					w.Solved("I_E", "what "+run+" draws", study.Of(drawn), c)
					w.Taken("k_p", "share that a poor return leaves", study.Plain(float64(poorShare)), poorReturn)
					w.Taken("I_o", "current that is no matter", study.Of(littleGround), poorReturn)
					w.Step("What is no matter", "I_l = max(k_p · I_E, I_o)")
					w.Upper("I_g", "I_l", 0, finding.Tight)
				}).Fixed(func() []finding.Edit {
				return remedy.BetterReturn(s, id, float64(amps/drawn), float64(limit/amps))
			}))
		}
		if len(all) == 0 {
			return study.Passes("There is no state in which anything flows.")
		}
		return all
	},
}
