package circuit

import "math"

// minSource is the least resistance of a source, so that its law stays smooth.
const minSource = 1e-5

// resistance is R, at least 10 µΩ.
func (s Source) resistance() float64 { return max(s.R, minSource) }

// width is the width ε of the soft corners of the law, in volts.
func (s Source) width() float64 { return 0.001 * s.resistance() * s.Limit }

// current is what the source delivers at the terminal voltage v, and how that changes with v (never positive):
//
//	I(V) = [σ(E − V) − σ(E − V − r·limit)]/r   with   σ(x) = max(x, 0) + ε·ln(1 + e^(−|x|/ε))
//
// one smooth law for set voltage, source resistance, current limit and no reverse current. It lets an idle source
// float up to about 40 ε above E.
func (s Source) current(v float64) (amps, slope float64) {
	if s.Off || s.Limit <= 0 {
		return 0, 0
	}
	r, eps := s.resistance(), s.width()
	high, dHigh := soft(s.E-v, eps)
	low, dLow := soft(s.E-v-r*s.Limit, eps)
	return (high - low) / r, -(dHigh - dLow) / r
}

// soft is σ and its derivative, in the form that cannot overflow.
func soft(x, eps float64) (value, slope float64) {
	e := math.Exp(-math.Abs(x) / eps)
	value = max(x, 0) + eps*math.Log1p(e)
	slope = 1 / (1 + e)
	if x < 0 {
		slope = e / (1 + e)
	}
	return value, slope
}

// Limited reports whether a source that delivers amps is held by its limit rather than by its set voltage.
func (s Source) Limited(amps float64) bool { return !s.Off && s.Limit > 0 && amps > 0.995*s.Limit }

// Idle reports whether a source delivers nothing worth the name, because others hold its terminals above E.
func (s Source) Idle(amps float64) bool { return s.Off || amps < 1e-6*s.Limit }
