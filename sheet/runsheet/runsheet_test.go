package runsheet_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/runsheet"
	"farend/study"
	"fmt"
	"math"
	"math/rand"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Where data goes on from a run its end is not said to be cut off.
func TestDataOutEndIsSaid(t *testing.T) {
	st := schemetest.UnsolvedFile(t, "../../examples/cafe-canopy-hasty.scheme.yaml")
	for run, want := range map[string]string{"E1": "data-out end: data goes on D2, ", "E2": "data-out end: cut off no data lead"} {
		words := sheettest.Said(drafting.Binding(st.Scheme).Bind(runsheet.Pages(st, run, sheettest.A3))...)
		if !strings.Contains(words, want) || strings.Count(words, "data-out end:") != 1 {
			t.Errorf("%s does not say %q", run, want)
		}
	}
}

// A line that is longer or shorter than the tape is told where the ends of the run are; one that is as long is not.
func TestALineThatIsNotAsLongAsTheTapeIsSaid(t *testing.T) {
	for x, want := range map[string]string{
		"1.5": "The drawing has it otherwise: its line there is 1500 mm long, its tape 1200 mm. Ask before you cut.", "1": "its line there is 1000 mm long, its tape 1200 mm.", "1.21": "",
	} {
		st := schemetest.Unsolved(t, "line", "farend: 1\nruns: {E1: {tape: tape/24v-rgb-20x8, length: 1.2 m}}\nstates: {full: {}}\ndrawing: {E1: [[0, 0], ["+x+", 0]]}\n")
		said := sheettest.Said(sheets(t, st, "E1", sheettest.A3)...)
		if words := strings.ReplaceAll(said, layout.Thin, " "); !strings.Contains(words, want) || strings.Contains(words, "otherwise") != (want != "") {
			t.Errorf("drawn %s m it does not say %q in\n%s", x, want, words)
		}
	}
}

// sheets are the pages of a run, held to their looks and to having everything of the run in their words.
func sheets(t *testing.T, st *study.Study, run string, style drafting.Style) []draw.Page {
	t.Helper()
	pages := drafting.Binding(st.Scheme).Bind(runsheet.Pages(st, run, style))
	said := ""
	for i, page := range pages {
		for _, l := range page.Scene.Layers {
			for _, text := range l.Texts {
				if l.Name == "block" && text.At.X == layout.Margin+2 && strings.HasSuffix(text.Words, "…") {
					t.Errorf("%s, %s, %s: its notes are cut: %q", filepath.Base(st.Scheme.File), page.Name, style.Drawings.Name, text.Words)
				}
			}
		}
		for _, complaint := range append(pagetest.Complaints(page.Scene), struckThrough(page.Scene)...) {
			t.Errorf("%s, %s, %s: %s", filepath.Base(st.Scheme.File), page.Name, style.Drawings.Name, complaint)
		}
		if want := fmt.Sprintf("run-%s.%d", run, i+1); page.Name != want && i > 0 || i == 0 && page.Name != "run-"+run {
			t.Errorf("page %d is called %s", i+1, page.Name)
		}
		said += strings.Join(pagetest.Words(page.Scene), "\n") + "\n"
	}
	r := st.Scheme.Runs[run]
	for id, c := range st.Scheme.Cables {
		if c.From.Element == run || c.To.Element == run {
			const whole = 20 // letters that no table cuts
			if !strings.Contains(said, id+",") && (len(id) <= whole || !strings.Contains(said, id[:8])) {
				t.Errorf("%s of %s does not name the cable %s", run, st.Scheme.File, id)
			}
		}
	}
	pitch := 1000 / float64(st.Scheme.Tape(run).Pixels.Is)
	decimals := 0
	if pitch*float64(st.Scheme.Tape(run).CutEvery) < 5 {
		decimals = 1
	}
	plain := strings.ReplaceAll(said, layout.Thin, "")
	for _, cut := range r.Cuts {
		want := map[scheme.Pole]string{scheme.Plus: "cut + only", scheme.Return: "cut − only", scheme.Both: "cut + and −"}[cut.Pole]
		if mm := strconv.FormatFloat(float64(cut.At.Mark)*pitch, 'f', decimals, 64) + "mm\npx" + strconv.Itoa(cut.At.Mark) + "\n" + want; !strings.Contains(plain, mm) {
			t.Errorf("%s of %s does not say %q", run, st.Scheme.File, mm)
		}
	}
	for _, joint := range r.Joints {
		if mm := strconv.FormatFloat(1000*float64(joint), 'f', decimals, 64) + "mm\n"; !strings.Contains(plain, mm) {
			t.Errorf("%s of %s does not say %q", run, st.Scheme.File, mm)
		}
	}
	if n := strings.Count(said, "soldered joint, all pads"); n != len(r.Joints) {
		t.Errorf("%s of %s tells of %d soldered joints, has %d", run, st.Scheme.File, n, len(r.Joints))
	}
	return pages
}

// struckThrough is the words of the drawing of a tape through which a line goes.
func struckThrough(s *draw.Scene) (list []string) {
	var lines [][2]draw.Point
	for _, l := range s.Layers {
		if l.Name != "tape" && l.Name != "dimensions" {
			continue
		}
		for _, p := range l.Paths {
			if p.Fill != draw.None {
				continue
			}
			for i := range p.Steps[1:] {
				if p.Steps[i+1].Kind == draw.Go {
					lines = append(lines, [2]draw.Point{p.Steps[i].To, p.Steps[i+1].To})
				}
			}
		}
	}
	for _, l := range s.Layers {
		if l.Name != "labels" && l.Name != "dimensions" {
			continue
		}
		for _, text := range l.Texts {
			box := text.Box().Grow(-0.4)
			for _, line := range lines {
				if low, high := layout.Inside(line[0], line[1], box); low < high {
					list = append(list, fmt.Sprintf("a line goes through %q", text.Words))
					break
				}
			}
		}
	}
	return list
}

// Every run of every example and of odd installations has a sheet that is clean, whole, well-formed and the same when drawn again.
func TestRunSheetsAreClean(t *testing.T) {
	drawn := 0
	for _, glob := range []string{"../../examples/*.scheme.yaml", "../chart/testdata/*.scheme.yaml", "../../scheme/testdata/*.scheme.yaml", "../../signal/testdata/*.scheme.yaml"} {
		for _, path := range schemetest.Paths(t, glob) {
			st := schemetest.UnsolvedFile(t, path)
			for _, run := range scheme.IDs(st.Scheme.Runs) {
				for i, style := range []drafting.Style{sheettest.A3, sheettest.A4, drafting.Styles()[3]} {
					style.Gauges = i == 2
					pages := sheets(t, st, run, style)
					if len(pages) == 0 {
						t.Errorf("%s, %s: nothing is drawn", path, run)
					}
					drawn += len(pages)
				}
			}
		}
	}
	if drawn < 100 {
		t.Errorf("only %d pages", drawn)
	}
	st := schemetest.UnsolvedFile(t, "../../examples/library-atrium.scheme.yaml")
	one, err := draw.SVG(sheets(t, st, "E9", sheettest.A4)[0].Scene)
	two, _ := draw.SVG(sheets(t, schemetest.UnsolvedFile(t, "../../examples/library-atrium.scheme.yaml"), "E9", sheettest.A4)[0].Scene)
	if err != nil || !bytes.Equal(one, two) {
		t.Errorf("drawn twice it differs (%v)", err)
	}
	pagetest.Lint(t, one)
	if runsheet.Pages(st, "E99", sheettest.A3) != nil {
		t.Error("a sheet of no run")
	}
}

func TestRunSheetsOfRandomSchemesAreClean(t *testing.T) {
	r := rand.New(rand.NewSource(8))
	for i := range 200 {
		st := schemetest.Unsolved(t, fmt.Sprintf("random %d", i), schemetest.Text(schemetest.Random(r), schemetest.AsWritten))
		ids := scheme.IDs(st.Scheme.Runs)
		sheets(t, st, ids[i%len(ids)], drafting.Styles()[i%4])
	}
}

// shaped is a run with what lands on it.
func shaped(t *testing.T, name, run string, more string) *study.Study {
	t.Helper()
	return schemetest.Unsolved(t, name, fmt.Sprintf(`farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/twelve-way-eight-port}}
states: {full: {}}
runs:
  E1: %s
%s`, run, more))
}

// Runs of every odd shape have clean sheets.
func TestRunSheetsOfOddShapes(t *testing.T) {
	var twelve, many, cuts []string
	for i := range 12 {
		twelve = append(twelve, fmt.Sprintf("px%d", 60+125*i))
		many = append(many, fmt.Sprintf("px%d", 100+i))
		cuts = append(cuts, fmt.Sprintf("{at: px%d, pole: %s}", 120*(i+1), []string{"plus", "return", "both"}[i%3]))
	}
	crowd, host, hostCuts := make([]string, 12), make([]string, 80), make([]string, 250)
	for i := range crowd {
		crowd[i] = "px75"
	}
	for i := range host {
		host[i] = fmt.Sprintf("px%d", 5+2*i)
	}
	for i := range hostCuts {
		hostCuts[i] = fmt.Sprintf("{at: px%d, pole: both}", 2+i)
	}
	for name, c := range map[string]struct{ run, more string }{
		"one pixel":                {"{tape: tape/5v-rgb-60, pixels: 1}", schemetest.Feeds("start")},
		"one pixel, no feed":       {"{tape: tape/5v-rgb-60, pixels: 1, ip: 68}", ""},
		"25 m":                     {"{tape: tape/5v-rgb-60, pixels: 1500}", schemetest.Feeds("start")},
		"12 feeds":                 {"{tape: tape/5v-rgb-60, pixels: 1500, label: a very long label of a run that goes all the way round the roof of the northern hall, cuts: [" + strings.Join(cuts, ", ") + "]}", schemetest.Feeds(twelve...)},
		"12 neighbours":            {"{tape: tape/5v-rgb-60, pixels: 300, joints: [1.7 m, 2 m, 2.5 m]}", schemetest.Feeds(many...)},
		"12 at one mark":           {"{tape: tape/5v-rgb-60, pixels: 150}", schemetest.Feeds(crowd...)},
		"a host of feeds and cuts": {"{tape: tape/5v-rgb-60, pixels: 300, cuts: [" + strings.Join(hostCuts, ", ") + "]}", schemetest.Feeds(host...)},
		"both sides of a cut": {"{tape: tape/5v-rgb-60, pixels: 300, cuts: [{at: px150, pole: both}]}",
			schemetest.Feeds("px150", "px150-", "start", "end") + "capacitors: {C1: {part: capacitor/1000uF-10V, at: E1@px150}, C2: {part: choose, at: E1@end}}\n"},
		"joints":        {"{tape: tape/5v-rgb-60, length: 4 m, joints: [1 m, 1.004 m, 1.73 m, 3.999 m]}", schemetest.Feeds("start", "end")},
		"cut in threes": {"{tape: tape/12v-rgb-10x3, length: 5 m, reel: R7, cuts: [{at: px24, pole: plus}]}", schemetest.Feeds("start", "px24", "px24-")},
		"narrow":        {"{tape: tape/5v-rgb-120-narrow, length: 2 m}", schemetest.Feeds("start", "1m")},
		"10 km":         {"{tape: tape/5v-rgb-60, length: 10 km}", schemetest.Feeds("start", "5000m", "5000.02m", "end")},
		"links": {"{tape: tape/5v-rgb-60, length: 1 m}", `cables:
  W1: {part: choose, length: 1 m, from: A1.1, to: E1@start, pole: plus, fuse: choose}
  W2: {part: cable/flex-2x2.5, length: 1 m, from: E1@start, to: E1@end, pole: return, ends: {from: choose}}
  W3: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@px10, fuse: fuse/inline-20A, fuse_at: to}
  W4: {part: cable/flex-2x2.5, length: 1 m, from: T1, to: E1@px20}
`},
	} {
		for _, style := range drafting.Styles() {
			sheets(t, shaped(t, name, c.run, c.more), "E1", style)
		}
	}
}

// A chain of five runs: each sheet says where its data comes from, where it goes, and which pixels of the port are its own.
func TestRunSheetsOfAChain(t *testing.T) {
	var b strings.Builder
	b.WriteString("farend: 1\nboards: {A1: {part: board/six-way-three-port}}\nsupplies: {T1: {part: supply/5v-200w}}\nstates: {full: {}}\nruns:\n")
	for i := range 5 {
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, pixels: %d}\n", i+1, 10*(i+1))
	}
	b.WriteString("data:\n  D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P2, to: E1, series: 33 Ω, buffer: {part: choose, at: to}}\n")
	for i := range 4 {
		fmt.Fprintf(&b, "  D%d: {part: cable/data-3x0.5, length: 1 m, from: E%d, to: E%d%s}\n", i+2, i+1, i+2, []string{"", ", ground: open", ", power: yes", ", buffer: {part: buffer/ahct-5v, at: from}"}[i])
	}
	st := schemetest.Unsolved(t, "chain", b.String())
	for run, wants := range map[string][]string{
		"E1": {"D1 from A1.P2", "D2 to E2", "number 0 of port A1.P2, its last number 9", "33 Ω in the data core", "buffer not chosen at E1, + and − from the rails of E1 there", "buffer, between pad and D1", "1 data, 1 ground, 1 spare: joined to nothing, insulate it at both ends"},
		"E3": {"D3 from E2", "D4 to E4", "number 30 of port A1.P2, its last number 59", "ground left open", "past the fuses", "1 data, 2 joined to nothing (ground is left open): insulate them at both ends", "1 data, 1 ground, 1 + of the supply"},
		"E4": {"D5 to E5 3 × 0.5 mm² ground joined 1 unused: insulate buffer ahct-5v on the rails here", "buffer, between pad and D5 buffer/ahct-5v + and − from the rails of E4 there", "buffer in the data lead"},
		"E5": {"D5 from E4", "nothing joined", "number 100 of port A1.P2, its last number 149"},
	} {
		said := ""
		for _, page := range sheets(t, st, run, sheettest.A3) {
			said += strings.ReplaceAll(strings.Join(pagetest.Words(page.Scene), " "), layout.Thin, " ") + " "
		}
		for _, want := range wants {
			if !strings.Contains(said, want) {
				t.Errorf("%s does not say %q:\n%s", run, want, said)
			}
		}
	}
}

// Places on the page, times its scale, are the places on the tape: the extension lines of the dimensions, from the edge of each row on.
func TestPlacesOfARunMeasureBack(t *testing.T) {
	var crowd []string
	footbridge, rows := []float64{0, 29, 58, 87, 116, 144, 173, 202, 231, 260, 288}, []float64{0, 102}
	for i := range 40 {
		crowd = append(crowd, fmt.Sprintf("px%d", 110+4*i))
		rows = append(rows, float64(110+4*i))
	}
	rows = append(rows, 333, 420.3, 900)
	for _, c := range []struct {
		st    *study.Study
		style drafting.Style
		want  []float64 // pixels from data-in
		rows  int
	}{
		{schemetest.UnsolvedFile(t, "../../examples/footbridge.scheme.yaml"), sheettest.A3, footbridge, 1},
		{schemetest.UnsolvedFile(t, "../../examples/footbridge.scheme.yaml"), sheettest.A4, footbridge, 1},
		{shaped(t, "rows", "{tape: tape/5v-rgb-60, pixels: 900, joints: [1.7 m, 7.005 m], cuts: [{at: px333, pole: plus}]}", schemetest.Feeds(crowd...)), sheettest.A3, rows, 2},
	} {
		type strip struct{ left, right, bottom, scale float64 }
		var strips []strip
		var got []float64
		begin := 0.0 // of the row, in pixels
		for _, page := range sheets(t, c.st, "E1", c.style) {
			var here []strip
			for _, l := range page.Scene.Layers {
				for _, p := range l.Paths {
					if l.Name == "tape" && p.Fill == draw.Shade {
						here = append(here, strip{p.Steps[0].To.X, p.Steps[1].To.X, p.Steps[2].To.Y, page.Scene.Scale})
					}
				}
			}
			for _, s := range here {
				for _, l := range page.Scene.Layers {
					for _, p := range l.Paths {
						if at := p.Steps[0].To; l.Name == "dimensions" && len(p.Steps) == 3 && at.Y > s.bottom && at.Y < s.bottom+2 {
							got = append(got, begin+(at.X-s.left)*s.scale*60/1000)
						}
					}
				}
				begin += (s.right - s.left) * s.scale * 60 / 1000
			}
			strips = append(strips, here...)
		}
		if len(strips) < c.rows || c.rows == 1 && len(strips) > 1 {
			t.Errorf("%s: %d rows", c.st.Scheme.File, len(strips))
		}
		if len(got) != len(c.want) {
			t.Fatalf("%s: %d places, want %d: %v", c.st.Scheme.File, len(got), len(c.want), got)
		}
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-6 {
				t.Errorf("%s: place %d is drawn at %.4f pixels, want %v", c.st.Scheme.File, i, got[i], c.want[i])
			}
		}
		if math.Abs(begin-float64(c.st.Scheme.Runs["E1"].Count)) > 1e-6 {
			t.Errorf("%s: the rows have %v pixels", c.st.Scheme.File, begin)
		}
	}
}

// Resistances of the pieces of the footbridge by hand: rails of 100 mΩ/m from 30 % less to 90 % more, a joint of 2 mΩ, half as much or
// half as much more, at every half metre. Of the first piece, 58 pixels and one joint: 58/60 m · 100 mΩ/m + 2 mΩ = 98.7 mΩ. Of the return, 4.8 m and
// 9 joints: 480 + 18 = 498 mΩ.
func TestRunSheetTellsResistances(t *testing.T) {
	said := ""
	for _, page := range sheets(t, schemetest.UnsolvedFile(t, "../../examples/footbridge.scheme.yaml"), "E1", sheettest.A3) {
		said += strings.ReplaceAll(strings.Join(pagetest.Words(page.Scene), "\n"), layout.Thin, " ")
	}
	for _, want := range []string{
		"+\npx 0 to 57\n967 mm\nA1.1 3 A\n98.7 mΩ, 68.7 mΩ to 187 mΩ", // 967 · 0.7 · 0.1 + 1 = 68.7; 967 · 1.9 · 0.1 + 3 = 186.7
		"−\npx 0 to 287\n4800 mm\nW2, W3, W4, W5, W6 and the ground of D1\n498 mΩ, 345 mΩ to 939 mΩ",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("it does not say %q in\n%s", want, said)
		}
	}
}

// The sheet of a run of the footbridge, as text. A change here is a change of what people see.
func TestRunSheetIsAsBefore(t *testing.T) {
	pages := sheets(t, schemetest.UnsolvedFile(t, "../../examples/footbridge.scheme.yaml"), "E1", sheettest.A3)
	if len(pages) != 1 {
		t.Fatalf("%d pages", len(pages))
	}
	sheettest.Golden(t, "testdata/footbridge.run-E1.scene.txt", *pages[0].Scene)
}
