package remedy

import (
	"cmp"
	"math"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// resistors are the steps of the E12 series (IEC 60063) from 10 to 470 Ω, and none: below they change nothing of an edge, above they drown it.
var resistors = []unit.Ohm{0, 10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82, 100, 120, 150, 180, 220, 270, 330, 390, 470}

// triedOhms is how many of them are tried with each driver, those that match best first.
const triedOhms = 4

// Edged makes the pulses of a data lead arrive: by a resistor in it that brings what drives it nearest to its wave impedance, by a buffer at the end that
// sends, by a shorter lead. The first of them that leaves nothing to find is taken, else the one that leaves least.
func Edged(s *study.Study, lead string) []finding.Edit {
	now := s.Wired(lead)
	was, ok := s.EdgeWith(lead, now)
	if !ok || !was.Asked() {
		return nil
	}
	left, best := was.Grade(), now
	for _, w := range rewirings(s, lead, now) {
		if left == finding.Pass {
			break
		}
		if e, ok := s.EdgeWith(lead, w); ok && e.Asked() && e.Grade() < left {
			left, best = e.Grade(), w
		}
	}
	if w := now; left == finding.Fails {
		if w.Length = Longest(s, lead, now); w.Length > 0 {
			best = w
		}
	}
	return rewired(lead, now, best)
}

// rewirings are the resistors that match a lead with what drives it now, then those with each buffer at the end that sends, where there is none yet.
func rewirings(s *study.Study, lead string, now study.Wiring) (list []study.Wiring) {
	for _, ohms := range matching(s, lead, now) {
		w := now
		w.Series = ohms
		list = append(list, w)
	}
	if now.Buffer != nil {
		return list
	}
	for _, name := range s.Scheme.Library.Names("buffer") {
		w := study.Wiring{Length: now.Length, Buffer: &scheme.LeadBuffer{Part: name, At: scheme.FromEnd}}
		for _, ohms := range matching(s, lead, w) {
			w.Series = ohms
			list = append(list, w)
		}
	}
	return list
}

// matching is which resistors bring what drives a lead nearest to its wave impedance, the nearest first.
func matching(s *study.Study, lead string, w study.Wiring) []unit.Ohm {
	cable, ok := parts.Get[parts.Cable](s.Scheme.Library, s.Scheme.Data[lead].Part)
	e, sends := s.DriveWith(lead, w)
	if !ok || !sends {
		return nil
	}
	own := e.Driver.Is + e.Inside.Is
	list := slices.Clone(resistors)
	slices.SortStableFunc(list, func(a, b unit.Ohm) int {
		return cmp.Compare(math.Abs(float64(own+a-cable.Z0.Is)), math.Abs(float64(own+b-cable.Z0.Is)))
	})
	return list[:triedOhms]
}

// rewired are the edits that make one wiring of a lead another.
func rewired(lead string, now, then study.Wiring) (edits []finding.Edit) {
	if then.Series != now.Series {
		var value any
		if then.Series > 0 {
			value = plain(float64(then.Series)) + " Ω"
		}
		edits = append(edits, edit(value, "data", lead, "series"))
	}
	if then.Buffer != now.Buffer {
		edits = append(edits, edit(map[string]any{"part": then.Buffer.Part, "at": string(then.Buffer.At)}, "data", lead, "buffer"))
	}
	if then.Length != now.Length {
		edits = append(edits, edit(plain(float64(then.Length))+" m", "data", lead, "length"))
	}
	return edits
}

// Longest is how long a data lead may be, in steps of 0.1 m, so that it fails at none of the lengths up to that that were tried, each a tenth longer than the
// one before; 0 where it fails at any. It goes up to where leads are better a differential pair.
func Longest(s *study.Study, lead string, w study.Wiring) (longest unit.Metre) {
	const pair = 10 // m
	for tried := 0.1; tried <= pair; tried *= 1.1 {
		w.Length = unit.Metre(tried)
		if e, ok := s.EdgeWith(lead, w); !ok || !e.Asked() || e.Grade() >= finding.Fails {
			break
		}
		longest = unit.Metre(math.Floor(tried*10+1e-9) / 10)
	}
	return longest
}

// Lifted brings the levels of a data lead where they have to be: by a buffer with the thresholds of TTL, beside the first pixel where its supply suits the
// buffer, else at the end that sends, with the resistor that its edges ask for; where none does, and what is amiss is where the grounds stand, by thicker
// feeds of the run.
func Lifted(s *study.Study, lead string) []finding.Edit {
	d := s.Scheme.Data[lead]
	tape := s.Scheme.Tape(d.To.Element)
	if tape == nil {
		return nil
	}
	now := s.Wired(lead)
	if d.Buffer == nil {
		for _, name := range s.Scheme.Library.Names("buffer") {
			if w, ok := buffered(s, lead, name, tape); ok {
				return rewired(lead, now, w)
			}
		}
	}
	for _, m := range s.LeadMargins(lead) {
		if least, ok := study.Least([]study.Margins{m}); ok && least.Volts < 0 && m.Over != nil && m.Over.Volts == least.Volts {
			return nil // what is driven too high sags, and that is asked for elsewhere
		}
	}
	const half = 0.5
	var edits []finding.Edit
	for _, l := range landings(s, d.To.Element) {
		edits = append(edits, Larger(s, l.cable, half)...)
	}
	return edits
}

// buffered is a lead with a buffer, where levels and edges are then well.
func buffered(s *study.Study, lead, name string, tape *parts.Tape) (study.Wiring, bool) {
	part, ok := parts.Get[parts.Buffer](s.Scheme.Library, name)
	if !ok {
		return study.Wiring{}, false
	}
	w := s.Wired(lead)
	w.Buffer = &scheme.LeadBuffer{Part: name, At: scheme.FromEnd}
	if tape.Volts.Is >= part.Volts.Lower() && tape.Volts.Is <= part.Volts.Upper() {
		w.Buffer.At = scheme.ToEnd
	}
	if least, ok := study.Least(s.MarginsWith(lead, w.Buffer)); !ok || least.Volts < 0 {
		return w, false
	}
	tries := []unit.Ohm{w.Series}
	if w.Buffer.At == scheme.FromEnd {
		tries = matching(s, lead, w)
	}
	for _, w.Series = range tries {
		if e, ok := s.EdgeWith(lead, w); !ok || e.Grade() < finding.Unknown {
			return w, true
		}
	}
	return w, false
}
