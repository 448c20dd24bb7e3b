package commission

import (
	"maps"
	"slices"

	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

const restsShared = "as other currents; where feeds share a piece, or supplies copper, each of their lengths and of their reels by itself besides; the clamp"

// A sharing is how the feeds of pieces that several share divide the load among them, and supplies that share copper: the scheme with each of the
// cables a little longer, and a little shorter, than all others, and with each of the runs at either end of the spread of its rails, and of what its
// pixels draw.
type sharing struct {
	outs  map[string]bool // gaps, and supplies
	pairs [][2]*study.Study
}

// share finds what shares, and sketches the scheme with each part of it by itself at either end.
func (m *maker) share() error {
	m.shared = &sharing{outs: map[string]bool{}}
	cables, runs := m.sharers()
	var schemes []*scheme.Scheme
	for _, side := range []float64{1, -1} {
		for _, id := range scheme.IDs(cables) {
			schemes = append(schemes, m.lengthened(id, func(length float64) float64 { return length * (1 + side*lengthSpread) }))
		}
		for _, id := range scheme.IDs(runs) {
			schemes = append(schemes, m.reeled(id, corner{copper: side}), m.reeled(id, corner{current: side}))
		}
	}
	sketches, err := m.base.Sketches(m.ctx, schemes, m.looked)
	half := len(sketches) / 2
	for i := range half {
		m.shared.pairs = append(m.shared.pairs, [2]*study.Study{sketches[i], sketches[half+i]})
	}
	return err
}

// sharers notes the gaps and supplies that share, and finds the cables and runs on which it hangs how they do.
func (m *maker) sharers() (cables, runs map[string]bool) {
	cables, runs = map[string]bool{}, map[string]bool{}
	for _, g := range m.gaps {
		fed := m.st.BackFed(g.out)
		own := 0
		if g.way && g.fuse == "" {
			fed, own = m.n.Fed(g.name), 1
		}
		if !g.fed || g.fuse == "" && !g.way || len(fed.Fuses)+len(fed.Bare) <= own {
			continue
		}
		m.shared.outs[g.out] = true
		cables[g.name] = !g.way
		for _, id := range m.n.Landings(g.name) {
			cables[id] = true
		}
		for at := range m.n.FarEnds(g.name) {
			runs[runOf(at)] = true
		}
	}
	for _, id := range scheme.IDs(m.s.Supplies) {
		if len(m.n.SuppliesOn(id)) < 2 {
			continue
		}
		m.shared.outs[id] = true
		for _, cable := range m.n.Landings(id) {
			cables[cable] = true
		}
		for run := range m.s.Runs {
			runs[run] = runs[run] || slices.Contains(m.n.SuppliesOf(run), id)
		}
	}
	no := func(_ string, is bool) bool { return !is }
	maps.DeleteFunc(cables, no)
	maps.DeleteFunc(runs, no)
	delete(runs, "")
	return cables, runs
}

// reeled is the scheme with a run cut from a reel of its own.
func (m *maker) reeled(run string, c corner) *scheme.Scheme {
	const name = "tape/one-reel"
	other := *m.base.Scheme
	tape := other.Tape(run)
	if tape == nil {
		return m.base.Scheme
	}
	other.Library = other.Library.With(parts.Set{name: c.tape(*tape)})
	other.Runs = maps.Clone(other.Runs)
	r := other.Runs[run]
	r.Tape = name
	other.Runs[run] = r
	return &other
}

// lengthened is the scheme with a cable of another length.
func (m *maker) lengthened(id string, by func(float64) float64) *scheme.Scheme {
	other := *m.base.Scheme
	other.Cables = maps.Clone(other.Cables)
	if c := other.Cables[id]; c.Length != nil {
		length := unit.Metre(by(float64(*c.Length)))
		c.Length = &length
		other.Cables[id] = c
	}
	return &other
}

// boundedShare is a probe of what a gap or supply gives, in all corners; where it shares with others with what each of them does by itself added, at the size
// that the current has in the corner where it is largest.
func (m *maker) boundedShare(in, out string, p probe) bound {
	b := m.bounded(in, p)
	if !b.ok || !m.shared.outs[out] {
		return b
	}
	scale := 1.0
	if b.is > 0 {
		scale = max(1, b.high/b.is)
	}
	down, up := 0.0, 0.0
	for _, pair := range m.shared.pairs {
		low, high := 0.0, 0.0
		for _, st := range pair {
			r := st.Result(in)
			if r == nil || !r.Found() || len(r.Limited) > 0 {
				return bound{}
			}
			shift := p(st.Network, st.Solution(in), r) - b.is
			low, high = min(low, shift), max(high, shift)
		}
		down, up = down+low, up+high
	}
	b.low, b.high = b.low+scale*down, b.high+scale*up
	return b
}
