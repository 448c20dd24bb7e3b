package report

import (
	"fmt"
	"strings"

	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/study"
)

// grades are all that a finding may have, in the order in which they are counted.
var grades = []finding.Grade{finding.Danger, finding.Fails, finding.Unknown, finding.Tight, finding.Note}

// badge is the box of a grade: letter, fill and line tell it, so that it survives grey.
func badge(g finding.Grade) *layout.Badge {
	b := layout.Badge{Letter: g.Letter()}
	switch g {
	case finding.Danger:
		b.Fill, b.Pen = draw.Danger, draw.Pen{Tone: draw.Danger, Width: draw.Thin}
	case finding.Fails:
		b.Fill, b.Pen = draw.Failing, draw.Pen{Tone: draw.Failing, Width: draw.Thin}
	case finding.Tight:
		b.Pen = draw.Pen{Tone: draw.Narrow, Width: draw.Thin}
	case finding.Unknown:
		b.Pen = draw.Pen{Tone: draw.Ink, Width: draw.Thin, Dash: []float64{0.3, 0.5}}
	default:
		b.Pen = draw.Pen{Tone: draw.Graphite, Width: draw.Thin}
	}
	return &b
}

// Forbids reports whether a finding is one for which nothing is to be switched on: a danger, or what fails or is unknown of a rule that guards against
// harm. What fails of another rule, such as evenness, will not do and hurts nobody.
func Forbids(f finding.Finding) bool {
	return f.Grade == finding.Danger || f.Safety && (f.Grade == finding.Fails || f.Grade == finding.Unknown)
}

// forbidding counts such findings by their grades.
func forbidding(list []finding.Finding) map[finding.Grade]int {
	count := map[finding.Grade]int{}
	for _, f := range list {
		if Forbids(f) {
			count[f.Grade]++
		}
	}
	return count
}

// Mark is what stands at the head of every page of a scheme that is not to be built as it is, so that a page that is alone says so too; nil where
// nothing is so bad.
func Mark(list []finding.Finding) *layout.Mark {
	count := map[finding.Grade]int{}
	for _, f := range list {
		if f.Grade == finding.Fails || Forbids(f) {
			count[f.Grade]++
		}
	}
	failing := "will not do as it is"
	if forbidding(list)[finding.Fails] > 0 {
		failing = "not to be switched on as it is"
	}
	for _, c := range []struct {
		grade finding.Grade
		words string
	}{
		{finding.Danger, "not to be built or switched on as it is"},
		{finding.Fails, failing},
		{finding.Unknown, "not all of its safety is judged"},
	} {
		if n := count[c.grade]; n > 0 {
			return &layout.Mark{Badge: *badge(c.grade), Words: OfGrade(n, c.grade) + ": " + c.words}
		}
	}
	return nil
}

// graded is a grade in a table: a pass is a word, all else a box and a word.
func graded(g finding.Grade) layout.Said {
	if g == finding.Pass {
		return layout.Said{Words: "pass"}
	}
	return layout.Said{Words: g.String(), Badge: badge(g)}
}

// counts are the findings by grade in words.
func (b *book) counts() string {
	var parts []string
	for _, g := range grades {
		if n := b.count(g); n > 0 && g == finding.Note {
			parts = append(parts, study.Counted(n, "note"))
		} else if n > 0 {
			parts = append(parts, OfGrade(n, g))
		}
	}
	if len(parts) == 0 {
		return fmt.Sprintf("pass: %s, nothing found", study.Counted(len(b.Assessed), "comparison"))
	}
	return strings.Join(parts, ", ")
}

func (b *book) count(of finding.Grade) (n int) {
	for _, f := range b.Findings {
		if f.Grade == of {
			n++
		}
	}
	return n
}

// tally is a row of the boxes of all grades with how often each was given; those that were not are pale.
func (b *book) tally(above float64) layout.Figure {
	const size, height, step = 9, 6, 25
	return layout.Figure{Height: height, Above: above, Draw: func(on *layout.Drawn, at draw.Point, _ float64) {
		for i, g := range grades {
			place := draw.Point{X: at.X + float64(i)*step, Y: at.Y + 4}
			box, tone, n := *badge(g), draw.Ink, b.count(g)
			if n == 0 {
				box, tone = layout.Badge{Letter: box.Letter, Pen: draw.Pen{Tone: draw.Rule, Width: draw.Thin}, Pale: true}, draw.Graphite
			}
			box.Draw(&on.Layer, place, size)
			place.X += layout.BadgeWidth(size)
			on.Layer.Texts = append(on.Layer.Texts, draw.Text{At: place, Words: fmt.Sprintf("%s\u2002%d", g, n), Size: size, Tone: tone})
		}
	}}
}
