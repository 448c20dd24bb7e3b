package plan_test

import (
	"bytes"
	"farend/draw"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/plan"
	"farend/study"
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const altered = "../../examples/library-atrium-altered.scheme.yaml"

// A thing that is not drawn, and stands far outside a closer look, is not shown there: T1 is in the riser.
func TestCloserLooksShowNoThingFromElsewhere(t *testing.T) {
	for _, style := range []drafting.Style{sheettest.A3, sheettest.A4} {
		for _, p := range planned(schemetest.UnsolvedFile(t, altered), style)[1:] {
			for _, l := range p.Scene.Layers {
				for _, text := range l.Texts {
					if l.Name == "things" && text.Words == "T1" {
						t.Errorf("%s: %s shows T1", style.Drawings.Name, p.Name)
					}
				}
			}
		}
	}
}

// runTogether are the labels of a page that stand in one line and less than 2 mm apart: “E4 case 2 E5 case 3” reads as one.
func runTogether(scene *draw.Scene) (list []string) {
	for _, l := range scene.Layers {
		for i, text := range l.Texts {
			for _, other := range l.Texts[:i] {
				a, b := text.Box(), other.Box()
				shared, apart := min(a.Max.Y, b.Max.Y)-max(a.Min.Y, b.Min.Y), max(a.Min.X-b.Max.X, b.Min.X-a.Max.X)
				if l.Name == "labels" && shared > max(a.Height(), b.Height())/2 && apart < 2 {
					list = append(list, fmt.Sprintf("%q and %q stand %.1f mm apart", other.Words, text.Words, apart))
				}
			}
		}
	}
	return list
}

// No leader of a plan crosses words, but those that it leads to stand at its end, and no label runs into another. The key says what frames are
// where there are some.
func TestLabelsAreToldApart(t *testing.T) {
	leaders := 0
	for _, path := range schemetest.Paths(t, "../../examples/*.scheme.yaml") {
		st := schemetest.UnsolvedFile(t, path)
		for _, style := range drafting.Styles() {
			pages := planned(st, style)
			if is, says := len(pages) > 1, strings.Contains(sheettest.Said(pages[0]), "What is framed is shown once more"); is != says {
				t.Errorf("%s, %s: %d sheets, the key tells of frames: %v", path, style.Drawings.Name, len(pages), says)
			}
			for _, page := range pages {
				for _, said := range runTogether(page.Scene) {
					t.Errorf("%s, %s, %s: %s", path, style.Drawings.Name, page.Name, said)
				}
				var lines [][2]draw.Point
				var boxes []draw.Text
				for _, l := range page.Scene.Layers {
					for _, p := range l.Paths {
						if l.Name == "labels" && p.Fill == draw.None && p.Pen.Tone == draw.Graphite {
							lines = append(lines, [2]draw.Point{p.Steps[0].To, p.Steps[1].To})
						}
					}
					if l.Name == "labels" || l.Name == "things" || l.Name == "dimensions" {
						boxes = append(boxes, l.Texts...)
					}
				}
				leaders += len(lines)
				for _, line := range lines {
					for _, text := range boxes {
						if low, high := layout.Inside(line[0], line[1], text.Box().Grow(-0.2)); low < high {
							t.Errorf("%s, %s, %s: a leader crosses %q", path, style.Drawings.Name, page.Name, text.Words)
						}
					}
				}
			}
		}
	}
	if leaders < 50 {
		t.Errorf("only %d leaders", leaders)
	}
}

func planned(st *study.Study, style drafting.Style) []draw.Page {
	return drafting.Binding(st.Scheme).Bind(plan.Pages(st, style))
}

// planComplaints is what is wrong with a plan: with the looks of its sheets, with lengths, and what of the scheme is named on none of them.
func planComplaints(st *study.Study, style drafting.Style) (list []string, pages []draw.Page) {
	pages = planned(st, style)
	var words []string
	for i, page := range pages {
		name := "plan"
		if i > 0 {
			name = fmt.Sprintf("plan.%d", i+1)
		}
		if page.Name != name {
			list = append(list, fmt.Sprintf("sheet %d is called %s", i+1, page.Name))
		}
		for _, c := range pagetest.Complaints(page.Scene) {
			list = append(list, page.Name+": "+c)
		}
		words = append(words, pagetest.Words(page.Scene)...)
	}
	said := map[string]bool{}
	for _, w := range words {
		for _, word := range strings.FieldsFunc(w, func(r rune) bool { return r == ' ' || r == ':' || r == ',' }) {
			said[word] = true
		}
	}
	for id := range st.Scheme.Identifiers() {
		if !said[id] {
			list = append(list, id+" is named on no sheet")
		}
	}
	return append(list, lengthComplaints(st, pages[0].Scene)...), pages
}

// lengthComplaints is which runs are on the first sheet not as long as they are drawn, or as they are where they are not.
func lengthComplaints(st *study.Study, scene *draw.Scene) (list []string) {
	var lengths []float64
	for _, l := range scene.Layers {
		if l.Name != "runs" {
			continue
		}
		for _, p := range l.Paths {
			if p.Pen.Width != draw.Thick {
				continue
			}
			sum := 0.0
			for i := 1; i < len(p.Steps); i++ {
				sum += math.Hypot(p.Steps[i].To.X-p.Steps[i-1].To.X, p.Steps[i].To.Y-p.Steps[i-1].To.Y)
			}
			lengths = append(lengths, sum)
		}
	}
	for _, id := range scheme.IDs(st.Scheme.Runs) {
		want := float64(st.Scheme.Drawing[id].Length())
		if want == 0 {
			if want = float64(*st.Scheme.Runs[id].Length); len(lengths) < len(st.Scheme.Runs) {
				continue // it is on a further sheet
			}
		}
		want *= 1000 / scene.Scale
		found := false
		for _, got := range lengths {
			found = found || math.Abs(got-want) < 1e-6*max(1, want)
		}
		if !found {
			list = append(list, fmt.Sprintf("%s should be %.6f mm long on paper", id, want))
		}
	}
	return list
}

// Plans of every example and of schemes that have all that a scheme may have are clean, name everything, and are the same when they are drawn
// again.
func TestPlansAreClean(t *testing.T) {
	paths := append(schemetest.Paths(t, "../../examples/*.scheme.yaml"), schemetest.Paths(t, "../../scheme/testdata/*.scheme.yaml")...)
	paths = append(paths, schemetest.Paths(t, "../../signal/testdata/*.scheme.yaml")...)
	for i, path := range paths {
		st := schemetest.UnsolvedFile(t, path)
		styles := drafting.Styles()
		if strings.Contains(path, "signal") {
			styles = styles[i%4 : i%4+1]
		}
		for _, style := range styles {
			list, one := planComplaints(st, style)
			for _, complaint := range list {
				t.Errorf("%s, %s: %s", filepath.Base(path), style.Drawings.Name, complaint)
			}
			two := planned(st, style)
			for i := range one {
				a, err := draw.SVG(one[i].Scene)
				b, _ := draw.SVG(two[i].Scene)
				if err != nil || !bytes.Equal(a, b) {
					t.Errorf("%s: %s differs when it is drawn twice (%v)", filepath.Base(path), one[i].Name, err)
				}
			}
		}
	}
}

// geometry is a scheme of some runs, drawn in some way or not at all.
func geometry(r *rand.Rand) string {
	var b strings.Builder
	runs, pixels := 1+r.Intn(9), func() int { return 6 + r.Intn(600) }
	size := math.Pow(10, -1+4*r.Float64())
	at := func() string { return fmt.Sprintf("[%.3f, %.3f]", size*r.Float64(), size*r.Float64()*r.Float64()) }
	fmt.Fprintf(&b, "farend: 1\ntitle: random\nsupplies: {T1: {part: supply/5v-300w, label: somewhere}, T2: {part: supply/5v-300w}}\nboards: {A1: {part: board/twelve-way-eight-port, label: \"a board with a long name\"}}\n")
	fmt.Fprintf(&b, "junctions: {X1: {part: junction/lever-5}}\nenclosures: {B1: {part: enclosure/steel-400x500x200, holds: [T1, A1]}}\n")
	fmt.Fprintf(&b, "contactors: {Q1: {part: relay/plug-in-30A, in: W1}}\ncapacitors: {C1: {part: capacitor/1000uF-10V, at: E1@start}}\nruns:\n")
	count := map[int]int{}
	for e := 1; e <= runs; e++ {
		count[e] = pixels()
		if r.Intn(3) == 0 {
			count[e] = 6
		}
		cuts := ""
		if r.Intn(2) == 0 {
			cuts = fmt.Sprintf(", cuts: [{at: px%d, pole: %s}]", 1+r.Intn(count[e]-1), []string{"plus", "return", "both"}[r.Intn(3)])
		}
		fmt.Fprintf(&b, "  E%d: {tape: tape/5v-rgb-60, pixels: %d, label: run %d%s}\n", e, count[e], e, cuts)
	}
	fmt.Fprintf(&b, "cables:\n  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}\n  W2: {part: cable/flex-2x4, length: 1 m, from: T2, to: X1}\n")
	for e := 1; e <= runs; e++ {
		fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x1.5, length: 2 m, from: A1.%d, to: E%d@start}\n", 10*e, 1+(e-1)%12, e)
		for f := range r.Intn(4) {
			fmt.Fprintf(&b, "  W%d: {part: cable/flex-2x1.5, length: 2 m, from: X1, to: E%d@px%d%s}\n", 10*e+f+1, e, r.Intn(count[e]), []string{"", ", pole: return", ", label: some feed"}[r.Intn(3)])
		}
	}
	b.WriteString("data:\n  D1: {part: cable/data-3x0.5, length: 2 m, from: A1.P1, to: E1}\n")
	for e := 2; e <= runs; e++ {
		fmt.Fprintf(&b, "  D%d: {part: cable/data-3x0.5, length: 2 m, from: E%d, to: E%d}\n", e, e-1, e)
	}
	b.WriteString("drawing:\n")
	same, shape := at(), r.Intn(6)
	for e := 1; e <= runs; e++ {
		if r.Intn(4) == 0 && shape != 0 {
			continue
		}
		switch shape {
		case 0: // all in one place
			fmt.Fprintf(&b, "  E%d: [%s, [0, 0]]\n", e, same)
		case 1: // level, one above the other
			fmt.Fprintf(&b, "  E%d: [[0, %d], [%.3f, %d]]\n", e, e, float64(count[e])/60, e)
		case 2: // upright, and one far off
			x := float64(e) * 0.3
			if e == 3 {
				x = 5000
			}
			fmt.Fprintf(&b, "  E%d: [[%.3f, 0], [%.3f, %.3f]]\n", e, x, x, float64(count[e])/60)
		case 3: // a ring
			fmt.Fprintf(&b, "  E%d: [", e)
			for k := 0; k <= 40; k++ {
				sin, cos := math.Sincos(float64(k%40) * math.Pi / 20)
				fmt.Fprintf(&b, "[%.4f, %.4f], ", size*cos*float64(e), size*sin)
			}
			b.WriteString("]\n")
		default: // any way
			fmt.Fprintf(&b, "  E%d: [%s, %s, %s]\n", e, at(), at(), at())
		}
	}
	for _, id := range []string{"A1", "T2", "X1", "B1", "Q1"} {
		if r.Intn(2) == 0 {
			fmt.Fprintf(&b, "  %s: %s\n", id, at())
		}
	}
	if r.Intn(2) == 0 {
		fmt.Fprintf(&b, "  W10: [%s, %s, %s]\n  D1: [%s, %s]\n", at(), at(), at(), at(), at())
	}
	b.WriteString("  T1: " + same + "\n")
	return b.String()
}

// However a scheme is drawn, its plan is clean and names everything.
func TestPlansOfAnyGeometryAreClean(t *testing.T) {
	further := 0
	for seed := range 110 {
		r := rand.New(rand.NewSource(int64(seed)))
		st := schemetest.Unsolved(t, fmt.Sprintf("seed-%d.scheme.yaml", seed), geometry(r))
		style := drafting.Styles()[seed%4]
		list, pages := planComplaints(st, style)
		further += len(pages) - 1
		for _, complaint := range list {
			t.Errorf("seed %d: %s", seed, complaint)
		}
	}
	if further < 20 {
		t.Errorf("only %d further sheets: nothing was crowded", further)
	}
}

// Plans of many runs are clean and name everything, drawn or not; what is arranged goes on for as many sheets as it takes.
func TestPlansOfManyRunsAreClean(t *testing.T) {
	for _, c := range []struct {
		runs   int
		drawn  bool
		sheets int
	}{{20, true, 1}, {20, false, 1}, {150, false, 3}} {
		st := schemetest.Unsolved(t, "large.scheme.yaml", schemetest.Large(c.runs, 125, c.drawn))
		list, pages := planComplaints(st, sheettest.A3)
		for _, complaint := range list {
			t.Errorf("%+v: %s", c, complaint)
		}
		if len(pages) < c.sheets {
			t.Errorf("%+v: %d sheets", c, len(pages))
		}
	}
}

// A plan of the footbridge is to 1:20 on A3: its runs of 4.8 m are 240 mm long, 70 mm apart, and A1 stands in the middle; the words say its
// dimensions once each.
func TestFootbridgePlanIsToScale(t *testing.T) {
	st := schemetest.UnsolvedFile(t, "../../examples/footbridge.scheme.yaml")
	scene := planned(st, sheettest.A3)[0].Scene
	if scene.Scale != 20 {
		t.Fatalf("it is to 1:%v", scene.Scale)
	}
	var runs [][2]draw.Point
	var board draw.Point
	words := map[string]int{}
	for _, l := range scene.Layers {
		for _, p := range l.Paths {
			if l.Name == "runs" && p.Pen.Width == draw.Thick {
				runs = append(runs, [2]draw.Point{p.Steps[0].To, p.Steps[1].To})
			}
		}
		for _, text := range l.Texts {
			words[text.Words]++
			if l.Name == "things" && text.Words == "A1" {
				board = text.At
			}
		}
	}
	if len(runs) != 2 {
		t.Fatalf("%d runs", len(runs))
	}
	west, east := runs[0], runs[1]
	for _, r := range runs {
		if math.Abs(r[1].X-r[0].X-240) > 1e-9 || r[1].Y != r[0].Y {
			t.Errorf("a run goes from %v to %v", r[0], r[1])
		}
	}
	if math.Abs(west[0].Y-east[0].Y-70) > 1e-9 || west[0].X != east[0].X {
		t.Errorf("west is at %v, east at %v", west[0], east[0])
	}
	if math.Abs(board.X-(west[0].X+west[1].X)/2) > 1e-9 || math.Abs(board.Y-(west[0].Y+east[0].Y)/2) > 1 {
		t.Errorf("A1 stands at %v", board)
	}
	for _, once := range []string{"4\u202f800", "1\u202f400", "end", "end · 4.80\u202fm"} {
		if words[once] != 1 {
			t.Errorf("%q stands there %d times", once, words[once])
		}
	}
}

// A small edit moves little: with a pixel more on a run, another name of a cable, or a cable less, the scale stays, and most labels too.
func TestSmallEditsMoveLittle(t *testing.T) {
	for _, c := range []struct{ file, old, new string }{
		{"footbridge", "pixels: 288", "pixels: 289"},
		{"footbridge", "  W4:  {", "  W40: {"},
		{"library-atrium", "  W13: {", "  W130: {"},
		{"library-atrium", "E8: {tape: tape/5v-rgb-120-narrow, length: 0.85 m", "E8: {tape: tape/5v-rgb-120-narrow, pixels: 103"},
	} {
		text, err := os.ReadFile("../../examples/" + c.file + ".scheme.yaml")
		if err != nil || strings.Count(string(text), c.old) != 1 {
			t.Fatalf("%s: %q: %v", c.file, c.old, err)
		}
		before := planned(schemetest.Unsolved(t, c.file, string(text)), sheettest.A3)[0].Scene
		after := planned(schemetest.Unsolved(t, c.file, strings.Replace(string(text), c.old, c.new, 1)), sheettest.A3)[0].Scene
		if before.Scale != after.Scale {
			t.Errorf("%s: 1:%v became 1:%v", c.new, before.Scale, after.Scale)
		}
		was := map[string][]draw.Point{}
		for _, text := range labelled(before) {
			was[text.Words] = append(was[text.Words], text.At)
		}
		all, stayed := 0, 0
		for _, text := range labelled(after) {
			if len(was[text.Words]) == 0 {
				continue
			}
			all++
			for _, at := range was[text.Words] {
				if math.Hypot(at.X-text.At.X, at.Y-text.At.Y) < 4 {
					stayed++
					break
				}
			}
		}
		if all < 20 || float64(stayed) < 0.85*float64(all) {
			t.Errorf("%s, %q: of %d labels %d stayed", c.file, c.new, all, stayed)
		}
	}
}

func labelled(s *draw.Scene) (texts []draw.Text) {
	for _, l := range s.Layers {
		if l.Name == "labels" || l.Name == "things" || l.Name == "dimensions" {
			texts = append(texts, l.Texts...)
		}
	}
	return texts
}

// A plan says what it does not know: places, routes, and lines that are not as long as their tape.
func TestPlansSayWhatIsNotDrawn(t *testing.T) {
	for _, c := range []struct{ file, says string }{
		{"../../examples/cafe-canopy.scheme.yaml", "No run is drawn in the scheme: runs are arranged in rows, not surveyed, their lengths to scale."},
		{"../../examples/cafe-canopy.scheme.yaml", "arranged, not surveyed"},
		{"../../examples/footbridge.scheme.yaml", "Not drawn to place, and shown beside what they go with: T1."},
		{"../../examples/footbridge.scheme.yaml", "No route is drawn: cables and leads are shown straight or as stubs. Their lengths are those of the schedule, not of these lines."},
		{"../../scheme/testdata/everything.scheme.yaml", "Only these routes are drawn: W3, D3. All others are shown straight or as stubs; their lengths are those of the schedule."},
		{"../../scheme/testdata/everything.scheme.yaml", "arranged, not surveyed"},
	} {
		words := strings.Join(pagetest.Words(planned(schemetest.UnsolvedFile(t, c.file), sheettest.A3)[0].Scene), " ")
		if !strings.Contains(words, c.says) {
			t.Errorf("%s does not say %q: %s", c.file, c.says, words)
		}
	}
}
