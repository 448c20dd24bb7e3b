package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
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
		return secondCore(s, id, name, protocol, clockSignal)
	},
}

// clockSignal is the clock as a second signal of a lead.
var clockSignal = second{
	key: "clocked", what: "the clock", short: finding.Fails,
	needs: func(id string, lead scheme.Lead, cores, need int) (text, remedy string) {
		return fmt.Sprintf("%s has %d cores, and %d are needed: the pixels of %s are clocked, and no core is left for their clock.", id, cores, need, lead.To),
			fmt.Sprintf("Choose a lead with %d cores for data, clock and ground.", need)
	},
}
