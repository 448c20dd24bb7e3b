package plan

import (
	"cmp"
	"math"
	"slices"

	"farend/scheme"
	"farend/sheet/drafting"
	"farend/unit"
)

// A planned is a scheme as a plan sees it: runs, things and what joins them, with the places in metres that the scheme's drawing gives.
type planned struct {
	runs  []plannedRun
	spots []plannedSpot
	links []plannedLink

	bridged []string // ways without a fuse that a cable lands on, with the cable
}

// linksThat are the names of some links.
func (m planned) linksThat(is func(plannedLink) bool) (ids []string) {
	for _, l := range m.links {
		if is(l) {
			ids = append(ids, l.id)
		}
	}
	return ids
}

// A plannedRun is a run with its line, none where it is not drawn. Its marks are its ends and where something lands.
type plannedRun struct {
	id, label string
	metres    float64
	count     int
	line      [][2]float64
	marks     []int
	cuts      []scheme.Cut
}

// A spotKind is what a thing is.
type spotKind int

const (
	supplySpot spotKind = iota
	boardSpot
	junctionSpot
	contactorSpot
	capacitorSpot
	enclosureSpot
)

func (k spotKind) String() string {
	return [...]string{"supply", "board", "junction", "contactor", "capacitor", "enclosure"}[k]
}

// A plannedSpot is a thing at a point.
type plannedSpot struct {
	id, label string
	kind      spotKind
	at        *[2]float64 // nil where it is not drawn
	holds     []string    // of an enclosure
	in        string      // of a contactor: its cable
	on        scheme.Ref  // of a capacitor
}

// A plannedLink is a cable or data lead, with its route where that is drawn.
type plannedLink struct {
	id, label string
	data      bool
	power     bool // of a data lead: it carries the supply in its spare cores, past the fuses
	pole      scheme.Pole
	fuse      scheme.End // the end that an inline fuse is at; empty where it has none
	from, to  scheme.Ref
	route     [][2]float64
}

// newPlanned reads a scheme.
func newPlanned(s *scheme.Scheme) (m planned) {
	landed := map[string][]int{}
	land := func(r scheme.Ref) {
		if r.Kind == scheme.StationRef {
			landed[r.Element] = append(landed[r.Element], r.Station.Mark)
		}
	}
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		land(c.From)
		land(c.To)
		fuse := scheme.End("")
		if c.Fuse != "" {
			fuse = cmp.Or(c.FuseAt, scheme.FromEnd)
		}
		for _, end := range []scheme.Ref{c.From, c.To} {
			if drafting.Bridged(s, end, id) {
				m.bridged = append(m.bridged, end.String()+" ("+id+")")
			}
		}
		m.links = append(m.links, plannedLink{id: id, label: c.Label, pole: c.Pole, fuse: fuse, from: c.From, to: c.To, route: s.Drawing[id].Points})
	}
	for _, id := range scheme.IDs(s.Data) {
		d := s.Data[id]
		m.links = append(m.links, plannedLink{id: id, label: d.Label, data: true, power: d.Power, from: d.From, to: d.To, route: s.Drawing[id].Points})
	}
	for _, id := range scheme.IDs(s.Runs) {
		r := s.Runs[id]
		marks := append(landed[id], 0, r.Count)
		slices.Sort(marks)
		m.runs = append(m.runs, plannedRun{id: id, label: r.Label, metres: float64(*r.Length), count: r.Count, line: s.Drawing[id].Points, marks: slices.Compact(marks), cuts: r.Cuts})
	}
	m.addSpots(s)
	return m
}

func (m *planned) addSpots(s *scheme.Scheme) {
	add := func(kind spotKind, id, label string) *plannedSpot {
		spot := plannedSpot{id: id, label: label, kind: kind}
		if points := s.Drawing[id].Points; len(points) > 0 {
			spot.at = &points[0]
		}
		m.spots = append(m.spots, spot)
		return &m.spots[len(m.spots)-1]
	}
	for _, id := range scheme.IDs(s.Supplies) {
		add(supplySpot, id, s.Supplies[id].Label)
	}
	for _, id := range scheme.IDs(s.Boards) {
		add(boardSpot, id, s.Boards[id].Label)
	}
	for _, id := range scheme.IDs(s.Junctions) {
		add(junctionSpot, id, s.Junctions[id].Label)
	}
	for _, id := range scheme.IDs(s.Contactors) {
		add(contactorSpot, id, s.Contactors[id].Label).in = s.Contactors[id].In
	}
	for _, id := range scheme.IDs(s.Capacitors) {
		add(capacitorSpot, id, s.Capacitors[id].Label).on = s.Capacitors[id].At
	}
	for _, id := range scheme.IDs(s.Enclosures) {
		add(enclosureSpot, id, s.Enclosures[id].Label).holds = s.Enclosures[id].Holds
	}
	m.unrepeat()
}

// unrepeat leaves out the label of what is in an enclosure where the enclosure says the same.
func (m *planned) unrepeat() {
	for _, box := range m.spots {
		for i, spot := range m.spots {
			if box.label != "" && spot.label == box.label && slices.Contains(box.holds, spot.id) {
				m.spots[i].label = ""
			}
		}
	}
}

// anchored are the things that have a place, or hang on something that has: by an enclosure, a cable or lead, or a run that is drawn.
func (m planned) anchored() map[string]bool {
	held := map[string]bool{}
	for _, r := range m.runs {
		held[r.id] = r.line != nil
	}
	for _, s := range m.spots {
		held[s.id] = s.at != nil || s.kind == capacitorSpot
	}
	routed := map[string]bool{}
	for more := true; more; {
		more = false
		join := func(a, b string) {
			for _, pair := range [][2]string{{a, b}, {b, a}} {
				if from, to := pair[0], pair[1]; held[from] && !held[to] && !m.isRun(to) {
					held[to], more = true, true
				}
			}
		}
		for _, l := range m.links {
			join(l.from.Element, l.to.Element)
			if l.route != nil && !routed[l.id] {
				routed[l.id] = true
				for _, end := range []string{l.from.Element, l.to.Element} {
					if !held[end] && !m.isRun(end) {
						held[end], more = true, true
					}
				}
			}
		}
		for _, s := range m.spots {
			for _, id := range s.holds {
				join(s.id, id)
			}
		}
	}
	for _, s := range m.spots {
		if i := slices.IndexFunc(m.links, func(l plannedLink) bool { return l.id == s.in }); s.kind == contactorSpot && s.at == nil {
			held[s.id] = i >= 0 && held[m.links[i].from.Element] && held[m.links[i].to.Element]
		}
	}
	return held
}

func (m planned) isRun(id string) bool {
	return slices.ContainsFunc(m.runs, func(r plannedRun) bool { return r.id == id })
}

// drawnAt are all points of the drawing.
func (m planned) drawnAt() (points [][2]float64) {
	for _, r := range m.runs {
		points = append(points, r.line...)
	}
	for _, l := range m.links {
		points = append(points, l.route...)
	}
	for _, s := range m.spots {
		if s.at != nil {
			points = append(points, *s.at)
		}
	}
	return points
}

// undrawn are the runs that are not drawn.
func (m planned) undrawn() (runs []plannedRun) {
	for _, r := range m.runs {
		if r.line == nil {
			runs = append(runs, r)
		}
	}
	return runs
}

// extent is the least and the greatest of both coordinates of points.
func extent(points [][2]float64) (low, high [2]float64) {
	low, high = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		for i := range p {
			low[i], high[i] = min(low[i], p[i]), max(high[i], p[i])
		}
	}
	return low, high
}

// unlike reports whether a run is drawn longer or shorter than it is.
func (r plannedRun) unlike() bool {
	return r.line != nil && scheme.Disagree(unit.Metre(drafting.DrawnLength(r.line)), unit.Metre(r.metres))
}

// from is where along a run a mark is, in metres of tape from data-in.
func (r plannedRun) from(mark int) float64 {
	return r.metres * float64(mark) / float64(cmp.Or(r.count, 1))
}
