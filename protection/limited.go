package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// The sources of what a limited power source is.
var (
	class2Source = study.Source{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "chapter 9 table 11(B)", Basis: parts.Standard,
		Says: "inherently limited Class 2 sources give at most 8 A up to 30 V and 150/U A up to 60 V; others at most 1000/U A and 250 VA, behind a device of 5 A up to 20 V",
		Read: "the matching tables 2B and 2C of IEC 60950-1; that they are the same is from memory"}
	plateSource = study.Source{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "chapter 9 table 11(B)", Basis: parts.Memory,
		Says: "the plate of a Class 2 source says at most 5 A and 5·U VA up to 20 V, 100/U A and 100 VA up to 60 V; the device behind others has at most 100/U A from 20 V on"}
	limitedSource = study.Source{Title: "IEC 62368-1", Edition: "2018", Clause: "annex Q, tables Q.1 and Q.2", Basis: parts.Standard,
		Says: "a limited power source gives at most 8 A and 5·U VA up to 20 V, 8 A and 100 VA up to 30 V, 150/U A and 100 VA up to 60 V; with an overcurrent device 1000/U A and 250 VA, and the device has at most 5 A up to 20 V",
		Read: "the matching tables 2B and 2C of IEC 60950-1"}
	classSource = study.Source{Title: "IEC 62368-1", Edition: "2018", Clause: "6.2.2.4 to 6.2.2.6", Basis: parts.Standard,
		Says: "up to 15 W available a source is PS1, up to 100 W PS2, above that PS3, which needs a fire enclosure or control of the spread of fire",
		Read: "a test laboratory's page and a published test report form"}
)

// A limit is what a kind of limited source may give at a voltage.
type limit struct {
	amps  unit.Ampere // measured
	watts unit.Watt   // measured; 0 where none is asked
	plate unit.Watt   // rated; 0 where none is asked
	rated unit.Ampere // likewise
	fuse  unit.Ampere // rating of the device that it needs; 0 where it limits itself
}

// class2 is what an inherently limited Class 2 source may give at most: NEC chapter 9 table 11(B). It is not ok above 60 V.
func class2(u unit.Volt) (limit, bool) {
	switch {
	case u <= 20:
		return limit{amps: 8, plate: unit.Watt(5 * u), rated: 5}, true
	case u <= 30:
		return limit{amps: 8, plate: 100, rated: unit.Ampere(100 / u)}, true
	case u <= 60:
		return limit{amps: unit.Ampere(150 / u), plate: 100, rated: unit.Ampere(100 / u)}, true
	}
	return limit{}, false
}

// class2Fused is the same of one that needs a device.
func class2Fused(u unit.Volt) (limit, bool) {
	l, ok := class2(u)
	q, _ := limitedFused(u)
	return limit{amps: q.amps, watts: q.watts, plate: l.plate, rated: l.rated, fuse: q.fuse}, ok
}

// limited is what a source that limits its own power may give at most: IEC 62368-1 table Q.1.
func limited(u unit.Volt) (limit, bool) {
	switch {
	case u <= 20:
		return limit{amps: 8, watts: unit.Watt(5 * u)}, true
	case u <= 30:
		return limit{amps: 8, watts: 100}, true
	case u <= 60:
		return limit{amps: unit.Ampere(150 / u), watts: 100}, true
	}
	return limit{}, false
}

// limitedFused is the same of one that a device limits: table Q.2.
func limitedFused(u unit.Volt) (limit, bool) {
	switch {
	case u <= 20:
		return limit{amps: unit.Ampere(1000 / u), watts: 250, fuse: 5}, true
	case u <= 60:
		return limit{amps: unit.Ampere(1000 / u), watts: 250, fuse: unit.Ampere(100 / u)}, true
	}
	return limit{}, false
}

// An output is what a supply gives at most, at its highest set point, and what its plate says.
type output struct {
	volts unit.Volt
	amps  unit.Ampere
	watts unit.Watt
	plate unit.Watt
	rated unit.Ampere
}

// within reports whether an output keeps a limit.
func (o output) within(l limit) bool {
	return o.amps <= l.amps && (l.watts == 0 || o.watts <= l.watts) && (l.plate == 0 || o.plate <= l.plate && o.rated <= l.rated)
}

var limitedPower = study.Rule{
	Name: "protection/limited-power", Title: "Limited power", Scope: study.Supplies, Safety: false,
	Doc: study.Doc{
		What: "What a supply gives at most, by the upper end of its own limit, and the fuses all of whose current it feeds, against what makes a Class 2 source of the NEC and a limited power source of IEC 62368-1. What keeps within is noted.",
		Why:  "Behind such a source a fault cannot make much heat, so standards ask less of the wiring and of what encloses it: the NEC lets Class 2 wiring go where other wiring needs a method of its chapter 3, and IEC 62368-1 asks no fire enclosure up to 100 W. Farend relaxes nothing for it.",
		Formula: []string{
			"I_l ≤ 8 A up to 30 V, 150 W/U_hi up to 60 V",
			"P_l = U_hi · I_l ≤ 5 A · U_hi up to 20 V, 100 W up to 60 V",
			"or, behind fuses, I_l ≤ 1000 W/U_hi, P_l ≤ 250 W",
			"and I_n ≤ 5 A up to 20 V, 100 W/U_hi up to 60 V",
		},
		Symbols: []study.Symbol{
			{Sign: "I_l", Unit: "A", Means: "upper end of its limit, or of a boost where that is more"},
			{Sign: "U_hi", Unit: "V", Means: "its highest voltage: the set point at the upper end of its spread"},
			{Sign: "P_l", Unit: "W", Means: "most that it can give: for Class 2 its rated power is compared instead, where it limits itself"},
			{Sign: "I_n", Unit: "A", Means: "rating of a fuse through which all goes that the supply gives to what lies behind it"},
		},
		Sources: []study.Source{
			class2Source, plateSource, limitedSource,
			{Title: "IEC 62368-1", Edition: "2018", Clause: "annex Q, table Q.2", Basis: parts.Memory, Says: "from 20 V on the device has at most 100/U A"},
			classSource,
			{Title: "IEC 62368-1", Edition: "2018", Clause: "annex Q", Basis: parts.Standard, Says: "current and power are measured after 5 s behind electronics, after 60 s behind a PTC or a fuse", Read: "a page on the limited-power test of IEC 60950-1"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.6(A)", Basis: parts.Standard, Says: "through walls, floors and ceilings by a wiring method of chapter 3, or from a Class 2 source", Read: "an open transcription of chapter 4"},
		},
		Limits: []string{
			"Numbers make no Class 2 or limited power source: a laboratory does, and the plate says so. Under a single fault of the supply they may not hold.",
			"A limit is taken to act for ever, and a boost too. The standards measure after some seconds, so some supplies keep within though nothing is noted here.",
			"Supplies whose copper is joined give together, and none of them is noted. Nor is a fuse round which other copper leads.",
			"It never takes anything from another rule.",
		},
		Grades: []study.Graded{{Grade: finding.Note, When: "the supply, or what a fuse behind it guards, keeps within one of them"}},
		Example: study.Example{
			Given: []string{"A supply of 12 V and 60 W, whose set point does not spread, limits at up to 4.9 A. Another, of 150 W, limits at up to 18 A, and a lead with a fuse of 5 A is all that it feeds."},
			Sums: []string{
				"4.9 A < 8 A", "12 V × 4.9 A = 58.8 W", "58.8 W < 5 A × 12 V",
				"12 V × 18 A = 216 W", "216 W < 250 W", "18 A < 1000 W/12 V",
			},
			Grade: finding.Note,
			Says:  "The first limits its own power; of the second the lead behind the fuse is a limited power source by IEC 62368-1, but no Class 2 by its plate.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Supplies[id].Part
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, name)
		switch {
		case !ok:
			return nil // protection/not-chosen says so
		case len(s.Network.SuppliesOn(id)) > 1:
			return study.Passes(id + " gives together with others.")
		case part.Limit == parts.Boost && !part.Boost.Given:
			return study.Passes(id + " gives more for some time, and its part does not say how much.")
		}
		out := given(s, id, part)
		is := kinds(s, id, out)
		if is == nil {
			return study.Passes(fmt.Sprintf("%s gives up to %v and %v: more than a limited power source.", id, out.amps, out.watts))
		}
		a := study.Assessment{Grade: finding.Note, Basis: limitedSource.Basis, Source: limitedSource.String()}
		return []study.Assessment{a.On(func() []study.Number {
			numbers := study.MostOf(name, part)
			if s.Scheme.Supplies[id].Volts == nil {
				numbers = append(numbers, study.Stated(name, "volts", part.Volts))
			}
			return numbers
		}).Say(fmt.Sprintf("%s gives at most %v and %v. By these numbers it is %s. Only a plate makes it that; no rule here asks less for it.", id, out.amps, out.watts, study.Several(is)), "").
			Worked(func(w *study.Working) {
				w.Highest(s, "U_hi", id)
				w.Most(s, "I_l", id)
				w.Step("What it can give", "P_l = U_hi · I_l")
				for _, kind := range is {
					w.Fact(finding.Pass, "By these numbers it is "+kind)
				}
				w.Fact(finding.Note, "That is noted, and changes no other verdict")
			})}
	},
}

// kinds says what limited sources a supply is by its numbers, with what each may give; none where it is none.
func kinds(s *study.Study, id string, out output) []string {
	var is []string
	own, known := class2(out.volts)
	inherent := known && out.within(own)
	if inherent {
		is = append(is, fmt.Sprintf("a Class 2 source by its own limit (NEC chapter 9 table 11(B): up to %v, rated for up to %v)", own.amps, own.plate))
	}
	if l, ok := limited(out.volts); ok && out.within(l) {
		is = append(is, fmt.Sprintf("a limited power source by its own limit (IEC 62368-1 table Q.1: up to %v and %v)", l.amps, l.watts))
	} else if l, ok := limitedFused(out.volts); ok && out.within(l) {
		if kept := upTo(s, guards(s, id), l.fuse); len(kept) > 0 {
			is = append(is, fmt.Sprintf("a limited power source behind %s (IEC 62368-1 table Q.2: up to %v and %v, fuses up to %v)", study.Several(kept), l.amps, l.watts, l.fuse))
			if c, _ := class2Fused(out.volts); !inherent && out.within(c) {
				is = append(is, fmt.Sprintf("a Class 2 source there, not inherently limited (NEC chapter 9 table 11(B): rated for up to %v)", c.plate))
			}
		}
	}
	if class := classOf(out.watts); class != "" {
		is = append(is, class+" (IEC 62368-1, 6.2.2)")
	}
	return is
}

// given is what a supply gives at most.
func given(s *study.Study, id string, part *parts.Supply) output {
	volts, _, _ := s.Highest(id)
	amps, _ := part.Most()
	return output{volts, amps, unit.Watt(float64(volts) * float64(amps)), part.Watts.Is, part.Amps.Is}
}

// guards lists the fuses through which all goes that a supply gives to what lies behind them.
func guards(s *study.Study, supply string) []string {
	var list []string
	note := func(fuse string) {
		if on := s.Network.Guarded(fuse); len(on) == 1 && on[0] == supply {
			list = append(list, fuse)
		}
	}
	for _, way := range s.Network.Ways() {
		note(way + ".fuse")
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) {
		note(id + ".fuse")
	}
	return list
}

// upTo lists those of some fuses whose rating is at most that.
func upTo(s *study.Study, fuses []string, most unit.Ampere) []string {
	var list []string
	for _, fuse := range fuses {
		on := strings.TrimSuffix(fuse, ".fuse")
		name := s.Scheme.Fuses[on]
		if cable, is := s.Scheme.Cables[on]; is {
			name = cable.Fuse
		}
		if part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name); ok && part.Rating.Is <= most {
			list = append(list, fuse)
		}
	}
	return list
}

// classOf is the power source class of what is available, of those below PS3.
func classOf(watts unit.Watt) string {
	switch {
	case watts <= ps1:
		return "PS1"
	case watts <= ps2:
		return "PS2"
	}
	return ""
}

// outputAmps is what an output circuit of low-voltage lighting may be rated for.
const outputAmps = unit.Ampere(25)

var outputSource = study.Source{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.4", Basis: parts.Standard,
	Says: "the supply isolates, and each of its output circuits is rated for at most 25 A under all conditions of load",
	Read: "an open transcription of chapter 4"}

var outputCircuit = study.Rule{
	Name: "protection/output-circuit", Title: "Output circuit", Scope: study.Supplies, Safety: false,
	Doc: study.Doc{
		What:    "The rating of the fuse in each cable that leaves a supply, or the limit of the supply where that is less or there is none, against 25 A, where the NEC may apply.",
		Why:     "The code of the United States ends low-voltage lighting there: a larger output is wiring of another kind, with other methods.",
		Formula: []string{"min(I_n, I_l) ≤ 25 A"},
		Symbols: []study.Symbol{
			{Sign: "I_n", Unit: "A", Means: "rating of the fuse in the cable; without end where it has none"},
			{Sign: "I_l", Unit: "A", Means: "most that the supply gives"},
		},
		Sources: []study.Source{
			outputSource,
			{Title: "common practice, no source", Basis: parts.Practice, Says: "mains of 100 to 127 V, 208 V, 240 V or 277 V may be where the NEC is the code; 220 V and 230 V are not"},
		},
		Limits: []string{
			"IEC 60364-7-715 has no such limit. Where the scheme states mains of 230 V the rule is silent.",
			"A circuit is what leaves the supply. Smaller fuses further on do not count.",
		},
		Grades: []study.Graded{
			{Grade: finding.Tight, When: "a circuit is rated for more, and the mains is one of where the NEC is the code"},
			{Grade: finding.Note, When: "a circuit is rated for more, and the scheme does not say what mains there is"},
		},
		Example: study.Example{
			Given: []string{"A lead with a fuse of 30 A leaves a supply of 5 V that gives up to 84 A, on mains of 120 V."},
			Sums:  []string{"30 A < 84 A", "30 A > 25 A"},
			Value: "30 A", Limit: "25 A", Grade: finding.Tight,
			Says: "Two leads with fuses of 20 A would be two circuits.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Supplies[id].Part
		part, ok := parts.Get[parts.Supply](s.Scheme.Library, name)
		over := codeOf(s.Scheme.Site.Mains)
		switch {
		case !ok:
			return nil // protection/not-chosen says so
		case over == finding.Pass:
			return study.Passes(fmt.Sprintf("At %v the NEC is not the code.", s.Scheme.Site.Mains))
		}
		var found []study.Assessment
		for _, cable := range s.Network.Landings(id) {
			found = append(found, outgoing(s, id, part, cable, over))
		}
		if found == nil {
			return study.Passes("No cable leaves " + id + ".")
		}
		return found
	},
}

// codeOf is what it is to break the NEC where the mains has a voltage: tight where it is the code, nothing where it is not, a note where
// nobody says what mains there is.
func codeOf(mains unit.Volt) finding.Grade {
	switch {
	case mains == 0:
		return finding.Note
	case mains >= 100 && mains <= 127, mains == 208, mains == 240, mains == 277:
		return finding.Tight
	}
	return finding.Pass
}

// outgoing judges one cable that leaves a supply.
func outgoing(s *study.Study, supply string, part *parts.Supply, cable string, over finding.Grade) study.Assessment {
	amps, _ := part.Most()
	numbers := study.MostOf(s.Scheme.Supplies[supply].Part, part)
	name := s.Scheme.Cables[cable].Fuse
	fuse, fused := parts.Get[parts.Fuse](s.Scheme.Library, name)
	fused = fused && fuse.Rating.Is < amps
	if fused {
		amps, numbers = fuse.Rating.Is, []study.Number{study.Stated(name, "rating", fuse.Rating)}
	}
	a := study.Upper(float64(amps), float64(outputAmps), 0, over).Fill("", "A", outputSource.Basis, outputSource.String())
	a.At = cable
	return a.On(func() []study.Number { return append(numbers, study.Taken("25 A an output circuit", outputSource)) }).
		Say(fmt.Sprintf("%s leaves %s as a circuit of up to %v; the NEC (411.4) allows low-voltage lighting 25 A, where it is the code.", cable, supply, amps), "Split the load over several cables, each with a fuse of 25 A or less at the supply.").
		Fixed(func() []finding.Edit { return remedy.Outgoing(s, cable, outputAmps) }).
		Worked(func(w *study.Working) {
			if fused {
				w.Stated("I", "rating of the circuit: its fuse", numbers[0])
			} else {
				w.Most(s, "I", supply)
			}
			w.Taken("I_p", "what an output circuit may be rated for", study.Of(outputAmps), outputSource)
			w.Upper("I", "I_p", 0, over)
		})
}
