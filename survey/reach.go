package survey

import (
	"fmt"
	"strconv"

	"farend/finding"
	"farend/remedy"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

var reach = study.Rule{
	Name: "survey/reach", Title: "Cables that reach", Scope: study.Lines, Safety: true,
	Doc: study.Doc{
		What: "The length of a cable or data lead against how far its two ends are drawn apart, in a straight line, where both are drawn; and against its route, where that is drawn.",
		Why: "A cable that is shorter than the way does not reach. Whoever lays it takes a longer one, and that is not the one which was computed: it loses more voltage, a short at its end is " +
			"smaller, and a fuse that would open in time by the sums may take long or not open at all. On a data lead edges come later and come back from farther.",
		Formula: []string{"d = √((x_2 − x_1)² + (y_2 − y_1)²)", "L ≥ d − max(0.01 · L, 5 mm)", "L ≥ D − max(0.01 · L, 5 mm)"},
		Symbols: []study.Symbol{
			{Sign: "L", Unit: "m", Means: "length of the cable or lead, as it is listed"},
			{Sign: "d", Unit: "m", Means: "how far its ends are drawn apart"},
			{Sign: "D", Unit: "m", Means: "length of its route, as it is drawn"},
			{Sign: "x_1", Unit: "m", Means: "where its first end is drawn, to the right"},
			{Sign: "y_1", Unit: "m", Means: "where its first end is drawn, upwards on the plan"},
			{Sign: "x_2", Unit: "m", Means: "where its other end is drawn, to the right"},
			{Sign: "y_2", Unit: "m", Means: "where its other end is drawn, upwards on the plan"},
		},
		Sources: []study.Source{straight, slack},
		Limits: []string{
			"A place on a run is a point along its line, by its share of the pixels; data goes in where the line begins and out where it ends. Anything else is at its point: draw that where its terminals are.",
			"What has no place in the drawing is not judged, nor what is in a box that has one. Neither is what several cables come to that meet at a junction without a place.",
			"Heights are not in a drawing, nor are slack, drip loops and what goes into terminals: a cable that passes may be too short still, and one much longer than its ends are apart is as usual.",
			"A contactor in a cable may lie off the straight way; that it goes by there is not counted.",
			"Whether the length or the drawing is wrong only people know. Until they say, it counts as a question of safety, for every sum about fuses and shorts takes the length for true.",
		},
		Grades: []study.Graded{{Grade: finding.Fails, When: "it is shorter than the way, by more than a hundredth and 5 mm"}},
		Example: study.Example{
			Given: []string{"The first tread of a stair is drawn from x 0 to x 1.2 m at y 0, the second likewise at y 0.3 m. A data lead of 0.4 m goes from the end of the first to the beginning of the second."},
			Sums: []string{
				"√((0 m − 1.2 m)² + (0.3 m − 0 m)²) = 1.237 m", "max(0.01 × 0.4 m, 5 mm) = 5 mm", "1.237 m − 5 mm = 1.232 m", "0.4 m < 1.232 m",
			},
			Value: "0.4 m", Limit: "1.232 m", Grade: finding.Fails,
			Says: "It would do if the second run began where the first ends: draw it from there, or list 1.3 m.",
		},
	},
	Judge: func(s *study.Study, id string) (found []study.Assessment) {
		length := s.Scheme.Cables[id].Length
		section := "cables"
		if lead, is := s.Scheme.Data[id]; is {
			length, section = lead.Length, "data"
		}
		if length == nil {
			return nil
		}
		w := way{s: s, id: id, section: section, length: *length}
		if apart, ends, ok := s.Scheme.Apart(id); ok {
			found = append(found, w.between(apart, ends))
		}
		if route := s.Scheme.Drawing[id].Length(); route > 0 {
			found = append(found, w.along(route))
		}
		return study.FixedAll(found, func() []finding.Edit { return remedy.Reaching(s, id) })
	},
}

// A way is a cable or data lead whose length is held against the drawing.
type way struct {
	s       *study.Study
	id      string
	section string
	length  unit.Metre
}

// between judges it by where its ends are drawn.
func (w way) between(apart unit.Metre, ends [2]scheme.Drawn) study.Assessment {
	is, least := unit.Apart(w.length, apart)
	names := [2]string{ends[0].Ref.String(), ends[1].Ref.String()}
	for i, end := range ends {
		if end.Ref.Kind == scheme.RunRef {
			names[i] = [2]string{"the end of ", "the beginning of "}[i] + names[i]
		}
	}
	return w.judged(apart, fmt.Sprintf("%s is %s long, and %s and %s are drawn %s apart", w.id, is, names[0], names[1], least)).Worked(func(t *study.Working) {
		for i, end := range ends {
			n := strconv.Itoa(i + 1)
			drawnAt(t, w.s.Scheme, "x_"+n, names[i]+", to the right", unit.Metre(end.At[0]), end.Ref.Element)
			drawnAt(t, w.s.Scheme, "y_"+n, names[i]+", upwards on the plan", unit.Metre(end.At[1]), end.Ref.Element)
		}
		t.Step("How far its ends are drawn apart", "d = √((x_2 − x_1)² + (y_2 − y_1)²)")
		w.compared(t, "d")
	})
}

// along judges it by its route.
func (w way) along(route unit.Metre) study.Assessment {
	is, least := unit.Apart(w.length, route)
	return w.judged(route, fmt.Sprintf("%s is %s long, and its route is drawn %s long", w.id, is, least)).Worked(func(t *study.Working) {
		drawnAt(t, w.s.Scheme, "D", "length of its route, as it is drawn", route, w.id)
		w.compared(t, "D")
	})
}

// judged compares its length with a way that it has to go at the least.
func (w way) judged(least unit.Metre, what string) study.Assessment {
	may := scheme.Slack(w.length)
	return study.Lower(float64(w.length), float64(least-may), 0, finding.Fails).Fill("", "m", straight.Basis, straight.String()).On(rests(least-w.length, may)).
		Say(what+": it does not reach, and what is computed of it is of one that cannot be.",
			"Measure the way, with heights and slack, and list that; or draw the ends where they are.")
}

// compared is what judged does, worked out.
func (w way) compared(t *study.Working, way string) {
	t.Written("L", "its length, as it is listed", study.Of(w.length), w.section+"."+w.id+".length", w.s.Scheme.Place(w.section, w.id, "length"))
	slackOf(t, "L")
	t.Step("The least that it has to be long", "L_min = "+way+" − t")
	t.Lower("L", "L_min", 0, finding.Fails)
}
