package commission

import (
	"cmp"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// A gap is a place at which people open the positive by hand: a fuse, a way without one by its plug, the positive of a cable that leaves a supply
// without a fuse.
type gap struct {
	out    string // among the network's Outages
	name   string // of the way or cable
	fuse   string // the part of the fuse; "choose" where it is to be chosen, "" where there is none
	way    bool
	closed []string // what must be closed before it, by out, the nearest to the supply first
	fed    bool     // a supply reaches it at all
}

// words is the gap as people say it.
func (b gap) words() string {
	switch {
	case b.fuse != "":
		return "fuse of " + b.name
	case b.way:
		return "plug of " + b.name
	}
	return "positive of " + b.name
}

// findGaps lists the gaps, those nearest to a supply first.
func (m *maker) findGaps() {
	n := m.joined.Network
	known := n.Outages()
	add := func(b gap, outs ...string) {
		for _, b.out = range outs {
			if slices.Contains(known, b.out) {
				m.gaps = append(m.gaps, b)
				return
			}
		}
	}
	for _, way := range n.Ways() {
		fuse := m.s.Fuses[way]
		if len(n.Landings(way)) > 0 {
			add(gap{name: way, fuse: fuse, way: true}, way+".fuse", way+".plus")
		}
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		if c.Fuse != "" || c.Pole.Has(scheme.Plus) && (c.From.Kind == scheme.SupplyRef || c.To.Kind == scheme.SupplyRef) {
			add(gap{name: id, fuse: c.Fuse}, id+".fuse", id+".plus")
		}
	}
	all := m.unplugged()
	for _, b := range m.gaps {
		all = append(all, b.out)
	}
	m.parted = n.Parted(append(m.switched(), all...))
	for i := range m.gaps {
		b := &m.gaps[i]
		b.closed, b.fed = n.Upstream(b.out, all)
		b.fed = b.fed && !slices.ContainsFunc(b.closed, func(out string) bool { return slices.Contains(m.unplugged(), out) })
	}
	slices.SortStableFunc(m.gaps, func(a, b gap) int {
		return cmp.Or(cmp.Compare(len(a.closed), len(b.closed)), finding.Natural(a.name, b.name))
	})
}

// dark is the case of what is energised with nothing lit.
func (m *maker) dark() network.Case {
	c, _ := m.n.CaseNamed(string(network.Dark))
	return c
}

// aloneIn is the dark case in which a gap is closed, with what must be closed before it, and no other.
func (m *maker) aloneIn(b gap) network.Case {
	open := m.unplugged()
	for _, other := range m.gaps {
		if other.out != b.out && !slices.Contains(b.closed, other.out) {
			open = append(open, other.out)
		}
	}
	c := m.dark().Past(open...)
	c.Name = "dark, " + b.out
	return c
}

// unplugged are the cores of all data leads that begin at a port, among the network's Outages.
func (m *maker) unplugged() (outs []string) {
	for _, id := range m.s.Senders() {
		for _, core := range []string{".ground", ".power"} {
			if slices.Contains(m.joined.Network.Outages(), id+core) {
				outs = append(outs, id+core)
			}
		}
	}
	return outs
}

// switched are the positive cores in which contactors stand that are open at rest, among the network's Outages.
func (m *maker) switched() (outs []string) {
	for _, id := range scheme.IDs(m.s.Contactors) {
		outs = append(outs, m.s.Contactors[id].In+".plus")
	}
	return outs
}

// named is the gap of an outage.
func (m *maker) named(out string) (gap, bool) {
	i := slices.IndexFunc(m.gaps, func(b gap) bool { return b.out == out })
	if i < 0 {
		return gap{}, false
	}
	return m.gaps[i], true
}

// fuseWords is a fuse by its part: "fuse/blade-3A (violet)".
func (m *maker) fuseWords(name string) string {
	if name == "choose" {
		return "a fuse that is still to be chosen"
	}
	part, ok := parts.Get[parts.Fuse](m.s.Library, name)
	switch {
	case !ok:
		return name
	case part.Colour != "":
		return name + ", " + short(part.Rating.Is.String()) + ", " + part.Colour
	}
	return name + ", " + short(part.Rating.Is.String())
}

// findLandings notes, in order, the stations of each run on which cables land.
func (m *maker) findLandings() {
	m.landings = map[string][]string{}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.StationRef && !slices.Contains(m.landings[ref.Element], ref.String()) {
				m.landings[ref.Element] = append(m.landings[ref.Element], ref.String())
			}
		}
	}
	for _, stations := range m.landings {
		alongRun(stations)
	}
}

// landed are the stations of a run on which cables land.
func (m *maker) landed(run string) []string { return slices.Clone(m.landings[run]) }

// alongRun sorts stations of one run from data-in to data-out.
func alongRun(stations []string) {
	rank := func(name string) int {
		switch _, mark, _ := strings.Cut(name, "@"); mark {
		case "start":
			return 0
		case "end":
			return 2
		default:
			return 1
		}
	}
	slices.SortFunc(stations, func(a, b string) int { return cmp.Or(rank(a)-rank(b), finding.Natural(a, b)) })
}

// measurable are the stations of a run that a probe reaches: where cables land, its ends, and both sides of each of its cuts.
func (m *maker) measurable(run string) []string {
	stations := m.landed(run)
	add := func(at string) {
		if !slices.Contains(stations, at) {
			stations = append(stations, at)
		}
	}
	add(run + "@start")
	add(run + "@end")
	for _, cut := range m.s.Runs[run].Cuts {
		add(m.mark(run, cut.At.Mark, true))
		add(m.mark(run, cut.At.Mark, false))
	}
	alongRun(stations)
	return stations
}

// places are all that a probe reaches: ways on which something lands, inlets, junctions, stations on which something lands.
func (m *maker) places() (list []string) {
	for _, id := range scheme.IDs(m.s.Boards) {
		list = append(list, id+".in")
	}
	for _, way := range m.joined.Network.Ways() {
		if len(m.n.Landings(way)) > 0 {
			list = append(list, way)
		}
	}
	list = append(list, scheme.IDs(m.s.Junctions)...)
	for _, run := range scheme.IDs(m.s.Runs) {
		list = append(list, m.landed(run)...)
	}
	return list
}

// labelled is an identifier with what people call it.
func (m *maker) labelled(id string) string {
	label := ""
	switch {
	case m.s.Runs[id].Label != "":
		label = m.s.Runs[id].Label
	case m.s.Supplies[id].Label != "":
		label = m.s.Supplies[id].Label
	case m.s.Boards[id].Label != "":
		label = m.s.Boards[id].Label
	}
	if label == "" {
		return id
	}
	return id + " (" + label + ")"
}

// before stands in words where a name has a sign that reads like a pole: E1@px58- is the side of the cut before pixel 58.
const before = ", before the cut"

// spoken is a place in words: "E1@px58, before the cut".
func spoken(place string) string {
	if at, is := strings.CutSuffix(place, "-"); is {
		return at + before
	}
	return place
}

// spokenAll are places in words.
func spokenAll(places []string) (words []string) {
	for _, at := range places {
		words = append(words, spoken(at))
	}
	return words
}

// poles are the two points of a reading at a place: "E1@px58, before the cut, +".
func poles(place string) [2]string { return [2]string{atPole(place, "+"), atPole(place, "−")} }

func atPole(place, sign string) string {
	if at := spoken(place); at != place {
		return at + ", " + sign
	}
	return place + " " + sign
}

// natural compares names so that W2 comes before W10.
func natural(a, b string) int { return finding.Natural(a, b) }

// runOf is the run of a station, "" of anything else.
func runOf(place string) string {
	run, _, is := strings.Cut(place, "@")
	if !is {
		return ""
	}
	return run
}

// afterAt is a station without its run, "px29"; any other place as it is.
func afterAt(place string) string {
	if _, mark, is := strings.Cut(place, "@"); is {
		return mark
	}
	return place
}
