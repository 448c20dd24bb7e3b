package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// Voltages up to which bare parts of extra-low voltage may be touched.
const (
	touchDry = unit.Volt(60)
	touchWet = unit.Volt(30)
)

var touchSource = study.Source{Title: "IEC 60364-4-41", Edition: "2005", Clause: "414.4.5", Basis: parts.Standard,
	Says: "parts of SELV and PELV circuits may be bare up to 60 V in dry conditions and up to 30 V in all others, ripple-free direct current",
	Read: "a forum quotation of BS 7671 regulation 414.4.5, which has the same text"}

var touchVoltage = study.Rule{
	Name: "protection/touch-voltage", Title: "Voltage within reach", Scope: study.Supplies, Safety: true,
	Doc: study.Doc{
		What:    "The highest voltage of a supply against that up to which bare parts may be touched: 60 V where the site is dry, 30 V where it is not.",
		Why:     "Tape has bare pads, cut ends and soldered feeds, and somebody will touch them, with wet hands where the place is wet. Above these voltages that can hurt.",
		Formula: []string{"U_hi = k_u · U_s ≤ U_t"},
		Symbols: []study.Symbol{
			{Sign: "U_hi", Unit: "V", Means: "highest voltage of the supply, or of another that copper joins to its plus"},
			{Sign: "U_s", Unit: "V", Means: "set point: as its part comes, or as trimmed"},
			{Sign: "k_u", Unit: "1", Means: "1, and the upper end of the spread of its set point"},
			{Sign: "U_t", Unit: "V", Means: "60 V in a dry place, 30 V in a damp one, outdoors and immersed"},
		},
		Sources: []study.Source{
			touchSource,
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "411.3", Basis: parts.Standard, Says: "lighting systems of low voltage have at most 60 V DC, 30 V where wet contact is likely", Read: "an open transcription of chapter 4"},
			{Title: "NFPA 70 (NEC)", Edition: "2023", Clause: "chapter 9, notes 2 and 4 to tables 11(A) and 11(B)", Basis: parts.Standard, Says: "Class 2 sources have at most 30 V of continuous direct current where wet contact is likely", Read: "a page with the notes"},
			{Title: "IEC 60598-1", Edition: "2008", Clause: "8.2.3 c)", Basis: parts.Standard, Says: "luminaires of class III may have bare parts of up to 60 V DC, those with a degree of protection of up to 30 V DC", Read: "a forum quotation"},
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.521.106", Basis: parts.Standard, Says: "bare conductors have at most 60 V DC", Read: "two pages on DIN VDE 0100-715"},
			{Title: "IEC 60364-7-715", Edition: "2011", Clause: "715.1", Basis: parts.Standard, Says: "extra-low-voltage lighting ends at 120 V DC", Read: "the page of a standards catalogue"},
			{Title: "IEC 60364-4-41", Edition: "2005", Clause: "414.1", Basis: parts.Standard, Says: "SELV and PELV end at 120 V DC", Read: "a page on BS 7671 section 715"},
			{Title: "IEC 61558-1 and 61558-2-6", Basis: parts.Memory, Says: "safety isolating transformers give at most 120 V of ripple-free direct current"},
			{Title: "IEC 60364-7-702", Basis: parts.Memory, Says: "in basins of pools and fountains at most 30 V DC"},
		},
		Limits: []string{
			"Between 60 V and 120 V SELV is still allowed in a dry place where nothing bare can be touched. A scheme does not say that, so the more careful source stands.",
			"Direct voltage without ripple is taken. A voltage that is chopped 10 to 200 times a second is held to 24.8 V and 12.4 V by the NEC; supplies that pulse at their limit are slower.",
			"It judges a sound supply. What a failed one gives, and whether its output is apart from the mains, it does not know: protection/protective-measures asks.",
			"It is about shock. Extra-low voltage burns all the same.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the voltage is higher"},
			{Grade: finding.Unknown, When: "it is above 30 V and up to 60 V, and the scheme does not say how wet the place is"},
		},
		Example: study.Example{
			Given: []string{"A supply of 48 V, whose set point spreads by 2 %, feeds a run outdoors."},
			Sums:  []string{"1.02 × 48 V = 48.96 V", "48.96 V > 30 V", "48.96 V < 60 V"},
			Value: "48.96 V", Limit: "30 V", Grade: finding.Danger,
			Says: "In a dry place it would pass.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		if _, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part); !ok {
			return nil // protection/not-chosen says so
		}
		limit, where := touchDry, "dry"
		place := s.Scheme.Site.Exposure
		if place != parts.Dry && place != "" {
			limit, where = touchWet, "not dry"
		}
		volts, from, _ := s.Highest(id)
		if place == "" && volts > touchWet && volts <= touchDry {
			return study.Unknown(fmt.Sprintf("%s is on up to %v. In a dry place bare parts of that may be touched, in no other; the scheme does not say how wet the place is.", id, volts), "Write exposure under site.")
		}
		a := study.Upper(float64(volts), float64(limit), 0, finding.Danger).Fill("", "V", touchSource.Basis, touchSource.String())
		got, most := unit.Apart(volts, limit)
		return []study.Assessment{a.On(func() []study.Number {
			return append(s.HighestOf(from), study.Taken(fmt.Sprintf("%v to touch", limit), touchSource))
		}).Say(fmt.Sprintf("%s is on up to %s. Where a place is %s, bare parts may be touched up to %s, and tape has bare pads and ends.", id, got, where, most),
			"Use a lower voltage.").Worked(func(w *study.Working) {
			w.Highest(s, "U_hi", from)
			w.Taken("U_t", "voltage up to which bare parts may be touched where a place is "+where, study.Of(limit), touchSource)
			w.Upper("U_hi", "U_t", 0, finding.Danger)
		})}
	},
}
