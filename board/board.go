// Package board judges the distribution board and other places where copper is clamped: inlets, ways, port grounds,
// junctions, connectors and fuse holders under load, against the ratings of their parts. There is no thermal curve yet: up to 1.2 times its rating a
// contact fails, beyond it is a danger (common practice, no source), whatever opens. Cores of data leads are cable: above what
// they may carry they are a danger.
package board

import (
	"fmt"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule {
	return []study.Rule{inletCurrent, wayCurrent, portGround, junctionCurrent, junctionFit, connectorCurrent, connectorFit}
}

// A contact is a place where a current goes through a clamp, with what its part says of it.
type contact struct {
	name      string // in a sentence
	part, key string
	rating    parts.Value[unit.Ampere]
}

// judge compares a current with the rating of a contact. drawn lists what decides the current.
func (c contact) judge(amps unit.Ampere, in network.Case, drawn func() []study.Number, remedy string) study.Assessment {
	a := study.Upper(float64(amps), float64(c.rating.Is), 0.05, study.Overload(float64(amps), float64(c.rating.Is))).Fill(in.Name, "A", c.rating.Basis, c.rating.Source)
	over := a.Grade >= finding.Fails
	return a.On(func() []study.Number {
		numbers := append(drawn(), study.Stated(c.part, c.key, c.rating))
		if over {
			numbers = append(numbers, study.Taken("danger from 1.2 times a rating on", study.GraveSource()))
		}
		return numbers
	}).Say(fmt.Sprintf("%s carries %v in %s; it is rated for %v.", c.name, amps, study.CaseWords(in), c.rating.Is), remedy)
}

// contactSources and contactGrades are common to all contacts.
func contactSources(sheet string) []study.Source {
	return []study.Source{
		{Title: sheet, Basis: parts.Datasheet, Says: "the rating; boards of the catalogue are invented, and so are their ratings"},
		{Title: "DIN EN 60998-1", Basis: parts.Standard, Says: "a terminal at its test current gets at most 45 K warmer than its surroundings: what a rating means", Read: "a page that quotes it"},
		study.GraveSource(),
	}
}

func contactGrades(unknown string) []study.Graded {
	return []study.Graded{
		{Grade: finding.Danger, When: "the current is above 1.2 times the rating in any case, the failed cap among them"},
		{Grade: finding.Fails, When: "the current is above the rating"},
		{Grade: finding.Unknown, When: unknown},
		{Grade: finding.Tight, When: "the current is above 95 % of the rating"},
	}
}
