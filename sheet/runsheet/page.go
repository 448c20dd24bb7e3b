package runsheet

import (
	"fmt"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/study"
)

// A benchChunk is something that stands in a column and is never divided: a row of a table, a heading with its first lines.
type benchChunk struct {
	height float64
	draw   func(layer *draw.Layer, at draw.Point)
	again  *benchChunk // what a new column begins with, where it begins with this one
}

// leaves lays the sheet out: the rows of the tape from the top, then the tables on the left and the words on the right, which go on below the
// tables where there is room, on as many pages as they take.
func (s *runSheet) leaves() []layout.Leaf {
	field := s.paper.Field()
	const between = 8
	share := 0.6
	leftWidth := field.Width()*share - between/2
	rightWidth := field.Width() - leftWidth - between
	columns := [2][]benchChunk{s.tables(leftWidth), s.paragraphs(rightWidth)}
	xs := [2]float64{field.Min.X, field.Min.X + leftWidth + between}

	var list []layout.Leaf
	for row := 0; row < len(s.band.rows) || len(columns[0])+len(columns[1]) > 0; {
		tape, ruled, words, rest := draw.Layer{Name: "tape"}, draw.Layer{Name: "dimensions"}, draw.Layer{Name: "labels"}, draw.Layer{Name: "tables"}
		y := field.Min.Y
		drawn := false
		for ; row < len(s.band.rows) && (y+s.band.rows[row].height() <= field.Max.Y || !drawn); row++ {
			s.drawRow(row, y, &tape, &ruled, &words)
			y += s.band.rows[row].height()
			drawn = true
		}
		if drawn {
			y += 2
		}
		const least = 40 // millimetres of a column that are worth beginning
		if row == len(s.band.rows) && (field.Max.Y-y > least || !drawn) {
			ends := [2]float64{}
			for i := range columns {
				columns[i], ends[i] = columnFilled(&rest, columns[i], draw.Point{X: xs[i], Y: y}, field.Max.Y)
			}
			const gap = 5 // from the tables to words that go on below them
			if below := ends[0] + gap; len(columns[0]) == 0 && len(columns[1]) > 0 && below+columns[1][0].height <= field.Max.Y {
				columns[1], _ = columnFilled(&rest, columns[1], draw.Point{X: xs[0], Y: below}, field.Max.Y)
			}
		}
		leaf := s.leaf(len(list))
		if drawn {
			leaf.Scale = s.band.scale
		}
		for _, l := range []draw.Layer{tape, ruled, words, rest} {
			if len(l.Paths)+len(l.Texts) > 0 {
				leaf.Layers = append(leaf.Layers, l)
			}
		}
		list = append(list, leaf)
	}
	return list
}

// columnFilled puts as many chunks into a column as it holds, at least one, and answers with the rest and how far down they reach.
func columnFilled(layer *draw.Layer, chunks []benchChunk, at draw.Point, bottom float64) ([]benchChunk, float64) {
	for first := true; len(chunks) > 0; first = false {
		c := chunks[0]
		if !first && at.Y+c.height > bottom {
			return chunks, at.Y
		}
		if first && c.again != nil {
			c.again.draw(layer, at)
			at.Y += c.again.height
		}
		c.draw(layer, at)
		at.Y += c.height
		chunks = chunks[1:]
	}
	return nil, at.Y
}

// leaf is a page of the sheet without what is drawn on it.
func (s *runSheet) leaf(n int) layout.Leaf {
	name := s.id
	if s.run.Label != "" {
		name += ", " + s.run.Label
	}
	l := layout.Leaf{
		Name: "run-" + s.id, Outline: name, Title: name + ": cut, solder and mount",
		Verdict: fmt.Sprintf("Cut to %s: %s of %s, a cut mark every %s", s.mm(float64(s.run.Count)), study.Counted(s.run.Count, "pixel"), s.apart(1), eachOf(s.tape.CutEvery, "pixel")),
		Under:   s.tape.Title, Desc: s.described(), Paper: s.paper, Cells: s.cells(), Notes: s.rests(),
	}
	if n > 0 {
		l.Name = layout.Nth(l.Name, n+1)
		l.Outline, l.Title, l.Desc = "", l.Title+", continued", "Continuation of the sheet of run "+s.id+"."
	}
	return l
}

func (s *runSheet) cells() []layout.Cell {
	ip := "not stated"
	if degree := s.st.Scheme.RunIP(s.id); degree != "" {
		ip = "IP" + degree
	}
	port, first := s.port()
	data := "no port"
	if port != "" {
		data = fmt.Sprintf("%s, pixels %d to %d", port, first, first+s.run.Count-1)
	}
	return []layout.Cell{
		{Caption: "Run", Says: s.id, Name: true, Share: 24},
		{Caption: "Tape", Says: s.run.Tape, Face: draw.Mono, Name: true, Share: 60},
		{Caption: "Data", Says: data, Name: true, Share: 56},
		{Caption: "Protection", Says: ip, Share: 22},
		{Caption: "Scale along the tape", Says: fmt.Sprintf("1:%g", s.band.scale), Share: 30},
	}
}

// Measures of tables, in millimetres.
const (
	benchSize = 7.5 // points
	benchGap  = 2
)

// tables are the two tables as chunks.
func (s *runSheet) tables(width float64) []benchChunk {
	places := placesTable(width, "Everything at its place, from the data-in end", [5]float64{19, 21, 34, 52, 44}, [5]string{"mm", "mark", "what", "cable, fuse", "note"}, s.rows())
	pieces := placesTable(width, "Pieces of the rails between cuts and ends", [5]float64{10, 28, 20, 52, 52}, [5]string{"rail", "pixels", "length", "fed by, or taken home by", "end to end at 20" + layout.Thin + "°C, and its spread"}, s.pieceRows())
	return append(append(places, benchChunk{height: 3, draw: func(*draw.Layer, draw.Point) {}}), pieces...)
}

// placesTable is a table as chunks: its title with the head and the first row, then row by row. Columns share the width.
func placesTable(width float64, title string, shares [5]float64, head [5]string, rows [][5]string) []benchChunk {
	all := 0.0
	for _, share := range shares {
		all += share
	}
	var lefts, widths [5]float64
	x := 0.0
	for i, share := range shares {
		lefts[i], widths[i] = x, width*share/all-benchGap
		x += width * share / all
	}
	heading := headingChunk(title)
	heads := rowChunk(head, lefts, widths, width, draw.SemiBold, draw.Thin)
	again := benchChunk{height: heading.height + heads.height, draw: func(layer *draw.Layer, at draw.Point) {
		heading.draw(layer, at)
		heads.draw(layer, draw.Point{X: at.X, Y: at.Y + heading.height})
	}}
	var list []benchChunk
	for i, row := range rows {
		c := rowChunk(row, lefts, widths, width, draw.Sans, draw.Hair)
		if i > 0 {
			c.again = &again
			list = append(list, c)
			continue
		}
		list = append(list, benchChunk{height: again.height + c.height, draw: func(layer *draw.Layer, at draw.Point) {
			again.draw(layer, at)
			c.draw(layer, draw.Point{X: at.X, Y: at.Y + again.height})
		}})
	}
	return list
}

func headingChunk(words string) benchChunk {
	return benchChunk{height: 5.4, draw: func(layer *draw.Layer, at draw.Point) {
		layer.Texts = append(layer.Texts, draw.Text{Words: words, Face: draw.SemiBold, Size: 9, Tone: draw.Ink, At: draw.Point{X: at.X, Y: at.Y + 3.4}})
	}}
}

// rowChunk is a row of a table over a line.
func rowChunk(cells [5]string, lefts, widths [5]float64, width float64, face draw.Face, under float64) benchChunk {
	like := draw.Text{Size: benchSize, Tone: draw.Ink, Face: face}
	var lines [5][]string
	most := 1
	for i, words := range cells {
		lines[i] = layout.Wrap(like, words, widths[i])
		most = max(most, len(lines[i]))
	}
	pitch := layout.Pitch(benchSize)
	height := float64(most)*pitch + 1.2
	return benchChunk{height: height, draw: func(layer *draw.Layer, at draw.Point) {
		for i := range lines {
			for k, line := range lines[i] {
				text := like
				text.Words, text.At = line, draw.Point{X: at.X + lefts[i], Y: at.Y + 2.8 + float64(k)*pitch}
				layer.Texts = append(layer.Texts, text)
			}
		}
		y := at.Y + height - 0.2
		layer.Paths = append(layer.Paths, draw.Line(draw.Pen{Tone: draw.Graphite, Width: under}, draw.Point{X: at.X, Y: y}, draw.Point{X: at.X + width, Y: y}))
	}}
}

// paragraphs are the key and the words as chunks.
func (s *runSheet) paragraphs(width float64) []benchChunk {
	list := s.keyChunks(width)
	for _, p := range s.told() {
		heading := headingChunk(p.heading)
		for i, words := range p.says {
			c := saidChunk(words, width, p.tick && !strings.HasPrefix(words, "How to measure"))
			if i == 0 {
				c = headedChunk(heading, c)
			}
			list = append(list, c)
		}
		list = append(list, benchChunk{height: 1.6, draw: func(*draw.Layer, draw.Point) {}})
	}
	return list
}

// headedChunk is a chunk with a heading over it.
func headedChunk(heading, c benchChunk) benchChunk {
	return benchChunk{height: heading.height + c.height, draw: func(layer *draw.Layer, at draw.Point) {
		heading.draw(layer, at)
		c.draw(layer, draw.Point{X: at.X, Y: at.Y + heading.height})
	}}
}

// saidChunk is a sentence or two, with a box to tick where it asks for one.
func saidChunk(words string, width float64, tick bool) benchChunk {
	like := draw.Text{Size: benchSize, Tone: draw.Ink}
	indent := 0.0
	if tick {
		indent = 5
	}
	lines := layout.Wrap(like, words, width-indent)
	pitch := layout.Pitch(benchSize)
	return benchChunk{height: float64(len(lines))*pitch + 0.8, draw: func(layer *draw.Layer, at draw.Point) {
		if tick {
			box := draw.Box{Min: draw.Point{X: at.X + 0.2, Y: at.Y + 0.5}, Max: draw.Point{X: at.X + 2.8, Y: at.Y + 3.1}}
			layer.Paths = append(layer.Paths, draw.Area(draw.None, draw.Pen{Tone: draw.Ink, Width: draw.Hair}, box.Corners()...))
		}
		for i, line := range lines {
			text := like
			text.Words, text.At = line, draw.Point{X: at.X + indent, Y: at.Y + 2.8 + float64(i)*pitch}
			layer.Texts = append(layer.Texts, text)
		}
	}}
}

// keyChunks are the entries of the key, two beside each other.
func (s *runSheet) keyChunks(width float64) []benchChunk {
	entries := s.key()
	notes := entries[len(entries)-1]
	entries = entries[:len(entries)-1]
	list := []benchChunk{}
	half := width / 2
	for i := 0; i < len(entries); i += 2 {
		pair := entries[i:min(i+2, len(entries))]
		lowest := 0.0
		for _, e := range pair {
			lowest = max(lowest, layout.Key(&draw.Layer{}, draw.Point{}, half-2, benchSize, []layout.Entry{e}))
		}
		list = append(list, benchChunk{height: lowest + 4.4, draw: func(layer *draw.Layer, at draw.Point) {
			for k, e := range pair {
				layout.Key(layer, draw.Point{X: at.X + float64(k)*half, Y: at.Y + 2.8}, half-2, benchSize, []layout.Entry{e})
			}
		}})
	}
	if len(list) > 0 {
		list[0] = headedChunk(headingChunk("Key"), list[0])
	}
	list = append(list, saidChunk(notes.Words, width, false))
	return append(list, benchChunk{height: 1.6, draw: func(*draw.Layer, draw.Point) {}})
}
