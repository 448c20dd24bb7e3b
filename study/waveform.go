package study

import (
	"math"

	"farend/finding"
	"farend/line"
	"farend/network"
	"farend/parts"
	"farend/unit"
)

// A corner is one choice of what is not known: the ends of spreads, and what the receiver asks for. The weak ones drive as weakly and as slowly as they may,
// the strong ones as hard and as fast; the input has all the capacitance that it may have, which sends a spike back before the rest. The diodes of
// an input take what would swing back, and no sheet says where they begin: so levels and pulses are those without, and what the diodes take is
// found with them.
type corner struct {
	strong, clamped bool
	z0              unit.Ohm
	delay           unit.SecondPerMetre
	asked           asked
}

// corners lists those in which a lead is tried.
func (l *launch) corners() (list []corner) {
	delays := ends(l.cable.Delay)
	for _, a := range l.asks {
		for _, z0 := range ends(l.cable.Z0) {
			for _, delay := range delays {
				list = append(list, corner{false, false, z0, delay, a}, corner{true, false, z0, delay, a})
			}
			list = append(list, corner{true, true, z0, delays[len(delays)-1], a})
		}
	}
	return list
}

// ends are the ends of the spread of a value, one where it has none.
func ends[T unit.Quantity](v parts.Value[T]) []T {
	if v.Upper() > v.Lower() {
		return []T{v.Lower(), v.Upper()}
	}
	return []T{v.Is}
}

// shortest is the least delay of a line, in seconds: what of an edge is faster than that no driver here makes.
const shortest = 0.2e-9

// circuit is a lead in a corner, and the two levels that are sent.
func (l *launch) circuit(c corner) (is line.Circuit, high, low float64) {
	d := l.edge.Drive
	length := float64(d.Length)
	is.Line = line.Line{Z0: float64(c.z0), Delay: max(float64(c.delay)*length, shortest), Ohms: 2 * float64(l.cable.R20.Is) * length}
	if c.strong {
		is.Sender = line.Sender{Ohms: float64(d.Driver.Lower() + d.Inside.Lower() + d.Added), Rise: float64(d.Rise.Lower())}
		most, least := l.sent.Farthest(c.asked.from)
		high, low = float64(most), float64(least)
	} else {
		is.Sender = line.Sender{Ohms: float64(d.Driver.Upper() + d.Inside.Upper() + d.Added), Rise: float64(d.Rise.Upper())}
		least, most := l.sent.Levels(c.asked.from)
		high, low = float64(least), float64(most)
	}
	is.Receiver.Farads = float64(l.farads)
	if c.clamped {
		is.Receiver.Clamps = []line.Clamp{
			{Volts: float64(c.asked.supply + clampKnee), Ohms: float64(clampOhms)},
			{Volts: float64(-clampKnee), Ohms: float64(clampOhms), Below: true},
		}
	}
	return is, high - float64(c.asked.shift), low - float64(c.asked.shift)
}

// run is what becomes of the code in a corner.
func (l *launch) run(c corner) line.Wave {
	is, high, low := l.circuit(c)
	rest := low
	if l.code.inverted {
		rest = high
	}
	edges, end := l.code.edges(high, low)
	step := max(min(0.5e-9, is.Rise/8), 0.1e-9)
	if farads := is.Receiver.Farads; farads > 0 {
		step = max(min(step, is.Z0*farads/4), 0.1e-9)
	}
	return is.Run(rest, edges, end+2*is.Delay, step)
}

// edges are when the sender begins to move, and when the last level has lasted.
func (c code) edges(high, low float64) (list []line.Edge, end float64) {
	for _, level := range c.levels {
		volts := low
		if level.high {
			volts = high
		}
		list = append(list, line.Edge{At: end, Volts: volts})
		end += level.sent
	}
	return list, end
}

// A passing is when an edge passes the two thresholds of the input, each NaN where it never does.
type passing struct{ high, low float64 }

// take adds what one corner comes to.
func (e *Edge) take(l *launch, c corner, w line.Wave) {
	is, _, _ := l.circuit(c)
	edges, end := l.code.edges(1, 0)
	if c.clamped {
		low, high := line.Extremes(w.Far, w.Step, 0, end+2*is.Delay)
		e.Over = e.Over.further(unit.Volt(high)-c.asked.supply, c.asked.in)
		e.Under = e.Under.further(unit.Volt(-low), c.asked.in)
		return
	}
	up, down := float64(c.asked.high), float64(c.asked.low)
	arrives := func(i int) float64 {
		if i < len(edges) {
			return edges[i].At + is.Delay
		}
		return end + is.Delay
	}
	passed := make([]passing, len(edges))
	for i, level := range l.code.levels {
		passed[i] = passing{crossed(w, up, level.high, arrives(i), arrives(i+1)+is.Delay), crossed(w, down, level.high, arrives(i), arrives(i+1)+is.Delay)}
	}
	for i, level := range l.code.levels {
		sure := passed[i].high
		if !level.high {
			sure = passed[i].low
		}
		e.later(sure - edges[i].At)
		e.swing(w, level.high, sure, arrives(i), arrives(i+1), c)
		if i+1 < len(passed) {
			e.pulse(level, passed[i], passed[i+1], c.asked.in)
		}
	}
}

// further is the larger of two peaks, the first of equals.
func (p Peak) further(volts unit.Volt, in network.Case) Peak {
	if p.In.Name == "" || volts > p.Volts+1e-9 {
		return Peak{volts, in}
	}
	return p
}

// crossed is when the far end first crosses a threshold between two times; NaN where it does not.
func crossed(w line.Wave, threshold float64, upwards bool, from, to float64) float64 {
	if at, ok := line.Cross(w.Far, w.Step, threshold, upwards, max(from-w.Step, 0)); ok && at <= to {
		return at
	}
	return math.NaN()
}

func (e *Edge) later(delay float64) {
	if unit.Second(delay) > e.Delay { // not where it is NaN
		e.Delay = unit.Second(delay)
	}
}

// swing takes what is left of a level after its first peak.
func (e *Edge) swing(w line.Wave, high bool, sure, arrives, ends float64, c corner) {
	sign, into, threshold := 1.0, &e.High, c.asked.high
	if !high {
		sign, into, threshold = -1, &e.Low, c.asked.low
	}
	from := sure
	if math.IsNaN(sure) {
		from = arrives
	}
	const still = 1e-3 // V: what falls back by less is no peak
	peak, least, fell := math.Inf(-1), math.Inf(1), false
	for k := int(from/w.Step) + 1; k < len(w.Far) && float64(k)*w.Step < ends; k++ {
		v := sign * w.Far[k]
		switch {
		case fell:
			least = min(least, v)
		case v < peak-still:
			fell, least = true, v
		default:
			peak = max(peak, v)
		}
	}
	switch {
	case math.IsInf(peak, -1): // the level is over before it arrives
		peak, least = sign*float64(c.asked.low), sign*float64(c.asked.low)
		if !high {
			peak, least = sign*float64(c.asked.high), sign*float64(c.asked.high)
		}
	case !fell:
		least = peak
	}
	e.Back = max(e.Back, unit.Volt(peak-least))
	volts := unit.Volt(sign * least)
	if room := unit.Volt(sign) * (volts - threshold); into.In.Name == "" || room < into.Room(high)-1e-9 {
		*into = Swing{volts, threshold, fell, c.asked.in}
	}
}

// Room is how far a level stays on its side of its threshold.
func (s Swing) Room(high bool) unit.Volt {
	if high {
		return s.Volts - s.Threshold
	}
	return s.Threshold - s.Volts
}

// pulse takes how long a level lasts, from one passing to the next: surely, and at most.
func (e *Edge) pulse(level lasting, from, to passing, in network.Case) {
	least, most := to.high-from.high, to.low-from.low
	name := "high"
	if !level.high {
		least, most, name = to.low-from.low, to.high-from.high, "low"
	}
	p := Pulse{Bit: level.bit, Level: name, Sent: unit.Second(level.sent), Shortest: unit.Second(least), Longest: unit.Second(most), Min: level.min, Max: level.max, Pause: level.pause, In: in}
	for _, length := range []float64{least, most} {
		if change := unit.Second(length - level.sent); math.Abs(float64(change)) > math.Abs(float64(e.Error)) { // not where it is NaN
			e.Error = change
		}
	}
	if math.IsNaN(least) || math.IsNaN(most) || least <= 0 {
		p.Shortest, p.Longest = 0, 0
	}
	for i, old := range e.Pulses {
		if old.Bit == p.Bit && old.Level == p.Level {
			if p.Room() < old.Room() {
				e.Pulses[i] = p
			}
			return
		}
	}
	e.Pulses = append(e.Pulses, p)
}

// Arrives reports whether the input surely sees a pulse.
func (p Pulse) Arrives() bool { return p.Shortest > 0 }

// Room is by how much a pulse keeps its windows; below 0 where it does not.
func (p Pulse) Room() unit.Second {
	if !p.Arrives() {
		return -p.Sent
	}
	length, limit, most, ok := p.Bound()
	switch {
	case !ok:
		return unit.Second(math.Inf(1))
	case most:
		return limit.Is - length
	}
	return length - limit.Is
}

// Bound is which of the two lengths of a pulse has less room to its limit; it is not ok where its sheet states none, or it does not arrive. A limit that what
// is sent only just keeps is none: some sheets leave a usual pulse no room, and that is not the lead's.
func (p Pulse) Bound() (length unit.Second, limit parts.Value[unit.Second], most, ok bool) {
	least := p.Arrives() && p.Min.Given && p.Sent >= p.Min.Is*(1+NearPulse)
	most = p.Arrives() && p.Max.Given && p.Sent <= p.Max.Is*(1-NearPulse)
	switch {
	case most && (!least || p.Max.Is-p.Longest < p.Shortest-p.Min.Is):
		return p.Longest, p.Max, true, true
	case least:
		return p.Shortest, p.Min, false, true
	}
	return 0, limit, false, false
}

// PauseShare is the share of its least that must be left of a pause: a chip tells a 0 from a 1 by the pulse, and asks of the pause hardly more than that there
// is one. Common practice, no source: sheets of chips that are exchanged for one another print pauses that exclude each other.
const PauseShare = 0.5

// Grade is how a pulse is to be judged; of a pause that is out of its window, it is only near.
func (p Pulse) Grade() finding.Grade {
	length, limit, most, ok := p.Bound()
	out := finding.Fails
	if p.Pause && (most || length >= PauseShare*limit.Is) {
		out = finding.Tight
	}
	switch {
	case !p.Arrives():
		return finding.Fails
	case !ok:
		return finding.Pass
	case most && length > limit.Is, !most && length < limit.Is:
		return out
	case most && length > limit.Is*(1-NearPulse), !most && length < limit.Is*(1+NearPulse):
		return finding.Tight
	}
	return finding.Pass
}
