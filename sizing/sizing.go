// Package sizing makes a first scheme of a wish: so much light, along here, fed from there. It lays runs, feeds, cables,
// fuses, boards and supplies out, has the scheme solved and judged like any other, and mends what is found, until nothing
// is found or there is nothing left to try. What it writes is a beginning that passes, not the cheapest that would.
package sizing

import (
	"context"
	"fmt"

	"farend/finding"
	"farend/parts"
	"farend/rulebook"
	"farend/scheme"
	"farend/study"
	"farend/unit"
)

// A Wish is what somebody wants lit.
type Wish struct {
	Title  string
	Lights []Light
	Tape   string     // a part
	Level  unit.Ratio // the brightest that the control system will send
	Away   unit.Metre // from supply and board to where every light begins, as the cable runs
}

// A Light is a line to be lit.
type Light struct {
	Label  string
	Length unit.Metre
}

// A Draft is a scheme that passes.
type Draft struct {
	Text     []byte
	Study    *study.Study
	Findings []finding.Finding // notes only
	Rounds   int               // how often it was solved
}

// Verdict is the worst grade of what was found.
func (d *Draft) Verdict() finding.Grade { return finding.Worst(d.Findings) }

// Stuck is the error of a wish for which nothing that passes was found: what was found of the last attempt, worst first.
type Stuck struct {
	Findings []finding.Finding
	Rounds   int
}

func (e *Stuck) Error() string { return fmt.Sprintf("after %d attempts: %s", e.Rounds, e.Worst()) }

// Worst is what stands most in the way.
func (e *Stuck) Worst() string {
	if len(e.Findings) == 0 {
		return "the fuses and cables of the catalogue do not fit each other."
	}
	return e.Findings[0].Text
}

// attempts is how many schemes are solved for one wish before it is given up.
const attempts = 80

// Make lays a wish out and mends it until it passes. The error is a *Stuck, a *Cannot, or that of the context.
func Make(ctx context.Context, wish Wish, library *parts.Library) (*Draft, error) {
	p, err := newPlan(wish, library)
	if err != nil {
		return nil, err
	}
	for round := 1; ; round++ {
		if err := p.pack(); err != nil {
			return nil, err
		}
		text := p.text()
		st, found, err := judged(ctx, text, library)
		if err != nil {
			return nil, err
		}
		found = worse(found)
		fits := p.fuses(st)
		if len(found) == 0 && fits {
			return &Draft{text, st, st.Findings(st.Assess(rulebook.All())), round}, nil
		}
		// A fuse of the wrong size drops the wrong voltage: what is found beside it may be its doing.
		if round == attempts || fits && !p.mend(st, found) {
			return nil, &Stuck{found, round}
		}
	}
}

// judged solves and judges the text of a scheme.
func judged(ctx context.Context, text []byte, library *parts.Library) (*study.Study, []finding.Finding, error) {
	sch, mistakes := scheme.Read("draft.scheme.yaml", text, library)
	if len(mistakes) > 0 {
		return nil, nil, fmt.Errorf("the draft does not read: %w\n%s", mistakes, text)
	}
	st, err := study.New(ctx, sch)
	if err != nil {
		return nil, nil, err
	}
	return st, st.Findings(st.Assess(rulebook.All())), nil
}

// worse are the findings that are no mere notes.
func worse(findings []finding.Finding) []finding.Finding {
	var some []finding.Finding
	for _, f := range findings {
		if f.Grade > finding.Note {
			some = append(some, f)
		}
	}
	return some
}
