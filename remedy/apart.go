package remedy

import (
	"cmp"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// homesApart cuts both rails of a run between neighbouring landings of which one loses its way home with something out and the other keeps it, and
// opens the grounds of the data leads by which what is cut off could still come home: it then has no return, and goes dark for all to see. None where
// nothing is left to be cut, or some piece would not be fed as well as before.
func homesApart(s *study.Study, run, out string) []finding.Edit {
	r, tape := s.Scheme.Runs[run], s.Scheme.Tape(run)
	if tape == nil {
		return nil
	}
	sound, left := s.Network.Homing(""), s.Network.Homing(out)
	cuts, more := slices.Clone(r.Cuts), false // more pieces of the positive
	changed := false
	landed := homewards(s, run)
	for i := 1; i < len(landed); i++ {
		a, b := landed[i-1], landed[i]
		if comes(s, left, a) == comes(s, left, b) || homeOf(s, sound, a) != homeOf(s, sound, b) || cutBetween(r, a, pixelOf(b)) {
			continue
		}
		k := slices.IndexFunc(cuts, func(c scheme.Cut) bool { return c.Pole == scheme.Plus && apartAt(a, b, c.At.Mark) })
		half := (b.mark - a.mark) / tape.CutEvery / 2
		switch {
		case k >= 0:
			cuts[k].Pole = scheme.Both
		case half > 0:
			mark := a.mark + half*tape.CutEvery
			cuts, more = append(cuts, scheme.Cut{At: scheme.Station{Pixel: mark, Mark: mark}, Pole: scheme.Both}), true
		default:
			continue
		}
		changed = true
	}
	if !changed || !fedWith(s, run, cuts) {
		return nil
	}
	slices.SortStableFunc(cuts, func(a, b scheme.Cut) int { return cmp.Compare(a.At.Mark, b.At.Mark) })
	edits := []finding.Edit{edit(listed(cuts), "runs", run, "cuts")}
	if more {
		edits = append(edits, refitted(s, run, stretches(s, run, cuts, landings(s, run)))...)
	}
	return separated(edits, groundsOpened(s, run, func(lead string) bool {
		_, home := left.OfLead(lead)
		return home || s.Scheme.Data[lead].From.Kind != scheme.PortRef
	}))
}

// groundsOpened opens the grounds of some data leads of a run, where its data keeps a reference.
func groundsOpened(s *study.Study, run string, of func(lead string) bool) []finding.Edit {
	var edits []finding.Edit
	for _, id := range scheme.IDs(s.Scheme.Data) {
		if d := s.Scheme.Data[id]; (d.To.Element == run || d.From.Element == run) && of(id) {
			edits = separated(edits, Homeless(s, id))
		}
	}
	return edits
}

// returnsToo is the cuts of a run in order, of the return as well as the positive where it has to be: between feeds that do not come from one board,
// or all that hangs on a board would come home along the tape when the return of its inlet is lost; and where what is left would not bear what comes
// home when the return of one is lost, which is isolated then and has no home but by data grounds.
func returnsToo(s *study.Study, run string, cuts []scheme.Cut, landed []landing) (all []scheme.Cut, isolated bool) {
	all, landed = slices.Clone(cuts), slices.Clone(landed)
	slices.SortStableFunc(all, func(a, b scheme.Cut) int { return cmp.Compare(a.At.Mark, b.At.Mark) })
	slices.SortStableFunc(landed, func(a, b landing) int { return cmp.Compare(pixelOf(a), pixelOf(b)) })
	pieces, homes := stretches(s, run, all, landed), s.Network.Homing("")
	for i, c := range all {
		after := slices.IndexFunc(landed, func(l landing) bool { return pixelOf(l) >= c.At.Mark })
		if c.Pole != scheme.Plus || after <= 0 {
			continue
		}
		a, b := landed[after-1], landed[after]
		burdened := burdens(s, run, pieces, a, b) || burdens(s, run, pieces, b, a)
		if referred(s, homes, a, b) && (burdened || board(s, a) != board(s, b)) {
			all[i].Pole, isolated = scheme.Both, isolated || burdened
		}
	}
	return all, isolated
}

// board is the board or supply that a feed comes from.
func board(s *study.Study, l landing) string { return network.BoardOf(beginning(s, l.near).String()) }

// referred reports whether copper joins the returns of two feeds besides the tape: else that is the reference of the data.
func referred(s *study.Study, homes network.Homing, a, b landing) bool {
	one, is := homes.OfPlace(board(s, a))
	other, too := homes.OfPlace(board(s, b))
	return is && too && one == other
}

// burdens reports whether the rails of a run, or the way of one of its feeds, would not bear what comes home by them when the return of another is
// lost, at full drive.
func burdens(s *study.Study, run string, pieces []stretch, lost, left landing) bool {
	way := beginning(s, lost.near).String()
	others := most(s, func(r *network.Result) unit.Ampere { return max(0, r.Ways[way].Amps.RMS-r.Cables[lost.cable].Plus.RMS) })
	home := others + asked(s, run, pieces, lost) + asked(s, run, pieces, left)
	if rails, ok := railsOf(s, run); ok && home > max(rails.Hot, rails.Limit) {
		return true
	}
	part, ok := s.Scheme.WayPart(beginning(s, left.near).String())
	return ok && home > part.Amps.Lower()
}

// asked is what a feed of a run sends at full drive, by its share of the piece that it lands on.
func asked(s *study.Study, run string, pieces []stretch, l landing) unit.Ampere {
	for _, p := range pieces {
		if slices.ContainsFunc(p.feeds, func(f landing) bool { return f.cable == l.cable }) {
			share := float64(p.high-p.low) / float64(max(1, s.Scheme.Runs[run].Count)*len(p.feeds))
			return asks(s, run) * unit.Ampere(share)
		}
	}
	return 0
}

// homewards are the landings of cables with a return on a run, in the order of their marks.
func homewards(s *study.Study, run string) []landing {
	list := landed(s, run, scheme.Return)
	slices.SortStableFunc(list, func(a, b landing) int { return cmp.Compare(pixelOf(a), pixelOf(b)) })
	return list
}

// homeOf is the copper by which what a cable takes from the run that it lands on comes home, −1 if by none.
func homeOf(s *study.Study, homes network.Homing, l landing) int {
	far := scheme.End("from")
	if nearEnd(s, l) == "from" {
		far = "to"
	}
	if home, ok := homes.OfCable(l.cable, far); ok {
		return home
	}
	return -1
}

// comes reports whether it comes home.
func comes(s *study.Study, homes network.Homing, l landing) bool { return homeOf(s, homes, l) >= 0 }

// pixelOf is the pixel on whose side of its mark something lands.
func pixelOf(l landing) int {
	if l.before {
		return l.mark - 1
	}
	return l.mark
}

// apartAt reports whether a cut at a mark is between two landings, in order.
func apartAt(a, b landing, mark int) bool { return pixelOf(a) < mark && mark <= pixelOf(b) }
