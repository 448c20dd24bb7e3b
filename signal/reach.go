package signal

import (
	"fmt"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

var (
	unsaying = study.Source{Title: "the sheets of other chips", Basis: parts.Derived, Says: "3 m is the least of all sheets that name a distance: WS2812-2020, and WS2812B of 2023"}
	singling = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "beyond 10 m data goes as a difference on a pair; up to 3 m a buffer with 33 to 470 Ω behind it does, up to 10 m with 75 to 100 Ω and the ground in the same pair"}
)

var reach = study.Rule{
	Name: "signal/reach", Title: "Length of data leads", Scope: study.Leads,
	Doc: study.Doc{
		What:    "The length of a data lead against how far its sender reaches: between runs, where a pixel sends, what the sheet of its chip says “without extra circuit”, or 3 m where it says nothing; from a port or a buffer 10 m.",
		Why:     "The output of a pixel is made to drive the next one beside it. On a long lead edges get slow and come back from its end, and some pixels take a pulse for two, or none.",
		Formula: []string{"L ≤ L_max"},
		Symbols: []study.Symbol{
			{Sign: "L", Unit: "m", Means: "length of the lead"},
			{Sign: "L_max", Unit: "m", Means: "how far the sender reaches"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "how far one pixel sends to the next with nothing between; which sheet the protocol of the tape says"},
			unsaying,
			singling,
			{Title: "EIA RS-485", Basis: parts.Standard, Says: "a pair that is ended with 120 Ω on both sides; drivers give 1.5 V across 54 Ω, and receivers are sure from 200 mV on", Read: "a maker's note (SLLA628) and a journal's table"},
		},
		Limits: []string{
			"It counts metres. What becomes of edges on a lead, by its impedance and the resistor behind the driver, is asked by signal/edges of what a port or a buffer drives.",
			"Clocked pixels ask for less: along 0.5 m some 10 MHz arrive, along 3 m 4 MHz, along 10 m 1 MHz, each with both lines ended (common practice, no source). Which clock a controller uses is not in a scheme.",
			"Reaches are those at the chip's own supply, from pixel to pixel; leads within a run, at factory joints, are not in a scheme.",
			"A differential link is not in a scheme: where there is one, let the lead begin at its receiver.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "a pixel sends farther than its sheet says"},
			{Grade: finding.Tight, When: "a pixel whose sheet says nothing sends farther than 3 m, or a port or buffer farther than 10 m"},
		},
		Example: study.Example{
			Given: []string{"From the end of a run, whose chips reach 3 m by their sheet, a lead of 4 m goes to the next run."},
			Sums:  []string{"4 m > 3 m"},
			Value: "4 m", Limit: "3 m", Grade: finding.Fails,
			Says: "A buffer at the end of the first run sends on, with its own resistor behind it: its rails feed it, so the tape must have the voltage of the buffer.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead := s.Scheme.Data[id]
		if lead.Length == nil {
			return nil
		}
		length := *lead.Length
		measured := func(w *study.Working) {
			w.Written("L", "length of the lead", study.Of(length), "data."+id+".length", s.Scheme.Place("data", id))
		}
		buffered := lead.Buffer != nil && lead.Buffer.At == "from"
		if lead.From.Kind == scheme.PortRef || buffered {
			from := lead.From.String()
			if buffered {
				from = "the buffer of " + id
			}
			a := study.Upper(float64(length), float64(study.PairFrom), 0, finding.Tight).Fill("", "m", singling.Basis, singling.String())
			return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("10 m for data on one wire", singling)} }).
				Say(fmt.Sprintf("%s sends along %v to %s; data on one wire goes %v.", study.Capital(from), length, lead.To, study.PairFrom),
					"Send it as a difference on a pair: a driver and a receiver of the RS-422 or RS-485 class, the pair ended with 120 Ω; or bring the port nearer.").
				Worked(func(w *study.Working) {
					measured(w)
					w.Taken("L_max", "how far data goes on one wire", study.Of(study.PairFrom), singling)
					w.Upper("L", "L_max", 0, finding.Tight)
				})}
		}
		return fromPixel(s, id, length, measured)
	},
}

// buffers reports whether the tape of a run has the voltage of a buffer of the catalogue or of the scheme: the rails there are all that can feed one.
func buffers(s *study.Study, run string) bool {
	tape := s.Scheme.Tape(run)
	return tape != nil && slices.ContainsFunc(s.Scheme.Library.Names("buffer"), func(name string) bool {
		part, ok := parts.Get[parts.Buffer](s.Scheme.Library, name)
		return ok && part.Suits(tape.Volts.Is)
	})
}

// fromPixel judges a lead along which a pixel sends.
func fromPixel(s *study.Study, id string, length unit.Metre, measured func(*study.Working)) []study.Assessment {
	lead := s.Scheme.Data[id]
	name, protocol := protocolOf(s, lead.From.Element)
	if protocol == nil {
		return study.Unknown(fmt.Sprintf("The tape of %s is not chosen yet, so how far it sends is not known.", lead.From), "Choose the tape.")
	}
	remedy := fmt.Sprintf("Bring the runs nearer to each other, or give %s a port of its own.", lead.To)
	if buffers(s, lead.From.Element) {
		remedy = fmt.Sprintf("Put a buffer at the end of %s, bring the runs nearer to each other, or give %s a port of its own.", lead.From, lead.To)
	}
	if !protocol.Reach.Given {
		a := study.Upper(float64(length), float64(study.UnsaidReach), 0, finding.Tight).Fill("", "m", unsaying.Basis, unsaying.String())
		return []study.Assessment{a.On(func() []study.Number {
			return []study.Number{study.Taken("3 m where the sheet says nothing", unsaying)}
		}).
			Say(fmt.Sprintf("The last pixel of %s sends along %v to %s. %s does not say how far it reaches; others say %v and more.", lead.From, length, lead.To, name, study.UnsaidReach), remedy).
			Worked(func(w *study.Working) {
				measured(w)
				w.Taken("L_max", "how far a pixel surely reaches whose sheet says nothing", study.Of(study.UnsaidReach), unsaying)
				w.Upper("L", "L_max", 0, finding.Tight)
			})}
	}
	a := study.Upper(float64(length), float64(protocol.Reach.Is), 0, finding.Fails).Fill("", "m", protocol.Reach.Basis, protocol.Reach.Source)
	return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Stated(name, "reach", protocol.Reach)} }).
		Say(fmt.Sprintf("The last pixel of %s sends along %v to %s; its sheet says that it reaches %v.", lead.From, length, lead.To, protocol.Reach.Is), remedy).
		Worked(func(w *study.Working) {
			measured(w)
			w.Stated("L_max", "how far it reaches", study.Stated(name, "reach", protocol.Reach))
			w.Upper("L", "L_max", 0, finding.Fails)
		})}
}
