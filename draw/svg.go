package draw

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"
)

// SVG writes a scene as an SVG 1.1 file in which a unit is a millimetre. It needs no other file and is the same everywhere: each
// text is drawn as the outlines of its glyphs, and lies over them once more as text that nobody sees, so that it can be searched,
// copied and read aloud. A text with characters that our fonts lack is left to the reader's own, in the room that it was given.
//
// The error is ours: a number that is none, a tone, face, step or anchor that does not exist, or a name of a layer that is no name.
func SVG(s *Scene) ([]byte, error) {
	if err := s.sound(); err != nil {
		return nil, fmt.Errorf("draw: %w", err)
	}
	w := svg{ids: map[glyphKey]string{}}
	for _, l := range s.Layers {
		w.layer(l)
	}
	return w.page(s), nil
}

// svg is a file being written: the layers, and the glyphs that they use. Its own names begin with a capital, which no layer has.
type svg struct {
	body   bytes.Buffer
	glyphs bytes.Buffer
	ids    map[glyphKey]string
	buffer sfnt.Buffer
}

type glyphKey struct {
	face  Face
	index sfnt.GlyphIndex
}

// families are the fonts that text asks for which is not drawn by us.
var families = map[Face]string{
	Sans: "'IBM Plex Sans', sans-serif", SemiBold: "'IBM Plex Sans', sans-serif", Mono: "'IBM Plex Mono', monospace",
}

func (w *svg) page(s *Scene) []byte {
	var out bytes.Buffer
	out.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" width="%smm" height="%smm" viewBox="0 0 %s %s" stroke-linecap="butt" stroke-linejoin="miter" stroke-miterlimit="%s" aria-labelledby="Title Desc">`+"\n",
		figure(s.Width), figure(s.Height), figure(s.Width), figure(s.Height), figure(mitre))
	fmt.Fprintf(&out, "<title id=\"Title\">%s</title>\n<desc id=\"Desc\">%s</desc>\n", escaped(s.Title), escaped(s.Desc))
	fmt.Fprintf(&out, "<defs>\n%s</defs>\n", w.glyphs.Bytes())
	fmt.Fprintf(&out, `<rect width="%s" height="%s" fill="%s"/>`+"\n", figure(s.Width), figure(s.Height), Paper.colour())
	out.Write(w.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

func (w *svg) layer(l Layer) {
	fmt.Fprintf(&w.body, "<g id=\"%s\">\n", l.Name)
	for _, i := range l.Images {
		w.image(i)
	}
	for _, p := range l.Paths {
		w.path(p)
	}
	for _, t := range l.Texts {
		w.text(t)
	}
	w.body.WriteString("</g>\n")
}

// image carries its picture within the file.
func (w *svg) image(i Image) {
	fmt.Fprintf(&w.body, `<image x="%s" y="%s" width="%s" height="%s" preserveAspectRatio="none" xlink:href="data:image/png;base64,%s"/>`+"\n",
		figure(i.Box.Min.X), figure(i.Box.Min.Y), figure(i.Box.Width()), figure(i.Box.Height()), base64.StdEncoding.EncodeToString(encoded(dots(i.Picture))))
}

func (w *svg) path(p Path) {
	if len(p.Steps) == 0 {
		return
	}
	fmt.Fprintf(&w.body, `<path d="%s"`, route(p.Steps))
	if p.Fill == None {
		w.body.WriteString(` fill="none"`)
	} else {
		fmt.Fprintf(&w.body, ` fill="%s" fill-rule="evenodd"`, p.Fill.colour())
	}
	if p.Pen.Width > 0 {
		fmt.Fprintf(&w.body, ` stroke="%s" stroke-width="%s"`, p.Pen.Tone.colour(), figure(p.Pen.Width))
		if len(p.Pen.Dash) > 0 {
			dashes := make([]string, len(p.Pen.Dash))
			for i, d := range p.Pen.Dash {
				dashes[i] = figure(d)
			}
			fmt.Fprintf(&w.body, ` stroke-dasharray="%s"`, strings.Join(dashes, " "))
		}
	}
	w.body.WriteString("/>\n")
}

func route(steps []Step) string {
	var b strings.Builder
	for _, s := range steps {
		switch s.Kind {
		case Move:
			b.WriteString("M" + place(s.To))
		case Go:
			b.WriteString("L" + place(s.To))
		case Curve:
			b.WriteString("C" + place(s.C1) + " " + place(s.C2) + " " + place(s.To))
		case Close:
			b.WriteString("Z")
		}
	}
	return b.String()
}

func place(p Point) string { return figure(p.X) + " " + figure(p.Y) }

// figure is a number to the micrometre.
func figure(v float64) string {
	text := strconv.FormatFloat(v, 'f', 3, 64)
	text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

func escaped(text string) string {
	var b bytes.Buffer
	xml.EscapeText(&b, []byte(text)) // a buffer takes everything
	return b.String()
}

func (w *svg) text(t Text) {
	if t.Words == "" {
		return
	}
	opacity := ""
	if len(t.Lacks()) == 0 {
		w.outlines(t)
		opacity = ` fill-opacity="0"`
	}
	turn := ""
	if t.Turn != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s)"`, figure(-t.Turn), place(t.At))
	}
	weight := ""
	if t.Face == SemiBold {
		weight = ` font-weight="600"`
	}
	anchor := [...]string{Start: "", Middle: ` text-anchor="middle"`, End: ` text-anchor="end"`}[t.Anchor]
	fmt.Fprintf(&w.body, `<text x="%s" y="%s"%s font-family="%s"%s font-size="%s" textLength="%s" lengthAdjust="spacingAndGlyphs"%s fill="%s"%s>%s</text>`+"\n",
		figure(t.At.X), figure(t.At.Y), turn, families[t.Face], weight, figure(t.Size*millimetres), figure(t.Width()), anchor, t.Tone.colour(), opacity, escaped(t.Words))
}

// outlines draws the glyphs of a text, each in its own units of 1/1000 em.
func (w *svg) outlines(t Text) {
	scale := t.Size * millimetres / em
	turn := ""
	if t.Turn != 0 {
		turn = fmt.Sprintf(" rotate(%s)", figure(-t.Turn))
	}
	fmt.Fprintf(&w.body, `<g aria-hidden="true" fill="%s" transform="translate(%s)%s scale(%s)">`, t.Tone.colour(), place(t.At), turn, strconv.FormatFloat(scale, 'f', 7, 64))
	x := -t.Width() / scale * t.Anchor.share()
	for _, r := range t.Words {
		index, advance, _ := t.Face.glyph(r)
		if id := w.glyph(glyphKey{t.Face, index}); id != "" {
			fmt.Fprintf(&w.body, `<use xlink:href="#%s" x="%s"/>`, id, figure(x))
		}
		x += advance
	}
	w.body.WriteString("</g>\n")
}

// glyph is the name of a glyph's outline among the definitions, "" for one without an outline, such as a space.
func (w *svg) glyph(k glyphKey) string {
	id, known := w.ids[k]
	if known {
		return id
	}
	if segments := k.face.outline(&w.buffer, k.index); len(segments) > 0 {
		id = fmt.Sprintf("G%d", len(w.ids))
		fmt.Fprintf(&w.glyphs, `<path id="%s" d="%s"/>`+"\n", id, around(segments))
	}
	w.ids[k] = id
	return id
}

// around is the route around a glyph. Its y is downwards already.
func around(segments sfnt.Segments) string {
	var b strings.Builder
	for i, s := range segments {
		letter, points := "M", 1
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			letter = "L"
		case sfnt.SegmentOpQuadTo:
			letter, points = "Q", 2
		case sfnt.SegmentOpCubeTo:
			letter, points = "C", 3
		default:
			if i > 0 {
				b.WriteString("Z")
			}
		}
		b.WriteString(letter)
		for j, a := range s.Args[:points] {
			if j > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(place(Point{float64(a.X) / 64, float64(a.Y) / 64}))
		}
	}
	return b.String() + "Z"
}
