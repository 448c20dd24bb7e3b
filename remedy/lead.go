package remedy

import (
	"math"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// leads knows how data gets to runs, and how long other leads would be.
type leads struct {
	s     *study.Study
	on    map[string][]string  // runs of a port, in order: of those of which is known how long a frame takes
	to    map[string]string    // lead to a run
	from  map[string]string    // port that sends to a run
	feeds map[string][]string  // boards that feed a run
	land  map[string][]landing // feeds that land on a run
	known map[place]length
	more  map[string]float64 // by how much the leads of a board are longer than they are drawn, at most; of "" those between runs
	shut  map[string]bool    // ports of which is not known what hangs on them
}

// A place is a mark of a run as seen from a board.
type place struct {
	board, run string
	mark       int
}

// A length is that of a lead, and how it is known.
type length struct {
	metres float64
	label  string
	kept   bool // it is the lead that is there, or one just like it
}

func newLeads(s *study.Study) *leads {
	l := &leads{s: s, on: map[string][]string{}, to: map[string]string{}, from: map[string]string{}, feeds: map[string][]string{}, land: map[string][]landing{}, known: map[place]length{}, more: map[string]float64{}, shut: map[string]bool{}}
	for id, d := range s.Scheme.Data {
		l.to[d.To.Element] = id
	}
	for _, id := range scheme.IDs(s.Scheme.Cables) { // once, not for every run
		c := s.Scheme.Cables[id]
		for i, at := range ends(c) {
			if at.Kind == scheme.StationRef && c.Pole.Has(scheme.Plus) {
				l.land[at.Element] = append(l.land[at.Element], landing{id, ends(c)[1-i], at.Station.Mark, at.Station.Before})
			}
		}
	}
	for _, p := range s.Ports() {
		if slices.ContainsFunc(p.Runs, func(run string) bool { return !l.timed(run) }) {
			l.shut[p.ID] = true
			continue
		}
		l.on[p.ID] = p.Runs
		for _, run := range p.Runs {
			l.from[run] = p.ID
			l.feeds[run] = l.boards(run, map[string]bool{})
		}
	}
	l.drawnMore()
	return l
}

// boards are the boards that feed a run, by junctions and other runs too.
func (l *leads) boards(run string, seen map[string]bool) (list []string) {
	if seen[run] {
		return nil
	}
	seen[run] = true
	for _, at := range l.land[run] {
		from := beginning(l.s, at.near)
		if from.Kind == scheme.StationRef {
			list = append(list, l.boards(from.Element, seen)...)
		} else if board := network.BoardOf(from.String()); l.s.Scheme.Boards[board] != (scheme.Board{}) {
			list = append(list, board)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// timed reports whether it is known how long a frame for a run takes.
func (l *leads) timed(run string) bool {
	tape := l.s.Scheme.Tape(run)
	if tape == nil || l.s.Scheme.Runs[run].Count == 0 || tape.CutEvery < 1 {
		return false
	}
	protocol, ok := parts.Get[parts.Protocol](l.s.Scheme.Library, tape.Protocol)
	if !ok {
		return false
	}
	_, ok = protocol.Frame(l.s.Scheme.Runs[run].Count)
	return ok
}

// ports lists the ports of all boards, and those that send though their board is not chosen.
func (l *leads) ports() (list []string) {
	for id := range l.on {
		list = append(list, id)
	}
	for _, board := range scheme.IDs(l.s.Scheme.Boards) {
		if part, ok := l.s.Scheme.BoardPart(board); ok {
			for _, socket := range scheme.IDs(part.Ports) {
				if id := board + "." + socket; !l.shut[id] {
					list = append(list, id)
				}
			}
		}
	}
	slices.SortFunc(list, finding.Natural)
	return slices.Compact(list)
}

// may reports whether a run may hang on a port: of a board that feeds it or sends to it now, or of the only one there is. Where its lead carries the supply
// too, that has to come from where it comes from now.
func (l *leads) may(port, run string) bool {
	board := network.BoardOf(port)
	if d := l.s.Scheme.Data[l.to[run]]; d.Power {
		return d.From.Kind == scheme.PortRef && d.From.Element == board
	}
	return len(l.s.Scheme.Boards) == 1 || network.BoardOf(l.from[run]) == board || slices.Contains(l.feeds[run], board)
}

// drawnMore finds by how much leads are longer than what is drawn between their ends.
func (l *leads) drawnMore() {
	for _, d := range l.s.Scheme.Data {
		from := ""
		direct, ok := 0.0, false
		if d.From.Kind == scheme.PortRef {
			from = d.From.Element
			direct, ok = l.apart(from, 0, d.To.Element, 0)
		} else {
			direct, ok = l.apart(d.From.Element, l.s.Scheme.Runs[d.From.Element].Count, d.To.Element, 0)
		}
		if ok && d.Length != nil {
			l.more[from] = max(l.more[from], float64(*d.Length)-direct)
		}
	}
}

// apart is how far a mark of a run is from a board, or from a mark of another run, along the two directions of the drawing.
func (l *leads) apart(from string, at int, run string, mark int) (float64, bool) {
	a, ok := l.s.Scheme.Spot(from, at)
	b, too := l.s.Scheme.Spot(run, mark)
	return math.Abs(a[0]-b[0]) + math.Abs(a[1]-b[1]), ok && too
}

// entry is a lead from a port to a mark of a run.
func (l *leads) entry(port, run string, mark int) length {
	board := network.BoardOf(port)
	at := place{board, run, mark}
	long, known := l.known[at]
	if !known {
		long = l.way(board, run, mark)
		l.known[at] = long
	}
	return long
}

// way is the length of a lead from a board to a mark of a run: that of the lead which is there; by the drawing where both ends are drawn, and as much more as
// the longest of the other leads from there has; else along what is known to be there, the data of the run or a feed of it, and along
// the run.
func (l *leads) way(board, run string, mark int) length {
	d := l.s.Scheme.Data[l.to[run]]
	if mark == 0 && d.From.Kind == scheme.PortRef && d.From.Element == board && d.Length != nil {
		return length{float64(*d.Length), "", true}
	}
	if direct, ok := l.apart(board, 0, run, mark); ok {
		return laid(direct+l.more[board], scheme.DrawnLength)
	}
	shortest := math.Inf(1)
	if from := l.from[run]; network.BoardOf(from) == board {
		shortest = l.along(from, run) + float64(pitches(l.s, run, mark))
	}
	for _, at := range l.land[run] {
		if way, ok := pathFrom(l.s, board, at); ok {
			shortest = min(shortest, float64(way+pitches(l.s, run, abs(at.mark-mark))))
		}
	}
	return laid(shortest, scheme.EstimatedLength)
}

// along is the way that data takes now from a port to the beginning of a run.
func (l *leads) along(port, run string) (sum float64) {
	for _, r := range l.on[port] {
		if d := l.s.Scheme.Data[l.to[r]]; d.Length != nil {
			sum += float64(*d.Length)
		}
		if r == run {
			break
		}
		sum += float64(pitches(l.s, r, l.s.Scheme.Runs[r].Count))
	}
	return sum
}

// laid is a length as it is written: rounded up to 0.1 m.
func laid(long float64, label string) length {
	if math.IsInf(long, 1) {
		return length{long, label, false}
	}
	return length{max(math.Ceil(long*10-1e-6)/10, 0.1), label, false}
}

// chain is a lead from a mark of a run to one of another: the lead that is there; by the drawing; else along that lead and both runs, or
// back to a board and out again, whichever is shorter.
func (l *leads) chain(from string, end int, to string, mark int) length {
	d := l.s.Scheme.Data[l.to[to]]
	count := l.s.Scheme.Runs[from].Count
	joined := d.From.Kind != scheme.PortRef && d.From.Element == from && d.Length != nil
	if joined && end == count && mark == 0 {
		return length{float64(*d.Length), "", true}
	}
	if d.Power && mark == 0 {
		return length{metres: math.Inf(1)}
	}
	if direct, ok := l.apart(from, end, to, mark); ok {
		return laid(direct+l.more[""], scheme.DrawnLength)
	}
	shortest := math.Inf(1)
	if joined {
		shortest = float64(*d.Length + pitches(l.s, from, count-end) + pitches(l.s, to, mark))
	}
	for board := range l.s.Scheme.Boards {
		shortest = min(shortest, l.entry(board, from, end).metres+l.entry(board, to, mark).metres)
	}
	return laid(shortest, scheme.EstimatedLength)
}
