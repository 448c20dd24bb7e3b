package study

import (
	"math"

	"farend/parts"
	"farend/unit"
)

// A code is what is sent over a lead to see what becomes of it: levels that last, one after the other, from rest. The first is that of a pulse: high, or low
// on a line that rests high.
type code struct {
	inverted bool
	levels   []lasting
}

// lasting is one of them.
type lasting struct {
	bit      string
	high     bool
	pause    bool    // behind the pulse of a bit
	sent     float64 // s
	min, max parts.Value[unit.Second]
}

// How long pulses are where a protocol does not say, as shares of the period of a bit, and how much of the half period of a clock must arrive: common
// practice, no source.
const (
	zeroShare, oneShare = 1.0 / 3, 2.0 / 3
	clockShare          = 0.5
)

// coded is a 0, a 1 and a 0 of a protocol; of a clocked one two periods of its fastest clock. It is not ok where no pulse keeps the windows of the sheet.
func coded(p *parts.Protocol) (c code, ok bool) {
	c.inverted = p.Inverted
	if p.Clocked {
		half := 0.5 / float64(p.ClockMax.Is)
		window := parts.Value[unit.Second]{Is: unit.Second(half * clockShare), Basis: parts.Practice, Source: "common practice, no source", Given: true}
		for i := range 4 {
			c.levels = append(c.levels, lasting{bit: "clock", high: i%2 == 0, sent: half, min: window})
		}
		return c, p.ClockMax.Is > 0
	}
	for _, bit := range []struct {
		name  string
		is    parts.Pulse
		share float64
	}{{"0", p.Zero, zeroShare}, {"1", p.One, oneShare}, {"0", p.Zero, zeroShare}} {
		first, second := bit.is.High, bit.is.Low
		if p.Inverted {
			first, second = second, first
		}
		a, b, fits := divided(first, second, float64(p.Period.Is), bit.share)
		if !fits {
			return c, false
		}
		c.levels = append(c.levels,
			lasting{bit.name, !p.Inverted, false, a, first.Min, first.Max},
			lasting{bit.name, p.Inverted, true, b, second.Min, second.Max})
	}
	return c, true
}

// divided is how long the two levels of a bit last: as the sheet says they usually do, else in the middle of what its windows leave of the period; where it
// has none, by a share.
func divided(first, second parts.Window, period, share float64) (a, b float64, ok bool) {
	switch {
	case first.Is.Given && second.Is.Given:
		return float64(first.Is.Is), float64(second.Is.Is), true
	case first.Is.Given:
		return float64(first.Is.Is), period - float64(first.Is.Is), float64(first.Is.Is) < period
	case second.Is.Given:
		return period - float64(second.Is.Is), float64(second.Is.Is), float64(second.Is.Is) < period
	case !first.Min.Given && !first.Max.Given && !second.Min.Given && !second.Max.Given:
		return share * period, (1 - share) * period, period > 0
	}
	low, high := max(float64(first.Min.Is), 0), period-float64(second.Min.Is)
	if first.Max.Given {
		high = math.Min(high, float64(first.Max.Is))
	}
	if second.Max.Given {
		low = math.Max(low, period-float64(second.Max.Is))
	}
	a = (low + high) / 2
	return a, period - a, low <= high && a > 0 && a < period
}
