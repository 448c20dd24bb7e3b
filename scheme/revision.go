package scheme

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"farend/internal/document"
	"farend/unit"
)

// A Revision is one issue of the scheme: what people call it, when, by whom, and what changed.
type Revision struct {
	Name string `key:"name,required" like:"A" doc:"what it is called, unique"`
	Date Date   `key:"date,required" doc:"the day it was issued"`
	By   string `key:"by" like:"M. Okafor (invented)" doc:"who issued it, in one line"`
	What string `key:"what" like:"first issue" doc:"what changed, in one line"`
}

// A Date is a day as year, month and day (ISO 8601, extended form of a calendar date).
type Date string

const dateHint = "write year, month and day, such as 2026-03-14"

// UnmarshalText reads a day of the calendar.
func (d *Date) UnmarshalText(text []byte) error {
	word := strings.TrimSpace(string(text))
	if _, err := time.Parse(time.DateOnly, word); err != nil {
		return &unit.Error{Text: strconv.Quote(word) + " is no day of the calendar", Hint: dateHint}
	}
	*d = Date(word)
	return nil
}

// Schema leaves the lengths of months to the reader.
func (Date) Schema(*document.Sketch) document.Schema {
	return document.Schema{
		"type":     "string",
		"pattern":  "^ *[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01]) *$",
		"examples": []any{"2026-03-14"},
	}
}

// revisions checks that each has a name of its own and none is older than the one before.
func (r *reading) revisions() {
	for i, v := range r.Revisions {
		at := []string{"revisions", strconv.Itoa(i)}
		before := r.Revisions[:i]
		if !r.sound(at...) {
			continue
		}
		if v.Name == "" {
			r.wrong(r.value(append(at, "name")...), "this revision has no name", "call it A, or 1")
		}
		if slices.ContainsFunc(before, func(b Revision) bool { return v.Name != "" && b.Name == v.Name }) {
			r.wrong(r.value(append(at, "name")...), fmt.Sprintf("there are two revisions %s", v.Name), "give each a name of its own")
		}
		if i > 0 && v.Date < before[i-1].Date && before[i-1].Date != "" && r.sound("revisions", strconv.Itoa(i-1)) {
			r.wrong(r.value(append(at, "date")...), fmt.Sprintf("revision %s is of %s, before the one above it of %s", v.Name, v.Date, before[i-1].Date), "list revisions from the first to the last")
		}
	}
}
