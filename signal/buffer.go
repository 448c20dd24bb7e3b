package signal

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

var bufferSupply = study.Rule{
	Name: "signal/buffer", Title: "Buffer in a data lead", Scope: study.Leads,
	Doc: study.Doc{
		What:    "A buffer at the far end of a data lead against what the run there has to supply it with; and whether a lead with a buffer needs it.",
		Why:     "A buffer lifts data to the level of its own supply. Beside the first pixel it is fed from the rails there: on a tape of 12 or 24 V that is its end, and on one of 5 V it follows the rails as they sag, as the pixel does.",
		Formula: []string{"U_b1 ≤ U_t ≤ U_b2", "U_r ≥ U_b1"},
		Symbols: []study.Symbol{
			{Sign: "U_t", Unit: "V", Means: "voltage of the tape"},
			{Sign: "U_r", Unit: "V", Means: "what the first pixel has between its rails, at its least"},
			{Sign: "U_b1", Unit: "V", Means: "lowest supply of the buffer"},
			{Sign: "U_b2", Unit: "V", Means: "highest supply of the buffer"},
		},
		Sources: []study.Source{{Title: "the sheet of the buffer", Basis: parts.Datasheet, Says: "supplies that it is made for; which sheet the part says"}},
		Limits: []string{
			"A buffer at the end that sends is fed by the board, and what that has is not in a scheme.",
			"Beside the first pixel its output follows the rails, as far below them as its sheet has it at its lowest supply.",
			"A transistor with a pull-up lifts levels, too, but not in time: 10 kΩ and 100 pF take a microsecond (from the product of both). No such shifter is in the catalogue.",
			"Whether it is needed is asked of levels and edges as they are without it; what couples into a long lead is not in that.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the tape has more, or less, than the buffer is made for"},
			{Grade: finding.Tight, When: "the first pixel has less in some state or its peak than the buffer is made for"},
			{Grade: finding.Note, When: "levels and edges are well without it"},
		},
		Example: study.Example{
			Given: []string{"A buffer for 4.5 to 5.5 V is beside the first pixel of a tape of 12 V."},
			Sums:  []string{"5 V · 1.1 = 5.5 V", "12 V > 5.5 V"},
			Value: "12 V", Limit: "5.5 V", Grade: finding.Fails,
			Says: "It burns out at the first switching on. Beside the board, on its 5 V, it does what it is for.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		d := s.Scheme.Data[id]
		if d.Buffer == nil {
			return study.Passes("There is no buffer in it.")
		}
		buffer, ok := parts.Get[parts.Buffer](s.Scheme.Library, d.Buffer.Part)
		tape := s.Scheme.Tape(d.To.Element)
		if !ok || tape == nil {
			return study.Unknown(fmt.Sprintf("The buffer of %s, or the tape of %s, is not chosen yet.", id, d.To.Element), "Choose it.")
		}
		var all []study.Assessment
		if d.Buffer.At == scheme.ToEnd {
			all = append(all, study.FixedAll(supplied(id, s.Scheme.Runs[d.To.Element].Tape, tape, d.Buffer.Part, buffer), func() []finding.Edit {
				if needless(s, id) {
					return remedy.Unbuffered(id)
				}
				return remedy.BufferedBefore(s, id)
			})...)
		}
		for _, m := range s.LeadMargins(id) {
			if m.Rail != nil && m.Buffer == study.FromBuffer && d.Buffer.At == scheme.ToEnd {
				all = append(all, sagging(id, d.Buffer.Part, buffer, *m.Rail).Fixed(func() []finding.Edit { return remedy.ThickerFeeds(s, d.To.Element) }))
			}
		}
		if needless(s, id) {
			all = append(all, study.Assessment{Grade: finding.Note, Source: "levels and edges without it"}.Say(
				fmt.Sprintf("Levels and edges of %s are well without its buffer.", id), "Leave it out, or keep it against what couples into the lead.").
				Worked(func(w *study.Working) { w.Fact(finding.Note, "Levels and edges are well without it") }))
		}
		if all == nil {
			return study.Passes("A buffer at the end that sends is fed by its board.")
		}
		return all
	},
}

// supplied judges the supply of a buffer beside the first pixel: both ends of what it is made for.
func supplied(id, tapeName string, tape *parts.Tape, name string, buffer *parts.Buffer) []study.Assessment {
	volts, low, high := tape.Volts.Is, buffer.Volts.Lower(), buffer.Volts.Upper()
	numbers := func() []study.Number {
		return []study.Number{study.Stated(tapeName, "volts", tape.Volts), study.Stated(name, "volts", buffer.Volts)}
	}
	say := func(a study.Assessment, bound unit.Volt, most string) study.Assessment {
		return a.Fill("", "V", buffer.Volts.Basis, buffer.Volts.Source).On(numbers).Say(
			fmt.Sprintf("The buffer of %s is at the end of the lead, where the tape has %v; it is made for %v at %s.", id, volts, bound, most),
			"Leave it out where levels and edges are well without it, put it at the end that sends (at: from), or choose one for the voltage of the tape.")
	}
	spread := func(w *study.Working, sign, of string, n study.Number) {
		w.Stated("U_n", "supply of the buffer", study.Stated(name, "volts", buffer.Volts))
		w.Stated("k_u", "how far it may be "+of, n)
		w.Step("What the buffer is made for", sign+" = U_n · (1 + k_u)")
	}
	return []study.Assessment{
		say(study.Upper(float64(volts), float64(high), 0, finding.Fails), high, "most").Worked(func(w *study.Working) {
			w.Stated("U_t", "voltage of the tape", study.Stated(tapeName, "volts", tape.Volts))
			spread(w, "U_b2", "above", study.High(name, "volts", buffer.Volts))
			w.Upper("U_t", "U_b2", 0, finding.Fails)
		}),
		say(study.Lower(float64(volts), float64(low), 0, finding.Fails), low, "least").Worked(func(w *study.Working) {
			w.Stated("U_t", "voltage of the tape", study.Stated(tapeName, "volts", tape.Volts))
			spread(w, "U_b1", "below", study.Low(name, "volts", buffer.Volts))
			w.Lower("U_t", "U_b1", 0, finding.Fails)
		}),
	}
}

// sagging judges what a buffer beside the first pixel has where that has least.
func sagging(id, name string, buffer *parts.Buffer, rail study.Margin) study.Assessment {
	low := buffer.Volts.Lower()
	a := study.Lower(float64(rail.Volts), float64(low), 0, finding.Tight).Fill(rail.In.Name, "V", buffer.Volts.Basis, buffer.Volts.Source)
	got, wanted := unit.Apart(rail.Volts, low)
	return a.On(func() []study.Number { return []study.Number{study.Stated(name, "volts", buffer.Volts)} }).
		Say(fmt.Sprintf("The buffer of %s has %s between its rails in %s; it is made for %s at least.", id, got, study.CaseWords(rail.In), wanted),
			"Bring more voltage to the first pixel: a feed at its end, or thicker cables.").
		Worked(func(w *study.Working) {
			w.Solved("U_r", "what the buffer has between its rails", study.Of(rail.Volts), rail.In)
			w.Stated("U_n", "supply of the buffer", study.Stated(name, "volts", buffer.Volts))
			w.Stated("k_u", "how far it may be below", study.Low(name, "volts", buffer.Volts))
			w.Step("What the buffer is made for", "U_b1 = U_n · (1 + k_u)")
			w.Lower("U_r", "U_b1", 0, finding.Tight)
		})
}

// needless reports whether levels and edges of a lead are well without its buffer.
func needless(s *study.Study, id string) bool {
	least, ok := study.Least(s.MarginsWith(id, nil))
	w := s.Wired(id)
	w.Buffer = nil
	e, sends := s.EdgeWith(id, w)
	return ok && least.Volts >= study.NearLevel && (!sends || e.Grade() < finding.Tight)
}
