package scheme

import (
	"crypto/sha256"
	"fmt"
	"strings"
	"unicode"

	"farend/finding"
	"farend/internal/document"
	"farend/parts"
)

const form = 1 // of the file, the value of its key "farend"

// Read reads a scheme and checks everything that can be checked without computing a current. The scheme is nil unless
// there are no mistakes; otherwise the mistakes are all there are, or the first of very many, in the order of the file. Parts that the scheme
// brings along go before those of the catalogue.
func Read(file string, source []byte, catalogue *parts.Library) (*Scheme, finding.Mistakes) {
	s := &Scheme{File: file, Hash: fmt.Sprintf("%x", sha256.Sum256(source))}
	result := document.Load(file, source, s)
	if !result.Whole {
		return nil, printable(result.Mistakes)
	}
	r := newReading(s, result, catalogue)
	if s.Format > form && r.sound("farend") {
		return nil, finding.Mistakes{newer(s, result.Values["/farend"])}
	}
	r.check()
	if all := append(result.Mistakes, r.mistakes...); len(all) > 0 {
		return nil, printable(document.Listed(all, file))
	}
	s.Notes = r.sortedNotes()
	return s, nil
}

// printable replaces what a terminal could take for a command: names in a file may hold anything.
func printable(mistakes finding.Mistakes) finding.Mistakes {
	plain := func(c rune) rune {
		if unicode.IsGraphic(c) {
			return c
		}
		return unicode.ReplacementChar
	}
	for i, m := range mistakes {
		mistakes[i].Text, mistakes[i].Hint = strings.Map(plain, m.Text), strings.Map(plain, m.Hint)
	}
	return mistakes
}

// newer is all that is said of a file of a later form: what else looks wrong in it may be right there.
func newer(s *Scheme, at finding.Pos) finding.Mistake {
	return finding.Mistake{
		Pos:  at,
		Text: fmt.Sprintf("this file is of form %d; this Farend reads form %d", s.Format, form),
		Hint: "use a newer Farend",
	}
}
