package protection

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"sync"

	"farend/conductor"
	"farend/finding"
	"farend/fuse"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// pinchedSource is the source of study.Pinched.
var pinchedSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a pinched strand or a wet joint has about 0.1 Ω"}

// railsSource is the source of how warm rails get.
var railsSource = study.Source{Title: "IPC-2221A", Clause: "6.2, curve fit to figure 6-4", Basis: parts.Standard, Says: "the rise of a trace goes with its current to the power 1/0.44, up to 100 K", Read: "several pages of trace-width formulas that agree"}

// foilSource is the source of what takes rails to the temperature of a short.
var foilSource = study.Source{Title: "IEC 60949", Basis: parts.Derived, Says: "I²t that takes copper from the air's temperature to 160 °C if no heat leaves it, (226 · S)² · ln((234.5 + 160)/(234.5 + T_a)) with S in mm²; of rails as thin as the upper end of their resistance makes them, at 17.241 nΩ·m (IEC 60028)"}

var shortHeat = study.Rule{
	Name: "protection/short-heat", Title: "Conductor in a fault", Scope: study.Copper, Safety: true, Reads: study.AsTimes,
	Doc: study.Doc{
		What: "Every conductor of a thing, in every fault that was followed, in every order in which fuses may open, against what it bears until the fault has ended, and for ever where it goes on.",
		Why:  "A fuse that opens late, or never, lets the thinnest copper on the way to a short glow: a rail on a tape, a data ground, a terminal.",
		Formula: []string{
			"I_l ≤ I_b where the fault may go on",
			"Q = I_1² · t_1/K_s + … ≤ 1 until it has ended",
		},
		Symbols: []study.Symbol{
			{Sign: "I_l", Unit: "A", Means: "the most that it may carry for ever, or, of a contact that bears no more than its rating, for longer than 60 s"},
			{Sign: "I_b", Unit: "A", Means: "what it bears then: of a core that fuses suit (433.1) 1.45 times what it may carry, of any other what it may carry; of rails what makes them 115 °C; of a contact its rating, or 1.45 times that where it has a fuse to itself that is no larger, or is a return that brings home no more than such a plus sends"},
			{Sign: "Q", Unit: "1", Means: "share of what it bears that all stages of the fault use up together"},
			{Sign: "I_1", Unit: "A", Means: "what it carries until the first fuse opens, and so on"},
			{Sign: "t_1", Unit: "s", Means: "how long that may take: the slow edge of the fuse, cold and in the coldest air, or less: so long that it lets through no more I²t than at a gate below"},
			{Sign: "K_s", Unit: "A2s", Means: "I²t that it stands: of a core k²S² with k = 115 A√s/mm²; of rails what takes their copper to 160 °C; a contact bears any overload for 60 s instead"},
		},
		Sources: []study.Source{
			sizingSource, study.AdiabaticSource(), foilSource, railsSource, study.ScorchingSource(), study.PatienceSource(), study.GraveSource(), pinchedSource,
			{Title: "ISO 8820-3, IEC 60127-2", Basis: parts.Standard, Says: "when fuses open: between gates only the time of the lower one is guaranteed"},
			meltSource,
		},
		Limits: []string{
			"A fault is struck at every end of a cable, every place where one lands on a run, both ends of every run, the mark nearest the middle of each piece between, every way, inlet, junction and supply; bolted, and over 0.1 Ω; in the dark and with the cap failed, with the least and with the most that may flow (docs/faults.md).",
			"Between these places and resistances something may last longer. Where a contact or rails have a fuse to themselves, what that lets through just below each of its gates counts too; not of the ground of a port, whose fuse ends no short.",
			"Fuses that the fault does not act on do what they do without it. Where more than 64 states may follow each other in one strike, what comes of the last is followed only as fuses surely open.",
			"Rails are taken as copper that gives off no heat, as far as they would be hotter than 115 °C in the end: the base, the glue and the profile take much of it, and nothing says how much. The place of the fault itself may glow whatever is done; how much power it may have for ever is noted by protection/silent-power.",
			"What the landing of a feed the wrong way round does is a note at most: it takes a second mistake, not to find it before all is switched on. What the loss of one thing does is judged by protection/lost-return and protection/lost-conductor; the loss of several at once is not followed.",
			"Metalwork leads to the minus of the supply without resistance, of several to the first. The terminals of supplies, capacitors and what a port's driver bears are not judged.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "I_l is above I_b, or Q above 1; of a contact without such a fuse above 1.2 times its rating, of a core that no fuse suits above 1.45 times what it may carry"},
			{Grade: finding.Fails, When: "a contact without such a fuse carries up to 1.2 times its rating for longer than 60 s, or a core that no fuse suits up to 1.45 times what it may carry for ever"},
			{Grade: finding.Tight, When: "Q is above 0.8, or I_l of rails above 0.8 of I_b"},
			{Grade: finding.Note, When: "either is above its limit because a feed landed the wrong way round"},
		},
		Example: study.Example{
			Given: []string{
				"4 m of tape, whose rails have 100 mΩ/m and may carry 2 A, which warms them by 10 K, are fed through a blade fuse of 5 A, in air of 35 °C. Copper of 17.241 nΩ·m and 100 mΩ/m has 0.17241 mm². 4.99 A make it 115 °C.",
				"Just below 1.6 times its rating the fuse may take 1800 s, as at 1.35 times, and lets through no more I²t than there.",
			},
			Sums: []string{
				"1.6 × 5 A = 8 A",
				"1800 s × (1.35 × 5 A/8 A)² = 1281 s",
				"(226 A√s/mm² × 0.17241 mm²)² × ln((160 °C + 234.5 °C)/(35 °C + 234.5 °C)) = 578.5 A²s",
				"(8 A)² × 1281 s/578.5 A²s = 142",
			},
			Value: "142", Limit: "1", Grade: finding.Danger,
			Says: "In a short of the right resistance the fuse lets the rails glow.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		t := s.Struck()
		if t == nil {
			return nil // protection/faults says so
		}
		var found []study.Assessment
		for _, i := range t.Of(id) {
			h := t.Harm(i)
			found = append(found, harmed(s, t, h, harmRemedy(h), func() []finding.Edit { return remedy.Harmed(s, h) }))
		}
		if found == nil {
			return study.Passes("No part says what " + id + " may carry; the rules that judge its load ask for it.")
		}
		return found
	},
}

// A followed is all faults, or all outages, as they were followed.
type followed interface {
	Trail(ctx context.Context, h study.Harm, lasting bool) []study.Spell
	Carries(b *study.Bearer) unit.Ampere
}

// harmed is the assessment of what the worst fault or outage does to a conductor, with what would do.
func harmed(s *study.Study, t followed, harm study.Harm, would string, fix func() []finding.Edit) study.Assessment {
	h := told{harm, sync.OnceValue(func() []study.Spell { return t.Trail(context.Background(), harm, harm.Verdict.Lasting) })}
	v := h.Verdict
	a := study.Assessment{Value: &v.Value, Limit: &v.Limit, Grade: v.Grade, Unit: "A", Basis: h.Bearer.Rating.Basis, Source: h.Bearer.Rating.Source}
	if !v.Lasting {
		a.Unit = "1"
	}
	if v.Value > 0 {
		margin := v.Limit/v.Value - 1
		a.Margin = &margin
	}
	if h.Strike != nil {
		a.Case, a.At = h.Strike.Case.Name, h.Strike.Case.Fault.At
		if out := h.Strike.Case.Out; out != "" {
			a.At = out
		}
	}
	if a.Grade != finding.Pass {
		a = a.Say(harmWords(h), would).Fixed(fix)
	}
	return a.On(func() []study.Number { return harmNumbers(s, h) }).Worked(func(w *study.Working) { harmTrace(w, s, t, h) })
}

// harmWords tells what happens, in which fault, and what the conductor bears.
func harmWords(h told) string {
	var b strings.Builder
	v, name := h.Verdict, h.Bearer.Name
	lasts, may := h.Amps.String(), h.Bearer.Limit.String()
	if v.Lasting {
		lasts, may = unit.Apart(unit.Ampere(v.Value), h.Bearer.Limit)
	}
	switch {
	case h.Guard != nil && v.Lasting && !h.Ever():
		fmt.Fprintf(&b, "%s lets %s carry %s for longer than %v, if the resistance of a short is such: only above that it surely opens sooner.", h.Guard.Name, name, lasts, study.Patience)
	case h.Guard != nil && v.Lasting:
		fmt.Fprintf(&b, "%s lets %s carry %s for ever, if the resistance of a short is such: it surely opens only above that.", h.Guard.Name, name, lasts)
	case h.Guard != nil:
		fmt.Fprintf(&b, "%s lets %s carry %v for %v, if the resistance of a short is such: only above that it surely opens sooner.", h.Guard.Name, name, h.Amps, h.Within)
	case v.Lasting && !h.Ever():
		fmt.Fprintf(&b, "%s carries %s for longer than %v %s, %s%s.", name, lasts, study.Patience, study.WrongWords(h.Strike.Case), study.StruckWords(h.Strike.Case), story(h.trail()))
	case v.Lasting:
		fmt.Fprintf(&b, "%s carries %s for ever %s, %s%s.", name, lasts, study.WrongWords(h.Strike.Case), study.StruckWords(h.Strike.Case), story(h.trail()))
	default:
		fmt.Fprintf(&b, "%s carries up to %v %s, %s%s.", name, h.most(), study.WrongWords(h.Strike.Case), study.StruckWords(h.Strike.Case), story(h.trail()))
	}
	b.WriteString(" " + bearsWords(h, may))
	if h.Remote {
		b.WriteString(" That takes a second mistake: not to check the polarity before all is switched on.")
	}
	if h.Strike != nil && len(h.Strike.Held) > 0 && h.Strike.Case.Out == "" {
		fmt.Fprintf(&b, " Only the limit of %s keeps it from being more.", study.Several(h.Strike.Held))
	}
	return b.String()
}

// A told harm is one with how it comes about, which is followed again when that is asked for.
type told struct {
	study.Harm
	trail func() []study.Spell
}

// most is what the conductor carries at most on the way that is told; another order of the same fuses may make it more for a shorter time.
func (h told) most() unit.Ampere {
	largest := unit.Ampere(0)
	for _, s := range h.trail() {
		largest = max(largest, s.Amps)
	}
	if largest == 0 {
		return h.Amps
	}
	return largest
}

// story tells in which order fuses open, and what the conductor carries meanwhile.
func story(spells []study.Spell) string {
	var told []string
	for _, s := range spells {
		amps := s.Amps.String()
		if s.Pulse {
			amps += " (rms of pulses)"
		}
		switch {
		case s.Opens != "" && s.For == fuse.Never:
			told = append(told, fmt.Sprintf("%s until %s opens, which it may or may not", amps, s.Opens))
		case s.Opens != "":
			told = append(told, fmt.Sprintf("%s until %s opens, %s", amps, s.Opens, study.Lasting(s.For)))
		case s.For == fuse.Never && s.Over && len(spells) == 1:
			return ", since nothing surely opens"
		case s.For == fuse.Never && s.Over:
			told = append(told, fmt.Sprintf("%s for ever, since nothing more surely opens", amps))
		}
	}
	const most = 4
	if len(told) > most {
		return ": " + strings.Join(told[:most], "; then ") + "; and so on"
	}
	if len(told) == 0 {
		return ""
	}
	return ": " + strings.Join(told, "; then ")
}

// bearsWords says what a conductor bears, and what it may carry.
func bearsWords(h told, may string) string {
	b, v := h.Bearer, h.Verdict
	_, bears := unit.Apart(unit.Ampere(v.Value), unit.Ampere(v.Limit))
	switch {
	case v.Lasting && b.Kind == study.OfCore && h.Guarded:
		return fmt.Sprintf("Its core may carry %s, and bears 1.45 times that, %s.", may, bears)
	case v.Lasting && b.Kind == study.OfCore:
		return fmt.Sprintf("Its core may carry %s for ever; no fuse that suits it keeps it to what it bears for an hour, 1.45 times that.", may)
	case v.Lasting && b.Kind == study.OfRails && b.Hot > 0:
		return fmt.Sprintf("Its rails may carry %s, and are 115 °C from %s on.", may, bears)
	case b.Kind == study.OfCore:
		return fmt.Sprintf("That is %s what it bears.", multiple(v.Value))
	case b.Kind == study.OfRails && b.Hot > 0:
		return fmt.Sprintf("That is %s the %v that it stands.", multiple(v.Value), b.Stands)
	case b.Paired:
		return fmt.Sprintf("It may carry %s, and bears what its fuse lets through up to twice that.", may)
	case h.Guarded:
		return fmt.Sprintf("It may carry %s, and bears what the fuse of its plus lets through up to twice that.", may)
	}
	return fmt.Sprintf("It may carry %s, and bears more for 60 s.", may)
}

// multiple is a share before "what it bears": 98 % of, or 30 times.
func multiple(share float64) string {
	if share < 1.005 {
		return times(min(share, 1)) + " of"
	}
	return times(share)
}

// times is a share in words: 0.9 or 30 times.
func times(share float64) string {
	if share <= 1 {
		return unit.Ratio(share).String()
	}
	return unit.Number(share, 3) + " times"
}

// harmRemedy says what would do.
func harmRemedy(h study.Harm) string {
	switch {
	case h.Remote:
		return "Check the polarity of every feed before its fuse goes in."
	case h.Bearer.Kind == study.OfRails:
		return "Use smaller fuses in its feeds; where several feed one piece of its positive, cut the positive between them, so that each piece has a fuse to itself."
	case h.Bearer.Kind == study.OfCore:
		return "Use a smaller fuse before it, a thicker or shorter one, or a fuse nearer to its end."
	}
	return "Use a smaller fuse before it, or a part that may carry more; where several feeds join on a run, cut its positive between them."
}

// harmNumbers lists what decides it: what the conductor bears, and when the fuses open that are in the way.
func harmNumbers(s *study.Study, h told) []study.Number {
	var numbers []study.Number
	if h.Bearer.Rating.Key != "" {
		numbers = append(numbers, h.Bearer.Rating)
	}
	if tape := s.Scheme.Tape(h.Bearer.Name); tape != nil {
		name := s.Scheme.Runs[h.Bearer.Name].Tape
		numbers = append(numbers, study.Stated(name, "rail", tape.Rail))
		if tape.RailRise.Given {
			numbers = append(numbers, study.Stated(name, "rail_rise", tape.RailRise))
		}
	}
	switch {
	case h.Guard != nil:
		numbers = append(numbers, s.FusingOf(*h.Guard)...)
	case h.Strike != nil:
		for _, p := range h.Strike.Phases {
			for _, name := range p.Opens {
				if g, ok := s.Guard(name); ok {
					numbers = append(numbers, s.FusingOf(g)...)
				}
			}
		}
		if h.Strike.Case.Fault.Ohms > 0 {
			numbers = append(numbers, study.Taken("0.1 Ω of a pinched strand", pinchedSource))
		}
	}
	return append(numbers, s.Ambient()...)
}

// harmTrace works it out.
func harmTrace(w *study.Working, s *study.Study, t followed, h told) {
	b, v := h.Bearer, h.Verdict
	if h.Strike == nil && h.Guard == nil {
		w.Taken("I_m", "the most that anything which goes wrong makes "+b.Name+" carry, if it makes it carry more than before", study.Of(h.Amps), solvedSource)
		rated(w, s, b)
		w.Compare("I_m", "I_r")
		w.When(finding.Danger, "I_m > I_r")
		return
	}
	if v.Lasting {
		lastingTrace(w, s, t, h)
	} else {
		spentTrace(w, s, t, h)
	}
}

// solvedSource says whence what a fault drives is.
var solvedSource = study.Source{Title: "solved", Basis: parts.Derived, Says: "the operating point of the scheme with what is wrong in it, once some fuses have opened"}

// rated works out I_r, what a conductor may carry for ever.
func rated(w *study.Working, s *study.Study, b *study.Bearer) {
	n := b.Rating
	cable, power := s.Scheme.Cables[b.Owner]
	switch {
	case b.Kind == study.OfCore && power:
		if part, rating, ok := ratedCable(s, b.Owner); ok {
			mayCarry(w, s, b.Owner, part, rating)
			w.Step("What it may carry", "I_r = I_max")
		}
		return
	case b.Kind == study.OfCore:
		w.Stated("I_30", "what one core may carry, alone in conduit in air of 30 °C", n)
		insulation, _ := parts.Get[parts.Cable](s.Scheme.Library, n.Part)
		w.Stated("T_max", "what its insulation stands for ever", study.Stated(n.Part, "insulation", insulation.Insulation))
		w.Lying(s, nil)
		w.Step("What it may carry where it lies", "I_r = I_30 · √((T_max − T_a)/(T_max − 30 °C))")
		return
	}
	w.Stated("I_n", "what is stated that it may carry", n)
	share := float64(b.Limit) / n.Value()
	if share == 1 {
		w.Step("What it may carry", "I_r = I_n")
		return
	}
	means := "share of that which counts: the lower end of its spread"
	if cable.CoresPerPole > 1 || strings.Contains(b.Name, " contact ") {
		means += ", for every core of the pole"
	}
	w.Taken("k_l", means, study.Plain(share), study.Source{Title: n.Source, Basis: n.Basis})
	w.Step("What it may carry", "I_r = k_l · I_n")
}

// borne works out I_b, what a conductor bears when a fault goes on.
func borne(w *study.Working, s *study.Study, h told) {
	b := h.Bearer
	rated(w, s, b)
	switch {
	case b.Kind == study.OfRails && b.Hot > 0:
		name, tape := s.Scheme.Runs[b.Name].Tape, s.Scheme.Tape(b.Name)
		w.Stated("dT", "how much warmer that makes them", study.Stated(name, "rail_rise", tape.RailRise))
		w.Taken("T_s", "how warm they may get in a fault", study.Of(study.Scorching), study.ScorchingSource())
		w.Air(s, "T_a", "air around them", nil)
		w.Step("What makes them as warm, for ever ("+railsSource.String()+")", "I_b = I_r · (min(T_s − T_a, 100 K)/dT)^0.44")
	case b.Kind == study.OfCore && h.Bears() == 0:
		w.Step("What it bears for ever, without a fuse that suits it", "I_b = I_r")
	case h.Bears() > 0:
		w.Taken("k_b", "multiple of what it may carry that it bears", study.Plain(conductor.Bearable), sizingSource)
		w.Step("What it bears", "I_b = k_b · I_r")
	default:
		w.Step("What it bears for longer than a minute", "I_b = I_r")
	}
}

func lastingTrace(w *study.Working, s *study.Study, t followed, h told) {
	b, v := h.Bearer, h.Verdict
	amps := unit.Ampere(v.Value)
	if h.Guard != nil {
		w.Taken("I_m", "the most that anything which goes wrong makes it carry", study.Of(t.Carries(b)), solvedSource)
		gated(w, s, h.Guard, amps, "I_l")
	} else {
		var opened []string
		for _, spell := range h.trail() {
			if spell.Opens != "" {
				opened = append(opened, spell.Opens)
			}
		}
		means := "what then lasts in it"
		switch {
		case !h.Ever():
			means = "what it carries for longer than a minute until " + study.Several(opened) + map[bool]string{true: " have", false: " has"}[len(opened) > 1] + " opened"
		case opened != nil:
			means += " once " + study.Several(opened) + " opened"
		}
		w.Solved("I_l", fmt.Sprintf("%s %s, %s", means, study.WrongWords(h.Strike.Case), study.StruckWords(h.Strike.Case)), study.Of(amps), h.Strike.Case)
	}
	borne(w, s, h)
	w.Compare("I_l", "I_b")
	switch {
	case h.Remote:
		w.When(finding.Note, "I_l > I_b")
		return
	case b.Kind == study.OfCore && h.Bears() == 0:
		w.Taken("k_d", "multiple of what it may carry that it bears for an hour", study.Plain(conductor.Bearable), sizingSource)
		w.When(finding.Danger, "I_l > k_d · I_b")
		w.When(finding.Fails, "I_l > I_b")
	case h.Bears() == 0:
		w.Taken("k_d", "multiple of a rating above which it is a danger", study.Plain(study.Grave), study.GraveSource())
		w.When(finding.Danger, "I_l > k_d · I_b")
		w.When(finding.Fails, "I_l > I_b")
	default:
		w.When(finding.Danger, "I_l > I_b")
	}
	if b.Kind == study.OfRails && h.Bears() > 0 {
		w.When(finding.Tight, "I_l > "+strconv.FormatFloat(study.Worn, 'g', 3, 64)+" · I_b")
	}
}

// gated works out the most that a fuse lets through up to a current: just below one of its gates, or all there is (I_m).
func gated(w *study.Working, s *study.Study, g *study.Guard, amps unit.Ampere, sign string) {
	i, ok := s.GateAt(*g, amps)
	if !ok {
		w.Step("What it carries", sign+" = I_m")
		return
	}
	w.Stated("I_f", "rating of "+g.Name, study.Stated(g.Part, "rating", g.Fuse.Rating))
	w.Stated("m_f", "multiple of its rating from which on it surely opens sooner", s.Multiple(g.Fuse.Curve, i))
	w.Cold(s, "k_c", *g)
	w.Step("What it lets through just below that", sign+" = min(I_m, m_f · k_c · I_f)")
}

func spentTrace(w *study.Working, s *study.Study, t followed, h told) {
	b, v := h.Bearer, h.Verdict
	spells := []study.Spell{{For: h.Within, Melts: h.Melts, Amps: h.Amps, Share: h.Share}}
	if h.Strike != nil {
		spells = h.trail()
	} else {
		w.Taken("I_m", "the most that anything which goes wrong makes it carry", study.Of(t.Carries(b)), solvedSource)
	}
	rated(w, s, b)
	stands(w, s, b)
	var parts []string
	for _, spell := range spells {
		if spell.Share > 0 {
			n := strconv.Itoa(len(parts) + 1)
			spent(w, s, h, spell, n)
			parts = append(parts, "Q_"+n)
		}
	}
	if parts == nil {
		w.Taken("Q_1", "share that it uses up", study.Plain(v.Value), solvedSource)
		parts = []string{"Q_1"}
	}
	w.Step("What all of that uses up", "Q = "+strings.Join(parts, " + "))
	w.Taken("Q_b", "all that it bears", study.Plain(1.0), nothingNeeded("that is what bearing means"))
	w.Compare("Q", "Q_b")
	switch {
	case h.Remote:
		w.When(finding.Note, "Q > Q_b")
		return
	case h.Bears() == 0 && b.Kind != study.OfCore && v.Value > 1:
		w.Taken("I_k", "the most that it carries meanwhile", study.Of(h.Amps), solvedSource)
		w.Taken("k_d", "multiple of a rating above which it is a danger", study.Plain(study.Grave), study.GraveSource())
		w.When(finding.Danger, "I_k > k_d · I_r")
		w.When(finding.Fails, "Q > Q_b")
	default:
		w.When(finding.Danger, "Q > Q_b")
	}
	w.When(finding.Tight, "Q > "+strconv.FormatFloat(study.Worn, 'g', 3, 64)+" · Q_b")
}

// stands takes or works out K_s, the I²t that copper stands.
func stands(w *study.Working, s *study.Study, b *study.Bearer) {
	switch b.Kind {
	case study.OfCore:
		w.Taken("S", "copper of its pole, all cores together", study.Of(b.Area()), study.Source{Title: b.Rating.Part, Basis: b.Rating.Basis})
		if _, table := conductor.Withstand(limitOf(s, b), b.Area()); table {
			w.Step("What it stands in a short ("+study.AdiabaticSource().String()+")", "K_s = (115 A√s/mm² · S)²")
			return
		}
		w.Taken("K_s", "what takes it from its limit to 160 °C if no heat leaves it", study.Of(b.Stands), study.WarmingSource())
	case study.OfRails:
		w.Taken("K_s", "what takes its thinner rail from the air's temperature to 160 °C if no heat leaves it", study.Of(b.Stands), foilSource)
	}
}

// limitOf is what the insulation of a core stands for ever.
func limitOf(s *study.Study, b *study.Bearer) unit.Celsius {
	part, ok := parts.Get[parts.Cable](s.Scheme.Library, b.Rating.Part)
	if !ok {
		return 0
	}
	return part.Insulation.Is
}

// spent works out the share of one stage.
func spent(w *study.Working, s *study.Study, h told, spell study.Spell, n string) {
	b := h.Bearer
	if h.Guard != nil {
		gated(w, s, h.Guard, spell.Amps, "I_"+n)
	} else {
		until := "nothing more opens"
		if spell.Opens != "" {
			until = spell.Opens + " opens"
		}
		w.Solved("I_"+n, fmt.Sprintf("what it carries until %s, %s, %s", until, study.WrongWords(h.Strike.Case), study.StruckWords(h.Strike.Case)), study.Of(spell.Amps), h.Strike.Case)
	}
	w.Taken("t_"+n, "how long that may take: by the gate of its curve some fuse has surely opened then, cold and in the coldest air", study.Of(spell.For), gateSource)
	heat := "I_" + n + "² · t_" + n + "/K_s"
	if spell.Melts < spell.For {
		w.Taken("t_h"+n, "how much of t_"+n+" counts for what it warms: the fuse lets through no more I²t than at a gate below", study.Of(spell.Melts), meltSource)
		heat = "I_" + n + "² · t_h" + n + "/K_s"
	}
	switch {
	case bounded(b, spell):
		w.Taken("t_b"+n, "for how long it bears that", study.Of(b.Bound(spell.Amps)), study.ConventionalSource())
		w.Step("Its share, which is less than that of I²t", "Q_"+n+" = t_"+n+"/t_b"+n)
	case b.Kind == study.OfCore, b.Hot > 0:
		w.Step("Its share", "Q_"+n+" = "+heat)
	case b.Kind == study.OfRails && b.Stands > 0 && spell.Amps > 3*b.Limit:
		w.Taken("t_p", "how long it bears an overload", study.Of(study.Patience), study.PatienceSource())
		w.Step("Its share", "Q_"+n+" = max(t_"+n+"/t_p, "+heat+")")
	default:
		w.Taken("t_p", "how long it bears an overload", study.Of(study.Patience), study.PatienceSource())
		w.Step("Its share", "Q_"+n+" = t_"+n+"/t_p")
	}
}

// bounded reports whether a core bears a stage by how long it bears its current, which is more than k²S² says.
func bounded(b *study.Bearer, spell study.Spell) bool {
	if b.Kind != study.OfCore || spell.For <= conductor.AdiabaticTo {
		return false
	}
	heat := float64(spell.Amps*spell.Amps) * float64(spell.Melts)
	return float64(spell.For) < heat/float64(b.Stands)*float64(b.Bound(spell.Amps))
}

// meltSource says why a fuse lets through no more at a larger current.
var meltSource = study.Source{Title: "balance of heat of a fuse element", Basis: parts.Derived, Says: "I²t never rises with the current, for less heat has time to leave the element; at extra-low voltage the arc adds next to nothing (common practice, no source)"}

// gateSource says whence the times of fuses are.
var gateSource = study.Source{Title: "ISO 8820-3, IEC 60127-2, or the sheet of the fuse", Basis: parts.Standard, Says: "the gates of the curve that its part names"}
