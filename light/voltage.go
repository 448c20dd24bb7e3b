package light

import (
	"fmt"
	"math"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/pixel"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// regulated is the share of its current at nominal voltage that a channel must keep for its colour to be called right: the 10 % by
// which drive circuits define saturation voltage (TI application practice, see the source of the rule).
const regulated = 0.90

// regulatedSource is its source.
var regulatedSource = study.Source{Title: "sheets of constant-current sinks by Texas Instruments, JAJSL17C among them", Basis: parts.Datasheet, Says: "a sink saturates where its current has fallen by 10 %"}

// spare is how much more than a colour needs its lowest pixel has where that is not tight.
const spare = 0.02

var pixelVoltage = study.Rule{
	Name: "light/pixel-voltage", Title: "Pixel voltage", Scope: study.Runs,
	Doc: study.Doc{
		What: "The lowest pixel voltage of a run, in every lighting state and its peak, against what the lit colour needs: the lowest voltage for which the chip is specified, and that at which the weakest lit channel still carries 90 % of its current at nominal voltage.",
		Why:  "Below it white turns yellow, orange and red, because blue and green need the most voltage and go first. Further down chips reset or hold their last colour, and the data for all pixels behind them is lost.",
		Formula: []string{
			"U_lo ≥ max(U_min, U_c)",
			"I(U_c) = 0.90 · I(U_n)",
			"I(U) = I_0 · (s(U − U_1) − s(U − U_2))/(U_2 − U_1) less the same at 0 V",
			"I(U) = s(U − U_1)/R less the same at 0 V, where one limits it",
			"s(u) = U_e · ln(1 + e^(u/U_e))",
		},
		Symbols: []study.Symbol{
			{Sign: "U_lo", Unit: "V", Means: "voltage across the lowest pixel, in the lowest part of the cycle"},
			{Sign: "U_min", Unit: "V", Means: "lowest voltage for which the chip is specified (volts_min)"},
			{Sign: "U_c", Unit: "V", Means: "lowest voltage at which the weakest lit channel keeps its current"},
			{Sign: "I", Unit: "A", Means: "current of a channel that is fully on, at a voltage across the pixel"},
			{Sign: "U_n", Unit: "V", Means: "nominal voltage of the tape"},
			{Sign: "I_0", Unit: "A", Means: "its set current (set)"},
			{Sign: "R", Unit: "Ω", Means: "its resistor (string)"},
			{Sign: "U", Unit: "V", Means: "voltage across the pixel"},
			{Sign: "U_1", Unit: "V", Means: "where its current begins (lo)"},
			{Sign: "U_2", Unit: "V", Means: "where it is full (hi)"},
			{Sign: "U_e", Unit: "V", Means: "softness of both knees (soft)"},
			{Sign: "s", Unit: "V", Means: "a straight line with a soft knee at 0 V"},
			{Sign: "u", Unit: "V", Means: "voltage above a knee"},
			{Sign: "e", Unit: "1", Means: "2.718…, the base of the natural logarithm"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "the lowest voltage for which it is specified"},
			regulatedSource,
			{Title: "the law of a channel", Basis: parts.Derived, Says: "fitted for each part to forward voltages and the headroom of its sinks; no published sweep of a pixel was found", Read: "docs and sources of each tape: farend parts TAPE"},
			{Title: "lowest supply at which single pixels still ran", Basis: parts.Measured, Says: "3.0 V for three 5 V chips, 3.3 V for a fourth", Read: "a published list of measurements"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "below about 3 V many 5 V chips reset or hold their last colour"},
		},
		Limits: []string{
			"Below volts_min the law of a chip is not proven, and below about 3 V it is unlike any real chip: how dim, and what colour, is then a guess.",
			"The mean and the coincident peak are judged. A real installation lies between them, and ripple of the supply comes on top.",
			"A typical tape is taken. Rails, set currents and knees of the same product differ, and hot pixels hold on a little lower.",
			"Stretches without a circuit, and runs without voltage at all, are not judged here: light/unfed-run and protection/supply-load say why they are dark.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the lowest pixel has less than its colour needs in some lighting state or its peak"},
			{Grade: finding.Unknown, When: "the run has no tape yet"},
			{Grade: finding.Tight, When: "it has less than 2 % more"},
		},
		Example: study.Example{
			Given: []string{
				"50 pixels of 10 mA at 50 pixels/m, rails of 100 mΩ/m each, hang on a supply of 5 V by 10 m of 2 × 2.5 mm² with 7.98 mΩ/m. The supply has a source resistance of 1.667 mΩ and gives 1 A in all. The chips need 4.9 V.",
				"Fed at one end, N pixels lose r · p · I · N² along both rails: r per metre of one rail, p metres between pixels, I each.",
			},
			Sums: []string{
				"50 × 10 mA = 0.5 A",
				"0.5 A × 2 × 10 m × 7.98 mΩ/m = 79.8 mV",
				"100 mΩ/m × 0.02 m × 10 mA × 50² = 50 mV",
				"1 A × 1.667 mΩ = 1.667 mV",
				"5 V − 79.8 mV − 50 mV − 1.667 mV = 4.869 V",
				"4.869 V < 4.9 V",
			},
			Value: "4.869 V", Limit: "4.9 V", Grade: finding.Fails,
			Says: "Most is lost in the feed: a thicker or shorter one helps more than a second feed.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape := s.Scheme.Tape(id)
		if tape == nil {
			return study.Unknown(id+" has no tape to judge.", "")
		}
		var found []study.Assessment
		for _, c := range lit(s) {
			if r, ok := s.Result(c.Name).Runs[id]; ok && r.Live && r.Fed && r.VoltsHigh > 0.5 {
				found = append(found, pixelVolts(s, id, c, r, tape))
			}
		}
		return found
	},
}

func pixelVolts(s *study.Study, id string, c network.Case, r network.Run, tape *parts.Tape) study.Assessment {
	limit, basis, source, channel := need(s, id, c, tape)
	at := fmt.Sprintf("%s@px%d", id, r.LowAt)
	a := study.Lower(float64(r.VoltsLow), float64(limit), spare, finding.Fails).Fill(c.Name, "V", basis, source)
	a = a.On(func() []study.Number {
		return append(s.Dropped(c, id), needed(s.Scheme.Runs[id].Tape, tape, channel)...)
	})
	a.At = at
	a = a.Worked(func(w *study.Working) {
		w.Solved("U_lo", fmt.Sprintf("voltage across the lowest pixel, %d, in the lowest part of the cycle", r.LowAt), study.Of(r.VoltsLow), c)
		needing(w, s.Scheme.Runs[id].Tape, tape, channel)
		w.Lower("U_lo", "U_need", spare, finding.Fails)
	})
	if a.Grade == finding.Pass {
		return a
	}
	low := r.VoltsLow
	if low < 1e-6 && low > -1e-6 {
		low = 0 // what the solver leaves of nothing
	}
	got, needs := unit.Apart(low, limit)
	text := fmt.Sprintf("%s falls to %s at pixel %d in %s; it needs %s", id, got, r.LowAt, study.CaseWords(c), needs)
	if channel != "" {
		text += " for its " + channel
	}
	text += "."
	if hue := pixel.Hue(r.DimU-r.U, r.DimV-r.V); r.ColourShift != nil && *r.ColourShift > 0.001 && hue != "" {
		text += " Its colour there goes " + hue + "."
	}
	if tape.Volts.Is < 6 && r.VoltsLow < 3 {
		text += " Below about 3 V the law of such a chip is unproven: it may reset or hold its last colour."
	}
	short := limit*(1+spare) - r.VoltsLow
	return a.Say(text, fmt.Sprintf("Add a feed near %s, use thicker or shorter feeds, or lower the cap.", at)).Fixed(func() []finding.Edit { return remedy.Lift(s, id, c, short) })
}

// need is the voltage that the lit colour needs, with the channel that sets it, if one does.
func need(s *study.Study, id string, c network.Case, tape *parts.Tape) (unit.Volt, parts.Basis, string, string) {
	limit, basis, source, which := unit.Volt(0), parts.Basis(""), "", ""
	if tape.VoltsMin.Given {
		limit, basis, source = tape.VoltsMin.Is, tape.VoltsMin.Basis, tape.VoltsMin.Source
	}
	drives, _ := s.Scheme.Drives(c.State, id)
	for _, name := range scheme.Channels(tape) {
		if drives[name] <= 0 {
			continue
		}
		part := tape.Channels[name]
		v := network.Channel(part, false).VoltageAt(regulated, tape.Volts.Is)
		if v > limit {
			limit, basis, source, which = v, parts.Weaker(part.Lo.Basis, part.Hi.Basis), part.Lo.Source, name
		}
	}
	return limit, basis, source, which
}

// needed lists the numbers behind what the lit colour needs: the law of the channel that sets it, else the chip's lowest voltage.
func needed(name string, tape *parts.Tape, channel string) []study.Number {
	if channel == "" {
		return []study.Number{study.Stated(name, "volts_min", tape.VoltsMin)}
	}
	return law(name, channel, tape.Channels[channel])
}

// law lists the numbers of a channel's law beside its current.
func law(name, channel string, c parts.Channel) []study.Number {
	key := "channels." + channel
	if c.String.Given {
		return []study.Number{study.Stated(name, key+".lo", c.Lo)}
	}
	return []study.Number{study.Stated(name, key+".lo", c.Lo), study.Stated(name, key+".hi", c.Hi)}
}

// needing works out U_need, what the lit colour needs: by the law of the channel that sets it, else the chip's lowest voltage.
func needing(w *study.Working, name string, tape *parts.Tape, channel string) {
	switch {
	case channel == "" && tape.VoltsMin.Given:
		w.Stated("U_need", "lowest voltage for which the chip is specified; its lit channels need less", study.Stated(name, "volts_min", tape.VoltsMin))
		return
	case channel == "":
		w.Taken("U_need", "what it needs: nothing, for no channel is lit", study.Of(unit.Volt(0)), study.Source{Title: "nothing is lit", Basis: parts.Derived})
		return
	}
	keeping(w, name, tape, channel)
	if tape.VoltsMin.Given {
		w.Stated("U_min", "lowest voltage for which the chip is specified", study.Stated(name, "volts_min", tape.VoltsMin))
		w.Step("What its colour needs", "U_need = max(U_min, U_c)")
	} else {
		w.Step("What its colour needs", "U_need = U_c")
	}
}

// keeping works out U_c, the voltage at which a channel still carries the share of its current at nominal voltage that it must keep.
func keeping(w *study.Working, name string, tape *parts.Tape, channel string) {
	c, key := tape.Channels[channel], "channels."+channel
	if c.Lo.Is >= tape.Volts.Is { // it carries next to nothing there, and its law has no end that a calculator finds
		v := network.Channel(c, false).VoltageAt(regulated, tape.Volts.Is)
		w.Taken("U_c", "voltage at which its "+channel+", which begins above the tape's nominal voltage, keeps that: found by halving", study.Of(v), regulatedSource)
		return
	}
	w.Stated("U_n", "nominal voltage of the tape", study.Stated(name, "volts", tape.Volts))
	w.Stated("U_1", "where the current of its "+channel+" begins", study.Stated(name, key+".lo", c.Lo))
	soft(w, study.Stated(name, key+".soft", c.Soft), c.Soft.Is)
	w.Taken("k_c", "share of its current at nominal voltage that the channel must keep", study.Plain(regulated), regulatedSource)
	w.Step("The lower knee at nominal voltage", "s_1 = max(0 V, U_n − U_1) + U_e · ln(1 + e^(−|U_n − U_1|/U_e))")
	rests := float64(c.Soft.Is)*math.Log1p(math.Exp(-float64(c.Lo.Is/c.Soft.Is))) > 1e-6*float64(tape.Volts.Is)
	if rests {
		w.Step("The same at 0 V, where no current flows", "s_0 = U_e · ln(1 + e^(−U_1/U_e))")
	}
	if c.String.Given {
		z := "z = k_c · s_1"
		if rests {
			z = "z = k_c · (s_1 − s_0) + s_0"
		}
		w.Step("The knee at the share that must flow: current goes with it, over the resistor", z)
		w.Step("The voltage with that knee", "U_c = U_1 + z + U_e · ln(1 − e^(−z/U_e))")
	} else {
		w.Stated("U_2", "where it is full", study.Stated(name, key+".hi", c.Hi))
		w.Step("From where it begins to where it is full, 1 mV at least", "U_w = max(1 mV, U_2 − U_1)")
		w.Step("The upper knee at nominal voltage", "s_2 = max(0 V, U_n − U_1 − U_w) + U_e · ln(1 + e^(−|U_n − U_1 − U_w|/U_e))")
		y := "y = k_c · (s_1 − s_2)/U_w"
		if rests {
			w.Step("The upper knee at 0 V", "s_3 = U_e · ln(1 + e^(−(U_1 + U_w)/U_e))")
			y = "y = (k_c · (s_1 − s_2 − s_0 + s_3) + s_0 − s_3)/U_w"
		}
		w.Step("The share of the set current that must flow", y)
		w.Step("The voltage at which it does", "U_c = U_1 + y · U_w + U_e · ln((1 − e^(−y · U_w/U_e))/(1 − e^(−(1 − y) · U_w/U_e)))")
	}
}

// soft takes the softness of knees, U_e: 1 mV where a part states less, for the network needs a slope.
func soft(w *study.Working, stated study.Number, is unit.Volt) {
	if is >= 1e-3 {
		w.Stated("U_e", "softness of its knees", stated)
		return
	}
	w.Stated("U_f", "softness of its knees", stated)
	w.Step("Softness of its knees, 1 mV at least", "U_e = max(1 mV, U_f)")
}
