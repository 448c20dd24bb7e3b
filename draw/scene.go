// Package draw is pen and paper. A Scene is one page as plain data: paths and texts in layers, in millimetres from the top left
// corner, y downwards. It knows nothing of lights, fuses or files; functions write it, one for each kind of file.
//
// Three things are settled here, once for every page. Colours are roles (Tone), so that one page can be shown on paper and in the
// dark. Lines are 0.13, 0.25 or 0.5 mm wide. Texts are set in IBM Plex Sans and Mono, whose files lie in font/ and are part of the
// program; a width is the sum of the advances of the glyphs, without kerning, because not every writer can kern.
package draw

import (
	"fmt"
	"image"
)

// A Scene is one page.
type Scene struct {
	Title  string  // what it shows, in a line
	Desc   string  // what it shows, in sentences, for those who do not see it
	Width  float64 // millimetres
	Height float64
	Scale  float64 // how many millimetres of the world one of the page is, 50 for 1:50; 0 where it has none
	Origin Point   // where the zero of the world is, right of and above the lower left corner of the page; the corner itself where nothing is said
	Layers []Layer // the first lies at the bottom
	Links  []Link
}

// A Document is pages that belong together.
type Document struct {
	Title string
	Pages []Page
}

// A Page is a scene among others.
type Page struct {
	Name    string  // what links call it
	Outline string  // its entry in the table of contents that readers show; none where it is empty
	Level   int     // of that entry, from 0
	More    []Entry // further entries, of what else begins on it, in its order
	Scene   *Scene
}

// An Entry is a line of the table of contents that readers show.
type Entry struct {
	Title string
	Level int // from 0
}

// Entries are all that a page has.
func (p Page) Entries() []Entry {
	if p.Outline == "" {
		return p.More
	}
	return append([]Entry{{p.Outline, p.Level}}, p.More...)
}

// A Link is a place on a page that leads to another page of its document, by its name. Files of one page have none.
type Link struct {
	Box Box
	To  string
}

// A Layer is what belongs together, with a name of lower-case letters, digits and dashes. Its images lie below its paths, its texts on them.
type Layer struct {
	Name   string
	Images []Image
	Paths  []Path
	Texts  []Text
}

// An Image is a picture made of dots, stretched over a box.
type Image struct {
	Box     Box
	Picture image.Image
}

// A Point is a place on the page.
type Point struct{ X, Y float64 }

// A Path is a line or an area, or both. Areas that overlap themselves are filled by the even-odd rule.
type Path struct {
	Steps []Step
	Pen   Pen
	Fill  Tone // None leaves it empty
}

// A Pen draws the line of a path. It leaves none where its width is 0.
type Pen struct {
	Tone  Tone
	Width float64   // millimetres: Hair, Thin or Thick
	Dash  []float64 // lengths of line and gap in turn, in millimetres; nil is a whole line
}

// The widths of lines, in millimetres.
const (
	Hair  = 0.13
	Thin  = 0.25
	Thick = 0.5
)

// A Step is one piece of a path.
type Step struct {
	Kind   StepKind
	To     Point
	C1, C2 Point // the control points of a curve
}

// A StepKind says how a path goes on.
type StepKind int

const (
	Move  StepKind = iota // to the beginning of another piece
	Go                    // straight
	Curve                 // along a cubic Bézier curve
	Close                 // back to the beginning of the piece
)

// A Text is one line of text.
type Text struct {
	At     Point // on the baseline, where the anchor says
	Words  string
	Face   Face
	Size   float64 // points, of 1/72 inch
	Anchor Anchor
	Turn   float64 // degrees anticlockwise about At
	Tone   Tone
}

// An Anchor is the part of a text that stands at its place.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// A Tone is the role of a colour, or an exact colour where light itself is shown.
type Tone int

const (
	None      Tone = iota
	Paper          // the ground
	Shade          // an area that is told apart from the ground by a tint
	Rule           // hairlines and the lines of tables
	Graphite       // secondary text, dimension lines
	Ink            // text and outlines
	Copper         // the one accent
	Blueprint      // data and signal paths
	Night          // the ground of a view by night
	Danger         // fills the boxes of what can hurt
	Failing        // fills those of what will not do
	Narrow         // outlines those of what only just does
)

// tones are the colours of the tones on paper. Shade lies between Paper and Rule.
var tones = map[Tone]Tone{Paper: 0xFBFAF6, Shade: 0xF0EEE7, Rule: 0xD9D6CC, Graphite: 0x66707A, Ink: 0x1B2530, Copper: 0xA4572A, Blueprint: 0x1F5C8B, Night: 0x14181D,
	Danger: 0x9E1B32, Failing: 0xB4530A, Narrow: 0x8A6D00}

// Exact is the tone of light of a colour, in sRGB.
func Exact(r, g, b uint8) Tone { return exact | Tone(r)<<16 | Tone(g)<<8 | Tone(b) }

// exact marks a tone that is a colour.
const exact Tone = 1 << 24

// rgb is red, green and blue of a tone on paper; ok is false where there is no such tone.
func (t Tone) rgb() (c [3]uint8, ok bool) {
	v, ok := tones[t]
	if t&^(exact-1) == exact {
		v, ok = t, true
	}
	return [3]uint8{uint8(v >> 16), uint8(v >> 8), uint8(v)}, ok
}

// colour is a tone as #RRGGBB.
func (t Tone) colour() string {
	c, _ := t.rgb()
	return fmt.Sprintf("#%02X%02X%02X", c[0], c[1], c[2])
}

// Lines end where they end and meet in a point, in every kind of file: butt caps and mitre joins. A point longer than so many
// widths of its line is cut off.
const mitre = 4
