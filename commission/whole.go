package commission

import (
	"cmp"
	"context"
	"maps"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// The names of the parts that stand where one is still to be chosen; the catalogue has none of them.
const (
	anySupply = "supply/any"
	anyBoard  = "board/any"
	anyCable  = "cable/any"
)

// whole is a scheme in which whatever is still to be chosen stands where it will: copper that is not bought yet leads all the same, and a supply without a
// name is as live as any other. Only what it joins is asked of it, and nothing is solved.
func whole(s *scheme.Scheme) *scheme.Scheme {
	other := *s
	other.Library = s.Library.With(anyParts(s))
	other.Supplies, other.Boards, other.Cables, other.Data = maps.Clone(s.Supplies), maps.Clone(s.Boards), maps.Clone(s.Cables), maps.Clone(s.Data)
	chosen := func(name, otherwise string) string {
		if _, there := s.Library.Find(name); there {
			return name
		}
		return otherwise
	}
	metre := unit.Metre(1)
	for id, t := range other.Supplies {
		t.Part = chosen(t.Part, anySupply)
		other.Supplies[id] = t
	}
	for id, b := range other.Boards {
		b.Part = chosen(b.Part, anyBoard)
		other.Boards[id] = b
	}
	for id, c := range other.Cables {
		c.Part, c.Length = chosen(c.Part, anyCable), cmp.Or(c.Length, &metre)
		other.Cables[id] = c
	}
	for id, d := range other.Data {
		d.Part, d.Length = chosen(d.Part, anyCable), cmp.Or(d.Length, &metre)
		other.Data[id] = d
	}
	return &other
}

// anyParts are the parts that stand where one is still to be chosen. What they resist is anything but nothing, for the network has no copper without.
func anyParts(s *scheme.Scheme) parts.Set {
	resists := parts.Value[unit.Ohm]{Is: 0.001, Given: true}
	board := parts.Board{Title: "any board", Ways: map[string]parts.Way{}, Ports: map[string]parts.Port{}}
	board.Inlet.Resistance = resists
	for _, way := range waysNamed(s) {
		board.Ways[way] = parts.Way{Resistance: resists}
	}
	cable := parts.Cable{Title: "any cable"}
	cable.R20 = parts.Value[unit.OhmPerMetre]{Is: 0.008, Given: true}
	return parts.Set{anySupply: &parts.Supply{Title: "any supply"}, anyBoard: &board, anyCable: &cable}
}

// waysNamed are the ways, without their boards, that cables and fuses name.
func waysNamed(s *scheme.Scheme) []string {
	names := map[string]bool{}
	for _, c := range s.Cables {
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.WayRef {
				names[ref.Socket] = true
			}
		}
	}
	for way := range s.Fuses {
		_, socket, _ := strings.Cut(way, ".")
		names[socket] = true
	}
	return scheme.IDs(names)
}

// joinedWhole is a study of what copper joins once everything is chosen, with nothing solved.
func joinedWhole(ctx context.Context, st *study.Study) (*study.Study, error) {
	unknown := len(st.Open()) > 0
	for _, c := range st.Scheme.Cables {
		unknown = unknown || c.Length == nil
	}
	for _, d := range st.Scheme.Data {
		unknown = unknown || d.Length == nil
	}
	if !unknown {
		return st, nil
	}
	sketches, err := st.Sketches(ctx, []*scheme.Scheme{whole(st.Scheme)}, func(int, network.Case) bool { return false })
	if err != nil {
		return nil, err
	}
	return sketches[0], nil
}
