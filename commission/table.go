package commission

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/study"
)

// Worksheets as tables on paper.

// worksheet is one of them.
func (f *form) worksheet(w Worksheet) (blocks []layout.Block) {
	blocks = append(blocks, layout.Para{Words: set(w.Title), Size: plain + 1, Face: draw.SemiBold, Above: 2.5, Keep: true})
	if w.Warning != "" {
		blocks = append(blocks, layout.Para{Words: set(w.Warning), Size: plain, Face: draw.SemiBold, Above: 0.3, Keep: true})
	}
	for _, note := range append(slices.Clone(w.Notes), f.joints(w)...) {
		blocks = append(blocks, layout.Para{Words: set(note), Size: plain, Above: 0.3, Keep: true})
	}
	t := layout.Table{Size: draw.Smallest, Gap: columnGap, Least: rowHeight, Above: 1, Twice: true}
	rows := make([][]layout.Said, len(w.Rows))
	said := 0
	for _, c := range w.Columns {
		columns, cells := f.column(w, c, said)
		if c.Field == "" && c.Kind == Words {
			said++
		}
		t.Columns = append(t.Columns, columns...)
		for i := range rows {
			rows[i] = append(rows[i], cells[i]...)
		}
	}
	for i := range rows {
		if len(rows[i]) > 0 {
			rows[i][0].To = w.Rows[i].Leaves
		}
	}
	t.Rows = rows
	return append(blocks, t)
}

// steps are those of a column, row by row; none where a row has none.
func (f *form) steps(w Worksheet, c Column) (list []*Step) {
	for _, r := range w.Rows {
		var step *Step
		if of := f.filled[Fill{w.Name, r.Name, c.Field}]; len(of) > 0 {
			step = &of[0]
		}
		list = append(list, step)
	}
	return list
}

// present are those that are there.
func present(steps []*Step) (list []Step) {
	for _, s := range steps {
		if s != nil {
			list = append(list, *s)
		}
	}
	return list
}

// joints says of each measured column, once, whether a bad joint would be seen, where that is so of all its rows.
func (f *form) joints(w Worksheet) []string {
	at := map[Seeing][]string{}
	for _, c := range w.Columns {
		if c.Kind != Measured {
			continue
		}
		if all, one := seeing(present(f.steps(w, c))); one {
			name := c.Means
			if name == "" {
				name = c.Head
			}
			at[all] = append(at[all], name)
		}
	}
	var told []string
	for _, s := range []Seeing{Seen, Maybe, Unseen} {
		if len(at[s]) > 0 {
			told = append(told, fmt.Sprintf("by %s it %s", study.Listed(at[s]), s))
		}
	}
	if told == nil {
		return nil
	}
	return []string{fmt.Sprintf("A bad joint of %s, in each row: %s.", short(badJoint.String()), strings.Join(told, "; "))}
}

// seeing is whether a bad joint would be seen, where it is the same of all steps of which anybody says.
func seeing(steps []Step) (all Seeing, one bool) {
	for _, s := range steps {
		if s.Joint == nil || math.Abs(s.Joint.Shift) < least {
			continue
		}
		if all != "" && all != s.Joint.Seen {
			return "", false
		}
		all = s.Joint.Seen
	}
	return all, all != ""
}

// column is a column of a worksheet as columns of a table, with its cells. Said is how many columns of words stand before it.
func (f *form) column(w Worksheet, c Column, said int) (columns []layout.Column, cells [][]layout.Said) {
	steps := f.steps(w, c)
	if c.Kind == Measured {
		return f.measured(c, steps)
	}
	column := layout.Column{Head: set(c.Head), Over: c.Over, Spare: c.Kind != Words || said > 0}
	if c.Kind == Ticked {
		column.Box = tickBox
	}
	for i, r := range w.Rows {
		cells = append(cells, []layout.Said{f.cell(c, r, steps[i], said)})
	}
	return []layout.Column{column}, cells
}

// cell is one cell of a column that takes one.
func (f *form) cell(c Column, r Row, s *Step, said int) layout.Said {
	switch {
	case c.Kind == Cores:
		return layout.Said{Words: f.cores(r)}
	case c.Kind == Ticked:
		return layout.Said{Box: s != nil}
	case c.Kind == How && s != nil:
		return layout.Said{Words: set(f.marked(s.Expect, ""))}
	case c.Kind == How:
		return layout.Said{Words: "–"}
	case said < len(r.Words):
		return layout.Said{Words: set(r.Words[said]), Bold: said == 0}
	}
	return layout.Said{}
}

// cores are those of a row in words: "2 × 2.5 mm²".
func (f *form) cores(r Row) string {
	switch {
	case r.Section <= 0:
		return "–"
	case r.Cores <= 0:
		return f.section(r.Section)
	}
	return fmt.Sprintf("%d%s×%s%s", r.Cores, layout.Thin, layout.Thin, f.section(r.Section))
}

// measured is a column of readings: value, band, whether a bad joint would be seen where rows differ in that, and the box.
func (f *form) measured(c Column, steps []*Step) (columns []layout.Column, cells [][]layout.Said) {
	there := present(steps)
	_, alike := seeing(there)
	rests := f.rests(there)
	band := "Band"
	if len(rests) == 1 {
		band += " (" + rests[0] + ")"
	}
	columns = []layout.Column{{Head: set(c.Head), Over: c.Over, Number: true, Spare: true}, {Head: band, Over: c.Over, Spare: true}, {Head: set(short(badJoint.String()) + " seen"), Over: c.Over, Spare: true}, {Head: "Measured", Over: c.Over, Box: valueBox, Spare: true}}
	for _, s := range steps {
		row := make([]layout.Said, 4)
		if s != nil {
			row[0], row[1], row[3].Box = f.value(*s), f.band(c, *s, len(rests) > 1), true
			if j := s.Joint; j != nil && !alike && math.Abs(j.Shift) >= least {
				row[2].Words = map[Seeing]string{Seen: "yes", Maybe: "maybe", Unseen: "no"}[j.Seen]
			}
		}
		cells = append(cells, row)
	}
	return columns, cells
}

// value is the cell of what a step is expected to read.
func (f *form) value(s Step) layout.Said {
	if s.Reading == nil {
		return layout.Said{}
	}
	return layout.Said{Words: layout.Unbroken(s.Reading.Value()), Bold: true}
}

// band is the cell of its band, with the letter of what it rests on where not all rows rest on the same, and of what is said beside it.
func (f *form) band(c Column, s Step, lettered bool) layout.Said {
	words := ""
	if s.Reading != nil {
		words = set(s.Reading.Brief())
		for _, rests := range f.rests([]Step{s}) {
			if lettered {
				words += " (" + rests + ")"
			}
		}
	}
	text, see := f.told(c, s), "see "
	if s.Forbids {
		see = forbiddenWords + ", see "
	}
	if text != "" && words != "" {
		words += ", "
	}
	return layout.Said{Words: words + set(f.marked(text, see))}
}
