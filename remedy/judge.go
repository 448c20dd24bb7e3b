package remedy

import (
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/network"
	"farend/scheme"
	"farend/study"
)

// A Refusal says why a change is not kept.
type Refusal struct {
	Why    string
	Brings *finding.Finding // what it would bring, or would not mend; nil where it cannot be judged

	next *finding.Finding // what could be mended with it, so that it might be kept after all
}

// refuse says why a change is not kept, which a finding shows; what has edits of its own might be mended with it.
func refuse(f finding.Finding, words string) *Refusal {
	no := &Refusal{Why: fmt.Sprintf("%s would be %s: %s", f.ID, words, f.Text), Brings: &f}
	if len(f.Edits) > 0 {
		no.next = &f
	}
	return no
}

// unwell says why a scheme is no better than before some edits; nil where it is. For what is only tight nothing else is changed with it.
func unwell(before, after draft, mended []finding.Finding) *Refusal {
	least := finding.Danger
	for _, f := range mended {
		least = min(least, f.Grade)
	}
	if no := unmended(after, mended); no != nil {
		return no
	}
	no := brought(before, after, least)
	if no == nil {
		no = more(before, after, least)
	}
	if no != nil && least == finding.Tight {
		no.next = nil
	}
	return no
}

// unmended finds a finding that edits were for and that is no better than it was. What is only tight, and what another board is bought
// for, must be of a better grade: a few millivolts are not worth a cable.
func unmended(after draft, mended []finding.Finding) *Refusal {
	is := byID(after.findings)
	for _, f := range mended {
		switch now := is[f.ID]; {
		case !better(f, now):
			no := refuse(now, "no better")
			no.next = nil // more of the same would not help
			return no
		case now.Grade == f.Grade && (f.Grade == finding.Tight || boards(f.Edits)):
			no := refuse(now, now.Grade.String()+" still")
			if hopeless(f, now) {
				no.next = nil
			}
			return no
		}
	}
	return nil
}

// hopeless reports whether a finding beyond its limit would still be beyond it if each further change did as much as the one before.
func hopeless(was, is finding.Finding) bool {
	return was.Margin != nil && is.Margin != nil && was.Unit == is.Unit && *is.Margin+links*(*is.Margin-*was.Margin) < 0
}

// boards reports whether edits put another board in the place of one.
func boards(edits []finding.Edit) bool {
	return slices.ContainsFunc(edits, func(e finding.Edit) bool { return strings.HasPrefix(e.Path, "/boards/") })
}

// brought finds what is worse than before, and at least of a grade. Of a run that nothing feeds, nothing that is asked of its light could
// be judged: it failed all of that; and a new cable may be as bad as the cables beside it are.
func brought(before, after draft, least finding.Grade) *Refusal {
	was := byID(before.findings)
	for _, f := range after.findings {
		grade := was[f.ID].Grade
		if dark(before.study, f.Subject) {
			grade = max(grade, finding.Fails)
		}
		for _, other := range siblings(before.study, after.study, f.Subject) {
			grade = max(grade, was[f.Rule+":"+other].Grade)
		}
		if f.Grade >= least && f.Grade > grade && (f.Grade != finding.Unknown || f.Safety) { // what is unknown and no question of safety proves nothing
			return refuse(f, f.Grade.String())
		}
	}
	return nil
}

// more finds a new finding of a grade of which there are more than before: of that of the edits or above it in any case, below it where
// there are no fewer above.
func more(before, after draft, least finding.Grade) *Refusal {
	was, is := count(before.findings), count(after.findings)
	fewer := false
	for g := finding.Danger; g > finding.Note; g-- {
		if is[g] > was[g] && (g >= least || !fewer) {
			return refuse(fresh(before.findings, after.findings, g), g.String()+", and nothing as bad would go for it")
		}
		fewer = fewer || is[g] < was[g]
	}
	return nil
}

// fresh is the first finding of a grade that was not of it before.
func fresh(before, after []finding.Finding, g finding.Grade) finding.Finding {
	was := byID(before)
	for _, f := range after {
		if f.Grade == g && was[f.ID].Grade != g {
			return f
		}
	}
	return finding.Finding{}
}

// dark reports whether nothing feeds a run, or some stretch of it.
func dark(st *study.Study, run string) bool {
	return slices.ContainsFunc(st.Network.Feeds(run), func(f network.Feed) bool { return !f.Closed() })
}

// siblings lists, of a cable that is new, the cables that were there and land on the same run.
func siblings(st, now *study.Study, cable string) []string {
	c, is := now.Scheme.Cables[cable]
	if _, was := st.Scheme.Cables[cable]; was || !is {
		return nil
	}
	var list []string
	for _, at := range ends(c) {
		if at.Kind == scheme.StationRef {
			for _, l := range landings(st, at.Element) {
				list = append(list, l.cable)
			}
		}
	}
	return list
}

// better reports whether a finding is better than it was: gone, of a better grade, or with more margin. What ends is better than what goes on for
// ever: the margin of a share that is used up is not that of a current that lasts.
func better(was, is finding.Finding) bool {
	const rounding = 1e-6
	switch {
	case is.Grade != was.Grade:
		return is.Grade < was.Grade
	case was.Unit != is.Unit && was.Rule == is.Rule:
		return was.Unit == "A" && is.Unit == "1"
	case was.Margin == nil || is.Margin == nil:
		return false
	}
	return *is.Margin > *was.Margin+rounding
}

func byID(findings []finding.Finding) map[string]finding.Finding {
	m := map[string]finding.Finding{}
	for _, f := range findings {
		m[f.ID] = f
	}
	return m
}

// Worse reports whether findings are worse than they were: more of a grade, and no fewer of any above it.
func Worse(before, after []finding.Finding) bool {
	was, is := count(before), count(after)
	for g := finding.Danger; g > finding.Note; g-- {
		if was[g] != is[g] {
			return is[g] > was[g]
		}
	}
	return false
}

// count is how many findings there are of each grade.
func count(list []finding.Finding) (n [finding.Danger + 1]int) {
	for _, f := range list {
		n[f.Grade]++
	}
	return n
}
