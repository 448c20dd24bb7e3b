// Package supply models AC/DC power supplies as the low-voltage side sees them: a set point behind a source
// resistance, with a current limit, that takes no current back.
//
// Current is positive out of the supply's positive terminal. It assumes a steady state: a supply that folds back does so
// along a straight line, one that pulses is on and off for fixed times; a boost is over by then. Which of these a supply
// does is the part's to say; what comes of it in a network is solved there. "No current back" is optimistic for supplies
// with bleeders, synchronous rectifiers or overvoltage protection. It cannot say anything of ripple, efficiency, inrush
// or derating.
package supply

import "farend/unit"

// A Supply is what a supply can deliver at its set point. LimitLow and LimitHigh bound the current at which its limit
// acts: the band over units of one part. The rest is for supplies that do not hold the current there; nought where it
// does not apply or is not known.
type Supply struct {
	Volts            unit.Volt
	Amps             unit.Ampere // rated current
	Watts            unit.Watt   // rated power; nought where unstated, then it is Volts × Amps
	SourceResistance unit.Ohm
	LimitLow         unit.Ampere
	LimitHigh        unit.Ampere
	FoldTo           unit.Ratio  // of a supply that folds back: current into a short over its limit
	PulseOn          unit.Second // of a supply that pulses: how long it is on
	PulseOff         unit.Second // and how long off, again and again
	PulseBelow       unit.Volt   // the voltage down to which it holds the current instead; nought where it never does
}

// Rated is the current the supply may deliver for ever at its set point: the rated current, or rated power over set
// point where that is less.
func (s Supply) Rated() unit.Ampere {
	if !(s.Watts > 0) || !(s.Volts > 0) {
		return s.Amps
	}
	return min(s.Amps, unit.Ampere(float64(s.Watts)/float64(s.Volts)))
}

// At is the supply with its set point trimmed. Rated power does not grow with the set point, so trimmed up it may
// deliver Watts/volts and its limits act at Volts/volts of theirs; trimmed down it keeps its rated current, and its
// limits, which are never raised. That limits follow power is the more careful reading (common practice, no source): a
// limiter that senses current would stay where it is.
//
// The receiver is the supply as its datasheet has it. A set point that is not positive is no set point: the supply
// comes back as it was.
func (s Supply) At(volts unit.Volt) Supply {
	if !(volts > 0) || !(s.Volts > 0) {
		return s
	}
	watts := float64(s.Watts)
	if !(watts > 0) {
		watts = float64(s.Volts) * float64(s.Amps)
	}
	down := min(1, unit.Ampere(s.Volts/volts))
	s.Amps = min(s.Amps, unit.Ampere(watts/float64(volts)))
	s.LimitLow *= down
	s.LimitHigh *= down
	s.Volts = volts
	return s
}
