package report

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// cables are the schedules of what is laid, and what it carries.
func (b *book) cables() []layout.Leaf {
	s := b.Study.Scheme
	if len(s.Cables) == 0 {
		return nil
	}
	laid := layout.Table{Columns: []layout.Column{
		{Head: "cable"}, {Head: "from"}, {Head: "to"}, {Head: "part", Share: 1}, {Head: "cores for each pole"}, {Head: "length", Number: true},
		{Head: "method"}, {Head: "in bundle", Number: true}, {Head: "air", Number: true}, {Head: "fuse in front", Share: 1}, {Head: "label", Share: 1, Spare: true},
	}}
	carries := layout.Table{Columns: []layout.Column{
		{Head: "cable"}, {Head: "load", Number: true}, {Head: "in state"}, {Head: "cap failed", Number: true}, {Head: "may carry Iz", Number: true}, {Head: "Iz used", Number: true},
		{Head: "volts lost", Number: true}, {Head: "hottest core", Number: true}, {Head: "core, cap failed", Number: true}, {Head: "contacts", Share: 1, Spare: true},
	}, Above: 1}
	var long []*unit.Metre
	for _, c := range s.Cables {
		long = append(long, c.Length)
	}
	length, failed := lengths(long), b.result(string(network.CapFailed))
	in, open := b.inFront(), []string(nil)
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		air, method, bundle, _ := c.Env(s)
		row := layout.Plain(id, c.From.String(), c.To.String(), kind(c.Part), b.cores(c), length(c.Length), string(method), whole(bundle), layout.Nominal(air), b.before(id, in[id]), c.Label)
		row[0].Anchor, row[0].To = "cable:"+id, b.leads(landing(c))
		laid.Rows = append(laid.Rows, row)
		at, load := b.loaded(id)
		r, solved := b.result(at.Name).Cables[id]
		open = append(open, b.waits(id)...)
		if !solved || len(b.waits(id)) > 0 { // its part is not chosen, or what feeds it
			bears := none
			if solved {
				bears = amps(b.bears(c, r))
			}
			carries.Rows = append(carries.Rows, layout.Plain(id, none, none, none, bears, none, none, none, none, or(contacts(c))))
			continue
		}
		carries.Rows = append(carries.Rows, layout.Plain(id, amps(load), condition(at), amps(heating(failed.Cables[id])), amps(b.bears(c, r)), percent(float64(load/b.bears(c, r))),
			millivolts(b.lost(id)), warmth(r), warmth(failed.Cables[id]), or(contacts(c))))
	}
	var flow layout.Flow
	flow.Add(laid, remark("Length is that of the cable; the loop is twice as long. In bundle: loaded circuits that lie together, itself counted. Each fuse in front has to protect the cable by itself or with the others named; into a fault in it current may come along tape from further ones (Protection)."))
	flow.Add(heading("What the cables carry"), intro("Heating current of the heavier core in the heaviest state or its peak, the most volts that the cable loses in any, mean over the cycle; and the heating current with the cap failed: every channel full on, with what pixels draw and set points at the upper ends of their spread."), carries)
	flow.Add(b.unsaid(open)...)
	return b.bind(&flow, layout.Leaf{
		Name: "cables", Outline: "Cables", Title: "Which cables are laid, and what do they carry?", Under: study.Counted(len(s.Cables), "cable"),
		Desc:  fmt.Sprintf("Schedule of %s: ends, part, length, how it is laid, the fuse in front; load, ampacity, volts lost and temperature.", study.Counted(len(s.Cables), "cable")),
		Notes: "Iz: IEC 60364-5-52 for the method, in the air and bundle stated; sources of each cable stand under What the numbers rest on. Volts lost are those of the whole loop, of a single pole those of its core, mean over the cycle, in the state in which they are most. Temperatures are those that the current would make in the cable's own air. A length that is estimated, or taken from the drawing, says so in its label: measure it." + b.gauges(),
	})
}

// gauges says what a wire gauge stands for; nothing where cross-sections are in mm².
func (b *book) gauges() string {
	if !b.style.Gauges {
		return ""
	}
	return " AWG: the thinnest gauge of the trade that has no less copper than the mm² of the part, for which all numbers are computed; a thinner wire is not covered."
}

// before names the fuses in front of a cable; those alone are not known that stand between it and a supply that is not chosen.
func (b *book) before(id string, fuses []string) string {
	if on := b.waits(id); len(on) > 0 {
		return unknown(on)
	}
	return or(strings.Join(fuses, ", "))
}

// cores are those of a pole, with their section.
func (b *book) cores(c scheme.Cable) string {
	part, ok := parts.Get[parts.Cable](b.Study.Scheme.Library, c.Part)
	if !ok {
		return none
	}
	perPole := c.PerPole()
	text := fmt.Sprintf("%d\u202f×\u202f%s", perPole, b.style.Section(part.Area.Is))
	if c.Poles() == 1 {
		text += ", " + string(c.Pole) + " alone"
	}
	return text
}

// bears is what each pole may carry where it lies; no number where its part does not say.
func (b *book) bears(c scheme.Cable, r network.Cable) unit.Ampere {
	part, ok := parts.Get[parts.Cable](b.Study.Scheme.Library, c.Part)
	_, method, _, _ := c.Env(b.Study.Scheme)
	if !ok || !network.Ampacity(part, method).Given {
		return unit.Ampere(math.NaN())
	}
	return r.Iz
}

// loaded is the lighting case in which the heavier core of a cable carries most.
func (b *book) loaded(id string) (network.Case, unit.Ampere) {
	c, amps := b.Study.Heaviest(func(r *network.Result) float64 { return float64(heating(r.Cables[id])) })
	return c, unit.Ampere(amps)
}

// lost is the most that a cable loses in any lighting case. That need not be the case with the largest heating current, for pulses of one mean heat more.
func (b *book) lost(id string) unit.Volt {
	_, volts := b.Study.Heaviest(func(r *network.Result) float64 { return math.Abs(float64(r.Cables[id].Drop)) })
	return unit.Volt(volts)
}

// result is what a case came to; empty where there is no such case, for then nothing is the heaviest.
func (b *book) result(name string) *network.Result {
	return cmp.Or(b.Study.Result(name), &network.Result{})
}

func heating(c network.Cable) unit.Ampere { return max(c.Plus.RMS, c.Return.RMS) }

// warmth is how warm the hottest core gets, as far as that is known.
func warmth(c network.Cable) string {
	if c.Clamped {
		return ">\u202f" + said(c.Celsius)
	}
	return said(c.Celsius)
}

// contacts are the connectors at the ends.
func contacts(c scheme.Cable) string {
	var ends []string
	if c.Ends.From != "" {
		ends = append(ends, c.Ends.From+" at "+c.From.String())
	}
	if c.Ends.To != "" {
		ends = append(ends, c.Ends.To+" at "+c.To.String())
	}
	return strings.Join(ends, "; ")
}

// inFront lists, by cable, the fuses that have to protect it.
func (b *book) inFront() map[string][]string {
	in := map[string][]string{}
	for _, w := range b.protection {
		if w.Rating == nil {
			continue
		}
		for _, cable := range w.Cables {
			in[cable] = append(in[cable], fmt.Sprintf("%s,\u202f%s", w.ID, layout.Nominal(*w.Rating)))
		}
	}
	return in
}

// landing is the run that a cable lands on, else the board or whatever else is at its end.
func landing(c scheme.Cable) string {
	for _, ref := range []scheme.Ref{c.To, c.From} {
		if ref.Kind == scheme.StationRef {
			return ref.Element
		}
	}
	return c.To.Element
}
