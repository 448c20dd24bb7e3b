package remedy

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Board puts a board of the library in the place of one that is too weak for what it carries: the smallest that has every way and
// port in use, whose inlet and ways carry what is asked of them, and whose ways have the same holders.
func Board(s *study.Study, board string) []finding.Edit {
	return changed(boardFor(s, board, 0), s.Scheme.Boards[board].Part, "boards", board, "part")
}

// boardFor is that board, with some ways to spare.
func boardFor(s *study.Study, board string, spare int) string {
	now, ok := s.Scheme.BoardPart(board)
	if !ok {
		return ""
	}
	needs := waysInUse(s, board)
	inlet := most(s, func(r *network.Result) unit.Ampere { return max(r.Boards[board].Inlet.RMS, r.Boards[board].Return.RMS) })
	ports, top := portsInUse(s, board), volts(s, board)
	return first(fitting(s, "board", func(_ string, p *parts.Board) bool {
		fits := len(p.Ways) >= len(needs)+spare && float64(inlet) <= roomy*float64(p.Inlet.Amps.Is) && (!p.VoltsMax.Given || top <= p.VoltsMax.Is)
		for way, amps := range needs {
			other, there := p.Ways[way]
			fits = fits && there && other.Holder == now.Ways[way].Holder && float64(amps) <= roomy*float64(other.Amps.Is)
		}
		for _, port := range ports {
			other, there := p.Ports[port]
			fits = fits && there && other.GroundAmps.Is >= now.Ports[port].GroundAmps.Is
		}
		return fits
	}, func(a, b named[parts.Board]) int {
		return cmp.Or(cmp.Compare(len(a.part.Ways), len(b.part.Ways)), cmp.Compare(a.part.Inlet.Amps.Is, b.part.Inlet.Amps.Is), cmp.Compare(len(a.part.Ports), len(b.part.Ports)))
	}))
}

// waysInUse is what each way of a board must carry on which a cable lands or in which a fuse is.
func waysInUse(s *study.Study, board string) map[string]unit.Ampere {
	needs := map[string]unit.Ampere{}
	part, _ := s.Scheme.BoardPart(board)
	for socket := range part.Ways {
		way := board + "." + socket
		if _, fused := s.Scheme.Fuses[way]; fused || len(s.Network.Landings(way)) > 0 {
			needs[socket] = most(s, func(r *network.Result) unit.Ampere { return max(r.Ways[way].Amps.RMS, homeward(s, r, way)) })
		}
	}
	return needs
}

func portsInUse(s *study.Study, board string) []string {
	var ports []string
	for _, d := range s.Scheme.Data {
		if d.From.Kind == scheme.PortRef && d.From.Element == board {
			ports = append(ports, d.From.Socket)
		}
	}
	return ports
}

// Way relieves a way that carries too much: by one more feed of what it feeds, else by moving its cable to a stronger way that is
// free, else by a stronger board.
func Way(s *study.Study, way string) []finding.Edit {
	if edits := shared(s, way); edits != nil {
		return edits
	}
	if edits := moved(s, way); edits != nil {
		return edits
	}
	return Board(s, network.BoardOf(way))
}

// shared is one more feed of what a way feeds, with a fuse of its own, from the board as it is.
func shared(s *study.Study, way string) []finding.Edit {
	for _, run := range fedBy(s, way) {
		if f, ok := feedFor(s, run, lowest(s, run)); ok && f.draws() {
			if edits := f.from(f.fromWay, f.fromSupply); edits != nil {
				return apart(s, run, edits, f)
			}
		}
	}
	return nil
}

// Rails relieves the rails of a run by so many feeds as suit them in a fault, where there is room for these; else by one more in the piece
// whose rails carry most, and in those whose rails carry nearly as much. What spare cores of its data lead bring past every fuse is taken out with it, and supplies that may not work together are parted.
func Rails(s *study.Study, run string) []finding.Edit {
	if edits := Spread(s, run); edits != nil {
		return separated(merged(edits, unpowered(s, run)), asunder(s, s.Network.SuppliesOf(run)))
	}
	const nearly = 0.9
	worst := network.Case{}
	for _, c := range s.Cases() {
		if worst.Name == "" || s.Result(c.Name).Runs[run].RailAmps > s.Result(worst.Name).Runs[run].RailAmps {
			worst = c
		}
	}
	pieces := piecesOf(s, run, worst)
	most := 0.0
	for _, p := range pieces {
		most = max(most, p.amps)
	}
	var pixels []int
	for _, p := range pieces {
		if p.amps >= nearly*most {
			pixels = append(pixels, p.lowest)
		}
	}
	if edits := Feeds(s, run, pixels); edits != nil {
		return separated(merged(edits, unpowered(s, run)), asunder(s, s.Network.SuppliesOf(run)))
	}
	return nil
}

// Dim lights a run by so many feeds as suit its rails in a fault, where there is room for these; else by one more where it is lowest in a case,
// and in the other pieces that are nearly as low.
func Dim(s *study.Study, run string, c network.Case) []finding.Edit {
	if edits := Spread(s, run); edits != nil {
		return edits
	}
	const nearly = 0.2 // of what is lost along the run
	r := s.Result(c.Name).Runs[run]
	var pixels []int
	for _, p := range piecesOf(s, run, c) {
		if p.volts <= float64(r.VoltsLow)+nearly*float64(r.VoltsHigh-r.VoltsLow) {
			pixels = append(pixels, p.lowest)
		}
	}
	return Feeds(s, run, pixels)
}

// A piece is one between two places of a run where copper lands.
type piece struct {
	lowest int     // its lowest pixel, to which current flows from both ends
	volts  float64 // there
	amps   float64 // what its rails carry at the heavier end: what the pixels up to the lowest draw
}

// piecesOf lists the pieces of a run as they are in a case.
func piecesOf(s *study.Study, run string, c network.Case) []piece {
	profile, ok := s.Network.Profile(s.Solution(c.Name), run)
	if !ok {
		return nil
	}
	marks, fed := []int{0, len(profile.Amps)}, map[int]bool{}
	for _, l := range landings(s, run) {
		marks, fed[l.mark] = append(marks, l.mark), true
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	var pieces []piece
	for i := 1; i < len(marks); i++ {
		low, high := marks[i-1], marks[i]
		lowest := low
		for k := low; k < high; k++ {
			if profile.Lowest[k] < profile.Lowest[lowest] {
				lowest = k
			}
		}
		left, right := sum(profile.Amps[low:lowest]), sum(profile.Amps[lowest:high])
		if !fed[low] || !fed[high] { // it gets all from the one end that is fed
			left, right = left+right, 0
		}
		pieces = append(pieces, piece{lowest, profile.Lowest[lowest], max(left, right)})
	}
	return pieces
}

func sum(list []float64) float64 {
	total := 0.0
	for _, x := range list {
		total += x
	}
	return total
}

// ReturnTerminal relieves the return terminal of a way that carries what other ways send out: each feed brings its own return home.
func ReturnTerminal(s *study.Study, way string) []finding.Edit {
	if edits := returned(s, way); edits != nil {
		return edits
	}
	return Way(s, way)
}

// returned gives a return of its own to a feed that sends its current home by a way that brings home more than it sends out.
func returned(s *study.Study, way string) []finding.Edit {
	out := most(s, func(r *network.Result) unit.Ampere { return r.Ways[way].Amps.RMS })
	if home := most(s, func(r *network.Result) unit.Ampere { return homeward(s, r, way) }); float64(home) < 1.05*float64(out) {
		return nil
	}
	for _, run := range fedBy(s, way) {
		for _, id := range scheme.IDs(s.Scheme.Cables) {
			if c := s.Scheme.Cables[id]; c.Pole == scheme.Plus && (lands(c.From, run) || lands(c.To, run)) {
				if edits := WithReturn(s, id); edits != nil {
					return edits
				}
			}
		}
	}
	return nil
}

func lands(ref scheme.Ref, run string) bool {
	return ref.Kind == scheme.StationRef && ref.Element == run
}

// fedBy lists the runs on which the cables behind a place land, or that it is on.
func fedBy(s *study.Study, place string) []string {
	runs := map[string]bool{}
	if run, _, landed := strings.Cut(place, "@"); landed {
		runs[run] = true
	}
	for _, id := range protected(s, place) {
		for _, at := range ends(s.Scheme.Cables[id]) {
			if at.Kind == scheme.StationRef {
				runs[at.Element] = true
			}
		}
	}
	return scheme.IDs(runs)
}

// lowest is the lowest pixel of a run in the lighting case in which it is lowest.
func lowest(s *study.Study, run string) int {
	at, low := 0, unit.Volt(math.Inf(1))
	for _, c := range s.Cases() {
		if r := s.Result(c.Name).Runs[run]; (c.Kind == network.State || c.Kind == network.Peak) && r.VoltsLow < low {
			at, low = r.LowAt, r.VoltsLow
		}
	}
	return at
}

// moved moves the one cable of a way to a free way of its board that is strong enough, with the fuse that it needs there.
func moved(s *study.Study, way string) []finding.Edit {
	landed := s.Network.Landings(way)
	board, now, _ := strings.Cut(way, ".")
	part, ok := s.Scheme.BoardPart(board)
	if !ok || len(landed) != 1 {
		return nil
	}
	amps := waysInUse(s, board)[now]
	for _, socket := range scheme.IDs(part.Ways) {
		free, there := board+"."+socket, part.Ways[socket]
		if !isFree(s, free) || float64(amps) > roomy*float64(there.Amps.Is) {
			continue
		}
		p, _ := waySeat(s, way)
		p.holder, p.most = there.Holder, there.Amps.Is
		link := p.smallest(s)
		if link == "" {
			continue
		}
		side := "from"
		if s.Scheme.Cables[landed[0]].To.String() == way {
			side = "to"
		}
		edits := []finding.Edit{edit(free, "cables", landed[0], side), edit(link, "fuses", free)}
		if s.Scheme.Fuses[way] != "" {
			edits = append(edits, edit(nil, "fuses", way))
		}
		return edits
	}
	return nil
}

// isFree reports whether nothing lands on a way.
func isFree(s *study.Study, way string) bool { return len(s.Network.Landings(way)) == 0 }

// homeward is the current through the return terminal of a way: the rms of all cables there that bring current home, or of all that
// lead it away, added up, whichever is more; as board/way-current has it.
func homeward(s *study.Study, r *network.Result, way string) unit.Ampere {
	var home, away unit.Ampere
	for _, id := range s.Network.Landings(way) {
		back := r.Cables[id].Return
		if (back.Mean >= 0) == (s.Scheme.Cables[id].From.String() == way) {
			home += back.RMS
		} else {
			away += back.RMS
		}
	}
	return max(home, away)
}
