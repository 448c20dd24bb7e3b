package sheet

import "farend/draw"

// Measures of an A4 sheet (ISO 216) upright, in millimetres. The frame is 10 mm from its edges.
const (
	pageWidth  = 210
	pageHeight = 297
	margin     = 10
	blockTop   = 250 // of the title block, which ends at the frame
	padding    = 4
)

// frameTo is the lower right corner of the frame.
const (
	frameRight  = pageWidth - margin
	frameBottom = pageHeight - margin
)

// leading is from one baseline to the next, in multiples of the size of the text.
const leading = 1.28

// pitch is the same in millimetres.
func pitch(points float64) float64 { return points * leading * 25.4 / 72 }

// A cell is a field of the title block: a small caption, and under it what it says.
type cell struct {
	from, to      float64 // across the sheet
	caption, says string
	face          draw.Face
	name          bool // it names something, so it is cut in its middle
}

// block is the frame and the title block: two rows of cells, and under them on what the page rests.
func block(rows [2][]cell, rests string) draw.Layer {
	const rowHeight = 9
	thin, thick := draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	frame := draw.Box{Min: draw.Point{X: margin, Y: margin}, Max: draw.Point{X: frameRight, Y: frameBottom}}
	layer := draw.Layer{Name: "block", Paths: []draw.Path{
		draw.Area(draw.None, thick, frame.Corners()...),
		draw.Line(thick, draw.Point{X: margin, Y: blockTop}, draw.Point{X: frameRight, Y: blockTop}),
	}}
	y := float64(blockTop)
	for _, row := range rows {
		for _, c := range row {
			layer.Texts = append(layer.Texts, c.texts(y)...)
			if c.to < frameRight {
				layer.Paths = append(layer.Paths, draw.Line(thin, draw.Point{X: c.to, Y: y}, draw.Point{X: c.to, Y: y + rowHeight}))
			}
		}
		y += rowHeight
		layer.Paths = append(layer.Paths, draw.Line(thin, draw.Point{X: margin, Y: y}, draw.Point{X: frameRight, Y: y}))
	}
	small := draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	lines := wrap(small, rests, frameRight-margin-4)
	const most = 5
	if len(lines) > most {
		lines = append(lines[:most-1], clip(small, lines[most-1]+" "+lines[most], frameRight-margin-4))
	}
	for i, line := range lines {
		small.Words, small.At = line, draw.Point{X: margin + 2, Y: y + 3.4 + float64(i)*pitch(small.Size)}
		layer.Texts = append(layer.Texts, small)
	}
	return layer
}

func (c cell) texts(top float64) []draw.Text {
	caption := draw.Text{At: draw.Point{X: c.from + 2, Y: top + 3.2}, Words: c.caption, Size: draw.Smallest, Tone: draw.Graphite}
	says := draw.Text{At: draw.Point{X: c.from + 2, Y: top + 7.2}, Face: c.face, Size: 9, Tone: draw.Ink}
	cut := clip
	if c.name {
		cut = fit
	}
	says.Words = cut(says, c.says, c.to-c.from-4)
	return []draw.Text{caption, says}
}

// heading is the question of a page, and a line under it.
func heading(question, verdict, under string) draw.Layer {
	const width = frameRight - margin - 2*padding
	big := draw.Text{At: draw.Point{X: margin + padding, Y: 19.5}, Face: draw.SemiBold, Size: 16, Tone: draw.Ink}
	big.Words = fit(big, question, width)
	bold := draw.Text{At: draw.Point{X: margin + padding, Y: 25.5}, Face: draw.SemiBold, Size: 9, Tone: draw.Ink}
	bold.Words = clip(bold, verdict, width)
	small := draw.Text{At: draw.Point{X: bold.At.X + bold.Width() + 3, Y: 25.5}, Size: 9, Tone: draw.Graphite}
	small.Words = clip(small, under, width-bold.Width()-3)
	return draw.Layer{Name: "heading", Texts: []draw.Text{big, bold, small}}
}

// An entry of a key is a sample of what is drawn, 12 mm wide from the place it is drawn at, and what it means.
type entry struct {
	sample func(at draw.Point) []draw.Path
	words  string
}

// key is a column of entries from a place downwards, and where its last line stands. Entries without a sample are notes.
func key(layer *draw.Layer, at draw.Point, width, size float64, entries []entry) (bottom float64) {
	const sample = 15
	text := draw.Text{Size: size, Tone: draw.Ink}
	for _, e := range entries {
		if e.sample != nil {
			layer.Paths = append(layer.Paths, e.sample(draw.Point{X: at.X, Y: at.Y - 1})...)
		}
		for _, line := range wrap(text, e.words, width-sample) {
			text.Words, text.At = line, draw.Point{X: at.X + sample, Y: at.Y}
			layer.Texts = append(layer.Texts, text)
			bottom = at.Y
			at.Y += pitch(text.Size)
		}
		at.Y += 0.9
	}
	return bottom
}

// stroke is the sample of a line; dots are added where it has some.
func stroke(pen draw.Pen, dots ...draw.Path) func(draw.Point) []draw.Path {
	return func(at draw.Point) []draw.Path {
		paths := []draw.Path{draw.Line(pen, at, draw.Point{X: at.X + 12, Y: at.Y})}
		for _, d := range dots {
			paths = append(paths, moved(d, at.X+6, at.Y))
		}
		return paths
	}
}

// patch is the sample of an area.
func patch(hatched bool) func(draw.Point) []draw.Path {
	return func(at draw.Point) []draw.Path {
		box := draw.Box{Min: draw.Point{X: at.X, Y: at.Y - 1.6}, Max: draw.Point{X: at.X + 12, Y: at.Y + 1.6}}
		paths := []draw.Path{draw.Area(draw.Shade, draw.Pen{Tone: draw.Rule, Width: draw.Hair}, box.Corners()...)}
		if hatched {
			paths = append(paths, hatching(box.Corners()...))
		}
		return paths
	}
}

// moved is a path moved by so much.
func moved(p draw.Path, dx, dy float64) draw.Path {
	steps := make([]draw.Step, len(p.Steps))
	by := func(q draw.Point) draw.Point { return draw.Point{X: q.X + dx, Y: q.Y + dy} }
	for i, s := range p.Steps {
		steps[i] = draw.Step{Kind: s.Kind, To: by(s.To), C1: by(s.C1), C2: by(s.C2)}
	}
	p.Steps = steps
	return p
}
