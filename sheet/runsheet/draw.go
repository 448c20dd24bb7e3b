package runsheet

import (
	"fmt"
	"math"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
)

// A tapeDrawing is one row of the tape being drawn, its upper edge so far down the page.
type tapeDrawing struct {
	*runSheet
	row    bandRow
	number int
	top    float64
	pitch  float64 // of pixels, on the page
	layer  *draw.Layer
	ruled  *draw.Layer // dimensions
	words  *draw.Layer
}

// drawRow draws a row of the tape from a height downwards.
func (s *runSheet) drawRow(number int, y float64, tape, ruled, words *draw.Layer) {
	row := s.band.rows[number]
	d := tapeDrawing{s, row, number, y + row.above(), s.pitch() / s.band.scale, tape, ruled, words}
	d.body()
	d.rails()
	d.factoryJoints()
	for i := range row.spots {
		d.spot(row.spots[i])
	}
	d.labels(y)
	d.dimensions()
	d.pieceWords()
	d.ends()
}

func (d *tapeDrawing) x(at float64) float64 { return d.band.x(d.row, at, d.pitch) }

func (d *tapeDrawing) line(pen draw.Pen, points ...draw.Point) {
	d.layer.Paths = append(d.layer.Paths, draw.Line(pen, points...))
}

func (d *tapeDrawing) text(words string, at draw.Point, anchor draw.Anchor, face draw.Face) {
	text := bandText
	text.Words, text.At, text.Anchor, text.Face = words, at, anchor, face
	d.words.Texts = append(d.words.Texts, text)
}

// body is the outline: whole at the ends of the run, with break lines where a row goes on in another.
func (d *tapeDrawing) body() {
	left, right := d.x(d.row.from), d.x(d.row.to)
	bottom := d.top + bandHeight
	d.layer.Paths = append(d.layer.Paths, draw.Area(draw.Shade, draw.Pen{}, draw.Point{X: left, Y: d.top}, draw.Point{X: right, Y: d.top}, draw.Point{X: right, Y: bottom}, draw.Point{X: left, Y: bottom}))
	d.line(tapeEdgePen, draw.Point{X: left, Y: d.top}, draw.Point{X: right, Y: d.top})
	d.line(tapeEdgePen, draw.Point{X: left, Y: bottom}, draw.Point{X: right, Y: bottom})
	for _, end := range []struct {
		x     float64
		whole bool
	}{{left, d.row.first}, {right, d.row.last}} {
		if end.whole {
			d.line(tapeEdgePen, draw.Point{X: end.x, Y: d.top}, draw.Point{X: end.x, Y: bottom})
		} else {
			d.breakLine(end.x)
		}
	}
	if d.band.ticks == 0 {
		return
	}
	step := float64(d.band.ticks * d.tape.CutEvery)
	ticks := draw.Path{Pen: drafting.FaintPen}
	for at := math.Ceil(d.row.from/step) * step; at <= d.row.to; at += step {
		x := d.x(at)
		for _, y := range [][2]float64{{d.top, d.top + 1}, {bottom - 1, bottom}} {
			ticks.Steps = append(ticks.Steps, draw.Step{Kind: draw.Move, To: draw.Point{X: x, Y: y[0]}}, draw.Step{Kind: draw.Go, To: draw.Point{X: x, Y: y[1]}})
		}
	}
	if ticks.Steps != nil {
		d.layer.Paths = append(d.layer.Paths, ticks)
	}
}

// breakLine is a thin line with a zigzag (ISO 128-2, line 01.1.20), from memory.
func (d *tapeDrawing) breakLine(x float64) {
	middle := d.top + bandHeight/2
	d.line(tapeEdgePen, draw.Point{X: x, Y: d.top - 2}, draw.Point{X: x, Y: middle - 1.6}, draw.Point{X: x + 1.4, Y: middle - 0.8}, draw.Point{X: x - 1.4, Y: middle + 0.8}, draw.Point{X: x, Y: middle + 1.6}, draw.Point{X: x, Y: d.top + bandHeight + 2})
}

// rails are the copper and the data of the row, with their cuts.
func (d *tapeDrawing) rails() {
	d.rail(scheme.Plus, tapePlusPen, d.top+plusAt)
	d.rail(scheme.Return, tapeReturnPen, d.top+returnAt)
	y := d.top + dataAt
	left, right := d.x(d.row.from), d.x(d.row.to)
	d.line(tapeDataPen, draw.Point{X: left, Y: y}, draw.Point{X: right, Y: y})
	if d.band.pixels {
		for p := math.Ceil(d.row.from); p < d.row.to; p++ {
			d.layer.Paths = append(d.layer.Paths, pixelBox(draw.Point{X: d.x(p + 0.5), Y: y}))
		}
		return
	}
	const apart = 45
	for x := left + apart/2; x < right-3; x += apart {
		d.layer.Paths = append(d.layer.Paths, layout.Head(draw.Blueprint, draw.Point{X: x - 1, Y: y}, draw.Point{X: x, Y: y}))
	}
}

func pixelBox(at draw.Point) draw.Path {
	return draw.Area(draw.Paper, drafting.FaintPen, draw.Box{Min: at, Max: at}.Grow(0.8).Corners()...)
}

// rail is one rail with gaps where it is cut.
func (d *tapeDrawing) rail(pole scheme.Pole, pen draw.Pen, y float64) {
	from := d.x(d.row.from)
	for _, at := range d.row.spots {
		if at.cut == "" || !at.cut.Has(pole) {
			continue
		}
		x := d.x(at.at)
		d.line(pen, draw.Point{X: from, Y: y}, draw.Point{X: x - cutGap, Y: y})
		d.layer.Paths = append(d.layer.Paths, cutStrokes(draw.Point{X: x, Y: y})...)
		from = x + cutGap
	}
	d.line(pen, draw.Point{X: from, Y: y}, draw.Point{X: d.x(d.row.to), Y: y})
}

// cutStrokes mark a cut: two slanting strokes across the gap.
func cutStrokes(at draw.Point) (paths []draw.Path) {
	for _, dx := range []float64{-0.45, 0.45} {
		paths = append(paths, draw.Line(draw.Pen{Tone: draw.Copper, Width: draw.Thick}, draw.Point{X: at.X + dx - 0.5, Y: at.Y + 1.5}, draw.Point{X: at.X + dx + 0.5, Y: at.Y - 1.5}))
	}
	return paths
}

func (d *tapeDrawing) factoryJoints() {
	every, count := d.factory()
	if !d.band.factory {
		return
	}
	for k := max(1, int(math.Ceil(d.row.from/every))); k <= count && float64(k)*every < d.row.to; k++ {
		for _, y := range []float64{plusAt, returnAt} {
			d.layer.Paths = append(d.layer.Paths, factoryTick(d.x(float64(k)*every), d.top+y)...)
		}
	}
}

// factoryTick marks a joint of the factory: two fine strokes across the rail.
func factoryTick(x, y float64) (paths []draw.Path) {
	for _, dx := range []float64{-0.4, 0.4} {
		paths = append(paths, draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Hair}, draw.Point{X: x + dx, Y: y - 1.3}, draw.Point{X: x + dx, Y: y + 1.3}))
	}
	return paths
}

// solderTick marks a soldered joint: one heavy stroke.
func solderTick(x, y float64) []draw.Path {
	return []draw.Path{draw.Line(draw.Pen{Tone: draw.Ink, Width: draw.Thick}, draw.Point{X: x, Y: y - 1.5}, draw.Point{X: x, Y: y + 1.5})}
}

// spot draws the soldered joint at a place, on all three pads. What lands there is drawn with its label.
func (d *tapeDrawing) spot(at runSpot) {
	if at.soldered {
		for _, y := range []float64{plusAt, dataAt, returnAt} {
			d.layer.Paths = append(d.layer.Paths, solderTick(d.x(at.at), d.top+y)...)
		}
	}
}

// pads are the poles that the cables and capacitors of a label land on.
func (d *tapeDrawing) pads(at runSpot, before bool) (plus, back bool) {
	for _, l := range at.feeds {
		if l.before == before {
			pole := d.st.Scheme.Cables[l.id].Pole
			plus, back = plus || pole.Has(scheme.Plus), back || pole.Has(scheme.Return)
		}
	}
	if len(at.capacitors) > 0 && !before {
		return true, true
	}
	return plus, back
}

// labels draws the labels, their leaders, and the cores down to the pads.
func (d *tapeDrawing) labels(y float64) {
	k := 0
	for _, at := range d.row.spots {
		for _, before := range []bool{true, false} {
			plus, back := d.pads(at, before)
			if !plus && !back {
				continue
			}
			d.label(d.row.labels[k], y, plus, back)
			k++
		}
	}
}

func (d *tapeDrawing) label(l bandLabel, y float64, plus, back bool) {
	high := float64(d.row.lines)*tapeLine + 2.4
	bottom := y + high*float64(d.row.levels-l.level) - 1.2
	top := bottom - float64(len(l.lines))*tapeLine
	joins := d.top - 1.8
	if l.silent {
		l.lines = nil
	} else {
		d.line(drafting.FaintPen, draw.Point{X: l.x, Y: top}, draw.Point{X: l.x, Y: y + high*float64(d.row.levels)}, draw.Point{X: l.at, Y: joins})
	}
	for i, line := range l.lines {
		text := line.text()
		text.At = draw.Point{X: l.x + 1, Y: top + float64(i)*tapeLine + 2.5}
		d.words.Texts = append(d.words.Texts, text)
	}
	side := 0.0
	if plus && back {
		side = corePitch / 2
		d.line(corePlusPen, draw.Point{X: l.at - side, Y: joins}, draw.Point{X: l.at + side, Y: joins})
	}
	if plus {
		at := draw.Point{X: l.at - side, Y: d.top + plusAt}
		d.line(corePlusPen, draw.Point{X: at.X, Y: joins}, at)
		d.layer.Paths = append(d.layer.Paths, draw.Disc(draw.Ink, at, 0.9))
	}
	if back {
		at := draw.Point{X: l.at + side, Y: d.top + returnAt}
		d.line(coreReturnPen, draw.Point{X: at.X, Y: joins}, at)
		d.layer.Paths = append(d.layer.Paths, draw.Disc(draw.Ink, at, 0.9), draw.Disc(draw.Paper, at, 0.55))
	}
}

// dimensions are running dimensions from one origin, the data-in end (ISO 129-1, superimposed running dimensioning): a line of arrows
// from it, and the numbers at the ends of the extension lines.
func (d *tapeDrawing) dimensions() {
	if len(d.row.spots) == 0 {
		return
	}
	bottom := d.top + bandHeight
	y := bottom + toDimension
	begin, end := d.x(d.row.from), d.x(d.row.spots[len(d.row.spots)-1].at)
	add := func(paths ...draw.Path) { d.ruled.Paths = append(d.ruled.Paths, paths...) }
	add(draw.Line(drafting.FaintPen, draw.Point{X: begin, Y: y}, draw.Point{X: end, Y: y}))
	if d.row.first {
		add(draw.Disc(draw.Graphite, draw.Point{X: begin, Y: y}, 0.9), draw.Disc(draw.Paper, draw.Point{X: begin, Y: y}, 0.6))
	}
	before := begin
	for i, at := range d.row.spots {
		x, words := d.x(at.at), d.row.under[i]
		const short = 2.6 // too short for an arrow
		if math.IsNaN(words) {
			continue
		}
		add(draw.Line(drafting.FaintPen, draw.Point{X: x, Y: bottom + 0.8}, draw.Point{X: x, Y: y + 0.6}, draw.Point{X: words, Y: bottom + toWords - 0.8}))
		switch {
		case at.mark == 0:
		case x-before < short:
			add(draw.Disc(draw.Graphite, draw.Point{X: x, Y: y}, 0.4))
		default:
			add(layout.Head(draw.Graphite, draw.Point{X: before, Y: y}, draw.Point{X: x, Y: y}))
		}
		before = x
		text := bandText
		text.Words, text.At, text.Anchor, text.Turn = d.underWords(at), draw.Point{X: words + 0.9, Y: bottom + toWords}, draw.End, 90
		d.ruled.Texts = append(d.ruled.Texts, text)
	}
}

// pieceWords write into each piece of the positive what feeds it, where there is room between the lines; the table of pieces has it all.
func (d *tapeDrawing) pieceWords() {
	for _, p := range d.pieces {
		if p.pole != scheme.Plus || p.short == "" {
			continue
		}
		from, to := max(d.x(float64(p.from)), d.x(d.row.from))+2, min(d.x(float64(p.to)), d.x(d.row.to))-2
		width := layout.Wide(bandText, p.short) + 1.6
		best, found := 0.0, false
		for x := from; x+width <= to; x += 0.5 {
			middle := (from + to - width) / 2
			if d.clear(x, x+width) && (!found || math.Abs(x-middle) < math.Abs(best-middle)) {
				best, found = x, true
			}
		}
		if found {
			d.text(p.short, draw.Point{X: best + 0.8, Y: d.top + (plusAt+dataAt)/2 + 0.9}, draw.Start, draw.Sans)
		}
	}
}

// clear reports whether no core goes down through the tape between two places.
func (d *tapeDrawing) clear(from, to float64) bool {
	for _, l := range d.row.labels {
		if l.at+1.6 > from && l.at-1.6 < to {
			return false
		}
	}
	for _, at := range d.row.spots {
		if x := d.x(at.at); at.soldered && x+0.6 > from && x-0.6 < to {
			return false
		}
	}
	return true
}

// ends are the names of the rails, the arrows of data, and what is beside the row.
func (d *tapeDrawing) ends() {
	left, right := d.x(d.row.from), d.x(d.row.to)
	for _, rail := range []struct {
		name string
		y    float64
	}{{"+", plusAt}, {"−", returnAt}} {
		text := draw.Text{Words: rail.name, Size: 9, Face: draw.SemiBold, Tone: draw.Ink, Anchor: draw.End, At: draw.Point{X: left - 2, Y: d.top + rail.y + 1.1}}
		d.words.Texts = append(d.words.Texts, text)
		text.Anchor, text.At.X = draw.Start, right+2
		d.words.Texts = append(d.words.Texts, text)
	}
	y := d.top + dataAt
	const lead = 9
	d.layer.Paths = append(d.layer.Paths, draw.Line(tapeDataPen, draw.Point{X: left - lead, Y: y}, draw.Point{X: left, Y: y}), layout.Head(draw.Blueprint, draw.Point{X: left - lead, Y: y}, draw.Point{X: left - 0.2, Y: y}))
	into, _ := d.into()
	if d.row.first && d.buffered(into) {
		d.layer.Paths = append(d.layer.Paths, drafting.BufferSymbol(draw.Point{X: left - lead/2 - 0.6, Y: y}))
	}
	onward, goes := d.onward()
	if goes || !d.row.last {
		d.layer.Paths = append(d.layer.Paths, draw.Line(tapeDataPen, draw.Point{X: right, Y: y}, draw.Point{X: right + lead, Y: y}), layout.Head(draw.Blueprint, draw.Point{X: right, Y: y}, draw.Point{X: right + lead, Y: y}))
	}
	if d.row.last && d.buffered(onward) {
		d.layer.Paths = append(d.layer.Paths, drafting.BufferSymbol(draw.Point{X: right + lead/2 - 0.6, Y: y}))
	}
	d.beside(d.paper.Field().Min.X, d.leftWords())
	d.beside(right+5, d.rightWords())
}

// leftWords are what is to the left of a row: whence its data comes.
func (d *tapeDrawing) leftWords() []string {
	if !d.row.first {
		return []string{fmt.Sprintf("row %d of %d", d.number+1, len(d.band.rows)), "from px" + layout.Thin + fmt.Sprint(int(d.row.from))}
	}
	return d.leadIn()
}

func (d *tapeDrawing) rightWords() []string {
	if !d.row.last {
		return []string{"goes on in", fmt.Sprintf("row %d of %d", d.number+2, len(d.band.rows))}
	}
	return d.leadOut()
}

// leadIn is beside the beginning of the tape, leadOut beside its end: the lead there, and what its cores are for.
func (s *runSheet) leadIn() []string {
	lead, ok := s.into()
	if !ok {
		return []string{"data-in", "no lead ends here"}
	}
	return append([]string{"data-in", lead + " from " + s.st.Scheme.Data[lead].From.String()}, s.leadLines(lead)...)
}

func (s *runSheet) leadOut() []string {
	lead, ok := s.onward()
	if !ok {
		return []string{"data-out", "nothing joined"}
	}
	return append([]string{"data-out", lead + " to " + s.st.Scheme.Data[lead].To.String()}, s.leadLines(lead)...)
}

// leadLines are a data lead in short lines: what it has and what becomes of each core; the table has the same in full.
func (s *runSheet) leadLines(lead string) []string {
	c := drafting.Cores(s.st.Scheme, lead)
	lines := []string{s.cores(lead)}
	for _, core := range c.For {
		if core == drafting.ClockCore || core == drafting.BackupCore {
			lines = append(lines, "1 core for "+string(core))
		}
	}
	ground := "ground joined"
	if c.Opened {
		ground = "ground left open"
	}
	lines = append(lines, ground)
	if c.Dead > 0 {
		lines = append(lines, fmt.Sprintf("%d unused: insulate", c.Dead))
	}
	if s.st.Scheme.Data[lead].Power {
		lines = append(lines, "carries the supply", "past the fuses")
	}
	if s.buffered(lead) {
		fed := "on the rails here"
		if drafting.Unfed(s.st.Scheme, s.st.Scheme.Data[lead]) {
			fed = "nothing feeds it here"
		}
		lines = append(lines, drafting.BufferName(s.st.Scheme, s.st.Scheme.Data[lead].Buffer), fed)
	}
	return lines
}

// beside writes lines under the level of the tape, the first bold.
func (d *tapeDrawing) beside(x float64, lines []string) {
	y := d.top + bandHeight + toWords
	for i, line := range lines {
		face := draw.Sans
		if i == 0 {
			face = draw.SemiBold
		}
		like := bandText
		like.Face = face
		d.text(layout.Fit(like, line, bandMargin-5), draw.Point{X: x, Y: y}, draw.Start, face)
		y += tapeLine
	}
}
