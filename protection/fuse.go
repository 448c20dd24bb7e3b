package protection

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// continuousSource is its source.
var continuousSource = study.ContinuousSource()

// loadSymbols, loadSources and loadLimits explain the load of a link, in a way as in a cable.
func loadSymbols(where string) []study.Symbol {
	return []study.Symbol{
		{Sign: "I", Unit: "A", Means: "rms current of the link " + where + " over the pulse-width cycle"},
		{Sign: "I_n", Unit: "A", Means: "rating of the link"},
		{Sign: "k_t", Unit: "1", Means: "what the air around it leaves of the rating (the curve's derating): 1 up to 20 °C, 0.95 at 35 °C and 0.85 at 65 °C for blade fuses; 1 where the curve states none"},
	}
}

func loadSources() []study.Source {
	return []study.Source{continuousSource,
		{Title: "sheet of a maxi blade fuse of 40 A", Basis: parts.Datasheet, Says: "40 A up to 20 °C, 34 A at 65 °C, 30 A at 85 °C; regular blade fuses are taken alike, from memory", Read: "a component study that quotes it"},
		{Title: "fuse rating guide", Basis: parts.Handbook, Says: "rating at least 125 % of the load, which is 80 % loading: the less careful of the two, not used"}}
}

func loadLimits() []string {
	return []string{
		"It asks whether the link holds. Whether it protects its cable, and breaks a short, is judged by protection/coordination, protection/fuse-volts and protection/fuse-breaking; whether it opens in a short far off by protection/far-short.",
		"The air is that of the site, or of the cable for an inline fuse. A holder beside others, or in a box without air, is warmer.",
		"With the cap failed the link may open: that is its work, so the case is not judged.",
		"Short surges, such as capacitors that charge, are judged by protection/nuisance.",
	}
}

// loadGrades are the grades of both; unchosen is when the rule is unknown.
func loadGrades(unchosen string) []study.Graded {
	return []study.Graded{
		{Grade: finding.Fails, When: "the current is above 75 % of the rating in that air in some state, its peak or the dark"},
		{Grade: finding.Unknown, When: unchosen},
		{Grade: finding.Tight, When: "the current is above 95 % of that"},
	}
}

var fuseLoad = study.Rule{
	Name: "protection/fuse-load", Title: "Fuse load", Scope: study.Ways, Safety: false,
	Doc: study.Doc{
		What:    "The heating (rms) current of a way's fuse, in every state, its peak and the dark, against 75 % of its rating in the air around it.",
		Why:     "Above it a healthy link tires and opens one evening, with nothing wrong behind it.",
		Formula: []string{"I ≤ 0.75 · k_t · I_n"},
		Symbols: loadSymbols("in the way"),
		Sources: loadSources(),
		Limits:  loadLimits(),
		Grades:  loadGrades("the air is warmer than its curve speaks of; that it is not chosen yet is said by protection/way-fuse"),
		Example: study.Example{
			Given: []string{"A way with a blade fuse of 7.5 A, in air of 20 °C, feeds 600 pixels of 10 mA."},
			Sums:  []string{"600 × 10 mA = 6 A", "0.75 × 1 × 7.5 A = 5.625 A", "6 A > 5.625 A", "0.75 × 0.85 × 10 A = 6.375 A"},
			Value: "6 A", Limit: "5.625 A", Grade: finding.Fails,
			Says: "The next size, 10 A, carries 7.5 A for ever; in air of 65 °C only 6.375 A.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Fuses[id]
		part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		if !ok {
			return nil // way-fuse says so
		}
		found := linkLoad(s, id, name, part, "rms current of the way", func(r *network.Result) unit.Ampere { return r.Ways[id].Amps.RMS },
			func(c network.Case) []study.Number { return s.CarriedByWay(c, id) },
			"Use the next larger fuse if cable and way allow it, or move load to another way.")
		return study.FixedAll(found, func() []finding.Edit { return remedy.WayLoad(s, id) })
	},
}

var inlineFuseLoad = study.Rule{
	Name: "protection/inline-fuse-load", Title: "Inline fuse load", Scope: study.Cables, Safety: false,
	Doc: study.Doc{
		What:    "The heating (rms) current of the fuse in a cable, in every state, its peak and the dark, against 75 % of its rating in the air around it.",
		Why:     "Above it a healthy link tires and opens one evening; an inline fuse at a supply then takes everything behind it along.",
		Formula: []string{"I ≤ 0.75 · k_t · I_n"},
		Symbols: loadSymbols("in the cable"),
		Sources: loadSources(),
		Limits:  loadLimits(),
		Grades:  loadGrades("the fuse is not chosen yet, or the air is warmer than its curve speaks of"),
		Example: study.Example{
			Given: []string{"The lead from a supply to a board has an inline fuse of 30 A, in air of 20 °C; on the board hang 600, 600, 480 and 550 pixels of 10 mA."},
			Sums:  []string{"(600 + 600 + 480 + 550) × 10 mA = 22.3 A", "0.75 × 30 A = 22.5 A", "0.95 × 22.5 A = 21.4 A", "22.3 A > 21.4 A", "22.3 A < 22.5 A"},
			Value: "22.3 A", Limit: "22.5 A", Grade: finding.Tight,
			Says: "It holds, with a hundredth to spare.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		name := s.Scheme.Cables[id].Fuse
		part, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
		switch {
		case name == "":
			return study.Passes(id + " has no fuse of its own.")
		case !ok:
			return study.Unknown(fmt.Sprintf("The fuse of %s is not chosen yet.", id), "Choose a fuse part.")
		}
		found := linkLoad(s, id, name, part, "rms current of the cable's plus pole", func(r *network.Result) unit.Ampere { return r.Cables[id].Plus.RMS },
			func(c network.Case) []study.Number { return s.Carried(c, id) },
			"Use the next larger fuse if the cable allows it, or split the load over another cable.")
		return study.FixedAll(found, func() []finding.Edit { return remedy.InlineFuse(s, id) })
	},
}

// linkLoad judges the load of a fuse link in every case in which it must hold.
func linkLoad(s *study.Study, id, name string, part *parts.Fuse, means string, of func(*network.Result) unit.Ampere, drawn func(network.Case) []study.Number, remedy string) []study.Assessment {
	air := s.Scheme.Ambient()
	if own := s.Scheme.Cables[id].Ambient; own != nil { // of an inline fuse; a way is no cable
		air = *own
	}
	warm, known := s.Warm(part, air)
	if !known {
		return study.Unknown(fmt.Sprintf("The fuse of %s is in air of %v; %s does not say what it carries there.", id, air, part.Curve), "Find it a cooler place.")
	}
	var found []study.Assessment
	limit := study.Continuous * warm.Share * float64(part.Rating.Is)
	for _, c := range s.Cases() {
		if c.Kind == network.CapFailed {
			continue
		}
		amps := of(s.Result(c.Name))
		a := study.Upper(float64(amps), limit, 0.05, finding.Fails).Fill(c.Name, "A", parts.Weaker(part.Rating.Basis, continuousSource.Basis), "fuse application guide: continuous load at most 75 % of rating")
		got, may := unit.Apart(amps, unit.Ampere(limit))
		found = append(found, a.On(func() []study.Number {
			numbers := append(drawn(c), study.Stated(name, "rating", part.Rating), study.Taken("75 % of a fuse's rating", continuousSource))
			return append(numbers, warm.Numbers...)
		}).Say(fmt.Sprintf("The fuse of %s carries %s in %s; a %v link carries %s for ever%s.", id, got, study.CaseWords(c), part.Rating.Is, may, warm.In(air)), remedy).Worked(func(w *study.Working) {
			w.Solved("I", means, study.Of(amps), c)
			w.Stated("I_n", "rating of the link", study.Stated(name, "rating", part.Rating))
			w.Taken("k_c", "share of its rating that a link carries for ever", study.Plain(study.Continuous), continuousSource)
			w.Warm(s, "k_t", name, s.Scheme.Cables[id].Ambient, "cables", id, "ambient")
			w.Step("What the link carries for ever", "I_c = k_c · k_t · I_n")
			w.Upper("I", "I_c", 0.05, finding.Fails)
		}))
	}
	return found
}

var wayFuse = study.Rule{
	Name: "protection/way-fuse", Title: "Way without a fuse", Scope: study.Ways, Safety: true,
	Doc: study.Doc{
		What:    "Every way on which a cable lands against having a fuse.",
		Why:     "Without one its holder is bridged, and a short anywhere beyond it is fed by all that the supply can give, for as long as it likes.",
		Formula: []string{"N_f ≥ 1 where N_w ≥ 1"},
		Symbols: []study.Symbol{
			{Sign: "N_f", Unit: "1", Means: "fuses in the way"},
			{Sign: "N_w", Unit: "1", Means: "cables that land on the way"},
		},
		Sources: deviceSources,
		Limits: []string{
			"It asks for a fuse, not for the right one: that is protection/coordination, protection/fuse-volts and protection/fuse-breaking. Whether it opens in a short at the far end is asked by protection/far-short.",
			"An inline fuse in the cable behind the way does not count: the way's own terminal is then unprotected.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "a cable lands on the way, and the way has no fuse"},
			{Grade: finding.Unknown, When: "the fuse is not chosen yet"},
		},
		Example: study.Example{
			Given: []string{
				"2 × 2.5 mm² in conduit, which may carry 20 A, leads from a way without a fuse. The supply, 5 V and 300 W, limits at up to 84 A.",
				"A core finds no steady temperature when its heat is more than (T_max + 234.5 °C)/(T_max − T_a) times that of its rated current.",
			},
			Sums: []string{
				"(84 A/20 A)² = 17.6",
				"(70 °C + 234.5 °C)/(70 °C − 30 °C) = 7.61",
				"17.6 > 7.61",
			},
			Grade: finding.Danger,
			Says:  "In a short the core gets hotter and hotter until something burns through.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		used := s.Network.Landings(id)
		fuse, open := s.Scheme.Fuses[id]
		_, known := parts.Get[parts.Fuse](s.Scheme.Library, fuse)
		switch {
		case len(used) == 0:
			return study.Passes("No cable lands on " + id + ".")
		case known:
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(func(w *study.Working) { fused(w, used, 1) })}
		case open:
			return study.Unknown(fmt.Sprintf("The fuse of %s is not chosen yet.", id), "Choose a fuse part.")
		}
		a := study.Assessment{Grade: finding.Danger, Basis: deviceSources[0].Basis, Source: deviceSources[0].String()}.Say(
			fmt.Sprintf("%s feeds %s without a fuse: %s.", id, strings.Join(used, ", "), before(s, id)), "Fit a fuse.").Worked(func(w *study.Working) { fused(w, used, 0) })
		if edits := remedy.WayFuse(s, id); edits != nil {
			a.Remedy = fmt.Sprintf("Fit %v, or another that the load needs and the thinnest cable allows.", edits[0].Value)
			a = a.Fixed(func() []finding.Edit { return edits })
		}
		return []study.Assessment{a}
	},
}

// before says what holds a short behind a way that has no fuse.
func before(s *study.Study, way string) string {
	fed := s.Network.Fed(way)
	if len(fed.Fuses) == 0 || len(fed.Bare) > 0 {
		return "a short there draws all the supply can give"
	}
	return "in a short there no fuse is nearer than " + study.Several(fed.Fuses)
}

// fused asks whether a way on which cables land has a fuse.
func fused(w *study.Working, cables []string, fuses int) {
	w.Counted("N_w", "cables that land on the way: "+strings.Join(cables, ", "), len(cables))
	w.Counted("N_f", "fuses in the way", fuses)
	w.When(finding.Danger, "N_f < min(1, N_w)")
}
