package commission

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/unit"
)

// Pages are a procedure on paper, with room to write down what was measured: leaves commissioning, commissioning-2 and so on. Section sets
// cross-sections as the set of pages does; in mm² where it is nil.
func Pages(p Procedure, paper layout.Paper, section func(unit.SquareMetre) string) []layout.Leaf {
	if section == nil {
		section = func(v unit.SquareMetre) string { return layout.Nominal(v) }
	}
	f := &form{width: paper.Field().Width(), section: section}
	f.columns()
	var flow layout.Flow
	for i, g := range p.Stages {
		flow.Add(stageHead(i, g)...)
		flow.Add(table{f, i, g})
	}
	for _, who := range []string{"Licensed electrician, for the mains side", "Measured by"} {
		flow.Add(signature(who))
	}
	return p.bound(paper, &flow)
}

// A form is how the tables of steps are laid out.
type form struct {
	width   float64
	section func(unit.SquareMetre) string
	at      [7]float64 // where columns begin
	wide    [7]float64 // how wide they are
}

// The columns, in order.
const (
	colNumber = iota
	colDo
	colBetween
	colExpected
	colMeasured
	colDone
	colBy
)

var columnHeads = [7]string{"No.", "Do", "Between", "Expected, band", "Measured", "OK", "By"}

// The measures, in millimetres.
const (
	columnGap  = 2
	rowPadding = 0.8
	boxHeight  = 6.2
	ascent     = 0.3 * 9 // from the top of a line to its baseline, of 8 points
	stageGap   = 4
)

// columns divides the width of the field: what is said to do has what the others leave.
func (f *form) columns() {
	f.wide = [7]float64{10.5, 0, 28, 48, 21, 6, 8}
	rest := f.width
	for _, w := range f.wide {
		rest -= w
	}
	f.wide[colDo] = rest - columnGap*float64(len(f.wide)-1)
	x := 0.0
	for i, w := range f.wide {
		f.at[i] = x
		x += w + columnGap
	}
}

// The kinds of text on these pages.
var (
	plain   = draw.Text{Size: 8, Tone: draw.Ink}
	strong  = draw.Text{Size: 8, Face: draw.SemiBold, Tone: draw.Ink}
	small   = draw.Text{Size: draw.Smallest, Tone: draw.Graphite}
	heading = draw.Text{Size: 12, Face: draw.SemiBold, Tone: draw.Ink}
	rowPen  = draw.Pen{Tone: draw.Rule, Width: draw.Hair}
	boxPen  = draw.Pen{Tone: draw.Graphite, Width: draw.Hair}
	headPen = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
)

// signs are poles, which stay with the word before them.
var signs = regexp.MustCompile(`(\pL|\d) ([+−])(\s|[;:,.]|$)`)

// set is a text as it stands on paper.
func set(text string) string {
	text = strings.ReplaceAll(layout.Sentence(text), " Nm", layout.Thin+"Nm")
	return signs.ReplaceAllString(text, "$1"+layout.Thin+"$2$3")
}

// A line is a line of a cell.
type line struct {
	like  draw.Text
	words string
}

// lines breaks words into lines.
func lines(like draw.Text, words string, width float64) (list []line) {
	for _, w := range layout.Lines(like, set(words), width) {
		list = append(list, line{like, w})
	}
	return list
}

// height is that of a cell.
func height(list []line) (sum float64) {
	for _, l := range list {
		sum += layout.Pitch(l.like.Size)
	}
	return sum
}

// put draws a cell from its top left corner down.
func put(layer *draw.Layer, at draw.Point, list []line) {
	for _, l := range list {
		l.like.Words = l.words
		l.like.At = draw.Point{X: at.X, Y: at.Y + ascent*l.like.Size/8}
		layer.Texts = append(layer.Texts, l.like)
		at.Y += layout.Pitch(l.like.Size)
	}
}

// mostLines is how many lines a strip has: names and reasons may be of any length, pages are not.
const mostLines = 24

// chunk is the k-th piece of the lines of a cell.
func chunk(list []line, k int) []line {
	return list[min(k*mostLines, len(list)):min((k+1)*mostLines, len(list))]
}

// stageHead is what stands over the steps of a stage.
func stageHead(n int, g Stage) (blocks []layout.Block) {
	add := func(words string, like draw.Text, above float64) {
		blocks = append(blocks, layout.Para{Words: set(words), Size: like.Size, Face: like.Face, Tone: like.Tone, Above: above, Keep: true})
	}
	blocks = append(blocks, layout.Para{Words: fmt.Sprintf("%d  %s", n, g.Name), Size: heading.Size, Face: heading.Face, Above: stageGap, Keep: true, Anchor: anchor(n)})
	add(g.Why, plain, 0.6)
	if g.Stop != "" {
		add("Stop: "+g.Stop, strong, 0.6)
	}
	for _, note := range g.Notes {
		add(note, plain, 0.6)
	}
	for i, rests := range g.rests() {
		add(fmt.Sprintf("%c  Rests on: %s.", 'a'+i, rests), small, 0.4)
	}
	return blocks
}

// anchor is the name of the place where a stage begins.
func anchor(n int) string { return fmt.Sprintf("stage-%d", n) }

// rests lists on what the bands of a stage rest, each once.
func (g Stage) rests() (list []string) {
	for _, s := range g.Steps {
		if s.Rests != "" && !slices.Contains(list, s.Rests) {
			list = append(list, s.Rests)
		}
	}
	return list
}

// A table is the steps of a stage.
type table struct {
	*form
	n int
	Stage
}

// Strips are the heads, a line for each state, and the steps; heads and state are repeated on every page.
func (t table) Strips(_, _ float64) []layout.Strip {
	head := t.head()
	strips, state, rests := []layout.Strip{head}, "", t.rests()
	for i, s := range t.Steps {
		group := t.group(s.State)
		if s.State != state {
			group.Again = []layout.Strip{head}
			strips = append(strips, group)
			state = s.State
		}
		letter := ""
		if s.Rests != "" {
			letter = string(rune('a' + slices.Index(rests, s.Rests)))
		}
		for _, row := range t.row(i+1, s, letter) {
			row.Again = []layout.Strip{head, group}
			strips = append(strips, row)
		}
	}
	return strips
}

// head is the heads of the columns.
func (f *form) head() layout.Strip {
	tall := layout.Pitch(draw.Smallest) + rowPadding
	return layout.Strip{Height: tall + 1.2, Keep: true, Draw: func(on *layout.Drawn, at draw.Point) {
		layer := &on.Layer
		for i, words := range columnHeads {
			put(layer, draw.Point{X: at.X + f.at[i], Y: at.Y + 1.2}, []line{{small, words}})
		}
		layer.Paths = append(layer.Paths, draw.Line(headPen, draw.Point{X: at.X, Y: at.Y + tall + 1.2}, draw.Point{X: at.X + f.width, Y: at.Y + tall + 1.2}))
	}}
}

// group is the state in which the rows below it are done.
func (f *form) group(state string) layout.Strip {
	list := lines(strong, "State: "+state, f.width-2)
	list = list[:min(len(list), mostLines)]
	tall := height(list) + 2*rowPadding
	return layout.Strip{Height: tall, Keep: true, Draw: func(on *layout.Drawn, at draw.Point) {
		layer := &on.Layer
		box := draw.Box{Min: at, Max: draw.Point{X: at.X + f.width, Y: at.Y + tall}}
		layer.Paths = append(layer.Paths, draw.Area(draw.Shade, draw.Pen{}, box.Corners()...))
		put(layer, draw.Point{X: at.X + 1, Y: at.Y + rowPadding}, list)
	}}
}

// row is one step: several strips where it has very many lines.
func (t table) row(k int, s Step, letter string) (rows []layout.Strip) {
	f := t.form
	do := s.Do
	if s.Section > 0 {
		do += " (" + f.section(s.Section) + ")"
	}
	cells := [4][]line{colNumber: {{plain, fmt.Sprintf("%d.%d", t.n, k)}}, colDo: lines(plain, do, f.doWidth(s))}
	if s.Stop != "" {
		cells[colDo] = append(cells[colDo], lines(small, "Stop: "+s.Stop, f.doWidth(s))...)
	}
	for _, point := range s.Between {
		if point != "" {
			cells[colBetween] = append(cells[colBetween], lines(plain, joined(point), f.wide[colBetween])...)
		}
	}
	cells[colExpected] = f.expected(s, letter)
	most := 0
	for _, c := range cells {
		most = max(most, len(c))
	}
	for part := 0; part*mostLines < most; part++ {
		var piece [4][]line
		for i, c := range cells {
			piece[i] = chunk(c, part)
		}
		rows = append(rows, f.rowPiece(piece, part == 0, s.Reading != nil || s.Between != [2]string{}))
	}
	return rows
}

// rowPiece is lines of a row, its first with the boxes.
func (f *form) rowPiece(cells [4][]line, first, measured bool) layout.Strip {
	tall := boxHeight
	for _, c := range cells {
		tall = max(tall, height(c))
	}
	tall += 2 * rowPadding
	return layout.Strip{Height: tall, Draw: func(on *layout.Drawn, at draw.Point) {
		layer := &on.Layer
		for i, c := range cells {
			put(layer, draw.Point{X: at.X + f.at[i], Y: at.Y + rowPadding}, c)
		}
		for i := colMeasured; i <= colBy && first; i++ {
			if i == colMeasured && !measured {
				continue
			}
			box := draw.Box{Min: draw.Point{X: at.X + f.at[i], Y: at.Y + rowPadding}}
			box.Max = draw.Point{X: box.Min.X + f.wide[i], Y: box.Min.Y + boxHeight}
			layer.Paths = append(layer.Paths, draw.Area(draw.None, boxPen, box.Corners()...))
		}
		layer.Paths = append(layer.Paths, draw.Line(rowPen, draw.Point{X: at.X, Y: at.Y + tall}, draw.Point{X: at.X + f.width, Y: at.Y + tall}))
	}}
}

// doWidth is the width of what is said to do: as far as the boxes where nothing else is said.
func (f *form) doWidth(s Step) float64 {
	switch {
	case s.Between != [2]string{}:
		return f.wide[colDo]
	case s.Reading != nil || s.Expect != "":
		return f.at[colExpected] - columnGap - f.at[colDo]
	}
	return f.at[colDone] - columnGap - f.at[colDo]
}

// joined keeps a pole with its place: "E1@px29 +".
func joined(point string) string {
	for _, sign := range []string{" +", " −"} {
		if at, is := strings.CutSuffix(point, sign); is {
			return at + layout.Thin + sign[1:]
		}
	}
	return point
}

// expected is the cell of the value, its band, what a bad joint does, and words.
func (f *form) expected(s Step, letter string) (cell []line) {
	width := f.wide[colExpected]
	if s.Reading != nil {
		if value := s.Reading.Value(); value != "" {
			cell = append(cell, lines(strong, value, width)...)
		}
		band := s.Reading.Band()
		if letter != "" {
			band += " (" + letter + ")"
		}
		cell = append(cell, lines(plain, band, width)...)
	}
	if s.Expect != "" {
		like := small
		if s.Reading == nil {
			like = plain
		}
		cell = append(cell, lines(like, s.Expect, width)...)
	}
	if j := s.Joint; j != nil {
		shift := layout.Unbroken(s.Reading.text(j.Shift))
		switch {
		case math.Abs(j.Shift) < least:
			shift = "no shift"
		case j.Shift > 0:
			shift = "+" + shift
		}
		cell = append(cell, lines(small, fmt.Sprintf("%s joint: %s, %s", short(j.Ohms.String()), shift, j.Seen), width)...)
	}
	return cell
}

// signature is a line to sign on.
func signature(who string) layout.Block {
	const tall, rule = 17, 12
	return layout.Figure{Height: tall, Draw: func(on *layout.Drawn, at draw.Point, width float64) {
		put(&on.Layer, draw.Point{X: at.X, Y: at.Y + 2.5}, []line{{strong, who}})
		for _, field := range []struct {
			words string
			share float64
		}{{"name, licence", 0.4}, {"signature", 0.4}, {"date", 0.2}} {
			long := field.share * width
			on.Layer.Paths = append(on.Layer.Paths, draw.Line(boxPen, draw.Point{X: at.X, Y: at.Y + rule}, draw.Point{X: at.X + long - 4, Y: at.Y + rule}))
			put(&on.Layer, draw.Point{X: at.X, Y: at.Y + rule + 0.6}, []line{{small, field.words}})
			at.X += long
		}
	}}
}

// bound lays the flow on leaves, each with the stages that stand on it.
func (p Procedure) bound(paper layout.Paper, flow *layout.Flow) []layout.Leaf {
	steps := 0
	for _, g := range p.Stages {
		steps += len(g.Steps)
	}
	leaves, at := flow.Leaves(layout.Leaf{
		Name: "commissioning", Outline: "Commissioning", Paper: paper,
		Title:   "What must read what, before and while it is first live?",
		Verdict: fmt.Sprintf("%d steps in %d stages, in this order", steps, len(p.Stages)),
		Notes: "Expected values are those of the design, solved; bands hold its spreads and the errors of the meters, and what they rest on is said with each stage. Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. " +
			"Local codes and licensed electricians come before this sheet; the mains side is theirs.",
		Desc: "A sheet to fill in: what to measure, between which points, in which state, what to expect.",
	})
	last, next := 0, 0
	for i := range leaves {
		first := last
		for begun := false; next < len(p.Stages) && at[anchor(next)] == leaves[i].Name; next++ {
			if last = next; i > 0 && !begun {
				leaves[i].Outline, leaves[i].Level, begun = fmt.Sprintf("%d  %s", next, p.Stages[next].Name), 1, true
				if top := leaves[i].Layers[0].Texts; len(top) > 0 && top[0].Size == heading.Size { // the page begins with it
					first = next
				}
			}
		}
		said := fmt.Sprint(first)
		if last > first {
			said = fmt.Sprintf("%d to %d", first, last)
		}
		leaves[i].Cells = []layout.Cell{
			{Caption: "Stages on this page", Says: said, Share: 40}, {Caption: "Filled in by", Share: 70}, {Caption: "On", Share: 40}, {Caption: "Air, °C", Share: 30},
		}
	}
	return leaves
}
