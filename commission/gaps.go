package commission

import (
	"cmp"
	"maps"
	"slices"

	"farend/finding"
	"farend/network"
	"farend/scheme"
)

// A gap is a place at which people open the positive by hand: a fuse, a way without one by its plug, the positive of a cable that leaves a supply
// without a fuse.
type gap struct {
	out    string // among the network's Outages
	name   string // of the way or cable
	fuse   string // the part of the fuse; "choose" where it is to be chosen, "" where there is none
	way    bool
	closed []string // what must be closed before it, by out, the nearest to the supply first
	fed    bool     // a supply reaches it at all
}

// words is the gap as people say it.
func (b gap) words() string {
	switch {
	case b.fuse != "":
		return "fuse of " + b.name
	case b.way:
		return "plug of " + b.name
	}
	return "positive of " + b.name
}

// amps is what flows through the gap, closed, in a solved case.
func (b gap) amps(r *network.Result) network.Current {
	if b.way {
		return r.Ways[b.name].Amps
	}
	return r.Cables[b.name].Plus
}

// findGaps lists the gaps, those nearest to a supply first, and what is joined while all of them are open.
func (m *maker) findGaps() {
	n := m.joined.Network
	m.gaps = m.fusesAndPlugs()
	unplugged := m.unplugged()
	open := slices.Clone(unplugged)
	for _, b := range m.gaps {
		open = append(open, b.out)
	}
	m.parted = n.Parted(slices.Concat(m.switched(), open))
	for i := range m.gaps {
		b := &m.gaps[i]
		b.closed, b.fed = n.Upstream(b.out, open)
		b.fed = b.fed && !slices.ContainsFunc(b.closed, func(out string) bool { return slices.Contains(unplugged, out) })
	}
	slices.SortStableFunc(m.gaps, func(a, b gap) int {
		return cmp.Or(cmp.Compare(len(a.closed), len(b.closed)), finding.Natural(a.name, b.name))
	})
}

// fusesAndPlugs are the gaps, of ways and then of cables, that are gaps once everything is chosen.
func (m *maker) fusesAndPlugs() (gaps []gap) {
	n := m.joined.Network
	known := n.Outages()
	add := func(b gap, outs ...string) {
		for _, b.out = range outs {
			if slices.Contains(known, b.out) {
				gaps = append(gaps, b)
				return
			}
		}
	}
	for _, way := range n.Ways() {
		if len(n.Landings(way)) > 0 {
			add(gap{name: way, fuse: m.s.Fuses[way], way: true}, way+".fuse", way+".plus")
		}
	}
	for _, id := range scheme.IDs(m.s.Cables) {
		c := m.s.Cables[id]
		if c.Fuse != "" || c.Pole.Has(scheme.Plus) && (c.From.Kind == scheme.SupplyRef || c.To.Kind == scheme.SupplyRef) {
			add(gap{name: id, fuse: c.Fuse}, id+".fuse", id+".plus")
		}
	}
	return gaps
}

// farEnds are the places at which the copper behind a gap ends, in order.
func (m *maker) farEnds(gap string) []string {
	return slices.SortedFunc(maps.Keys(m.n.FarEnds(gap)), finding.Natural)
}

// dark is the case of what is energised with nothing lit.
func (m *maker) dark() network.Case {
	c, _ := m.n.CaseNamed(string(network.Dark))
	return c
}

// aloneIn is the dark case in which a gap is closed, with what must be closed before it, and no other.
func (m *maker) aloneIn(b gap) network.Case {
	open := m.unplugged()
	for _, other := range m.gaps {
		if other.out != b.out && !slices.Contains(b.closed, other.out) {
			open = append(open, other.out)
		}
	}
	c := m.dark().Past(open...)
	c.Name = "dark, " + b.out
	return c
}

// unplugged are the cores of all data leads that begin at a port, among the network's Outages.
func (m *maker) unplugged() (outs []string) {
	for _, id := range m.s.Senders() {
		for _, core := range []string{".ground", ".power"} {
			if slices.Contains(m.joined.Network.Outages(), id+core) {
				outs = append(outs, id+core)
			}
		}
	}
	return outs
}

// switched are the positive cores in which contactors stand that are open at rest, among the network's Outages.
func (m *maker) switched() (outs []string) {
	for _, id := range scheme.IDs(m.s.Contactors) {
		outs = append(outs, m.s.Contactors[id].In+".plus")
	}
	return outs
}

// gapOf is the gap of an outage.
func (m *maker) gapOf(out string) (gap, bool) {
	i := slices.IndexFunc(m.gaps, func(b gap) bool { return b.out == out })
	if i < 0 {
		return gap{}, false
	}
	return m.gaps[i], true
}
