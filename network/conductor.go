package network

import (
	"math"
	"slices"

	"farend/circuit"
	"farend/conductor"
	"farend/unit"
)

// A Conductor is something that a current flows through, by the name that it has among Outages and in netlists: a core (W3.plus,
// D1.ground), a fuse (A1.1.fuse), the copper of a board (A1.1.plus, A1.in.return, A1.P1.ground), a contact (W3.plus contact at from), or
// both rails of a run (E1).
type Conductor struct {
	Name  string
	Core  *conductor.Core // of a core, nil of anything else
	Cable string          // the cable or lead that it belongs to, "" where to none
}

// Conductors lists all that currents flow through. Currents gives theirs in the same order.
func (n *Network) Conductors() []Conductor {
	owner := map[int]string{}
	for _, c := range n.cables {
		for _, wires := range [][]int{c.plus, c.minus} {
			for _, w := range wires {
				owner[w] = c.id
			}
		}
	}
	for _, d := range n.leads {
		for _, wires := range [][]int{d.ground, d.power} {
			for _, w := range wires {
				owner[w] = d.id
			}
		}
	}
	var list []Conductor
	for i, e := range n.elements {
		list = append(list, Conductor{e.name, e.core, owner[i]})
	}
	for _, r := range n.runs {
		list = append(list, Conductor{Name: r.id})
	}
	return list
}

// Currents are the sizes of the currents of all conductors in the first slice of a solution: of a run the largest in either rail.
func (n *Network) Currents(s *Solution) []unit.Ampere {
	amps := make([]unit.Ampere, 0, len(n.elements)+len(n.runs))
	p := s.points[0]
	for i := range n.elements {
		amps = append(amps, unit.Ampere(math.Abs(p.WireAmps(i))))
	}
	for _, r := range n.runs {
		most := 0.0
		for _, piece := range r.stretches {
			most = max(most, n.railPeak(p, piece.chain))
		}
		amps = append(amps, unit.Ampere(most))
	}
	return amps
}

// Heating are the heating currents of all conductors over the cycle of a solution, which with one slice are those of Currents.
func (n *Network) Heating(s *Solution) []unit.Ampere {
	if len(s.cycle) == 1 {
		return n.Currents(s)
	}
	amps := make([]unit.Ampere, 0, len(n.elements)+len(n.runs))
	for i := range n.elements {
		amps = append(amps, unit.Ampere(s.flow(func(p *circuit.Point) float64 { return p.WireAmps(i) }).RMS))
	}
	for _, r := range n.runs {
		most := 0.0
		for _, piece := range r.stretches {
			most = max(most, s.flow(func(p *circuit.Point) float64 { return n.railPeak(p, piece.chain) }).RMS)
		}
		amps = append(amps, unit.Ampere(most))
	}
	return amps
}

// railPeak is the largest current in either rail of a chain. It is at one of the ends where all loads let current through the same way:
// it grows or falls all along a rail then, also past a place where plus meets return.
func (n *Network) railPeak(p *circuit.Point, chain int) float64 {
	c := n.Plan.Shape().Chains[chain]
	if (p.Across(c.APlus, c.AReturn) < 0) != (p.Across(c.BPlus, c.BReturn) < 0) {
		return p.RailPeak(chain)
	}
	e := p.EndsNear(chain)
	return max(math.Abs(e.APlus), math.Abs(e.AReturn), math.Abs(e.BPlus), math.Abs(e.BReturn))
}

// FaultAmps is the current that flows through a fault, from its place.
func (s *Solution) FaultAmps() unit.Ampere { return unit.Ampere(s.points[0].BridgeAmps()) }

// FaultHeat is the heating current through a fault over the cycle, and the largest.
func (s *Solution) FaultHeat() (rms, peak unit.Ampere) {
	f := s.flow(func(p *circuit.Point) float64 { return p.BridgeAmps() })
	return unit.Ampere(f.RMS), unit.Ampere(f.Peak)
}

// VoltsAt is the voltage between the poles of a place, in the first slice of a solution; 0 where there is no such place.
func (n *Network) VoltsAt(s *Solution, place string) unit.Volt {
	at, ok := n.place(place)
	if !ok {
		return 0
	}
	return unit.Volt(s.points[0].Across(at.plus, at.minus))
}

// A Held is a supply that is held by its limit, and the voltage that is left at its terminals.
type Held struct {
	ID    string
	Volts unit.Volt
}

// AtLimit lists, in order, the supplies that are held by their limit in the first slice of a solution.
func (n *Network) AtLimit(s *Solution) []Held {
	var held []Held
	for _, t := range n.supplies {
		if p := s.points[0]; s.values[0].Source(t.source).Limited(p.SourceAmps(t.source)) {
			held = append(held, Held{t.id, unit.Volt(p.SourceVolts(t.source))})
		}
	}
	return held
}

// Giving is how many of some supplies give a current in the first slice of a solution.
func (n *Network) Giving(s *Solution, of []string) (count int) {
	for _, t := range n.supplies {
		if slices.Contains(of, t.id) && s.points[0].SourceAmps(t.source) > nothing {
			count++
		}
	}
	return count
}

// Found reports whether a solution is an operating point.
func (s *Solution) Found() bool { return s.Outcome == circuit.Converged }
