package sizing

import (
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/study"
)

// mend changes the plan for what was found, and reports whether it could change anything.
func (p *plan) mend(st *study.Study, found []finding.Finding) bool {
	changed, richer, low, gentler, roomier := false, map[*run]bool{}, false, false, false
	var lossy []finding.Finding
	var thin []*group
	var harmful []int
	for _, f := range found {
		if r := p.runOf(f.Subject); r != nil {
			switch {
			case f.Rule == voltageDrop:
				lossy = append(lossy, f)
			case f.Rule == shortHeat && f.Subject == r.id && p.gentle > 0:
				gentler = true
			default:
				richer[r] = true
				low = low || f.Rule == "light/pixel-voltage" && r.riches >= rich
			}
			continue
		}
		for _, g := range p.groups {
			switch f.Subject {
			case g.supply, g.board:
				roomier = true
			case g.feeder:
				switch {
				case f.Rule == farShort: // at the end of so short a lead too little flows for its fuse only where the supply gives no more
					roomier = true
				case f.Rule == shortHeat && harmsContact(st, g.feeder):
					harmful = append(harmful, g.fuse)
				default:
					thin = append(thin, g)
				}
			}
		}
	}
	if harmful != nil && p.shun(slices.Max(harmful)) {
		return true
	}
	if gentler { // of all runs, for they are of one tape
		p.gentle--
		return true
	}
	if low && p.lift < mostLift { // where more copper hardly helps, the tape wants more than its supply's nominal voltage
		p.lift += 0.01
		return true
	}
	changed = p.lossless(st, lossy, richer) || changed
	for r := range richer {
		changed = p.richer(r) || changed
	}
	changed = p.thickerInlets(thin) || changed
	if roomier {
		changed = p.roomier(1.15) || changed
	}
	return changed
}

const (
	voltageDrop = "protection/voltage-drop"
	shortHeat   = "protection/short-heat"
	farShort    = "protection/far-short"
)

// harmsContact reports whether what a fault harms most of a cable is a contact of it, such as the holder of its fuse, and no core: a thicker
// cable is then no help, and a fuse in a stouter holder may be.
func harmsContact(st *study.Study, cable string) bool {
	t := st.Struck()
	if t == nil {
		return false
	}
	var worst study.Harm
	for _, i := range t.Of(cable) {
		if h := t.Harm(i); worst.Bearer == nil || h.Verdict.Grade > worst.Verdict.Grade {
			worst = h
		}
	}
	return worst.Bearer != nil && worst.Bearer.Kind == study.OfContact
}

// shun takes one of the inline fuses from the shelf, so that the next is used for it, which may have the same rating in another holder. The
// last is never taken.
func (p *plan) shun(link int) bool {
	if link == len(p.inlines)-1 {
		return p.roomier(1.15)
	}
	p.inlines = slices.Delete(p.inlines, link, link+1)
	for _, g := range p.groups {
		if g.fuse > link {
			g.fuse--
		}
	}
	return true
}

// roomier gives supplies and boards more over what is drawn, and so in the end fewer runs a group. What was found may name many of them:
// it is one step all the same.
func (p *plan) roomier(factor float64) bool {
	p.spare *= factor
	return p.spare < 4
}

// lossless thickens feeds that lose too much. Where no cable is thick enough, a run that loses much in its feeds is fed more richly, and
// where most is lost before them the lead to their board is thickened. What a run that is fed more richly anyway still loses, the next
// round finds.
func (p *plan) lossless(st *study.Study, found []finding.Finding, richer map[*run]bool) (changed bool) {
	also := map[*run]bool{}
	var relieved []*group
	for _, f := range found {
		r := p.runOf(f.Subject)
		if richer[r] {
			continue
		}
		switch own := float64(st.Result(f.Case).Cables[f.Subject].Drop); {
		case p.thicker(r, f, own):
			changed = true
		case own > *f.Limit/3:
			also[r] = true
		default:
			relieved = append(relieved, p.groupOf(r))
		}
	}
	for r := range also {
		richer[r] = true
	}
	return p.thickerInlets(relieved) || changed
}

// thicker gives the feed that was found to lose too much, of which so much in itself, a cable so thick that it does so no more. It reports
// whether there is any.
func (p *plan) thicker(r *run, f finding.Finding, own float64) bool {
	const aim = 0.98 // of the limit: with thicker feeds a little more flows
	i := slices.IndexFunc(r.feeds, func(fed feed) bool { return fed.id == f.Subject })
	if i < 0 {
		return false
	}
	_, least := feeding(r.riches)
	now := min(least+r.feeds[i].thick, len(p.cables)-1)
	for size := now + 1; size < len(p.cables); size++ {
		saved := own * (1 - float64(p.cables[size].part.R20.Is/p.cables[now].part.R20.Is))
		if *f.Value-saved <= aim**f.Limit {
			r.feeds[i].thick = size - least
			return true
		}
	}
	return false
}

// groupOf is the group that a run is in.
func (p *plan) groupOf(r *run) *group {
	for _, g := range p.groups {
		if slices.Contains(g.runs, r) {
			return g
		}
	}
	return nil
}

// From so richly fed on, supplies are trimmed up rather than runs fed still more richly, as far as this.
const (
	rich     = 4
	mostLift = 0.04
)

// richer feeds a run more richly; where it has all that is sensible, packing will cut it.
func (p *plan) richer(r *run) bool {
	if r.riches > mostRiches {
		return false
	}
	r.riches++
	return true
}

// thickerInlets thickens the leads to boards where those of some groups want it; where there is no thicker cable, there will be fewer runs a
// group.
func (p *plan) thickerInlets(groups []*group) bool {
	changed, thickest := false, false
	for _, g := range groups {
		if g.cable+1 < len(p.cables) {
			p.inlet, changed = max(p.inlet, g.cable+1), true
		} else {
			thickest = true
		}
	}
	if thickest {
		changed = p.roomier(1.25) || changed
	}
	return changed
}

// runOf is the run that a subject is, or that it feeds: a run, the cable or the way of a feed.
func (p *plan) runOf(subject string) *run {
	way, _, _ := strings.Cut(subject, "@")
	for _, r := range p.runs {
		if r.id == way {
			return r
		}
		for _, f := range r.feeds {
			if f.id == way || f.way == way {
				return r
			}
		}
	}
	return nil
}

// fuses chooses every fuse for the currents that were solved, and reports whether all were as they should be: the smallest that
// carries the load at three quarters of its rating and does not open when the cap fails, and none above what its cable may
// carry (IEC 60364-4-43: In ≤ Iz) or than what rails bear a short behind.
func (p *plan) fuses(st *study.Study) (fits bool) {
	fits = true
	var thin []*group
	for _, g := range p.groups {
		rated := p.fuseFor(&g.fuse, p.inlines, heaviest(st, func(r *network.Result) float64 { return float64(r.Cables[g.feeder].Plus.RMS) }))
		fits = fits && rated
		if float64(p.inlines[g.fuse].part.Rating.Is) > carries(st, g.feeder) {
			fits = false
			thin = append(thin, g)
		}
		for _, r := range g.runs {
			for k := range r.feeds {
				f := &r.feeds[k]
				rated := p.fuseFor(&f.fuse, p.blades, heaviest(st, func(r *network.Result) float64 { return float64(r.Ways[f.way].Amps.RMS) }))
				fits = fits && rated
				rating := p.blades[f.fuse].part.Rating.Is
				if way, _ := st.Scheme.WayPart(f.way); float64(rating) > carries(st, f.id) || rating > way.Amps.Is || f.fuse > p.gentle {
					fits = false
					p.richer(r)
					break
				}
			}
		}
	}
	p.thickerInlets(thin)
	return fits
}

// fuseFor sets which of the fuses carries so much, and reports whether it was that already.
func (s *shelf) fuseFor(which *int, fuses []named[parts.Fuse], amps float64) bool {
	was := *which
	*which = s.smallest(fuses, amps)
	return *which == was
}

// capShare is the share of what flows with the cap failed that a fuse is chosen for.
const capShare = 0.75

// heaviest is the largest current in any lighting state, or three quarters of that with the cap failed where it is more.
func heaviest(st *study.Study, of func(*network.Result) float64) float64 {
	most := 0.0
	for _, c := range st.Cases() {
		share := 1.0
		if c.Kind == network.CapFailed {
			share = capShare
		}
		most = max(most, share*of(st.Result(c.Name)))
	}
	return most
}

// carries is what a cable may carry where it lies.
func carries(st *study.Study, cable string) float64 {
	return float64(st.Result(st.Cases()[0].Name).Cables[cable].Iz)
}
