package study

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"farend/conductor"
	"farend/finding"
	"farend/internal/sums"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A Working writes a Trace down. A rule gives every assessment one by Worked, last of all, and says in it where the numbers are
// from, how the limit comes of them, and what makes which grade:
//
//	a.Worked(func(w *study.Working) {
//		w.Solved("I", "current of its heavier pole", study.Of(amps), c)
//		w.Stated("I_n", "rating of the link", study.Stated(name, "rating", part.Rating))
//		w.Taken("k_c", "share that a link carries for ever", study.Plain(0.75), continuousSource)
//		w.Step("What the link carries for ever", "I_c = k_c · I_n")
//		w.Upper("I", "I_c", 0.05, finding.Fails)
//	})
//
// Formulas are written as those of the Doc are: + − · / √ ² ^, brackets, |x|, min, max, ln, e^, and numbers with units; package sums
// reads them. The signs are put in, the sum is worked out and rounded, and the next step goes on from the rounded number. So
// the trace is a second computation beside the rule's own: that both end at the same value, limit and grade is tested for every
// assessment of every scheme that is kept. Upper and Lower are the ladders of grades of the functions of that name; When asks any
// other question, Fact states what is no sum. Where neither says anything worse, the grade is a pass.
type Working struct {
	figures int
	known   map[string]*term
	trace   Trace
	graded  bool
}

// A Measure is a number with what it measures.
type Measure struct {
	is float64
	of *unit.Dimension // nil for a plain number
}

// Of is a quantity as a measure.
func Of[T unit.Quantity](v T) Measure { return Measure{float64(v), v.Dimension()} }

// Plain is a number without a unit.
func Plain[T ~float64 | ~int](v T) Measure { return Measure{is: float64(v)} }

// String is a measure as people read it; "" of the zero Measure.
func (v Measure) String() string {
	switch {
	case v == Measure{}:
		return ""
	case v.of == nil:
		return unit.Number(v.is, few)
	}
	return v.of.Format(v.is, 3)
}

// A term is a number by its sign: an input, or what a step gave.
type term struct {
	Input
	carried sums.Quantity // as printed
	used    bool
}

// few and many bound the figures of a trace: it is carried with as few as lead to the assessment's own value, limit and grade.
const (
	few  = 4
	many = 17
)

// Worked adds the trace of an assessment. It is written when asked for, with more figures each time until it leads where the
// assessment is; so write gets a Working more than once, and must only read.
func (a Assessment) Worked(write func(*Working)) Assessment {
	a.Trace = func() Trace {
		var t Trace
		for figures := few; figures <= many; figures++ {
			w := &Working{figures: figures, known: map[string]*term{}, trace: Trace{Figures: figures}}
			write(w)
			if t = w.trace; t.Grade == a.Grade && agrees(t.Value, a.Value) && agrees(t.Limit, a.Limit) {
				break
			}
		}
		return t
	}
	return a
}

// agrees reports whether a carried number is an exact one to four figures; one of nothing is as good as nothing.
func agrees(carried, exact *float64) bool {
	if carried == nil || exact == nil {
		return carried == exact
	}
	return math.Abs(*carried-*exact) <= 5e-4*math.Abs(*exact)+1e-12
}

// Passes is the one assessment of what there is nothing to compare of, and why.
func Passes(why string) []Assessment {
	a := Assessment{Grade: finding.Pass}
	return []Assessment{a.Worked(func(w *Working) { w.Fact(finding.Pass, why) })}
}

// Stated takes a number of a part.
func (w *Working) Stated(sign, means string, n Number) {
	w.put(sign, means, n.Is, Origin{Kind: OfPart, Part: n.Part, Key: n.Key, Basis: n.Basis, Source: n.Source})
}

// Solved takes what was solved in a case.
func (w *Working) Solved(sign, means string, v Measure, in network.Case) {
	w.put(sign, means, v, Origin{Kind: Solved, Case: in.Name})
}

// Written takes what the scheme says at a place, under a key.
func (w *Working) Written(sign, means string, v Measure, key string, at finding.Pos) {
	w.put(sign, means, v, Origin{Kind: OfScheme, Key: key, Pos: at})
}

// Counted takes what is counted in the scheme; means says what, by name.
func (w *Working) Counted(sign, means string, n int) {
	w.put(sign, means, Plain(n), Origin{Kind: OfScheme})
}

// Taken takes a number of the rule's own.
func (w *Working) Taken(sign, means string, v Measure, s Source) {
	w.put(sign, means, v, Origin{Kind: OfRule, Basis: s.Basis, Source: s.String()})
}

// Air takes the air around a thing: its own, where the scheme states one under a key of the section, else the site's, else what
// ratings are tabulated for.
func (w *Working) Air(s *Study, sign, means string, own *unit.Celsius, path ...string) {
	switch {
	case own != nil:
		w.Written(sign, means, Of(*own), strings.Join(path, "."), s.Scheme.Place(path...))
	case s.Scheme.Site.Ambient != nil:
		w.Written(sign, means, Of(s.Scheme.Ambient()), "site.ambient", s.Scheme.Place("site", "ambient"))
	default:
		unsaid := s.Ambient()[0]
		w.put(sign, means, Of(s.Scheme.Ambient()), Origin{Kind: OfScheme, Key: unsaid.Key, Basis: unsaid.Basis, Source: unsaid.Source})
	}
}

// Lying takes the air around a cable, T_a, for what it may carry: of 20 °C at the least (conductor.Mild).
func (w *Working) Lying(s *Study, own *unit.Celsius, path ...string) {
	air := s.Scheme.Ambient()
	if own != nil {
		air = *own
	}
	if air >= conductor.Mild {
		w.Air(s, "T_a", "air around it", own, path...)
		return
	}
	w.Air(s, "T_out", "air around it", own, path...)
	w.Taken("T_lo", "coldest air that counts", Of(conductor.Mild), Source{Title: "IEC 60364-5-52", Edition: "2009", Clause: "table B.52.14", Basis: parts.Standard,
		Says: "factors down to 10 °C; those below 20 °C are left out, for 1.45 times the current would make the core hotter than 160 °C"})
	w.Step("Air that counts", "T_a = max(T_out, T_lo)")
}

func (w *Working) put(sign, means string, v Measure, from Origin) {
	text := w.print(v)
	in := Input{Sign: sign, Means: means, Text: text, Unit: "1", From: from}
	if v.of != nil {
		in.Unit = v.of.SI
	}
	carried := v.carry(text)
	in.Is = carried.Value
	if t := w.known[sign]; t != nil && t.Input == in {
		return // once taken is enough
	}
	w.known[sign] = &term{Input: in, carried: carried}
}

// carry is a measure as it was printed; what was printed as words keeps its value.
func (v Measure) carry(text string) sums.Quantity {
	q, err := sums.Worth(text)
	if err != nil {
		q = sums.Quantity{Value: v.is}
		if v.of != nil {
			one, _ := sums.Worth(v.of.Format(1, 1))
			q.Dim = one.Dim
		}
	}
	return q
}

// print writes a number with the figures of the trace, fewer where more would be noughts.
func (w *Working) print(v Measure) string {
	format := func(figures int) string {
		if v.of == nil {
			return unit.Number(v.is, figures)
		}
		return v.of.Format(v.is, figures)
	}
	text := format(w.figures)
	full := v.carry(text).Value
	for figures := 1; figures < w.figures; figures++ {
		if short := format(figures); v.carry(short).Value == full {
			return short
		}
	}
	return text
}

// Step works a formula out: "I_max = I_30 · k_g" makes I_max known.
func (w *Working) Step(what, formula string) {
	sign, expression, _ := strings.Cut(formula, " = ")
	q, sum, err := w.work(expression)
	step := Step{What: what, Formula: formula, Sum: sum, Inputs: w.fresh(expression)}
	if err != nil {
		step.Result = err.Error()
		w.trace.Steps = append(w.trace.Steps, step)
		return
	}
	v := Measure{q.Value, dimension(q.Dim)}
	step.Result = w.print(v)
	step.Sum = sum + " = " + step.Result
	w.known[sign] = &term{Input: Input{Sign: sign, Text: step.Result}, carried: v.carry(step.Result), used: true}
	w.trace.Steps = append(w.trace.Steps, step)
}

// sign is what a sign stands for.
func (w *Working) sign(name string) (sums.Quantity, bool) {
	t, ok := w.known[name]
	if !ok {
		return sums.Quantity{}, false
	}
	return t.carried, true
}

// work works an expression out, and writes it with the numbers in it.
func (w *Working) work(expression string) (sums.Quantity, string, error) {
	q, signs, err := sums.Work(expression, w.sign)
	if err != nil {
		return q, expression, err
	}
	var b strings.Builder
	at := 0
	for _, s := range signs {
		b.WriteString(expression[at:s.From])
		text, after := w.known[s.Sign].Text, expression[s.To:]
		if strings.HasPrefix(text, "−") || strings.HasPrefix(after, "²") || strings.HasPrefix(after, "³") || strings.HasPrefix(after, "^") {
			text = "(" + text + ")"
		}
		b.WriteString(text)
		at = s.To
	}
	b.WriteString(expression[at:])
	return q, strings.ReplaceAll(b.String(), "·", "×"), nil
}

// fresh lists the inputs that an expression is the first to use.
func (w *Working) fresh(expression string) []Input {
	_, signs, _ := sums.Work(expression, w.sign)
	var inputs []Input
	for _, s := range signs {
		if t := w.known[s.Sign]; !t.used {
			t.used = true
			inputs = append(inputs, t.Input)
		}
	}
	return inputs
}

// dimension is what measures quantities of a dimension; nil for plain numbers, and for what has no name of its own.
func dimension(dim sums.Dim) *unit.Dimension { return dimensions()[dim] }

// dimensions are what package unit measures by what package sums makes of it. It is made when first used.
var dimensions = sync.OnceValue(func() map[sums.Dim]*unit.Dimension {
	known := map[sums.Dim]*unit.Dimension{{}: nil}
	for _, d := range unit.Dimensions() {
		if q, err := sums.Worth(d.Format(1, 1)); err == nil {
			if _, is := known[q.Dim]; !is {
				known[q.Dim] = d
			}
		}
	}
	return known
})

// Upper asks whether a value is over an upper limit, and whether it leaves the spare fraction: as the function Upper does.
func (w *Working) Upper(value, limit string, spare float64, over finding.Grade) {
	w.Compare(value, limit)
	w.When(over, value+" > "+limit)
	w.spared(value+" > ", 1-spare, limit, over)
}

// Lower asks whether a value is under a lower limit, and whether it leaves the spare fraction: as the function Lower does.
func (w *Working) Lower(value, limit string, spare float64, under finding.Grade) {
	w.Compare(value, limit)
	w.When(under, value+" < "+limit)
	w.spared(value+" < ", 1+spare, limit, under)
}

// Overload asks what a current above a rating is for which there is no thermal curve: as the function Overload does, tight from 95 %
// on.
func (w *Working) Overload(value, rating string) {
	w.Taken("k_d", "multiple of a rating above which it is a danger", Plain(Grave), GraveSource())
	w.Compare(value, rating)
	w.When(finding.Danger, value+" > k_d · "+rating)
	w.When(finding.Fails, value+" > "+rating)
	w.When(finding.Tight, value+" > 0.95 · "+rating)
}

func (w *Working) spared(relation string, share float64, limit string, worst finding.Grade) {
	if share != 1 && worst >= finding.Tight {
		w.When(finding.Tight, relation+strconv.FormatFloat(share, 'g', 6, 64)+" · "+limit)
	}
}

// Compare says which two signs are the value and the limit of the assessment.
func (w *Working) Compare(value, limit string) {
	v, l := w.known[value], w.known[limit]
	if v == nil || l == nil {
		return
	}
	w.trace.Value, w.trace.Limit = &v.carried.Value, &l.carried.Value
}

// When asks a question of the grade, "I > 1.2 · I_r". The first that holds gives it, and those behind are asked no more; so the
// worst stands first.
func (w *Working) When(grade finding.Grade, question string) {
	if w.graded {
		return
	}
	left, relation, right, _ := sums.Cut(question)
	l, leftSum, err := w.side(left)
	r, rightSum, err2 := w.side(right)
	word := grade.String()
	step := Step{What: strings.ToUpper(word[:1]) + word[1:] + " where", Formula: question, Inputs: append(w.fresh(left), w.fresh(right)...)}
	if err != nil || err2 != nil {
		step.Sum, step.Result = leftSum+" "+relation+" "+rightSum, fmt.Sprint(errors.Join(err, err2))
		w.trace.Steps = append(w.trace.Steps, step)
		return
	}
	yes, shown := related(l.Value, relation, r.Value)
	step.Sum, step.Result = leftSum+" "+shown+" "+rightSum, "no"
	if yes {
		w.graded, w.trace.Grade, step.Result = true, grade, "yes: "+word
	}
	w.trace.Steps = append(w.trace.Steps, step)
}

// Is answers a question of numbers that are known already, and writes nothing.
func (w *Working) Is(question string) bool {
	left, relation, right, _ := sums.Cut(question)
	l, _, err := sums.Work(left, w.sign)
	r, _, err2 := sums.Work(right, w.sign)
	yes, _ := related(l.Value, relation, r.Value)
	return yes && err == nil && err2 == nil
}

// side is one side of a question, with what it gives where it is more than one number: "0.95 × 10 A = 9.5 A".
func (w *Working) side(expression string) (sums.Quantity, string, error) {
	q, sum, err := w.work(expression)
	_, signs, _ := sums.Work(expression, w.sign)
	alone := len(signs) == 0 || signs[0].To-signs[0].From == len(expression)
	if err != nil || alone {
		return q, sum, err
	}
	v := Measure{q.Value, dimension(q.Dim)}
	text := w.print(v)
	return v.carry(text), sum + " = " + text, nil
}

// related reports whether two numbers are in a relation, and which relation they are in.
func related(l float64, relation string, r float64) (yes bool, shown string) {
	opposite := map[string]string{">": "≤", "<": "≥", "≥": "<", "≤": ">"}
	switch relation {
	case ">":
		yes = l > r
	case "<":
		yes = l < r
	case "≥":
		yes = l >= r
	case "≤":
		yes = l <= r
	}
	if yes {
		return true, relation
	}
	return false, opposite[relation]
}

// Fact states what is no sum, and the grade that follows from it where none does yet.
func (w *Working) Fact(grade finding.Grade, what string) {
	if w.graded {
		return
	}
	step := Step{What: what}
	if grade != finding.Pass {
		w.graded, w.trace.Grade, step.Result = true, grade, grade.String()
	}
	w.trace.Steps = append(w.trace.Steps, step)
}
