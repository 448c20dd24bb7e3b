package chart

import (
	"farend/draw"
)

// A flag names an upright line of a plot above it: a number, and what it is.
type flag struct {
	x     float64
	value string
	name  string
	pen   draw.Pen
	width float64 // of the words; plant measures it
	row   int     // above the plot, from 0
	left  bool    // the words stand to the left of the line
}

// Measures of flags, in millimetres.
const (
	rowHeight = 4.2
	besides   = 1.2 // from the line to the words
	clear     = 0.6 // from words to other lines
)

func (f flag) texts() (value, name draw.Text) {
	return draw.Text{Words: f.value, Face: draw.SemiBold, Size: 8, Tone: draw.Ink}, draw.Text{Words: f.name, Size: 8, Tone: draw.Ink}
}

// between is from the number of a flag to its name.
const between = 1.4

// span is where the words of a flag lie, from left to right.
func (f flag) span() (from, to float64) {
	if f.left {
		return f.x - besides - f.width, f.x - besides
	}
	return f.x + besides, f.x + besides + f.width
}

// plant gives every flag a row of its own and a side, so that its words stay between the edges and no line goes through them. A line
// goes up to the row of its words, so it goes through the rows below. There are few flags, so orders are tried until one is clean; where
// none is the cleanest is taken. They are tried from that with words to the right and the leftmost line highest.
func plant(flags []flag, left, right float64) {
	rows := make([]int, len(flags))
	for i := range rows {
		rows[i] = len(flags) - 1 - i
		value, name := flags[i].texts()
		flags[i].width = value.Width() + between + name.Width()
	}
	best, fewest := []flag(nil), 0
	orders(rows, 0, func() bool {
		for sides := range 1 << len(flags) {
			some := append([]flag(nil), flags...)
			for i := range some {
				some[i].row, some[i].left = rows[i], sides>>i&1 == 1
			}
			if n := faults(some, left, right); best == nil || n < fewest {
				best, fewest = some, n
			}
			if fewest == 0 {
				return false
			}
		}
		return true
	})
	copy(flags, best)
}

// orders calls visit with every order of the rest of rows from k on, the first that given, for as long as visit wants another. It reports
// whether it still does.
func orders(rows []int, k int, visit func() bool) bool {
	if k == len(rows) {
		return visit()
	}
	for i := k; i < len(rows); i++ {
		rows[k], rows[i] = rows[i], rows[k]
		more := orders(rows, k+1, visit)
		rows[k], rows[i] = rows[i], rows[k]
		if !more {
			return false
		}
	}
	return true
}

// faults counts the words that leave the page, many times, and the lines through words.
func faults(flags []flag, left, right float64) int {
	n := 0
	for i, f := range flags {
		from, to := f.span()
		if from < left || to > right {
			n += 100
		}
		for j, g := range flags {
			if i != j && g.row > f.row && g.x > from-clear && g.x < to+clear {
				n++
			}
		}
	}
	return n
}

// draw adds a flag to a layer: its line from the bottom of the plot to its row, and its words.
func (f flag) draw(layer *draw.Layer, plot draw.Box) {
	base := plot.Min.Y - 2 - float64(f.row)*rowHeight
	layer.Paths = append(layer.Paths, draw.Line(f.pen, draw.Point{X: f.x, Y: plot.Max.Y}, draw.Point{X: f.x, Y: base - 2}))
	value, name := f.texts()
	from, _ := f.span()
	value.At = draw.Point{X: from, Y: base}
	name.At = draw.Point{X: from + value.Width() + between, Y: base}
	layer.Texts = append(layer.Texts, value, name)
}
