package conductor

import (
	"math"

	"farend/unit"
)

// A Core is one conductor of a cable, with what warms it. R20 is positive; Iz is the current that takes it from
// Ambient to Limit for ever, with method, ambient and bundle already in it.
//
// A core whose Iz is not positive, or whose Ambient is at or above its Limit or the Clamp, has no current it may
// carry: it counts as standing at the Clamp whatever flows.
type Core struct {
	R20     unit.Ohm
	Iz      unit.Ampere
	Ambient unit.Celsius
	Limit   unit.Celsius
}

// Temperature is the core's steady temperature at an rms current, and whether it stopped at the Clamp; then it is a
// floor, not an answer.
//
// With the heat I²R(T) in balance with a loss in proportion to T − Ambient, and Iz as the current that gives Limit:
//
//	b = (Limit − Ambient)/(234.5 + Limit)   x = (I/Iz)²   T = (Ambient + 234.5·b·x)/(1 − b·x)
//
// which has no steady state from b·x = 1 on.
func (c Core) Temperature(rms unit.Ampere) (t unit.Celsius, clamped bool) {
	h := c.heat()
	bx := h.share * float64(rms/c.Iz) * float64(rms/c.Iz)
	if h.fixed || bx >= 1-h.clamp {
		return Clamp, true
	}
	return unit.Celsius((h.ambient + Absolute*bx) / (1 - bx)), false
}

// Resistance is the core's resistance at the steady temperature of an rms current.
func (c Core) Resistance(rms unit.Ampere) unit.Ohm {
	t, _ := c.Temperature(rms)
	return c.R20 * unit.Ohm(Factor(t))
}

// Eval writes what At gives for each voltage.
func (c Core) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = c.At(u)
	}
}

// At is the current of a voltage along the core, and its slope dI/dV, both exact and odd in the voltage.
//
// With Ra the resistance at Ambient, R(I) = Ra/(1 − b(I/Iz)²) up to the Clamp, so V(1 − a·I²) = Ra·I with a = b/Iz²,
// and the root that passes through nought is I = 2V/(Ra + √(Ra² + 4aV²)). Beyond the Clamp V = R160·I. The slope has
// a step there.
func (c Core) At(volts float64) (amps, slope float64) {
	h := c.heat()
	cold := float64(c.R20) * Factor(unit.Celsius(h.ambient))
	hot := float64(c.R20) * Factor(Clamp)
	edge := hot * math.Sqrt((1-h.clamp)/h.share) * float64(c.Iz) // the voltage at the Clamp
	root := 2 * math.Sqrt(h.share)                               // 2√a is root/Iz; V/Iz comes first, so that a tiny Iz cannot overflow
	if h.fixed || math.Abs(volts) >= edge {
		return volts / hot, 1 / hot
	}
	s := math.Hypot(cold, root*(volts/float64(c.Iz)))
	return 2 * volts / (cold + s), 2 * cold / (s * (cold + s))
}

// heat is what the temperature law needs of a core.
type heat struct {
	fixed   bool    // stands at the Clamp
	ambient float64 // °C, not below Coldest
	share   float64 // b of the formula
	clamp   float64 // (234.5 + Ambient)/(234.5 + Clamp): 1 − b·x where the Clamp is reached
}

func (c Core) heat() heat {
	ambient := max(c.Ambient, Coldest)
	if !(c.Iz > 0) || ambient >= c.Limit || ambient >= Clamp {
		return heat{fixed: true, share: 1}
	}
	return heat{
		ambient: float64(ambient),
		share:   float64(c.Limit-ambient) / (Absolute + float64(c.Limit)),
		clamp:   (Absolute + float64(ambient)) / (Absolute + float64(Clamp)),
	}
}
