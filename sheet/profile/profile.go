// Package profile draws one run pixel by pixel in every state: voltage, currents, light and colour along it.
package profile

import (
	"fmt"
	"math"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// Pages draws a run pixel by pixel: voltage, what flows in either rail, light and colour, over the place along it, in every lighting
// state and with the cap failed; three of these on a page. There are none of what is no run, or of a run without pixels.
//
// What is drawn is the solved mean over the pulse-width cycle. A hair line with the same dashes is the peak of a state, in which all
// cycles begin together: the voltage at its lowest, rails at their largest.
func Pages(st *study.Study, run string, style drafting.Style) []layout.Leaf {
	tape := st.Scheme.Tape(run)
	if tape == nil || st.Scheme.Runs[run].Count < 1 {
		return nil
	}
	p := &profile{st: st, id: run, run: st.Scheme.Runs[run], tape: tape, paper: style.Texts}
	p.courses = p.solved()
	p.panels = p.panelled()
	const most = 3
	var list []layout.Leaf
	for first := 0; first == 0 || first < len(p.courses); first += most {
		list = append(list, p.leaf(len(list), p.courses[first:min(first+most, len(p.courses))]))
	}
	return list
}

// A profile is such a page being made.
type profile struct {
	st      *study.Study
	id      string
	run     scheme.Run
	tape    *parts.Tape
	paper   layout.Paper
	courses []profileCourse
	panels  []profilePanel
}

// A profileCourse is the run in a case, pixel by pixel.
type profileCourse struct {
	in            network.Case
	found         bool
	mean, peak    profileData
	peaked        bool // there is a peak of it
	railPeak      unit.Ampere
	lowAt, highAt int // of the pixels that are fed; −1 where none is
	dipAt         int // the same in the lowest moment of the peak
}

// profileData is what is drawn of a case.
type profileData struct {
	volts        []float64
	rails        []network.Rails
	crest        bool      // the rails at their largest rather than their mean
	light, shift []float64 // to the brightest pixel; no numbers where it is dark
	lit          bool
}

// solved gathers the cases that are drawn: states with their peaks, then full drive.
func (p *profile) solved() []profileCourse {
	var list []profileCourse
	fed := p.fed()
	for _, c := range p.st.Cases() {
		if c.Kind != network.State && c.Kind != network.CapFailed {
			continue
		}
		course := profileCourse{in: c}
		if course.mean, course.found = p.data(c.Name, false); course.found {
			course.lowAt, course.highAt = extremes(course.mean.volts, fed)
			course.railPeak = p.st.Result(c.Name).Runs[p.id].RailAmps
		}
		if peak := string(network.Peak) + "/" + c.State; c.Kind == network.State && p.st.Result(peak) != nil {
			if course.peak, course.peaked = p.data(peak, true); course.peaked {
				course.dipAt, _ = extremes(course.peak.volts, fed)
			}
		}
		list = append(list, course)
	}
	return list
}

// fed says of every pixel whether one supply is joined to both its rails.
func (p *profile) fed() []bool {
	fed := make([]bool, p.run.Count)
	for _, piece := range p.st.Network.Feeds(p.id) {
		for k := piece.From; k < piece.To; k++ {
			fed[k] = piece.Closed()
		}
	}
	return fed
}

// extremes are the pixels with the lowest and the highest voltage of those that are fed; −1 where none is.
func extremes(volts []float64, fed []bool) (low, high int) {
	low, high = -1, -1
	for k, v := range volts {
		if !fed[k] {
			continue
		}
		if low < 0 || v < volts[low] {
			low = k
		}
		if high < 0 || v > volts[high] {
			high = k
		}
	}
	return low, high
}

func (p *profile) data(name string, crest bool) (d profileData, ok bool) {
	s := p.st.Solution(name)
	if s == nil || !s.Found() {
		return d, false
	}
	run, ok := p.st.Network.Profile(s, p.id)
	if !ok {
		return d, false
	}
	d = profileData{volts: run.Volts, rails: p.st.Network.Rails(s, p.id), crest: crest}
	if crest {
		d.volts = run.Lowest
	}
	if p.st.Result(name).Runs[p.id].Evenness != nil {
		d.light, d.shift = relative(p.st.Network.Lights(s, p.id))
		d.lit = true
	}
	return d, true
}

// relative is light as a share of that of the brightest pixel, and how far in colour from that.
func relative(lights []network.Light) (light, shift []float64) {
	brightest := 0
	for k, l := range lights {
		if l.Candela > lights[brightest].Candela {
			brightest = k
		}
	}
	for _, l := range lights {
		light = append(light, l.Candela/lights[brightest].Candela)
		shift = append(shift, l.Shift(lights[brightest]))
	}
	return light, shift
}

// A profilePanel is one quantity over the place along the run.
type profilePanel struct {
	name   string
	axis   profileAxis
	share  float64 // of the height of the page
	of     func(profileData) [][]draw.Point
	limits []profileLimit
	note   string // of a limit that lies beyond the axis
}

// A profileLimit is a level line.
type profileLimit struct {
	at    float64
	words string
}

// panelled chooses the panels and their axes, over all cases, so that pages compare.
func (p *profile) panelled() []profilePanel {
	panels := []profilePanel{{name: "voltage of a pixel", share: 0.34, of: p.voltsOf, limits: p.voltLimits()}}
	limit := p.railLimit()
	for _, rail := range []struct {
		name string
		of   func(profileData) [][]draw.Point
	}{{"in the + rail", p.plusOf}, {"in the − rail", p.returnOf}} {
		panels = append(panels, profilePanel{name: rail.name, share: 0.2, of: rail.of, limits: limit})
	}
	if p.any(func(d profileData) bool { return d.lit }) {
		even := p.st.Scheme.EvennessAim()
		panels = append(panels, profilePanel{name: "light", share: 0.15, of: p.lightOf, limits: []profileLimit{{even, "aim " + layout.Nominal(unit.Ratio(even))}}})
		shift := p.st.Scheme.ColourShiftAim()
		panels = append(panels, profilePanel{name: "colour, Δu′v′", share: 0.11, of: p.shiftOf, limits: []profileLimit{{shift, "aim " + layout.Nominal(layout.Written(unit.Number(shift, 2)))}}})
	}
	p.scale("V", &panels[0])
	p.scale("A", &panels[1], &panels[2])
	if len(panels) > 3 {
		p.scale("%", &panels[3])
		p.scale("", &panels[4])
	}
	return panels
}

func (p *profile) any(is func(profileData) bool) bool {
	for _, c := range p.courses {
		if c.found && is(c.mean) {
			return true
		}
	}
	return false
}

// scale gives panels with the same limits one axis: about everything that is drawn and the limits, but for limits that are many times what flows.
func (p *profile) scale(name string, panels ...*profilePanel) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, panel := range panels {
		for _, c := range p.courses {
			for _, line := range append(panel.of(c.mean), panel.of(c.peak)...) {
				for _, at := range line {
					low, high = min(low, at.Y), max(high, at.Y)
				}
			}
		}
	}
	if math.IsInf(low, 1) {
		low, high = 0, 0
	}
	switch name {
	case "A", "":
		low, high = min(low, 0), max(high, 0)
	case "%":
		high = max(high, 1)
	}
	const far = 2.5 // times what flows; a limit beyond is told in words
	var near []profileLimit
	note, largest := "", max(high, -low)
	for _, l := range panels[0].limits {
		switch {
		case name != "A":
			low, high = min(low, l.at), max(high, l.at)
			near = append(near, l)
		case l.at > largest*far:
			note = l.words
		default:
			near = append(near, l)
			high = max(high, l.at)
			if -low > l.at/far {
				low = min(low, -l.at)
				near = append(near, profileLimit{-l.at, ""})
			}
		}
	}
	for _, panel := range panels {
		panel.limits, panel.note, panel.axis = near, note, newProfileAxis(low, high, name)
	}
}

// voltLimits are the voltages below which colours fade, and below which nothing is proven.
func (p *profile) voltLimits() (limits []profileLimit) {
	if p.tape.VoltsMin.Given {
		limits = append(limits, profileLimit{float64(p.tape.VoltsMin.Is), "proven from " + layout.Nominal(p.tape.VoltsMin.Is)})
	}
	full, of := unit.Volt(0), ""
	for _, name := range scheme.Channels(p.tape) {
		if c := p.tape.Channels[name]; c.Hi.Given && c.Hi.Is > full {
			full, of = c.Hi.Is, name
		}
	}
	if of != "" {
		limits = append(limits, profileLimit{float64(full), "full colour from about " + layout.Quantity(full) + " (" + of + ")"})
	}
	return limits
}

// railLimit is what a rail may carry for ever, at the lower end of what its part states.
func (p *profile) railLimit() []profileLimit {
	if !p.tape.RailAmps.Given {
		return nil
	}
	limit := p.tape.RailAmps.Lower()
	return []profileLimit{{float64(limit), "limit of the rail " + layout.Quantity(limit)}}
}

// voltsOf is the voltage of every pixel, in pieces between cuts.
func (p *profile) voltsOf(d profileData) [][]draw.Point { return p.pieces(d.volts) }

func (p *profile) lightOf(d profileData) [][]draw.Point { return p.pieces(d.light) }

func (p *profile) shiftOf(d profileData) [][]draw.Point { return p.pieces(d.shift) }

// pieces are values of pixels, each in the middle of its pixel, parted where a rail is cut and where there is no number.
func (p *profile) pieces(values []float64) (lines [][]draw.Point) {
	cut := map[int]bool{}
	for _, c := range p.run.Cuts {
		cut[c.At.Mark] = true
	}
	var line []draw.Point
	for k, v := range values {
		if cut[k] || math.IsNaN(v) {
			lines, line = append(lines, line), nil
		}
		if !math.IsNaN(v) {
			line = append(line, draw.Point{X: float64(k) + 0.5, Y: v})
		}
	}
	return append(lines, line)
}

func (p *profile) plusOf(d profileData) [][]draw.Point {
	return p.flows(d, func(r network.Rails) []float64 {
		if d.crest {
			return r.PlusPeak
		}
		return r.Plus
	})
}

func (p *profile) returnOf(d profileData) [][]draw.Point {
	return p.flows(d, func(r network.Rails) []float64 {
		if d.crest {
			return r.ReturnPeak
		}
		return r.Return
	})
}

// flows are currents of a rail at every mark; at a feed both that before and that after it.
func (p *profile) flows(d profileData, of func(network.Rails) []float64) [][]draw.Point {
	var line []draw.Point
	for _, r := range d.rails {
		for k, amps := range of(r) {
			line = append(line, draw.Point{X: float64(r.From + k), Y: amps})
		}
	}
	return [][]draw.Point{line}
}

func (p *profile) leaf(n int, courses []profileCourse) layout.Leaf {
	name := p.id
	if p.run.Label != "" {
		name += ", " + p.run.Label
	}
	l := layout.Leaf{
		Name: "profile-" + p.id, Outline: p.id + ": profile", Title: name + ": volts, amperes and light along it", Verdict: p.verdict(),
		Desc: p.described(courses), Paper: p.paper, Cells: p.cells(), Notes: p.rests(), Layers: p.drawn(courses),
	}
	if n > 0 {
		l.Name = layout.Nth(l.Name, n+1)
		l.Outline = ""
		l.Title += ", further cases"
	}
	return l
}

// verdict is the lowest voltage of all states, which is no judgement.
func (p *profile) verdict() string {
	words, lowest := "No operating point", math.Inf(1)
	for _, c := range p.courses {
		if c.found && c.lowAt < 0 {
			return "Nothing feeds it"
		}
		if c.found && c.in.Kind == network.State && c.mean.volts[c.lowAt] < lowest {
			lowest = c.mean.volts[c.lowAt]
			words = fmt.Sprintf("Lowest in %s: %s at px%s%d", study.CaseWords(c.in), voltsAt(lowest), layout.Thin, c.lowAt)
		}
	}
	return words
}

func (p *profile) cells() []layout.Cell {
	return []layout.Cell{
		{Caption: "Run", Says: p.id, Name: true, Share: 24},
		{Caption: "Tape", Says: p.run.Tape, Face: draw.Mono, Name: true, Share: 60},
		{Caption: "Length", Says: fmt.Sprintf("%s, %s", layout.Nominal(*p.run.Length), study.Counted(p.run.Count, "pixel")), Share: 44},
		{Caption: "Copper of the rails", Says: layout.Nominal(p.st.Network.Copper()), Share: 30},
	}
}

func (p *profile) rests() string {
	words := "Lines are solved means over the pulse-width cycle, with typical numbers; full drive has set currents and set points at their upper end and rails at their lower. "
	words += fmt.Sprintf("Rail %s (%s)", layout.Nominal(p.tape.Rail.Is), p.tape.Rail.Basis)
	if p.tape.RailAmps.Given {
		words += fmt.Sprintf("; its limit is the lower end of what is stated (%s)", p.tape.RailAmps.Basis)
	}
	return words + ". Currents are those between pixels, at the marks: in the + rail away from data-in, in the − rail towards it. The page judges nothing; the rules do."
}

// described is the page in sentences.
func (p *profile) described(courses []profileCourse) string {
	say := []string{fmt.Sprintf("Run %s along its %d pixels.", p.id, p.run.Count)}
	for _, c := range courses {
		if !c.found {
			say = append(say, "In "+study.CaseWords(c.in)+" there is no operating point.")
			continue
		}
		if c.lowAt < 0 {
			say = append(say, "In "+study.CaseWords(c.in)+" nothing feeds it.")
			continue
		}
		line := fmt.Sprintf("In %s: from %v at px %d to %v at px %d; at most %v in a rail", study.CaseWords(c.in), unit.Volt(c.mean.volts[c.lowAt]), c.lowAt, unit.Volt(c.mean.volts[c.highAt]), c.highAt, c.railPeak)
		if r := p.st.Result(c.in.Name).Runs[p.id]; r.Evenness != nil {
			line += fmt.Sprintf("; the dimmest pixel gives %v of the brightest", unit.Ratio(*r.Evenness))
		}
		say = append(say, line+".")
	}
	return strings.Join(say, " ")
}
