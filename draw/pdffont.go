package draw

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"strings"
	"unicode/utf16"

	"golang.org/x/image/font/sfnt"
)

// pdfFont is a font of a file being written. The characters that are used get the codes 1, 2, … in the order in which they are met,
// and the file gets a font of their glyphs in that order. So a code is a glyph, and two characters of one shape stay two.
type pdfFont struct {
	face   Face
	number int // of its object
	codes  map[rune]int
	runes  []rune // by code
}

// fontNames and stems (the width of an upright stroke in 1/1000 em, measured in the files at the letter n) are what a reader
// asks that looks for a font of its own.
var (
	fontNames = [...]string{Sans: "IBMPlexSans", SemiBold: "IBMPlexSans-SemiBold", Mono: "IBMPlexMono"}
	stems     = [...]int{Sans: 80, SemiBold: 128, Mono: 80}
)

// code is the code of a character that the font has.
func (f *pdfFont) code(r rune) int {
	code, met := f.codes[r]
	if !met {
		code = len(f.runes)
		f.codes[r] = code
		f.runes = append(f.runes, r)
	}
	return code
}

// write writes the font as a composite one with its glyphs embedded (ISO 32000-1, 9.7).
func (f *pdfFont) write(file *pdfFile) {
	face := faces[f.face]()
	glyphs := make([]sfnt.GlyphIndex, len(f.runes))
	var widths strings.Builder
	for code, r := range f.runes[1:] {
		g := face.glyph(r)
		glyphs[code+1] = g.index
		fmt.Fprintf(&widths, "%d ", g.advance)
	}
	from := tables(face.file)
	head, hhea := from["head"], from["hhea"]
	number := func(table []byte, at int) int { return int(int16(order.Uint16(table[at:]))) }
	data := subset(face.file, glyphs)
	name := f.tag() + "+" + fontNames[f.face]
	flags := 4 // its characters are not those of Latin alone
	if f.face == Mono {
		flags |= 1
	}
	program := file.stream(fmt.Sprintf("/Length1 %d", len(data)), data)
	descriptor := file.add("<</Type/FontDescriptor/FontName/%s/Flags %d/FontBBox[%d %d %d %d]/ItalicAngle 0/Ascent %d/Descent %d/CapHeight %.0f/StemV %d/FontFile2 %d 0 R>>",
		name, flags, number(head, 36), number(head, 38), number(head, 40), number(head, 42), number(hhea, 4), number(hhea, 6), capitals*em, stems[f.face], program)
	inner := file.add("<</Type/Font/Subtype/CIDFontType2/BaseFont/%s/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor %d 0 R/DW %d/W[1[%s]]/CIDToGIDMap/Identity>>",
		name, descriptor, em, strings.TrimSpace(widths.String()))
	meaning := file.stream("", f.meaning())
	file.object(f.number, "<</Type/Font/Subtype/Type0/BaseFont/%s/Encoding/Identity-H/DescendantFonts[%d 0 R]/ToUnicode %d 0 R>>", name, inner, meaning)
}

// tag is six capitals that tell one part of a font from another.
func (f *pdfFont) tag() string {
	hash := fnv.New32a()
	hash.Write([]byte(string(f.runes)))
	v, letters := hash.Sum32(), make([]byte, 6)
	for i := range letters {
		letters[i] = 'A' + byte(v%26)
		v /= 26
	}
	return string(letters)
}

// meaning says which character each code is, so that text can be searched and copied.
func (f *pdfFont) meaning() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n")
	const most = 100 // entries of a list
	for from := 1; from < len(f.runes); from += most {
		list := f.runes[from:min(from+most, len(f.runes))]
		fmt.Fprintf(&b, "%d beginbfchar\n", len(list))
		for i, r := range list {
			fmt.Fprintf(&b, "<%04X> <", from+i)
			for _, unit := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, "%04X", unit)
			}
			b.WriteString(">\n")
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.Bytes()
}
