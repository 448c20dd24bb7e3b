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
var faces = map[Face]func() *sfnt.Font{
	Sans:     sync.OnceValue(func() *sfnt.Font { return parsed(sansFile) }),
	SemiBold: sync.OnceValue(func() *sfnt.Font { return parsed(semiBoldFile) }),
	Mono:     sync.OnceValue(func() *sfnt.Font { return parsed(monoFile) }),
}

func parsed(file []byte) *sfnt.Font {
	f, err := sfnt.Parse(file)
	if err != nil {
		panic("draw: a font of the program is damaged")
	}
	return f
}

// em is the size of a glyph's square in its own units.
const em = 1000

// millimetres is the size of a point.
const millimetres = 25.4 / 72

// glyph is the glyph of a character and its advance in 1/1000 em. A character that the font lacks is taken to be one em wide.
func (f Face) glyph(buffer *sfnt.Buffer, r rune) (index sfnt.GlyphIndex, advance float64, ok bool) {
	file := faces[f]()
	index, err := file.GlyphIndex(buffer, r)
	if err != nil || index == 0 {
		return 0, em, false
	}
	wide, err := file.GlyphAdvance(buffer, index, fixed.I(em), font.HintingNone)
	if err != nil {
		return 0, em, false
	}
	return index, float64(wide) / 64, true
}

// Lacks is the characters of a text that its font does not have. Writers then ask the reader's own fonts.
func (t Text) Lacks() []rune {
	var buffer sfnt.Buffer
	var missing []rune
	for _, r := range t.Words {
		if _, _, ok := t.Face.glyph(&buffer, r); !ok {
			missing = append(missing, r)
		}
	}
	return missing
}

// Width is the length of a text in millimetres.
func (t Text) Width() float64 {
	var buffer sfnt.Buffer
	sum := 0.0
	for _, r := range t.Words {
		_, advance, _ := t.Face.glyph(&buffer, r)
		sum += advance
	}
	return sum / em * t.Size * millimetres
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

// share is how much of a text stands before its anchor.
func (a Anchor) share() float64 { return float64(a) / 2 }
