package drafting

import (
	"farend/scheme"
)

// A Splice is a junction in one pole: it joins the cores of that pole, so a junction at which both poles land is two of its part, which are told apart by
// their names, X1+ and X1−.
type Splice struct {
	Name   string
	Pole   scheme.Pole
	Cables []string
	Cores  int // of all of them: those in parallel take a place each, as the rule board/junction-fit counts them
}

// Splices are those of a junction: one for each pole of which anything lands there.
func Splices(s *scheme.Scheme, junction string) (list []Splice) {
	for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
		splice := Splice{Name: junction + PoleWords(pole), Pole: pole}
		for _, id := range scheme.IDs(s.Cables) {
			c := s.Cables[id]
			for _, end := range []scheme.Ref{c.From, c.To} {
				if end.Kind == scheme.JunctionRef && end.Element == junction && c.Pole.Has(pole) {
					splice.Cables = append(splice.Cables, id)
					splice.Cores += c.PerPole()
				}
			}
		}
		if splice.Cores > 0 {
			list = append(list, splice)
		}
	}
	return list
}
