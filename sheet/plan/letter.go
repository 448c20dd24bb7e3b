package plan

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
	"farend/unit"
)

// A subject is what words on a plan are of, alike on all pages.
type subject struct {
	kind subjectKind
	id   string // of what it is, or is part of
	nth  int    // of several of a kind: the cut mark of a run, the stub of a link
}

// A subjectKind is a kind of what words are of.
type subjectKind int

const (
	runName subjectKind = iota
	spotName
	spotLabel // what people call a thing whose identifier stands in its symbol
	markName
	linkName
	frameName
	originName
)

// enlargeable reports whether words need not stand on the first sheet where a closer look has them.
func (s subject) enlargeable() bool {
	return s.kind == markName || s.kind == linkName || s.kind == spotLabel
}

// A letter is words to be put on a plan: beside one of some places, or on one of some.
type letter struct {
	of     subject
	text   draw.Text
	beside []draw.Point
	on     []draw.Point
	world  [][2]float64 // what a detail must show of it, in metres; none where it is not drawn
	told   string       // where there is no room for it: the words with what the plan would show by where they stand
	always bool         // it stands on every sheet that shows what it is of
	beyond bool         // it stands on the first sheet, too, where what no frame shows of what it is of has room
	small  bool         // what it is of is too small to be seen at this scale
}

// A lettering is the letters of a figure being put.
type lettering struct {
	f      *figure
	desk   layout.Desk
	far    float64 // how far a label may stand off
	done   map[subject]bool
	failed []letter
}

// How far from what it names a label may stand where a detail could show it better, and where there is no other room, in millimetres; as a rule it is
// farthest.
const (
	handy  = 10.0
	utmost = 40.0
)

// put puts letters in their order. It leaves out what is lettered elsewhere, and notes what has no room.
func (l *lettering) put(c *canvas, letters []letter, elsewhere map[subject]bool) {
	for _, one := range letters {
		if elsewhere[one.of] && !one.always && !one.beyond || len(one.beside)+len(one.on) == 0 {
			continue
		}
		if one.small || !l.one(c, one, l.far) {
			if !elsewhere[one.of] || one.always {
				l.failed = append(l.failed, one)
			}
			continue
		}
		l.done[one.of] = true
	}
}

// again tries once more to put what had no room, farther from what it names.
func (l *lettering) again(c *canvas) {
	failed := l.failed
	l.failed = nil
	for _, one := range failed {
		if l.one(c, one, utmost) {
			l.done[one.of] = true
		} else {
			l.failed = append(l.failed, one)
		}
	}
}

func (l *lettering) one(c *canvas, one letter, far float64) bool {
	const fewest = 4 // its own line, and others, but no run
	if one.on != nil && l.desk.Least(one.text, one.on) < fewest {
		if text, ok := l.desk.Put(one.text, one.on...); ok {
			c.labels.Paths = append(c.labels.Paths, draw.Area(draw.Paper, draw.Pen{}, text.Box().Grow(0.15).Corners()...))
			c.labels.Texts = append(c.labels.Texts, text)
			return true
		}
	}
	if one.beside == nil {
		return false
	}
	call, ok := l.desk.Call(one.text, far, one.beside...)
	if !ok {
		return false
	}
	if call.Line != nil {
		c.labels.Paths = append(c.labels.Paths, draw.Line(drafting.FaintPen, call.Line...), draw.Disc(draw.Graphite, call.Line[0], 0.28))
		l.desk.Under(call.Line...)
	}
	c.labels.Paths = append(c.labels.Paths, draw.Area(draw.Paper, draw.Pen{}, call.Text.Box().Grow(0.1).Corners()...))
	c.labels.Texts = append(c.labels.Texts, call.Text)
	return true
}

// seen are those of some places that the figure shows.
func (f *figure) seen(places ...draw.Point) (list []draw.Point) {
	for _, p := range places {
		if f.shows(p) {
			list = append(list, p)
		}
	}
	return list
}

// tiny is up to how many millimetres of paper a run is too small to be lettered.
const tiny = 5.0

// names are the letters of what is on a figure, in the order in which they are put: runs, things, then links.
func (f *figure) names() (letters []letter) {
	for _, r := range f.runs {
		text := runText
		text.Words = layout.Fit(text, drafting.Named(r.id, r.label), 70)
		var places []draw.Point
		for _, u := range []float64{0.5, 0.35, 0.65, 0.2, 0.8} {
			at, ahead := r.trail.At(u)
			places = append(places, drafting.Aside(at, ahead, 1), drafting.Aside(at, ahead, -1))
		}
		letters = append(letters, letter{of: subject{kind: runName, id: r.id}, text: text, beside: f.seen(places...), world: r.line, told: fmt.Sprintf("%s, %s long", drafting.Named(r.id, r.label), layout.Nominal(unit.Metre(r.metres)))})
	}
	for _, b := range f.boxes {
		text := spotText
		words := drafting.Named(b.id, b.label)
		if b.frame == nil {
			words += ": " + strings.Join(b.holds, ", ")
		}
		text.Words = layout.Fit(text, words, 60)
		letters = append(letters, letter{of: subject{kind: spotName, id: b.id}, text: text, beside: f.seen(b.places...), told: drafting.Named(b.id, b.label) + ": holds " + strings.Join(b.holds, ", ")})
	}
	for _, s := range f.spots {
		text := spotText
		words, kind := drafting.Named(s.id, s.label), spotName
		places := []draw.Point{s.at}
		if s.named() {
			if words, kind = s.label, spotLabel; words == "" {
				continue
			}
			box := s.box()
			places = []draw.Point{{X: s.at.X, Y: box.Max.Y}, {X: s.at.X, Y: box.Min.Y}, {X: box.Max.X, Y: s.at.Y}, {X: box.Min.X, Y: s.at.Y}}
			text.Face = draw.Sans
		}
		text.Words = layout.Fit(text, words, 60)
		letters = append(letters, letter{of: subject{kind: kind, id: s.id}, text: text, beside: f.seen(places...), told: drafting.Named(s.id, s.label) + ": " + s.kind.String()})
	}
	return letters
}

// linkNames are those of cables and leads.
func (f *figure) linkNames() (letters []letter) {
	for _, r := range f.routes {
		text := cableText
		if r.data {
			text = dataText
		}
		if r.trail != nil {
			text.Words = layout.Fit(text, drafting.Named(r.id, r.label), 40) + f.away(r) + r.powered()
			one := letter{of: subject{kind: linkName, id: r.id}, text: text, always: r.power, told: fmt.Sprintf("%s: from %s to %s", drafting.Named(r.id, r.label), r.from, r.to)}
			one.world = f.around(r)
			one.on, one.beside, one.beyond = f.labelled(r.trail, text.Width())
			letters = append(letters, one)
		}
		for _, s := range r.stubs {
			text.Words = s.words + r.powered()
			letters = append(letters, letter{of: subject{linkName, r.id, s.nth}, text: text, beside: f.seen(s.at), told: fmt.Sprintf("%s: from %s to %s", drafting.Named(r.id, r.label), r.from, r.to)})
		}
	}
	return letters
}

// away is where the ends of a link are that a detail does not show.
func (f *figure) away(r route) (words string) {
	if !f.shows(r.trail[0]) {
		words = " from " + r.from.String()
	}
	if !f.shows(r.trail[len(r.trail)-1]) {
		words += " to " + r.to.String()
	}
	return words
}

// powered is what stands behind the name of a data lead that carries the supply.
func (l plannedLink) powered() string {
	if l.power {
		return ": supply past the fuses"
	}
	return ""
}

// around is what a detail must show of a link: the middle of its route where that is drawn, else where it lands on runs that are.
func (f *figure) around(r route) (world [][2]float64) {
	if len(r.route) > 1 {
		at, _ := r.trail.At(0.5)
		return [][2]float64{f.world(at)}
	}
	for i, end := range []scheme.Ref{r.from, r.to} {
		if run := f.run(end.Element); run != nil && run.line != nil {
			world = append(world, f.stretch(*run, landing(end, run.count, i == 1))...)
		}
	}
	return world
}

// stretch is what a detail must show of a mark of a run: the run, or where that is long on paper the stretch about the mark.
func (f *figure) stretch(r strand, mark int) [][2]float64 {
	const long, beside = 100.0, 8.0
	length := r.trail.Length()
	if r.line == nil || length < long {
		return r.line
	}
	var world [][2]float64
	for _, off := range []float64{-beside, 0, beside} {
		at, _ := r.trail.At(max(0, min(1, float64(mark)/float64(max(r.count, 1))+off/length)))
		world = append(world, f.world(at))
	}
	return world
}

// markNames are the pixels at the ends of the runs and where something lands on them, with how far from data-in that is. Of a run
// that is dimensioned the end has no length again.
func (f *figure) markNames(dimensioned map[string]bool) (letters []letter) {
	for _, ends := range []bool{true, false} {
		for _, r := range f.runs {
			small := r.trail.Length() < tiny
			for _, m := range r.marks {
				if (m == 0 || m == r.count) != ends {
					continue
				}
				text := markText
				text.Words = "px" + layout.Thin + strconv.Itoa(m)
				if m == r.count {
					text.Words = "end"
				}
				name := text.Words
				if m > 0 && !(m == r.count && dimensioned[r.id]) {
					text.Words += " · " + metred(r.from(m))
				}
				at, _ := r.mark(m)
				if f.crowdedAt(r.id, at) {
					text.Words = r.id + " " + text.Words
				}
				letters = append(letters, letter{
					world: f.stretch(r, m),
					of:    subject{markName, r.id, m}, text: text, beside: f.seen(at), small: small,
					told: fmt.Sprintf("%s: %s, %s from data-in", r.id, name, metred(r.from(m))),
				})
			}
		}
	}
	return letters
}

// crowdedAt reports whether another run comes so near to a place of one that its marks could be taken for those of the other.
func (f *figure) crowdedAt(run string, at draw.Point) bool {
	const near = 1.5
	box := draw.Box{Min: at, Max: at}.Grow(near)
	return slices.ContainsFunc(f.runs, func(r strand) bool { return r.id != run && len(r.trail.Clipped(box)) > 0 })
}

// metred is a length along a run, to the centimetre.
func metred(metres float64) string {
	return layout.Quantity(layout.Written(strconv.FormatFloat(math.Round(metres*100)/100, 'f', 2, 64) + " m"))
}

// millimetred is a length on a dimension line: in millimetres, without their name, up to 10 m; in metres beyond.
func millimetred(metres float64) string {
	if metres > 10+1e-9 {
		return metred(metres)
	}
	return layout.Quantity(layout.Written(thousands(int(math.Round(metres * 1000)))))
}

// thousands is a whole number with its figures in threes.
func thousands(n int) string {
	if n < 1000 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d%s%03d", n/1000, layout.Thin, n%1000)
}
