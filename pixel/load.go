package pixel

import (
	"slices"

	"farend/unit"
)

// A Part is a channel at a drive: the fraction of the time for which it is on, 0 to 1. Idle current has drive 1.
type Part struct {
	Channel Channel
	Drive   float64
}

// A Load is the law of a whole pixel: its mean current with the pulse-width cycles of its channels free of each other.
// The knees do not move with drive.
type Load struct {
	knees []knee
	rest  float64 // amperes to subtract, so that there is none at 0 V
}

// Same reports whether other is a Load of the same channels and drives.
func (l Load) Same(other any) bool {
	m, ok := other.(Load)
	return ok && l.rest == m.rest && slices.Equal(l.knees, m.knees)
}

// NewLoad adds up the parts. A part that is off costs nothing, and channels with the same knees are evaluated once. A
// drive below nought, or one that is not a number, counts as off.
func NewLoad(parts []Part) Load {
	var l Load
	for _, p := range parts {
		k := p.Channel.knee()
		k.gain *= p.Drive
		if k.gain > 0 {
			l.add(k)
		}
	}
	l.rest, _ = l.at(0)
	return l
}

// A Backwards is a pixel whose poles may be swapped: below 0 V the substrate diode of its chip conducts besides.
//
//	I(V) = load(V) − [σ(−V − Knee) − σ(−Knee)]/Ohms, σ as of a Channel with a Soft of 20 mV
//
// The diode of silicon, 0.6 V, and a resistance are from memory: no sheet tells.
type Backwards struct {
	Load Load
	Knee unit.Volt
	Ohms unit.Ohm
}

// BackwardSoft is how softly the diode of a Backwards bends, in volts.
const BackwardSoft = 0.02

func (b Backwards) diode() Channel { return Channel{String: b.Ohms, Lo: b.Knee, Soft: BackwardSoft} }

// Eval writes the current of each voltage across the pixel, and its slope.
func (b Backwards) Eval(v, amps, slope []float64) {
	b.Load.Eval(v, amps, slope)
	diode := b.diode()
	for i, u := range v {
		back, steep := diode.Current(-u)
		amps[i] -= back
		slope[i] += steep
	}
}

// Same reports whether other is a Backwards of the same load and diode.
func (b Backwards) Same(other any) bool {
	m, ok := other.(Backwards)
	return ok && b.Knee == m.Knee && b.Ohms == m.Ohms && b.Load.Same(m.Load)
}

func (l *Load) add(k knee) {
	for i := range l.knees {
		same := &l.knees[i]
		if same.lo == k.lo && same.soft == k.soft && same.width == k.width {
			same.gain += k.gain
			return
		}
	}
	l.knees = append(l.knees, k)
}

// Eval writes the current of each voltage across the pixel, and its slope dI/dV: one exponential and one logarithm for
// each distinct channel.
func (l Load) Eval(v, amps, slope []float64) {
	for i, u := range v {
		f, g := l.at(u)
		amps[i], slope[i] = f-l.rest, g
	}
}

func (l *Load) at(v float64) (f, slope float64) {
	for i := range l.knees {
		df, dg := l.knees[i].at(v)
		f += df
		slope += dg
	}
	return f, slope
}
