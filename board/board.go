// Package board judges the distribution board and other places where copper is clamped: inlets, ways, port grounds,
// junctions, connectors, contactors and fuse holders under load, against the ratings of their parts. There is no thermal curve yet: up to 1.2 times its rating a
// contact fails, beyond it is a danger (common practice, no source). With the cap failed it is tight where fuses surely end whatever is
// above the rating within 60 s. Cores of data leads are cable: above what they may carry they are a danger, unless a fuse ends it before they take harm.
package board

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{inletCurrent, wayCurrent, portGround, junctionCurrent, junctionFit, connectorCurrent, connectorFit, contactorCurrent, ratedVolts, enclosureDegree}
}

// A contact is a place where a current goes through a clamp, with what its part says of it.
type contact struct {
	name      string // in a sentence
	part, key string
	rating    parts.Value[unit.Ampere]
}

// A flow is currents that go through a contact together, each with what it is.
type flow []current

type current struct {
	means string
	amps  unit.Ampere
}

// sum is what a flow comes to.
func (f flow) sum() unit.Ampere {
	sum := unit.Ampere(0)
	for _, c := range f {
		sum += c.amps
	}
	return sum
}

// one is a flow of one current.
func one(means string, amps unit.Ampere) flow { return flow{{means, amps}} }

// judge compares the heaviest of some flows, which meet the contact one at a time, with its rating. drawn lists what decides them;
// by is what feeds the contact, one way of several.
func (c contact) judge(s *study.Study, flows []flow, in network.Case, drawn func() []study.Number, remedy string, by func() []network.Behind) study.Assessment {
	amps := unit.Ampere(0)
	for _, f := range flows {
		amps = max(amps, f.sum())
	}
	a := study.Upper(float64(amps), float64(c.rating.Is), 0.05, study.Overload(float64(amps), float64(c.rating.Is))).Fill(in.Name, "A", c.rating.Basis, c.rating.Source)
	over, words := a.Grade >= finding.Fails, ""
	var end study.Ending
	if over && in.Kind == network.CapFailed {
		end = s.Ending(in, amps, c.rating.Is, study.Patient, by()...)
		a.Grade, words = end.Grade(a.Grade, true), " "+end.Words()
	}
	helps, grave := words != "" && end.Helps(), a.Grade >= finding.Fails
	got, most := unit.Apart(amps, c.rating.Is)
	return a.On(func() []study.Number {
		numbers := append(drawn(), study.Stated(c.part, c.key, c.rating))
		if helps {
			numbers = append(append(numbers, s.EndedBy(end)...), study.Taken("60 s for a fuse to end it", study.PatienceSource()))
		}
		if grave {
			numbers = append(numbers, study.Taken("danger from 1.2 times a rating on", study.GraveSource()))
		}
		return numbers
	}).Say(fmt.Sprintf("%s carries %s in %s; it is rated for %s.%s", c.name, got, study.CaseWords(in), most, words), remedy).Worked(func(w *study.Working) {
		through(w, flows, in)
		w.Stated("I_r", "rating of one contact", study.Stated(c.part, c.key, c.rating))
		if helps {
			w.Taken("t_p", "how long it may be over its rating", study.Of(study.Patience), study.PatienceSource())
			w.Ended(s, in, end, "I", "I_r", true)
			return
		}
		w.Overload("I", "I_r")
	})
}

// fed is all that feeds a place, as the one way to relieve it.
func fed(s *study.Study, place string) func() []network.Behind {
	return func() []network.Behind { return []network.Behind{s.Network.Fed(place)} }
}

// through takes the flows of a contact; the heaviest is I.
func through(w *study.Working, flows []flow, in network.Case) {
	if len(flows) == 1 && len(flows[0]) == 1 {
		w.Solved("I", flows[0][0].means, study.Of(flows[0][0].amps), in)
		return
	}
	n := 0
	var sums []string
	for _, f := range flows {
		var signs []string
		for _, c := range f {
			n++
			sign := fmt.Sprintf("I_%d", n)
			w.Solved(sign, c.means, study.Of(c.amps), in)
			signs = append(signs, sign)
		}
		if signs != nil {
			sums = append(sums, strings.Join(signs, " + "))
		}
	}
	w.Step("What goes through it", "I = max("+strings.Join(sums, ", ")+")")
}

// noThicker works out whether so many cores in one clamp are as thick as it takes; numbers are its largest, and that of a core.
func noThicker(cores int, numbers func() []study.Number) func(*study.Working) {
	return func(w *study.Working) {
		w.Counted("n", "cores in one clamp", cores)
		w.Stated("A", "cross-section of one core", numbers()[1])
		w.Stated("A_hi", "largest that the clamp takes", numbers()[0])
		w.Step("What is clamped together", "A_c = n · A")
		w.Upper("A_c", "A_hi", 0, finding.Fails)
	}
}

// noThinner works out whether a core is as thick as a clamp asks; numbers are its smallest, and that of the core.
func noThinner(numbers func() []study.Number) func(*study.Working) {
	return func(w *study.Working) {
		w.Stated("A", "cross-section of one core", numbers()[1])
		w.Stated("A_lo", "smallest that the clamp holds", numbers()[0])
		w.Lower("A", "A_lo", 0, finding.Fails)
	}
}

// contactSources and contactGrades are common to all contacts.
func contactSources(sheet string) []study.Source {
	return []study.Source{
		{Title: sheet, Basis: parts.Datasheet, Says: "the rating; boards of the catalogue are invented, and so are their ratings"},
		{Title: "DIN EN 60998-1", Basis: parts.Standard, Says: "a terminal at its test current gets at most 45 K warmer than its surroundings: what a rating means", Read: "a page that quotes it"},
		study.GraveSource(),
		study.PatienceSource(),
	}
}

func contactGrades(unknown string) []study.Graded {
	return []study.Graded{
		{Grade: finding.Danger, When: "the current is above 1.2 times the rating; with the cap failed, what no fuse surely ends within 60 s"},
		{Grade: finding.Fails, When: "the current is above the rating; with the cap failed, what no fuse surely ends within 60 s"},
		{Grade: finding.Unknown, When: unknown},
		{Grade: finding.Tight, When: "the current is above 95 % of the rating, or, with the cap failed, above it, and a fuse ends whatever is"},
	}
}
