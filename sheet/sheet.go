// Package sheet makes the drawings of a studied scheme, each a draw.Scene that answers one question. It judges nothing: what it
// draws are the numbers that rules judge, with what they rest on.
//
// Kinds of lines differ in width or dash, kinds of areas in tint or hatch, and each is named where it is drawn, so that nothing is lost
// in grey. Each is a layout.Leaf; Binding says what the title blocks of all say alike.
//
// A page has no clock: it is the same each time that it is drawn.
package sheet

import (
	"path/filepath"

	"farend/layout"
	"farend/scheme"
)

// An Error says why a page cannot be drawn, and what to do.
type Error struct{ Text, Hint string }

func (e *Error) Error() string { return e.Text }

// Binding is what the title blocks of a scheme's pages say: its last revision, and the first digits of the hash of its text.
func Binding(s *scheme.Scheme) layout.Binding {
	const digits = 8
	b := layout.Binding{Scheme: titled(s), File: filepath.Base(s.File), Hash: s.Hash[:min(len(s.Hash), digits)]}
	if n := len(s.Revisions); n > 0 {
		b.Revision, b.Date = s.Revisions[n-1].Name, string(s.Revisions[n-1].Date)
	}
	return b
}
