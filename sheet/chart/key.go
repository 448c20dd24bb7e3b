package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/conductor"
	"farend/draw"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// key says what everything is, and how it is read, in two columns that end as high as they can, and in the smallest type only where they
// would else run into the title block.
func (p *picture) key() draw.Layer {
	const column = 91
	block := p.style.Texts.Block()
	top, bottom := block.Min.Y-54, block.Min.Y-3
	groups := [][]layout.Entry{p.fuseEntries(), p.loadEntries(), p.shortEntries(), p.cableEntries()}
	var best draw.Layer
	for _, size := range []float64{7.5, draw.Smallest} {
		ends := func(column []layout.Entry) float64 {
			return layout.Key(&draw.Layer{}, draw.Point{}, keyWidth, size, column)
		}
		columns := balanced(groups, ends)
		best = draw.Layer{Name: "key"}
		lowest := 0.0
		for i, entries := range columns {
			lowest = max(lowest, layout.Key(&best, draw.Point{X: p.style.Texts.Field().Min.X + float64(i)*(column+2), Y: top}, keyWidth, size, entries))
		}
		if lowest <= bottom {
			break
		}
	}
	return best
}

// keyWidth is that of a column of a key, in millimetres.
const keyWidth = 89

// balanced deals groups of entries to two columns: what has a sample in order, no group divided, then each note to the column that ends
// higher, so that the longer of the two is as short as can be.
func balanced(groups [][]layout.Entry, ends func([]layout.Entry) float64) (best [2][]layout.Entry) {
	noted := func(e layout.Entry) bool { return e.Sample == nil }
	var samples [][]layout.Entry
	var notes []layout.Entry
	for _, g := range groups {
		samples = append(samples, slices.DeleteFunc(slices.Clone(g), noted))
		notes = append(notes, slices.DeleteFunc(slices.Clone(g), func(e layout.Entry) bool { return !noted(e) })...)
	}
	lowest := math.Inf(1)
	for n := range len(samples) + 1 {
		columns := [2][]layout.Entry{slices.Concat(samples[:n]...), slices.Concat(samples[n:]...)}
		for _, note := range notes {
			higher := 0
			if ends(columns[1]) < ends(columns[0]) {
				higher = 1
			}
			columns[higher] = append(columns[higher], note)
		}
		if longer := max(ends(columns[0]), ends(columns[1])); longer < lowest {
			best, lowest = columns, longer
		}
	}
	return best
}

func (p *picture) fuseEntries() []layout.Entry {
	entries := []layout.Entry{
		layout.Shown(layout.Stroke(slowPen, fullDot...), fmt.Sprintf("Slow edge, in air of %s (rating %s): above and right of it the fuse has surely opened.", layout.Nominal(p.Cold), layout.Nominal(p.slow.Rating))),
		layout.Shown(layout.Stroke(fastPen, hollowDot...), fmt.Sprintf("Fast edge, in air of %s (rating %s): below and left of it the fuse surely holds.", layout.Nominal(p.Warm), layout.Nominal(p.fast.Rating))),
		layout.Shown(patch(false), "Between them it opens sooner or later. Only the gates (dots) are guaranteed, so the edges are stairs."),
	}
	if !slices.ContainsFunc(p.curve.Gates, func(g parts.Gate) bool { return g.Max.Given }) {
		entries[0] = layout.Noted("Its gates do not say that it ever opens, so it has no slow edge.")
	}
	if !slices.ContainsFunc(p.curve.Gates, func(g parts.Gate) bool { return g.Min.Is > 0 }) {
		entries[1] = layout.Noted("Its gates do not say that it holds at all, so it has no fast edge.")
	}
	if p.strip() != nil {
		entries = append(entries, layout.Shown(patch(true), "It may open, or hold for ever: "+p.undecided()+"."))
	}
	entries = append(entries, layout.Shown(layout.Stroke(estimatePen), "Estimate: straight between gates. No verdict rests on it."))
	notes := []string{"The fuse is cold at the start; warm from its load it opens sooner."}
	switch {
	case len(p.curve.Derating) == 0:
		notes = append(notes, "Its curve does not say what air does to its rating.")
	case !p.derated:
		notes = append(notes, "Air this warm is beyond what its curve speaks of: it then holds less than drawn.")
	}
	return append(entries, layout.Noted(strings.Join(notes, " ")))
}

// undecided is the range of currents that may last for ever or not.
func (p *picture) undecided() string {
	from, to := p.fast.Carries(), p.slow.Threshold()
	switch {
	case from <= 0 && math.IsInf(float64(to), 1):
		return "at every current, as far as its gates say"
	case from <= 0:
		return "up to " + layout.Quantity(to)
	case math.IsInf(float64(to), 1):
		return "from " + layout.Quantity(from) + " on"
	}
	return "from " + layout.Quantity(from) + " to " + layout.Quantity(to)
}

func (p *picture) loadEntries() []layout.Entry {
	return []layout.Entry{
		p.loadEntry(loadPen, p.load, "Load in "+study.CaseWords(p.load.in)+", the heaviest: left of the strip, and by rule at most 75"+layout.Thin+"% of the rating in that air.", "The load"),
		p.loadEntry(failedPen, p.failed, "Load with the cap failed: every channel full on.", "With the cap failed the load"),
	}
}

func (p *picture) cableEntries() []layout.Entry {
	var entries []layout.Entry
	if b, ok := p.thinnest(); ok {
		entries = append(entries,
			layout.Shown(layout.Stroke(izPen), fmt.Sprintf("Iz: what %s may carry for ever %s, in air of %s%s.", short(b.id), methods[b.method], layout.Nominal(b.air), bundled(b))),
			layout.Shown(layout.Stroke(iz145Pen), "1.45 · Iz: the strip must end left of it (I2 ≤ 1.45 · Iz, IEC 60364-4-43 433.1)."))
	} else {
		entries = append(entries, layout.Noted(p.noLimit()))
	}
	if b, stands, ok := p.weakest(); ok {
		entries = append(entries, layout.Shown(layout.Stroke(shortPen), fmt.Sprintf("k²S² = %s: what one core of %s, %s of copper in PVC, stands in a short of 0.1%ss to 5%ss. The slow edge must lie left of it.", rounded(stands), short(b.id), p.style.Section(b.part.Area.Is), layout.Thin, layout.Thin)))
	}
	if not := p.notDrawn(); not != "" {
		entries = append(entries, layout.Noted(not))
	}
	return entries
}

func (p *picture) loadEntry(pen draw.Pen, l load, words, subject string) layout.Entry {
	switch {
	case !l.found:
		return layout.Noted(subject + " is not drawn, for there is no operating point.")
	case l.amps < faint:
		return layout.Noted(subject + " is less than " + layout.Nominal(faint) + ", and not drawn.")
	}
	return layout.Shown(layout.Stroke(pen), words)
}

var methods = map[scheme.Method]string{scheme.Conduit: "in conduit", scheme.Surface: "on a surface", scheme.Free: "in free air"}

func bundled(b branch) string {
	if b.bundle < 2 {
		return ""
	}
	return fmt.Sprintf(", with %d circuits in all", b.bundle)
}

// alone says which cables begin with fuses of their own.
func (g *guarded) alone() string {
	if len(g.apart) == 1 {
		return g.apart[0] + " begins with its own fuse"
	}
	return study.Several(g.apart) + " begin with their own fuses"
}

// noLimit says why there is no Iz.
func (g *guarded) noLimit() string {
	if len(g.branches) == 0 && g.apart != nil {
		return g.alone() + ", so no limit of a cable is drawn here."
	}
	if len(g.branches) == 0 {
		return "No cable hangs on it, so no limit of a cable is drawn."
	}
	return "What its cables may carry is not known, or nothing in air this warm; so no Iz is drawn."
}

// notDrawn names the cables whose k²S² is not known, and why.
func (g *guarded) notDrawn() string {
	var open, other []string
	for _, b := range g.branches {
		if b.part == nil {
			open = append(open, b.id)
		} else if _, known := conductor.Withstand(b.part.Insulation.Is, b.part.Area.Is); !known {
			other = append(other, fmt.Sprintf("%s (%s)", b.id, layout.Nominal(b.part.Insulation.Is)))
		}
	}
	text := ""
	if other != nil {
		text = "k²S² is not drawn for " + drafting.Some(other) + ": k = 115 is for PVC of " + layout.Nominal(unit.Celsius(70)) + "."
	}
	if open != nil {
		text += " Not chosen yet, so not drawn: " + drafting.Some(open) + "."
	}
	return strings.TrimSpace(text)
}

// Patch is the sample of an area.
func patch(hatched bool) func(draw.Point) []draw.Path {
	return func(at draw.Point) []draw.Path {
		box := draw.Box{Min: draw.Point{X: at.X, Y: at.Y - 1.6}, Max: draw.Point{X: at.X + 12, Y: at.Y + 1.6}}
		paths := []draw.Path{draw.Area(draw.Shade, draw.Pen{Tone: draw.Rule, Width: draw.Hair}, box.Corners()...)}
		if hatched {
			paths = append(paths, hatching(box.Corners()...))
		}
		return paths
	}
}
