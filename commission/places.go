package commission

import (
	"fmt"
	"slices"
	"strings"

	"farend/scheme"
)

// Places that a probe reaches, and what they are called.

// A place is a place of a run: a mark, at a cut one side of it.
type place struct {
	mark   int
	before bool // the side before the cut
}

// placeOf is that of something on a run: of the end of a cable, or a capacitor.
func placeOf(ref scheme.Ref) place { return place{ref.Station.Mark, ref.Station.Before} }

// station is a place of a run by its name: E1@start, E1@px58-.
func (m *maker) station(run string, p place) string { return run + "@" + m.mark(run, p) }

// mark is a place of a run by its name on that run: start, px58-.
func (m *maker) mark(run string, p place) string {
	switch count := m.s.Runs[run].Count; {
	case p.mark == 0:
		return "start"
	case p.mark == count:
		return "end"
	case p.before:
		return fmt.Sprintf("px%d-", p.mark)
	}
	return fmt.Sprintf("px%d", p.mark)
}

// findLandings notes, in order, the places of each run on which cables land.
func (m *maker) findLandings() {
	m.landings = map[string][]place{}
	for _, c := range m.s.Cables {
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.StationRef {
				m.landings[ref.Element] = append(m.landings[ref.Element], placeOf(ref))
			}
		}
	}
	for run, list := range m.landings {
		m.landings[run] = alongRun(list)
	}
}

// alongRun is places of one run from data-in to data-out, each once; of the sides of a cut the one after it first.
func alongRun(list []place) []place {
	slices.SortFunc(list, func(a, b place) int {
		switch {
		case a.mark != b.mark:
			return a.mark - b.mark
		case a.before == b.before:
			return 0
		case a.before:
			return 1
		}
		return -1
	})
	return slices.Compact(list)
}

// measurable are the places of a run that a probe reaches: where cables land, its ends, and both sides of each of its cuts.
func (m *maker) measurable(run string) []place {
	list := append(slices.Clone(m.landings[run]), place{}, place{mark: m.s.Runs[run].Count})
	for _, cut := range m.s.Runs[run].Cuts {
		list = append(list, place{cut.At.Mark, true}, place{cut.At.Mark, false})
	}
	return alongRun(list)
}

// places are all that a probe reaches: ways on which something lands, inlets, junctions, stations on which something lands.
func (m *maker) places() (list []string) {
	for _, id := range scheme.IDs(m.s.Boards) {
		list = append(list, inlet(id))
	}
	for _, way := range m.joined.Network.Ways() {
		if len(m.n.Landings(way)) > 0 {
			list = append(list, way)
		}
	}
	list = append(list, scheme.IDs(m.s.Junctions)...)
	for _, run := range scheme.IDs(m.s.Runs) {
		for _, p := range m.landings[run] {
			list = append(list, m.station(run, p))
		}
	}
	return list
}

// before stands in words where a name has a sign that reads like a pole: E1@px58- is the side of the cut before pixel 58.
const before = ", before the cut"

// inlet is that of a board.
func inlet(board string) string { return board + ".in" }

// isInlet reports whether a place is one.
func (m *maker) isInlet(place string) bool {
	return slices.ContainsFunc(scheme.IDs(m.s.Boards), func(id string) bool { return inlet(id) == place })
}

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

// signOf is that of one pole.
func signOf(pole scheme.Pole) string {
	if pole == scheme.Return {
		return "−"
	}
	return "+"
}

func atPole(place, sign string) string {
	if at := spoken(place); at != place {
		return at + ", " + sign
	}
	return place + " " + sign
}

// runOf is the run of a station, "" of anything else.
func runOf(place string) string {
	run, _, is := strings.Cut(place, "@")
	if !is {
		return ""
	}
	return run
}
