package commission

import (
	"fmt"
	"math"
	"regexp"
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
	b := &book{paper: paper, field: paper.Field(), section: section}
	b.columns()
	for i, g := range p.Stages {
		b.stage(i, g)
	}
	b.signatures()
	return b.leaves(p)
}

// A strip is a piece of a page through which none ends.
type strip struct {
	height float64
	keep   bool    // it stands on the page of the next
	again  []strip // what is repeated over it where a page begins
	stage  int     // that it belongs to
	first  string  // the name of the stage that it begins, else ""
	draw   func(*draw.Layer, draw.Point)
}

// A book gathers strips.
type book struct {
	paper   layout.Paper
	field   draw.Box
	section func(unit.SquareMetre) string
	strips  []strip
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
func (b *book) columns() {
	b.wide = [7]float64{10.5, 0, 28, 48, 21, 6, 8}
	rest := b.field.Width()
	for _, w := range b.wide {
		rest -= w
	}
	b.wide[colDo] = rest - columnGap*float64(len(b.wide)-1)
	x := 0.0
	for i, w := range b.wide {
		b.at[i] = x
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

// units are the names before which a number stands with a thin space and no break.
var units = regexp.MustCompile(`(\d) ([µmk]?[VAWFs]\b|[µmkM]?Ω|[kM]?Hz\b|°C|mm²|mm\b|m\b|h\b|min\b|%|Nm\b|K\b|AWG\b)`)

// signs are poles, which stay with the word before them.
var signs = regexp.MustCompile(`(\pL|\d) ([+−])(\s|[;:,.]|$)`)

// set is a text as it stands on paper.
func set(text string) string {
	return signs.ReplaceAllString(units.ReplaceAllString(text, "$1"+layout.Thin+"$2"), "$1"+layout.Thin+"$2$3")
}

// A line is a line of a cell.
type line struct {
	like  draw.Text
	words string
}

// lines breaks words into lines.
func lines(like draw.Text, words string, width float64) (list []line) {
	for _, w := range layout.Wrap(like, breakable(like, set(words), width), width) {
		list = append(list, line{like, w})
	}
	return list
}

// breakable lets words that are wider than their cell, such as names of parts, break after any sign in them, or anywhere.
func breakable(like draw.Text, words string, width float64) string {
	fields := strings.Split(words, " ") // and not at thin spaces
	for i, f := range fields {
		var pieces []string
		for layout.Wide(like, f) > width {
			letters, at := []rune(f), 0
			for n := 1; n < len(letters) && layout.Wide(like, string(letters[:n])) <= width; n++ {
				if strings.ContainsRune("/-.,;", letters[n-1]) || at < n-12 {
					at = n
				}
			}
			if at == 0 {
				break
			}
			pieces, f = append(pieces, string(letters[:at])), string(letters[at:])
		}
		fields[i] = strings.Join(append(pieces, f), " ")
	}
	return strings.Join(fields, " ")
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

// paragraph adds lines over the whole width.
func (b *book) paragraph(n int, above float64, list []line) {
	if len(list) > mostLines {
		b.paragraph(n, above, chunk(list, 0))
		b.paragraph(n, 0, list[mostLines:])
		return
	}
	b.strips = append(b.strips, strip{height: above + height(list), keep: true, stage: n, draw: func(layer *draw.Layer, at draw.Point) {
		put(layer, draw.Point{X: at.X, Y: at.Y + above}, list)
	}})
}

// stage adds one stage.
func (b *book) stage(n int, g Stage) {
	width := b.field.Width()
	begin := len(b.strips)
	b.paragraph(n, stageGap, lines(heading, fmt.Sprintf("%d  %s", n, g.Name), width))
	b.strips[begin].first = fmt.Sprintf("%d  %s", n, g.Name)
	b.paragraph(n, 0.6, lines(plain, g.Why, width))
	if g.Stop != "" {
		b.paragraph(n, 0.6, lines(strong, "Stop: "+g.Stop, width))
	}
	for _, note := range g.Notes {
		b.paragraph(n, 0.6, lines(plain, note, width))
	}
	letters := map[string]string{}
	for _, s := range g.Steps {
		if s.Rests != "" && letters[s.Rests] == "" {
			letters[s.Rests] = string(rune('a' + len(letters)))
			b.paragraph(n, 0.4, lines(small, letters[s.Rests]+"  Rests on: "+s.Rests+".", width))
		}
	}
	head := b.head(n)
	head.keep = true
	b.strips = append(b.strips, head)
	state := ""
	for i, s := range g.Steps {
		group := b.group(n, s.State)
		if s.State != state {
			group.again = []strip{head}
			b.strips = append(b.strips, group)
			state = s.State
		}
		for _, row := range b.row(n, i+1, s, letters[s.Rests]) {
			row.again = []strip{head, group}
			b.strips = append(b.strips, row)
		}
	}
}

// head is the heads of the columns.
func (b *book) head(n int) strip {
	tall := layout.Pitch(draw.Smallest) + rowPadding
	return strip{height: tall + 1.2, stage: n, draw: func(layer *draw.Layer, at draw.Point) {
		for i, words := range columnHeads {
			put(layer, draw.Point{X: at.X + b.at[i], Y: at.Y + 1.2}, []line{{small, words}})
		}
		layer.Paths = append(layer.Paths, draw.Line(headPen, draw.Point{X: at.X, Y: at.Y + tall + 1.2}, draw.Point{X: at.X + b.field.Width(), Y: at.Y + tall + 1.2}))
	}}
}

// group is the state in which the rows below it are done.
func (b *book) group(n int, state string) strip {
	list := lines(strong, "State: "+state, b.field.Width()-2)
	tall := height(list) + 2*rowPadding
	return strip{height: tall, keep: true, stage: n, draw: func(layer *draw.Layer, at draw.Point) {
		box := draw.Box{Min: at, Max: draw.Point{X: at.X + b.field.Width(), Y: at.Y + tall}}
		layer.Paths = append(layer.Paths, draw.Area(draw.Shade, draw.Pen{}, box.Corners()...))
		put(layer, draw.Point{X: at.X + 1, Y: at.Y + rowPadding}, list)
	}}
}

// row is one step: several strips where it has very many lines.
func (b *book) row(n, k int, s Step, letter string) (rows []strip) {
	do := s.Do
	if s.Section > 0 {
		do += " (" + b.section(s.Section) + ")"
	}
	cells := [4][]line{colNumber: {{plain, fmt.Sprintf("%d.%d", n, k)}}, colDo: lines(plain, do, b.doWidth(s))}
	if s.Stop != "" {
		cells[colDo] = append(cells[colDo], lines(small, "Stop: "+s.Stop, b.doWidth(s))...)
	}
	for _, point := range s.Between {
		if point != "" {
			cells[colBetween] = append(cells[colBetween], lines(plain, joined(point), b.wide[colBetween])...)
		}
	}
	cells[colExpected] = b.expected(s, letter)
	most := 0
	for _, c := range cells {
		most = max(most, len(c))
	}
	for part := 0; part*mostLines < most; part++ {
		var piece [4][]line
		for i, c := range cells {
			piece[i] = chunk(c, part)
		}
		rows = append(rows, b.rowPiece(n, piece, part == 0, s.Reading != nil || s.Between != [2]string{}))
	}
	return rows
}

// rowPiece is lines of a row, its first with the boxes.
func (b *book) rowPiece(n int, cells [4][]line, first, measured bool) strip {
	tall := boxHeight
	for _, c := range cells {
		tall = max(tall, height(c))
	}
	tall += 2 * rowPadding
	return strip{height: tall, stage: n, draw: func(layer *draw.Layer, at draw.Point) {
		for i, c := range cells {
			put(layer, draw.Point{X: at.X + b.at[i], Y: at.Y + rowPadding}, c)
		}
		for i := colMeasured; i <= colBy && first; i++ {
			if i == colMeasured && !measured {
				continue
			}
			box := draw.Box{Min: draw.Point{X: at.X + b.at[i], Y: at.Y + rowPadding}}
			box.Max = draw.Point{X: box.Min.X + b.wide[i], Y: box.Min.Y + boxHeight}
			layer.Paths = append(layer.Paths, draw.Area(draw.None, boxPen, box.Corners()...))
		}
		layer.Paths = append(layer.Paths, draw.Line(rowPen, draw.Point{X: at.X, Y: at.Y + tall}, draw.Point{X: at.X + b.field.Width(), Y: at.Y + tall}))
	}}
}

// doWidth is the width of what is said to do: as far as the boxes where nothing else is said.
func (b *book) doWidth(s Step) float64 {
	switch {
	case s.Between != [2]string{}:
		return b.wide[colDo]
	case s.Reading != nil || s.Expect != "":
		return b.at[colExpected] - columnGap - b.at[colDo]
	}
	return b.at[colDone] - columnGap - b.at[colDo]
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
func (b *book) expected(s Step, letter string) (cell []line) {
	width := b.wide[colExpected]
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
		shift := s.Reading.text(j.Shift)
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

// signatures are the lines to sign on.
func (b *book) signatures() {
	for _, who := range []string{"Licensed electrician, for the mains side", "Measured by"} {
		list := lines(strong, who, b.field.Width())
		const tall, rule = 17, 11
		n := 0
		if len(b.strips) > 0 {
			n = b.strips[len(b.strips)-1].stage
		}
		b.strips = append(b.strips, strip{height: tall, stage: n, draw: func(layer *draw.Layer, at draw.Point) {
			put(layer, draw.Point{X: at.X, Y: at.Y + 2.5}, list)
			x := at.X
			for _, field := range []struct {
				words string
				share float64
			}{{"name, licence", 0.4}, {"signature", 0.4}, {"date", 0.2}} {
				width := field.share * b.field.Width()
				layer.Paths = append(layer.Paths, draw.Line(boxPen, draw.Point{X: x, Y: at.Y + rule + 1}, draw.Point{X: x + width - 4, Y: at.Y + rule + 1}))
				put(layer, draw.Point{X: x, Y: at.Y + rule + 1.6}, []line{{small, field.words}})
				x += width
			}
		}})
	}
}

// leaves lays the strips on pages.
func (b *book) leaves(p Procedure) []layout.Leaf {
	steps := 0
	for _, g := range p.Stages {
		steps += len(g.Steps)
	}
	pages := paged(b.strips, b.field.Height())
	leaves := make([]layout.Leaf, len(pages))
	for i, page := range pages {
		leaf := layout.Leaf{
			Name: "commissioning", Outline: "Commissioning", Paper: b.paper,
			Title:   "What must read what, before and while it is first live?",
			Verdict: fmt.Sprintf("%d steps in %d stages, in this order", steps, len(p.Stages)),
			Under:   fmt.Sprintf("part %d of %d", i+1, len(pages)),
			Notes: "Expected values are those of the design, solved; bands hold its spreads and the errors of the meters, and what they rest on is said with each stage. Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. " +
				"Local codes and licensed electricians come before this sheet; the mains side is theirs.",
			Desc: "A sheet to fill in: what to measure, between which points, in which state, what to expect.",
		}
		if i > 0 {
			leaf.Name, leaf.Outline = fmt.Sprintf("commissioning-%d", i+1), ""
		}
		layer := draw.Layer{Name: "steps"}
		at := b.field.Min
		low, high := page[0].stage, page[0].stage
		for _, s := range page {
			s.draw(&layer, at)
			at.Y += s.height
			low, high = min(low, s.stage), max(high, s.stage)
			if s.first != "" && leaf.Outline == "" {
				leaf.Outline, leaf.Level = s.first, 1
			}
		}
		said := fmt.Sprintf("%d", low)
		if high > low {
			said = fmt.Sprintf("%d to %d", low, high)
		}
		leaf.Cells = []layout.Cell{
			{Caption: "Stages on this page", Says: said, Share: 40}, {Caption: "Filled in by", Share: 70}, {Caption: "On", Share: 40}, {Caption: "Air, °C", Share: 30},
		}
		leaf.Layers = []draw.Layer{layer}
		leaves[i] = leaf
	}
	return leaves
}

// paged divides strips over pages of a height. One that is to stand with the next goes where that goes.
func paged(strips []strip, height float64) (pages [][]strip) {
	var page []strip
	used := 0.0
	for i := 0; i < len(strips); {
		end := i + 1
		for end < len(strips) && strips[end-1].keep {
			end++
		}
		block, need := strips[i:end], 0.0
		for _, s := range block {
			need += s.height
		}
		if len(page) > 0 && used+need > height {
			pages, page, used = append(pages, page), nil, 0
		}
		for k, s := range block {
			if len(page) > 0 && used+s.height > height {
				pages, page, used = append(pages, page), nil, 0
			}
			if len(page) == 0 && (k == 0 || used == 0) {
				for _, a := range s.again {
					page, used = append(page, a), used+a.height
				}
			}
			page, used = append(page, s), used+s.height
		}
		i = end
	}
	if len(page) > 0 {
		pages = append(pages, page)
	}
	return pages
}
