package commission

import (
	"farend/parts"
	"farend/scheme"
)

// electrician is what is asked of the licensed electrician, and where he signs.
func (m *maker) electrician() Stage {
	g := Stage{
		Name:   "For the licensed electrician",
		Signed: "Licensed electrician, for the mains side",
		Why:    "To be asked before anything is switched on. These are questions, not answers: local codes decide. The mains side is not part of this design.",
	}
	state := "mains side"
	ask := []string{
		"Supply circuit, protective device, residual-current device, means of switching off and locking, protective earth of each supply: made and tested?",
		"Inrush of all supplies on one breaker at once: does its curve bear it?",
		"Is surge protection called for, of the mains and of long lines outdoors?",
		"Is the metalwork within reach bonded, and is the output to be earthed or left floating?",
		"Are extra-low voltage and mains apart in every box and conduit, by distance or a barrier?",
	}
	switch m.s.Site.Metalwork {
	case "bonded":
		ask[3] = "The scheme takes the metalwork as bonded: is it, and is the output to be earthed at one place or left floating?"
	case "isolated":
		ask[3] = "The scheme takes the metalwork as isolated: is it so left, and may it be?"
	case "none":
		ask[3] = "The scheme knows of no metalwork within reach: is that so, and is the output to be earthed or left floating?"
	}
	if wet := m.s.Site.Exposure; wet == parts.Outdoors || wet == parts.Immersed {
		ask = append(ask, "Outdoors or in water: which zones and distances of the local code hold here?")
	}
	for _, q := range ask {
		g.Steps = append(g.Steps, Step{Do: q, State: state, About: scheme.IDs(m.s.Supplies)})
	}
	return g
}
