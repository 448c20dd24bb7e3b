package study

import (
	"math"
	"slices"

	"farend/circuit"
	"farend/finding"
	"farend/network"
	"farend/parts"
	"farend/scheme"
)

// A Rule judges one property of one kind of thing. It is a value, so that it can be listed, explained and tested. Judge
// gets the study and one subject and returns what it found, passing or not; it never solves.
type Rule struct {
	Name   string // "protection/cable-current"
	Title  string // "Cable current"
	Doc    Doc
	Scope  Scope
	Safety bool // guards against harm: an unknown is then not a pass
	Reads  Reading
	Judge  func(s *Study, id string) []Assessment
}

// A Scope is the kind of thing a rule judges.
type Scope string

const (
	Supplies  Scope = "supplies"
	Boards    Scope = "boards"
	Ways      Scope = "ways"
	Cables    Scope = "cables"
	Leads     Scope = "data"
	Lines     Scope = "cables and data"
	Senders   Scope = "ports" // those at which data leads begin
	Runs      Scope = "runs"
	Junctions Scope = "junctions"
	Fuses     Scope = "fuses"    // by where they stand: ways A1.1, cables W1, ports A1.P1
	Fittings  Scope = "fittings" // boards, junctions, contactors and capacitors, and cables with connectors or a fuse
	Boxes     Scope = "enclosures"
	Switches  Scope = "contactors"
	Tapes     Scope = "tapes"  // catalogue parts in use
	Copper    Scope = "copper" // what faults drive currents through: cables, data leads, runs, ways, inlets, ports, junctions, contactors
	Whole     Scope = "scheme"
)

// An Assessment is one comparison of a value with a limit.
type Assessment struct {
	Case   string
	At     string // the place, where it is finer than the subject
	Value  *float64
	Limit  *float64
	Unit   string // of both in SI, as JSON spells it: "m2", "ohm", "1"
	Margin *float64
	Grade  finding.Grade
	Text   string // one or two sentences: subject, got, limit, why it matters
	Remedy string
	Basis  parts.Basis     // of the limit
	Source string          // of the limit
	Rests  func() []Number // the numbers that decide value and limit; made only when asked for, as are the next two
	Fix    func() []finding.Edit
	Trace  func() Trace // how it comes about, step by step: see Working
}

// An Assessed is an assessment with its rule and subject.
type Assessed struct {
	Rule    *Rule
	Subject string
	Assessment
}

// Assess runs the rules over everything in their scope, several side by side, and gives what they say in the order of the rules and of
// identifiers.
func (s *Study) Assess(rules []Rule) []Assessed {
	type asked struct {
		rule *Rule
		id   string
	}
	var list []asked
	for i := range rules {
		for _, id := range s.subjects(rules[i].Scope) {
			list = append(list, asked{&rules[i], id})
		}
	}
	said := make([][]Assessed, len(list))
	parallel(len(list), func(_ *circuit.Worker, i int) {
		for _, a := range list[i].rule.Judge(s, list[i].id) {
			said[i] = append(said[i], Assessed{list[i].rule, list[i].id, a})
		}
	})
	return slices.Concat(said...)
}

func (s *Study) subjects(scope Scope) []string {
	sch := s.Scheme
	switch scope {
	case Supplies:
		return scheme.IDs(sch.Supplies)
	case Boards:
		return scheme.IDs(sch.Boards)
	case Ways:
		return s.Network.Ways()
	case Cables:
		return scheme.IDs(sch.Cables)
	case Leads:
		return scheme.IDs(sch.Data)
	case Lines:
		return slices.Concat(scheme.IDs(sch.Cables), scheme.IDs(sch.Data))
	case Senders:
		var ids []string
		for _, lead := range sch.Senders() {
			ids = append(ids, sch.Data[lead].From.String())
		}
		return ids
	case Runs:
		return scheme.IDs(sch.Runs)
	case Junctions:
		return scheme.IDs(sch.Junctions)
	case Fuses:
		var at []string
		for _, g := range s.Guards() {
			at = append(at, g.At)
		}
		return at
	case Fittings:
		return s.fittings()
	case Boxes:
		return scheme.IDs(sch.Enclosures)
	case Switches:
		return scheme.IDs(sch.Contactors)
	case Copper:
		if s.struck == nil {
			return nil
		}
		return s.struck.Owners()
	case Tapes:
		used := map[string]bool{}
		for _, r := range sch.Runs {
			used[r.Tape] = true
		}
		return scheme.IDs(used)
	}
	return []string{""}
}

// fittings lists boards, junctions, contactors and capacitors, and cables with connectors or a fuse.
func (s *Study) fittings() []string {
	sch := s.Scheme
	list := slices.Concat(scheme.IDs(sch.Boards), scheme.IDs(sch.Junctions), scheme.IDs(sch.Contactors), scheme.IDs(sch.Capacitors))
	for _, id := range scheme.IDs(sch.Cables) {
		if c := sch.Cables[id]; c.Ends != (scheme.Ends{}) || c.Fuse != "" {
			list = append(list, id)
		}
	}
	return list
}

// Findings picks what to tell the user: for every rule and subject the worst assessment, where it is not a pass; and
// what reading the scheme changed.
func (s *Study) Findings(all []Assessed) []finding.Finding {
	findings := slices.Clone(s.Scheme.Notes)
	rank := ranks(all)
	for _, i := range worst(all) {
		if all[i].Grade != finding.Pass {
			f := s.finding(all[i])
			f.Rank = rank[f.Rule]
			findings = append(findings, f)
		}
	}
	finding.Sort(findings)
	return findings
}

// ranks is the place of every rule that assessed something, in the order in which they judge, from 1; what reading the scheme changed
// has 0.
func ranks(all []Assessed) map[string]int {
	rank := map[string]int{}
	for _, a := range all {
		if rank[a.Rule.Name] == 0 {
			rank[a.Rule.Name] = len(rank) + 1
		}
	}
	return rank
}

// worst is the place of the worst assessment of every rule and subject, in the order in which they come.
func worst(all []Assessed) []int {
	type key struct{ rule, subject string }
	places := map[key]int{} // in list
	var list []int
	for i, a := range all {
		k := key{a.Rule.Name, a.Subject}
		switch at, seen := places[k]; {
		case !seen:
			places[k] = len(list)
			list = append(list, i)
		case worse(a.Assessment, all[list[at]].Assessment):
			list[at] = i
		}
	}
	return list
}

// worse orders assessments by grade, then by margin. Margins that differ by less than the solver's rounding are the same, so
// that the earlier case is named: a state rather than the failed cap.
func worse(a, b Assessment) bool {
	const rounding = 1e-6
	if a.Grade != b.Grade {
		return a.Grade > b.Grade
	}
	return a.Margin != nil && (b.Margin == nil || *a.Margin < *b.Margin-rounding)
}

func (s *Study) finding(a Assessed) finding.Finding {
	f := finding.Finding{
		ID: a.Rule.Name + ":" + a.Subject, Rule: a.Rule.Name, Safety: a.Rule.Safety, Grade: a.Grade, Subject: a.Subject,
		Case: a.Case, At: a.At, Text: a.Text, Value: a.Value, Limit: a.Limit, Unit: a.Unit, Margin: a.Margin,
		Basis: string(a.Basis), Source: a.Source, Remedy: a.Remedy, Pos: s.place(a.Rule.Scope, a.Subject),
	}
	if a.Fix != nil {
		f.Edits = a.Fix()
	}
	numbers := a.Numbers()
	if worst := weakest(numbers); parts.Weaker(a.Basis, worst.Basis) != a.Basis {
		f.Basis, f.Weakest = string(worst.Basis), worst.String()
	}
	f.Text += admission(a.Basis, numbers)
	return f
}

// Numbers lists the numbers that decide an assessment, each once; none where it follows from the wiring alone.
func (a Assessment) Numbers() []Number {
	if a.Rests == nil {
		return nil
	}
	var numbers []Number
	for _, n := range a.Rests() {
		if !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// admission says that a finding rests on memory or on practice, and which number does.
func admission(limit parts.Basis, numbers []Number) string {
	text := ""
	for _, c := range []struct {
		basis parts.Basis
		words string
	}{{parts.Memory, "from memory, for which no source was read"}, {parts.Practice, "common practice, for which there is no source"}} {
		var of []Number
		for _, n := range numbers {
			if n.Basis == c.basis {
				of = append(of, n)
			}
		}
		words := c.words
		switch {
		case c.basis == parts.Memory && len(of) > 1:
			words = "numbers " + words
		case c.basis == parts.Memory:
			words = "a number " + words
		}
		switch {
		case of != nil:
			text += " This rests on " + words + ": " + named(of) + "."
		case limit == c.basis:
			text += " This rests on " + words + "."
		}
	}
	return text
}

// named lists numbers, those of one part after one name.
func named(numbers []Number) string {
	text, part := "", ""
	for i, n := range numbers {
		switch {
		case i == 0:
			text = n.String()
		case n.Part != "" && n.Part == part:
			text += ", " + n.Key
		default:
			text += "; " + n.String()
		}
		part = n.Part
	}
	return text
}

// place is where a subject stands in the scheme.
func (s *Study) place(scope Scope, id string) finding.Pos {
	switch scope {
	case Ways, Fuses, Fittings, Lines, Copper:
		return s.thing(id)
	case Tapes:
		for _, run := range scheme.IDs(s.Scheme.Runs) {
			if s.Scheme.Runs[run].Tape == id {
				return s.Scheme.Place("runs", run, "tape")
			}
		}
	case Senders:
		p, _ := s.Port(id)
		return s.Scheme.Place("data", p.Lead)
	case Whole:
		return s.Scheme.Place("title")
	}
	return s.Scheme.Place(string(scope), id)
}

// thing is where a way, the fuse of a way, port or cable, or a fitting stands.
func (s *Study) thing(id string) finding.Pos {
	sch := s.Scheme
	section := "boards"
	switch _, fused := sch.Fuses[id]; {
	case fused:
		section = "fuses"
	case has(sch.Cables, id):
		section = "cables"
	case has(sch.Junctions, id):
		section = "junctions"
	case has(sch.Contactors, id):
		section = "contactors"
	case has(sch.Capacitors, id):
		section = "capacitors"
	case has(sch.Runs, id):
		section = "runs"
	case has(sch.Data, id):
		section = "data"
	default:
		id = network.BoardOf(id)
	}
	return sch.Place(section, id)
}

func has[V any](m map[string]V, id string) bool {
	_, is := m[id]
	return is
}

// Upper assesses a value against an upper limit: a pass with at least the given spare fraction, tight with less, over
// with the given grade above it.
func Upper(value, limit, spare float64, over finding.Grade) Assessment {
	a := Assessment{Value: &value, Limit: &limit}
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		return Assessment{Grade: finding.Unknown}
	case value > limit:
		a.Grade = over
	case value > limit*(1-spare):
		a.Grade = finding.Tight
	}
	if value > 0 {
		margin := limit/value - 1
		a.Margin = &margin
	}
	return a
}

// Lower assesses a value against a lower limit in the same way.
func Lower(value, limit, spare float64, under finding.Grade) Assessment {
	a := Assessment{Value: &value, Limit: &limit}
	switch {
	case math.IsNaN(value) || math.IsNaN(limit):
		return Assessment{Grade: finding.Unknown}
	case value < limit:
		a.Grade = under
	case value < limit*(1+spare):
		a.Grade = finding.Tight
	}
	if limit > 0 {
		margin := value/limit - 1
		a.Margin = &margin
	}
	return a
}

// Fill adds to an assessment what it is about.
func (a Assessment) Fill(c string, unit string, basis parts.Basis, source string) Assessment {
	a.Case, a.Unit, a.Basis, a.Source = c, unit, basis, source
	return a
}

// On adds the numbers that decide an assessment.
func (a Assessment) On(rests func() []Number) Assessment {
	a.Rests = rests
	return a
}

// Say adds the sentence and the remedy of an assessment that does not pass.
func (a Assessment) Say(text, remedy string) Assessment {
	a.Text, a.Remedy = text, remedy
	return a
}

// Unknown is the assessment of something that could not be assessed, and why.
func Unknown(why, remedy string) []Assessment {
	a := Assessment{Grade: finding.Unknown, Text: why, Remedy: remedy}
	return []Assessment{a.Worked(func(w *Working) { w.Fact(finding.Unknown, why) })}
}

// Open lists what the scheme leaves open on purpose (part: choose), section by section and by identifier. What hangs on it is
// not in the solved network, so that its absence proves nothing.
func (s *Study) Open() []string { return s.open }

func open(sch *scheme.Scheme) []string {
	var open []string
	note := func(id, part string) {
		if part == "choose" {
			open = append(open, id)
		}
	}
	for _, id := range scheme.IDs(sch.Supplies) {
		note(id, sch.Supplies[id].Part)
	}
	for _, id := range scheme.IDs(sch.Boards) {
		note(id, sch.Boards[id].Part)
	}
	for _, id := range scheme.IDs(sch.Runs) {
		note(id, sch.Runs[id].Tape)
	}
	for _, id := range scheme.IDs(sch.Cables) {
		note(id, sch.Cables[id].Part)
		note(id+".fuse", sch.Cables[id].Fuse)
		note(id+"@from", sch.Cables[id].Ends.From)
		note(id+"@to", sch.Cables[id].Ends.To)
	}
	for _, id := range scheme.IDs(sch.Fuses) {
		note(id+".fuse", sch.Fuses[id])
	}
	for _, id := range scheme.IDs(sch.Data) {
		note(id, sch.Data[id].Part)
		if buffer := sch.Data[id].Buffer; buffer != nil {
			note(id+".buffer", buffer.Part)
		}
	}
	for _, id := range scheme.IDs(sch.Junctions) {
		note(id, sch.Junctions[id].Part)
	}
	for _, id := range scheme.IDs(sch.Contactors) {
		note(id, sch.Contactors[id].Part)
	}
	for _, id := range scheme.IDs(sch.Capacitors) {
		note(id, sch.Capacitors[id].Part)
	}
	for _, id := range scheme.IDs(sch.Enclosures) {
		note(id, sch.Enclosures[id].Part)
	}
	return open
}

// CaseWords names a case in a sentence.
func CaseWords(c network.Case) string {
	switch c.Kind {
	case network.CapFailed:
		return "full drive (cap failed)"
	case network.Dark:
		return "the dark"
	case network.Peak:
		return "the peak of state " + c.State
	}
	return "state " + c.State
}
