package scheme

import (
	"fmt"
	"math"
	"reflect"

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

// Along is the point at a share of the way along a line, from 0 at its beginning to 1 at its end; of a point that point. It is not ok where there is none.
func (s Shape) Along(share float64) (x, y float64, ok bool) {
	if len(s.Points) == 0 {
		return 0, 0, false
	}
	left := min(max(share, 0), 1) * float64(s.Length())
	for i := 1; i < len(s.Points); i++ {
		a, b := s.Points[i-1], s.Points[i]
		piece := math.Hypot(b[0]-a[0], b[1]-a[1])
		if left <= piece && piece > 0 {
			return a[0] + (b[0]-a[0])*left/piece, a[1] + (b[1]-a[1])*left/piece, true
		}
		left -= piece
	}
	last := s.Points[len(s.Points)-1]
	return last[0], last[1], true
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

// Schema says which shapes there are.
func (Shape) Schema(s *document.Sketch) document.Schema {
	return s.Define("shape", func() document.Schema {
		point := s.Define("point", func() document.Schema {
			return document.Schema{"type": "array", "items": s.Of(reflect.TypeFor[float64]()), "minItems": 2, "maxItems": 2}
		})
		shape := document.AnyOf(point, document.Schema{"type": "array", "items": point, "minItems": 1})
		shape["description"] = "a point [x, y], or a line [[x, y], [x, y]] from point to point, in metres; a closed line ends where it begins"
		shape["examples"] = []any{[]any{-0.5, 0.7}, []any{[]any{0, 0}, []any{4.8, 0}}}
		return shape
	})
}

// drawing checks what is drawn, not how it looks: runs, cables and leads as lines, everything else as a point.
func (r *reading) drawing() {
	for _, id := range IDs(r.Drawing) {
		section, known := r.elements[id]
		switch {
		case !known && !r.anyLost():
			r.wrong(r.key("drawing", id), "there is no "+id+" to draw", r.nearOr(id, func() []string { return IDs(r.elements) }, "remove it"))
		case known && section != "" && r.usable("drawing", id):
			r.shape(id, section)
		}
		for _, p := range r.Drawing[id].Points {
			if max(p[0], -p[0], p[1], -p[1]) > farthest {
				r.wrong(r.value("drawing", id), id+" is drawn more than 100 km from the origin", "write metres")
				break
			}
		}
	}
}

// farthest, in metres, is how far from the origin anything may be drawn: beyond it numbers are in another unit.
const farthest = 100e3

// shape checks that something is drawn as a line if it is one, and as a point if not.
func (r *reading) shape(id, section string) {
	at, shape := r.value("drawing", id), r.Drawing[id]
	switch line := section == "runs" || section == "cables" || section == "data"; {
	case line && len(shape.Points) == 1:
		r.wrong(at, fmt.Sprintf("%s is %s, and is drawn as a point", id, article(nounOf(section))), "write the line it takes, such as [[0, 0], [4.8, 0]], in metres")
	case line && shape.Length() == 0:
		r.wrong(at, id+" is drawn as a line without length", "let its points lie apart, in metres")
	case !line && len(shape.Points) > 1:
		r.wrong(at, fmt.Sprintf("%s is %s, and is drawn as a line", id, article(nounOf(section))), "write the point where it is, such as [-0.5, 0.7], in metres")
	}
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

// Slack is how far what is drawn may be off a length that is stated before the two disagree: a hundredth of that, and 5 mm at the least (both our choice).
func Slack(stated unit.Metre) unit.Metre { return max(stated/100, 0.005) }

// Disagree reports whether something is drawn longer or shorter than it is stated to be.
func Disagree(drawn, stated unit.Metre) bool {
	return math.Abs(float64(drawn-stated)) > float64(Slack(stated))
}

// Spot is where a mark of a run is drawn, which is a point along its line by its share of the pixels, or any other thing at its point. It is not ok where
// that is not drawn.
func (s *Scheme) Spot(id string, mark int) (at [2]float64, ok bool) {
	shape := s.Drawing[id]
	if run, is := s.Runs[id]; is {
		at[0], at[1], ok = shape.Along(float64(mark) / float64(max(run.Count, 1)))
		return at, ok && len(shape.Points) > 1
	}
	if len(shape.Points) != 1 {
		return at, false
	}
	return shape.Points[0], true
}

// A Drawn is an end of a cable or data lead with the point where it is drawn.
type Drawn struct {
	Ref Ref
	At  [2]float64
}

// Apart is how far the ends of a cable or data lead are drawn apart, straight, and where each is: less than which no way between them can be, for heights only
// add to it. It is not ok where one of them is not drawn.
func (s *Scheme) Apart(id string) (apart unit.Metre, ends [2]Drawn, ok bool) {
	ends[0].Ref, ends[1].Ref = s.Cables[id].From, s.Cables[id].To
	if lead, is := s.Data[id]; is {
		ends[0].Ref, ends[1].Ref = lead.From, lead.To
	}
	for i, end := range ends {
		mark := end.Ref.Station.Mark
		if end.Ref.Kind == RunRef && i == 0 { // data goes on from the end of a run
			mark = s.Runs[end.Ref.Element].Count
		}
		if ends[i].At, ok = s.Spot(end.Ref.Element, mark); !ok {
			return 0, ends, false
		}
	}
	a, b := ends[0].At, ends[1].At
	return unit.Metre(math.Hypot(b[0]-a[0], b[1]-a[1])), ends, true
}

// LeastWay is the least that a cable or data lead may be long by the drawing: as long as its route is drawn, and as far as its ends are apart; 0 where neither is
// drawn.
func (s *Scheme) LeastWay(id string) unit.Metre {
	apart, _, _ := s.Apart(id)
	return max(apart, s.Drawing[id].Length())
}
