package plan_test

import (
	"farend/draw"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/sheet/drafting"
	"farend/sheet/plan"
	"fmt"
	"math"
	"math/rand"
	"path/filepath"
	"testing"
)

// mergers says which cables and leads of a figure that nobody has drawn look as if they were one, or joined where they are not: over 8 mm of their
// way, without what is about a common end, less than 0.5 mm from another, or less than 1 mm from a landing that is neither beside their own
// ends nor under the symbols there, or less than 0.5 mm from the symbol of a thing that they do not join and that is not beside their ends. Ways are measured in steps of half a millimetre.
func mergers(f plan.Figure) (list []string) {
	const step, long, near, common, off, end = 0.5, 8.0, 0.5, 14.0, 1.0, 3.0
	for i, way := range f.Ways {
		if way.Drawn {
			continue
		}
		ends := []draw.Point{way.Trail[0], way.Trail[len(way.Trail)-1]}
		beside := make([]float64, len(f.Ways))
		touched := map[draw.Point]bool{}
		count := int(way.Trail.Length()/step) + 1
		for _, at := range way.Trail.Every(count) {
			if f.Window != nil && !f.Window.Holds(draw.Box{Min: at, Max: at}) {
				continue
			}
			for k, other := range f.Ways {
				if k == i || k > i && !other.Drawn || !other.Trail.Box().Grow(near).Meets(draw.Box{Min: at, Max: at}.Grow(near)) || nearTrail(at, other.Trail) >= near {
					continue
				}
				about := false
				for _, a := range ends {
					for _, b := range []draw.Point{other.Trail[0], other.Trail[len(other.Trail)-1]} {
						about = about || drafting.Apart(a, b) < 0.5 && drafting.Apart(a, at) < common
					}
				}
				if !about {
					beside[k] += step
				}
			}
			for _, landing := range f.Landings {
				if drafting.Apart(at, landing) >= off {
					continue
				}
				own := drafting.Apart(landing, ends[0]) < end || drafting.Apart(landing, ends[1]) < end
				for _, s := range way.Symbols {
					own = own || s.Grow(1.2).Holds(draw.Box{Min: landing, Max: landing})
				}
				if !own {
					touched[landing] = true
				}
			}
		}
		for k, length := range beside {
			if length > long {
				list = append(list, fmt.Sprintf("%s lies along %s for %.0f mm", way.ID, f.Ways[k].ID, length))
			}
		}
		for id, other := range way.Others {
			middle := draw.Point{X: (other.Min.X + other.Max.X) / 2, Y: (other.Min.Y + other.Max.Y) / 2}
			if len(way.Trail.Clipped(other.Grow(near))) > 0 && drafting.Apart(middle, ends[0]) >= end && drafting.Apart(middle, ends[1]) >= end {
				list = append(list, fmt.Sprintf("%s touches %s", way.ID, id))
			}
		}
		if len(touched) > 0 {
			list = append(list, fmt.Sprintf("%s touches %d landings", way.ID, len(touched)))
		}
	}
	return list
}

// nearTrail is how far a place is from a line, and infinite where that is far.
func nearTrail(at draw.Point, t drafting.Trail) (off float64) {
	off = math.Inf(1)
	for i := 1; i < len(t); i++ {
		off = min(off, fromPiece(at, t[i-1], t[i]))
	}
	return off
}

// stair is a scheme in which a board, the end of one run and a landing on another stand in one line.
const stair = `farend: 1
boards: {A1: {part: board/six-way-two-port-24v}}
runs:
  E3: {tape: tape/24v-rgb-20x8, length: 1.2 m}
  E4: {tape: tape/24v-rgb-20x8, length: 1.2 m}
cables:
  W4: {part: cable/flex-2x0.75, length: 3 m, from: A1.3, to: E3@start}
  W5: {part: cable/flex-2x0.75, length: 3.5 m, from: A1.4, to: E4@0.6m}
drawing: {A1: [-1.2, 0], E3: [[0, 0.6], [1.2, 0.6]], E4: [[0, 0.9], [1.2, 0.9]]}
`

// misplaced says which things of a plan of an example stand on tape, and whether the supply of the library's cases is on another side of their
// board on a closer look than on the first sheet.
func misplaced(figures []plan.Figure) (list []string) {
	for i, f := range figures {
		for id, box := range f.Things {
			for _, tape := range f.Tape {
				if len(tape.Clipped(box)) > 0 {
					list = append(list, fmt.Sprintf("figure %d: %s stands on tape", i+1, id))
				}
			}
		}
		board, whole := f.Things["A2"]
		supply, both := f.Things["T2"]
		if whole && both && (supply.Min.Y > board.Max.Y) != (figures[0].Things["T2"].Min.Y > figures[0].Things["A2"].Max.Y) {
			list = append(list, fmt.Sprintf("figure %d: T2 is on another side of A2", i+1))
		}
	}
	return list
}

// Cables and leads that nobody has drawn do not look like one, nor as if they were joined where they are not, in any example, where things stand in
// one line, and in random schemes. Things of the examples stand beside tape, and alike on all sheets.
func TestStraightCablesDoNotMerge(t *testing.T) {
	ways := 0
	figures := plan.Figures(schemetest.Unsolved(t, "stair", stair), sheettest.A3)
	if list := mergers(figures[0]); len(list) > 0 || len(figures[0].Ways) != 2 {
		t.Errorf("%d ways: %v", len(figures[0].Ways), list)
	}
	for i, way := range figures[0].Ways {
		figures[0].Ways[i].Trail = drafting.Trail{way.Trail[0], way.Trail[len(way.Trail)-1]}
	}
	if list := mergers(figures[0]); len(list) != 2 {
		t.Errorf("of straight lines only this is found: %v", list)
	}
	for _, path := range schemetest.Paths(t, "../../examples/*.scheme.yaml") {
		st := schemetest.UnsolvedFile(t, path)
		for _, style := range drafting.Styles() {
			figures := plan.Figures(st, style)
			for _, m := range misplaced(figures) {
				t.Errorf("%s, %s, %s", filepath.Base(path), style.Drawings.Name, m)
			}
			for i, f := range figures {
				ways += len(f.Ways)
				for _, m := range mergers(f) {
					t.Errorf("%s, %s, figure %d: %s", filepath.Base(path), style.Drawings.Name, i+1, m)
				}
			}
		}
	}
	for seed := range 80 {
		r := rand.New(rand.NewSource(int64(seed)))
		st := schemetest.Unsolved(t, fmt.Sprintf("seed-%d.scheme.yaml", seed), geometry(r))
		for i, f := range plan.Figures(st, drafting.Styles()[seed%4]) {
			ways += len(f.Ways)
			for _, m := range mergers(f) {
				t.Errorf("seed %d, figure %d: %s", seed, i+1, m)
			}
		}
	}
	if ways < 2500 {
		t.Errorf("only %d ways", ways)
	}
}
