package network

import (
	"context"
	"math"
	"strings"

	"farend/circuit"
	"farend/unit"
)

// Contacts lists, in the order of Conductors, the places among those that are contacts, joints or the copper of a board: what may get loose.
func (n *Network) Contacts() []int {
	var list []int
	for i, e := range n.elements {
		if e.core == nil && e.link == nil && !strings.Contains(e.name, " joined to ") {
			list = append(list, i)
		}
	}
	return list
}

// Loose finds the operating point of a case with so much resistance more in a contact, by its place among Conductors, from the solution of the sound
// case, as Glance does. It is not ok where that cannot be followed: a supply folds back, pulses or shuts down, or nothing goes through the contact.
func (n *Network) Loose(ctx context.Context, w *circuit.Worker, sound *Solution, contact int, ohms unit.Ohm) (s *Solution, ok bool) {
	whole := sound.values[0].Wire(contact)
	if !n.plain(sound) || whole.Law != nil || whole.G <= 0 {
		return nil, false
	}
	s = n.follow(ctx, w, sound.Case, sound, &circuit.Options{Ends: true}, func(k int, rms []float64) *circuit.Values {
		v := sound.values[k].Fork()
		v.SetWire(contact, circuit.Resistor(1/sound.values[k].Wire(contact).G+float64(ohms)))
		return v
	})
	return s, s.Found() && s.values[0].Wire(contact).G < whole.G // what was solved from cold after all knows nothing of it
}

// In is the heating current of a conductor over the cycle of a solution, by its place among Conductors; not of a run.
func (s *Solution) In(conductor int) unit.Ampere {
	return unit.Ampere(s.flow(func(p *circuit.Point) float64 { return p.WireAmps(conductor) }).RMS)
}

// ReadRuns is what Read says of runs. Those whose voltages have not moved since another solution of the same case, by 0.1 mV anywhere at an end of a
// stretch, are as they were then.
func (n *Network) ReadRuns(s, since *Solution, were map[string]Run) map[string]Run {
	runs := make(map[string]Run, len(n.runs))
	for _, run := range n.runs {
		if was, known := were[run.id]; known && !n.moved(run, s, since) {
			runs[run.id] = was
		} else {
			runs[run.id] = n.readRun(s, run)
		}
	}
	return runs
}

// Moved reports whether the voltage at an end of some stretch of a run has moved by more than 0.1 mV since another solution of the same case; of a run
// that there is not it has not.
func (n *Network) Moved(run string, s, since *Solution) bool {
	at, known := n.runAt[run]
	return known && n.moved(n.runs[at], s, since)
}

func (n *Network) moved(run runAt, s, since *Solution) bool {
	const still = 1e-4
	if len(s.cycle) != len(since.cycle) { // a supply pulses, or does no more
		return true
	}
	for _, piece := range run.stretches {
		c := n.Plan.Shape().Chains[piece.chain]
		for k := range s.cycle {
			now, was := s.points[k], since.points[k]
			if math.Abs(now.Across(c.APlus, c.AReturn)-was.Across(c.APlus, c.AReturn)) > still || math.Abs(now.Across(c.BPlus, c.BReturn)-was.Across(c.BPlus, c.BReturn)) > still ||
				now.Live(c.APlus) != was.Live(c.APlus) {
				return true
			}
		}
	}
	return false
}
