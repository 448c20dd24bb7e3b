package remedy

import (
	"fmt"
	"math"
	"slices"

	"farend/conductor"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// Spread feeds a run in so many places that the fuse of each suits the rails and the way that it is in: the pieces of its positive are cut to
// equal lengths that draw no more than such a fuse carries, and each that has no feed gets one, to its middle. None where the pieces are short
// enough, where no fuse suits, where there is not room for all feeds, or where the run leads on to another: its pieces are then no equals.
func Spread(s *study.Study, run string) []finding.Edit {
	tape, count := s.Scheme.Tape(run), s.Scheme.Runs[run].Count
	longest := suitedPixels(s, run)
	landed := landings(s, run)
	if tape == nil || longest < tape.CutEvery || leadsOn(landed) {
		return nil
	}
	cuts := append(slices.Clone(s.Scheme.Runs[run].Cuts), midway(s, run, landed)...)
	was := len(landed)
	w := spreading{taken: map[string]bool{}, board: new(string)}
	for _, p := range stretches(s, run, cuts, landed) {
		edges := p.divided(longest, tape.CutEvery)
		for i := 1; i < len(edges); i++ {
			low, high := edges[i-1], edges[i]
			if i > 1 {
				cuts = append(cuts, scheme.Cut{At: scheme.Station{Pixel: low, Mark: low}, Pole: scheme.Plus})
			}
			if len(edges) > 2 && !slices.ContainsFunc(p.feeds, func(l landing) bool { return l.inside(low, high, count) }) {
				w.add(s, run, low, high, tape.CutEvery)
			}
		}
	}
	edits := w.edits()
	if edits == nil {
		return nil
	}
	for _, f := range w.feeds {
		l, own := f.landing(edits)
		if !own {
			return nil
		}
		landed = append(landed, l)
	}
	if len(landed) == was {
		return nil
	}
	return merged(edits, cutAt(s, run, cuts, landed))
}

// leadsOn reports whether a run leads on to another, or another to it.
func leadsOn(landed []landing) bool {
	return slices.ContainsFunc(landed, func(l landing) bool { return l.near.Kind == scheme.StationRef })
}

// inside reports whether a landing is on a piece between two marks.
func (l landing) inside(low, high, count int) bool {
	return l.mark > low && l.mark < high || l.mark == low && !l.before || l.mark == high && (l.before || high == count)
}

// divided are the marks at which a piece is cut into equal ones no longer than so many pixels, its own ends among them.
func (p stretch) divided(longest, every int) []int {
	many := (p.high - p.low + longest - 1) / longest
	if len(p.feeds) == 0 {
		many = 1
	}
	edges := []int{p.low}
	for i := 1; i < many; i++ {
		at := p.low + (p.high-p.low)*i/many
		at -= at % every
		if at > edges[len(edges)-1] {
			edges = append(edges, at)
		}
	}
	return append(edges, p.high)
}

// spreading is several feeds in the making, each of which knows what those before it took.
type spreading struct {
	feeds []feed
	taken map[string]bool
	board *string
}

func (w *spreading) add(s *study.Study, run string, low, high, every int) {
	mark := (low + high) / 2
	mark -= mark % every
	mark = max(mark, low)
	f := feed{s: s, run: run, mark: mark, station: fmt.Sprintf("%s@px%d", run, mark), taken: w.taken, larger: w.board}
	if mark == 0 {
		f.station = run + "@start"
	}
	f.model, f.root = nearest(s, run, mark)
	f.load = lit(s, run) * unit.Ampere(high-low) / unit.Ampere(s.Scheme.Runs[run].Count)
	w.feeds = append(w.feeds, f)
}

// edits are those of all feeds; none where there is not room for all.
func (w *spreading) edits() (edits []finding.Edit) {
	for i := range w.feeds {
		f := &w.feeds[i]
		f.more, f.lone = len(w.feeds), true
		one := f.from(f.fromWay, f.fromLargerBoard, f.fromSupply)
		if one == nil {
			return nil
		}
		edits = merged(edits, one)
	}
	return edits
}

// suitedPixels is how many pixels of a run draw no more than a fuse carries that suits its rails, and the way that its first feed hangs on; 0
// where no such fuse is known, or nothing says what the rails bear.
func suitedPixels(s *study.Study, run string) int {
	rails, ok := railsOf(s, run)
	drawn := lit(s, run)
	for _, l := range landings(s, run) {
		behind := behindOf(s, l)
		if !ok || drawn <= 0 || len(behind) != 1 {
			continue
		}
		p, keys, fitted := seatOf(s, behind[0])
		if !fitted {
			continue
		}
		most := unit.Ampere(0)
		p.load = 0
		for _, f := range p.kin(s) {
			warm, known := s.Warm(f.part, p.air)
			brought := keys[0] != "fuses" || p.opens(s, f.part) <= p.most // the return terminal of a way bears what any feed sends home by it
			if known && brought && suitsRails(s, p, f.part, rails) {
				most = max(most, unit.Ampere(roomy*study.Continuous*warm.Share*float64(f.part.Rating.Is)))
			}
		}
		return int(math.Floor(float64(s.Scheme.Runs[run].Count) * float64(most/drawn)))
	}
	return 0
}

// railsOf are the rails of a run with what they bear, where its faults were followed and its tape says.
func railsOf(s *study.Study, run string) (*study.Bearer, bool) {
	t := s.Struck()
	if t == nil {
		return nil, false
	}
	for _, i := range t.Of(run) {
		if b := &t.Bearers[i]; b.Kind == study.OfRails && b.Name == run {
			return b, true
		}
	}
	return nil, false
}

// suitsRails reports whether rails that have a fuse to themselves bear what it lets through just below each of its gates, as protection/short-heat
// asks it of them; where nothing says how warm they get, whether it is no larger than they may carry, and surely opens from 1.45 times that.
func suitsRails(s *study.Study, p seat, f *parts.Fuse, rails *study.Bearer) bool {
	curve, ok := network.Curve(s.Scheme.Library, f)
	if !ok {
		return false
	}
	band := curve.Band(f.Rating.Is, min(p.air, s.Scheme.Coldest()))
	if rails.Hot == 0 {
		return f.Rating.Is <= rails.Limit && band.Threshold() <= conductor.Bearable*rails.Limit
	}
	for _, amps := range band.Below() {
		brief := band.Opens(amps) <= conductor.AdiabaticTo && amps <= rails.Brief
		if heat := float64(amps*amps) * float64(band.Melts(amps)); amps > rails.Hot && !brief && heat > study.Worn*float64(rails.Stands) {
			return false
		}
	}
	return true
}
