package sizing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"farend/unit"
)

// inletLength is how far a board stands from its supply.
const inletLength unit.Metre = 0.6

// text writes the plan as a scheme.
func (p *plan) text() []byte {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("# A first draft: it passes the check, and is yours to change. Every number with a unit may be edited; farend check says")
	line("# what follows from it, and farend help scheme what may stand here. The boards of the catalogue are invented.")
	if p.many {
		line("# It has so many faults to follow that a check does so only when it is asked: farend check --protection.")
	}
	line("farend: 1")
	line("title: %s", quoted(p.wish.Title))
	line("site:")
	line("  ambient: %d °C          # the hottest air around cables and boards", int(air))
	line("  coldest: 0 °C           # and the coldest")
	line("  exposure: dry           # dry, damp, outdoors or immersed")
	line("  metalwork: bonded       # bonded, isolated or none: what a stray positive would meet")
	line("aims:")
	line("  frame_rate: %d Hz", rate)
	line("  cap: %-18s # the highest level that the control system will send; a comfort, never a protection", percent(p.wish.Level))
	line("  evenness: 85 %%          # dimmest over brightest pixel of one run")
	line("  colour_shift: 0.004     # largest Δu′v′ within one run")
	p.things(line)
	line("states:")
	line("  full: {level: %s, colour: white}", percent(p.wish.Level))
	line("duty:")
	line("  full: 5 h/day           # the other hours are dark but energised")
	p.drawing(line)
	return []byte(b.String())
}

func (p *plan) things(line func(string, ...any)) {
	line("supplies:                 # mains side by a licensed electrician")
	for _, g := range p.groups {
		trim := ""
		if volts := setPoint(g.supplyPart.part, p.tape, p.lift); volts != g.supplyPart.part.Volts.Is {
			trim = ", volts: " + plain(float64(volts)) + " V"
		}
		line("  %s: {part: %s%s}", g.supply, g.supplyPart.name, trim)
	}
	line("boards:")
	for _, g := range p.groups {
		line("  %s: {part: %s}", g.board, g.boardPart.name)
	}
	line("runs:                     # pixel 0 is where data comes in")
	if slices.ContainsFunc(p.runs, func(r *run) bool { return len(r.feeds) > 1 }) {
		line("  # The positive is cut between feeds, so that every piece has one small fuse to itself: wherever a short is on the tape, that")
		line("  # fuse opens before the rails are too hot. Feeds that join on one piece would add up in a short. The tape stays one run: its")
		line("  # return and its data go on.")
	}
	p.each(func(_ *group, r *run) {
		line("  %s: {tape: %s, %s, label: %s%s}", r.id, p.wish.Tape, p.size(r), quoted(p.label(r)), cuts(r))
	})
	line("cables:                   # each begins at a fuse; the lengths are as the cable runs, so measure them")
	wide := p.widest()
	for _, g := range p.groups {
		line("  %-*s {part: %s, length: %s, from: %s, to: %s.in, fuse: %s}", wide, g.feeder+":", p.cables[g.cable].name, metres(inletLength), g.supply, g.board, p.inlines[g.fuse].name)
		for _, r := range g.runs {
			_, cable := feeding(r.riches)
			for _, f := range r.feeds {
				line("  %-*s {part: %s, length: %s, from: %s, to: %s}", wide, f.id+":", p.cables[min(cable+f.thick, len(p.cables)-1)].name, metres(p.wish.Away+r.begin+p.pitch(f.mark)), f.way, station(r, f.mark))
			}
		}
	}
	line("fuses:                    # of the ways: the smallest that carries its load at three quarters of its rating; a larger one may be too")
	line("                          # large for the rails of the tape, and more feeds are then better")
	p.each(func(_ *group, r *run) {
		for _, f := range r.feeds {
			line("  %s: %s", f.way, p.blades[f.fuse].name)
		}
	})
	line("data:                     # keep leads short; the ground core goes with the data")
	number := 0
	for _, g := range p.groups {
		ports := sorted(g.boardPart.part.Ports)
		for i, r := range g.runs {
			number++
			line("  D%d: {part: %s, length: %s, from: %s.%s, to: %s}", number, p.lead, metres(p.wish.Away+r.begin), g.board, ports[i], r.id)
		}
	}
}

// drawing lays the lights out as straight lines, one under the other.
func (p *plan) drawing(line func(string, ...any)) {
	line("drawing:                  # metres; straight lines for want of a plan of the place")
	row, rows := -1, map[string]int{}
	p.each(func(_ *group, r *run) {
		if _, known := rows[r.label]; !known {
			row++
			rows[r.label] = row
		}
		y := float64(rows[r.label])
		line("  %s: [[%s, %s], [%s, %s]]", r.id, plain(float64(r.begin)), plain(y), plain(float64(r.begin+p.pitch(r.pixels))), plain(y))
	})
}

func (p *plan) each(do func(*group, *run)) {
	for _, g := range p.groups {
		for _, r := range g.runs {
			do(g, r)
		}
	}
}

// label is that of the light, with the number of the piece where it has several.
func (p *plan) label(r *run) string {
	pieces, at := 0, 0
	for _, other := range p.runs {
		if other.label == r.label {
			pieces++
			if other == r {
				at = pieces
			}
		}
	}
	if pieces < 2 {
		return r.label
	}
	return fmt.Sprintf("%s, part %d of %d", r.label, at, pieces)
}

// size is the length of a run where that is plain in millimetres, else its pixels.
func (p *plan) size(r *run) string {
	mm := float64(p.pitch(r.pixels)) * 1000
	if math.Abs(mm-math.Round(mm)) < 1e-6 {
		return "length: " + plain(math.Round(mm)/1000) + " m"
	}
	return "pixels: " + strconv.Itoa(r.pixels)
}

// widest is the length of the longest identifier of a cable with its colon.
func (p *plan) widest() int {
	wide := 0
	p.each(func(g *group, r *run) {
		wide = max(wide, len(g.feeder)+1)
		for _, f := range r.feeds {
			wide = max(wide, len(f.id)+1)
		}
	})
	return wide
}

// cuts says where the positive of a run is cut: where the pieces of its feeds meet.
func cuts(r *run) string {
	var list []string
	for _, f := range r.feeds {
		if f.from > 0 {
			list = append(list, fmt.Sprintf("{at: px%d, pole: plus}", f.from))
		}
	}
	if list == nil {
		return ""
	}
	return ", cuts: [" + strings.Join(list, ", ") + "]"
}

func station(r *run, mark int) string {
	switch mark {
	case 0:
		return r.id + "@start"
	case r.pixels:
		return r.id + "@end"
	}
	return fmt.Sprintf("%s@px%d", r.id, mark)
}

// metres is a length rounded up to 0.1 m.
func metres(length unit.Metre) string {
	return plain(math.Ceil(float64(length)*10-1e-9)/10) + " m"
}

func percent(r unit.Ratio) string { return plain(math.Round(float64(r)*1e4)/100) + " %" }

func plain(x float64) string {
	return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'f', -1, 64)
}

// quoted is a text in double quotes, as YAML reads it.
func quoted(text string) string { return strconv.Quote(text) }
