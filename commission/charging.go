package commission

import (
	"fmt"

	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// What a meter charges that looks for a short: the capacitance of tape and of the capacitors on it.

// charging says what a meter shows of a piece of tape between its poles: how long it rises, at most.
func (m *maker) charging(run string, p piece) string {
	farads, caps := m.heldTogether(run, p)
	if farads == 0 {
		return "rises, then stays; chips may look like a diode"
	}
	return fmt.Sprintf("rises for up to %s while %v of tape%s charges, then stays; chips may look like a diode", rising(farads), unit.Farad(farads), caps)
}

// chargeWords is the same in a few words.
func (m *maker) chargeWords(run string, p piece) string {
	farads, caps := m.heldTogether(run, p)
	if farads == 0 {
		return "not known"
	}
	return fmt.Sprintf("%s, %v%s", rising(farads), unit.Farad(farads), caps)
}

// rising is how long a meter takes to charge so much, at most.
func rising(farads float64) string {
	return short(max(unit.Second(farads*meterVolts/meterAmps), 1).String())
}

// heldTogether is the capacitance of a piece of tape and of all pieces that its positive meets while every gap is open, and what it is of in words.
func (m *maker) heldTogether(run string, p piece) (farads float64, caps string) {
	farads, caps = m.held(run, p)
	at, others := m.station(run, p.begin()), 0
	for _, other := range scheme.IDs(m.s.Runs) {
		for _, q := range m.pieces(other, scheme.Plus) {
			if other == run && q == p || !m.parted.Meet(at, m.station(other, q.begin())) {
				continue
			}
			more, besides := m.held(other, q)
			farads, caps, others = farads+more, caps+besides, others+1
		}
	}
	if others > 0 {
		caps += fmt.Sprintf(" (with %s joined to it)", study.Counted(others, "piece"))
	}
	return farads, caps
}

// held is the capacitance of a piece of tape, and the capacitors on it in words.
func (m *maker) held(run string, p piece) (farads float64, caps string) {
	if tape := m.s.Tape(run); tape != nil {
		farads = float64(p.to-p.from) * float64(tape.Capacitance.Upper())
	}
	for _, id := range scheme.IDs(m.s.Capacitors) {
		c := m.s.Capacitors[id]
		if part, ok := parts.Get[parts.Capacitor](m.s.Library, c.Part); ok && c.At.Element == run && m.within(run, placeOf(c.At), p) {
			farads += float64(part.Capacitance.Upper())
			caps += " and " + id
		}
	}
	return farads, caps
}

// within reports whether a place of a run is on a piece: at a cut it is on the one before it or the one after it, and not on both.
func (m *maker) within(run string, at place, p piece) bool {
	switch at.mark {
	case p.from:
		return !at.before || p.from == 0
	case p.to:
		return at.before || p.to == m.s.Runs[run].Count
	}
	return at.mark > p.from && at.mark < p.to
}
