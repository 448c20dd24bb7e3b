package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// mostSilent is how many fuses the table of silent power lists.
const mostSilent = 12

// printSilent lists, for every fuse, the place behind it at which a fault may burn with most and no fuse sees it; and of each supply the worst that has
// no fuse before it.
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
	bare := map[string]study.Silent{} // by the supplies on the place
	for _, s := range c.Silent() {
		on := study.Several(c.Network.Homes(s.Fault.At))
		if !slices.ContainsFunc(s.Near, func(fuse string) bool { return behind[fuse] }) && s.Watts > bare[on].Watts {
			bare[on] = s
		}
	}
	for _, on := range scheme.IDs(bare) {
		lines = append(lines, line{"– of " + on, bare[on]})
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
		text += fmt.Sprintf("; %s more, and --json has every place", study.Counted(more, "fuse"))
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

// printJoints lists the joints that may make most while nobody notices.
func (c *checked) printJoints(p *page) {
	list := slices.DeleteFunc(slices.Clone(c.Bad()), func(j study.Joint) bool { return j.Amps == 0 })
	if len(list) == 0 {
		return
	}
	slices.SortStableFunc(list, func(a, b study.Joint) int { return cmp.Compare(step(b.Unnoticed.Watts), step(a.Unnoticed.Watts)) })
	t := p.table("What a joint that gets bad may make, no fuse seeing it (most while no light leaves its aims)", "joint", "load A", "at 1 V W", "unseen W", "V", "over", "case")
	for _, j := range list[:min(len(list), mostSilent)] {
		if !j.Unnoticed.Known {
			t.row(j.At, figures(j.Amps, 1), figures(j.Watts, 1), "–", "–", "–", "–")
			continue
		}
		over := j.Unnoticed.Ohms.String()
		if j.Unnoticed.Ever {
			over = "any"
		}
		t.row(j.At, figures(j.Amps, 1), figures(j.Watts, 1), figures(j.Unnoticed.Watts, 1), figures(j.Unnoticed.Volts, 1), over, j.Unnoticed.Case.Name)
	}
	t.print()
	text := "Over any: other feeds take over, and nobody notices at all"
	if more := len(list) - mostSilent; more > 0 {
		text += fmt.Sprintf("; %s more, and --json has every joint", study.Counted(more, "joint"))
	}
	p.wrap(text + ".")
	p.blank()
}

// The JSON of a joint that gets bad.
type jointJSON struct {
	At     string   `json:"at"`
	Amps   *float64 `json:"load_amps"`
	AtVolt *float64 `json:"watts_at_1v"`
	Watts  *float64 `json:"watts"`
	Volts  *float64 `json:"volts"`
	Ohms   *float64 `json:"ohms"`
	Case   *string  `json:"case"`
	Unseen bool     `json:"never_noticed"`
}

func jointsJSON(list []study.Joint) []jointJSON {
	out := []jointJSON{}
	for _, j := range list {
		line := jointJSON{At: j.At, Amps: number(j.Amps), AtVolt: number(j.Watts), Unseen: j.Unnoticed.Ever}
		if u := j.Unnoticed; u.Known {
			line.Watts, line.Volts, line.Ohms, line.Case = number(u.Watts), number(u.Volts), number(u.Ohms), text(u.Case.Name)
		}
		out = append(out, line)
	}
	return out
}

// printDivided says what several small fuses do for a run, and what one of their sum would.
func (c *checked) printDivided(p *page) {
	list := c.Divided()
	if len(list) == 0 {
		return
	}
	t := p.table("Several small fuses, or one of their sum (a fault between the poles, unseen, in the dark)", "", "fuses", "sum A", "in a lead W", "one W", "whole tape W", "one W", "cut tape W", "one W", "is")
	best := list[0]
	for _, d := range list {
		is := "whole"
		if d.Is {
			is = "cut"
		}
		t.row(d.Run, fmt.Sprint(len(d.Fuses)), figures(d.Sum, 1), figures(d.Lead.Several, 1), figures(d.Lead.One, 1), figures(d.Whole.Several, 1), figures(d.Whole.One, 1), figures(d.Cut.Several, 1), figures(d.Cut.One, 1), is)
		if d.Whole.Several-d.Cut.Several > best.Whole.Several-best.Cut.Several {
			best = d
		}
	}
	t.print()
	p.wrap(fmt.Sprintf("%s: on whole tape its %d fuses leave %v, for all feeds meet in the fault; one of %v would leave %v. Cut between the feeds, so that each piece has a fuse to itself, they leave %v. In a lead they leave %v while the tape is whole, for the others feed it from its far end, and %v where it is cut.",
		best.Run, len(best.Fuses), best.Whole.Several, best.Sum, best.Whole.One, best.Cut.Several, best.Lead.Several, best.LeadCut.Several))
	p.blank()
}

// The JSON of what several fuses do for a run.
type dividedJSON struct {
	Run   string   `json:"run"`
	Fuses []string `json:"fuses"`
	Sum   *float64 `json:"sum_amps"`
	Is    bool     `json:"is_cut"`
	Lead  twoJSON  `json:"lead_watts"`
	Apart twoJSON  `json:"cut_lead_watts"`
	Whole twoJSON  `json:"whole_watts"`
	Cut   twoJSON  `json:"cut_watts"`
}

type twoJSON struct {
	Several *float64 `json:"several"`
	One     *float64 `json:"one"`
}

func dividedListJSON(list []study.Division) []dividedJSON {
	out := []dividedJSON{}
	two := func(t study.Two) twoJSON { return twoJSON{number(t.Several), number(t.One)} }
	for _, d := range list {
		out = append(out, dividedJSON{d.Run, d.Fuses, number(d.Sum), d.Is, two(d.Lead), two(d.LeadCut), two(d.Whole), two(d.Cut)})
	}
	return out
}
