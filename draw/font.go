package draw

import (
	_ "embed"
	"math"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Face is one of the fonts of a page.
type Face int

const (
	Sans Face = iota // IBM Plex Sans; all its digits are of one width
	SemiBold
	Mono // IBM Plex Mono, for names of parts and text of files; it lacks some Greek letters, Ω among them
)

// Smallest is the smallest size of text on paper, in points.
const Smallest = 7

// The files are IBM Plex Sans 3.201 and Mono 2.3, unchanged, under the SIL Open Font License 1.1 (font/OFL.txt).
var (
	//go:embed font/IBMPlexSans-Regular.ttf
	sansFile []byte
	//go:embed font/IBMPlexSans-SemiBold.ttf
	semiBoldFile []byte
	//go:embed font/IBMPlexMono-Regular.ttf
	monoFile []byte
)

// faces are the fonts, each read when it is first asked for.
var faces = [...]func() *typeface{
	Sans:     sync.OnceValue(func() *typeface { return parsed(sansFile) }),
	SemiBold: sync.OnceValue(func() *typeface { return parsed(semiBoldFile) }),
	Mono:     sync.OnceValue(func() *typeface { return parsed(monoFile) }),
}

// A typeface is a font with a table of the characters of most texts, for pages are laid out by asking for many widths.
type typeface struct {
	file   []byte
	font   *sfnt.Font
	glyphs [common]glyph
}

// common is how far the table goes: letters, signs and arrows, not the ideographs after them.
const common = 0x3000

// A glyph is the shape of a character in a font, and how far it takes the next one on, in 1/1000 em.
type glyph struct {
	index   sfnt.GlyphIndex // 0 where the font lacks the character
	advance uint16
}

func parsed(file []byte) *typeface {
	f, err := sfnt.Parse(file)
	if err != nil || f.UnitsPerEm() != em {
		panic("draw: a font of the program is damaged")
	}
	t := &typeface{file: file, font: f}
	var buffer sfnt.Buffer
	for r := range t.glyphs {
		t.glyphs[r] = t.read(&buffer, rune(r))
	}
	return t
}

// em is the size of a glyph's square in its own units, in which all its measures are whole numbers.
const em = 1000

// millimetres is the size of a point.
const millimetres = 25.4 / 72

// Millimetres is a length in points, of 1/72 inch, in millimetres.
func Millimetres(points float64) float64 { return points * 25.4 / 72 }

// read asks the file for a character. One that it lacks is taken to be one em wide.
func (t *typeface) read(buffer *sfnt.Buffer, r rune) glyph {
	index, err := t.font.GlyphIndex(buffer, r)
	if err != nil || index == 0 {
		return glyph{0, em}
	}
	wide, err := t.font.GlyphAdvance(buffer, index, fixed.I(em), font.HintingNone)
	if err != nil {
		return glyph{0, em}
	}
	return glyph{index, uint16(wide.Round())}
}

func (t *typeface) glyph(r rune) glyph {
	if r < common {
		return t.glyphs[r]
	}
	return t.read(&sfnt.Buffer{}, r)
}

// glyph is the glyph of a character and its advance in 1/1000 em. A character that the font lacks is taken to be one em wide.
func (f Face) glyph(r rune) (index sfnt.GlyphIndex, advance float64, ok bool) {
	g := faces[f]().glyph(r)
	return g.index, float64(g.advance), g.index != 0
}

// outline is the way around a glyph, in 1/1000 em from its place on the baseline, y downwards; nil where there is none, as of a space.
func (f Face) outline(buffer *sfnt.Buffer, index sfnt.GlyphIndex) sfnt.Segments {
	segments, err := faces[f]().font.LoadGlyph(buffer, index, fixed.I(em), nil)
	if err != nil {
		return nil
	}
	return segments
}

// lacking stands for a character that the font lacks, where no other font can be asked: an open box as high as a capital, of the
// width that the character is taken to have. It is in 1/1000 em as outlines are, and filled by the even-odd rule.
func lacking() []Step {
	frame := func(b Box) []Step { return append(through(b.Corners()), Step{Kind: Close}) }
	outer := Box{Point{90, -capitals * em}, Point{em - 90, 0}}
	return append(frame(outer), frame(outer.Grow(-60))...)
}

// capitals is how high a capital letter is, in em (sCapHeight of the table OS/2 in all three files).
const capitals = 0.698

// Lacks is the characters of a text that its font does not have. SVG then asks the reader's own fonts; PDF and PNG draw an open box for each.
func (t Text) Lacks() []rune {
	face := faces[t.Face]()
	var missing []rune
	for _, r := range t.Words {
		if face.glyph(r).index == 0 {
			missing = append(missing, r)
		}
	}
	return missing
}

// Width is the length of a text in millimetres.
func (t Text) Width() float64 {
	face := faces[t.Face]()
	sum := 0
	for _, r := range t.Words {
		sum += int(face.glyph(r).advance)
	}
	return float64(sum) / em * t.Size * millimetres
}

// The reach of letters above and below the baseline, in em: brackets go furthest in both (all three fonts).
const (
	above = 0.76
	below = 0.22
)

// Box is the upright rectangle around a text, from the top of its tallest letters to the bottom of its deepest.
func (t Text) Box() Box {
	width, size := t.Width(), t.Size*millimetres
	left := -width * t.Anchor.share()
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	box := Box{Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}}
	for _, p := range (Box{Point{left, -above * size}, Point{left + width, below * size}}).Corners() {
		x, y := t.At.X+p.X*cos+p.Y*sin, t.At.Y+p.Y*cos-p.X*sin
		box.Min = Point{min(box.Min.X, x), min(box.Min.Y, y)}
		box.Max = Point{max(box.Max.X, x), max(box.Max.Y, y)}
	}
	return box
}

// start is where the first character of a text stands.
func (t Text) start() Point { return ahead(t.At, t.Turn, -t.Width()*t.Anchor.share()) }

// ahead is the place so far on from another on a line turned so many degrees anticlockwise.
func ahead(from Point, turn, by float64) Point {
	sin, cos := math.Sincos(turn * math.Pi / 180)
	return Point{from.X + by*cos, from.Y - by*sin}
}

// share is how much of a text stands before its anchor.
func (a Anchor) share() float64 { return float64(a) / 2 }
