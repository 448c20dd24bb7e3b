package study

import (
	"cmp"
	"slices"
	"strings"

	"farend/finding"
	"farend/parts"
)

// A Footing says what a verdict rests on: the numbers that decide what does not pass, and the tightest of what does.
type Footing struct {
	Bases   []Count  // how many numbers are of each basis, the most trustworthy first; none of those of which there are none
	Wiring  int      // findings that follow from the wiring alone, and rest on no number
	Weakest []Link   // where it is weakest
	Numbers []Number // each once, the least known first
}

// A Count is how many numbers are of a basis.
type Count struct {
	Basis   parts.Basis
	Numbers int
}

// A Link is numbers of one part that are known in the same way, not well.
type Link struct {
	Part   string   // "" for numbers of the scheme or of a rule
	Keys   []string // in the order of identifiers
	Basis  parts.Basis
	Input  string        // the weakest input of a derived number, as its source names it
	Spread bool          // it is weak because it varies widely, whatever its basis
	Holds  []string      // the findings and passes that rest on it: rule:subject
	Grade  finding.Grade // the worst of them
	Firm   []string      // what would firm it up, in the order of the keys: orders such as "measure the volts lost over 1 m"
}

// wide is the spread from which a number is weak whatever its basis: a fifth either way, more than any limit leaves spare here.
const wide = 0.2

// near is the margin under which a pass is one that the numbers decide: typical tapes are off by up to a factor of two.
const near = 1.0

// Footing is what the assessments of a study rest on.
func (s *Study) Footing(all []Assessed) Footing {
	var f Footing
	count := map[parts.Basis]int{}
	seen := map[string]bool{}
	var links []Link
	for _, a := range s.decisive(all) {
		numbers := a.Numbers()
		if len(numbers) == 0 && a.Grade > finding.Unknown {
			f.Wiring++
		}
		for _, n := range numbers {
			if !seen[n.String()] {
				seen[n.String()] = true
				count[n.Basis]++
				f.Numbers = append(f.Numbers, n)
			}
			links = linked(links, n, a)
		}
	}
	for _, basis := range parts.Bases() {
		if count[basis] > 0 {
			f.Bases = append(f.Bases, Count{basis, count[basis]})
		}
	}
	for i, l := range links {
		links[i].Firm = firmed(s.Scheme.Library, l)
	}
	f.Weakest = ordered(links)
	slices.SortStableFunc(f.Numbers, func(a, b Number) int {
		return cmp.Or(cmp.Compare(slices.Index(parts.Bases(), b.Basis), slices.Index(parts.Bases(), a.Basis)), cmp.Compare(a.Part, b.Part))
	})
	return f
}

// Firming is what would firm a number up, "" where nobody can.
func (s *Study) Firming(n Number) string {
	part, _ := s.Scheme.Library.Find(n.Part)
	return advice(part, n.Key)
}

// Weak is where an assessment is weakest, and what would firm it up: those of its numbers that are derived or less, or that vary
// widely.
func (s *Study) Weak(a Assessed) []Link {
	var links []Link
	for _, n := range a.Numbers() {
		links = linked(links, n, a)
	}
	for i, l := range links {
		links[i].Firm = firmed(s.Scheme.Library, l)
	}
	return ordered(links)
}

// decisive lists the assessments that decide the verdict: of every rule and subject the worst, where it is tight or worse; and of
// every rule the tightest that passes with less than twice its limit.
func (s *Study) decisive(all []Assessed) []Assessed {
	var list []Assessed
	tightest := map[string]int{} // by rule, a place in all
	var rules []string
	for _, i := range worst(all) {
		a := all[i]
		switch {
		case a.Grade >= finding.Tight:
			list = append(list, a)
		case a.Grade == finding.Pass && a.Margin != nil && *a.Margin < near:
			j, known := tightest[a.Rule.Name]
			if !known {
				rules = append(rules, a.Rule.Name)
			}
			if !known || worse(a.Assessment, all[j].Assessment) {
				tightest[a.Rule.Name] = i
			}
		}
	}
	for _, rule := range rules {
		list = append(list, all[tightest[rule]])
	}
	return list
}

// linked adds a number to the links where it is weak.
func linked(links []Link, n Number, a Assessed) []Link {
	derived := parts.Weaker(n.Basis, parts.Measured) != parts.Measured
	spread := !derived && (n.Spread.High > wide || n.Spread.Low < -wide)
	if !derived && !spread {
		return links
	}
	input := ""
	if _, after, found := strings.Cut(n.Source, "weakest input: "); found && n.Basis == parts.Derived {
		input, _, _ = strings.Cut(after, ";")
	}
	at := slices.IndexFunc(links, func(l Link) bool {
		return l.Part == n.Part && l.Basis == n.Basis && l.Input == input && l.Spread == spread
	})
	if at < 0 {
		at = len(links)
		links = append(links, Link{Part: n.Part, Basis: n.Basis, Input: input, Spread: spread})
	}
	l := &links[at]
	if !slices.Contains(l.Keys, n.Key) {
		l.Keys = append(l.Keys, n.Key)
	}
	if holds := a.Rule.Name + ":" + a.Subject; !slices.Contains(l.Holds, holds) {
		l.Holds = append(l.Holds, holds)
	}
	l.Grade = max(l.Grade, a.Grade)
	return links
}

// ordered puts links in the order in which they matter: by the worst grade that hangs on them, then what is least known, then what
// holds up most.
func ordered(links []Link) []Link {
	slices.SortStableFunc(links, func(a, b Link) int {
		return cmp.Or(cmp.Compare(b.Grade, a.Grade), cmp.Compare(b.rank(), a.rank()), cmp.Compare(len(b.Holds), len(a.Holds)), cmp.Compare(a.Part, b.Part))
	})
	return links
}

// rank is how little a link is known. A number that varies widely is no better known than a derived one.
func (l Link) rank() int {
	if l.Spread {
		return slices.Index(parts.Bases(), parts.Derived)
	}
	return slices.Index(parts.Bases(), l.Basis)
}

// firmed is what would firm a link up: the advice for each of its keys, each once.
func firmed(library *parts.Library, l Link) []string {
	part, _ := library.Find(l.Part)
	var all []string
	for _, key := range l.Keys {
		if text := advice(part, key); text != "" && !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

// advice says what to measure, or where to read, for a number of a part; what the part itself says comes first. There is none for
// what nobody can measure: the rule's own practice.
func advice(part any, key string) string {
	last := key[strings.LastIndexByte(key, '.')+1:]
	switch p := part.(type) {
	case *parts.Tape:
		return tapeAdvice(p, key, last)
	case *parts.Supply:
		return supplyAdvice(last)
	case *parts.Cable:
		return cableAdvice(last)
	}
	switch {
	case key == "site.ambient":
		return "measure the hottest air around cables and boards, and write it under site"
	case strings.HasPrefix(key, "aims."):
		return "write the aim that was agreed"
	case last == "amps" || last == "ground_amps":
		return "measure how much warmer it gets in an hour at its load: at most 45 K (DIN EN 60998-1)"
	case last == "resistance" || last == "resistance_hot" || last == "ground":
		return "measure the volts lost across it, over a known current"
	case last == "area_max" || last == "area_min" || last == "ways":
		return "read its maker's sheet"
	}
	return ""
}

func tapeAdvice(t *parts.Tape, key, last string) string {
	if own := string(t.Measure[last]); own != "" {
		return "measure " + own
	}
	switch last {
	case "rail", "rail_return":
		return "measure the volts lost in each rail over 1 m, at a known current of about 1 A"
	case "set", "string":
		return "measure the current of 10 pixels in each colour, less that of the same pixels dark"
	case "joint":
		return "measure the volts lost across a factory joint, at a known current of about 1 A"
	case "rail_amps":
		return "measure the width and thickness of its copper, or how warm it gets in an hour at its load"
	case "lo", "hi", "soft":
		return "measure the voltage at which a single pixel visibly dims, in each colour"
	case "volts_min", "volts_max", "volts":
		return "read the sheet of the chip on your reel"
	case "candela":
		return "measure the lux at a fixed distance from one pixel, in each colour"
	}
	return ""
}

func supplyAdvice(last string) string {
	switch last {
	case "source_resistance", "volts":
		return "measure the volts at its terminals without load, and at a known large current"
	case "low", "pulse_on", "pulse_off", "fold_to":
		return "measure the current at which it limits, and what it does then, on an adjustable load"
	case "amps", "watts", "parallel":
		return "read the sheet of your supply"
	}
	return ""
}

func cableAdvice(last string) string {
	switch last {
	case "r20":
		return "measure the volts lost over its length and back, at a known current"
	case "conduit", "surface", "free", "insulation", "area":
		return "read the print on its sheath and its maker's table"
	}
	return ""
}
