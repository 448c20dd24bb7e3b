package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
)

// A second signal goes along a lead beside data, and takes a core of its own.
type second struct {
	key   string // of the protocol that asks for it
	what  string
	short finding.Grade // what it is worth where there is no core for it
	needs func(id string, lead scheme.Lead, cores, need int) (text, remedy string)
}

// secondCore judges whether a lead has a core for a second signal: besides those for data, for ground where that is joined, and for the supply where it
// carries that.
func secondCore(s *study.Study, id, name string, p *parts.Protocol, signal second) []study.Assessment {
	lead := s.Scheme.Data[id]
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, lead.Part)
	if !ok {
		return study.Unknown(fmt.Sprintf("Whether %s has a core for %s is not known: it is not chosen yet.", id, signal.what), "Choose a lead with three cores.")
	}
	grounds, powers := 1, 0
	if lead.Ground == scheme.OpenGround {
		grounds = 0
	}
	if lead.Power {
		powers = 1
	}
	need := 2 + grounds + powers
	cores := study.Said(lead.Part, "cores", part.Origin).Being(study.Plain(part.Cores))
	text, mended := signal.needs(id, lead, part.Cores, need)
	a := study.Lower(float64(part.Cores), float64(need), 0, signal.short).Fill("", "1", p.Basis, p.Source)
	return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Said(name, signal.key, p.Origin), cores} }).
		Say(text, mended).
		Fixed(func() []finding.Edit { return remedy.MoreCores(s, id, need) }).
		Worked(func(w *study.Working) {
			w.Stated("N_c", "cores of the lead", cores)
			w.Counted("N_g", "for ground", grounds)
			w.Counted("N_p", "for the supply", powers)
			w.Counted("N_d", "for data and for "+signal.what, 2)
			w.Step("Cores that are needed", "N_n = N_d + N_g + N_p")
			w.Lower("N_c", "N_n", 0, signal.short)
		})}
}
