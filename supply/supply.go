// Package supply models AC/DC power supplies as the low-voltage side sees them: a set point behind a source
// resistance, with a current limit, that takes no current back.
//
// Current is positive out of the supply's positive terminal. It assumes a steady state: what a supply does beyond its
// limit other than holding the current (pulsing, folding back, shutting down) is named here and solved elsewhere. "No
// current back" is optimistic for supplies with bleeders, synchronous rectifiers or overvoltage protection. It cannot
// say anything of ripple, efficiency, inrush or derating.
package supply

import "farend/unit"

// A Supply is what a supply can deliver at its set point. LimitLow and LimitHigh bound the current at which its limit
// acts: the band over units of one part.
type Supply struct {
	Volts            unit.Volt
	Amps             unit.Ampere // rated current
	Watts            unit.Watt   // rated power; nought where unstated, then it is Volts × Amps
	SourceResistance unit.Ohm
	LimitLow         unit.Ampere
	LimitHigh        unit.Ampere
	Behaviour        Limit
}

// Limit is what a supply does at its current limit.
type Limit string

// The behaviours of a supply at its limit.
const (
	ConstantCurrent Limit = "constant-current" // holds the current and lets the voltage fall
	Hiccup          Limit = "hiccup"           // shuts down and tries again, for ever
	FoldBack        Limit = "fold-back"        // lowers the current with the voltage
	LatchOff        Limit = "latch-off"        // shuts down until somebody switches it off and on
	Boost           Limit = "boost"            // gives more for some seconds, then does one of the others
)

// Words is every behaviour, as files spell it.
func (Limit) Words() []string {
	return []string{string(ConstantCurrent), string(Hiccup), string(FoldBack), string(LatchOff), string(Boost)}
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
