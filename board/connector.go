package board

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// An end is a connector of a cable: at its from or to, or the holder of its inline fuse.
type end struct {
	name   string // in a sentence
	part   string
	holder bool // of its inline fuse
}

// ends lists the connectors of a cable.
func ends(s *study.Study, id string) []end {
	c := s.Scheme.Cables[id]
	var list []end
	if c.Ends.From != "" {
		list = append(list, end{"The connector of " + id + " at " + c.From.String(), c.Ends.From, false})
	}
	if c.Ends.To != "" {
		list = append(list, end{"The connector of " + id + " at " + c.To.String(), c.Ends.To, false})
	}
	if fuse, ok := parts.Get[parts.Fuse](s.Scheme.Library, c.Fuse); ok && fuse.Seat != "" {
		list = append(list, end{"The fuse holder of " + id, fuse.Seat, true})
	}
	return list
}

var connectorCurrent = study.Rule{
	Name: "board/connector-current", Title: "Connector current", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What:    "The heating (rms) current of the heavier pole of a cable, in every state, its peak, in the dark and with the cap failed, against the rating of the connectors at its ends and of the holder of its inline fuse.",
		Why:     "A plug or a small terminal is mostly the weakest place of a circuit: it may carry half of what its cable may. Overloaded, its springs soften, it gets warmer still, and no fuse sees that.",
		Formula: []string{"max(I_p, I_m) ≤ I_r"},
		Symbols: []study.Symbol{
			{Sign: "I_p", Unit: "A", Means: "rms current of the plus pole over the pulse-width cycle"},
			{Sign: "I_m", Unit: "A", Means: "rms current of the return pole"},
			{Sign: "I_r", Unit: "A", Means: "rating of one contact of the connector, or of the holder"},
		},
		Sources: append(contactSources("the sheet of the connector"),
			study.Source{Title: "IEC 60512-5-2", Basis: parts.Standard, Says: "usable current is 0.8 of the measured base curve, and falls with the air around it: a maker's rating holds where the maker says", Read: "a connector maker's page on derating curves"}),
		Limits: []string{
			"One contact is taken for each pole. Where a pole goes through several contacts in parallel, give the part their sum, and halve what makers say of two.",
			"Ratings fall with the air around the contact and with how many contacts are loaded: parts state one figure, mostly for 20 to 40 °C.",
			"Terminals of supplies, boards and tapes count only where the scheme names them as connectors.",
			"How warm it gets is not computed. How an overload ends is asked with the cap failed alone; in a state it should not be there at all.",
		},
		Grades: contactGrades("the connector is not chosen yet"),
		Example: study.Example{
			Given: []string{"A lead with a pluggable terminal block rated for 12 A feeds 1,250 pixels of 10 mA."},
			Sums:  []string{"1250 × 10 mA = 12.5 A", "1.2 × 12 A = 14.4 A", "12.5 A > 12 A", "12.5 A < 14.4 A"},
			Value: "12.5 A", Limit: "12 A", Grade: finding.Fails,
			Says: "The cable, 2.5 mm², would carry 20 A; its plug is what limits it.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, e := range ends(s, id) {
			part, ok := parts.Get[parts.Connector](s.Scheme.Library, e.part)
			if !ok {
				found = append(found, study.Unknown(e.name+" is not chosen yet.", "Choose a connector part.")...)
				continue
			}
			rated := contact{e.name, e.part, "amps", part.Amps}
			for _, c := range s.Cases() {
				r := s.Result(c.Name).Cables[id]
				poles := []flow{one("rms current of the plus pole", r.Plus.RMS), one("rms current of the return pole", r.Return.RMS)}
				found = append(found, rated.judge(s, poles, c, func() []study.Number { return s.Carried(c, id) }, "Use a connector with a higher rating, or split the load over another feed.", func() []network.Behind { return s.Through(c, id) }))
			}
		}
		if found == nil {
			return study.Passes(id + " names no connector at its ends, and has no fuse in a holder.")
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Connectors(s, id) })
	},
}

var connectorFit = study.Rule{
	Name: "board/connector-fit", Title: "Connector fit", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What: "The cross-section of a cable's cores, those of one pole together, against the largest and smallest that the connectors at its ends take.",
		Why:  "A core that is squeezed in loses strands, one that is too thin is not held. Both make a bad joint, and a bad joint gets hot without any fuse seeing it.",
		Formula: []string{
			"A_lo ≤ A",
			"n · A ≤ A_hi",
		},
		Symbols: []study.Symbol{
			{Sign: "A", Unit: "mm²", Means: "cross-section of one core"},
			{Sign: "n", Unit: "1", Means: "cores of the pole in parallel (cores_per_pole)"},
			{Sign: "A_lo", Unit: "mm²", Means: "smallest core that the connector takes (area_min), where its part says so"},
			{Sign: "A_hi", Unit: "mm²", Means: "largest that it takes (area_max)"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the connector", Basis: parts.Datasheet, Says: "the cores it takes; sheets give solid, stranded and flexible cores figures of their own, and the part states one"},
		},
		Limits: []string{
			"Nominal cross-sections only. Ferrules, tinned ends, crimps and the tool that makes them are not known.",
			"Cores of one pole in parallel are taken to share one contact.",
			"The smallest cross-section is judged only where the part states it. Fuse holders come with leads of their own and are left out.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "a core is thicker or thinner than the connector takes"},
			{Grade: finding.Unknown, When: "the connector, or the cable, is not chosen yet, or its part does not say the largest core it takes"},
		},
		Example: study.Example{
			Given: []string{"2 × 4 mm² ends in a pluggable block that takes up to 2.5 mm²."},
			Sums:  []string{"1 × 4 mm² = 4 mm²", "4 mm² > 2.5 mm²"},
			Value: "4 mm²", Limit: "2.5 mm²", Grade: finding.Fails,
			Says: "Cut strands off and it fits, and carries as much less.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		c := s.Scheme.Cables[id]
		var found []study.Assessment
		for _, e := range []struct {
			at   scheme.Ref
			part string
		}{{c.From, c.Ends.From}, {c.To, c.Ends.To}} {
			if e.part != "" {
				found = append(found, fitted(s, id, e.at, e.part)...)
			}
		}
		if found == nil {
			return study.Passes(id + " names no connector at its ends.")
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Connectors(s, id) })
	},
}

// fitted compares the cores of a cable with what a connector at one of its ends takes.
func fitted(s *study.Study, id string, at scheme.Ref, name string) []study.Assessment {
	c := s.Scheme.Cables[id]
	what := fmt.Sprintf("the connector of %s at %s", id, at)
	part, chosen := parts.Get[parts.Connector](s.Scheme.Library, name)
	cable, known := parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	switch {
	case !chosen || !known:
		return study.Unknown(fmt.Sprintf("Whether %s fits is not known: one of the two is not chosen yet.", what), "Choose these parts.")
	case !part.AreaMax.Given:
		return study.Unknown(fmt.Sprintf("%s does not say the largest core it takes; it is %s.", name, what), "Give the connector an area_max from its sheet.")
	}
	numbers := func(key string, v parts.Value[unit.SquareMetre]) func() []study.Number {
		return func() []study.Number {
			return []study.Number{study.Stated(name, key, v), study.Stated(c.Part, "area", cable.Area)}
		}
	}
	perPole := c.PerPole()
	together := cable.Area.Is * unit.SquareMetre(perPole)
	a := study.Upper(float64(together), float64(part.AreaMax.Is), 0, finding.Fails).Fill("", "m2", parts.Weaker(part.AreaMax.Basis, cable.Area.Basis), part.AreaMax.Source)
	got, most := unit.Apart(together, part.AreaMax.Is)
	a = a.On(numbers("area_max", part.AreaMax)).Say(fmt.Sprintf("%s brings %s a pole; %s takes up to %s.", id, got, what, most), "Use a connector for thicker cores, or a thinner cable where its current allows it.")
	found := []study.Assessment{a.Worked(noThicker(perPole, numbers("area_max", part.AreaMax)))}
	if part.AreaMin.Given {
		a := study.Lower(float64(cable.Area.Is), float64(part.AreaMin.Is), 0, finding.Fails).Fill("", "m2", parts.Weaker(part.AreaMin.Basis, cable.Area.Basis), part.AreaMin.Source)
		a = a.On(numbers("area_min", part.AreaMin)).Say(fmt.Sprintf("%s has cores of %v; %s takes %v and more.", id, cable.Area.Is, what, part.AreaMin.Is), "Use a connector for thinner cores, or a thicker cable.")
		found = append(found, a.Worked(noThinner(numbers("area_min", part.AreaMin))))
	}
	return found
}
