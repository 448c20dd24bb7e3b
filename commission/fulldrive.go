package commission

import (
	"fmt"
	"math"
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
		return m.leftOut(Step{Do: "Leave it out. " + strings.Join(why, " "), State: state})
	}
	other, err := m.allOnAt(1)
	if err == nil {
		err = other.vary()
	}
	if err != nil {
		return Stage{}, err
	}
	g.Steps = append(g.Steps, Step{Do: "Cap off, every channel of every run full on, a minute by the clock; one person at the switch", State: state})
	lowest := other.lowestOfAll(fullOn, state)
	g.Steps = append(g.Steps, other.atSupplies(fullOn, state)...)
	g.Steps = append(g.Steps, lowest...)
	g.Sheets = []Worksheet{m.supplySheet(), m.lowestSheet(lowest)}
	g.Steps = append(g.Steps, Step{Do: "Cap back on, and seen to act: the amperes of the last state again", State: state})
	return g, nil
}

// leftOut is the stage of a design that does not bear full drive for sure: what of it is left out, and the cap, seen to act, where all that is on at it is
// borne. What tapes draw varies by more than a cap takes away, so amperes are held against those of the same installation in its fullest state.
func (m *maker) leftOut(why Step) (Stage, error) {
	g := Stage{
		Name:  "Full drive: not done here",
		Why:   "The cap is a comfort of the control system and never a protection: one day it fails, and then this is what the design does not bear for sure.",
		Steps: []Step{why},
	}
	last, lit := m.fullest()
	before := m.st.Result(last.in)
	if m.s.Aims.Cap == nil || *m.s.Aims.Cap >= 1 || len(m.open) > 0 || !lit || before == nil || !before.Found() || len(before.Limited) > 0 {
		return g, nil
	}
	capped, err := m.allOnAt(*m.s.Aims.Cap)
	if err != nil {
		return Stage{}, err
	}
	r := capped.st.Result(fullOn)
	if r == nil || !r.Found() || len(r.Limited) > 0 || len(capped.overload(r)) > 0 {
		return g, nil
	}
	full, err := m.allOnAt(1)
	if err != nil {
		return Stage{}, err
	}
	open := full.st.Result(fullOn)
	if given(before) <= 0 || open == nil || !open.Found() {
		return g, nil
	}
	acts, fails := given(r)/given(before), given(open)/given(before)
	state := "every channel asked for full on, with the cap"
	g.Live = true
	g.Stop = fmt.Sprintf("Switch off at once where all supplies together give more than %.2f times what they gave in %s: the cap does not act.", math.Sqrt(acts*fails), last.name)
	g.Notes = []string{fmt.Sprintf("Tapes differ by more than a cap takes away, so amperes are held against those that were read in %s on the same day, of all supplies together.", last.name)}
	g.Steps = append(g.Steps, Step{
		Do:    fmt.Sprintf("The cap of %s, seen to act: ask for every channel of every run full on, for ten seconds; one person at the switch", short(m.s.Aims.Cap.String())),
		State: state, Expect: fmt.Sprintf("about %.2f times the amperes of %s where it acts, %.2f times where it does not", acts, last.name, fails),
	})
	return g, nil
}

// fullOn is the case in which all channels are on alike.
const fullOn = "state/full"

// allOnAt makes what is asked of the scheme with every channel of every run on at a level, and nothing of its bands yet.
func (m *maker) allOnAt(level unit.Ratio) (*maker, error) {
	alone := func(_ int, c network.Case) bool { return c.Name == fullOn }
	nominal, err := m.base.Sketches(m.ctx, []*scheme.Scheme{corner{}.of(m.allOn(level))}, alone)
	if err != nil {
		return nil, err
	}
	return &maker{ctx: m.ctx, st: nominal[0], s: nominal[0].Scheme, n: nominal[0].Network, gaps: m.gaps, landings: m.landings, cases: []string{fullOn}}, nil
}

// allOn is the scheme with one state alone, in which all channels are on at a level, with no cap.
func (m *maker) allOn(level unit.Ratio) *scheme.Scheme {
	other := *m.s
	other.Aims.Cap = nil
	colour := scheme.White()
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
	return append(sentences(m.overload(r)), m.railsUnknown(r)...)
}

// overload is what would carry more in a solved case than it may.
func (m *maker) overload(r *network.Result) []over {
	return slices.Concat(m.overFuses(r), m.overCores(r), m.overContacts(r), m.overRails(r))
}

// An over is something that would carry more than it may.
type over struct {
	of        overKind
	name      string
	amps, may unit.Ampere
}

// An overKind is what it is, in words before its name, of one and of several; and what is said before the amperes that it may carry, and behind them.
type overKind struct{ one, several, is, are, behind string }

var (
	overFuse     = ratedFor("The fuse of ", "The fuses of ")
	overWay      = ratedFor("", "")
	overWarmFuse = overKind{"The fuse of ", "The fuses of ", "holds ", "hold ", " in the hottest air"}
	overInlet    = ratedFor("The inlet of ", "The inlets of ")
	overHolder   = ratedFor("The fuse holder of ", "The fuse holders of ")
	overJoint    = ratedFor("A contact of ", "Contacts of ")
	overSwitch   = ratedFor("The contact of ", "The contacts of ")
	overCore     = overKind{"", "", "may carry ", "may carry ", ""}
	overRail     = overKind{"The rails of ", "The rails of ", "may carry ", "may carry ", " at the lower end of the spread"}
)

// ratedFor is the kind of what has a rating.
func ratedFor(one, several string) overKind { return overKind{one, several, "is for ", "are for ", ""} }

// overPlug is that of the connectors of one part.
func overPlug(part string) overKind {
	return ratedFor("The connector "+part+" of ", "The connectors "+part+" of ")
}

// sentences say what would carry too much, all of which the same is to be said in one sentence.
func sentences(list []over) (why []string) {
	said := map[string]bool{}
	for _, o := range list {
		amps, may := unit.Apart(o.amps, o.may)
		var names []string
		for _, other := range list {
			if a, b := unit.Apart(other.amps, other.may); other.of == o.of && a == amps && b == may && !slices.Contains(names, other.name) {
				names = append(names, other.name)
			}
		}
		text := fmt.Sprintf("%s%s would carry %s, and %s%s%s.", o.of.one, o.name, amps, o.of.is, may, o.of.behind)
		if len(names) > 1 {
			text = fmt.Sprintf("%s%s would carry %s each, and %s%s%s.", o.of.several, study.Listed(names), amps, o.of.are, may, o.of.behind)
		}
		if !said[text] {
			why = append(why, text)
		}
		said[text] = true
	}
	return why
}

// overFuses are the fuses and ways that would carry more in a solved case than they are rated for.
func (m *maker) overFuses(r *network.Result) (list []over) {
	for _, b := range m.gaps {
		amps := b.amps(r).RMS
		if part, ok := parts.Get[parts.Fuse](m.s.Library, b.fuse); ok {
			if of, may := m.holds(b, part); amps > may {
				list = append(list, over{of, b.name, amps, may})
			}
		}
		if way, ok := m.s.WayPart(b.name); ok && b.way && amps > way.Amps.Is {
			list = append(list, over{overWay, b.name, amps, way.Amps.Is})
		}
	}
	return list
}

// holds is what a fuse may carry where it stands: its rating, or less where the hottest air takes from it.
func (m *maker) holds(b gap, part *parts.Fuse) (of overKind, may unit.Ampere) {
	curve, known := network.Curve(m.s.Library, part)
	at, fitted := m.st.Guard(b.name + ".fuse")
	if !known || !fitted {
		return overFuse, part.Rating.Is
	}
	if factor, _ := curve.Factor(at.Warm); factor < 1 {
		return overWarmFuse, unit.Ampere(factor) * part.Rating.Is
	}
	return overFuse, part.Rating.Is
}

// overCores are the cables that would carry more in a solved case than they may.
func (m *maker) overCores(r *network.Result) (list []over) {
	for _, id := range scheme.IDs(r.Cables) {
		c := r.Cables[id]
		if amps := max(c.Plus.RMS, c.Return.RMS); c.Clamped || amps > c.Iz {
			list = append(list, over{overCore, id, amps, c.Iz})
		}
	}
	return list
}

// overRails are the runs of which the rails would carry more in a solved case than they may for sure.
func (m *maker) overRails(r *network.Result) (list []over) {
	for _, id := range scheme.IDs(r.Runs) {
		if tape := m.s.Tape(id); tape != nil && tape.RailAmps.Given && r.Runs[id].RailAmps > tape.RailAmps.Lower() {
			list = append(list, over{overRail, id, r.Runs[id].RailAmps, tape.RailAmps.Lower()})
		}
	}
	return list
}

// railsUnknown says of which runs it is not known what their rails may carry.
func (m *maker) railsUnknown(r *network.Result) []string {
	var unknown []string
	for _, id := range scheme.IDs(r.Runs) {
		if tape := m.s.Tape(id); tape != nil && !tape.RailAmps.Given {
			unknown = append(unknown, id)
		}
	}
	if unknown == nil {
		return nil
	}
	return []string{fmt.Sprintf("What the rails of %s may carry is not known.", study.Listed(unknown))}
}

// overContacts are the inlets, connectors, fuse holders, junctions and contactors that would carry more in a solved case than they are rated for.
func (m *maker) overContacts(r *network.Result) (list []over) {
	see := func(of overKind, name string, amps, may unit.Ampere) {
		if amps > may {
			list = append(list, over{of, name, amps, may})
		}
	}
	heavier := func(cable string) unit.Ampere { return max(r.Cables[cable].Plus.RMS, r.Cables[cable].Return.RMS) }
	for _, id := range scheme.IDs(r.Boards) {
		if part, ok := m.s.BoardPart(id); ok {
			see(overInlet, id, max(r.Boards[id].Inlet.RMS, r.Boards[id].Return.RMS), part.Inlet.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(r.Cables) {
		for _, end := range endsOf(m.s.Cables[id]) {
			if part, ok := parts.Get[parts.Connector](m.s.Library, end.connector); ok {
				see(overPlug(end.connector), id, heavier(id), part.Amps.Is)
			}
		}
		if seat, ok := m.seat(id); ok {
			see(overHolder, id, r.Cables[id].Plus.RMS, seat.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Junctions) {
		if part, ok := parts.Get[parts.Junction](m.s.Library, m.s.Junctions[id].Part); ok {
			see(overJoint, id, m.n.FullCurrent(r, id), part.Amps.Is)
		}
	}
	for _, id := range scheme.IDs(m.s.Contactors) {
		if part, ok := parts.Get[parts.Relay](m.s.Library, m.s.Contactors[id].Part); ok {
			see(overSwitch, id, heavier(m.s.Contactors[id].In), part.Amps.Is)
		}
	}
	return list
}

// seat is the holder of the fuse in a cable.
func (m *maker) seat(cable string) (*parts.Connector, bool) {
	fuse, ok := parts.Get[parts.Fuse](m.s.Library, m.s.Cables[cable].Fuse)
	if !ok {
		return nil, false
	}
	return parts.Get[parts.Connector](m.s.Library, fuse.Seat)
}
