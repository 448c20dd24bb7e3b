package commission

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"farend/unit"
)

// A Kind is what a reading measures.
type Kind int

const (
	Volts Kind = iota
	Amps
	Ohms
	Degrees
)

// A Reading is what a meter is to show, in SI: the value that is expected, and the band within which all is well. Where nothing is expected but a
// bound, Is is no number; a bound that is not there is infinite.
type Reading struct {
	Kind          Kind
	Is, Low, High float64
	Inwards       bool // what is set and not only read: its band is rounded to within
}

// String is the expected value with its band: "4.89 V, 4.78 to 5.01 V".
func (r Reading) String() string {
	if value := r.Value(); value != "" {
		return value + ", " + r.Band()
	}
	return r.Band()
}

// Value is the expected value alone; "" where there is none.
func (r Reading) Value() string {
	if math.IsNaN(r.Is) {
		return ""
	}
	return r.text(r.Is)
}

// Band is the band in words.
func (r Reading) Band() string {
	a, b, figs := r.ends()
	switch {
	case math.IsInf(r.High, 1):
		number, name := r.exactly(a, figs)
		return "at least " + short(number+" "+name)
	case math.IsInf(r.Low, -1), r.Low <= 0 && r.Kind != Degrees:
		number, name := r.exactly(b, figs)
		return "at most " + short(number+" "+name)
	}
	low, of := r.exactly(a, figs)
	high, name := r.exactly(b, figs)
	if of != name {
		low += " " + of
	}
	return low + " to " + high + " " + name
}

// Brief is the band in few words, beside the value: in its unit, which is not said again, where that is one in which ends of bands are not long.
func (r Reading) Brief() string {
	_, each := r.unit(r.Is)
	if math.IsNaN(r.Is) || math.Abs(r.Is) < least || r.Kind == Degrees || each != 1 && each != 1e-3 || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) {
		return r.Band()
	}
	a, b, figs := r.ends()
	low, high := figures(a/each, figs), figures(b/each, figs)
	if r.Low <= 0 {
		return "up to " + high
	}
	return low + " to " + high
}

// ends are the ends of the band as they are printed, and with how many figures: three, or as many as it needs not to be wider than it is by more than
// a tenth.
func (r Reading) ends() (low, high float64, figs int) {
	side, most := 1.0, 6
	if r.Inwards {
		side, most = -1, 4 // a meter shows no more, and narrower is no danger
	}
	for figs = 3; ; figs++ {
		low, high = outwards(r.Low, -side, figs), outwards(r.High, side, figs)
		wide, off := 0.0, 0.0
		if !math.IsInf(r.High, 0) {
			wide, off = math.Abs(r.High), math.Abs(high-r.High)
		}
		if r.Low > 0 && !math.IsInf(r.High, 0) {
			wide, off = r.High-r.Low, off+math.Abs(low-r.Low)
		}
		if off <= wide/10 || figs == most {
			return low, high, figs
		}
	}
}

// figures is a number of so many figures, without noughts where they say nothing.
func figures(v float64, figs int) string {
	if v == 0 {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', max(0, figs-1-int(math.Floor(math.Log10(math.Abs(v))+1e-9))), 64)
}

// outwards is a value with so many figures that is no nearer to what is expected than the value itself.
func outwards(v, side float64, figs int) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	last := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-float64(figs-1))
	if side < 0 {
		return math.Floor(v/last+1e-6) * last
	}
	return math.Ceil(v/last-1e-6) * last
}

// exactly is a value of the reading with so many figures, in the unit in which it has three; degrees are whole.
func (r Reading) exactly(v float64, figs int) (number, name string) {
	if math.Abs(v) < least {
		v = 0
	}
	name, each := r.unit(v)
	if r.Kind == Degrees {
		return fmt.Sprintf("%.0f", v), name
	}
	return strings.Replace(figures(v/each, figs), "-", "−", 1), name
}

// unit is the unit in which a value of the reading is printed, and how much of SI one of it is.
func (r Reading) unit(v float64) (name string, scale float64) {
	switch r.Kind {
	case Amps:
		return unit.Ampere(0).Dimension().Printed(v, 3)
	case Ohms:
		return unit.Ohm(0).Dimension().Printed(v, 3)
	case Degrees:
		return "°C", 1
	}
	return unit.Volt(0).Dimension().Printed(v, 3)
}

// least is less than any of these meters shows, in volts, amperes and ohms.
const least = 1e-6

// text is a value of the reading, to three figures; what no meter shows is none.
func (r Reading) text(v float64) string {
	if math.Abs(v) < least {
		v = 0
	}
	switch r.Kind {
	case Amps:
		return unit.Ampere(v).String()
	case Ohms:
		return unit.Ohm(v).String()
	case Degrees:
		return fmt.Sprintf("%.0f °C", v)
	}
	return unit.Volt(v).String()
}
