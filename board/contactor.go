package board

import (
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
)

var contactorCurrent = study.Rule{
	Name: "board/contactor-current", Title: "Contactor current", Scope: study.Switches, Safety: true,
	Doc: study.Doc{
		What:    "The heating (rms) current of the heavier pole of the cable that a contactor is in, in every state, its peak, in the dark and with the cap failed, against the rating of its contacts.",
		Why:     "All that the cable carries goes through one small pair of contacts. Overloaded, they get hot, pit and weld, and then the contactor no longer switches off what people trust it to.",
		Formula: []string{"max(I_p, I_m) ≤ I_r"},
		Symbols: []study.Symbol{
			{Sign: "I_p", Unit: "A", Means: "rms current of the plus pole over the pulse-width cycle"},
			{Sign: "I_m", Unit: "A", Means: "rms current of the return pole"},
			{Sign: "I_r", Unit: "A", Means: "rated current of its contacts (amps)"},
		},
		Sources: contactSources("the sheet of the contactor; those of the catalogue are from memory"),
		Limits: []string{
			"Only what flows while its contacts are closed. What they make when capacitors behind them charge (inrush), and what they break, is not judged; the voltage that they break is, by board/rated-volts.",
			"The resistance of its contacts is not in the solved network, so currents are as they would be without it.",
			"It may switch one pole or both, which a scheme does not say: the heavier pole is taken. One contact is taken for each pole; where several are in parallel, give the part what its sheet says of them together.",
			"Ratings are for a resistive load in air for which the maker gave them, mostly for alternating current too; the figure taken must be that for direct current.",
			"How warm it gets is not computed. How an overload ends is asked with the cap failed alone; in a state it should not be there at all.",
		},
		Grades: contactGrades("never by itself: of a contactor that is not chosen yet protection/not-chosen says so"),
		Example: study.Example{
			Given: []string{"A load relay of 16 A stands in a cable that feeds 1,700 pixels of 10 mA."},
			Sums:  []string{"1700 × 10 mA = 17 A", "1.2 × 16 A = 19.2 A", "17 A > 16 A", "17 A < 19.2 A"},
			Value: "17 A", Limit: "16 A", Grade: finding.Fails,
			Says: "The fuse of the cable, 30 A, lets that pass for ever.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		q := s.Scheme.Contactors[id]
		part, ok := parts.Get[parts.Relay](s.Scheme.Library, q.Part)
		if !ok {
			return nil // protection/not-chosen says so
		}
		rated := contact{"The contact of " + id + " in " + q.In, q.Part, "amps", part.Amps}
		var found []study.Assessment
		for _, c := range s.Cases() {
			r := s.Result(c.Name).Cables[q.In]
			poles := []flow{one("rms current of the plus pole of "+q.In, r.Plus.RMS), one("rms current of its return pole", r.Return.RMS)}
			found = append(found, rated.judge(s, poles, c, func() []study.Number { return s.Carried(c, q.In) }, "Use a contactor with a higher rating, or split the load over another feed.", func() []network.Behind { return s.Through(c, q.In) }))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Contactor(s, id) })
	},
}
