package remedy

import (
	"cmp"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A stretch is a part of the positive of a run between two of its cuts, with the feeds that land on it.
type stretch struct {
	low, high int
	feeds     []landing // in the order of their marks
}

// CutApart cuts the positive of a run midway between neighbouring feeds that do not hang on one fuse, so that each piece has a fuse to itself, and
// refits those fuses to what each then carries; none where no cut is left to be made.
func CutApart(s *study.Study, run string) []finding.Edit {
	landed := landings(s, run)
	if !stillFed(s, run, midway(s, run, landed)) {
		return nil
	}
	return cutBetweenFeeds(s, run, landed)
}

// cutBetweenFeeds is CutApart with some landings, of which some are still to be made.
func cutBetweenFeeds(s *study.Study, run string, landed []landing) []finding.Edit {
	cuts := midway(s, run, landed)
	if len(cuts) == 0 {
		return nil
	}
	return cutAt(s, run, append(slices.Clone(s.Scheme.Runs[run].Cuts), cuts...), landed)
}

// cutAt is a run with other cuts and landings: returns are cut with the positive where they have to be, and fuses refitted to what each piece carries.
func cutAt(s *study.Study, run string, cuts []scheme.Cut, landed []landing) []finding.Edit {
	cuts, isolated := returnsToo(s, run, cuts, landed)
	edits := append([]finding.Edit{edit(listed(cuts), "runs", run, "cuts")}, refitted(s, run, stretches(s, run, cuts, landed))...)
	if isolated {
		edits = separated(edits, groundsOpened(s, run, func(string) bool { return true }))
	}
	return edits
}

// listed is a list of cuts as a scheme has it.
func listed(cuts []scheme.Cut) []any {
	var list []any
	for _, c := range cuts {
		list = append(list, map[string]any{"at": c.At.String(), "pole": string(cmp.Or(c.Pole, scheme.Both))})
	}
	return list
}

// stretches are the pieces of the positive of a run as some cuts and landings make them. What only leads on from the run does not feed it.
func stretches(s *study.Study, run string, cuts []scheme.Cut, landed []landing) []stretch {
	count := s.Scheme.Runs[run].Count
	marks := []int{0, count}
	for _, c := range cuts {
		if c.Pole.Has(scheme.Plus) {
			marks = append(marks, c.At.Mark)
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	var list []stretch
	for i := 1; i < len(marks); i++ {
		p := stretch{low: marks[i-1], high: marks[i]}
		for _, l := range landed {
			if on := l.mark > p.low && l.mark < p.high || l.mark == p.low && !l.before || l.mark == p.high && (l.before || p.high == count); on && feeds(s, l) {
				p.feeds = append(p.feeds, l)
			}
		}
		slices.SortStableFunc(p.feeds, func(a, b landing) int { return cmp.Compare(a.mark, b.mark) })
		list = append(list, p)
	}
	return list
}

// nearEnd is the end of a landed cable that is not on the run.
func nearEnd(s *study.Study, l landing) scheme.End {
	if s.Scheme.Cables[l.cable].From == l.near {
		return "from"
	}
	return "to"
}

// feeds reports whether something feeds a run by a landing; a new cable does.
func feeds(s *study.Study, l landing) bool {
	if _, there := s.Scheme.Cables[l.cable]; !there {
		return true
	}
	behind := s.Network.Behind(l.cable, nearEnd(s, l))
	return len(behind.Fuses)+len(behind.Bare) > 0
}

// behindOf are the fuses by which a landing feeds its run; that of a new cable is its own.
func behindOf(s *study.Study, l landing) []string {
	c, there := s.Scheme.Cables[l.cable]
	switch {
	case !there:
		return []string{l.cable}
	case c.Fuse != "":
		return []string{l.cable + ".fuse"}
	}
	return s.Network.Behind(l.cable, nearEnd(s, l)).Fuses
}

// midway are the cuts, on cut marks, between neighbouring feeds of one piece that hang on fuses of their own.
func midway(s *study.Study, run string, landed []landing) []scheme.Cut {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return nil
	}
	var cuts []scheme.Cut
	for _, p := range stretches(s, run, s.Scheme.Runs[run].Cuts, landed) {
		for i := 1; i < len(p.feeds); i++ {
			a, b := p.feeds[i-1], p.feeds[i]
			half := (b.mark - a.mark) / tape.CutEvery / 2
			if half == 0 || slices.Equal(behindOf(s, a), behindOf(s, b)) {
				continue
			}
			mark := a.mark + half*tape.CutEvery
			cuts = append(cuts, scheme.Cut{At: scheme.Station{Pixel: mark, Mark: mark}, Pole: scheme.Plus})
		}
	}
	return cuts
}

// stillFed reports whether every run is fed as well as before with more cuts in one.
func stillFed(s *study.Study, run string, cuts []scheme.Cut) bool {
	return fedWith(s, run, append(slices.Clone(s.Scheme.Runs[run].Cuts), cuts...))
}

// fedWith reports whether every run is fed as well as before with other cuts in one.
func fedWith(s *study.Study, run string, cuts []scheme.Cut) bool {
	return fedAsWell(s, s.Scheme.WithCuts(run, cuts))
}

// fedAsWell reports whether another scheme feeds every run as well.
func fedAsWell(s *study.Study, other *scheme.Scheme) bool {
	n, err := network.New(other)
	return err == nil && feedsAsWell(s, n)
}

// feedsAsWell reports whether another network feeds every run as well.
func feedsAsWell(s *study.Study, n *network.Network) bool {
	open := func(f network.Feed) bool { return !f.Closed() }
	for id := range n.Scheme.Runs {
		if slices.ContainsFunc(n.Feeds(id), open) && !slices.ContainsFunc(s.Network.Feeds(id), open) {
			return false
		}
	}
	return true
}

// refitted are the fuses of the feeds of a run fitted to what its pieces carry: the smallest of the family of each that carries its load; larger
// only where the one that is there does not.
func refitted(s *study.Study, run string, pieces []stretch) []finding.Edit {
	plus := func(cable string) unit.Ampere {
		return lasting(s, func(r *network.Result) unit.Ampere { return r.Cables[cable].Plus.RMS })
	}
	old, now := map[string]unit.Ampere{}, map[string]unit.Ampere{}
	for _, p := range pieces {
		for _, l := range p.feeds {
			behind := behindOf(s, l)
			if _, there := s.Scheme.Cables[l.cable]; !there || len(behind) != 1 {
				continue
			}
			old[behind[0]] += plus(l.cable)
			now[behind[0]] += drawn(s, run, p) / unit.Ampere(len(p.feeds))
		}
	}
	var edits []finding.Edit
	for _, name := range scheme.IDs(now) {
		p, keys, ok := seatOf(s, name)
		if !ok {
			continue
		}
		p.load = max(0, p.load-old[name]) + now[name]
		edits = append(edits, p.refit(s, keys)...)
	}
	return edits
}

// drawn is what a piece of a run draws, by its share of the pixels, with what cables that lead on from it carry.
func drawn(s *study.Study, run string, p stretch) unit.Ampere {
	return lit(s, run)*unit.Ampere(p.high-p.low)/unit.Ampere(max(1, s.Scheme.Runs[run].Count)) + ledOn(s, run, p.low, p.high)
}

// seatOf is the place of a fuse by its name, with the path by which it is fitted; it is not ok of one in a port, or where there is to be none.
func seatOf(s *study.Study, name string) (p seat, keys []string, ok bool) {
	at, is := strings.CutSuffix(name, ".fuse")
	if !is {
		return seat{}, nil, false
	}
	if _, cable := s.Scheme.Cables[at]; cable {
		p, keys, ok = inlineSeat(s, at), []string{"cables", at, "fuse"}, true
	} else {
		p, ok = waySeat(s, at)
		keys = []string{"fuses", at}
	}
	return p, keys, ok && p.like != ""
}

// refit puts the smallest fuse of the family of the one that is there into its place, if that is smaller, or if the one that is there does not do.
func (p seat) refit(s *study.Study, keys []string) []finding.Edit {
	now, ok := parts.Get[parts.Fuse](s.Scheme.Library, p.like)
	name := first(p.kin(s))
	other, there := parts.Get[parts.Fuse](s.Scheme.Library, name)
	if !ok || !there || other.Rating.Is == now.Rating.Is || other.Rating.Is > now.Rating.Is && p.takes(s, now) {
		return nil
	}
	return changed(name, p.like, keys...)
}

// kin are the fuses of the family of the one that is there which do all that is asked, the smallest first.
func (p seat) kin(s *study.Study) []named[parts.Fuse] {
	return fitting(s, "fuse", func(name string, f *parts.Fuse) bool { return Alike(name, p.like) && p.takes(s, f) }, func(a, b named[parts.Fuse]) int {
		return cmp.Compare(a.part.Rating.Is, b.part.Rating.Is)
	})
}

// tells reports whether a fuse says when it opens.
func tells(s *study.Study, name string) bool {
	link, ok := parts.Get[parts.Fuse](s.Scheme.Library, name)
	if !ok {
		return false
	}
	_, ok = network.Curve(s.Scheme.Library, link)
	return ok
}

// smaller are the fuses in the places of some that are smaller and still carry their load, of their family if any is, or that are no larger and
// say when they open, where those do not; where one is not chosen yet, the smallest that does.
func smaller(s *study.Study, names []string) []finding.Edit {
	var edits []finding.Edit
	for _, name := range names {
		p, keys, ok := seatOf(s, name)
		if !ok {
			continue
		}
		if _, chosen := parts.Get[parts.Fuse](s.Scheme.Library, p.like); !chosen {
			edits = merged(edits, changed(p.smallest(s), p.like, keys...))
			continue
		}
		for _, link := range []string{first(p.kin(s)), p.smallest(s)} {
			if link != "" && (larger(s, p.like, link) || tells(s, link) && !tells(s, p.like) && !larger(s, link, p.like)) {
				edits = merged(edits, changed(link, p.like, keys...))
			}
		}
	}
	return edits
}
