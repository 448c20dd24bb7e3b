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

	Together bool // no page ends within it, unless it is taller than one
}

// A Column of a table is as wide as what stands in it, or has a share of the width that those leave.
type Column struct {
	Head   string
	Share  float64
	Number bool // numbers to the right, their units in a narrow column of their own
	Spare  bool // left out where no row has anything in it but dashes
	Face   draw.Face
}

// flexible reports whether a column has a share; numbers have none, for they are not broken.
func (c Column) flexible() bool { return c.Share > 0 && !c.Number }

// Said is what stands in a cell.
type Said struct {
	Words  string
	Badge  *Badge // before the words
	Bold   bool
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
func (s Said) says() bool { return s.Words != "" && s.Words != "–" || s.Badge != nil }

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
	l.gap = columnGap
	room := width - columnGap*float64(n-1)
	spare := room
	for _, w := range natural {
		spare -= w
	}
	if spare > 0 && n > 1 {
		more := min(spare/float64(n-1), widestGap-columnGap)
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
		case c.Number:
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
	height := float64(most)*Pitch(headLike.Size) + rowPadding
	return Strip{Height: height, Draw: func(on *Drawn, at draw.Point) {
		x := at.X
		for i, c := range l.Columns {
			text := headLike
			text.At.X = x
			if c.Number {
				text.Anchor, text.At.X = draw.End, x+l.numbers[i]
			}
			for k, line := range lines[i] {
				text.Words = line
				text.At.Y = at.Y + height - rowPadding - float64(len(lines[i])-k)*Pitch(text.Size) + ascent*text.Size*25.4/72
				on.Layer.Texts = append(on.Layer.Texts, text)
			}
			x += l.widths[i] + l.gap
		}
		l.line(on, draw.Point{X: at.X, Y: at.Y + height}, draw.Pen{Tone: draw.Ink, Width: draw.Thin})
	}}
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
	if tall := float64(most)*pitch + 2*rowPadding; tall <= height {
		return []Strip{{Height: tall, Again: again, Anchor: anchor, Draw: func(on *Drawn, at draw.Point) {
			for k := range most {
				l.set(on, draw.Point{X: at.X, Y: at.Y + rowPadding + float64(k)*pitch}, cells, lines, k)
			}
			l.line(on, draw.Point{X: at.X, Y: at.Y + tall}, rowPen)
		}}}
	}
	strips := make([]Strip, most)
	for k := range strips {
		strips[k] = Strip{Height: pitch, Again: again, Draw: func(on *Drawn, at draw.Point) {
			l.set(on, at, cells, lines, k)
			if k == most-1 {
				l.line(on, draw.Point{X: at.X, Y: at.Y + pitch}, rowPen)
			}
		}}
	}
	strips[0].Anchor = anchor
	return strips
}

// rowPen draws the lines between rows.
var rowPen = draw.Pen{Tone: draw.Rule, Width: draw.Hair}

// set draws one line of the cells of a row.
func (l *laid) set(on *Drawn, at draw.Point, cells []Said, lines [][]string, k int) {
	baseline := at.Y + ascent*l.size*25.4/72
	x := at.X
	for i, cell := range cells[:min(len(cells), len(l.Columns))] {
		text, left := l.like(i, cell), x
		if cell.Badge != nil {
			if k == 0 {
				cell.Badge.Draw(&on.Layer, draw.Point{X: x, Y: baseline}, l.size)
			}
			left += BadgeWidth(l.size)
		}
		if k < len(lines[i]) {
			text.Words, text.At = lines[i][k], draw.Point{X: left, Y: baseline}
			l.put(on, text, i)
			for _, to := range cell.To {
				on.Links = append(on.Links, draw.Link{Box: draw.Box{Min: draw.Point{X: x, Y: at.Y}, Max: draw.Point{X: x + l.widths[i], Y: at.Y + Pitch(l.size)}}, To: to})
			}
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
