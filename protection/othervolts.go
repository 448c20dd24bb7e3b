package protection

import (
	"fmt"

	"farend/finding"
	"farend/fuse"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

var brokenSource = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "above its limit a chip breaks down within milliseconds, and nothing says what it then draws: a run that goes on like that for more than a minute may burn"}

var otherVolts = study.Rule{
	Name: "protection/bridged-volts", Title: "Voltage of another run", Scope: study.Runs, Safety: true,
	Doc: study.Doc{
		What:    "The voltage across a run whose plus meets that of a run of a higher voltage, at the ends of both, against what its chips allow; and for how long that goes on.",
		Why:     "A 5 V supply takes no current back, so 24 V lift all that hangs on it. Its chips break down, and what they then draw may be too little for a fuse and enough for a fire.",
		Formula: []string{"U_b ≤ U_max"},
		Symbols: []study.Symbol{
			{Sign: "U_b", Unit: "V", Means: "voltage between the poles of the run where it is met, at first and as long as its chips are whole"},
			{Sign: "U_max", Unit: "V", Means: "the highest voltage that its chips allow"},
		},
		Sources: []study.Source{brokenSource},
		Limits: []string{
			"The chips are taken to draw as before. What broken ones draw is not known: more opens a fuse sooner, or does not.",
			"One run of the higher voltage stands for all on the same supplies. Runs that the scheme lists under separate are out of each other's reach and are not asked.",
			"Where nothing joins the returns of both, nothing flows, and the voltage stays what it was.",
			"What a supply does when it is lifted above its set point is not known: some draw current then, or shut down.",
		},
		Grades: []study.Graded{
			{Grade: finding.Danger, When: "the voltage is above what the chips allow, and nothing surely ends that within 60 s"},
			{Grade: finding.Unknown, When: "the tape does not say what its chips allow"},
			{Grade: finding.Note, When: "the voltage is above it, and fuses surely end that within 60 s: the run is lost, but burns no longer"},
		},
		Example: study.Example{
			Given: []string{"24 V meet the plus of a metre of 5 V tape whose supply shares the minus. Its 60 pixels draw 3.3 A, and the fuse of 5 A before the 24 V tape holds that for ever."},
			Sums:  []string{"23.6 V > 5.3 V", "23.6 V · 3.3 A = 77.9 W"},
			Value: "23.6 V", Limit: "5.3 V", Grade: finding.Danger,
			Says: "78 W go on in a metre of tape that is made for 11 W.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		t := s.Struck()
		if t == nil {
			return nil // protection/faults says so
		}
		b, met := t.Bridged(id)
		if !met {
			return study.Passes("No run of a higher voltage is within reach of " + id + ".")
		}
		tape, name := s.Scheme.Tape(id), s.Scheme.Runs[id].Tape
		if !tape.VoltsMax.Given {
			return study.Unknown(fmt.Sprintf("%s: %s does not say the highest voltage its chips allow.", id, name), "Give the tape a volts_max from its chip's datasheet.")
		}
		return []study.Assessment{lift(s, id, b)}
	},
}

// lift is the assessment of what a run of a higher voltage brings to one.
func lift(s *study.Study, id string, b study.Bridged) study.Assessment {
	tape, stated := s.Scheme.Tape(id), study.Stated(s.Scheme.Runs[id].Tape, "volts_max", s.Scheme.Tape(id).VoltsMax)
	over, ends := finding.Danger, fmt.Sprintf("goes on for up to %v", b.Ends)
	switch {
	case b.Ends == fuse.Never:
		ends = "goes on for ever, since nothing surely opens"
	case b.Ends <= study.Patience:
		over, ends = finding.Note, fmt.Sprintf("has surely ended within %v: the run is lost then, but no more", b.Ends)
	}
	got, most := unit.Apart(b.Volts, tape.VoltsMax.Is)
	c := b.Strike.Case
	a := study.Upper(float64(b.Volts), float64(tape.VoltsMax.Is), 0, over).Fill(c.Name, "V", tape.VoltsMax.Basis, tape.VoltsMax.Source)
	a.At = c.Fault.To
	return a.On(func() []study.Number { return []study.Number{stated} }).
		Say(fmt.Sprintf("%s gets %s in %s, %s; its chips allow %s. That draws %v and %s.", id, got, study.FaultWords(c.Fault), study.StruckWords(c), most, b.Strike.Amps, ends),
			"Keep the two out of each other's reach, each in a channel or sleeve of its own, and list them under separate; or use a fuse before the higher one that opens with what the lower draws.").
		Worked(func(w *study.Working) {
			w.Solved("U_b", fmt.Sprintf("voltage between the poles at %s, in %s, %s", c.Fault.To, study.FaultWords(c.Fault), study.StruckWords(c)), study.Of(b.Volts), c)
			w.Stated("U_max", "highest voltage that the chip allows", stated)
			w.Upper("U_b", "U_max", 0, over)
			if b.Volts > tape.VoltsMax.Is {
				w.Fact(over, "It "+ends+".")
			}
		})
}
