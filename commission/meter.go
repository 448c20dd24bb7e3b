package commission

import "math"

// accuracy is what a meter may show beside the truth: a share of the value and digits of the range that it is shown in. These are figures of
// ordinary good instruments, common practice, no source: whoever has other ones widens or narrows the bands by the difference.
type accuracy struct {
	share  float64
	digits float64
	ranges []span
}

// A span is a range of a meter: up to where it goes, and what its last digit is worth.
type span struct{ upTo, digit float64 }

var (
	direct  = accuracy{0.01, 2, []span{{0.6, 1e-4}, {6, 1e-3}, {60, 1e-2}, {600, 0.1}}} // DC volts, 6000 counts
	clamped = accuracy{0.025, 5, []span{{60, 0.01}, {600, 0.1}}}                        // DC amps by clamp, zeroed before
	through = accuracy{0.015, 3, []span{{10, 0.01}}}                                    // DC amps through the meter, its 10 A range
	finely  = accuracy{0.015, 3, []span{{0.6, 1e-4}}}                                   // the same in its milliampere range
	driven  = accuracy{0.06, 2, []span{{0.6, 1e-4}, {6, 1e-3}, {60, 1e-2}}}             // ohms: the volts of 1 A, by direct and through
	ohms    = accuracy{0.01, 3, []span{{600, 0.1}, {6e3, 1}, {6e4, 10}, {6e5, 100}}}    // the meter's own range of ohms
)

// The accuracies in words, as the sheet states them.
const accuracies = "DC volts ±(1 % + 2 digits) on 6000 counts; a clamp for DC, zeroed first, ±(2.5 % + 5 digits of 10 mA); amperes through the meter ±(1.5 % + 3 digits of 10 mA, or of 0.1 mA in its mA range); " +
	"milliohms by the volts of 1 A, ±(6 % + 0.2 mΩ); the meter's own range of ohms ±(1 % + 3 digits, of 0.1 Ω up to 600 Ω), its leads taken off: common practice, no source. With other instruments, change the bands by the difference"

// error is the largest that a meter may err by at a value.
func (a accuracy) error(v float64) float64 {
	v = math.Abs(v)
	for _, s := range a.ranges {
		if v <= s.upTo {
			return a.share*v + a.digits*s.digit
		}
	}
	return a.share*v + a.digits*a.ranges[len(a.ranges)-1].digit
}

// A band is a true value with the ends of its spread.
type band struct{ is, low, high float64 }

// plus is a band with another added, both at the same end.
func (b band) plus(more band) band { return band{b.is + more.is, b.low + more.low, b.high + more.high} }

// times is a band so many times.
func (b band) times(n float64) band { return band{n * b.is, n * b.low, n * b.high} }

// shown is what a meter shows of a true value. Nothing reads below none where the true value cannot.
func (a accuracy) shown(kind Kind, b band) *Reading {
	r := &Reading{Kind: kind, Is: b.is, Low: b.low - a.error(b.low), High: b.high + a.error(b.high)}
	if b.low >= 0 {
		r.Low = max(r.Low, 0)
	}
	return r
}
