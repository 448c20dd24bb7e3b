package light

import (
	"fmt"
	"math"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/pixel"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

var evenness = study.Rule{
	Name: "light/evenness", Title: "Evenness", Scope: study.Runs, Reads: study.AsPercent,
	Doc: study.Doc{
		What: "The light of the dimmest pixel of a run over that of its brightest, in every lighting state and its peak, against the aim of the scheme (aims: evenness; 80 % where none is given).",
		Why:  "A run that fades along its length looks like what it is, badly fed. The eye compares the two ends of a line, not each with a meter.",
		Formula: []string{
			"L_lo/L_hi ≥ E",
			"L = Σ C_i · d_i · I_i/I_ref",
		},
		Symbols: []study.Symbol{
			{Sign: "L_lo", Unit: "cd", Means: "light of the dimmest pixel"},
			{Sign: "L_hi", Unit: "cd", Means: "light of the brightest pixel"},
			{Sign: "E", Unit: "1", Means: "the aim"},
			{Sign: "L", Unit: "cd", Means: "luminous intensity of a pixel, summed over its lit channels, counted by i"},
			{Sign: "C_i", Unit: "cd", Means: "intensity of a channel at its reference current (candela)"},
			{Sign: "d_i", Unit: "1", Means: "its drive: min(level, cap) × byte/255"},
			{Sign: "I_i", Unit: "A", Means: "its current at the pixel's voltage"},
			{Sign: "I_ref", Unit: "A", Means: "its set current; for a channel with a resistor the current at nominal voltage"},
		},
		Sources: []study.Source{
			{Title: "photometry textbooks", Basis: parts.Memory, Says: "uniformity U1 = L_min/L_max; no page was read"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "80 % where the scheme states no aim"},
			{Title: "the sheet of the chip", Basis: parts.Datasheet, Says: "intensity of each channel at its test current"},
		},
		Limits: []string{
			"Light is taken in proportion to current. LEDs give a little more per ampere when they carry less, so a real run is a little more even.",
			"Pixels of one batch differ by their bins, often by more than the wiring makes them: that is not in it.",
			"Two runs are not compared with each other, nor a run with itself next year.",
			"The peak is a moment of the cycle in which all are on; the eye sees the sum over the cycle.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the ratio is below the aim in some lighting state or its peak"},
			{Grade: finding.Unknown, When: "the tape does not say how bright a lit channel is"},
			{Grade: finding.Tight, When: "it is less than 2 % above the aim"},
		},
		Example: study.Example{
			Given: []string{
				"A 12 V tape with one white channel behind a resistor draws its current from 9 V up. Along 5.7 m, fed at one end, its first pixel has 11.969 V and its last 11.254 V.",
				"Current, and so light, goes with the voltage above 9 V.",
			},
			Sums:  []string{"(11.254 V − 9 V)/(11.969 V − 9 V) = 75.9 %", "75.9 % < 80 %"},
			Value: "75.9 %", Limit: "80 %", Grade: finding.Fails,
			Says: "0.7 V lost is 6 % of 12 V, and a quarter of the light.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		return perState(s, id, colourless, func(c network.Case, r network.Run) (study.Assessment, bool) {
			if r.Evenness == nil {
				return study.Assessment{}, false
			}
			aim := s.Scheme.EvennessAim()
			a := study.Lower(*r.Evenness, aim, 0.02, finding.Fails).Fill(c.Name, "1", aimBasis(s.Scheme.Aims.Evenness != nil), "the scheme's aim; U1 = Lmin/Lmax as in photometry textbooks")
			a.At = fmt.Sprintf("%s@px%d", id, r.LowAt)
			least := *r.Evenness
			if math.Abs(least) < 1e-5 {
				least = 0 // what the solver leaves of nothing
			}
			got, wanted := unit.Apart(unit.Ratio(least), unit.Ratio(aim))
			return a.On(func() []study.Number {
				return append(shining(s, c, id), aimed("aims.evenness", s.Scheme.Aims.Evenness != nil)...)
			}).Say(fmt.Sprintf("%s is %s as bright at its dimmest pixel, %d, as at its brightest, in %s; the aim is %s.", id, got, r.LowAt, study.CaseWords(c), wanted),
				fmt.Sprintf("Add a feed near %s@px%d, or thicker feeds.", id, r.LowAt)).Fixed(func() []finding.Edit { return remedy.Dim(s, id, c) }).Worked(func(w *study.Working) {
				g := glowing(s, c, id)
				g.intensity(w, g.dimmest(), "dimmest", "a")
				g.intensity(w, g.brightest(), "brightest", "b")
				w.Step("The dimmest over the brightest", "k_E = L_a/L_b")
				aiming(w, s, "E", s.Scheme.Aims.Evenness != nil, study.Plain(aim), "evenness")
				w.Lower("k_E", "E", 0.02, finding.Fails)
			}), true
		})
	},
}

var colourShift = study.Rule{
	Name: "light/colour-shift", Title: "Colour shift", Scope: study.Runs,
	Doc: study.Doc{
		What: "The largest difference in chromaticity between two pixels of a run, Δu′v′, in every lighting state and its peak, against the aim of the scheme (aims: colour_shift; 0.004 where none is given).",
		Why:  "Blue and green lose current before red does, so a white run turns warm towards its far end. Side by side the eye sees that well before it sees the loss of light.",
		Formula: []string{
			"Δu′v′ = √((u′_1 − u′_2)² + (v′_1 − v′_2)²) ≤ D",
			"u′ = 4 · X/(X + 15 · Y + 3 · Z)",
			"v′ = 9 · Y/(X + 15 · Y + 3 · Z)",
		},
		Symbols: []study.Symbol{
			{Sign: "Δu′v′", Unit: "1", Means: "distance of the two pixels that differ most"},
			{Sign: "u′_1", Unit: "1", Means: "u′ of one of them"}, {Sign: "u′_2", Unit: "1", Means: "u′ of the other"},
			{Sign: "v′_1", Unit: "1", Means: "v′ of one of them"}, {Sign: "v′_2", Unit: "1", Means: "v′ of the other"},
			{Sign: "D", Unit: "1", Means: "the aim"},
			{Sign: "u′", Unit: "1", Means: "CIE 1976 chromaticity of a pixel"}, {Sign: "v′", Unit: "1", Means: "likewise"},
			{Sign: "X", Unit: "cd", Means: "sum over its channels of light × x/y"},
			{Sign: "Y", Unit: "cd", Means: "sum of their light"},
			{Sign: "Z", Unit: "cd", Means: "sum of light × (1 − x − y)/y, with the channel's CIE 1931 x and y"},
		},
		Sources: []study.Source{
			{Title: "ISO/CIE 11664-5", Basis: parts.Standard, Says: "u′ and v′ from X, Y and Z, and their difference", Read: "a vision-science toolbox that cites CIE Colorimetry 2004 and Wyszecki and Stiles, page 165"},
			{Title: "CIE TN 001", Edition: "2014", Basis: parts.Standard, Says: "differences of light sources are circles in u′v′"},
			{Title: "CIE TN 001", Edition: "2014", Basis: parts.Memory, Says: "one step of such a circle is 0.0011; the number itself was not read"},
			{Title: "page “What is difference between SDCM and MacAdam ellipses”", Basis: parts.Handbook, Says: "one step is not seen, two begin to be, four to seven are plain"},
			{Title: "common practice, no source", Basis: parts.Practice, Says: "0.004, between three and four steps, where the scheme states no aim"},
		},
		Limits: []string{
			"Near white u′v′ is even to the eye; for saturated colours a step is larger or smaller.",
			"Chromaticities of channels come from dominant wavelengths and a purity from memory: differences along a run are better known than the colour itself.",
			"LEDs change hue a little with current and warmth, and differ by their bins. None of that is in it.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "the difference is above the aim in some lighting state or its peak"},
			{Grade: finding.Unknown, When: "the tape does not say how bright a lit channel is, or what colour it has"},
			{Grade: finding.Tight, When: "it is above 90 % of the aim"},
		},
		Example: study.Example{
			Given: []string{"4 m of catalogue 5 V tape, white, fed at one end: its first pixel has u′ 0.1701 and v′ 0.4132, its last u′ 0.3873 and v′ 0.4995."},
			Sums:  []string{"√((0.3873 − 0.1701)² + (0.4995 − 0.4132)²) = 0.234", "0.234 > 0.004"},
			Value: "0.234", Limit: "0.004", Grade: finding.Fails,
			Says: "Its far end is orange.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		return perState(s, id, coloured, func(c network.Case, r network.Run) (study.Assessment, bool) {
			if r.ColourShift == nil {
				return study.Assessment{}, false
			}
			aim := s.Scheme.ColourShiftAim()
			a := study.Upper(*r.ColourShift, aim, 0.1, finding.Fails).Fill(c.Name, "1", aimBasis(s.Scheme.Aims.ColourShift != nil), "the scheme's aim; Δu′v′ after ISO/CIE 11664-5")
			a.At = fmt.Sprintf("%s@px%d", id, r.LowAt)
			a = a.On(func() []study.Number {
				return append(append(shining(s, c, id), tints(s, c, id)...), aimed("aims.colour_shift", s.Scheme.Aims.ColourShift != nil)...)
			})
			got, wanted := unit.NumbersApart(*r.ColourShift, aim, 2)
			text := fmt.Sprintf("%s changes colour by Δu′v′ %s along its length in %s; the aim is %s.", id, got, study.CaseWords(c), wanted)
			if hue := pixel.Hue(r.DimU-r.U, r.DimV-r.V); hue != "" && *r.ColourShift > aim {
				text = fmt.Sprintf("%s changes colour by Δu′v′ %s along its length in %s, %s where it is dim; the aim is %s.", id, got, study.CaseWords(c), hue, wanted)
			}
			return a.Say(text, fmt.Sprintf("Add a feed near %s@px%d, or thicker feeds.", id, r.LowAt)).Fixed(func() []finding.Edit { return remedy.Dim(s, id, c) }).Worked(func(w *study.Working) {
				g := glowing(s, c, id)
				one := g.farthest(g.brightest())
				g.chromaticity(w, one, "a")
				g.chromaticity(w, g.farthest(one), "b")
				w.Step("How far apart the two are", "D_uv = √((u_a − u_b)² + (v_a − v_b)²)")
				aiming(w, s, "D", s.Scheme.Aims.ColourShift != nil, study.Plain(aim), "colour_shift")
				w.Upper("D_uv", "D", 0.1, finding.Fails)
			}), true
		})
	},
}

// perState judges a run in every case in which it is lit. Where the tape does not say what a lit channel shines, lack says what is
// missing, and the case is unknown.
func perState(s *study.Study, id string, lack func(parts.Channel) string, judge func(network.Case, network.Run) (study.Assessment, bool)) []study.Assessment {
	tape := s.Scheme.Tape(id)
	if tape == nil {
		return study.Unknown(id+" has no tape to judge.", "Choose a tape.")
	}
	var found []study.Assessment
	for _, c := range lit(s) {
		r, ok := s.Result(c.Name).Runs[id]
		if !ok || !r.Live || !r.Fed {
			continue
		}
		if missing := unsaid(s, c, id, tape, lack); missing != "" {
			a := study.Unknown(fmt.Sprintf("%s: %s does not say %s, which is lit in %s.", id, s.Scheme.Runs[id].Tape, missing, study.CaseWords(c)), "Give the channel candela, x and y from its chip's sheet.")[0]
			a.Case = c.Name
			found = append(found, a)
		} else if a, said := judge(c, r); said {
			found = append(found, a)
		}
	}
	return found
}

// unsaid is what the tape lacks of the first lit channel that lacks something.
func unsaid(s *study.Study, c network.Case, id string, tape *parts.Tape, lack func(parts.Channel) string) string {
	for _, channel := range shown(s, c, id, tape) {
		if what := lack(tape.Channels[channel]); what != "" {
			return what + " of its " + channel
		}
	}
	return ""
}

// colourless and coloured say what a channel lacks to know its light, and its light and colour.
func colourless(c parts.Channel) string {
	if !c.Candela.Given {
		return "the intensity"
	}
	return ""
}

func coloured(c parts.Channel) string {
	if what := colourless(c); what != "" {
		return what
	}
	if !(c.Y > 0) {
		return "the colour"
	}
	return ""
}

// shown lists the channels of a run that a case lights.
func shown(s *study.Study, c network.Case, id string, tape *parts.Tape) []string {
	drives, _ := s.Scheme.Drives(c.State, id)
	return slices.DeleteFunc(scheme.Channels(tape), func(channel string) bool { return drives[channel] <= 0 })
}

// shining lists the numbers that decide how a run shines in a case: its voltages, and the law and intensity of its lit channels.
func shining(s *study.Study, c network.Case, id string) []study.Number {
	numbers := s.Dropped(c, id)
	name, tape := s.Scheme.Runs[id].Tape, s.Scheme.Tape(id)
	for _, channel := range shown(s, c, id, tape) {
		numbers = append(numbers, law(name, channel, tape.Channels[channel])...)
		numbers = append(numbers, study.Stated(name, "channels."+channel+".candela", tape.Channels[channel].Candela))
	}
	return numbers
}

// tints lists the chromaticities of the lit channels of a run.
func tints(s *study.Study, c network.Case, id string) []study.Number {
	var numbers []study.Number
	name, tape := s.Scheme.Runs[id].Tape, s.Scheme.Tape(id)
	for _, channel := range shown(s, c, id, tape) {
		numbers = append(numbers, study.Said(name, "channels."+channel+".x", tinted(tape, tape.Channels[channel])))
	}
	return numbers
}

// tinted is the origin of the chromaticity of a channel: its own, else that of the tape.
func tinted(tape *parts.Tape, c parts.Channel) parts.Origin {
	origin := c.Origin
	if origin.Basis == "" {
		origin.Basis = tape.Basis
	}
	if origin.Source == "" {
		origin.Source = tape.Source
	}
	return origin
}

// aimBasis is the basis of an aim: the user's own where the scheme states it, which needs none; else practice.
func aimBasis(stated bool) parts.Basis {
	if stated {
		return ""
	}
	return parts.Practice
}

// aimed is an aim as a number where the scheme states none.
func aimed(key string, stated bool) []study.Number {
	if stated {
		return nil
	}
	return []study.Number{{Key: key, Basis: parts.Practice, Source: "common practice, no source: taken where the scheme states no aim"}}
}
