package draw

import (
	"encoding/binary"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// The bits of a part of a composed glyph (OpenType, table glyf).
const (
	wordsFollow = 0x0001 // its place is two words, not two bytes
	scaled      = 0x0008 // one number more
	morePieces  = 0x0020
	scaledTwice = 0x0040 // two
	turned      = 0x0080 // four
)

var order = binary.BigEndian

// subset is a TrueType file with some glyphs of another, in the order given; those that they are composed of follow. It has the
// tables that a PDF asks for (ISO 32000-1, 9.9). The first glyph has to be 0, which stands for what is missing.
func subset(file []byte, glyphs []sfnt.GlyphIndex) []byte {
	from := tables(file)
	glyphs = slices.Clone(glyphs)
	var glyf, loca, hmtx []byte
	for i := 0; i < len(glyphs); i++ {
		loca = order.AppendUint32(loca, uint32(len(glyf)))
		shape := slices.Clone(shapeOf(from, int(glyphs[i])))
		for _, at := range parts(shape) {
			part := sfnt.GlyphIndex(order.Uint16(shape[at:]))
			place := slices.Index(glyphs, part)
			if place < 0 {
				place = len(glyphs)
				glyphs = append(glyphs, part)
			}
			order.PutUint16(shape[at:], uint16(place))
		}
		glyf = append(glyf, padded(shape)...)
		hmtx = append(hmtx, measure(from, int(glyphs[i]))...)
	}
	loca = order.AppendUint32(loca, uint32(len(glyf)))

	head, hhea, maxp := slices.Clone(from["head"]), slices.Clone(from["hhea"]), slices.Clone(from["maxp"])
	order.PutUint32(head[8:], 0)  // the sum of the file, to come
	order.PutUint16(head[50:], 1) // long offsets
	order.PutUint16(hhea[34:], uint16(len(glyphs)))
	order.PutUint16(maxp[4:], uint16(len(glyphs)))
	return bound([]table{
		{"cvt ", from["cvt "]}, {"fpgm", from["fpgm"]}, {"glyf", glyf}, {"head", head}, {"hhea", hhea},
		{"hmtx", hmtx}, {"loca", loca}, {"maxp", maxp}, {"prep", from["prep"]},
	})
}

// tables are the tables of a font by name.
func tables(file []byte) map[string][]byte {
	list := map[string][]byte{}
	for i := range int(order.Uint16(file[4:])) {
		entry := file[12+16*i:]
		start := order.Uint32(entry[8:])
		list[string(entry[:4])] = file[start : start+order.Uint32(entry[12:])]
	}
	return list
}

// shapeOf is the entry of a glyph in the table glyf, nothing for one without an outline.
func shapeOf(from map[string][]byte, glyph int) []byte {
	loca := from["loca"]
	if order.Uint16(from["head"][50:]) == 0 {
		return from["glyf"][2*int(order.Uint16(loca[2*glyph:])) : 2*int(order.Uint16(loca[2*glyph+2:]))]
	}
	return from["glyf"][order.Uint32(loca[4*glyph:]):order.Uint32(loca[4*glyph+4:])]
}

// parts are the places in the entry of a composed glyph where the glyphs are named of which it is composed.
func parts(shape []byte) (places []int) {
	if len(shape) == 0 || int16(order.Uint16(shape)) >= 0 {
		return nil
	}
	for at := 10; ; {
		flags := order.Uint16(shape[at:])
		places = append(places, at+2)
		at += 6
		if flags&wordsFollow != 0 {
			at += 2
		}
		switch {
		case flags&scaled != 0:
			at += 2
		case flags&scaledTwice != 0:
			at += 4
		case flags&turned != 0:
			at += 8
		}
		if flags&morePieces == 0 {
			return places
		}
	}
}

// measure is the entry of a glyph in the table hmtx, in which the last advances may be left out where they are alike.
func measure(from map[string][]byte, glyph int) []byte {
	hmtx, whole := from["hmtx"], int(order.Uint16(from["hhea"][34:]))
	if glyph < whole {
		return hmtx[4*glyph : 4*glyph+4]
	}
	bearing := hmtx[4*whole+2*(glyph-whole):]
	return []byte{hmtx[4*whole-4], hmtx[4*whole-3], bearing[0], bearing[1]}
}

// A table is one of a font file.
type table struct {
	name string
	data []byte
}

// bound is a font file of tables, which come by their names in order; those that are empty are left out.
func bound(list []table) []byte {
	list = slices.DeleteFunc(list, func(t table) bool { return len(t.data) == 0 })
	power, log := 1, 0
	for ; 2*power <= len(list); log++ {
		power *= 2
	}
	file := []byte{0, 1, 0, 0}
	for _, v := range []int{len(list), 16 * power, log, 16 * (len(list) - power)} {
		file = order.AppendUint16(file, uint16(v))
	}
	at, head := len(file)+16*len(list), 0
	for _, t := range list {
		if t.name == "head" {
			head = at
		}
		file = append(file, t.name...)
		file = order.AppendUint32(file, sum(padded(t.data)))
		file = order.AppendUint32(file, uint32(at))
		file = order.AppendUint32(file, uint32(len(t.data)))
		at += len(padded(t.data))
	}
	for _, t := range list {
		file = append(file, padded(t.data)...)
	}
	order.PutUint32(file[head+8:], 0xB1B0AFBA-sum(file))
	return file
}

func padded(data []byte) []byte {
	return append(slices.Clip(data), make([]byte, (4-len(data)%4)%4)...)
}

func sum(data []byte) (total uint32) {
	for i := 0; i < len(data); i += 4 {
		total += order.Uint32(data[i:])
	}
	return total
}
