package remedy

import (
	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// triedOhms is how many resistors are tried with each driver, those that match best first.
const triedOhms = 4

// Edged makes the pulses of a data lead arrive: by a resistor in it that brings what drives it nearest to its wave impedance, by a buffer at the end that
// sends, by a shorter lead where one reaches as its ends are drawn. The first of them that leaves nothing to find is taken, else the one that leaves least.
func Edged(s *study.Study, lead string) []finding.Edit {
	now := s.Wired(lead)
	was, ok := s.EdgeWith(lead, now)
	if !ok || !was.Asked() {
		return nil
	}
	left, then := was.Grade(), now
	for _, w := range rewirings(s, lead, now) {
		if left == finding.Pass {
			break
		}
		if e, ok := s.EdgeWith(lead, w); ok && e.Asked() && e.Grade() < left {
			left, then = e.Grade(), w
		}
	}
	if w := now; left == finding.Fails {
		if w.Length = s.LongestLead(lead, now); w.Length > 0 && s.Scheme.LeastWay(lead) <= w.Length+scheme.Slack(w.Length) {
			then = w
		}
	}
	return rewired(lead, now, then)
}

// rewirings are the resistors that match a lead with what drives it now, then those with each buffer at the end that sends, where there is none yet.
func rewirings(s *study.Study, lead string, now study.Wiring) (list []study.Wiring) {
	for _, ohms := range best(s, lead, now) {
		w := now
		w.Series = ohms
		list = append(list, w)
	}
	if now.Buffer != nil {
		return list
	}
	for _, name := range s.Scheme.Library.Names("buffer") {
		w := study.Wiring{Length: now.Length, Buffer: &scheme.LeadBuffer{Part: name, At: scheme.FromEnd}}
		for _, ohms := range best(s, lead, w) {
			w.Series = ohms
			list = append(list, w)
		}
	}
	return list
}

// best are the resistors that are tried with what drives a lead.
func best(s *study.Study, lead string, w study.Wiring) []unit.Ohm {
	list := s.Matching(lead, w)
	return list[:min(triedOhms, len(list))]
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
	return ThickerFeeds(s, d.To.Element)
}

// ThickerFeeds puts cables that lose half as much in the place of the feeds of a run.
func ThickerFeeds(s *study.Study, run string) (edits []finding.Edit) {
	const half = 0.5
	for _, l := range landings(s, run) {
		edits = append(edits, Larger(s, l.cable, half)...)
	}
	return edits
}

// buffered is a lead with a buffer, where levels and edges are then well: beside the first pixel where its supply suits the buffer.
func buffered(s *study.Study, lead, name string, tape *parts.Tape) (study.Wiring, bool) {
	part, ok := parts.Get[parts.Buffer](s.Scheme.Library, name)
	if !ok {
		return study.Wiring{}, false
	}
	at := scheme.FromEnd
	if part.Suits(tape.Volts.Is) {
		at = scheme.ToEnd
	}
	return bufferedAt(s, lead, &scheme.LeadBuffer{Part: name, At: at})
}

// bufferedAt is a lead with a buffer at an end, where it sends with the resistor that its edges ask for; it is not ok where levels or edges are not well.
func bufferedAt(s *study.Study, lead string, buffer *scheme.LeadBuffer) (w study.Wiring, ok bool) {
	w = s.Wired(lead)
	w.Buffer = buffer
	if least, known := study.Least(s.MarginsWith(lead, buffer)); !known || least.Volts < 0 {
		return w, false
	}
	tries := []unit.Ohm{w.Series}
	if buffer.At == scheme.FromEnd {
		tries = best(s, lead, w)
	}
	for _, w.Series = range tries {
		if e, sends := s.EdgeWith(lead, w); !sends || e.Grade() < finding.Unknown {
			return w, true
		}
	}
	return w, false
}

// Resisted puts a resistor into a data lead where it begins; none where its pulses would then be near what its sheet asks for, or past that.
func Resisted(s *study.Study, lead string, ohms unit.Ohm) []finding.Edit {
	now := s.Wired(lead)
	then := now
	then.Series = ohms
	if e, ok := s.EdgeWith(lead, then); ok && e.Asked() && e.Grade() >= finding.Tight {
		return nil
	}
	return rewired(lead, now, then)
}

// Unbuffered takes the buffer out of a data lead.
func Unbuffered(lead string) []finding.Edit { return []finding.Edit{edit(nil, "data", lead, "buffer")} }

// BufferedAcross puts the buffer of a data lead at its other end, where it sends with the resistor that its edges ask for; none where it has no supply of its
// voltage there, or levels or edges are not well then.
func BufferedAcross(s *study.Study, lead string) []finding.Edit {
	now := s.Wired(lead)
	if now.Buffer == nil {
		return nil
	}
	other := scheme.FromEnd
	if now.Buffer.At == scheme.FromEnd {
		other = scheme.ToEnd
	}
	if then, ok := bufferedAt(s, lead, &scheme.LeadBuffer{Part: now.Buffer.Part, At: other}); ok {
		return rewired(lead, now, then)
	}
	return nil
}
