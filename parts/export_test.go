package parts

import "farend/internal/document"

// Mistakes are those of an embedded part's own text.
func Mistakes(name string) error {
	text, _ := block(Catalogue().shared.text(Kind(name)), name)
	var one Set
	if _, mistakes := document.Read(name, []byte(text), &one); len(mistakes) > 0 {
		return mistakes
	}
	return nil
}

// Keep is the facts that keep a bound.
func Keep(b Bound, facts []Fact) []Fact { return b.keep(facts) }
