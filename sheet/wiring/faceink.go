package wiring

import (
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
)

// headHigh is the height of the words at the top of the frame.
func (f *face) headHigh() float64 { return 3*layout.Pitch(small.Size) + 2 }

// leaf draws some rows as a page.
func (f *face) leaf(rows []faceRow, n int, last bool) layout.Leaf {
	name := layout.Nth("face-"+f.board, n+1)
	b := f.s.Boards[f.board]
	title := "not chosen"
	if f.part != nil {
		title = f.part.Title
	}
	leaf := layout.Leaf{
		Name: name, Title: f.board + ": what is connected to what", Verdict: "Connections, not positions: terminals of the board itself may lie otherwise",
		Under: b.Label, Desc: f.told(rows), Paper: f.paper,
		Cells: []layout.Cell{
			{Caption: "Board", Says: layout.Join("  ", f.board, b.Label), Name: true, Share: 40},
			{Caption: "Part", Says: b.Part, Face: draw.Mono, Name: true, Share: 60},
			{Caption: "Its data is sent by", Says: layout.Join(", ", b.Host, string(b.Address)), Name: true, Share: 50},
			{Caption: "Enclosure", Says: strings.TrimPrefix(f.heldIn(f.board), "in "), Name: true, Share: 40},
		},
		Notes: f.noted(),
	}
	for i := range leaf.Cells {
		if leaf.Cells[i].Says == "" {
			leaf.Cells[i].Says = "–"
		}
	}
	if n == 0 {
		leaf.Outline = f.board + ": board face"
	}
	k := &faceInk{face: f, seen: seen{plusBarSign: true, returnBarSign: true, terminalSign: true}, frame: draw.Layer{Name: "frames"}, bars: draw.Layer{Name: "bars"}, symbols: draw.Layer{Name: "symbols"}, words: draw.Layer{Name: "words"}}
	k.draw(rows, title, n == 0, last)
	leaf.Layers = []draw.Layer{k.frame, k.bars, k.symbols, k.words, k.key()}
	return leaf
}

func (f *face) noted() string {
	text := "Loads: rms of the plus in the heaviest lighting state, as a share of the lower rating; the return where it carries more, with current of other feeds."
	if len(f.st.Cases()) == 0 {
		text = "Nothing was solved, so no loads are shown."
	}
	if f.cut {
		text = "What ends in … is whole in the scheme. " + text
	}
	return text + " Fuse colours: ISO 8820-3, as pages on fuses list them; the rating printed on a fuse rules. Switch the supply off before drawing a fuse. Mains: by a licensed electrician."
}

// told is the page in sentences.
func (f *face) told(rows []faceRow) string {
	say := []string{"The connections of " + f.board + "."}
	for _, r := range rows {
		var cells []string
		for _, c := range r.cells {
			if len(c) > 0 {
				cells = append(cells, strings.Join(c, " "))
			}
		}
		say = append(say, layout.Join(": ", r.name, strings.Join(cells, "; "))+".")
	}
	return strings.Join(say, " ")
}

// A faceInk is a page of a face being drawn.
type faceInk struct {
	*face
	frame, bars, symbols, words draw.Layer
	seen                        seen
}

func (k *faceInk) say(like draw.Text, words string, x, y float64) {
	if words != "" {
		k.words.Texts = append(k.words.Texts, layout.Put(like, words, x, y))
	}
}

// returnBar is the bar of the minus.
var returnBar = draw.Pen{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{4, 1.4}}

func (k *faceInk) draw(rows []faceRow, title string, first, last bool) {
	left, top := k.field.Min.X, k.field.Min.Y
	y := top + lineTop + 1
	k.say(strong, layout.Fit(strong, layout.Join("  ", k.board, k.s.Boards[k.board].Label), frameWide-4), left+2, y)
	for i, line := range layout.WrapAll(small, frameWide-4, 2, together(title)) {
		k.say(small, line, left+2, y+float64(i+1)*layout.Pitch(small.Size))
	}
	y = top + k.headHigh() + faceHeading
	k.captions(y - 2.5)
	barTop := y - 1.5
	above := 0.0 // from the row of a way to the last of its cables
	for i, r := range rows {
		line := y + lineOfRow
		if above += rowBefore(rows, i); r.name != "" {
			above = 0
		}
		r.above = above
		k.cells(r, y)
		switch r.kind {
		case inletRow:
			k.inletSymbols(r, line)
		case wayRow, spareWay:
			k.waySymbols(r, line)
		default:
			k.portSymbols(r, line)
		}
		y += r.high
		if i < len(rows)-1 {
			k.frame.Paths = append(k.frame.Paths, draw.Line(draw.Pen{Tone: draw.Rule, Width: draw.Hair}, draw.Point{X: k.at[0], Y: y}, draw.Point{X: k.field.Max.X, Y: y}))
		}
	}
	k.barsDown(rows, barTop, first)
	frame := []draw.Point{{X: left, Y: y + 2}, {X: left, Y: top}, {X: left + frameWide, Y: top}, {X: left + frameWide, Y: y + 2}}
	if last {
		k.frame.Paths = append(k.frame.Paths, draw.Area(draw.None, framePen, frame...))
	} else {
		k.frame.Paths = append(k.frame.Paths, draw.Line(framePen, frame...)) // open below: it goes on
	}
}

// rowBefore is the height of the row before one, 0 for the first of a page: what goes on from the page before comes down to it.
func rowBefore(rows []faceRow, i int) float64 {
	if i == 0 {
		return lineOfRow
	}
	return rows[i-1].high
}

// captions stand over the columns of the table, and over what is in the frame.
func (k *faceInk) captions(y float64) {
	for i, c := range columnsOf {
		k.say(quiet, layout.Clip(quiet, c.caption, k.at[i+1]-k.at[i]-1), k.at[i], y)
	}
	left := k.field.Min.X
	k.say(quiet, "+", left+facePlusAt-0.7, y)
	k.say(quiet, "−", left+minusAt-0.7, y)
	k.frame.Paths = append(k.frame.Paths, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thin}, draw.Point{X: k.at[0], Y: y + 1.6}, draw.Point{X: k.field.Max.X, Y: y + 1.6}))
}

func (k *faceInk) cells(r faceRow, y float64) {
	for i, lines := range r.cells {
		like := small
		if i == 0 {
			like = strong
		}
		at := y + lineTop + 1.4
		for _, line := range lines {
			k.say(like, line, k.at[i], at)
			like = small
			at += layout.Pitch(small.Size)
		}
	}
}

// line draws from one place to another.
func (k *faceInk) line(pen draw.Pen, points ...draw.Point) {
	k.bars.Paths = append(k.bars.Paths, draw.Line(pen, points...))
}

func (k *faceInk) ring(x, y float64) {
	k.symbols.Paths = append(k.symbols.Paths, terminalSymbol(draw.Point{X: x, Y: y})...)
}

// lead is the line from a pair of terminals to the words about its cable.
func (k *faceInk) lead(y float64) {
	left := k.field.Min.X
	k.line(drafting.FaintPen, draw.Point{X: left + minusAt + terminalAt, Y: y}, draw.Point{X: k.at[0] - 1, Y: y})
}

// inletSymbols are the pair of terminals that a cable feeds the bars by.
func (k *faceInk) inletSymbols(r faceRow, y float64) {
	left := k.field.Min.X
	k.line(barPen, draw.Point{X: left + plusBar, Y: y}, draw.Point{X: left + facePlusAt, Y: y})
	k.symbols.Paths = append(k.symbols.Paths, connectionSymbol(draw.Point{X: left + plusBar, Y: y}))
	k.ring(left+facePlusAt, y)
	k.ring(left+minusAt, y)
	k.lead(y)
	if r.name == "" {
		return
	}
	rated := ""
	if k.part != nil {
		rated = layout.Nominal(k.part.Inlet.Amps.Is)
	}
	k.say(strong, k.board+".in", left+plusBar+2, y-overLine)
	k.say(small, layout.Join(" ", "inlet", rated), left+holderAt+fuseLong, y-overLine)
}

// waySymbols are a way: from the bar of the plus through its fuse to its terminal; the terminal of the minus is on the other bar.
func (k *faceInk) waySymbols(r faceRow, y float64) {
	left := k.field.Min.X
	k.ring(left+minusAt, y)
	if r.kind == wayRow {
		k.lead(y)
	}
	if r.name == "" { // one more cable at the way above
		fork := draw.Point{X: left + facePlusAt - 4, Y: y - r.above}
		k.line(wirePen, fork, draw.Point{X: fork.X, Y: y}, draw.Point{X: left + facePlusAt, Y: y})
		k.symbols.Paths = append(k.symbols.Paths, connectionSymbol(fork))
		k.ring(left+facePlusAt, y)
		k.say(small, "same way", left+facePlusAt-17, y+lineTop/2)
		return
	}
	name, guarded := k.wayWords(r.name, r.kind == spareWay)
	k.say(strong, layout.Fit(strong, r.name, 24), left+plusBar+2, y-overLine)
	if rated := strings.TrimSpace(strings.TrimPrefix(name, r.name)); rated != "" {
		k.say(small, "way "+rated, left+plusBar+2, y+overLine+lineTop-0.1)
	}
	if guarded != "" {
		k.say(small, layout.Clip(small, guarded+k.coloured(k.s.Fuses[r.name]), facePlusAt-holderAt+fuseLong-1.5), left+holderAt-fuseLong, y-overLine-0.4)
	}
	holder := draw.Point{X: left + holderAt, Y: y}
	switch {
	case k.s.Fuses[r.name] != "":
		k.line(wirePen, draw.Point{X: left + plusBar, Y: y}, draw.Point{X: left + facePlusAt, Y: y})
		k.symbols.Paths = append(k.symbols.Paths, fuseSymbol(holder))
		k.seen.add(holderSign)
	case r.kind == spareWay: // an empty holder lets nothing through
		k.line(wirePen, draw.Point{X: left + plusBar, Y: y}, draw.Point{X: holder.X - 4, Y: y})
		k.line(wirePen, draw.Point{X: holder.X + 4, Y: y}, draw.Point{X: left + facePlusAt, Y: y})
		k.ring(holder.X-4, y)
		k.ring(holder.X+4, y)
		k.seen.add(emptySign)
	default:
		k.line(wirePen, draw.Point{X: left + plusBar, Y: y}, draw.Point{X: left + facePlusAt, Y: y})
	}
	k.symbols.Paths = append(k.symbols.Paths, connectionSymbol(draw.Point{X: left + plusBar, Y: y}))
	k.ring(left+facePlusAt, y)
	if part, ok := k.s.WayPart(r.name); ok && part.Holder != "" {
		k.say(quiet, string(part.Holder)+" holder", left+holderAt-fuseLong, y+overLine+lineTop-0.1)
	}
}

// barsDown draws the bars of both poles along the ways, and the return on to the grounds of the ports.
func (k *faceInk) barsDown(rows []faceRow, top float64, first bool) {
	left := k.field.Min.X
	var poles, grounds []float64
	low := 0.0 // of the plus, which ends at the last way
	y, border := k.field.Min.Y+k.headHigh()+faceHeading, top
	for _, r := range rows {
		switch r.kind {
		case portRow, sparePort:
			if grounds == nil {
				border = max(y, top)
			}
			grounds = append(grounds, y+lineOfRow+groundBelow)
		default:
			poles = append(poles, y+lineOfRow)
			if r.name != "" || r.kind == inletRow {
				low = y + lineOfRow
			}
		}
		y += r.high
	}
	from := top // where they come from the page before
	if first {
		from = poles[0]
	}
	if poles != nil {
		last := poles[len(poles)-1]
		if low > from {
			k.line(barPen, draw.Point{X: left + plusBar, Y: from}, draw.Point{X: left + plusBar, Y: low})
		}
		k.line(returnBar, draw.Point{X: left + minusAt, Y: from}, draw.Point{X: left + minusAt, Y: last})
		from = last
	}
	if grounds == nil {
		return
	}
	way := []draw.Point{{X: left + plusBar, Y: border}, {X: left + plusBar, Y: grounds[len(grounds)-1]}}
	if poles != nil {
		way = append([]draw.Point{{X: left + minusAt, Y: from}, {X: left + minusAt, Y: border}}, way...)
	}
	k.line(returnPen, way...)
	for _, at := range grounds {
		k.symbols.Paths = append(k.symbols.Paths, connectionSymbol(draw.Point{X: left + plusBar, Y: at}))
	}
}

// portSymbols are a data port: its resistor and its arrow, and its ground with the fuse in it.
func (k *faceInk) portSymbols(r faceRow, y float64) {
	left := k.field.Min.X
	_, socket, _ := strings.Cut(r.name, ".")
	k.say(strong, layout.Fit(strong, r.name, 24), left+plusBar+2, y-overLine)
	from, to := draw.Point{X: left + plusBar + 2, Y: y}, draw.Point{X: left + facePlusAt, Y: y}
	k.line(draw.Pen{Tone: draw.Blueprint, Width: draw.Thin}, from, to)
	k.seen.add(dataSign)
	if r.buffered {
		k.seen.add(bufferSign)
		k.symbols.Paths = append(k.symbols.Paths, drafting.BufferSymbol(draw.Point{X: left + holderAt + 9, Y: y}))
	}
	k.symbols.Paths = append(k.symbols.Paths, layout.Head(draw.Blueprint, from, draw.Point{X: to.X - terminalAt, Y: y}))
	k.ring(to.X, y)
	k.say(quiet, "data", to.X-16, y-overLine)
	if r.powered {
		k.say(strong, "+ goes past the fuses", left+plusBar+2, y+groundBelow+overLine+lineTop)
	}
	low := y + groundBelow
	k.line(returnPen, draw.Point{X: left + plusBar, Y: low}, draw.Point{X: left + minusAt, Y: low})
	k.ring(left+minusAt, low)
	if r.kind == portRow {
		k.lead(low)
	}
	if k.part == nil {
		return
	}
	port := k.part.Ports[socket]
	if port.Series.Given {
		k.symbols.Paths = append(k.symbols.Paths, resistorSymbol(draw.Point{X: left + holderAt, Y: y}))
		k.seen.add(resistorSign)
		k.say(small, layout.Nominal(port.Series.Is), left+holderAt-fuseLong, y-overLine-0.4)
	}
	if port.GroundFuse != "" {
		k.symbols.Paths = append(k.symbols.Paths, fuseSymbol(draw.Point{X: left + holderAt + 14, Y: low}))
		k.seen.add(holderSign)
	}
}

// key says what lines and symbols are.
func (k *faceInk) key() draw.Layer {
	line := func(pen draw.Pen, paths ...draw.Path) []draw.Path {
		return append([]draw.Path{draw.Line(pen, draw.Point{}, draw.Point{X: keySample})}, paths...)
	}
	data := draw.Pen{Tone: draw.Blueprint, Width: draw.Thin}
	empty := append([]draw.Path{draw.Line(wirePen, draw.Point{}, draw.Point{X: 2}), draw.Line(wirePen, draw.Point{X: keySample - 2}, draw.Point{X: keySample})},
		append(terminalSymbol(draw.Point{X: 2}), terminalSymbol(draw.Point{X: keySample - 2})...)...)
	return footed(k.field, k.seen.key([]layout.Entry{
		keyed(line(barPen), plusBarSign),
		keyed(line(returnBar), returnBarSign),
		keyed(line(data, layout.Head(draw.Blueprint, draw.Point{}, draw.Point{X: keySample})), dataSign),
		keyed(line(wirePen, fuseSymbol(draw.Point{X: keySample / 2})), holderSign),
		keyed(empty, emptySign),
		keyed(line(wirePen, resistorSymbol(draw.Point{X: keySample / 2})), resistorSign),
		keyed(line(data, drafting.BufferSymbol(draw.Point{X: keySample / 2})), bufferSign),
		keyed(terminalSymbol(draw.Point{X: keySample - 1}), terminalSign),
	}))
}
