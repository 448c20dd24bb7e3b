package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/study"
)

// arcSource says what a fuse's voltage is for.
var arcSource = study.Source{Title: "IEC 60127-1", Basis: parts.Memory, Says: "a fuse is used at its rated voltage or below: above it the arc may not go out"}

var fuseVolts = study.Rule{
	Name: "protection/fuse-volts", Title: "Fuse voltage", Scope: study.Fuses, Safety: true,
	Doc: study.Doc{
		What:    "The highest voltage that the supplies on the copper of a fuse bring, against the highest that the fuse breaks.",
		Why:     "A link that melts draws an arc. At more volts than it is made for the arc burns on, in a holder that was never meant to hold fire.",
		Formula: []string{"U = k_u · U_s ≤ U_n"},
		Symbols: []study.Symbol{
			{Sign: "U", Unit: "V", Means: "highest voltage that a supply on its copper brings"},
			{Sign: "U_s", Unit: "V", Means: "set point of that supply: as trimmed, else its part's"},
			{Sign: "k_u", Unit: "1", Means: "upper end of the spread of its set point"},
			{Sign: "U_n", Unit: "V", Means: "highest voltage that the fuse breaks (volts_max)"},
		},
		Sources: []study.Source{arcSource,
			{Title: "ISO 8820-3", Edition: "2015", Basis: parts.Standard, Says: "blade fuses of 32 V", Read: "standards catalogues, and data sheets"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "cartridges sold for 250 V of alternating current are used up to the direct voltage that their part states"}},
		Limits: []string{
			"Volts of direct current: a rating for alternating current alone says little, and parts state what may be taken.",
			"The supply is taken to be sound. One whose control has failed may give up to where it shuts down (over_voltage).",
			"What the inductance of long leads adds when the fuse opens is left out.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the voltage is above the highest that the fuse breaks"},
			{Grade: finding.Unknown, When: "its part does not say what it breaks; that it is not chosen yet is said by other rules"},
		},
		Example: study.Example{
			Given: []string{"A fuse that breaks 32 V guards a way of a supply of 48 V, whose set point spreads by 1 %."},
			Sums:  []string{"1.01 × 48 V = 48.5 V", "48.5 V > 32 V"},
			Value: "48.5 V", Limit: "32 V", Grade: finding.Danger,
			Says: "It may open and not break: the arc stands.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		g, ok := guardOf(s, id)
		if !ok {
			return nil
		}
		volts, from, fed := s.Highest(g.At)
		switch {
		case !fed:
			return study.Passes("No supply is on its copper.")
		case !g.Fuse.VoltsMax.Given:
			return study.Unknown(fmt.Sprintf("%s does not say the highest voltage it breaks; %s is on %v.", g.Part, g.Name, volts), "Give the fuse a volts_max from its sheet.")
		}
		a := study.Upper(float64(volts), float64(g.Fuse.VoltsMax.Is), 0, finding.Danger).Fill("", "V", g.Fuse.VoltsMax.Basis, g.Fuse.VoltsMax.Source)
		return []study.Assessment{a.On(func() []study.Number {
			return append(s.HighestOf(from), study.Stated(g.Part, "volts_max", g.Fuse.VoltsMax))
		}).Say(fmt.Sprintf("%s is on up to %v, from %s; it breaks %v.", g.Name, volts, from, g.Fuse.VoltsMax.Is), "Use a fuse made for that voltage.").
			Fixed(func() []finding.Edit { return refit(s, g) }).Worked(func(w *study.Working) {
			w.Highest(s, "U", from)
			w.Stated("U_n", "highest voltage that it breaks", study.Stated(g.Part, "volts_max", g.Fuse.VoltsMax))
			w.Upper("U", "U_n", 0, finding.Danger)
		})}
	},
}

// guardOf is the fuse that stands in a way, cable or port, where it is chosen.
func guardOf(s *study.Study, id string) (study.Guard, bool) {
	for _, name := range []string{id + ".fuse", id + ".ground fuse"} {
		if g, ok := s.Guard(name); ok && g.Fuse != nil {
			return g, true
		}
	}
	return study.Guard{}, false
}

var fuseBreaking = study.Rule{
	Name: "protection/fuse-breaking", Title: "Breaking capacity", Scope: study.Fuses, Safety: true,
	Doc: study.Doc{
		What: "The most that all supplies on the copper of a fuse give together into a short, against the largest current that the fuse breaks.",
		Why:  "A fuse that has to break more than it is made for may burst, or go on conducting.",
		Formula: []string{
			"I_k = Σ I_s ≤ I_B",
			"I_s = min(I_hi, U/R)",
		},
		Symbols: []study.Symbol{
			{Sign: "I_k", Unit: "A", Means: "the most that flows into a short at the fuse"},
			{Sign: "I_s", Unit: "A", Means: "what one supply gives into a short at its terminals"},
			{Sign: "I_hi", Unit: "A", Means: "upper end of its limit (limit_at), or of a boost where that is more"},
			{Sign: "U", Unit: "V", Means: "its set point at the upper end of the spread"},
			{Sign: "R", Unit: "Ω", Means: "its source resistance"},
			{Sign: "I_B", Unit: "A", Means: "largest current that the fuse breaks (breaking)"},
		},
		Sources: []study.Source{
			{Title: "IEC 60364-4-43", Edition: "2008", Clause: "434.5.1", Basis: parts.Memory, Says: "a device breaks at least the prospective current of a short where it stands"},
			{Title: "a guide on fuses at batteries", Basis: parts.Handbook, Says: "I = V/R: 600 A at 12 V over a loop of 0.02 Ω", Read: "a page on breaking capacity"},
			{Title: "the sheet of the fuse", Basis: parts.Datasheet, Says: "its breaking capacity: 1 kA for blade fuses, 35 A or ten times its rating for glass cartridges"},
		},
		Limits: []string{
			"The short is taken to be at the fuse, behind no resistance of cables: careful.",
			"What capacitors at the output of a supply add for some milliseconds is left out. The fuse breaks after that.",
			"Every supply that copper joins counts in full, also one that lies behind another fuse.",
			"Fuses in the grounds of ports are not judged: what a stray positive, or a return that is lost, sends through them comes over the data lead and their own resistance.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the current of a short is above what the fuse breaks"},
			{Grade: finding.Unknown, When: "its part does not say what it breaks, or that of a supply does not say how much its boost is; that it is not chosen yet is said by other rules"},
		},
		Example: study.Example{
			Given: []string{
				"A glass cartridge that breaks 35 A stands in the lead of a supply of 12 V that limits at up to 1 kA; its source resistance is 20 mΩ.",
			},
			Sums:  []string{"12 V/20 mΩ = 600 A", "600 A < 1 kA", "600 A > 35 A"},
			Value: "600 A", Limit: "35 A", Grade: finding.Danger,
			Says: "The glass bursts. A blade fuse breaks 1 kA.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		g, ok := s.Guard(id + ".fuse")
		if !ok || g.Fuse == nil {
			return nil
		}
		each, sum := s.Gives(g.At)
		switch {
		case len(each) == 0:
			return study.Passes("No supply is on its copper.")
		case !g.Fuse.Breaking.Given:
			return study.Unknown(fmt.Sprintf("%s does not say the largest current it breaks; a short at %s draws up to %v.", g.Part, g.Name, sum), "Give the fuse a breaking from its sheet.")
		}
		if open := boosting(s, each); open != "" && sum <= g.Fuse.Breaking.Is {
			return study.Unknown(fmt.Sprintf("%s does not say how much it gives at first, so it is not known what a short at %s draws.", open, g.Name), "Give the supply part its boost, from its sheet.")
		}
		a := study.Upper(float64(sum), float64(g.Fuse.Breaking.Is), 0, finding.Danger).Fill("", "A", g.Fuse.Breaking.Basis, g.Fuse.Breaking.Source)
		return []study.Assessment{a.On(func() []study.Number {
			return append(s.GivesOf(each), study.Stated(g.Part, "breaking", g.Fuse.Breaking))
		}).Say(fmt.Sprintf("A short at %s draws up to %v; it breaks %v.", g.Name, sum, g.Fuse.Breaking.Is), "Use a fuse that breaks more, such as a blade or a ceramic cartridge.").
			Fixed(func() []finding.Edit { return refit(s, g) }).Worked(func(w *study.Working) {
			w.Gives(s, "I_k", each)
			w.Stated("I_B", "largest current that it breaks", study.Stated(g.Part, "breaking", g.Fuse.Breaking))
			w.Upper("I_k", "I_B", 0, finding.Danger)
		})}
	},
}

// boosting is the part of a supply that gives more for some seconds and does not say how much; none where its source resistance bounds
// it anyway.
func boosting(s *study.Study, each []study.Gives) string {
	for _, g := range each {
		name := s.Scheme.Supplies[g.Supply].Part
		if part, ok := parts.Get[parts.Supply](s.Scheme.Library, name); ok && part.Limit == parts.Boost && !part.Boost.Given && !g.Ohmic {
			return name
		}
	}
	return ""
}
