// Package finding holds what Farend may tell the user: a Finding about a scheme that could be read, a Mistake in
// one that could not, and the Edit that would put either right.
//
// An error is ours, a finding is the user's, a mistake is in the user's file and has a place there.
package finding

import (
	"slices"
	"strings"
)

// A Pos is a place in a file. Lines and columns count from 1, columns in characters; the zero Pos is nowhere.
type Pos struct {
	File   string
	Line   int
	Column int
}

// An Edit is one change to a scheme. Path is a JSON Pointer (RFC 6901) such as /cables/W3/part; a missing key is
// inserted and a nil value removes the key.
type Edit struct {
	Path  string `json:"path"`
	Value any    `json:"value"`
}

// Pointer builds a JSON Pointer from keys, escaping "~" and "/" as RFC 6901 asks.
func Pointer(keys ...string) string {
	var b strings.Builder
	for _, k := range keys {
		b.WriteByte('/')
		b.WriteString(strings.ReplaceAll(strings.ReplaceAll(k, "~", "~0"), "/", "~1"))
	}
	return b.String()
}

// A Finding is one thing Farend tells the user about a scheme. Value and Limit are in Unit (SI, spelt as in JSON) and
// nil where the finding has none; Margin is nil where a ratio means nothing.
type Finding struct {
	ID      string // rule:subject or rule:subject:case, unique in one result
	Rule    string // "protection/cable-current"
	Rank    int    // place of the rule among all: rules that judge causes stand before those that judge symptoms
	Safety  bool   // the rule guards against harm, so that an unknown is not a pass
	Grade   Grade
	Subject string // the identifier as the user wrote it: "W3", "E1", "A1.2"
	Case    string // "state/full"; empty where no case is involved
	At      string // the place, where it is finer than the subject: "E1@px143"
	Text    string // subject, got, limit, why it matters: a whole sentence
	Value   *float64
	Limit   *float64
	Unit    string
	Margin  *float64 // limit / value − 1 for an upper limit, value / limit − 1 for a lower one
	Basis   string   // the weakest basis the finding rests on
	Weakest string   // the number with that basis, "tape/5v-rgb-60 rail"; empty where it is the limit
	Source  string   // of the limit
	Remedy  string   // what to do, in words
	Edits   []Edit   // what to do, as changes to the scheme
	Pos     Pos      // where the subject stands in the file
}

// Worst is the highest grade among the findings, Pass if there are none.
func Worst(findings []Finding) Grade {
	worst := Pass
	for _, f := range findings {
		worst = max(worst, f.Grade)
	}
	return worst
}

// Blocks reports whether the findings say that a scheme must not be built as it stands: a danger, something that
// fails, or a safety rule that could not be assessed.
func Blocks(findings []Finding) bool {
	return slices.ContainsFunc(findings, func(f Finding) bool {
		return f.Grade >= Fails || f.Grade == Unknown && f.Safety
	})
}
