package commission

import (
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/unit"
)

// A Worksheet is a table in which steps of one kind are filled in: a row for each thing, a field for each step.
type Worksheet struct {
	Name    string // among those of its stage
	Title   string
	Warning string   // in bold, before the notes
	Notes   []string // of all its rows
	Columns []Column
	Rows    []Row
}

// A Column is words, or a field.
type Column struct {
	Head, Over string // over may be the same of several columns
	Means      string // what it is called in a sentence, where that is not its head
	Field      string // which steps are filled in there; "" where words stand
	Kind       ColumnKind
	Quiet      bool // what is said beside a reading is told by the words of the row, or by the notes
}

// A ColumnKind says what a column has of its steps.
type ColumnKind int

const (
	Words    ColumnKind = iota // of the row
	Cores                      // how many cores of which cross-section, of the row
	Measured                   // what is expected, its band, and room to write
	Ticked                     // a box to tick
	How                        // what is expected in words, by a letter where it is long
)

// A Row is a thing.
type Row struct {
	Name    string   // among those of its worksheet
	Words   []string // in the columns of words, in their order
	Cores   int
	Section unit.SquareMetre
	Leaves  []string // on which the thing is drawn or listed, the best first
}

// A Fill is where a step is filled in: a field of a row of a worksheet of its stage. Without a worksheet it stands in the list of what is to be done.
type Fill struct{ Sheet, Row, Field string }

// in is a step that is filled in there.
func (s Step) in(sheet, row, field string) Step {
	s.Fill = Fill{sheet, row, field}
	return s
}

// without is a step of which no reading is expected, and why.
func (s Step) without(why string) Step {
	s.Reading, s.Joint, s.Expect, s.Rests = nil, nil, why, ""
	return s
}

// forbidding is a step of which no reading is expected, for it is not to be switched on, and why.
func (s Step) forbidding(why string) Step {
	s = s.without(why)
	s.Forbids = true
	return s
}

// words are a column of them.
func words(head string) Column { return Column{Head: head} }

// leaves are the pages on which a run, board, way, supply or cable may be found.
func (m *maker) leaves(id string) []string {
	if _, run := m.s.Runs[id]; run {
		return []string{"run-" + id, "runs"}
	}
	if _, board := m.s.Boards[id]; board {
		return []string{"face-" + id, "boards"}
	}
	if _, supply := m.s.Supplies[id]; supply {
		return []string{"single-line", "supplies"}
	}
	if c, cable := m.s.Cables[id]; cable {
		for _, ref := range []scheme.Ref{c.To, c.From} {
			if ref.Kind == scheme.StationRef {
				return []string{"run-" + ref.Element, "cables"}
			}
		}
		return []string{"single-line", "cables"}
	}
	if d, lead := m.s.Data[id]; lead {
		return []string{"run-" + d.To.Element, "data"}
	}
	if _, way := m.s.WayPart(id); way {
		return []string{"face-" + network.BoardOf(id), "fuses"}
	}
	return nil
}

// row is a row about a thing.
func (m *maker) row(name, about string, words ...string) Row {
	return Row{Name: name, Words: words, Leaves: m.leaves(about)}
}

// cored is a row about a cable, or a lead, with its cores.
func (m *maker) cored(id string, words ...string) Row {
	row := m.row(id, id, words...)
	c, cable := m.s.Cables[id]
	name := c.Part
	if !cable {
		name = m.s.Data[id].Part
	}
	if part, ok := parts.Get[parts.Cable](m.s.Library, name); ok {
		row.Section, row.Cores = part.Area.Is, part.Cores
	}
	return row
}
