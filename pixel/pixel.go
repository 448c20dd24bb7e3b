// Package pixel models one pixel: the current its channels draw at a voltage, and the light and colour they make of it.
//
// A Channel is a current sink or a resistor behind one or more LEDs in series. Its law has two soft knees: no current
// below Lo, the set current above Hi, a straight rise between. A Load is a whole pixel, a law of the network: the sum
// of its channels, each weighted by the fraction of the pulse-width cycle for which it is on. Current is positive from
// the positive to the return rail. Light is in proportion to current.
//
// The knees are fitted per part to a model of forward voltage, LEDs in series and sink headroom, which is itself
// derived from datasheets, not measured: no published sweep of a pixel's current against voltage was found. The law
// does not know that many 5 V chips reset or hold their last colour below about 3 V, nor warming, ageing, converters
// (constant power) or a reversed supply: below 0 V it draws next to nothing.
//
// Sources: CIE 15:2018 and ISO/CIE 11664-5 for colour; the law of a channel is this project's own.
package pixel

import (
	"math"

	"farend/unit"
)

// A Channel is one colour of a pixel, or its idle current. With String above nought it is limited by a resistor, and
// Set and Hi are not used; otherwise it is regulated to Set.
type Channel struct {
	Set     unit.Ampere // current in regulation, fully on
	Lo      unit.Volt   // where the rise begins
	Hi      unit.Volt   // where it ends
	Soft    unit.Volt   // width of the knees
	String  unit.Ohm    // resistance of a resistor-limited channel
	Candela unit.Candela
	X, Y    float64 // CIE 1931 chromaticity of its light
}

// Current is the channel's current when fully on, and its slope dI/dV, at a voltage across the pixel in volts:
//
//	σ(x) = ε·ln(1 + e^(x/ε)), ε = Soft
//	regulated  f(V) = Set·[σ(V − Lo) − σ(V − Hi)]/(Hi − Lo)
//	string     f(V) = σ(V − Lo)/String
//	I(V) = f(V) − f(0)
//
// so that it is passive: exactly nothing at 0 V, and never falling. A Soft or a Hi − Lo below 1 mV counts as 1 mV, a
// negative Set as nought.
func (c Channel) Current(v float64) (amps, slope float64) {
	k := c.knee()
	amps, slope = k.at(v)
	rest, _ := k.at(0)
	return amps - rest, slope
}

// Light is the channel's luminous intensity, in candela, at a voltage across the pixel in volts: Candela in proportion
// to current, where Candela belongs to Set or, for a resistor-limited channel, to the current at the nominal voltage.
func (c Channel) Light(v float64, nominal unit.Volt) float64 {
	reference := float64(c.Set)
	if c.String > 0 {
		reference, _ = c.Current(float64(nominal))
	}
	amps, _ := c.Current(v)
	if !(reference > 0) || !(amps > 0) {
		return 0
	}
	return float64(c.Candela) * amps / reference
}

// VoltageAt is the lowest voltage at which the channel draws the given fraction of its current at the nominal voltage:
// 0 V for none of it, nominal for all of it or more.
func (c Channel) VoltageAt(fraction float64, nominal unit.Volt) unit.Volt {
	if !(fraction > 0) || !(nominal > 0) {
		return 0
	}
	if fraction >= 1 {
		return nominal
	}
	full, _ := c.Current(float64(nominal))
	low, high := 0.0, float64(nominal)
	for range 60 { // to an ulp
		middle := (low + high) / 2
		if amps, _ := c.Current(middle); amps < fraction*full {
			low = middle
		} else {
			high = middle
		}
	}
	return unit.Volt(high)
}

// narrow is the least width of a knee, and of a rise, in volts: the network needs a slope.
const narrow = 1e-3

// A knee is f(V) made ready: gain·[σ(V − lo) − σ(V − lo − width)], without the second σ where the width is endless.
type knee struct {
	lo, soft float64
	width    float64 // of the rise; +Inf for a resistor
	ratio    float64 // e^(−width/soft): from the exponential of one knee to that of the other
	rise     float64 // 1 − ratio
	gain     float64 // siemens
}

func (c Channel) knee() knee {
	k := knee{lo: float64(c.Lo), soft: max(float64(c.Soft), narrow)}
	if c.String > 0 {
		k.width, k.rise, k.gain = math.Inf(1), 1, 1/float64(c.String)
		return k
	}
	k.width = max(float64(c.Hi-c.Lo), narrow)
	k.ratio, k.rise = math.Exp(-k.width/k.soft), -math.Expm1(-k.width/k.soft)
	k.gain = max(float64(c.Set), 0) / k.width
	return k
}

// at is f(v) and f'(v). The two σ are taken together, their straight parts first, so that a small difference of large
// numbers never arises and no exponential can overflow; and one exponential serves both knees and both results. With
// a and b for e^(−|x|/ε) at the two knees the slope is 1/(1+a) − b/(1+b) between them, and alike outside: in each case
// a product of positive factors.
func (k *knee) at(v float64) (f, slope float64) {
	x := v - k.lo
	switch {
	case x < 0:
		near := math.Exp(x / k.soft)
		far := near * k.ratio
		return k.gain * k.soft * math.Log1p(near*k.rise/(1+far)), k.gain * k.rise * near / ((1 + near) * (1 + far))
	case x > k.width:
		far := math.Exp((k.width - x) / k.soft)
		near := far * k.ratio
		return k.gain * (k.width + k.soft*math.Log1p(-far*k.rise/(1+far))), k.gain * k.rise * far / ((1 + near) * (1 + far))
	}
	near, far := math.Exp(-x/k.soft), 0.0
	if k.ratio > 0 { // then near, which is no less, is not nought either
		far = k.ratio / near
	}
	return k.gain * (x + k.soft*math.Log1p((near-far)/(1+far))), k.gain * k.rise / ((1 + near) * (1 + far))
}
