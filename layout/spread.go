package layout

import "slices"

// Spread moves labels of some widths apart that should begin at some places, in their order, between two edges. A label stands at the
// end of a leader, to its right; labels are on levels, and leaders to higher ones pass beside lower labels, at least so far from each
// other. It is not ok where they do not fit; then they go on past the left edge.
//
// Pushed to the right from the first on, or to the left from the last on, they are apart; so they are midway between the two.
func Spread(places, widths []float64, levels int, leader, from, to float64) (xs []float64, ok bool) {
	apart := func(i, j int) float64 { // from label i to a later one j
		if Level(j, levels) >= Level(i, levels) {
			return widths[i]
		}
		return leader
	}
	reach := 2 * levels // farther labels are kept apart by those between
	rightwards := func(xs []float64) {
		for j := range xs {
			xs[j] = max(xs[j], from)
			for i := max(0, j-reach); i < j; i++ {
				xs[j] = max(xs[j], xs[i]+apart(i, j))
			}
		}
	}
	leftwards := func(xs []float64) {
		for i := len(xs) - 1; i >= 0; i-- {
			xs[i] = min(xs[i], to-widths[i])
			for j := i + 1; j <= min(len(xs)-1, i+reach); j++ {
				xs[i] = min(xs[i], xs[j]-apart(i, j))
			}
		}
	}
	xs, other := slices.Clone(places), slices.Clone(places)
	rightwards(xs)
	leftwards(other)
	for i := range xs {
		xs[i] = (xs[i] + other[i]) / 2
	}
	rightwards(xs)
	leftwards(xs)
	return xs, len(xs) == 0 || slices.Min(xs) >= from-1e-9
}

// Level is that of a label by its number, from 0, the lowest: they take turns, the first the highest.
func Level(i, levels int) int { return levels - 1 - i%levels }
