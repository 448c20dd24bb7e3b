package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/study"
	"farend/unit"
)

// mostSilent is how many fuses the table of silent power lists.
const mostSilent = 12

// printSilent lists, for every fuse, the place behind it at which a fault may burn with most and no fuse sees it; and what stands before all fuses.
func (c *checked) printSilent(p *page) {
	type line struct {
		behind string
		study.Silent
	}
	var lines []line
	behind := map[string]bool{}
	for _, w := range c.Protection(c.assessed) {
		if worst, ok := c.SilentBehind(w.ID + ".fuse"); ok {
			lines = append(lines, line{w.ID, worst})
		}
		behind[w.ID+".fuse"] = true
	}
	bare := line{behind: "–"}
	for _, s := range c.Silent() {
		if !slices.ContainsFunc(s.Near, func(fuse string) bool { return behind[fuse] }) && s.Watts > bare.Watts {
			bare.Silent = s
		}
	}
	if bare.Watts > 0 {
		lines = append(lines, bare)
	}
	if len(lines) == 0 {
		return
	}
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(step(b.Watts), step(a.Watts)) })
	t := p.table("What a fault may burn with for ever, no fuse seeing it (behind each fuse, the most first)", "behind", "at", "kind", "W", "V", "A", "over", "limited by", "past", "case")
	for _, l := range lines[:min(len(lines), mostSilent)] {
		past := "–"
		if len(l.Opened) > 0 {
			past = strings.ReplaceAll(study.Several(l.Opened), ".fuse", "")
		}
		t.row(l.behind, l.Fault.At, string(l.Fault.Kind), figures(l.Watts, 1), figures(l.Volts, 1), figures(l.Amps, 1), l.Fault.Ohms.String(), l.LimitedBy(), past, l.Case.Sound().Name)
	}
	t.print()
	text := "The most over all resistances, once every fuse has opened that surely does within an hour"
	if more := len(lines) - mostSilent; more > 0 {
		text += fmt.Sprintf("; %s more, and --json has every place", counted(more, "fuse"))
	}
	p.wrap(text + ".")
	p.blank()
}

// step is a power on a scale of steps of a fifth of a per cent, within which lines keep their order.
func step(w unit.Watt) float64 { return math.Round(500 * math.Log(float64(w))) }

// The JSON of the silent power at a place.
type silentJSON struct {
	At      string    `json:"at"`
	Kind    string    `json:"kind"`
	Watts   powerJSON `json:"silent_watts"`
	Amps    *float64  `json:"silent_amps"`
	Volts   *float64  `json:"silent_volts"`
	Ohms    *float64  `json:"ohms"`
	Case    string    `json:"case"`
	Limited string    `json:"limited_by"`
	Opened  []string  `json:"opened"`
	All     bool      `json:"all_orders"`
}

type powerJSON struct {
	Mean *float64 `json:"mean"`
	Peak *float64 `json:"peak"`
}

func silencesJSON(list []study.Silent) []silentJSON {
	out := []silentJSON{}
	for _, s := range list {
		line := silentJSON{At: s.Fault.At, Kind: string(s.Fault.Kind), Case: s.Case.Sound().Name, Limited: s.LimitedBy(), Opened: []string{}, All: !s.Cut}
		if !s.NotSure {
			line.Watts = powerJSON{number(s.Watts), number(s.Peak)}
			line.Amps, line.Volts, line.Ohms = number(s.Amps), number(s.Volts), number(s.Fault.Ohms)
		}
		line.Opened = append(line.Opened, s.Opened...)
		out = append(out, line)
	}
	return out
}
