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
	offset  map[string]float64 // added after scaling; temperatures only
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

// An Error says why a text is not a quantity, and what to write instead.
type Error struct{ Text, Hint string }

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
		return 0, &Error{quote(text) + " is too large a number", "write " + d.Example}
	case err != nil:
		return 0, d.wrong(text)
	case strings.HasPrefix(name, ","):
		return 0, &Error{quote(text) + " has a decimal comma", "write " + strings.Replace(strings.TrimSpace(text), ",", ".", 1)}
	case name == "":
		return 0, &Error{quote(text) + " has no unit", "write " + number + " " + d.unitOf(d.Example)}
	}
	if d == area {
		if v, ok, err := gauge(number, name); ok {
			return v, err
		}
	}
	scale, known := d.read[name]
	if !known {
		scale, known = d.read[canonical(name)]
		name = canonical(name)
	}
	if !known {
		return 0, &Error{quote(name) + " is not a unit of " + d.Name, "write " + number + " " + d.unitOf(d.Example)}
	}
	v = v*scale + d.offset[name]
	if math.IsInf(v, 0) {
		return 0, &Error{quote(text) + " is too large a number", "write " + d.Example}
	}
	return v, nil
}

func (d *Dimension) wrong(text string) error {
	return &Error{quote(text) + " is not a " + d.Name, "write a number and its unit, for example " + d.Example}
}

func (d *Dimension) unitOf(example string) string {
	_, name := split(example)
	return name
}

// split parts "2.5 mm²" into "2.5" and "mm²".
func split(text string) (number, name string) {
	text = strings.Replace(text, "−", "-", 1)
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

// canonical folds the spellings of one unit into the one in the tables: µ for u and for the Greek letter, Ω for
// ohm, ² for 2, ° for nothing.
func canonical(name string) string {
	name = strings.NewReplacer("μ", "µ", "Ω", "Ω", "ohms", "Ω", "ohm", "Ω", "Ohm", "Ω", "²", "2", "°", "", "·", "", " ", "").Replace(name)
	if strings.HasPrefix(name, "u") {
		name = "µ" + name[1:]
	}
	return name
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
	return join(number(v/s.scale, figures), s.name)
}

// step picks the largest printed unit in which v is at least one.
func (d *Dimension) step(v float64, figures int) step {
	a := math.Abs(v) * (1 + 0.5*math.Pow(10, -float64(figures))) // so that 999.6 mV prints as 1.00 V
	for _, s := range d.print {
		if a >= s.scale {
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

func join(number, name string) string {
	if name == "" {
		return number
	}
	return number + " " + name
}

// number prints v with so many significant figures, never in exponents between 1e-4 and 1e7, with a true minus.
func number(v float64, figures int) string {
	if v == 0 {
		return "0"
	}
	decimals := figures - 1 - int(math.Floor(math.Log10(math.Abs(v))+1e-9))
	var text string
	switch {
	case decimals > figures+3 || decimals < -7+figures:
		text = strconv.FormatFloat(v, 'e', figures-1, 64)
	case decimals < 0:
		text = strconv.FormatFloat(v, 'f', 0, 64)
	default:
		text = strconv.FormatFloat(v, 'f', decimals, 64)
	}
	return strings.Replace(text, "-", "−", 1)
}

// Number prints a plain number with so many significant figures and a true minus sign.
func Number(v float64, figures int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "undefined"
	}
	return number(v, figures)
}

// gauge reads American wire gauge: area from the diameter 0.127 mm × 92^((36−n)/39) (ASTM B258).
// "2/0 AWG" and larger are outside Farend's range and are refused with a hint.
func gauge(number, name string) (float64, bool, error) {
	if !strings.EqualFold(name, "awg") {
		if strings.Contains(strings.ToLower(name), "awg") {
			return 0, true, &Error{quote(number+name) + " is larger than Farend's tables", "write the area, for example 70 mm²"}
		}
		return 0, false, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 0 || n > 40 {
		return 0, true, &Error{quote(number+" "+name) + " is not a wire gauge", "write a whole number from 0 to 40, for example 16 AWG"}
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
