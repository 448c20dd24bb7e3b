package report

import (
	"path/filepath"

	"farend/draw"
	"farend/layout"
)

// changes is the record of what was issued, of what this report was made, and room to write in by hand.
func (b *book) changes() []layout.Leaf {
	s := b.Study.Scheme
	var flow layout.Flow
	if len(s.Revisions) > 0 {
		t := layout.Table{Columns: []layout.Column{{Head: "revision"}, {Head: "date"}, {Head: "by", Share: 1}, {Head: "what changed", Share: 3}}}
		for _, r := range s.Revisions {
			t.Rows = append(t.Rows, layout.Plain(r.Name, string(r.Date), or(r.By), or(r.What)))
		}
		flow.Add(t)
	} else {
		flow.Add(told("The scheme writes down no revision; add one under revisions each time that it is issued."))
	}
	flow.Add(heading("What this report was made of"))
	for _, row := range [][2]string{{"File", filepath.Base(s.File)}, {"SHA-256", s.Hash}, {"Made by", "Farend " + b.Version}} {
		flow.Add(layout.Para{Mark: row[0], Words: row[1], Indent: 22, Above: 0.8})
	}
	flow.Add(remark("A file whose hash differs in one digit is another one: then none of this holds for it. The code on the cover has the same hash."))
	flow.Add(heading("Changes on site"), intro("Write here whatever is built, exchanged or measured otherwise, and into the scheme before the next report is made of it."), byHand(14))
	return b.bind(&flow, layout.Leaf{
		Name: "changes", Outline: "Record of changes", Title: "What was changed, when, and by whom?", Under: "revisions, and room to write in by hand",
		Desc:  "Revisions of the scheme, the hash of its file, and a table to write in by hand.",
		Notes: "A report is made of one text of the scheme and says nothing of any other.",
	})
}

// byHand is a ruled table to write in.
func byHand(rows int) layout.Figure {
	const rowHeight, headHeight = 8, 5
	heads := []struct {
		words string
		share float64
	}{{"date", 22}, {"place", 24}, {"what was changed or found", 96}, {"by", 20}, {"into the scheme", 20}}
	return layout.Figure{Height: headHeight + rowHeight*float64(rows), Above: 2, Draw: func(on *layout.Drawn, at draw.Point, width float64) {
		all := 0.0
		for _, h := range heads {
			all += h.share
		}
		bottom, x := at.Y+headHeight+rowHeight*float64(rows), at.X
		line := func(pen draw.Pen, a, b draw.Point) {
			on.Layer.Paths = append(on.Layer.Paths, draw.Line(pen, a, b))
		}
		thin := draw.Pen{Tone: draw.Rule, Width: draw.Thin}
		for i, h := range heads {
			on.Layer.Texts = append(on.Layer.Texts, draw.Text{At: draw.Point{X: x + 1, Y: at.Y + headHeight - 1.4}, Words: h.words, Size: draw.Smallest, Tone: draw.Graphite})
			if i > 0 {
				line(thin, draw.Point{X: x, Y: at.Y}, draw.Point{X: x, Y: bottom})
			}
			x += width * h.share / all
		}
		for k := range rows {
			y := at.Y + headHeight + rowHeight*float64(k+1)
			line(thin, draw.Point{X: at.X, Y: y}, draw.Point{X: at.X + width, Y: y})
		}
		line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Point{X: at.X, Y: at.Y + headHeight}, draw.Point{X: at.X + width, Y: at.Y + headHeight})
	}}
}
