package commission

import (
	"cmp"
	"slices"
	"strings"

	"farend/finding"
	"farend/scheme"
)

// Places that a probe reaches, and what they are called.

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

// label is what people call a thing, "" where it has no such name.
func (m *maker) label(id string) string {
	for _, label := range []string{m.s.Runs[id].Label, m.s.Supplies[id].Label, m.s.Boards[id].Label} {
		if label != "" {
			return label
		}
	}
	return ""
}
