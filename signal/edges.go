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

var edges = study.Rule{
	Name: "signal/edges", Title: "Edges of data", Scope: study.Leads,
	Doc: study.Doc{
		What: "What becomes of pulses on a data lead that a port or a buffer drives: driver, resistors, lead, input capacitance and clamp diodes, followed as waves from end to end. That the input gets surely high and surely low, stays there when it swings back, sees each pulse for as long as its sheet asks, and is not driven hard into its diodes.",
		Why:  "A lead of metres is longer than the edge that runs along it: what comes back from its end comes again. A driver that is too strong for the lead makes one edge into several, one that is too weak makes stairs. The first pixel then flickers, or all do, and nobody finds it with a meter.",
		Formula: []string{
			"t_s ≥ t_min",
			"t_l ≤ t_max",
			"U_b ≥ U_IH",
			"U_c ≤ U_IL",
			"I_d ≤ I_m",
			"r = (R_q − Z_0)/(R_q + Z_0)",
		},
		Symbols: []study.Symbol{
			{Sign: "t_s", Unit: "s", Means: "how long the input surely sees a level: from threshold to threshold"},
			{Sign: "t_l", Unit: "s", Means: "how long it may see it at most"},
			{Sign: "t_min", Unit: "s", Means: "how long it must last by the sheet"}, {Sign: "t_max", Unit: "s", Means: "how long it may last"},
			{Sign: "U_b", Unit: "V", Means: "to what a high level swings back after its first peak, or comes at most"},
			{Sign: "U_IH", Unit: "V", Means: "the lowest level that is surely high"},
			{Sign: "U_c", Unit: "V", Means: "to what a low level swings back, likewise"},
			{Sign: "U_IL", Unit: "V", Means: "the highest level that is surely low"},
			{Sign: "I_d", Unit: "A", Means: "what a clamp diode of the input takes at the highest peak, or the lowest"},
			{Sign: "I_m", Unit: "A", Means: "what it is made for: 20 mA"},
			{Sign: "r", Unit: "1", Means: "what of a wave comes back from the end that sends"},
			{Sign: "R_q", Unit: "Ω", Means: "driver and resistors that send"}, {Sign: "Z_0", Unit: "Ω", Means: "wave impedance of the lead"},
		},
		Sources: []study.Source{
			{Title: "L. Bergeron, Du coup de bélier en hydraulique au coup de foudre en électricité", Edition: "1949", Basis: parts.Memory, Says: "waves by characteristics; not read, by way of the next"},
			{Title: "H. W. Dommel, Digital computer solution of electromagnetic transients, IEEE Transactions PAS-88", Edition: "1969", Basis: parts.Memory, Says: "each end sees a resistance and what was at the other end one delay ago; loss lumped at the ends and in the middle; equations from memory, held to ngspice's line by tests"},
			{Title: "the sheets of chip, driver and cable", Basis: parts.Datasheet, Says: "windows of pulses, thresholds, capacitance; which sheets the parts say"},
			pausing,
			clamping,
			nearing,
		},
		Limits: []string{
			"Modelled, not measured: rise times, drivers and wave impedances are mostly from memory, as their parts say. What is found depends on them.",
			"The port is taken to send what the sheet calls usual, or the middle of what its windows leave; that its own clock is off is not in it.",
			"The lead is one pair of even conductors. What depends on frequency, what couples between cores, connectors, and the copper of the tape behind the first input are not in it.",
			"Where a sheet does not say, an input has 15 pF, the most that any states (a buffer's 10 pF, from memory).",
			"The clamp diodes of an input (0.7 V and 25 Ω, from memory) take what would swing back. No sheet says where they begin: levels and pulses are judged without them, what they take with them.",
			"A protocol whose sheet has no windows is judged by its levels alone. Of clocked ones half of a clock must arrive (common practice, no source).",
			"Between runs a pixel sends: no sheet says how strongly. signal/reach asks how far it may.",
			"What a sheet says an input may be driven to is of a lasting level, and signal/levels asks for it. Of the moments of an edge what counts is the current.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "a pulse is shorter or longer than its window, or a level comes back across its threshold, or never gets there"},
			{Grade: finding.Unknown, When: "port, cable or tape do not say what it takes"},
			{Grade: finding.Tight, When: "within 2 % of a window, within 0.1 V of a threshold, a pause out of its window of which half is left, or more than 20 mA into a diode"},
		},
		Example: study.Example{
			Given: []string{"A driver of 10 Ω without a resistor sends 4.9 V into 5 m of lead with 100 Ω. The input is sure of a high level from 70 % of 4.99 V on."},
			Sums: []string{
				"(10 Ω − 100 Ω)/(10 Ω + 100 Ω) = −0.818",
				"0.7 · 4.99 V = 3.493 V",
				"0.795 V < 3.493 V",
			},
			Value: "795 mV", Limit: "3.49 V", Grade: finding.Fails,
			Says: "Four fifths of what comes back are sent again, upside down: followed along the lead the level swings back to 795 mV, and one edge is three. A resistor of 82 Ω in the lead sends next to nothing again.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		e, ok := s.Edge(id)
		switch {
		case !ok:
			return study.Passes("A pixel sends: no sheet says how strongly.")
		case e.Unknown != "":
			return study.Unknown(study.Capital(e.Unknown)+".", "Choose parts that say it, or measure it.")
		case e.Moot != "":
			return study.Passes(study.Capital(e.Moot) + ".")
		}
		w := edging{s: s, edge: e, lead: s.Scheme.Data[id]}
		return study.FixedAll(w.all(), func() []finding.Edit { return remedy.Edged(s, id) })
	},
}

// edging is the edges of one lead being judged.
type edging struct {
	s    *study.Study
	edge study.Edge
	lead scheme.Lead
}

func (w edging) all() (list []study.Assessment) {
	list = []study.Assessment{w.swing(true), w.swing(false)}
	whole := w.edge.High.Room(true) >= 0 && w.edge.Low.Room(false) >= 0
	for _, p := range w.edge.Pulses {
		if whole || p.Grade() == finding.Fails { // where one edge is several, a length that passes means nothing
			list = append(list, w.pulse(p))
		}
	}
	return append(list, w.diode(true), w.diode(false))
}

// pulse judges how long a level lasts that stands for something.
func (w edging) pulse(p study.Pulse) study.Assessment {
	what := fmt.Sprintf("the %s of a %s", p.Level, p.Bit)
	if p.Bit == "clock" {
		what = "a " + p.Level + " clock"
	}
	length, limit, most, ok := p.Bound()
	switch {
	case !p.Arrives():
		text := fmt.Sprintf("Of what %s sends, %s does not arrive whole at %s: it is over before the level is sure, or comes as several, in %s.", w.edge.Lead, what, w.edge.To, study.CaseWords(p.In))
		return w.said(study.Assessment{Grade: finding.Fails, Case: p.In.Name, At: w.edge.To, Basis: parts.Derived, Source: "travelling waves"}, text).
			Worked(func(t *study.Working) { w.driven(t); t.Fact(finding.Fails, study.Capital(what)+" does not arrive") })
	case !ok:
		return study.Passes("Its sheet does not say how long " + what + " must last.")[0]
	}
	name, end := "no shorter than", "shortest"
	a := study.Lower(float64(length), float64(limit.Is), study.NearPulse, finding.Fails)
	if most {
		name, end = "no longer than", "longest"
		a = study.Upper(float64(length), float64(limit.Is), study.NearPulse, finding.Fails)
	}
	a.Grade = p.Grade()
	got, wanted := unit.Apart(length, limit.Is)
	text := fmt.Sprintf("At %s %s lasts %s at its %s, of %v that %s sends, and should last %s %s: in %s.", w.edge.To, what, got, end, p.Sent, w.edge.Lead, name, wanted, study.CaseWords(p.In))
	a = a.Fill(p.In.Name, "s", limit.Basis, limit.Source)
	a.At = w.edge.To
	return w.said(a, text).Worked(func(t *study.Working) {
		w.driven(t)
		from := study.Source{Title: w.protocol() + ", " + limit.Source, Basis: limit.Basis}
		out := finding.Fails
		if p.Pause {
			out = finding.Tight
		}
		if most {
			t.Solved("t_l", "how long "+what+" may be seen at most, along the lead", study.Of(length), p.In)
			t.Taken("t_max", "how long it may last", study.Of(limit.Is), from)
			t.Upper("t_l", "t_max", study.NearPulse, out)
			return
		}
		t.Solved("t_s", "how long "+what+" is surely seen, along the lead", study.Of(length), p.In)
		t.Taken("t_min", "how long it must last", study.Of(limit.Is), from)
		if p.Pause {
			t.Taken("k_z", "share of that which must be left of a pause", study.Plain(study.PauseShare), pausing)
			t.When(finding.Fails, "t_s < k_z · t_min")
		}
		t.Lower("t_s", "t_min", study.NearPulse, out)
	})
}

// pausing says whence study.PauseShare is.
var pausing = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a chip tells a 0 from a 1 by the pulse, and asks of the pause hardly more than that there is one: sheets of chips that are exchanged for one another print pauses that exclude each other"}

// protocol is that of the run at the end.
func (w edging) protocol() string { return w.s.Scheme.Tape(w.lead.To.Element).Protocol }

// swing judges that a level stays on its side of its threshold.
func (w edging) swing(high bool) study.Assessment {
	sw, name, sign, other, means := w.edge.High, "high", "U_b", "U_IH", "the lowest level that is surely high"
	if !high {
		sw, name, sign, other, means = w.edge.Low, "low", "U_c", "U_IL", "the highest level that is surely low"
	}
	value, limit := float64(sw.Volts), float64(sw.Threshold)
	a := study.Assessment{Value: &value, Limit: &limit, Unit: "V", Case: sw.In.Name, At: w.edge.To}
	switch room := sw.Room(high); {
	case room < 0:
		a.Grade = finding.Fails
	case room < study.NearLevel:
		a.Grade = finding.Tight
	}
	basis, source := w.asks()
	a.Basis, a.Source = basis, source
	got, wanted := unit.Apart(sw.Volts, sw.Threshold)
	how, what := "comes no farther than", "how far a "+name+" level comes"
	if sw.Fell {
		how, what = "swings back to", "to what a "+name+" level swings back"
	}
	text := fmt.Sprintf("At %s a %s level that %s sends %s %s, and is sure to be %s only at %s: in %s.", w.edge.To, name, w.edge.Lead, how, got, name, wanted, study.CaseWords(sw.In))
	return w.said(a, text).Worked(func(t *study.Working) {
		w.driven(t)
		t.Solved(sign, what+", along the lead", study.Of(sw.Volts), sw.In)
		t.Taken(other, means, study.Of(sw.Threshold), study.Source{Title: source, Basis: basis})
		t.Compare(sign, other)
		t.Taken("U_n", "what is near", study.Of(study.NearLevel), nearing)
		if high {
			t.When(finding.Fails, "U_b < U_IH")
			t.When(finding.Tight, "U_b − U_IH < U_n")
			return
		}
		t.When(finding.Fails, "U_c > U_IL")
		t.When(finding.Tight, "U_IL − U_c < U_n")
	})
}

// asks says on what the thresholds rest.
func (w edging) asks() (parts.Basis, string) {
	for _, m := range w.s.LeadMargins(w.edge.Lead) {
		if e := ends(w.s, m); m.Unknown == "" && (e.to == w.edge.To || m.Buffer == study.ToBuffer && w.edge.To == w.edge.Lead+".buffer") {
			return e.asks.Basis, e.asks.Title + ", " + e.asks.Source
		}
	}
	return parts.Unstated, ""
}

// diode judges what an input diode takes.
func (w edging) diode(over bool) study.Assessment {
	peak, where := w.edge.Over, "above its supply"
	if !over {
		peak, where = w.edge.Under, "below its ground"
	}
	amps := peak.Amps()
	a := study.Upper(float64(amps), float64(study.DiodeAmps), 0, finding.Tight).Fill(peak.In.Name, "A", clamping.Basis, clamping.String())
	a.At = w.edge.To
	got, wanted := unit.Apart(amps, study.DiodeAmps)
	text := fmt.Sprintf("Edges on %s drive %s %v %s: its clamp diode takes %s for a moment, of %s that such diodes are made for, in %s.", w.edge.Lead, w.edge.To, peak.Volts, where, got, wanted, study.CaseWords(peak.In))
	return w.said(a, text).Worked(func(t *study.Working) {
		w.driven(t)
		t.Solved("I_d", "what a clamp diode takes, along the lead", study.Of(amps), peak.In)
		t.Taken("I_m", "what it is made for", study.Of(study.DiodeAmps), clamping)
		t.Upper("I_d", "I_m", 0, finding.Tight)
	})
}

// said adds on what an edge rests, its sentence, and what would do.
func (w edging) said(a study.Assessment, text string) study.Assessment {
	d := w.edge.Drive
	cable, _ := parts.Get[parts.Cable](w.s.Scheme.Library, w.lead.Part)
	now := w.s.Wired(w.edge.Lead)
	remedy := advised(d, cable, now, w.s.Matching(w.edge.Lead, now))
	return a.On(func() []study.Number {
		list := []study.Number{
			study.Stated(d.Part, d.Key+"driver", d.Driver), study.Stated(d.Part, d.Key+"rise", d.Rise),
			study.Stated(w.lead.Part, "z0", cable.Z0), study.Stated(w.lead.Part, "delay", cable.Delay),
		}
		if d.Inside.Given {
			list = append(list, study.Stated(d.Part, d.Key+"series", d.Inside))
		}
		return list
	}).Say(text, remedy)
}

// driven writes what drives a lead, how much of a wave it sends again, and how long one takes.
func (w edging) driven(t *study.Working) {
	d := w.edge.Drive
	cable, _ := parts.Get[parts.Cable](w.s.Scheme.Library, w.lead.Part)
	t.Stated("R_d", "driver", study.Stated(d.Part, d.Key+"driver", d.Driver))
	sum := "R_q = R_d"
	if d.Inside.Given {
		t.Stated("R_p", "resistor beside it", study.Stated(d.Part, d.Key+"series", d.Inside))
		sum += " + R_p"
	}
	if d.Added > 0 {
		t.Written("R_l", "resistor in the lead", study.Of(d.Added), "data."+w.edge.Lead+".series", w.s.Scheme.Place("data", w.edge.Lead, "series"))
		sum += " + R_l"
	}
	if sum != "R_q = R_d" {
		t.Step("Driver and resistors", sum)
	} else {
		t.Step("Driver", sum)
	}
	t.Stated("Z_0", "wave impedance of the lead", study.Stated(w.lead.Part, "z0", cable.Z0))
	t.Step("What comes back from the end that sends", "r = (R_q − Z_0)/(R_q + Z_0)")
	t.Stated("T_d", "delay of the lead", study.Stated(w.lead.Part, "delay", cable.Delay))
	t.Written("l", "its length", study.Of(d.Length), "data."+w.edge.Lead+".length", w.s.Scheme.Place("data", w.edge.Lead))
	t.Step("How long a wave takes along it", "T_w = T_d · l")
}

// advised says what would do: a resistor that matches, a buffer where there is none at the end that sends, a shorter lead.
func advised(d study.Drive, cable *parts.Cable, now study.Wiring, match []unit.Ohm) string {
	buffer := "put a buffer at the end that sends, with what is left to the wave impedance beside it"
	if now.Buffer != nil && now.Buffer.At == scheme.FromEnd {
		buffer = "choose a buffer that drives the lead better"
	}
	switch {
	case d.Driver.Is+d.Inside.Is > cable.Z0.Upper():
		return "What drives it is weak: " + buffer + ", or make the lead shorter."
	case len(match) > 0 && match[0] != now.Series && match[0] == 0:
		return fmt.Sprintf("Take the %g Ω out of the lead: without them what drives it comes nearest to its wave impedance. Or make it shorter.", float64(now.Series))
	case len(match) > 0 && match[0] != now.Series && now.Series > 0:
		return fmt.Sprintf("Put %g Ω into the lead instead of %g Ω: so driver and resistors come nearest to its wave impedance. Or make it shorter.", float64(match[0]), float64(now.Series))
	case len(match) > 0 && match[0] != now.Series:
		return fmt.Sprintf("Put %g Ω into the lead where it begins: so driver and resistors come nearest to its wave impedance. Or make it shorter, or %s.", float64(match[0]), buffer)
	}
	return "Make the lead shorter, or " + buffer + "."
}
