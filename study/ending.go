package study

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"farend/conductor"
	"farend/finding"
	"farend/fuse"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// Patience is how long a contact, a board or a rail may carry more than its rating before a fuse has to have ended it, where nothing
// says how fast it warms.
const Patience unit.Second = 60

// PatienceSource says whence Patience is.
func PatienceSource() Source {
	return Source{Title: "common practice, no source", Basis: parts.Practice, Says: "an overload that a fuse surely ends within 60 s does a contact, a board or a rail no harm, where there is no thermal curve"}
}

// An Ending is how an overload ends: the fuses that must all open to end it, what each is sure to carry until it does, and after how
// long they have opened. Within is fuse.Never where it may last.
type Ending struct {
	Guards []Guard
	Amps   []unit.Ampere
	Within unit.Second
}

// Ending is how an overload of a part ends in a case by the fuses through which its current comes: the soonest of several ways to be
// relieved, each of which is what feeds the part there. A supply without a fuse goes on feeding it. Limit is what the part may
// carry.
//
// The fuses are cold and in the coldest air when it begins, and each carries what it does in the case as long as nothing else takes
// some of that away. Where a fuse beyond it may open too, the overload may become less: as long as it is one, a fuse that feeds
// the part alone carries more than the part's limit, and of several none is sure to carry anything.
func (s *Study) Ending(c network.Case, limit unit.Ampere, ways ...network.Behind) Ending {
	best := Ending{Within: fuse.Never}
	for i, b := range ways {
		if e := s.endingBy(c, limit, b); i == 0 || e.Within < best.Within {
			best = e
		}
	}
	return best
}

// Through is by what the current of a cable comes in a case, one way of several: its own fuse, and what feeds the end at which its
// heavier pole is entered. What comes home by the return comes by all that feeds the place that it comes from.
func (s *Study) Through(c network.Case, cable string) []network.Behind {
	var ways []network.Behind
	if s.Scheme.Cables[cable].Fuse != "" {
		ways = append(ways, network.Behind{Fuses: []string{cable + ".fuse"}})
	}
	r := s.Result(c.Name).Cables[cable]
	if r.Return.RMS > r.Plus.RMS*(1+rounding) {
		return []network.Behind{s.Network.Around(cable, entered(-r.Return.Mean))}
	}
	return append(ways, s.Network.Behind(cable, entered(r.Plus.Mean)))
}

// entered is the end at which a current enters that is positive from the from end to the to end.
func entered(mean unit.Ampere) scheme.End {
	if mean < 0 {
		return "to"
	}
	return "from"
}

// rounding is a relative difference of currents that is none.
const rounding = 1e-6

func (s *Study) endingBy(c network.Case, limit unit.Ampere, b network.Behind) Ending {
	e := Ending{Within: fuse.Never}
	last := unit.Second(0)
	for _, name := range b.Fuses {
		g, ok := s.Guard(name)
		if !ok {
			return e
		}
		carried := s.sure(c, g, limit, b.Fuses)
		e.Guards, e.Amps = append(e.Guards, g), append(e.Amps, carried)
		opens := fuse.Never
		if band, known := s.Band(g, g.Cold); known {
			opens = band.Opens(carried)
		}
		last = max(last, opens)
	}
	if len(b.Fuses) > 0 && len(b.Bare) == 0 {
		e.Within = last
	}
	return e
}

// sure is what a fuse, one of all that feed a part, surely carries in a case as long as the part is over its limit.
func (s *Study) sure(c network.Case, g Guard, limit unit.Ampere, all []string) unit.Ampere {
	carried := s.CarriedBy(g, c)
	if strings.HasSuffix(g.Name, ".ground fuse") {
		return carried.RMS // nothing is beyond it but its lead
	}
	for _, name := range s.Network.Beyond(g.Name, carried.Mean >= 0) {
		switch {
		case slices.Contains(all, name) || !s.mayOpen(c, name):
		case len(all) > 1:
			return 0
		default:
			return min(carried.RMS, limit)
		}
	}
	return carried.RMS
}

// mayOpen reports whether a fuse may open in a case that lasts, in its warmest air.
func (s *Study) mayOpen(c network.Case, name string) bool {
	g, ok := s.Guard(name)
	if !ok {
		return false
	}
	band, known := s.Band(g, g.Warm)
	return !known || band.Lasting(s.CarriedBy(g, c).RMS) != fuse.HoldsForEver
}

// Words says how an overload ends, or why none may be sure of it, in a sentence that goes on after another.
func (e Ending) Words(allowed unit.Second) string {
	if len(e.Guards) == 0 {
		return "No fuse ends that."
	}
	var names []string
	for _, g := range e.Guards {
		names = append(names, g.Name)
	}
	list := strings.Join(names, " and ")
	switch {
	case e.Within == fuse.Never && len(names) > 1:
		return fmt.Sprintf("%s may hold that for ever.", list)
	case e.Within == fuse.Never && e.Amps[0] > 0:
		return fmt.Sprintf("%s may hold %v for ever.", list, e.Amps[0])
	case e.Within == fuse.Never:
		return fmt.Sprintf("%s may hold that for ever.", list)
	case e.Within > allowed:
		return fmt.Sprintf("%s surely opens only within %v; it has %v.", list, e.Within, allowed)
	}
	return fmt.Sprintf("%s opens within %v.", list, e.Within)
}

// EndedBy lists the numbers that decide how an overload ends: of each fuse its rating, the gate by which it opens, and what cold air
// makes of its rating.
func (s *Study) EndedBy(e Ending) []Number {
	var numbers []Number
	for i, g := range e.Guards {
		if g.Fuse == nil {
			continue
		}
		numbers = append(numbers, Stated(g.Part, "rating", g.Fuse.Rating))
		if gate := s.gate(g, e.Amps[i]); gate != nil {
			numbers = append(numbers, gate[0])
		}
		numbers = append(numbers, s.derated(g)...)
	}
	return numbers
}

// gate is the gate by which a cold fuse opens at a current: its time, and the multiple of the rating from which on it holds; nothing
// where no gate says that the fuse opens.
func (s *Study) gate(g Guard, amps unit.Ampere) []Number {
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	band, known := s.Band(g, g.Cold)
	if !ok || !known {
		return nil
	}
	opens := band.Opens(amps)
	for i, gate := range curve.Gates {
		if gate.Max.Given && gate.Max.Is == opens {
			return []Number{Stated(g.Fuse.Curve, fmt.Sprintf("gates.%d.max", i+1), gate.Max), s.Multiple(g.Fuse.Curve, i)}
		}
	}
	return nil
}

// derated is what cold air makes of a fuse's rating: the shares that its curve states around that air, where they differ from all.
func (s *Study) derated(g Guard) []Number {
	var numbers []Number
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	if !ok {
		return nil
	}
	for _, i := range around(curve.Derating, g.Cold) {
		if d := curve.Derating[i]; d.Factor.Is != 1 {
			numbers = append(numbers, Stated(g.Fuse.Curve, fmt.Sprintf("derating.%d.factor", i+1), d.Factor))
		}
	}
	return numbers
}

// around are the rows of a derating between which, or at which, a temperature is; the nearest beyond them.
func around(rows []parts.Derate, air unit.Celsius) []int {
	i := slices.IndexFunc(rows, func(d parts.Derate) bool { return air <= d.At.Is })
	switch {
	case len(rows) == 0:
		return nil
	case i < 0:
		return []int{len(rows) - 1}
	case i == 0 || air == rows[i].At.Is:
		return []int{i}
	}
	return []int{i - 1, i}
}

// Ended works out how an overload ends, and asks whether that is within a time which has a sign already: it is tight then.
func (w *Working) Ended(s *Study, c network.Case, e Ending, allowed string) {
	var times []string
	for i, g := range e.Guards {
		n := strconv.Itoa(i + 1)
		w.Solved("I_f"+n, "what "+g.Name+" is sure to carry", Of(e.Amps[i]), c)
		w.Stated("I_n"+n, "rating of "+g.Name, Stated(g.Part, "rating", g.Fuse.Rating))
		w.Cold(s, "k_c"+n, g)
		w.Step("What "+g.Name+" carries over its rating in the coldest air", "m_"+n+" = I_f"+n+"/(k_c"+n+" · I_n"+n+")")
		gate := s.gate(g, e.Amps[i])
		w.Stated("t_"+n, fmt.Sprintf("time within which it has opened from %v times its rating on", gate[1].Is.is), gate[0])
		times = append(times, "t_"+n)
	}
	w.Step("When all have opened that feed it", "t_o = max("+strings.Join(times, ", ")+")")
	w.When(finding.Tight, "t_o ≤ "+allowed)
}

// ConventionalSource says how long a core may carry more than its ampacity.
func ConventionalSource() Source {
	return Source{Title: "IEC 60364-4-43", Edition: "2008", Clause: "433.1", Basis: parts.Memory, Says: "a core bears up to 1.45 times its ampacity for the conventional time of the device, an hour for fuses up to 63 A (IEC 60269-1)"}
}

// WarmingSource says how fast a core warms that gives off no heat.
func WarmingSource() Source {
	return Source{Title: "IEC 60364-5-54", Clause: "annex A; IEC 60949", Basis: parts.Standard, Says: "copper that gives off no heat is warmed by I²t = (226 A√s/mm² · S)² · ln((T + 234.5 °C)/(T_0 + 234.5 °C))", Read: "pages on both, whose every factor k the formula gives again"}
}

// AdiabaticSource says what a core stands in a short.
func AdiabaticSource() Source {
	return Source{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.5.2 and table 43A", Basis: parts.Standard, Says: "copper in PVC stands I²t = (115 A√s/mm² · S)² in a short of 0.1 s to 5 s", Read: "pages on the clause, and on factors k"}
}

// Bears works out how long a core bears a current, as conductor.Core.Bears does: it makes t_p known. The signs I, T_a and T_max are known;
// so many cores of an area share the current.
func (w *Working) Bears(core conductor.Core, amps unit.Ampere, cores int, area Number) {
	if amps <= conductor.Bearable*core.Iz {
		w.Taken("t_p", "how long it bears up to 1.45 times what it may carry", Of(conductor.Conventional), ConventionalSource())
		return
	}
	w.Taken("k_b", "multiple of what it may carry that it bears for an hour", Plain(conductor.Bearable), ConventionalSource())
	w.Step("Share of its resistance at T_max that comes of its being warmer than the air", "b = (T_max − T_a)/(T_max + 234.5 °C)")
	w.Step("How warm it would get from that in the end", "T_b = (T_a + 234.5 °C · b · k_b²)/(1 − b · k_b²)")
	w.Stated("S", "cross-section of a core", area)
	w.Counted("n", "its cores in parallel, each pole", cores)
	w.Step("When it is as warm, from T_max on, if it gave off no heat ("+WarmingSource().String()+")", "t_w = (226 A√s/mm² · n · S/I)² · ln((T_b + 234.5 °C)/(T_max + 234.5 °C))")
	if _, short := conductor.Withstand(core.Limit, 1); !short {
		w.Step("How long it bears it", "t_p = min(3600 s, t_w)")
		return
	}
	w.Step("What it stands in a short ("+AdiabaticSource().String()+")", "t_k = min(5 s, (115 A√s/mm² · n · S/I)²)")
	w.Step("How long it bears it", "t_p = max(min(3600 s, t_w), t_k)")
}

// Cold works out what share of its rating a fuse has in the coldest air.
func (w *Working) Cold(s *Study, sign string, g Guard) {
	curve, known := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	if !known || len(curve.Derating) == 0 {
		w.put(sign, "share of its rating in the coldest air: all, for no derating is stated", Plain(1), Origin{Kind: OfPart, Part: g.Part, Key: "curve", Basis: g.Fuse.Basis, Source: g.Fuse.Source})
		return
	}
	rows := around(curve.Derating, g.Cold)
	for i, row := range rows {
		d, key, n := curve.Derating[row], fmt.Sprintf("derating.%d.", row+1), strconv.Itoa(i+1)
		w.Stated("T_"+n, "a temperature for which its curve states a share", Stated(g.Fuse.Curve, key+"at", d.At))
		w.Stated("k_"+n, fmt.Sprintf("share of its rating in air of %v", d.At.Is), Stated(g.Fuse.Curve, key+"factor", d.Factor))
	}
	const what = "Share of its rating in the coldest air"
	if len(rows) == 1 {
		w.Step(what, sign+" = k_1")
		return
	}
	w.coldest(s, "T_c", g)
	w.Step(what+", on a straight line between two temperatures", sign+" = k_1 + (k_2 − k_1) · (T_c − T_1)/(T_2 − T_1)")
}

// coldest takes the coldest air around a fuse.
func (w *Working) coldest(s *Study, sign string, g Guard) {
	const means = "coldest air around it"
	switch at := s.Scheme.Site.Coldest; {
	case g.Cold < s.Scheme.Coldest():
		w.Written(sign, means, Of(g.Cold), "cables."+g.At+".ambient", s.Scheme.Place("cables", g.At, "ambient"))
	case at != nil:
		w.Written(sign, means, Of(*at), "site.coldest", s.Scheme.Place("site", "coldest"))
	default:
		w.put(sign, means, Of(g.Cold), Origin{Kind: OfScheme, Key: "site.coldest", Basis: parts.Unstated, Source: "the scheme does not say; 0 °C is taken, or the air of the site where that is colder"})
	}
}
