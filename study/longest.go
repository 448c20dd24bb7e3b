package study

import (
	"cmp"
	"math"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/unit"
)

// resistors are the steps of a decade of the E12 series (IEC 60063).
var resistors = []unit.Ohm{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}

// Resistor is the smallest of the E12 series from 10 Ω on that is no less than a resistance.
func Resistor(least unit.Ohm) unit.Ohm {
	for decade := unit.Ohm(1); ; decade *= 10 {
		for _, r := range resistors {
			if r*decade >= least*(1-1e-9) || !(least < 1e9) {
				return r * decade
			}
		}
	}
}

// Matching is which resistors bring what drives a lead nearest to its wave impedance, the nearest first; none where that is not known.
func (s *Study) Matching(lead string, w Wiring) []unit.Ohm {
	cable, ok := parts.Get[parts.Cable](s.Scheme.Library, s.Scheme.Data[lead].Part)
	drive, sends := s.DriveWith(lead, w)
	if !ok || !sends {
		return nil
	}
	own := drive.Driver.Is + drive.Inside.Is
	list := []unit.Ohm{0} // and up to 470 Ω: more drowns an edge
	list = append(list, resistors...)
	for _, r := range resistors[:9] {
		list = append(list, 10*r)
	}
	slices.SortStableFunc(list, func(a, b unit.Ohm) int {
		return cmp.Compare(math.Abs(float64(own+a-cable.Z0.Is)), math.Abs(float64(own+b-cable.Z0.Is)))
	})
	return list
}

// UnsaidReach is how far a pixel sends to the next whose sheet does not say: the least of all sheets that do.
const UnsaidReach unit.Metre = 3

// Reaches is how far a pixel of a protocol sends to the next run.
func (s *Study) Reaches(protocol string) unit.Metre {
	if p, ok := parts.Get[parts.Protocol](s.Scheme.Library, protocol); ok && p.Reach.Given {
		return p.Reach.Is
	}
	return UnsaidReach
}

// PairFrom is the length from which on a differential pair is better than any lead: common practice, no source.
const PairFrom unit.Metre = 10

// LongestLead is how long a data lead may be, to 0.1 m, so that it fails at none of the lengths up to that that are tried, each a seventh longer than the
// one before; 0 where it fails at any. It is sought no farther than PairFrom.
func (s *Study) LongestLead(lead string, w Wiring) (longest unit.Metre) {
	w.Length = 1 // any, for what is at its ends is the same
	l, ok := s.launch(lead, w)
	if !ok || !l.edge.Asked() {
		return 0
	}
	fails := func(length float64) bool {
		l.edge.Drive.Length = unit.Metre(length)
		e := l.edge
		for _, c := range l.corners() {
			if !c.clamped { // what the diodes take fails nothing
				e.take(&l, c, l.run(c))
			}
		}
		return e.Grade() >= finding.Fails
	}
	tried := 0.1
	for ; tried < float64(PairFrom) && !fails(tried); tried *= 8.0 / 7 {
		longest = unit.Metre(math.Floor(tried*10+1e-9) / 10)
	}
	if tried >= float64(PairFrom) && !fails(float64(PairFrom)) {
		return PairFrom
	}
	return longest
}
