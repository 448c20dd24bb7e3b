package commission

import (
	"maps"
	"math"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

const restsShared = "as other currents; where feeds share a piece, or supplies copper, each of their feeds and of their reels by itself at either end; the clamp"

// A sharing is how the feeds of pieces that several share divide the load among them, and supplies that share copper: the scheme with one thing at
// either end of its spread by itself, feeds and runs in turn.
type sharing struct {
	outs  map[string]bool // gaps, and supplies
	alone []variation
}

// A variation is one thing at the upper and at the lower end of its spread by itself; of shows at which end a corner has it.
type variation struct {
	ends [2]*study.Study
	of   func(corner) float64
}

// share finds what shares, and sketches the scheme with each part of it by itself at either end.
func (m *maker) share() error {
	m.shared = &sharing{outs: map[string]bool{}}
	cables, runs := m.sharers()
	copper, current := func(c corner) float64 { return c.copper }, func(c corner) float64 { return c.current }
	var schemes []*scheme.Scheme
	add := func(of func(corner) float64, at func(side float64) *scheme.Scheme) {
		schemes = append(schemes, at(1), at(-1))
		m.shared.alone = append(m.shared.alone, variation{of: of})
	}
	for _, id := range scheme.IDs(cables) {
		add(copper, func(side float64) *scheme.Scheme { return m.laidAlone(id, side) })
	}
	for _, id := range scheme.IDs(runs) {
		add(copper, func(side float64) *scheme.Scheme { return m.reeled(id, corner{copper: side}) })
		add(current, func(side float64) *scheme.Scheme { return m.reeled(id, corner{current: side}) })
	}
	sketches, err := m.base.Sketches(m.ctx, schemes, m.looked)
	if err != nil {
		return err
	}
	for i := range m.shared.alone {
		m.shared.alone[i].ends = [2]*study.Study{sketches[2*i], sketches[2*i+1]}
	}
	return nil
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

// laidAlone is the scheme with one cable at an end of its spread, and with it what is in its way: contacts and fuses of its own, the way on which it lands.
func (m *maker) laidAlone(id string, side float64) *scheme.Scheme {
	const own = "/one-feed"
	turned, other := corner{copper: side}, *m.base.Scheme
	c := turned.laid(m.s, other.Cables[id])
	terminal := terminalOf(m.s, c)
	set := parts.Set{terminalPart(terminal): anyTerminal(terminal)}
	if part, ok := parts.Get[parts.Cable](other.Library, c.Part); ok {
		c.Part = "cable" + own
		set[c.Part] = turned.cable(*part)
	}
	for _, plug := range []*string{&c.Ends.From, &c.Ends.To} {
		if part, ok := parts.Get[parts.Connector](other.Library, *plug); ok {
			*plug += own
			set[*plug] = turned.connector(*part)
		}
	}
	if part, ok := parts.Get[parts.Fuse](other.Library, c.Fuse); ok {
		c.Fuse = "fuse" + own
		set[c.Fuse] = turned.fuse(*part, other.Library)
	}
	other.Cables = maps.Clone(other.Cables)
	other.Cables[id] = c
	for _, at := range []scheme.Ref{c.From, c.To} {
		if at.Kind == scheme.WayRef {
			m.wayAlone(&other, at, turned, set)
		}
	}
	other.Library = other.Library.With(set)
	return &other
}

// wayAlone puts one way of a board, and its fuse, at an end of their spread.
func (m *maker) wayAlone(s *scheme.Scheme, at scheme.Ref, c corner, set parts.Set) {
	const own = "/one-way"
	board, known := s.BoardPart(at.Element)
	if !known {
		return
	}
	way := at.String()
	ways := maps.Clone(board.Ways)
	ways[at.Socket] = c.way(ways[at.Socket])
	other := *board
	other.Ways = ways
	set["board"+own] = &other
	s.Boards = maps.Clone(s.Boards)
	b := s.Boards[at.Element]
	b.Part = "board" + own
	s.Boards[at.Element] = b
	if part, ok := parts.Get[parts.Fuse](s.Library, s.Fuses[way]); ok {
		set["fuse"+own] = c.fuse(*part, s.Library)
		s.Fuses = maps.Clone(s.Fuses)
		s.Fuses[way] = "fuse" + own
	}
}

// boundedShare is a probe of what a gap or supply gives, in all corners; where it shares with others with each of them turned besides.
func (m *maker) boundedShare(in, out string, p probe) bound {
	if !m.shared.outs[out] {
		return m.bounded(in, p).sized()
	}
	return m.turned(in, p)
}

// turned is a probe of a current in all corners, and where feeds or supplies share anything with each of these at the other end of its spread than the
// corner has it: what that adds is added, at the size of the load that the corner has; most where pixels draw most, and least where they draw least.
func (m *maker) turned(in string, p probe) bound {
	b := m.bounded(in, p)
	if !b.ok || len(m.shared.alone) == 0 {
		return b.sized()
	}
	shifts, ok := m.shifts(in, p, b.is)
	if !ok {
		return bound{}
	}
	load, most := given(m.st.Result(in)), 0.0
	for i, c := range m.turns() {
		at := m.corners[i]
		r := at.Result(in)
		v, scale := p(at.Network, at.Solution(in), r), secondOrder
		most = max(most, given(r))
		if load > 0 {
			scale *= max(1, given(r)/load)
		}
		down, up := 0.0, 0.0
		for k, one := range m.shared.alone {
			turn := shifts[k][1] - shifts[k][0]
			if one.of(c) < 0 {
				turn = -turn
			}
			down, up = down+min(0, turn), up+max(0, turn)
		}
		if c.current > 0 {
			b.high = max(b.high, v+scale*up)
		} else {
			b.low = min(b.low, v+scale*down)
		}
	}
	b.low, b.high = max(b.low, -most), min(b.high, most) // no way carries more than all that flows
	return b.sized()
}

// secondOrder is by how much more several things turned together do than each by itself (our choice: what was found in networks built at random and at
// their worst, rounded up).
const secondOrder = 1.6

// sized is how much a current is, whichever way it flows.
func (b bound) sized() bound {
	if b.high <= 0 {
		b.low, b.high = -b.high, -b.low
	} else if b.low < 0 {
		b.low, b.high = 0, max(-b.low, b.high)
	}
	b.is = math.Abs(b.is)
	return b
}

// shifts are by how much a probe reads more with each thing that varies by itself at its upper end, and at its lower; not ok where a case has no operating
// point, or a supply is at its limit.
func (m *maker) shifts(in string, p probe, is float64) (list [][2]float64, ok bool) {
	for _, one := range m.shared.alone {
		var shift [2]float64
		for i, st := range one.ends {
			r := st.Result(in)
			if r == nil || !r.Found() || len(r.Limited) > 0 {
				return nil, false
			}
			shift[i] = p(st.Network, st.Solution(in), r) - is
		}
		list = append(list, shift)
	}
	return list, true
}

// given is what all supplies give together.
func given(r *network.Result) (amps float64) {
	for _, id := range scheme.IDs(r.Supplies) {
		amps += float64(r.Supplies[id].Amps.Mean)
	}
	return amps
}
