package board

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

// usual is what a contact stands that does not say.
var usual = parts.Value[unit.Volt]{Is: 50, Basis: parts.Practice, Source: usualSource.String(), Given: true}

// usualSource is its source.
var usualSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a contact, splice or plug that states none stands 50 V"}

var ratedVolts = study.Rule{
	Name: "board/rated-volts", Title: "Rated voltage", Scope: study.Fittings, Safety: true,
	Doc: study.Doc{
		What:    "The highest voltage that the supplies on their copper bring, against what boards, junctions, connectors, fuse holders, contactors and capacitors are made for.",
		Why:     "Above it a board's own parts and capacitors give way, mostly as a short and with a bang, and contacts that open do not break what they should.",
		Formula: []string{"U = k_u · U_s ≤ U_r"},
		Symbols: []study.Symbol{
			{Sign: "U", Unit: "V", Means: "highest voltage that a supply on the copper brings"},
			{Sign: "U_s", Unit: "V", Means: "set point of that supply: as trimmed, else its part's"},
			{Sign: "k_u", Unit: "1", Means: "upper end of the spread of its set point"},
			{Sign: "U_r", Unit: "V", Means: "what the part is made for (volts_max): between its bars or poles; of a contactor what its contacts break"},
		},
		Sources: []study.Source{
			{Title: "the sheet of the part", Basis: parts.Datasheet, Says: "its rated voltage; boards of the catalogue are invented, and so are their ratings"},
			usualSource,
		},
		Limits: []string{
			"The supply is taken to be sound. One whose control has failed may give up to where it shuts down (over_voltage).",
			"Dirt and wet across a contact, and the distance to mains in the same box, are not judged.",
			"Coils of contactors are not judged.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the voltage is above what a board, a contactor or a capacitor is made for"},
			{Grade: finding.Fails, When: "it is above what a junction, connector or holder is made for"},
			{Grade: finding.Unknown, When: "a board or contactor does not say; what is not chosen yet is said by other rules"},
		},
		Example: study.Example{
			Given: []string{"A board made for 15 V hangs on a supply of 24 V, whose set point spreads by 1 %."},
			Sums:  []string{"1.01 × 24 V = 24.24 V", "24.24 V > 15 V"},
			Value: "24.2 V", Limit: "15 V", Grade: finding.Danger,
			Says: "The regulators and capacitors on it are not made for that.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		var found []study.Assessment
		for _, f := range fittings(s, id) {
			found = append(found, f.judge(s)...)
		}
		return found
	},
}

// A fitting is something that stands between the poles of a supply.
type fitting struct {
	name  string // in a sentence
	on    string // the thing whose copper it is on
	part  string
	volts parts.Value[unit.Volt]
	over  finding.Grade
	fix   func() []finding.Edit
}

// fittings is the board, junction, contactor or capacitor, or the connectors and the holder of the cable, that an identifier names; what is not
// chosen is left out.
func fittings(s *study.Study, id string) []fitting {
	var list []fitting
	add := func(name, on, part string, volts parts.Value[unit.Volt], over finding.Grade, fix func() []finding.Edit) {
		list = append(list, fitting{name, on, part, volts, over, fix})
	}
	if part, ok := s.Scheme.BoardPart(id); ok {
		add(id, id, s.Scheme.Boards[id].Part, part.VoltsMax, finding.Danger, func() []finding.Edit { return remedy.Board(s, id) })
	}
	if part, ok := parts.Get[parts.Junction](s.Scheme.Library, s.Scheme.Junctions[id].Part); ok {
		add(id, id, s.Scheme.Junctions[id].Part, part.VoltsMax.Or(usual), finding.Fails, func() []finding.Edit { return remedy.Junction(s, id) })
	}
	relay := s.Scheme.Contactors[id]
	if part, ok := parts.Get[parts.Relay](s.Scheme.Library, relay.Part); ok {
		add(id, relay.In, relay.Part, part.VoltsMax, finding.Danger, func() []finding.Edit { return remedy.Contactor(s, id) })
	}
	capacitor := s.Scheme.Capacitors[id]
	if part, ok := parts.Get[parts.Capacitor](s.Scheme.Library, capacitor.Part); ok {
		add(id, capacitor.At.Element, capacitor.Part, part.VoltsMax, finding.Danger, func() []finding.Edit { return remedy.Capacitor(s, id) })
	}
	for _, e := range ends(s, id) {
		if part, ok := parts.Get[parts.Connector](s.Scheme.Library, e.part); ok {
			add(e.name, id, e.part, part.VoltsMax.Or(usual), finding.Fails, func() []finding.Edit {
				if e.holder {
					return remedy.InlineFuse(s, id)
				}
				return remedy.Connectors(s, id)
			})
		}
	}
	return list
}

func (f fitting) judge(s *study.Study) []study.Assessment {
	volts, from, fed := s.Highest(f.on)
	switch {
	case !fed:
		return study.Passes("No supply is on the copper of " + f.on + ".")
	case !f.volts.Given:
		return study.Unknown(fmt.Sprintf("%s is on up to %v, and %s does not say what it is made for.", f.name, volts, f.part), "Give the part a volts_max from its sheet.")
	}
	a := study.Upper(float64(volts), float64(f.volts.Is), 0, f.over).Fill("", "V", f.volts.Basis, f.volts.Source)
	stated := study.Stated(f.part, "volts_max", f.volts)
	if f.volts == usual {
		stated = study.Taken("50 V for a contact that states none", usualSource)
	}
	got, most := unit.Apart(volts, f.volts.Is)
	return []study.Assessment{a.On(func() []study.Number { return append(s.HighestOf(from), stated) }).
		Say(fmt.Sprintf("%s is on up to %s, from %s; it is made for %s.", f.name, got, from, most), "Use a part made for that voltage, or hang it on another supply.").
		Fixed(f.fix).Worked(func(w *study.Working) {
		w.Highest(s, "U", from)
		if f.volts == usual {
			w.Taken("U_r", "what a contact stands that states none", study.Of(f.volts.Is), usualSource)
		} else {
			w.Stated("U_r", "what "+f.name+" is made for", stated)
		}
		w.Upper("U", "U_r", 0, f.over)
	})}
}
