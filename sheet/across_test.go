package sheet_test

import (
	"farend/internal/pagetest"
	"farend/internal/schemetest"
	"farend/internal/sheettest"
	"farend/layout"
	"farend/sheet/drafting"
	"farend/sheet/plan"
	"farend/sheet/runsheet"
	"farend/sheet/wiring"
	"strings"
	"testing"
)

const altered = "../examples/library-atrium-altered.scheme.yaml"

// A data lead that carries the supply past the fuses, and a bridged way, are said in words on every page that shows them.
func TestSupplyPastTheFusesIsSaid(t *testing.T) {
	st := schemetest.UnsolvedFile(t, altered)
	bind := drafting.Binding(st.Scheme).Bind
	for page, c := range map[string]struct{ words, want string }{
		"single line": {sheettest.Said(bind(wiring.SingleLine(st, sheettest.A3))...), "D9 carries the supply past the fuses, to E9; bridged, with no fuse: A2.4"},
		"at the run":  {sheettest.Said(bind(wiring.SingleLine(st, sheettest.A3))...), "D9 7 m from A2.P7: carries the supply past the fuses"},
		"way":         {sheettest.Said(bind(wiring.SingleLine(st, sheettest.A3))...), "no fuse: bridged"},
		"face":        {sheettest.Said(bind(wiring.Face(st, "A2", sheettest.A3))...), "D9 carries the supply past the fuses, to E9; bridged, with no fuse: A2.4"},
		"plan":        {sheettest.Said(bind(plan.Pages(st, sheettest.A3))[:1]...), "D9: supply past the fuses"},
		"key":         {sheettest.Said(bind(plan.Pages(st, sheettest.A3))[:1]...), "D9 carries the supply past the fuses, in the spare cores of a data lead. Bridged, with no fuse: A2.4 (W14)."},
		"run sheet":   {sheettest.Said(bind(runsheet.Pages(st, "E9", sheettest.A3))...), "from A2.P7; carries the supply past the fuses"},
		"tape":        {sheettest.Said(bind(runsheet.Pages(st, "E9", sheettest.A3))...), "ground joined carries the supply past the fuses"},
	} {
		if !strings.Contains(c.words, c.want) {
			t.Errorf("%s does not say %q", page, c.want)
		}
	}
	if other := sheettest.Said(bind(runsheet.Pages(st, "E10", sheettest.A3))...); strings.Contains(other, "past the fuses") {
		t.Error("E10 has no lead past the fuses")
	}
}

// bent is a run of 4 m that turns left by 90° after 1 m and right by 45° after 3 m, with 60 pixels a metre: at pixels 60 and 180. The board
// stands 0.5 m to the left of and 0.8 m under its data-in end, the supply 1 m and 1.2 m.
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

// A run sheet lists the bends of its run and says how the plan counts; the plan has the pieces, the origin, and how far off board and supply are.
func TestBendsAndOriginAreSaid(t *testing.T) {
	st := schemetest.Unsolved(t, "bent.scheme.yaml", bent)
	words := sheettest.Said(drafting.Binding(st.Scheme).Bind(runsheet.Pages(st, "E1", sheettest.A3))...)
	for _, want := range []string{"1000 mm px 60 bend, 90° to the left", "3000 mm px 180 bend, 45° to the right", "On the plan, x to the right and y up, its data-in end is at x 0 m, y 0 m"} {
		if !strings.Contains(words, want) {
			t.Errorf("the sheet does not say %q", want)
		}
	}
	counts := map[string]int{}
	for _, text := range pagetest.Words(drafting.Binding(st.Scheme).Bind(plan.Pages(st, sheettest.A3))[0].Scene) {
		counts[strings.ReplaceAll(text, layout.Thin, " ")]++
	}
	for want, times := range map[string]int{"1 000": 3, "2 000": 1, "500": 1, "800": 1, "1 200": 1, "x 0, y 0": 1, "px 0": 1, "end · 4.00 m": 1, "end": 0} {
		if n := counts[want]; n != times {
			t.Errorf("the plan says %q %d times, not %d: %v", want, n, times, counts)
		}
	}
	far := strings.NewReplacer("[[0, 0], [1, 0], [1, 2], [1.70710678, 2.70710678]]", "[[5, 5], [9, 5]]", "[-0.5, -0.8]", "[6, 4]", "[-1, -1.2]", "[6, 3]").Replace(bent)
	if words := sheettest.Said(drafting.Binding(st.Scheme).Bind(plan.Pages(schemetest.Unsolved(t, "far.scheme.yaml", far), sheettest.A3))...); !strings.Contains(words, "The origin is not on this sheet; data-in of E1 is at x 5 m, y 5 m.") {
		t.Error("the plan does not say where its origin is")
	}
}

// Ways of a board with a long name can be told from each other, and a page says which of its texts our fonts cannot set.
func TestLongNamesAndStrangeCharacters(t *testing.T) {
	text := strings.NewReplacer("A1", "A_long_name_of_a_board", "pixels: 240", "pixels: 240, label: 西 side", "fuses: {A1.1: fuse/blade-3A}", "fuses: {A1.1: fuse/blade-3A, A1.12: fuse/blade-3A}").Replace(bent)
	text = strings.ReplaceAll(text, "A1.", "A_long_name_of_a_board.")
	st := schemetest.Unsolved(t, "long.scheme.yaml", text)
	ways := map[string]bool{}
	pages := drafting.Binding(st.Scheme).Bind(wiring.SingleLine(st, sheettest.A3))
	for _, words := range pagetest.Words(pages[0].Scene) {
		if strings.HasSuffix(words, "7.5\u202fA") && strings.Contains(words, "…") {
			ways[words] = true
		}
	}
	if len(ways) != 12 {
		t.Errorf("%d ways can be told from each other: %v", len(ways), ways)
	}
	if words := sheettest.Noted(pages[0]); !strings.Contains(words, "These fonts lack characters of “E1 ? side”, which may stand as boxes: U+897F.") {
		t.Errorf("it does not say what the fonts lack: %s", words)
	}
	if words := sheettest.Noted(drafting.Binding(st.Scheme).Bind(plan.Pages(schemetest.Unsolved(t, "bent.scheme.yaml", bent), sheettest.A3))[0]); !strings.Contains(words, "Places, lines and routes") || strings.Contains(words, "fonts") {
		t.Error("a page without such characters speaks of fonts")
	}
}

// The copper of a cable is told in the same words on every sheet: what is laid, and what of it is used.
func TestCopperIsToldInOneWay(t *testing.T) {
	st := schemetest.Unsolved(t, "copper", `farend: 1
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
`)
	bind := drafting.Binding(st.Scheme).Bind
	for page, words := range map[string]string{
		"single line": sheettest.Said(bind(wiring.SingleLine(st, sheettest.A3))...),
		"face":        sheettest.Said(bind(wiring.Face(st, "A1", sheettest.A3))...),
		"run sheet":   sheettest.Said(bind(runsheet.Pages(st, "E1", sheettest.A3))...),
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
	st := schemetest.Unsolved(t, "returns", `farend: 1
supplies: {T1: {part: supply/5v-300w}}
boards: {A1: {part: board/four-way-two-port}}
runs: {E1: {tape: tape/5v-rgb-60, pixels: 240}}
cables:
  W1: {part: cable/flex-2x4, length: 1 m, from: T1, to: A1.in}
  W2: {part: cable/flex-2x4, length: 1 m, from: A1.1, to: E1@start, pole: plus}
  W3: {part: cable/flex-2x4, length: 1 m, from: A1.2, to: E1@start, pole: return}
`)
	bind := drafting.Binding(st.Scheme).Bind
	for page, c := range map[string]struct {
		words string
		ways  int
	}{
		"single line": {sheettest.Said(bind(wiring.SingleLine(st, sheettest.A3))...), 1},
		"face":        {sheettest.Said(bind(wiring.Face(st, "A1", sheettest.A3))...), 1},
		"plan":        {sheettest.Said(bind(plan.Pages(st, sheettest.A3))...), 0},
	} {
		if !strings.Contains(strings.ToLower(c.words), "bridged, with no fuse: a1.1") || strings.Contains(c.words, "A1.1, A1.2") || strings.Contains(c.words, "A1.1 (W2), A1.2") {
			t.Errorf("%s does not say that A1.1 alone is bridged", page)
		}
		if strings.Count(c.words, "no fuse: bridged") != c.ways || strings.Count(c.words, "no fuse: − alone") != c.ways {
			t.Errorf("%s does not tell both ways apart", page)
		}
	}
}

// A face whose cell is cut for want of room says so; one whose cells are whole does not.
func TestFacesSayWhatTheyCut(t *testing.T) {
	for _, times := range []int{4, 1000} {
		text := strings.Replace(bent, "from: A1.1, to: E1@start", `from: A1.1, to: E1@start, label: "`+strings.Repeat("feed ", times)+`"`, 1)
		pages := drafting.Binding(schemetest.Unsolved(t, "long", text).Scheme).Bind(wiring.Face(schemetest.Unsolved(t, "long", text), "A1", sheettest.A4))
		if cut := strings.Contains(sheettest.Noted(pages[0]), "What ends in … is whole in the scheme."); cut != (times > 100) {
			t.Errorf("a label of %d words: it says that it is cut: %v", times, cut)
		}
		for _, page := range pages {
			for _, c := range pagetest.Complaints(page.Scene) {
				t.Error(c)
			}
		}
	}
}
