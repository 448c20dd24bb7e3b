package scheme_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"

	"farend/scheme"
)

func TestRevisionsAndTheHash(t *testing.T) {
	s := read(t, everything(t))
	if len(s.Revisions) != 2 || s.Revisions[0] != (scheme.Revision{Name: "A", Date: "2026-03-14", By: "M. Okafor (invented)", What: "first issue"}) || s.Revisions[1].Date != "2026-05-02" {
		t.Errorf("revisions are %+v", s.Revisions)
	}
	sum := sha256.Sum256([]byte(everything(t)))
	if want := hex.EncodeToString(sum[:]); s.Hash != want {
		t.Errorf("the hash is %s, want %s", s.Hash, want)
	}
}

func TestRevisionsThatAreNone(t *testing.T) {
	const site = "site:\n"
	issued := func(list string) string { return "revisions: " + list + "\n" + site }
	runCases(t, []mistakeCase{
		{"no day", site, issued("[{name: A, date: 2026-02-30}]"), `3:29: "2026-02-30" is no day of the calendar | write year, month and day, such as 2026-03-14`},
		{"a day that is not written so", site, issued("[{name: A, date: 14/3/2026}]"), `3:29: "14/3/2026" is no day of the calendar | write year, month and day, such as 2026-03-14`},
		{"two of one name", site, issued("[{name: A, date: 2026-02-03}, {name: A, date: 2026-02-03}]"), "3:49: there are two revisions A | give each a name of its own"},
		{"an older one after a newer", site, issued("[{name: A, date: 2026-02-03}, {name: B, date: 2026-02-02}]"), "3:58: revision B is of 2026-02-02, before the one above it of 2026-02-03 | list revisions from the first to the last"},
		{"no name", site, issued("[{name: \"\", date: 2026-02-03}]"), "3:20: this revision has no name | call it A, or 1"},
	})
}
