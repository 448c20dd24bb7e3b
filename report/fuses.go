package report

import (
	"fmt"
	"math"
	"strings"

	"farend/finding"
	"farend/layout"
	"farend/network"
	"farend/study"
	"farend/unit"
)

// fuses is the schedule of fuses, each with the reason for it.
func (b *book) fuses() []layout.Leaf {
	guards := b.Study.Guards()
	if len(guards) == 0 {
		return nil
	}
	t := layout.Table{Columns: []layout.Column{
		{Head: "place"}, {Head: "part", Share: 2}, {Head: "rated", Number: true}, {Head: "body", Spare: true}, {Head: "load", Number: true}, {Head: "of its rating", Number: true},
		{Head: "may carry", Number: true}, {Head: "why this one", Share: 6},
	}}
	lines := map[string]study.Protected{}
	for _, w := range b.protection {
		lines[w.ID+".fuse"] = w
	}
	for _, g := range guards {
		row := layout.Plain(guarded(g.Name), kind(g.Part), none, none, none, none, none, "")
		row[0].Anchor, row[0].To = "way:"+g.At, b.leads(g.At)
		line, inTable := lines[g.Name]
		load, in := line.Load, line.In
		if !inTable {
			load, in = b.carried(g)
		}
		row[4].Words = amps(load)
		if g.Fuse != nil {
			row[2].Words, row[3].Words = layout.Nominal(g.Fuse.Rating.Is), or(g.Fuse.Colour)
			row[5].Words = percent(float64(load / g.Fuse.Rating.Is))
			if limit, ok := b.continuous(g); ok {
				row[6].Words = amps(limit)
			}
		}
		row[7].Words = layout.Sentence(b.reason(g, line, load, in))
		if on := b.waits(g.At); len(on) > 0 {
			row[4].Words, row[5].Words, row[7].Words = none, none, "What it carries is "+unknown(on)+"."
		}
		t.Rows = append(t.Rows, row)
	}
	var flow layout.Flow
	flow.Add(t, remark(fmt.Sprintf("May carry: %.0f %% of the rating for ever (%s), and of that what the warmest air around it leaves; of a fuse in the ground of a port, which holds its rating by definition, the smaller of the two.", 100*study.Continuous, study.ContinuousSource())))
	return b.bind(&flow, layout.Leaf{
		Name: "fuses", Outline: "Fuses", Title: "Which fuse stands where, and why?", Under: study.Counted(len(guards), "fuse"),
		Desc:  fmt.Sprintf("Schedule of %s: place, part, rating, colour, load, and the reason for each.", study.Counted(len(guards), "fuse")),
		Notes: "Loads are heating currents (rms over the cycle) of the heaviest state. A fuse surely opens from the gate of its curve on by which it has within the time stated, cold and in the coldest air. Replace a fuse only by one of the same part; why this one says what has to be proved anew.",
	})
}

// carried is the most that a fuse carries in a lighting state, and in which.
func (b *book) carried(g study.Guard) (unit.Ampere, network.Case) {
	most, in := unit.Ampere(math.Inf(-1)), network.Case{}
	for _, c := range b.Study.Cases() {
		if c.Kind != network.State && c.Kind != network.Peak {
			continue
		}
		if carried := b.Study.CarriedBy(g, c).RMS; carried > most {
			most, in = carried, c
		}
	}
	return most, in
}

// continuous is what a fuse may carry for ever, by the rule that judges its load, else by its rating in the air around it.
func (b *book) continuous(g study.Guard) (unit.Ampere, bool) {
	for _, rule := range []string{"protection/fuse-load", "protection/inline-fuse-load"} {
		for _, a := range b.about[rule+":"+g.At] {
			if a.Limit != nil && !grounded(g) {
				return unit.Ampere(*a.Limit), true
			}
		}
	}
	warm, ok := b.Study.Warm(g.Fuse, g.Warm)
	share := study.Continuous * warm.Share
	if grounded(g) { // as board/port-ground has it
		share = min(study.Continuous, warm.Share)
	}
	return unit.Ampere(share) * g.Fuse.Rating.Is, ok
}

// guarded is the place of a fuse: A1.1, W1, A1.P1.ground.
func guarded(name string) string {
	return strings.TrimSuffix(strings.TrimSuffix(name, ".fuse"), " fuse")
}

// grounded reports whether a fuse stands in the ground of a port.
func grounded(g study.Guard) bool { return strings.HasSuffix(g.Name, ".ground fuse") }

// reason says in a sentence or two what a fuse carries, what it has to protect, and what it does in a short.
func (b *book) reason(g study.Guard, line study.Protected, load unit.Ampere, in network.Case) string {
	text := "Carries " + amps(load)
	if in.Name != "" {
		text += " in " + study.CaseWords(in)
	}
	switch {
	case g.Fuse == nil:
		text += "; which one it is has not been chosen"
	case line.Thin != "":
		text += fmt.Sprintf("; protects %s, of which %s may carry least, %s", study.Several(line.Cables), line.Thin, rating(line.Iz))
		if len(line.Cables) == 1 {
			text = text[:strings.Index(text, "; protects")] + fmt.Sprintf("; protects %s, which may carry %s", line.Thin, rating(line.Iz))
		}
	case len(line.Cables) > 0:
		text += "; protects " + study.Several(line.Cables)
	case grounded(g):
		text += "; keeps a stray return out of the ground of the port"
	default:
		text += "; there is no cable that it would have to protect"
	}
	return text + short(line.Far) + "."
}

// short says what a fuse does in the short at its far end; nothing where that was not followed.
func short(far *study.FarShort) string {
	if far == nil {
		return ""
	}
	text := fmt.Sprintf("; a bolted short at %s draws %s at least", far.Place, amps(far.Amps))
	if math.IsInf(float64(far.Opens), 1) {
		return text + ", which need not open it"
	}
	text += " and opens it within " + said(far.Opens)
	if rests := far.Rests(); len(rests) > 0 {
		text += ", unless " + study.Several(rests) + verb(len(rests), " switches itself off before", " switch themselves off before")
	}
	return text
}

// protected is the protection table, and the shorts at the far ends.
func (b *book) protected() []layout.Leaf {
	if len(b.protection) == 0 {
		return nil
	}
	t := layout.Table{Columns: []layout.Column{
		{Head: "way or cable"}, {Head: "fuse"}, {Head: "rated", Number: true}, {Head: "load", Number: true}, {Head: "in state"}, {Head: "cap failed", Number: true},
		{Head: "thinnest behind"}, {Head: "may carry Iz", Number: true}, {Head: "lowest volts", Number: true}, {Head: "verdict"},
	}}
	shorts := layout.Table{Above: 1, Columns: []layout.Column{
		{Head: "way or cable"}, {Head: "short at"}, {Head: "least current", Number: true}, {Head: "opens from", Number: true}, {Head: "holds for", Number: true}, {Head: "opens within", Number: true},
		{Head: "all ended within", Number: true}, {Head: "rests on", Spare: true},
	}}
	var unsolved []string
	for _, w := range b.protection {
		lowest := none
		if r, way := b.result(w.In.Name).Ways[w.ID]; way {
			lowest = volts(r.VoltsLow)
		}
		row := layout.Plain(w.ID, or(kind(w.Fuse)), rating(w.Rating), amps(w.Load), condition(w.In), amps(w.Failed), or(w.Thin), rating(w.Iz), lowest, "")
		row[0].To = b.leads(w.ID)
		row[9] = graded(w.Grade)
		if on := b.waits(w.ID); len(on) > 0 {
			row[3].Words, row[4].Words, row[5].Words, row[8].Words = none, none, none, none
			row[9] = graded(max(w.Grade, finding.Unknown))
			unsolved = append(unsolved, on...)
		}
		t.Rows = append(t.Rows, row)
		if w.Far == nil {
			continue
		}
		least := none
		if g, ok := b.Study.Guard(w.ID + ".fuse"); ok && g.Fuse != nil {
			if opens, known := b.Study.Fusing(g); known {
				least = amps(opens)
			}
		}
		shorts.Rows = append(shorts.Rows, layout.Plain(w.ID, w.Far.Place, amps(w.Far.Amps), least, lasting(w.Far.Holds, "for ever"), lasting(w.Far.Opens, "never"), lasting(w.Far.Ends, "never"), or(rested(w.Far))))
	}
	var flow layout.Flow
	flow.Add(t)
	if len(shorts.Rows) > 0 {
		flow.Add(heading("Shorts at the far end"), intro("Bolted, with the least that may flow, at the place behind each fuse where it carries least."), shorts,
			remark("Rests on: supplies that may switch themselves off before, or whose limit alone keeps the fuse from opening. All ended: if supplies that do held their limit instead."))
	}
	flow.Add(b.unsaid(unsolved)...)
	if bare := Bare(b.Study.Scheme); len(bare) > 0 {
		flow.Add(told(fmt.Sprintf("Without a fuse at its supply: %s. Nothing opens for a short in %s.", study.Several(bare), verb(len(bare), "it", "them"))))
	}
	if b.Study.Struck() == nil {
		flow.Add(told("Faults were not followed in this study, so that no short is told here."))
	}
	return b.bind(&flow, layout.Leaf{
		Name: "protection", Outline: "Protection", Title: "Does every fuse protect what is behind it?", Under: "ways that are fused or used, and fused cables",
		Desc:  "Protection table: for each fused way and cable its load, its fuse, the cable behind it that may carry least, and the verdict; and the short at its far end.",
		Notes: "The verdict is the worst that rules of safety, and those about fuses, say of the way or cable and of what its fuse has to protect. Loads are heating currents; lowest volts are those of the same case.",
	})
}

func rested(far *study.FarShort) string {
	if on := far.Rests(); len(on) > 0 {
		return study.Several(on)
	}
	return ""
}
