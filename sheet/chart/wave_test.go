package chart_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/line"
	"farend/scheme"
	"farend/sheet/chart"
	"math"
	"path/filepath"
	"strings"
	"testing"
)

// A lead that a buffer begins is driven by that, wherever it stands, and no page says anything else of it.
func TestWavesNameTheBufferThatDrives(t *testing.T) {
	for lead, want := range map[string]string{"D6": "buffer ahct-5v at E5, 100", "D1": "A1.P1, "} {
		leaf, ok := chart.Wave(schemetest.Unstruck(t, "../../signal/testdata/reach.scheme.yaml"), lead, sheettest.A4)
		if !ok {
			t.Fatalf("%s is not drawn", lead)
		}
		if got := leaf.Cells[2].Says; !strings.HasPrefix(got, want) || !strings.Contains(leaf.Desc, strings.Split(want, ",")[0]) {
			t.Errorf("%s is driven by %q, want %q; %s", lead, got, want, leaf.Desc)
		}
	}
}

// Pages of all leads of the examples, and of leads on which pulses do not arrive, have no text over another, are well-formed and the same when drawn again.
func TestPagesOfWavesAreClean(t *testing.T) {
	pages := 0
	for _, path := range append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), schemetest.Paths(t, "../../signal/testdata/*.scheme.yaml")...) {
		st := schemetest.Unstruck(t, path)
		for i, lead := range scheme.IDs(st.Scheme.Data) {
			if i >= 2 {
				break // the others of a scheme are like them
			}
			leaf, ok := chart.Wave(st, lead, sheettest.A4)
			if e, known := st.Edge(lead); ok != (known && e.Asked()) {
				t.Errorf("%s, %s: drawn %v", path, lead, ok)
			}
			if !ok {
				continue
			}
			pages++
			scene := sheettest.Bound(st, leaf)
			for _, complaint := range complaints(scene) {
				t.Errorf("%s, %s: %s", filepath.Base(path), lead, complaint)
			}
			one, err := draw.SVG(&scene)
			if err != nil {
				t.Errorf("%s, %s: %v", filepath.Base(path), lead, err)
			}
			if pages%8 == 0 {
				leaf, _ := chart.Wave(st, lead, sheettest.A4)
				again := sheettest.Bound(st, leaf)
				if two, _ := draw.SVG(&again); !bytes.Equal(one, two) {
					t.Errorf("%s, %s: drawn twice it differs", filepath.Base(path), lead)
				}
				pagetest.Lint(t, one)
			}
			if len(one) > 400_000 {
				t.Errorf("%s, %s: %d bytes", filepath.Base(path), lead, len(one))
			}
		}
	}
	if pages < 12 {
		t.Errorf("only %d pages", pages)
	}
}

// What is drawn of a wave lies on the page where it was followed: the highest peak of the first 280 ns, which is higher by the spike of a laden input than
// 0.1 V + 4.8 V · 2 · 100/110, that of a driver of 10 Ω into 100 Ω.
func TestAWaveLiesWhereItWasFollowed(t *testing.T) {
	st := schemetest.Unstruck(t, "../../signal/testdata/edges.scheme.yaml")
	leaf, ok := chart.Wave(st, "D1", sheettest.A4)
	if !ok {
		t.Fatal("nothing is drawn")
	}
	scene := sheettest.Bound(st, leaf)
	highest := math.Inf(1)
	for _, l := range scene.Layers {
		if l.Name != "lines" {
			continue
		}
		for _, line := range l.Paths {
			if line.Pen.Tone == draw.Copper {
				for _, at := range line.Steps {
					if at.To.Y > 122-1 { // the lower plot
						highest = min(highest, at.To.Y)
					}
				}
			}
		}
	}
	// The lower plot is from 0 V at 186 mm up to 10 V at 122 mm.
	volts := (186 - highest) / (186 - 122) * 10
	want := 0.0
	for _, w := range st.Waveforms("D1") {
		if !w.Clamped {
			_, peak := line.Extremes(w.Wave.Far, w.Wave.Step, 0, 280e-9)
			want = max(want, peak)
		}
	}
	if math.Abs(volts-want) > 0.02 || want < 0.1+4.8*2*100/110 {
		t.Errorf("the highest point is at %.3f V, want %.3f V", volts, want)
	}
	if !strings.Contains(scene.Desc, "no pulse arrives whole") {
		t.Errorf("it says %q", scene.Desc)
	}
}
