// Package line is what becomes of a pulse on a pair of conductors: a sender behind a resistance, a line of some delay and loss, and a receiver that is
// a capacitance between clamps. It knows volts, ohms and seconds, and no light.
//
// Waves are followed by the method of characteristics (L. Bergeron, 1949), with the resistance of the line lumped, a quarter at either end and a half in
// the middle, as H. W. Dommel has it (Digital computer solution of electromagnetic transients in single- and multiphase networks, IEEE Transactions
// PAS-88, 1969): each end sees a resistance and what was at the other end one delay ago. A capacitance is a resistance and a memory by the trapezoidal
// rule. So every step of time is two small sums, exact for a line without loss and an ideal step, as far as the delay is a whole number of steps.
//
// All numbers are in SI units. What depends on frequency (skin effect, the loss of the insulation), what couples between cores, and the line back
// through the supply copper are not here.
package line

import "math"

// A Line is a pair of conductors.
type Line struct {
	Z0    float64 // characteristic impedance, Ω, above 0
	Delay float64 // one way, s, above 0
	Ohms  float64 // of both conductors together, from end to end
}

// A Sender is what drives the near end.
type Sender struct {
	Ohms float64 // of its driver and what is in series with it
	Rise float64 // how long it takes from one level to the next, in a straight line, s; 0 for a step
}

// A Receiver is what is at the far end.
type Receiver struct {
	Farads float64
	Ohms   float64 // to ground; 0 where there is none
	Clamps []Clamp
}

// A Clamp is a diode that keeps a voltage from going far above, or below, another.
type Clamp struct {
	Volts float64 // at which it begins to conduct
	Ohms  float64 // in series with it, above 0
	Below bool    // it conducts below its voltage, not above
}

// An Edge is when the sender begins to move, and where to.
type Edge struct{ At, Volts float64 }

// A Circuit is all of it.
type Circuit struct {
	Line
	Sender
	Receiver
}

// A Wave is voltage and current at both ends, step by step from time 0. Currents flow into the line.
type Wave struct {
	Step              float64 // s
	Near, Far         []float64
	NearAmps, FarAmps []float64
}

// Run follows a sender that rests at a voltage, until a time, in steps no longer than one. The line has come to rest before.
func (c Circuit) Run(rest float64, edges []Edge, until, step float64) Wave {
	steps := int(math.Ceil(c.Delay / step))
	dt := c.Delay / float64(steps)
	n := int(math.Ceil(until/dt)) + 1
	w := Wave{Step: dt, Near: make([]float64, n), Far: make([]float64, n), NearAmps: make([]float64, n), FarAmps: make([]float64, n)}
	near, far := c.resting(rest)
	through := c.flowing(far) // at rest what enters the line leaves it
	charge := memory{volts: far}
	z := c.Z0 + c.Line.Ohms/4
	h := (c.Z0 - c.Line.Ohms/4) / z
	sending := source{edges: edges, rise: c.Rise, from: rest}
	e, i, f, j := near, through, far, -through // at both ends one delay ago
	for k := range n {
		if past := k - steps; past >= 0 {
			e, i, f, j = w.Near[past], w.NearAmps[past], w.Far[past], w.FarAmps[past]
		}
		// What comes out of each end by what was at both one delay ago (Dommel 1969, equation 9).
		one := (1+h)/2*(-f/z-h*j) + (1-h)/2*(-e/z-h*i)
		other := (1+h)/2*(-e/z-h*i) + (1-h)/2*(-f/z-h*j)
		w.Near[k] = c.Sender.ends(sending.at(float64(k)*dt), z, one)
		w.NearAmps[k] = w.Near[k]/z + one
		w.Far[k] = c.Receiver.ends(z, other, dt, &charge)
		w.FarAmps[k] = w.Far[k]/z + other
	}
	return w
}

// resting is the voltage at both ends while the sender rests at one.
func (c Circuit) resting(volts float64) (near, far float64) {
	far = c.Receiver.settled(volts, c.Sender.Ohms+c.Line.Ohms)
	return volts - c.flowing(far)*c.Sender.Ohms, far
}

// A source is the voltage behind the sender's resistance, asked for at times that only grow.
type source struct {
	edges []Edge // those that are still to come, the one under way among them
	rise  float64
	from  float64 // where the first of them begins
}

func (s *source) at(now float64) float64 {
	for len(s.edges) > 0 {
		e := s.edges[0]
		switch {
		case now < e.At:
			return s.from
		case now < e.At+s.rise && (len(s.edges) == 1 || now < s.edges[1].At):
			return s.from + (e.Volts-s.from)*(now-e.At)/s.rise
		}
		s.from, s.edges = e.Volts, s.edges[1:]
	}
	return s.from
}

// ends is the voltage at the near end of a line of impedance z that pushes a current out of it.
func (s Sender) ends(volts, z, pushed float64) float64 {
	if s.Ohms == 0 {
		return volts
	}
	return (volts/s.Ohms - pushed) / (1/s.Ohms + 1/z)
}

// memory is the voltage of a capacitance, and the current into it.
type memory struct{ volts, amps float64 }

// ends is the voltage at the far end, and keeps what its capacitance remembers.
func (r Receiver) ends(z, pushed, dt float64, m *memory) float64 {
	g, amps := 1/z, -pushed // what the line gives to a voltage of 0, less g a volt
	if r.Farads > 0 {
		c := 2 * r.Farads / dt
		g, amps = g+c, amps+c*m.volts+m.amps
		volts := r.clamped(g, amps)
		*m = memory{volts, c*(volts-m.volts) - m.amps}
		return volts
	}
	return r.clamped(g, amps)
}

// settled is the voltage at the far end when all is at rest, behind a resistance.
func (r Receiver) settled(volts, ohms float64) float64 {
	if ohms == 0 {
		return volts
	}
	return r.clamped(1/ohms, volts/ohms)
}

// flowing is the current into the receiver at rest.
func (r Receiver) flowing(volts float64) (amps float64) {
	if r.Ohms > 0 {
		amps = volts / r.Ohms
	}
	for _, c := range r.Clamps {
		amps += c.flowing(volts)
	}
	return amps
}

// flowing is the current that a clamp takes.
func (c Clamp) flowing(volts float64) float64 {
	if over := volts - c.Volts; c.conducts(volts) {
		return over / c.Ohms
	}
	return 0
}

func (c Clamp) conducts(volts float64) bool {
	if c.Below {
		return volts < c.Volts
	}
	return volts > c.Volts
}

// clamped is the voltage at which what comes in, less g a volt, is what the receiver takes. What the clamps take bends upwards above the upper ones and
// downwards below the lower ones, so Newton's method from where none conducts comes nearer from one side, and is there when the same ones conduct again.
func (r Receiver) clamped(g, amps float64) (volts float64) {
	if r.Ohms > 0 {
		g += 1 / r.Ohms
	}
	volts = amps / g
	for on := -1; ; {
		slope, push, now := g, amps, 0
		for _, c := range r.Clamps {
			if c.conducts(volts) {
				slope, push, now = slope+1/c.Ohms, push+c.Volts/c.Ohms, now+1
			}
		}
		if now == 0 || now == on {
			return volts
		}
		volts, on = push/slope, now
	}
}
