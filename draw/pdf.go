package draw

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"math"
	"strconv"
	"strings"
)

// PDF writes a document as a PDF 1.7 file, each page of its own size. Its fonts are embedded, so texts are texts: they can be
// searched and copied. Every layer is one that a reader can switch off, on all pages at once; pages with an entry in the outline
// are listed in it, and links lead from page to page. The same document gives the same bytes, so the file bears no date.
//
// Paper is what the page is printed on: it is white, and the ground is left bare. A character that our fonts lack is drawn as an open box, and found as itself.
//
// The error is ours: that of SVG, or a document without pages, two pages of one name, a link to none, an outline that skips a level.
func PDF(d Document) ([]byte, error) {
	if err := d.sound(); err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	w := pdf{file: newPDFFile(), layers: map[string]int{}, pictures: map[[sha256.Size]byte]int{}}
	w.catalog, w.tree, w.shared = w.file.reserve(), w.file.reserve(), w.file.reserve()
	for face := range w.fonts {
		w.fonts[face] = pdfFont{face: Face(face), codes: map[rune]int{}, runes: []rune{0}}
	}
	numbers := make([]int, len(d.Pages))
	names := map[string]int{}
	for i, p := range d.Pages {
		numbers[i] = w.file.reserve()
		names[p.Name] = i
	}
	for i, p := range d.Pages {
		w.page(numbers[i], p.Scene, func(to string) string { return destination(numbers[names[to]], d.Pages[names[to]].Scene) })
	}
	w.file.object(w.tree, "<</Type/Pages/Count %d/Kids[%s]>>", len(numbers), references(numbers))
	w.resources()
	return w.end(d, numbers), nil
}

// pdf is a file being written.
type pdf struct {
	file     *pdfFile
	catalog  int // the numbers of its objects
	tree     int
	shared   int
	fonts    [Mono + 1]pdfFont
	layers   map[string]int            // by name, counted from 0
	groups   []int                     // the object of each layer
	pictures map[[sha256.Size]byte]int // by what is in them, counted from 0
	images   []int                     // the object of each picture
}

// destination is the upper edge of a page.
func destination(number int, s *Scene) string {
	return fmt.Sprintf("[%d 0 R/XYZ 0 %s null]", number, figure(s.Height/millimetres))
}

func (w *pdf) page(number int, s *Scene, goal func(string) string) {
	var b bytes.Buffer
	// From here on all is in millimetres from the upper left corner, and lines are as everywhere.
	fmt.Fprintf(&b, "%s 0 0 %s 0 %s cm\n0 J 0 j %s M\n", fine(1/millimetres), fine(-1/millimetres), fine(s.Height/millimetres), figure(mitre))
	for _, l := range s.Layers {
		w.layer(&b, l)
	}
	content := w.file.stream("", b.Bytes())
	links := ""
	if len(s.Links) > 0 {
		var list strings.Builder
		for _, l := range s.Links {
			fmt.Fprintf(&list, "<</Type/Annot/Subtype/Link/Rect[%s %s %s %s]/Border[0 0 0]/Dest%s>>\n",
				figure(l.Box.Min.X/millimetres), figure((s.Height-l.Box.Max.Y)/millimetres),
				figure(l.Box.Max.X/millimetres), figure((s.Height-l.Box.Min.Y)/millimetres), goal(l.To))
		}
		links = "/Annots[" + list.String() + "]"
	}
	w.file.object(number, "<</Type/Page/Parent %d 0 R/MediaBox[0 0 %s %s]/Resources %d 0 R/Contents %d 0 R%s>>",
		w.tree, figure(s.Width/millimetres), figure(s.Height/millimetres), w.shared, content, links)
}

func (w *pdf) layer(b *bytes.Buffer, l Layer) {
	n, met := w.layers[l.Name]
	if !met {
		n = len(w.groups)
		w.layers[l.Name] = n
		w.groups = append(w.groups, w.file.add("<</Type/OCG/Name %s>>", pdfText(l.Name)))
	}
	fmt.Fprintf(b, "/OC /L%d BDC\n", n)
	for _, i := range l.Images {
		w.image(b, i)
	}
	for _, p := range l.Paths {
		drawPath(b, p)
	}
	for _, t := range l.Texts {
		w.text(b, t)
	}
	b.WriteString("EMC\n")
}

// drawPath says all that a path needs, so that nothing of it depends on the one before.
func drawPath(b *bytes.Buffer, p Path) {
	lined, filled := p.Pen.Width > 0, p.Fill != None
	if len(p.Steps) == 0 || !lined && !filled {
		return
	}
	if filled {
		fmt.Fprintf(b, "%s rg\n", printed(p.Fill))
	}
	if lined {
		dashes := make([]string, len(p.Pen.Dash))
		for i, d := range p.Pen.Dash {
			dashes[i] = figure(d)
		}
		fmt.Fprintf(b, "%s RG %s w [%s] 0 d\n", printed(p.Pen.Tone), figure(p.Pen.Width), strings.Join(dashes, " "))
	}
	for _, s := range p.Steps {
		switch s.Kind {
		case Move:
			b.WriteString(place(s.To) + " m ")
		case Go:
			b.WriteString(place(s.To) + " l ")
		case Curve:
			b.WriteString(place(s.C1) + " " + place(s.C2) + " " + place(s.To) + " c ")
		case Close:
			b.WriteString("h ")
		}
	}
	switch {
	case lined && filled:
		b.WriteString("B*\n")
	case filled:
		b.WriteString("f*\n")
	default:
		b.WriteString("S\n")
	}
}

// printed is red, green and blue of a tone in print, from 0 to 1.
func printed(t Tone) string {
	c, _ := t.rgb()
	if t == Paper {
		c = [3]uint8{255, 255, 255}
	}
	return figure(float64(c[0])/255) + " " + figure(float64(c[1])/255) + " " + figure(float64(c[2])/255)
}

// fine is a number that others are multiplied by.
func fine(v float64) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 8, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// text draws what the font has as text and an open box for each other character. In a text with such the whole is said once more for searching, because a box says nothing.
func (w *pdf) text(b *bytes.Buffer, t Text) {
	if t.Words == "" {
		return
	}
	fmt.Fprintf(b, "%s rg\n", printed(t.Tone))
	lacks := len(t.Lacks()) > 0
	if lacks {
		fmt.Fprintf(b, "/Span <</ActualText %s>> BDC\n", pdfText(t.Words))
	}
	font := &w.fonts[t.Face]
	face := faces[t.Face]()
	var codes strings.Builder
	var boxes []float64 // where characters are lacking, in 1/1000 em
	x := 0.0
	for _, r := range t.Words {
		g := face.glyph(r)
		if g.index == 0 {
			boxes = append(boxes, x)
			space := face.glyph(' ')
			fmt.Fprintf(&codes, "%04X> %d <", font.code(' '), int(space.advance)-int(g.advance)) // a space, and on to the end of the box
		} else {
			fmt.Fprintf(&codes, "%04X", font.code(r))
		}
		x += float64(g.advance)
	}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	size := t.Size * millimetres
	at := t.start()
	fmt.Fprintf(b, "BT /F%d %s Tf %s %s %s %s %s Tm [<%s>] TJ ET\n", t.Face, fine(size), fine(cos), fine(-sin), fine(-sin), fine(-cos), place(at), codes.String())
	if lacks {
		b.WriteString("EMC\n")
	}
	for _, x := range boxes {
		drawPath(b, Path{Fill: t.Tone, Steps: placed(lacking(), ahead(at, t.Turn, x/em*size), t.Turn, size/em)})
	}
}

// image stretches a picture over its box.
func (w *pdf) image(b *bytes.Buffer, i Image) {
	n := w.picture(dots(i.Picture))
	fmt.Fprintf(b, "q %s 0 0 %s %s %s cm /I%d Do Q\n", figure(i.Box.Width()), figure(-i.Box.Height()), figure(i.Box.Min.X), figure(i.Box.Max.Y), n)
}

// picture is the count of a picture, which is written when it is first met.
func (w *pdf) picture(p *image.NRGBA) int {
	key := sha256.Sum256(append(fmt.Appendf(nil, "%d ", p.Stride), p.Pix...))
	if n, met := w.pictures[key]; met {
		return n
	}
	colours, opacities := make([]byte, 0, len(p.Pix)/4*3), make([]byte, 0, len(p.Pix)/4)
	for i := 0; i < len(p.Pix); i += 4 {
		colours = append(colours, p.Pix[i:i+3]...)
		opacities = append(opacities, p.Pix[i+3])
	}
	size := fmt.Sprintf("/Type/XObject/Subtype/Image/Width %d/Height %d/BitsPerComponent 8", p.Rect.Dx(), p.Rect.Dy())
	mask := ""
	if !p.Opaque() {
		mask = fmt.Sprintf("/SMask %d 0 R", w.file.stream(size+"/ColorSpace/DeviceGray", opacities))
	}
	n := len(w.images)
	w.pictures[key] = n
	w.images = append(w.images, w.file.stream(size+"/ColorSpace/DeviceRGB"+mask, colours))
	return n
}

// resources are what pages name: the fonts that are used, pictures and layers. All pages share them.
func (w *pdf) resources() {
	var fonts, images, layers strings.Builder
	for i := range w.fonts {
		if f := &w.fonts[i]; len(f.runes) > 1 {
			f.number = w.file.reserve()
			f.write(w.file)
			fmt.Fprintf(&fonts, "/F%d %d 0 R", f.face, f.number)
		}
	}
	for i, n := range w.images {
		fmt.Fprintf(&images, "/I%d %d 0 R", i, n)
	}
	for i, n := range w.groups {
		fmt.Fprintf(&layers, "/L%d %d 0 R", i, n)
	}
	w.file.object(w.shared, "<</Font<<%s>>/XObject<<%s>>/Properties<<%s>>>>", fonts.String(), images.String(), layers.String())
}

func (w *pdf) end(d Document, numbers []int) []byte {
	outline := ""
	if root := w.outline(d, numbers); root != 0 {
		outline = fmt.Sprintf("/Outlines %d 0 R/PageMode/UseOutlines", root)
	}
	layers := ""
	if list := references(w.groups); list != "" {
		layers = fmt.Sprintf("/OCProperties<</OCGs[%s]/D<</Order[%[1]s]/ON[%[1]s]>>>>", list)
	}
	w.file.object(w.catalog, "<</Type/Catalog/Pages %d 0 R/Lang(en-GB)/ViewerPreferences<</DisplayDocTitle true>>%s%s>>", w.tree, outline, layers)
	info := w.file.add("<</Title %s/Producer(farend)>>", pdfText(d.Title))
	return w.file.end(w.catalog, info)
}
