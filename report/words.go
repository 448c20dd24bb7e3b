package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"farend/finding"
	"farend/scheme"
	"farend/study"
)

// Verdict counts the findings of a study by grade and names them, worst first. It is what the terminal says too, as is all in this file.
func Verdict(st *study.Study, assessed []study.Assessed, findings []finding.Finding) string {
	count := map[finding.Grade]int{}
	for _, f := range findings {
		count[f.Grade]++
	}
	var parts []string
	for _, g := range []finding.Grade{finding.Danger, finding.Fails, finding.Unknown, finding.Tight} {
		if n := count[g]; n > 0 {
			parts = append(parts, OfGrade(n, g))
		}
	}
	if len(parts) == 0 {
		text := fmt.Sprintf("Pass: %s in %s, none worse than a note.", study.Counted(len(assessed), "comparison"), study.Counted(len(st.Cases()), "case"))
		if len(st.Scheme.Runs) == 0 {
			text += " The scheme has no runs yet."
		}
		return text
	}
	return strings.Join(parts, ", ") + ". Worst first: " + worstFirst(assessed, findings) + "."
}

// OfGrade counts findings of a grade: 2 dangers, 1 failing.
func OfGrade(n int, g finding.Grade) string {
	switch g {
	case finding.Danger:
		return study.Counted(n, "danger")
	case finding.Fails:
		return fmt.Sprintf("%d failing", n)
	}
	return fmt.Sprintf("%d %s", n, g)
}

// worstFirst names the rules that did not pass, each with its subjects.
func worstFirst(assessed []study.Assessed, findings []finding.Finding) string {
	const most = 4
	var rules []string
	subjects := map[string][]string{}
	for _, f := range findings {
		if f.Grade <= finding.Note {
			continue
		}
		if subjects[f.Rule] == nil {
			rules = append(rules, f.Rule)
		}
		subjects[f.Rule] = append(subjects[f.Rule], f.Subject)
	}
	titles := map[string]string{}
	for _, a := range assessed {
		titles[a.Rule.Name] = Within(a.Rule.Title)
	}
	var named []string
	for _, name := range rules[:min(len(rules), most)] {
		named = append(named, cmp.Or(titles[name], name)+some(subjects[name], most))
	}
	text := strings.Join(named, ", ")
	if more := len(rules) - most; more > 0 {
		text += fmt.Sprintf(", and %d more", more)
	}
	return text
}

// Within is a title as it stands within a sentence.
func Within(title string) string { return strings.ToLower(title[:1]) + title[1:] }

// some lists the first of several subjects in brackets; nothing where the subject is the scheme itself.
func some(subjects []string, most int) string {
	list := strings.Join(subjects[:min(len(subjects), most)], ", ")
	if list == "" {
		return ""
	}
	if more := len(subjects) - most; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	return " (" + list + ")"
}

// verb is a verb as it stands behind so many things.
func verb(n int, one, several string) string {
	if n == 1 {
		return one
	}
	return several
}

// FewAlike is how many findings have to be alike to be told as one.
const FewAlike = 3

// A likeness is what findings have in common that are told as one: all but their subjects and their numbers. What they rest on, where
// that is weak, is in it, so that no admission is lost.
type likeness struct {
	rule, unit, text, remedy, admission string
	grade                               finding.Grade
}

// Alike gathers findings that differ only in their subjects and numbers, worst first; each stands where the first of its kind
// does. Fewer than three stand alone.
func Alike(findings []finding.Finding) [][]finding.Finding {
	kinds := map[likeness][]finding.Finding{}
	for _, f := range findings {
		kinds[likenessOf(f)] = append(kinds[likenessOf(f)], f)
	}
	var groups [][]finding.Finding
	told := map[likeness]bool{}
	for _, f := range findings {
		kind := likenessOf(f)
		switch group := kinds[kind]; {
		case told[kind]:
		case len(group) < FewAlike:
			groups = append(groups, []finding.Finding{f})
		default:
			told[kind] = true
			slices.SortStableFunc(group, func(a, b finding.Finding) int { return cmp.Compare(MarginOf(a.Margin), MarginOf(b.Margin)) })
			groups = append(groups, group)
		}
	}
	return groups
}

func likenessOf(f finding.Finding) likeness {
	text, admission, _ := strings.Cut(f.Text, " This rests on ")
	if f.Value != nil && f.Limit != nil {
		text = "" // of numbers, which are told one by one
	}
	return likeness{f.Rule, f.Unit, anonymous(f, text), anonymous(f, f.Remedy), admission, f.Grade}
}

// anonymous is a text of a finding without its subject and place.
func anonymous(f finding.Finding, text string) string {
	for _, name := range []string{f.At, f.Subject} {
		if name != "" {
			text = strings.ReplaceAll(text, name, "…")
		}
	}
	return text
}

// MarginOf orders margins: what has none comes last.
func MarginOf(margin *float64) float64 {
	if margin == nil {
		return 1e9
	}
	return *margin
}

// Compared says what is compared with what; nothing where no numbers are.
func Compared(rule study.Rule, value, limit *float64, si string) string {
	if value == nil || limit == nil {
		return ""
	}
	if rule.Reads == study.AsTimes && si == "1" {
		return rule.Words(*value, si) + " what it bears"
	}
	return rule.Words(*value, si) + " against " + rule.Words(*limit, si)
}

// Entitled is the name of a finding as people read it: its rule alone, where it is about the scheme as a whole.
func Entitled(f finding.Finding) string { return strings.TrimSuffix(f.ID, ":") }

// Whence says whence a number of a trace is.
func Whence(from study.Origin) string {
	switch {
	case from.Kind == study.OfPart:
		return fmt.Sprintf("%s %s, %s", from.Part, from.Key, from.Basis)
	case from.Kind == study.Solved:
		return "solved in " + from.Case
	case from.Kind == study.OfRule:
		return fmt.Sprintf("the rule's own, %s", from.Basis)
	case from.Key == "":
		return "counted in the scheme"
	case from.Basis != "":
		return fmt.Sprintf("%s, which the scheme does not say, %s", from.Key, from.Basis)
	}
	return fmt.Sprintf("%s, line %d of the scheme", from.Key, from.Pos.Line)
}

// Once is a sum without what it gives where that is the same again: 27 A rather than 27 A = 27 A.
func Once(sum string) string {
	if left, right, ok := strings.Cut(sum, " = "); ok && left == right {
		return left
	}
	return sum
}

// Footnotes are sources in the order in which they are first named.
type Footnotes []string

// Mark is the mark of a source; none where there is no source.
func (n *Footnotes) Mark(source string) string {
	if source == "" {
		return ""
	}
	i := slices.Index(*n, source)
	if i < 0 {
		i = len(*n)
		*n = append(*n, source)
	}
	return fmt.Sprintf(" [%d]", i+1)
}

// SourceLine is a source as people read it: its basis beside it, what it says, and where that was read.
func SourceLine(s study.Source) string {
	text := fmt.Sprintf("%s [%s]: %s.", s, s.Basis, s.Says)
	if s.Read != "" {
		text += " Read in: " + s.Read + "."
	}
	return text
}

// Rests counts the numbers that decide by their basis.
func Rests(f study.Footing, findings []finding.Finding) string {
	total := 0
	var counts []string
	for _, b := range f.Bases {
		total += b.Numbers
		counts = append(counts, fmt.Sprintf("%d %s", b.Numbers, b.Basis))
	}
	what := "the tightest of what passes"
	if finding.Worst(findings) > finding.Note {
		what = "the findings and " + what
	}
	text := fmt.Sprintf("%s %s %s: %s.", study.Counted(total, "number"), verb(total, "decides", "decide"), what, strings.Join(counts, ", "))
	switch {
	case f.Wiring == 1:
		text += " 1 finding follows from the wiring alone."
	case f.Wiring > 1:
		text += fmt.Sprintf(" %d findings follow from the wiring alone.", f.Wiring)
	}
	return text
}

// Link names a weak link, and how it is known.
func Link(l study.Link) string {
	text := keys(l.Part, l.Keys) + ", " + string(l.Basis)
	switch {
	case l.Spread:
		text += " but varying by more than a fifth"
	case l.Input != "":
		text += " from " + l.Input
	}
	return text
}

// keys names a part and its keys: channels.red.lo and channels.blue.lo are lo.
func keys(part string, keys []string) string {
	const most = 3
	var short []string
	for _, key := range keys {
		if strings.HasPrefix(key, "channels.") {
			key = key[strings.LastIndexByte(key, '.')+1:]
		}
		if !slices.Contains(short, key) {
			short = append(short, key)
		}
	}
	text := strings.TrimSpace(part + " " + strings.Join(short[:min(len(short), most)], ", "))
	if more := len(short) - most; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

// What stands on everything that is about to be built.
const (
	// Burns is the caution of a dry place.
	Burns = "Extra-low voltage is not expected to shock in dry use; tens of amperes burn all the same. Fuse every lead where it begins."

	// Licensed is what is left to others.
	Licensed = "Mains wiring, protective earth and outdoor work belong to a licensed electrician and the local code; limits here are the more careful of the sources cited and never replace them."
)

// Touch is the caution of a place, by how wet it is.
func Touch(st *study.Study) string {
	if e := st.Scheme.Site.Exposure; e != "" && e != "dry" {
		return "This place is " + string(e) + ": what is safe to touch when dry may not be here. Tens of amperes burn all the same. Fuse every lead where it begins."
	}
	return Burns
}

// Bare are the cables whose positive meets a supply with no fuse at that end: one at the other end opens for nothing that happens before it.
func Bare(s *scheme.Scheme) (bare []string) {
	for _, id := range scheme.IDs(s.Cables) {
		c := s.Cables[id]
		fusedAt := func(end scheme.End) bool { return c.Fuse != "" && (c.FuseAt == scheme.ToEnd) == (end == scheme.ToEnd) }
		from, to := c.From.Kind == scheme.SupplyRef && !fusedAt(scheme.FromEnd), c.To.Kind == scheme.SupplyRef && !fusedAt(scheme.ToEnd)
		if c.Pole.Has(scheme.Plus) && (from || to) {
			bare = append(bare, id)
		}
	}
	return bare
}
