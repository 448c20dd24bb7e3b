package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// sourceLimit says when the supply's own limit takes the place of a fuse.
var sourceLimit = study.Source{
	Title: "IEC 60364-4-43", Edition: "2008", Clause: "436", Basis: parts.Memory,
	Says: "a conductor whose source cannot give more than it may carry counts as protected",
}

var sourceFuse = study.Rule{
	Name: "protection/source-fuse", Title: "Fuse at the source", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What: "Every end of a cable from which a supply can feed it against having a fuse there. Where an end reaches supplies without one, what they give together, with what the fuses beside them let through, is held against what the cable may carry.",
		Why:  "A fault in the cable draws from every end that leads to a supply. Without a fuse there it draws what the supply gives, for as long as the supply gives it: the cable is the fuse.",
		Formula: []string{
			"N_f ≥ 1 at each end, or I_l ≤ I_z",
			"I_l = Σ I_s + Σ I_2",
		},
		Symbols: []study.Symbol{
			{Sign: "N_f", Unit: "1", Means: "fuses on every way from the end to a supply, through copper of the positive"},
			{Sign: "I_l", Unit: "A", Means: "what may flow into the end for ever"},
			{Sign: "I_s", Unit: "A", Means: "what each supply that is reached without a fuse gives: the upper end of its limit, or what its source resistance lets through"},
			{Sign: "I_2", Unit: "A", Means: "least current at which each fuse that feeds the end beside them surely opens"},
			{Sign: "I_z", Unit: "A", Means: "what each pole of the cable may carry where it lies: that of protection/cable-current"},
		},
		Sources: append(append([]study.Source{}, deviceSources...), sourceLimit,
			study.Source{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.2.1", Basis: parts.Memory, Says: "up to 3 m without a device may be allowed where a short is made unlikely and nothing near can burn: the less careful of the two, not used"},
			study.Source{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "its limit; where no sheet was seen the part says memory"}),
		Limits: []string{
			"A limit is electronics, and no protective device: it holds as long as the supply is sound. So such a cable is tight at best.",
			"Supplies that pulse or shut down count as if they gave their limit for ever; a boost of some seconds is left out.",
			"It asks for a fuse, not for the right one: that is protection/coordination. Whether it opens in a short at the far end is not judged.",
			"A set point that is trimmed down is not taken to raise a limit, nor one that is trimmed up to lower it.",
			"A link of the return alone has no fuse, and is held to what feeds the place that its current comes from.",
			"Where the lead at the supply lacks the fuse, and that is as bad there, it is said of that lead alone: what lies behind it is mended with it.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "an end is fed without a fuse by more than the cable may carry"},
			{Grade: finding.Unknown, When: "such a supply gives more for some seconds and does not say how much, or what follows; or the cable hangs on no supply and some part is not chosen yet"},
			{Grade: finding.Tight, When: "an end is fed without a fuse by no more than the cable may carry: it rests on the limit of the supply"},
		},
		Example: study.Example{
			Given: []string{
				"2 × 2.5 mm² leads from a supply of 5 V and 300 W to a run, without a fuse. It may carry 20 A; the supply limits at up to 84 A.",
				"Another supply, of 12 V and 15 W, gives up to 8 A, and 2 × 1 mm² of 10 A leads on from it.",
			},
			Sums:  []string{"84 A > 20 A", "8 A < 10 A"},
			Value: "84 A", Limit: "20 A", Grade: finding.Danger,
			Says: "A fuse of 20 A or less belongs at the supply. The small one's cable stands what its supply gives, as long as the supply is sound: tight.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, rating, ok := rated(s, id)
		if !ok {
			return nil // cable-current says so
		}
		fed := false
		var found []study.Assessment
		for _, end := range sourceEnds(s, id) {
			b := s.Network.Behind(id, end)
			fed = fed || len(b.Fuses)+len(b.Bare) > 0
			if len(b.Bare) == 0 {
				continue
			}
			if at := bare(s, id, end, b, part, rating); !elsewhere(s, id, end, b, at[0].Grade) {
				found = append(found, at...)
			}
		}
		switch open := s.Open(); {
		case found != nil:
			return found
		case !fed && len(open) > 0:
			return study.Unknown(fmt.Sprintf("%s hangs on no supply yet; not chosen: %s.", id, strings.Join(open, ", ")), "Choose these parts.")
		case !fed:
			return study.Passes("No supply can feed " + id + ".")
		}
		return study.Passes("At each end of " + id + " a fuse stands on every way to a supply, or the lead at the supply is what lacks one.")
	},
}

// sourceEnds lists the ends of a cable that may be fed: both; of a link of the return alone those from which current comes home.
func sourceEnds(s *study.Study, id string) []scheme.End {
	if s.Scheme.Cables[id].Pole == scheme.Return {
		return entered(s, id)
	}
	return []scheme.End{"from", "to"}
}

// bare judges an end that supplies feed without a fuse.
func bare(s *study.Study, id string, end scheme.End, b network.Behind, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Assessment {
	for _, t := range b.Bare {
		name := s.Scheme.Supplies[t].Part
		if p, _ := parts.Get[parts.Supply](s.Scheme.Library, name); p.Limit == parts.Boost && (!p.Boost.Given || p.Then == "") {
			return study.Unknown(fmt.Sprintf("%s has no fuse between it and %s, and %s does not say how much it gives for some seconds, or what follows.", id, t, name), "Fit a fuse at the supply, or give the part boost and then from its sheet.")
		}
	}
	each, sum := s.GivenBy(b.Bare)
	beside := newSet(s, id, end, b.Fuses)
	if beside.open != "" {
		return study.Unknown(fmt.Sprintf("%s Beside it %s feeds %s without a fuse.", beside.open, strings.Join(b.Bare, " and "), id), "Choose a fuse whose part names the curve of its family, and fit one at the supply.")
	}
	sum += beside.fusing
	iz := izOf(s, id)
	a := study.Upper(float64(sum), float64(iz), 0, finding.Danger).Fill("", "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
	a.At, a.Grade = beside.place(s).String(), max(a.Grade, finding.Tight)
	a = a.On(func() []study.Number {
		numbers := append(s.GivesOf(each), izNumbers(s, id, part, rating)...)
		for _, g := range beside.guards {
			numbers = append(numbers, s.FusingOf(g)...)
		}
		if a.Grade == finding.Tight {
			numbers = append(numbers, study.Taken("a supply's limit in the place of a fuse", sourceLimit))
		}
		return numbers
	}).Say(bareWords(id, a, b, sum, iz, part), bareRemedy(s, id, end, iz)).Worked(func(w *study.Working) {
		w.Gives(s, "I_s", each)
		signs := []string{"I_s"}
		for i, g := range beside.guards {
			n := fmt.Sprint(i + 1)
			w.Fusing(s, "I_o"+n, "I_n"+n, n, g)
			signs = append(signs, "I_o"+n)
		}
		w.Step("What may flow into it for ever", "I_l = "+strings.Join(signs, " + "))
		mayCarry(w, s, id, part, rating)
		w.Upper("I_l", "I_max", 0, finding.Danger)
		w.Fact(finding.Tight, "There is no fuse: it rests on the limit of the supply.")
	})
	return []study.Assessment{a.Fixed(func() []finding.Edit { return sourceFix(s, id, end) })}
}

// bareWords says what feeds an end, and what follows.
func bareWords(id string, a study.Assessment, b network.Behind, sum, iz unit.Ampere, part *parts.Cable) string {
	feeds, gives := strings.Join(b.Bare, " and "), "gives"
	if len(b.Bare) > 1 {
		gives = "together give"
	}
	if len(b.Fuses) > 0 {
		feeds, gives = feeds+" beside "+strings.Join(b.Fuses, " and "), "together give"
	}
	text := fmt.Sprintf("%s has no fuse at %s: %s %s it up to %v, and %v may carry %v.", id, a.At, feeds, gives, sum, part.Area.Is, iz)
	if a.Grade == finding.Danger {
		return text + " In a fault it burns."
	}
	return text + " It rests on the limit of the supply, which is no protective device."
}

func bareRemedy(s *study.Study, id string, end scheme.End, iz unit.Ampere) string {
	c := s.Scheme.Cables[id]
	if c.Fuse != "" {
		return fmt.Sprintf("Move its fuse to the end at the supply (fuse_at: %s), and have one at the other end too if that is fed.", end)
	}
	return fmt.Sprintf("Fit a fuse of %v or less at the supply.", iz)
}

// A root is an end of a cable at a supply: where its fuse belongs.
type root struct {
	cable string
	end   scheme.End
}

// roots lists the ends of cables that stand at a supply with their plus and have no fuse there.
func roots(s *study.Study, supply string) []root {
	var list []root
	for _, id := range s.Network.Landings(supply) {
		c, end := s.Scheme.Cables[id], scheme.End("from")
		if c.From.String() != supply {
			end = "to"
		}
		if c.Pole.Has(scheme.Plus) && (c.Fuse == "" || (c.FuseAt == "to") != (end == "to")) {
			list = append(list, root{id, end})
		}
	}
	return list
}

// elsewhere reports whether what is found of an end is said of the leads at the supplies already, each at least as bad: a fuse there
// mends it here too.
func elsewhere(s *study.Study, id string, end scheme.End, b network.Behind, grade finding.Grade) bool {
	for _, t := range b.Bare {
		for _, r := range roots(s, t) {
			if r.cable == id && r.end == end || s.Scheme.Cables[r.cable].Pole == scheme.Return {
				return false
			}
			if r.cable == id {
				continue // its other end, which is judged by itself
			}
			part, rating, known := rated(s, r.cable)
			if !known {
				return false
			}
			if at := bare(s, r.cable, r.end, s.Network.Behind(r.cable, r.end), part, rating); at[0].Grade < grade {
				return false
			}
		}
	}
	return s.Scheme.Cables[id].Pole != scheme.Return
}

// sourceFix gives every lead at the supplies that feed an end a fuse there, or moves it there. Where a lead is fed at both ends one
// fuse will not do, and where it goes is not plain.
func sourceFix(s *study.Study, id string, end scheme.End) []finding.Edit {
	var edits []finding.Edit
	for _, t := range s.Network.Behind(id, end).Bare {
		for _, r := range roots(s, t) {
			fitted := fitAt(s, r)
			if fitted == nil {
				return nil
			}
			edits = append(edits, fitted...)
		}
	}
	return edits
}

// fitAt gives a lead a fuse at its end at the supply.
func fitAt(s *study.Study, r root) []finding.Edit {
	if s.Scheme.Cables[r.cable].Fuse != "" {
		return []finding.Edit{{Path: finding.Pointer("cables", r.cable, "fuse_at"), Value: atEnd(r.end)}}
	}
	edits := remedy.InlineFuse(s, r.cable)
	if edits == nil || r.end == "from" {
		return edits
	}
	return append(edits, finding.Edit{Path: finding.Pointer("cables", r.cable, "fuse_at"), Value: "to"})
}

// atEnd is what fuse_at says of an end: nothing of the one that is meant where it says nothing.
func atEnd(end scheme.End) any {
	if end == "to" {
		return "to"
	}
	return nil
}
