package conductor

import (
	"math"

	"farend/unit"
)

// Of a trace of copper on a board or on tape the rise in temperature goes with the current to the power 1/0.44 (IPC-2221A, 6.2, curve fit to
// figure 6-4, I = k·ΔT^0.44·A^0.725). The figure ends at 100 K.
const (
	traceExponent             = 0.44
	highestRise   unit.Kelvin = 100
)

// Trace is the current that makes a trace warmer by so much, for ever, which a rated current makes warmer by its rise.
func Trace(rated unit.Ampere, rise, by unit.Kelvin) unit.Ampere {
	if by <= 0 || rise <= 0 {
		return 0
	}
	return rated * unit.Ampere(math.Pow(float64(min(by, highestRise)/rise), traceExponent))
}

// TraceRise is by how much a current warms a trace for ever that a rated one warms by its rise; highestRise for what would be more.
func TraceRise(rated unit.Ampere, rise unit.Kelvin, amps unit.Ampere) unit.Kelvin {
	if rated <= 0 {
		return highestRise
	}
	return min(highestRise, rise*unit.Kelvin(math.Pow(float64(amps/rated), 1/traceExponent)))
}
