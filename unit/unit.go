// Package unit models physical quantities as the trade writes them: "2.5 mm²", "100 mΩ/m", "16 AWG", "80 %".
//
// Every quantity is a named float64 that holds SI (metres, ohms, seconds, square metres; ratios as plain
// fractions; temperatures in degrees Celsius, the one exception, because every table of the trade is). A text
// without a unit is an error with a hint, never a guess. Printing uses three significant figures, the prefix that
// reads best and a true minus sign.
//
// Numeric rooms (circuit) take plain float64; the types here live at the edges.
package unit

import (
	"math"
	"strconv"
	"strings"
)

// A Dimension is what a quantity measures, with the spellings that are read and the steps that are printed.
type Dimension struct {
	Name    string // "length"
	Example string // "2.5 m": what a hint shows
	SI      string // the unit of the stored number, as JSON names it: "m", "ohm/m", "1"
	read    map[string]float64
	offset  map[string]float64 // added before scaling; temperatures only
	meant   map[string]string  // what is not read but said, in small letters, and the unit that it means
	print   []step             // largest first
}

type step struct {
	name  string
	scale float64
}

// Quantity is any of the named types of this package.
type Quantity interface {
	~float64
	Dimension() *Dimension
}

// An Error says why a text is not a quantity, and what to write instead. Unit is the unit with which Hint ends, where that is a guess.
type Error struct{ Text, Hint, Unit string }

// Like is the hint for where a value looks like another: in the unit of that.
func (e *Error) Like(example string) string {
	number, name := split(example)
	if _, err := strconv.ParseFloat(number, 64); err != nil || e.Unit == "" || name == "" {
		return e.Hint
	}
	return strings.TrimSuffix(e.Hint, e.Unit) + name
}

func (e *Error) Error() string {
	if e.Hint == "" {
		return e.Text
	}
	return e.Text + " (" + e.Hint + ")"
}

// Parse reads a quantity: a number, a space or none, and a unit of T's dimension.
func Parse[T Quantity](text string) (T, error) {
	var zero T
	v, err := zero.Dimension().Parse(text)
	return T(v), err
}

// Must is Parse for texts that are part of the program; it panics on a mistake.
func Must[T Quantity](text string) T {
	v, err := Parse[T](text)
	if err != nil {
		panic("unit: " + err.Error())
	}
	return v
}

// Parse reads a number with one of d's units and returns it in SI. The error, if any, is an *Error.
func (d *Dimension) Parse(text string) (float64, error) {
	number, name := split(strings.TrimSpace(text))
	if number == "" {
		return 0, d.wrong(text)
	}
	v, err := strconv.ParseFloat(number, 64)
	switch {
	case err != nil && math.IsInf(v, 0):
		return 0, d.tooLarge(text)
	case err != nil:
		return 0, d.wrong(text)
	case strings.HasPrefix(name, ","):
		return 0, comma(text, name)
	case name == "":
		hint, guess := d.withUnit(number, v)
		return 0, &Error{quote(text) + " has no unit", hint, guess}
	case d == area:
		if v, ok, err := gauge(number, name); ok {
			return v, err
		}
	}
	scale, name, err := d.unit(number, name)
	if err != nil {
		return 0, err
	}
	v = (v + d.offset[name]) * scale
	if math.IsInf(v, 0) {
		return 0, d.tooLarge(text)
	}
	return v, nil
}

// unit is the scale of a unit and its spelling in the table.
func (d *Dimension) unit(number, name string) (float64, string, error) {
	if digit(name[0]) {
		return 0, "", &Error{Text: quote(number+" "+name) + " holds two numbers", Hint: "write one number and its unit, for example " + d.Example}
	}
	if sum, ok := d.sum(number, name); ok {
		return 0, "", &Error{Text: quote(number+" "+name) + " is two quantities", Hint: "write one: " + sum}
	}
	short := name
	if d == temperature {
		short = degree(name)
	}
	for _, spelling := range []string{short, canonical(short)} {
		if scale, known := d.read[spelling]; known {
			return scale, spelling, nil
		}
	}
	guess := ""
	meant, ok := d.meant[strings.ToLower(name)]
	if !ok {
		meant = d.unitOf(d.Example)
		guess = meant
	}
	return 0, "", &Error{quote(name) + " is not a unit of " + d.Name, "write " + number + " " + meant, guess}
}

// withUnit is a hint: the bare number with a unit. A percentage of up to one was more likely meant as a fraction, and
// 0.8 % is a hundredth of 0.8; a length from a hundred up is more likely one in millimetres, in which drawings of buildings are.
func (d *Dimension) withUnit(number string, v float64) (hint, guess string) {
	if d == ratio && v > 0 && v <= 1 {
		return "write " + strconv.FormatFloat(100*v, 'g', 6, 64) + " %, or " + number + " % if you mean that little", ""
	}
	if d == length && v >= 100 {
		return "write " + number + " mm, or " + number + " m if it is that long", ""
	}
	guess = d.unitOf(d.Example)
	return "write " + number + " " + guess, guess
}

// sum is what two quantities written one after the other, such as 6 ft 7 in, are together: exactly in the unit of the second,
// and in SI. It is false where the text is anything else.
func (d *Dimension) sum(number, name string) (string, bool) {
	begins := strings.IndexAny(name, "0123456789")
	if begins < 1 || d.offset != nil {
		return "", false
	}
	first := strings.TrimSpace(name[:begins])
	small, unit := split(name[begins:])
	large, known := d.scaleOf(first)
	step, also := d.scaleOf(unit)
	a, err := strconv.ParseFloat(number, 64)
	b, wrong := strconv.ParseFloat(small, 64)
	if !known || !also || err != nil || wrong != nil {
		return "", false
	}
	if meant, ok := d.meant[strings.ToLower(unit)]; ok {
		unit = meant
	}
	total := a*large + b*step
	exact, rounded := strconv.FormatFloat(total/step, 'g', 10, 64)+" "+unit, d.Format(total, 3)
	if d.step(total, 3).name == unit {
		return exact, true
	}
	return exact + " or " + rounded, true
}

// scaleOf is the scale of a unit in one of its spellings, of those that people say too.
func (d *Dimension) scaleOf(name string) (float64, bool) {
	if meant, ok := d.meant[strings.ToLower(name)]; ok {
		name = meant
	}
	scale, known := d.read[canonical(name)]
	return scale, known
}

func digit(c byte) bool { return c >= '0' && c <= '9' }

func (d *Dimension) tooLarge(text string) error {
	return &Error{Text: quote(text) + " is too large a number", Hint: "write " + d.Example}
}

// comma is the mistake of a comma in a number, which may part decimals or thousands: name is what follows the whole part.
func comma(text, name string) error {
	text = strings.TrimSpace(text)
	point, none := strings.Replace(text, ",", ".", 1), strings.Replace(text, ",", "", 1)
	if decimals, _ := split(name[1:]); len(decimals) == 3 && strings.Trim(decimals, "0123456789") == "" {
		return &Error{Text: quote(text) + " has a comma, for decimals or for thousands", Hint: "write " + point + " or " + none}
	}
	return &Error{Text: quote(text) + " has a decimal comma", Hint: "write " + point}
}

func (d *Dimension) wrong(text string) error {
	return &Error{Text: quote(text) + " is not a " + d.Name, Hint: "write a number and its unit, for example " + d.Example}
}

func (d *Dimension) unitOf(example string) string {
	_, name := split(example)
	return name
}

// split parts "2.5 mm²" into "2.5" and "mm²".
func split(text string) (number, name string) {
	text = strings.ReplaceAll(text, "−", "-")
	i := 0
	for i < len(text) && strings.IndexByte("+-0123456789.eE", text[i]) >= 0 {
		// "5e" may begin a unit; an exponent needs a digit or a sign after it.
		if (text[i] == 'e' || text[i] == 'E') && (i == 0 || i+1 >= len(text) || strings.IndexByte("+-0123456789", text[i+1]) < 0) {
			break
		}
		i++
	}
	return text[:i], strings.TrimSpace(text[i:])
}

// spellings is what canonical replaces; it is built when first used.
var spellings = strings.NewReplacer("\u03bc", "\u00b5", "\u2126", "Ω", "ohms", "Ω", "ohm", "Ω", "Ohms", "Ω", "Ohm", "Ω", "²", "2", "^2", "2",
	" / ", "/", "/ ", "/", " /", "/", "A² s", "A2s", "A2 s", "A2s", "A²·s", "A2s", "A2·s", "A2s", "A^2·s", "A2s", "m²·K", "m2K", "m2·K", "m2K", "m^2·K", "m2K", "N·m", "Nm")

// canonical folds the spellings of one unit into the one in the tables: µ (U+00B5) for u and for the Greek letter, the
// Greek Ω for ohm and for the ohm sign (U+2126), 2 for ², nothing for the spaces around a slash, before the second of A² s, and
// the dot of a product. A space or a dot after a prefix stays: "5 m m" and "5 m·m" are not five millimetres.
func canonical(name string) string {
	name = spellings.Replace(name)
	if strings.HasPrefix(name, "u") {
		name = "µ" + name[1:]
	}
	return name
}

// degree takes the degree sign off a unit of temperature, also where the two are one character.
func degree(name string) string {
	switch name {
	case "\u2103":
		return "C"
	case "\u2109":
		return "F"
	}
	return strings.TrimSpace(strings.TrimPrefix(name, "°"))
}

func quote(text string) string {
	if len(text) > 60 {
		text = strings.ToValidUTF8(text[:57], "") + "..."
	}
	return strconv.Quote(text)
}

// Format prints v (SI) with the given number of significant figures and the prefix that reads best: "4.41 V".
func (d *Dimension) Format(v float64, figures int) string {
	switch {
	case math.IsNaN(v):
		return "undefined"
	case math.IsInf(v, 1):
		return "unlimited"
	case math.IsInf(v, -1):
		return "−unlimited"
	}
	s := d.step(v, figures)
	if math.IsInf(v/s.scale, 0) { // within a step of the largest float64
		return d.Format(v/s.scale, figures)
	}
	return join(number(v/s.scale, figures), s.name)
}

// Printed is the unit in which Format prints v, and how much of SI one of it is: "mV", 1e-3.
func (d *Dimension) Printed(v float64, figures int) (name string, scale float64) {
	s := d.step(v, figures)
	return s.name, s.scale
}

// step picks the largest printed unit in which v, as it will be printed, is at least one: 999.6 mV prints as 1.00 V.
func (d *Dimension) step(v float64, figures int) step {
	for _, s := range d.print {
		if exponent(v/s.scale, figures) >= 0 && v != 0 {
			return s
		}
	}
	if v == 0 {
		for _, s := range d.print {
			if s.scale == 1 {
				return s
			}
		}
	}
	return d.print[len(d.print)-1]
}

// exponent is the power of ten of the first figure of v once v is rounded to so many figures.
func exponent(v float64, figures int) int {
	_, power, _ := strings.Cut(strconv.FormatFloat(v, 'e', figures-1, 64), "e")
	n, _ := strconv.Atoi(power)
	return n
}

func join(number, name string) string {
	if name == "" {
		return number
	}
	return number + " " + name
}

// number prints v with so many significant figures, never in exponents between 1e-4 and 1e7, with a true minus. Figures
// before the decimal point are never dropped.
func number(v float64, figures int) string {
	if v == 0 {
		return "0"
	}
	power := exponent(v, figures)
	var text string
	switch {
	case power < -4 || power > 6:
		text = strconv.FormatFloat(v, 'e', figures-1, 64)
	default:
		text = strconv.FormatFloat(v, 'f', max(figures-1-power, 0), 64)
	}
	return strings.ReplaceAll(text, "-", "−")
}

// Apart prints two values with three figures each, or with as many as it takes to tell them apart: "10.82 V" and "10.85 V", of which
// the one is too little. Seven figures are the most: what differs beyond is alike.
func Apart[T Quantity](a, b T) (string, string) {
	return apart(a.Dimension().Format, float64(a), float64(b), 3)
}

// NumbersApart prints two plain numbers as Apart does quantities, with so many figures or more.
func NumbersApart(a, b float64, figures int) (string, string) { return apart(Number, a, b, figures) }

func apart(print func(v float64, figures int) string, a, b float64, figures int) (string, string) {
	const most = 7
	x, y := print(a, figures), print(b, figures)
	for ; x == y && a != b && figures <= most; figures++ {
		x, y = print(a, figures), print(b, figures)
	}
	return x, y
}

// Number prints a plain number with so many significant figures and a true minus sign.
func Number(v float64, figures int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "undefined"
	}
	return number(v, figures)
}

// gauge reads American wire gauge: area from the diameter 0.127 mm × 92^((36−n)/39) (ASTM B258).
// "2/0 AWG", also written "00 AWG", and larger are outside Farend's range and are refused with a hint.
func gauge(number, name string) (float64, bool, error) {
	aught := strings.HasPrefix(name, "/0") || len(number) > 1 && strings.Trim(number, "0") == ""
	if aught && strings.EqualFold(strings.TrimSpace(strings.TrimPrefix(name, "/0")), "awg") {
		return 0, true, &Error{Text: quote(strings.TrimSuffix(number+name, " ")) + " is larger than Farend's tables", Hint: "write the area, for example 70 mm²"}
	}
	if !strings.EqualFold(name, "awg") {
		return 0, false, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 40 || strconv.Itoa(n) != number {
		return 0, true, &Error{Text: quote(number+" "+name) + " is not a wire gauge", Hint: "write a whole number from 0 to 40, for example 16 AWG"}
	}
	return float64(AreaOfGauge(n)), true, nil
}

// DiameterOfGauge is the diameter of a solid wire of gauge n (ASTM B258).
func DiameterOfGauge(n int) Metre { return Metre(0.127e-3 * math.Pow(92, float64(36-n)/39)) }

// AreaOfGauge is the copper area of a solid wire of gauge n (ASTM B258).
func AreaOfGauge(n int) SquareMetre {
	d := float64(DiameterOfGauge(n))
	return SquareMetre(math.Pi / 4 * d * d)
}
