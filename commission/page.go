package commission

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"farend/draw"
	"farend/layout"
	"farend/study"
	"farend/unit"
)

// Pages are a procedure on paper, with room to write down what was measured: leaves commissioning, commissioning-2 and so on. Section sets
// cross-sections as the set of pages does; in mm² where it is nil.
func Pages(p Procedure, paper layout.Paper, section func(unit.SquareMetre) string) []layout.Leaf {
	if section == nil {
		section = func(v unit.SquareMetre) string { return layout.Nominal(v) }
	}
	var flow layout.Flow
	grounds := p.grounds()
	for i, g := range p.Stages {
		f := &form{Stage: g, section: section, grounds: grounds}
		f.weigh()
		f.remark()
		flow.Add(f.head(i)...)
		flow.Add(f.tables()...)
		if g.Rests {
			flow.Add(f.resting()...)
		}
		if g.Signed != "" {
			flow.Add(layout.Side{Gap: 8, Columns: []layout.SideColumn{{Blocks: []layout.Block{signature(g.Signed)}}, {}}})
		}
	}
	return p.bound(paper, &flow)
}

// The measures, in millimetres: a box to write in is 5.5 mm high.
const (
	columnGap = 1.6
	rowHeight = 6
	valueBox  = 14
	tickBox   = 5.5
	stageGap  = 4
)

// The sizes of type, in points.
const (
	plain   = 7.5
	small   = draw.Smallest
	heading = 12
)

// signs are poles, which stay with the word before them.
var signs = regexp.MustCompile(`(\pL|\d) ([+−])(\s|[;:,.]|$)`)

// set is a text as it stands on paper.
func set(text string) string {
	text = strings.ReplaceAll(layout.Sentence(text), " Nm", layout.Thin+"Nm")
	return signs.ReplaceAllString(text, "$1"+layout.Thin+"$2$3")
}

// A form is a stage as it is laid out.
type form struct {
	Stage
	section func(unit.SquareMetre) string
	grounds []string        // on which bands rest, marked by capital letters throughout
	remarks []string        // what is said once in a stage, marked by small letters
	filled  map[Fill][]Step // the steps of each field
}

// head is what stands over the tables of a stage.
func (f *form) head(n int) (blocks []layout.Block) {
	add := func(p layout.Para) {
		p.Words = set(p.Words)
		blocks = append(blocks, p)
	}
	add(layout.Para{Words: fmt.Sprintf("%d  %s", n, f.Name), Size: heading, Face: draw.SemiBold, Above: stageGap, Keep: true, Anchor: anchor(n)})
	add(layout.Para{Words: f.Why + f.states(), Size: plain, Above: 0.6, Keep: true})
	if f.Stop != "" {
		add(layout.Para{Words: "Stop: " + f.Stop, Size: plain, Face: draw.SemiBold, Above: 0.6})
	}
	for _, note := range f.Notes {
		add(layout.Para{Words: note, Size: plain, Above: 0.6})
	}
	if text := f.gauges(); text != "" {
		add(layout.Para{Words: text, Size: plain, Above: 0.6})
	}
	for i, remark := range f.remarks {
		add(layout.Para{Words: remark, Mark: letter(i), Indent: 4, Size: small, Tone: draw.Graphite, Above: 0.3, Keep: true})
	}
	return blocks
}

// states says in which states the steps are done, one after the other; of many the worksheets say it.
func (f *form) states() string {
	const most = 2
	var list []string
	for _, s := range f.Steps {
		if s.State != "" && !slices.Contains(list, s.State) {
			list = append(list, s.State)
		}
	}
	if len(list) == 0 || len(list) > most {
		return ""
	}
	return " State: " + strings.Join(list, ". Then: ") + "."
}

// resting says on what bands rest, for the whole sheet.
func (f *form) resting() (blocks []layout.Block) {
	for i, text := range f.grounds {
		if i == 0 {
			blocks = append(blocks, layout.Para{Words: "On what the bands rest, by the letters beside them", Size: plain + 1, Face: draw.SemiBold, Above: 2.5, Keep: true})
		}
		blocks = append(blocks, layout.Para{Words: set(study.Capital(text) + "."), Mark: capital(i), Indent: 4, Size: small, Tone: draw.Graphite, Above: 0.3})
	}
	return blocks
}

// grounds are all things on which bands rest that are on paper, each once.
func (p Procedure) grounds() (list []string) {
	for _, g := range p.Stages {
		f := &form{Stage: g}
		for _, s := range g.Steps {
			if s.Rests != "" && s.Reading != nil && !f.ticked(s) && !slices.Contains(list, s.Rests) {
				list = append(list, s.Rests)
			}
		}
	}
	return list
}

// capital is the mark of what bands rest on: A to Z, then AA.
func capital(i int) string { return strings.ToUpper(letter(i)) }

// anchor is the name of the place where a stage begins.
func anchor(n int) string { return fmt.Sprintf("stage-%d", n) }

// letter is the mark of a remark: a to z, then aa, ab.
func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// remark collects what is said once: what is longer than a cell.
func (f *form) remark() {
	f.filled = map[Fill][]Step{}
	add := func(text string) {
		if text != "" && !slices.Contains(f.remarks, text) {
			f.remarks = append(f.remarks, text)
		}
	}
	for _, s := range f.Steps {
		f.filled[s.Fill] = append(f.filled[s.Fill], s)
	}
	for _, w := range f.Sheets {
		for _, c := range w.Columns {
			for _, r := range w.Rows {
				for _, s := range f.filled[Fill{w.Name, r.Name, c.Field}] {
					if text := f.lettered(c, s); long(text) {
						add(study.Capital(text) + ".")
					}
				}
			}
		}
	}
}

// ticked reports whether a step is ticked off alone, so that no band of it is on paper.
func (f *form) ticked(s Step) bool {
	for _, w := range f.Sheets {
		if w.Name == s.Fill.Sheet {
			return !slices.ContainsFunc(w.Columns, func(c Column) bool { return c.Field == s.Fill.Field && c.Kind == Measured })
		}
	}
	return false
}

// lettered is what a cell says in words: instead of a reading, or beside it where the column is not quiet.
func (f *form) lettered(c Column, s Step) string {
	switch {
	case c.Field == "", c.Kind == Ticked, c.Kind == Measured && c.Quiet && s.Reading != nil:
		return ""
	}
	return s.Expect
}

// long reports whether words are too long for a cell.
func long(text string) bool { return utf8.RuneCountInString(text) > 12 }

// marked is words as they stand in a cell: by their letter where they are long.
func (f *form) marked(text string) string {
	if !long(text) {
		return text
	}
	if strings.HasPrefix(text, forbiddenWords) {
		return forbiddenWords + ", see " + letter(slices.Index(f.remarks, study.Capital(text)+"."))
	}
	return "see " + letter(slices.Index(f.remarks, study.Capital(text)+"."))
}

// rests are the letters of what the bands of some steps rest on, each once.
func (f *form) rests(steps []Step) string {
	var list []string
	for _, s := range steps {
		if s.Rests == "" || s.Reading == nil {
			continue
		}
		if l := capital(slices.Index(f.grounds, s.Rests)); !slices.Contains(list, l) {
			list = append(list, l)
		}
	}
	return strings.Join(list, ", ")
}

// tables are the worksheets of a stage, each where its first step stands, and between them what is to be done besides.
func (f *form) tables() (blocks []layout.Block) {
	put := map[string]bool{}
	var list []Step
	flush := func() {
		if len(list) > 0 {
			blocks = append(blocks, f.list(list))
		}
		list = nil
	}
	for _, s := range f.Steps {
		k := slices.IndexFunc(f.Sheets, func(w Worksheet) bool { return w.Name == s.Fill.Sheet })
		if k < 0 {
			list = append(list, s)
		} else if !put[s.Fill.Sheet] {
			flush()
			put[s.Fill.Sheet] = true
			blocks = append(blocks, f.worksheet(f.Sheets[k])...)
		}
	}
	flush()
	return blocks
}

// list is steps one below the other.
func (f *form) list(steps []Step) layout.Block {
	t := layout.Table{Size: plain, Gap: columnGap, Least: rowHeight, Above: 1.5, Columns: []layout.Column{{Box: tickBox, Spare: true}, {Share: 3}, {Share: 2}, {Number: true, Spare: true}, {Spare: true}, {Box: valueBox, Spare: true}}}
	if slices.ContainsFunc(steps, func(s Step) bool { return s.Reading != nil }) {
		t.Columns[4].Head, t.Columns[5].Head = "Expected, band", "Measured"
	}
	if !slices.ContainsFunc(steps, func(s Step) bool { return s.Expect != "" }) {
		t.Columns[2] = layout.Column{Spare: true}
		t.Twice = len(steps) > 3 && t.Columns[5].Head == ""
	}
	for _, s := range steps {
		do := s.Do
		if s.Stop != "" {
			do += ". Stop: " + s.Stop
		}
		row := []layout.Said{{Box: true}, {Words: set(do)}, {Words: set(s.Expect)}, {}, {}, {}}
		if s.Reading != nil {
			row[0].Box, row[5].Box = false, true
			row[3].Words, row[4].Words = layout.Unbroken(s.Reading.Value()), set(s.Reading.Brief())
			if rests := f.rests([]Step{s}); rests != "" {
				row[4].Words += " (" + rests + ")"
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

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
	var parts []string
	for _, s := range []Seeing{Seen, Maybe, Unseen} {
		if len(at[s]) > 0 {
			parts = append(parts, fmt.Sprintf("by %s it %s", study.Listed(at[s]), s))
		}
	}
	if parts == nil {
		return nil
	}
	return []string{fmt.Sprintf("A bad joint of %s, in each row: %s.", short(badJoint.String()), strings.Join(parts, "; "))}
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

// column is a column of a worksheet as columns of a table, with its cells.
func (f *form) column(w Worksheet, c Column, said int) (columns []layout.Column, cells [][]layout.Said) {
	steps := f.steps(w, c)
	cells = make([][]layout.Said, len(w.Rows))
	head := set(c.Head)
	switch c.Kind {
	case Words:
		columns = []layout.Column{{Head: head, Over: c.Over, Spare: true}}
		if said < 1 {
			columns[0].Spare = false
		}
		for i, r := range w.Rows {
			text := ""
			if said < len(r.Words) {
				text = r.Words[said]
			}
			cells[i] = []layout.Said{{Words: set(text), Bold: said == 0}}
		}
	case Cores:
		columns = []layout.Column{{Head: head, Over: c.Over, Spare: true}}
		for i, r := range w.Rows {
			text := "–"
			if r.Section > 0 {
				text = f.section(r.Section)
			}
			if r.Section > 0 && r.Cores > 0 {
				text = fmt.Sprintf("%d%s×%s%s", r.Cores, layout.Thin, layout.Thin, text)
			}
			cells[i] = []layout.Said{{Words: text}}
		}
	case Ticked:
		columns = []layout.Column{{Head: head, Over: c.Over, Box: tickBox, Spare: true}}
		for i, s := range steps {
			cells[i] = []layout.Said{{Box: s != nil}}
		}
	case How:
		columns = []layout.Column{{Head: head, Over: c.Over, Spare: true}}
		for i, s := range steps {
			text := "–"
			if s != nil {
				text = strings.TrimPrefix(f.marked(s.Expect), "see ")
			}
			cells[i] = []layout.Said{{Words: set(text)}}
		}
	case Measured:
		return f.measured(c, steps)
	}
	return columns, cells
}

// measured is a column of readings: value, band, whether a bad joint would be seen where rows differ in that, and the box.
func (f *form) measured(c Column, steps []*Step) (columns []layout.Column, cells [][]layout.Said) {
	there := present(steps)
	_, alike := seeing(there)
	rests := f.rests(there)
	band := "Band"
	if rests != "" && !strings.Contains(rests, ",") {
		band += " (" + rests + ")"
	}
	columns = []layout.Column{{Head: set(c.Head), Over: c.Over, Number: true, Spare: true}, {Head: band, Over: c.Over, Spare: true}, {Head: set(short(badJoint.String()) + " seen"), Over: c.Over, Spare: true}, {Head: "Measured", Over: c.Over, Box: valueBox, Spare: true}}
	for _, s := range steps {
		row := make([]layout.Said, 4)
		if s != nil {
			row[3].Box = true
			text := f.lettered(c, *s)
			if s.Reading != nil {
				row[0].Words, row[0].Bold = layout.Unbroken(s.Reading.Value()), true
				row[1].Words = set(s.Reading.Brief())
				if strings.Contains(rests, ",") && s.Rests != "" {
					row[1].Words += " (" + f.rests([]Step{*s}) + ")"
				}
			}
			if text != "" {
				row[1].Words = strings.TrimPrefix(row[1].Words+", "+set(f.marked(text)), ", ")
			}
			if j := s.Joint; j != nil && !alike && math.Abs(j.Shift) >= least {
				row[2].Words = map[Seeing]string{Seen: "yes", Maybe: "maybe", Unseen: "no"}[j.Seen]
			}
		}
		cells = append(cells, row)
	}
	return columns, cells
}

// signature is a line to sign on.
func signature(who string) layout.Block {
	const tall, rule = 17, 12
	return layout.Figure{Height: tall, Draw: func(on *layout.Drawn, at draw.Point, width float64) {
		write := func(y float64, words string, like draw.Text) {
			like.Words, like.At = words, draw.Point{X: at.X, Y: at.Y + y}
			on.Layer.Texts = append(on.Layer.Texts, like)
		}
		write(5.2, who, draw.Text{Size: plain, Face: draw.SemiBold, Tone: draw.Ink})
		for _, field := range []struct {
			words string
			share float64
		}{{"name, licence", 0.4}, {"signature", 0.4}, {"date", 0.2}} {
			long := field.share * width
			on.Layer.Paths = append(on.Layer.Paths, draw.Line(draw.Pen{Tone: draw.Graphite, Width: draw.Hair}, draw.Point{X: at.X, Y: at.Y + rule}, draw.Point{X: at.X + long - 4, Y: at.Y + rule}))
			write(rule+3, field.words, draw.Text{Size: small, Tone: draw.Graphite})
			at.X += long
		}
	}}
}

// bound lays the flow on leaves, each with the stages that stand on it.
func (p Procedure) bound(paper layout.Paper, flow *layout.Flow) []layout.Leaf {
	steps := 0
	for _, g := range p.Stages {
		steps += len(g.Steps)
	}
	leaves, at := flow.Leaves(layout.Leaf{
		Name: "commissioning", Outline: "Commissioning", Paper: paper,
		Title:   "What must read what, and when?",
		Verdict: fmt.Sprintf("%d steps in %d stages, in this order", steps, len(p.Stages)),
		Notes: "Expected values are those of the design, solved; bands hold its spreads and the errors of the meters, and what they rest on is said by letter under Before you begin. Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. " +
			"Local codes and licensed electricians come before this sheet; the mains side is theirs.",
		Desc: "A sheet to fill in: what to measure, between which points, in which state, what to expect.",
	})
	last, next := 0, 0
	for i := range leaves {
		first := last
		for ; next < len(p.Stages) && at[anchor(next)] == leaves[i].Name; next++ {
			if top := leaves[i].Layers[0].Texts; len(leaves[i].More) == 0 && len(top) > 0 && top[0].Size == heading { // the page begins with it
				first = next
			}
			leaves[i].More = append(leaves[i].More, draw.Entry{Title: fmt.Sprintf("%d  %s", next, p.Stages[next].Name), Level: 1})
			last = next
		}
		said := fmt.Sprint(first)
		if last > first {
			said = fmt.Sprintf("%d to %d", first, last)
		}
		leaves[i].Cells = []layout.Cell{
			{Caption: "Stages on this page", Says: said, Share: 40}, {Caption: "Filled in by", Share: 70}, {Caption: "On", Share: 40}, {Caption: "Air, °C", Share: 30},
		}
	}
	return leaves
}
