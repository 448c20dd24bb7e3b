package remedy

import (
	"math"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A cutting is a run that is cut in two or more at marks, with all that is said of it.
type cutting struct {
	s     *study.Study
	run   string
	is    scheme.Run
	tape  *parts.Tape
	marks []int // 0, where it is cut, and its end
	names []string
	taken map[string]bool
}

func newCutting(s *study.Study, run string, marks []int, names []string, taken map[string]bool) cutting {
	is := s.Scheme.Runs[run]
	return cutting{s, run, is, s.Scheme.Tape(run), slices.Concat([]int{0}, marks, []int{is.Count}), names, taken}
}

// edits cut the run: its beginning keeps its name, what follows are runs of the same tape; each shows what the run showed, is drawn where it was, and keeps the
// cuts and joints that are on it. A short cable joins the poles that were whole.
func (c cutting) edits() (edits []finding.Edit) {
	edits = append(edits, edit(c.marks[1], "runs", c.run, "pixels"))
	if _, written := c.s.Scheme.Places[finding.Pointer("runs", c.run, "length")]; written {
		edits = append(edits, edit(nil, "runs", c.run, "length"))
	}
	for key, whole := range map[string]int{"cuts": len(c.is.Cuts), "joints": len(c.is.Joints)} {
		list := c.cuts(0)
		if key == "joints" {
			list = c.joints(0)
		}
		switch {
		case len(list) == 0 && whole > 0:
			edits = append(edits, edit(nil, "runs", c.run, key))
		case len(list) < whole:
			edits = append(edits, edit(list, "runs", c.run, key))
		}
	}
	slices.SortFunc(edits, func(a, b finding.Edit) int { return finding.Natural(a.Path, b.Path) })
	for k := 1; k < len(c.names); k++ {
		edits = append(edits, edit(c.piece(k), "runs", c.names[k]))
	}
	edits = append(edits, c.shown()...)
	edits = append(edits, c.drawn()...)
	for k := 1; k < len(c.names); k++ {
		edits = append(edits, c.joined(k)...)
	}
	return edits
}

// piece is what is said of a piece that is a run of its own.
func (c cutting) piece(k int) map[string]any {
	values := map[string]any{"tape": c.is.Tape, "pixels": c.marks[k+1] - c.marks[k]}
	for key, text := range map[string]string{"reel": c.is.Reel, "ip": c.is.IP} {
		if text != "" {
			values[key] = text
		}
	}
	if c.is.Label != "" {
		values["label"] = c.is.Label + ", " + c.names[k]
	}
	if list := c.cuts(k); list != nil {
		values["cuts"] = list
	}
	if list := c.joints(k); list != nil {
		values["joints"] = list
	}
	return values
}

// cuts are those that lie within a piece.
func (c cutting) cuts(k int) []any {
	var within []scheme.Cut
	for _, cut := range c.is.Cuts {
		if mark := cut.At.Mark - c.marks[k]; mark > 0 && cut.At.Mark < c.marks[k+1] {
			within = append(within, scheme.Cut{At: scheme.Station{Pixel: mark, Mark: mark}, Pole: cut.Pole})
		}
	}
	return listed(within)
}

// joints are the soldered joints that lie within a piece; one at its end is where the tape is cut.
func (c cutting) joints(k int) (list []any) {
	const near = 1e-3 // m
	low, high := pitches(c.s, c.run, c.marks[k]), pitches(c.s, c.run, c.marks[k+1])
	for _, joint := range c.is.Joints {
		if joint > low+near && joint < high-near {
			list = append(list, plain(float64(joint-low))+" m")
		}
	}
	return list
}

// shown lets the pieces show what the run shows.
func (c cutting) shown() (edits []finding.Edit) {
	for _, state := range c.s.Scheme.StateNames() {
		shows, own := c.s.Scheme.States[state].Runs[c.run]
		if !own {
			continue
		}
		values := map[string]any{}
		if shows.Level != nil {
			values["level"] = plain(float64(*shows.Level)*100) + " %"
		}
		if shows.Colour != nil {
			values["colour"] = shows.Colour.String()
		}
		for _, name := range c.names[1:] {
			edits = append(edits, edit(values, "states", state, "runs", name))
		}
	}
	return edits
}

// drawn divides the line of the run.
func (c cutting) drawn() (edits []finding.Edit) {
	line := c.s.Scheme.Drawing[c.run]
	if len(line.Points) < 2 {
		return nil
	}
	for k, name := range c.names {
		edits = append(edits, edit(stretchOf(line, float64(c.marks[k])/float64(c.is.Count), float64(c.marks[k+1])/float64(c.is.Count)), "drawing", name))
	}
	return edits
}

// stretchOf is a line from one share of its length to another, to a tenth of a millimetre.
func stretchOf(line scheme.Shape, from, to float64) (points []any) {
	add := func(x, y float64) {
		points = append(points, []any{math.Round(x*1e4) / 1e4, math.Round(y*1e4) / 1e4})
	}
	whole := float64(line.Length())
	x, y, _ := line.Along(from)
	add(x, y)
	at := 0.0
	for i := 1; i < len(line.Points)-1; i++ {
		a, b := line.Points[i-1], line.Points[i]
		if at += math.Hypot(b[0]-a[0], b[1]-a[1]); at > from*whole+1e-4 && at < to*whole-1e-4 {
			add(b[0], b[1])
		}
	}
	x, y, _ = line.Along(to)
	add(x, y)
	return points
}

// joined joins the poles of two pieces that were not cut there: by a cable as thick as the thickest that lands on the run.
func (c cutting) joined(k int) (edits []finding.Edit) {
	poles := []scheme.Pole{scheme.Plus, scheme.Return}
	for _, cut := range c.is.Cuts {
		if cut.At.Mark == c.marks[k] {
			poles = slices.DeleteFunc(poles, cut.Pole.Has)
		}
	}
	feed, cores := c.thickest()
	if feed.Part == "" || len(poles) == 0 {
		return nil
	}
	lay := func(pole scheme.Pole) {
		values := map[string]any{"part": feed.Part, "length": "0.1 m", "from": c.names[k-1] + "@end", "to": c.names[k] + "@start", "label": scheme.EstimatedLength}
		if pole != scheme.Both {
			values["pole"] = string(pole)
		}
		if feed.CoresPerPole > 1 {
			values["cores_per_pole"] = feed.CoresPerPole
		}
		if feed.Suits != "" {
			values["suits"] = string(feed.Suits)
		}
		if feed.Method != "" {
			values["method"] = string(feed.Method)
		}
		id := following(c.s, scheme.IDs(c.s.Scheme.Cables), "W", c.taken)
		c.taken[id] = true
		edits = append(edits, edit(values, "cables", id))
	}
	if len(poles) == 2 && cores >= 2*feed.PerPole() {
		lay(scheme.Both)
		return edits
	}
	for _, pole := range poles {
		lay(pole)
	}
	return edits
}

// thickest is the cable with the thickest poles that lands on the run, with how many cores it has.
func (c cutting) thickest() (feed scheme.Cable, cores int) {
	most := unit.SquareMetre(0)
	for _, l := range append(landings(c.s, c.run), landed(c.s, c.run, scheme.Return)...) {
		cable := c.s.Scheme.Cables[l.cable]
		part, ok := parts.Get[parts.Cable](c.s.Scheme.Library, cable.Part)
		if !ok {
			continue
		}
		if area := part.Area.Is * unit.SquareMetre(cable.PerPole()); area > most {
			feed, cores, most = cable, part.Cores, area
		}
	}
	return feed, cores
}
