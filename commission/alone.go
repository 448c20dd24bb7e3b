package commission

import (
	"fmt"

	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// alone is the supplies with nothing on them.
func (m *maker) alone() Stage {
	g := Stage{
		Name:  "Supplies alone",
		Why:   "A set point that is wrong, or a pole that is swapped, reaches no chip while every fuse is out.",
		Stop:  "Do not go on while a pole is swapped, a voltage is outside its band, or any way or landing shows a voltage.",
		Live:  true,
		Notes: []string{"The licensed electrician releases the mains, one supply at a time."},
	}
	state := "all fuses out, one supply on"
	for _, id := range scheme.IDs(m.s.Supplies) {
		g.Steps = append(g.Steps, m.supplyAlone(id, state))
	}
	if len(m.s.Supplies) == 0 {
		g.Steps = append(g.Steps, Step{Do: "There is no supply in the scheme", State: state})
	}
	if beyond := m.places(); len(beyond) > 0 && len(m.s.Supplies) > 0 {
		g.Steps = append(g.Steps, Step{
			Do: "Dead behind every fuse: every inlet, way, junction and landing", Between: [2]string{"each +", "each −"}, State: "all fuses out, all supplies on", Reading: nothing(), Rests: restsDead,
			Stop: "a voltage here comes past a fuse: find the way it takes",
		})
	}
	return g
}

// deadVolts is what a piece that nothing feeds may still show to a meter: capacitors that drain below where chips conduct (common practice, no source).
const deadVolts = 0.5

const restsDead = "capacitors that drain slowly may leave some tenths of a volt; wait a minute: common practice, no source"

// nothing is the reading of what is dead, whichever way round.
func nothing() *Reading { return &Reading{Kind: Volts, Is: 0, Low: -deadVolts, High: deadVolts} }

func (m *maker) supplyAlone(id, state string) Step {
	step := Step{Between: poles(id), State: state, About: []string{id}, Do: m.fullName(id) + ": polarity and volts at its terminals", Stop: "a minus sign is a swapped pole: switch off"}
	part, ok := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part)
	set := float64(m.s.SetPoint(id))
	switch {
	case !ok || set <= 0:
		step.Expect = "its part is still to be chosen"
	case trimmable(part):
		step.Do = fmt.Sprintf("%s: polarity; trim to %v", m.fullName(id), unit.Volt(set))
		step.Reading = &Reading{Kind: Volts, Is: set, Low: set * (1 - trimSpread), High: set * (1 + trimSpread), Inwards: true}
		step.Rests = "what the trimmer is set by, ±0.5 % (common practice, no source); what the meter errs by is in the bands that follow"
	default:
		step.Reading = direct.shown(Volts, band{set, set * (1 + part.Volts.Spread.Low), set * (1 + part.Volts.Spread.High)})
		step.Rests = "spread of the set point; the volts of the meter"
	}
	return step
}
