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

// An Ending is how far fuses end an overload of a part with the cap failed. The drive may then be anything up to full, so that the
// current may be anything up to what it is at full drive: what counts is the largest current that may last.
type Ending struct {
	Guards []Guard     // the fuses that must all open
	Shares []float64   // what each carries for an ampere of the part
	Limit  unit.Ampere // what the part may carry
	Amps   unit.Ampere // what it carries at full drive
	Lasts  unit.Ampere // the largest current up to that which may last longer than the part bears it; the limit where none above it does
	Within unit.Second // how soon what is just above the limit has ended
	bears  unit.Second // how long the part bears Amps
	opens  unit.Second // within which all have opened at Amps
}

// Ended reports whether no current above the limit may last.
func (e Ending) Ended() bool { return e.Lasts <= e.Limit }

// Helps reports whether fuses end some of what is above the limit, the current at full drive among it.
func (e Ending) Helps() bool { return e.Lasts < e.Amps }

// Ending is how an overload of a part ends in a case by the fuses through which its current comes: by the best of several ways to be
// relieved, each of which is what feeds the part there. A supply without a fuse goes on feeding it. Bears is for how long the part
// bears a current above its limit: no longer for a larger one.
//
// The fuses are cold and in the coldest air when it begins, and each carries in proportion to the part what it does in the case, but
// together no more than the part: what else hangs on them may be dark or broken. Where a fuse beyond it may open too, the overload may become less: a fuse that feeds
// the part alone then carries no less than the part, and of several none is sure to carry anything.
func (s *Study) Ending(c network.Case, amps, limit unit.Ampere, bears func(unit.Ampere) unit.Second, ways ...network.Behind) Ending {
	best := Ending{Limit: limit, Amps: amps, Lasts: amps, Within: fuse.Never, bears: bears(amps), opens: fuse.Never}
	for i, b := range ways {
		if e := s.endingBy(c, amps, limit, bears, b); i == 0 || e.Lasts < best.Lasts || e.Lasts == best.Lasts && e.Within < best.Within {
			best = e
		}
	}
	return best
}

// Grade is what becomes of the grade of an overload by its ending: tight where all that is above the limit ends in time; where some of
// it may last, as that is graded: for contacts, boards and rails up to 1.2 times the limit it fails, else it is a danger.
func (e Ending) Grade(was finding.Grade, grave bool) finding.Grade {
	switch {
	case e.Ended():
		return finding.Tight
	case e.Helps() && grave:
		return Overload(float64(e.Lasts), float64(e.Limit))
	}
	return was
}

// Patient is for how long contacts, boards and rails bear any current above their rating.
func Patient(unit.Ampere) unit.Second { return Patience }

func (s *Study) endingBy(c network.Case, amps, limit unit.Ampere, bears func(unit.Ampere) unit.Second, b network.Behind) Ending {
	e := Ending{Limit: limit, Amps: amps, Lasts: amps, Within: fuse.Never, bears: bears(amps), opens: fuse.Never}
	var bands []fuse.Band
	for _, name := range b.Fuses {
		g, ok := s.Guard(name)
		band, known := s.Band(g, g.Cold)
		if !ok || !known {
			return e
		}
		e.Guards, e.Shares = append(e.Guards, g), append(e.Shares, s.share(c, g, amps, b.Fuses))
		bands = append(bands, band)
	}
	if len(bands) == 0 || len(b.Bare) > 0 {
		return e
	}
	e.Shares = alone(e.Shares)
	within := func(i unit.Ampere) unit.Second {
		last := unit.Second(0)
		for k, band := range bands {
			last = max(last, band.Opens(i*unit.Ampere(e.Shares[k])))
		}
		return last
	}
	above := next(limit, true)
	e.Within, e.opens, e.Lasts = within(above), within(amps), limit
	for _, i := range s.tops(e, above) {
		if within(i) > bears(i) {
			e.Lasts = max(e.Lasts, i)
		}
	}
	return e
}

// tops are the currents of a part at which to ask: that at full drive and just above the limit, and just below each at which one of
// the fuses comes to another gate. Between two of them fuses open no sooner, and at the upper one the part bears it for least.
func (s *Study) tops(e Ending, above unit.Ampere) []unit.Ampere {
	tops := []unit.Ampere{above, e.Amps}
	for k, g := range e.Guards {
		curve, _ := network.Curve(s.Scheme.Library, g.Fuse)
		factor, _ := curve.Factor(g.Cold)
		for _, gate := range curve.Gates {
			at := unit.Ampere(gate.Multiple*factor*float64(g.Fuse.Rating.Is)) / unit.Ampere(e.Shares[k])
			if below := next(at, false); below > above && below < e.Amps {
				tops = append(tops, below)
			}
		}
	}
	if bearable := conductor.Bearable * e.Limit; bearable > above && bearable < e.Amps {
		tops = append(tops, bearable, next(bearable, true))
	}
	return tops
}

// next is the neighbour of a current, farther off than rounding.
func next(amps unit.Ampere, up bool) unit.Ampere {
	if up {
		return amps * (1 + 1e-9)
	}
	return amps * (1 - 1e-9)
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

// alone are the shares of fuses that together carry no more than the part: what else hangs on them may be dark, or broken.
func alone(shares []float64) []float64 {
	sum := 0.0
	for _, share := range shares {
		sum += share
	}
	for i := range shares {
		shares[i] /= max(sum, 1)
	}
	return shares
}

// share is what a fuse, one of all that feed a part, carries in a case for an ampere of the part.
func (s *Study) share(c network.Case, g Guard, amps unit.Ampere, all []string) float64 {
	carried := s.CarriedBy(g, c)
	ratio := float64(carried.RMS / amps)
	if strings.HasSuffix(g.Name, ".ground fuse") {
		return ratio // nothing is beyond it but its lead
	}
	for _, name := range s.Network.Beyond(g.Name, carried.Mean >= 0) {
		switch {
		case slices.Contains(all, name) || !s.mayOpen(c, name):
		case len(all) > 1:
			return 0
		default:
			return min(ratio, 1)
		}
	}
	return ratio
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

// Words says how far an overload ends, in a sentence that goes on after another.
func (e Ending) Words() string {
	if len(e.Guards) == 0 {
		return "No fuse ends that."
	}
	var names []string
	for _, g := range e.Guards {
		names = append(names, g.Name)
	}
	list, ends, opens := Several(names), "ends", "opens"
	if len(names) > 1 {
		ends, opens = "end", "open"
	}
	switch {
	case e.Ended():
		return fmt.Sprintf("%s surely %s what is above that within %v.", list, ends, e.Within)
	case e.Helps():
		return fmt.Sprintf("%s surely %s it in time only from %v on; what is below may last.", list, ends, e.Lasts)
	case e.opens < fuse.Never:
		return fmt.Sprintf("%s surely %s only within %v; it has %v.", list, opens, e.opens, e.bears)
	}
	return fmt.Sprintf("%s may hold that for ever.", list)
}

// EndedBy lists the numbers that decide how far an overload ends: of each fuse its rating, the gate by which it opens, and what cold air
// makes of its rating.
func (s *Study) EndedBy(e Ending) []Number {
	var numbers []Number
	for i, g := range e.Guards {
		numbers = append(numbers, Stated(g.Part, "rating", g.Fuse.Rating))
		if gate := s.gate(g, e.from(i)); gate != nil {
			numbers = append(numbers, gate[0])
		}
		numbers = append(numbers, s.derated(g)...)
	}
	return numbers
}

// from is what a fuse carries just above the largest current of the part that may last.
func (e Ending) from(guard int) unit.Ampere {
	return next(e.Lasts, true) * unit.Ampere(e.Shares[guard])
}

// GateAt is the gate of a fuse's curve, by its place, just below which a current is, in the coldest air; it is not ok where it is below none.
func (s *Study) GateAt(g Guard, amps unit.Ampere) (gate int, ok bool) {
	curve, there := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	band, known := s.Band(g, g.Cold)
	if !there || !known {
		return 0, false
	}
	for i, at := range curve.Gates {
		if edge := unit.Ampere(at.Multiple) * band.Rating; at.Max.Given && amps < edge && amps > edge*(1-1e-6) {
			return i, true
		}
	}
	return 0, false
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

// derated is what cold air makes of a fuse's rating: the shares that its curve states around that air.
func (s *Study) derated(g Guard) []Number {
	var numbers []Number
	curve, ok := parts.Get[parts.Curve](s.Scheme.Library, g.Fuse.Curve)
	if !ok {
		return nil
	}
	if len(curve.Derating) > 0 && s.Scheme.Site.Coldest == nil && g.Cold == s.Scheme.Coldest() {
		numbers = append(numbers, Number{Key: "site.coldest", Basis: parts.Unstated, Source: fmt.Sprintf("the scheme does not say; %v is taken", g.Cold)})
	}
	return append(numbers, rows(g.Fuse.Curve, curve, g.Cold)...)
}

// rows lists what a curve states of its derating around a temperature: of each row its factor, and its temperature where that is less known.
func rows(name string, curve *parts.Curve, air unit.Celsius) (numbers []Number) {
	for _, i := range around(curve.Derating, air) {
		key, row := fmt.Sprintf("derating.%d.", i+1), curve.Derating[i]
		numbers = append(numbers, Stated(name, key+"factor", row.Factor))
		if row.At.Basis != row.Factor.Basis && parts.Weaker(row.At.Basis, row.Factor.Basis) == row.At.Basis {
			numbers = append(numbers, Stated(name, key+"at", row.At))
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

// Ended works out from which current of a part on fuses surely end it in time, where that helps, and what grade follows: the sign of
// its current and of its limit are known, and t_p, for how long it bears its overload. Grave says whether there is a grade between
// tight and danger, up to 1.2 times the limit.
func (w *Working) Ended(s *Study, c network.Case, e Ending, value, limit string, grave bool) {
	w.Compare(value, limit)
	var ends []string
	for i, g := range e.Guards {
		n := strconv.Itoa(i + 1)
		if e.Shares[i] == 1 {
			w.Taken("q_"+n, "what "+g.Name+" carries at least for what the part does", Plain(1), Source{Title: "Kirchhoff's current law", Basis: parts.Derived})
		} else {
			w.Solved("I_f"+n, "what "+g.Name+" carries at full drive", s.carried(g, c), c)
			w.Step("What "+g.Name+" carries for what the part does", "q_"+n+" = I_f"+n+"/"+value)
		}
		w.Stated("I_n"+n, "rating of "+g.Name, Stated(g.Part, "rating", g.Fuse.Rating))
		w.Cold(s, "k_c"+n, g)
		gate := s.gate(g, e.from(i))
		w.Stated("m_"+n, "multiple of its rating from which on it opens in time", gate[1])
		w.Stated("t_"+n, "within which time", gate[0])
		w.Step("The current from which on "+g.Name+" opens in time", "I_e"+n+" = m_"+n+" · k_c"+n+" · I_n"+n+"/q_"+n)
		ends = append(ends, "I_e"+n)
	}
	w.Step("The current from which on all have opened in time that feed it", "I_e = max("+strings.Join(ends, ", ")+")")
	if grave {
		w.Taken("k_d", "multiple of a rating above which it is a danger", Plain(Grave), GraveSource())
		w.When(finding.Danger, "I_e > k_d · "+limit)
		w.When(finding.Fails, "I_e > "+limit)
	} else {
		w.When(finding.Danger, "I_e > "+limit)
	}
	w.Fact(finding.Tight, "What is above the limit is ended in time.")
}

// carried is what a fuse carries in a case, as a measure.
func (s *Study) carried(g Guard, c network.Case) Measure { return Of(s.CarriedBy(g, c).RMS) }

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
		w.put(sign, means, Of(g.Cold), Origin{Kind: OfScheme, Key: "site.coldest", Basis: parts.Unstated, Source: "the scheme does not say; 0 °C is taken, −20 °C outdoors, or the air of the site where that is colder"})
	}
}
