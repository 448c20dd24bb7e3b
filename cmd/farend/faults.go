package main

import (
	"fmt"
	"math"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/report"
	"farend/study"
	"farend/unit"
)

// printFarShorts lists, for every fuse, the short at the far end of what it feeds.
func (c *checked) printFarShorts(p *page) {
	t := p.table("Shorts at the far end (bolted; the least that the fuse carries; ended if supplies hold their limit)", "", "short at", "A", "opens from A", "holds for", "opens within", "ended within", "rests on")
	for _, w := range c.Protection(c.assessed) {
		if w.Far == nil {
			continue
		}
		least := "–"
		if g, ok := c.Guard(w.ID + ".fuse"); ok && g.Fuse != nil {
			if amps, known := c.Fusing(g); known {
				least = figures(amps, 1)
			}
		}
		rests := "–"
		if on := w.Far.Rests(); len(on) > 0 {
			rests = study.Several(on)
		}
		t.row(w.ID, w.Far.Place, figures(w.Far.Amps, 1), least, holding(w.Far.Holds), duration(w.Far.Opens), duration(w.Far.Ends), rests)
	}
	t.print()
	bare := report.Bare(c.Scheme)
	if c.Struck() != nil && len(bare) > 0 {
		p.wrap(fmt.Sprintf("Without a fuse at its supply: %s. Nothing opens for a short in it.", study.Several(bare)))
		p.blank()
	}
}

// endless reports whether a time has no end.
func endless(t unit.Second) bool { return math.IsInf(float64(t), 1) }

// holding is for how long a fuse holds.
func holding(t unit.Second) string {
	if endless(t) {
		return "for ever"
	}
	return t.String()
}

// duration is a time in a table: never, where it has no end.
func duration(t unit.Second) string {
	if endless(t) {
		return "never"
	}
	return t.String()
}

// mostFaults is how many faults a table lists.
const mostFaults = 12

// printFaults lists the faults that do most harm, a line each.
func (c *checked) printFaults(p *page) {
	t := c.Struck()
	if t == nil || len(t.Faults) == 0 {
		return
	}
	tales := t.Tales()
	on, harmless := 0, 0
	for _, f := range tales {
		if endless(f.Slow) {
			on++
			if f.Grade() < finding.Fails {
				harmless++
			}
		}
	}
	table := p.table("Faults, the worst first (most current; what surely opens first; copper that bears it worst, and how)", "fault at", "kind", "over", "A", "opens first", "ended", "on with A", "worst for", "%", "verdict")
	for _, f := range tales[:min(len(tales), mostFaults)] {
		first, worst, share := "none", "–", "–"
		if len(f.First) > 0 {
			first = strings.TrimSuffix(study.Several(f.First), ".fuse")
		}
		if b := f.Harm.Bearer; b != nil {
			worst, share = b.Name, percent(f.Harm.Verdict.Value/f.Harm.Verdict.Limit)
		}
		if f.Lifted != "" && f.Harm.Verdict.Grade < finding.Danger {
			worst, share = f.Lifted+" by volts", "–"
		}
		table.row(placeOf(f.Fault), string(f.Fault.Kind), overOf(f.Fault), mostOf(f), first, duration(f.Slow), lasting(f.Lasts), worst, share, gradeText(f.Grade()))
	}
	table.print()
	text := fmt.Sprintf("%s, each bolted or over %v, in the dark and with the cap failed, with the least and with the most that may flow", study.Counted(len(tales), "fault"), study.Pinched)
	if on > 0 {
		text += fmt.Sprintf("; %d of them may go on for ever, %d without harm to copper", on, harmless)
	}
	if more := len(tales) - mostFaults; more > 0 {
		text += "; --json has them all"
	}
	p.wrap(text + ". Per cent of what the copper bears.")
	p.blank()
}

// lasting is a current that goes on, a dash where none does.
func lasting(amps unit.Ampere) string {
	if amps < 1e-3 {
		return "–"
	}
	return figures(amps, 1)
}

// percent is a share of what copper bears; beyond a thousand times it is only that.
func percent(share float64) string {
	switch {
	case share > 1000:
		return "> 99999"
	case share < 0.0005:
		return "–"
	}
	return unit.Number(100*share, 3)
}

func placeOf(f network.Fault) string {
	if f.To != "" {
		return f.At + " to " + f.To
	}
	if f.Home != "" {
		return f.At + " by " + f.Home
	}
	return f.At
}

// overOf is the resistance of a fault, a dash where it is bolted.
func overOf(f network.Fault) string {
	if f.Ohms > 0 {
		return f.Ohms.String()
	}
	return "–"
}

// mostOf is what flows through a fault at most; nothing does where something is open, or lands the wrong way round.
func mostOf(f study.Tale) string {
	if f.Fault.Kind == network.PoleOpen || f.Fault.Kind == network.Reversed {
		return "–"
	}
	return figures(f.Amps, 1)
}

// The JSON of the faults.
type faultJSON struct {
	At         string       `json:"at"`
	Kind       string       `json:"kind"`
	Ohms       *float64     `json:"ohms"`
	Opens      cornerJSON   `json:"opens_corner"`
	Through    throughJSON  `json:"let_through_corner"`
	Lasts      *float64     `json:"lasts_amps"`
	Volts      *float64     `json:"lower_volts"`
	Pulses     []string     `json:"pulses"`
	Conductors []harmedJSON `json:"conductors"`
	OK         bool         `json:"ok"`
}

type cornerJSON struct {
	Amps  *float64 `json:"amps"`
	Opens []string `json:"opens"`
	Ends  *float64 `json:"clearing_s"`
}

type throughJSON struct {
	Amps  *float64 `json:"amps"`
	Heat  *float64 `json:"i2t"`
	Opens []string `json:"opens"`
	Ends  *float64 `json:"clearing_s"`
}

type harmedJSON struct {
	ID      string   `json:"id"`
	Amps    *float64 `json:"amps"`
	Lasts   *float64 `json:"lasts_amps"`
	Heat    *float64 `json:"i2t"`
	Stands  *float64 `json:"withstand_i2t"`
	Celsius *float64 `json:"celsius"`
	OK      bool     `json:"ok"`
}

type clearingJSON struct {
	Fast *float64 `json:"fast"`
	Slow *float64 `json:"slow"`
}

// struckJSON lists the faults in the order in which they were followed; none where they were not.
func struckJSON(t *study.Struck) []faultJSON {
	list := []faultJSON{}
	if t == nil {
		return list
	}
	for i := range t.Faults {
		list = append(list, faultAsJSON(t, &t.Faults[i]))
	}
	return list
}

func faultAsJSON(t *study.Struck, f *study.Faulted) faultJSON {
	out := faultJSON{At: placeOf(f.Fault), Kind: string(f.Fault.Kind), Ohms: number(f.Fault.Ohms), Pulses: []string{}, Conductors: []harmedJSON{}, OK: true}
	opens, through := f.Slowest(network.Opens), f.Largest(network.Through)
	if opens != nil {
		out.Opens = cornerJSON{number(unit.Ampere(math.Abs(float64(opens.Amps)))), opened(opens), number(opens.Slow)}
		out.Pulses = append(out.Pulses, opens.Pulses...)
	}
	if through != nil {
		out.Through = throughJSON{number(unit.Ampere(math.Abs(float64(through.Amps)))), number(through.Heat()), opened(through), number(through.Slow)}
	}
	lasts := unit.Ampere(0)
	for _, k := range f.Strikes {
		lasts = max(lasts, k.Lasts)
		out.OK = out.OK && k.Found
	}
	out.Lasts = number(lasts)
	if f.Fault.Kind == network.Bridged {
		volts := unit.Volt(0)
		for _, k := range f.Strikes {
			volts = max(volts, k.Volts)
		}
		out.Volts = number(volts)
	}
	if _, _, is := t.Burst(f); is {
		out.OK = false
	}
	for _, h := range t.Harmed(f) {
		line := harmedJSON{ID: h.Bearer.Name, Amps: number(h.Amps), Lasts: number(h.Lasts), Heat: number(h.Heat), OK: h.Verdict.Grade < finding.Fails}
		if h.Bearer.Stands > 0 {
			line.Stands = number(h.Bearer.Stands)
		}
		if t, ok := h.Bearer.Celsius(h.Overstepped); ok {
			line.Celsius = number(t)
		}
		out.Conductors, out.OK = append(out.Conductors, line), out.OK && line.OK
	}
	return out
}

// opened lists the fuses of a strike in the order in which they surely open.
func opened(k *study.Strike) []string {
	list := []string{}
	for _, p := range k.Phases {
		list = append(list, p.Opens...)
	}
	return list
}
