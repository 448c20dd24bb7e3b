package study

import (
	"farend/finding"
	"farend/parts"
)

// A Trace is how an assessment comes about, step by step, so that somebody with a pocket calculator can follow it. Each number is
// carried from step to step as it is printed, with so many figures.
type Trace struct {
	Steps   []Step
	Figures int
	Value   *float64 // what is compared in the end, as carried; nil where no numbers are
	Limit   *float64
	Grade   finding.Grade // to which the steps lead
}

// A Step is one thing that is worked out, or one question of the grade. Inputs are the numbers that it is the first to use.
type Step struct {
	What    string // in words
	Formula string // with signs: "I_max = I_30 · k_g"; empty where nothing is worked out
	Sum     string // with numbers put in: "16.5 A × 0.7 = 11.55 A", or "12 A > 11.55 A"
	Result  string // "11.55 A"; of a question "no", or "yes: danger"; of a fact alone its grade, empty for a pass
	Inputs  []Input
}

// An Input is a number that a trace starts from, and whence it is.
type Input struct {
	Sign  string // as formulas have it
	Means string
	Text  string // "16.5 A"
	Is    float64
	Unit  string // of Is, in SI; "1" for ratios and counts
	From  Origin
}

// An Origin is whence an input is: of a part, solved, written in the scheme, or the rule's own.
type Origin struct {
	Kind   OriginKind
	Part   string // of OfPart
	Key    string // of OfPart, and of OfScheme: "site.ambient"
	Case   string // of Solved
	Pos    finding.Pos
	Basis  parts.Basis // of OfPart and OfRule; of OfScheme where the scheme does not say
	Source string
}

// An OriginKind is a kind of origin.
type OriginKind string

const (
	OfPart   OriginKind = "part"   // what a part states
	OfScheme OriginKind = "scheme" // what the scheme says or leaves unsaid, or what is counted in it
	Solved   OriginKind = "solved" // what was solved in a case
	OfRule   OriginKind = "rule"   // what the rule takes
)
