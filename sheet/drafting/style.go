// Package drafting has what drawings share: for whom they are made, what their title blocks say, lines on paper, and the words by which all of
// them tell the same thing.
package drafting

import (
	"farend/layout"
	"farend/unit"
)

// A Style is how the pages of a set are made for those who read them.
type Style struct {
	Drawings layout.Paper // of plans and diagrams; they lie on their side
	Texts    layout.Paper // of everything else; it stands upright
	Gauges   bool         // cross-sections as American wire gauge rather than in mm²
}

// Styles are the sets of paper that are offered, by the name of the larger one.
func Styles() []Style {
	return []Style{
		{Drawings: layout.A3, Texts: layout.A4}, {Drawings: layout.A4, Texts: layout.A4},
		{Drawings: layout.Tabloid, Texts: layout.Letter}, {Drawings: layout.Letter, Texts: layout.Letter},
	}
}

// Section is a cross-section as it stands on paper: the area; with gauges the thinnest of the trade that has no less copper, and in brackets the
// area that is computed with.
func (s Style) Section(area unit.SquareMetre) string {
	if gauge := area.Gauge(); s.Gauges && gauge != "" {
		return layout.Unbroken(gauge) + " (" + layout.Nominal(area) + ")"
	}
	return layout.Nominal(area)
}
