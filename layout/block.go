package layout

import (
	"strings"

	"farend/draw"
)

// schemeEnding is how the names of files of schemes end (docs/sheets.md).
const schemeEnding = ".scheme.yaml"

// leading is from one baseline to the next, in multiples of the size of the text.
const leading = 1.28

// Pitch is the same in millimetres.
func Pitch(points float64) float64 { return draw.Millimetres(points * leading) }

// block is the frame and the title block: two rows of cells, and on what the page rests.
func (b Binding) block(l Leaf, n, of int) draw.Layer {
	thick := draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	frame, box := l.Paper.Frame(), l.Paper.Block()
	layer := draw.Layer{Name: "block", Paths: []draw.Path{
		draw.Area(draw.None, thick, frame.Corners()...),
		draw.Line(thick, box.Min, draw.Point{X: box.Max.X, Y: box.Min.Y}),
	}}
	rows, notes := box, box
	high := l.Paper.rowHigh()
	if l.Paper.wide() {
		rows.Min.X = box.Max.X - rowsWidth
		notes.Max.X = rows.Min.X
		layer.Paths = append(layer.Paths, draw.Line(thick, rows.Min, draw.Point{X: rows.Min.X, Y: box.Max.Y}))
	} else {
		notes.Min.Y += 2 * high
	}
	rows.Max.Y = rows.Min.Y + 2*high
	row(&layer, rows, 0, b.row(n, of))
	row(&layer, rows, 1, l.Cells)
	layer.Texts = append(layer.Texts, noted(l.Notes, notes)...)
	return layer
}

// row draws a row of cells, which share its width.
func row(layer *draw.Layer, rows draw.Box, n int, cells []Cell) {
	thin := draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	all := 0.0
	for _, c := range cells {
		all += c.Share
	}
	high := rows.Height() / 2
	box := draw.Box{Min: draw.Point{X: rows.Min.X, Y: rows.Min.Y + float64(n)*high}}
	box.Max.Y = box.Min.Y + high
	for i, c := range cells {
		box.Max.X = box.Min.X + rows.Width()*c.Share/all
		layer.Texts = append(layer.Texts, c.texts(box)...)
		if i < len(cells)-1 {
			layer.Paths = append(layer.Paths, draw.Line(thin, draw.Point{X: box.Max.X, Y: box.Min.Y}, box.Max))
		}
		box.Min.X = box.Max.X
	}
	layer.Paths = append(layer.Paths, draw.Line(thin, draw.Point{X: rows.Min.X, Y: box.Max.Y}, draw.Point{X: rows.Max.X, Y: box.Max.Y}))
}

// noted sets the notes of the title block, the last line cut where they are too many.
func noted(notes string, box draw.Box) (texts []draw.Text) {
	small := draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	const first, under = 3.4, 1.2 // from the upper edge to the first baseline, and from the last to the lower edge
	width := box.Width() - 4
	most := 1 + int((box.Height()-first-under)/Pitch(small.Size))
	lines := Wrap(small, notes, width)
	if len(lines) > most {
		lines = append(lines[:most-1], Clip(small, lines[most-1]+" "+lines[most], width))
	}
	for i, line := range lines {
		small.Words, small.At = line, draw.Point{X: box.Min.X + 2, Y: box.Min.Y + first + float64(i)*Pitch(small.Size)}
		texts = append(texts, small)
	}
	return texts
}

// texts are the caption of a cell and what it says, in the smaller type where that is needed.
func (c Cell) texts(box draw.Box) []draw.Text {
	const inset = 2
	width := box.Width() - 2*inset
	caption := draw.Text{At: draw.Point{X: box.Min.X + inset, Y: box.Min.Y + 3.2}, Words: c.Caption, Size: draw.Smallest, Tone: draw.Graphite}
	says := draw.Text{At: draw.Point{X: box.Min.X + inset, Y: box.Min.Y + 7.2}, Face: c.Face, Size: 9, Tone: draw.Ink}
	if Wide(says, c.Says) > width {
		says.Size = draw.Smallest
	}
	cut := Clip
	if c.Name {
		cut = Fit
		if short, ends := strings.CutSuffix(c.Says, schemeEnding); ends && Wide(says, c.Says) > width {
			c.Says = short // what tells files apart stands before it
		}
	}
	says.Words = cut(says, c.Says, width)
	return []draw.Text{caption, says}
}

// headingHeight is from the frame to below the heading.
const headingHeight = 19

// text is the words of a mark.
func (m *Mark) text() draw.Text {
	return draw.Text{Words: m.Words, Face: draw.SemiBold, Size: 9, Anchor: draw.End, Tone: draw.Ink}
}

// width is that of a mark, its badge included.
func (m *Mark) width() float64 { return m.text().Width() + BadgeWidth(m.text().Size) }

// draw draws a mark that ends at a place, and says where it begins.
func (m *Mark) draw(layer *draw.Layer, end draw.Point) (left float64) {
	words := m.text()
	words.At = end
	left = end.X - m.width()
	layer.Texts = append(layer.Texts, words)
	m.Badge.Draw(layer, draw.Point{X: left, Y: end.Y}, words.Size)
	return left
}

// heading is the question of a page, and a line under it, with the mark of the set at its right: beside the question, or where that is too long
// beside the line under it.
func (l Leaf) heading(mark *Mark) draw.Layer {
	layer := draw.Layer{Name: "heading"}
	frame := l.Paper.Frame()
	left, right := frame.Min.X+Padding, frame.Max.X-Padding
	ends := [2]float64{right, right} // of the two lines
	big := draw.Text{At: draw.Point{X: left, Y: frame.Min.Y + 9.5}, Words: l.Title, Face: draw.SemiBold, Size: 16, Tone: draw.Ink}
	bold := draw.Text{At: draw.Point{X: left, Y: frame.Min.Y + 15.5}, Face: draw.SemiBold, Size: 9, Tone: draw.Ink}
	if mark != nil {
		const apart = 4
		line, y := 0, frame.Min.Y+5.5
		if left+big.Width()+apart+mark.width() > right {
			line, y = 1, bold.At.Y
		}
		ends[line] = mark.draw(&layer, draw.Point{X: right, Y: y}) - apart
	}
	big.Words = Fit(big, l.Title, ends[0]-left)
	bold.Words = Clip(bold, l.Verdict, ends[1]-left)
	small := draw.Text{At: bold.At, Size: 9, Tone: draw.Graphite}
	if bold.Words != "" {
		small.At.X += bold.Width() + 3
	}
	if room := ends[1] - small.At.X; room > 6 { // less holds no word
		small.Words = Clip(small, l.Under, room)
	}
	layer.Texts = append(layer.Texts, big, bold, small)
	return layer
}
