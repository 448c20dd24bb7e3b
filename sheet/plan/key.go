package plan

import (
	"fmt"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// A keyBand is where the key of a plan stands, with the scale bar, and the area that it leaves.
type keyBand struct {
	area    draw.Box
	bar     draw.Point
	corner  draw.Point
	columns int
	width   float64 // of a column
	high    float64 // of the longest column
	room    float64 // for that
	fits    bool
}

const (
	keySize   = 7.5
	keyGap    = 4.0
	barHigh   = 9.0
	keyColumn = 84.0
)

// keyBelow is a key under the drawing, in as many columns as have room.
func keyBelow(field draw.Box, entries []layout.Entry) keyBand {
	return keyIn(field, max(1, int((field.Width()+keyGap)/(keyColumn+keyGap))), entries)
}

// keyIn is the same in so many columns.
func keyIn(field draw.Box, columns int, entries []layout.Entry) keyBand {
	b := keyBand{columns: columns, width: (field.Width()+keyGap)/float64(columns) - keyGap, fits: true}
	_, b.high = b.dealt(entries)
	top := field.Max.Y - b.high
	b.area = draw.Box{Min: field.Min, Max: draw.Point{X: field.Max.X, Y: top - barHigh - 2}}
	b.bar, b.corner = draw.Point{X: field.Min.X, Y: top - barHigh + 2.4}, draw.Point{X: field.Min.X, Y: top + 2.4}
	b.room = b.high
	return b
}

// keyBeside is a key in one column to the right of the drawing.
func keyBeside(field draw.Box, entries []layout.Entry) keyBand {
	const wide = 72.0
	b := keyBand{columns: 1, width: wide}
	_, b.high = b.dealt(entries)
	left := field.Max.X - wide
	b.area = draw.Box{Min: field.Min, Max: draw.Point{X: left - 4, Y: field.Max.Y}}
	b.bar, b.corner = draw.Point{X: left, Y: field.Min.Y + 8}, draw.Point{X: left, Y: field.Min.Y + barHigh + 11}
	b.room = field.Max.Y - b.corner.Y
	b.fits = b.high < b.room
	return b
}

// holds reports whether the key with all that it tells has room where it stands.
func (p *plan) holds() bool {
	_, high := p.band.dealt(p.entries())
	return p.keyed != nil || high <= p.band.room
}

// dealt deals entries to the columns in their order, so that the longest is as short as can be.
func (b keyBand) dealt(entries []layout.Entry) (columns [][]layout.Entry, high float64) {
	heights := make([]float64, len(entries))
	for i, e := range entries {
		heights[i] = layout.Key(&draw.Layer{}, draw.Point{}, b.width, keySize, []layout.Entry{e}) + layout.Pitch(keySize) + 0.9
	}
	deal := func(most float64) (columns [][]layout.Entry, ok bool) {
		left := 0.0
		for i, e := range entries {
			if columns == nil || heights[i] > left+1e-9 {
				columns, left = append(columns, nil), most
			}
			columns[len(columns)-1] = append(columns[len(columns)-1], e)
			left -= heights[i]
		}
		return columns, len(columns) <= b.columns
	}
	for most := slices.Max(append(slices.Clone(heights), 1)); ; most++ {
		if columns, ok := deal(most); ok {
			return columns, most
		}
	}
}

func (b keyBand) draw(layer *draw.Layer, entries []layout.Entry) {
	columns, _ := b.dealt(entries)
	for i, column := range columns {
		layout.Key(layer, draw.Point{X: b.corner.X + float64(i)*(b.width+keyGap), Y: b.corner.Y}, b.width, keySize, column)
	}
}

// entries are the key: what is drawn, and what is not drawn as it is.
func (p *plan) entries() (list []layout.Entry) {
	add := func(is bool, sample func(draw.Point) []draw.Path, words string) {
		if is {
			list = append(list, layout.Shown(sample, words))
		}
	}
	list = append(list, layout.Shown(runSample, "Run of tape. The arrow is the way of the data; a stroke across it is an end, or where a cable lands."))
	list = append(list, layout.Noted("px"+layout.Thin+"144 · 2.40"+layout.Thin+"m: the cut mark before pixel 144, counted from px"+layout.Thin+"0 where the data goes in, and how far from there it is along the tape; end: where the data goes out."))
	cut := func(pole scheme.Pole) bool {
		return slices.ContainsFunc(p.m.runs, func(r plannedRun) bool {
			return slices.ContainsFunc(r.cuts, func(c scheme.Cut) bool { return c.Pole == pole || pole == scheme.Both && c.Pole == "" })
		})
	}
	for _, c := range []struct {
		pole  scheme.Pole
		words string
	}{{scheme.Plus, "Positive rail cut; its strokes are to the left of the way of the data."}, {scheme.Return, "Return rail cut; its strokes are to the right of the way of the data."}, {scheme.Both, "Both rails cut."}} {
		add(cut(c.pole), func(at draw.Point) []draw.Path {
			return append(runSample(at)[:2], cutMarks(draw.Point{X: at.X + 6, Y: at.Y}, draw.Point{X: 1}, c.pole)...)
		}, c.words)
	}
	link := func(is func(l plannedLink) bool) bool { return slices.ContainsFunc(p.m.links, is) }
	add(link(func(l plannedLink) bool { return !l.data && l.pole != scheme.Return }), layout.Stroke(cablePen), "Cable; one line for both poles, or for a positive alone.")
	add(link(func(l plannedLink) bool { return l.fuse != "" }), func(at draw.Point) []draw.Path {
		return append([]draw.Path{layout.Stroke(cablePen)(at)[0]}, fuseMark(draw.Point{X: at.X + 6, Y: at.Y}, draw.Point{X: 1})...)
	}, "Inline fuse, at the end that it is at; left out of cables that are short on paper.")
	add(link(func(l plannedLink) bool { return l.pole == scheme.Return }), layout.Stroke(planReturnPen), "Cable of a return alone.")
	add(link(func(l plannedLink) bool { return l.data }), layout.Stroke(planDataPen, arrow(draw.Blueprint, draw.Point{}, draw.Point{X: 1}, 2.2, 0.45)), "Data lead, with the way of the data.")
	if powered := p.m.linksThat(func(l plannedLink) bool { return l.power }); len(powered) > 0 {
		sample := func(at draw.Point) []draw.Path {
			line := drafting.Trail{at, {X: at.X + 12, Y: at.Y}}
			return append(flanked(line), draw.Line(planDataPen, line...))
		}
		carry := " carry"
		if len(powered) == 1 {
			carry = " carries"
		}
		list = append(list, layout.Shown(sample, drafting.Listed(powered)+carry+" the supply past the fuses, in the spare cores of a data lead."))
	}
	if bridged := p.m.bridged; len(bridged) > 0 {
		list = append(list, layout.Noted("Bridged, with no fuse: "+drafting.Listed(bridged)+"."))
	}
	for _, k := range []struct {
		kind  spotKind
		words string
	}{{supplySpot, "Supply."}, {boardSpot, "Board."}, {junctionSpot, "Junction."}, {contactorSpot, "Contactor or relay, tied to the cable that it switches."}, {capacitorSpot, "Capacitor across the rails."}} {
		add(slices.ContainsFunc(p.m.spots, func(s plannedSpot) bool { return s.kind == k.kind }), func(at draw.Point) []draw.Path {
			s := sized(plannedSpot{kind: k.kind})
			s.at = draw.Point{X: at.X + 6, Y: at.Y}
			s.pin, s.height = s.at, min(s.height, 3.2)
			var layer draw.Layer
			s.paint(&layer)
			return layer.Paths
		}, k.words)
	}
	add(slices.ContainsFunc(p.m.spots, func(s plannedSpot) bool { return s.kind == enclosureSpot }), func(at draw.Point) []draw.Path {
		return []draw.Path{draw.Area(draw.None, boxPen, draw.Box{Min: draw.Point{X: at.X + 1, Y: at.Y - 1.7}, Max: draw.Point{X: at.X + 11, Y: at.Y + 1.7}}.Corners()...)}
	}, "Enclosure, about what is in it.")
	add(p.framed || len(p.closer.details) > 0, func(at draw.Point) []draw.Path {
		return []draw.Path{framed(draw.Box{Min: draw.Point{X: at.X + 1, Y: at.Y - 1.7}, Max: draw.Point{X: at.X + 11, Y: at.Y + 1.7}})}
	}, "What is framed is shown once more, larger, on the sheet that is named beside it.")
	if slices.ContainsFunc(p.m.runs, func(r plannedRun) bool { return r.line != nil }) {
		list = append(list, layout.Noted("Dimensions are in millimetres, and in metres with their unit beyond 10"+layout.Thin+"m."))
	}
	if words := p.m.originWords(); words != "" {
		if p.m.aboutOrigin() {
			list = append(list, layout.Shown(func(at draw.Point) []draw.Path { return originMark(draw.Point{X: at.X + 6, Y: at.Y}) }, words))
		} else {
			list = append(list, layout.Noted(words))
		}
	}
	if len(p.noted) > 0 {
		list = append(list, layout.Noted("Drawn without words, for want of room. "+strings.Join(p.noted, "; ")+"."))
	}
	for _, note := range p.notes() {
		list = append(list, layout.Noted(note))
	}
	return list
}

func runSample(at draw.Point) []draw.Path {
	a, b := at, draw.Point{X: at.X + 12, Y: at.Y}
	return []draw.Path{broad(a, b, ground), draw.Line(runPen, a, b), arrow(draw.Blueprint, draw.Point{X: at.X + 5, Y: at.Y}, draw.Point{X: 1}, 2.8, 0.85)}
}

// notes are what is not shown as it is.
func (p *plan) notes() (notes []string) {
	var loose, straight, routed, unlike, absent []string
	held := p.m.anchored()
	for _, s := range p.m.spots {
		switch {
		case s.at != nil || s.kind == capacitorSpot || s.kind == enclosureSpot && len(s.holds) > 0 || p.m.atRoute(s.id):
		case held[s.id]:
			loose = append(loose, s.id)
		default:
			absent = append(absent, s.id)
		}
	}
	for _, l := range p.m.links {
		if len(l.route) > 1 {
			routed = append(routed, l.id)
		} else {
			straight = append(straight, l.id)
		}
	}
	for _, r := range p.m.runs {
		if r.unlike() {
			unlike = append(unlike, fmt.Sprintf("%s is drawn %s and is %s", r.id, metred(drafting.DrawnLength(r.line)), metred(r.metres)))
		}
	}
	if runs := len(p.m.undrawn()); runs > 0 && runs == len(p.m.runs) {
		notes = append(notes, "No run is drawn in the scheme: runs are arranged in rows, not surveyed, their lengths to scale.")
	} else if runs > 0 {
		are := " are"
		if runs == 1 {
			are = " is"
		}
		notes = append(notes, study.Counted(runs, "run")+are+" not drawn in the scheme, and so"+are+" arranged, not surveyed, to scale in length alone.")
	}
	if len(absent) > 0 {
		notes = append(notes, "Not drawn to place, and arranged: "+drafting.Listed(absent)+".")
	}
	if len(loose) > 0 {
		notes = append(notes, "Not drawn to place, and shown beside what they go with: "+drafting.Listed(loose)+".")
	}
	switch {
	case len(straight) == 0:
	case len(routed) == 0:
		notes = append(notes, "No route is drawn: cables and leads are shown straight or as stubs. Their lengths are those of the schedule, not of these lines.")
	case len(routed) < len(straight):
		notes = append(notes, "Only these routes are drawn: "+drafting.Listed(routed)+". All others are shown straight or as stubs; their lengths are those of the schedule.")
	default:
		notes = append(notes, "Routes not drawn, and shown straight or as stubs: "+drafting.Listed(straight)+". Their lengths are those of the schedule.")
	}
	if len(unlike) > 0 {
		const most = 3
		more := ""
		if len(unlike) > most {
			more = fmt.Sprintf("; %d more runs likewise", len(unlike)-most)
			unlike = unlike[:most]
		}
		notes = append(notes, "Lines that are not as long as the tape, which is spread over them: "+strings.Join(unlike, "; ")+more+".")
	}
	return notes
}

// atRoute reports whether a route that is drawn ends at a thing.
func (m planned) atRoute(id string) bool {
	return slices.ContainsFunc(m.links, func(l plannedLink) bool {
		return len(l.route) > 1 && (l.from.Element == id || l.to.Element == id)
	})
}

// key draws the key on sheets of its own, where it has no room beside the plan.
func (p *plan) key() {
	field := p.paper.Field()
	field.Min.Y += 2
	for entries := p.keyed; len(entries) > 0; {
		n := len(entries)
		band, layer := keyBelow(field, entries), draw.Layer{Name: "key"}
		for ; n > 1 && band.high > field.Height(); band = keyBelow(field, entries[:n]) {
			n--
		}
		for band.columns > 1 && band.high > field.Height() { // one entry that is longer than a column
			band = keyIn(field, band.columns-1, entries[:n])
		}
		band.corner = field.Min
		band.draw(&layer, entries[:n])
		entries = entries[n:]
		p.leaves = append(p.leaves, layout.Leaf{
			Outline: "Key to the plan", Level: 1, Title: "Key to the plan", Under: "It has no room beside the drawing",
			Desc:  "The key to the plan: what its lines and symbols are, and what is not drawn as it is.",
			Paper: p.paper, Cells: p.cells(&p.main)[1:], Notes: planRests, Layers: []draw.Layer{layer},
		})
	}
}

// rest lists what no sheet has room to letter.
func (p *plan) rest() {
	lines := slices.DeleteFunc(p.unsaid(), func(line string) bool { return slices.Contains(p.noted, line) })
	field := p.paper.Field()
	const column = 84.0
	columns := max(1, int((field.Width()+keyGap)/(column+keyGap)))
	width := (field.Width()+keyGap)/float64(columns) - keyGap
	text := draw.Text{Size: keySize, Tone: draw.Ink}
	for len(lines) > 0 {
		layer := draw.Layer{Name: "list"}
		x, y, n := field.Min.X, field.Min.Y+3, 0
		for len(lines) > 0 {
			broken := layout.Wrap(text, lines[0], width)
			if y+float64(len(broken))*layout.Pitch(text.Size) > field.Max.Y {
				if n++; n == columns {
					break
				}
				x, y = x+width+keyGap, field.Min.Y+3
			}
			for i, line := range broken {
				text.Words, text.At = line, draw.Point{X: x, Y: y}
				if i > 0 {
					text.At.X += 3
				}
				layer.Texts = append(layer.Texts, text)
				y += layout.Pitch(text.Size)
			}
			lines = lines[1:]
		}
		p.leaves = append(p.leaves, layout.Leaf{
			Outline: "What the plan has no room to name", Level: 1, Title: "What the plan has no room to name",
			Under: "It is drawn there without its words", Desc: "What the plan has no room to name, as a list.",
			Paper: p.paper, Cells: p.cells(&p.main)[1:], Notes: planRests, Layers: []draw.Layer{layer},
		})
	}
}

// unsaid is what no sheet letters, in words.
func (p *plan) unsaid() (lines []string) {
	for _, l := range p.failed {
		if !p.said[l.of] && !slices.Contains(lines, l.told) {
			lines = append(lines, l.told)
		}
	}
	return append(lines, p.missing()...)
}

// missing are the things and links that are on no sheet.
func (p *plan) missing() (lines []string) {
	for _, s := range p.m.spots {
		if !p.named(spotName, s.id) {
			lines = append(lines, drafting.Named(s.id, s.label)+": not shown")
		}
	}
	for _, l := range p.m.links {
		if !p.named(linkName, l.id) {
			lines = append(lines, fmt.Sprintf("%s: from %s to %s, not shown", drafting.Named(l.id, l.label), l.from, l.to))
		}
	}
	for _, r := range p.m.runs {
		if !p.named(runName, r.id) {
			lines = append(lines, fmt.Sprintf("%s, %s long: not shown", drafting.Named(r.id, r.label), layout.Nominal(unit.Metre(r.metres))))
		}
	}
	return lines
}

// named reports whether something, or a part of it, is lettered on a sheet, or was sought to be.
func (p *plan) named(kind subjectKind, id string) bool {
	for of := range p.said {
		if of.kind == kind && of.id == id {
			return true
		}
	}
	return slices.ContainsFunc(p.failed, func(l letter) bool { return l.of.kind == kind && l.of.id == id })
}
