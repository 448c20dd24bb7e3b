package protection

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// above is how far over its own set point others may hold the output of a supply.
const above = 0.15

// aboveSource is its source.
var aboveSource = study.Source{Title: "typical value of enclosed supplies", Basis: parts.Memory, Says: "overvoltage protection acts from 115 % of nominal voltage on; no sheet was read"}

var unequalSupplies = study.Rule{
	Name: "protection/unequal-supplies", Title: "Unequal supplies joined", Scope: study.Supplies, Safety: true,
	Doc: study.Doc{
		What: "The highest set point of the supplies whose plus and whose minus copper joins to those of a supply, against what the output of that supply stands: 115 % of its own set point, or where its overvoltage protection may act, if that is lower.",
		Why:  "The higher one drives current into the output of the lower one, whose capacitors and rectifiers are not made for that voltage: it may burn, or latch off, and what is made for the lower voltage gets the higher one.",
		Formula: []string{
			"U_h ≤ U_v",
			"U_v = min(1.15 · U_s, U_o)",
		},
		Symbols: []study.Symbol{
			{Sign: "U_h", Unit: "V", Means: "highest set point of the others on the same copper: the part's volts, or as trimmed"},
			{Sign: "U_v", Unit: "V", Means: "what the output of the supply stands"},
			{Sign: "U_s", Unit: "V", Means: "its own set point"},
			{Sign: "U_o", Unit: "V", Means: "lower end of the band in which its overvoltage protection acts (over_voltage), where its part says so"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the supply", Basis: parts.Datasheet, Says: "from which voltage its overvoltage protection acts; where no sheet was seen the part says memory"},
			aboveSource,
		},
		Limits: []string{
			"It sees copper, fuses and ground cores of data leads. A diode or relay between two supplies is not in a scheme.",
			"The solved network lets no current back into a supply, which is optimistic: what it shows of supplies that are joined so is not what they would do.",
			"Set points that differ by less are judged by protection/parallel-supplies and protection/idle-supply.",
			"Steady set points only: a supply whose control fails may give more.",
		},
		Grades: []study.Graded{{Grade: finding.Danger, When: "another supply on the same copper is set higher than that"}},
		Example: study.Example{
			Given: []string{"A supply of 12 V and one of 5 V are led to one inlet. The overvoltage protection of the lower one acts from 5.75 V on."},
			Sums:  []string{"1.15 × 5 V = 5.75 V", "12 V > 5.75 V"},
			Value: "12 V", Limit: "5.75 V", Grade: finding.Danger,
			Says: "The lower one has 12 V on an output made for 5 V, and so has every 5 V tape on that inlet.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		high, ok := highest(s, s.Network.Partners(id))
		part, chosen := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
		if !ok || !chosen {
			return study.Passes("No other supply has both poles on the same copper.")
		}
		name, set, driven := s.Scheme.Supplies[id].Part, s.Scheme.SetPoint(id), s.Scheme.SetPoint(high)
		limit, basis, source, words := unit.Volt(1+above)*set, aboveSource.Basis, aboveSource.String(), ""
		if low := part.OverVoltage.Low; low.Given {
			words = fmt.Sprintf(" Its overvoltage protection may act from %v on.", low.Is)
			if low.Is < limit {
				limit, basis, source = low.Is, low.Basis, low.Source
			}
		}
		a := study.Upper(float64(driven), float64(limit), 0, finding.Danger).Fill("", "V", basis, source)
		return []study.Assessment{a.On(func() []study.Number { return setNumbers(s, id, high, limit < unit.Volt(1+above)*set) }).Say(
			fmt.Sprintf("%s is set to %v, and copper joins it to %s, set to %v, which drives current into its output: that may burn it, and what is made for %v gets %v.%s No current back into a supply is solved, which is optimistic.",
				id, set, high, driven, set, driven, words),
			fmt.Sprintf("Part the plus of %s from that of %s: boards, ways and runs of its own for each. Only their returns may meet.", id, high)).Worked(func(w *study.Working) {
			settingOf(w, s, "U_h", "set point of "+high+", the highest of the others on the same copper", high)
			settingOf(w, s, "U_s", "its own set point", id)
			w.Taken("k_o", "share of its own set point that its output stands", study.Plain(1+above), aboveSource)
			if low := part.OverVoltage.Low; low.Given {
				w.Stated("U_o", "from where its overvoltage protection may act", study.Stated(name, "over_voltage.low", low))
				w.Step("What its output stands", "U_v = min(k_o · U_s, U_o)")
			} else {
				w.Step("What its output stands", "U_v = k_o · U_s")
			}
			w.Upper("U_h", "U_v", 0, finding.Danger)
		}).Fixed(func() []finding.Edit { return remedy.Unlike(s, id, high) })}
	},
}

// highest is the supply with the highest set point of some; it is not ok where there is none.
func highest(s *study.Study, supplies []string) (id string, ok bool) {
	for _, t := range supplies {
		if !ok || s.Scheme.SetPoint(t) > s.Scheme.SetPoint(id) {
			id, ok = t, true
		}
	}
	return id, ok
}

// settingOf takes the set point of a supply.
func settingOf(w *study.Working, s *study.Study, sign, means, id string) {
	t := s.Scheme.Supplies[id]
	if t.Volts != nil {
		w.Written(sign, means+", as trimmed", study.Of(*t.Volts), "supplies."+id+".volts", s.Scheme.Place("supplies", id, "volts"))
		return
	}
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, t.Part)
	w.Stated(sign, means, study.Stated(t.Part, "volts", part.Volts))
}

// setNumbers lists what decides whether a supply stands another: the set points that nobody trimmed, and what its output stands.
func setNumbers(s *study.Study, id, other string, protected bool) []study.Number {
	var numbers []study.Number
	for _, t := range []string{other, id} {
		if part, ok := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[t].Part); ok && s.Scheme.Supplies[t].Volts == nil {
			numbers = append(numbers, study.Stated(s.Scheme.Supplies[t].Part, "volts", part.Volts))
		}
	}
	part, _ := parts.Get[parts.Supply](s.Scheme.Library, s.Scheme.Supplies[id].Part)
	if protected {
		return append(numbers, study.Stated(s.Scheme.Supplies[id].Part, "over_voltage.low", part.OverVoltage.Low))
	}
	return append(numbers, study.Taken("115 % of a supply's set point", aboveSource))
}
