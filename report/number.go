package report

import (
	"math"
	"strconv"
	"strings"

	"farend/layout"
	"farend/network"
	"farend/unit"
)

// none stands where there is nothing to say.
const none = "–"

// said is a quantity with three figures and its unit; a dash where it is no number.
func said[T interface {
	unit.Quantity
	String() string
}](v T) string {
	if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
		return none
	}
	return layout.Quantity(v)
}

// fixed is a number in a unit that its whole column has, so that the numbers of a column can be compared; a dash where it is none.
func fixed(v float64, name string) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return none
	}
	return unit.Number(v, 3) + layout.Thin + name
}

// The columns of schedules are in these units.
func amps(v unit.Ampere) string         { return fixed(float64(v), "A") }
func volts(v unit.Volt) string          { return fixed(float64(v), "V") }
func millivolts(v unit.Volt) string     { return fixed(1000*float64(v), "mV") }
func watts(v unit.Watt) string          { return fixed(float64(v), "W") }
func milliseconds(v unit.Second) string { return fixed(1000*float64(v), "ms") }

// lengths writes those of a column, all with as many decimals as one of them needs for the three figures by which it is called elsewhere: 2.8 m.
func lengths(list []*unit.Metre) func(*unit.Metre) string {
	decimals := 0
	for _, l := range list {
		if l != nil {
			_, rest, _ := strings.Cut(unit.Number(float64(*l), 3), ".")
			decimals = max(decimals, len(strings.TrimRight(rest, "0")))
		}
	}
	return func(l *unit.Metre) string {
		if l == nil {
			return none
		}
		return strconv.FormatFloat(float64(*l), 'f', decimals, 64) + layout.Thin + "m"
	}
}

// rating is a current that may not be known.
func rating(v *unit.Ampere) string {
	if v == nil {
		return none
	}
	return amps(*v)
}

// percent is a share in hundredths, three figures of it.
func percent(share float64) string {
	if math.IsNaN(share) || math.IsInf(share, 0) {
		return none
	}
	return unit.Number(100*share, 3) + layout.Thin + "%"
}

// lasting is a time that may have no end.
func lasting(t unit.Second, endless string) string {
	if math.IsInf(float64(t), 1) {
		return endless
	}
	return said(t)
}

func whole(n int) string { return strings.ReplaceAll(strconv.Itoa(n), "-", "−") }

// or is a text, or a dash where there is none.
func or(text string) string {
	if text == "" {
		return none
	}
	return text
}

// condition is a case as it stands in a table.
func condition(c network.Case) string {
	switch c.Kind {
	case network.State:
		return c.State
	case network.Peak:
		return c.State + ", peak"
	case network.CapFailed:
		return "cap failed"
	case network.Dark:
		return "dark"
	}
	return or(c.Name)
}

// kind is a part name without its kind.
func kind(part string) string {
	if part == "choose" {
		return notChosen
	}
	return part[strings.IndexByte(part, '/')+1:]
}
