package report

import (
	"fmt"
	"strings"

	"farend/layout"
	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// runs is the schedule of runs, and what they show.
func (b *book) runs() []layout.Leaf {
	s := b.Study.Scheme
	if len(s.Runs) == 0 {
		return nil
	}
	laid := layout.Table{Columns: []layout.Column{
		{Head: "run"}, {Head: "label", Share: 2, Spare: true}, {Head: "tape", Share: 2}, {Head: "pixels", Number: true}, {Head: "length", Number: true}, {Head: "IP", Spare: true}, {Head: "reel", Spare: true},
		{Head: "fed at", Share: 3}, {Head: "rails cut at", Share: 2, Spare: true},
	}}
	shows := layout.Table{Above: 1, Columns: []layout.Column{
		{Head: "run"}, {Head: "highest current", Number: true}, {Head: "cap failed", Number: true}, {Head: "lowest volts", Number: true}, {Head: "at pixel", Number: true}, {Head: "in state"},
		{Head: "dimmest to brightest", Number: true}, {Head: "aim", Number: true}, {Head: "colour shift Δu′v′", Number: true}, {Head: "aim", Number: true},
	}}
	failed := b.result(string(network.CapFailed))
	var open []string
	var long []*unit.Metre
	for _, run := range s.Runs {
		long = append(long, run.Length)
	}
	length := lengths(long)
	for _, id := range scheme.IDs(s.Runs) {
		run := s.Runs[id]
		row := layout.Plain(id, run.Label, kind(run.Tape), whole(run.Count), length(run.Length), or(s.RunIP(id)), or(run.Reel), or(b.landings(id)), or(cuts(run)))
		row[0].Anchor, row[0].To = "run:"+id, []string{"run-" + id}
		laid.Rows = append(laid.Rows, row)
		if on := b.runWaits(id); len(on) > 0 {
			row := layout.Plain(id, none, none, none, none, none, none, percent(s.EvennessAim()), none, unit.Number(s.ColourShiftAim(), 2))
			shows.Rows = append(shows.Rows, row)
			open = append(open, on...)
			continue
		}
		shows.Rows = append(shows.Rows, b.shown(id, failed.Runs[id]))
	}
	var flow layout.Flow
	flow.Add(laid)
	flow.Add(heading("What the runs show"), intro("The lowest voltage at any pixel, in its lowest moment, and the light of the same state."), shows)
	flow.Add(b.unsaid(open)...)
	return b.bind(&flow, layout.Leaf{
		Name: "runs", Outline: "Runs", Title: "Which tape runs where, and what does it show?", Under: study.Counted(len(s.Runs), "run"),
		Desc:  fmt.Sprintf("Schedule of %s: tape, pixels, length, feeds, cuts; lowest voltage, evenness and colour.", study.Counted(len(s.Runs), "run")),
		Notes: "Pixels count from 0 at the data-in end. A place E1@px144 is the cut mark just before pixel 144; E1@px144- is its side before a cut. Runs of one reel are alike; tapes of one name may differ.",
	})
}

// runWaits lists the supplies that are not chosen and may feed a run.
func (b *book) runWaits(run string) (on []string) {
	s := b.Study.Scheme
	for _, id := range scheme.IDs(s.Cables) {
		for _, ref := range []scheme.Ref{s.Cables[id].From, s.Cables[id].To} {
			if ref.Kind == scheme.StationRef && ref.Element == run {
				on = append(on, b.waits(id)...)
			}
		}
	}
	return on
}

// shown is the line of a run with what it shows.
func (b *book) shown(id string, failed network.Run) []layout.Said {
	s := b.Study.Scheme
	in, _ := b.Study.Heaviest(func(r *network.Result) float64 { return -float64(r.Runs[id].VoltsLow) })
	_, most := b.Study.Heaviest(func(r *network.Result) float64 { return float64(r.Runs[id].Amps.Peak) })
	lowest, at, even, shift := none, none, none, none
	if result := b.Study.Result(in.Name); result != nil {
		r := result.Runs[id]
		if r.Evenness != nil {
			even, shift = percent(*r.Evenness), Shift(*r.ColourShift)
		}
		if r.Fed {
			lowest, at = volts(r.VoltsLow), whole(r.LowAt)
		}
	}
	return layout.Plain(id, amps(unit.Ampere(most)), amps(failed.Amps.Peak), lowest, at, condition(in), even, percent(s.EvennessAim()), shift, unit.Number(s.ColourShiftAim(), 2))
}

// Shift is a colour shift with two figures. Nobody sees 0.0001 (common practice, no source), so smaller ones are only said to be that.
func Shift(shift float64) string {
	if shift < 1e-4 {
		return "< 0.0001"
	}
	return unit.Number(shift, 2)
}

// landings names the places of a run on which cables land, with the cable.
func (b *book) landings(run string) string {
	s := b.Study.Scheme
	var places []string
	for _, id := range scheme.IDs(s.Cables) {
		for _, ref := range []scheme.Ref{s.Cables[id].From, s.Cables[id].To} {
			if ref.Kind == scheme.StationRef && ref.Element == run {
				places = append(places, fmt.Sprintf("%s\u202f(%s)", ref.Station, id))
			}
		}
	}
	return strings.Join(places, ", ")
}

// cuts names the places at which rails are cut.
func cuts(run scheme.Run) string {
	var places []string
	for _, c := range run.Cuts {
		pole := string(c.Pole)
		if c.Pole == scheme.Both || c.Pole == "" {
			pole = "both"
		}
		places = append(places, fmt.Sprintf("%s\u202f(%s)", c.At, pole))
	}
	return strings.Join(places, ", ")
}
