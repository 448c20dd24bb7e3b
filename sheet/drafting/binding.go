package drafting

import (
	"path/filepath"

	"farend/layout"
	"farend/scheme"
)

// Binding is what the title blocks of a scheme's pages say: its last revision, and the first digits of the hash of its text.
func Binding(s *scheme.Scheme) layout.Binding {
	const digits = 8
	b := layout.Binding{Scheme: titled(s), File: filepath.Base(s.File), Hash: s.Hash[:min(len(s.Hash), digits)]}
	if n := len(s.Revisions); n > 0 {
		b.Revision, b.Date = s.Revisions[n-1].Name, string(s.Revisions[n-1].Date)
	}
	return b
}

// titled is what a scheme is called.
func titled(s *scheme.Scheme) string {
	if s.Title != "" {
		return s.Title
	}
	return filepath.Base(s.File)
}
