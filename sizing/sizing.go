// Package sizing makes a first scheme of a wish: so much light, along here, fed from there. It lays runs, feeds, cables,
// fuses, boards and supplies out, has the scheme solved and judged like any other, and mends what is found, until nothing
// is found or there is nothing left to try. What it writes is a beginning that passes, not the cheapest that would.
//
// A short on a tape must not let more through than its rails bear. So the positive of a run is cut between its feeds, each piece has one
// fuse to itself, and a run has as many feeds as it takes for that fuse to be small enough: a trial says how large it may be.
package sizing

import (
	"context"
	"fmt"
	"slices"

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
	Findings []finding.Finding // notes, and data leads that are longer than one wire should be
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

// Make lays a wish out and mends it until it passes, its faults followed however many they are. The error is a *Stuck, a *Cannot, or that
// of the context.
func Make(ctx context.Context, wish Wish, library *parts.Library) (*Draft, error) {
	p, err := newPlan(wish, library)
	if err != nil {
		return nil, err
	}
	if err := p.trial(ctx, library); err != nil {
		return nil, err
	}
	for round := 1; ; round++ {
		if err := p.pack(); err != nil {
			return nil, err
		}
		st, found, fits, err := p.examine(ctx, library)
		if err != nil {
			return nil, err
		}
		if len(found) == 0 && fits {
			return &Draft{p.text(), st, st.Findings(st.Assess(rulebook.All())), round}, nil
		}
		// A fuse of the wrong size drops the wrong voltage: what is found beside it may be its doing.
		if round == attempts || fits && !p.mend(st, found) {
			return nil, &Stuck{found, round}
		}
	}
}

// examine chooses the fuses of a plan and says what is found of it, as soon as something is: without its faults first, for only what is well
// otherwise is worth the time that they take; then with those of its first group alone, for groups are mostly alike; then with all. That the
// fuses fit is said of those that were solved.
func (p *plan) examine(ctx context.Context, library *parts.Library) (st *study.Study, found []finding.Finding, fits bool, err error) {
	st, found, err = judged(ctx, p.text(), library, study.NotNow)
	if err != nil {
		return nil, nil, false, err
	}
	if fits = p.fuses(st); len(found) > 0 || !fits {
		return st, found, fits, nil
	}
	if len(p.groups) > 1 {
		if st, found, err = judged(ctx, p.alone().text(), library, study.Always); err != nil || len(found) > 0 {
			return st, found, fits, err
		}
	}
	p.many = false
	if st, found, err = judged(ctx, p.text(), library, study.WhereQuick); err == nil && st.Struck() == nil {
		p.many = true
		st, found, err = judged(ctx, p.text(), library, study.Always)
	}
	return st, found, fits, err
}

// alone is a plan of the first group only.
func (p *plan) alone() *plan {
	first := *p
	first.groups = p.groups[:1]
	return &first
}

// judged solves and judges the text of a scheme: what is worse than a note. Where faults are not followed, that they were not is left out.
func judged(ctx context.Context, text []byte, library *parts.Library, striking study.Striking) (*study.Study, []finding.Finding, error) {
	st, err := solved(ctx, text, library, striking)
	if err != nil {
		return nil, nil, err
	}
	found := worse(st.Findings(st.Assess(rulebook.All())))
	if striking == study.NotNow {
		found = slices.DeleteFunc(found, func(f finding.Finding) bool { return f.Rule == notFollowed })
	}
	return st, found, nil
}

// solved is the text of a scheme, read and solved.
func solved(ctx context.Context, text []byte, library *parts.Library, striking study.Striking) (*study.Study, error) {
	sch, mistakes := scheme.Read("draft.scheme.yaml", text, library)
	if len(mistakes) > 0 {
		return nil, fmt.Errorf("the draft does not read: %w\n%s", mistakes, text)
	}
	return study.New(ctx, sch, &study.Options{Striking: striking, Mending: true})
}

// notFollowed is the rule that says so.
const notFollowed = "protection/faults"

// tooFar is the rule of the length of data leads. Where a light ends farther from its port than one wire should go, a pair with a driver and a receiver
// is what it takes, or a place nearer by for the board; neither is a draft's to choose.
const tooFar = "signal/reach"

// worse are the findings that are no mere notes, and that a draft can do something about.
func worse(findings []finding.Finding) []finding.Finding {
	var some []finding.Finding
	for _, f := range findings {
		if f.Grade > finding.Note && !(f.Rule == tooFar && f.Grade == finding.Tight) {
			some = append(some, f)
		}
	}
	return some
}
