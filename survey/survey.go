// Package survey judges whether what is drawn agrees with what is listed: whether cables and data leads reach from where one end is drawn to where the other is,
// and whether runs are as long as they are drawn. What is solved is solved of what is listed; what is built is built as it is drawn.
package survey

import (
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Rules lists the rules of this room.
func Rules() []study.Rule { return []study.Rule{reach, run} }

var (
	straight = study.Source{Title: "a straight line is the shortest way between two points", Basis: parts.Derived, Says: "needs no other source; what rises or falls on the way only adds to it"}
	slack    = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a drawing and a length that differ by less than a hundredth, or by less than 5 mm, are one to whoever lays cable"}
)

// slackOf works out how far what is drawn may be off a length that is listed.
func slackOf(w *study.Working, length string) {
	w.Taken("k_t", "share of a length by which a drawing may be off", study.Plain(0.01), slack)
	w.Taken("t_min", "by how much it may be off however short that is", study.Of(unit.Metre(0.005)), slack)
	w.Step("How far what is drawn may be off", "t = max(k_t · "+length+", t_min)")
}

// rests are the numbers that decide: what is drawn, others that a rule has, and where what is compared is past its limit but not by more than it may be off, how
// far that is.
func rests(off, may unit.Metre, others ...study.Number) func() []study.Number {
	return func() []study.Number {
		numbers := append([]study.Number{study.Taken("places as they are drawn", straight)}, others...)
		if off > 0 && off <= may {
			numbers = append(numbers, study.Taken("1 % and 5 mm between drawing and length", slack))
		}
		return numbers
	}
}

// drawnAt is where a line or point of the drawing stands in the scheme.
func drawnAt(w *study.Working, s *scheme.Scheme, sign, means string, length unit.Metre, id string) {
	w.Written(sign, means, study.Of(length), "drawing."+id, s.Place("drawing", id))
}
