package runsheet

import (
	"fmt"
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
)

// A band is the tape as it is drawn: to scale along it, in rows; its width is not to scale.
type band struct {
	scale   float64 // 20 for 1:20
	rows    []bandRow
	left    float64 // where the tape begins in every row
	right   float64 // of the longest row that there could be
	pixels  bool    // are drawn one by one
	factory bool    // factory joints are drawn
	ticks   int     // cut marks from one tick to the next; 0 where none are drawn
}

// A bandRow is a piece of the tape in one row, so many pixels from data-in.
type bandRow struct {
	from, to float64
	spots    []runSpot
	first    bool
	last     bool
	labels   []bandLabel // over the tape
	under    []float64   // where the words under it stand
	levels   int
	lines    int     // of the tallest label
	deep     float64 // of the longest words under the tape
	beside   int     // lines beside the tape
	crowded  bool    // not all words have room
}

// A bandLabel names what is soldered at a spot.
type bandLabel struct {
	at     float64 // place of the pads, in millimetres of the page
	x      float64 // where its words begin
	level  int     // from 0, the nearest to the tape
	lines  []labelLine
	width  float64
	silent bool // there is no room for it
}

// A labelLine is one of its lines; that which names a cable is bold.
type labelLine struct {
	words string
	bold  bool
}

// text is a line as it is set.
func (l labelLine) text() draw.Text {
	text := bandText
	text.Words = l.words
	if l.bold {
		text.Face = draw.SemiBold
	}
	return text
}

// Measures of the drawing of a tape, in millimetres.
const (
	bandMargin  = 36.0 // beside the tape, for words about data
	bandHeight  = 15.0
	plusAt      = 3.2 // of the rails, below the upper edge
	dataAt      = 8.4
	returnAt    = 12.0
	tapeSlant   = 6.0 // between the tape and its labels
	tapeLine    = 3.3 // of words beside the drawing
	turnedPitch = 3.4 // from one turned text to the next
	toDimension = 7.0 // from the tape to the line of its dimensions
	toWords     = 11.5
	cutGap      = 0.9
	sideways    = 2.4 // by which pads stand beside a cut, for one side or the other
	inwards     = 1.2 // by which pads stand on the tape at its ends
	corePitch   = 1.0
)

var (
	tapePlusPen   = draw.Pen{Tone: draw.Ink, Width: draw.Thick}
	tapeReturnPen = draw.Pen{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{4, 1.2}}
	tapeDataPen   = draw.Pen{Tone: draw.Blueprint, Width: draw.Thin}
	coreReturnPen = draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{2, 0.8}}
	corePlusPen   = draw.Pen{Tone: draw.Ink, Width: draw.Thin}
	tapeEdgePen   = draw.Pen{Tone: draw.Graphite, Width: draw.Thin}
)

var bandText = draw.Text{Size: draw.Smallest, Tone: draw.Ink}

// nextScale is the scale after another, of those of ISO 5455 and further on: 1, 2 and 5 of each power of ten.
func nextScale(scale float64) float64 {
	power := math.Pow10(int(math.Floor(math.Log10(scale * 1.001))))
	switch first := math.Round(scale / power); {
	case first < 2:
		return 2 * power
	case first < 5:
		return 5 * power
	}
	return 10 * power
}

// banded chooses the scale: the largest in which the tape takes one row, or where the labels of a row would not fit a larger one with
// more rows, up to as many as are few enough to be read.
func (s *runSheet) banded() band {
	field := s.paper.Field()
	b := band{left: field.Min.X + bandMargin, right: field.Max.X - bandMargin}
	length := float64(s.run.Count) * s.pitch()
	scale := 1.0
	for length/scale > b.right-b.left {
		scale = nextScale(scale)
	}
	const most = 6 // rows
	for tried := scale; ; tried = smaller(tried) {
		rows, ok := s.divided(b, tried)
		if len(rows) > most && b.rows != nil {
			break
		}
		b.scale, b.rows = tried, rows
		if ok || tried <= 1 {
			break
		}
	}
	pitch := s.pitch() / b.scale
	b.pixels = pitch >= 3.2
	every, count := s.factory()
	b.factory = count > 0 && every*pitch >= 3
	b.ticks = ticked(float64(s.tape.CutEvery)*pitch, s.run.Count/max(s.tape.CutEvery, 1))
	return b
}

// smaller is the next scale in which things are drawn larger.
func smaller(scale float64) float64 {
	for at := 1.0; ; at = nextScale(at) {
		if nextScale(at) >= scale*0.999 {
			return at
		}
	}
}

// ticked is how many cut marks there are from one tick to the next, 1, 2 or 5 of a power of ten, so that ticks are told apart.
func ticked(pitch float64, marks int) int {
	const apart = 1.6
	for power := 1; power <= marks; power *= 10 {
		for _, n := range []int{1, 2, 5} {
			if float64(n*power)*pitch >= apart {
				return n * power
			}
		}
	}
	return 0
}

// tickWords say what the ticks along the edges are.
func (b band) tickWords(every int) string {
	scale := fmt.Sprintf("Along the tape the drawing is 1:%g; its width is not to scale.", b.scale)
	if slices.ContainsFunc(b.rows, func(r bandRow) bool { return r.crowded }) {
		scale += " There is no room to name all that is drawn; the table has all."
	}
	switch {
	case b.ticks == 0:
		return scale + " Cut marks lie too close to be drawn."
	case b.ticks == 1:
		return scale + " Ticks along the edges are cut marks."
	}
	return fmt.Sprintf("%s Ticks along the edges are %d cut marks apart, %d pixels.", scale, b.ticks, b.ticks*every)
}

// divided is the tape in rows at a scale; ok says that the labels of each fit beside each other.
func (s *runSheet) divided(b band, scale float64) (rows []bandRow, ok bool) {
	pitch := s.pitch() / scale
	ok = true
	count := float64(s.run.Count)
	for from := 0.0; from < count; {
		row := bandRow{from: from, to: count, first: from == 0}
		if (count-from)*pitch > b.right-b.left+1e-9 {
			row.to = s.broken(from, (b.right-b.left)/pitch, pitch)
		}
		row.last = row.to == count
		if row.first {
			row.beside = len(s.leadIn())
		}
		if row.last {
			row.beside = max(row.beside, len(s.leadOut()))
		}
		for _, spot := range s.spots {
			if spot.at >= row.from && (spot.at < row.to || row.last) {
				row.spots = append(row.spots, spot)
			}
		}
		fits := s.labelled(&row, b, pitch)
		ok = ok && fits
		rows = append(rows, row)
		from = row.to
	}
	return rows, ok
}

// broken is where a row ends that could be so many pixels long: at a mark, and not close to what is named.
func (s *runSheet) broken(from, room, pitch float64) float64 {
	const clear = 4 // millimetres
	every := float64(max(s.tape.CutEvery, 1))
	last := math.Floor((from+room)/every) * every
	for at := last; at > from+room*0.6; at -= every {
		free := true
		for _, spot := range s.spots {
			free = free && math.Abs(spot.at-at)*pitch > clear
		}
		if free {
			return at
		}
	}
	return max(last, from+every)
}

// x is a place on the page, of a row.
func (b band) x(row bandRow, at, pitch float64) float64 { return b.left + (at-row.from)*pitch }

// labelled gives the words of a row their places. It is not ok where they do not fit.
func (s *runSheet) labelled(row *bandRow, b band, pitch float64) bool {
	const levels, tall = 3, 8
	var targets []float64
	for _, spot := range row.spots {
		targets = append(targets, b.x(*row, spot.at, pitch))
		row.deep = max(row.deep, layout.Wide(bandText, s.underWords(spot)))
		for _, label := range s.labelsAt(spot, b.x(*row, spot.at, pitch), tall) {
			row.labels = append(row.labels, label)
			row.lines = max(row.lines, len(label.lines))
		}
	}
	field := s.paper.Field()
	under := row.placeUnder(targets, b.left-1, b.x(*row, row.to, pitch)+turnedPitch)
	for row.levels = 1; ; row.levels++ {
		fits := row.spreadLabels(field.Min.X, field.Max.X, 1)
		if fits || row.levels == levels {
			for step := 2; !fits; step *= 2 {
				row.crowded = true
				fits = row.spreadLabels(field.Min.X, field.Max.X, step)
			}
			return under && !row.crowded && row.told(b, pitch)
		}
	}
}

// placeUnder gives the words under the tape their places. It is not ok where not all fit; then it is every second, every fourth and so on that is told.
func (row *bandRow) placeUnder(targets []float64, from, to float64) bool {
	row.under = make([]float64, len(targets))
	for step := 1; ; step *= 2 {
		var some, widths []float64
		for i := range targets {
			row.under[i] = math.NaN()
			if i%step == 0 {
				some, widths = append(some, targets[i]), append(widths, turnedPitch)
			}
		}
		if xs, ok := layout.Spread(some, widths, 1, 0, from, to); ok {
			for k, x := range xs {
				row.under[k*step] = x
			}
			row.crowded = row.crowded || step > 1
			return step == 1
		}
	}
}

// told reports whether pads are told apart from those of other labels, and from cuts at other marks.
func (row *bandRow) told(b band, pitch float64) bool {
	const pads, cuts = 2.6, 1.6 // millimetres between them
	for i, l := range row.labels {
		if i > 0 && l.at-row.labels[i-1].at < pads {
			return false
		}
		for _, spot := range row.spots {
			if spot.cut != "" && math.Abs(b.x(*row, spot.at, pitch)-l.at) < cuts {
				return false
			}
		}
	}
	return true
}

// spreadLabels moves the labels of a row apart, on as many levels as it has; of more than one at a time all but the first are left to the table.
func (row *bandRow) spreadLabels(from, to float64, step int) bool {
	var targets, widths []float64
	for i := 0; i < len(row.labels); i += step {
		targets, widths = append(targets, row.labels[i].at), append(widths, row.labels[i].width+3)
	}
	xs, ok := layout.Spread(targets, widths, row.levels, 1.8, from, to)
	for i := range row.labels {
		row.labels[i].silent = i%step > 0
		if i%step == 0 {
			row.labels[i].x, row.labels[i].level = xs[i/step], layout.Level(i/step, row.levels)
		}
	}
	return ok
}

// labelsAt are the labels of a spot: of what lands before its cut, and of the rest; lines that are too many are left to the table.
func (s *runSheet) labelsAt(at runSpot, x float64, tall int) []bandLabel {
	var sides [2]bandLabel
	for i := range sides {
		sides[i].at = x
	}
	switch {
	case at.cut != "":
		sides[0].at, sides[1].at = x-sideways, x+sideways
	case at.mark == 0:
		sides[1].at = x + inwards
	case at.mark == s.run.Count:
		sides[1].at = x - inwards
	}
	for _, l := range at.feeds {
		side := &sides[1]
		if l.before {
			side = &sides[0]
		}
		words := s.landed(l)
		side.lines = append(side.lines, labelLine{words[0], true}, labelLine{words[1], false})
	}
	for _, id := range at.capacitors {
		sides[1].lines = append(sides[1].lines, labelLine{s.capacitor(id) + ", across + and −", false})
	}
	var list []bandLabel
	for _, l := range sides {
		if len(l.lines) > tall {
			l.lines = append(l.lines[:tall-1:tall-1], labelLine{"and more: see the table", false})
		}
		for i, line := range l.lines {
			const widest = 60
			l.lines[i].words = layout.Fit(line.text(), line.words, widest)
			l.width = max(l.width, l.lines[i].text().Width())
		}
		if l.lines != nil {
			list = append(list, l)
		}
	}
	return list
}

// underWords are what stands under the tape at a spot.
func (s *runSheet) underWords(at runSpot) string {
	words := s.mm(at.at) + " · " + s.pixel(at)
	if at.cut != "" {
		words += " · cut " + drafting.PoleWords(at.cut)
	}
	if at.soldered {
		words += " · joint"
	}
	return words
}

// height is how much of the page a row takes.
func (row bandRow) height() float64 {
	return row.above() + bandHeight + toWords + max(row.deep, 12, float64(row.beside-1)*tapeLine) + 5
}

func (row bandRow) above() float64 {
	return float64(row.levels)*(float64(row.lines)*tapeLine+2.4) + tapeSlant
}
