package scheme

import (
	"farend/finding"
	"farend/internal/document"
	"farend/parts"
)

// Apply makes edits to the text of a scheme, in order, and reads the new text. Only the bytes that must change are
// changed: comments, order, layout, line ends and a byte-order mark stay; a section that was missing goes where the house
// has it. Places in the new scheme are those in the new text, and File is its name.
//
// The new text is nil where an edit cannot be made; the mistakes then have their places in source. Otherwise the scheme is
// nil where the new text has mistakes, and those have their places in the new text. Nothing is saved, and nothing that was
// read from source changes.
func Apply(file string, source []byte, edits []finding.Edit, catalogue *parts.Library) (*Scheme, []byte, finding.Mistakes) {
	text, mistakes := document.Apply(file, source, edits, Scheme{})
	if len(mistakes) > 0 {
		return nil, nil, printable(mistakes)
	}
	s, mistakes := Read(file, text, catalogue)
	return s, text, mistakes
}
