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
	x, drop := s.E-v, s.resistance()*s.Limit
	a, da := corner(x, eps)
	b, db := corner(x-drop, eps)
	amps = s.Limit // not x/r − (x − drop)/r, of which rounding leaves 0.1 nA in the flat part
	if x < drop {
		amps = max(x, 0) / r
	}
	return amps + (a-b)/r, -(da - db) / r
}

// corner is σ(x) − max(x, 0), and the derivative of σ, in the form that cannot overflow.
func corner(x, eps float64) (value, slope float64) {
	e := math.Exp(-math.Abs(x) / eps)
	slope = 1 / (1 + e)
	if x < 0 {
		slope = e / (1 + e)
	}
	return eps * math.Log1p(e), slope
}

// Limited reports whether a source that delivers amps is held by its limit rather than by its set voltage.
func (s Source) Limited(amps float64) bool { return !s.Off && s.Limit > 0 && amps > 0.995*s.Limit }

// Idle reports whether a source delivers nothing worth the name, because others hold its terminals above E.
func (s Source) Idle(amps float64) bool { return s.Off || amps < 1e-6*s.Limit }
