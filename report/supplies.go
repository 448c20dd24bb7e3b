package report

import (
	"fmt"
	"slices"
	"strings"

	"farend/layout"
	"farend/network"
	"farend/parts"
	"farend/scheme"
	"farend/study"
)

// supplies is the schedule of supplies, and what each gives in each case.
func (b *book) supplies() []layout.Leaf {
	s := b.Study.Scheme
	if len(s.Supplies) == 0 {
		return nil
	}
	t := layout.Table{Columns: []layout.Column{
		{Head: "supply"}, {Head: "part", Share: 2}, {Head: "set to", Number: true}, {Head: "rated", Number: true}, {Head: "rated", Number: true}, {Head: "at its limit", Share: 1},
		{Head: "feeds by", Share: 2}, {Head: "lights", Share: 2}, {Head: "in", Spare: true}, {Head: "label", Share: 1, Spare: true},
	}}
	loads := layout.Table{Above: 1, Columns: []layout.Column{
		{Head: "supply"}, {Head: "in state"}, {Head: "mean", Number: true}, {Head: "highest", Number: true}, {Head: "of its rating", Number: true}, {Head: "power", Number: true},
		{Head: "share of all", Number: true}, {Head: "lowest volts", Number: true}, {Head: "is"},
	}}
	for _, id := range scheme.IDs(s.Supplies) {
		row := layout.Plain(id, kind(s.Supplies[id].Part), none, none, none, none, or(b.fedBy(id)), or(b.lights(id)), or(boxed(s, id)), s.Supplies[id].Label)
		if part, ok := parts.Get[parts.Supply](s.Library, s.Supplies[id].Part); ok {
			row[2].Words, row[3].Words = layout.Nominal(s.SetPoint(id)), layout.Nominal(part.Amps.Is)
			row[4].Words, row[5].Words = layout.Nominal(part.Watts.Is), string(part.Limit)
		} else {
			row[7].Words = none
		}
		row[0].Anchor = "supply:" + id
		t.Rows = append(t.Rows, row)
		for i, c := range b.Study.Cases() {
			r, ok := b.Study.Result(c.Name).Supplies[id]
			if !ok {
				continue
			}
			name := id
			if i > 0 {
				name = ""
			}
			loads.Rows = append(loads.Rows, layout.Plain(name, condition(c), amps(r.Amps.Mean), amps(r.Amps.Peak), percent(float64(r.Amps.Peak/r.Rated)), watts(r.Watts), percent(float64(r.Watts)/b.watts(c)), volts(r.VoltsLow), r.State))
		}
	}
	var flow layout.Flow
	flow.Add(t)
	if len(loads.Rows) > 0 {
		flow.Add(heading("What the supplies give"), intro("Mean and highest current over the cycle of pulse-width modulation; power is the mean. In a peak all pixels switch on together."), loads)
	}
	return b.bind(&flow, layout.Leaf{
		Name: "supplies", Outline: "Supplies", Title: "What do the supplies give, and to what?", Under: supplied(len(s.Supplies)),
		Desc:  fmt.Sprintf("Schedule of %s: part, set point, rating, what each feeds, and what it gives in each state.", supplied(len(s.Supplies))),
		Notes: "Set to: as trimmed in the scheme, else as delivered; measure and trim it before anything is joined. Of its rating: the highest current over the rated one at this set point and in this air. With the cap failed every channel is full on, with what pixels draw and set points at the upper ends of their spread; the commissioning sheet expects what is typical.",
	})
}

// watts are those of all supplies in a case.
func (b *book) watts(c network.Case) (sum float64) {
	r := b.Study.Result(c.Name)
	for _, id := range scheme.IDs(r.Supplies) {
		sum += float64(r.Supplies[id].Watts)
	}
	return sum
}

// fedBy names the places that cables lead to from a supply.
func (b *book) fedBy(supply string) string {
	s := b.Study.Scheme
	var places []string
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		for _, ends := range [][2]scheme.Ref{{c.From, c.To}, {c.To, c.From}} {
			if ends[0].Kind == scheme.SupplyRef && ends[0].Element == supply {
				places = append(places, ends[1].String()+" by "+id)
			}
		}
	}
	return strings.Join(places, ", ")
}

// lights names the runs that a supply feeds.
func (b *book) lights(supply string) string {
	var runs []string
	for _, id := range scheme.IDs(b.Study.Scheme.Runs) {
		if slices.Contains(b.Study.Network.SuppliesOf(id), supply) {
			runs = append(runs, id)
		}
	}
	return study.Several(runs)
}

// boxed is the enclosure that holds a thing.
func boxed(s *scheme.Scheme, id string) string {
	for _, box := range scheme.IDs(s.Enclosures) {
		if slices.Contains(s.Enclosures[box].Holds, id) {
			return box
		}
	}
	return ""
}

// boards is the schedule of boards, of junctions, and of the boxes about them.
func (b *book) boards() []layout.Leaf {
	s := b.Study.Scheme
	if len(s.Boards)+len(s.Junctions)+len(s.Enclosures) == 0 {
		return nil
	}
	t := layout.Table{Columns: []layout.Column{
		{Head: "board"}, {Head: "part", Share: 2}, {Head: "inlet carries", Number: true}, {Head: "in state"}, {Head: "cap failed", Number: true}, {Head: "rated", Number: true},
		{Head: "ways in use", Number: true}, {Head: "ports in use", Number: true}, {Head: "in", Spare: true}, {Head: "controller", Share: 1, Spare: true}, {Head: "address", Share: 1, Spare: true}, {Head: "label", Share: 1, Spare: true},
	}}
	var open []string
	for _, id := range scheme.IDs(s.Boards) {
		board := s.Boards[id]
		row := layout.Plain(id, kind(board.Part), none, none, none, none, whole(b.waysInUse(id)), whole(b.portsInUse(id)), or(boxed(s, id)), or(board.Host), or(string(board.Address)), board.Label)
		row[0].Anchor, row[0].To = "board:"+id, []string{"face-" + id}
		part, ok := s.BoardPart(id)
		open = append(open, b.waits(id)...)
		if ok {
			row[5].Words = layout.Nominal(part.Inlet.Amps.Is)
		}
		if ok && len(b.waits(id)) == 0 {
			heavier := func(r *network.Result) float64 { return float64(max(r.Boards[id].Inlet.RMS, r.Boards[id].Return.RMS)) }
			in, _ := b.Study.Heaviest(heavier)
			at, failed := b.Study.Result(in.Name), b.result(string(network.CapFailed))
			if at != nil {
				row[2].Words, row[3].Words = amps(max(at.Boards[id].Inlet.RMS, at.Boards[id].Return.RMS)), condition(in)
			}
			row[4].Words = amps(max(failed.Boards[id].Inlet.RMS, failed.Boards[id].Return.RMS))
		}
		t.Rows = append(t.Rows, row)
	}
	var flow layout.Flow
	if len(t.Rows) > 0 {
		flow.Add(t, remark("Heating current of the heavier pole of each inlet."))
		flow.Add(b.unsaid(open)...)
	}
	if len(s.Junctions) > 0 {
		flow.Add(b.junctions()...)
	}
	if len(s.Enclosures) > 0 {
		boxes := layout.Table{Above: 1, Columns: []layout.Column{{Head: "box"}, {Head: "part", Share: 2}, {Head: "holds", Share: 2}, {Head: "exposure"}, {Head: "in the sun"}, {Head: "label", Share: 1, Spare: true}}}
		for _, id := range scheme.IDs(s.Enclosures) {
			e := s.Enclosures[id]
			sun := "no"
			if e.Sun {
				sun = "yes"
			}
			exposure := e.Exposure
			if exposure == "" {
				exposure = s.Site.Exposure
			}
			boxes.Rows = append(boxes.Rows, layout.Plain(id, kind(e.Part), strings.Join(e.Holds, ", "), or(string(exposure)), sun, e.Label))
		}
		flow.Add(heading("Boxes"), boxes)
	}
	return b.bind(&flow, layout.Leaf{
		Name: "boards", Outline: "Boards, junctions and boxes", Title: "Which boards and junctions are there, and what are they in?",
		Desc:  "Schedule of boards, junctions and enclosures: part, what the inlet carries and may carry, controller, address; what each splice joins; what each box holds.",
		Notes: "How warm it gets in a box is not worked out: the air that is stated must be that inside.",
	})
}

func (b *book) waysInUse(board string) (n int) {
	for _, w := range b.protection {
		if has(b.Study.Scheme.Cables, w.ID) {
			continue
		}
		if network.BoardOf(w.ID) == board {
			n++
		}
	}
	return n
}

func (b *book) portsInUse(board string) (n int) {
	for _, p := range b.Study.Ports() {
		if network.BoardOf(p.ID) == board {
			n++
		}
	}
	return n
}
