package chart

import (
	"fmt"
	"strconv"
	"strings"

	"farend/conductor"
	"farend/draw"
	"farend/finding"
	"farend/layout"
	"farend/parts"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// cells are the fields of the title block.
func (p *picture) cells(s *scheme.Scheme) []layout.Cell {
	subject := "Way"
	if _, cable := s.Cables[p.At]; cable {
		subject = "Fuse of cable"
	}
	return []layout.Cell{
		{Caption: subject, Says: p.At, Name: true, Share: 34},
		{Caption: "Fuse", Says: p.Part, Face: draw.Mono, Name: true, Share: 68},
		{Caption: "Cables behind it", Says: p.cableNames(), Share: 88},
	}
}

// judged is the verdict of the way or cable in words, with what is worst.
func (g *guarded) judged() string {
	word := g.verdict.String()
	text := strings.ToUpper(word[:1]) + word[1:]
	if g.verdict > finding.Pass {
		text = "[" + g.verdict.Letter() + "] " + text
	}
	if g.says != "" {
		text += ": " + g.says
	}
	return text
}

// cableNames lists the cables with their copper.
func (p *picture) cableNames() string {
	var names []string
	for _, b := range p.branches {
		name := b.id
		if b.part != nil {
			name += ", " + p.style.Section(b.part.Area.Is)
		}
		names = append(names, name)
	}
	if p.apart != nil {
		names = append(names, p.alone())
	}
	if names == nil {
		return "none"
	}
	return strings.Join(names, "; ")
}

// rests says on what the picture rests: the sources of the gates, the rating and the limits, and which of their numbers is known
// least.
func (g *guarded) rests() string {
	weakest, what := parts.Basis(""), ""
	note := func(b parts.Basis, name string) {
		if parts.Weaker(weakest, b) != weakest {
			weakest, what = b, name
		}
	}
	note(g.Fuse.Rating.Basis, "rating of "+g.Part)
	for i, gate := range g.curve.Gates {
		for _, v := range []parts.Value[unit.Second]{gate.Min, gate.Max} {
			if v.Given {
				note(v.Basis, fmt.Sprintf("gate %d of %s", i+1, g.Fuse.Curve))
			}
		}
	}
	for i, d := range g.curve.Derating {
		note(d.Factor.Basis, fmt.Sprintf("derating %d of %s", i+1, g.Fuse.Curve))
	}
	text := "Rests on " + g.Fuse.Curve + sourced(g.curve.Source) + "; rating of " + g.Part + sourced(g.Fuse.Rating.Source)
	if b, ok := g.thinnest(); ok {
		note(b.rating.Basis, "Iz of "+b.cable.Part)
		text += "; Iz of " + b.cable.Part + sourced(b.rating.Source)
	}
	if _, _, ok := g.weakest(); ok {
		note(parts.Standard, "k")
		text += "; " + conductor.Adiabatic
	}
	return fmt.Sprintf("Known least: %s (%s). %s.", what, weakest, text)
}

func sourced(source string) string {
	if source == "" {
		return " (no source stated)"
	}
	return " (" + source + ")"
}

// rounded is an I²t to three figures, written out.
func rounded(v unit.AmpereSquareSecond) string {
	three, _ := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'e', 2, 64), 64)
	return layout.Quantity(layout.Written(strconv.FormatFloat(three, 'f', -1, 64) + " A²s"))
}

// described is the picture in sentences.
func (g *guarded) described() string {
	say := []string{fmt.Sprintf("When %s in %s opens, against current and time.", g.Part, g.At)}
	if carries := g.fast.Carries(); carries > 0 {
		say = append(say, fmt.Sprintf("In air of %v its gates hold %v without end.", g.Warm, carries))
	}
	for _, gate := range g.curve.Gates {
		if gate.Max.Given {
			at := unit.Ampere(gate.Multiple) * g.slow.Rating
			say = append(say, fmt.Sprintf("In air of %v it has surely opened within %v at %v.", g.Cold, g.slow.Opens(at), at))
		}
	}
	if g.load.found {
		say = append(say, fmt.Sprintf("Its load in %s is %v.", study.CaseWords(g.load.in), g.load.amps))
	}
	if g.failed.found {
		say = append(say, fmt.Sprintf("With the cap failed it is %v.", g.failed.amps))
	}
	if b, ok := g.thinnest(); ok {
		say = append(say, fmt.Sprintf("%s may carry %v for ever; 1.45 times that is %v.", b.id, b.iz, conductor.Bearable*b.iz))
	}
	if b, stands, ok := g.weakest(); ok {
		say = append(say, fmt.Sprintf("One core of %s stands %v in a short of 0.1 s to 5 s.", b.id, stands))
	}
	if g.shorts != nil {
		say = append(say, g.shorts.told()...)
	}
	return strings.Join(say, " ")
}
