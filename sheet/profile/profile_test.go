package profile_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/network"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/profile"
	"farend/study"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// profiles are the pages of a run, held to their looks.
func profiles(t *testing.T, st *study.Study, run string, style drafting.Style) []draw.Page {
	t.Helper()
	pages := drafting.Binding(st.Scheme).Bind(profile.Pages(st, run, style))
	if len(pages) == 0 {
		t.Errorf("%s, %s: nothing is drawn", st.Scheme.File, run)
	}
	for _, page := range pages {
		for _, complaint := range pagetest.Complaints(page.Scene) {
			t.Errorf("%s, %s, %s: %s", filepath.Base(st.Scheme.File), page.Name, style.Texts.Name, complaint)
		}
	}
	return pages
}

// Every run of every example, and runs of odd ones, have profiles that are clean, well-formed and the same when they are drawn again.
func TestProfilesAreClean(t *testing.T) {
	drawn := 0
	paths := append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), append(schemetest.Paths(t, "../../light/testdata/*.scheme.yaml"), "../chart/testdata/odd.scheme.yaml")...)
	for _, path := range paths {
		st := schemetest.Unstruck(t, path)
		for i, run := range scheme.IDs(st.Scheme.Runs) {
			pages := profiles(t, st, run, drafting.Styles()[i%4])
			drawn += len(pages)
			if i > 0 {
				continue
			}
			one, err := draw.SVG(pages[0].Scene)
			two, _ := draw.SVG(profiles(t, st, run, drafting.Styles()[i%4])[0].Scene)
			if err != nil || !bytes.Equal(one, two) {
				t.Errorf("%s, %s: drawn twice it differs (%v)", path, run, err)
			}
			pagetest.Lint(t, one)
			if words := strings.Join(pagetest.Words(pages[0].Scene), " "); strings.Contains(words, "not fed") == st.Result("cap-failed").Runs[run].Fed {
				t.Errorf("%s, %s: what is fed is told wrong", path, run)
			}
			if len(one) > 400_000 {
				t.Errorf("%s, %s: %d bytes", path, run, len(one))
			}
		}
	}
	if drawn < 40 {
		t.Errorf("only %d pages", drawn)
	}
	if profile.Pages(schemetest.Unstruck(t, paths[0]), "E99", sheettest.A4) != nil {
		t.Error("a profile of no run")
	}
}

// Runs of odd shapes: one pixel, one without a feed, one with many feeds at neighbouring marks, one that is long, and many states.
func TestProfilesOfOddShapes(t *testing.T) {
	var neighbours []string
	for i := range 40 {
		neighbours = append(neighbours, fmt.Sprintf("px%d", 10+i))
	}
	states := "states: {"
	for i := range 5 {
		states += fmt.Sprintf("state%d: {level: %d %%}, ", i, 15+20*i)
	}
	const wired = "  S1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n"
	for name, c := range map[string]struct {
		run, more string
		pages     int
	}{
		"one pixel":  {"{tape: tape/5v-rgb-60, pixels: 1}", schemetest.Feeds("start") + wired, 1},
		"unfed":      {"{tape: tape/5v-rgb-60, pixels: 10}", "", 1},
		"neighbours": {"{tape: tape/5v-rgb-60, pixels: 300, cuts: [{at: px33, pole: both}]}", schemetest.Feeds(neighbours...) + wired, 1},
		"long":       {"{tape: tape/5v-rgb-60, pixels: 1500, joints: [3 m]}", schemetest.Feeds("start", "end") + wired, 1},
		"many":       {"{tape: tape/5v-rgb-60, pixels: 100}", schemetest.Feeds("start") + wired + states + "}\n", 2},
	} {
		text := "states: {full: {}}\n"
		if name == "many" {
			text = ""
		}
		laid := schemetest.Unsolved(t, name, fmt.Sprintf("farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nboards: {A1: {part: board/twelve-way-eight-port}}\n%sruns:\n  E1: %s\n%s", text, c.run, c.more))
		st, err := study.New(t.Context(), laid.Scheme, &study.Options{Striking: study.NotNow})
		if err != nil {
			t.Fatal(err)
		}
		for _, style := range drafting.Styles()[1:3] {
			if pages := profiles(t, st, "E1", style); len(pages) != c.pages {
				t.Errorf("%s: %d pages", name, len(pages))
			}
		}
	}
}

// ruled is a panel read back: its box, and what a height on it means.
type ruled struct {
	box         draw.Box
	zero, slope float64 // value = (zero − y)·slope
}

// panels reads the panels of a page back from the numbers beside them.
func panels(t *testing.T, scene *draw.Scene) (list []ruled) {
	t.Helper()
	for _, l := range scene.Layers {
		if l.Name != "axes" {
			continue
		}
		for _, p := range l.Paths {
			if len(p.Steps) != 5 { // a frame
				continue
			}
			r := ruled{box: draw.Box{Min: p.Steps[0].To, Max: p.Steps[2].To}}
			var values, heights []float64
			for _, text := range l.Texts {
				number, _, _ := strings.Cut(strings.ReplaceAll(text.Words, "−", "-"), layout.Thin)
				v, err := strconv.ParseFloat(number, 64)
				if y := text.At.Y - 0.9; err == nil && text.Anchor == draw.End && y > r.box.Min.Y && y < r.box.Max.Y {
					values, heights = append(values, v), append(heights, y)
				}
			}
			n := len(values) - 1
			if n < 1 {
				t.Fatalf("a panel with %d numbers", n+1)
			}
			r.slope = (values[n] - values[0]) / (heights[0] - heights[n])
			r.zero = heights[0] + values[0]/r.slope
			list = append(list, r)
		}
	}
	return list
}

// read is what the lines of a pen have at a place along the run, so many pixels from data-in; ok is false where none is there.
func (r ruled) read(scene *draw.Scene, pen draw.Pen, at, count float64) (values []float64) {
	x := r.box.Min.X + r.box.Width()*at/count
	for _, l := range scene.Layers {
		if l.Name != "lines" {
			continue
		}
		for _, p := range l.Paths {
			if p.Pen.Tone != pen.Tone || p.Pen.Width != pen.Width || fmt.Sprint(p.Pen.Dash) != fmt.Sprint(pen.Dash) {
				continue
			}
			for i := range p.Steps[1:] {
				a, b := p.Steps[i].To, p.Steps[i+1].To
				if a.Y < r.box.Min.Y || a.Y > r.box.Max.Y || x < a.X-1e-9 || x > b.X+1e-9 {
					continue
				}
				y := a.Y
				if b.X > a.X {
					y += (b.Y - a.Y) * (x - a.X) / (b.X - a.X)
				}
				values = append(values, (r.zero-y)*r.slope)
			}
		}
	}
	return values
}

// What is drawn of the footbridge, the café and a balustrade is what was solved: voltage, currents of both rails, light and colour of every
// seventh pixel, within 0.5 % of the axis.
func TestProfilesReadBack(t *testing.T) {
	pens := []draw.Pen{{Tone: draw.Ink, Width: draw.Thick}, {Tone: draw.Ink, Width: draw.Thick, Dash: []float64{3.5, 1.2}}, {Tone: draw.Ink, Width: draw.Thick, Dash: []float64{0.9, 0.9}}}
	for _, c := range []struct{ file, run string }{{"footbridge", "E1"}, {"cafe-canopy-hasty", "E1"}, {"library-atrium", "E1"}} {
		st := schemetest.Unstruck(t, "../../examples/"+c.file+".scheme.yaml")
		count := float64(st.Scheme.Runs[c.run].Count)
		var cases []network.Case
		for _, in := range st.Cases() {
			if in.Kind == network.State || in.Kind == network.CapFailed {
				cases = append(cases, in)
			}
		}
		for n, page := range profiles(t, st, c.run, sheettest.A4) {
			list := panels(t, page.Scene)
			if len(list) != 5 {
				t.Fatalf("%s: %d panels", c.file, len(list))
			}
			for i, in := range cases[3*n : min(3*n+3, len(cases))] {
				solution := st.Solution(in.Name)
				solved, _ := st.Network.Profile(solution, c.run)
				lights := st.Network.Lights(solution, c.run)
				brightest := 0
				for k := range lights {
					if lights[k].Candela > lights[brightest].Candela {
						brightest = k
					}
				}
				compare := func(panel int, at, want float64) {
					r, found := list[panel], false
					near := 0.005 * r.box.Height() * math.Abs(r.slope)
					got := r.read(page.Scene, pens[i], at, count)
					for _, v := range got {
						found = found || math.Abs(v-want) < near
					}
					if !found {
						t.Errorf("%s, %s, panel %d at %v: %v drawn, %v solved", c.file, in.Name, panel+1, at, got, want)
					}
				}
				for k := 0; k < int(count); k += 7 {
					at := float64(k) + 0.5
					compare(0, at, solved.Volts[k])
					if st.Result(in.Name).Runs[c.run].Evenness != nil {
						compare(3, at, 100*lights[k].Candela/lights[brightest].Candela)
						compare(4, at, lights[k].Shift(lights[brightest]))
					}
				}
				for _, piece := range st.Network.Rails(solution, c.run) {
					for k := 0; k < len(piece.Plus); k += 7 {
						compare(1, float64(piece.From+k), piece.Plus[k])
						compare(2, float64(piece.From+k), piece.Return[k])
					}
				}
			}
		}
	}
}

// The page names what is lowest and highest, in the table and in sentences, for each case.
func TestProfilesNameTheirEnds(t *testing.T) {
	st := schemetest.Unstruck(t, "../../examples/cafe-canopy.scheme.yaml")
	pages := profiles(t, st, "E1", sheettest.A4)
	said := strings.ReplaceAll(strings.Join(pagetest.Words(pages[0].Scene), "\n"), layout.Thin, " ")
	for _, in := range st.Cases() {
		if in.Kind != network.State {
			continue
		}
		solved, _ := st.Network.Profile(st.Solution(in.Name), "E1")
		low, high := 0, 0
		for k, v := range solved.Volts {
			if v < solved.Volts[low] {
				low = k
			}
			if v > solved.Volts[high] {
				high = k
			}
		}
		peak := st.Result("peak/" + in.State).Runs["E1"]
		want := fmt.Sprintf("state %s\n%.2f V, px %d\n%.2f V, px %d\n%.2f V, px %d\n%v\n", in.State, solved.Volts[low], low, float64(peak.VoltsLow), peak.LowAt, solved.Volts[high], high, st.Result(in.Name).Runs["E1"].RailAmps)
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q in\n%s", want, said)
		}
	}
	for _, want := range []string{"limit of the rail", "proven from 9.5 V", "aim 90 %", "aim 0.004", "W3", "cut +"} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q", want)
		}
	}
}

// The profile of a run of the footbridge, as text. A change here is a change of what people see.
func TestProfileIsAsBefore(t *testing.T) {
	sheettest.Golden(t, "testdata/footbridge.profile-E1.scene.txt", *profiles(t, schemetest.Unstruck(t, "../../examples/footbridge.scheme.yaml"), "E1", sheettest.A4)[0].Scene)
}
