package report

import (
	"farend/finding"
	"farend/sheet/drafting"
)

// Told reports whether the assessment behind a finding is found.
func Told(r Report, f finding.Finding) bool {
	_, ok := newBook(r, drafting.Styles()[0]).behind(f)
	return ok
}
