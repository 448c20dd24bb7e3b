package protection

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/study"
)

// loading is the share of its rating above which a supply is called tight.
const loading = 0.80

var supplyLoad = study.Rule{
	Name: "protection/supply-load", Title: "Supply load", Scope: study.Supplies, Safety: true,
	Doc: "The largest current a supply delivers within the pulse-width cycle is compared with its rated current at its set point (rated power over set point where that is less). Above it the supply sags, pulses or shuts down, which the eye sees. " +
		"Above 80 % it is tight (common practice, no source). One that reaches its limit fails even if it then delivers less: it holds the current, folds back, pulses or shuts down, as its part says, and the limit itself is then compared. " +
		"With the cap failed the supply's own limit is at work; there it is tight, and the copper is judged by its own rules.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a supply part.")
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			found = append(found, load(c, id, part, s.Result(c.Name).Supplies[id]))
		}
		return found
	},
}

// load judges what a supply delivers in one case, or, where it has folded back or shut down, what it was asked for: its limit.
func load(c network.Case, id string, part *parts.Supply, r network.Supply) study.Assessment {
	over := finding.Fails
	if c.Kind == network.CapFailed {
		over = finding.Tight
	}
	amps, text := r.Amps.Peak, fmt.Sprintf("%s delivers %v in %s; it is rated for %v.", id, r.Amps.Peak, study.CaseWords(c), r.Rated)
	if r.State == "folded" || r.State == "off" {
		amps, text = r.Limit, fmt.Sprintf("%s is asked for more than its limit of %v in %s; it is rated for %v.", id, r.Limit, study.CaseWords(c), r.Rated)
	}
	basis := parts.Weaker(part.Amps.Basis, part.Watts.Basis)
	words, rests := atLimit(part, r)
	if words != "" {
		basis = parts.Weaker(parts.Weaker(basis, part.LimitAt.Low.Basis), rests)
	}
	a := study.Upper(float64(amps), float64(r.Rated), 1-loading, over).Fill(c.Name, "A", basis, part.Amps.Source)
	if words != "" {
		a.Grade = max(a.Grade, over)
	}
	return a.Say(text+words, "Use a larger supply, a second one for part of the runs, or lower the cap.")
}

// atLimit says what a supply does at its limit and the basis of how it does that; nothing of one that is not there.
func atLimit(part *parts.Supply, r network.Supply) (words string, basis parts.Basis) {
	switch r.State {
	case "limit":
		words = " It is at its current limit: its voltage falls, and everything on it with it."
	case "pulsing":
		words, basis = " It pulses: everything on it flashes. Its part does not say how long it is on and off, so it counts as on all the time.", ""
		if on, off := part.PulseOn, part.PulseOff; on.Given && off.Given {
			words, basis = fmt.Sprintf(" It pulses, %v on and %v off: everything on it flashes.", on.Is, off.Is), parts.Weaker(on.Basis, off.Basis)
		}
	case "folded":
		words, basis = fmt.Sprintf(" It folds back to %v at %v: everything on it is dim or dark.", r.Amps.Peak, r.Volts), part.Folded().Basis
		if !part.FoldTo.Given {
			words += fmt.Sprintf(" Its part does not say how far it folds back; %v of its limit into a short is taken.", part.Folded().Is)
		}
	case "off":
		words = " It shuts down: everything on it stays dark until somebody switches it off and on."
	default:
		return "", ""
	}
	if part.Limit == parts.Boost {
		words += boostText(part)
	}
	return words, basis
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
	Doc: "A supply that folds back gives its full current only near its set point, and little into a load that pulls its voltage down. So it may hold an installation that is running and never bring it up: switched on at 0 V it is stuck where the load takes all that it gives. " +
		"The voltage at which it ends from 0 V is compared with that at which it runs, in every lighting state and its peak, dark included; capacitors and the rise of the pixels are left out. A supply of any other kind passes.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		if !ok || part.Steady() != parts.FoldBack {
			return []study.Assessment{{Grade: finding.Pass}}
		}
		var found []study.Assessment
		to := part.Folded()
		for _, c := range s.Cases() {
			if c.Kind == network.CapFailed {
				continue
			}
			r := s.Result(c.Name).Supplies[id]
			a := study.Lower(float64(r.StartVolts), float64(r.Volts), 0, finding.Fails).Fill(c.Name, "V", parts.Weaker(part.LimitAt.Low.Basis, to.Basis), to.Source)
			found = append(found, a.Say(
				fmt.Sprintf("%s starts only to %v in %s: switched on at 0 V it is stuck where its load takes all that it gives folded back. Once running it would hold %v.", id, r.StartVolts, study.CaseWords(c), r.Volts),
				"Use a supply that holds its current, or a larger one; or switch on dark and bring the light up afterwards."))
		}
		return found
	},
}

var idleSupply = study.Rule{
	Name: "protection/idle-supply", Title: "Idle supply", Scope: study.Supplies, Safety: false,
	Doc: "Where unequal supplies share copper, one may deliver nothing while others hold its terminals above its set point, or up though it has shut down. The solved network lets no current back into it. That is optimistic for supplies with bleeders, " +
		"synchronous rectifiers or overvoltage protection, which may load the others, heat up or shut down (common practice, no source); so it is noted.",
	Judge: func(s *study.Study, id string) []study.Assessment {
		for _, c := range s.Cases() {
			r, solved := s.Result(c.Name).Supplies[id]
			why := "others hold its terminals at %v, above its set point"
			switch {
			case solved && r.State == "idle":
			case solved && r.State == "off" && r.Volts > 0:
				why = "it has shut down, and others hold its terminals at %v"
			default:
				continue
			}
			return []study.Assessment{study.Assessment{Case: c.Name, Grade: finding.Note, Basis: parts.Practice, Source: "common practice, no source"}.Say(
				fmt.Sprintf("%s delivers nothing in %s: "+why+". That no current flows back into it is optimistic for a supply with a bleeder, a synchronous rectifier or overvoltage protection.", id, study.CaseWords(c), r.Volts),
				"Trim supplies that work in parallel to the same voltage, as far as their makers allow them in parallel.")}
		}
		return []study.Assessment{{Grade: finding.Pass}}
	},
}
