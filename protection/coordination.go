package protection

import (
	"fmt"
	"slices"
	"strconv"
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

// sizingSource asks for fuses that suit their conductors.
var sizingSource = study.Source{
	Title: "IEC 60364-4-43", Edition: "2008", Clause: "433.1", Basis: parts.Standard,
	Says: "Ib ≤ In ≤ Iz and I2 ≤ 1.45 · Iz", Read: "pages that quote it, with DIN VDE 0100-430",
}

var coordination = study.Rule{
	Name: "protection/coordination", Title: "Fuse and cable", Scope: study.Cables, Safety: true,
	Doc: study.Doc{
		What: "The fuses that are met first behind every end of a cable. Where its current enters in some case: against the load of the cable and against what the cable may carry, by their rating and by the current at which they surely open. Where none enters: against what the cable may carry, for a fault in it would draw from there. Where its return brings home more than its plus sends: what the fuses of all that comes home by it let through. Fuses that feed one end in parallel are added up.",
		Why:  "A fuse that is too large for its cable lets an overload last: the cable warms for hours, inside a wall or under a deck, and burns before anything opens. A fuse at the far end of a cable, or at the other of two ends that are fed, does not open for a fault in the cable at all.",
		Formula: []string{
			"I_b ≤ I_n ≤ I_z",
			"I_2 ≤ 1.45 · I_z",
			"I_2 = m_o · k_c · I_n",
			"I_h ≤ 1.45 · I_z",
			"I_h = min(b · (I_2 + I_e), max(q · I_2, b · I_e))",
		},
		Symbols: []study.Symbol{
			{Sign: "I_b", Unit: "A", Means: "heating (rms) current of the heavier pole, in the heaviest state, peak or the dark"},
			{Sign: "I_n", Unit: "A", Means: "rating of the fuse; of several that feed the end in parallel, their sum"},
			{Sign: "I_z", Unit: "A", Means: "what each pole may carry where the cable lies: that of protection/cable-current"},
			{Sign: "I_2", Unit: "A", Means: "least current at which the fuse surely opens in the end; of several, their sum"},
			{Sign: "I_h", Unit: "A", Means: "what may last in a return that brings home more than its plus sends; I_2 here of the fuses that feed its plus"},
			{Sign: "I_e", Unit: "A", Means: "I_2 of the other fuses that feed the place which it comes from, together"},
			{Sign: "q", Unit: "1", Means: "what it brings home for an ampere that its plus sends"},
			{Sign: "b", Unit: "1", Means: "its part of all that is sent there, at most 1"},
			{Sign: "m_o", Unit: "1", Means: "multiple of the rating at the first gate that says the fuse opens: 1.35 for blade fuses, 2.1 for cartridges, 2 for resettable ones"},
			{Sign: "k_c", Unit: "1", Means: "share of its rating that it has in the coldest air: 1 where its curve states no derating"},
		},
		Sources: []study.Source{sizingSource,
			{Title: "ISO 8820-3", Edition: "2015", Basis: parts.Standard, Says: "a blade fuse surely opens from 1.35 times its rating on", Read: "component studies that quote data sheets"},
			{Title: "IEC 60127-2", Basis: parts.Standard, Says: "a cartridge surely opens from 2.1 times its rating on", Read: "data sheets that print the gates"},
			{Title: "IEC 60364-4-43", Edition: "2008", Clause: "433.2.2", Basis: parts.Memory, Says: "a device against overload may stand along a conductor without branches, if a device before it protects that against shorts, or it is at most 3 m long, a short is made unlikely and nothing near can burn. A scheme does not say the latter, so it is not used"},
			{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.2 and 434.2.1", Basis: parts.Memory, Says: "the device against shorts stands where what a conductor may carry becomes less; up to 3 m behind that on the same terms, not used either"},
			{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.5.2 and 435.1", Basis: parts.Standard, Says: "a fault at the far end that is not ended within 5 s is borne only where the same device protects against overload as well, In ≤ Iz and I2 ≤ 1.45 Iz", Read: "pages on both clauses"},
			{Title: "Kirchhoff's current law", Basis: parts.Derived, Says: "what feeds one end through several fuses may bring the sum of what they let through"},
		},
		Limits: []string{
			"It holds fuses to In ≤ Iz and I2 ≤ 1.45 Iz, for shorts as well: whether a larger one would open before k²S² in a short is not asked yet. Whether there is a fuse at all at an end is protection/source-fuse.",
			"The cable's own fuse counts at the end where it stands: what feeds the other has to suit the cable by itself.",
			"The fuse is in the coldest air and the cable in the warmest, which is careful where both lie together.",
			"Where current enters, fuses that reach the end along a run count in full, though its rails would let less through.",
			"Where none enters, what would come along the rails of a run, from feeds that land on other marks, is left out: how much rails let through only a fault that is solved knows, and none is yet. Feeds that land on the same mark count. A cable without current that only tape leads to is fed by all that the tape is.",
			"A link of the return alone is held to the fuses that feed the place that it comes from, where current enters it.",
			"A return that brings home more than its plus sends is judged by the shares of the solved cases, and by I_2 alone; a load or fault elsewhere on the run shifts them. Where a supply feeds the place without a fuse, protection/source-fuse holds the cable to that.",
			"A return by which more comes home than is sent to where it lands, as by returns that are joined, is unknown; not for what grounds of data leads bring, which protection/data-return and board/port-ground judge.",
			"An end at a way without a fuse is said by protection/way-fuse, supply on the spare cores of a data lead by protection/data-power.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "I_2 is above 1.45 times what the cable may carry, or I_h is"},
			{Grade: finding.Fails, When: "the rating is above what the cable may carry, or the load is above the rating"},
			{Grade: finding.Unknown, When: "a fuse is not chosen yet, or nothing says when it opens; or more comes home by the return than is sent to where it lands; that of a cable without a part is said by protection/cable-current"},
		},
		Example: study.Example{
			Given: []string{
				"A blade fuse of 20 A feeds a junction; 2 × 1.5 mm² leads on from there, which may carry 15 A. In the coldest air, 0 °C, it has all of its rating.",
			},
			Sums: []string{
				"20 A > 15 A",
				"1.35 × 1 × 20 A = 27 A",
				"1.45 × 15 A = 21.75 A",
				"27 A > 21.75 A",
			},
			Value: "27 A", Limit: "21.75 A", Grade: finding.Danger,
			Says: "Up to 27 A may last, and the cable bears 21.75 A for an hour. A fuse of 15 A suits both.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		part, rating, ok := ratedCable(s, id)
		if !ok {
			return nil // cable-current says so
		}
		var found []study.Assessment
		for _, f := range s.Feedings(id) {
			set := newSet(s, id, f.End, f.Fuses)
			set.fault = !f.Entered
			if len(f.Bare) == 0 && !bridged(s, id, f.End) { // else source-fuse adds up what feeds it, or way-fuse asks for a fuse
				found = append(found, set.judge(s, part, rating)...)
			}
		}
		found = append(found, homeward(s, id, part, rating)...)
		if found == nil {
			return study.Passes(id + " is fed through no fuse; protection/source-fuse judges what stands at its ends.")
		}
		return found
	},
}

// ratedCable is the part of a cable and what it may carry alone at 30 °C; it is not ok where that is not known.
func ratedCable(s *study.Study, id string) (part *parts.Cable, rating parts.Value[unit.Ampere], ok bool) {
	c := s.Scheme.Cables[id]
	part, ok = parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return nil, rating, false
	}
	_, method, _, _ := c.Env(s.Scheme)
	rating = network.Ampacity(part, method)
	return part, rating, rating.Given
}

// A set is the fuses that guard a cable at one of its ends: those through which its current enters there, or a fault in it is fed.
type set struct {
	cable  string
	end    scheme.End
	fault  bool // no current enters there in any case: a fault in the cable draws from it
	guards []study.Guard
	in     unit.Ampere // their ratings together
	fusing unit.Ampere // what they surely open at, together
	open   string      // one that is not chosen, or of which nothing says when it opens
}

func newSet(s *study.Study, id string, end scheme.End, fuses []string) set {
	g := set{cable: id, end: end}
	for _, name := range fuses {
		guard, _ := s.Guard(name)
		g.guards = append(g.guards, guard)
		amps, known := s.Fusing(guard)
		switch {
		case guard.Fuse == nil:
			g.open = "The fuse " + name + " is not chosen yet."
			continue
		case !known && g.open == "":
			g.open = fmt.Sprintf("Nothing says when %s opens: %s states no such gate.", name, guard.Part)
		}
		g.in, g.fusing = g.in+guard.Fuse.Rating.Is, g.fusing+amps
	}
	return g
}

// place is where the end is.
func (g set) place(s *study.Study) scheme.Ref {
	if g.end == "to" {
		return s.Scheme.Cables[g.cable].To
	}
	return s.Scheme.Cables[g.cable].From
}

// words names the fuses in a sentence, with what they do.
func (g set) words() (names, feeds, opens string) {
	var list []string
	for _, guard := range g.guards {
		list = append(list, guard.Name)
	}
	if len(list) == 1 {
		return list[0], "feeds", "opens"
	}
	return study.Several(list) + " together", "feed", "open"
}

// where says which end of the cable the fuses feed, and whether it is a fault that they do.
func (g set) where(s *study.Study) string {
	if g.fault {
		return fmt.Sprintf("a fault in %s from %s", g.cable, g.place(s))
	}
	return fmt.Sprintf("%s at %s", g.cable, g.place(s))
}

// far says of the cable's own fuse at the other end why it does not count.
func (g set) far(s *study.Study) string {
	if s.Scheme.Cables[g.cable].Fuse == "" || slices.ContainsFunc(g.guards, func(f study.Guard) bool { return f.At == g.cable }) {
		return ""
	}
	return fmt.Sprintf(" %s.fuse, at the other end, sees no fault that is fed from here.", g.cable)
}

func (g set) judge(s *study.Study, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Assessment {
	if g.open != "" {
		return study.Unknown(fmt.Sprintf("%s Whether it guards %s is not known.", g.open, g.cable), "Choose a fuse whose part names the curve of its family.")
	}
	fix := func() []finding.Edit { return g.fix(s) }
	found := []study.Assessment{g.rating(s, part, rating).Fixed(fix), g.opening(s, part, rating).Fixed(fix)}
	if g.fault {
		return found
	}
	return append([]study.Assessment{g.load(s).Fixed(func() []finding.Edit { return g.more(s) })}, found...)
}

// heaviest is the state, peak or dark in which the cable carries most.
func (g set) heaviest(s *study.Study) network.Case {
	var heavy network.Case
	most := unit.Ampere(-1)
	for _, c := range s.Cases() {
		if r := s.Result(c.Name).Cables[g.cable]; c.Kind != network.CapFailed && max(r.Plus.RMS, r.Return.RMS) > most {
			most, heavy = max(r.Plus.RMS, r.Return.RMS), c
		}
	}
	return heavy
}

// load compares the heaviest load of the cable with the rating.
func (g set) load(s *study.Study) study.Assessment {
	heavy := g.heaviest(s)
	worst := s.Result(heavy.Name).Cables[g.cable]
	names, _, _ := g.words()
	amps := max(worst.Plus.RMS, worst.Return.RMS)
	a := study.Upper(float64(amps), float64(g.in), 0, finding.Fails).Fill(heavy.Name, "A", sizingSource.Basis, sizingSource.String())
	a.At = g.place(s).String()
	got, rated := unit.Apart(amps, g.in)
	return a.On(func() []study.Number { return append(s.Carried(heavy, g.cable), g.ratings()...) }).
		Say(fmt.Sprintf("%s carries %s in %s, more than the %s of %s.", g.cable, got, study.CaseWords(heavy), rated, names),
			"Use the next larger fuse that the cable allows, or bring its current home by the cable that sends it.").Worked(func(w *study.Working) {
		poles(w, heavy, worst)
		g.add(w, "I_n", func(n string, guard study.Guard) string {
			w.Stated("I_n"+n, "rating of "+guard.Name, study.Stated(guard.Part, "rating", guard.Fuse.Rating))
			return "I_n" + n
		})
		w.Upper("I", "I_n", 0, finding.Fails)
	})
}

func (g set) rating(s *study.Study, part *parts.Cable, rating parts.Value[unit.Ampere]) study.Assessment {
	iz := izOf(s, g.cable)
	names, feeds, _ := g.words()
	a := study.Upper(float64(g.in), float64(iz), 0, finding.Fails).Fill("", "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
	a.At = g.place(s).String()
	rated, may := unit.Apart(g.in, iz)
	return a.On(func() []study.Number { return append(g.fusings(s), izNumbers(s, g.cable, part, rating)...) }).
		Say(fmt.Sprintf("%s, %s, %s %s; %v may carry %s.%s", names, rated, feeds, g.where(s), part.Area.Is, may, g.far(s)), g.remedy(s, iz, a.Grade)).Worked(func(w *study.Working) {
		g.add(w, "I_n", func(n string, guard study.Guard) string {
			w.Stated("I_n"+n, "rating of "+guard.Name, study.Stated(guard.Part, "rating", guard.Fuse.Rating))
			return "I_n" + n
		})
		mayCarry(w, s, g.cable, part, rating)
		w.Upper("I_n", "I_max", 0, finding.Fails)
	})
}

func (g set) opening(s *study.Study, part *parts.Cable, rating parts.Value[unit.Ampere]) study.Assessment {
	iz := izOf(s, g.cable)
	names, feeds, opens := g.words()
	bears := conductor.Bearable * iz
	a := study.Upper(float64(g.fusing), float64(bears), 0, finding.Danger).Fill("", "A", parts.Weaker(rating.Basis, part.Insulation.Basis), cited(rating.Source))
	a.At = g.place(s).String()
	fusing, borne := unit.Apart(g.fusing, bears)
	return a.On(func() []study.Number { return append(g.fusings(s), izNumbers(s, g.cable, part, rating)...) }).Say(fmt.Sprintf("%s, %v, %s %s and surely %s only from %s on. %v may carry %v and bears %s for an hour: what is between lasts.%s",
		names, g.in, feeds, g.where(s), opens, fusing, part.Area.Is, iz, borne, g.far(s)), g.remedy(s, iz, a.Grade)).Worked(func(w *study.Working) {
		g.add(w, "I_2", func(n string, guard study.Guard) string {
			w.Fusing(s, "I_o"+n, "I_n"+n, n, guard)
			return "I_o" + n
		})
		mayCarry(w, s, g.cable, part, rating)
		w.Taken("k_b", "multiple of what it may carry that a core bears for an hour", study.Plain(conductor.Bearable), sizingSource)
		w.Step("What the cable bears for an hour", "I_b = k_b · I_max")
		w.Upper("I_2", "I_b", 0, finding.Danger)
	})
}

// add works out the sum of one number of each fuse.
func (g set) add(w *study.Working, sign string, each func(n string, guard study.Guard) string) {
	var signs []string
	for i, guard := range g.guards {
		signs = append(signs, each(strconv.Itoa(i+1), guard))
	}
	w.Step("Of all fuses that feed it there", sign+" = "+strings.Join(signs, " + "))
}

// fusings lists what decides from where on the fuses open: whether it is that or the rating alone that is too high rests on it.
func (g set) fusings(s *study.Study) []study.Number {
	var numbers []study.Number
	for _, guard := range g.guards {
		numbers = append(numbers, s.FusingOf(guard)...)
	}
	return numbers
}

func (g set) ratings() []study.Number {
	var numbers []study.Number
	for _, guard := range g.guards {
		numbers = append(numbers, study.Stated(guard.Part, "rating", guard.Fuse.Rating))
	}
	return numbers
}

// remedy says what would do, with so much that the cable may carry; nothing of what passes.
func (g set) remedy(s *study.Study, iz unit.Ampere, grade finding.Grade) string {
	if grade == finding.Pass {
		return ""
	}
	switch {
	case g.fault && len(g.guards) == 1:
		return fmt.Sprintf("Use %s there, if it carries the load, a thicker cable, or have a fuse of %v or less at both ends of the cable.", suited(s, g.guards[0], iz), iz)
	case g.fault:
		return fmt.Sprintf("Have a fuse of %v or less at both ends of the cable, or use a thicker cable.", iz)
	case g.far(s) != "":
		return fmt.Sprintf("Have the cable's fuse where it begins, at %s, or use a thicker cable.", g.place(s))
	case len(g.guards) == 1:
		return fmt.Sprintf("Use %s, if it carries the load, a thicker cable, or give the cable a fuse of its own where it begins.", suited(s, g.guards[0], iz))
	}
	return fmt.Sprintf("Give the cable a fuse of its own of %v or less where it begins, or use a thicker cable.", iz)
}

// suited names the largest fuse of the library that suits a cable in the place of one: of its family and made for as much voltage and as
// large a short, rated no more than the cable may carry, and surely opening at 1.45 times that.
func suited(s *study.Study, g study.Guard, iz unit.Ampere) string {
	best, rating := "", unit.Ampere(0)
	for _, name := range s.Scheme.Library.Names("fuse") {
		part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		alike := ok && remedy.Alike(name, g.Part) && part.Holder == g.Fuse.Holder && part.VoltsMax.Is >= g.Fuse.VoltsMax.Is && part.Breaking.Is >= g.Fuse.Breaking.Is
		if !alike || part.Rating.Is > iz || part.Rating.Is <= rating {
			continue
		}
		other := g
		other.Part, other.Fuse = name, part
		if fusing, known := s.Fusing(other); known && fusing <= conductor.Bearable*iz {
			best, rating = name, part.Rating.Is
		}
	}
	if best == "" {
		return fmt.Sprintf("a fuse of %v or less", iz)
	}
	return fmt.Sprintf("%s or a smaller fuse", best)
}

// refit puts another fuse in the place of one.
func refit(s *study.Study, g study.Guard) []finding.Edit {
	switch _, inline := s.Scheme.Cables[g.At]; {
	case inline:
		return remedy.InlineFuse(s, g.At)
	case s.Scheme.Fuses[g.At] != "":
		return remedy.WayFuse(s, g.At)
	}
	return nil
}

// fix moves the fuse of the cable to this end, where nothing feeds the other; else it refits the one fuse that is too large; else it
// gives the cable one of its own here, or more copper.
func (g set) fix(s *study.Study) []finding.Edit {
	c := s.Scheme.Cables[g.cable]
	if edits := moved(s, g.cable, g.end); edits != nil {
		return edits
	}
	if len(g.guards) == 1 {
		if edits := refit(s, g.guards[0]); edits != nil || !g.fault {
			return edits
		}
	}
	if c.Fuse == "" && len(g.guards) > 1 && c.Pole != scheme.Return {
		if edits := fitted(s, g.cable, g.end); edits != nil {
			return edits
		}
	}
	return remedy.Thicker(s, g.cable, max(g.in, g.fusing/conductor.Bearable))
}

// moved puts the own fuse of a cable from its other end to this one, unless it stands here, or the other is fed as well: one fuse
// will not do then.
func moved(s *study.Study, cable string, end scheme.End) []finding.Edit {
	c := s.Scheme.Cables[cable]
	other := scheme.End("to")
	if end == "to" {
		other = "from"
	}
	if far := s.Network.Behind(cable, other); c.Fuse == "" || (c.FuseAt == "to") == (end == "to") || len(far.Fuses)+len(far.Bare) > 0 {
		return nil
	}
	return []finding.Edit{{Path: finding.Pointer("cables", cable, "fuse_at"), Value: atEnd(end)}}
}

// fitted gives a cable without a fuse one at an end.
func fitted(s *study.Study, cable string, end scheme.End) []finding.Edit {
	edits := remedy.InlineFuse(s, cable)
	if edits == nil || end == "from" {
		return edits
	}
	return append(edits, finding.Edit{Path: finding.Pointer("cables", cable, "fuse_at"), Value: "to"})
}

// more relieves a fuse that carries more than its rating, as one that carries more than it bears for good; where it is the return that
// does, a link that sends current without bringing it home gets a return.
func (g set) more(s *study.Study) []finding.Edit {
	if heavy := s.Result(g.heaviest(s).Name).Cables[g.cable]; heavy.Return.RMS > heavy.Plus.RMS {
		if all := links(s, g.cable); len(all) > 0 {
			return remedy.WithReturn(s, all[0])
		}
	}
	if len(g.guards) > 1 {
		return nil
	}
	if _, inline := s.Scheme.Cables[g.guards[0].At]; inline {
		return remedy.InlineFuse(s, g.guards[0].At)
	}
	return remedy.WayLoad(s, g.guards[0].At)
}

// links lists the links that send current to where a cable is without bringing it home.
func links(s *study.Study, cable string) []string {
	return slices.DeleteFunc(scheme.IDs(s.Scheme.Cables), func(id string) bool {
		c, at := s.Scheme.Cables[id], s.Scheme.Cables[cable]
		return c.Pole != scheme.Plus || !beside(c.To, at) && !beside(c.From, at)
	})
}

// bridged reports whether a cable without a fuse ends at a way without one: there the fuse belongs.
func bridged(s *study.Study, cable string, end scheme.End) bool {
	at := set{cable: cable, end: end}.place(s)
	return at.Kind == scheme.WayRef && s.Scheme.Fuses[at.String()] == "" && s.Scheme.Cables[cable].Fuse == ""
}

// beside reports whether a place is on the run, or at the junction, at an end of a cable.
func beside(at scheme.Ref, c scheme.Cable) bool {
	return (at.Kind == scheme.StationRef || at.Kind == scheme.JunctionRef) && (at.Element == c.From.Element || at.Element == c.To.Element)
}

// izOf is what each pole of a cable may carry, the same in every case.
func izOf(s *study.Study, id string) unit.Ampere { return s.Result(s.Cases()[0].Name).Cables[id].Iz }
