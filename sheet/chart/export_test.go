package chart

import (
	"farend/layout"
)

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
