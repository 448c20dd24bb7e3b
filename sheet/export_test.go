package sheet

import "farend/layout"

// What the tests reach for beside the pages: flags that are planted, and when a short is over.

var Ended = ended

// Planted is the faults of flags of so many millimetres at such places, once they are planted between two edges, and their rows.
func Planted(xs []float64, names []string, left, right float64) (bad int, rows []int) {
	flags := make([]flag, len(xs))
	for i, x := range xs {
		flags[i] = flag{x: x, value: "12.3" + layout.Thin + "A", name: names[i]}
	}
	plant(flags, left, right)
	for _, f := range flags {
		rows = append(rows, f.row)
	}
	return faults(flags, left, right), rows
}

// Blurred is the light of a plane of dots, spread.
var Blurred = blurred

// Luminance is the share of full white of a colour of sRGB (the second row of the matrix of IEC 61966-2-1 from RGB to XYZ).
func Luminance(r, g, b uint8) float64 {
	return 0.2126*decoded(r) + 0.7152*decoded(g) + 0.0722*decoded(b)
}

// Significant is a number to two figures as nights say it.
func Significant(v float64) string { return significant(v) }
