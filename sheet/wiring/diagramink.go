package wiring

import (
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
)

// An inking is a spread being drawn.
type inking struct {
	*spread
	frames, cables, bars, symbols, words draw.Layer
	links                                []draw.Link
	seen                                 seen
}

// seen are the signs that a sheet has, by their words in the key: it explains no other.
type seen map[sign]bool

func (s seen) add(signs ...sign) {
	for _, one := range signs {
		s[one] = true
	}
}

// key is the entries of a key whose signs a sheet has.
func (s seen) key(entries []layout.Entry) []layout.Entry {
	return slices.DeleteFunc(entries, func(e layout.Entry) bool { return !s[sign(e.Words)] })
}

// A sign is one of a diagram or a face, in the words of its key.
type sign string

const (
	bothSign      sign = "cable, both poles"
	plusSign      sign = "+ alone"
	returnSign    sign = "− alone"
	fuseSign      sign = "fuse"
	contactSign   sign = "contactor"
	terminalSign  sign = "terminal"
	joinedSign    sign = "joined"
	tapeSign      sign = "run of tape"
	lampSign      sign = "lamps"
	cutSign       sign = "rail cut"
	capacitorSign sign = "capacitor"
	boardSign     sign = "board"
	dataSign      sign = "data"
	plusBarSign   sign = "plus"
	returnBarSign sign = "return"
	holderSign    sign = "fuse in its holder"
	emptySign     sign = "empty holder"
	resistorSign  sign = "resistor"
	bufferSign    sign = "buffer"
)

// poleSign is that of a cable by its poles.
func poleSign(p scheme.Pole) sign {
	switch p {
	case scheme.Plus:
		return plusSign
	case scheme.Return:
		return returnSign
	}
	return bothSign
}

// draw makes layers of a spread; on says which sheet has an end of a cable.
func (s *spread) draw(on map[slot]string) ([]draw.Layer, []draw.Link) {
	k := &inking{spread: s, seen: seen{}, frames: draw.Layer{Name: "frames"}, cables: draw.Layer{Name: "cables"}, bars: draw.Layer{Name: "bars"}, symbols: draw.Layer{Name: "symbols"}, words: draw.Layer{Name: "words"}}
	for _, l := range s.leads {
		k.lead(l)
	}
	for _, b := range s.blocks {
		switch b.kind {
		case scheme.SupplyRef:
			k.supply(b)
		case scheme.InletRef:
			k.board(b)
		case scheme.JunctionRef:
			k.junction(b)
		default:
			k.run(b)
		}
	}
	for _, b := range s.references() {
		k.reference(b, on)
	}
	return []draw.Layer{k.frames, k.cables, k.bars, k.symbols, k.words, k.key()}, k.links
}

func (k *inking) say(like draw.Text, words string, x, y float64) {
	if words != "" {
		k.words.Texts = append(k.words.Texts, layout.Put(like, words, x, y))
	}
}

// lines sets lines one under the other, the first with its feet at y, and returns where the next would stand.
func (k *inking) lines(like draw.Text, x, y float64, lines ...string) float64 {
	for _, line := range lines {
		k.say(like, line, x, y)
		y += layout.Pitch(like.Size)
	}
	return y
}

func (k *inking) draw(paths ...draw.Path) { k.symbols.Paths = append(k.symbols.Paths, paths...) }

// route is the way of a cable over the sheet.
func (k *inking) route(l *lead) []draw.Point {
	a, b := draw.Point{X: l.a.x, Y: l.a.y}, draw.Point{X: l.b.x, Y: l.b.y}
	if l.straight() {
		return []draw.Point{a, b}
	}
	return []draw.Point{a, {X: l.track, Y: a.Y}, {X: l.track, Y: b.Y}, b}
}

// lead draws a cable, what is in it, and its words.
func (k *inking) lead(l *lead) {
	c := k.s.Cables[l.id]
	pen := wirePen
	if c.Pole == scheme.Return {
		pen = returnPen
	}
	k.cables.Paths = append(k.cables.Paths, draw.Line(pen, k.route(l)...))
	k.seen.add(poleSign(c.Pole))
	column := k.columns[l.a.of.column]
	left := column.x + column.wide + 1
	right := column.x + column.wide + k.strip
	y := l.a.y
	k.say(strong, layout.Fit(strong, l.id, k.strip*idShare), left, y-l.over-float64(max(len(l.above), 1)-1)*layout.Pitch(small.Size))
	k.lines(small, left+l.indent, y-l.over-float64(len(l.above)-1)*layout.Pitch(small.Size), l.above...)
	k.lines(small, left+2, y+overLine+lineTop, l.below...)
	if c.Fuse != "" {
		at := left + 1 + fuseLong/2
		if (c.FuseAt == scheme.ToEnd) == (l.a.end == scheme.FromEnd) {
			at = right - 1 - fuseLong/2
		}
		k.draw(fuseSymbol(draw.Point{X: at, Y: y}))
		k.seen.add(fuseSign)
	}
	k.draw(coresSymbol(draw.Point{X: left + 10, Y: y}, c.Poles())...)
	if k.switching(l.id) != "" {
		k.draw(contactSymbol(draw.Point{X: left + 17, Y: y})...)
		k.seen.add(contactSign)
	}
}

// supply draws a converter with its stub of mains, and its bus where more than one cable leaves it.
func (k *inking) supply(b *block) {
	x, y := b.x+16, b.row
	k.say(strong, layout.Fit(strong, b.head, b.wide-4), b.x, y-converter/2-1)
	k.draw(draw.Line(wirePen, draw.Point{X: b.x, Y: y}, draw.Point{X: x, Y: y}), draw.Line(drafting.FaintPen, draw.Point{X: b.x + 2, Y: y + 1}, draw.Point{X: b.x + 3.2, Y: y - 1}))
	k.draw(converterSymbol(x, y)...)
	mains := "mains"
	if v := k.s.Site.Mains; v > 0 {
		mains = layout.Nominal(v)
	}
	k.say(small, mains, b.x+4, y-overLine)
	bottom := k.lines(small, b.x, y+converter/2+lineTop+1.2, b.words...)
	k.say(quiet, "mains by a licensed electrician", b.x, bottom)
	k.bus(b, draw.Point{X: x + converter, Y: y})
	k.terminals(b)
}

// bus joins the slots of a supply to where it gives its current.
func (k *inking) bus(b *block, from draw.Point) {
	if len(b.slots) == 0 {
		return
	}
	x := from.X + 8
	low, high := from.Y, from.Y
	k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, from, draw.Point{X: x, Y: from.Y}))
	for _, t := range b.slots {
		low, high = max(low, t.y), min(high, t.y)
		k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, draw.Point{X: x, Y: t.y}, draw.Point{X: t.x, Y: t.y}))
	}
	if low > high {
		k.bars.Paths = append(k.bars.Paths, draw.Line(barPen, draw.Point{X: x, Y: high}, draw.Point{X: x, Y: low}))
		for _, t := range b.slots {
			k.draw(connectionSymbol(draw.Point{X: x, Y: t.y}))
		}
	}
}

func (k *inking) terminals(b *block) {
	for _, t := range b.slots {
		if t.cable != "" {
			k.draw(terminalSymbol(draw.Point{X: t.x, Y: t.y})...)
			k.seen.add(terminalSign)
		}
	}
}

// Where the bars and fuses of a board stand, from its left edge.
const (
	inletBar = 4.0
	wayBar   = 8.0
	wayFuse  = 30.0
)

// board draws the frame of a board, its inlet and its ways.
func (k *inking) board(b *block) {
	k.frames.Paths = append(k.frames.Paths, rectangle(draw.None, framePen, b.x, b.top, b.wide, b.bottom-b.top))
	k.seen.add(boardSign)
	y := b.top + lineTop + 1
	k.say(strong, layout.Fit(strong, b.head, b.wide-3), b.x+1.5, y)
	k.lines(small, b.x+1.5, y+layout.Pitch(small.Size), b.words...)

	inlet := b.x + inletBar
	high, low := b.row, b.row
	for _, t := range b.slots {
		if t.place != b.id+".in" {
			continue
		}
		high, low = min(high, t.y), max(low, t.y)
		k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, draw.Point{X: t.x, Y: t.y}, draw.Point{X: inlet, Y: t.y}))
		if !t.left {
			k.say(small, "in", b.x+b.wide-6, t.y-overLine)
		}
	}
	way := b.x + wayBar
	if b.first {
		k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, draw.Point{X: inlet, Y: b.row}, draw.Point{X: way, Y: b.row}))
		k.draw(connectionSymbol(draw.Point{X: inlet, Y: b.row}))
	}
	if low > high {
		k.bars.Paths = append(k.bars.Paths, draw.Line(barPen, draw.Point{X: inlet, Y: high}, draw.Point{X: inlet, Y: low}))
	}
	k.ways(b, way)
	k.terminals(b)
}

// ways draws the bar of a board and the ways on it, each with its fuse; a way with more than one cable leads to as many terminals.
func (k *inking) ways(b *block, bar float64) {
	low := b.row
	var first *terminal
	for _, t := range b.slots {
		if t.place == b.id+".in" {
			continue
		}
		at := draw.Point{X: t.x, Y: t.y}
		if first != nil && first.place == t.place {
			fork := draw.Point{X: t.x - 3, Y: t.y}
			k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, draw.Point{X: fork.X, Y: first.y}, fork, at))
			k.draw(connectionSymbol(draw.Point{X: fork.X, Y: first.y}))
			continue
		}
		first = t
		low = t.y
		end := at
		if t.cable == "" {
			end.X -= 4
		}
		k.bars.Paths = append(k.bars.Paths, draw.Line(wirePen, draw.Point{X: bar, Y: t.y}, end))
		k.draw(connectionSymbol(draw.Point{X: bar, Y: t.y}))
		name, guarded := k.wayWords(t.place, t.cable == "")
		centre := b.x + wayFuse
		if k.s.Fuses[t.place] != "" {
			k.draw(fuseSymbol(draw.Point{X: centre, Y: t.y}))
			k.seen.add(fuseSign)
		}
		if t.cable == "" {
			k.draw(terminalSymbol(end)...)
			k.seen.add(terminalSign)
		}
		k.say(small, fittedWay(t.place, name, wayFuse-wayBar-fuseLong/2-1.5), bar+1, t.y-overLine)
		k.say(small, layout.Clip(small, guarded, b.wide-wayFuse-fuseLong/2-1), centre+fuseLong/2, t.y-overLine)
	}
	if low > b.row {
		k.bars.Paths = append(k.bars.Paths, draw.Line(barPen, draw.Point{X: bar, Y: b.row}, draw.Point{X: bar, Y: low}))
	}
}

// fittedWay is a way with what is rated behind it, cut in the middle of its own name: that of the board, over all of its ways, says the rest.
func fittedWay(way, words string, width float64) string {
	rated := strings.TrimPrefix(words, way)
	return layout.Fit(small, way, width-layout.Wide(small, rated)) + rated
}

// junction draws the copper that cables meet at.
func (k *inking) junction(b *block) {
	x := b.x + barAt
	high, low := b.row, b.row
	for _, t := range b.slots {
		high, low = min(high, t.y), max(low, t.y)
	}
	if low > high {
		k.bars.Paths = append(k.bars.Paths, draw.Line(barPen, draw.Point{X: x, Y: high}, draw.Point{X: x, Y: low}))
	}
	for _, t := range b.slots {
		k.draw(draw.Disc(draw.Ink, draw.Point{X: x, Y: t.y}, terminalAt))
	}
	if len(b.slots) == 0 {
		k.draw(draw.Disc(draw.Ink, draw.Point{X: x, Y: b.row}, terminalAt))
	}
	k.seen.add(joinedSign)
	y := b.top + lineTop + 0.6
	k.say(strong, layout.Fit(strong, b.head, b.wide-1), b.x, y)
	k.lines(small, b.x, y+layout.Pitch(small.Size), b.words...)
}

// The lamp beside the name of a run, in millimetres.
const (
	lampRound = 1.2
	lampWide  = 3.4
)

// run draws the bar of a run, with its marks, and its words.
func (k *inking) run(b *block) {
	x := b.x + barAt
	top, bottom := b.marks[0].y-1.6, b.marks[len(b.marks)-1].y+1.6
	for _, t := range b.slots {
		bottom = max(bottom, t.y+1.6)
	}
	k.bars.Paths = append(k.bars.Paths, rectangle(draw.Shade, wirePen, x-1, top, 2, bottom-top))
	k.seen.add(tapeSign, lampSign)
	for _, m := range b.marks {
		at := draw.Point{X: x, Y: m.y}
		label := m.y + lineTop/2
		if slices.ContainsFunc(m.terminals, func(t *terminal) bool { return !t.left && t.y == m.y }) {
			label = m.y - overLine
		}
		switch m.kind {
		case cutMark:
			k.draw(draw.Line(barPen, draw.Point{X: x - 1.8, Y: m.y + 0.5}, draw.Point{X: x + 1.8, Y: m.y - 0.5}))
			k.seen.add(cutSign)
		case capacitorMark:
			k.draw(capacitorSymbol(draw.Point{X: at.X + 1, Y: at.Y})...)
			k.seen.add(capacitorSign)
		case moreMark:
		default:
			if len(m.terminals) == 0 {
				k.draw(draw.Line(drafting.FaintPen, draw.Point{X: x - 1, Y: m.y}, draw.Point{X: x + 1, Y: m.y}))
			}
		}
		for _, t := range m.terminals {
			k.draw(draw.Disc(draw.Ink, draw.Point{X: t.x, Y: t.y}, terminalAt))
			k.seen.add(joinedSign)
		}
		like := small
		if m.kind != plainMark || len(m.terminals) == 0 {
			like = quiet
		}
		k.say(like, layout.Clip(like, m.words, runWordsAt-6), b.x+5.5, label)
	}
	left, y, width := b.x+runWordsAt, b.top+lineTop, b.wide-runWordsAt
	if !k.beside(b) {
		left, width = b.x+5, b.wide-5
	}
	k.draw(lampSymbol(draw.Point{X: left + lampRound, Y: y - lineTop/2}, lampRound)...)
	k.say(strong, layout.Fit(strong, b.head, width-lampWide), left+lampWide, y)
	y = k.lines(small, left, y+layout.Pitch(small.Size), b.words...)
	for i, line := range b.data {
		if i == 0 {
			k.seen.add(dataSign)
			k.draw(draw.Line(dataPen, draw.Point{X: left, Y: y - lineTop/2}, draw.Point{X: left + 1.2, Y: y - lineTop/2}), layout.Head(draw.Blueprint, draw.Point{X: left, Y: y - lineTop/2}, draw.Point{X: left + 3.2, Y: y - lineTop/2}))
		}
		blue := small
		blue.Tone = draw.Blueprint
		k.say(blue, line, left+4, y)
		y += layout.Pitch(small.Size)
	}
}

// reference draws where a cable goes on: the place and the sheet.
func (k *inking) reference(b *block, on map[slot]string) {
	t := b.slots[0]
	sheet := on[t.slot]
	words, at, from := "from "+b.place, b.x, draw.Point{X: t.x - 3, Y: t.y}
	tip := draw.Point{X: t.x, Y: t.y}
	if t.left {
		words, at = "to "+b.place, b.x+1.5
	}
	like := small
	texts := []draw.Text{layout.Put(like, layout.Fit(like, words, b.wide-4), at, t.y-0.5), layout.Put(like, layout.Fit(like, sheet, b.wide-4), at, t.y+lineTop+0.6)}
	k.words.Texts = append(k.words.Texts, texts...)
	k.draw(layout.Head(draw.Ink, from, tip))
	box := texts[0].Box()
	for _, text := range texts {
		o := text.Box()
		box.Min.X, box.Min.Y = min(box.Min.X, o.Min.X), min(box.Min.Y, o.Min.Y)
		box.Max.X, box.Max.Y = max(box.Max.X, o.Max.X), max(box.Max.Y, o.Max.Y)
	}
	k.links = append(k.links, draw.Link{Box: box, To: sheet})
}

// key says what the symbols are.
func (k *inking) key() draw.Layer {
	line := func(pen draw.Pen, paths ...draw.Path) []draw.Path {
		return append([]draw.Path{draw.Line(pen, draw.Point{}, draw.Point{X: keySample})}, paths...)
	}
	bar := rectangle(draw.Shade, wirePen, 0, -1, keySample, 2)
	layer := footed(k.field, k.seen.key([]layout.Entry{
		keyed(line(wirePen, coresSymbol(draw.Point{X: 4}, 2)...), bothSign),
		keyed(line(wirePen, coresSymbol(draw.Point{X: 4.7}, 1)...), plusSign),
		keyed(line(returnPen, coresSymbol(draw.Point{X: 2}, 1)...), returnSign),
		keyed(line(wirePen, fuseSymbol(draw.Point{X: keySample / 2})), fuseSign),
		keyed(line(wirePen, contactSymbol(draw.Point{X: keySample / 2})...), contactSign),
		keyed(terminalSymbol(draw.Point{X: keySample - 1}), terminalSign),
		keyed([]draw.Path{draw.Disc(draw.Ink, draw.Point{X: keySample - 1}, terminalAt)}, joinedSign),
		keyed([]draw.Path{bar}, tapeSign),
		keyed(lampSymbol(draw.Point{X: keySample - lampRound}, lampRound), lampSign),
		keyed([]draw.Path{bar, draw.Line(barPen, draw.Point{X: 4.2, Y: 1.8}, draw.Point{X: 5.2, Y: -1.8})}, cutSign),
		keyed(capacitorSymbol(draw.Point{X: keySample - 1.9}), capacitorSign),
		keyed([]draw.Path{rectangle(draw.None, framePen, 0, -1.4, keySample, 2.8)}, boardSign),
		keyed([]draw.Path{draw.Line(dataPen, draw.Point{X: keySample - 3.2}, draw.Point{X: keySample - 2}), layout.Head(draw.Blueprint, draw.Point{X: keySample - 3.2}, draw.Point{X: keySample})}, dataSign),
	}))
	if words := k.homeward(); words != "" {
		const over = 5.2 // mm, over the key
		layer.Texts = append(layer.Texts, layout.Put(small, words, k.field.Min.X, k.field.Max.Y+keyHigh-1.5-over))
	}
	return layer
}

// keySample is the width of a sample in the key of a diagram, which is one line at its foot.
const keySample = 9.4

// keyed is an entry of such a key, its sample drawn from the origin.
func keyed(sample []draw.Path, words sign) layout.Entry {
	return layout.Shown(func(at draw.Point) (paths []draw.Path) {
		for _, p := range sample {
			paths = append(paths, p.Move(at.X, at.Y))
		}
		return paths
	}, string(words))
}

// footed is a key in one line under a field, as far as it has room.
func footed(field draw.Box, entries []layout.Entry) draw.Layer {
	layer := draw.Layer{Name: "key"}
	x, y := field.Min.X, field.Max.Y+keyHigh-1.5
	for _, e := range entries {
		text := layout.Put(small, e.Words, x+keySample+1.5, y)
		if text.Box().Max.X > field.Max.X {
			break
		}
		layer.Paths = append(layer.Paths, e.Sample(draw.Point{X: x, Y: y - lineTop/2})...)
		layer.Texts = append(layer.Texts, text)
		x = text.Box().Max.X + 4
	}
	return layer
}
