package plan

import (
	"farend/draw"
	"farend/scheme"
	"farend/sheet/drafting"
)

// Runs are the runs of a scheme on paper and nothing else: at the places that its drawing gives, and in rows below where it gives none.
type Runs struct {
	Lines    []Line      // of those that have room
	Left     int         // how many have none
	Scale    float64     // millimetres of the world to one of paper
	Zero     *draw.Point // of the scheme's drawing; nil where it has none
	Arranged *draw.Box   // about those that stand in rows; nil where none does
}

// A Line is a run on paper, from its data-in end.
type Line struct {
	ID    string
	Trail drafting.Trail
}

// LayRuns lays the runs of a scheme out at the largest scale at which they fit into a room, in the middle of it.
func LayRuns(s *scheme.Scheme, room, area draw.Box) (laid Runs) {
	m := planned{runs: newPlanned(s).runs}
	undrawn := m.undrawn()
	c := composition{m: m, drawn: len(undrawn) < len(m.runs), rest: arrangement{runs: undrawn}}
	scale, ok := c.scale(room)
	for ; !ok; scale, ok = c.scale(room) { // what is arranged and has no room is left out
		c.rest.runs = c.rest.runs[:len(c.rest.runs)*3/4]
	}
	f := c.compose(scale, room, area)
	for _, r := range f.runs {
		laid.Lines = append(laid.Lines, Line{r.id, r.trail})
	}
	laid.Left, laid.Scale, laid.Zero, laid.Arranged = len(undrawn)-len(c.rest.runs), f.scale, f.zero(), f.arranged
	return laid
}
