package report

import (
	"fmt"
	"strings"

	"farend/addressing"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/sheet/drafting"
	"farend/study"
	"farend/unit"
)

// data is the schedule of ports, leads and addresses.
func (b *book) data() []layout.Leaf {
	s, ports := b.Study.Scheme, b.Study.Ports()
	if len(s.Data) == 0 {
		return nil
	}
	plan, err := addressing.New(s, addressing.First)
	var flow layout.Flow
	if len(ports) > 0 {
		flow.Add(b.ports(ports, plan), remark("Runs stand in the order in which data goes through them. Level margin: how far the worst level on the way of a port's data, in the state in which it is worst, is on the safe side of what the chip that takes it asks for (high enough, low enough, within what its input bears); below 0 it is missed."))
		if slowest, ok := study.Slowest(ports); ok && len(ports) > 1 {
			flow.Add(remark(fmt.Sprintf("The scheme is as slow as its slowest port, %s: %v, %v. A controller that works frames out between sending them makes fewer.", slowest.ID, slowest.Frame, slowest.Rate)))
		}
	} else {
		flow.Add(told("No port sends data."))
	}
	flow.Add(heading("Data leads"), b.leadTable())
	switch {
	case err != nil:
		flow.Add(heading("Addresses"), told(study.Capital(err.Error())+"."))
	case len(plan.Universes) > 0:
		flow.Add(heading("Receivers"), receivers(plan), told(plan.Asks()), heading("Universes"), intro("Each port begins with one of its own; a pixel stands in one as a whole."), universes(plan))
	}
	return b.bind(&flow, layout.Leaf{
		Name: "data", Outline: "Data and addresses", Title: "Which port sends to what, and under which numbers?",
		Desc:  "Schedule of data: ports with the runs in their chain, protocol and frame rate, leads, universes and slots.",
		Notes: fmt.Sprintf("Universes and slots: ANSI E1.31; slots count from 1, a universe has %d. The first universe is %d; farend addresses --first numbers from another, and --csv lists every pixel. Frame: how long a port takes for all its pixels by the protocol of their chips.", addressing.Slots, addressing.First) + b.gauges(),
	})
}

// ports are the ports with what hangs on each.
func (b *book) ports(list []study.Port, plan addressing.Plan) layout.Table {
	t := layout.Table{Columns: []layout.Column{
		{Head: "port"}, {Head: "runs", Share: 3}, {Head: "first lead"}, {Head: "length", Number: true}, {Head: "protocol", Share: 2}, {Head: "pixels", Number: true}, {Head: "frame", Number: true},
		{Head: "rate", Number: true}, {Head: "spare pixels", Number: true, Spare: true}, {Head: "universes"}, {Head: "universe.slot, first and last"}, {Head: "level margin", Number: true},
	}}
	s := b.Study.Scheme
	length := b.leadLengths()
	for _, p := range list {
		protocol := or(kind(p.Protocol))
		if p.Mixed != nil {
			protocol = "several: " + strings.Join(p.Mixed, ", ")
		}
		row := layout.Plain(p.ID, strings.Join(p.Runs, " → "), p.Lead, length(s.Data[p.Lead].Length), protocol, whole(p.Pixels), none, none, none, none, none, none)
		row[0].Anchor, row[0].To = "port:"+p.ID, b.leads(p.ID)
		if p.Known {
			row[6].Words, row[7].Words = milliseconds(p.Frame), said(p.Rate)
		}
		if p.Known && p.Aimed {
			row[8].Words = whole(p.Spare)
		}
		row[9].Words, row[10].Words = numbered(plan, p.ID)
		if least, ok := study.Least(b.Study.PortMargins(p)); ok {
			row[11].Words = millivolts(least.Volts)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// numbered is the universes of a port, and its first and last slot.
func numbered(plan addressing.Plan, port string) (universes, slots string) {
	var first, last addressing.Universe
	for _, u := range plan.Universes {
		if u.Port != port {
			continue
		}
		if first.Number == 0 {
			first = u
		}
		last = u
	}
	switch first.Number {
	case 0:
		return none, none
	case last.Number:
		return whole(first.Number), fmt.Sprintf("%d.1 to %d.%d", first.Number, last.Number, last.Slots)
	}
	return fmt.Sprintf("%d to %d", first.Number, last.Number), fmt.Sprintf("%d.1 to %d.%d", first.Number, last.Number, last.Slots)
}

// leadLengths writes the lengths of data leads.
func (b *book) leadLengths() func(*unit.Metre) string {
	var long []*unit.Metre
	for _, l := range b.Study.Scheme.Data {
		long = append(long, l.Length)
	}
	return lengths(long)
}

// leadTable is all data leads.
func (b *book) leadTable() layout.Table {
	t := layout.Table{Above: 1, Columns: []layout.Column{
		{Head: "lead"}, {Head: "from"}, {Head: "to"}, {Head: "part"}, {Head: "length", Number: true}, {Head: "section"}, {Head: "core by core", Share: 3}, {Head: "series", Number: true, Spare: true}, {Head: "buffer, and what feeds it", Share: 2, Spare: true},
		{Head: "edges"}, {Head: "power", Spare: true}, {Head: "label", Share: 1, Spare: true},
	}}
	s, length := b.Study.Scheme, b.leadLengths()
	for _, id := range scheme.IDs(s.Data) {
		l := s.Data[id]
		series, section := none, none
		if l.Series > 0 {
			series = said(l.Series)
		}
		if part, ok := parts.Get[parts.Cable](s.Library, l.Part); ok {
			section = fmt.Sprintf("%d\u202f×\u202f%s", part.Cores, b.style.Section(part.Area.Is))
		}
		row := layout.Plain(id, l.From.String(), l.To.String(), kind(l.Part), length(l.Length), section, drafting.CoreWords(s, id), series, or(strings.TrimPrefix(drafting.BufferWords(s, id), "buffer ")), none, or(power(l)), l.Label)
		row[0].Anchor, row[0].To = "lead:"+id, []string{"run-" + l.To.Element}
		if e, ok := b.Study.Edge(id); ok && e.Asked() {
			row[9] = graded(e.Grade())
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func receivers(plan addressing.Plan) layout.Table {
	t := layout.Table{Above: 1, Columns: []layout.Column{{Head: "board"}, {Head: "name", Spare: true}, {Head: "address", Spare: true}, {Head: "universes"}, {Head: "pixels", Number: true}}}
	for _, r := range plan.Receivers {
		numbers := whole(r.From)
		if r.To > r.From {
			numbers += " to " + whole(r.To)
		}
		t.Rows = append(t.Rows, layout.Plain(r.Board, or(r.Host), or(r.Address), numbers, whole(r.Pixels)))
	}
	return t
}

func universes(plan addressing.Plan) layout.Table {
	t := layout.Table{Above: 1, Columns: []layout.Column{{Head: "universe", Number: true}, {Head: "port"}, {Head: "slots", Number: true}, {Head: "from"}, {Head: "to"}, {Head: "multicast group"}}}
	for _, u := range plan.Universes {
		t.Rows = append(t.Rows, layout.Plain(whole(u.Number), u.Port, whole(u.Slots), u.From.String(), u.To.String(), u.Group))
	}
	return t
}
