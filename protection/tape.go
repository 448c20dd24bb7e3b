package protection

import (
	"cmp"
	"fmt"
	"math"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// unsealed is the share of what its rails may carry that sealed tape is used up to: resin and sleeves keep heat in.
const unsealed = 0.8

var sealedSource = study.Source{Title: "common practice, no source", Basis: parts.Practice,
	Says: "sealed tape, IP65 and more, carries less in its copper than the same tape open, whose pads are colder at the same power; no source says how much less: a fifth is taken"}

// sealed reports whether a degree of protection is that of tape in a sleeve or in resin.
func sealed(ip string) bool {
	solids, water, said := parts.Degree(ip)
	return said && solids >= 6 && water >= 5
}

var railCurrent = study.Rule{
	Name: "protection/rail-current", Title: "Rail current", Scope: study.Runs, Safety: true,
	Doc: study.Doc{
		What:    "The largest current in either rail of a run, at any place and moment of the cycle, in every state, its peak, in the dark and with the cap failed, against what the tape's copper may carry.",
		Why:     "A rail that is too hot loosens its glue, ages the pixels on it and can scorch what it is stuck to. Rails are thinner than any cable, and no fuse is made for them.",
		Formula: []string{"I_t ≤ I_a = k_l · I_n, or t_o ≤ t_p with the cap failed"},
		Symbols: []study.Symbol{
			{Sign: "I_t", Unit: "A", Means: "largest current in either rail within the cycle"},
			{Sign: "I_a", Unit: "A", Means: "what the rails of any reel may carry"},
			{Sign: "I_n", Unit: "A", Means: "what the tape states for its rails (rail_amps)"},
			{Sign: "k_l", Unit: "1", Means: "share of it at the lower end of its spread: the copper may be lighter than assumed; 1 where it states none"},
			{Sign: "t_o", Unit: "s", Means: "when all fuses that feed the run have surely opened"},
			{Sign: "t_p", Unit: "s", Means: "how long rails may be over that: 60 s"},
		},
		Sources: []study.Source{
			{Title: "IPC-2221A", Clause: "6.2, curve fit to figure 6-4", Basis: parts.Standard, Says: "current of a trace in free air, 0.048 · ΔT^0.44 · A^0.725 in A, K and square mils: where a tape's maker is silent, catalogue tapes take it at 10 K", Read: "several pages of trace-width formulas that agree"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "seven tenths of that for flexible tape that sticks to something, beside LEDs that heat it"},
			sealedSource,
			study.GraveSource(),
			study.PatienceSource(),
		},
		Limits: []string{
			"What a tape states for its rails is for open tape, where it does not say else. How much less it may be when sealed no source read says; that sealed tape is tight above 80 % of it is a careful guess, and makes no more than tight of it.",
			"The peak of the cycle is taken, though copper heats by the rms: careful by up to one over the square root of the drive.",
			"The figure of a tape mostly rests on an assumed width of copper. Measure the width, or how warm the rail gets.",
			"IPC-2221 ends at 35 A and 10 mm. It knows neither the glue nor the profile, nor air above what it was measured in.",
			"Joints, and the solder points where feeds land, are not judged.",
			"How an overload ends is asked with the cap failed alone. Rails are fed from several places mostly, and all of their fuses have to open.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the current is above 1.2 times what the rails may carry; with the cap failed, what no fuses surely end within 60 s"},
			{Grade: finding.Fails, When: "the current is above what they may carry, likewise"},
			{Grade: finding.Unknown, When: "the run has no tape yet, or its tape does not say"},
			{Grade: finding.Tight, When: "the current is above 95 % of it, or, with the cap failed, above it, and fuses end whatever is; where the run is sealed (IP65 and more), above 80 %"},
		},
		Example: study.Example{
			Given: []string{"800 pixels of 10 mA are fed at one end of a tape whose rails may carry 6 A."},
			Sums:  []string{"800 × 10 mA = 8 A", "1.2 × 6 A = 7.2 A", "8 A > 7.2 A"},
			Value: "8 A", Limit: "6 A", Grade: finding.Danger,
			Says: "Fed at both ends each half of the rails would carry 4 A.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape, name := s.Scheme.Tape(id), s.Scheme.Runs[id].Tape
		switch {
		case tape == nil:
			return study.Unknown(id+" has no tape.", "Choose a tape.")
		case !tape.RailAmps.Given:
			return study.Unknown(fmt.Sprintf("%s: %s does not say what its rails may carry.", id, name), "Give the tape rail_amps, from its maker or from the width and thickness of its copper.")
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			found = append(found, rails(s, id, name, tape, c))
		}
		for i, a := range found {
			if ended := a.Grade == finding.Tight && *a.Value > *a.Limit; !ended { // one more feed is one more fuse that has to end it
				found[i] = study.FixedAll([]study.Assessment{a}, func() []finding.Edit { return remedy.Rails(s, id) })[0]
			}
		}
		return found
	},
}

// rails judges the rails of a run in a case. What its tape states may be less for this reel: the lower end of its spread counts.
func rails(s *study.Study, id, name string, tape *parts.Tape, c network.Case) study.Assessment {
	amps, limit := s.Result(c.Name).Runs[id].RailAmps, tape.RailAmps.Lower()
	ip := s.Scheme.RunIP(id)
	spare, hot := 0.05, sealed(ip)
	if hot {
		spare = 1 - unsealed
	}
	a := study.Upper(float64(amps), float64(limit), spare, study.Overload(float64(amps), float64(limit))).Fill(c.Name, "A", tape.RailAmps.Basis, tape.RailAmps.Source)
	words := ""
	if a.Grade == finding.Tight && hot {
		words = fmt.Sprintf(" It is sealed (IP%s), which keeps heat in: above %.0f %% of that is tight.", ip, 100*unsealed)
	}
	var end study.Ending
	if a.Grade >= finding.Fails && c.Kind == network.CapFailed {
		end = s.Ending(c, amps, limit, study.Patient, s.Network.Fed(id))
		a.Grade, words = end.Grade(a.Grade, true), " "+end.Words()
	}
	helps, grave := end.Helps(), a.Grade >= finding.Fails
	got, most := unit.Apart(amps, limit)
	may := "they may carry " + most
	if tape.RailAmps.Spread.Low < 0 {
		may += fmt.Sprintf(", the lower end of what is stated, %v", tape.RailAmps.Is)
	}
	return a.On(func() []study.Number {
		numbers := append(s.Draw(c, []string{id}), study.Stated(name, "rail_amps", tape.RailAmps))
		if helps {
			numbers = append(append(numbers, s.EndedBy(end)...), study.Taken("60 s for a fuse to end it", study.PatienceSource()))
		}
		if grave {
			numbers = append(numbers, study.Taken("danger from 1.2 times a rating on", study.GraveSource()))
		}
		if a.Grade == finding.Tight && hot && !helps {
			numbers = append(numbers, study.Taken("80 % for sealed tape", sealedSource))
		}
		return numbers
	}).Say(fmt.Sprintf("The rails of %s carry up to %s in %s; %s.%s", id, got, study.CaseWords(c), may, words),
		"Feed the run at more places, so that each stretch carries less.").Worked(func(w *study.Working) {
		w.Solved("I_t", "largest current in either rail, anywhere and at any moment of the cycle", study.Of(amps), c)
		w.Stated("I_n", "what the tape states for its rails", study.Stated(name, "rail_amps", tape.RailAmps))
		w.Taken("k_l", "share of that which is the lower end of its spread", study.Plain(1+tape.RailAmps.Spread.Low), study.Source{Title: cmp.Or(tape.RailAmps.Source, name), Basis: tape.RailAmps.Basis})
		w.Step("What the rails of this reel may carry for sure", "I_a = k_l · I_n")
		if helps {
			w.Taken("t_p", "how long they may be over that", study.Of(study.Patience), study.PatienceSource())
			w.Ended(s, c, end, "I_t", "I_a", true)
			return
		}
		if hot {
			w.Taken("k_s", "share of that above which sealed tape is tight", study.Plain(unsealed), sealedSource)
		}
		w.Overload("I_t", "I_a")
		if hot {
			w.When(finding.Tight, "I_t > k_s · I_a")
		}
	})
}

// apartSource says whence remedy.Apart is.
var apartSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "nominal voltages within 15 % of each other are meant to go together"}

var tapeVoltage = study.Rule{
	Name: "protection/tape-voltage", Title: "Tape on the wrong voltage", Scope: study.Runs, Safety: true,
	Doc: study.Doc{
		What: "The highest voltage that the supplies of a run bring to it while nothing is drawn, and its highest pixel voltage in every case, against the highest that its chips allow; and the nominal voltage of each supply that feeds it against that of the tape.",
		Why:  "Above what they allow the chips fail, mostly as a short, and may burn. On too little the tape stays dark or shows the wrong colours.",
		Formula: []string{
			"U_hi ≤ U_max",
			"|U_s − U_t| ≤ 0.15 · U_t",
		},
		Symbols: []study.Symbol{
			{Sign: "U_hi", Unit: "V", Means: "set point of the highest supply, at the upper end of its spread: what all pixels get while none is lit; in a solved case the voltage across the highest pixel"},
			{Sign: "U_max", Unit: "V", Means: "highest voltage that the chip allows (volts_max)"},
			{Sign: "U_s", Unit: "V", Means: "nominal voltage of the supply"},
			{Sign: "U_t", Unit: "V", Means: "nominal voltage of the tape"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "the highest voltage: recommended where the part takes it so, else the absolute limit"},
			apartSource,
		},
		Limits: []string{
			"Steady voltages only. Overshoot when a supply is plugged in live, and what long leads add to it, can be far above the set point.",
			"Reversed polarity is not judged.",
			"A lower supply that copper joins to one high enough for the tape is judged by protection/unequal-supplies.",
			"The supply is taken to hold its set point within the spread of its part; one that has failed may give more.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the voltage is above what the chips allow in any case, or the supply is of a higher nominal voltage"},
			{Grade: finding.Fails, When: "the supply is of a lower nominal voltage"},
			{Grade: finding.Unknown, When: "the run has no tape yet, or its tape does not say what its chips allow"},
		},
		Example: study.Example{
			Given: []string{
				"A supply trimmed to 5.5 V, whose set point spreads by 2 %, feeds 100 pixels, and the chips allow 5.5 V.",
			},
			Sums: []string{
				"5.5 V × 1.02 = 5.61 V",
				"5.61 V > 5.5 V",
			},
			Value: "5.61 V", Limit: "5.5 V", Grade: finding.Danger,
			Says: "A trim to the very limit leaves no room for the spread of the supply.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape, name := s.Scheme.Tape(id), s.Scheme.Runs[id].Tape
		if tape == nil {
			return study.Unknown(id+" has no tape.", "Choose a tape.")
		}
		found := mismatched(s, id, tape)
		if !tape.VoltsMax.Given {
			return append(found, study.Unknown(fmt.Sprintf("%s: %s does not say the highest voltage its chips allow.", id, name), "Give the tape a volts_max from its chip's datasheet.")...)
		}
		if volts, from, fed := s.Highest(id); fed {
			found = append(found, unloaded(s, id, tape, volts, from))
		}
		for _, c := range s.Cases() {
			r, ok := s.Result(c.Name).Runs[id]
			if !ok || !r.Live {
				continue
			}
			a := study.Upper(float64(r.VoltsHigh), float64(tape.VoltsMax.Is), 0, finding.Danger).Fill(c.Name, "V", tape.VoltsMax.Basis, tape.VoltsMax.Source)
			got, most := unit.Apart(r.VoltsHigh, tape.VoltsMax.Is)
			found = append(found, a.On(func() []study.Number { return append(s.SetPoints(id), study.Stated(name, "volts_max", tape.VoltsMax)) }).
				Say(fmt.Sprintf("%s gets up to %s in %s; its chips allow %s.", id, got, study.CaseWords(c), most),
					"Use a supply of the tape's voltage, or trim it down.").Worked(func(w *study.Working) {
				w.Solved("U_hi", "voltage across the highest pixel", study.Of(r.VoltsHigh), c)
				w.Stated("U_max", "highest voltage that the chip allows", study.Stated(name, "volts_max", tape.VoltsMax))
				w.Upper("U_hi", "U_max", 0, finding.Danger)
			}))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.TrimDown(s, id) })
	},
}

// unloaded judges what the highest supply of a run brings to it while nothing is drawn.
func unloaded(s *study.Study, id string, tape *parts.Tape, volts unit.Volt, from string) study.Assessment {
	stated := study.Stated(s.Scheme.Runs[id].Tape, "volts_max", tape.VoltsMax)
	got, most := unit.Apart(volts, tape.VoltsMax.Is)
	a := study.Upper(float64(volts), float64(tape.VoltsMax.Is), 0, finding.Danger).Fill("", "V", tape.VoltsMax.Basis, tape.VoltsMax.Source)
	return a.On(func() []study.Number { return append(s.HighestOf(from), stated) }).
		Say(fmt.Sprintf("%s gets up to %s from %s while it is dark; its chips allow %s.", id, got, from, most), "Use a supply of the tape's voltage, or trim it down.").
		Worked(func(w *study.Working) {
			w.Highest(s, "U_hi", from)
			w.Stated("U_max", "highest voltage that the chip allows", stated)
			w.Upper("U_hi", "U_max", 0, finding.Danger)
		})
}

// lifted reports whether copper joins a supply to one that is high enough for a tape: then it is not the tape that suffers, and
// unequalSupplies says what does.
func lifted(s *study.Study, supply string, tape *parts.Tape) bool {
	high, ok := highest(s, s.Network.Partners(supply))
	return ok && float64(s.Scheme.SetPoint(high)) >= (1-remedy.Apart)*float64(tape.Volts.Is)
}

// mismatched compares the nominal voltages of a tape and of the supplies that feed it.
func mismatched(s *study.Study, id string, tape *parts.Tape) []study.Assessment {
	var found []study.Assessment
	said := map[string]bool{}
	for _, f := range s.Network.Feeds(id) {
		for _, t := range f.Plus {
			part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
			if !ok || said[t] {
				continue
			}
			said[t] = true
			value, limit := float64(part.Volts.Is), float64(tape.Volts.Is)
			if math.Abs(value-limit) <= remedy.Apart*limit || value < limit && lifted(s, t, tape) {
				continue
			}
			grade, why, margin := finding.Fails, "it will stay dark or show the wrong colour", value/limit-1
			if value > limit {
				grade, why, margin = finding.Danger, "its chips will fail and may burn", limit/value-1
			}
			a := study.Assessment{Grade: grade, Value: &value, Limit: &limit, Margin: &margin, Unit: "V", Basis: tape.Volts.Basis, Source: tape.Volts.Source}
			found = append(found, a.On(func() []study.Number {
				return []study.Number{study.Stated(s.Scheme.Supplies[t].Part, "volts", part.Volts), study.Stated(s.Scheme.Runs[id].Tape, "volts", tape.Volts)}
			}).Say(fmt.Sprintf("%s is a %v tape on %s, a %v supply: %s.", id, tape.Volts.Is, t, part.Volts.Is, why), "Feed it from a supply of its own voltage.").Worked(func(w *study.Working) {
				w.Stated("U_s", "nominal voltage of "+t, study.Stated(s.Scheme.Supplies[t].Part, "volts", part.Volts))
				w.Stated("U_t", "nominal voltage of the tape", study.Stated(s.Scheme.Runs[id].Tape, "volts", tape.Volts))
				w.Taken("k_u", "how far the two may differ, over that of the tape", study.Plain(remedy.Apart), apartSource)
				w.Compare("U_s", "U_t")
				w.When(finding.Danger, "U_s − U_t > k_u · U_t")
				w.When(finding.Fails, "U_t − U_s > k_u · U_t")
			}).Fixed(func() []finding.Edit { return remedy.Rehang(s, id, t) }))
		}
	}
	return found
}
