package layout

import "farend/draw"

// An Entry of a key is a sample of what is drawn, 12 mm wide from the place it is drawn at, and what it means.
type Entry struct {
	Sample func(at draw.Point) []draw.Path
	Words  string
}

// Key is a column of entries from a place downwards, and where its last line stands. Entries without a sample are notes.
func Key(layer *draw.Layer, at draw.Point, width, size float64, entries []Entry) (bottom float64) {
	const sample = 15
	text := draw.Text{Size: size, Tone: draw.Ink}
	for _, e := range entries {
		if e.Sample != nil {
			layer.Paths = append(layer.Paths, e.Sample(draw.Point{X: at.X, Y: at.Y - 1})...)
		}
		for _, line := range Wrap(text, e.Words, width-sample) {
			text.Words, text.At = line, draw.Point{X: at.X + sample, Y: at.Y}
			layer.Texts = append(layer.Texts, text)
			bottom = at.Y
			at.Y += Pitch(text.Size)
		}
		at.Y += 0.9
	}
	return bottom
}

// Stroke is the sample of a line; dots are added where it has some.
func Stroke(pen draw.Pen, dots ...draw.Path) func(draw.Point) []draw.Path {
	return func(at draw.Point) []draw.Path {
		paths := []draw.Path{draw.Line(pen, at, draw.Point{X: at.X + 12, Y: at.Y})}
		for _, d := range dots {
			paths = append(paths, Moved(d, at.X+6, at.Y))
		}
		return paths
	}
}

// Moved is a path moved by so much.
func Moved(p draw.Path, dx, dy float64) draw.Path {
	steps := make([]draw.Step, len(p.Steps))
	by := func(q draw.Point) draw.Point { return draw.Point{X: q.X + dx, Y: q.Y + dy} }
	for i, s := range p.Steps {
		steps[i] = draw.Step{Kind: s.Kind, To: by(s.To), C1: by(s.C1), C2: by(s.C2)}
	}
	p.Steps = steps
	return p
}

// Shown is an entry with a sample; Noted is one without.
func Shown(sample func(at draw.Point) []draw.Path, words string) Entry { return Entry{sample, words} }
func Noted(words string) Entry                                         { return Entry{nil, words} }
