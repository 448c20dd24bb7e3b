package signal

import (
	"fmt"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// clamping says whence study.DiodeAmps is.
var clamping = study.Source{Title: "limit of families of logic", Basis: parts.Memory, Says: "20 mA through the clamp diodes of an input, as absolute maximum ratings of logic commonly have it; sheets of pixels give a voltage, 0.3 to 0.7 V over the supply, and no current"}

var unpoweredInput = study.Rule{
	Name: "signal/unpowered-input", Title: "Driven while unpowered", Scope: study.Leads,
	Doc: study.Doc{
		What: "What a port or a buffer beside it drives into the first pixel of a run that has no power while its sender has: because nothing feeds it, because a contactor switches it and not the sender, or because it hangs on another supply.",
		Why:  "An input may be driven a few tenths of a volt above its supply. Where that is off, a high level goes through the clamp diode of the input into the supply of the whole tape: only what lies in series limits it. The chip gets hot or latches up, and the tape glows faintly from its data line.",
		Formula: []string{
			"I_c ≤ I_d",
			"I_c = U_H/(R_d + R_s + R_l)",
		},
		Symbols: []study.Symbol{
			{Sign: "I_c", Unit: "A", Means: "current into the input, with nothing taken off for its diode"},
			{Sign: "I_d", Unit: "A", Means: "what its clamp diodes bear: 20 mA"},
			{Sign: "U_H", Unit: "V", Means: "high level of the sender, at the upper end of what is stated; of a buffer the voltage of its supply"},
			{Sign: "R_d", Unit: "Ω", Means: "resistance of its driver, at the lower end"},
			{Sign: "R_s", Unit: "Ω", Means: "resistor in series, likewise; 0 Ω where none is stated"},
			{Sign: "R_l", Unit: "Ω", Means: "resistor in the lead (series); 0 Ω where there is none"},
		},
		Sources: []study.Source{
			{Title: "the sheets of pixels", Basis: parts.Datasheet, Says: "an input may be driven to its supply and 0.3 to 0.7 V more; which sheet the tape says"},
			{Title: "WS2811 datasheet", Basis: parts.Datasheet, Says: "33 Ω at the data pins, against reflection and for plugging in while it is live"},
			clamping,
		},
		Limits: []string{
			"A fuse that opens leaves a run unpowered too, until somebody puts in another; every fused run has that, and it is not judged.",
			"One supply is taken as off at a time. Supplies on one mains switch come and go within a second of each other, so another supply makes a note: that second is what the resistor of the sheet is for, a supply that failed stays off.",
			"A contactor is taken to switch the plus, and to leave the return joined.",
			"What the last pixel of a run drives into the next is not judged: sheets do not say what its output gives. Nor is what a buffer beside that pixel drives.",
			"A buffer at the far end goes off with its run, and drives nothing; its own input may be made for it, or not.",
			"A controller that stops sending leaves a line that rests low at that, and then nothing flows; one that rests high goes on driving.",
		},
		Grades: []study.Graded{
			{Grade: finding.Unknown, When: "the sender does not say what it gives, or what lies in series"},
			{Grade: finding.Tight, When: "I_c is above I_d, and nothing feeds the run, or a contactor switches it off without its sender"},
			{Grade: finding.Note, When: "I_c is above I_d while one supply is off and another feeds the sender"},
		},
		Example: study.Example{
			Given: []string{"A port sends 4.6 V through 25 Ω and 47 Ω to a run that a contactor switches off at night. The board stays on."},
			Sums:  []string{"4.6 V/(25 Ω + 47 Ω) = 63.89 mA", "63.89 mA > 20 mA"},
			Value: "63.9 mA", Limit: "20 mA", Grade: finding.Tight,
			Says: "It takes 205 Ω in series: with 220 Ω it is 18.8 mA. Or the contactor switches the board, too.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		lead := s.Scheme.Data[id]
		if lead.From.Kind != scheme.PortRef || lead.Buffer != nil && lead.Buffer.At == scheme.ToEnd || !s.Network.CommonReturn(id) {
			return study.Passes("No port, and no buffer beside one, drives its first pixel.")
		}
		when, grade := unpowered(s, id)
		if when == "" {
			return study.Passes("Its first pixel has power while its sender has, unless a fuse opens or a cable comes loose.")
		}
		d := driverOf(s, id)
		if !d.high.Given || !d.driver.Given || d.ohms() <= 0 {
			return study.Unknown(fmt.Sprintf("%s may drive %s %s; what it gives, or what lies in series, is not stated.", study.Capital(d.who), lead.To, when), "Read the sheet of the sender, or measure it.")
		}
		amps := float64(d.high.Upper()) / d.ohms()
		a := study.Upper(amps, float64(study.DiodeAmps), 0, grade).Fill("", "A", clamping.Basis, clamping.String())
		return []study.Assessment{a.On(func() []study.Number {
			return append(d.numbers(), study.Taken("20 mA through the clamp diodes of an input", clamping))
		}).
			Say(fmt.Sprintf("%s drives %v into the first pixel of %s %s: its input bears %v.", study.Capital(d.who), unit.Ampere(amps), lead.To, when, study.DiodeAmps), d.remedy()).
			Worked(func(w *study.Working) {
				d.worked(w)
				sum := "I_c = U_H/(R_d + R_s)"
				if d.added > 0 {
					w.Written("R_l", "resistor in the lead", study.Of(d.added), "data."+id+".series", s.Scheme.Place("data", id, "series"))
					sum = "I_c = U_H/(R_d + R_s + R_l)"
				}
				w.Step("Into the input", sum)
				w.Taken("I_d", "what its clamp diodes bear", study.Of(study.DiodeAmps), clamping)
				w.Upper("I_c", "I_d", 0, grade)
			}).
			Fixed(func() []finding.Edit { return remedy.Resisted(s, id, d.need()) })}
	},
}

// unpowered says when the first pixel of a lead has no power and its sender has, and how bad that is; "" where it never is but for a fuse or a cable.
func unpowered(s *study.Study, lead string) (when string, grade finding.Grade) {
	if s.Network.Unpowered(lead) {
		return "while nothing feeds it", finding.Tight
	}
	var all []string // contactors that may be open together while the sender has power
	for _, q := range scheme.IDs(s.Scheme.Contactors) {
		if s.Network.Unpowered(lead, s.Scheme.Contactors[q].In) {
			return "while " + q + " is open", finding.Tight
		}
		if with := append(slices.Clone(all), q); s.Network.Sends(lead, switched(s, with)...) {
			all = with
		}
	}
	if few := fewest(all, func(open []string) bool { return s.Network.Unpowered(lead, switched(s, open)...) }); few != nil {
		return "while " + study.Several(few) + " are open", finding.Tight
	}
	feeds := s.Network.Feeds(s.Scheme.Data[lead].To.Element)
	if len(feeds) > 0 && len(feeds[0].Plus) == 1 && s.Network.Unpowered(lead, feeds[0].Plus[0]) { // of several, one goes on when another is off
		return "while " + feeds[0].Plus[0] + " is off and " + s.Scheme.Data[lead].From.Element + " has power", finding.Note
	}
	return "", finding.Pass
}

// switched are the cables that contactors are in.
func switched(s *study.Study, contactors []string) (cables []string) {
	for _, q := range contactors {
		cables = append(cables, s.Scheme.Contactors[q].In)
	}
	return cables
}

// fewest leaves out of some contactors what need not be open; nil where all of them do not do.
func fewest(all []string, open func([]string) bool) []string {
	if !open(all) {
		return nil
	}
	few := slices.Clone(all)
	for _, q := range all {
		if left := slices.DeleteFunc(slices.Clone(few), func(other string) bool { return other == q }); open(left) {
			few = left
		}
	}
	return few
}

// A driver is what sends along a lead from its beginning.
type driver struct {
	who, part, key string // key: under which it stands in the part
	high           parts.Value[unit.Volt]
	highKey        string
	driver, series parts.Value[unit.Ohm]
	added          unit.Ohm // in the lead
}

func driverOf(s *study.Study, id string) driver {
	lead := s.Scheme.Data[id]
	if lead.Buffer != nil {
		d := driver{who: "the buffer of " + id, part: lead.Buffer.Part, highKey: "volts", added: lead.Series}
		if b, ok := parts.Get[parts.Buffer](s.Scheme.Library, lead.Buffer.Part); ok {
			d.high, d.driver, d.series = b.Volts, b.Driver, b.Series
		}
		return d
	}
	d := driver{who: lead.From.String(), part: s.Scheme.Boards[lead.From.Element].Part, key: "ports." + lead.From.Socket + ".", highKey: "high", added: lead.Series}
	if p, ok := s.Scheme.PortPart(lead.From); ok {
		d.high, d.driver, d.series = p.High, p.Driver, p.Series
	}
	return d
}

// ohms is the least that lies in series.
func (d driver) ohms() float64 { return float64(d.driver.Lower() + d.series.Lower() + d.added) }

func (d driver) numbers() []study.Number {
	list := []study.Number{study.Stated(d.part, d.key+d.highKey, d.high), study.Stated(d.part, d.key+"driver", d.driver)}
	if d.series.Given {
		list = append(list, study.Stated(d.part, d.key+"series", d.series))
	}
	return list
}

// worked takes U_H, R_d and R_s, each at the end of its spread that lets most flow.
func (d driver) worked(w *study.Working) {
	end := func(sign, means string, n, spread study.Number, by float64) {
		if by == 0 {
			w.Stated(sign, means, n)
			return
		}
		w.Stated(sign+"n", means, n)
		w.Stated(sign+"k", "how far it may be from that", spread)
		w.Step(study.Capital(means)+", at the end at which most flows", fmt.Sprintf("%s = %sn · (1 + %sk)", sign, sign, sign))
	}
	high, ohms, series := d.key+d.highKey, d.key+"driver", d.key+"series"
	end("U_H", "high level of the sender", study.Stated(d.part, high, d.high), study.High(d.part, high, d.high), d.high.Spread.High)
	end("R_d", "resistance of its driver", study.Stated(d.part, ohms, d.driver), study.Low(d.part, ohms, d.driver), d.driver.Spread.Low)
	if !d.series.Given {
		w.Taken("R_s", "resistor in series: none is stated", study.Of(unit.Ohm(0)), study.Source{Title: "what is not stated is not there", Basis: parts.Derived})
		return
	}
	end("R_s", "resistor in series", study.Stated(d.part, series, d.series), study.Low(d.part, series, d.series), d.series.Spread.Low)
}

// need is the resistor in the lead with which no more flows than an input bears.
func (d driver) need() unit.Ohm {
	return study.Resistor(unit.Ohm(float64(d.high.Upper())/float64(study.DiodeAmps)) - d.driver.Lower() - d.series.Lower())
}

// remedy names it.
func (d driver) remedy() string {
	instead := ""
	if d.added > 0 {
		instead = fmt.Sprintf(" instead of %v", d.added)
	}
	return fmt.Sprintf("Let power and sender go on and off together; or put %v%s into the lead at the end that sends, which makes edges slower: on leads of some metres they may no longer do (signal/edges).", d.need(), instead)
}
