package layout

import "farend/draw"

// ascent is from the top of a line to its baseline, in multiples of the size of its text.
const ascent = 0.91

// A Para is a paragraph, or a heading.
type Para struct {
	Words   string
	Size    float64 // points; 9 where 0
	Face    draw.Face
	Tone    draw.Tone // Ink where None
	Indent  float64   // from the edge to the words
	Mark    string    // stands before the first line; it may be a sign such as I_max
	Badge   *Badge    // stands before the mark
	MarkAt  float64   // from the edge to either
	Formula bool      // the words have such signs too
	Above   float64   // the gap over it
	Keep    bool      // on the page of what follows
	Anchor  string
	To      []string // the leaves that it may lead to, the first that is there
}

// like is how the words are set.
func (p Para) like() draw.Text {
	like := draw.Text{Size: p.Size, Face: p.Face, Tone: p.Tone}
	if like.Size == 0 {
		like.Size = 9
	}
	if like.Tone == draw.None {
		like.Tone = draw.Ink
	}
	return like
}

// Strips are the lines, of which neither the first nor the last stands alone.
func (p Para) Strips(width, _ float64) []Strip {
	like := p.like()
	measure := func(text string) float64 { return Wide(like, text) }
	if p.Formula {
		measure = func(text string) float64 { return WideFormula(like, text) }
	}
	lines := broken(p.Words, width-p.Indent, measure)
	if len(lines) == 0 && (p.Mark != "" || p.Badge != nil) {
		lines = []string{""}
	}
	strips := make([]Strip, len(lines))
	for i, line := range lines {
		strips[i] = Strip{Height: Pitch(like.Size), Draw: func(on *Drawn, at draw.Point) { p.draw(on, at, line, i == 0) }}
		strips[i].Keep = i == 0 && len(lines) > 1 || i == len(lines)-2 || i == len(lines)-1 && p.Keep || p.Keep && len(lines) < 4
	}
	if len(strips) > 0 {
		strips[0].Above, strips[0].Anchor = p.Above, p.Anchor
	}
	return strips
}

func (p Para) draw(on *Drawn, at draw.Point, line string, first bool) {
	text := p.like()
	text.At = draw.Point{X: at.X + p.Indent, Y: at.Y + draw.Millimetres(ascent*text.Size)}
	if first {
		x := at.X + p.MarkAt
		if p.Badge != nil {
			p.Badge.Draw(&on.Layer, draw.Point{X: x, Y: text.At.Y}, text.Size)
			x += BadgeWidth(text.Size)
		}
		if p.Mark != "" {
			mark := text
			mark.At.X = x
			on.Layer.Texts = append(on.Layer.Texts, Formula(mark, p.Mark)...)
		}
	}
	text.Words = line
	wide := Wide(text, line)
	if p.Formula {
		wide = WideFormula(text, line)
		on.Layer.Texts = append(on.Layer.Texts, Formula(text, line)...)
	} else if line != "" {
		on.Layer.Texts = append(on.Layer.Texts, text)
	}
	for _, to := range p.To {
		on.Links = append(on.Links, draw.Link{Box: draw.Box{Min: draw.Point{X: text.At.X, Y: at.Y}, Max: draw.Point{X: text.At.X + wide, Y: at.Y + Pitch(text.Size)}}, To: to})
	}
}

// A Figure is a drawing of a height.
type Figure struct {
	Height, Above float64
	Keep          bool
	Draw          func(on *Drawn, at draw.Point, width float64)
}

func (f Figure) Strips(width, _ float64) []Strip {
	return []Strip{{Height: f.Height, Above: f.Above, Keep: f.Keep, Draw: func(on *Drawn, at draw.Point) { f.Draw(on, at, width) }}}
}

// Hairline is a line over the whole width.
func Hairline(above float64) Figure {
	return Figure{Height: 0.2, Above: above, Keep: true, Draw: func(on *Drawn, at draw.Point, width float64) {
		on.Layer.Paths = append(on.Layer.Paths, draw.Line(draw.Pen{Tone: draw.Rule, Width: draw.Thin}, at, draw.Point{X: at.X + width, Y: at.Y}))
	}}
}

// Side is columns of blocks beside each other, in one piece.
type Side struct {
	Columns []SideColumn
	Gap     float64 // between two of them
	Above   float64
}

// A SideColumn is blocks in a column of a width; one without a width has what the others leave.
type SideColumn struct {
	Width  float64
	Blocks []Block
}

func (s Side) Strips(width, height float64) []Strip {
	left := width - s.Gap*float64(len(s.Columns)-1)
	open := 0
	for _, c := range s.Columns {
		left -= c.Width
		if c.Width == 0 {
			open++
		}
	}
	columns, widths := make([][]Strip, len(s.Columns)), make([]float64, len(s.Columns))
	piece := Strip{Above: s.Above}
	for i, c := range s.Columns {
		if widths[i] = c.Width; c.Width == 0 {
			widths[i] = left / float64(open)
		}
		for _, b := range c.Blocks {
			columns[i] = append(columns[i], b.Strips(widths[i], height)...)
		}
		piece.Height = max(piece.Height, tall(columns[i], true))
	}
	piece.Draw = func(on *Drawn, at draw.Point) {
		for i, strips := range columns {
			y := at.Y
			for k, strip := range strips {
				if k > 0 {
					y += strip.Above
				}
				strip.Draw(on, draw.Point{X: at.X, Y: y})
				y += strip.Height
			}
			at.X += widths[i] + s.Gap
		}
	}
	return []Strip{piece}
}
