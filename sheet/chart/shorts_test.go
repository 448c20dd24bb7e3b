package chart_test

import (
	"farend/draw"
	"farend/fuse"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/chart"
	"farend/study"
	"farend/unit"
	"path/filepath"
	"strings"
	"testing"
)

const twoDots = "5 0.9 0.7 0.9 0.7 0.9"

// shortsDrawn compares the two lines of the shorts, read back from the SVG of a page, with what the study followed.
func shortsDrawn(t *testing.T, st *study.Study, id string, scene draw.Scene) {
	t.Helper()
	far, ok := st.Struck().Far(id)
	near, also := st.Struck().Nearest(id)
	p := newPaper(t, scene)
	for name, c := range map[string]struct {
		amps  unit.Ampere
		width string
		drawn bool
	}{
		"far end":      {far.Amps, "0.5", ok},
		"right behind": {near.Amps, "0.25", ok && also},
	} {
		line := p.line("labels", ink, c.width, twoDots)
		switch {
		case !c.drawn && line != nil:
			t.Errorf("%s: there is no short at the %s, and one is drawn: %v", id, name, line)
		case c.drawn && (len(line) != 2 || !reads(line[0][0], c.amps) || !reads(line[1][0], c.amps) || !reads(line[0][1], 1e-3) || line[1][1] < 1e4):
			t.Errorf("%s: the short at the %s is drawn from %v, want it upright at %v", id, name, line, c.amps)
		}
	}
	if !ok {
		return
	}
	got := strings.ReplaceAll(words(scene), "\n", " ")
	for _, want := range []string{far.Amps.String() + " short at the far end, ", near.Amps.String() + " short right behind it", "Bolted short at the far end, ", "Bolted short right behind the fuse, at ", strings.ReplaceAll(chart.Ended(far), "\u202f", " ")} {
		if !strings.Contains(got, want) {
			t.Errorf("%s does not say %q:\n%s", id, want, got)
		}
	}
	if len(far.Place) < 10 && !strings.Contains(got, " short at the far end, "+far.Place+" ") {
		t.Errorf("%s does not say that its far end is %s", id, far.Place)
	}
}

func reads(got float64, want unit.Ampere) bool { return near(got, float64(want)) }

// The shorts of every fuse of every example and of the odd installation, read back from the SVG: at the least that any short at a far end
// sends through it, and at the most of one right behind it, which is more.
func TestShortsReadBackFromEverySVG(t *testing.T) {
	pages := 0
	for _, path := range append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), schemetest.Paths(t, "testdata/*.scheme.yaml")...) {
		st := schemetest.Study(t, path)
		if st.Struck() == nil {
			t.Fatalf("%s is not struck", filepath.Base(path))
		}
		for _, id := range fused(st) {
			if st.Scheme.Fuses[id] == "fuse/bare" {
				continue
			}
			leaf, err := chart.TimeCurrent(st, id, nil, sheettest.A4)
			if err != nil {
				t.Fatal(err)
			}
			shortsDrawn(t, st, id, sheettest.Bound(st, leaf))
			if far, ok := st.Struck().Far(id); ok {
				pages++
				if near, ok := st.Struck().Nearest(id); !ok || near.Amps <= far.Amps {
					t.Errorf("%s, %s: %v right behind it, %v at %s", filepath.Base(path), id, near.Amps, far.Amps, far.Place)
				}
			}
		}
	}
	if pages < 60 {
		t.Errorf("only %d pages have shorts", pages)
	}
}

// What comes of a short stands on the page as long as faults were followed; otherwise the page is without it.
func TestNoShortIsDrawnWhereFaultsWereNotFollowed(t *testing.T) {
	s := schemetest.Study(t, "testdata/footbridge.scheme.yaml").Scheme
	st, err := study.New(t.Context(), s, &study.Options{Striking: study.NotNow})
	if err != nil || st.Struck() != nil {
		t.Fatal(err)
	}
	scene := drawn(t, st, "A1.2")
	for _, complaint := range complaints(scene) {
		t.Error(complaint)
	}
	p := newPaper(t, scene)
	if got := p.line("labels", ink, "0.5", twoDots); got != nil {
		t.Errorf("a short is drawn: %v", got)
	}
	if got := words(scene) + scene.Desc; strings.Contains(got, "olted") || strings.Contains(got, "far end") || strings.Contains(got, "behind it, at") {
		t.Errorf("a short is told:\n%s", got)
	}
	if got := words(scene); !strings.Contains(got, "Iz: what W3 may carry") {
		t.Errorf("the rest is missing:\n%s", got)
	}
}

// A supply that gives tens of kiloamperes into a short next to it draws the axis on to 100 kA, and one that gives milliamperes to 10 mA. By
// hand, the first: 5 V over its own 0.05 mΩ, 10 µΩ of the short and the 0.1 mΩ of the fuse.
func TestShortsBeyondTheUsualRangeAreDrawn(t *testing.T) {
	for name, supply := range map[string]string{
		"strong": "volts: 5 V, amps: 90000 A, watts: 450000 W, source_resistance: 0.05 mΩ, limit: constant-current, limit_at: {low: 90000 A, high: 95000 A}",
		"weak":   "volts: 5 V, amps: 20 mA, watts: 100 mW, source_resistance: 1 Ω, limit: constant-current, limit_at: {low: 21 mA, high: 22 mA}",
	} {
		text := `farend: 1
site: {ambient: 35 °C, coldest: -10 °C, metalwork: isolated}
supplies: {T1: {part: supply/own}}
runs: {E1: {tape: tape/5v-rgb-60, length: 1 m}}
cables: {W1: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@start, fuse: fuse/mine}}
states: {full: {}}
parts:
  supply/own: {title: own, basis: measured, source: invented, ` + supply + `}
  fuse/mine: {title: Mine, rating: 30 A, resistance: 0.1 mΩ, curve: curve/iso8820-blade}
`
		s, mistakes := scheme.Read("own", []byte(text), parts.Catalogue())
		if len(mistakes) > 0 {
			t.Fatalf("%s: %v", name, mistakes)
		}
		st, err := study.New(t.Context(), s)
		if err != nil {
			t.Fatal(err)
		}
		scene := drawn(t, st, "W1")
		for _, complaint := range complaints(scene) {
			t.Errorf("%s: %s", name, complaint)
		}
		shortsDrawn(t, st, "W1", scene)
		near, _ := st.Struck().Nearest("W1")
		if want := 5 / (0.05e-3 + 0.1e-3 + 1e-5); name == "strong" && (float64(near.Amps) < 0.95*want || float64(near.Amps) > 1.05*want) {
			t.Errorf("%v right behind the fuse, by hand %.0f A", near.Amps, want)
		}
		if got := "\n" + words(scene); name == "strong" && !strings.Contains(got, "\n100 kA\n") || name == "weak" && !strings.Contains(got, "\n10 mA\n") {
			t.Errorf("%s: the axis ends elsewhere:\n%s", name, got)
		}
	}
}

// By when a short at the far end is over is said as far as it is known, on the careful side where a supply switches itself off and on.
func TestWhenAShortHasEndedIsSaidWithCare(t *testing.T) {
	never := unit.Second(fuse.Never)
	of := func(opens, slow, ends unit.Second, pulses ...string) study.FarShort {
		return study.FarShort{Nearby: study.Nearby{Opens: opens}, Slow: slow, Ends: ends, Pulses: pulses}
	}
	for want, far := range map[string]study.FarShort{
		"It has surely ended within 300 ms.":                                                     of(0.15, 0.3, 0.3),
		"The fuse has surely opened within 150 ms, but the short may go on, fed from elsewhere.": of(0.15, never, never),
		"It may go on.":                       of(never, never, never),
		"By when it has ended is not known.":  of(0.15, 0, 0),
		"By when it has ended is not known. ": of(never, 0, 0.3, "T1"),
		"The fuse has surely opened within 500 ms, but T1 may switch itself off and on before: then the short may go on. With the most that may flow it ends within 300 ms.": of(0.5, never, 0.3, "T1"),
		"The fuse has surely opened within 500 ms, but T1 and T2 may switch themselves off and on before: then the short may go on.":                                         of(0.5, never, never, "T1", "T2"),
		"The fuse has surely opened within 150 ms, but T3 may switch itself off and on before: then the short may go on.":                                                    of(0.15, never, 0, "T3"),
		"The fuse need not open, and T1 may switch itself off and on: it may go on.":                                                                                         of(never, never, 10, "T1"),
	} {
		if got := strings.ReplaceAll(chart.Ended(far), "\u202f", " "); got != strings.TrimSpace(want) {
			t.Errorf("%+v: %q, want %q", far, got, want)
		}
	}
}
