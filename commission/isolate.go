package commission

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// A Cutoff is what to open together so that a thing is dead: the fuses that its positive is fed by, the supplies that no fuse parts it from, and the
// data leads to unplug.
type Cutoff struct {
	Of         string
	Fuses      []string // A1.1.fuse, W1.fuse
	Supplies   []string // those that are still to be chosen among them
	Leads      []string // data leads: of runs all that bring data and a ground; of runs and boards those that carry the supply
	Powered    []string // which of these carry the supply
	Capacitors []string
}

// Isolated is how to make each run, and each board with its bars and the terminals of its ways, dead. What is still to be chosen counts as copper that
// leads, and a supply as live.
func Isolated(ctx context.Context, st *study.Study) ([]Cutoff, error) {
	joined, err := joinedWhole(ctx, st)
	if err != nil {
		return nil, fmt.Errorf("commission: %w", err)
	}
	return isolated(joined), nil
}

func isolated(joined *study.Study) (list []Cutoff) {
	for _, id := range scheme.IDs(joined.Scheme.Runs) {
		list = append(list, cutoffOfRun(joined, id))
	}
	for _, id := range scheme.IDs(joined.Scheme.Boards) {
		list = append(list, cutoff(joined, id))
	}
	return list
}

// cutoff is what parts a thing from all that feeds it.
func cutoff(joined *study.Study, id string) Cutoff {
	fed, powered := joined.Network.Isolating(id)
	return Cutoff{Of: id, Fuses: fed.Fuses, Supplies: fed.Bare, Leads: powered, Powered: powered}
}

// cutoffOfRun is the same of a run, with its data leads and capacitors.
func cutoffOfRun(joined *study.Study, run string) Cutoff {
	s, c := joined.Scheme, cutoff(joined, run)
	leads := map[string]bool{}
	for _, lead := range c.Powered {
		leads[lead] = true
	}
	for lead, d := range s.Data {
		if d.To.Element == run || d.From.Element == run && d.From.Kind != scheme.PortRef {
			leads[lead] = true
		}
	}
	c.Leads = scheme.IDs(leads)
	for _, id := range scheme.IDs(s.Capacitors) {
		if s.Capacitors[id].At.Element == run {
			c.Capacitors = append(c.Capacitors, id)
		}
	}
	return c
}

// fuseNames are fuses as people say them: A1.1, W1.
func fuseNames(fuses []string) []string {
	names := slices.Clone(fuses)
	for i := range names {
		names[i] = strings.TrimSuffix(names[i], ".fuse")
	}
	return names
}

// isolate is how to make each run dead later.
func (m *maker) isolate() Stage {
	g := Stage{
		Name: "How to isolate a run",
		Why:  "A run that several ways feed stays live when one fuse is drawn. Draw all that are named, together; then measure, for lists grow old.",
		Stop: "Do not touch what still shows a voltage.",
		Notes: []string{
			"The return stays joined, and with it the data ground: part the data leads too, for a live port feeds a dead tape through its data core, and a current that comes home by a data ground flows on.",
		},
	}
	g.Sheets = []Worksheet{m.isolateSheet()}
	for _, c := range isolated(m.joined) {
		do := strings.Join(m.cutting(c), "; ")
		g.Sheets[0].Rows = append(g.Sheets[0].Rows, m.row(c.Of, c.Of, c.Of, m.called(c.Of), study.Capital(do)))
		g.Steps = append(g.Steps, m.isolating(c, do))
	}
	for _, b := range m.gaps {
		if by := m.stillLive(b); len(by) > 0 {
			g.Steps = append(g.Steps, Step{Do: fmt.Sprintf("Behind the fuse of %s copper stays live by %s", b.name, study.Listed(by)), State: "in use, its fuse out", About: []string{b.name}})
		}
	}
	return g
}

// isolating is that a thing is dead once all is done that makes it so.
func (m *maker) isolating(c Cutoff, do string) Step {
	between := [2]string{"each piece of " + c.Of + " +", c.Of + " −"}
	if _, board := m.s.Boards[c.Of]; board {
		between[0] = inlet(c.Of) + " and each way of " + c.Of + " +"
	}
	return Step{Do: m.fullName(c.Of) + ": " + do, Between: between, State: "in use", About: []string{c.Of}, Reading: nothing(), Rests: restsDead}.in("isolate", c.Of, "dead")
}

// stillLive is what keeps the copper behind a fuse live that is out.
func (m *maker) stillLive(b gap) []string {
	if b.fuse == "" {
		return nil
	}
	back := m.joined.BackFed(b.out)
	return append(fuseNames(back.Fuses), m.openSupplies(back.Bare)...)
}

// cutting is what to do so that a thing is dead.
func (m *maker) cutting(c Cutoff) (do []string) {
	if len(c.Fuses) > 0 {
		do = append(do, "take out the "+byNumber(len(c.Fuses), "fuse ", "fuses ")+study.Listed(fuseNames(c.Fuses)))
	}
	if len(c.Supplies) > 0 {
		do = append(do, "switch off "+study.Listed(m.openSupplies(c.Supplies))+", for no fuse lies between")
	}
	if len(c.Leads) > 0 {
		text, carry := m.parting(c), byNumber(len(c.Powered), "carries", "carry")
		switch {
		case len(c.Powered) == len(c.Leads):
			text += ", which " + carry + " the supply"
		case len(c.Powered) > 0:
			text += "; of these " + study.Listed(c.Powered) + " " + carry + " the supply"
		}
		do = append(do, text)
	}
	if len(c.Capacitors) > 0 {
		do = append(do, "discharge "+study.Listed(c.Capacitors)+" through a resistor")
	}
	if len(c.Fuses)+len(c.Supplies) == 0 {
		do = append(do, "nothing feeds it")
	}
	return do
}

// parting is how to part a thing from its data leads: at the port those that have a plug there, the others where they are joined.
func (m *maker) parting(c Cutoff) string {
	var ported, joined []string
	for _, id := range c.Leads {
		if m.s.Data[id].From.Kind == scheme.PortRef {
			ported = append(ported, id)
		} else {
			joined = append(joined, id)
		}
	}
	text := ""
	if ported != nil {
		text = "unplug " + study.Listed(ported) + " at the port"
	}
	if joined != nil {
		if text != "" {
			text += ", "
		}
		text += "part " + study.Listed(joined) + " at a plug in it, or at its end on a run where it has none"
	}
	return text
}

// openSupplies are supplies by name; of one that is still to be chosen it is said.
func (m *maker) openSupplies(ids []string) (names []string) {
	for _, id := range ids {
		if _, chosen := parts.Get[parts.Supply](m.s.Library, m.s.Supplies[id].Part); !chosen {
			id += " (still to be chosen)"
		}
		names = append(names, id)
	}
	return names
}

// isolateSheet is what to take out together.
func (m *maker) isolateSheet() Worksheet {
	return Worksheet{
		Name: "isolate", Title: "What to take out together, to make a run or board dead", Warning: "Supplies off first, then the fuses out and the leads parted; only then supplies on again for the rest (common practice, no source).",
		Notes:   []string{"All of a line at once. Dead is at most 0.5 V, of a run from each piece of its + to its −, of a board at its inlet and at each of its ways; wait a minute for capacitors that drain slowly."},
		Columns: []Column{words("Of"), words("Called"), words("Do"), {Head: "Dead", Field: "dead", Kind: Ticked, Quiet: true}},
	}
}
