package chart_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/sheet/chart"
	"farend/study"
	"math"
	"path/filepath"
	"testing"
)

// The limits of classes of power are named on their lines.
func TestClassesAreNamedOnTheirLines(t *testing.T) {
	st := schemetest.Unstruck(t, "../../examples/footbridge.scheme.yaml")
	for _, at := range []string{"T1", "E1@px87"} {
		c, ok, err := st.PowerCurve(t.Context(), at)
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		scene := sheettest.Bound(st, chart.Power(st, c, sheettest.A4))
		var lines []float64
		labels := map[string]draw.Text{}
		for _, l := range scene.Layers {
			for _, p := range l.Paths {
				if l.Name == "lines" && len(p.Pen.Dash) == 4 && p.Pen.Tone == draw.Graphite {
					lines = append(lines, p.Steps[0].To.Y)
				}
			}
			for _, text := range l.Texts {
				labels[text.Words] = text
			}
		}
		for i, words := range []string{"above 15\u202fW: PS2", "above 100\u202fW: PS3"} {
			text, is := labels[words]
			if !is || len(lines) != 2 || math.Abs(text.At.Y-lines[i]) > 3.2 {
				t.Errorf("%s: %q stands at %v, its line at %v", at, words, text.At, lines)
			}
		}
	}
}

// Of every example, pages of some places have no text over another, are well-formed and the same when they are drawn again; and the ring stands at
// the most that lasts.
func TestPagesOfPowerAreClean(t *testing.T) {
	pages := 0
	for _, path := range schemetest.Paths(t, "../../examples/*.scheme.yaml") {
		st := schemetest.Unstruck(t, path)
		places := st.Network.Places()
		for i := 0; i < len(places); i += max(1, len(places)/6) {
			at := places[i].Name
			c, ok, err := st.PowerCurve(t.Context(), at)
			if err != nil || !ok {
				t.Fatalf("%s, %s: %v, %v", path, at, ok, err)
			}
			pages++
			scene, again := sheettest.Bound(st, chart.Power(st, c, sheettest.A4)), sheettest.Bound(st, chart.Power(st, c, sheettest.A4))
			for _, complaint := range complaints(scene) {
				t.Errorf("%s, %s: %s", filepath.Base(path), at, complaint)
			}
			one, err := draw.SVG(&scene)
			two, _ := draw.SVG(&again)
			if err != nil || !bytes.Equal(one, two) {
				t.Errorf("%s, %s: drawn twice it differs (%v)", filepath.Base(path), at, err)
			}
			if pages%6 == 0 {
				pagetest.Lint(t, one)
			}
		}
	}
	if pages < 30 {
		t.Errorf("only %d pages", pages)
	}
}

// The lines that a page of power shows, read back from it, are U²/R of the footbridge: 5 V less what its lead and a fuse of 3 A lose, 1.35 times that
// rating at 1.04 of it in air of −10 °C, 4.21 A, at the smallest resistance that lasts.
func TestPowerReadBackFromItsSVG(t *testing.T) {
	st := schemetest.Unstruck(t, "../../examples/footbridge.scheme.yaml")
	c, ok, err := st.PowerCurve(t.Context(), "E1@px87")
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	scene := sheettest.Bound(st, chart.Power(st, c, sheettest.A4))
	p := &paper{t: t, lines: map[string][]path{}}
	p.read(t, scene, "1\u202fΩ", "10\u202fΩ", "1\u202fW", "10\u202fW")
	lasts := p.line("lines", copper, "0.5", "")
	if len(lasts) < 10 {
		t.Fatalf("%d spots last", len(lasts))
	}
	for _, spot := range lasts {
		ohms, watts := spot[0], spot[1]
		amps, volts := math.Sqrt(watts/ohms), math.Sqrt(watts*ohms)
		if amps > 1.35*1.04*3*1.001 || volts > 5.0*1.02 || volts < 4.5 {
			t.Errorf("%.4g W over %.4g Ω: %.4g V and %.4g A", watts, ohms, volts, amps)
		}
	}
	edge := lasts[len(lasts)-1]
	if amps := math.Sqrt(edge[1] / edge[0]); math.Abs(amps/(1.35*1.04*3)-1) > 0.02 { // what it leads besides lets it have a little less
		t.Errorf("the fuse opens at %.4g A through the fault", amps)
	}
	if float64(c.Watts) > edge[1]*1.001 || float64(c.Watts) < edge[1]*0.999 {
		t.Errorf("%v is told, %.4g W drawn", c.Watts, edge[1])
	}
	if len(c.Stages) != 1 || c.Stages[0].Guard != "A1.2.fuse" {
		t.Errorf("stages %+v", c.Stages)
	}
	var none study.PowerSpot
	if c.Stages[0].Spots[0] == none {
		t.Error("no spots")
	}
}
