package schemetest

import (
	"fmt"
	"strings"
)

// Large is a scheme of so many runs of so many pixels, drawn in a grid or not at all, with two cables each.
func Large(runs, pixels int, drawn bool) string {
	var b strings.Builder
	b.WriteString("farend: 1\ntitle: Large\nsupplies: {T1: {part: supply/5v-300w}}\nboards: {A1: {part: board/twelve-way-eight-port}}\njunctions: {X1: {part: junction/lever-5}}\nruns:\n")
	for e := 1; e <= runs; e++ {
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, pixels: %d, label: bay %d}\n", e, pixels, e)
	}
	b.WriteString("cables:\n  W0: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n  W999: {part: cable/flex-2x4, length: 1 m, from: T1, to: X1}\n")
	for e := 1; e <= runs; e++ {
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x1.5, length: 2 m, from: A1.%d, to: E%d@start}\n  W%d: {part: cable/flex-2x1.5, length: 2 m, from: X1, to: E%d@end}\n", 2*e-1, 1+(e-1)%12, e, 2*e, e)
	}
	b.WriteString("data:\n  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}\n")
	if drawn {
		b.WriteString("drawing:\n  A1: [6, -1]\n")
		for e := range runs {
			x, y := float64(e%4)*3, float64(e/4)
			fmt.Fprintf(&b, "  E%d: [[%g, %g], [%g, %g]]\n", e+1, x, y, x+float64(pixels)/60, y)
		}
	}
	return b.String()
}

// Feeds are cables from the ways of a board in turn to places of a run.
func Feeds(places ...string) string {
	var b strings.Builder
	b.WriteString("cables:\n")
	for i, place := range places {
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x2.5, length: 1 m, from: A1.%d, to: E1@%s}\n", i+1, i%12+1, place)
	}
	return b.String()
}
