package wiring

import (
	"slices"
	"strings"

	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// A diagrammed is a scheme as single-line diagrams see it: things in columns, and the cables between them.
type diagrammed struct {
	st    *study.Study
	s     *scheme.Scheme
	style drafting.Style
	rank  map[string]int      // of supplies, boards, junctions and runs: how many cables from a supply; runs come last
	slots map[string][]slot   // by thing, in the order in which they are drawn
	items map[string][]marked // by run
	amps  map[string]unit.Ampere
	out   map[string]unit.Ampere // what the positive of a cable carries then, where its return carries more
	into  map[string][]string    // data leads by the run that they enter
	from  map[string][]string    // and by the run that they leave
	boxes map[string]string      // the enclosure that holds a thing
}

// A slot is where an end of a cable lands: a place, the cable, and which of its ends. A way that nothing lands on has a slot without a cable.
type slot struct {
	place, cable string
	end          scheme.End
}

// lastRank is that of runs.
const lastRank = 1 << 20

func newDiagrammed(st *study.Study, style drafting.Style) *diagrammed {
	d := &diagrammed{
		st: st, s: st.Scheme, style: style,
		rank: map[string]int{}, slots: map[string][]slot{}, items: map[string][]marked{},
		amps: map[string]unit.Ampere{}, out: map[string]unit.Ampere{}, into: map[string][]string{}, from: map[string][]string{}, boxes: map[string]string{},
	}
	d.rankAll()
	d.slotAll()
	for _, id := range scheme.IDs(d.s.Runs) {
		d.items[id] = d.marksOf(id)
	}
	for _, id := range scheme.IDs(d.s.Data) {
		lead := d.s.Data[id]
		d.into[lead.To.Element] = append(d.into[lead.To.Element], id)
		if lead.From.Kind != scheme.PortRef {
			d.from[lead.From.Element] = append(d.from[lead.From.Element], id)
		}
	}
	for _, id := range scheme.IDs(d.s.Enclosures) {
		for _, held := range d.s.Enclosures[id].Holds {
			d.boxes[held] = id
		}
	}
	for _, id := range scheme.IDs(d.s.Cables) {
		var most network.Cable
		d.amps[id] = d.heaviest(func(r *network.Result) unit.Ampere {
			c := r.Cables[id]
			if max(c.Plus.RMS, c.Return.RMS) > max(most.Plus.RMS, most.Return.RMS) {
				most = c
			}
			return max(c.Plus.RMS, c.Return.RMS)
		})
		if out, back := most.Plus.RMS, most.Return.RMS; d.s.Cables[id].Poles() == 2 && back > out*homeAbove {
			d.out[id] = out
		}
	}
	return d
}

// homeAbove is from which share on a return is told apart from its positive: what differs less no clamp meter shows (common practice, no source).
const homeAbove = 1.02

// homeward says of a sheet with a cable whose return carries more than its positive where the rest comes from; "" of any other.
func (s *spread) homeward() string {
	if !slices.ContainsFunc(s.leads, func(l *lead) bool { return s.out[l.id] > 0 }) {
		return ""
	}
	return "Where the current of + is given apart, − brings home current of other feeds, too, by joined returns or the grounds of data leads."
}

// heaviest is a current in the state, or its peak, in which it is largest.
func (d *diagrammed) heaviest(of func(*network.Result) unit.Ampere) (most unit.Ampere) {
	for _, c := range d.st.Cases() {
		if c.Kind == network.State || c.Kind == network.Peak {
			if r := d.st.Result(c.Name); r != nil {
				most = max(most, of(r))
			}
		}
	}
	return most
}

// ends are the two ends of a cable, in the order of the file.
func ends(c scheme.Cable) [2]scheme.Ref { return [2]scheme.Ref{c.From, c.To} }

// rankAll counts, for all but runs, the cables from the nearest supply, not through tape. What no supply reaches stands where boards do.
func (d *diagrammed) rankAll() {
	beside := map[string][]string{}
	for _, id := range scheme.IDs(d.s.Cables) {
		c := d.s.Cables[id]
		beside[c.From.Element] = append(beside[c.From.Element], c.To.Element)
		beside[c.To.Element] = append(beside[c.To.Element], c.From.Element)
	}
	for _, id := range scheme.IDs(d.s.Runs) {
		d.rank[id] = lastRank
	}
	queue := scheme.IDs(d.s.Supplies)
	for _, id := range queue {
		d.rank[id] = 0
	}
	for ; len(queue) > 0; queue = queue[1:] {
		for _, next := range beside[queue[0]] {
			if _, known := d.rank[next]; !known {
				d.rank[next] = d.rank[queue[0]] + 1
				queue = append(queue, next)
			}
		}
	}
	for _, list := range [][]string{scheme.IDs(d.s.Boards), scheme.IDs(d.s.Junctions)} {
		for _, id := range list {
			if _, known := d.rank[id]; !known {
				d.rank[id] = 1
			}
		}
	}
}

// slotAll lists the slots of everything: of boards the inlet first and then the ways, of runs along the tape.
func (d *diagrammed) slotAll() {
	for _, id := range scheme.IDs(d.s.Cables) {
		for i, ref := range ends(d.s.Cables[id]) {
			d.slots[ref.Element] = append(d.slots[ref.Element], slot{ref.String(), id, [2]scheme.End{scheme.FromEnd, scheme.ToEnd}[i]})
		}
	}
	for _, id := range scheme.IDs(d.s.Boards) {
		landed := map[string]bool{}
		for _, s := range d.slots[id] {
			landed[s.place] = true
		}
		for _, way := range d.waysOf(id) {
			if !landed[way] {
				d.slots[id] = append(d.slots[id], slot{place: way})
			}
		}
		slices.SortStableFunc(d.slots[id], func(a, b slot) int {
			if in, is := a.place == id+".in", b.place == id+".in"; in != is {
				if in {
					return -1
				}
				return 1
			}
			return finding.Natural(a.place, b.place)
		})
	}
	for _, id := range scheme.IDs(d.s.Runs) {
		slices.SortStableFunc(d.slots[id], func(a, b slot) int {
			return d.station(a).Mark*2 - side(d.station(a)) - d.station(b).Mark*2 + side(d.station(b))
		})
	}
}

func side(s scheme.Station) int {
	if s.Before {
		return 1
	}
	return 0
}

func (d *diagrammed) station(s slot) scheme.Station { return d.ref(s).Station }

func (d *diagrammed) ref(s slot) scheme.Ref {
	if s.end == scheme.ToEnd {
		return d.s.Cables[s.cable].To
	}
	return d.s.Cables[s.cable].From
}

// other is the slot at the other end of a cable.
func (d *diagrammed) other(s slot) slot {
	c := d.s.Cables[s.cable]
	if s.end == scheme.ToEnd {
		return slot{c.From.String(), s.cable, scheme.FromEnd}
	}
	return slot{c.To.String(), s.cable, scheme.ToEnd}
}

// waysOf lists the ways of a board in order: those of its part, and those that the scheme speaks of where that is not chosen.
func (d *diagrammed) waysOf(id string) []string {
	found := map[string]bool{}
	if part, ok := d.s.BoardPart(id); ok {
		for way := range part.Ways {
			found[id+"."+way] = true
		}
	}
	for way := range d.s.Fuses {
		if network.BoardOf(way) == id {
			found[way] = true
		}
	}
	for _, c := range d.s.Cables {
		for _, ref := range ends(c) {
			if ref.Kind == scheme.WayRef && ref.Element == id {
				found[ref.String()] = true
			}
		}
	}
	return scheme.IDs(found)
}

// kindOf says what a thing is.
func (d *diagrammed) kindOf(id string) scheme.Kind {
	if _, is := d.s.Supplies[id]; is {
		return scheme.SupplyRef
	}
	if _, is := d.s.Boards[id]; is {
		return scheme.InletRef
	}
	if _, is := d.s.Junctions[id]; is {
		return scheme.JunctionRef
	}
	return scheme.RunRef
}

// elementOf is the thing that a place is on.
func elementOf(place string) string {
	if i := strings.IndexAny(place, ".@"); i >= 0 {
		return place[:i]
	}
	return place
}

// enters reports whether a cable comes to a slot from the left: to an inlet, a junction or a run, from what stands in an earlier column.
func (d *diagrammed) enters(s slot) bool {
	here, far := elementOf(s.place), elementOf(d.other(s).place)
	switch d.kindOf(here) {
	case scheme.SupplyRef:
		return false
	case scheme.InletRef:
		if s.place != here+".in" {
			return false
		}
	}
	return d.rank[far] < d.rank[here]
}

// A marked is something on the bar of a run: a station where copper lands, an end, a cut, a capacitor.
type marked struct {
	place string // of stations
	words string
	mark  int
	order int // at one mark: the side before a cut, the cut, the side after it, what hangs there
	kind  markKind
}

type markKind int

const (
	plainMark markKind = iota
	cutMark
	capacitorMark
	moreMark // not on the tape: how many cuts and capacitors are left out
)

// marksOf lists what is on the bar of a run, from data-in on.
func (d *diagrammed) marksOf(id string) (list []marked) {
	run := d.s.Runs[id]
	add := func(m marked) {
		if !slices.ContainsFunc(list, func(o marked) bool { return m.kind == plainMark && o.kind == plainMark && o.place == m.place }) {
			list = append(list, m)
		}
	}
	add(marked{place: id + "@start", words: d.stationWords(id, scheme.Station{Start: true}), mark: 0, order: 2})
	for _, s := range d.slots[id] {
		at := d.station(s)
		order := 2
		if at.Before {
			order = 0
		}
		add(marked{place: s.place, words: d.stationWords(id, at), mark: at.Mark, order: order})
	}
	for _, cut := range run.Cuts {
		add(marked{words: cut.At.String() + ": " + drafting.PoleWords(cut.Pole) + " cut", mark: cut.At.Mark, order: 1, kind: cutMark})
	}
	for _, c := range scheme.IDs(d.s.Capacitors) {
		if capacitor := d.s.Capacitors[c]; capacitor.At.Element == id {
			words := c
			if part, ok := parts.Get[parts.Capacitor](d.s.Library, capacitor.Part); ok {
				words += " " + layout.Nominal(part.Capacitance.Is) + ", " + layout.Nominal(part.VoltsMax.Is)
			} else {
				words += " not chosen"
			}
			add(marked{words: words, mark: capacitor.At.Station.Mark, order: 3, kind: capacitorMark})
		}
	}
	add(marked{place: id + "@end", words: d.stationWords(id, scheme.Station{End: true}), mark: run.Count, order: 2})
	slices.SortStableFunc(list, func(a, b marked) int {
		if a.mark != b.mark {
			return a.mark - b.mark
		}
		return a.order - b.order
	})
	return list
}
