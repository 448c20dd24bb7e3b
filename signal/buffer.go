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
		What:    "A buffer at an end of a data lead that is at a run, against what that run has to supply it with; and whether a lead with a buffer needs it.",
		Why:     "A buffer lifts data to the level of its own supply. Beside a pixel, the first of the run at the end or the last of the one that sends, it is fed from the rails there: on a tape of 12 or 24 V that is its end, and on one of 5 V it follows the rails as they sag, as the pixel does.",
		Formula: []string{"U_b1 ≤ U_t ≤ U_b2", "U_r ≥ U_b1"},
		Symbols: []study.Symbol{
			{Sign: "U_t", Unit: "V", Means: "voltage of the tape"},
			{Sign: "U_r", Unit: "V", Means: "what the pixel beside it has between its rails, at its least"},
			{Sign: "U_b1", Unit: "V", Means: "lowest supply of the buffer"},
			{Sign: "U_b2", Unit: "V", Means: "highest supply of the buffer"},
		},
		Sources: []study.Source{{Title: "the sheet of the buffer", Basis: parts.Datasheet, Says: "supplies that it is made for; which sheet the part says"}},
		Limits: []string{
			"A buffer at a port is fed by the board, and what that has is not in a scheme. At a run it is taken to be fed by the rails there, for nothing else is.",
			"Beside a pixel its output follows the rails, as far below them as its sheet has it at its lowest supply.",
			"A transistor with a pull-up lifts levels, too, but not in time: 10 kΩ and 100 pF take a microsecond (from the product of both). No such shifter is in the catalogue.",
			"Whether it is needed is asked of levels and edges as they are without it, and between runs of how far the pixel before it sends; what couples into a long lead is not in that.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the tape has more, or less, than the buffer is made for"},
			{Grade: finding.Tight, When: "the pixel beside it has less in some state or its peak than the buffer is made for"},
			{Grade: finding.Note, When: "levels and edges are well without it, and so far the pixel before it sends"},
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
		run := d.Feeds(d.Buffer.At)
		tape := s.Scheme.Tape(run)
		switch {
		case !ok:
			return study.Unknown(fmt.Sprintf("The buffer of %s is not chosen yet.", id), "Choose it.")
		case run != "" && tape == nil:
			return study.Unknown(fmt.Sprintf("The tape of %s, which feeds the buffer of %s, is not chosen yet.", run, id), "Choose it.")
		}
		var all []study.Assessment
		if run != "" {
			all = append(all, study.FixedAll(supplied(s, id, run, tape, buffer), func() []finding.Edit {
				if needless(s, id) {
					return remedy.Unbuffered(id)
				}
				return remedy.BufferedAcross(s, id)
			})...)
		}
		for _, m := range s.LeadMargins(id) {
			if m.Rail != nil {
				all = append(all, sagging(id, run, d.Buffer.Part, buffer, *m.Rail).Fixed(func() []finding.Edit { return remedy.ThickerFeeds(s, run) }))
			}
		}
		if s.Scheme.FeedsBuffer(run, d.Buffer.Part) && needless(s, id) {
			all = append(all, study.Assessment{Grade: finding.Note, Source: "levels and edges without it"}.Say(
				fmt.Sprintf("Levels and edges of %s are well without its buffer.", id), "Leave it out, or keep it against what couples into the lead.").
				Worked(func(w *study.Working) { w.Fact(finding.Note, "Levels and edges are well without it") }))
		}
		if all == nil {
			return study.Passes("A buffer at a port is fed by its board.")
		}
		return all
	},
}

// supplied judges the supply of a buffer at a run: both ends of what it is made for.
func supplied(s *study.Study, id, run string, tape *parts.Tape, buffer *parts.Buffer) []study.Assessment {
	d := s.Scheme.Data[id]
	tapeName, name := s.Scheme.Runs[run].Tape, d.Buffer.Part
	volts, low, high := tape.Volts.Is, buffer.Volts.Lower(), buffer.Volts.Upper()
	numbers := func() []study.Number {
		return []study.Number{study.Stated(tapeName, "volts", tape.Volts), study.Stated(name, "volts", buffer.Volts)}
	}
	where := "at the end of the lead, where the tape"
	instead := "put it at the end that sends (at: from)"
	if d.Buffer.At == scheme.FromEnd {
		where = fmt.Sprintf("where the lead begins, at the end of %s: only the rails can feed it there, and the tape", run)
		instead = fmt.Sprintf("give %s a port of its own, put it at the end of the lead (at: to) if the tape of %s has its voltage", d.To, d.To)
	} else if d.From.Kind == scheme.RunRef {
		instead = fmt.Sprintf("give %s a port of its own, put it where the lead begins (at: from) if the tape of %s has its voltage", d.To, d.From)
	}
	say := func(a study.Assessment, bound unit.Volt, most string) study.Assessment {
		return a.Fill("", "V", buffer.Volts.Basis, buffer.Volts.Source).On(numbers).Say(
			fmt.Sprintf("The buffer of %s is %s has %v; it is made for %v at %s.", id, where, volts, bound, most),
			"Leave it out where data arrives without it, "+instead+", or choose one for the voltage of the tape.")
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

// sagging judges what a buffer at a run has where the pixel beside it has least.
func sagging(id, run, name string, buffer *parts.Buffer, rail study.Margin) study.Assessment {
	low := buffer.Volts.Lower()
	a := study.Lower(float64(rail.Volts), float64(low), 0, finding.Tight).Fill(rail.In.Name, "V", buffer.Volts.Basis, buffer.Volts.Source)
	got, wanted := unit.Apart(rail.Volts, low)
	return a.On(func() []study.Number { return []study.Number{study.Stated(name, "volts", buffer.Volts)} }).
		Say(fmt.Sprintf("The buffer of %s has %s between its rails in %s; it is made for %s at least.", id, got, study.CaseWords(rail.In), wanted),
			fmt.Sprintf("Bring more voltage to that end of %s: a feed there, or thicker cables.", run)).
		Worked(func(w *study.Working) {
			w.Solved("U_r", "what the buffer has between its rails", study.Of(rail.Volts), rail.In)
			w.Stated("U_n", "supply of the buffer", study.Stated(name, "volts", buffer.Volts))
			w.Stated("k_u", "how far it may be below", study.Low(name, "volts", buffer.Volts))
			w.Step("What the buffer is made for", "U_b1 = U_n · (1 + k_u)")
			w.Lower("U_r", "U_b1", 0, finding.Tight)
		})
}

// needless reports whether levels and edges of a lead are well without its buffer, and the pixel that would send then reaches so far.
func needless(s *study.Study, id string) bool {
	if d := s.Scheme.Data[id]; d.From.Kind == scheme.RunRef {
		name, _ := protocolOf(s, d.From.Element)
		if d.Length == nil || *d.Length > s.Reaches(name) {
			return false // signal/reach would say so
		}
	}
	least, ok := study.Least(s.MarginsWith(id, nil))
	w := s.Wired(id)
	w.Buffer = nil
	e, sends := s.EdgeWith(id, w)
	return ok && least.Volts >= study.NearLevel && (!sends || e.Grade() < finding.Tight)
}
