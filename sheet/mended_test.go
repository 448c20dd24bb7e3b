package sheet_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"farend/draw"
	"farend/finding"
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/layout"
	"farend/sheet"
	"farend/study"
)

const altered = "../examples/library-atrium-altered.scheme.yaml"

// said is all words of some pages, with common spaces.
func said(pages ...draw.Page) string {
	var words []string
	for _, p := range pages {
		words = append(words, pagetest.Words(p.Scene)...)
	}
	return strings.Join(strings.Fields(strings.ReplaceAll(strings.Join(words, " "), layout.Thin, " ")), " ")
}

// noted is all words of the title block of a page.
func noted(page draw.Page) string {
	var words []string
	for _, l := range page.Scene.Layers {
		for _, text := range l.Texts {
			if l.Name == "block" {
				words = append(words, text.Words)
			}
		}
	}
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

// A data lead that carries the supply past the fuses, and a bridged way, are said in words on every page that shows them.
func TestSupplyPastTheFusesIsSaid(t *testing.T) {
	st := laidFile(t, altered)
	bind := sheet.Binding(st.Scheme).Bind
	for page, c := range map[string]struct{ words, want string }{
		"single line": {said(bind(sheet.SingleLine(st, a3))...), "D9 carries the supply past the fuses, to E9; bridged, with no fuse: A2.4"},
		"at the run":  {said(bind(sheet.SingleLine(st, a3))...), "D9 7 m from A2.P7: carries the supply past the fuses"},
		"way":         {said(bind(sheet.SingleLine(st, a3))...), "no fuse: bridged"},
		"face":        {said(bind(sheet.Face(st, "A2", a3))...), "D9 carries the supply past the fuses, to E9; bridged, with no fuse: A2.4"},
		"plan":        {said(bind(sheet.Plan(st, a3))[:1]...), "D9: supply past the fuses"},
		"key":         {said(bind(sheet.Plan(st, a3))[:1]...), "D9 carries the supply past the fuses, in the spare cores of a data lead. Bridged, with no fuse: A2.4 (W14)."},
		"run sheet":   {said(bind(sheet.RunSheet(st, "E9", a3))...), "from A2.P7; carries the supply past the fuses"},
		"tape":        {said(bind(sheet.RunSheet(st, "E9", a3))...), "ground joined carries the supply past the fuses"},
	} {
		if !strings.Contains(c.words, c.want) {
			t.Errorf("%s does not say %q", page, c.want)
		}
	}
	if other := said(bind(sheet.RunSheet(st, "E10", a3))...); strings.Contains(other, "past the fuses") {
		t.Error("E10 has no lead past the fuses")
	}
}

// bent is a run of 4 m that turns left by 90° after 1 m and right by 45° after 3 m, with 60 pixels a metre: at pixels 60 and 180. The board
// stands 0.5 m to the left of and 0.8 m under its data-in end.
const bent = `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/twelve-way-eight-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 240}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in, fuse: fuse/inline-20A}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start}
fuses: {A1.1: fuse/blade-3A}
data: {D1: {part: cable/data-3x0.5, length: 1 m, from: A1.P1, to: E1}}
drawing:
  E1: [[0, 0], [1, 0], [1, 2], [1.70710678, 2.70710678]]
  A1: [-0.5, -0.8]
  T1: [-1, -1.2]
`

// A run sheet lists the bends of its run and says how the plan counts; the plan has the pieces, the origin, and how far off the board is.
func TestBendsAndOriginAreSaid(t *testing.T) {
	st := laidOut(t, "bent.scheme.yaml", bent)
	words := said(sheets(t, st, "E1", a3)...)
	for _, want := range []string{"1000 mm px 60 bend, 90° to the left", "3000 mm px 180 bend, 45° to the right", "On the plan, x to the right and y up, its data-in end is at x 0 m, y 0 m"} {
		if !strings.Contains(words, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	counts := map[string]int{}
	for _, text := range pagetest.Words(planned(st, a3)[0].Scene) {
		counts[strings.ReplaceAll(text, layout.Thin, " ")]++
	}
	for _, want := range []string{"1 000", "2 000", "500", "800", "x 0, y 0", "px 0", "end · 4.00 m", "end"} {
		if n := counts[want]; n != 1 && want != "1 000" && want != "end" || want == "1 000" && n != 2 || want == "end" && n != 0 {
			t.Errorf("the plan says %q %d times: %v", want, n, counts)
		}
	}
	far := strings.NewReplacer("[[0, 0], [1, 0], [1, 2], [1.70710678, 2.70710678]]", "[[5, 5], [9, 5]]", "[-0.5, -0.8]", "[6, 4]", "[-1, -1.2]", "[6, 3]").Replace(bent)
	if words := said(planned(unlaid(t, "far.scheme.yaml", far), a3)...); !strings.Contains(words, "The origin is not on this sheet; data-in of E1 is at x 5 m, y 5 m.") {
		t.Error("the plan does not say where its origin is")
	}
}

// Where data goes on from a run its end is not said to be cut off.
func TestDataOutEndIsSaid(t *testing.T) {
	st := laidFile(t, "../examples/cafe-canopy-hasty.scheme.yaml")
	for run, want := range map[string]string{"E1": "data-out end: data goes on D2, ", "E2": "data-out end: cut off no data lead"} {
		words := said(sheet.Binding(st.Scheme).Bind(sheet.RunSheet(st, run, a3))...)
		if !strings.Contains(words, want) || strings.Count(words, "data-out end:") != 1 {
			t.Errorf("%s does not say %q", run, want)
		}
	}
}

// The limits of classes of power are named on their lines.
func TestClassesAreNamedOnTheirLines(t *testing.T) {
	st := unstruck(t, "../examples/footbridge.scheme.yaml")
	for _, at := range []string{"T1", "E1@px87"} {
		c, ok, err := st.PowerCurve(t.Context(), at)
		if !ok || err != nil {
			t.Fatal(ok, err)
		}
		scene := bound(st, sheet.Power(st, c, a4))
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

// What is asked for alike and looks otherwise because the tape is another is said with by how much; the difference is that of the u′, v′ which the
// page lists.
func TestOtherTapesAreSaid(t *testing.T) {
	st := atrium(t)
	for _, style := range []sheet.Style{a3, a4} {
		otherTapes(t, st, style)
	}
	one, nine := st.Result("state/open").Runs["E1"], st.Result("state/open").Runs["E9"]
	if got := math.Hypot(nine.U-one.U, nine.V-one.V); math.Abs(got-0.091) > 0.0005 {
		t.Errorf("they differ by %v", got)
	}
}

// otherTapes holds a night to say which runs look unlike, behind how the picture was made, of which nothing is left out for want of room.
func otherTapes(t *testing.T, st *study.Study, style sheet.Style) {
	t.Helper()
	leaf, ok := sheet.Night(st, "open", style)
	if !ok {
		t.Fatal("no night")
	}
	scene := bound(st, leaf)
	words := strings.ReplaceAll(strings.Join(pagetest.Words(&scene), " "), layout.Thin, " ")
	last := 0
	for _, want := range []string{"One exposure for the page", "Each pixel is spread on paper as Gaussians",
		"E3 to E8 look more purple than E1 and E2 by Δu′v′ 0.101: other tape.", "E9 to E12 look warmer than E1 and E2 by Δu′v′ 0.091: other tape."} {
		at := strings.Index(words, want)
		if at < last {
			t.Errorf("on %s it does not say %q after the others", style.Drawings.Name, want)
		}
		last = max(last, at)
	}
	for _, complaint := range pagetest.Complaints(&scene) {
		t.Errorf("on %s: %s", style.Drawings.Name, complaint)
	}
}

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
	for _, path := range []string{altered, "../examples/library-atrium.scheme.yaml"} {
		st := unlaidFile(t, path)
		for _, style := range []sheet.Style{a3, a4} {
			pages := planned(st, style)
			for _, p := range pages {
				if off := grazing(p.Scene, "cables"); off < 1.5 {
					t.Errorf("%s, %s: a cable comes to %.2f mm from the middle of a dot that it does not join", path, p.Name, off)
				}
			}
			if len(pages) < 2 {
				t.Fatalf("%s: no closer look", path)
			}
			words := said(pages[1])
			for _, want := range []string{"W11", "W12", "W21", "W22", "D3", "D8", "D9", "Key: first sheet of the plan"} {
				if !strings.Contains(words, want) {
					t.Errorf("%s, %s: the closer look does not say %s", path, style.Drawings.Name, want)
				}
			}
		}
	}
}

// A thing that is not drawn, and stands far outside a closer look, is not shown there: T1 is in the riser.
func TestCloserLooksShowNoThingFromElsewhere(t *testing.T) {
	for _, style := range []sheet.Style{a3, a4} {
		for _, p := range planned(unlaidFile(t, altered), style)[1:] {
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

// Ways of a board with a long name can be told from each other, and a page says which of its texts our fonts cannot set.
func TestLongNamesAndStrangeCharacters(t *testing.T) {
	text := strings.NewReplacer("A1", "A_long_name_of_a_board", "pixels: 240", "pixels: 240, label: 西 side", "fuses: {A1.1: fuse/blade-3A}", "fuses: {A1.1: fuse/blade-3A, A1.12: fuse/blade-3A}").Replace(bent)
	text = strings.ReplaceAll(text, "A1.", "A_long_name_of_a_board.")
	st := laidOut(t, "long.scheme.yaml", text)
	ways := map[string]bool{}
	pages := sheet.Binding(st.Scheme).Bind(sheet.SingleLine(st, a3))
	for _, words := range pagetest.Words(pages[0].Scene) {
		if strings.HasSuffix(words, "7.5\u202fA") && strings.Contains(words, "…") {
			ways[words] = true
		}
	}
	if len(ways) != 12 {
		t.Errorf("%d ways can be told from each other: %v", len(ways), ways)
	}
	if words := noted(pages[0]); !strings.Contains(words, "These fonts lack characters of “E1 ? side”, which may stand as boxes: U+897F.") {
		t.Errorf("it does not say what the fonts lack: %s", words)
	}
	if words := noted(planned(laidOut(t, "bent.scheme.yaml", bent), a3)[0]); !strings.Contains(words, "Places, lines and routes") || strings.Contains(words, "fonts") {
		t.Error("a page without such characters speaks of fonts")
	}
}

// The head of a page says what the page shows; of what lies beyond it, by what that is fed.
func TestHeadOfTimeCurrentSaysWhatIsBeyond(t *testing.T) {
	st := unstruck(t, altered)
	rule := study.Rule{Name: "protection/coordination", Title: "Fuse and cable", Safety: true}
	beyond := []study.Assessed{{Rule: &rule, Subject: "W31", Assessment: study.Assessment{Grade: finding.Danger}}}
	leaf, err := sheet.TimeCurrent(st, "W10", beyond, a4)
	if want := "[D] Danger: Fuse and cable, W31, not shown here: fed by W10 and W30 together"; err != nil || leaf.Verdict != want {
		t.Errorf("it says %q, not %q (%v)", leaf.Verdict, want, err)
	}
	both := append(beyond, study.Assessed{Rule: &rule, Subject: "W14", Assessment: study.Assessment{Grade: finding.Danger}})
	leaf, err = sheet.TimeCurrent(st, "W10", both, a4)
	if want := "[D] Danger: Fuse and cable, W14"; err != nil || leaf.Verdict != want {
		t.Errorf("it says %q, not %q (%v)", leaf.Verdict, want, err)
	}
}

// No leader of a plan crosses words, but those that it leads to stand at its end.
func TestLeadersCrossNoWords(t *testing.T) {
	leaders := 0
	for _, path := range schemetest.Paths(t, "../examples/*.scheme.yaml") {
		st := unlaidFile(t, path)
		for _, style := range sheet.Styles() {
			for _, page := range planned(st, style) {
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

// The copper of a cable is told in the same words on every sheet: what is laid, and what of it is used.
func TestCopperIsToldInOneWay(t *testing.T) {
	st := unsolved(t, "copper", []byte(`farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
junctions: {X1: {part: junction/lever-5}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 240}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x1.5, length: 1 m, from: A1.1, to: E1@start, pole: plus}
  W3: {part: cable/flex-2x1.5, length: 1 m, from: A1.2, to: E1@end, pole: return, cores_per_pole: 2}
  W4: {part: cable/four, length: 1 m, from: A1.3, to: E1@px60}
  W5: {part: cable/four, length: 1 m, from: A1.4, to: E1@px120, cores_per_pole: 2}
  W6: {part: choose, length: 1 m, from: A1.4, to: E1@px180}
parts:
  cable/four: {title: invented, cores: 4, area: 1 mm², insulation: 70 °C, r20: 19.5 Ω/km}
`))
	bind := sheet.Binding(st.Scheme).Bind
	for page, words := range map[string]string{
		"single line": said(bind(sheet.SingleLine(st, a3))...),
		"face":        said(bind(sheet.Face(st, "A1", a3))...),
		"run sheet":   said(bind(sheet.RunSheet(st, "E1", a3))...),
	} {
		for _, want := range []string{"2 × 1.5 mm², + alone", "2 × 1.5 mm², − alone in 2", "4 × 1 mm², 2 used", "4 × 1 mm²", "cable not chosen"} {
			if !strings.Contains(words, want) {
				t.Errorf("%s does not say %q", page, want)
			}
		}
		if strings.Contains(words, "1 × 1.5 mm²") || strings.Count(words, " used") > strings.Count(words, ", 2 used") {
			t.Errorf("%s tells copper in another way", page)
		}
	}
}

// A way without a fuse is bridged where the positive of a cable lands on it; a return alone passes no fuse.
func TestAReturnAloneIsNotBridged(t *testing.T) {
	st := unsolved(t, "returns", []byte(`farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 240}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: E1@start, pole: plus}
  W3: {part: cable/flex-2x4, length: 1 m, from: A1.2, to: E1@start, pole: return}
`))
	bind := sheet.Binding(st.Scheme).Bind
	for page, c := range map[string]struct {
		words string
		ways  int
	}{
		"single line": {said(bind(sheet.SingleLine(st, a3))...), 1},
		"face":        {said(bind(sheet.Face(st, "A1", a3))...), 1},
		"plan":        {said(bind(sheet.Plan(st, a3))...), 0},
	} {
		if !strings.Contains(strings.ToLower(c.words), "bridged, with no fuse: a1.1") || strings.Contains(c.words, "A1.1, A1.2") || strings.Contains(c.words, "A1.1 (W2), A1.2") {
			t.Errorf("%s does not say that A1.1 alone is bridged", page)
		}
		if strings.Count(c.words, "no fuse: bridged") != c.ways || strings.Count(c.words, "no fuse: − alone") != c.ways {
			t.Errorf("%s does not tell both ways apart", page)
		}
	}
}

// A plan whose names are so long that its key leaves no room for the drawing has the key on sheets of its own, and every number on it is one.
func TestPlansOfLongNamesHaveAScale(t *testing.T) {
	long := func(kind string, n int) string { return fmt.Sprintf("%s%02d%s", kind, n, strings.Repeat("x", 37)) }
	for _, drawn := range []bool{true, false} {
		var b strings.Builder
		b.WriteString("farend: 1\nsupplies: {T1: {part: supply/5v-300w}}\nboards:\n")
		for n := 1; n <= 3; n++ {
			fmt.Fprintf(&b, "  %s: {part: board/twelve-way-eight-port}\n", long("A", n))
		}
		b.WriteString("runs:\n")
		for n := 1; n <= 30; n++ {
			fmt.Fprintf(&b, "  %s: {tape: tape/5v-rgb-60, pixels: 60}\n", long("E", n))
		}
		b.WriteString("cables:\n")
		for n := 1; n <= 30; n++ {
			fmt.Fprintf(&b, "  %s: {part: cable/flex-2x1.5, length: 1 m, from: %s.%d, to: %s@start}\n", long("W", n), long("A", 1+n%3), 1+(n-1)/3, long("E", n))
		}
		b.WriteString("data:\n")
		for n := 1; n <= 24; n++ {
			fmt.Fprintf(&b, "  %s: {part: cable/data-3x0.5, length: 1 m, from: %s.P%d, to: %s, power: true}\n", long("D", n), long("A", 1+n%3), 1+(n-1)/3, long("E", n))
		}
		if drawn {
			b.WriteString("drawing:\n")
			for n := 1; n <= 30; n++ {
				fmt.Fprintf(&b, "  %s: [[0, %d], [1, %d]]\n", long("E", n), n, n)
			}
		}
		st := unlaid(t, "long names", b.String())
		keys := 0
		for _, page := range planned(st, a4) {
			for _, complaint := range pagetest.Complaints(page.Scene) {
				t.Errorf("drawn %v, %s: %s", drawn, page.Name, complaint)
			}
			if page.Scene.Title == "Key to the plan" {
				keys++
			}
			for _, l := range page.Scene.Layers {
				for _, text := range l.Texts {
					if math.IsNaN(text.At.X+text.At.Y) || math.IsInf(text.At.X+text.At.Y, 0) {
						t.Fatalf("drawn %v, %s: %q stands nowhere", drawn, page.Name, text.Words)
					}
				}
			}
		}
		if keys == 0 {
			t.Errorf("drawn %v: the key has no sheet of its own", drawn)
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
		page := planned(unlaid(t, "a row of dots", b.String()), a3)[0]
		if off := grazing(page.Scene, "cables"); page.Scene.Scale != 10 || off < 1.5 || math.IsInf(off, 0) {
			t.Errorf("to 1:%v, the cable comes to %.2f mm from the middle of a dot that it does not join", page.Scene.Scale, off)
		}
		for _, c := range pagetest.Complaints(page.Scene) {
			t.Error(c)
		}
	}
}

// A face whose cell is cut for want of room says so; one whose cells are whole does not.
func TestFacesSayWhatTheyCut(t *testing.T) {
	for _, times := range []int{4, 1000} {
		text := strings.Replace(bent, "from: A1.1, to: E1@start", `from: A1.1, to: E1@start, label: "`+strings.Repeat("feed ", times)+`"`, 1)
		pages := sheet.Binding(unsolved(t, "long", []byte(text)).Scheme).Bind(sheet.Face(unsolved(t, "long", []byte(text)), "A1", a4))
		if cut := strings.Contains(noted(pages[0]), "A cell that ends in … has more words than a page has room for"); cut != (times > 100) {
			t.Errorf("a label of %d words: it says that it is cut: %v", times, cut)
		}
		for _, page := range pages {
			for _, c := range pagetest.Complaints(page.Scene) {
				t.Error(c)
			}
		}
	}
}
