package conductor

import (
	"math"

	"farend/unit"
)

// AdiabaticFrom and AdiabaticTo bound the time of a short for which all heat is taken to stay in the copper (IEC 60364-4-43
// 434.5.2). A shorter one is judged by what the fuse lets through; in a longer one heat leaves the core, and its temperature and
// 1.45 times its ampacity decide.
const (
	AdiabaticFrom unit.Second = 0.1
	AdiabaticTo   unit.Second = 5
)

// Adiabatic is the source of Withstand.
const Adiabatic = "IEC 60364-4-43:2008 table 43A, k = 115 A√s/mm² for copper in PVC of 70 °C (103 above 300 mm²)"

// Withstand is the I²t that a core of that area stands, k²S²: it is then as warm as its insulation may become for a moment, from
// as warm as it may be for ever (PVC: from 70 °C to 160 °C, above 300 mm² to 140 °C). It is ok for insulation of 70 °C alone: for
// others the table's values depend on the material, which a part does not state.
func Withstand(insulation unit.Celsius, area unit.SquareMetre) (limit unit.AmpereSquareSecond, ok bool) {
	if insulation != 70 {
		return 0, false
	}
	k := 115.0
	if area > 300e-6 {
		k = 103
	}
	amps := k * float64(area) * 1e6 // for one second
	return unit.AmpereSquareSecond(amps * amps), true
}

// Warms is the I²t that takes a copper core of that area from one temperature to another when all heat stays in it:
// (K·S)²·ln((234.5 °C + to)/(234.5 °C + from)) with K = 226 A√s/mm² (IEC 60364-5-54 annex A, IEC 60949). Heat does leave it, so a
// longer time is warmer on paper than in the core. It is 0 where to is not above from.
func Warms(area unit.SquareMetre, from, to unit.Celsius) unit.AmpereSquareSecond {
	if to <= from {
		return 0
	}
	amps := 226 * float64(area) * 1e6 // for one second
	return unit.AmpereSquareSecond(amps * amps * math.Log((Absolute+float64(to))/(Absolute+float64(from))))
}

// Warmed is how warm an I²t makes a copper core of that area, from a temperature on, when all heat stays in it: the inverse of Warms. What would
// be above Clamp is Clamp.
func Warmed(area unit.SquareMetre, from unit.Celsius, heat unit.AmpereSquareSecond) unit.Celsius {
	amps := 226 * float64(area) * 1e6 // for one second
	if amps <= 0 {
		return Clamp
	}
	return min(Clamp, unit.Celsius((Absolute+float64(from))*math.Exp(float64(heat)/(amps*amps))-Absolute))
}

// Conventional is the time in which a device has to end what is up to 1.45 times the ampacity: the conventional time of fuses up to
// 63 A, IEC 60269-1, from memory.
const Conventional unit.Second = 3600

// Bearable is the multiple of its ampacity that a core bears for the conventional time (IEC 60364-4-43:2008 433.1, I2 ≤ 1.45·Iz).
const Bearable = 1.45

// Bears is how long a core of copper of that area, all cores of its pole together, may carry a current before it takes harm: for
// ever up to its ampacity; for the conventional time up to 1.45 times that; beyond, until it is as warm as 1.45 times its ampacity
// would make it in the end, or what it stands in a short where that is more (Withstand, up to 5 s). It is taken to be at its
// limit when that begins, and to give off no heat. A core that finds no steady temperature, or for whose short time there is no
// rule (below 0.1 s), bears it for no time at all.
func (c Core) Bears(amps unit.Ampere, area unit.SquareMetre) unit.Second {
	switch _, clamped := c.Temperature(amps); {
	case amps <= c.Iz && c.Iz > 0:
		return unit.Second(math.Inf(1))
	case clamped:
		return 0
	case amps <= Bearable*c.Iz:
		return Conventional
	}
	warm, _ := c.Temperature(Bearable * c.Iz)
	per := unit.AmpereSquareSecond(amps * amps)
	t := min(Conventional, unit.Second(Warms(area, c.Limit, warm)/per))
	if stands, ok := Withstand(c.Limit, area); ok {
		t = max(t, min(AdiabaticTo, unit.Second(stands/per)))
	}
	if t < AdiabaticFrom {
		return 0
	}
	return t
}
