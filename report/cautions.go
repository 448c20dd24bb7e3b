package report

import (
	"fmt"
	"strings"

	"farend/finding"
	"farend/layout"
	"farend/parts"
	"farend/study"
	"farend/unit"
)

// cautions are those that apply to this scheme, what could hurt first.
func (b *book) cautions() (list []string) {
	s := b.Study.Scheme
	say := func(when bool, format string, args ...any) {
		if when {
			list = append(list, fmt.Sprintf(format, args...))
		}
	}
	var blocking []string
	of := forbidding(b.Findings)
	if n := of[finding.Danger]; n > 0 {
		blocking = append(blocking, OfGrade(n, finding.Danger))
	}
	if n := of[finding.Fails]; n > 0 {
		blocking = append(blocking, OfGrade(n, finding.Fails)+" of what guards against harm")
	}
	if blocking == nil && of[finding.Unknown] > 0 {
		blocking = []string{"a rule that guards against harm could not be assessed"}
	}
	say(blocking != nil, "Do not switch this on as it stands: %s. See under Findings.", strings.Join(blocking, ", "))
	list = append(list, Touch(b.Study), Licensed)
	say(s.Site.Exposure == "", "The scheme does not say how wet the place is: settle that before anything is mounted.")
	say(s.Site.Exposure == parts.Immersed, "Water: nothing here says that what is immersed is safe to bathe beside. Pools, fountains and their surroundings have rules of their own.")
	say(s.Site.Exposure == parts.Outdoors, "Outdoors, joints let water in: each needs a box or a seal of the degree that its place asks for.")
	say(s.Site.Metalwork == "" && len(s.Supplies) > 0, "The scheme does not say whether metalwork is bonded; it is taken to be, so that a stray positive meets it.")
	if bare := Bare(s); len(bare) > 0 {
		say(true, "No fuse stands where %s %s a supply: nothing opens for a short in %s.", study.Several(bare), verb(len(bare), "meets", "meet"), verb(len(bare), "it", "them"))
	}
	say(len(s.Supplies) > 1, "Several supplies feed this installation: switch all of them off, and measure, before copper is touched.")
	say(b.found("protection/back-feed"), "Some copper is fed from more than one side: what isolates it is said under Findings.")
	open := b.Study.Open()
	say(len(open) > 0, "Not chosen yet: %s. What hangs on %s is in no number here.", study.Several(open), verb(len(open), "it", "them"))
	say(b.Study.Struck() == nil && len(s.Cables) > 0, "Faults were not followed in this study: what a short or a lost conductor does is not said here.")
	say(s.Cap() < 1, "The cap of %s is a comfort, never a protection: all that carries current is judged with the cap failed too.", layout.Nominal(unit.Ratio(s.Cap())))
	weak := 0
	for _, c := range b.Study.Footing(b.Assessed).Bases {
		if c.Basis == parts.Memory || c.Basis == parts.Practice || c.Basis == parts.Invented || c.Basis == parts.Unstated {
			weak += c.Numbers
		}
	}
	say(weak > 0, "Of the numbers that decide, %d %s from memory, common practice or invention, or nobody states %s: see What the numbers rest on.", weak, verb(weak, "is", "are"), verb(weak, "it", "them"))
	return list
}

// found reports whether a rule found anything.
func (b *book) found(rule string) bool {
	for _, f := range b.Findings {
		if f.Rule == rule {
			return true
		}
	}
	return false
}
