package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// loading is the share of its rating above which a supply is called tight.
const loading = 0.80

// loadingSource is its source.
var loadingSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a supply is loaded to 80 % of its rating for long life"}

var supplyLoad = study.Rule{
	Name: "protection/supply-load", Title: "Supply load", Scope: study.Supplies, Safety: true,
	Doc: study.Doc{
		What: "The largest current that a supply delivers within the pulse-width cycle, in every state, its peak, in the dark and with the cap failed, against its rated current at its set point; and whether it reaches its limit.",
		Why:  "Above its rating it gets too hot, or sags, pulses or shuts down, and everything on it with it. The eye sees that; a supply that runs hot for years fails first.",
		Formula: []string{
			"I_pk ≤ I_r = k_w · min(I_n, P_n/U_s)",
			"k_w = 1 − d · max(0 °C, T_a − T_d)",
			"I_pk < I_l = I_b · min(1, U_n/U_s)",
		},
		Symbols: []study.Symbol{
			{Sign: "I_pk", Unit: "A", Means: "largest current out of its plus terminal within the cycle"},
			{Sign: "I_r", Unit: "A", Means: "rated current at its set point"},
			{Sign: "k_w", Unit: "1", Means: "what warm air leaves of that"},
			{Sign: "d", Unit: "1/°C", Means: "share that it loses with each degree (derate)"},
			{Sign: "T_a", Unit: "°C", Means: "air of the site, 30 °C where the scheme says none; above what the part stands (ambient_max) it fails"},
			{Sign: "T_d", Unit: "°C", Means: "air up to which it gives all (derate_from); 40 °C where the part does not say, and unknown above"},
			{Sign: "I_n", Unit: "A", Means: "rated current of the part (amps)"},
			{Sign: "P_n", Unit: "W", Means: "rated power of the part (watts)"},
			{Sign: "U_s", Unit: "V", Means: "set point: the part's volts, or as trimmed; with the cap failed at the upper end of its spread"},
			{Sign: "I_l", Unit: "A", Means: "current at which its limit acts"},
			{Sign: "I_b", Unit: "A", Means: "lower end of the part's band of limits (limit_at)"},
			{Sign: "U_n", Unit: "V", Means: "nominal voltage of the part"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "rated current, power, limit and what the supply does there; where no sheet was seen the part says memory"},
			loadingSource,
			study.MildSource(),
			{Title: "common practice, no source", Basis: parts.Practice, Says: "a limiter that follows power acts at a lower current when the supply is trimmed up: the more careful reading"},
		},
		Limits: []string{
			"The air is that of the site. A box without air is warmer, and many supplies give less upside down or at low mains voltage.",
			"Inrush, ripple and the charging of capacitors are not judged.",
			"At its limit a supply is taken to do what its part says, in the steady state. A peak shorter than its limiter notices may pass unseen.",
			"With the cap failed its own limit is at work: that is tight, and copper is judged by its own rules. The 80 % are for years, and a failed cap is mended before that: there they are not asked for.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the current is above I_r in some state, its peak or the dark; or the supply is at its limit (where it folds back or shuts down, the limit itself is compared); or the air is warmer than it stands"},
			{Grade: finding.Unknown, When: "it has no part yet, or the air is so warm that it may give less and its part does not say how much less"},
			{Grade: finding.Tight, When: "the current is above 80 % of I_r in some state, its peak or the dark; or, with the cap failed, above I_r or at its limit"},
		},
		Example: study.Example{
			Given: []string{"A supply of 5 V, 8 A and 40 W is trimmed to 5.4 V and feeds 800 pixels of 10 mA at half level. Their cycles may begin together, and then all are on at once."},
			Sums:  []string{"800 × 10 mA = 8 A", "40 W/5.4 V = 7.41 A", "8 A > 7.41 A"},
			Value: "8 A", Limit: "7.41 A", Grade: finding.Fails,
			Says: "The mean is only 4 A; the peak is what the supply must give.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a supply part.")
		}
		found, air, name := tooWarm(s, id, part), s.Scheme.Ambient(), s.Scheme.Supplies[id].Part
		warm, unknown := study.WarmSupply(name, part, air)
		if unknown != "" {
			found = append(found, study.Unknown(fmt.Sprintf("%s stands in air of %v; %s.", id, air, unknown), "Give the part derate_from and derate from its sheet.")...)
		}
		for _, c := range s.Cases() {
			found = append(found, load(s, c, id, part, warm))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Supply(s, id) })
	},
}

// load judges what a supply delivers in one case, or, where it has folded back or shut down, what it was asked for: its limit.
func load(s *study.Study, c network.Case, id string, part *parts.Supply, warm study.Warmth) study.Assessment {
	r, over, spare := s.Result(c.Name).Supplies[id], finding.Fails, 1-loading
	if c.Kind == network.CapFailed { // it is mended before the supply ages
		over, spare = finding.Tight, 0
	}
	rated := r.Rated * unit.Ampere(warm.Share)
	got, most := unit.Apart(r.Amps.Peak, rated)
	amps, asked := r.Amps.Peak, fmt.Sprintf("%s delivers %s", id, got)
	if r.State == "folded" || r.State == "off" {
		amps, asked = r.Limit, fmt.Sprintf("%s is asked for more than its limit of %v", id, r.Limit)
	}
	text := fmt.Sprintf("%s in %s; it is rated for %s%s.", asked, study.CaseWords(c), most, warm.In(s.Scheme.Ambient()))
	words := atLimit(part, r)
	a := study.Upper(float64(amps), float64(rated), spare, over).Fill(c.Name, "A", parts.Weaker(part.Amps.Basis, part.Watts.Basis), part.Amps.Source)
	if words != "" {
		a.Grade = max(a.Grade, over)
	}
	tight := a.Grade == finding.Tight && words == "" && amps <= rated
	if tight {
		text += fmt.Sprintf(" Above 80 %% of that, %v, it is tight.", loading*rated)
	}
	a = a.On(func() []study.Number {
		return append(supplyNumbers(s, c, id, part, words != "", tight), warm.Numbers...)
	})
	return a.Say(text+words, "Use a larger supply, a second one for part of the runs, or lower the cap.").Worked(func(w *study.Working) {
		setPoint(w, s, c, id)
		ratedCurrent(w, s, id, part)
		demanded(w, s, c, id, part)
		w.Compare("I", "I_r")
		w.When(over, "I > I_r")
		if words != "" {
			w.Fact(over, strings.TrimSpace(words))
		}
		if spare > 0 {
			w.Taken("k_l", "share of its rating above which it is tight", study.Plain(loading), loadingSource)
			w.When(finding.Tight, "I > k_l · I_r")
		}
	})
}

// setPoint works out U_s, the set point of a supply in a case.
func setPoint(w *study.Working, s *study.Study, c network.Case, id string) {
	name, trim := s.Scheme.Supplies[id].Part, s.Scheme.Supplies[id].Volts
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	sign := "U_s"
	if c.Kind == network.CapFailed {
		sign = "U_t"
	}
	if trim != nil {
		w.Written(sign, "its set point, as trimmed", study.Of(*trim), "supplies."+id+".volts", s.Scheme.Place("supplies", id, "volts"))
	} else {
		w.Stated(sign, "its set point", study.Stated(name, "volts", part.Volts))
	}
	if c.Kind == network.CapFailed {
		w.Stated("s_u", "how far that may be off, upwards", study.High(name, "volts", part.Volts))
		w.Step("The set point at the upper end of its spread", "U_s = (1 + s_u) · U_t")
	}
}

// ratedCurrent works out I_r, what a supply may give for ever at its set point U_s in the air around it.
func ratedCurrent(w *study.Working, s *study.Study, id string, part *parts.Supply) {
	name := s.Scheme.Supplies[id].Part
	w.Stated("I_n", "its rated current", study.Stated(name, "amps", part.Amps))
	if part.Watts.Given {
		w.Stated("P_n", "its rated power", study.Stated(name, "watts", part.Watts))
	} else {
		w.Stated("U_n", "its nominal voltage", study.Stated(name, "volts", part.Volts))
		w.Step("Rated power, where its part states none", "P_n = U_n · I_n")
	}
	warmed(w, s, name, part)
	w.Step("What it may give for ever at its set point, in that air", "I_r = k_w · min(I_n, P_n/U_s)")
}

// demanded takes I, what a supply delivers; or, where it has folded back or shut down, works out what it was asked for at least.
func demanded(w *study.Working, s *study.Study, c network.Case, id string, part *parts.Supply) {
	r, name := s.Result(c.Name).Supplies[id], s.Scheme.Supplies[id].Part
	if r.State != "folded" && r.State != "off" {
		w.Solved("I", "largest current out of its plus terminal within the cycle", study.Of(r.Amps.Peak), c)
		return
	}
	w.Stated("I_b", "lower end of the band in which its limit acts", study.Stated(name, "limit_at.low", part.LimitAt.Low))
	w.Stated("U_n", "its nominal voltage", study.Stated(name, "volts", part.Volts))
	w.Step("Its limit at its set point, which it was asked for at least", "I = I_b · min(1, U_n/U_s)")
}

// supplyNumbers lists what decides the load of a supply and what it may give.
func supplyNumbers(s *study.Study, c network.Case, id string, part *parts.Supply, limited, tight bool) []study.Number {
	name := s.Scheme.Supplies[id].Part
	numbers := append(s.Draw(c, s.Network.RunsOn(id)), study.Stated(name, "amps", part.Amps), study.Stated(name, "watts", part.Watts))
	if s.Scheme.Supplies[id].Volts == nil { // rated power is over the part's own set point
		numbers = append(numbers, study.Stated(name, "volts", part.Volts))
	}
	if tight {
		numbers = append(numbers, study.Taken("80 % of a supply's rating", loadingSource))
	}
	if limited {
		numbers = append(numbers, study.Stated(name, "limit_at.low", part.LimitAt.Low))
		switch part.Steady() {
		case parts.FoldBack:
			numbers = append(numbers, study.Stated(name, "fold_to", part.Folded()))
		case parts.Hiccup:
			if part.PulseOn.Given && part.PulseOff.Given {
				numbers = append(numbers, study.Stated(name, "pulse_on", part.PulseOn), study.Stated(name, "pulse_off", part.PulseOff))
			}
		}
	}
	return numbers
}

// atLimit says what a supply does at its limit; nothing of one that is not there.
func atLimit(part *parts.Supply, r network.Supply) string {
	words := ""
	switch r.State {
	case "limit":
		words = " It is at its current limit: its voltage falls, and everything on it with it."
	case "pulsing":
		words = " It pulses: everything on it flashes. Its part does not say how long it is on and off, so it counts as on all the time."
		if on, off := part.PulseOn, part.PulseOff; on.Given && off.Given {
			words = fmt.Sprintf(" It pulses, %v on and %v off: everything on it flashes.", on.Is, off.Is)
		}
	case "folded":
		words = fmt.Sprintf(" It folds back to %v at %v: everything on it is dim or dark.", r.Amps.Peak, r.Volts)
		if !part.FoldTo.Given {
			words += fmt.Sprintf(" Its part does not say how far it folds back; %v of its limit into a short is taken.", part.Folded().Is)
		}
	case "off":
		words = " It shuts down: everything on it stays dark until somebody switches it off and on."
	default:
		return ""
	}
	if part.Limit == parts.Boost {
		words += boostText(part)
	}
	return words
}

// boostText says what a supply does before its steady state.
func boostText(part *parts.Supply) string {
	share, time := "more than its limit", "some seconds"
	if part.Boost.Given {
		share = fmt.Sprintf("up to %v of its rated current", part.Boost.Is)
	}
	if part.BoostFor.Given {
		time = part.BoostFor.Is.String()
	}
	text := fmt.Sprintf(" For %s before that it gives %s.", time, share)
	if part.Then == "" {
		text += " Its part does not say what follows, so it counts as holding its current."
	}
	return text
}

var supplyStart = study.Rule{
	Name: "protection/supply-start", Title: "Start of a supply", Scope: study.Supplies, Safety: false,
	Doc: study.Doc{
		What: "The voltage at which a supply that folds back ends when all is switched on at 0 V, against that at which it runs, in every state, its peak and the dark.",
		Why:  "Such a supply gives its full current only near its set point, and little into a load that pulls its voltage down. It may hold an installation that is running and never bring it up: switched on at 0 V it is stuck where the load takes all that it gives.",
		Formula: []string{
			"I_s = I_l · (f + (1 − f) · U/U_s)",
			"U_0 = the lowest U at which I_s = I_u",
			"U_0 ≥ U_r",
		},
		Symbols: []study.Symbol{
			{Sign: "I_s", Unit: "A", Means: "most that the supply gives at a voltage at its terminals"},
			{Sign: "I_l", Unit: "A", Means: "lower end of its limit"},
			{Sign: "f", Unit: "1", Means: "current into a short over the limit (the part's fold_to)"},
			{Sign: "U", Unit: "V", Means: "voltage at its terminals"},
			{Sign: "U_s", Unit: "V", Means: "its set point"},
			{Sign: "I_u", Unit: "A", Means: "what the installation takes at that voltage"},
			{Sign: "U_0", Unit: "V", Means: "where it ends from 0 V"},
			{Sign: "U_r", Unit: "V", Means: "where it runs once it is up"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "that it folds back, its limit, and what it gives into a short"},
			{Title: "textbooks on supplies", Basis: parts.Memory, Says: "fold-back limiters give a fifth to a half of their limit into a short; 30 % is taken where a part does not say"},
		},
		Limits: []string{
			"The fold is taken for a straight line. Real ones bend.",
			"Capacitors, and pixels that need some milliseconds before they draw, help or hinder a start and are left out.",
			"Below about 3 V the current of a pixel is not proven, and a start goes through there.",
			"A supply of any other kind passes: how it starts is not judged.",
		},
		Grades: []study.Graded{{Grade: finding.Fails, When: "it ends below the voltage at which it would run, in any state, its peak or the dark"}},
		Example: study.Example{
			Given: []string{
				"A supply of 10 V limits at 8 A and folds back to a quarter into a short. Its source resistance is 1 mΩ.",
				"Its load takes nothing below 2 V, then 6 A/V, and 6 A from 3 V up.",
			},
			Sums: []string{
				"8 A × 0.25 = 2 A",
				"8 A × (1 − 0.25)/10 V = 0.6 A/V",
				"(2 A + 6 A/V × 2 V)/(6 A/V − 0.6 A/V) = 2.59 V",
				"10 V − 6 A × 1 mΩ = 9.99 V",
				"2.59 V < 9.99 V",
			},
			Value: "2.6 V", Limit: "9.99 V", Grade: finding.Fails,
			Says: "Running it would hold 9.99 V; switched on it never gets past 2.6 V.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		if !ok || part.Steady() != parts.FoldBack {
			return study.Passes(id + " does not fold back.")
		}
		var found []study.Assessment
		to := part.Folded()
		for _, c := range s.Cases() {
			if c.Kind == network.CapFailed {
				continue
			}
			r := s.Result(c.Name).Supplies[id]
			a := study.Lower(float64(r.StartVolts), float64(r.Volts), 0, finding.Fails).Fill(c.Name, "V", parts.Weaker(part.LimitAt.Low.Basis, to.Basis), to.Source)
			found = append(found, a.On(func() []study.Number {
				name := s.Scheme.Supplies[id].Part
				return append(s.Draw(c, s.Network.RunsOn(id)), study.Stated(name, "limit_at.low", part.LimitAt.Low), study.Stated(name, "fold_to", to))
			}).Say(
				fmt.Sprintf("%s starts only to %v in %s: switched on at 0 V it is stuck where its load takes all that it gives folded back. Once running it would hold %v.", id, r.StartVolts, study.CaseWords(c), r.Volts),
				"Use a supply that holds its current, or a larger one; or switch on dark and bring the light up afterwards.").Worked(func(w *study.Working) {
				w.Solved("U_0", "voltage at which it ends when all is switched on at 0 V", study.Of(r.StartVolts), c)
				w.Solved("U_r", "voltage at which it runs once it is up", study.Of(r.Volts), c)
				starting(w, s, c, id, part)
				w.Lower("U_0", "U_r", 0, finding.Fails)
			}))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Supply(s, id) })
	},
}

// starting works out what a supply that folds back gives where it ends from 0 V.
func starting(w *study.Working, s *study.Study, c network.Case, id string, part *parts.Supply) {
	name := s.Scheme.Supplies[id].Part
	setPoint(w, s, c, id)
	w.Stated("I_b", "lower end of the band in which its limit acts", study.Stated(name, "limit_at.low", part.LimitAt.Low))
	w.Stated("U_n", "its nominal voltage", study.Stated(name, "volts", part.Volts))
	w.Stated("f", "current into a short over its limit", study.Stated(name, "fold_to", part.Folded()))
	w.Step("Its limit at its set point", "I_l = I_b · min(1, U_n/U_s)")
	w.Step("Most that it gives at the voltage at which it ends", "I_s = I_l · (f + (1 − f) · U_0/U_s)")
}
