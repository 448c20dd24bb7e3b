package protection

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// selvSource asks for the protective measure.
var selvSource = study.Source{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.414", Basis: parts.Standard,
	Says: "extra-low-voltage lighting is protected by SELV or PELV, by SELV where luminaires have no terminal for a protective conductor",
	Read: "an installer magazine on section 715 (Connections, summer 2016)"}

var protectiveMeasures = study.Rule{
	Name: "protection/protective-measures", Title: "Questions to the electrician", Scope: study.Whole, Safety: false,
	Doc: study.Doc{
		What:    "What the standards ask of the mains side and of the surroundings, and no scheme says: it is noted once, as questions to the electrician.",
		Why:     "Extra-low voltage is safe to touch only while nothing joins it to the mains: inside the supply, in a shared box, along a shared conduit. None of that is in a scheme.",
		Formula: []string{"N_s = 0, or asked"},
		Symbols: []study.Symbol{{Sign: "N_s", Unit: "1", Means: "supplies"}},
		Sources: []study.Source{
			selvSource,
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.411.7", Basis: parts.Standard, Says: "FELV is not allowed", Read: "the same magazine"},
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.414", Basis: parts.Standard, Says: "its source is a safety isolating transformer (IEC 61558-2-6) or a converter (IEC 61347-2-2, for LEDs 61347-2-13; one page prints 61347-2-12)", Read: "two pages on DIN VDE 0100-715"},
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.422.106", Basis: parts.Standard, Says: "the transformer is proof against a short circuit, or protected by a device on its primary; converters marked for a limited case temperature are recommended", Read: "a trade-press page on DIN VDE 0100-715:2006-06"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411, its paragraph on listing", Basis: parts.Standard, Says: "the system is listed, or made of listed parts", Read: "an open transcription of chapter 4"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.6(A)", Basis: parts.Standard, Says: "through walls, floors and ceilings by a wiring method of chapter 3, or from a Class 2 source", Read: "the same transcription"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.6(B)", Basis: parts.Standard, Says: "at least 3 m from pools and fountains", Read: "the same transcription"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.7(A) and 411.7(B)", Basis: parts.Standard, Says: "the secondary is not grounded, but for a Class 2 source listed for it, and is insulated from the branch circuit by an isolating transformer", Read: "the same transcription"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.8", Basis: parts.Standard, Says: "the branch circuit has at most 20 A", Read: "the same transcription"},
			segregation,
			apart,
			{Title: "common practice, no source", Basis: parts.Practice, Says: "outdoors surges reach long cables: whether the supply needs a surge protective device, and metalwork within reach bonding, is the electrician's question"},
		},
		Limits: []string{
			"It asks and judges nothing: a note is no pass of these clauses.",
			"Which of them binds depends on the country. The local code goes first.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "the scheme has a supply"}},
		Example: study.Example{
			Given: []string{"A scheme has one supply, a run and a data lead."},
			Sums:  []string{"1 > 0"},
			Grade: finding.Note,
			Says:  "Whether the supply is one for SELV stands on its plate, not in the scheme.",
		},
	},
	Judge: func(s *study.Study, _ string) []study.Assessment {
		supplies := scheme.IDs(s.Scheme.Supplies)
		if len(supplies) == 0 {
			return study.Passes("There is no supply.")
		}
		a := study.Assessment{Grade: finding.Note, Basis: selvSource.Basis, Source: selvSource.String()}
		return []study.Assessment{a.Say(
			questions(s, supplies), "Have the electrician answer, and keep the answers with the scheme.").Worked(func(w *study.Working) {
			w.Counted("N_s", "supplies: "+study.Several(supplies), len(supplies))
			w.When(finding.Note, "N_s > 0")
		})}
	},
}

// questions is what a scheme leaves to ask of the electrician.
func questions(s *study.Study, supplies []string) string {
	text := fmt.Sprintf("A scheme does not say, so ask the electrician: is the output of %s SELV or PELV, not FELV (IEC 60364-7-715)? Do its cables keep apart from mains cables, or are all insulated for the mains (IEC 60364-5-52, 528)?", study.Several(supplies))
	if len(s.Scheme.Data) > 0 {
		text += " Do unscreened data cables keep 200 mm from power cables (EN 50174-2)?"
	}
	if place := s.Scheme.Site.Exposure; place == parts.Outdoors || place == parts.Immersed {
		text += " Does the place need surge protection, and its metalwork bonding? Is it within 3 m of a pool or fountain (NEC 411.6(B))?"
	}
	return text
}

// resetting is the power of a source up to which a device that resets itself may protect.
const resetting = unit.Watt(50)

var resettingSource = study.Source{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.43", Basis: parts.Memory,
	Says: "devices that reset themselves protect only behind transformers of up to 50 VA"}

var selfResetting = study.Rule{
	Name: "protection/self-resetting", Title: "Self-resetting fuses", Scope: study.Supplies, Safety: false,
	Doc: study.Doc{
		What:    "The rated power of a supply, with that of others on the same copper, against 50 W, where a fuse that resets itself protects what it feeds.",
		Why:     "A device that comes back by itself feeds a fault again and again, and nobody learns of it. A polymer fuse comes back each time the power was off: every evening, where a relay switches it.",
		Formula: []string{"Σ P_n ≤ 50 W, or N_p = 0"},
		Symbols: []study.Symbol{
			{Sign: "P_n", Unit: "W", Means: "rated power of the supply, and of each that works in parallel with it"},
			{Sign: "N_p", Unit: "1", Means: "fuses of ways and cables that it feeds and that reset themselves"},
		},
		Sources: []study.Source{resettingSource},
		Limits: []string{
			"A polymer fuse stays open while the fault and the power last. Whether the clause means such a device was not read; the careful reading is taken.",
			"Fuses in the grounds of data outputs protect no circuit of the lighting, and are left out.",
			"A supply that pulses at its limit resets itself too. Its own standard judges that.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "such a fuse hangs on more than 50 W"}},
		Example: study.Example{
			Given: []string{"A polymer fuse of 3 A guards a lead from a supply of 12 V and 150 W."},
			Sums:  []string{"150 W > 50 W"},
			Value: "150 W", Limit: "50 W", Grade: finding.Note,
			Says: "A blade fuse, which somebody has to replace, is what the clause asks there.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		resets := resettables(s, id)
		if len(resets) == 0 {
			return study.Passes(fmt.Sprintf("No fuse that %s feeds resets itself.", id))
		}
		watts := unit.Watt(0)
		on := s.Network.SuppliesOn(id)
		for _, t := range on {
			part, _ := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part)
			watts += part.Watts.Is
		}
		a := study.Upper(float64(watts), float64(resetting), 0, finding.Note).Fill("", "W", resettingSource.Basis, resettingSource.String())
		return []study.Assessment{a.On(func() []study.Number {
			numbers := []study.Number{study.Taken("50 W", resettingSource)}
			for _, t := range on {
				numbers = append(numbers, ratedPower(s, t))
			}
			return numbers
		}).Say(fmt.Sprintf("%s and what works in parallel with it give %v; %s resets itself, which IEC 60364-7-715 (715.43) allows up to 50 VA.", id, watts, study.Several(resets)),
			"Use fuses that somebody has to replace.").Fixed(func() []finding.Edit { return remedy.Links(s, resets) }).Worked(func(w *study.Working) {
			var signs []string
			for i, t := range on {
				sign := fmt.Sprintf("P_%d", i+1)
				w.Stated(sign, "rated power of "+t, ratedPower(s, t))
				signs = append(signs, sign)
			}
			w.Step("What they give", "P_n = "+strings.Join(signs, " + "))
			w.Taken("P_p", "power up to which such a fuse may protect", study.Of(resetting), resettingSource)
			w.Upper("P_n", "P_p", 0, finding.Note)
		})}
	},
}

// ratedPower is the rated power of a supply as a number.
func ratedPower(s *study.Study, supply string) study.Number {
	name := s.Scheme.Supplies[supply].Part
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	return study.Stated(name, "watts", part.Watts)
}

// resettables lists the fuses that reset themselves in the ways and cables that a supply feeds.
func resettables(s *study.Study, supply string) []string {
	var list []string
	note := func(fuse, part, on string) {
		p, ok := parts.Get[parts.Fuse](s.Scheme.Library, part)
		if ok && p.Tripped.Given && slices.Contains(s.Network.SuppliesOn(on), supply) {
			list = append(list, fuse)
		}
	}
	for _, way := range s.Network.Ways() {
		note(way+".fuse", s.Scheme.Fuses[way], way)
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		note(id+".fuse", s.Scheme.Cables[id].Fuse, id)
	}
	return list
}
