package study

import (
	"farend/finding"
	"farend/parts"
)

// A Doc is what people read about a rule, in farend explain, its JSON and docs/rules.md. It stands beside the judge that it
// describes, and tests hold it to be whole: every section there, every sign of a formula explained with its unit, every sum of
// an example right, and every example judged by the rule as the example says.
type Doc struct {
	What    string   // what is compared with what
	Why     string   // what happens beyond the limit
	Formula []string // the comparison, a line each
	Symbols []Symbol // every sign in the formula
	Sources []Source
	Limits  []string // where the rule ends: what it does not see, where its numbers hold
	Grades  []Graded // what makes each grade, worst first
	Example Example
}

// A Symbol is one sign of a formula. Unit is 1 for ratios and counts.
type Symbol struct{ Sign, Unit, Means string }

// A Source is what one fact of a rule rests on.
type Source struct {
	Title   string // the standard, sheet or page, or what stands in its place: "common practice"
	Edition string // its year, revision or date; empty where none is known
	Clause  string // or table; empty where it has none, or none was read
	Basis   parts.Basis
	Says    string // the fact
	Read    string // where it was read, if not in the source itself
}

// A Graded says when a rule gives a grade.
type Graded struct {
	Grade finding.Grade
	When  string
}

// An Example is one case worked out by hand, as a pocket calculator does it. Value and Limit are those that the rule compares,
// empty where it compares none.
type Example struct {
	Given []string // what is there, a sentence each
	Sums  []string // a line each, such as "0.5 A × 2 × 7.98 mΩ = 7.98 mV"
	Value string
	Limit string
	Grade finding.Grade
	Says  string // what that means
}

// String names a source in a line: title, edition in brackets, clause.
func (s Source) String() string {
	text := s.Title
	if s.Edition != "" {
		text += " (" + s.Edition + ")"
	}
	if s.Clause != "" {
		text += ", " + s.Clause
	}
	return text
}

// Grave is the multiple of its rating above which an overload is a danger where nothing says how warm a thing gets: contacts,
// terminals, boards, tape rails.
const Grave = 1.2

// GraveSource says whence Grave is.
func GraveSource() Source {
	return Source{Title: "common practice, no source", Basis: parts.Practice, Says: "up to 1.2 times its rating an overload fails, beyond it is a danger, where there is no thermal curve"}
}

// Overload is the grade of a current above a rating for which there is no thermal curve.
func Overload(amps, rating float64) finding.Grade {
	if amps > Grave*rating {
		return finding.Danger
	}
	return finding.Fails
}
