package signal

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"farend/finding"
	"farend/parts"
	"farend/remedy"
	"farend/study"
	"farend/unit"
)

var mixedChain = study.Rule{
	Name: "signal/mixed-chain", Title: "Unlike pixels on one port", Scope: study.Senders,
	Doc: study.Doc{
		What:    "Runs that hang on one port one after the other and take protocols that differ: whether one line can be understood by all of them, and whether the sender must know which pixel takes what.",
		Why:     "All pixels of a chain see the same pulses, or the same clock. One for which a pulse is too short takes a one for a zero, and hands the mistake on; one that takes more bits than the sender counted moves the colours of all that come behind it.",
		Formula: []string{"t_lo ≤ t_hi"},
		Symbols: []study.Symbol{
			{Sign: "t_lo", Unit: "s", Means: "the larger of the least lengths that two protocols take for the same level of a 0 or a 1, or for the whole bit"},
			{Sign: "t_hi", Unit: "s", Means: "the smaller of the greatest; where only a usual length is stated, that is both"},
		},
		Sources: []study.Source{
			{Title: "the sheets of the chips", Basis: parts.Datasheet, Says: "bits, order and pulse windows; which sheets the protocols say"},
			highsDecide,
			{Title: "what a chain is", Basis: parts.Derived, Says: "each pixel takes its bits and hands on the rest, so that bits before the first pixel, and the form of a clocked pixel, are the same for all"},
		},
		Limits: []string{
			"A chip hands pulses on in a shape of its own, of which its sheet says little; here they are taken to be handed on as they were sent.",
			"The rest that ends a frame must be the longest that any of them asks for, and what comes after the last pixel serve all: that is the sender's, and is not compared.",
			"Levels between chips of unlike thresholds are asked by signal/levels.",
			"Tape of one protocol may still differ in the order of its colours, or in colour: samples of each reel tell.",
		},
		Grades: []study.Graded{
			{Grade: finding.Fails, When: "a clocked and an unclocked protocol, one whose line rests high and one whose line rests low, other bits before the first pixel, another form of clocked pixels, or t_lo above t_hi for a high or for the whole bit"},
			{Grade: finding.Unknown, When: "a protocol does not say how long its highs may be, or only a usual length that is not within what the other takes"},
			{Grade: finding.Tight, When: "bits a pixel, bits a channel or the order of the colours differ, or t_lo is above t_hi for a low alone"},
		},
		Example: study.Example{
			Given: []string{"Behind a run that takes a one as at least 1050 ns high, at 400 kbit/s, hangs one that takes it as at most 675 ns, at 800 kbit/s."},
			Sums:  []string{"1050 ns > 675 ns"},
			Value: "1050 ns", Limit: "675 ns", Grade: finding.Fails,
			Says: "No pulse is a one to both. They need a port each.",
		},
	},
	Judge: func(s *study.Study, id string) []study.Assessment {
		p, ok := s.Port(id)
		if !ok {
			return nil
		}
		if p.Mixed == nil {
			return study.Passes("All runs on it take one protocol.")
		}
		var all []study.Assessment
		kinds := chainKinds(s, p)
		for i, a := range kinds {
			for _, b := range kinds[i+1:] {
				all = append(all, mixed(id, a, b)...)
			}
		}
		return study.FixedAll(all, func() []finding.Edit { return parted(s, id) })
	},
}

// parted gives the runs of each protocol ports of their own, at the frame rate that is asked for, if any is; none where there are too few ports.
func parted(s *study.Study, port string) []finding.Edit {
	const anyRate unit.Hertz = 1
	d, ok := remedy.Divide(s, port, cmp.Or(s.Scheme.Aims.FrameRate, anyRate))
	if !ok || !d.Meets() || !d.Changed() {
		return nil
	}
	return d.Edits()
}

// highsDecide is what a low that one of two sheets does not allow is worth.
var highsDecide = study.Source{Title: "common practice, no source", Basis: parts.Practice, Says: "a single-wire chip tells a one from a zero by the high, and takes a low of nearly any length below the rest that latches; sheets print windows for it all the same"}

// A chainKind is a protocol on a chain, with its runs there.
type chainKind struct {
	name string
	is   *parts.Protocol
	runs []string
}

func (k chainKind) String() string { return fmt.Sprintf("%s (%s)", study.Several(k.runs), k.name) }

// chainKinds lists the protocols on a port in the order in which its data gets to them.
func chainKinds(s *study.Study, p study.Port) (kinds []chainKind) {
	for _, run := range p.Runs {
		name, protocol := protocolOf(s, run)
		if protocol == nil {
			continue
		}
		if at := slices.IndexFunc(kinds, func(k chainKind) bool { return k.name == name }); at >= 0 {
			kinds[at].runs = append(kinds[at].runs, run)
			continue
		}
		kinds = append(kinds, chainKind{name, protocol, []string{run}})
	}
	return kinds
}

// protocolOf is the protocol that a run takes; nil where its tape is not known.
func protocolOf(s *study.Study, run string) (string, *parts.Protocol) {
	tape := s.Scheme.Tape(run)
	if tape == nil {
		return "", nil
	}
	protocol, _ := parts.Get[parts.Protocol](s.Scheme.Library, tape.Protocol)
	return tape.Protocol, protocol
}

const ownPort = "Give pixels of each protocol a port of their own."

// mixed compares two protocols on one port.
func mixed(port string, a, b chainKind) (all []study.Assessment) {
	if why := otherLine(a.is, b.is); why != "" {
		said := fmt.Sprintf("%s and %s hang on %s: %s.", a, b, port, why)
		return []study.Assessment{stated(finding.Fails, a, b).Say(said, ownPort).Worked(func(w *study.Working) { w.Fact(finding.Fails, said) })}
	}
	if !a.is.Clocked {
		for _, d := range durations() {
			all = append(all, shared(port, a, b, d)...)
		}
	}
	grade, said := finding.Pass, fmt.Sprintf("%s and %s take pixels of one form.", a, b)
	if unlike := unlikeForm(a.is, b.is); unlike != "" {
		grade, said = finding.Tight, fmt.Sprintf("%s and %s hang on %s, and understand one line, but %s: its sender must know pixel by pixel what each takes, or colours are exchanged or move along.", a, b, port, unlike)
	}
	return append(all, stated(grade, a, b).Say(said, "Tell the controller of each run on the port, and try it; or give each a port of its own.").Worked(func(w *study.Working) { w.Fact(grade, said) }))
}

// stated is an assessment that rests on what two protocols say in words.
func stated(grade finding.Grade, a, b chainKind) study.Assessment {
	weaker := a.is
	if parts.Weaker(a.is.Basis, b.is.Basis) != a.is.Basis {
		weaker = b.is
	}
	return study.Assessment{Grade: grade, Basis: weaker.Basis, Source: weaker.Source}.On(func() []study.Number {
		return []study.Number{study.Said(a.name, "bits", a.is.Origin), study.Said(b.name, "bits", b.is.Origin)}
	})
}

// otherLine says why two protocols cannot share a line at all, "" where they may.
func otherLine(a, b *parts.Protocol) string {
	switch {
	case a.Clocked != b.Clocked:
		return "one is clocked and the other is not"
	case a.Inverted != b.Inverted:
		return "the line of one rests high, that of the other low"
	case a.Start != b.Start:
		return fmt.Sprintf("before the first pixel one asks for %d bits and the other for %d, and takes them for colours or lacks them", a.Start, b.Start)
	case a.Clocked && (a.Depth != b.Depth || a.Overhead != b.Overhead || a.Bits != b.Bits):
		return "their clocked pixels have another form, by which they find where one ends"
	}
	return ""
}

// unlikeForm says in what the pixels of two protocols differ that understand one line.
func unlikeForm(a, b *parts.Protocol) string {
	switch {
	case a.Bits != b.Bits:
		return fmt.Sprintf("take %d and %d bits a pixel", a.Bits, b.Bits)
	case a.Depth != b.Depth:
		return fmt.Sprintf("take %d and %d bits a channel", a.Depth, b.Depth)
	case a.Order != b.Order:
		return fmt.Sprintf("take colours in the orders %s and %s", a.Order, b.Order)
	}
	return ""
}

// A duration is a part of a bit that both protocols must be able to take.
type duration struct {
	key, what string
	of        func(*parts.Protocol) parts.Window
	beyond    finding.Grade // where they take none in common
	asked     bool          // whether it must be stated
}

func durations() []duration {
	return []duration{
		{"zero.high", "the high of a 0", func(p *parts.Protocol) parts.Window { return p.Zero.High }, finding.Fails, true},
		{"one.high", "the high of a 1", func(p *parts.Protocol) parts.Window { return p.One.High }, finding.Fails, true},
		{"period", "a bit", func(p *parts.Protocol) parts.Window { return parts.Window{Min: p.PeriodMin, Max: p.PeriodMax} }, finding.Fails, false},
		{"zero.low", "the low of a 0", func(p *parts.Protocol) parts.Window { return p.Zero.Low }, finding.Tight, false},
		{"one.low", "the low of a 1", func(p *parts.Protocol) parts.Window { return p.One.Low }, finding.Tight, false},
	}
}

// A bound is one end of what a protocol takes, with the key that states it.
type bound struct {
	kind  chainKind
	key   string
	is    parts.Value[unit.Second]
	usual bool // only a usual length is stated
}

// least and greatest are the ends of a window; where one is not stated, the usual length, and where that is not either, no end is given.
func least(k chainKind, d duration) bound { return windowEnd(k, d, d.of(k.is).Min, "min") }

func greatest(k chainKind, d duration) bound { return windowEnd(k, d, d.of(k.is).Max, "max") }

func windowEnd(k chainKind, d duration, v parts.Value[unit.Second], key string) bound {
	dot := "."
	if d.key == "period" {
		dot = "_"
	}
	if usual := d.of(k.is).Is; !v.Given && usual.Given {
		return bound{k, d.key + ".is", usual, true}
	}
	return bound{k, d.key + dot + key, v, false}
}

// words is a bound in a sentence.
func (b bound) words(side string) string {
	if b.usual {
		side = "usually"
	}
	return fmt.Sprintf("%s %v", side, b.is.Is)
}

// shared asks whether two protocols take some length in common.
func shared(port string, a, b chainKind, d duration) []study.Assessment {
	lo, hi := longer(least(a, d), least(b, d)), shorter(greatest(a, d), greatest(b, d))
	if d.asked {
		for _, k := range []chainKind{a, b} {
			if !least(k, d).is.Given || !greatest(k, d).is.Given {
				return study.Unknown(fmt.Sprintf("%s and %s hang on %s, and %s does not say how long %s is.", a, b, port, k.name, d.what), ownPort)
			}
		}
	}
	if !lo.is.Given || !hi.is.Given {
		return nil // one of them takes it as long as it may be
	}
	value, limit := float64(lo.is.Is), float64(hi.is.Is)
	grade := d.beyond
	if grade == finding.Fails && (lo.usual || hi.usual) {
		grade = finding.Unknown // it may take more than is usual, and nobody says so
	}
	as := study.Upper(value, limit, 0, grade).Fill("", "s", parts.Weaker(lo.is.Basis, hi.is.Basis), hi.is.Source)
	said := fmt.Sprintf("%s and %s hang on %s: %s is %s to %s and %s to %s.", a, b, port, d.what, lo.words("at least"), lo.kind.name, hi.words("at most"), hi.kind.name)
	if grade == finding.Unknown {
		said += " Whether they understand one pulse nobody says."
	}
	remedy := ownPort
	if grade == finding.Tight {
		remedy = "Most chips do not mind; try it with both, cold and warm, or give each a port of its own."
	}
	return []study.Assessment{as.On(func() []study.Number {
		list := []study.Number{study.Stated(lo.kind.name, lo.key, lo.is), study.Stated(hi.kind.name, hi.key, hi.is)}
		if d.beyond == finding.Tight {
			list = append(list, study.Taken("that highs tell a one from a zero", highsDecide))
		}
		return list
	}).Say(said, remedy).Worked(func(w *study.Working) {
		w.Stated("t_lo", "the larger of the least lengths of "+d.what, study.Stated(lo.kind.name, lo.key, lo.is))
		w.Stated("t_hi", "the smaller of the greatest", study.Stated(hi.kind.name, hi.key, hi.is))
		w.Upper("t_lo", "t_hi", 0, grade)
	})}
}

// longer is the bound that asks for more; one that is not given asks for nothing. shorter is the one that allows less.
func longer(a, b bound) bound {
	if !a.is.Given || b.is.Given && b.is.Is > a.is.Is {
		return b
	}
	return a
}

func shorter(a, b bound) bound {
	most := func(x bound) float64 {
		if !x.is.Given {
			return math.Inf(1)
		}
		return float64(x.is.Is)
	}
	if most(b) < most(a) {
		return b
	}
	return a
}
