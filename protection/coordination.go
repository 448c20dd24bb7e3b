package protection

import (
	"fmt"
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
		What: "The fuses through which the current of a cable comes, at every end where it enters in some case, against the load of the cable and against what the cable may carry: load, rating, and the current at which they surely open. Fuses that feed one end in parallel are added up.",
		Why:  "A fuse that is too large for its cable lets an overload last: the cable warms for hours, inside a wall or under a deck, and burns before anything opens.",
		Formula: []string{
			"I_b ≤ I_n ≤ I_z",
			"I_2 ≤ 1.45 · I_z",
			"I_2 = m_o · k_c · I_n",
		},
		Symbols: []study.Symbol{
			{Sign: "I_b", Unit: "A", Means: "heating (rms) current of the heavier pole, in the heaviest state, peak or the dark"},
			{Sign: "I_n", Unit: "A", Means: "rating of the fuse; of several that feed the end in parallel, their sum"},
			{Sign: "I_z", Unit: "A", Means: "what each pole may carry where the cable lies: that of protection/cable-current"},
			{Sign: "I_2", Unit: "A", Means: "least current at which the fuse surely opens in the end; of several, their sum"},
			{Sign: "m_o", Unit: "1", Means: "multiple of the rating at the first gate that says the fuse opens: 1.35 for blade fuses, 2.1 for cartridges, 2 for resettable ones"},
			{Sign: "k_c", Unit: "1", Means: "share of its rating that it has in the coldest air: 1 where its curve states no derating"},
		},
		Sources: []study.Source{sizingSource,
			{Title: "ISO 8820-3", Edition: "2015", Basis: parts.Standard, Says: "a blade fuse surely opens from 1.35 times its rating on", Read: "component studies that quote data sheets"},
			{Title: "IEC 60127-2", Basis: parts.Standard, Says: "a cartridge surely opens from 2.1 times its rating on", Read: "data sheets that print the gates"},
			{Title: "IEC 60364-4-43", Edition: "2008", Clause: "433.2.2", Basis: parts.Memory, Says: "a device against overload may stand anywhere along a conductor without branches: a fuse in the cable guards all of it"},
			{Title: "Kirchhoff's current law", Basis: parts.Derived, Says: "what feeds one end through several fuses may bring the sum of what they let through"},
		},
		Limits: []string{
			"Overloads only: what a sound circuit carries that has too much on it. Shorts are another matter, and so is whether there is a fuse at all at an end (protection/source-fuse).",
			"The fuse is in the coldest air and the cable in the warmest, which is careful where both lie together.",
			"Fuses that reach an end along a run count in full, though its rails would let less through.",
			"The return is taken to carry what the plus does. A link of the return alone is held to the fuses that feed the place that it comes from.",
			"An end that no current enters in any case is not judged, though a fault in the cable would draw from it. One at a way without a fuse is said by protection/way-fuse.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "I_2 is above 1.45 times what the cable may carry"},
			{Grade: finding.Fails, When: "the rating is above what the cable may carry, or the load is above the rating"},
			{Grade: finding.Unknown, When: "a fuse is not chosen yet, or nothing says when it opens; that of a cable without a part is said by protection/cable-current"},
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
		part, rating, ok := rated(s, id)
		if !ok {
			return nil // cable-current says so
		}
		var found []study.Assessment
		for _, end := range entered(s, id) {
			set := guarding(s, id, end)
			if at := set.place(s); at.Kind == scheme.WayRef && s.Scheme.Fuses[at.String()] == "" && s.Scheme.Cables[id].Fuse == "" {
				continue // a bridged holder is where the fuse belongs, and way-fuse says so
			}
			if len(set.guards) > 0 {
				found = append(found, set.judge(s, part, rating)...)
			}
		}
		if found == nil {
			return study.Passes(id + " is fed through no fuse, or carries no current in any case; protection/source-fuse judges what stands at its ends.")
		}
		return found
	},
}

// rated is the part of a cable and what it may carry alone at 30 °C; it is not ok where that is not known.
func rated(s *study.Study, id string) (part *parts.Cable, rating parts.Value[unit.Ampere], ok bool) {
	c := s.Scheme.Cables[id]
	part, ok = parts.Get[parts.Cable](s.Scheme.Library, c.Part)
	if !ok {
		return nil, rating, false
	}
	_, method, _, _ := c.Env(s.Scheme)
	rating = network.Ampacity(part, method)
	return part, rating, rating.Given
}

// trickle is the current below which an end counts as not entered: rounding, and what pixels leak.
const trickle unit.Ampere = 1e-3

// entered lists the ends of a cable at which current enters in some case: by its plus, or by its return where it has no plus.
func entered(s *study.Study, id string) []scheme.End {
	along, against := false, false
	for _, c := range s.Cases() {
		r := s.Result(c.Name).Cables[id]
		mean := r.Plus.Mean
		if s.Scheme.Cables[id].Pole == scheme.Return {
			mean = -r.Return.Mean
		}
		along, against = along || mean > trickle, against || mean < -trickle
	}
	var ends []scheme.End
	if along {
		ends = append(ends, "from")
	}
	if against {
		ends = append(ends, "to")
	}
	return ends
}

// A set is the fuses that guard a cable where its current enters at one end.
type set struct {
	cable  string
	end    scheme.End
	guards []study.Guard
	in     unit.Ampere // their ratings together
	fusing unit.Ampere // what they surely open at, together
	open   string      // one that is not chosen, or of which nothing says when it opens
}

// guarding finds the fuses that guard a cable at an end: its own wherever it stands, for all of the current goes through it, or those
// that feed the end where they would open sooner. There are none where a supply feeds the end without a fuse.
func guarding(s *study.Study, id string, end scheme.End) set {
	own := id + ".fuse"
	best := set{cable: id, end: end}
	if _, fused := s.Guard(own); fused {
		best = newSet(s, id, end, []string{own})
	}
	behind := s.Network.Behind(id, end)
	if len(behind.Fuses) == 0 || len(behind.Bare) > 0 {
		return best
	}
	if other := newSet(s, id, end, behind.Fuses); len(best.guards) == 0 || best.open != "" || other.open == "" && other.fusing < best.fusing {
		return other
	}
	return best
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

func (g set) judge(s *study.Study, part *parts.Cable, rating parts.Value[unit.Ampere]) []study.Assessment {
	if g.open != "" {
		return study.Unknown(fmt.Sprintf("%s Whether it guards %s is not known.", g.open, g.cable), "Choose a fuse whose part names the curve of its family.")
	}
	fix := func() []finding.Edit { return g.fix(s) }
	return []study.Assessment{g.load(s).Fixed(func() []finding.Edit { return g.more(s) }), g.rating(s, part, rating).Fixed(fix), g.opening(s, part, rating).Fixed(fix)}
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
		Say(fmt.Sprintf("%s, %s, %s %s at %s; %v may carry %s.", names, rated, feeds, g.cable, g.place(s), part.Area.Is, may), g.remedy(s, iz)).Worked(func(w *study.Working) {
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
	return a.On(func() []study.Number { return append(g.fusings(s), izNumbers(s, g.cable, part, rating)...) }).Say(fmt.Sprintf("%s, %v, %s %s at %s and surely %s only from %s on. %v may carry %v and bears %s for an hour: what is between lasts.",
		names, g.in, feeds, g.cable, g.place(s), opens, fusing, part.Area.Is, iz, borne), g.remedy(s, iz)).Worked(func(w *study.Working) {
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

// remedy says what would do, with so much that the cable may carry.
func (g set) remedy(s *study.Study, iz unit.Ampere) string {
	if len(g.guards) == 1 {
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

// fix refits the one fuse that is too large; where several feed the end, it gives the cable one of its own, else more copper.
func (g set) fix(s *study.Study) []finding.Edit {
	c := s.Scheme.Cables[g.cable]
	switch {
	case len(g.guards) == 1:
		return refit(s, g.guards[0])
	case c.Fuse == "" && g.end == "from" && c.Pole != scheme.Return:
		if edits := remedy.InlineFuse(s, g.cable); edits != nil {
			return edits
		}
	}
	return remedy.Thicker(s, g.cable, max(g.in, g.fusing/conductor.Bearable))
}

// more relieves a fuse that carries more than its rating, as one that carries more than it bears for good; where it is the return that
// does, a link that sends current without bringing it home gets a return.
func (g set) more(s *study.Study) []finding.Edit {
	if heavy := s.Result(g.heaviest(s).Name).Cables[g.cable]; heavy.Return.RMS > heavy.Plus.RMS {
		for _, id := range scheme.IDs(s.Scheme.Cables) {
			c := s.Scheme.Cables[id]
			if c.Pole == scheme.Plus && (beside(c.To, s.Scheme.Cables[g.cable]) || beside(c.From, s.Scheme.Cables[g.cable])) {
				return remedy.WithReturn(s, id)
			}
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

// beside reports whether a place is on the run, or at the junction, at an end of a cable.
func beside(at scheme.Ref, c scheme.Cable) bool {
	return (at.Kind == scheme.StationRef || at.Kind == scheme.JunctionRef) && (at.Element == c.From.Element || at.Element == c.To.Element)
}

// izOf is what each pole of a cable may carry, the same in every case.
func izOf(s *study.Study, id string) unit.Ampere { return s.Result(s.Cases()[0].Name).Cables[id].Iz }
