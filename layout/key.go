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
			paths = append(paths, d.Move(at.X+6, at.Y))
		}
		return paths
	}
}

// Shown is an entry with a sample; Noted is one without.
func Shown(sample func(at draw.Point) []draw.Path, words string) Entry { return Entry{sample, words} }
func Noted(words string) Entry                                         { return Entry{nil, words} }
