package protection

import (
	"fmt"

	"farend/finding"
	"farend/fuse"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// promptly is by when a short at the end of a lead is to have ended.
const promptly = study.Patience

var promptSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a short has to end within a minute, though all copper bears it longer: the place of it may not"}

var farShort = study.Rule{
	Name: "protection/far-short", Title: "Short at the far end", Scope: study.Fuses, Safety: true,
	Doc: study.Doc{
		What:    "The current of a fuse of a way or cable in a bolted short at the far end of what it feeds, where that is least, against the least from which it surely opens; and by when the short has ended.",
		Why:     "A long thin lead at low voltage lets through less than its fuse needs. The fuse then holds for ever, and the short goes on until somebody smells it.",
		Formula: []string{"I_k ≥ I_o = m · k_c · I_n", "t_e ≤ t_s"},
		Symbols: []study.Symbol{
			{Sign: "I_k", Unit: "A", Means: "current of the fuse, with warm copper, the lowest set point, and supplies at the lower end of their limit; while one is on that pulses"},
			{Sign: "I_o", Unit: "A", Means: "the least current from which the fuse surely opens"},
			{Sign: "m", Unit: "1", Means: "that as a multiple of its rating: 1.35 of blades, 2.1 of IEC 60127, 2 of resettable ones"},
			{Sign: "k_c", Unit: "1", Means: "what the coldest air leaves of the rating, or adds to it"},
			{Sign: "I_n", Unit: "A", Means: "rating of the fuse"},
			{Sign: "t_e", Unit: "s", Means: "by when nothing flows through the short any more, by whatever it is fed"},
			{Sign: "t_s", Unit: "s", Means: "by when it is to have ended: 60 s"},
		},
		Sources: []study.Source{promptSource,
			{Title: "ISO 8820-3, IEC 60127-2", Basis: parts.Standard, Says: "when fuses open: between gates only the time of the lower one is guaranteed"}},
		Limits: []string{
			"A feed without a fuse has no end here: nothing opens for a short in it.",
			"The ends are where cables land: behind tape, and over a resistance, less flows. What then gets hot is judged by protection/short-heat; how much power the place itself may have for ever by protection/silent-power.",
			"In the dark and with the cap failed. Copper is as warm as the current makes it, at most 160 °C.",
			"What a supply does at its limit counts as the part says. Where one switches itself off and on the fuse may never open: the short then rests on the supply.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the current is below what surely opens the fuse, and would be so without the limit of a supply: it is the lead that keeps it there"},
			{Grade: finding.Tight, When: "the fuse surely opens, but the short goes on, or may for more than 60 s: other feeds bring current to it along tape, or the fuse is slow"},
			{Grade: finding.Note, When: "the short rests on a supply alone: its limit keeps the current below what surely opens the fuse, or it switches itself off and on before, and without that all would end within 60 s"},
		},
		Example: study.Example{
			Given: []string{"A way with a blade fuse of 10 A feeds a run over 30 m of 2 × 1 mm², 19.5 mΩ/m. The 5 V supply, the lead to the board and the fuses have 15.6 mΩ together. In air of 20 °C it has all of its rating."},
			Sums: []string{
				"5 V/(2 × 30 m × 19.5 mΩ/m + 15.6 mΩ) = 4.22 A",
				"1.35 × 1 × 10 A = 13.5 A",
				"4.22 A < 13.5 A",
			},
			Value: "4.22 A", Limit: "13.5 A", Grade: finding.Fails,
			Says: "A short at the run draws 4.2 A for ever, less than half of what the fuse is made to carry.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		t := s.Struck()
		g, known := s.Guard(id + ".fuse")
		if t == nil || !known {
			return nil // protection/faults says so; the ground of a port
		}
		far, ok := t.Far(id)
		least, opens := s.Fusing(g)
		switch {
		case g.Fuse == nil || !opens:
			return nil // fuse-load and coordination say so
		case !ok:
			return study.Passes("Nothing ends behind " + g.Name + " before the next fuse.")
		}
		return []study.Assessment{farEnd(s, g, far, float64(least))}
	},
}

// farEnd is the assessment of a far-end short.
func farEnd(s *study.Study, g study.Guard, far study.FarShort, least float64) study.Assessment {
	amps := float64(far.Amps)
	under, free := finding.Fails, float64(far.Free)
	if free >= least {
		under = finding.Note
	}
	a := study.Lower(amps, least, 0, under).Fill(far.Strike.Case.Name, "A", parts.Weaker(g.Fuse.Rating.Basis, parts.Standard), g.Fuse.Rating.Source)
	a.At = far.Place
	ends := max(far.Ends, far.Opens) // where the supply pulses, as soon as the fuse would open if it went on
	pulses, held := len(far.Pulses) > 0 && ends <= promptly, a.Grade == finding.Note
	switch {
	case a.Grade == finding.Pass && ends > promptly:
		a.Grade = finding.Tight
	case a.Grade == finding.Pass && pulses:
		a.Grade = finding.Note
	}
	stops := ""
	if len(far.Stops) > 0 {
		stops = fmt.Sprintf(" %s may shut down before; the short then rests on that.", study.Several(far.Stops))
	}
	what := fmt.Sprintf("A bolted short at %s draws %v through %s, %s;", far.Place, far.Amps, g.Name, study.StruckWords(far.Strike.Case))
	opens := fmt.Sprintf("it surely opens from %v on", unit.Ampere(least))
	switch {
	case a.Grade == finding.Fails && free > 0:
		a = a.Say(fmt.Sprintf("%s %s. Without the limit of %s it would be %v, which is too little, too. It may go on for ever.%s", what, opens, study.Several(far.Strike.Held), far.Free, stops), "Use a smaller fuse if it carries the load, a shorter or thicker lead, or a fuse nearer to the end.")
	case a.Grade == finding.Fails:
		a = a.Say(fmt.Sprintf("%s %s. It may go on for ever.%s", what, opens, stops), "Use a smaller fuse if it carries the load, a shorter or thicker lead, or a fuse nearer to the end.")
	case held:
		a = a.Say(fmt.Sprintf("%s %s. Only the limit of %s keeps it below that: the fuse is no help there, and what protects is the supply.%s", what, opens, study.Several(far.Strike.Held), stops), "Use a smaller fuse if it carries the load, or a supply that gives more into a short.")
	case a.Grade == finding.Note:
		a = a.Say(fmt.Sprintf("%s %s. But %s may switch itself off and on before, so that the short goes on and rests on that; if it went on at its limit, all would have ended within %v.", what, opens, study.Several(far.Pulses), ends), "Say how long the supply pulses (pulse_on, pulse_off), or use one that holds its current.")
	case a.Grade == finding.Tight && ends == fuse.Never:
		a = a.Say(fmt.Sprintf("%s the fuse opens, but the short may go on, fed from elsewhere.%s", what, stops), "Cut the positive of the run between its feeds, or use smaller fuses in the others.")
	case a.Grade == finding.Tight && len(far.Pulses) > 0:
		a = a.Say(fmt.Sprintf("%s if %s goes on at its limit it may take %v until it has ended. But that may switch itself off and on, and the short then goes on for longer, or for ever.", what, study.Several(far.Pulses), ends), "Use a smaller fuse if it carries the load, or a shorter or thicker lead.")
	case a.Grade == finding.Tight:
		a = a.Say(fmt.Sprintf("%s it may take %v until it has ended.%s", what, ends, stops), "Use a smaller fuse if it carries the load, or a shorter or thicker lead.")
	}
	if a.Grade > finding.Note {
		a = a.Fixed(func() []finding.Edit { return remedy.FarShort(s, g, far, unit.Ampere(least)) })
	}
	return a.On(func() []study.Number { return s.FusingOf(g) }).Worked(func(w *study.Working) {
		w.Solved("I_k", fmt.Sprintf("current of %s in a bolted short at %s, %s", g.Name, far.Place, study.StruckWords(far.Strike.Case)), study.Of(far.Amps), far.Strike.Case)
		w.Fusing(s, "I_o", "I_n", "1", g)
		w.Lower("I_k", "I_o", 0, under)
		if free > 0 {
			w.Taken("I_f", "what the fuse would carry if "+study.Several(far.Strike.Held)+" had no limit; where that is enough, what protects is the supply", study.Of(far.Free), solvedSource)
		}
		if ends == fuse.Never {
			w.Fact(finding.Tight, "Something goes on through the short when "+g.Name+" has opened, or before.")
			return
		}
		w.Taken("t_e", "by when nothing flows through it any more, in any case and corner; if supplies that switch themselves off and on went on at their limit", study.Of(ends), gateSource)
		w.Taken("t_s", "by when it is to have ended", study.Of(promptly), promptSource)
		w.When(finding.Tight, "t_e > t_s")
		if pulses {
			w.Fact(finding.Note, study.Several(far.Pulses)+" may switch itself off and on before that.")
		}
	})
}

var discrimination = study.Rule{
	Name: "protection/discrimination", Title: "Which fuse opens first", Scope: study.Fuses, Safety: false,
	Doc: study.Doc{
		What:    "The time within which a fuse has surely opened in a fault behind it, against the time for which every fuse above it surely holds.",
		Why:     "If the fuse above opens first, everything on it goes dark for a fault in one lead, and whoever comes to mend it finds the wrong fuse blown.",
		Formula: []string{"t_n ≤ t_u"},
		Symbols: []study.Symbol{
			{Sign: "t_n", Unit: "s", Means: "slow edge of the fuse nearest the fault, cold and in the coldest air"},
			{Sign: "t_u", Unit: "s", Means: "fast edge of the fuse above it, warm from its load and in the hottest air"},
		},
		Sources: []study.Source{
			{Title: "ISO 8820-3, IEC 60127-2", Basis: parts.Standard, Says: "for how long fuses hold, and within what they open"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "the fuse nearest a fault is the one that is to open"},
		},
		Limits: []string{
			"Bands are wide, and beyond six times their rating standards say only within what fuses open: the one above may open first, and mostly will not.",
			"A fuse above that may open without the fault as well, with the cap failed, is not held to it.",
			"It asks at the beginning of a fault. Which opens after the first has, protection/short-heat follows.",
		},
		Grades: []study.Graded{
			{Grade: finding.Tight, When: "a fuse above has surely opened before the nearest may"},
			{Grade: finding.Note, When: "a fuse above may open before the nearest has, for their bands overlap"},
		},
		Example: study.Example{
			Given: []string{"A cable has a blade fuse of 10 A, and so has the way before it. A short at its end draws 97 A through both, 9.7 times their rating, beyond the last gate of their curve."},
			Sums: []string{
				"97 A/10 A = 9.7",
				"150 ms > 0 s",
			},
			Value: "150 ms", Limit: "0 s", Grade: finding.Note,
			Says: "Either may open first.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		t := s.Struck()
		g, known := s.Guard(id + ".fuse")
		if t == nil || !known {
			return nil
		}
		crossings, in := t.Crossings(g.Name)
		if crossings == nil {
			return study.Passes("In no fault may a fuse above " + g.Name + " open before it.")
		}
		var found []study.Assessment
		for i, c := range crossings {
			found = append(found, crossed(s, g, c, in[i]))
		}
		return found
	},
}

// crossed is the assessment of a fuse above that may open first.
func crossed(s *study.Study, g study.Guard, c study.Crossing, in *study.Strike) study.Assessment {
	near, above := float64(c.Near.Opens), float64(c.Above.Holds)
	a := study.Assessment{Unit: "s", Grade: finding.Note, Case: in.Case.Name, At: in.Case.Fault.At, Basis: parts.Standard, Source: gateSource.String()}
	if c.Near.Opens < fuse.Never {
		margin := above/near - 1
		a.Value, a.Limit, a.Margin = &near, &above, &margin
	}
	may := "may open before it"
	if c.Sure() {
		a.Grade, may = finding.Tight, "has surely opened before it may"
	}
	text := fmt.Sprintf("In %s, %s, %s carries %v and has surely opened within %v; %s above it carries %v, surely holds for %v and %s.",
		study.FaultWords(in.Case.Fault), study.StruckWords(in.Case), c.Near.Guard, c.Near.Amps, c.Near.Opens, c.Above.Guard, c.Above.Amps, c.Above.Holds, may)
	if c.Near.Opens == fuse.Never {
		text = fmt.Sprintf("In %s, %s, %s carries %v and need not open at all; %s above it carries %v and %s.",
			study.FaultWords(in.Case.Fault), study.StruckWords(in.Case), c.Near.Guard, c.Near.Amps, c.Above.Guard, c.Above.Amps, may)
	}
	return a.On(func() []study.Number {
		numbers := s.FusingOf(g)
		if other, ok := s.Guard(c.Above.Guard); ok {
			numbers = append(numbers, s.FusingOf(other)...)
		}
		return numbers
	}).Say(text, "Use a smaller fuse nearer to the light, or a larger one above it if its cable allows that.").Fixed(func() []finding.Edit { return remedy.Discriminating(s, g, c) }).Worked(func(w *study.Working) {
		w.Solved("I_n", "current of "+c.Near.Guard, study.Of(c.Near.Amps), in.Case)
		w.Solved("I_u", "current of "+c.Above.Guard, study.Of(c.Above.Amps), in.Case)
		w.Taken("t_n", "within which "+c.Near.Guard+" has surely opened at I_n, cold and in the coldest air", study.Of(c.Near.Opens), gateSource)
		w.Taken("t_u", "for which "+c.Above.Guard+" surely holds I_u, warm from its load and in the hottest air", study.Of(c.Above.Holds), gateSource)
		if c.Near.Opens < fuse.Never {
			w.Compare("t_n", "t_u")
		}
		if c.Sure() {
			w.Taken("t_s", "within which "+c.Above.Guard+" has surely opened", study.Of(c.Above.Opens), gateSource)
			w.Taken("t_h", "for which "+c.Near.Guard+" surely holds", study.Of(c.Near.Holds), gateSource)
			w.When(finding.Tight, "t_s < t_h")
		}
		w.When(finding.Note, "t_n > t_u")
	})
}
