package protection

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
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
		What: "Every end of a cable that stands at a supply against having a fuse there. Where it has none, what supplies give without a fuse, with what the fuses beside them let through, is held against what the cable may carry, and every other that hangs on it without a fuse.",
		Why:  "A fault in the cable draws from every end that leads to a supply. Without a fuse there it draws what the supply gives, for as long as the supply gives it: the cable is the fuse.",
		Formula: []string{
			"N_f ≥ 1 at each end at supplies, or I_l ≤ I_z",
			"I_l = Σ I_s + Σ I_2",
		},
		Symbols: []study.Symbol{
			{Sign: "N_f", Unit: "1", Means: "fuses at the end"},
			{Sign: "I_l", Unit: "A", Means: "what may flow for ever into the cable that is worst off: this one, or one that the supply feeds without a fuse as well"},
			{Sign: "I_s", Unit: "A", Means: "what each supply that feeds it without a fuse gives: the upper end of its limit, or what its source resistance lets through"},
			{Sign: "I_2", Unit: "A", Means: "least current at which each fuse that feeds it beside them surely opens"},
			{Sign: "I_z", Unit: "A", Means: "what each pole of that cable may carry where it lies: that of protection/cable-current"},
		},
		Sources: append(append([]study.Source{}, deviceSources...), sourceLimit,
			study.Source{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.2.1", Basis: parts.Memory, Says: "up to 3 m without a device may be allowed where a short is made unlikely and nothing near can burn: the less careful of the two, not used"},
			study.Source{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "its limit; where no sheet was seen the part says memory"}),
		Limits: []string{
			"A limit is electronics, and no protective device: it holds as long as the supply is sound. So such a cable is tight at best.",
			"Supplies that pulse or shut down count as if they gave their limit for ever; a boost of some seconds is left out.",
			"It asks for a fuse, not for the right one: that is protection/coordination. Whether it opens in a short at the far end is asked by protection/far-short.",
			"A set point that is trimmed down is not taken to raise a limit, nor one that is trimmed up to lower it.",
			"A link of the return alone has no fuse, and is held to what feeds the place that its current comes from; it is said of the lead at the supply.",
			"Supplies reach further where another rule finds what lets them: over a way without a fuse, or the spare cores of a data lead.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the lead, or a cable behind it, is fed without a fuse by more than it may carry"},
			{Grade: finding.Unknown, When: "such a supply gives more for some seconds and does not say how much, or what follows; a fuse beside it is not chosen or does not say when it opens; or the cable hangs on no supply and some part is not chosen yet"},
			{Grade: finding.Tight, When: "each is fed without a fuse by no more than it may carry: that rests on the limit of the supply"},
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
		if _, _, ok := ratedCable(s, id); !ok {
			return nil // cable-current says so
		}
		var found []study.Assessment
		for _, r := range roots(s, id) {
			found = append(found, r.judge(s))
		}
		switch open := s.Open(); {
		case found != nil:
			return found
		case !hangs(s, id) && len(open) > 0:
			return study.Unknown(fmt.Sprintf("%s hangs on no supply yet; not chosen: %s.", id, strings.Join(open, ", ")), "Choose these parts.")
		}
		return study.Passes(id + " has a fuse wherever it stands at a supply.")
	},
}

// A root is an end of a cable that stands at a supply, with its plus and without a fuse: where a fuse belongs.
type root struct {
	cable  string
	end    scheme.End
	supply string
}

// roots lists such ends of a cable.
func roots(s *study.Study, id string) []root {
	c := s.Scheme.Cables[id]
	if !c.Pole.Has(scheme.Plus) {
		return nil
	}
	var list []root
	for _, r := range []root{{id, "from", c.From.Element}, {id, "to", c.To.Element}} {
		at := c.From
		if r.end == "to" {
			at = c.To
		}
		fused := c.Fuse != "" && (c.FuseAt == "to") == (r.end == "to")
		if at.Kind == scheme.SupplyRef && !fused && slices.Contains(s.Network.Behind(id, r.end).Bare, r.supply) {
			list = append(list, r)
		}
	}
	return list
}

// A strand is an end of a cable that a supply feeds without a fuse: at the root itself or behind it.
type strand struct {
	cable string
	end   scheme.End
	b     network.Behind
	amps  unit.Ampere // what may flow into it for ever
	iz    unit.Ampere // what the cable may carry
	open  string      // what is not known of it
}

// strands lists what a supply feeds through a root without a fuse: the root's own end first.
func (r root) strands(s *study.Study) []strand {
	list := []strand{newStrand(s, r.cable, r.end, s.Network.Behind(r.cable, r.end))}
	for _, at := range s.Network.Hanging(r.cable, r.end) {
		if _, _, ok := ratedCable(s, at.Cable); !ok || !slices.Contains(fedEnds(s, at.Cable), at.End) {
			continue
		}
		if b := s.Network.Behind(at.Cable, at.End); slices.Contains(b.Bare, r.supply) {
			list = append(list, newStrand(s, at.Cable, at.End, b))
		}
	}
	return list
}

// fedEnds lists the ends of a cable that may be fed: both; of a link of the return alone those from which current comes home.
func fedEnds(s *study.Study, id string) []scheme.End {
	if s.Scheme.Cables[id].Pole == scheme.Return {
		return s.Entered(id)
	}
	return []scheme.End{"from", "to"}
}

func newStrand(s *study.Study, id string, end scheme.End, b network.Behind) strand {
	t := strand{cable: id, end: end, b: b, iz: izOf(s, id)}
	for _, supply := range b.Bare {
		name := s.Scheme.Supplies[supply].Part
		if p, _ := parts.Get[parts.Supply](s.Scheme.Library, name); p.Limit == parts.Boost && (!p.Boost.Given || p.Then == "") {
			t.open = fmt.Sprintf("%s does not say how much %s gives for some seconds, or what follows.", name, supply)
		}
	}
	beside := newSet(s, id, end, b.Fuses)
	if beside.open != "" {
		t.open = beside.open
	}
	_, sum := s.GivenBy(b.Bare)
	t.amps = sum + beside.fusing
	return t
}

// judge judges a root by the worst of what hangs on it without a fuse.
func (r root) judge(s *study.Study) study.Assessment {
	var worst strand
	for _, t := range r.strands(s) {
		switch {
		case t.open != "":
			return study.Unknown(fmt.Sprintf("%s has no fuse at %s, and %s", r.cable, r.supply, t.open), "Fit a fuse at the supply, or give the part what it leaves unsaid, from its sheet.")[0]
		case worst.cable == "", t.amps*worst.iz > worst.amps*t.iz:
			worst = t
		}
	}
	part, rating, _ := ratedCable(s, worst.cable)
	each, _ := s.GivenBy(worst.b.Bare)
	beside := newSet(s, worst.cable, worst.end, worst.b.Fuses)
	a := study.Upper(float64(worst.amps), float64(worst.iz), 0, finding.Danger).Fill("", "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
	a.At, a.Grade = r.supply, max(a.Grade, finding.Tight)
	rests := a.Grade == finding.Tight
	return a.On(func() []study.Number {
		numbers := append(s.GivesOf(each), izNumbers(s, worst.cable, part, rating)...)
		for _, g := range beside.guards {
			numbers = append(numbers, s.FusingOf(g)...)
		}
		if rests {
			numbers = append(numbers, study.Taken("a supply's limit in the place of a fuse", sourceLimit))
		}
		return numbers
	}).Say(r.words(s, worst, part, rests), r.remedy(s, worst, a.Grade)).Fixed(func() []finding.Edit { return r.fix(s) }).Worked(func(w *study.Working) {
		w.Gives(s, "I_s", each)
		signs := []string{"I_s"}
		for i, g := range beside.guards {
			n := strconv.Itoa(i + 1)
			w.Fusing(s, "I_o"+n, "I_n"+n, n, g)
			signs = append(signs, "I_o"+n)
		}
		w.Step("What may flow into "+worst.cable+" for ever", "I_l = "+strings.Join(signs, " + "))
		mayCarry(w, s, worst.cable, part, rating)
		w.Upper("I_l", "I_max", 0, finding.Danger)
		w.Fact(finding.Tight, "There is no fuse: it rests on the limit of the supply.")
	})
}

// words says what feeds the worst of what hangs on the root, and what follows.
func (r root) words(s *study.Study, t strand, part *parts.Cable, rests bool) string {
	feeds, gives := study.Several(t.b.Bare), "gives"
	if len(t.b.Bare) > 1 {
		gives = "together give"
	}
	if len(t.b.Fuses) > 0 {
		feeds, gives = feeds+" beside "+study.Several(t.b.Fuses), "together give"
	}
	text := fmt.Sprintf("%s has no fuse at %s", r.cable, r.supply)
	got, may := unit.Apart(t.amps, t.iz)
	if t.cable == r.cable {
		text += fmt.Sprintf(": %s %s it up to %s, and %v may carry %s.", feeds, gives, got, part.Area.Is, may)
	} else {
		place := set{cable: t.cable, end: t.end}.place(s)
		text += fmt.Sprintf(", nor has %s at %s, which hangs on it: %s %s that up to %s, and %v may carry %s.", t.cable, place, feeds, gives, got, part.Area.Is, may)
	}
	if rests {
		return text + " It rests on the limit of the supply, which is no protective device."
	}
	return text + " In a fault it burns."
}

func (r root) remedy(s *study.Study, t strand, grade finding.Grade) string {
	if grade == finding.Pass {
		return ""
	}
	if s.Scheme.Cables[r.cable].Fuse != "" {
		return fmt.Sprintf("Move its fuse to the end at the supply (fuse_at: %s), and have one at the other end too if that is fed.", r.end)
	}
	return fmt.Sprintf("Fit %s at the supply.", inline(s, r.cable, t.iz))
}

// fix gives the lead a fuse at the supply, or moves it there. Where its other end is fed as well, one fuse will not do, and where
// the second goes is not plain.
func (r root) fix(s *study.Study) []finding.Edit {
	if s.Scheme.Cables[r.cable].Fuse != "" {
		return moved(s, r.cable, r.end)
	}
	return fitted(s, r.cable, r.end)
}

// hangs reports whether a supply can feed a cable at all.
func hangs(s *study.Study, id string) bool {
	for _, end := range []scheme.End{"from", "to"} {
		if b := s.Network.Around(id, end); len(b.Fuses)+len(b.Bare) > 0 {
			return true
		}
	}
	return false
}

// atEnd is what fuse_at says of an end: nothing of the one that is meant where it says nothing.
func atEnd(end scheme.End) any {
	if end == "to" {
		return "to"
	}
	return nil
}
