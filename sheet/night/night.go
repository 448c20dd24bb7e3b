// Package night draws what a scheme will look like in a lighting state.
//
// The light of all pixels is added up where it falls (image.go) and turned to sRGB at the end (colour.go).
package night

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/network"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/sheet/plan"
	"farend/study"
	"farend/unit"
)

// Page draws the runs as they will look in a lighting state, at the places that the plan gives them: every pixel with the luminous intensity and
// the colour that the solved voltages give it. It is not ok where there is no run, no such state, or none that was solved.
//
// Light is summed where it falls, before the curve of sRGB, and the whole page has one exposure, so that what is dimmer looks dimmer.
func Page(st *study.Study, state string, style drafting.Style) (layout.Leaf, bool) {
	solution, ok := Seen(st, state)
	if !ok {
		return layout.Leaf{}, false
	}
	n := night{st: st, state: state, paper: style.Drawings.Turned()}
	for _, id := range scheme.IDs(st.Scheme.Runs) {
		n.runs = append(n.runs, n.look(id, st.Network.Lights(solution, id)))
	}
	n.lay()
	return n.leaf(), true
}

// Seen is the solution by which the runs look as they do in a state; it is not ok where there are none, or no such solution.
func Seen(st *study.Study, state string) (*network.Solution, bool) {
	if _, known := st.Scheme.States[state]; !known || len(st.Scheme.Runs) == 0 {
		return nil, false
	}
	solution := st.Solution("state/" + state)
	return solution, solution != nil && solution.Found()
}

// A night is such a page being drawn.
type night struct {
	st    *study.Study
	state string
	paper layout.Paper
	runs  []look

	panel  draw.Box
	table  draw.Point // its upper left corner
	laid   plan.Runs
	full   float64
	beyond int // pixels whose colour sRGB cannot show
	lit    int
}

// A look is how a run looks: its pixels, and among those that are fed the dimmest and the brightest.
type look struct {
	id, label     string
	lights        []network.Light
	dim, bright   int // −1 where none is fed
	even          *float64
	shift         *float64
	u, v          float64
	colour, level string
}

func (n *night) look(id string, lights []network.Light) look {
	l := look{id: id, label: n.st.Scheme.Runs[id].Label, lights: lights, dim: -1, bright: -1}
	for _, f := range n.st.Network.Feeds(id) {
		for k := f.From; k < f.To && k < len(lights) && f.Closed(); k++ {
			if l.dim < 0 || lights[k].Candela < lights[l.dim].Candela {
				l.dim = k
			}
			if l.bright < 0 || lights[k].Candela > lights[l.bright].Candela {
				l.bright = k
			}
		}
	}
	solved := n.st.Result("state/" + n.state).Runs[id]
	l.even, l.shift, l.u, l.v = solved.Evenness, solved.ColourShift, solved.U, solved.V
	colour, level, _ := n.st.Scheme.Shows(n.state, id)
	l.colour, l.level = colour.String(), layout.Nominal(level)
	return l
}

// shines reports whether a run gives any light.
func (l look) shines() bool { return l.bright >= 0 && l.even != nil }

// shows is what the state asks of a run.
func (l look) shows() string {
	if l.colour == "dark" {
		return l.colour
	}
	return l.colour + " at " + l.level
}

// The measures of the page, in millimetres.
const (
	nightRow   = 3.7
	nightTable = 205.0 // how wide the table is
)

// rows are how many runs the table has room for.
func (n *night) rows() int {
	return min(len(n.runs), max(6, int(0.3*n.paper.Field().Height()/nightRow)))
}

// lay places the runs on the panel, by the scheme's drawing, and in rows what that has not.
func (n *night) lay() {
	field := n.paper.Field()
	rows := n.rows()
	if rows < len(n.runs) {
		rows++
	}
	const least = 7                      // rows
	n.table = draw.Point{X: field.Min.X} // the width of the notes
	n.table.Y = field.Max.Y - max(nightRow*float64(max(rows, least)), n.notesHigh())
	n.panel = draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: n.table.Y - 6}}
	room := drafting.Bounds(n.panel)
	room = draw.Box{Min: draw.Point{X: room.Min.X, Y: room.Min.Y}, Max: draw.Point{X: room.Max.X, Y: room.Max.Y - 4}}
	n.laid = plan.LayRuns(n.st.Scheme, room, n.panel.Grow(-1))
}

// nightGround is the tone draw.Night in sRGB.
var nightGround = [3]uint8{0x14, 0x18, 0x1D}

// glow is the light of all runs on the panel.
func (n *night) glow() draw.Image {
	g := newGlowing(n.panel)
	for _, line := range n.laid.Lines {
		l := n.of(line.ID)
		if len(l.lights) == 0 {
			continue
		}
		for k, at := range line.Trail.Every(len(l.lights)) {
			rgb, shown := srgb(l.lights[k].Candela, l.lights[k].U, l.lights[k].V)
			if l.lights[k].Candela > 0 {
				n.lit++
			}
			if !shown {
				n.beyond++
			}
			g.add(at, rgb)
		}
	}
	g.spread()
	n.full = g.brightest()
	if n.full == 0 {
		return draw.Image{Box: n.panel, Picture: g.picture(nightGround, 1)}
	}
	picture := g.picture(nightGround, n.full)
	// From candela a dot to candela a square metre of what is drawn.
	metres := n.laid.Scale / 1000 / g.dots
	n.full /= metres * metres
	return draw.Image{Box: n.panel, Picture: picture}
}

// leaf makes the page.
func (n *night) leaf() layout.Leaf {
	light := draw.Layer{Name: "light", Images: []draw.Image{n.glow()}}
	panel := draw.Layer{Name: "panel", Paths: []draw.Path{draw.Area(draw.Night, draw.Pen{}, n.panel.Corners()...)}}
	runs, labels := n.labels()
	scale := draw.Layer{Name: "scale"}
	bar := layout.Bar(&scale, draw.Point{X: n.table.X + nightTable + 6, Y: n.table.Y + 1}, n.laid.Scale, min(drafting.BarLong, n.paper.Field().Max.X-n.table.X-nightTable-36))
	scale.Texts = append(scale.Texts, draw.Text{Words: layout.ScaleWords(n.laid.Scale), Face: draw.SemiBold, Size: 7.5, Tone: draw.Ink, At: draw.Point{X: bar.Max.X + 3, Y: n.table.Y + 1}})
	table, notes := n.tabled(), n.noted()
	return layout.Leaf{
		Name: "night-" + n.state, Outline: "By night: " + n.state, Title: "State " + n.state + ": what it will look like", Under: n.shown(),
		Desc: n.described(), Paper: n.paper, Scale: n.laid.Scale, Zero: n.laid.Zero, Cells: n.cells(), Notes: nightRests,
		Layers: []draw.Layer{panel, light, runs, labels, table, notes, scale},
	}
}

// nightRests is on what the page rests.
const nightRests = "Light in proportion to current at the solved voltage of each pixel, mean over the cycle, seen from straight above with no other light; candela and colours are those of the part. " +
	"Computed, not photographed. Screens and printers differ; paper shows less contrast than the eye will meet."

// lightInk is the tone of words and lines on the dark: its contrast with the ground is 11 to 1 (WCAG 2.1, 1.4.3, asks for 4.5 to 1).
var lightInk = draw.Exact(0xC9, 0xCC, 0xCE)

// labels are the ends of the runs and their names, beside the light.
func (n *night) labels() (runs, labels draw.Layer) {
	runs, labels = draw.Layer{Name: "runs"}, draw.Layer{Name: "labels"}
	desk := layout.Desk{Room: n.panel.Grow(-1)}
	pen := draw.Pen{Tone: lightInk, Width: draw.Hair}
	const aura = 2.6 // how far the bright of a run reaches, in millimetres
	for _, line := range n.laid.Lines {
		way := drafting.Simplified(line.Trail, 0.3)
		for range 3 {
			desk.Under(way...)
		}
		for _, share := range []float64{0, 1} {
			at, ahead := line.Trail.At(share)
			for _, side := range []float64{aura, -aura} {
				runs.Paths = append(runs.Paths, draw.Line(pen, drafting.Aside(at, ahead, side), drafting.Aside(at, ahead, side*1.7)))
			}
		}
		if !n.of(line.ID).shines() {
			runs.Paths = append(runs.Paths, draw.Line(draw.Pen{Tone: lightInk, Width: draw.Hair, Dash: []float64{1, 1.4}}, line.Trail...))
		}
	}
	put := func(text draw.Text, places ...draw.Point) bool {
		call, ok := desk.Call(text, drafting.Farthest, places...)
		if !ok {
			return false
		}
		if call.Line != nil {
			labels.Paths = append(labels.Paths, draw.Line(pen, call.Line...))
		}
		labels.Paths = append(labels.Paths, draw.Area(draw.Night, draw.Pen{}, call.Text.Box().Grow(0.2).Corners()...))
		labels.Texts = append(labels.Texts, call.Text)
		return true
	}
	if n.laid.Arranged != nil {
		text := draw.Text{Words: "arranged, not surveyed", Size: draw.Smallest, Tone: lightInk, At: draw.Point{X: n.laid.Arranged.Min.X, Y: n.laid.Arranged.Min.Y + 3}}
		labels.Texts = append(labels.Texts, text)
		desk.Taken = append(desk.Taken, text.Box())
	}
	for _, line := range n.laid.Lines {
		text := draw.Text{Face: draw.SemiBold, Size: 8, Tone: lightInk}
		text.Words = layout.Fit(text, drafting.Named(line.ID, n.of(line.ID).label), 60)
		var places []draw.Point
		for _, u := range []float64{0.5, 0.3, 0.7} {
			at, ahead := line.Trail.At(u)
			places = append(places, drafting.Aside(at, ahead, 1.6*aura), drafting.Aside(at, ahead, -1.6*aura))
		}
		if !put(text, places...) {
			text.Words = line.ID
			put(text, places...)
		}
	}
	return runs, labels
}

func (n *night) of(id string) *look {
	for i := range n.runs {
		if n.runs[i].id == id {
			return &n.runs[i]
		}
	}
	return nil
}

// shown is what the state asks for, in words.
func (n *night) shown() string {
	var said []string
	alike := map[string][]string{}
	for _, l := range n.runs {
		what := l.shows()
		if alike[what] == nil {
			said = append(said, what)
		}
		alike[what] = append(alike[what], l.id)
	}
	if len(said) == 1 {
		return "Every run " + said[0]
	}
	for i, what := range said {
		said[i] = drafting.Listed(alike[what]) + " " + what
	}
	return strings.Join(said, "; ")
}

// A column of the table is its head, where it stands, and whether it ends there.
type nightColumn struct {
	head string
	at   float64
	end  bool
	says func(l look) string
}

func (n *night) columns() []nightColumn {
	pixel := func(at int, l look) string {
		switch {
		case at < 0:
			return "not fed"
		case !l.shines():
			return "dark"
		}
		return fmt.Sprintf("%s at px%s%d", layout.Quantity(unit.Candela(l.lights[at].Candela)), layout.Thin, at)
	}
	lit := func(says func(l look) string) func(look) string {
		return func(l look) string {
			if !l.shines() {
				return "–"
			}
			return says(l)
		}
	}
	return []nightColumn{
		{"run", 0, false, func(l look) string { return drafting.Named(l.id, l.label) }},
		{"shows", 50, false, look.shows},
		{"dimmest pixel", 108, true, func(l look) string { return pixel(l.dim, l) }},
		{"brightest pixel", 140, true, func(l look) string { return pixel(l.bright, l) }},
		{"evenness", 157, true, lit(func(l look) string { return layout.Quantity(layout.Written(unit.Ratio(*l.even).String())) })},
		{"Δu′v′", 174, true, lit(func(l look) string { return strconv.FormatFloat(*l.shift, 'f', 4, 64) })},
		{"u′, v′ of brightest", 203, true, lit(func(l look) string { return fmt.Sprintf("%.4f, %.4f", l.u, l.v) })},
	}
}

// tabled is the table of the runs.
func (n *night) tabled() draw.Layer {
	layer := draw.Layer{Name: "table"}
	columns := n.columns()
	row := func(y float64, face draw.Face, tone draw.Tone, says func(c nightColumn) string) {
		for i, c := range columns {
			text := draw.Text{Face: face, Size: draw.Smallest, Tone: tone, At: draw.Point{X: n.table.X + c.at, Y: y}}
			width := 1e3
			switch {
			case i+1 < len(columns) && !columns[i+1].end:
				width = columns[i+1].at - c.at - 2
			case !c.end:
				width = 26
			}
			text.Words = layout.Fit(text, says(c), width)
			if c.end {
				text.Anchor = draw.End
			}
			layer.Texts = append(layer.Texts, text)
		}
	}
	y := n.table.Y
	row(y, draw.Sans, draw.Graphite, func(c nightColumn) string { return c.head })
	layer.Paths = append(layer.Paths, draw.Line(draw.Pen{Tone: draw.Rule, Width: draw.Thin}, draw.Point{X: n.table.X, Y: y + 1.1}, draw.Point{X: n.table.X + nightTable, Y: y + 1.1}))
	rows := n.rows()
	for _, l := range n.runs[:rows] {
		y += nightRow
		row(y, draw.Sans, draw.Ink, func(c nightColumn) string { return c.says(l) })
	}
	if rest := len(n.runs) - rows; rest > 0 {
		y += nightRow
		layer.Texts = append(layer.Texts, draw.Text{Words: study.Counted(rest, "more run") + " on the sheets of the runs", Size: draw.Smallest, Tone: draw.Graphite, At: draw.Point{X: n.table.X, Y: y}})
	}
	return layer
}

// nightNotes is from the top of the table to the first line of the notes beside it, and nightFoot how far these may reach below the field.
const nightNotes, nightFoot = 8.8, 2.5

// noted says how the picture was made, and then which runs look unlike; what of these has no room is counted.
func (n *night) noted() draw.Layer {
	layer := draw.Layer{Name: "notes"}
	high := n.paper.Field().Max.Y + nightFoot - n.table.Y - nightNotes
	unlike := n.unlike()
	lines := n.noteLines(n.made(n.full, n.beyond, n.laid.Left), unlike, 0)
	for left := 1; left <= len(unlike) && float64(len(lines)-1)*layout.Pitch(noteText.Size) > high; left++ {
		lines = n.noteLines(n.made(n.full, n.beyond, n.laid.Left), unlike[:len(unlike)-left], left)
	}
	y := n.table.Y + nightNotes
	for _, line := range lines {
		layer.Texts = append(layer.Texts, layout.Put(noteText, line, n.table.X+nightTable+6, y))
		y += layout.Pitch(noteText.Size)
	}
	return layer
}

var noteText = draw.Text{Size: draw.Smallest, Tone: draw.Graphite}

// noteLines are the lines of the notes: how the picture was made, which runs look unlike, and how many more are not told.
func (n *night) noteLines(made string, unlike []string, left int) []string {
	more := ""
	if left > 0 {
		more = fmt.Sprintf("%d more such, told by u′, v′.", left)
	}
	return layout.Wrap(noteText, layout.Join(" ", made, strings.Join(unlike, " "), more), n.paper.Field().Max.X-n.table.X-nightTable-6)
}

// notesHigh is the height that the notes take from the top of the table, not more than a third of the field for those on runs that look
// unlike. What the picture will tell is not known yet, and is taken to be long numbers.
func (n *night) notesHigh() float64 {
	left := 0
	if slices.ContainsFunc(n.runs, func(l look) bool { return len(n.st.Scheme.Drawing[l.id].Points) == 0 }) {
		left = len(n.runs)
	}
	made := n.made(888888, 88888, left)
	lines := len(n.noteLines(made, nil, 88))
	if all := len(n.noteLines(made, n.unlike(), 0)); float64(all)*layout.Pitch(noteText.Size) < n.paper.Field().Height()/3 {
		lines = max(lines, all)
	}
	return nightNotes + float64(lines-1)*layout.Pitch(noteText.Size) - nightFoot
}

// made says how the picture was made, with what luminance is full white, how many pixels are of colours beyond sRGB and how many runs are left out.
func (n *night) made(full float64, beyond, left int) string {
	say := ""
	if full > 0 {
		say = fmt.Sprintf("One exposure for the page: full white is %s%scd/m² of what is drawn, light spread as below. ", significant(full), layout.Thin)
	}
	say += "Each pixel is spread on paper as Gaussians: "
	for i, s := range spreads {
		if i > 0 {
			say += ", "
		}
		say += fmt.Sprintf("%.0f%s%% at %s%smm", 100*s.share, layout.Thin, strconv.FormatFloat(s.sigma, 'g', 2, 64), layout.Thin)
	}
	say += "."
	if slices.ContainsFunc(n.runs, func(l look) bool { return !l.shines() }) {
		say += " Dashes are runs without light."
	}
	if beyond > 0 {
		say += fmt.Sprintf(" %d of %d lit pixels are of colours beyond sRGB, shown paler and as bright.", beyond, max(n.lit, beyond))
	}
	if left > 0 {
		say += " " + study.Counted(left, "run") + " without a place left out."
	}
	return say
}

// unlike says which runs, asked for the same colour, show another than the first of them because their tape is another, by more than
// colours may differ within a run of the scheme.
func (n *night) unlike() (said []string) {
	told := map[string]bool{}
	for i := range n.runs {
		first := &n.runs[i]
		if !first.shines() || told[first.colour] {
			continue
		}
		told[first.colour] = true
		alike, others := []string{first.id}, map[string][]string{}
		var order []string
		most := map[string]float64{}
		for _, l := range n.runs[i+1:] {
			if !l.shines() || l.colour != first.colour {
				continue
			}
			du, dv := l.u-first.u, l.v-first.v
			off := math.Hypot(du, dv)
			if n.tape(l.id) == n.tape(first.id) || off <= n.st.Scheme.ColourShiftAim() {
				alike = append(alike, l.id)
				continue
			}
			word := tinted(du, dv)
			if others[word] == nil {
				order = append(order, word)
			}
			others[word] = append(others[word], l.id)
			most[word] = max(most[word], off)
		}
		for _, word := range order {
			look := " look "
			if len(others[word]) == 1 {
				look = " looks "
			}
			said = append(said, fmt.Sprintf("%s%s%s than %s by Δu′v′ %s: other tape.", spanned(others[word]), look, word, spanned(alike), strconv.FormatFloat(most[word], 'f', 3, 64)))
		}
	}
	return said
}

func (n *night) tape(run string) string { return n.st.Scheme.Runs[run].Tape }

// tinted is in which way a colour differs from another in CIE 1976 u′, v′: along the white of glowing bodies, from 6500 K (0.1978, 0.4683) to
// 2700 K (0.2625, 0.5275), or more across that (both places from memory).
func tinted(du, dv float64) string {
	along := du*0.738 + dv*0.675
	across := dv*0.738 - du*0.675
	switch {
	case math.Abs(along) >= math.Abs(across) && along > 0:
		return "warmer"
	case math.Abs(along) >= math.Abs(across):
		return "colder"
	case across > 0:
		return "greener"
	}
	return "more purple"
}

// spanned is identifiers in a sentence, those that follow one another by number as a span.
func spanned(ids []string) string {
	number := func(id string) (string, int) {
		head := strings.TrimRight(id, "0123456789")
		n, _ := strconv.Atoi(id[len(head):])
		return head, n
	}
	var parts []string
	for i := 0; i < len(ids); {
		j := i
		for ; j+1 < len(ids); j++ {
			head, n := number(ids[j])
			if next, m := number(ids[j+1]); next != head || m != n+1 || head == ids[j] {
				break
			}
		}
		switch {
		case j > i+1:
			parts = append(parts, ids[i]+" to "+ids[j])
		case j > i:
			parts = append(parts, ids[i], ids[j])
		default:
			parts = append(parts, ids[i])
		}
		i = j + 1
	}
	return study.Several(parts)
}

// significant is a number to two figures, in threes: light that is spread on paper is not known better.
func significant(v float64) string {
	if v <= 0 {
		return "0"
	}
	two, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 1, 64), 64) // 9.96 is 10, and not 10.0
	digits := 1 - int(math.Floor(math.Log10(two)))
	if digits > 0 {
		return strconv.FormatFloat(v, 'f', digits, 64)
	}
	step := math.Pow10(-digits)
	return layout.Quantity(layout.Written(strconv.FormatFloat(math.Round(v/step)*step, 'f', 0, 64)))
}

func (n *night) cells() []layout.Cell {
	lit := 0
	for _, l := range n.runs {
		if l.shines() {
			lit++
		}
	}
	place := "as drawn in the scheme"
	if n.laid.Arranged != nil {
		place = "arranged, not surveyed, where not drawn"
	}
	return []layout.Cell{
		{Caption: "State", Says: n.state, Name: true, Share: 44},
		{Caption: "Runs", Says: fmt.Sprintf("%d, of which %d lit", len(n.runs), lit), Share: 50},
		{Caption: "Scale", Says: layout.ScaleWords(n.laid.Scale) + " on " + n.paper.Name, Share: 36},
		{Caption: "Places", Says: place, Share: 60},
	}
}

func (n *night) described() string {
	say := []string{fmt.Sprintf("The runs in the state %s, on a dark ground, each pixel with its computed light and colour.", n.state)}
	for _, l := range n.runs {
		if !l.shines() {
			say = append(say, drafting.Named(l.id, l.label)+" gives no light.")
			continue
		}
		say = append(say, fmt.Sprintf("%s, %s: dimmest %v at pixel %d, brightest %v at pixel %d.", drafting.Named(l.id, l.label), strings.ReplaceAll(l.shows(), layout.Thin, " "),
			unit.Candela(l.lights[l.dim].Candela), l.dim, unit.Candela(l.lights[l.bright].Candela), l.bright))
	}
	return strings.Join(say, " ")
}
