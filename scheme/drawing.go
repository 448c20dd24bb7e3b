package scheme

import (
	"math"

	"farend/internal/document"
	"farend/unit"
)

// ReadNode reads one point [x, y] or a line [[x, y], [x, y], …].
func (s *Shape) ReadNode(r *document.Reader, n document.Node) {
	const hint = "write a point as [x, y] or a line as [[x, y], [x, y]], in metres"
	if !n.IsList() {
		r.Mistake(n, "a drawing needs a point or a line here", hint)
		return
	}
	var items []coordinate
	r.Decode(n, &items)
	lists := 0
	for _, item := range items {
		if item.list {
			lists++
		}
	}
	switch {
	case lists == 0 && len(items) == 2:
		s.Points = [][2]float64{{items[0].number, items[1].number}}
	case lists == len(items) && lists > 0:
		s.line(r, n, items, hint)
	default:
		r.Mistake(n, "this is neither a point nor a line", hint)
	}
}

func (s *Shape) line(r *document.Reader, n document.Node, items []coordinate, hint string) {
	for _, item := range items {
		if len(item.pair) != 2 {
			r.Mistake(n, "a point of a line needs two numbers", hint)
			return
		}
		s.Points = append(s.Points, [2]float64{item.pair[0], item.pair[1]})
	}
}

// A coordinate is a number or a list of numbers.
type coordinate struct {
	number float64
	pair   []float64
	list   bool
}

// ReadNode reads either form.
func (c *coordinate) ReadNode(r *document.Reader, n document.Node) {
	c.list = n.IsList()
	if c.list {
		r.Decode(n, &c.pair)
		return
	}
	r.Decode(n, &c.number)
}

// Length is the length of the line; 0 for a point.
func (s Shape) Length() unit.Metre {
	var sum float64
	for i := 1; i < len(s.Points); i++ {
		a, b := s.Points[i-1], s.Points[i]
		sum += math.Hypot(b[0]-a[0], b[1]-a[1])
	}
	return unit.Metre(sum)
}
