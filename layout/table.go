package layout

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"farend/draw"
)

// A Table is rows of cells under heads that are repeated on every page. No row is divided over pages, unless it is taller than one.
type Table struct {
	Columns []Column
	Rows    [][]Said
	Size    float64 // points; 8 where 0
	Above   float64

	Gap   float64 // between two columns, at least, and no more where a column has a share; 3 mm, at least, where 0
	Least float64 // height of a row, of which the words stand in the middle; 0 where rows are as high as their words

	Twice    bool // two rows stand side by side, read across, where there is room for that
	Together bool // no page ends within it, unless it is taller than one
}

// A Column of a table is as wide as what stands in it, or has a share of the width that those leave.
type Column struct {
	Head   string
	Over   string // stands over the heads of all neighbours that say the same
	Share  float64
	Box    float64 // to write in, so many millimetres wide; 0 of a column of words
	Number bool    // numbers to the right, their units in a narrow column of their own
	Spare  bool    // left out where no row has anything in it but dashes
	Face   draw.Face
}

// flexible reports whether a column has a share; numbers have none, for they are not broken.
func (c Column) flexible() bool { return c.Share > 0 && !c.Number }

// Said is what stands in a cell.
type Said struct {
	Words  string
	Badge  *Badge // before the words
	Bold   bool
	Box    bool // there is a box to write in, where the column has them
	Anchor string
	To     []string // the leaves that it may lead to, the first that is there
}

// Plain are cells of words alone.
func Plain(words ...string) []Said {
	cells := make([]Said, len(words))
	for i, w := range words {
		cells[i].Words = w
	}
	return cells
}

// The measures of tables, in millimetres.
const (
	columnGap    = 3   // between two columns, at least
	widestGap    = 9   // at most, where there is room
	unitGap      = 0.7 // between a number and its unit
	rowPadding   = 0.5 // over and under the words of a row
	leastColumn  = 12  // of a column with a share, if there is room
	leastSqueeze = 8   // of a column of words on a page that has no room
)

// laid is a table whose columns have widths.
type laid struct {
	Table
	size    float64
	widths  []float64
	heads   []float64 // how wide columns are at least for their heads
	numbers []float64 // of columns of numbers, how wide their numbers are
	gap     float64   // between two of them
}

func (t Table) Strips(width, height float64) []Strip {
	if t = t.spared(); len(t.Columns) == 0 {
		return nil
	}
	l := laid{Table: t, size: t.Size}
	if l.size == 0 {
		l.size = 8
	}
	if t.Twice && len(t.Rows) > 1 && 2*l.natural() < width {
		return t.twice().Strips(width, height)
	}
	l.measure(width)
	head := l.head()
	again := head
	again.Above, again.Keep = 0, false
	head.Above, head.Keep = t.Above, true
	strips := []Strip{head}
	for _, row := range t.Rows {
		strips = append(strips, l.row(row, []Strip{again}, height-again.Height)...)
	}
	for i := range strips[:len(strips)-1] {
		strips[i].Keep = strips[i].Keep || t.Together || i == len(strips)-2 // the last row does not stand alone
	}
	return strips
}

// natural is the width of a table whose words are not broken, with a gap behind each column.
func (l *laid) natural() (width float64) {
	const ample = 1e6
	l.measure(ample)
	for i, w := range l.widths {
		if !l.Columns[i].flexible() {
			width += w
		}
	}
	return width + float64(len(l.widths))*cmp.Or(l.Gap, columnGap)
}

// twice is a table with two rows in one.
func (t Table) twice() Table {
	n := len(t.Columns)
	columns := append(append(slices.Clone(t.Columns), Column{}), t.Columns...)
	var rows [][]Said
	for i := 0; i < len(t.Rows); i += 2 {
		row := make([]Said, 2*n+1)
		copy(row[:n], t.Rows[i])
		if i+1 < len(t.Rows) {
			copy(row[n+1:], t.Rows[i+1])
		}
		rows = append(rows, row)
	}
	t.Columns, t.Rows, t.Twice = columns, rows, false
	return t
}

// spared is a table without the columns that are left out.
func (t Table) spared() Table {
	var kept []int
	for i, c := range t.Columns {
		if !c.Spare || slices.ContainsFunc(t.Rows, func(row []Said) bool { return i < len(row) && row[i].says() }) {
			kept = append(kept, i)
		}
	}
	columns, rows := make([]Column, len(kept)), make([][]Said, len(t.Rows))
	for k, i := range kept {
		columns[k] = t.Columns[i]
	}
	for r, row := range t.Rows {
		for _, i := range kept {
			if i < len(row) {
				rows[r] = append(rows[r], row[i])
			}
		}
	}
	t.Columns, t.Rows = columns, rows
	return t
}

// says reports whether anything stands in a cell.
func (s Said) says() bool { return s.Words != "" && s.Words != "–" || s.Badge != nil || s.Box }

// like is how a cell of a column is set.
func (l *laid) like(column int, cell Said) draw.Text {
	like := draw.Text{Size: l.size, Face: l.Columns[column].Face, Tone: draw.Ink}
	if cell.Bold && like.Face == draw.Sans {
		like.Face = draw.SemiBold
	}
	return like
}

// headLike is how heads are set.
var headLike = draw.Text{Size: draw.Smallest, Tone: draw.Graphite}

// measure gives columns their widths.
func (l *laid) measure(width float64) {
	n := len(l.Columns)
	natural, least := make([]float64, n), make([]float64, n)
	l.widths, l.heads, l.numbers = make([]float64, n), make([]float64, n), make([]float64, n)
	for i, c := range l.Columns {
		if c.Box > 0 {
			natural[i] = max(c.Box, longest(headLike, c.Head)+0.1)
			least[i] = natural[i]
			continue
		}
		units := 0.0
		for _, row := range l.Rows {
			if i >= len(row) {
				continue
			}
			like := l.like(i, row[i])
			if c.Number {
				number, name := parted(row[i].Words)
				l.numbers[i] = max(l.numbers[i], Wide(like, number))
				if name != "" {
					units = max(units, unitGap+Wide(like, name))
				}
				continue
			}
			before := 0.0
			if row[i].Badge != nil {
				before = BadgeWidth(l.size)
			}
			natural[i] = max(natural[i], before+Wide(like, row[i].Words))
			least[i] = max(least[i], before+longest(like, row[i].Words))
		}
		head := headRoom(c.Head)
		l.heads[i] = head + 0.1
		if c.Number {
			l.numbers[i] = max(l.numbers[i], head)
			natural[i], least[i] = l.numbers[i]+units, l.numbers[i]+units
			continue
		}
		natural[i], least[i] = max(natural[i], head)+0.1, max(least[i], head)+0.1 // so that what just fits is not broken by rounding
	}
	if l.gap = l.Gap; l.gap == 0 {
		l.gap = columnGap
	}
	room := width - l.gap*float64(n-1)
	spare := room
	for _, w := range natural {
		spare -= w
	}
	if spare > 0 && n > 1 && !(l.Gap > 0 && slices.ContainsFunc(l.Columns, Column.flexible)) {
		more := min(spare/float64(n-1), max(widestGap-l.gap, 0))
		l.gap += more
		room -= more * float64(n-1)
	}
	copy(l.widths, natural)
	l.squeeze(room, least)
	l.share(room, natural)
}

// mostHeadLines is how many lines a head takes at most, where the page has room for that.
const mostHeadLines = 3

// headRoom is the least width in which a head has no more lines than that.
func headRoom(head string) float64 {
	words := strings.FieldsFunc(head, blank)
	room := longest(headLike, head)
	if len(words) <= mostHeadLines {
		return room
	}
	widest := Wide(headLike, head)
	for from := range words {
		for to := from + 1; to <= len(words); to++ {
			wide := Wide(headLike, strings.Join(words[from:to], " ")) + 1e-6
			if wide >= room && wide < widest && len(Lines(headLike, head, wide)) <= mostHeadLines {
				widest = wide
			}
		}
	}
	return widest
}

// longest is the width of the longest word.
func longest(like draw.Text, words string) (width float64) {
	for _, word := range strings.FieldsFunc(words, blank) {
		width = max(width, Wide(like, word))
	}
	return width
}

// squeeze narrows columns of words without a share to one width that those which need more than it get, so that the others have as much
// as their longest word takes, or as little as is bearable.
func (l *laid) squeeze(room float64, least []float64) {
	var words []int
	for i, c := range l.Columns {
		switch {
		case c.flexible():
			room -= max(l.heads[i], min(least[i], max(leastColumn, room/float64(2*len(l.Columns)))))
		case c.Number, c.Box > 0:
			room -= l.widths[i]
		default:
			words = append(words, i)
		}
	}
	slices.SortFunc(words, func(i, k int) int { return cmp.Compare(l.widths[i], l.widths[k]) })
	for n, i := range words {
		l.widths[i] = min(l.widths[i], max(room/float64(len(words)-n), leastSqueeze, l.heads[i]))
		room -= l.widths[i]
	}
}

// share divides what is left among the columns that have a share: none gets more than it needs while another has less, and all of it is
// taken.
func (l *laid) share(room float64, natural []float64) {
	var open []int
	shares := 0.0
	for i, c := range l.Columns {
		if c.flexible() {
			open, shares = append(open, i), shares+c.Share
		} else {
			room -= l.widths[i]
		}
	}
	slices.SortFunc(open, func(i, k int) int {
		return cmp.Compare(natural[i]/l.Columns[i].Share, natural[k]/l.Columns[k].Share)
	})
	heads := 0.0
	for _, i := range open {
		heads += l.heads[i]
	}
	for _, i := range open {
		heads -= l.heads[i] // those of the columns that are still to come
		fair := min(max(room*l.Columns[i].Share/shares, l.heads[i]), room-heads)
		l.widths[i] = min(natural[i], max(fair, 1))
		room, shares = room-l.widths[i], shares-l.Columns[i].Share
	}
	for _, i := range open {
		l.widths[i] += max(room, 0) / float64(len(open))
	}
}

// parted takes a number and its unit apart; what has no digit is all number.
func parted(words string) (number, name string) {
	i := max(strings.LastIndex(words, Thin), strings.LastIndexByte(words, ' '))
	if i < 0 || !strings.ContainsFunc(words, unicode.IsDigit) || strings.ContainsFunc(words[i:], unicode.IsDigit) {
		return words, ""
	}
	return words[:i], strings.TrimPrefix(strings.TrimPrefix(words[i:], Thin), " ")
}

// head is the strip of the heads, over a line.
func (l *laid) head() Strip {
	lines := make([][]string, len(l.Columns))
	most := 0
	for i, c := range l.Columns {
		width := l.widths[i]
		if c.Number {
			width = l.numbers[i] + 0.1
		}
		lines[i] = Lines(headLike, c.Head, width)
		most = max(most, len(lines[i]))
	}
	over := l.spans()
	top := 0.0
	for _, s := range over {
		top = max(top, float64(len(s.lines))*Pitch(headLike.Size)+rowPadding)
	}
	height := top + float64(most)*Pitch(headLike.Size) + rowPadding
	return Strip{Height: height, Draw: func(on *Drawn, at draw.Point) {
		for _, s := range over {
			s.draw(on, at, top)
		}
		x := at.X
		for i, c := range l.Columns {
			text := headLike
			text.At.X = x
			if c.Number {
				text.Anchor, text.At.X = draw.End, x+l.numbers[i]
			}
			for k, line := range lines[i] {
				text.Words = line
				text.At.Y = at.Y + height - rowPadding - float64(len(lines[i])-k)*Pitch(text.Size) + draw.Millimetres(ascent*text.Size)
				on.Layer.Texts = append(on.Layer.Texts, text)
			}
			x += l.widths[i] + l.gap
		}
		l.line(on, draw.Point{X: at.X, Y: at.Y + height}, draw.Pen{Tone: draw.Ink, Width: draw.Thin})
	}}
}

// A span is what stands over the heads of several columns.
type span struct {
	from, to float64 // from the edge of the table
	lines    []string
}

// spans are those of a table.
func (l *laid) spans() (list []span) {
	x := 0.0
	for i := 0; i < len(l.Columns); {
		s := span{from: x}
		over := l.Columns[i].Over
		for ; i < len(l.Columns) && l.Columns[i].Over == over; i++ {
			s.to = x + l.widths[i]
			x = s.to + l.gap
		}
		s.lines = Lines(spanLike, over, s.to-s.from)
		if len(s.lines) > mostOver {
			s.lines = append(s.lines[:mostOver-1], Clip(spanLike, strings.Join(s.lines[mostOver-1:], " "), s.to-s.from))
		}
		if len(s.lines) > 0 {
			list = append(list, s)
		}
	}
	return list
}

// mostOver is how many lines stand over heads at most: names may be of any length, and are repeated on every page.
const mostOver = 4

// spanLike is how those are set.
var spanLike = draw.Text{Size: draw.Smallest, Face: draw.SemiBold, Tone: draw.Ink}

// draw draws it over a line from its first column to its last, so many millimetres below the top of the table.
func (s span) draw(on *Drawn, at draw.Point, top float64) {
	for k, line := range s.lines {
		text := spanLike
		text.Words = line
		text.At = draw.Point{X: at.X + s.from, Y: at.Y + top - rowPadding - float64(len(s.lines)-k)*Pitch(text.Size) + draw.Millimetres(ascent*text.Size)}
		on.Layer.Texts = append(on.Layer.Texts, text)
	}
	on.Layer.Paths = append(on.Layer.Paths, draw.Line(rowPen, draw.Point{X: at.X + s.from, Y: at.Y + top}, draw.Point{X: at.X + s.to, Y: at.Y + top}))
}

// line is a line under the whole table.
func (l *laid) line(on *Drawn, at draw.Point, pen draw.Pen) {
	width := l.gap * float64(len(l.widths)-1)
	for _, w := range l.widths {
		width += w
	}
	on.Layer.Paths = append(on.Layer.Paths, draw.Line(pen, at, draw.Point{X: at.X + width, Y: at.Y}))
}

// row is the strip of a row; the strips of its lines where it is taller than a page.
func (l *laid) row(cells []Said, again []Strip, height float64) []Strip {
	lines := make([][]string, len(cells))
	most := 1
	anchor := ""
	for i, cell := range cells[:min(len(cells), len(l.Columns))] {
		width := l.widths[i]
		if cell.Badge != nil {
			width -= BadgeWidth(l.size)
		}
		if lines[i] = []string{cell.Words}; !l.Columns[i].Number {
			lines[i] = Lines(l.like(i, cell), cell.Words, max(width, 1))
		}
		most = max(most, len(lines[i]))
		if anchor == "" {
			anchor = cell.Anchor
		}
	}
	pitch := Pitch(l.size)
	if tall := max(float64(most)*pitch+2*rowPadding, l.Least); tall <= height {
		return []Strip{{Height: tall, Again: again, Anchor: anchor, Draw: func(on *Drawn, at draw.Point) {
			l.boxes(on, at, cells, tall)
			l.set(on, at, cells, lines, tall)
			l.line(on, draw.Point{X: at.X, Y: at.Y + tall}, rowPen)
		}}}
	}
	strips := make([]Strip, most)
	for k := range strips {
		one := make([][]string, len(lines))
		for i := range lines {
			if k < len(lines[i]) {
				one[i] = lines[i][k : k+1]
			}
		}
		these := slices.Clone(cells)
		for i := range these {
			if k > 0 {
				these[i].Badge = nil
			}
		}
		strips[k] = Strip{Height: pitch, Again: again, Draw: func(on *Drawn, at draw.Point) {
			if k == 0 {
				l.boxes(on, at, cells, max(l.Least, pitch))
			}
			l.set(on, at, these, one, pitch)
			if k == most-1 {
				l.line(on, draw.Point{X: at.X, Y: at.Y + pitch}, rowPen)
			}
		}}
	}
	strips[0].Keep = l.Least > pitch // its boxes reach below it
	strips[0].Anchor = anchor
	return strips
}

// boxInset is between a box and the edges of its row.
const boxInset = 0.25

// boxes draws the boxes of a row of a height.
func (l *laid) boxes(on *Drawn, at draw.Point, cells []Said, tall float64) {
	x := at.X
	for i, cell := range cells[:min(len(cells), len(l.Columns))] {
		if cell.Box && l.Columns[i].Box > 0 {
			box := draw.Box{Min: draw.Point{X: x, Y: at.Y + boxInset}, Max: draw.Point{X: x + l.widths[i], Y: at.Y + tall - boxInset}}
			on.Layer.Paths = append(on.Layer.Paths, draw.Area(draw.None, draw.Pen{Tone: draw.Graphite, Width: draw.Hair}, box.Corners()...))
		}
		x += l.widths[i] + l.gap
	}
}

// rowPen draws the lines between rows.
var rowPen = draw.Pen{Tone: draw.Rule, Width: draw.Hair}

// set draws the words of the cells of a row of a height.
func (l *laid) set(on *Drawn, at draw.Point, cells []Said, lines [][]string, tall float64) {
	pitch := Pitch(l.size)
	x := at.X
	for i, cell := range cells[:min(len(cells), len(l.Columns))] {
		top := at.Y + min(rowPadding, (tall-pitch)/2)
		if l.Least > 0 {
			top = at.Y + (tall-pitch*float64(max(len(lines[i]), 1)))/2
		}
		text, left := l.like(i, cell), x
		if cell.Badge != nil {
			cell.Badge.Draw(&on.Layer, draw.Point{X: x, Y: top + draw.Millimetres(ascent*l.size)}, l.size)
			left += BadgeWidth(l.size)
		}
		for _, line := range lines[i] {
			text.Words, text.At = line, draw.Point{X: left, Y: top + draw.Millimetres(ascent*l.size)}
			l.put(on, text, i)
			for _, to := range cell.To {
				on.Links = append(on.Links, draw.Link{Box: draw.Box{Min: draw.Point{X: x, Y: top}, Max: draw.Point{X: x + l.widths[i], Y: top + pitch}}, To: to})
			}
			top += pitch
		}
		x += l.widths[i] + l.gap
	}
}

// put draws a line of a cell, its number and its unit apart.
func (l *laid) put(on *Drawn, text draw.Text, column int) {
	if text.Words == "" {
		return
	}
	if !l.Columns[column].Number {
		on.Layer.Texts = append(on.Layer.Texts, text)
		return
	}
	number, name := parted(text.Words)
	left := text.At.X
	text.Words, text.Anchor, text.At.X = number, draw.End, left+l.numbers[column]
	on.Layer.Texts = append(on.Layer.Texts, text)
	if name != "" {
		text.Words, text.Anchor, text.At.X = name, draw.Start, left+l.numbers[column]+unitGap
		on.Layer.Texts = append(on.Layer.Texts, text)
	}
}
