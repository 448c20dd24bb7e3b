package layout_test

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"farend/draw"
	"farend/internal/pagetest"
	"farend/layout"
)

// Lines leave no letter out, are no longer than they may be, and break long words behind signs where there are some.
func TestLinesLeaveNothingOut(t *testing.T) {
	like := draw.Text{Size: 8}
	r := rand.New(rand.NewSource(3))
	letters := []rune("abc W3@px:/-é日本مرحبا  ")
	for range 500 {
		var words []rune
		for range 1 + r.Intn(60) {
			words = append(words, letters[r.Intn(len(letters))])
		}
		width := 3 + 30*r.Float64()
		lines := layout.Lines(like, string(words), width)
		for _, line := range lines {
			if wide := layout.Wide(like, line); wide > width+1e-9 && len([]rune(line)) > 1 {
				t.Errorf("%q is %v mm long, may be %v", line, wide, width)
			}
		}
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(string(words), " ", ""); got != want {
			t.Errorf("%q became %q", want, got)
		}
	}
	if got := layout.Lines(like, "protection/cable-current:W3", 20); !slices.Equal(got, []string{"protection/", "cable-current:", "W3"}) {
		t.Errorf("broken as %q", got)
	}
	if got := layout.Lines(like, strings.Repeat("e\u0301", 40), 10); strings.HasPrefix(got[1], "\u0301") {
		t.Errorf("an accent was taken from its letter: %q", got)
	}
}

func TestNumbersKeepTheirUnits(t *testing.T) {
	for text, want := range map[string]string{
		"W3 carries 11.4 A; 1.50 mm² may carry 9.8 A.": "W3 carries 11.4_A; 1.50_mm² may carry 9.8_A.",
		"at −10.0 °C (35 mΩ/m)":                        "at −10.0_°C (35_mΩ/m)",
		"A1.1 A of 2 s, in 3 states":                   "A1.1 A of 2_s, in 3 states",
		"opens in 3. V is":                             "opens in 3. V is",
		"":                                             "",
	} {
		if got := strings.ReplaceAll(layout.Sentence(text), layout.Thin, "_"); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// In formulas what follows the line of a sign is low; keys of parts stay as they are. Pieces follow each other without a gap.
func TestFormulasAreSet(t *testing.T) {
	const formula = "I_max = k_g1 · I_30² with rail_amps, t_ and _x"
	texts := layout.Formula(draw.Text{Size: 10}, formula)
	var words []string
	x := 0.0
	for i, text := range texts {
		words = append(words, text.Words)
		if i > 0 && (text.At.X < x-1e-9 || text.At.X > x+1e-9) {
			t.Errorf("%q stands at %v, want %v", text.Words, text.At.X, x)
		}
		x = text.At.X + text.Width()
		if low := text.At.Y > 0; low != (text.Size < 10) || text.Size < draw.Smallest {
			t.Errorf("%q has %v points at %v", text.Words, text.Size, text.At.Y)
		}
	}
	if want := []string{"I", "max", " = k", "g1", " · I", "30", "² with rail_amps, t_ and _x"}; !slices.Equal(words, want) {
		t.Errorf("pieces %q, want %q", words, want)
	}
	if wide := layout.WideFormula(draw.Text{Size: 10}, formula); wide < x-1e-9 || wide > x+1e-9 {
		t.Errorf("%v mm wide, want %v", wide, x)
	}
}

// leaves lays blocks out on A4.
func leaves(blocks ...layout.Block) ([]layout.Leaf, map[string]string) {
	flow := layout.Flow{Blocks: blocks}
	return flow.Leaves(layout.Leaf{Name: "page", Outline: "Page", Title: "What?", Paper: layout.A4})
}

// clean reports what is wrong with the looks of leaves.
func clean(t *testing.T, what string, list []layout.Leaf) {
	t.Helper()
	for _, page := range (layout.Binding{Scheme: "x"}).Bind(list) {
		for _, complaint := range pagetest.Complaints(page.Scene) {
			t.Errorf("%s, %s: %s", what, page.Name, complaint)
		}
	}
}

func words(l layout.Leaf) (list []string) {
	for _, text := range l.Layers[len(l.Layers)-1].Texts {
		list = append(list, text.Words)
	}
	return list
}

// A table goes on over pages under the same heads; every row is whole, and numbers stand to the right with their units beneath each other.
func TestTablesGoOnOverPages(t *testing.T) {
	table := layout.Table{Columns: []layout.Column{{Head: "name"}, {Head: "current", Number: true}, {Head: "words", Share: 1}, {Head: "never", Spare: true}}}
	for i := range 120 {
		table.Rows = append(table.Rows, []layout.Said{{Words: fmt.Sprintf("W%d", i), Anchor: fmt.Sprintf("W%d", i), To: []string{"page.2"}}, {Words: fmt.Sprintf("%d\u202fA", i*i)}, {Words: "these words take more than one line, for they go on and on and say nothing at all but that, which is as much as is needed for two lines of them"}, {Words: "–"}})
	}
	list, at := leaves(layout.Para{Words: "Before", Keep: true}, table)
	clean(t, "table", list)
	if len(list) < 3 || list[0].Name != "page" || list[1].Name != "page.2" || list[1].Outline != "" {
		t.Fatalf("%d leaves, the second %q", len(list), list[min(1, len(list)-1)].Name)
	}
	row := 0
	for _, leaf := range list {
		said := words(leaf)
		if n := count(said, "current"); n != 1 || count(said, "never") != 0 {
			t.Errorf("%s has %d heads", leaf.Name, n)
		}
		right, left := map[float64]bool{}, map[float64]bool{}
		for _, text := range leaf.Layers[0].Texts {
			if strings.HasPrefix(text.Words, "W") {
				if want := fmt.Sprintf("W%d", row); text.Words != want || at[want] != leaf.Name {
					t.Fatalf("%s stands on %s, found on %s, want %s", text.Words, leaf.Name, at[text.Words], want)
				}
				row++
			}
			if text.Words == "A" {
				left[text.At.X] = true
			} else if text.Anchor == draw.End && text.Words != "current" {
				right[text.At.X] = true
			}
		}
		if len(right) != 1 || len(left) != 1 {
			t.Errorf("%s: numbers end at %v, units begin at %v", leaf.Name, right, left)
		}
		if len(leaf.Links) == 0 {
			t.Errorf("%s has no links", leaf.Name)
		}
	}
	if row != 120 {
		t.Errorf("%d rows of 120", row)
	}
	if again, _ := leaves(layout.Para{Words: "Before", Keep: true}, table); !reflect.DeepEqual(again, list) {
		t.Error("laid out again it differs")
	}
}

func count(list []string, word string) (n int) {
	for _, w := range list {
		if w == word {
			n++
		}
	}
	return n
}

// Tables of any words fit the page: no letter is left out, nothing covers anything, whatever the columns are.
func TestAnyTableFits(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	for n := range 40 {
		table, want := odd(r)
		list, _ := leaves(table)
		clean(t, fmt.Sprintf("table %d", n), list)
		got := map[rune]int{}
		for i, leaf := range list {
			field := leaf.Paper.Field()
			for _, text := range leaf.Layers[0].Texts {
				if box := text.Box(); box.Min.X < field.Min.X-0.5 || box.Max.X > field.Max.X+0.5 {
					t.Errorf("table %d: %q leaves the field on page %d", n, text.Words, i)
				}
				for _, letter := range text.Words {
					got[letter]++
				}
			}
		}
		for letter := 'a'; letter <= 'z'; letter++ {
			if got[letter] != want[letter] {
				t.Errorf("table %d: %d of %c, want %d", n, got[letter], letter, want[letter])
			}
		}
	}
}

// odd is a table of any shape, with how often each small letter is in it. Its heads have none.
func odd(r *rand.Rand) (table layout.Table, letters map[rune]int) {
	table.Together = r.Intn(4) == 0
	for i := range 1 + r.Intn(8) {
		table.Columns = append(table.Columns, layout.Column{Head: fmt.Sprintf("H %d", i), Number: r.Intn(4) == 0, Share: float64(r.Intn(3))})
	}
	letters = map[rune]int{}
	for range r.Intn(30) {
		row := make([]layout.Said, len(table.Columns))
		for i, c := range table.Columns {
			row[i].Words = fmt.Sprintf("%d.%d\u202fmm", r.Intn(1000), r.Intn(10))
			if !c.Number {
				row[i].Words = prose(r)
			}
			for _, letter := range row[i].Words {
				letters[letter]++
			}
		}
		table.Rows = append(table.Rows, row)
	}
	return table, letters
}

// prose is words of any lengths, now and then one that no page has room for.
func prose(r *rand.Rand) (text string) {
	for range r.Intn(40) * r.Intn(2) {
		text += strings.Repeat(string(rune('a'+r.Intn(26))), 1+r.Intn(12)) + " "
	}
	if r.Intn(30) == 0 {
		text += strings.Repeat("longword", 200)
	}
	return text
}

// What is kept with what follows is not left behind alone, and one that is taller than a page goes on over several.
func TestHeadingsStayWithWhatFollows(t *testing.T) {
	var blocks []layout.Block
	for i := range 60 {
		blocks = append(blocks, layout.Para{Words: fmt.Sprintf("Heading %d", i), Size: 12, Above: 5, Keep: true}, layout.Para{Words: strings.Repeat("word ", 20+i*3)})
	}
	list, _ := leaves(blocks...)
	clean(t, "paragraphs", list)
	for _, leaf := range list {
		if said := words(leaf); strings.HasPrefix(said[len(said)-1], "Heading") {
			t.Errorf("%s ends with a heading", leaf.Name)
		}
	}
	list, _ = leaves(layout.Para{Words: strings.Repeat("word ", 5000), Keep: true}, layout.Para{Words: "End"})
	clean(t, "a long paragraph", list)
	if n := len(list); n < 3 {
		t.Errorf("%d pages", n)
	}
	list, _ = leaves()
	if len(list) != 1 {
		t.Errorf("of nothing %d pages are made", len(list))
	}
}

// Columns beside each other are as tall as the taller, and those without a width share what is left.
func TestColumnsStandBesideEachOther(t *testing.T) {
	side := layout.Side{Gap: 4, Columns: []layout.SideColumn{{Blocks: []layout.Block{layout.Para{Words: strings.Repeat("left ", 80)}}}, {Width: 40, Blocks: []layout.Block{layout.Para{Words: "right"}, layout.Para{Words: "below", Above: 2}}}}}
	list, _ := leaves(side, layout.Para{Words: "under"})
	clean(t, "columns", list)
	places := map[string]draw.Point{}
	for _, text := range list[0].Layers[0].Texts {
		places[text.Words] = text.At
	}
	field := layout.A4.Field()
	if at := places["right"]; at.X != field.Max.X-40 || places["below"].Y <= at.Y || places["under"].Y <= places["below"].Y {
		t.Errorf("places %v", places)
	}
}

func TestLinksThatLeadNowhereAreTakenOut(t *testing.T) {
	box := draw.Box{Max: draw.Point{X: 1, Y: 1}}
	list := layout.Linked([]layout.Leaf{
		{Name: "a", Links: []draw.Link{{Box: box, To: "gone"}, {Box: box, To: "b"}, {Box: box, To: "a"}, {Box: box.Move(1, 0), To: "gone"}}},
		{Name: "b"},
	})
	if want := []draw.Link{{Box: box, To: "b"}}; !reflect.DeepEqual(list[0].Links, want) {
		t.Errorf("%v, want %v", list[0].Links, want)
	}
}

// boxed is a table of some things with a box each, under a common head.
func boxed(things int, word string) layout.Table {
	t := layout.Table{Size: 7, Gap: 1.6, Least: 6, Twice: true, Columns: []layout.Column{{Head: "Thing"}, {Head: "Volts", Over: "open", Number: true}, {Head: "Measured", Over: "open", Box: 15}, {Head: "Done", Box: 5.5, Spare: true}}}
	for i := range things {
		t.Rows = append(t.Rows, []layout.Said{{Words: fmt.Sprint(word, i)}, {Words: "4.89" + layout.Thin + "V"}, {Box: true}, {}})
	}
	return t
}

// Boxes are as wide as they are to be and stand in their row; what is common to heads stands over them once; two rows stand side by side, read
// across, where there is room for that; a column in which no row has a box is left out.
func TestBoxesInTables(t *testing.T) {
	for word, abreast := range map[string]int{"W": 2, strings.Repeat("long ", 16): 1} {
		f := layout.Flow{}
		f.Add(boxed(7, word))
		leaves, _ := f.Leaves(layout.Leaf{Name: "x", Paper: layout.A4})
		over, heights := 0, map[float64]int{}
		for _, text := range leaves[0].Layers[0].Texts {
			if text.Words == "open" {
				over++
			}
			if text.Words == "Done" {
				t.Error("a column without a box is there")
			}
		}
		for _, p := range leaves[0].Layers[0].Paths {
			if len(p.Steps) < 4 {
				continue
			}
			from, to := p.Steps[0].To, p.Steps[2].To
			if math.Abs(to.X-from.X-15) > 1e-9 || to.Y-from.Y < 5.5-1e-9 || to.Y-from.Y > 6 {
				t.Errorf("a box from %+v to %+v", from, to)
			}
			heights[from.Y]++
		}
		if rows := (7 + abreast - 1) / abreast; over != abreast || len(heights) != rows {
			t.Errorf("%q: %d rows of boxes, %d heads over heads", word, len(heights), over)
		}
		for _, page := range (layout.Binding{}).Bind(leaves) {
			for _, c := range pagetest.Complaints(page.Scene) {
				t.Error(c)
			}
		}
	}
}

// A head has no more than three lines, in a column of words and of numbers, whatever stands below it.
func TestHeadsAreNotTall(t *testing.T) {
	for _, heads := range [][]string{{"runs, in the order of data"}, {"a b c d e f g h i j k l m", "the lengths of all of the cables that are laid"}, {"one", "of three words", "no more than is said of it"}} {
		table := layout.Table{}
		var row []string
		for i := range 7 {
			table.Columns = append(table.Columns, layout.Column{Head: heads[i%len(heads)], Number: i%3 == 1, Share: float64(i % 3)})
			row = append(row, []string{"E1", "1\u202fA", "words that take all the room that there is, and more"}[i%3])
		}
		table.Rows = [][]layout.Said{layout.Plain(row...)}
		list, _ := leaves(table)
		clean(t, "heads", list)
		lines := map[float64]bool{}
		for _, text := range list[0].Layers[0].Texts {
			if text.Tone == draw.Graphite {
				lines[text.At.Y] = true
			}
		}
		if len(lines) == 0 || len(lines) > 3 {
			t.Errorf("%q: %d lines", heads, len(lines))
		}
	}
}

// What tells files apart is kept in the title block: a name that is too long loses its ending first, and only then its middle.
func TestNamesOfFilesLoseTheirEndingFirst(t *testing.T) {
	for file, want := range map[string]string{
		"short.scheme.yaml":                                       "short.scheme.yaml",
		"library-atrium-altered.scheme.yaml":                      "library-atrium-altered",
		"a-name-that-is-longer-than-its-cell-even-so.scheme.yaml": "…",
		"a-name-that-is-longer-than-its-cell-even-so.yaml":        "…",
	} {
		list, _ := leaves(layout.Para{Words: "x"})
		var found bool
		for _, l := range (layout.Binding{File: file}).Bind(list)[0].Scene.Layers {
			for _, text := range l.Texts {
				found = found || text.Words == want || want == "…" && strings.HasPrefix(text.Words, "a-name") && strings.Contains(text.Words, "…") && !strings.HasSuffix(text.Words, ".scheme.yaml")
			}
		}
		if !found {
			t.Errorf("%s does not stand as %s", file, want)
		}
	}
}
