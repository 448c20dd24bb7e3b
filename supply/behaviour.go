package supply

// Fold is the current at which a supply of set point e that folds back limits when its terminals stand at v: limit at
// the set point and above it, to·limit into a short, and a straight line between (the form of the textbooks; a maker's
// own curve bends). Volts and amperes; to is a ratio from 0 to 1. A set point that is not positive folds nothing.
func Fold(e, v, limit, to float64) float64 {
	if !(e > 0) || v >= e {
		return limit
	}
	return limit * (to + (1-to)*max(v, 0)/e)
}

// OnShare is the share of time in which a supply that pulses is on; 1 where its times are not known, which is the careful
// side for heat.
func (s Supply) OnShare() float64 {
	if !(s.PulseOn > 0) || !(s.PulseOff > 0) {
		return 1
	}
	return float64(s.PulseOn / (s.PulseOn + s.PulseOff))
}

// Pulses reports whether a supply that pulses when asked for too much does so at the terminal voltage v, in volts: one
// with PulseBelow holds the current from there up.
func (s Supply) Pulses(v float64) bool { return !(s.PulseBelow > 0) || v < float64(s.PulseBelow) }
