package supply

import "math"

const (
	// least is the smallest source resistance, in ohms: that of a bolted joint, so that the network stays solvable.
	least = 10e-6
	// softness is the width of the law's two knees over the whole drop r·limit.
	softness = 0.001
)

// Current is the current out of a supply of set point e and source resistance r (at least 10 µΩ) whose limit acts at
// limit, when its terminals stand at v; and its slope dI/dV, which is never positive. Volts, ohms and amperes.
//
//	I(V) = [σ(E − V) − σ(E − V − r·limit)]/r,  σ(x) = ε·ln(1 + e^(x/ε)),  ε = 0.001·r·limit
//
// On the straight part it is (E − V)/r, in the limit it is limit, above the set point it is nothing: at V = E it still
// gives 0.0007 of the limit, and 40 ε above E no more than rounding. A limit that is not positive delivers nothing.
//
// The two σ are taken together, their straight parts first, so that a small difference of large numbers never arises
// and no exponential can overflow.
func Current(e, v, r, limit float64) (amps, slope float64) {
	if !(limit > 0) {
		return 0, 0
	}
	r = max(r, least)
	drop := r * limit
	soft := softness * drop
	x := e - v
	near, far := math.Exp(-math.Abs(x)/soft), math.Exp(-math.Abs(x-drop)/soft)
	straight := min(max(x, 0), drop)
	return (straight + soft*math.Log1p((near-far)/(1+far))) / r, -window(x, drop, near, far) / r
}

// window is σ'(x) − σ'(x − drop): near 1 between the knees, falling to 0 outside. near and far are e^(−|x|/ε) and
// e^(−|x − drop|/ε). Each side subtracts the tails that are small there.
func window(x, drop, near, far float64) float64 {
	tail := func(e float64) float64 { return e / (1 + e) } // of σ' on its low side, and of 1 − σ' on its high side
	switch {
	case x < 0:
		return tail(near) - tail(far)
	case x > drop:
		return tail(far) - tail(near)
	}
	return 1 - tail(near) - tail(far)
}
