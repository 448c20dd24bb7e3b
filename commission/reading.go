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
	low, high := r.exactly(a, figs), r.exactly(b, figs)
	switch {
	case math.IsInf(r.High, 1):
		return "at least " + short(low)
	case math.IsInf(r.Low, -1), r.Low <= 0 && r.Kind != Degrees:
		return "at most " + short(high)
	}
	number, one, _ := strings.Cut(low, " ")
	if _, other, _ := strings.Cut(high, " "); one == other {
		low = number
	}
	return low + " to " + high
}

// Brief is the band in few words, beside the value: in its unit, which is not said again.
func (r Reading) Brief() string {
	each := 0.0
	switch _, name, _ := strings.Cut(r.Value(), " "); name {
	case "V", "A", "Ω":
		each = 1
	case "mV", "mA", "mΩ":
		each = 1e-3
	}
	if math.IsNaN(r.Is) || math.Abs(r.Is) < least || each == 0 || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) {
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

// exactly is a value of the reading with so many figures, in the unit in which it has three.
func (r Reading) exactly(v float64, figs int) string {
	text := r.text(v)
	number, name, _ := strings.Cut(text, " ")
	shown, err := strconv.ParseFloat(strings.Replace(number, "−", "-", 1), 64)
	if figs <= 3 || r.Kind == Degrees || err != nil || shown == 0 {
		return text
	}
	each := math.Pow(1000, math.Round(math.Log(v/shown)/math.Log(1000))) // of the prefix
	return strings.Replace(figures(v/each, figs), "-", "−", 1) + " " + name
}

// short is a quantity without noughts after its last figure.
func short(text string) string {
	number, name, _ := strings.Cut(text, " ")
	if strings.Contains(number, ".") {
		number = strings.TrimSuffix(strings.TrimRight(number, "0"), ".")
	}
	return number + " " + name
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
