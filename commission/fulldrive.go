package commission

import (
	"fmt"
	"slices"
	"strings"

	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// fullDrive is everything full on for a minute, where the design bears it.
func (m *maker) fullDrive() (Stage, error) {
	g := Stage{
		Name:  "Full drive, once, for a minute",
		Why:   "The cap is a comfort of the control system and never a protection: one day it fails. Better while somebody stands beside it.",
		Live:  true,
		Stop:  "Switch off at once where a reading is above its band, or anything smells or smokes.",
		Notes: []string{ownDraw},
	}
	state := "every channel full on, no cap"
	if why := m.against(); why != nil {
		return Stage{
			Name:  "Full drive: not done here",
			Why:   "The cap is a comfort of the control system and never a protection: one day it fails, and then this is what the design does not bear for sure.",
			Steps: []Step{{Do: "Leave it out. " + strings.Join(why, " "), State: state}},
		}, nil
	}
	const in = "state/full"
	alone := func(_ int, c network.Case) bool { return c.Name == in }
	nominal, err := m.base.Sketches(m.ctx, []*scheme.Scheme{corner{}.of(m.full())}, alone)
	if err != nil {
		return Stage{}, err
	}
	other := &maker{ctx: m.ctx, st: nominal[0], s: nominal[0].Scheme, n: nominal[0].Network, gaps: m.gaps, landings: m.landings, cases: []string{in}}
	if err := other.vary(); err != nil {
		return Stage{}, err
	}
	g.Steps = append(g.Steps, Step{Do: "Cap off, every channel of every run full on, a minute by the clock; one person at the switch", State: state})
	lowest := other.lowestOfAll(in, state)
	g.Steps = append(g.Steps, other.atSupplies(in, state)...)
	g.Steps = append(g.Steps, lowest...)
	g.Sheets = []Worksheet{m.supplySheet(), m.lowestSheet(lowest)}
	g.Steps = append(g.Steps, Step{Do: "Cap back on, and seen to act: the amperes of the last state again", State: state})
	return g, nil
}

// full is the scheme with one state alone, in which all is full on.
func (m *maker) full() *scheme.Scheme {
	other := *m.s
	other.Aims.Cap = nil
	colour, level := scheme.White(), unit.Ratio(1)
	colour.Word = "all"
	other.States = map[string]scheme.State{"full": {Level: &level, Colour: &colour}}
	return &other
}

// against says why full drive is not to be tried, one reason after the other; none where every number that is known allows it: the case in which the cap
// has failed, in its careful corner.
func (m *maker) against() (why []string) {
	r := m.st.Result(string(network.CapFailed))
	switch {
	case len(m.s.Runs) == 0 || len(m.s.Supplies) == 0:
		return []string{"There is nothing to drive."}
	case len(m.open) > 0:
		for _, open := range m.open {
			why = append(why, open.name+" is not chosen.")
		}
		return why
	case r == nil || !r.Found():
		return []string{"No operating point was found with the cap failed."}
	case len(r.Limited) > 0:
		return []string{study.Listed(r.Limited) + " would reach the limit."}
	}
	return slices.Concat(m.overFuses(r), m.overCores(r), m.overContacts(r), m.overRails(r))
}

// tooMuch is said of what would carry more than it is for; nothing of the rest.
func tooMuch(name string, amps, rated unit.Ampere) []string {
	if amps <= rated {
		return nil
	}
	return []string{fmt.Sprintf("%s would carry %v, and is for %v.", name, amps, rated)}
}

// overFuses says which fuses and ways would carry more in a solved case than they are rated for.
func (m *maker) overFuses(r *network.Result) (why []string) {
	for _, b := range m.gaps {
		amps := b.amps(r).RMS
		if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok {
			why = append(why, tooMuch("The "+b.words(), amps, part.Rating.Is)...)
		}
		if way, ok := m.s.WayPart(b.name); ok && b.way {
			why = append(why, tooMuch(b.name, amps, way.Amps.Is)...)
		}
	}
	return why
}

// overCores says which cables would carry more in a solved case than they may.
func (m *maker) overCores(r *network.Result) (why []string) {
	for _, id := range scheme.IDs(r.Cables) {
		c := r.Cables[id]
		if amps := max(c.Plus.RMS, c.Return.RMS); c.Clamped || amps > c.Iz {
			why = append(why, fmt.Sprintf("%s would carry %v, and may carry %v.", id, amps, c.Iz))
		}
	}
	return why
}

// overRails says which rails of runs would carry more in a solved case than they may for sure, and of which that is not known.
func (m *maker) overRails(r *network.Result) (why []string) {
	var unknown []string
	for _, id := range scheme.IDs(r.Runs) {
		tape := m.s.Tape(id)
		switch own := r.Runs[id]; {
		case tape == nil:
		case !tape.RailAmps.Given:
			unknown = append(unknown, id)
		case own.RailAmps > tape.RailAmps.Lower():
			why = append(why, fmt.Sprintf("The rails of %s would carry %v, and may carry %v at the lower end of the spread.", id, own.RailAmps, tape.RailAmps.Lower()))
		}
	}
	if unknown != nil {
		why = append(why, fmt.Sprintf("What the rails of %s may carry is not known.", study.Listed(unknown)))
	}
	return why
}

// overContacts says which inlets, connectors, fuse holders, junctions and contactors would carry more in a solved case than they are rated for.
func (m *maker) overContacts(r *network.Result) (why []string) {
	say := func(name string, amps, rated unit.Ampere) { why = append(why, tooMuch(name, amps, rated)...) }
	heavier := func(cable string) unit.Ampere { return max(r.Cables[cable].Plus.RMS, r.Cables[cable].Return.RMS) }
	for _, id := range scheme.IDs(r.Boards) {
		if part, ok := m.s.BoardPart(id); ok {
			say("The inlet of "+id, max(r.Boards[id].Inlet.RMS, r.Boards[id].Return.RMS), part.Inlet.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(r.Cables) {
		c := m.s.Cables[id]
		for _, name := range []string{c.Ends.From, c.Ends.To} {
			if part, ok := parts.Get[parts.Connector](m.s.Library, name); ok {
				say(fmt.Sprintf("The connector %s of %s", name, id), heavier(id), part.Amps.Is)
			}
		}
		fuse, _ := parts.Get[parts.Fuse](m.s.Library, c.Fuse)
		if fuse == nil {
			continue
		}
		if seat, ok := parts.Get[parts.Connector](m.s.Library, fuse.Seat); ok {
			say("The fuse holder of "+id, r.Cables[id].Plus.RMS, seat.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Junctions) {
		if part, ok := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[id].Part); ok {
			say("A contact of "+id, m.n.FullCurrent(r, id), part.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Contactors) {
		if part, ok := parts.Get[parts.Relay](m.s.Library, m.s.Contactors[id].Part); ok {
			say("The contact of "+id, heavier(m.s.Contactors[id].In), part.Amps.Is)
		}
	}
	return why
}
