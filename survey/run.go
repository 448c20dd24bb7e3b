package survey

import (
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

var lying = study.Source{Title: "a line is drawn as the tape goes", Basis: parts.Derived, Says: "needs no other source: what is drawn longer than the tape has none on it"}

var run = study.Rule{
	Name: "survey/run", Title: "Runs as long as drawn", Scope: study.Runs, Safety: true,
	Doc: study.Doc{
		What: "The length of the line that is drawn for a run against that of its tape: its pixels times the distance from one to the next.",
		Why: "Tape that is shorter than its line leaves the rest of the line dark. Whoever then cuts it as it is drawn puts up more pixels than were computed: they draw more, through the same fuses and " +
			"copper, over a longer way. Tape that is longer than its line has no room there.",
		Formula: []string{"L = N/n", "D ≤ L + max(0.01 · L, 5 mm, N_c/n)", "D ≥ L − max(0.01 · L, 5 mm)"},
		Symbols: []study.Symbol{
			{Sign: "L", Unit: "m", Means: "length of the tape"},
			{Sign: "N", Unit: "1", Means: "pixels of the run"},
			{Sign: "n", Unit: "1/m", Means: "pixels to a metre of the tape"},
			{Sign: "N_c", Unit: "1", Means: "pixels from one cut mark to the next"},
			{Sign: "D", Unit: "m", Means: "length of its line, as it is drawn"},
		},
		Sources: []study.Source{lying, slack},
		Limits: []string{
			"A drawing has no heights. A run that rises or falls, as on a stair, is drawn shorter than it is, and rightly so: shorter is a note.",
			"Tape is cut at its marks. A line that is longer by less than from one mark to the next cannot be filled, and passes.",
			"What is not drawn is not judged. That a run bends more closely than its tape may is not asked.",
			"Which of the two is wrong only people know. A line that is too long counts as a question of safety, for every load is computed of the pixels that are listed.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "it is drawn longer than its tape, by more than a hundredth, 5 mm and the distance of two cut marks"},
			{Grade: finding.Note, When: "it is drawn shorter than its tape, by more than a hundredth and 5 mm"},
		},
		Example: study.Example{
			Given: []string{"The fourth tread of a stair has 24 pixels of a tape with 20 to the metre, cut behind each. Its line is drawn from x 0 to x 1.5 m."},
			Sums:  []string{"24/(20 /m) = 1.2 m", "max(0.01 × 1.2 m, 5 mm, 1/(20 /m)) = 50 mm", "1.2 m + 50 mm = 1.25 m", "1.5 m > 1.25 m"},
			Value: "1.5 m", Limit: "1.25 m", Grade: finding.Fails,
			Says: "0.3 m of the tread stay dark; or there are six pixels more than anybody counted.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		r, tape, drawn := s.Scheme.Runs[id], s.Scheme.Tape(id), s.Scheme.Drawing[id].Length()
		if tape == nil || r.Length == nil || !(drawn > 0) {
			return nil
		}
		l := laid{s, id, r.Count, *r.Length, drawn, tape}
		if drawn < *r.Length {
			return []study.Assessment{l.shorter()}
		}
		return []study.Assessment{l.longer()}
	},
}

// A laid is a run whose length is held against its line.
type laid struct {
	s      *study.Study
	id     string
	pixels int
	length unit.Metre
	drawn  unit.Metre
	tape   *parts.Tape
}

// longer judges a line that is as long as the tape or longer.
func (l laid) longer() study.Assessment {
	may := max(scheme.Slack(l.length), unit.Metre(float64(l.tape.CutEvery)/float64(l.tape.Pixels.Is)))
	return study.Upper(float64(l.drawn), float64(l.length+may), 0, finding.Fails).Fill("", "m", lying.Basis, lying.String()).On(rests(l.drawn-l.length, may, l.density())).
		Say(l.what()+": the rest of the line stays dark, or has pixels that nobody computed.", "Make the run as long as its line, or draw the line as long as the run.").
		Worked(func(w *study.Working) {
			l.measured(w)
			w.Counted("N_c", "pixels from one cut mark of its tape to the next", l.tape.CutEvery)
			w.Step("The most that its line may be long", "D_max = L + max(t, N_c/n)")
			w.Upper("D", "D_max", 0, finding.Fails)
		})
}

// shorter judges a line that is shorter than the tape.
func (l laid) shorter() study.Assessment {
	may := scheme.Slack(l.length)
	return study.Lower(float64(l.drawn), float64(l.length-may), 0, finding.Note).Fill("", "m", lying.Basis, lying.String()).On(rests(l.length-l.drawn, may, l.density())).
		Say(l.what()+": there is no room for it, unless it rises or falls, which no drawing shows.", "Where it lies level, shorten the run, or draw its line as it goes.").
		Worked(func(w *study.Working) {
			l.measured(w)
			w.Step("The least that its line may be long", "D_min = L − t")
			w.Lower("D", "D_min", 0, finding.Note)
		})
}

// what says how long the run is and how long its line.
func (l laid) what() string {
	line, is := unit.Apart(l.drawn, l.length)
	return fmt.Sprintf("%s is drawn %s long, and its %s are %s of tape", l.id, line, study.Counted(l.pixels, "pixel"), is)
}

// measured works out how long its tape is, and how far the line may be off.
func (l laid) measured(w *study.Working) {
	drawnAt(w, l.s.Scheme, "D", "length of its line, as it is drawn", l.drawn, l.id)
	w.Counted("N", "pixels of "+l.id, l.pixels)
	w.Stated("n", "pixels to a metre", l.density())
	w.Step("Length of its tape", "L = N/n")
	slackOf(w, "L")
}

// density is how many pixels its tape has to a metre.
func (l laid) density() study.Number {
	return study.Stated(l.s.Scheme.Runs[l.id].Tape, "pixels", l.tape.Pixels)
}
