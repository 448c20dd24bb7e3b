// Package fuse models fuses.
//
// A Link is the intact element as a law of the network: a resistor that a current warms. Current is positive in the
// direction of falling voltage. It assumes a steady state and one resistance from rated current on, where the element
// is about to melt; it cannot say when it does.
//
// A Band says when: from the gates of a standard or a sheet, which guarantee a time at some multiples of the rating and nothing
// between them (ISO 8820-3 for blades, IEC 60127-2 for cartridges, hold and trip currents for resettable fuses).
package fuse

import (
	"math"

	"farend/unit"
)

// least is the smallest resistance of a link, in ohms: that of a bolted joint, so that the network stays solvable.
const least = 10e-6

// A Link is an intact fuse element. Cold is its resistance at next to no current, Hot at rated current.
//
// Odd values are read on the safe side of solvable: a Cold below 10 µΩ counts as 10 µΩ, a Hot below Cold as Cold (a
// metal element cannot cool by carrying current), and without a positive Rating the element is hot at any current.
type Link struct {
	Rating unit.Ampere
	Cold   unit.Ohm
	Hot    unit.Ohm
}

// Resistance is the resistance at a steady current: Cold + (Hot − Cold)·min(1, (I/Rating)²). The square stands for the
// element's temperature, which follows its heat; the two ends are datasheet values, the path between is a model.
func (l Link) Resistance(rms unit.Ampere) unit.Ohm {
	cold, hot := l.ends()
	if !(l.Rating > 0) {
		return unit.Ohm(hot)
	}
	x := float64(rms / l.Rating)
	return unit.Ohm(cold + (hot-cold)*min(1, x*x))
}

// Eval writes what At gives for each voltage.
func (l Link) Eval(v, amps, slope []float64) {
	for i, u := range v {
		amps[i], slope[i] = l.At(u)
	}
}

// At is the current of a voltage across the link, and its slope dI/dV, both exact and odd in the voltage. The slope has a step at rated
// current.
//
// Below rated current V = Cold·I + c·I³ with c = (Hot − Cold)/Rating², a cubic without square term and with one real
// root: I = (2/k)·sinh(asinh(1.5·k·V/Cold)/3) with k = √(3c/Cold).
func (l Link) At(volts float64) (amps, slope float64) {
	cold, hot := l.ends()
	edge := hot * float64(l.Rating) // the voltage at rated current
	k := math.Sqrt(3 * (hot - cold) / cold)
	plain := hot == cold || !(l.Rating > 0)
	if plain || math.Abs(volts) >= edge {
		return volts / hot, 1 / hot
	}
	// In multiples of rated current, so that neither a tiny nor a huge rating can overflow.
	x := 2 / k * math.Sinh(math.Asinh(1.5*k*(volts/float64(l.Rating))/cold)/3)
	return x * float64(l.Rating), 1 / (cold + 3*(hot-cold)*x*x)
}

// ends is the cold and the hot resistance in ohms, put in order.
func (l Link) ends() (cold, hot float64) {
	cold = max(float64(l.Cold), least)
	return cold, max(float64(l.Hot), cold)
}
