package plan_test

import (
	"bytes"
	"encoding/json"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/scheme"
	"math"
	"os"
	"path/filepath"
	"testing"
)

// lines tells in JSON the places that the lines of the layer of runs go through, as an independent library (ezdxf) reads them in a DXF file.
const lines = `
import json, sys
import ezdxf

space = ezdxf.readfile(sys.argv[1]).modelspace()
runs = [e for e in space if e.dxf.layer == "RUNS"]
print(json.dumps([[list(e.dxf.start)[:2], list(e.dxf.end)[:2]] for e in runs if e.dxftype() == "LINE"]
    + [[list(p)[:2] for p in e.points()] for e in runs if e.dxftype() == "POLYLINE"]))
`

// bends is a scheme with a run that turns, away from its zero.
const bends = `farend: 1
runs:
  E1: {tape: tape/24v-rgb-20x8, length: 1.2 m}
  E2: {tape: tape/24v-rgb-20x8, length: 1.25 m}
drawing:
  E1: [[-4512.125, 300.0625], [-4510.925, 300.0625]]
  E2: [[-4512, 301.5], [-4511.2, 301.6], [-4510.76, 301.7]]
`

// In the DXF of a plan every run goes through the places that the scheme's drawing gives, in millimetres, on any paper: it lies on another drawing
// with the same zero.
func TestPlansInDXFHaveTheZeroOfTheDrawing(t *testing.T) {
	example := schemetest.UnsolvedFile(t, "../../examples/library-atrium.scheme.yaml")
	for _, c := range []struct {
		name string
		page draw.Page
		s    *scheme.Scheme
		runs int
	}{
		{"atrium A3, closer", planned(example, sheettest.A3)[1], example.Scheme, 4},
		{"far off A4", planned(schemetest.Unsolved(t, "bends", bends), sheettest.A4)[0], schemetest.Unsolved(t, "bends", bends).Scheme, 2},
	} {
		file, err := draw.DXF(c.page.Scene)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "plan.dxf")
		if err := os.WriteFile(path, file, 0o644); err != nil {
			t.Fatal(err)
		}
		if said := pagetest.Tool(t, "ezdxf", "audit", path); !bytes.Contains(said, []byte("No errors found")) {
			t.Errorf("%s: ezdxf: %s", c.name, said)
		}
		var read [][][2]float64
		if err := json.Unmarshal(pagetest.Ezdxf(t, lines, path), &read); err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, id := range scheme.IDs(c.s.Runs) {
			for _, line := range read {
				if along(line, c.s.Drawing[id].Points) {
					found++
				}
			}
		}
		if found < c.runs {
			t.Errorf("%s: %d runs lie where they are drawn, and %d should", c.name, found, c.runs)
		}
	}
}

// along reports whether a line in millimetres goes through the places of another in metres, to the thousandth of a millimetre.
func along(line, metres [][2]float64) bool {
	if len(line) != len(metres) {
		return false
	}
	for i, p := range metres {
		if math.Hypot(line[i][0]-1000*p[0], line[i][1]-1000*p[1]) > 1e-3 {
			return false
		}
	}
	return true
}
