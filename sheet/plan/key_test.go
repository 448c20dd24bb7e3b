package plan_test

import (
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"fmt"
	"math"
	"strings"
	"testing"
)

// A plan whose names are so long that its key leaves no room for the drawing has the key on sheets of its own, and every number on it is one.
func TestPlansOfLongNamesHaveAScale(t *testing.T) {
	long := func(kind string, n int) string { return fmt.Sprintf("%s%02d%s", kind, n, strings.Repeat("x", 37)) }
	for _, drawn := range []bool{true, false} {
		var b strings.Builder
		b.WriteString("farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nboards:\n")
		for n := 1; n <= 3; n++ {
			fmt.Fprintf(&b, "  %s: {part: board/twelve-way-eight-port}\n", long("A", n))
		}
		b.WriteString("runs:\n")
		for n := 1; n <= 30; n++ {
			fmt.Fprintf(&b, "  %s: {tape: tape/5v-rgb-60, pixels: 60}\n", long("E", n))
		}
		b.WriteString("cables:\n")
		for n := 1; n <= 30; n++ {
			fmt.Fprintf(&b, "  %s: {part: cable/flex-2x1.5, length: 1 m, from: %s.%d, to: %s@start}\n", long("W", n), long("A", 1+n%3), 1+(n-1)/3, long("E", n))
		}
		b.WriteString("data:\n")
		for n := 1; n <= 24; n++ {
			fmt.Fprintf(&b, "  %s: {part: cable/data-3x0.5, length: 1 m, from: %s.P%d, to: %s, power: true}\n", long("D", n), long("A", 1+n%3), 1+(n-1)/3, long("E", n))
		}
		if drawn {
			b.WriteString("drawing:\n")
			for n := 1; n <= 30; n++ {
				fmt.Fprintf(&b, "  %s: [[0, %d], [1, %d]]\n", long("E", n), n, n)
			}
		}
		st := schemetest.Unsolved(t, "long names", b.String())
		keys := 0
		for _, page := range planned(st, sheettest.A4) {
			for _, complaint := range pagetest.Complaints(page.Scene) {
				t.Errorf("drawn %v, %s: %s", drawn, page.Name, complaint)
			}
			if page.Scene.Title == "Key to the plan" {
				keys++
			}
			for _, l := range page.Scene.Layers {
				for _, text := range l.Texts {
					if math.IsNaN(text.At.X+text.At.Y) || math.IsInf(text.At.X+text.At.Y, 0) {
						t.Fatalf("drawn %v, %s: %q stands nowhere", drawn, page.Name, text.Words)
					}
				}
			}
		}
		if keys == 0 {
			t.Errorf("drawn %v: the key has no sheet of its own", drawn)
		}
	}
}
