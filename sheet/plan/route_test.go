package plan_test

import (
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/sheet/drafting"
	"fmt"
	"math"
	"strings"
	"testing"
)

// grazing is how near a line of a layer comes to the dots of the scene's things that it does not end at.
func grazing(scene *draw.Scene, layer string) (nearest float64) {
	var dots []draw.Point
	nearest = math.Inf(1)
	for _, l := range scene.Layers {
		for _, p := range l.Paths {
			if box := pathBox(p); l.Name == "things" && p.Fill == draw.Ink && math.Abs(box.Width()-1.8) < 1e-6 {
				dots = append(dots, draw.Point{X: (box.Min.X + box.Max.X) / 2, Y: (box.Min.Y + box.Max.Y) / 2})
			}
		}
	}
	for _, l := range scene.Layers {
		for _, p := range l.Paths {
			if l.Name != layer || p.Fill != draw.None {
				continue
			}
			for _, dot := range dots {
				ends := false
				for _, step := range p.Steps {
					ends = ends || math.Hypot(step.To.X-dot.X, step.To.Y-dot.Y) < 1e-6
				}
				for i := 1; i < len(p.Steps) && !ends; i++ {
					nearest = min(nearest, fromPiece(dot, p.Steps[i-1].To, p.Steps[i].To))
				}
			}
		}
	}
	return nearest
}

func pathBox(p draw.Path) draw.Box {
	box := draw.Box{Min: p.Steps[0].To, Max: p.Steps[0].To}
	for _, s := range p.Steps {
		if s.Kind == draw.Close {
			continue // it goes to no place of its own
		}
		box.Min.X, box.Min.Y = min(box.Min.X, s.To.X), min(box.Min.Y, s.To.Y)
		box.Max.X, box.Max.Y = max(box.Max.X, s.To.X), max(box.Max.Y, s.To.Y)
	}
	return box
}

// fromPiece is how far a place is from the piece of a line.
func fromPiece(at, a, b draw.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	u := 0.0
	if s := dx*dx + dy*dy; s > 0 {
		u = max(0, min(1, ((at.X-a.X)*dx+(at.Y-a.Y)*dy)/s))
	}
	return math.Hypot(at.X-a.X-u*dx, at.Y-a.Y-u*dy)
}

// Of the atrium, cables go around the dots of junctions that they do not join; W60 did not. What goes to the cases is so crowded that it is shown
// once more, larger, and that sheet says where its key is.
func TestCablesKeepOffDotsAndCrowdsAreEnlarged(t *testing.T) {
	for _, path := range []string{altered, "../../examples/library-atrium.scheme.yaml"} {
		st := schemetest.UnsolvedFile(t, path)
		for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
			pages := planned(st, style)
			for _, p := range pages {
				if off := grazing(p.Scene, "cables"); off < 1.5 {
					t.Errorf("%s, %s: a cable comes to %.2f mm from the middle of a dot that it does not join", path, p.Name, off)
				}
			}
			if len(pages) < 2 {
				t.Fatalf("%s: no closer look", path)
			}
			words := sheettest.Said(pages[1])
			for _, want := range []string{"W11", "W12", "W21", "W22", "D3", "D8", "D9", "Key: first sheet of the plan"} {
				if !strings.Contains(words, want) {
					t.Errorf("%s, %s: the closer look does not say %s", path, style.Drawings.Name, want)
				}
			}
		}
	}
}

// Dots that stand close together on the straight line of a cable are gone around as one, on the side where no other dot stands.
func TestDetoursAroundDotsInARow(t *testing.T) {
	for _, side := range []float64{1, -1} {
		var b strings.Builder
		b.WriteString("farend: 1\njunctions: {X1: {part: junction/lever-5}, X2: {part: junction/lever-5}, X3: {part: junction/lever-5}, X4: {part: junction/lever-5}, X5: {part: junction/lever-5}, X6: {part: junction/lever-5}}\n")
		b.WriteString("cables:\n  W1: {part: cable/flex-2x4, length: 4 m, from: X1, to: X6}\n")
		fmt.Fprintf(&b, "drawing: {X1: [0, 0], X2: [1, %g], X3: [1.06, %g], X4: [1.12, 0], X5: [1.03, %g], X6: [3, 0]}\n", side*0.005, -side*0.005, side*0.033)
		page := planned(schemetest.Unsolved(t, "a row of dots", b.String()), sheettest.A3)[0]
		if off := grazing(page.Scene, "cables"); page.Scene.Scale != 10 || off < 1.5 || math.IsInf(off, 0) {
			t.Errorf("to 1:%v, the cable comes to %.2f mm from the middle of a dot that it does not join", page.Scene.Scale, off)
		}
		for _, c := range pagetest.Complaints(page.Scene) {
			t.Error(c)
		}
	}
}
