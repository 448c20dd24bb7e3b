package sheet_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/parts"
	"farend/scheme"
	"farend/sheet"
	"farend/study"
)

// Of every example, pages of some places have no text over another, are well-formed and the same when they are drawn again; and the ring stands at
// the most that lasts.
func TestPagesOfPowerAreClean(t *testing.T) {
	pages := 0
	for _, path := range schemetest.Paths(t, "../examples/*.scheme.yaml") {
		st := unstruck(t, path)
		places := st.Network.Places()
		for i := 0; i < len(places); i += max(1, len(places)/6) {
			at := places[i].Name
			c, ok, err := st.PowerCurve(t.Context(), at)
			if err != nil || !ok {
				t.Fatalf("%s, %s: %v, %v", path, at, ok, err)
			}
			pages++
			scene, again := bound(st, sheet.Power(st, c, a4)), bound(st, sheet.Power(st, c, a4))
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
	st := unstruck(t, "../examples/footbridge.scheme.yaml")
	c, ok, err := st.PowerCurve(t.Context(), "E1@px87")
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	scene := bound(st, sheet.Power(st, c, a4))
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

// unstruck is a study of a scheme without its faults; it is solved once for all tests.
func unstruck(t *testing.T, path string) *study.Study {
	t.Helper()
	if st, ok := solved.Load(path); ok {
		return st.(*study.Study)
	}
	source, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	sch, mistakes := scheme.Read(path, source, parts.Catalogue())
	if len(mistakes) > 0 {
		t.Fatal(mistakes)
	}
	st, err := study.New(t.Context(), sch, &study.Options{Striking: study.NotNow})
	if err != nil {
		t.Fatal(err)
	}
	solved.Store(path, st)
	return st
}

// solved are the studies of unstruck, by path.
var solved sync.Map
