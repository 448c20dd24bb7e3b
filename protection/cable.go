package protection

import (
	"fmt"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// factorSource is the source of the factors on a rating.
const factorSource = "IEC 60364-5-52 tables B.52.14 and B.52.17 for the air around it and its bundle"

var cableCurrent = study.Rule{
	Name: "protection/cable-current", Title: "Cable current", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What: "The heating (rms) current of each pole of a cable, in every state, its peak, in the dark and with the cap failed, against what the pole may carry where it lies.",
		Why:  "Above it the core is warmer than its insulation stands for ever: it ages and hardens, and further up it melts and burns. No fuse sees that unless its rating is below what the core may carry.",
		Formula: []string{
			"I ≤ I_max, or t_o ≤ t_p with the cap failed",
			"I_max = n · I_30 · √((T_max − T_a)/(T_max − 30 °C)) · k_g",
			"t_p = t_h up to 1.45 · I_max",
			"t_p = (K · n · S/I)² · ln((T_b + 234.5 °C)/(T_max + 234.5 °C)) beyond, at most t_h",
			"T = (T_a + 234.5 °C · b · x)/(1 − b · x)",
			"b = (T_max − T_a)/(T_max + 234.5 °C)",
			"x = (I/I_max)²",
		},
		Symbols: []study.Symbol{
			{Sign: "I", Unit: "A", Means: "rms current of the pole over the pulse-width cycle"},
			{Sign: "I_max", Unit: "A", Means: "what the pole may carry for ever"},
			{Sign: "n", Unit: "1", Means: "cores of the pole in parallel (cores_per_pole)"},
			{Sign: "I_30", Unit: "A", Means: "what one core may carry, installed as it is, alone in air of 30 °C (the part's iz)"},
			{Sign: "T_max", Unit: "°C", Means: "what the insulation stands for ever"},
			{Sign: "T_a", Unit: "°C", Means: "air around the cable: its own ambient, else the site's, else 30 °C; colder than 20 °C it counts as that"},
			{Sign: "k_g", Unit: "1", Means: "factor for loaded circuits that lie together: 1, 0.80, 0.70, 0.65, 0.60 … for 1, 2, 3, 4, 5 …; further cores of the pole in parallel count as circuits"},
			{Sign: "t_o", Unit: "s", Means: "when all fuses through which its current comes have surely opened"},
			{Sign: "t_p", Unit: "s", Means: "how long the core bears the current: where S in PVC stands it longer in a short, that, up to 5 s"},
			{Sign: "t_h", Unit: "s", Means: "an hour, the conventional time of fuses"},
			{Sign: "K", Unit: "A√s/mm²", Means: "how fast copper warms that gives off no heat: 226"},
			{Sign: "S", Unit: "mm²", Means: "cross-section of one core"},
			{Sign: "T_b", Unit: "°C", Means: "steady temperature at 1.45 · I_max: 131 °C for PVC in air of 30 °C"},
			{Sign: "T", Unit: "°C", Means: "steady temperature of the core, which the finding names"},
			{Sign: "b", Unit: "1", Means: "share of a core's resistance at T_max that comes of its being warmer than the air"},
			{Sign: "x", Unit: "1", Means: "heat over that of the rated current; from b · x = 1 on there is no steady temperature"},
		},
		Sources: []study.Source{
			{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.2, methods B2 and C", Basis: parts.Standard, Says: "what two loaded cores with PVC insulation carry at 30 °C, from 1.5 mm² on", Read: moduleRead},
			{Title: "DIN VDE 0298-4", Clause: "table 11, columns 3 and 5", Basis: parts.Standard, Says: "two-core cords, in the hand and on a surface; parts of the catalogue state the lowest of the tables that fit them", Read: "maker tables that quote it"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "tables 310.16, 400.5(A)(1) and 402.5", Basis: parts.Standard, Says: "cables sold by gauge; the lowest of the three stands", Read: "an open transcription of the tables"},
			{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.14", Basis: parts.Standard, Says: "the factor for the air; the square root gives every row of it to two decimals; rows below 20 °C are left out, for 1.45 times what they allow takes a core beyond 160 °C", Read: "an open calculator module that transcribes PN-HD 60364-5-52"},
			{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.17, item 1", Basis: parts.Standard, Says: "the factor for bunched circuits, up to 20", Read: "the same calculator module"},
			{Title: "1/√n of n circuits", Basis: parts.Derived, Says: "beyond 20 circuits: all together then give off the heat of one alone"},
			{Title: "IEC 60364-5-52", Edition: "2009", Clause: "notes to table B.52.17", Basis: parts.Memory, Says: "cores in parallel count as circuits of their own, two loaded cores to a circuit"},
			study.ConventionalSource(), study.WarmingSource(), study.AdiabaticSource(),
			{Title: "IEC 60287-1-1", Clause: "table 1", Basis: parts.Standard, Says: "copper has no resistance left at −234.5 °C on the straight line of its resistance", Read: "an open thermal module that transcribes it"},
		},
		Limits: []string{
			"Above the limit it is a danger at once in every state: with nothing wrong no cable may be overloaded, whatever fuse would end it. Shorts are not judged.",
			"With the cap failed a fuse may end it: by its slow edge, cold, in the coldest air, before the core takes harm. The drive may then be anything up to full, so it has to end whatever is above the limit. A core that would get to 160 °C is a danger whatever opens.",
			"T_a is the air that the scheme states. Sun, a hot box or warm neighbours count only if they are in it.",
			"It holds for copper, and for circuits of a bundle that are loaded alike. A bundle of unlike cables may be hotter at its thinnest.",
			"IEC 60364-5-52 begins at 1.5 mm²; below it the part's own source is all there is.",
			"Terminals at the ends are judged by other rules, and may stand less than the insulation.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the current is above I_max; with the cap failed, where fuses do not surely end whatever is above it before the core takes harm"},
			{Grade: finding.Unknown, When: "the cable has no part yet, or its part states no current for the way it is installed"},
			{Grade: finding.Tight, When: "the current is above 95 % of I_max, or, with the cap failed, above it, and a fuse ends whatever is"},
		},
		Example: study.Example{
			Given: []string{
				"2 × 1.5 mm² with PVC insulation lies in conduit with two other loaded cables, in air of 45 °C; alone at 30 °C it would carry 16.5 A.",
				"1,000 pixels of 10 mA hang on it.",
			},
			Sums: []string{
				"1000 × 10 mA = 10 A",
				"16.5 A × √((70 °C − 45 °C)/(70 °C − 30 °C)) × 0.7 = 9.13 A",
				"10 A > 9.13 A",
				"(70 °C − 45 °C)/(70 °C + 234.5 °C) × (10 A/9.13 A)² = 0.0985",
				"(45 °C + 234.5 °C × 0.0985)/(1 − 0.0985) = 75.5 °C",
			},
			Value: "10 A", Limit: "9.13 A", Grade: finding.Danger,
			Says: "The core settles at 75.5 °C and its insulation stands 70 °C.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if !ok {
			return study.Unknown(fmt.Sprintf("%s has no part yet, so its current cannot be judged.", id), "Choose a cable part.")
		}
		ambient, method, bundle, perPole := c.Env(s.Scheme)
		rating := network.Ampacity(part, method)
		if !rating.Given {
			return study.Unknown(fmt.Sprintf("%s: %s states no current for the method %s.", id, c.Part, method), "Give the part an iz for this method, or choose another part or method.")
		}
		var found []study.Assessment
		for _, cs := range s.Cases() {
			r := s.Result(cs.Name).Cables[id]
			amps := max(r.Plus.RMS, r.Return.RMS)
			a := study.Upper(float64(amps), float64(r.Iz), 0.05, finding.Danger).Fill(cs.Name, "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
			heat := fmt.Sprintf("it reaches %v", r.Celsius)
			if r.Clamped {
				heat = fmt.Sprintf("it would settle above %v, if at all", conductor.Clamp)
			}
			got, may := unit.Apart(amps, r.Iz)
			text := fmt.Sprintf("%s carries %s in %s; %s in %v air%s may carry %s, and %s.", id, got, study.CaseWords(cs), part.Area.Is, ambient, bundleText(bundle), may, heat)
			o := overloaded(s, id, cs, part, amps, a.Grade == finding.Danger)
			if o.words != "" {
				a.Grade = o.end.Grade(a.Grade, false)
			}
			found = append(found, a.On(func() []study.Number { return append(cableNumbers(s, id, cs, part, rating), o.numbers(s)...) }).
				Say(text+o.words, "Use a larger cross-section, cooler air, fewer circuits in the bundle, or split the load over another feed.").
				Worked(func(w *study.Working) {
					poles(w, cs, r)
					installed(w, s, id, part, rating)
					if o.helps {
						w.Bears(o.core, amps, perPole, study.Stated(c.Part, "area", part.Area))
						w.Ended(s, cs, o.end, "I", "I_max", false)
						return
					}
					w.Upper("I", "I_max", 0.05, finding.Danger)
				}))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Relieved(s, id) })
	},
}

// An overload is that of a cable with the cap failed, and how it ends.
type overload struct {
	core  conductor.Core
	end   study.Ending
	helps bool   // fuses end some of it before the cable takes harm
	words string // to go on with after another sentence; none where it is no such overload
}

// overloaded asks how the overload of a cable ends, where it is over what it may carry with the cap failed.
func overloaded(s *study.Study, id string, c network.Case, part *parts.Cable, amps unit.Ampere, over bool) overload {
	air, _, _, perPole := s.Scheme.Cables[id].Env(s.Scheme)
	o := overload{core: conductor.Core{Iz: s.Result(c.Name).Cables[id].Iz, Ambient: air, Limit: part.Insulation.Is}}
	if over && c.Kind == network.CapFailed {
		bears := func(i unit.Ampere) unit.Second { return o.core.Bears(i, part.Area.Is*unit.SquareMetre(perPole)) }
		o.end = s.Ending(c, amps, o.core.Iz, bears, s.Through(c, id)...)
		o.helps, o.words = o.end.Helps(), " "+o.end.Words()
	}
	return o
}

// numbers lists what decides how far an overload ends.
func (o overload) numbers(s *study.Study) []study.Number {
	if !o.helps {
		return nil
	}
	return append(s.EndedBy(o.end), study.Taken("1.45 times its ampacity for an hour", study.ConventionalSource()))
}

// poles takes the currents of a cable's two poles; I is the heavier.
func poles(w *study.Working, c network.Case, r network.Cable) {
	w.Solved("I_p", "rms current of its plus pole", study.Of(r.Plus.RMS), c)
	w.Solved("I_m", "rms current of its return pole", study.Of(r.Return.RMS), c)
	w.Step("Current of the heavier pole", "I = max(I_p, I_m)")
}

// installed works out I_max, what a pole of a cable may carry where it lies; and how warm I makes it, where it has a steady
// temperature.
func installed(w *study.Working, s *study.Study, id string, part *parts.Cable, rating parts.Value[unit.Ampere]) {
	if !mayCarry(w, s, id, part, rating) {
		return
	}
	w.Step("Share of its resistance at T_max that comes of its being warmer than the air", "b = (T_max − T_a)/(T_max + 234.5 °C)")
	w.Step("Heat over that of the rated current", "x = (I/I_max)²")
	if w.Is("b · x < 1") {
		w.Step("How warm the core gets, if its resistance follows the straight line of copper", "T = (T_a + 234.5 °C · b · x)/(1 − b · x)")
	}
}

// mayCarry works out I_max, and reports whether it is anything at all.
func mayCarry(w *study.Working, s *study.Study, id string, part *parts.Cable, rating parts.Value[unit.Ampere]) bool {
	c := s.Scheme.Cables[id]
	ambient, method, bundle, perPole := c.Env(s.Scheme)
	w.Counted("n", "its cores in parallel, each pole", perPole)
	w.Stated("I_30", fmt.Sprintf("what one core may carry, method %s, alone in air of 30 °C", method), study.Stated(c.Part, "iz."+string(method), rating))
	w.Stated("T_max", "what its insulation stands for ever", study.Stated(c.Part, "insulation", part.Insulation))
	w.Lying(s, c.Ambient, "cables", id, "ambient")
	grouping := study.Source{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.17, item 1", Basis: parts.Standard}
	if bundle > tabulated {
		grouping = study.Source{Title: "1/√n of n circuits, beyond IEC 60364-5-52 table B.52.17", Basis: parts.Derived}
	}
	together := "factor for a loaded circuit that lies alone"
	if bundle > 1 {
		together = fmt.Sprintf("factor for %d loaded circuits that lie together", bundle)
	}
	w.Taken("k_g", together, study.Plain(conductor.Grouping(bundle)), grouping)
	if ambient >= part.Insulation.Is || part.Insulation.Is <= 30 {
		w.Taken("I_max", fmt.Sprintf("what each pole may carry in air as warm as its insulation stands: nothing, in air of %v", ambient), study.Of(unit.Ampere(0)), nothingNeeded("no heat flows without a difference in temperature"))
		return false
	}
	w.Step("What each pole may carry where it lies", "I_max = n · I_30 · √((T_max − T_a)/(T_max − 30 °C)) · k_g")
	return true
}

// cableNumbers lists what decides the current of a cable and what it may carry.
func cableNumbers(s *study.Study, id string, cs network.Case, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Number {
	return append(s.Carried(cs, id), izNumbers(s, id, part, rating)...)
}

// izNumbers lists what decides what a cable may carry.
func izNumbers(s *study.Study, id string, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Number {
	c := s.Scheme.Cables[id]
	_, method, bundle, _ := c.Env(s.Scheme)
	numbers := []study.Number{study.Stated(c.Part, "iz."+string(method), rating), study.Stated(c.Part, "insulation", part.Insulation)}
	if c.Ambient == nil {
		numbers = append(numbers, s.Ambient()...)
	}
	if bundle > tabulated {
		numbers = append(numbers, study.Number{Key: fmt.Sprintf("grouping of %d circuits", bundle), Basis: parts.Derived, Source: "1/√n; IEC 60364-5-52 table B.52.17 ends at 20"})
	}
	return numbers
}

// tabulated is the largest bundle in IEC 60364-5-52 table B.52.17.
const tabulated = 20

// cited is the source of a rating with that of the factors on it.
func cited(rating string) string {
	if rating == "" {
		return "the part's own rating; " + factorSource
	}
	return rating + "; " + factorSource
}

func bundleText(n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf(", bundled with %d circuits in all,", n)
}

// loose is the source of what is asked of the ends of a cable.
var loose = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "no live end is left where nothing lands"}

var looseCable = study.Rule{
	Name: "protection/loose-cable", Title: "Loose cable", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What: "Both ends of a cable against leading somewhere: another cable at a junction, and a supply somewhere on its copper.",
		Why:  "A cable that ends where nothing else lands has live ends that lead nowhere and wait for a short. One that hangs on no supply does nothing, and is mostly a slip in the scheme.",
		Formula: []string{
			"N_w ≥ 2 at each junction where the cable ends",
			"N_t ≥ 1",
		},
		Symbols: []study.Symbol{
			{Sign: "N_w", Unit: "1", Means: "cables that land on the junction, this one among them"},
			{Sign: "N_t", Unit: "1", Means: "supplies whose plus or minus copper joins to the cable"},
		},
		Sources: []study.Source{loose, nothingNeeded("Kirchhoff's current law")},
		Limits: []string{
			"It sees what the scheme draws. Spare cores, and ends that are cut back and insulated, are not in it: leave them out of the scheme.",
			"An end at a way, an inlet or a run counts as landed, whatever the run does.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the cable ends at a junction where nothing else lands, or hangs on no supply"},
			{Grade: finding.Unknown, When: "it hangs on no supply, and some part of the scheme is not chosen yet"},
		},
		Example: study.Example{
			Given: []string{"W4 leads from a fused way to the junction X1, and nothing leads on from there."},
			Sums:  []string{"1 < 2"},
			Grade: finding.Fails,
			Says:  "One cable lands on X1, where two must: its end is live and leads nowhere.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.JunctionRef && len(s.Network.Landings(ref.String())) < 2 {
				a := study.Assessment{Grade: finding.Fails, At: ref.String(), Source: loose.String(), Basis: loose.Basis}
				return []study.Assessment{a.On(func() []study.Number { return []study.Number{study.Taken("no live end that leads nowhere", loose)} }).Say(
					fmt.Sprintf("%s ends at %s, where nothing else lands.", id, ref), fmt.Sprintf("Lead another cable on from %s, or remove %s.", ref, id)).
					Worked(func(w *study.Working) { landed(w, s, ref) })}
			}
		}
		if s.Network.Dead(id) {
			if open := s.Open(); len(open) > 0 {
				return study.Unknown(fmt.Sprintf("%s hangs on no supply yet; not chosen: %s.", id, strings.Join(open, ", ")), "Choose these parts.")
			}
			return []study.Assessment{study.Assessment{Grade: finding.Fails, Source: "needs no source"}.Say(
				fmt.Sprintf("%s hangs on no supply: nothing can flow in it.", id), "Connect it to a way or a supply, or remove it.").Worked(func(w *study.Working) {
				w.Counted("N_t", "supplies whose plus or minus copper joins to it", 0)
				w.When(finding.Fails, "N_t < 1")
			})}
		}
		return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(func(w *study.Working) {
			for _, ref := range []scheme.Ref{c.From, c.To} {
				if ref.Kind == scheme.JunctionRef {
					landed(w, s, ref)
				}
			}
			w.Fact(finding.Pass, "Copper joins it to a supply.")
		})}
	},
}

// landed asks whether another cable lands on a junction.
func landed(w *study.Working, s *study.Study, junction scheme.Ref) {
	cables := s.Network.Landings(junction.String())
	w.Counted("N_w", fmt.Sprintf("cables that land on %s: %s", junction, strings.Join(cables, ", ")), len(cables))
	w.When(finding.Fails, "N_w < 2")
}
