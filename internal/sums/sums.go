// Package sums works sums out as a pocket calculator does that minds units: "16.5 A × √((70 °C − 45 °C)/(70 °C − 30 °C)) = 13 A".
//
// It knows + − × · / √ ² ³ ^, brackets, |x|, min, max, ln and e^, and the units of the trade. A number is followed by a space and its
// unit, and units may stand over each other: "100 mΩ/m". A sign such as I_max is a number that the caller gives. It cannot do
// equations, and takes a difference of temperatures for one of degrees.
package sums

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// A Dim is the dimension of a quantity: twice the powers of volt, ampere, metre, kelvin, candela and second, so that the root of
// any is one.
type Dim [6]int

// A Quantity is a number in SI with its dimension. Slack is half a step of the last figure it was written with, nought for what was
// worked out.
type Quantity struct {
	Value float64
	Slack float64
	Dim   Dim
}

// A unit is a name that a sum may use.
type unit struct {
	name  string
	scale float64
	dim   Dim
}

// units lists the units, those with longer names first: "mm²" is not a metre and a rest. It is made when first used.
var units = sync.OnceValue(func() []unit {
	volt, ampere, metre := Dim{2}, Dim{0, 2}, Dim{0, 0, 2}
	ohm, watt, second := Dim{2, -2}, Dim{2, 2}, Dim{0, 0, 0, 0, 0, 2}
	list := []unit{
		{"kV", 1e3, volt}, {"V", 1, volt}, {"mV", 1e-3, volt}, {"µV", 1e-6, volt},
		{"kA", 1e3, ampere}, {"A", 1, ampere}, {"mA", 1e-3, ampere}, {"µA", 1e-6, ampere}, {"nA", 1e-9, ampere},
		{"MΩ", 1e6, ohm}, {"kΩ", 1e3, ohm}, {"Ω", 1, ohm}, {"mΩ", 1e-3, ohm}, {"µΩ", 1e-6, ohm},
		{"kW", 1e3, watt}, {"W", 1, watt}, {"mW", 1e-3, watt},
		{"m", 1, metre}, {"mm", 1e-3, metre}, {"mm²", 1e-6, Dim{0, 0, 4}}, {"/m", 1, Dim{0, 0, -2}},
		{"°C", 1, Dim{0, 0, 0, 2}}, {"K", 1, Dim{0, 0, 0, 2}},
		{"cd", 1, Dim{0, 0, 0, 0, 2}}, {"mcd", 1e-3, Dim{0, 0, 0, 0, 2}},
		{"h", 3600, second}, {"min", 60, second}, {"s", 1, second}, {"ms", 1e-3, second}, {"µs", 1e-6, second}, {"ns", 1e-9, second},
		{"A²s", 1, Dim{0, 4, 0, 0, 0, 2}}, {"A√s", 1, Dim{0, 2, 0, 0, 0, 1}},
		{"F", 1, Dim{-2, 2, 0, 0, 0, 2}}, {"mF", 1e-3, Dim{-2, 2, 0, 0, 0, 2}}, {"µF", 1e-6, Dim{-2, 2, 0, 0, 0, 2}}, {"nF", 1e-9, Dim{-2, 2, 0, 0, 0, 2}}, {"pF", 1e-12, Dim{-2, 2, 0, 0, 0, 2}},
		{"MHz", 1e6, Dim{0, 0, 0, 0, 0, -2}}, {"kHz", 1e3, Dim{0, 0, 0, 0, 0, -2}}, {"Hz", 1, Dim{0, 0, 0, 0, 0, -2}},
		{"Nm", 1, Dim{2, 2, 0, 0, 0, 2}}, {"%", 0.01, Dim{}},
	}
	slices.SortStableFunc(list, func(a, b unit) int { return len(b.name) - len(a.name) })
	return list
})

// A calculator works a line out. It panics with a complaint, which those who use it turn into an error.
type calculator struct {
	whole, rest string
	sign        func(string) (Quantity, bool)
	seen        []Span
}

type complaint string

// A Span is where a sign stands in a text: its first byte, and the one behind its last.
type Span struct {
	From, To int
	Sign     string
}

func begin(text string, sign func(string) (Quantity, bool)) *calculator {
	return &calculator{whole: text, rest: text, sign: sign}
}

// trap turns a complaint about a text into an error.
func trap(text string, err *error) {
	if c, ok := recover().(complaint); ok {
		*err = fmt.Errorf("%s: %s", text, string(c))
	}
}

// Holds works out "a = b < c" and says where neighbours do not stand to each other as the line has it: equal to the last figure
// written, or in that order.
func Holds(line string) (err error) {
	defer trap(line, &err)
	c := begin(line, nil)
	left, related := c.sum(), false
	for c.skip(); c.rest != ""; c.skip() {
		relation := c.oneOf(Relations()...)
		right := c.sum()
		left.compare(relation, right)
		left, related = right, true
	}
	if !related {
		panic(complaint("nothing is compared"))
	}
	return nil
}

// Worth is the quantity that a text is.
func Worth(text string) (Quantity, error) {
	q, _, err := Work(text, nil)
	return q, err
}

// Work works an expression out in which signs stand for quantities, and says where they stand.
func Work(text string, sign func(string) (Quantity, bool)) (q Quantity, signs []Span, err error) {
	defer trap(text, &err)
	c := begin(text, sign)
	q = c.sum()
	if c.skip(); c.rest != "" {
		panic(complaint("left over: " + c.rest))
	}
	return q, c.seen, nil
}

// Relations lists the marks that relate two sums.
func Relations() []string { return []string{"=", "<", ">", "≤", "≥"} }

// Cut parts a line at its first relation: "I ≤ 2 A" is "I", "≤", "2 A".
func Cut(line string) (left, relation, right string, ok bool) {
	i := strings.IndexAny(line, strings.Join(Relations(), ""))
	if i < 0 {
		return line, "", "", false
	}
	_, size := utf8.DecodeRuneInString(line[i:])
	return strings.TrimSpace(line[:i]), line[i : i+size], strings.TrimSpace(line[i+size:]), true
}

func (q Quantity) compare(relation string, r Quantity) {
	if q.Dim != r.Dim {
		panic(complaint("units differ"))
	}
	near := math.Abs(q.Value-r.Value) <= r.Slack+1e-9*math.Abs(r.Value)
	ok := map[string]bool{"=": near, "<": q.Value < r.Value, ">": q.Value > r.Value, "≤": q.Value <= r.Value, "≥": q.Value >= r.Value}[relation]
	if !ok {
		panic(complaint(fmt.Sprintf("%v %s %v is wrong", q.Value, relation, r.Value)))
	}
}

func (c *calculator) skip() { c.rest = strings.TrimLeft(c.rest, " ") }

// take takes a mark if it is next.
func (c *calculator) take(mark string) bool {
	c.skip()
	return c.takeClose(mark)
}

// takeClose takes a mark if it follows without a space.
func (c *calculator) takeClose(mark string) bool {
	rest, ok := strings.CutPrefix(c.rest, mark)
	if ok {
		c.rest = rest
	}
	return ok
}

func (c *calculator) oneOf(marks ...string) string {
	for _, m := range marks {
		if c.take(m) {
			return m
		}
	}
	panic(complaint("not understood from: " + c.rest))
}

func (c *calculator) sum() Quantity {
	q := c.product()
	for {
		factor := 1.0
		switch {
		case c.take("+"):
		case c.take("−"):
			factor = -1
		default:
			return q
		}
		r := c.product()
		if q.Dim != r.Dim {
			panic(complaint("different units are added"))
		}
		q = Quantity{Value: q.Value + factor*r.Value, Dim: q.Dim}
	}
}

func (c *calculator) product() Quantity {
	q := c.root()
	for {
		divide := false
		switch {
		case c.take("×"), c.take("·"):
		case c.take("/"):
			divide = true
		default:
			return q
		}
		r := c.root()
		if divide {
			q = Quantity{Value: q.Value / r.Value, Dim: added(q.Dim, r.Dim, -1)}
		} else {
			q = Quantity{Value: q.Value * r.Value, Dim: added(q.Dim, r.Dim, 1)}
		}
	}
}

func added(a, b Dim, times int) Dim {
	for i := range a {
		a[i] += times * b[i]
	}
	return a
}

func (c *calculator) root() Quantity {
	if !c.take("√") {
		return c.power()
	}
	q := c.primary()
	for i := range q.Dim {
		if q.Dim[i]%2 != 0 {
			panic(complaint("a root of a root's unit"))
		}
		q.Dim[i] /= 2
	}
	return Quantity{Value: math.Sqrt(q.Value), Dim: q.Dim}
}

func (c *calculator) power() Quantity {
	q := c.primary()
	switch {
	case c.takeClose("²"):
		return Quantity{Value: q.Value * q.Value, Dim: added(q.Dim, q.Dim, 1)}
	case c.takeClose("³"):
		return Quantity{Value: q.Value * q.Value * q.Value, Dim: added(q.Dim, q.Dim, 2)}
	case c.takeClose("^"):
		return Quantity{Value: math.Pow(q.plain(), c.primary().plain())}
	}
	return q
}

// plain is a number without a unit.
func (q Quantity) plain() float64 {
	if q.Dim != (Dim{}) {
		panic(complaint("a power, a logarithm or an exponent with a unit"))
	}
	return q.Value
}

func (c *calculator) primary() Quantity {
	switch {
	case c.take("("):
		q := c.sum()
		c.closed(")")
		return Quantity{Value: q.Value, Dim: q.Dim}
	case c.take("|"):
		q := c.sum()
		c.closed("|")
		return Quantity{Value: math.Abs(q.Value), Dim: q.Dim}
	case c.take("−"):
		q := c.primary()
		return Quantity{Value: -q.Value, Slack: q.Slack, Dim: q.Dim}
	}
	if first, _ := utf8.DecodeRuneInString(c.rest); unicode.IsLetter(first) {
		return c.named()
	}
	return c.number()
}

func (c *calculator) closed(mark string) {
	if !c.take(mark) {
		panic(complaint("a bracket stays open"))
	}
}

// named is a function, or a quantity by its sign: letters with what hangs on them (I_max, u′_1, ΔU).
func (c *calculator) named() Quantity {
	end := strings.IndexFunc(c.rest, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '′' })
	if end < 0 {
		end = len(c.rest)
	}
	name, at := c.rest[:end], len(c.whole)-len(c.rest)
	c.rest = c.rest[end:]
	switch {
	case name == "e" && c.takeClose("^"):
		return Quantity{Value: math.Exp(c.primary().plain())}
	case name == "ln":
		return Quantity{Value: math.Log(c.primary().plain())}
	case name == "min" || name == "max":
		return c.extreme(name == "max")
	case c.sign == nil:
		panic(complaint("no number at: " + name))
	}
	q, known := c.sign(name)
	if !known {
		panic(complaint("an unknown sign: " + name))
	}
	c.seen = append(c.seen, Span{at, at + end, name})
	return Quantity{Value: q.Value, Dim: q.Dim}
}

// extreme is the largest or smallest of a list in brackets.
func (c *calculator) extreme(largest bool) Quantity {
	if !c.take("(") {
		panic(complaint("a list without a bracket"))
	}
	q := c.sum()
	for c.take(",") {
		r := c.sum()
		if q.Dim != r.Dim {
			panic(complaint("different units are compared"))
		}
		if (r.Value > q.Value) == largest {
			q = r
		}
	}
	c.closed(")")
	return Quantity{Value: q.Value, Dim: q.Dim}
}

// number is digits, perhaps with a power of ten (1.5e−06), and a unit.
func (c *calculator) number() Quantity {
	c.skip()
	digits := c.rest[:span(c.rest)]
	c.rest = c.rest[len(digits):]
	power := ""
	if rest, ok := strings.CutPrefix(c.rest, "e"); ok {
		signed := strings.TrimLeft(rest, "+−")
		if digits := span(signed); digits > 0 {
			power = rest[:len(rest)-len(signed)+digits]
			c.rest = rest[len(power):]
		}
	}
	value, err := strconv.ParseFloat(digits+exponent(power), 64)
	step, _ := strconv.ParseFloat("1"+exponent(power), 64)
	if err != nil {
		panic(complaint("no number at: " + digits + c.rest))
	}
	if _, decimals, found := strings.Cut(digits, "."); found {
		step *= math.Pow(10, -float64(len(decimals)))
	}
	u := c.behind()
	return Quantity{value * u.scale, step / 2 * u.scale, u.dim}
}

func exponent(power string) string {
	if power == "" {
		return ""
	}
	return "e" + strings.ReplaceAll(power, "−", "-")
}

// span is how many bytes of digits and points a text begins with.
func span(text string) int {
	end := strings.IndexFunc(text, func(r rune) bool { return r != '.' && (r < '0' || r > '9') })
	if end < 0 {
		return len(text)
	}
	return end
}

// behind is the unit behind a number, those over each other together; one where there is none.
func (c *calculator) behind() unit {
	rest, spaced := strings.CutPrefix(c.rest, " ")
	if !spaced {
		return unit{scale: 1}
	}
	u, rest, ok := unitOf(rest)
	if !ok {
		if first, _ := utf8.DecodeRuneInString(rest); unicode.IsLetter(first) || first == '°' || first == '%' {
			panic(complaint("an unknown unit: " + rest))
		}
		return unit{scale: 1}
	}
	for below, over := strings.CutPrefix(rest, "/"); over; below, over = strings.CutPrefix(rest, "/") {
		per, after, known := unitOf(below)
		if !known {
			break
		}
		u, rest = unit{"", u.scale / per.scale, added(u.dim, per.dim, -1)}, after
	}
	c.rest = rest
	return u
}

// unitOf is the unit that a text begins with, and what follows it.
func unitOf(text string) (u unit, rest string, ok bool) {
	for _, u := range units() {
		after, is := strings.CutPrefix(text, u.name)
		if !is {
			continue
		}
		if first, _ := utf8.DecodeRuneInString(after); !unicode.IsLetter(first) && first != '_' && first != '²' {
			return u, after, true
		}
	}
	return unit{}, text, false
}
