package draw

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// DXF writes a scene as a drawing in DXF of Release 12 (AC1009), in ASCII, which every drawing program reads. It is as large as what it shows
// where the scene has a scale, and as the page where it has none; a unit is a millimetre, its zero the origin of the scene, y goes upwards. Each
// layer of the scene is a layer, named in capitals; straight parts are lines, others polylines, texts are texts of the same height and width in a style for each face.
//
// Release 12 has no areas, pictures or widths of lines: of an area and a picture the outline is drawn, and colours are the nearest
// of its palette. What only hides what lies below it, in the tone of paper, is left out.
//
// The error is that of SVG.
func DXF(s *Scene) ([]byte, error) {
	if err := s.sound(); err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	w := dxf{zero: Point{s.Origin.X, s.Height - s.Origin.Y}, scale: 1, types: map[string]string{}, numbers: map[Tone]int{}}
	if s.Scale > 0 {
		w.scale = s.Scale
	}
	for _, l := range s.Layers {
		w.layer(l)
	}
	return w.file(s), nil
}

// dxf is a file being written. The line types stand before what is drawn with them.
type dxf struct {
	zero    Point   // of the drawing, on the page
	scale   float64 // millimetres of the drawing to one of the page
	body    groups
	types   map[string]string // the names of line types, by their dashes
	dashes  [][]float64       // of each, in order
	numbers map[Tone]int
}

// groups are what a DXF file is made of: a code that says what a value is, and the value, each in a line of its own.
type groups struct{ bytes.Buffer }

func (g *groups) text(code int, value string) { fmt.Fprintf(g, "%3d\r\n%s\r\n", code, value) }

func (g *groups) whole(code, value int) { g.text(code, strconv.Itoa(value)) }

func (g *groups) number(code int, v float64) {
	text := strconv.FormatFloat(v, 'f', 4, 64)
	if text == "-0.0000" {
		text = "0.0000"
	}
	g.text(code, text)
}

// at is a place: its x with a code, y and z with the codes ten and twenty above.
func (g *groups) at(code int, p Point) {
	g.number(code, p.X)
	g.number(code+10, p.Y)
	g.number(code+20, 0)
}

// place is a place of the page in the drawing.
func (w *dxf) place(p Point) Point {
	return Point{(p.X - w.zero.X) * w.scale, (w.zero.Y - p.Y) * w.scale}
}

func (w *dxf) layer(l Layer) {
	name := strings.ToUpper(l.Name)
	for _, i := range l.Images {
		w.piece(name, Graphite, "", piece{i.Box.Corners(), true})
	}
	for _, p := range l.Paths {
		w.path(name, p)
	}
	for _, t := range l.Texts {
		w.text(name, t)
	}
}

func (w *dxf) path(layer string, p Path) {
	tone, line := p.Fill, ""
	if p.Pen.Width > 0 {
		tone, line = p.Pen.Tone, w.lineType(p.Pen.Dash)
	}
	if tone == Paper { // a line that only parts things on paper; what it is filled with is drawn all the same
		tone, line = p.Fill, ""
	}
	if tone == None || tone == Paper {
		return
	}
	const fine = 0.02 // millimetres of the page
	for _, one := range pieces(p.Steps, fine) {
		w.piece(layer, tone, line, one)
	}
}

// piece draws what goes from one place to another as a line, anything longer as a polyline.
func (w *dxf) piece(layer string, tone Tone, line string, p piece) {
	begin := func(kind string) {
		w.begin(kind, layer, tone)
		if line != "" {
			w.body.text(6, line)
		}
	}
	if len(p.points) == 2 {
		begin("LINE")
		w.body.at(10, w.place(p.points[0]))
		w.body.at(11, w.place(p.points[1]))
		return
	}
	begin("POLYLINE")
	w.body.whole(66, 1) // vertices follow
	w.body.at(10, Point{})
	closed := 0
	if p.closed {
		closed = 1
	}
	w.body.whole(70, closed)
	for _, at := range p.points {
		w.begin("VERTEX", layer, tone)
		w.body.at(10, w.place(at))
	}
	w.begin("SEQEND", layer, tone)
}

// begin is the beginning of anything drawn.
func (w *dxf) begin(kind, layer string, tone Tone) {
	number, met := w.numbers[tone]
	if !met {
		number = tone.number()
		w.numbers[tone] = number
	}
	w.body.text(0, kind)
	w.body.text(8, layer)
	w.body.whole(62, number)
}

// lineType is the name of the line type of some dashes, "" for a whole line.
func (w *dxf) lineType(dash []float64) string {
	if len(dash) == 0 {
		return ""
	}
	if len(dash)%2 == 1 { // lines and gaps in turn, so lines are gaps the next time
		dash = append(dash[:len(dash):len(dash)], dash...)
	}
	key := fmt.Sprint(dash)
	if _, met := w.types[key]; !met {
		w.dashes = append(w.dashes, dash)
		w.types[key] = fmt.Sprintf("DASH%d", len(w.dashes))
	}
	return w.types[key]
}

// styles are the names of the faces, and the files that a program asks for; one that has none of the name takes its own.
var styles = [...][2]string{Sans: {"SANS", "IBMPlexSans-Regular.ttf"}, SemiBold: {"SEMIBOLD", "IBMPlexSans-SemiBold.ttf"}, Mono: {"MONO", "IBMPlexMono-Regular.ttf"}}

// text is measured there by the height of its capitals.
func (w *dxf) text(layer string, t Text) {
	if t.Words == "" {
		return
	}
	w.begin("TEXT", layer, t.Tone)
	w.body.at(10, w.place(t.start()))
	w.body.number(40, t.Size*millimetres*capitals*w.scale)
	w.body.text(1, plainWords(t.Words))
	w.body.number(50, t.Turn)
	w.body.text(7, styles[t.Face][0])
	if t.Anchor != Start {
		w.body.whole(72, int(t.Anchor))
		w.body.at(11, w.place(t.At))
	}
}

// plainWords is a text in ASCII. Degrees, plus-minus and diameter have signs of their own there; a minus, an ohm and a space of any
// width are written so that a program whose own letters lack them loses nothing; other characters are written as their numbers.
func plainWords(words string) string {
	var b strings.Builder
	runes := []rune(words)
	is := func(i int, r rune) bool { return i >= 0 && i < len(runes) && runes[i] == r }
	for i, r := range runes {
		switch {
		case r == '°':
			b.WriteString("%%d")
		case r == '±':
			b.WriteString("%%p")
		case r == 'Ø' || r == '⌀':
			b.WriteString("%%c")
		case r == '%' && (is(i-1, '%') || is(i+1, '%') || is(i+1, '°') || is(i+1, '±') || is(i+1, 'Ø') || is(i+1, '⌀')):
			b.WriteString("%%%") // two would begin a sign
		case r == 'Ω' || r == '\u2126':
			b.WriteString("Ohm")
		case r == '−':
			b.WriteByte('-')
		case r < ' ' || r == '\u00a0' || r == '\u2009' || r == '\u202f' || r == 0x7f:
			b.WriteByte(' ')
		case r < 0x7f && r != '\\' && r != '^': // which begin the number of a character, or a control character
			b.WriteRune(r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\U+%04X`, r)
		default:
			b.WriteByte('?')
		}
	}
	return b.String()
}

// file is the whole: what the drawing is, its line types, layers and styles, and what is drawn.
func (w *dxf) file(s *Scene) []byte {
	var out groups
	section := func(name string) { out.text(0, "SECTION"); out.text(2, name) }
	near, far := w.place(Point{0, s.Height}), w.place(Point{s.Width, 0})
	section("HEADER")
	out.text(9, "$ACADVER")
	out.text(1, "AC1009")
	out.text(9, "$INSUNITS") // it and the next are of later releases; readers of Release 12 pass over names that they do not know
	out.whole(70, 4)         // millimetres
	out.text(9, "$MEASUREMENT")
	out.whole(70, 1) // metric
	out.text(9, "$LTSCALE")
	out.number(40, 1)
	out.text(9, "$EXTMIN")
	out.at(10, near)
	out.text(9, "$EXTMAX")
	out.at(10, far)
	out.text(9, "$LIMMIN")
	out.number(10, near.X)
	out.number(20, near.Y)
	out.text(9, "$LIMMAX")
	out.number(10, far.X)
	out.number(20, far.Y)
	out.text(0, "ENDSEC")
	section("TABLES")
	w.writeTypes(&out)
	writeLayers(&out, s)
	writeStyles(&out)
	out.text(0, "ENDSEC")
	section("ENTITIES")
	out.Write(w.body.Bytes())
	out.text(0, "ENDSEC")
	out.text(0, "EOF")
	return out.Bytes()
}

// table writes a table of so many entries.
func (g *groups) table(name string, entries int, write func()) {
	g.text(0, "TABLE")
	g.text(2, name)
	g.whole(70, entries)
	write()
	g.text(0, "ENDTAB")
}

func (w *dxf) writeTypes(out *groups) {
	out.table("LTYPE", 1+len(w.dashes), func() {
		w.writeType(out, "CONTINUOUS", nil)
		for i, dash := range w.dashes {
			w.writeType(out, fmt.Sprintf("DASH%d", i+1), dash)
		}
	})
}

func (w *dxf) writeType(out *groups, name string, dash []float64) {
	out.text(0, "LTYPE")
	out.text(2, name)
	out.whole(70, 0)
	sum, says := 0.0, make([]string, len(dash))
	for i, d := range dash {
		sum += d
		says[i] = figure(d)
	}
	description := "whole"
	if len(dash) > 0 {
		description = strings.Join(says, " ") + " mm on paper"
	}
	out.text(3, description)
	out.whole(72, 65) // what every line type has here
	out.whole(73, len(dash))
	out.number(40, sum*w.scale)
	for i, d := range dash {
		if i%2 == 1 {
			d = -d // a gap
		}
		out.number(49, d*w.scale)
	}
}

func writeLayers(out *groups, s *Scene) {
	out.table("LAYER", 1+len(s.Layers), func() {
		for _, l := range append([]Layer{{Name: "0"}}, s.Layers...) {
			out.text(0, "LAYER")
			out.text(2, strings.ToUpper(l.Name))
			out.whole(70, 0)
			out.whole(62, ownContrast)
			out.text(6, "CONTINUOUS")
		}
	})
}

func writeStyles(out *groups) {
	out.table("STYLE", len(styles), func() {
		for _, s := range styles {
			out.text(0, "STYLE")
			out.text(2, s[0])
			out.whole(70, 0)
			out.number(40, 0) // each text has its own height
			out.number(41, 1)
			out.number(50, 0)
			out.whole(71, 0)
			out.number(42, 2.5)
			out.text(3, s[1])
			out.text(4, "")
		}
	})
}
