package profile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// A profileAxis counts upwards, by 1, 2 or 5 of a power of ten.
type profileAxis struct {
	low, high, step float64
	unit            string
}

// newProfileAxis begins and ends at numbers of its step, with four or so of them.
func newProfileAxis(low, high float64, name string) profileAxis {
	const least = 1e-3 // of what is drawn, in its own unit: differences below are rounding
	span := max(high-low, least, 1e-3*math.Abs(high))
	step := rounder(span / 4)
	a := profileAxis{math.Floor(low/step+1e-9) * step, math.Ceil(high/step-1e-9) * step, step, name}
	if a.high-a.low < step/2 {
		a.high = a.low + step
	}
	return a
}

// rounder is the least of 1, 2 and 5 of a power of ten that is no less than a number.
func rounder(v float64) float64 {
	power := math.Pow10(int(math.Floor(math.Log10(v))))
	for _, n := range []float64{1, 2, 5} {
		if n*power >= v*(1-1e-9) {
			return n * power
		}
	}
	return 10 * power
}

// number is one of the axis as it stands beside it.
func (a profileAxis) number(v float64) string {
	if a.unit == "%" {
		v *= 100
	}
	step := a.step
	if a.unit == "%" {
		step *= 100
	}
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	words := strconv.FormatFloat(v, 'f', decimals, 64)
	if v == 0 || strings.Trim(words, "-0.") == "" {
		words = "0"
	}
	return strings.TrimSuffix(strings.Replace(words, "-", "−", 1)+layout.Thin+a.unit, layout.Thin)
}

// A profilePlot is a panel with its place on the page.
type profilePlot struct {
	profilePanel
	box   draw.Box
	count int
}

// at is a place on the page; a little of a step is left over and under the numbers, so that nothing lies on the frame.
func (t profilePlot) at(p draw.Point) draw.Point {
	const over = 0.25
	low, high := t.axis.low-over*t.axis.step, t.axis.high+over*t.axis.step
	return draw.Point{
		X: t.box.Min.X + t.box.Width()*p.X/float64(t.count),
		Y: t.box.Max.Y - t.box.Height()*(p.Y-low)/(high-low),
	}
}

// profilePens are those of the cases of a page: they differ in their dashes.
var profilePens = []draw.Pen{
	{Tone: draw.Ink, Width: draw.Thick},
	{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{3.5, 1.2}},
	{Tone: draw.Ink, Width: draw.Thick, Dash: []float64{0.9, 0.9}},
}

var (
	profileLimitPen = draw.Pen{Tone: draw.Copper, Width: draw.Thin, Dash: []float64{7, 1.2}}
	profileFeedPen  = draw.Pen{Tone: draw.Graphite, Width: draw.Thin}
	profileCutPen   = draw.Pen{Tone: draw.Graphite, Width: draw.Hair, Dash: []float64{1.2, 1.2}}
)

// hairOf is the pen of the peak of a case.
func hairOf(pen draw.Pen) draw.Pen {
	pen.Width = draw.Hair
	return pen
}

// drawn is the layers of a page.
func (p *profile) drawn(courses []profileCourse) []draw.Layer {
	field := p.paper.Field()
	const (
		left, right = 17, 2
		names       = 13 // over the panels, for feeds and cuts
		between     = 4.5
		below       = 15 // for the numbers of pixels and metres
		row         = 4.2
	)
	tableHeight := row*float64(len(courses)+1) + 12
	box := draw.Box{Min: draw.Point{X: field.Min.X + left, Y: field.Min.Y + names}, Max: draw.Point{X: field.Max.X - right, Y: field.Max.Y - tableHeight - below}}
	height := box.Height() - between*float64(len(p.panels)-1)
	shares := 0.0
	for _, panel := range p.panels {
		shares += panel.share
	}
	grid, lines, axes, labels := draw.Layer{Name: "grid"}, draw.Layer{Name: "lines"}, draw.Layer{Name: "axes"}, draw.Layer{Name: "labels"}
	y := box.Min.Y
	for i, panel := range p.panels {
		plot := profilePlot{panel, draw.Box{Min: draw.Point{X: box.Min.X, Y: y}, Max: draw.Point{X: box.Max.X, Y: y + height*panel.share/shares}}, p.run.Count}
		y = plot.box.Max.Y + between
		plot.grid(&grid, &axes, p.pixelStep(box.Width()))
		p.stationLines(plot, &grid, i == 0)
		p.panel(plot, courses, i == 0, &lines, &labels)
	}
	p.stationNames(box, &labels)
	p.along(draw.Box{Min: box.Min, Max: draw.Point{X: box.Max.X, Y: y - between}}, &axes)
	key := draw.Layer{Name: "key"}
	p.key(&key, draw.Point{X: field.Min.X, Y: box.Max.Y + below + 3}, row, courses)
	return []draw.Layer{grid, lines, axes, labels, key}
}

// grid is the numbers of a panel, its lines and its frame.
func (t profilePlot) grid(grid, axes *draw.Layer, pixels float64) {
	pen := draw.Pen{Tone: draw.Rule, Width: draw.Hair}
	number := draw.Text{Size: 7.5, Tone: draw.Ink, Anchor: draw.End}
	every := 1
	for steps := int(math.Round((t.axis.high - t.axis.low) / t.axis.step)); float64(every)*t.box.Height()/float64(steps) < 3.4; {
		every++
	}
	for k := 0; ; k++ {
		v := t.axis.low + float64(k)*t.axis.step
		if v > t.axis.high+t.axis.step/2 {
			break
		}
		at := t.at(draw.Point{Y: v})
		grid.Paths = append(grid.Paths, draw.Line(pen, draw.Point{X: t.box.Min.X, Y: at.Y}, draw.Point{X: t.box.Max.X, Y: at.Y}))
		if k%every == 0 {
			number.Words, number.At = t.axis.number(v), draw.Point{X: t.box.Min.X - 1.4, Y: at.Y + 0.9}
			axes.Texts = append(axes.Texts, number)
		}
	}
	if zero := t.at(draw.Point{}); t.axis.low < 0 && t.axis.high > 0 {
		grid.Paths = append(grid.Paths, draw.Line(drafting.FaintPen, draw.Point{X: t.box.Min.X, Y: zero.Y}, draw.Point{X: t.box.Max.X, Y: zero.Y}))
	}
	for at := pixels; at < float64(t.count); at += pixels {
		x := t.at(draw.Point{X: at}).X
		grid.Paths = append(grid.Paths, draw.Line(pen, draw.Point{X: x, Y: t.box.Min.Y}, draw.Point{X: x, Y: t.box.Max.Y}))
	}
	axes.Paths = append(axes.Paths, draw.Area(draw.None, draw.Pen{Tone: draw.Ink, Width: draw.Thin}, t.box.Corners()...))
	name := draw.Text{Words: t.name, Size: 7.5, Tone: draw.Graphite, Anchor: draw.Middle, Turn: 90}
	name.Words = layout.Fit(name, t.name, t.box.Height()+2)
	name.At = draw.Point{X: t.box.Min.X - 13.6, Y: (t.box.Min.Y + t.box.Max.Y) / 2}
	axes.Texts = append(axes.Texts, name)
}

// pixelStep is from one number of a pixel to the next.
func (p *profile) pixelStep(width float64) float64 {
	const apart = 16 // millimetres
	return max(1, rounder(float64(p.run.Count)*apart/width))
}

// along is the numbers at the foot of the panels: pixels, and metres under them.
func (p *profile) along(box draw.Box, axes *draw.Layer) {
	n := float64(p.run.Count)
	text := draw.Text{Size: 7.5, Tone: draw.Ink, Anchor: draw.Middle}
	tick := draw.Pen{Tone: draw.Ink, Width: draw.Hair}
	step := p.pixelStep(box.Width())
	for at := 0.0; at < n; at += step { // the number of a pixel stands under its mark
		x := box.Min.X + box.Width()*at/n
		text.Words, text.At = strconv.Itoa(int(at)), draw.Point{X: x, Y: box.Max.Y + 3.8}
		axes.Texts = append(axes.Texts, text)
		axes.Paths = append(axes.Paths, draw.Line(tick, draw.Point{X: x, Y: box.Max.Y}, draw.Point{X: x, Y: box.Max.Y + 1}))
	}
	metres := n / float64(p.tape.Pixels.Is)
	const apart = 16
	step = rounder(metres * apart / box.Width())
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	y := box.Max.Y + 6
	axes.Paths = append(axes.Paths, draw.Line(tick, draw.Point{X: box.Min.X, Y: y}, draw.Point{X: box.Max.X, Y: y}))
	for k := 0; float64(k)*step <= metres*(1+1e-9); k++ {
		x := box.Min.X + box.Width()*float64(k)*step/metres
		text.Words, text.At = strconv.FormatFloat(float64(k)*step, 'f', decimals, 64), draw.Point{X: x, Y: y + 3.8}
		axes.Texts = append(axes.Texts, text)
		axes.Paths = append(axes.Paths, draw.Line(tick, draw.Point{X: x, Y: y}, draw.Point{X: x, Y: y + 1}))
	}
	for i, name := range []string{"pixel", "m"} {
		axes.Texts = append(axes.Texts, draw.Text{Words: name, Size: 7.5, Tone: draw.Graphite, Anchor: draw.End, At: draw.Point{X: box.Min.X - 6, Y: box.Max.Y + 3.8 + 6*float64(i)}})
	}
}

// A profileStation is a mark at which copper lands or is cut.
type profileStation struct {
	mark  int
	cut   scheme.Pole
	feeds []string
}

func (p *profile) stations() (list []profileStation) {
	at := map[int]*profileStation{}
	mark := func(m int) *profileStation {
		if at[m] == nil {
			at[m] = &profileStation{mark: m}
		}
		return at[m]
	}
	for _, c := range p.run.Cuts {
		mark(c.At.Mark).cut = c.Pole
	}
	for _, id := range scheme.IDs(p.st.Scheme.Cables) {
		c := p.st.Scheme.Cables[id]
		for _, ref := range []scheme.Ref{c.From, c.To} {
			if ref.Kind == scheme.StationRef && ref.Element == p.id {
				s := mark(ref.Station.Mark)
				s.feeds = append(s.feeds, id)
			}
		}
	}
	for _, s := range at {
		list = append(list, *s)
	}
	slices.SortFunc(list, func(a, b profileStation) int { return a.mark - b.mark })
	return list
}

// stationLines are the feeds and cuts through a panel.
func (p *profile) stationLines(t profilePlot, grid *draw.Layer, first bool) {
	for _, s := range p.stations() {
		pen := profileCutPen
		if s.feeds != nil {
			pen = profileFeedPen
		}
		x := t.at(draw.Point{X: float64(s.mark)}).X
		top := t.box.Min.Y
		if first {
			top -= 1.5
		}
		grid.Paths = append(grid.Paths, draw.Line(pen, draw.Point{X: x, Y: top}, draw.Point{X: x, Y: t.box.Max.Y}))
	}
}

// stationNames name feeds and cuts over the panels; where they are too many, feeds alone, and where those are, none but the first that fit.
func (p *profile) stationNames(box draw.Box, labels *draw.Layer) {
	all := p.stations()
	if p.named(box, all, labels) {
		return
	}
	feeds := slices.DeleteFunc(slices.Clone(all), func(s profileStation) bool { return s.feeds == nil })
	for !p.named(box, feeds, labels) {
		feeds = feeds[:len(feeds)-1]
	}
}

// named names some stations; it draws nothing where there is no room.
func (p *profile) named(box draw.Box, stations []profileStation, labels *draw.Layer) bool {
	text := draw.Text{Size: draw.Smallest, Tone: draw.Ink}
	var targets, widths []float64
	var words []string
	for _, s := range stations {
		name := p.stationWords(s, text)
		words = append(words, name)
		widths = append(widths, layout.Wide(text, name)+2)
		targets = append(targets, box.Min.X+box.Width()*float64(s.mark)/float64(p.run.Count))
	}
	field := p.paper.Field()
	const levels, high = 3, 3.1
	for n := 1; n <= levels; n++ {
		xs, ok := layout.Spread(targets, widths, n, 1.2, field.Min.X, field.Max.X)
		if !ok {
			continue
		}
		for i, x := range xs {
			base := box.Min.Y - 4.4 - high*float64(layout.Level(i, n))
			text.Words, text.At = words[i], draw.Point{X: x + 0.7, Y: base}
			labels.Texts = append(labels.Texts, text)
			labels.Paths = append(labels.Paths, draw.Line(drafting.FaintPen, draw.Point{X: x, Y: base - 2}, draw.Point{X: x, Y: box.Min.Y - 3.4}, draw.Point{X: targets[i], Y: box.Min.Y - 1.5}))
		}
		return true
	}
	return false
}

func (p *profile) stationWords(s profileStation, like draw.Text) string {
	var words []string
	if s.feeds != nil {
		words = append(words, drafting.Some(s.feeds))
	}
	if s.cut != "" {
		words = append(words, "cut "+drafting.PoleWords(s.cut))
	}
	return layout.Fit(like, strings.Join(words, ", "), 40)
}

// panel draws the limits and the cases in a panel.
func (p *profile) panel(t profilePlot, courses []profileCourse, first bool, lines, labels *draw.Layer) {
	desk := layout.Desk{Room: t.box.Grow(-0.5)}
	const near = 0.01 // mm
	add := func(pen draw.Pen, points []draw.Point) {
		on := make([]draw.Point, len(points))
		for i, at := range points {
			on[i] = t.at(at)
		}
		on = drafting.Simplified(on, near)
		if len(on) == 1 { // a pixel alone is as wide as it is
			half := t.box.Width() / float64(t.count) / 2
			on = []draw.Point{{X: on[0].X - half, Y: on[0].Y}, {X: on[0].X + half, Y: on[0].Y}}
		}
		if len(on) > 1 {
			lines.Paths = append(lines.Paths, draw.Line(pen, on...))
			desk.Under(on...)
		}
	}
	for _, l := range t.limits {
		add(profileLimitPen, []draw.Point{{X: 0, Y: l.at}, {X: float64(t.count), Y: l.at}})
	}
	for i, c := range courses {
		for _, line := range t.of(c.mean) {
			add(profilePens[i], line)
		}
		if c.peaked {
			for _, line := range t.of(c.peak) {
				add(hairOf(profilePens[i]), line)
			}
		}
	}
	for _, s := range p.stations() {
		x := t.at(draw.Point{X: float64(s.mark)}).X
		desk.Under(draw.Point{X: x, Y: t.box.Min.Y}, draw.Point{X: x, Y: t.box.Max.Y})
	}
	say := func(words string, tone draw.Tone, places []draw.Point) {
		label, ok := desk.Put(draw.Text{Words: words, Size: draw.Smallest, Tone: tone}, places...)
		if ok {
			labels.Paths = append(labels.Paths, draw.Area(draw.Paper, draw.Pen{}, label.Box().Grow(0.2).Corners()...))
			labels.Texts = append(labels.Texts, label)
		}
	}
	if first {
		p.ends(t, courses, &desk, lines, say)
	}
	for _, l := range t.limits {
		if l.words != "" {
			say(l.words, draw.Copper, t.beside(l.at, l.words))
		}
	}
	if t.note != "" {
		say(t.note+", beyond the axis", draw.Copper, t.beside(t.axis.high, t.note+", beyond the axis"))
	}
}

// beside are places along a level line, over it and under it, from the right.
func (t profilePlot) beside(v float64, words string) (places []draw.Point) {
	y := t.at(draw.Point{Y: v}).Y
	width := layout.Wide(draw.Text{Size: draw.Smallest}, words)
	for x := t.box.Max.X - 1.5 - width; x > t.box.Min.X+1; x -= 8 {
		places = append(places, draw.Point{X: x, Y: y - 0.9}, draw.Point{X: x, Y: y + 3.1})
	}
	return places
}

// ends mark the lowest and the highest voltage of each case, and name them where there is room right beside; the table under the panels
// has them all.
func (p *profile) ends(t profilePlot, courses []profileCourse, desk *layout.Desk, lines *draw.Layer, say func(string, draw.Tone, []draw.Point)) {
	var dots []draw.Point
	var names [][2]string
	for _, c := range courses {
		if !c.found || c.lowAt < 0 {
			continue
		}
		for i, k := range []int{c.lowAt, c.highAt} {
			if i == 1 && c.highAt == c.lowAt {
				continue
			}
			at := t.at(draw.Point{X: float64(k) + 0.5, Y: c.mean.volts[k]})
			lines.Paths = append(lines.Paths, draw.Disc(draw.Ink, at, 0.7))
			desk.Taken = append(desk.Taken, draw.Box{Min: at, Max: at}.Grow(0.7))
			dots, names = append(dots, at), append(names, [2]string{pixelVolts(c.mean.volts, k), voltsAt(c.mean.volts[k])})
		}
	}
	for i := range dots {
		for _, words := range names[i] {
			label := draw.Text{Words: words, Size: draw.Smallest}
			if places := besideDot(label, i, dots); desk.Least(label, places) == 0 {
				say(words, draw.Ink, places)
				break
			}
		}
	}
}

// besideDot are places for a label around one of some dots, under it and over it, which are nearer to it than to any other.
func besideDot(label draw.Text, own int, dots []draw.Point) (places []draw.Point) {
	width, at := label.Width(), dots[own]
	for _, far := range []float64{1.7, 2.4, 3.2, 4} {
		for _, x := range []float64{at.X - width/2, at.X + 1.6, at.X - width - 1.6} {
			for _, y := range []float64{at.Y + far + 2.2, at.Y - far} {
				label.At = draw.Point{X: x, Y: y}
				if nearestDot(label.Box(), dots) == own {
					places = append(places, label.At)
				}
			}
		}
	}
	return places
}

// nearestDot is the dot that is nearest to a box.
func nearestDot(box draw.Box, dots []draw.Point) (nearest int) {
	least := math.Inf(1)
	for i, d := range dots {
		x, y := min(max(d.X, box.Min.X), box.Max.X), min(max(d.Y, box.Min.Y), box.Max.Y)
		if far := math.Hypot(d.X-x, d.Y-y); far < least {
			nearest, least = i, far
		}
	}
	return nearest
}

// voltsAt is the voltage of a pixel, to a hundredth of a volt: what pixels of a run have differs by little.
func voltsAt(volts float64) string {
	return layout.Quantity(layout.Written(strconv.FormatFloat(volts, 'f', 2, 64) + " V"))
}

// pixelVolts is the voltage of a pixel with its number.
func pixelVolts(volts []float64, k int) string {
	if k < 0 {
		return "not fed"
	}
	return fmt.Sprintf("%s, px%s%d", voltsAt(volts[k]), layout.Thin, k)
}

// shifted is a difference in colour; what nobody sees is rounding (common practice, no source).
func shifted(by float64) string {
	const faint = 1e-4
	if by < faint {
		return "under " + unit.Number(faint, 1)
	}
	return unit.Number(by, 2)
}

// key is the cases of the page with their lines and what is most of each.
func (p *profile) key(layer *draw.Layer, at draw.Point, row float64, courses []profileCourse) {
	columns := []float64{0, 14, 52, 76, 100, 124, 146, 163}
	text := draw.Text{Size: 7.5, Tone: draw.Ink, Face: draw.SemiBold}
	put := func(y float64, cells ...string) {
		for i, words := range cells {
			width := p.paper.Field().Max.X - at.X - columns[i]
			if i+1 < len(columns) {
				width = columns[i+1] - columns[i] - 1.5
			}
			text.At, text.Words = draw.Point{X: at.X + columns[i], Y: y}, layout.Fit(text, words, width)
			if words != "" {
				layer.Texts = append(layer.Texts, text)
			}
		}
	}
	put(at.Y, "line", "case", "lowest", "lowest moment", "highest", "most in a rail", "dimmest", "most Δu′v′")
	text.Face = draw.Sans
	for i, c := range courses {
		y := at.Y + row*float64(i+1)
		layer.Paths = append(layer.Paths, layout.Stroke(profilePens[i])(draw.Point{X: at.X, Y: y - 1})...)
		cells := []string{"", study.CaseWords(c.in), "no operating point"}
		if c.found {
			r := p.st.Result(c.in.Name).Runs[p.id]
			moment := "–"
			if c.peaked {
				moment = pixelVolts(c.peak.volts, c.dipAt)
			}
			cells = []string{"", study.CaseWords(c.in), pixelVolts(c.mean.volts, c.lowAt), moment, pixelVolts(c.mean.volts, c.highAt), layout.Quantity(c.railPeak), "dark", ""}
			if r.Evenness != nil {
				cells[6], cells[7] = layout.Quantity(unit.Ratio(*r.Evenness)), shifted(*r.ColourShift)
			}
		}
		put(y, cells...)
	}
	notes := "Upright: whole where a cable lands, dashed where a rail is cut. "
	if slices.ContainsFunc(courses, func(c profileCourse) bool { return c.peaked }) {
		notes += "Hair line, same dashes: all pulse-width cycles starting together, volts at their lowest moment, amperes at their largest. "
	}
	notes += "Pixel k is drawn half a pixel behind mark k. Dashed copper: aims and limits."
	text.Size = draw.Smallest
	for i, line := range layout.Wrap(text, notes, p.paper.Field().Width()) {
		text.Words, text.At = line, draw.Point{X: at.X, Y: at.Y + row*float64(len(courses)+1) + float64(i)*layout.Pitch(draw.Smallest)}
		layer.Texts = append(layer.Texts, text)
	}
}
