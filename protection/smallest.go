package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// Least cross-sections of copper.
const (
	leastCore    = unit.SquareMetre(1.5e-6) // of any core of extra-low-voltage lighting
	leastShort   = unit.SquareMetre(1.0e-6) // of a flexible cable no longer than shortCable
	leastSpecial = unit.SquareMetre(0.75e-6)
	leastSignal  = unit.SquareMetre(0.1e-6)
	shortCable   = unit.Metre(3)
)

// The sources of the least cross-sections.
var (
	leastSource = study.Source{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.524", Basis: parts.Standard,
		Says: "cores of extra-low-voltage lighting have 1.5 mm² of copper, in general; the number was read in the 2006 German edition, and that it stayed is from memory",
		Read: "a trade-press page on DIN VDE 0100-715:2006-06"}
	shortSource = study.Source{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.524", Basis: parts.Standard,
		Says: "1 mm² for a flexible cable not longer than 3 m; read and remembered in the same way",
		Read: "the same page"}
	specialSource = study.Source{Title: "IEC 60364-5-52", Clause: "table 52.2", Basis: parts.Standard,
		Says: "0.75 mm² for flexible cables of extra-low-voltage circuits for special applications, 1.5 mm² for fixed lighting circuits",
		Read: "an open transcription of ABNT NBR 5410:2004 table 47, which has the same numbers"}
	signalSource = study.Source{Title: "IEC 60364-5-52", Clause: "table 52.2", Basis: parts.Standard,
		Says: "0.5 mm² for signalling and control circuits, 0.1 mm² where they are for electronic equipment, which pixels are",
		Read: "the same transcription"}
)

var smallestConductor = study.Rule{
	Name: "protection/smallest-conductor", Title: "Smallest conductor", Scope: study.Cables, Safety: false,
	Doc: study.Doc{
		What:    "The cross-section of one core of a cable against the least that the standard for extra-low-voltage lighting asks: 1.5 mm², or 1 mm² for a flexible cable of 3 m or less.",
		Why:     "Thin cores break: where they are pulled, bent or clamped. A core that hangs on its last strands gets hot at its rated current, and no fuse sees it.",
		Formula: []string{"A ≥ A_lo"},
		Symbols: []study.Symbol{
			{Sign: "A", Unit: "mm²", Means: "copper of one core; cores in parallel are as thin as each is"},
			{Sign: "A_lo", Unit: "mm²", Means: "1 mm² for a flexible cable (class 5 or 6) of 3 m or less, 1.5 mm² for any other"},
		},
		Sources: []study.Source{
			leastSource, shortSource, specialSource,
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.524", Basis: parts.Memory, Says: "4 mm² for a cable or conductor that hangs and carries weight, and for a composite cable with a braided sheath: a scheme does not say what hangs"},
			{Title: "IEC 60598-1", Clause: "5.3.1", Basis: parts.Standard, Says: "0.4 mm² inside a luminaire where a fuse or converter limits the current to 2 A: not used, for the cables of a scheme lie outside", Read: "a forum quotation of 5.3.1.2"},
		},
		Limits: []string{
			"It is about strength, not about current: what a core may carry is judged by protection/cable-current.",
			"A cable that hangs free and carries a luminaire needs 4 mm² (from memory). A scheme does not say what hangs: method free is free air, not weight.",
			"The tails of a tape, and whatever else its maker fitted, are in no scheme.",
			"Where its conductor class is not known a cable counts as not flexible.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "a core has less than 0.75 mm², the least that any table read allows for such a circuit"},
			{Grade: finding.Tight, When: "a core has less than 1.5 mm², and is not of a flexible cable of 3 m or less with 1 mm²"},
		},
		Example: study.Example{
			Given: []string{"A run hangs on 4 m of flexible cable of 2 × 1 mm²."},
			Sums:  []string{"4 m > 3 m", "1 mm² < 1.5 mm²", "1 mm² > 0.75 mm²"},
			Value: "1 mm²", Limit: "1.5 mm²", Grade: finding.Tight,
			Says: "A metre shorter, or the next size, and it is as the standard asks.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
		if !ok || c.Length == nil {
			return nil // protection/not-chosen says so
		}
		flexible := part.Class >= 5
		limit, source := leastCore, leastSource
		if flexible && *c.Length <= shortCable {
			limit, source = leastShort, shortSource
		}
		under, special := finding.Tight, ""
		if part.Area.Is < leastSpecial*rounded {
			under, special = finding.Fails, " No table read allows less than 0.75 mm² (IEC 60364-5-52, table 52.2)."
		}
		a := study.Lower(float64(part.Area.Is), float64(limit*rounded), 0, under).Fill("", "m2", source.Basis, source.String())
		*a.Limit = float64(limit)
		a = a.On(func() []study.Number {
			return []study.Number{study.Stated(c.Part, "area", part.Area), study.Taken(fmt.Sprintf("%v at least", limit), source)}
		}).Say(fmt.Sprintf("Each core of %s has %v; IEC 60364-7-715 (715.524) asks %v of %s.%s", id, part.Area.Is, limit, kindOf(flexible, *c.Length), special),
			"Use a thicker cable.").Fixed(func() []finding.Edit { return remedy.OfArea(s, id, limit) })
		return []study.Assessment{a.Worked(func(w *study.Working) {
			w.Stated("A", "copper of one core", study.Stated(c.Part, "area", part.Area))
			w.Taken("A_lo", "least for "+kindOf(flexible, *c.Length), study.Of(limit), source)
			w.Taken("A_s", "least of any table for such a circuit", study.Of(leastSpecial), specialSource)
			w.Compare("A", "A_lo")
			w.When(finding.Fails, "A < A_s")
			w.When(finding.Tight, "A < A_lo")
		})}
	},
}

// rounded leaves room for the last digit of an area that was read from text.
const rounded = 1 - 1e-9

// kindOf is what kind of cable it is for which a cross-section is asked.
func kindOf(flexible bool, length unit.Metre) string {
	switch {
	case flexible && length <= shortCable:
		return "a flexible cable of 3 m or less"
	case flexible:
		return "a flexible cable of more than 3 m"
	}
	return "a cable that is not flexible"
}

var smallestCore = study.Rule{
	Name: "protection/smallest-core", Title: "Smallest core of a data lead", Scope: study.Leads, Safety: false,
	Doc: study.Doc{
		What:    "The cross-section of one core of a data lead against 0.1 mm², the least for signals of electronic equipment.",
		Why:     "Thinner cores do not survive being clamped, and the ground core of a data lead is real copper: currents of the return find it.",
		Formula: []string{"A ≥ 0.1 mm²"},
		Symbols: []study.Symbol{{Sign: "A", Unit: "mm²", Means: "copper of one core"}},
		Sources: []study.Source{signalSource},
		Limits: []string{
			"It is about strength. What the ground core carries, and may carry, is judged by board/port-ground.",
			"Cores that carry the supply are no data lead any more: protection/data-power calls them a danger.",
		},
		Grades: []study.Graded{{Grade: finding.Fails, When: "a core has less"}},
		Example: study.Example{
			Given: []string{"A data lead has four cores of 0.08 mm²."},
			Sums:  []string{"0.08 mm² < 0.1 mm²"},
			Value: "0.08 mm²", Limit: "0.1 mm²", Grade: finding.Fails,
			Says: "Data cable of the usual sizes, from 0.2 mm² on, is well above.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Data[id].Part
		part, ok := parts.Get[parts.Cable](s.Scheme.Library, name)
		if !ok {
			return nil // protection/not-chosen says so
		}
		a := study.Lower(float64(part.Area.Is), float64(leastSignal*rounded), 0, finding.Fails).Fill("", "m2", signalSource.Basis, signalSource.String())
		*a.Limit = float64(leastSignal)
		return []study.Assessment{a.On(func() []study.Number {
			return []study.Number{study.Stated(name, "area", part.Area), study.Taken("0.1 mm² at least", signalSource)}
		}).Say(fmt.Sprintf("Each core of %s has %v; IEC 60364-5-52 (table 52.2) asks 0.1 mm² for signals of electronic equipment.", id, part.Area.Is),
			"Use a lead with thicker cores.").Fixed(func() []finding.Edit { return remedy.LeadOfArea(s, id, leastSignal) }).Worked(func(w *study.Working) {
			w.Stated("A", "copper of one core", study.Stated(name, "area", part.Area))
			w.Taken("A_lo", "least for signals of electronic equipment", study.Of(leastSignal), signalSource)
			w.Lower("A", "A_lo", 0, finding.Fails)
		})}
	},
}
