package board

import (
	"fmt"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// heldSources are those of the share of its rating that the fuse in a port's ground holds for ever, unless warm air leaves less.
var heldSources = []study.Source{
	study.ContinuousSource(),
	{Title: "five series of resettable fuses, two makers", Basis: parts.Derived, Says: "the worst of them holds 75.1 % of its rated current at 50 °C, 66 % at 60 °C, 58 % at 70 °C", Read: "hardware records that quote the makers' sheets"},
}

var portGround = study.Rule{
	Name: "board/port-ground", Title: "Port ground current", Scope: study.Leads, Safety: true,
	Doc: study.Doc{
		What: "The heating (rms) current of the ground core of a data lead, in every state, its peak, in the dark and with the cap failed, against the rating of the port's ground contact and what the core may carry; and, except with the cap failed, against 75 % of the rating of a fuse in the port's ground, or what warm air leaves of it.",
		Why:  "The ground core is one more return of the run, in parallel with the thick ones. What goes through it heats a contact and a core made for signals; a fuse there that opens stops the data.",
		Formula: []string{
			"I_g = I · R_r/(R_r + R_g)",
			"I_g ≤ I_c and I_g ≤ I_k",
			"I_g ≤ min(0.75, k_t) · I_n",
		},
		Symbols: []study.Symbol{
			{Sign: "I_g", Unit: "A", Means: "rms current of the ground core over the pulse-width cycle; the first line is its size for one run with one return"},
			{Sign: "I", Unit: "A", Means: "current of the run"},
			{Sign: "R_r", Unit: "Ω", Means: "resistance of the power return from the run to the board's bar"},
			{Sign: "R_g", Unit: "Ω", Means: "resistance of the ground core with the port's contact and fuse"},
			{Sign: "I_c", Unit: "A", Means: "rating of the port's ground contact (ground_amps)"},
			{Sign: "I_k", Unit: "A", Means: "what the core may carry in conduit, in the air of the site"},
			{Sign: "k_t", Unit: "1", Means: "what the air of the site leaves of that rating (the curve's derating)"},
			{Sign: "I_n", Unit: "A", Means: "rating of the fuse in the port's ground"},
		},
		Sources: append([]study.Source{
			{Title: "the maker of the board", Basis: parts.Datasheet, Says: "the rating of the contact; boards of the catalogue are invented"},
			{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.14", Basis: parts.Standard, Says: "the factor for the air around the core", Read: "an open calculator module that transcribes PN-HD 60364-5-52"},
			study.GraveSource(),
			study.PatienceSource(),
			study.ConventionalSource(),
			study.WarmingSource(),
			study.AdiabaticSource(),
		}, heldSources...),
		Limits: []string{
			"A return core that breaks sends all of its current through the data ground; the sound installation is judged, not that.",
			"The board is taken to be in the air of the site. In a box without air it is warmer, and a resettable fuse then holds less than is taken here.",
			"A lead from run to run has no port; its core alone is judged.",
			"Where the ground is open (ground: open) nothing flows, and nothing can be said against it.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the current is above what the core may carry, or above 1.2 times the rating of the contact; with the cap failed, what no fuse surely ends before the core takes harm, and within 60 s"},
			{Grade: finding.Fails, When: "the current is above the rating of the contact, or above 75 % of that of the fuse, or what warm air leaves of it"},
			{Grade: finding.Unknown, When: "the port does not say what its ground may carry, the cable what its cores may, or the curve of the fuse what it holds in such air"},
			{Grade: finding.Tight, When: "the current is above 95 % of any of these, or, with the cap failed, above it, and a fuse ends whatever is"},
		},
		Example: study.Example{
			Given: []string{
				"A run that draws 2 A has a return of 3 m of 2.5 mm², 7.98 mΩ/m at 20 °C. Its data ground is 3 m of 0.5 mm², 39 mΩ/m, behind a contact of 5 mΩ and a resettable fuse of 0.4 Ω, rated for 750 mA.",
			},
			Sums: []string{
				"3 m × 7.98 mΩ/m = 23.94 mΩ",
				"5 mΩ + 400 mΩ + 3 m × 39 mΩ/m = 522 mΩ",
				"2 A × 23.94 mΩ/(23.94 mΩ + 522 mΩ) = 87.7 mA",
				"0.75 × 750 mA = 562.5 mA",
				"87.7 mA < 562.5 mA",
			},
			Value: "87.7 mA", Limit: "562.5 mA", Grade: finding.Pass,
			Says: "The fuse, the weakest of the three, has a sixth of what it holds.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		d := s.Scheme.Data[id]
		if d.Ground == scheme.OpenGround {
			return study.Passes("The ground core of " + id + " is open: nothing flows in it.")
		}
		found := unrated(s, id)
		for _, c := range s.Cases() {
			amps := s.Result(c.Name).Data[id].Ground.RMS
			drawn := func() []study.Number { return s.Draw(c, []string{d.To.Element}) }
			if port, ok := s.Scheme.PortPart(d.From); ok {
				found = append(found, portContact(s, id, port, c, drawn)...)
			}
			if rating, ok := s.Network.LeadAmpacity(id); ok {
				found = append(found, core(s, id, amps, rating, c, drawn))
			}
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Ground(s, id, 0.95*least(found)) })
	},
}

// least is the smallest of the limits of some assessments over what was found against them.
func least(found []study.Assessment) float64 {
	share := 1.0
	for _, a := range found {
		if a.Margin != nil {
			share = min(share, 1+*a.Margin)
		}
	}
	return share
}

// unrated says what the port or the cable of a lead leaves unsaid.
func unrated(s *study.Study, id string) []study.Assessment {
	var found []study.Assessment
	d := s.Scheme.Data[id]
	if port, ok := s.Scheme.PortPart(d.From); ok && !port.GroundAmps.Given {
		found = append(found, study.Unknown(fmt.Sprintf("%s: %s does not say what its ground may carry.", id, d.From), "Give the port ground_amps.")...)
	}
	if _, ok := s.Network.LeadAmpacity(id); !ok && d.Part != "choose" {
		found = append(found, study.Unknown(fmt.Sprintf("%s: %s does not say what its ground core may carry.", id, d.Part), "Give the cable an iz.")...)
	}
	return found
}

// grounded is what feeds the ground of a lead, one way of several: the fuse in its port's ground, and what feeds its run.
func grounded(s *study.Study, id string) []network.Behind {
	d := s.Scheme.Data[id]
	ways := []network.Behind{s.Network.Fed(d.To.Element)}
	if port, ok := s.Scheme.PortPart(d.From); ok && port.GroundFuse != "" {
		return append(ways, network.Behind{Fuses: []string{d.From.String() + ".ground fuse"}})
	}
	return ways
}

// portContact judges the contact in the ground of a lead's port and the fuse there, except with the cap failed.
func portContact(s *study.Study, id string, p parts.Port, c network.Case, drawn func() []study.Number) []study.Assessment {
	var found []study.Assessment
	port, amps := s.Scheme.Data[id].From, s.Result(c.Name).Data[id].Ground.RMS
	if p.GroundAmps.Given {
		ground := contact{"The ground of " + port.String(), s.Scheme.Boards[port.Element].Part, "ports." + port.Socket + ".ground_amps", p.GroundAmps}
		found = append(found, ground.judge(s, []flow{one(throughGround, amps)}, c, drawn, remedyGround, func() []network.Behind { return grounded(s, id) }))
	}
	link, fused := parts.Get[parts.Fuse](s.Scheme.Library, p.GroundFuse)
	if !fused || c.Kind == network.CapFailed {
		return found
	}
	air := s.Scheme.Ambient()
	warm, known := s.Warm(link, air)
	if !known {
		return append(found, study.Unknown(fmt.Sprintf("The fuse in the ground of %s is in air of %v; %s does not say what it holds there.", port, air, link.Curve), "Find it a cooler place.")...)
	}
	limit := unit.Ampere(min(study.Continuous, warm.Share)) * link.Rating.Is
	a := study.Upper(float64(amps), float64(limit), 0.05, finding.Fails).Fill(c.Name, "A", parts.Weaker(link.Rating.Basis, heldSources[0].Basis), link.Rating.Source)
	got, most := unit.Apart(amps, limit)
	return append(found, a.On(func() []study.Number {
		numbers := append(drawn(), study.Stated(p.GroundFuse, "rating", link.Rating))
		if warm.Share < study.Continuous {
			return append(numbers, warm.Numbers...)
		}
		return append(numbers, study.Taken("75 % of a fuse's rating", heldSources[0]))
	}).Say(fmt.Sprintf("The fuse in the ground of %s carries %s in %s; it holds %s for sure, and when it opens the data fails.", port, got, study.CaseWords(c), most), remedyGround).Worked(func(w *study.Working) {
		w.Solved("I_g", throughGround, study.Of(amps), c)
		w.Stated("I_n", "rating of the fuse in the port's ground", study.Stated(p.GroundFuse, "rating", link.Rating))
		w.Taken("k_h", "share that a link holds for ever", study.Plain(study.Continuous), heldSources[0])
		w.Warm(s, "k_t", p.GroundFuse, nil)
		w.Step("What the fuse holds for sure", "I_h = min(k_h, k_t) · I_n")
		w.Upper("I_g", "I_h", 0.05, finding.Fails)
	}))
}

// throughGround is what flows through a port's ground.
const throughGround = "rms current of the ground core"

// core judges the ground core of a lead as what it is, a core of a cable: above what it may carry it is a danger, unless the cap has
// failed and a fuse ends that before the core takes harm.
func core(s *study.Study, id string, amps unit.Ampere, rating parts.Value[unit.Ampere], c network.Case, drawn func() []study.Number) study.Assessment {
	name := s.Scheme.Data[id].Part
	part, _ := parts.Get[parts.Cable](s.Scheme.Library, name)
	a := study.Upper(float64(amps), float64(rating.Is), 0.05, finding.Danger).Fill(c.Name, "A", rating.Basis, rating.Source)
	copper := conductor.Core{Iz: rating.Is, Ambient: s.Scheme.Ambient(), Limit: part.Insulation.Is}
	end, words := study.Ending{}, ""
	if a.Grade == finding.Danger && c.Kind == network.CapFailed {
		end = s.Ending(c, amps, rating.Is, func(i unit.Ampere) unit.Second { return copper.Bears(i, part.Area.Is) }, grounded(s, id)...)
		a.Grade, words = end.Grade(a.Grade, false), " "+end.Words()
	}
	helps := words != "" && end.Helps()
	got, may := unit.Apart(amps, rating.Is)
	return a.On(func() []study.Number {
		numbers := append(append(drawn(), study.Stated(name, "iz.conduit", rating)), s.Ambient()...)
		if helps {
			numbers = append(append(numbers, s.EndedBy(end)...), study.Taken("1.45 times its ampacity for an hour", study.ConventionalSource()))
		}
		return numbers
	}).Say(fmt.Sprintf("The ground core of %s carries %s in %s; it may carry %s.%s", id, got, study.CaseWords(c), may, words), remedyGround).Worked(func(w *study.Working) {
		w.Solved("I", throughGround, study.Of(amps), c)
		w.Stated("I_30", "what the core may carry in conduit, in air of 30 °C", study.Stated(name, "iz.conduit", part.Iz.Conduit))
		w.Stated("T_max", "what its insulation stands for ever", study.Stated(name, "insulation", part.Insulation))
		w.Lying(s, nil)
		w.Step("What the core may carry here", "I_k = I_30 · √((T_max − T_a)/(T_max − 30 °C))")
		if helps {
			w.Bears(copper, amps, 1, study.Stated(name, "area", part.Area))
			w.Ended(s, c, end, "I", "I_k", false)
			return
		}
		w.Upper("I", "I_k", 0.05, finding.Danger)
	})
}

const remedyGround = "Improve the return of the run: a thicker or shorter return core, or a second one; or open the data ground where the run has a good return of its own."
