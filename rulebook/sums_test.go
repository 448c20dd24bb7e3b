package rulebook_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// A quantity is a number in SI with its dimension: the powers of volt, ampere, metre, kelvin and candela. Slack is half a step
// of the last figure it was printed with.
type quantity struct {
	value float64
	slack float64
	dim   [5]int
}

// A base is a unit that a sum may use.
type base struct {
	scale float64
	dim   [5]int
}

func units() map[string]base {
	const milli = 1e-3
	ohm, watt := [5]int{1, -1, 0, 0, 0}, [5]int{1, 1, 0, 0, 0}
	return map[string]base{
		"V": {1, [5]int{1}}, "mV": {milli, [5]int{1}}, "A": {1, [5]int{0, 1}}, "mA": {milli, [5]int{0, 1}},
		"Ω": {1, ohm}, "mΩ": {milli, ohm}, "W": {1, watt}, "m": {1, [5]int{0, 0, 1}}, "mm²": {milli * milli, [5]int{0, 0, 2}},
		"°C": {1, [5]int{0, 0, 0, 1}}, "cd": {1, [5]int{0, 0, 0, 0, 1}}, "%": {0.01, [5]int{}},
	}
}

// A calculator works a line of sums out, as a pocket calculator that minds its units. It panics with a complaint.
type calculator struct{ rest string }

type complaint string

// holds works out "a = b < c" and complains where neighbours do not stand to each other as the line says: equal to the last figure
// printed, or in that order.
func holds(line string) (err error) {
	defer func() {
		if c, ok := recover().(complaint); ok {
			err = fmt.Errorf("%s: %s", line, string(c))
		}
	}()
	c := &calculator{line}
	left, related := c.sum(), false
	for c.skip(); c.rest != ""; c.skip() {
		sign := c.oneOf("=", "<", ">")
		right := c.sum()
		left.compare(sign, right)
		left, related = right, true
	}
	if !related {
		panic(complaint("nothing is compared"))
	}
	return nil
}

// worth is the quantity that a text is.
func worth(text string) (q quantity, err error) {
	defer func() {
		if c, ok := recover().(complaint); ok {
			err = fmt.Errorf("%s: %s", text, string(c))
		}
	}()
	c := &calculator{text}
	q = c.sum()
	if c.skip(); c.rest != "" {
		panic(complaint("left over: " + c.rest))
	}
	return q, nil
}

func (q quantity) compare(sign string, r quantity) {
	if q.dim != r.dim {
		panic(complaint("units differ"))
	}
	near := math.Abs(q.value-r.value) <= r.slack+1e-9*math.Abs(r.value)
	if ok := map[string]bool{"=": near, "<": q.value < r.value, ">": q.value > r.value}[sign]; !ok {
		panic(complaint(fmt.Sprintf("%v %s %v is wrong", q.value, sign, r.value)))
	}
}

func (c *calculator) skip() { c.rest = strings.TrimLeft(c.rest, " ") }

// take takes a mark if it is next.
func (c *calculator) take(mark string) bool {
	c.skip()
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

func (c *calculator) sum() quantity {
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
		if q.dim != r.dim {
			panic(complaint("different units are added"))
		}
		q = quantity{value: q.value + factor*r.value, dim: q.dim}
	}
}

func (c *calculator) product() quantity {
	q := c.power()
	for {
		power := 1
		switch {
		case c.take("×"):
		case c.take("/"):
			power = -1
		default:
			return q
		}
		r := c.power()
		q = quantity{value: q.value * math.Pow(r.value, float64(power)), dim: added(q.dim, r.dim, power)}
	}
}

func added(a, b [5]int, times int) [5]int {
	for i := range a {
		a[i] += times * b[i]
	}
	return a
}

func (c *calculator) power() quantity {
	if c.take("√") {
		q := c.primary()
		for i := range q.dim {
			if q.dim[i]%2 != 0 {
				panic(complaint("a root of an odd unit"))
			}
			q.dim[i] /= 2
		}
		return quantity{value: math.Sqrt(q.value), dim: q.dim}
	}
	q := c.primary()
	if rest, ok := strings.CutPrefix(c.rest, "²"); ok {
		c.rest = rest
		return quantity{value: q.value * q.value, dim: added(q.dim, q.dim, 1)}
	}
	return q
}

func (c *calculator) primary() quantity {
	if !c.take("(") {
		return c.number()
	}
	q := c.sum()
	if !c.take(")") {
		panic(complaint("a bracket stays open"))
	}
	return quantity{value: q.value, dim: q.dim}
}

func (c *calculator) number() quantity {
	c.skip()
	end := strings.IndexFunc(c.rest, func(r rune) bool { return r != '.' && (r < '0' || r > '9') })
	if end < 0 {
		end = len(c.rest)
	}
	digits := c.rest[:end]
	value, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		panic(complaint("no number at: " + c.rest))
	}
	c.rest = c.rest[end:]
	step := 1.0
	if _, decimals, found := strings.Cut(digits, "."); found {
		step = math.Pow(10, -float64(len(decimals)))
	}
	unit := base{scale: 1}
	if rest, ok := strings.CutPrefix(c.rest, " "); ok && (c.isUnit(rest)) {
		c.rest = rest
		unit = c.unit()
		for slash, after := strings.CutPrefix(c.rest, "/"); after && c.isUnit(slash); slash, after = strings.CutPrefix(c.rest, "/") {
			c.rest = slash
			per := c.unit()
			unit = base{unit.scale / per.scale, added(unit.dim, per.dim, -1)}
		}
	}
	return quantity{value * unit.scale, step / 2 * unit.scale, unit.dim}
}

func (c *calculator) isUnit(text string) bool {
	first, _ := utf8.DecodeRuneInString(text)
	return first >= 'A' && first <= 'Z' || first >= 'a' && first <= 'z' || first == 'Ω' || first == '°' || first == '%'
}

func (c *calculator) unit() base {
	known := units()
	for _, name := range slices.SortedFunc(maps.Keys(known), func(a, b string) int { return len(b) - len(a) }) {
		if rest, ok := strings.CutPrefix(c.rest, name); ok && !c.isUnit(rest) {
			c.rest = rest
			return known[name]
		}
	}
	panic(complaint("an unknown unit: " + c.rest))
}

func TestTheCalculatorMindsSumsAndUnits(t *testing.T) {
	for _, line := range []string{
		"2 + 3 × 4 = 14", "(2 + 3) × 4 = 20", "2 × 3² = 18", "√(2 × 8) = 4", "8/2/2 = 2", "7 − 2 − 2 = 3", "10 mΩ × 2 A = 20 mV", "2 V/4 A = 0.5 Ω",
		"100 mΩ/m × 2 m = 0.2 Ω", "6 A/V × 2 V = 12 A", "1/3 = 0.33", "2/3 = 0.67", "0.5 = 50 %", "3 V × 2 A = 6 W", "2 A < 3 A", "3 A > 2 A", "1 + 1 = 2 < 3", "5 V/5 V = 1",
	} {
		if err := holds(line); err != nil {
			t.Error(err)
		}
	}
	for _, line := range []string{
		"2 + 3 × 4 = 20", "1/3 = 0.34", "1 A = 1 V", "1 A + 1 V = 2 A", "3 A < 2 A", "2 A > 2 A", "2 A", "(2 + 3 = 5", "2 = 2 furlong", "two = 2", "√(2 V) = 1.41 V", "2 % × 3 = 6", "2 A = 2000 mV", "",
	} {
		if holds(line) == nil {
			t.Errorf("%q should not hold", line)
		}
	}
}
