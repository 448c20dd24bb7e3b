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

var junctionCurrent = study.Rule{
	Name: "board/junction-current", Title: "Junction current", Scope: study.Junctions, Safety: true,
	Doc: study.Doc{
		What:    "The largest heating (rms) current that one core brings to a contact of a junction, in every state, its peak, in the dark and with the cap failed, against the junction's rating.",
		Why:     "A splice is where copper is pressed, not melted, together, often in a box without air. Overloaded it gets warmer than the cable, loosens, and gets warmer still.",
		Formula: []string{"I_k ≤ I_r"},
		Symbols: []study.Symbol{
			{Sign: "I_k", Unit: "A", Means: "largest rms current of one core at the junction, over the pulse-width cycle; cores of a pole in parallel share theirs"},
			{Sign: "I_r", Unit: "A", Means: "rating of the junction"},
		},
		Sources: append(contactSources("the sheet of the splice or terminal"),
			study.Source{Title: "IEC 60947-7-1", Clause: "test current of the rated cross-section", Basis: parts.Standard, Says: "17.5 A for 1.5 mm², 24 A for 2.5 mm², 32 A for 4 mm², 41 A for 6 mm²", Read: "a maker's catalogue page on quality tests"}),
		Limits: []string{
			"A rating holds for the largest core it is made for, stripped and pushed home as the sheet asks.",
			"A joint gone bad carries the same current and gets hot all the same: no fuse and no rule sees it. Measure its drop.",
			"How warm it gets is not computed. How an overload ends is asked with the cap failed alone; in a state it should not be there at all.",
		},
		Grades: contactGrades("the junction has no part yet"),
		Example: study.Example{
			Given: []string{"A lever splice rated for 20 A joins one cable to two runs of 1,250 pixels of 10 mA each."},
			Sums:  []string{"2 × 1250 × 10 mA = 25 A", "1.2 × 20 A = 24 A", "25 A > 24 A"},
			Value: "25 A", Limit: "20 A", Grade: finding.Danger,
			Says: "The two leaving cores carry 12.5 A each; the arriving one carries both.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Junctions[id].Part
		part, ok := parts.Get[parts.Junction](s.Scheme.Library, name)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a junction part.")
		}
		splice := contact{"A contact of " + id, name, "amps", part.Amps}
		var found []study.Assessment
		for _, c := range s.Cases() {
			found = append(found, splice.judge(s, arriving(s, c, id), c, func() []study.Number { return s.CarriedByWay(c, id) }, "Use a stronger junction, or split the cable.", fed(s, id)))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Junction(s, id) })
	},
}

// arriving is what one core of each cable brings to a junction; cores in parallel land on a contact each.
func arriving(s *study.Study, c network.Case, id string) []flow {
	landed := s.Network.Landings(id)
	if len(landed) == 0 {
		return []flow{one("rms current of a core: none lands on it", 0)}
	}
	flows := []flow{}
	for _, w := range landed {
		at := s.Result(c.Name).Cables[w]
		cores := unit.Ampere(s.Scheme.Cables[w].PerPole())
		flows = append(flows, one("rms current that one core of "+w+" brings", max(at.Plus.RMS, at.Return.RMS)/cores))
	}
	return flows
}

var junctionFit = study.Rule{
	Name: "board/junction-fit", Title: "Junction fit", Scope: study.Junctions, Safety: true, Reads: study.AsCount,
	Doc: study.Doc{
		What: "The cores that land on a junction, in the fuller of its two poles, against its ways in number, and against the largest and smallest cross-section it takes.",
		Why:  "A core that is squeezed in, shares a clamp or is too thin to be held makes a bad joint, and a bad joint gets hot without any fuse seeing it.",
		Formula: []string{
			"N_k ≤ N_s",
			"A_lo ≤ A ≤ A_hi",
		},
		Symbols: []study.Symbol{
			{Sign: "N_k", Unit: "1", Means: "cores of the fuller pole that land on the junction"},
			{Sign: "N_s", Unit: "1", Means: "its ways, each for one core"},
			{Sign: "A", Unit: "mm²", Means: "cross-section of each core"},
			{Sign: "A_lo", Unit: "mm²", Means: "smallest that it takes (area_min), where its part says so"},
			{Sign: "A_hi", Unit: "mm²", Means: "largest that it takes (area_max)"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the splice or terminal", Basis: parts.Datasheet, Says: "ways, and the cores it takes; sheets give solid, stranded and flexible cores figures of their own, and the part states one"},
		},
		Limits: []string{
			"Nominal cross-sections only. Ferrules, tinned ends and the shape of the strands are not known.",
			"Whether it may hold cores of unlike size together, sheets say and parts do not.",
			"The smallest cross-section is judged only where the part states it.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "more cores land than it has ways, or one is thicker or thinner than it takes"},
			{Grade: finding.Unknown, When: "it has no part yet, or its part does not say the largest core it takes"},
		},
		Example: study.Example{
			Given: []string{"One cable arrives at a splice of 3 ways and three lead on, each with one core a pole."},
			Sums:  []string{"1 + 3 = 4", "4 > 3"},
			Value: "4", Limit: "3", Grade: finding.Fails,
			Says: "Two cores would share a clamp that holds one.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[id].Part)
		if !ok {
			return study.Unknown(id+" has no part yet.", "Choose a junction part.")
		}
		return study.FixedAll(append([]study.Assessment{crowded(s, id, part)}, sized(s, id, part)...), func() []finding.Edit { return remedy.Junction(s, id) })
	},
}

// crowded compares the cores that land on a junction with its ways.
func crowded(s *study.Study, id string, part *parts.Junction) study.Assessment {
	plus, back := 0, 0
	for _, w := range s.Network.Landings(id) {
		c := s.Scheme.Cables[w]
		cores := c.PerPole()
		if c.Pole.Has(scheme.Plus) {
			plus += cores
		}
		if c.Pole.Has(scheme.Return) {
			back += cores
		}
	}
	cores := max(plus, back)
	a := study.Upper(float64(cores), float64(part.Ways), 0, finding.Fails).Fill("", "1", part.Basis, part.Source)
	ways := study.Said(s.Scheme.Junctions[id].Part, "ways", part.Origin).Being(study.Plain(part.Ways))
	a = a.On(func() []study.Number { return []study.Number{ways} }).
		Say(fmt.Sprintf("%d cores of one pole land on %s; it has %d ways.", cores, id, part.Ways), "Use a junction with more ways.")
	return a.Worked(func(w *study.Working) {
		w.Counted("N_p", "plus cores that land on it", plus)
		w.Counted("N_m", "return cores that land on it", back)
		w.Stated("N_s", "its ways, each for one core", ways)
		w.Step("Cores of the fuller pole", "N_k = max(N_p, N_m)")
		w.Upper("N_k", "N_s", 0, finding.Fails)
	})
}

// sized compares the cross-section of every landing cable with what a junction takes.
func sized(s *study.Study, id string, part *parts.Junction) []study.Assessment {
	if !part.AreaMax.Given {
		return study.Unknown(fmt.Sprintf("%s: %s does not say the largest core it takes.", id, s.Scheme.Junctions[id].Part), "Give the junction an area_max from its sheet.")
	}
	var found []study.Assessment
	for _, w := range s.Network.Landings(id) {
		cable, ok := parts.Get[parts.Cable](s.Scheme.Library, s.Scheme.Cables[w].Part)
		if !ok {
			continue
		}
		numbers := func(key string, v parts.Value[unit.SquareMetre]) func() []study.Number {
			return func() []study.Number {
				return []study.Number{study.Stated(s.Scheme.Junctions[id].Part, key, v), study.Stated(s.Scheme.Cables[w].Part, "area", cable.Area)}
			}
		}
		a := study.Upper(float64(cable.Area.Is), float64(part.AreaMax.Is), 0, finding.Fails).Fill("", "m2", parts.Weaker(part.AreaMax.Basis, cable.Area.Basis), part.AreaMax.Source)
		got, most := unit.Apart(cable.Area.Is, part.AreaMax.Is)
		a = a.On(numbers("area_max", part.AreaMax)).Say(fmt.Sprintf("%s has cores of %s; %s takes up to %s.", w, got, id, most), "Use a junction for thicker cores, or a thinner cable where its current allows it.")
		found = append(found, a.Worked(noThicker(1, numbers("area_max", part.AreaMax))))
		if part.AreaMin.Given {
			a := study.Lower(float64(cable.Area.Is), float64(part.AreaMin.Is), 0, finding.Fails).Fill("", "m2", parts.Weaker(part.AreaMin.Basis, cable.Area.Basis), part.AreaMin.Source)
			a = a.On(numbers("area_min", part.AreaMin)).Say(fmt.Sprintf("%s has cores of %v; %s takes %v and more.", w, cable.Area.Is, id, part.AreaMin.Is), "Use a junction for thinner cores, or a thicker cable.")
			found = append(found, a.Worked(noThinner(numbers("area_min", part.AreaMin))))
		}
	}
	return found
}
