package plan

import (
	"farend/draw"
	"farend/sheet/drafting"
	"farend/study"
)

// A Figure is what a sheet shows of a plan: the ways of its links, and where links land on runs.
type Figure struct {
	Window   *draw.Box // of a closer look
	Scale    float64
	Ways     []Way
	Landings []draw.Point
	Tape     []drafting.Trail
	Things   map[string]draw.Box // of those whose name stands in their symbol
}

// A Way is a link on paper, with the symbols at its ends, and those that it does not join.
type Way struct {
	ID      string
	Drawn   bool // its route is that of the scheme
	Trail   drafting.Trail
	Symbols []draw.Box
	Others  map[string]draw.Box
}

// Figures are the first sheet of a plan and its closer looks.
func Figures(st *study.Study, style drafting.Style) (list []Figure) {
	p := newPlan(st, style)
	p.drawAll()
	figures := []*figure{&p.main}
	for i := range p.closer.details {
		figures = append(figures, &p.closer.details[i].figure)
	}
	for _, f := range figures {
		one := Figure{Window: f.window, Scale: f.scale, Things: map[string]draw.Box{}}
		for _, s := range f.spots {
			if s.named() {
				one.Things[s.id] = s.box()
			}
		}
		for _, r := range f.routes {
			if r.trail == nil {
				continue
			}
			way := Way{ID: r.id, Drawn: len(r.route) > 1, Trail: r.trail, Others: map[string]draw.Box{}}
			for _, id := range []string{r.from.Element, r.to.Element} {
				if s := f.spot(id); s != nil {
					way.Symbols = append(way.Symbols, s.box())
				}
			}
			for _, s := range f.spots {
				if s.foreign(r.plannedLink) {
					way.Others[s.id] = s.box()
				}
			}
			one.Ways = append(one.Ways, way)
		}
		for _, r := range f.runs {
			one.Tape = append(one.Tape, r.trail)
			for _, m := range r.marks {
				if at, _ := r.mark(m); f.shows(at) {
					one.Landings = append(one.Landings, at)
				}
			}
		}
		list = append(list, one)
	}
	return list
}
