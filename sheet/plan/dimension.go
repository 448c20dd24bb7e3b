package plan

import (
	"fmt"
	"math"
	"slices"

	"farend/draw"
	"farend/layout"
	"farend/sheet/drafting"
	"farend/study"
)

// aboutOrigin reports whether the zero of both coordinates is among what is drawn.
func (m planned) aboutOrigin() bool {
	points := m.drawnAt()
	if len(points) == 0 {
		return false
	}
	low, high := extent(points)
	return max(low[0], low[1]) <= 0 && min(high[0], high[1]) >= 0
}

// originWords says how coordinates are to be read on the plan; empty where nothing is drawn.
func (m planned) originWords() string {
	const axes = "x to the right, y up, in metres, as in the drawing of the scheme"
	if m.aboutOrigin() {
		return "The origin, x" + layout.Thin + "0, y" + layout.Thin + "0: " + axes + "."
	}
	at := func(what string, p [2]float64) string {
		return study.Capital(axes) + ". The origin is not on this sheet; " + what + " is at x " + drafting.Coordinate(p[0]) + ", y " + drafting.Coordinate(p[1]) + "."
	}
	for _, r := range m.runs {
		if len(r.line) > 0 {
			return at("data-in of "+r.id, r.line[0])
		}
	}
	for _, s := range m.spots {
		if s.at != nil {
			return at(s.id, *s.at)
		}
	}
	return ""
}

// originMark is a ringed cross, larger than the ends of runs.
func originMark(at draw.Point) []draw.Path {
	const arm, round = 2.6, 1.5
	pen := drafting.FaintPen
	ring := draw.Disc(draw.None, at, round)
	ring.Pen = pen
	return []draw.Path{ring,
		draw.Line(pen, draw.Point{X: at.X - arm, Y: at.Y}, draw.Point{X: at.X + arm, Y: at.Y}),
		draw.Line(pen, draw.Point{X: at.X, Y: at.Y - arm}, draw.Point{X: at.X, Y: at.Y + arm}),
	}
}

// A measured is a dimension that would help, and the runs whose length it says.
type measured struct {
	a, b  draw.Point
	words string
	away  []float64 // where its line may lie, the best first
	runs  []string
}

// dimension adds the dimensions of what is drawn, each where it has room, and says of which runs the length stands there.
func (f *figure) dimension(layer *draw.Layer, desk *layout.Desk) map[string]bool {
	const fine = 0.3
	f.tapes, f.lines = nil, nil
	for _, r := range f.runs {
		f.tapes = append(f.tapes, drafting.Simplified(r.trail, fine))
	}
	for _, r := range f.routes {
		f.lines = append(f.lines, drafting.Simplified(r.trail, fine))
	}
	said := map[string]bool{}
	for _, m := range f.lengths() {
		if f.measure(layer, desk, m) {
			for _, id := range m.runs {
				said[id] = true
			}
		}
	}
	for _, chains := range f.distances() {
		f.chain(layer, desk, chains)
	}
	if f.window == nil { // where it is shown larger it is dimensioned no more
		f.offsets(layer, desk)
	}
	return said
}

// chain draws the best of some chains of dimensions, the one of which most has room.
func (f *figure) chain(layer *draw.Layer, desk *layout.Desk, chains [][]layout.Dimension) {
	best, most := 0, 0
	for i, c := range chains {
		n := 0
		for _, d := range c {
			if f.free(desk, d, 0) {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	if most == 0 {
		return
	}
	for _, d := range chains[best] {
		if f.free(desk, d, 0) {
			f.write(layer, desk, d)
			level := d.A.X == d.B.X // the extension lines of what is measured upright
			f.reach(layer, desk, d.A, level)
			f.reach(layer, desk, d.B, level)
		}
	}
}

// reach leads an extension line on to the end of the run that it is of, where that is farther off and nothing stands between.
func (f *figure) reach(layer *draw.Layer, desk *layout.Desk, at draw.Point, level bool) {
	near, least := draw.Point{}, math.Inf(1)
	for _, r := range f.runs {
		for _, end := range []draw.Point{r.trail[0], r.trail[len(r.trail)-1]} {
			off := turnedPoint(draw.Point{X: end.X - at.X, Y: end.Y - at.Y}, !level)
			if r.line != nil && math.Abs(off.Y) < 1e-6 && drafting.Apart(end, at) < least {
				near, least = end, drafting.Apart(end, at)
			}
		}
	}
	const short = 3.0
	if math.IsInf(least, 1) || least < short {
		return
	}
	from := draw.Point{X: near.X + (at.X-near.X)*short/least, Y: near.Y + (at.Y-near.Y)*short/least}
	if !f.shows(from) || f.blocked(desk, drafting.Trail{from, from}.Box(), drafting.Trail{from, at}, 0) {
		return
	}
	layer.Paths = append(layer.Paths, draw.Line(drafting.FaintPen, from, at))
	desk.Under(from, at)
}

// measure draws a dimension at the first of its distances that has room.
func (f *figure) measure(layer *draw.Layer, desk *layout.Desk, m measured) bool {
	for _, away := range m.away {
		if d := (layout.Dimension{A: m.a, B: m.b, Away: away, Words: m.words}); f.free(desk, d, 0) {
			f.write(layer, desk, d)
			return true
		}
	}
	return false
}

func (f *figure) write(layer *draw.Layer, desk *layout.Desk, d layout.Dimension) {
	a, b := d.Ends()
	d.Draw(layer)
	desk.Set(d.Text())
	desk.Under(a, b)
	desk.Under(d.A, a)
	desk.Under(d.B, b)
	f.dimensions = append(f.dimensions, drafting.Trail{a, b})
}

// free reports whether there is room for a dimension: its words are free, and its line goes through no words or run and at most so many links, and
// keeps off other dimensions.
func (f *figure) free(desk *layout.Desk, d layout.Dimension, most int) bool {
	a, b := d.Ends()
	words := d.Text()
	box := words.Box().Grow(layout.Gap / 2)
	if !f.shows(d.A) || !f.shows(d.B) || !f.room.Holds(box) || !f.room.Holds(drafting.Trail{a, b}.Box()) || drafting.Apart(a, b) < words.Width()+1 {
		return false
	}
	if f.window != nil && (!f.window.Holds(box) || !f.window.Holds(drafting.Trail{a, b}.Box())) {
		return false
	}
	if around := (drafting.Trail{a, b, d.A, d.B}).Box(); f.arranged != nil && around.Grow(0.1).Meets(*f.arranged) && !f.arranged.Holds(drafting.Trail{d.A, d.B}.Box()) {
		return false // what is surveyed keeps off what is arranged
	}
	const apartFrom = 4.2
	for _, other := range f.dimensions {
		if touching(a, b, other[0], other[1], apartFrom) && !following(other, drafting.Trail{a, b}) {
			return false
		}
	}
	return !f.blocked(desk, box, drafting.Trail{a, b}, most)
}

// following reports whether two dimension lines are of one chain: the one begins where the other ends, or after that, and goes on in one line with it
// or turns where what they are of turns.
func following(s, t drafting.Trail) bool {
	const much, little = 0.5, 0.9999 // cosines: of the most that they turn, and of what is no turn
	one, other := newStraight(s[0], s[1]), newStraight(t[0], t[1])
	after := func(l straight, t drafting.Trail) bool {
		p, q := l.seen(t[0]).X, l.seen(t[1]).X
		return min(p, q) >= l.length-0.01 || max(p, q) <= 0.01
	}
	turn := math.Abs(one.ahead.X*other.ahead.X + one.ahead.Y*other.ahead.Y)
	aside := math.Abs(one.seen(t[0]).Y)
	return turn > much && (turn < little || aside < 0.01) && near(s, t) && after(one, t) && after(other, s)
}

// near reports whether an end of one line is next to an end of another.
func near(s, t drafting.Trail) bool {
	const next = 3.0
	return min(drafting.Apart(s[0], t[0]), drafting.Apart(s[0], t[1]), drafting.Apart(s[1], t[0]), drafting.Apart(s[1], t[1])) < next
}

// blocked reports whether the words of a dimension would cover anything, or its line cross words, a thing, a run or more than so many links.
func (f *figure) blocked(desk *layout.Desk, words draw.Box, line drafting.Trail, most int) bool {
	for _, taken := range desk.Taken {
		if taken.Meets(words) {
			return true
		}
		if low, high := layout.Inside(line[0], line[1], taken.Grow(0.6)); low < high {
			return true
		}
	}
	clear := func(t drafting.Trail) bool {
		for i := 1; i < len(t); i++ {
			if low, high := layout.Inside(t[i-1], t[i], words); low < high {
				return false
			}
			if touching(line[0], line[1], t[i-1], t[i], 0.3) {
				return false
			}
		}
		return true
	}
	for _, frame := range f.frames {
		corners := append(frame.Corners(), frame.Min)
		for i := 1; i < len(corners); i++ {
			if low, high := layout.Inside(corners[i-1], corners[i], words); low < high {
				return true
			}
		}
	}
	for _, tape := range f.tapes {
		if !clear(tape) {
			return true
		}
	}
	for _, trail := range f.lines {
		if clear(trail) {
			continue
		}
		if most--; most < 0 || !across(line, trail, words) {
			return true
		}
	}
	return false
}

// across reports whether a line crosses another plainly, once, and away from some words.
func across(line, t drafting.Trail, words draw.Box) bool {
	const flat = 0.2 // the sine of the least angle
	crosses := 0
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		if low, high := layout.Inside(a, b, words); low < high {
			return false
		}
		if crossed(line[0], line[1], a, b) {
			crosses++
		}
		if l := drafting.Apart(line[0], line[1]) * drafting.Apart(a, b); touching(line[0], line[1], a, b, 0.3) && math.Abs((line[1].X-line[0].X)*(b.Y-a.Y)-(line[1].Y-line[0].Y)*(b.X-a.X)) < flat*l {
			return false
		}
	}
	return crosses == 1
}

// lengths are those of the straight runs, one for all that are alike: as long, and lying the same way.
func (f *figure) lengths() (list []measured) {
	all := drafting.Trail(nil).Box()
	for _, r := range f.runs {
		all = drafting.Joined(all, r.trail.Box())
	}
	middle := draw.Point{X: (all.Min.X + all.Max.X) / 2, Y: (all.Min.Y + all.Max.Y) / 2}
	type alike struct{ length, turn int }
	seen := map[alike]bool{}
	for _, r := range f.runs {
		a, b, straight := r.straight()
		if !straight || r.unlike() {
			list = append(list, f.pieces(r)...)
			continue
		}
		turn := math.Mod(math.Atan2(b.Y-a.Y, b.X-a.X)*180/math.Pi+360, 180)
		key := alike{int(math.Round(r.metres * 1000)), int(math.Round(turn)) % 180}
		if seen[key] {
			continue
		}
		seen[key] = true
		far := []float64{8, 12, 6, 16, 20}
		// To the left of the way from a to b is outside where the middle is to its right.
		if (b.X-a.X)*(middle.Y-a.Y)-(b.Y-a.Y)*(middle.X-a.X) < 0 {
			far = []float64{-8, -12, -6, -16, -20}
		}
		for _, v := range slices.Clone(far[:3]) {
			far = append(far, -v)
		}
		list = append(list, measured{a: a, b: b, words: millimetred(r.metres), away: far, runs: []string{r.id}})
	}
	return list
}

// pieces are the lengths between the bends of a run, where they are few.
func (f *figure) pieces(r strand) (list []measured) {
	const most = 6
	turns := drafting.Bends(r.line)
	if r.unlike() || len(turns) == 0 || len(turns) >= most {
		return nil
	}
	at := drafting.Trail{r.trail[0]}
	for _, b := range turns {
		corner, _ := r.trail.At(b.Share)
		at = append(at, corner)
	}
	at = append(at, r.trail[len(r.trail)-1])
	for i := 1; i < len(at); i++ {
		list = append(list, measured{a: at[i-1], b: at[i], words: millimetred(drafting.Apart(at[i-1], at[i]) / f.k()), away: []float64{8, -8, 6, -6, 12, -12}})
	}
	return list
}

// distances are those between runs that lie level or upright, and overall, where the lengths of the runs do not say them yet.
func (f *figure) distances() (list [][][]layout.Dimension) {
	var level, upright []strand
	for _, r := range f.runs {
		if a, b, ok := r.straight(); ok && r.line != nil {
			switch {
			case math.Abs(a.Y-b.Y) < 1e-6:
				level = append(level, r)
			case math.Abs(a.X-b.X) < 1e-6:
				upright = append(upright, r)
			}
		}
	}
	list = append(list, f.between(level, false), f.between(upright, true))
	list = append(list, f.along(level, false)...)
	list = append(list, f.along(upright, true)...)
	return append(list, f.overall()...)
}

// chains is one dimension, at each of some distances, as chains of one.
func (m measured) chains() (list [][]layout.Dimension) {
	for _, away := range m.away {
		list = append(list, []layout.Dimension{{A: m.a, B: m.b, Away: away, Words: m.words}})
	}
	return list
}

// turnedPoint swaps the coordinates of a point, so that what is level and what is upright are one.
func turnedPoint(p draw.Point, turned bool) draw.Point {
	if turned {
		return draw.Point{X: p.Y, Y: p.X}
	}
	return p
}

// lowestEnd is the end of a run that lies lowest along it.
func lowestEnd(s strand, turned bool) draw.Point {
	a, b := turnedPoint(s.trail[0], turned), turnedPoint(s.trail[len(s.trail)-1], turned)
	if b.X < a.X {
		return b
	}
	return a
}

// between are the distances from each line of runs to the next, as chains on either side of all of them.
func (f *figure) between(runs []strand, turned bool) (chains [][]layout.Dimension) {
	var rows []float64
	for _, r := range runs {
		if y := lowestEnd(r, turned).Y; !slices.ContainsFunc(rows, func(z float64) bool { return math.Abs(z-y) < 1e-6 }) {
			rows = append(rows, y)
		}
	}
	slices.Sort(rows)
	const most = 9
	if len(rows) < 2 || len(rows) > most {
		return nil
	}
	all := f.extents()
	low, high := turnedPoint(all.Min, turned).X, turnedPoint(all.Max, turned).X
	for _, v := range []float64{9, 13, 17, 21, 25} {
		for _, side := range []float64{low, high} {
			var chain []layout.Dimension
			for i := 1; i < len(rows); i++ {
				a, b := draw.Point{X: side, Y: rows[i-1]}, draw.Point{X: side, Y: rows[i]}
				away := v
				if (side == low) != turned { // left of the page is to the right of the way down it
					away = -v
				}
				chain = append(chain, layout.Dimension{A: turnedPoint(a, turned), B: turnedPoint(b, turned), Away: away, Words: millimetred((rows[i] - rows[i-1]) / f.k())})
			}
			chains = append(chains, chain)
		}
	}
	return chains
}

// along are the distances from each run to the next in one line, once where they are all alike.
func (f *figure) along(runs []strand, turned bool) (list [][][]layout.Dimension) {
	rows := map[int][]draw.Point{}
	var order []int
	for _, r := range runs {
		p := lowestEnd(r, turned)
		key := int(math.Round(p.Y * 1e4))
		if rows[key] == nil {
			order = append(order, key)
		}
		rows[key] = append(rows[key], p)
	}
	slices.Sort(order)
	said := map[string]bool{}
	for _, key := range order {
		row := rows[key]
		slices.SortFunc(row, func(a, b draw.Point) int {
			if a.X < b.X {
				return -1
			}
			return 1
		})
		if len(row) < 2 {
			continue
		}
		step := row[1].X - row[0].X
		even := step > 1e-6
		for i := 2; i < len(row); i++ {
			even = even && math.Abs(row[i].X-row[i-1].X-step) < 1e-6
		}
		from, to, words := row[0], row[1], millimetred(step/f.k())
		if even && len(row) > 2 {
			to, words = row[len(row)-1], fmt.Sprintf("%d × %s", len(row)-1, words)
		}
		if !even || said[words] {
			continue
		}
		said[words] = true
		m := measured{a: turnedPoint(from, turned), b: turnedPoint(to, turned), words: words, away: []float64{-10, 10, -14, 14, -18, 18}}
		list = append(list, m.chains())
	}
	return list
}

// extents is the rectangle about all that is surveyed.
func (f *figure) extents() draw.Box {
	all := drafting.Trail(nil).Box()
	for _, r := range f.runs {
		if r.line != nil {
			all = drafting.Joined(all, r.trail.Box())
		}
	}
	for _, r := range f.routes {
		if len(r.route) > 1 {
			all = drafting.Joined(all, r.trail.Box())
		}
	}
	return all
}

// overall is how wide and how high all runs together are, where no run alone and no distance says it.
func (f *figure) overall() (list [][][]layout.Dimension) {
	all, n := drafting.Trail(nil).Box(), 0
	var widest, highest float64
	levels := map[int]bool{}
	for _, r := range f.runs {
		if r.line == nil {
			continue
		}
		box := r.trail.Box()
		all = drafting.Joined(all, box)
		widest, highest = max(widest, box.Width()), max(highest, box.Height())
		levels[int(math.Round(box.Min.Y*1e4))] = true
		n++
	}
	if n < 2 || f.window != nil { // a detail is not all
		return nil
	}
	corner := draw.Point{X: all.Min.X, Y: all.Max.Y}
	if all.Width() > widest+1e-6 {
		list = append(list, measured{a: corner, b: all.Max, words: millimetred(all.Width() / f.k()), away: []float64{-12, -16, -20, -24}}.chains())
	}
	if all.Height() > highest+1e-6 && len(levels) > 2 {
		list = append(list, measured{a: all.Min, b: corner, words: millimetred(all.Height() / f.k()), away: []float64{-16, -19.5, -23}}.chains())
	}
	return list
}
