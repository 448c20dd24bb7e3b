package commission

import (
	"fmt"
	"slices"
	"strings"

	"farend/study"
)

// An unchosen is something that currents and volts hang on and that is still to be chosen, with the supplies whose copper it meets.
type unchosen struct {
	name     string
	supplies []string
}

// findOpen notes what is still to be chosen of all that carries current.
func (m *maker) findOpen() {
	n := m.joined.Network
	for _, name := range m.st.Open() {
		id, _, _ := strings.Cut(strings.TrimSuffix(name, ".fuse"), "@")
		_, supply := m.s.Supplies[id]
		_, cable := m.s.Cables[id]
		_, board := m.s.Boards[id]
		_, way := m.s.Fuses[id]
		_, junction := m.s.Junctions[id]
		lead := m.s.Data[id]
		open := unchosen{name: name}
		switch {
		case lead.Power:
			open.supplies = n.SuppliesOf(lead.To.Element)
		case supply, cable, board, way:
			open.supplies = n.SuppliesOn(id)
		case junction:
			for _, landed := range n.Landings(id) {
				open.supplies = append(open.supplies, n.SuppliesOn(landed)...)
			}
		}
		m.open = append(m.open, open)
	}
}

// notChosen says why nothing can be expected of a supply, board, way, cable, run, station or inlet: what of its copper is still to be chosen; "" where all is.
func (m *maker) notChosen(place string) string {
	if len(m.open) == 0 {
		return ""
	}
	n := m.joined.Network
	id, _, _ := strings.Cut(strings.TrimSuffix(place, ".in"), "@")
	feed := n.SuppliesOn(id)
	if _, run := m.s.Runs[id]; run {
		feed = n.SuppliesOf(id)
	}
	if _, junction := m.s.Junctions[id]; junction {
		for _, landed := range n.Landings(id) {
			feed = append(feed, n.SuppliesOn(landed)...)
		}
	}
	var names []string
	for _, open := range m.open {
		if slices.ContainsFunc(open.supplies, func(t string) bool { return slices.Contains(feed, t) }) {
			names = append(names, open.name)
		}
	}
	if names == nil {
		return ""
	}
	return fmt.Sprintf("not known: %s %s not chosen", study.Several(names), are(len(names)))
}

func are(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}
