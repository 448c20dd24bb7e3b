package light

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

var typicalTape = study.Rule{
	Name: "light/typical-tape", Title: "Typical tape", Scope: study.Tapes,
	Doc: study.Doc{
		What:    "The rail and the set currents of a tape against having been measured.",
		Why:     "Tapes of one description differ widely. Where nobody measured this one, every result for it is that of a typical tape, and yours may lose twice as much.",
		Formula: []string{"basis of r = measured", "basis of each I = measured"},
		Symbols: []study.Symbol{
			{Sign: "r", Unit: "Ω/m", Means: "rail of the tape, each pole (rail)"},
			{Sign: "I", Unit: "A", Means: "current of a channel, fully on (set; string where a resistor sets it)"},
		},
		Sources: []study.Source{
			{Title: "two tapes of 60 pixels/m", Basis: parts.Measured, Says: "rails of about 97 and of 186 mΩ/m", Read: "a page on one RGBW strip (2023-08-31); a fit to published currents of another"},
			{Title: "published measurements of single pixels", Basis: parts.Measured, Says: "set currents of 8 to 18 mA a channel", Read: "the same page; forum threads that name their meters or resistors"},
		},
		Limits: []string{
			"It asks whether numbers are measured, not how well, nor on which reel.",
			"Knees, intensities and joints may be as far off; measured rails and currents take away most of the doubt.",
		},
		Grades: []study.Graded{
			{Grade: finding.Unknown, When: "what the run names is no tape"},
			{Grade: finding.Note, When: "the rail, or the current of a channel, rests on anything but a measurement"},
		},
		Example: study.Example{
			Given: []string{"A typical tape is taken with rails of 100 mΩ/m. The worst of the two that were measured has 186 mΩ/m."},
			Sums:  []string{"186 mΩ/m/100 mΩ/m = 1.86"},
			Grade: finding.Note,
			Says:  "The same run would lose 86 % more voltage along its rails.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		tape, ok := parts.Get[parts.Tape](s.Scheme.Library, id)
		if !ok {
			return study.Unknown(id+" is not a tape.", "Choose a tape.")
		}
		numbers, measure := []study.Number{study.Stated(id, "rail", tape.Rail)}, []string{"rail"}
		for _, channel := range scheme.Channels(tape) {
			key, number := "set", study.Stated(id, "channels."+channel+".set", tape.Channels[channel].Set)
			if ohms := tape.Channels[channel].String; ohms.Given {
				key, number = "string", study.Stated(id, "channels."+channel+".string", ohms)
			}
			if !slices.Contains(measure, key) {
				measure = append(measure, key)
			}
			numbers = append(numbers, number)
		}
		typical := func(w *study.Working) {
			guessed := unmeasured(numbers)
			w.Counted("N_u", "of its rail and the currents of its channels, what rests on anything but a measurement: "+study.Listed(guessed), len(guessed))
			w.When(finding.Note, "N_u > 0")
		}
		if len(unmeasured(numbers)) == 0 {
			return []study.Assessment{study.Assessment{Grade: finding.Pass}.Worked(typical)}
		}
		a := study.Assessment{Grade: finding.Note, Basis: tape.Rail.Basis, Source: tape.Rail.Source}
		return []study.Assessment{a.On(func() []study.Number { return numbers }).Say(
			fmt.Sprintf("The tape %s is a typical one (%s); yours may differ by half or more. Measure yours.", id, tape.Title),
			"Measure, and put into the scheme's own parts: "+strings.Join(advice(tape, measure), "; ")+".").Worked(typical)}
	},
}

// unmeasured lists the numbers that were not measured, with their bases.
func unmeasured(numbers []study.Number) []string {
	var list []string
	for _, n := range numbers {
		if n.Basis != parts.Measured {
			list = append(list, n.Key+" ("+string(n.Basis)+")")
		}
	}
	return list
}

// advice says how to measure each of some numbers of a tape, in the tape's own words where it has any.
func advice(tape *parts.Tape, keys []string) []string {
	usual := map[string]string{"rail": "the volts lost in each rail over 1 m, at a known current", "set": "the current of 10 pixels in each colour", "string": "the current of 10 pixels in each colour"}
	var list []string
	for _, key := range keys {
		text := string(tape.Measure[key])
		if text == "" {
			text = usual[key]
		}
		list = append(list, key+", from "+text)
	}
	return list
}
