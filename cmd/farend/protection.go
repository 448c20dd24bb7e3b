package main

import (
	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// printBoards lists the inlets of boards.
func (c *checked) printBoards(p *page) {
	t := p.table("Boards (heating current of the heavier pole of each inlet)", "", "part", "A", "rated A", "case", "cap failed A")
	for _, id := range scheme.IDs(c.failed().Boards) {
		amps := func(r *network.Result) float64 { return float64(max(r.Boards[id].Inlet.RMS, r.Boards[id].Return.RMS)) }
		cs, worst := c.Heaviest(amps)
		rating := "–"
		if board, ok := c.Scheme.BoardPart(id); ok {
			rating = figures(board.Inlet.Amps.Is, 1)
		}
		t.row(id+".in", short(c.Scheme.Boards[id].Part), figures(unit.Ampere(worst), 1), rating, cs.Name, figures(unit.Ampere(amps(c.failed())), 1))
	}
	t.print()
}

// printProtection lists fused ways and cables: load, fuse, and what the thinnest cable behind it may carry.
func (c *checked) printProtection(p *page) {
	t := p.table("Protection (heating current; lowest V in its case; Iz of the cable behind that may carry least)", "", "fuse", "rated A", "load A", "case", "cap failed A", "cable", "Iz A", "V", "verdict")
	for _, w := range c.Protection(c.assessed) {
		volts := "–"
		if r, way := c.Result(w.In.Name).Ways[w.ID]; way {
			volts = figures(r.VoltsLow, 1)
		}
		t.row(w.ID, dash(short(w.Fuse)), given(w.Rating), figures(w.Load, 1), w.In.Name, figures(w.Failed, 1), dash(w.Thin), given(w.Iz), volts, gradeText(w.Grade))
	}
	t.print()
}

// given is a current for a table, a dash where there is none.
func given(amps *unit.Ampere) string {
	if amps == nil {
		return "–"
	}
	return figures(*amps, 1)
}

// gradeText is a grade in a table: its letter and its word.
func gradeText(g finding.Grade) string {
	if g == finding.Pass {
		return "pass"
	}
	return g.Letter() + " " + g.String()
}

// The JSON of the protection table.
type protectionJSON struct {
	Ways   []protectedJSON `json:"ways"`
	Struck bool            `json:"faults_followed"`
	Faults []faultJSON     `json:"faults"`
	Lost   []outageJSON    `json:"outages"`
	Places []silentJSON    `json:"places"`
	Joints []jointJSON     `json:"joints"`
	Split  []dividedJSON   `json:"divided"`
}

type protectedJSON struct {
	ID      string        `json:"id"`
	Load    *float64      `json:"load_amps"`
	Failed  *float64      `json:"cap_failed_amps"`
	Fuse    *string       `json:"fuse"`
	Rating  *float64      `json:"rating_amps"`
	Iz      *float64      `json:"iz_amps"`
	Far     *float64      `json:"far_short_amps"`
	FarAt   *string       `json:"far_short_at"`
	Ends    *clearingJSON `json:"clearing_s"`
	Watts   *float64      `json:"silent_watts"`
	WattsAt *string       `json:"silent_at"`
	Verdict finding.Grade `json:"verdict"`
}

func tableJSON(list []study.Protected, s *study.Study) protectionJSON {
	out := protectionJSON{Ways: []protectedJSON{}, Struck: s.Struck() != nil, Faults: struckJSON(s.Struck()), Lost: outagesJSON(s.Lost()), Places: silencesJSON(s.Silent()), Joints: jointsJSON(s.Bad()), Split: dividedListJSON(s.Divided())}
	for _, w := range list {
		line := protectedJSON{ID: w.ID, Load: number(w.Load), Failed: number(w.Failed), Fuse: text(w.Fuse), Verdict: w.Grade}
		if w.Rating != nil {
			line.Rating = number(*w.Rating)
		}
		if w.Iz != nil {
			line.Iz = number(*w.Iz)
		}
		if w.Far != nil {
			line.Far, line.FarAt, line.Ends = number(w.Far.Amps), text(w.Far.Place), &clearingJSON{number(w.Far.Fast), number(w.Far.Slow)}
		}
		if worst, ok := s.SilentBehind(w.ID + ".fuse"); ok {
			line.Watts, line.WattsAt = number(worst.Watts), text(worst.Fault.At)
		}
		out.Ways = append(out.Ways, line)
	}
	return out
}
