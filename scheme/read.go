package scheme

import (
	"farend/finding"
	"farend/internal/document"
	"farend/parts"
)

// Read reads a scheme and checks everything that can be checked without computing a current. The scheme is nil unless
// there are no mistakes; otherwise the mistakes are all there are, in the order of the file. Parts that the scheme
// brings along go before those of the catalogue.
func Read(file string, source []byte, catalogue *parts.Library) (*Scheme, finding.Mistakes) {
	s := &Scheme{File: file}
	result := document.Load(file, source, s)
	if len(result.Mistakes) > 0 {
		return nil, result.Mistakes
	}
	s.Library = catalogue.With(s.Parts)
	s.Places = result.Places
	return s, nil
}
