package commission

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"farend/draw"
	"farend/layout"
	"farend/unit"
)

// Pages are a procedure on paper, with room to write down what was measured: leaves commissioning, commissioning.2 and so on. Section sets
// cross-sections as the set of pages does; in mm² where it is nil.
func Pages(p Procedure, paper layout.Paper, section func(unit.SquareMetre) string) []layout.Leaf {
	if section == nil {
		section = func(v unit.SquareMetre) string { return layout.Nominal(v) }
	}
	var flow layout.Flow
	grounds := p.grounds()
	for i, g := range p.Stages {
		f := &form{Stage: g, section: section, grounds: grounds}
		f.weigh()
		f.remark()
		flow.Add(f.head(i)...)
		flow.Add(f.tables()...)
		if g.Rests {
			flow.Add(f.resting()...)
		}
		if g.Signed != "" {
			flow.Add(layout.Side{Gap: 8, Columns: []layout.SideColumn{{Blocks: []layout.Block{signature(g.Signed)}}, {}}})
		}
	}
	return p.bound(paper, &flow)
}

// The measures, in millimetres: a box to write in is 5.5 mm high.
const (
	columnGap = 1.6
	rowHeight = 6
	valueBox  = 14
	tickBox   = 5.5
	stageGap  = 4
)

// The sizes of type, in points.
const (
	plain   = 7.5
	small   = draw.Smallest
	heading = 12
)

// signs are poles, which stay with the word before them.
var signs = regexp.MustCompile(`(\pL|\d) ([+−])(\s|[;:,.]|$)`)

// set is a text as it stands on paper.
func set(text string) string {
	text = strings.ReplaceAll(layout.Sentence(text), " Nm", layout.Thin+"Nm")
	return signs.ReplaceAllString(text, "$1"+layout.Thin+"$2$3")
}

// grounds are all things on which bands rest that are on paper, each once.
func (p Procedure) grounds() (list []string) {
	for _, g := range p.Stages {
		f := &form{Stage: g}
		for _, s := range g.Steps {
			if s.Rests != "" && s.Reading != nil && !f.ticked(s) && !slices.Contains(list, s.Rests) {
				list = append(list, s.Rests)
			}
		}
	}
	return list
}

// capital is the mark of what bands rest on: A to Z, then AA.
func capital(i int) string { return strings.ToUpper(letter(i)) }

// letter is the mark of a remark: a to z, then aa, ab.
func letter(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// anchor is the name of the place where a stage begins.
func anchor(n int) string { return fmt.Sprintf("stage-%d", n) }

// signature is a line to sign on.
func signature(who string) layout.Block {
	const tall, rule = 17, 12
	return layout.Figure{Height: tall, Draw: func(on *layout.Drawn, at draw.Point, width float64) {
		write := func(y float64, words string, like draw.Text) {
			like.Words, like.At = words, draw.Point{X: at.X, Y: at.Y + y}
			on.Layer.Texts = append(on.Layer.Texts, like)
		}
		write(5.2, who, draw.Text{Size: plain, Face: draw.SemiBold, Tone: draw.Ink})
		for _, field := range []struct {
			words string
			share float64
		}{{"name, licence", 0.4}, {"signature", 0.4}, {"date", 0.2}} {
			wide := field.share * width
			on.Layer.Paths = append(on.Layer.Paths, draw.Line(draw.Pen{Tone: draw.Graphite, Width: draw.Hair}, draw.Point{X: at.X, Y: at.Y + rule}, draw.Point{X: at.X + wide - 4, Y: at.Y + rule}))
			write(rule+3, field.words, draw.Text{Size: small, Tone: draw.Graphite})
			at.X += wide
		}
	}}
}

// bound lays the flow on leaves, each with the stages that stand on it.
func (p Procedure) bound(paper layout.Paper, flow *layout.Flow) []layout.Leaf {
	steps := 0
	for _, g := range p.Stages {
		steps += len(g.Steps)
	}
	leaves, at := flow.Leaves(layout.Leaf{
		Name: "commissioning", Outline: "Commissioning", Paper: paper,
		Title:   "What must read what, and when?",
		Verdict: fmt.Sprintf("%d steps in %d stages, in this order", steps, len(p.Stages)),
		Notes: "Expected values are those of the design, solved; bands hold its spreads and the errors of the meters, and what they rest on is said by letter under Before you begin. Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. " +
			"Local codes and licensed electricians come before this sheet; the mains side is theirs.",
		Desc: "A sheet to fill in: what to measure, between which points, in which state, what to expect.",
	})
	p.noteStages(leaves, at)
	return leaves
}

// noteStages says on each leaf which stages stand on it, and in the contents where they begin. At is the leaf of each anchor.
func (p Procedure) noteStages(leaves []layout.Leaf, at map[string]string) {
	last, next := 0, 0
	for i := range leaves {
		first := last
		for ; next < len(p.Stages) && at[anchor(next)] == leaves[i].Name; next++ {
			if top := leaves[i].Layers[0].Texts; len(leaves[i].More) == 0 && len(top) > 0 && top[0].Size == heading { // the page begins with it
				first = next
			}
			leaves[i].More = append(leaves[i].More, draw.Entry{Title: fmt.Sprintf("%d  %s", next, p.Stages[next].Name), Level: 1})
			last = next
		}
		said := fmt.Sprint(first)
		if last > first {
			said = fmt.Sprintf("%d to %d", first, last)
		}
		leaves[i].Cells = []layout.Cell{
			{Caption: "Stages on this page", Says: said, Share: 40}, {Caption: "Filled in by", Share: 70}, {Caption: "On", Share: 40}, {Caption: "Air, °C", Share: 30},
		}
	}
}
