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
	for _, name := range m.st.Open() {
		id, _, _ := strings.Cut(strings.TrimSuffix(name, ".fuse"), "@")
		_, supply := m.s.Supplies[id]
		_, cable := m.s.Cables[id]
		_, board := m.s.Boards[id]
		_, way := m.s.Fuses[id]
		_, junction := m.s.Junctions[id]
		open := unchosen{name: name}
		if lead := m.s.Data[id]; lead.Power {
			open.supplies = m.suppliesOn(lead.To.Element)
		} else if supply || cable || board || way || junction {
			open.supplies = m.suppliesOn(id)
		}
		m.open = append(m.open, open)
	}
}

// suppliesOn are the supplies whose copper a supply, board, way, cable, run or junction meets once everything is chosen.
func (m *maker) suppliesOn(id string) []string {
	n := m.joined.Network
	if _, run := m.s.Runs[id]; run {
		return n.SuppliesOf(id)
	}
	if _, junction := m.s.Junctions[id]; !junction {
		return n.SuppliesOn(id)
	}
	var supplies []string
	for _, landed := range n.Landings(id) {
		supplies = append(supplies, n.SuppliesOn(landed)...)
	}
	return supplies
}

// notChosen says why nothing can be expected of a supply, board, way, cable, run, station or inlet: what of its copper is still to be chosen; "" where all is.
func (m *maker) notChosen(place string) string {
	if len(m.open) == 0 {
		return ""
	}
	id, _, _ := strings.Cut(strings.TrimSuffix(place, ".in"), "@")
	feed := m.suppliesOn(id)
	var names []string
	for _, open := range m.open {
		if slices.ContainsFunc(open.supplies, func(t string) bool { return slices.Contains(feed, t) }) {
			names = append(names, open.name)
		}
	}
	if names == nil {
		return ""
	}
	return fmt.Sprintf("not known: %s %s not chosen", study.Several(names), byNumber(len(names), "is", "are"))
}
