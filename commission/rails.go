package commission

import (
	"fmt"
	"slices"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// The dead tests of runs: their rails between cuts, and what in them may not meet.

// A piece is a stretch of one rail between its ends and cuts.
type piece struct {
	from, to int // marks
}

// begin is the place at which it begins: behind the cut, where there is one.
func (p piece) begin() place { return place{p.from, false} }

// end is that at which it ends: before the cut.
func (p piece) end() place { return place{p.to, true} }

// pieces are those of one pole of a run.
func (m *maker) pieces(run string, pole scheme.Pole) []piece {
	r := m.s.Runs[run]
	marks := []int{0, r.Count}
	for _, cut := range r.Cuts {
		if cut.Pole.Has(pole) {
			marks = append(marks, cut.At.Mark)
		}
	}
	slices.Sort(marks)
	marks = slices.Compact(marks)
	var list []piece
	for i := range marks[1:] {
		list = append(list, piece{marks[i], marks[i+1]})
	}
	return list
}

// apart are the tests of a run in which nothing may meet: one pole the other, one piece of the positive the next.
func (m *maker) apart(run string) (steps []Step) {
	about := []string{run}
	for i, p := range m.pieces(run, scheme.Plus) {
		a, b := m.station(run, p.begin()), m.station(run, p.end())
		steps = append(steps, Step{
			Do: fmt.Sprintf("%s, piece %d, %s to %s: + does not meet −", m.fullName(run), i+1, a, spoken(b)), Between: poles(a), State: stateDead, About: about,
			Reading: noShort(), Rests: restsShort, Expect: m.charging(run, p),
		}.in("rails", pieceRow(run, scheme.Plus, i), "short"))
	}
	cuts := m.pieces(run, scheme.Plus)[1:]
	for i, p := range cuts {
		one, other := m.station(run, place{p.from, true}), m.station(run, p.begin())
		step := Step{
			Do: "Positive cut at " + other, Between: [2]string{atPole(one, "+"), other + ", after the cut, +"}, State: stateDead, About: about,
			Reading: atLeast(apartOhms), Rests: restsShort, Expect: "open; through chips it may read anything above",
		}
		if by := m.parted.Between(one, other); by != nil { // no box in the table, for its column asks for a band
			step.Reading, step.Rests = nil, ""
			step.Expect = fmt.Sprintf("joined by %s: it reads as copper. With one of them off its terminal at least %d Ω", m.ways(by), apartOhms)
			steps = append(steps, step)
			continue
		}
		steps = append(steps, step.in("rails", pieceRow(run, scheme.Plus, i), "cut"))
	}
	return steps
}

// ways are the cables and leads of a way, with the junctions at their ends: "W2, W3 (X1)".
func (m *maker) ways(by []string) string {
	junctions := map[string]bool{}
	for _, id := range by {
		for _, ref := range []scheme.Ref{m.s.Cables[id].From, m.s.Cables[id].To} {
			if ref.Kind == scheme.JunctionRef {
				junctions[ref.Element] = true
			}
		}
	}
	if len(junctions) == 0 {
		return study.Listed(by)
	}
	return study.Listed(by) + " (" + study.Listed(scheme.IDs(junctions)) + ")"
}

// rails are the milliohms of the rails of a run between cuts.
func (m *maker) rails(run string) (steps []Step) {
	tape := m.s.Tape(run)
	if tape == nil {
		return []Step{{Do: run + ": its tape is not known, so its rails are not either", State: stateBare, About: []string{run}}}
	}
	for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
		for i, p := range m.pieces(run, pole) {
			steps = append(steps, m.railPiece(run, pole, p, tape).in("rails", pieceRow(run, pole, i), "rail"))
		}
	}
	return steps
}

// railPiece is the milliohms of one rail between its cuts.
func (m *maker) railPiece(run string, pole scheme.Pole, p piece, tape *parts.Tape) Step {
	rail, sign := tape.Rail, signOf(pole)
	if pole == scheme.Return {
		rail = tape.RailReturn.Or(tape.Rail)
	}
	metres := float64(p.to-p.from) / float64(tape.Pixels.Is)
	joints := float64(m.joints(run, tape, p))
	cold, hot := m.factors()
	a, b := m.station(run, p.begin()), m.station(run, p.end())
	r := driven.shown(Ohms, band{
		float64(rail.Is)*metres + joints*float64(tape.Joint.Is),
		(float64(rail.Lower())*metres + joints*float64(tape.Joint.Lower())) * min(cold, 1),
		(float64(rail.Upper())*metres + joints*float64(tape.Joint.Upper())) * max(hot, 1),
	})
	return Step{
		Do: fmt.Sprintf("%s, %s rail, %v", run, pole, unit.Metre(metres)), Between: [2]string{atPole(a, sign), atPole(b, sign)}, State: stateBare, About: []string{run},
		Reading: r, Joint: r.joint(driven, float64(badJoint)), Rests: restsRail,
	}
}

// joints is how many factory and soldered joints a piece of a run has in each rail; one at the end of a piece counts to it, as it does in the network.
func (m *maker) joints(run string, tape *parts.Tape, p piece) (count int) {
	for _, x := range network.JointPlaces(m.s.Runs[run], tape) {
		if x > float64(p.from)+1e-9 && x <= float64(p.to)+1e-9 {
			count++
		}
	}
	return count
}

// railSheet is the pieces of runs.
func (m *maker) railSheet() Worksheet {
	w := Worksheet{
		Name: "rails", Title: "Runs",
		Notes: []string{"Rails: volts from end to end of the piece while 1 A flows through that rail alone. No short: + to − at the beginning of the piece; the meter rises for as long as is said while the tape charges, then stays; chips may look like a diode; at least 10 Ω. Cut open: across the positive at the end of the piece, at least 100 Ω, through chips anything above."},
		Columns: []Column{words("Run"), words("Piece, from mark to mark"), words("Long"), {Head: "Its rail", Means: "the milliohms of its rail", Over: overBare, Field: "rail", Kind: Measured},
			{Head: "Charges, for up to", Over: overDead}, {Head: "No short", Over: overDead, Field: "short", Kind: Ticked}, {Head: "Cut open", Over: overDead, Field: "cut", Kind: Ticked}},
	}
	for _, run := range scheme.IDs(m.s.Runs) {
		for _, pole := range []scheme.Pole{scheme.Plus, scheme.Return} {
			for i, p := range m.pieces(run, pole) {
				name := run
				if label := m.called(run); i == 0 && pole == scheme.Plus && label != "" {
					name += ", " + label
				}
				row := m.row(pieceRow(run, pole, i), run, name, m.stretch(run, pole, p), "–", "")
				if tape := m.s.Tape(run); tape != nil && tape.Pixels.Is > 0 {
					row.Words[2] = unit.Metre(float64(p.to-p.from) / float64(tape.Pixels.Is)).String()
				}
				if pole == scheme.Plus {
					row.Words[3] = m.chargeWords(run, p)
				}
				w.Rows = append(w.Rows, row)
			}
		}
	}
	return w
}

// pieceRow names the row of a piece.
func pieceRow(run string, pole scheme.Pole, i int) string {
	return fmt.Sprintf("%s %s %d", run, pole, i+1)
}

// stretch is a piece by its marks, whichever side of them: "+ start to px70".
func (m *maker) stretch(run string, pole scheme.Pole, p piece) string {
	return signOf(pole) + " " + m.mark(run, p.begin()) + " to " + m.mark(run, place{mark: p.to})
}
