package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
)

var clockCore = study.Rule{
	Name: "signal/clock-core", Title: "Core for the clock", Scope: study.Leads,
	Doc: study.Doc{
		What:    "Data leads to clocked pixels against having a core for the clock beside those for data and ground.",
		Why:     "A clocked pixel takes a bit with each edge of a second wire. Without that nothing arrives at all.",
		Formula: []string{"N_c ≥ N_n"},
		Symbols: []study.Symbol{
			{Sign: "N_c", Unit: "1", Means: "cores of the lead"},
			{Sign: "N_n", Unit: "1", Means: "cores that it needs: data, clock, ground where that is joined, and one that carries the supply where it does"},
		},
		Sources: []study.Source{{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "that its pixels are clocked by a second wire; which sheet the protocol of the tape says"}},
		Limits: []string{
			"It counts cores. That data and clock are not exchanged a look tells.",
			"A port is taken to send a clock where its pixels ask for one.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the lead has no core for the clock"},
			{Grade: finding.Unknown, When: "a lead to clocked pixels is not chosen yet"},
		},
		Example: study.Example{
			Given: []string{"A lead of two cores, data and ground, goes to a run of clocked pixels."},
			Sums:  []string{"1 + 1 + 1 = 3", "2 < 3"},
			Value: "2", Limit: "3", Grade: finding.Fails,
			Says: "A lead of three cores brings data, clock and ground.",
		},
	},
	Reads: study.AsCount,
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead := s.Scheme.Data[id]
		name, protocol := protocolOf(s, lead.To.Element)
		if protocol == nil || !protocol.Clocked {
			return study.Passes("Its pixels are not clocked.")
		}
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, lead.Part)
		if !ok {
			return study.Unknown(fmt.Sprintf("Whether %s has a core for the clock is not known: it is not chosen yet.", id), "Choose a lead with three cores.")
		}
		grounds, powers := besideSignals(lead)
		need := 2 + grounds + powers
		a := study.Lower(float64(part.Cores), float64(need), 0, finding.Fails).Fill("", "1", protocol.Basis, protocol.Source)
		return []study.Assessment{a.On(func() []study.Number {
			return []study.Number{study.Said(name, "clocked", protocol.Origin), study.Said(lead.Part, "cores", part.Origin).Being(study.Plain(part.Cores))}
		}).Say(fmt.Sprintf("%s has %d cores, and %d are needed: the pixels of %s are clocked, and no core is left for their clock.", id, part.Cores, need, lead.To),
			fmt.Sprintf("Choose a lead with %d cores for data, clock and ground.", need)).
			Fixed(func() []finding.Edit { return remedy.MoreCores(s, id, need) }).
			Worked(func(w *study.Working) { coresNeeded(w, lead, part, "for data and for the clock", finding.Fails) })}
	},
}

// besideSignals are the cores of a lead besides those for signals: for its ground, and for the supply.
func besideSignals(lead scheme.Lead) (grounds, powers int) {
	if lead.Ground != scheme.OpenGround {
		grounds = 1
	}
	if lead.Power {
		powers = 1
	}
	return grounds, powers
}

// coresNeeded counts the cores of a lead with two signals.
func coresNeeded(w *study.Working, lead scheme.Lead, part *parts.Cable, signals string, short finding.Grade) {
	grounds, powers := besideSignals(lead)
	w.Stated("N_c", "cores of the lead", study.Said(lead.Part, "cores", part.Origin).Being(study.Plain(part.Cores)))
	w.Counted("N_g", "for ground", grounds)
	w.Counted("N_p", "for the supply", powers)
	w.Counted("N_d", signals, 2)
	w.Step("Cores that are needed", "N_n = N_d + N_g + N_p")
	w.Lower("N_c", "N_n", 0, short)
}
