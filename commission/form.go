package commission

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"farend/draw"
	"farend/layout"
	"farend/study"
	"farend/unit"
)

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
					if text := f.told(c, s); long(text) {
						add(remarked(text))
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

// told is what a cell says in words: instead of a reading, or beside it where the column is not quiet.
func (f *form) told(c Column, s Step) string {
	switch {
	case c.Field == "", c.Kind == Ticked, c.Kind == Measured && c.Quiet && s.Reading != nil:
		return ""
	}
	return s.Expect
}

// long reports whether words are too long for a cell.
func long(text string) bool { return utf8.RuneCountInString(text) > 12 }

// remarked is a text as it stands among the remarks.
func remarked(text string) string { return study.Capital(text) + "." }

// marked is a text as it stands in a cell: by its letter among the remarks where it is long, behind some words.
func (f *form) marked(text, see string) string {
	if !long(text) {
		return text
	}
	return see + letter(slices.Index(f.remarks, remarked(text)))
}

// rests are the letters of what the bands of some steps rest on, each once.
func (f *form) rests(steps []Step) (list []string) {
	for _, s := range steps {
		if s.Rests == "" || s.Reading == nil {
			continue
		}
		if l := capital(slices.Index(f.grounds, s.Rests)); !slices.Contains(list, l) {
			list = append(list, l)
		}
	}
	return list
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
			for _, rests := range f.rests([]Step{s}) {
				row[4].Words += " (" + rests + ")"
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
