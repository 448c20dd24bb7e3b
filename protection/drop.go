package protection

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// lost is the share of its nominal voltage that an installation may lose up to its furthest luminaire.
const lost = 0.05

// lostSource is its source.
var lostSource = study.Source{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.525", Basis: parts.Standard,
	Says: "the drop between the transformer or converter and the furthest luminaire is at most 5 % of the nominal voltage",
	Read: "a trade-press page on DIN VDE 0100-715:2006-06, the German text of an older edition"}

var voltageDrop = study.Rule{
	Name: "protection/voltage-drop", Title: "Voltage drop", Scope: study.Cables, Safety: false,
	Doc: study.Doc{
		What:    "The voltage lost between the terminals of the supply and the place where a cable lands on a run, over both poles and all that lies between, in every state, against 5 % of the nominal voltage of the supply.",
		Why:     "The standard for extra-low-voltage lighting asks it of the wiring, whatever the lamps bear: what is lost warms cables and contacts, and is paid for every evening. An inspector measures it with a meter.",
		Formula: []string{"U_t − U_l ≤ 0.05 · U_n"},
		Symbols: []study.Symbol{
			{Sign: "U_t", Unit: "V", Means: "voltage at the terminals of the supply, as a meter reads it"},
			{Sign: "U_l", Unit: "V", Means: "voltage between the poles where the cable lands, likewise"},
			{Sign: "U_n", Unit: "V", Means: "nominal voltage of the supply (volts), also where it is trimmed"},
		},
		Sources: []study.Source{
			lostSource,
			{Title: "IEC 60364-5-52", Clause: "table G.52.1", Basis: parts.Standard, Says: "3 % for lighting and 5 % for other uses from a public supply, 6 % and 8 % from a private one: of the whole installation from its origin, for which section 715 has a rule of its own", Read: "a page on BS 7671 regulation 525"},
			{Title: "ABYC E-11", Clause: "voltage drop", Basis: parts.Standard, Says: "on boats 3 % for critical circuits and 10 % for others, counted out and back: not asked here", Read: "pages of marine catalogues"},
		},
		Limits: []string{
			"The place of measurement is read so: from the terminals of the supply to where the feed lands. What is lost along the tape is judged by light/pixel-voltage, which knows what the chips bear.",
			"A meter reads the mean of the pulse-width cycle. While all channels are on more is lost; the lowest pixel is judged at that moment too.",
			"With the cap failed more is lost. That is no state that was asked for.",
			"A supply that is trimmed up still has 5 % of its nominal voltage to lose: what the trim makes up for is heat all the same.",
			"A cable that runs on from one run to another is not judged: it is fed through tape. Nor is a link of the return alone, nor a cable whose part is not chosen yet.",
			"The 2011 edition was not read itself; that 5 % stayed in it is taken from the page of the source.",
		},
		Grades: []study.Graded{{Grade: finding.Tight, When: "more is lost in some state; whether the lamps bear it is judged elsewhere"}},
		Example: study.Example{
			Given: []string{
				"300 pixels of 10 mA hang on a supply of 12 V by 12 m of 2 × 1.5 mm², 13.3 mΩ/m at 20 °C, with an inline fuse of 20 mΩ.",
			},
			Sums: []string{
				"300 × 10 mA = 3 A",
				"3 A × (2 × 12 m × 13.3 mΩ/m + 20 mΩ) = 1.018 V",
				"0.05 × 12 V = 0.6 V",
				"1.018 V > 0.6 V",
				"3 A × (2 × 12 m × 7.98 mΩ/m + 20 mΩ) = 0.635 V",
				"3 A × (2 × 12 m × 4.95 mΩ/m + 20 mΩ) = 0.416 V",
			},
			Value: "1.018 V", Limit: "0.6 V", Grade: finding.Tight,
			Says: "With 2.5 mm² it is still too much; with 4 mm² it is not.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		end, lands := landing(s.Scheme.Cables[id])
		feeders := s.Network.Feeders(id)
		switch {
		case !lands:
			return study.Passes(fmt.Sprintf("%s lands on no run, or on two.", id))
		case len(feeders) == 0:
			return study.Passes(fmt.Sprintf("No supply feeds %s by cables and boards alone.", id))
		}
		var found []study.Assessment
		for _, c := range s.Cases() {
			if c.Kind != network.State {
				continue
			}
			for _, supply := range feeders {
				found = append(found, dropped(s, c, supply, id, end))
			}
		}
		return found
	},
}

// landing is the end of a cable that lands on a run; a cable between two runs has none.
func landing(c scheme.Cable) (end scheme.End, lands bool) {
	from, to := c.From.Kind == scheme.StationRef, c.To.Kind == scheme.StationRef
	switch {
	case from == to:
		return "", false
	case from:
		return "from", true
	}
	return "to", true
}

// dropped judges what is lost from a supply to the end of a feed in one case.
func dropped(s *study.Study, c network.Case, supply, id string, end scheme.End) study.Assessment {
	volts, _ := s.Network.Lost(s.Solution(c.Name), supply, id, end)
	name := s.Scheme.Supplies[supply].Part
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, name)
	limit := unit.Volt(lost) * part.Volts.Is
	at := s.Scheme.Cables[id].To
	if end == "from" {
		at = s.Scheme.Cables[id].From
	}
	a := study.Upper(float64(volts), float64(limit), 0, finding.Tight).Fill(c.Name, "V", lostSource.Basis, lostSource.String())
	a.At = at.String()
	a = a.On(func() []study.Number {
		cable := s.Scheme.Cables[id].Part
		stated, _ := parts.Get[parts.Cable](s.Scheme.Library, cable)
		return append(s.Draw(c, s.Network.RunsOn(supply)), study.Stated(cable, "r20", stated.R20), study.Taken("5 % of nominal voltage", lostSource))
	})
	cable, most := remedy.Loser(s, id, c, supply)
	a = a.Say(fmt.Sprintf("%v are lost from %s to %s in %s, %v of %v; IEC 60364-7-715 (715.525) allows 5 %%. %s loses %v of it.",
		volts, supply, at, study.CaseWords(c), unit.Ratio(volts/part.Volts.Is), part.Volts.Is, cable, most),
		"Use a thicker or shorter feed, a thicker lead from the supply to the board, one more feed, or a higher voltage.")
	if a.Grade == finding.Tight {
		a = a.Fixed(func() []finding.Edit { return remedy.Lossless(s, id, c, volts-limit) })
	}
	terminals := s.Result(c.Name).Supplies[supply].Volts
	return a.Worked(func(w *study.Working) {
		w.Solved("U_t", "voltage at the terminals of "+supply, study.Of(terminals), c)
		w.Solved("U_l", "voltage between the poles at "+at.String(), study.Of(terminals-volts), c)
		w.Stated("U_n", "nominal voltage of "+supply, study.Stated(name, "volts", part.Volts))
		w.Taken("k_d", "share of it that may be lost", study.Plain(lost), lostSource)
		w.Step("What is lost on the way", "U_d = U_t − U_l")
		w.Step("What may be lost", "U_p = k_d · U_n")
		w.Upper("U_d", "U_p", 0, finding.Tight)
	})
}
